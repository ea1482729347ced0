//! What board pictures and papers share of pins: the names to choose from, and a pin that is moved
//! by keys.

use crate::app::ui::boards::board::place_in;
use crate::app::words::set::board as words;
use crate::procedure::{Crop, WHOLE};
use leptos::prelude::*;
use std::hash::Hash;
use web_sys::KeyboardEvent;

/// What one press of an arrow key moves a pin, as a part of what is shown; ten times as much
/// with the shift key.
const NUDGE: f64 = 0.005;

/// A kind of what can be pinned: what it is called, and what is of it.
pub type PinGroup<S> = (&'static str, fn(&S) -> bool);

/// What can be pinned, and what is to be done with the chosen one.
#[component]
pub fn PinPalette<S>(
    /// What can be pinned.
    choices: Signal<Vec<S>>,
    /// The kinds of that, each with what it is called.
    groups: Vec<PinGroup<S>>,
    /// What is said where there is nothing.
    none: &'static str,
    /// What a thing is called.
    name: fn(&S) -> String,
    /// What stands behind the name of one that is pinned.
    pinned: Callback<S, Option<String>>,
    /// The chosen one.
    chosen: RwSignal<Option<S>>,
    /// What the next tap does.
    now: Signal<String>,
    /// Puts the chosen one into the middle of what is shown.
    middle: Callback<S>,
    /// Takes the pin of the chosen one off.
    off: Callback<S>,
) -> impl IntoView
where
    S: Clone + Eq + Hash + Send + Sync + 'static,
{
    let groups = StoredValue::new(groups);
    let group = move |(label, of): PinGroup<S>| {
        let here = Memo::new(move |_| {
            let mut here = choices.get();
            here.retain(of);
            here
        });
        view! {
            <Show when=move || !here.with(Vec::is_empty)>
                <p class="pin-choice-label">{label}</p>
                <div class="pin-choice" role="group" aria-label=label>
                    <For each=move || here.get() key=S::clone let:spot>{name_key(spot, name, pinned, chosen)}</For>
                </div>
            </Show>
        }
    };
    let on_chosen = move |act: Callback<S>| {
        move |_| {
            if let Some(spot) = chosen.get_untracked() {
                act.run(spot);
            }
        }
    };
    let can_go = move || chosen.get().is_some_and(|spot| pinned.run(spot).is_some());
    view! {
        <Show when=move || !choices.with(Vec::is_empty) fallback=move || view! { <p class="hint">{none}</p> }>
            {groups.get_value().into_iter().map(group).collect_view()}
            <p role="status">{now}</p>
            <div class="row">
                <button type="button" disabled=move || chosen.with(Option::is_none) on:click=on_chosen(middle)>{words::middle()}</button>
                <button type="button" disabled=move || !can_go() on:click=on_chosen(off)>{words::UNPIN}</button>
            </div>
        </Show>
    }
}

/// A name that can be chosen, with where it is pinned.
fn name_key<S>(
    spot: S,
    name: fn(&S) -> String,
    pinned: Callback<S, Option<String>>,
    chosen: RwSignal<Option<S>>,
) -> impl IntoView
where
    S: Clone + Eq + Send + Sync + 'static,
{
    let name = name(&spot);
    let spot = StoredValue::new(spot);
    let is_chosen = move || spot.with_value(|spot| chosen.with(|c| c.as_ref() == Some(spot)));
    let pinned = Memo::new(move |_| pinned.run(spot.get_value()));
    let choose = move |_| {
        let was = untrack(is_chosen);
        chosen.set((!was).then(|| spot.get_value()));
    };
    view! {
        <button type="button" class="chip" aria-pressed=move || is_chosen().to_string() on:click=choose>
            {name}{pinned}
        </button>
    }
}

/// A pin that is chosen by a tap and moved by keys.
#[component]
pub fn PinKey(
    /// Its id, where something leads to it.
    #[prop(optional, into)]
    id: Option<String>,
    /// What marks its kind.
    class: &'static str,
    /// What it points at.
    name: String,
    /// Where it is, in ten-thousandths of the picture.
    place: Memo<(u16, u16)>,
    /// What of the picture is shown.
    crop: RwSignal<Crop>,
    /// Whether it is the chosen one.
    is_chosen: Signal<bool>,
    /// Chooses it.
    choose: Callback<()>,
    /// Moves it to the right and down, by parts of what is shown.
    nudge: Callback<(f64, f64)>,
    /// Takes it off.
    off: Callback<()>,
) -> impl IntoView {
    let at = place_in(crop, place);
    let (left, top) = (move || at.get().0, move || at.get().1);
    let label = name.clone();
    let key = move |event: KeyboardEvent| {
        let by = match event.shift_key() {
            true => 10.0 * NUDGE,
            false => NUDGE,
        };
        match event.key().as_str() {
            "ArrowLeft" => nudge.run((-by, 0.0)),
            "ArrowRight" => nudge.run((by, 0.0)),
            "ArrowUp" => nudge.run((0.0, -by)),
            "ArrowDown" => nudge.run((0.0, by)),
            "Delete" | "Backspace" => off.run(()),
            _ => return,
        }
        event.prevent_default();
        // The frame would move the picture.
        event.stop_propagation();
    };
    let described = move || {
        let (x, y) = place.get();
        let whole = u32::from(WHOLE);
        let percent = |share: u16| (u32::from(share) * 100 + whole / 2) / whole;
        words::pin(&name, percent(x), percent(y))
    };
    view! {
        <button type="button" id=id class=format!("pin pin-key {class}") style:left=left style:top=top
            aria-label=described aria-pressed=move || is_chosen.get().to_string()
            on:pointerdown=|event| event.stop_propagation()
            on:click=move |_| choose.run(()) on:keydown=key>
            <span class="pin-name" aria-hidden="true">{label}</span>
        </button>
    }
}
