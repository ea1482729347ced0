//! Where to aim: with a tool that pulls, with two that chase each other, with a shared null.

use crate::app::screens::work::step::At;
use crate::app::ui::{TermKey, Wide};
use crate::app::words::shared;
use crate::app::words::work::reading as words;
use crate::app::words::work::terms::Term;
use crate::exchange::report::scale::PullDrawing;
use crate::job::Progress;
use crate::job::guidance::advice;
use crate::job::guidance::advice::{AimOff, ChaseAim, KnownFrom, Rounds, Side, Visit};
use crate::metrology::{Place, Tolerance};
use crate::procedure::{Chase, Step};
use crate::quantity::DecimalSign;
use leptos::prelude::*;

/// Something worked out from the job's progress and the step.
fn worked_out<T>(at: At, work: impl Fn(&Progress, &Step) -> Option<T>) -> Option<T> {
    let step = at.step.get_value();
    at.bench
        .progress
        .with(|progress| work(progress.as_ref()?, &step))
}

/// Where to stop with the tool in.
pub fn aim_off(at: At) -> impl IntoView {
    move || {
        let (aim, drawn, _) = pulled(at)?;
        // Holds shapes and words of ours only.
        Some(view! {
            <div class="pull" inner_html=drawn></div>
            {aim_line(&aim, at.bench.sign())}
        })
    }
}

/// The same drawn low, for where there is little room. What it says stands in the sheet too.
pub fn strip(at: At) -> impl IntoView {
    let drawn = Memo::new(move |_| Some(pulled(at)?.2));
    move || {
        let strip = drawn.get()?;
        // Holds shapes and words of ours only.
        Some(view! { <div class="pull-strip" aria-hidden="true" inner_html=strip></div> })
    }
}

/// The aim, with its picture and that drawn low.
fn pulled(at: At) -> Option<(AimOff, String, String)> {
    let (aim, tolerance) = worked_out(at, |progress, step| {
        let aim = at
            .procedure
            .with_value(|p| advice::aim_off(p, progress, step))?;
        Some((aim, progress.step(&step.id)?.known_tolerance()?.clone()))
    })?;
    let sign = at.bench.sign();
    let drawing = drawing(&aim, &tolerance, sign);
    let (svg, strip) = (drawing.svg(), drawing.strip());
    Some((aim, svg, strip))
}

fn drawing<'a>(aim: &'a AimOff, tolerance: &'a Tolerance, sign: DecimalSign) -> PullDrawing<'a> {
    let now = aim.now.as_ref();
    PullDrawing {
        tolerance,
        aim: &aim.stop_at,
        tool_in: now.map(|(tool_in, _)| tool_in),
        tool_out: now.map_or(&aim.target, |(_, without)| without),
        half_width: aim.half_width.as_ref(),
        sign,
    }
}

fn aim_line(aim: &AimOff, sign: DecimalSign) -> impl IntoView + use<> {
    let from = words::known_by(aim.known_by);
    let pull = aim.pull.typeset(sign);
    let half_width = aim.half_width.as_ref();
    let settles = half_width.map(|half| words::settles_within(&half.typeset(sign)));
    let settles = settles.unwrap_or_else(|| words::SPREAD_NOT_KNOWN.to_owned());
    let chance = aim.chance.map(|chance| {
        let percent = (chance * 100.0).floor().clamp(0.0, 99.0);
        words::chance(&format!("{percent:.0}"))
    });
    view! {
        <p class="aim">
            <strong>{words::stop_at(&aim.stop_at.typeset(sign), aim.is_corrected)}</strong>
            {words::pull(&pull, &from)}
            <TermKey term=Term::ToolPull/>
            {settles}
            {chance}
        </p>
    }
}

