//! The drawn scale, as the report draws it too.

pub use crate::exchange::report::scale::{Drawing, Mark, MarkKind};

use crate::exchange::report::scale::{LARGE, Picture, Pointer};
use leptos::prelude::*;

/// The scale with its band, limits and readings. It stays while a number is typed, and only its
/// pointer moves: to make it anew would cost more than all else that a digit does.
#[component]
pub fn TargetScale(
    /// What is drawn, if anything is.
    #[prop(into)]
    drawing: Signal<Option<Drawing>>,
) -> impl IntoView {
    let picture = Memo::new(move |_| drawing.with(|drawing| drawing.as_ref()?.picture(LARGE)));
    let is_drawn = Memo::new(move |_| picture.with(Option::is_some));
    move || is_drawn.get().then(|| drawn(picture))
}

fn drawn(picture: Memo<Option<Picture>>) -> impl IntoView {
    let part = move |of: fn(&Picture) -> &str| {
        picture.with(|picture| picture.as_ref().map(of).unwrap_or_default().to_owned())
    };
    // Holds shapes and figures of ours only, and every word in it is escaped.
    let still = Memo::new(move |_| part(|picture| &picture.still));
    let pointer = Memo::new(move |_| picture.with(|picture| picture.as_ref()?.pointer.clone()));
    let has_pointer = Memo::new(move |_| pointer.with(Option::is_some));
    let mark = move || {
        let part = move |of: fn(&Pointer) -> &str| {
            pointer.with(|pointer| pointer.as_ref().map(of).unwrap_or_default().to_owned())
        };
        has_pointer.get().then(|| {
            view! { <path class=move || part(|it| &it.class) d=move || part(|it| &it.shape)/> }
        })
    };
    view! {
        <div>
            <svg class=part(|it| it.class) viewBox=part(|it| &it.view_box) role="img"
                aria-label=move || part(|it| &it.spoken)>
                <g inner_html=move || still.get()></g>
                {mark}
            </svg>
        </div>
    }
}
