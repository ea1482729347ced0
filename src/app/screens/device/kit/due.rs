//! How long until an instrument is to be calibrated, as a strip: from today to that day, hatched where
//! it is past. All strips have one scale, so that they tell of each other what comes first.

use crate::app::words::device::kit as words;
use crate::metrology::date::Date;
use leptos::prelude::*;

/// Days before today and after it that a strip shows; what is further off ends in an arrow.
const BEFORE: i64 = 182;
const AFTER: i64 = 365;

/// Where a day lies on the strip, in hundredths of its length.
fn place(days: i64) -> f64 {
    let shown = days.clamp(-BEFORE, AFTER) + BEFORE;
    shown as f64 / (BEFORE + AFTER) as f64 * 100.0
}

/// The strip of an instrument that is due on a day.
pub fn strip(today: Date, due: Date) -> impl IntoView {
    let days = today.days_until(due);
    let (from, to) = (place(days.min(0)), place(days.max(0)));
    let is_cut = !(-BEFORE..=AFTER).contains(&days);
    let class = match days < 0 {
        true => "due-bar due-past",
        false => "due-bar",
    };
    view! {
        <span class="due-strip" role="img" aria-label=words::due_in(days)>
            <span class=class class:due-cut=is_cut style:left=percent(from) style:width=percent(to - from)></span>
            <span class="due-today" style:left=percent(place(0))></span>
        </span>
    }
}

fn percent(hundredths: f64) -> String {
    format!("{hundredths:.2}%")
}
