//! What goes into a file.

pub const TITLE: &str = "Export selected";
pub const LEAD: &str = "What is ticked goes into one file, to be brought in on another device. A job takes its procedure along.";
pub const SETTINGS: &str = "Settings";
pub const PROCEDURES: &str = "Procedures";
pub const JOBS: &str = "Jobs";
pub const KIT: &str = "Instruments";
pub const CHANNELS: &str = "Channel tables";
pub const ALL: &str = "All";
pub const NONE: &str = "None";
pub const SAVE: &str = "Save as a file";
pub const NOTHING: &str = "Tick what is to go into the file.";

/// A procedure by its title.
pub fn procedure(title: &str, revision: u32) -> String {
    format!("{title}, revision {revision}")
}

/// How much is ticked.
pub fn ticked(count: usize) -> String {
    match count {
        1 => "1 thing is ticked.".to_owned(),
        n => format!("{n} things are ticked."),
    }
}

/// What all of a group is called, for who can't see where its button stands.
pub fn whole_group(which: &str, group: &str) -> String {
    format!("{which}: {group}")
}
