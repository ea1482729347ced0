//! The part of a page that is looked at, drawn anew with all its lines.

use super::in_hand::View;
use crate::app::platform::device;
use crate::app::ui::frame::Look;
use crate::procedure::{Crop, WHOLE};
use leptos::html::Canvas;
use leptos::prelude::*;
use leptos::task::spawn_local;
use std::time::Duration;
use web_sys::HtmlCanvasElement;

/// How long the look has to rest before a part is drawn sharp.
const REST: Duration = Duration::from_millis(160);

/// The most pixels of the part that is drawn sharp.
const SHARPEST: f64 = 4_000_000.0;

/// The part that is looked at, drawn anew with all its lines once the look rests.
pub fn sharp(view: View, look: Look, page: u16) -> impl IntoView {
    let canvas = NodeRef::<Canvas>::new();
    let part = RwSignal::new(None::<Crop>);
    let round = StoredValue::new(0_u32);
    Effect::new(move |_| {
        let crop = look.crop.get();
        let this = round.get_value() + 1;
        round.set_value(this);
        set_timeout(
            move || {
                if round.try_get_value() != Some(this) {
                    return;
                }
                if let Some(canvas) = canvas.get_untracked() {
                    spawn_local(sharpen(view, canvas.clone(), page, crop, part));
                }
            },
            REST,
        );
    });
    let share = move |of: fn(Crop, Crop) -> f64| {
        move || match (part.get(), look.crop.get()) {
            (Some(part), crop) => format!("{:.4}%", of(part, crop) * 100.0),
            (None, _) => "0".to_owned(),
        }
    };
    view! {
        <canvas class="paper-sharp" node_ref=canvas
            style:left=share(|part, crop| (part.x - crop.x) / crop.width)
            style:top=share(|part, crop| (part.y - crop.y) / crop.height)
            style:width=share(|part, crop| part.width / crop.width)
            style:height=share(|part, crop| part.height / crop.height)></canvas>
    }
}

async fn sharpen(
    view: View,
    canvas: HtmlCanvasElement,
    page: u16,
    crop: Crop,
    part: RwSignal<Option<Crop>>,
) {
    let (Some(pdf), Some(frame)) = (view.pdf(), canvas.parent_element()) else {
        return;
    };
    let wanted = on_page(crop);
    let ratio = device::pixel_ratio();
    let across = f64::from(frame.client_width()) * ratio * wanted.width / crop.width;
    let down = f64::from(frame.client_height()) * ratio * wanted.height / crop.height;
    if across < 1.0 || down < 1.0 {
        return;
    }
    let scale = (SHARPEST / (across * down)).sqrt().min(1.0);
    let size = (across * scale, down * scale);
    if pdf.sharpen(&canvas, page, wanted, size).await {
        part.try_set(Some(wanted));
    }
}

/// What of a part lies on the page.
fn on_page(crop: Crop) -> Crop {
    let whole = f64::from(WHOLE);
    let (x, y) = (crop.x.max(0.0), crop.y.max(0.0));
    Crop {
        x,
        y,
        width: (crop.x + crop.width).min(whole) - x,
        height: (crop.y + crop.height).min(whole) - y,
    }
}
