//! The number that counts now, and what it says.

use super::entry::Entry;
use super::way::{turn, way_to_go};
use crate::app::platform::device;
use crate::app::screens::work::step::At;
use crate::app::ui::{Proved, TurnMark, capitalised};
use crate::app::words::work::reading as words;
use crate::job::{Read, Unproved};
use crate::metrology::{Place, Tolerance, Verdict};
use crate::procedure::Work;
use crate::quantity::{Quantity, ended};
use leptos::prelude::*;
use num_traits::{Signed, Zero};

/// Where one column holds all, what is typed or entered brings its verdict out from under the
/// keys.
pub fn keep_verdict_in_sight(entry: Entry) {
    Effect::new(move |before: Option<(bool, usize)>| {
        let readings = entry
            .at
            .standing
            .with(|s| s.as_ref().map_or(0, |s| s.readings.len()));
        let now = (entry.typed.with(Option::is_some), readings);
        if before.is_some_and(|before| before != now) {
            device::after_paint(|| device::into_view(".word"));
        }
        now
    });
}

/// The number that counts now, what it proves, and which way it must go.
pub fn verdict_line(entry: Entry) -> impl IntoView {
    let at = entry.at;
    move || {
        let sign = at.bench.sign();
        let typed = entry.typed.get();
        let pending = typed.is_some();
        // What is entered is judged already; what is only typed is judged alike.
        let (read, verdict) = match typed {
            Some(indicated) => {
                let read = entry.read(indicated);
                let judge = |tolerance: &Option<Tolerance>| {
                    let tolerance = tolerance.as_ref()?;
                    let fits = read.lacks().is_none() && read.corrected.unit() == tolerance.unit();
                    if !fits {
                        return None;
                    }
                    Some(tolerance.judge_unrounded(&read.corrected, &read.right))
                };
                let verdict = entry.tolerance.with(judge);
                (read, verdict)
            }
            None => at.standing.now().with(|standing| {
                let last = standing.as_ref()?.readings.last()?;
                Some((Read::of(last), last.verdict.clone()))
            })?,
        };
        let value = &read.corrected;
        let way = verdict.as_ref().filter(|_| at.is_open());
        let turn = way.and_then(|verdict| turn(at, verdict));
        let way = way.and_then(|v| way_to_go(at, v.place));
        let best = best_so_far(at, value);
        let mark = match verdict.as_ref().map(Verdict::is_inside) {
            None => "read",
            Some(true) => "inside",
            Some(false) => "outside",
        };
        let (word, off) = match (&verdict, read.lacks()) {
            (None, Some(role)) => (ended(Unproved::NoLoss(role.clone())), None),
            (None, None) => (words::READ.to_owned(), None),
            (Some(verdict), _) => (
                capitalised(&verdict.margin_words(sign)),
                verdict.deviation_words(sign),
            ),
        };
        let shape = verdict.as_ref().map(|verdict| band_shape(verdict.place));
        let indicated = Read::indicated(std::slice::from_ref(&read), sign);
        Some(view! {
            <div class="verdict" data-place=mark class:verdict-typed=pending>
                <div class="figure-line">
                    <p class="figure">
                        {value.number.typeset(sign)}
                        <small>"\u{a0}"{value.scale.symbol()}</small>
                    </p>
                    {turn.map(|turn| view! { <TurnMark turn/> })}
                </div>
                {indicated.map(|text| view! { <p class="indicated">{text}</p> })}
                <p class="word">
                    {shape.map(|shape| view! { <svg viewBox="0 0 20 20" aria-hidden="true"><path d=shape/></svg> })}
                    <span>
                        <strong>{word}</strong>
                        {off.map(words::then)}
                        {pending.then_some(words::NOT_ENTERED)}
                    </span>
                </p>
                {way.map(|way| view! { <p class="way">{way}</p> })}
                {best.map(|best| view! { <p class="way">{best}</p> })}
            </div>
        })
    }
}

/// The shape of a verdict: a tick, or a triangle that points to where the reading lies.
const fn band_shape(place: Place) -> &'static str {
    match place {
        Place::Inside => "M3 10.5l5 5 9-11",
        Place::High => "M10 3l8 14h-16z",
        Place::Low => "M10 17l8-14h-16z",
    }
}

/// The latest reading with its verdict, for a screen reader to say once it is entered. What is
/// only typed is not said, or every digit would be.
pub fn said(at: At) -> impl Fn() -> Option<String> {
    move || {
        let taken = at.standing.with(|s| s.as_ref()?.readings.last().cloned())?;
        let sign = at.bench.sign();
        let number = taken.corrected.number.typeset(sign);
        let reading = words::spoken_reading(
            &capitalised(taken.phase.name()),
            &number,
            &taken.corrected.scale.spoken(),
        );
        let lacks = Read::of(&taken).lacks().cloned();
        let not_judged = lacks.map(|role| Unproved::NoLoss(role).to_string());
        let Some(verdict) = &taken.verdict else {
            return Some(words::spoken(&reading, not_judged.as_deref(), None));
        };
        let place = verdict.words(sign);
        let way = at.is_open().then(|| way_to_go(at, verdict.place));
        let way = way.flatten();
        Some(words::spoken(&reading, Some(&place), way.as_deref()))
    }
}

/// What the reading that the step stands by proves.
pub fn proved(at: At) -> impl IntoView {
    move || {
        let left = at.standing.get()?.left?;
        let rule = at
            .bench
            .progress
            .with(|p| Some(p.as_ref()?.header.rule.clone()))?;
        Some(view! { <Proved left rule sign=at.bench.sign()/> })
    }
}

/// For a peak or a dip: how far the reading is from the best so far.
fn best_so_far(at: At, value: &Quantity) -> Option<String> {
    let work = at.step.with_value(|step| step.work.clone());
    let best = at
        .standing
        .now()
        .with(|s| s.as_ref()?.best(&work).cloned())?;
    let sign = at.bench.sign();
    let distance = value.base() - best.corrected.base();
    let better = matches!(work, Work::Peak { .. }) == distance.is_positive();
    let size = Quantity::natural(distance.abs(), value.unit().of_difference()).typeset(sign);
    Some(match (distance.is_zero(), better) {
        (true, _) => words::THE_BEST.to_owned(),
        (_, true) => words::better(&size),
        (_, false) => words::off_the_best(&size, &best.corrected.typeset(sign)),
    })
}
