//! A paper to be looked at: its pages, zoomed and moved by touch, wheel and keys, with pins.

mod bar;
mod in_hand;
mod pinned;
mod sharp;

use crate::app::platform::{device, imaging};
use crate::app::ui::frame::{Frame, Spotted};
use crate::app::words::set::{board as board_words, papers as words};
use crate::app::words::shared;
use crate::procedure::{Paper, PaperSpot};
pub use in_hand::Pinning;

use bar::bar;
use in_hand::{Page, View, open};
use leptos::prelude::*;
use leptos::task::spawn_local;
use pinned::{palette, pin};
use sharp::sharp;
use web_sys::KeyboardEvent;

/// The viewer.
#[component]
pub fn PaperView(
    /// The paper with its pins as they are now.
    #[prop(into)]
    paper: Signal<Paper>,
    /// What to show first: the page and the place of these.
    #[prop(optional)]
    about: Vec<PaperSpot>,
    /// Pins to be put, where that can be done.
    #[prop(optional_no_strip)]
    pinning: Option<Pinning>,
    /// Whether it stands in a column beside something else.
    #[prop(optional)]
    narrow: bool,
) -> impl IntoView {
    let first = paper.with_untracked(|paper| paper.page_of(&about).map(|(page, _)| page));
    let name = paper.with_untracked(|paper| paper.paper.clone());
    let view = View {
        paper,
        about: StoredValue::new(about),
        page: RwSignal::new(first.unwrap_or(1)),
        pages: RwSignal::new(1),
        shown: RwSignal::new(Page::Coming),
        name: StoredValue::new(name.clone()),
        is_pdf: RwSignal::new(false),
        by_key: StoredValue::new(false),
        aspect: RwSignal::new(aspect(narrow)),
        chosen: RwSignal::new(None),
        pins: RwSignal::new(false),
        pinning,
    };
    spawn_local(open(view, name));
    // A sheet of paper is upright or lies, and so does a tablet.
    let width = StoredValue::new(device::window_size().0);
    let turned = window_event_listener(leptos::ev::resize, move |_| {
        let now = device::window_size().0;
        if width.try_get_value().is_some_and(|was| was != now) {
            width.set_value(now);
            view.aspect.set(aspect(narrow));
            view.look_anew();
        }
    });
    on_cleanup(move || {
        turned.remove();
        if let Some(Page::Here(drawn, _)) = view.shown.try_get_untracked() {
            imaging::give_back(&drawn.address);
        }
    });
    let keys = move |event: KeyboardEvent| {
        let plain = !event.ctrl_key() && !event.alt_key() && !event.meta_key();
        match event.key().as_str() {
            "PageDown" if plain => view.turn_by_key(1),
            "PageUp" if plain => view.turn_by_key(-1),
            _ => return,
        }
        event.prevent_default();
        // The screen goes to another step by these otherwise.
        event.stop_propagation();
    };
    view! {
        <div class="paper" class:paper-pinning=view.pins on:keydown=keys>
            {pinning.map(|pinning| palette(view, pinning))}
            <div class="paper-shown">
                {frame(view)}
                {bar(view)}
            </div>
        </div>
    }
}

/// The form of the frame that fills the screen and leaves room for the keys.
fn aspect(narrow: bool) -> f64 {
    let (width, height) = device::window_size();
    if narrow {
        return 1.0;
    }
    ((width - 40.0) / (height - 230.0).max(200.0)).clamp(0.62, 2.2)
}

fn frame(view: View) -> impl IntoView {
    let on_tap = Callback::new(move |at: Spotted| {
        if let Some(spot) = view.chosen.get_untracked() {
            view.put(spot, at);
        }
    });
    move || match view.shown.get() {
        Page::Coming => {
            view! { <p class="no-picture" role="status">{words::COMING}</p> }.into_any()
        }
        Page::Not(why) => view! { <p class="no-picture" role="status">{why}</p> }.into_any(),
        Page::Here(drawn, look) => {
            let aspect = view.aspect.get_untracked();
            let title = view.paper.with_untracked(|paper| paper.title.clone());
            let page = view.page.get_untracked();
            let pages = view.pages.get_untracked();
            // Until another page is drawn, this one stays with its own pins.
            let here = Memo::new(move |_| {
                view.paper.with(|paper| {
                    let pins = paper.pins.iter();
                    let here = pins.filter(|pin| pin.page == page && pin.is_sound());
                    here.map(|pin| pin.of.clone()).collect::<Vec<_>>()
                })
            });
            let title = match pages {
                1 => title,
                _ => shared::list(&[title, words::page_of(page, pages)]),
            };
            let is_pdf = view.is_pdf.get_untracked();
            view! {
                <Frame look address=drawn.address.clone() label=board_words::frame(&title, &[]) aspect wheel_zooms=true on_tap=on_tap>
                    {is_pdf.then(|| sharp(view, look, page))}
                    <For each=move || here.get() key=PaperSpot::clone let:spot>{pin(view, look, spot)}</For>
                </Frame>
            }
            .into_any()
        }
    }
}
