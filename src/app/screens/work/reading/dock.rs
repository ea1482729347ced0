//! The keys that enter a reading, and that leave one.

use super::aim::strip;
use super::entry::{Entry, has_impedance};
use super::target::aim_of;
use crate::app::platform::device;
use crate::app::screens::work::step::{At, Lead, focus_next};
use crate::app::ui::{Keypad, NumberField, TermKey, capitalised};
use crate::app::words::work::reading as words;
use crate::app::words::work::terms::Term;
use crate::job::{Deed, Phase, Taken, Tool, good_to_leave};
use crate::quantity::Scale;
use crate::radio::conversion;
use leptos::html::Input;
use leptos::prelude::*;

pub fn entry_form(entry: Entry) -> impl IntoView {
    let at = entry.at;
    let (adjusts, is_stop) = at
        .step
        .with_value(|step| (step.work.adjuster().is_some(), step.work.is_stop()));
    let phases: &[Phase] = match adjusts {
        true => &[Phase::AsFound, Phase::Try, Phase::AsLeft],
        false => &[Phase::AsFound, Phase::AsLeft],
    };
    let field = NodeRef::<Input>::new();
    field.on_load(|field| device::focus_in_place(&field));
    let label = move || words::field(&entry.scale.get().spoken(), aim_of(entry).as_deref());
    let offer = move || leave_as_it_is(entry).into_any();
    view! {
        <form class="dock" on:submit=move |event| { event.prevent_default(); entry.enter() }>
            <div class="dock-field">
                // A stop asks where the reading stands now, and no more.
                {(!is_stop).then(|| view! {
                    <div class="phases" role="group" aria-label=words::WHEN>
                        {phases.iter().map(|&phase| phase_key(entry, phase)).collect_view()}
                        {again_key(entry)}
                        <TermKey term=Term::FoundAndLeft/>
                    </div>
                })}
                {tool_keys(entry)}
                <NumberField text=at.typed scale=entry.scale error=entry.error field label offer/>
            </div>
            {move || view! {
                <Keypad text=at.typed scale=entry.scale scales=offered(at) sign=at.bench.sign()
                    quiet=Signal::derive(move || at.leads() != Lead::Enter)
                    on_enter=move || entry.enter()/>
            }}
        </form>
    }
}

/// The scales in which a reading of the step can be typed.
fn offered(at: At) -> Vec<Scale> {
    let due = at
        .step
        .with_value(|step| step.work.gauge().map(|gauge| gauge.scale));
    due.map_or(Vec::new(), |due| {
        conversion::offered(due, has_impedance(at))
    })
}

fn phase_key(entry: Entry, phase: Phase) -> impl IntoView {
    let pressed = move || (!entry.again.get() && entry.next_phase() == phase).to_string();
    let choose = move |_| {
        entry.again.set(false);
        entry.phase.set(Some(phase));
    };
    view! {
        <button type="button" aria-pressed=pressed on:click=choose>{capitalised(phase.name())}</button>
    }
}

/// The same reading once more, with nothing changed: the spread then counts. It has its place
/// before there is one to repeat, so that the keys beside it stay in theirs.
fn again_key(entry: Entry) -> impl IntoView {
    let any = move || {
        let standing = entry.at.standing;
        standing.with(|s| s.as_ref().is_some_and(|s| !s.readings.is_empty()))
    };
    let pressed = move || entry.again.get().to_string();
    view! {
        <button type="button" aria-pressed=pressed disabled=move || !any()
            on:click=move |_| entry.again.set(true)>
            {words::AGAIN}
        </button>
    }
}

/// Whether the tool is in the adjuster, where it may pull the reading.
fn tool_keys(entry: Entry) -> impl IntoView {
    move || {
        entry.next_tool()?;
        let key = move |tool: Tool, name: &'static str| {
            let pressed = move || (entry.manner().tool == Some(tool)).to_string();
            view! {
                <button type="button" aria-pressed=pressed on:click=move |_| entry.tool.set(Some(tool))>{name}</button>
            }
        };
        Some(view! {
            <div class="phases" role="group" aria-label=words::WHERE_THE_TOOL_IS>
                {key(Tool::In, words::TOOL_IN)}
                {key(Tool::Out, words::TOOL_OUT)}
            </div>
        })
    }
}

/// Makes the last reading the one that is left.
pub fn leave(at: At, last: &Taken) {
    let left = at.record(|step| Deed::Reading {
        step,
        phase: Phase::AsLeft,
        value: last.value.clone(),
        tool: last.tool,
        repeat: false,
        heard: last.heard.clone(),
    });
    if left {
        focus_next();
    }
}

/// One tap makes the last reading the one that is left, where it is good to leave. Until then it is
/// drawn there where to stop, with a tool that pulls.
fn leave_as_it_is(entry: Entry) -> impl IntoView {
    let at = entry.at;
    let last = Memo::new(move |_| {
        if at.typed.with(|typed| !typed.is_empty()) {
            return None;
        }
        let work = at.step.with_value(|step| step.work.clone());
        let standing = at.standing.now();
        standing.with(|s| good_to_leave(&work, s.as_ref()?).cloned())
    });
    move || {
        let Some(last) = last.get() else {
            return strip(at).into_any();
        };
        let text = words::leave_at(&last.corrected.typeset(at.bench.sign()));
        let leave = move |_| {
            entry.phase.set(None);
            entry.tool.set(None);
            leave(at, &last);
        };
        view! { <button type="button" class="main leave" on:click=leave>{text}</button> }.into_any()
    }
}
