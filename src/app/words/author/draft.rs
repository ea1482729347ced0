//! A draft as a whole, and undoing its changes.

use crate::app::words::author::step::KIND;

pub const ALL_PROCEDURES: &str = "All procedures";
pub const NOT_HERE: &str = "Not on this device";
pub const NOT_HERE_WHY: &str = "What this address leads to is not here. It may have been published or discarded in another tab.";
pub const TO_PROCEDURES: &str = "To the procedures";
pub const DRAFTS: &str = "Drafts";
pub const TO_PUBLISH: &str = "Publish …";
pub const TO_LISTS: &str = "Adjusters, test points, instruments";
pub const TO_PLAN: &str = "Frequency plan";
pub const TO_TABLE: &str = "Steps from a table";
pub const TITLE: &str = "Title of the procedure";
pub const COVERS: &str = "Covers";
pub const COVERS_HINT: &str = "which sets it is for";
pub const WHOLE_CAUTIONS: &str = "Cautions before the set is opened";
pub const ONE_A_LINE: &str = "one a line";
pub const ADD_SECTION: &str = "Add a section";
pub const ADD_STEP: &str = "Add a step";
pub const REMOVE: &str = "Remove";
pub const THROW_AWAY: &str = "Discard draft";
pub const THROW_AWAY_HINT: &str = "All its text is lost. Published revisions stay.";
pub const NOT_NOW: &str = "Cancel";

/// The draft's title, or that it has none.
pub fn draft_title(title: &str) -> String {
    match title.trim() {
        "" => "A procedure without a title".to_owned(),
        title => title.to_owned(),
    }
}

/// What a draft goes on from, and how far it is.
pub fn draft_about(from: u32, steps: usize) -> String {
    match from {
        0 => format!("Draft of a new procedure, {}", steps_counted(steps)),
        from => format!(
            "Draft of revision {}, {}",
            from.saturating_add(1),
            steps_counted(steps)
        ),
    }
}

/// How sound a draft is and when it was saved.
pub fn draft_state(faults: usize, when: &str) -> String {
    match faults {
        0 => format!("No errors. Saved {when}"),
        1 => format!("1 error. Saved {when}"),
        faults => format!("{faults} errors. Saved {when}"),
    }
}

/// A revision and its length.
pub fn about(revision: u32, steps: usize) -> String {
    format!("Revision {revision}, {}", steps_counted(steps))
}

pub(super) fn steps_counted(steps: usize) -> String {
    match steps {
        1 => "1 step".to_owned(),
        steps => format!("{steps} steps"),
    }
}

// Changes, and undoing them.

pub const BAR: &str = "What can be done here";
pub const UNDO: &str = "Undo";
pub const TYPING: &str = "typing";
pub const STEP_ADDED: &str = "a new step";
pub const STEP_MOVED: &str = "a step moved";
pub const STEP_DOUBLED: &str = "a step duplicated";
pub const SECTION_ADDED: &str = "a new section";
pub const SECTION_MOVED: &str = "a section moved";
pub const SECTION_REMOVED: &str = "a section removed";
pub const SECTION_SPLIT: &str = "a section split";
pub const GONE_ELSEWHERE: &str = "This draft was published or discarded in another tab, so what is typed here is not kept: copy what you need, then go to the procedures";
pub const OVERWRITTEN: &str = "Another tab changed this draft at the same moment, and the last change made here gave way: look it over and make it again";
pub const NOT_UNDONE: &str = "Another tab changed this draft meanwhile, so nothing was taken back";

/// What was taken back.
pub fn undone(what: &str) -> String {
    format!("Undone: {what}.")
}

/// A step is removed.
pub fn step_removed(number: usize) -> String {
    format!("step {number} removed")
}

/// A step is removed, and can come back.
pub fn can_be_undone(number: usize) -> String {
    format!("Step {number} is removed. Undo brings it back.")
}

/// Something chosen.
pub fn picked(what: &str, name: &str) -> String {
    format!("{what}: {name}")
}

/// A kind chosen.
pub fn kind_set(name: &str) -> String {
    picked(KIND, name)
}

/// Something put on a list.
pub fn added(name: &str) -> String {
    format!("“{name}” added")
}

/// Something given another name.
pub fn renamed(from: &str, to: &str) -> String {
    format!("“{from}” renamed to “{to}”")
}

/// Something taken off a list.
pub fn off_list(name: &str) -> String {
    format!("“{name}” taken off the list")
}
