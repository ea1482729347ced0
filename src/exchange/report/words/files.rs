//! The check of a sheet, and the table of readings for spreadsheets.

use crate::exchange::report::fingerprint::Check;
use crate::quantity::ended;

/// The outcome in a sentence.
pub fn check(check: &Check) -> String {
    match check {
        Check::Matches { job } => {
            format!("They match: the report was made from this file. {job}.")
        }
        Check::MatchesUpTo { job, entry, since } => {
            let added = match since {
                1 => "1 entry was added since".to_owned(),
                n => format!("{n} entries were added since"),
            };
            format!("They match up to entry {entry} of the job: {added}. {job}.")
        }
        Check::Differs { job, has } => format!(
            "They don’t match: the report was made from another file, or from another copy of the job. The file is {job}; its fingerprint is {has}."
        ),
        Check::NoFingerprint => "This is no fingerprint: type the 64 letters and digits from the foot of the report, or what the label’s code holds.".to_owned(),
        Check::NoJob => "The file is sound, but it is no job: choose the job’s own file.".to_owned(),
        Check::Unreadable(error) => ended(error),
    }
}

// The table of readings for spreadsheets

/// Headings of the table of parts.
pub const CSV_PARTS: [&str; 6] = ["part", "number", "count", "state", "job", "set"];

/// The columns, in order.
pub const CSV: [&str; 53] = [
    "job",
    "make",
    "model",
    "serial number",
    "when",
    "section",
    "step",
    "step name",
    "title",
    "kind",
    "repeat",
    "counts",
    "value",
    "unit",
    "tool",
    "test point",
    "instrument",
    "corrected value",
    "corrected unit",
    "correction",
    "lower limit",
    "upper limit",
    "limit unit",
    "place",
    "margin",
    "margin unit",
    "pin and state",
    "reason",
    "mode",
    "channel",
    "state",
    "supply",
    "controls",
    "table",
    "row",
    "column",
    "pass",
    "load",
    "generator frequency",
    "generator level",
    "modulation",
    "depth or deviation",
    "modulation tone",
    "analyser centre",
    "analyser span",
    "analyser bandwidth",
    "path",
    "impedance",
    "expanded uncertainty",
    "uncertainty unit",
    "coverage factor",
    "decision rule",
    "statement",
];

/// A reading taken again without turning anything.
pub const REPEAT: &str = "yes";
/// What a row is: another route.
pub const CROSS: &str = "other route";
/// What a row is: a pin.
pub const PIN_READING: &str = "pin";
/// Whether a row counts.
pub const COUNTS: &str = "yes";
/// Struck out as a slip.
pub const STRUCK: &str = "void";
/// Taken back by an undo.
pub const TAKEN_BACK: &str = "taken back";
/// The tool was in.
pub const TOOL_IN: &str = "in";
/// The tool was away.
pub const TOOL_OUT: &str = "away";
