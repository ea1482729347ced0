//! The reading of a step: target, drawn scale, verdict, entry and the readings so far.

mod aim;
mod before;
mod dock;
mod drawn;
mod entry;
mod instrument;
mod second;
mod settling;
mod slip;
mod taken;
mod target;
mod verdict;
mod waits_for;
mod way;

pub use dock::leave;
pub use target::target_line;
pub use way::turning;

use crate::app::screens::audio;
use crate::app::screens::work::step::{At, Shown, closed};
use crate::quantity::{Scale, Unit};
use dock::entry_form;
use drawn::drawn;
use entry::Entry;
use leptos::prelude::*;
use taken::taken;
use target::basis;
use verdict::{keep_verdict_in_sight, proved, said, verdict_line};

/// The reading of a step: its target, what was read, and the keys to enter the next.
pub fn reading(at: At) -> Shown {
    let step = at.step.get_value();
    let scale = step
        .work
        .gauge()
        .map_or(Scale::plain(Unit::Ratio), |gauge| gauge.scale);
    let entry = Entry::open(at, scale);
    keep_verdict_in_sight(entry);
    let sheet = view! {
        <section class="answer reading">
            // Where nothing is entered any more, there is nothing to aim at. Where a tool pulls, that
            // says where to stop, so it comes before all else.
            <Show when=move || at.is_open()>{aim::aim_off(at)}</Show>
            {before::line(at)}
            {drawn(entry, scale)}
            <p class="unseen" role="status">{said(at)}</p>
            {slip::offer(at)}
            <Show when=move || at.is_open()>{aim::shared_null(at)}</Show>
            {proved(at)}
            {basis(at)}
            {instrument::choice(at)}
            {closed(at)}
            {settling::settling(at)}
            {second::second_route(at)}
            <Show when=move || at.is_open()>{at.step.with_value(audio::way_here)}</Show>
            {aim::rounds(at)}
            {taken(entry)}
        </section>
    };
    let dock = view! { <Show when=move || at.is_open()>{entry_form(entry)}</Show> };
    let verdict = view! { <div class="verdict-place">{verdict_line(entry)}</div> };
    Shown::with_dock(sheet, dock).judged(verdict)
}
