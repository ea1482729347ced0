//! The pin-outs of two devices side by side, both seen from the printed side.

use crate::app::words::set::substitution as words;
use crate::radio::components::substitution::{Device, Substitution};
use leptos::prelude::*;

/// The middles of the legs of the drawn device, and the room for each.
const LEFT: f64 = 36.0;
const SPACING: f64 = 44.0;

/// The two, where the legs of one of them are known.
pub fn pin_outs(check: &Substitution) -> Option<impl IntoView + use<>> {
    let order = |device: &Device| device.pins.as_ref().map(|pins| pins.seen_from_front());
    let (old, new) = (order(&check.old), order(&check.new));
    if old.is_none() && new.is_none() {
        return None;
    }
    let (was, is) = (
        old.clone().unwrap_or_default(),
        new.clone().unwrap_or_default(),
    );
    let is_known = old.is_some() && new.is_some();
    // A leg that does not go into the hole of its own letter.
    let differs = move |place: usize| is_known && was.chars().nth(place) != is.chars().nth(place);
    Some(view! {
        <div class="pin-outs">
            {drawn(&check.old, old, |_| false)}
            {drawn(&check.new, new, differs)}
        </div>
    })
}

fn drawn(device: &Device, order: Option<String>, differs: impl Fn(usize) -> bool) -> AnyView {
    let order = order.unwrap_or_default();
    let legs = order.chars().count();
    let wide = 2.0 * LEFT + SPACING * (legs.max(2) - 1) as f64;
    let drawn = order.chars().enumerate().map(|(place, leg)| {
        let x = LEFT + SPACING * place as f64;
        view! {
            <g class="leg" class:leg-other=differs(place)>
                <path d=format!("M{x} 62V104")/>
                <rect x=x - 17.0 y="104" width="34" height="38"/>
                <text x=x y="131" text-anchor="middle">{leg.to_string()}</text>
            </g>
        }
    });
    let drawn = drawn.collect_view();
    let said = match legs {
        0 => words::legs_unknown(&device.name),
        _ => words::legs(&device.name, &order),
    };
    view! {
        <figure>
            <figcaption>{said.clone()}</figcaption>
            <svg viewBox=format!("0 0 {wide} 148") role="img" aria-label=said>
                <path class="body" d=format!("M8 62V20a12 12 0 0 1 12-12H{}a12 12 0 0 1 12 12V62z", wide - 20.0)/>
                {drawn}
            </svg>
        </figure>
    }
    .into_any()
}
