//! The sounds that were kept with readings.

pub const TITLE: &str = "Sound recordings";
pub const PLAY: &str = "Play";
pub const STOP: &str = "Stop";
pub const REMOVE: &str = "Remove…";
pub const REMOVE_NOW: &str = "Remove the recording";
pub const KEEP: &str = "Cancel";
pub const REMOVED: &str =
    "The recording is no longer listed. That it was kept and removed stays in the log.";
pub const NOT_PLAYED: &str = "This browser did not play it: check volume and output.";
/// A recording whose reading was struck or taken back since.
pub const DOES_NOT_COUNT: &str = "its reading no longer counts";

/// How long it lasts.
pub fn lasts(seconds: &str) -> String {
    format!("{seconds}\u{a0}s")
}
