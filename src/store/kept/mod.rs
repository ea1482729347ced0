//! What is kept, a kind of thing a file.

pub(super) mod aside;
pub(crate) mod authored;
pub(crate) mod contents;
pub(super) mod device;
pub(super) mod filed;
pub(super) mod jobs;
pub(super) mod known_lines;
pub(super) mod last;
pub(super) mod lines;
pub(super) mod procedures;
pub(super) mod settings;
pub(super) mod typed;
