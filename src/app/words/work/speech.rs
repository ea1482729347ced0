//! Reading a step aloud.

/// The language of the app's words, which a voice should have (BCP 47).
pub const LANGUAGE: &str = "en";
pub const NO_VOICE: &str = "This browser has no voice of its own on this device";
pub const STOP: &str = "Stop reading";
pub const READ_ALOUD: &str = "Read aloud";
