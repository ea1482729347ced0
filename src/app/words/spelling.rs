//! The few words that are spelt otherwise in the United States: each text that holds one goes
//! through here on its way out, and nothing that a person typed does.

use crate::exchange::report::Spelling;
use leptos::prelude::window;

thread_local! {
    static SPELLING: Spelling = {
        let language = window().navigator().language();
        Spelling::of(&language.unwrap_or_default())
    };
}

/// The spelling that the device's language asks for.
pub fn spelling() -> Spelling {
    SPELLING.with(|spelling| *spelling)
}

/// A label in that spelling.
pub fn either(british: &'static str, american: &'static str) -> &'static str {
    match spelling() {
        Spelling::British => british,
        Spelling::American => american,
    }
}

/// A text of ours in that spelling.
pub fn spelt(text: &str) -> String {
    spelling().write(text)
}
