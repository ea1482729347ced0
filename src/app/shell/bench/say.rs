//! Saying something at the foot of the screen.

use crate::app::shell::bench::Bench;
use crate::app::shell::bench::notice::{Notice, Offer, Weight};
use leptos::prelude::*;

impl Bench {
    /// Says something that is good to know.
    pub fn say(self, text: impl Into<String>) {
        self.notify(text, Weight::Plain, None);
    }

    /// Says that something was not done, and why.
    pub fn refuse(self, text: impl Into<String>) {
        self.notify(text, Weight::Refused, None);
    }

    /// Says something that waits for a word, and what one press can do about it.
    pub fn ask(self, text: impl Into<String>, offer: Option<Offer>) {
        self.notify(text, Weight::Refused, offer);
    }

    pub(super) fn notify(self, text: impl Into<String>, weight: Weight, offer: Option<Offer>) {
        let text = text.into();
        self.notice.set(Some(Notice {
            text,
            weight,
            offer,
        }));
    }
}
