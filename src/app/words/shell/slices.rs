//! Long work: what is being done, how far it is, and that it was stopped.

use crate::app::platform::timeline::Stage;

pub const STOP: &str = "Stop";
pub const BUSY: &str =
    "A file is still being read or written: wait until that is done, or stop it first";
pub const NOTHING_CHANGED: &str = "Stopped. Nothing was changed.";
pub const NOTHING_SAVED: &str = "Stopped. No file was saved.";

/// What is being done.
pub fn stage(stage: Stage) -> &'static str {
    match stage {
        Stage::Loading | Stage::Reading => "Reading the file",
        Stage::Comparing => "Comparing with what is here",
        Stage::Taking => "Importing what is ticked",
        Stage::Gathering => "Gathering the jobs",
        Stage::Writing => "Writing the file",
    }
}

/// How far it is.
pub fn far(stage: Stage, done: usize, all: usize) -> String {
    match stage {
        Stage::Loading | Stage::Reading => {
            let megabytes = |bytes: usize| bytes.div_ceil(1 << 20);
            format!("{} of {} MB", megabytes(done), megabytes(all))
        }
        Stage::Gathering => format!("{done} of {all} jobs"),
        Stage::Comparing | Stage::Taking | Stage::Writing => format!("{done} of {all} items"),
    }
}

/// Taking things in was stopped in between.
pub fn taken_until_stopped(done: usize, all: usize) -> String {
    format!(
        "Stopped. {done} of {all} items imported, each of them whole; bring the file in again for the rest."
    )
}
