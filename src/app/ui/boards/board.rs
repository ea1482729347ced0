//! The board at a step: the part of a picture around the probe and the adjuster.

use crate::app::ui::boards::picture::{Seen, fetch, instead};
use crate::app::ui::frame::{FRAME, Frame, Look};
use crate::app::words::set::board as words;
use crate::procedure::{BoardPicture, BoardPin, Crop, Procedure, Spot, Step};
use leptos::prelude::*;

/// The pictures that show something of a step: those that are needed to see all of it, and
/// keys for the others.
pub fn at_step(procedure: &Procedure, step: &Step) -> Option<impl IntoView + use<>> {
    let spots = step.spots();
    let pictures = procedure.pictures_of(step);
    let mut covered: Vec<&Spot> = Vec::new();
    let mut shown: Vec<(BoardPicture, RwSignal<bool>)> = Vec::new();
    for picture in pictures {
        let here = spots.iter().filter(|spot| picture.pin(spot).is_some());
        let fresh: Vec<&Spot> = here.filter(|spot| !covered.contains(spot)).collect();
        shown.push((picture.clone(), RwSignal::new(!fresh.is_empty())));
        covered.extend(fresh);
    }
    if shown.is_empty() {
        return None;
    }
    let keys = (shown.len() > 1).then(|| {
        let keys = shown.iter().map(|(picture, on)| {
            let on = *on;
            view! {
                <button type="button" aria-pressed=move || on.get().to_string()
                    on:click=move |_| on.update(|on| *on = !*on)>{picture.title.clone()}</button>
            }
        });
        view! { <div class="board-choice" role="group" aria-label=words::PICTURES>{keys.collect_view()}</div> }
    });
    let frames = shown.into_iter().map(|(picture, on)| {
        let pins: Vec<BoardPin> = spots
            .iter()
            .filter_map(|spot| picture.pin(spot).cloned())
            .collect();
        let both = StoredValue::new((picture, pins));
        view! { <Show when=move || on.get()>{both.with_value(|(picture, pins)| board(picture, pins))}</Show> }
    });
    Some(view! {
        <section class="boards" aria-label=words::ON_THE_BOARD>
            {keys}
            {frames.collect_view()}
        </section>
    })
}

/// One picture with its pins, and what there is to look more closely.
fn board(picture: &BoardPicture, pins: &[BoardPin]) -> impl IntoView + use<> {
    let start = picture.around(&pins.iter().collect::<Vec<_>>(), FRAME);
    frame_of(picture, pins, start)
}

/// The pictures of a procedure, whole, with all their pins.
pub fn all(procedure: &Procedure) -> Option<impl IntoView + use<>> {
    let boards = procedure
        .pictures
        .iter()
        .map(|picture| frame_of(picture, &picture.pins, picture.around(&[], FRAME)));
    let boards = boards.collect_view();
    (!procedure.pictures.is_empty()).then(|| {
        view! {
            <h2>{words::TITLE}</h2>
            <div class="boards boards-all">{boards}</div>
        }
    })
}

fn frame_of(picture: &BoardPicture, pins: &[BoardPin], start: Crop) -> impl IntoView + use<> {
    let seen = fetch(picture.picture.clone());
    let whole = picture.around(&[], FRAME);
    let look = Look::new(start);
    let names: Vec<&str> = pins.iter().map(|pin| pin.of.id().as_str()).collect();
    let label = words::frame(&picture.title, &names);
    let title = picture.title.clone();
    let pins = pins.to_vec();
    let other = move || match look.is_at_start() || start == whole {
        true => (words::WHOLE, whole),
        false => (words::TO_THE_PINS, start),
    };
    view! {
        <figure class="board">
            {move || match seen.get() {
                Seen::Here(address) => {
                    let marks = pins.iter().map(|pin| mark(pin.clone(), look.crop)).collect_view();
                    view! { <Frame look address label=label.clone()>{marks}</Frame> }.into_any()
                }
                other => instead(&other).into_any(),
            }}
            <figcaption>{title}</figcaption>
            <div class="board-keys">
                <button type="button" on:click=move |_| look.closer()>{words::CLOSER}</button>
                <button type="button" on:click=move |_| look.further()>{words::FURTHER}</button>
                <button type="button" on:click=move |_| look.crop.set(untrack(other).1)>{move || other().0}</button>
            </div>
        </figure>
    }
}

/// A pin as it is drawn: a test point as a ring with a dot, an adjuster as one with a slot.
fn mark(pin: BoardPin, crop: RwSignal<Crop>) -> impl IntoView {
    let at = place_in(crop, Signal::stored((pin.x, pin.y)));
    let is_point = matches!(pin.of, Spot::TestPoint(_));
    view! {
        <span class="pin" class:pin-point=is_point class:pin-adjuster=!is_point style:left=move || at.get().0 style:top=move || at.get().1>
            <span class="pin-name">{pin.of.id().to_string()}</span>
        </span>
    }
}

/// Where something on the picture is in its frame, as `left` and `top`.
pub fn place_in(
    crop: RwSignal<Crop>,
    place: impl Into<Signal<(u16, u16)>>,
) -> Memo<(String, String)> {
    let place = place.into();
    Memo::new(move |_| {
        let (crop, (x, y)) = (crop.get(), place.get());
        let percent = |share: f64| format!("{:.4}%", share * 100.0);
        (
            percent((f64::from(x) - crop.x) / crop.width),
            percent((f64::from(y) - crop.y) / crop.height),
        )
    })
}
