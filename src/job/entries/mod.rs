//! The entries of a log: what they are, how they are written, joined, put right and refused.

pub mod bounded;
pub mod correct;
pub mod event;
pub mod header;
pub mod log;
pub mod place;
pub mod refusal;
pub mod remains;
pub mod written;
