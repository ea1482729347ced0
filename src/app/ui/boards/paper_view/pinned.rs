//! The pins of a page, and what can be pinned.

use super::in_hand::{Pinning, View};
use crate::app::ui::boards::board::place_in;
use crate::app::ui::boards::pins::{PinGroup, PinKey, PinPalette};
use crate::app::ui::frame::{Look, Spotted};
use crate::app::words::author;
use crate::app::words::set::{board as board_words, papers as words};
use crate::procedure::PaperSpot;
use leptos::prelude::*;

/// What can be pinned, and what is to be done with the chosen one.
pub fn palette(view: View, pinning: Pinning) -> impl IntoView {
    let middle = Callback::new(move |spot: PaperSpot| {
        if let Some(look) = untrack(|| view.look()) {
            let (x, y) = look.crop.get_untracked().middle();
            view.put(spot, Spotted::at(x, y));
        }
    });
    let pin_of = move |spot: &PaperSpot| view.paper.with(|paper| paper.pin(spot).cloned());
    let pinned =
        Callback::new(move |spot: PaperSpot| pin_of(&spot).map(|pin| words::pinned_on(pin.page)));
    let now = move || match view.chosen.get() {
        None => board_words::CHOOSE.to_owned(),
        Some(spot) => match pin_of(&spot) {
            Some(pin) if pin.page != view.page.get() => words::on_page(spot.name(), pin.page),
            pin => board_words::now_tap(spot.name(), pin.is_some()),
        },
    };
    let groups: Vec<PinGroup<PaperSpot>> = vec![
        (author::TEST_POINTS, |spot| {
            matches!(spot, PaperSpot::TestPoint(_))
        }),
        (author::ADJUSTERS, |spot| {
            matches!(spot, PaperSpot::Adjuster(_))
        }),
        (words::SOCKETS, |spot| matches!(spot, PaperSpot::Socket(_))),
    ];
    let groups = StoredValue::new(groups);
    view! {
        <Show when=move || view.pins.get()>
            <div class="paper-palette" class:paper-chosen=move || view.chosen.with(Option::is_some)>
                <PinPalette choices=pinning.choices groups=groups.get_value() none=words::NOTHING_TO_PIN name=|spot| spot.name().to_owned()
                    pinned chosen=view.chosen now=Signal::derive(now) middle off=pinning.take_off/>
            </div>
        </Show>
    }
}

/// A pin: one that the step is about stands out, and where pins can be put it is moved by keys.
pub fn pin(view: View, look: Look, spot: PaperSpot) -> impl IntoView {
    let is_about = view.about.with_value(|about| about.contains(&spot));
    let is_other = !is_about && view.about.with_value(|about| !about.is_empty());
    let class = match (&spot, is_other) {
        (PaperSpot::TestPoint(_), false) => "pin-point",
        (PaperSpot::TestPoint(_), true) => "pin-point pin-other",
        (PaperSpot::Adjuster(_), false) => "pin-adjuster",
        (PaperSpot::Adjuster(_), true) => "pin-adjuster pin-other",
        (PaperSpot::Socket(_), false) => "",
        (PaperSpot::Socket(_), true) => "pin-other",
    };
    let name = spot.name().to_owned();
    let spot = StoredValue::new(spot);
    let place = Memo::new(move |_| {
        let pin = spot.with_value(|spot| view.paper.with(|paper| paper.pin(spot).cloned()));
        pin.map(|pin| (pin.x, pin.y)).unwrap_or_default()
    });
    let Some(pinning) = view.pinning else {
        let at = place_in(look.crop, place);
        let (left, top) = (move || at.get().0, move || at.get().1);
        return view! {
            <span class=format!("pin {class}") style:left=left style:top=top>
                <span class="pin-name">{name}</span>
            </span>
        }
        .into_any();
    };
    let is_chosen = move || spot.with_value(|spot| view.chosen.with(|c| c.as_ref() == Some(spot)));
    let nudge = Callback::new(move |(right, down): (f64, f64)| {
        let (crop, (x, y)) = (look.crop.get_untracked(), place.get_untracked());
        let to = Spotted::at(
            f64::from(x) + right * crop.width,
            f64::from(y) + down * crop.height,
        );
        view.put(spot.get_value(), to);
    });
    view! {
        <PinKey class name place crop=look.crop is_chosen=Signal::derive(is_chosen) nudge
            choose=Callback::new(move |()| view.chosen.set(Some(spot.get_value())))
            off=Callback::new(move |()| pinning.take_off.run(spot.get_value()))/>
    }
    .into_any()
}
