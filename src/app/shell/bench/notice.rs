//! What is said at the foot of the screen.

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
