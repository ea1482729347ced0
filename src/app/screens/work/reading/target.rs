//! The target of a step: as stated, as worked out, what it rests on.

use super::entry::Entry;
use super::waits_for;
use crate::app::screens::work::step::At;
use crate::app::ui::TermKey;
use crate::app::words::work::reading as words;
use crate::app::words::work::terms::Term;
use crate::exchange::report::words as said;
use crate::procedure::{Id, Step, Target, TargetFault, Work};
use crate::radio::limits::Known;
use leptos::prelude::*;

/// The target of a step, as its procedure states it and as it is worked out.
pub fn target_line(at: At) -> impl IntoView {
    let work = at.step.with_value(|step| step.work.clone());
    let aim = aim_words(&work);
    let printed = move || {
        let sign = at.bench.sign();
        let target = work.target()?;
        let relative = target.typeset(sign, |id| at.procedure.with_value(|p| p.number_of(id)));
        let fault = at.standing.with(|s| s.as_ref()?.tolerance.clone()?.err());
        let worked_out = at
            .standing
            .with(|s| s.as_ref()?.tolerance.clone()?.ok())
            .map(|tolerance| tolerance.typeset(sign))
            .filter(|text| *text != relative);
        let class = match worked_out {
            Some(_) => "target-from",
            None => "target",
        };
        let long = is_long(&relative);
        Some(view! {
            <span class=class class:target-long=long>{relative}</span>
            {worked_out.map(|text| {
                let long = is_long(&text);
                view! { <span class="target worked-out" class:target-long=long>{text}</span> }
            })}
            {fault.map(|fault| view! { <span class="hint waits-for">{waiting(at, &fault)}</span> })}
        })
    };
    view! {
        <p class="target-line">
            <span class="term">{words::TARGET}</span>
            <TermKey term=Term::Limits/>
            {aim.map(|aim| view! { <span class="target">{aim}</span> })}
            {printed}
        </p>
    }
}

/// More letters than stand in a line of a phone at the size of a target.
const LONG_TARGET: usize = 24;

/// A long one is smaller where there is little room.
fn is_long(text: &str) -> bool {
    text.chars().count() > LONG_TARGET
}

/// What the target rests on.
pub fn basis(at: At) -> Option<impl IntoView> {
    let basis = at.step.with_value(basis_words)?;
    Some(view! { <p class="hint basis">{basis}</p> })
}

/// What the limit rests on. A limit that is cited says its document already.
fn basis_words(step: &Step) -> Option<String> {
    let basis = step.basis()?;
    let cited = matches!(step.work.target(), Some(Target::Limit { .. }));
    let words = match (cited, basis.known) {
        (true, Known::Read) => return None,
        (true, known) => said::known(known).to_owned(),
        (false, _) => said::basis(&basis),
    };
    Some(said::limit_rests_on(&words))
}

fn waiting(at: At, fault: &TargetFault) -> AnyView {
    match fault {
        TargetFault::Waiting(id) => {
            let number = at.procedure.with_value(|p| p.number_of(id));
            waits_for::line(at.bench, at.job.get_value(), id, number)
        }
        other => words::no_target(other).into_any(),
    }
}

/// What the reading should be: the limits themselves where they are known, else where they
/// come from; for a peak or a dip, that it is one.
pub fn aim_of(entry: Entry) -> Option<String> {
    let at = entry.at;
    let (target, aim) = at
        .step
        .with_value(|step| (step.work.target().cloned(), aim_words(&step.work)));
    let sign = at.bench.sign();
    let number_of = |id: &Id| at.procedure.with_value(|p| p.number_of(id));
    let limits = match entry.tolerance.get() {
        Some(tolerance) => Some(tolerance.typeset(sign)),
        None => target.map(|target| target.typeset(sign, number_of)),
    };
    match (aim, limits) {
        (Some(aim), limits) => Some(words::extreme(aim, limits.as_deref())),
        (None, limits) => limits,
    }
}

fn aim_words(work: &Work) -> Option<&'static str> {
    match work {
        Work::Peak { .. } => Some(words::PEAK),
        Work::Dip { .. } => Some(words::DIP),
        _ => None,
    }
}
