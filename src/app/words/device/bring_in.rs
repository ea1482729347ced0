//! Bringing in a file.

use crate::exchange::Part;

pub const LEAD: &str = "A procedure, a job, several things or a backup saved from here, also what was saved when the app had stopped. You see what it will do before anything changes.";
pub const DIFFERENCES: &str = "What differs";
pub const ODD: &str = "What is odd in it";
pub const ADDED: &str = "What the file brings";
pub const HERE_AND_THERE: &str = "What is here → what the file has";
pub const FAULTY: &str = "Can’t be taken";

pub const CHANGED_MEANWHILE: &str = "What is here was changed since the file was looked into, so nothing was imported: choose the file once more";
pub const NOTHING_SHARED: &str =
    "What another app handed over holds no file: save it there as a file and open that here.";

pub const TICK_ALL: &str = "Tick all";
pub const TICK_NONE: &str = "Tick none";

/// What many things in a file come to.
pub struct Counts {
    /// How many there are.
    pub all: usize,
    /// How many are not here yet.
    pub new: usize,
    /// How many can be taken, the new ones among them.
    pub offered: usize,
    /// How many have to be asked for one by one.
    pub asked: usize,
    /// How many change nothing.
    pub needless: usize,
    /// How many can't be taken.
    pub refused: usize,
}

/// The same in a sentence.
pub fn counted(counts: Counts) -> String {
    let others = counts.offered - counts.new;
    let parts = [
        (counts.new, "new here", "new here"),
        (
            others,
            "differs from what is here",
            "differ from what is here",
        ),
        (
            counts.asked,
            "is taken only if you tick it",
            "are taken only if you tick them one by one",
        ),
        (counts.needless, "changes nothing", "change nothing"),
        (counts.refused, "can’t be taken", "can’t be taken"),
    ];
    let parts = parts.iter().filter(|(count, ..)| *count > 0);
    let say = |(count, one, more): &(usize, &str, &str)| match count {
        1 => format!("1 {one}"),
        n => format!("{n} {more}"),
    };
    let parts: Vec<String> = parts.map(say).collect();
    format!("{} items: {}.", counts.all, parts.join(", "))
}

/// A thing in a file that has a fault.
pub fn faulty(part: Part, name: Option<&str>) -> String {
    let (kind, number) = match part {
        Part::Preferences => ("Settings", None),
        Part::Instrument(n) => ("Instrument", Some(n)),
        Part::Channels(n) => ("Channel table", Some(n)),
        Part::Procedure(n) => ("Procedure", Some(n)),
        Part::Job(n) => ("Job", Some(n)),
        Part::Picture(n) => ("Picture", Some(n)),
        Part::Kept => ("Entry", None),
    };
    match (name, number) {
        (Some(name), _) => format!("{kind}: {name}"),
        (None, Some(number)) => format!("{kind} number {number} in the file"),
        (None, None) => kind.to_owned(),
    }
}

/// Taking things in came to one that could not be stored.
pub fn taken_until_refused(done: usize, all: usize, why: impl std::fmt::Display) -> String {
    format!("{done} of {all} items imported, each of them whole; the next one was not. {why}")
}

/// How many lines are not shown.
pub fn and_more(count: usize) -> String {
    format!("and {count} more")
}

/// Stops of a job in a file that somebody confirmed.
pub fn stops_brought(stops: &[usize]) -> String {
    let numbers: Vec<String> = stops.iter().map(usize::to_string).collect();
    let (which, them) = match stops.len() {
        1 => ("Hold point", "it is"),
        _ => ("Hold points", "they are"),
    };
    format!(
        "{which} {} in it: confirmed where the file comes from. At another bench pause the job, so that {them} asked for again.",
        numbers.join(", ")
    )
}
