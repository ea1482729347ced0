//! Jobs in hand and finished.

use crate::job::Awaits;

pub const TITLE: &str = "Jobs";
pub const IN_HAND: &str = "In progress";
pub const FINISHED: &str = "Finished";
pub const UNREAD_WAY: &str = "What can’t be read";
pub const NAMELESS: &str = "A set without a name";
pub const ALL_SETTLED: &str = "All steps done";

pub const WELCOME: &str = "The set on the bench, one step at a time";
pub const WELCOME_LEAD: &str = "Halfturn leads you through inspecting, repairing, aligning and proving a two-way radio, and keeps every reading as found and as left. Everything stays on this device and works offline.";
pub const LOAD_DEMO: &str = "Load the demo";
pub const DEMO_HINT: &str = "The demo is the Quillmere Radio Club’s home-built 28\u{a0}MHz trainer: an invented set with a whole procedure and a half-done job.";

/// Jobs that are in no list, since they can't be read.
pub fn unread(count: usize) -> String {
    match count {
        1 => "1 job on this device can’t be read, so it is not in this list.".to_owned(),
        n => format!("{n} jobs on this device can’t be read, so they are not in this list."),
    }
}

/// A job in which nothing is to be done yet.
pub const NO_STEPS: &str = "Booked in, no steps yet";

/// What a job waits for.
pub fn awaits(awaits: &[Awaits]) -> Option<String> {
    let what = awaits.iter().map(|awaits| match awaits {
        Awaits::Parts => "for parts",
        Awaits::Owner => "for the owner",
    });
    let what: Vec<&str> = what.collect();
    (!what.is_empty()).then(|| format!("Waiting {}", what.join(" and ")))
}

/// A finished job.
pub fn finished(by: &str, when: &str) -> String {
    format!("Finished by {by}, {when}")
}

/// The step that is due.
pub fn step(number: usize, title: &str) -> String {
    format!("Step {number}: {title}")
}

/// What a job is about: number, owner, fault.
pub fn about(texts: &[String]) -> String {
    texts.join(" · ")
}

/// How far a job is.
pub fn settled(settled: usize, all: usize) -> String {
    format!("{settled} of {all} steps")
}
