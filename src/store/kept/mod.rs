//! What is kept, a kind of thing a file.

pub(super) mod aside;
pub mod authored;
pub mod contents;
pub(super) mod jobs;
pub(super) mod procedures;
pub(super) mod settings;
pub(super) mod typed;
