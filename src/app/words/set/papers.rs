//! The papers of a set: circuit diagrams, layouts, service sheets.

/// The screen, and the way to it.
pub const TITLE: &str = "Papers of the set";
/// What they are for.
pub const LEAD: &str = "Circuit diagrams, layouts and service sheets, as PDF or pictures. They stay on this device and travel with the job’s file. Pin what steps refer to, and each step leads to the very place.";
/// The same in a procedure that is written.
pub const LEAD_WRITING: &str = "Circuit diagrams, layouts and service sheets, as PDF or pictures. They travel with the procedure’s file. Pin what steps refer to, and each step leads to the very place.";
/// Nothing yet.
pub const NONE: &str = "There are no papers yet.";
/// The part that adds one.
pub const ADD: &str = "Add a paper";
/// Opens a file.
pub const LOAD: &str = "Choose a PDF or picture";
/// While it is looked at and kept.
pub const WORKING: &str = "Reading the paper …";
/// The field for what it is called.
pub const NAME: &str = "Name of the paper";
/// Opens the paper.
pub const OPEN: &str = "Open";
/// Takes a paper out, asked about once more.
pub const REMOVE: &str = "Remove…";
/// Does it.
pub const REMOVE_NOW: &str = "Remove the paper and its pins";
/// Does it not.
pub const LEAVE: &str = "Leave it";
/// A paper was kept.
pub const KEPT: &str = "Paper saved.";
/// A paper was taken out.
pub const REMOVED: &str = "The paper is no longer in this job. Its entry stays in the log.";
/// The heading of papers of earlier visits.
pub const FROM_BEFORE: &str = "From earlier visits of this set";
/// Takes a paper of an earlier visit into this job.
pub const TAKE_OVER: &str = "Use it in this job";
/// The way back to the list.
pub const ALL_PAPERS: &str = "All papers";
/// The job has no such paper.
pub const NOT_HERE: &str = "This paper is not in this job: look among the papers of the set.";

// The viewer

/// While a paper is fetched and drawn.
pub const COMING: &str = "The paper is being opened …";
/// The bytes are not here.
pub const MISSING: &str = "This paper is not on this device: bring in the file that it came with";
/// The whole page.
pub const WHOLE: &str = "Whole page";
/// To what the step is about.
pub const TO_THE_PLACE: &str = "To the place";
/// A page back.
pub const BEFORE: &str = "Page before";
/// A page on.
pub const NEXT: &str = "Next page";
/// The field for the number of a page.
pub const PAGE: &str = "Page";
/// Shows what pins can be put.
pub const PIN: &str = "Pin something";
/// There is nothing that could be pinned.
pub const NOTHING_TO_PIN: &str = "There are no test points, adjusters or sockets yet: they come with a procedure or a step of your own.";
/// Sockets among what can be pinned.
pub const SOCKETS: &str = "Sockets";
/// Keeps the paper beside the steps.
pub const BESIDE: &str = "Keep it beside the steps";

// Why a PDF is not shown

/// The reader could not be had.
pub const NO_READER: &str = "The reader of PDFs is not on this device yet: connect once, wait until the app works offline, and open it again";
/// It has a password.
pub const LOCKED: &str =
    "This PDF is locked with a password: save a copy without one, and load that";
/// It has too many pages.
pub const TOO_MANY_PAGES: &str =
    "This PDF has more than 1000 pages: split it, and load the part that you need";
/// It takes too long.
pub const TOO_SLOW: &str = "This PDF took longer than 30 seconds and was given up: save a smaller copy, or load a picture of the page";
/// A page has more lines than can be drawn.
pub const TOO_HEAVY: &str =
    "This page has more lines than can be drawn here: load a picture of it instead";
/// It can't be read.
pub const BROKEN: &str = "This PDF can’t be read: fetch it again, or load a picture of the page";
/// The file is neither.
pub const NEITHER: &str =
    "This browser sees neither a PDF nor a picture in the file: choose a PDF, JPEG, PNG or WebP";

/// What a new paper is called where its file has no name of use, after so many others.
pub fn title(others: usize) -> String {
    format!("Paper {}", others + 1)
}

/// How many there are, on the way to them.
pub fn count(papers: usize) -> String {
    match papers {
        0 => TITLE.to_owned(),
        n => format!("{TITLE} ({n})"),
    }
}

/// How many things are pinned in it.
pub fn pins(count: usize) -> String {
    match count {
        0 => "Nothing pinned".to_owned(),
        1 => "1 pin".to_owned(),
        n => format!("{n} pins"),
    }
}

/// Which page is shown, of how many.
pub fn of(pages: u16) -> String {
    format!("of {pages}")
}

/// The page shown, as it is announced.
pub fn page_of(page: u16, pages: u16) -> String {
    format!("Page {page} of {pages}")
}

/// There is no such page.
pub fn no_page(pages: u16) -> String {
    format!("Type a page from 1 to {pages}")
}

/// Opens a paper.
pub fn open(title: &str) -> String {
    format!("{OPEN} {title}")
}

/// A file that is not kept as a paper.
pub fn not_kept(why: &str) -> String {
    format!("This PDF was not kept: {why}")
}

/// Names one after the other.
pub fn both(names: &[&str]) -> String {
    match names {
        [rest @ .., last] if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        _ => names.join(", "),
    }
}

/// The key that leads from a step to the place of what it is about.
pub fn see(names: &str, title: &str) -> String {
    format!("See {names} in {title}")
}

/// The key that leads back to the step.
pub fn back_to_step(number: usize) -> String {
    format!("Back to step {number}")
}

/// Something is pinned on another page.
pub fn on_page(name: &str, page: u16) -> String {
    format!("{name} is on page {page}")
}

/// Behind a name that is pinned.
pub fn pinned_on(page: u16) -> String {
    format!(" · page {page}")
}

/// The change of a draft, where undoing it is offered.
pub const DRAFT_ADDED: &str = "a paper";
/// The change of a draft, where undoing it is offered.
pub const DRAFT_REMOVED: &str = "taking a paper out";