/// A null that one adjuster makes in two modes, judged by the worse of the two.
pub fn shared_null(at: At) -> impl IntoView {
    move || {
        let null = worked_out(at, |progress, step| {
            at.procedure
                .with_value(|p| advice::shared_null(p, progress, step))
        })?;
        let sign = at.bench.sign();
        let step = at.step.get_value();
        let partner = step.shares_null_with.as_ref()?;
        let number = at.procedure.with_value(|p| p.number_of(partner))?;
        let give = match null.worse {
            _ if !null.is_current => words::LOOK_AT_BOTH.to_owned(),
            Side::This => words::give_here(),
            Side::Other => words::give_there(number),
            Side::Both => words::BEST_COMPROMISE.to_owned(),
        };
        let verdict = match null.place {
            Some(Place::Inside) => words::WORSE_INSIDE,
            Some(_) => words::WORSE_OUTSIDE,
            None => "",
        };
        let pair = |pair: &(crate::quantity::Quantity, crate::quantity::Quantity)| {
            words::both_sides(&pair.0.typeset(sign), &pair.1.typeset(sign), number)
        };
        Some(view! {
            <p class="aim">
                <strong>{give}</strong>" "{verdict}
                {words::latest_and_best(null.is_current, &pair(&null.latest), &pair(&null.best))}
            </p>
        })
    }
}

/// Steps that chase each other: their rounds side by side, and the aims for the next one.
pub fn rounds(at: At) -> impl IntoView {
    let id = at.id();
    let chase = at.procedure.with_value(|p| p.chase_of(&id).cloned());
    let earlier = chase.as_ref().and_then(|chase| {
        let job = at.job.get_value();
        at.bench.kindred(&job, chase)
    });
    move || {
        let chase = chase.as_ref()?;
        let rounds = worked_out(at, |progress, _| {
            at.procedure
                .with_value(|p| advice::rounds(p, progress, chase, earlier.as_deref()))
        })?;
        Some(rounds_table(at, chase, &rounds))
    }
}

fn rounds_table(at: At, chase: &Chase, rounds: &Rounds) -> impl IntoView + use<> {
    let sign = at.bench.sign();
    let heads = chase
        .steps
        .iter()
        .map(|step| {
            let number = at.procedure.with_value(|p| p.number_of(step)).unwrap_or(0);
            view! { <th scope="col">{shared::step(number)}</th> }
        })
        .collect_view();
    let cell = |visit: Option<&Visit>| {
        visit.and_then(|visit| match (&visit.before, &visit.after) {
            (Some(before), Some(after)) => {
                Some(shared::becomes(&before.typeset(sign), &after.typeset(sign)))
            }
            (one, other) => one.as_ref().or(other.as_ref()).map(|q| q.typeset(sign)),
        })
    };
    let rows = rounds
        .rounds
        .iter()
        .enumerate()
        .map(|(index, round)| {
            let cells = (0..chase.steps.len())
                .map(|member| {
                    let visit = round.iter().find(|visit| visit.member == member);
                    view! { <td>{cell(visit)}</td> }
                })
                .collect_view();
            view! { <tr><th scope="row">{words::round(index + 1)}</th>{cells}</tr> }
        })
        .collect_view();
    let span = chase.steps.len() + 1;
    let aims = match &rounds.aims {
        // Where nothing is entered any more, there is no next one.
        _ if !at.is_open() => ().into_any(),
        Ok(aims) => {
            let cells = (0..chase.steps.len())
                .map(|member| {
                    let aim = aims.each.iter().find(|aim| aim.member == member);
                    view! { <td>{aim.map(|aim| aim_cell(aim, sign))}</td> }
                })
                .collect_view();
            let jobs = match aims.from {
                KnownFrom::ThisSet => None,
                KnownFrom::EarlierJobs(count) => Some(count),
            };
            view! {
                <tr class="aims"><th scope="row">{words::leave_at_next(jobs)}</th>{cells}</tr>
                <tr><td colspan=span class="hint">{words::what_aims_hold(jobs)}</td></tr>
            }
            .into_any()
        }
        Err(reason) => {
            view! { <tr><td colspan=span class="hint">{reason.to_string()}</td></tr> }.into_any()
        }
    };
    let title = words::chase(&chase.title);
    view! {
        <Wide name=title.clone()>
            <table class="rounds">
                <caption>{title}</caption>
                <thead><tr><td></td>{heads}</tr></thead>
                <tbody>{rows}{aims}</tbody>
            </table>
        </Wide>
    }
}

fn aim_cell(aim: &ChaseAim, sign: DecimalSign) -> String {
    let half = aim.half_width.as_ref().map(|half| half.typeset(sign));
    words::aim(&aim.leave_at.typeset(sign), half.as_deref())
}
