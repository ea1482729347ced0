//! Number keys large enough for a thumb, so that a reading can be entered with no other keyboard.

use crate::app::words::shell::parts as words;
use crate::quantity::{DecimalSign, Scale};
use leptos::prelude::*;

/// How many units are shown unasked: the one due, and those above and below it.
const AT_ONCE: usize = 3;

/// Number keys and the scales that a number can be taken in.
#[component]
pub fn Keypad(
    /// The text that the keys write.
    text: RwSignal<String>,
    /// The scale in which a bare number is taken.
    scale: RwSignal<Scale>,
    /// The scales to choose from; those near the one in hand where none are given.
    #[prop(optional)]
    scales: Vec<Scale>,
    /// The decimal sign in use.
    sign: DecimalSign,
    /// Whether another key than Enter is the one to go on by.
    #[prop(optional, into)]
    quiet: Signal<bool>,
    /// Enters the number.
    on_enter: impl Fn() + Copy + Send + Sync + 'static,
) -> impl IntoView {
    let key = move |symbol: &'static str| {
        view! {
            <button type="button" class="key" on:click=move |_| text.update(|t| t.push_str(symbol))>
                {symbol}
            </button>
        }
    };
    let flip_sign = move |_| {
        text.update(|text| match text.strip_prefix(['-', '\u{2212}']) {
            Some(rest) => *text = rest.to_owned(),
            None => text.insert(0, '-'),
        })
    };
    let take_back = move |_| {
        text.update(|text| {
            text.pop();
        })
    };
    view! {
        <div class="keypad">
            <ScaleKeys scale scales/>
            <div class="keys">
                {key("7")}{key("8")}{key("9")}
                <button type="button" class="key" aria-label=words::DELETE_LAST on:click=take_back>
                    <svg viewBox="0 0 24 24" aria-hidden="true"><path d="M9 5h11v14H9l-6-7zM12 9.5l5 5M17 9.5l-5 5"/></svg>
                </button>
                {key("4")}{key("5")}{key("6")}
                <button type="button" class="key" aria-label=words::CHANGE_SIGN on:click=flip_sign>"±"</button>
                {key("1")}{key("2")}{key("3")}
                <button type="button" class="key key-enter" class:key-quiet=quiet on:click=move |_| on_enter()>{words::ENTER}</button>
                {key("0")}{key(sign.symbol())}
                <button type="button" class="key" aria-label=words::CLEAR_NUMBER on:click=move |_| text.set(String::new())>"C"</button>
            </div>
        </div>
    }
}

/// The scales that a number can be taken in, to choose one; nothing where there is but one. Others
/// can be typed with the number.
#[component]
fn ScaleKeys(scale: RwSignal<Scale>, scales: Vec<Scale>) -> impl IntoView {
    let scales = match scales.is_empty() {
        true => scale.get_untracked().near(),
        false => scales,
    };
    let several = scales.len() > 1;
    // One more has the place of the key that would show it.
    let at_once = match scales.len() <= AT_ONCE + 1 {
        true => scales.len(),
        false => AT_ONCE,
    };
    let others: Vec<Scale> = scales.iter().skip(at_once).copied().collect();
    let has_others = !others.is_empty();
    let is_other = Memo::new(move |_| others.contains(&scale.get()));
    let asked = RwSignal::new(false);
    let more = move || asked.get() || is_other.get();
    let choices = scales
        .into_iter()
        .enumerate()
        .map(|(index, this)| {
            let is_shown = move || index < at_once || more();
            view! {
                <button
                    type="button"
                    class="scale-key"
                    hidden=move || !is_shown()
                    aria-pressed=move || (scale.get() == this).to_string()
                    aria-label=words::unit(&this.symbol(), &this.spoken())
                    on:click=move |_| scale.set(this)
                >
                    {this.symbol()}
                </button>
            }
        })
        .collect_view();
    several.then(|| {
        view! { <div class="scale-keys" role="group" aria-label=words::UNIT_OF_NUMBER>
            {choices}
            {has_others.then(|| view! {
                <button type="button" class="more-scales" aria-label=words::MORE_UNITS aria-expanded=move || more().to_string()
                    on:click=move |_| asked.update(|asked| *asked = !*asked)>"…"</button>
            })}
        </div> }
    })
}
