//! What is said at the foot of the screen.

use crate::app::shell::bench::Bench;
use leptos::prelude::*;
use std::sync::Arc;

/// Something to be told, until it is put away or the screen changes.
#[derive(Clone)]
pub struct Notice {
    /// What happened, in a sentence.
    pub text: String,
    /// How much it matters.
    pub weight: Weight,
    /// What can be done about it with one press.
    pub offer: Option<Offer>,
}

/// Something that one press does.
#[derive(Clone)]
pub struct Offer {
    /// The word on its button.
    pub word: String,
    /// What it does. It is the notice's own, for the screen that it came from may be gone.
    pub act: Arc<dyn Fn() + Send + Sync>,
}

/// How much a notice matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// Good to know.
    Plain,
    /// Something was not done.
    Refused,
}

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
