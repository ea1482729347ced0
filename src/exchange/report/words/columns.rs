//! The columns of the tables, and with what was measured.

use crate::exchange::report::text::balanced;
use crate::exchange::report::text::typed;

/// Headings of columns.
pub const STEP: &str = "Step";
/// See [`STEP`].
pub const READING: &str = "Reading";
/// See [`STEP`].
pub const TARGET: &str = "Target";
/// See [`STEP`].
pub const FOUND: &str = "As found";
/// See [`STEP`].
pub const LEFT: &str = "As left";
/// See [`STEP`].
pub const MARGIN: &str = "Margin";
/// See [`STEP`].
pub const UNCERTAINTY: &str = "U, 95\u{a0}%";
/// See [`STEP`].
pub const VERDICT: &str = "Verdict";
/// See [`STEP`].
pub const WHAT: &str = "What";
/// See [`STEP`].
pub const RESULT: &str = "Result";
/// See [`STEP`].
pub const WHEN: &str = "When";
/// The same above moments of one day.
pub fn when_on(day: &str) -> String {
    format!("{WHEN}, {day}")
}
/// See [`STEP`].
pub const WHY: &str = "Why";
/// See [`STEP`].
pub const PIN: &str = "Pin";
/// See [`STEP`].
pub const STATE: &str = "State";
/// See [`STEP`].
pub const OUT: &str = "Out";
/// See [`STEP`].
pub const IN: &str = "In";
/// See [`STEP`].
pub const PRICE: &str = "Price";
/// See [`STEP`].
pub const ROLE: &str = "Function";
/// See [`STEP`].
pub const INSTRUMENT: &str = "Instrument";
/// An instrument that was named for a role in which nothing was read.
pub const NOTHING_READ: &str = "no reading";
/// Of what was read it was said afterwards that it had been read with another instrument.
pub fn restated(role: &str, was: Option<&str>, is: Option<&str>) -> String {
    match (was, is) {
        (Some(was), Some(is)) if was == is => {
            format!(
                "After readings with it, other figures were stated for the {role}, {}",
                typed(is)
            )
        }
        (Some(was), Some(is)) => format!(
            "The {role} was first said to be {}; after readings it was said to have been {}",
            typed(was),
            typed(is)
        ),
        (None, Some(is)) => format!("The {role} was named after readings with it: {}", typed(is)),
        (Some(was), None) => format!(
            "The {role} was first said to be {}; after readings with it nobody is named",
            typed(was)
        ),
        (None, None) => String::new(),
    }
}
/// An earlier end of the job.
pub fn ended_before(by: &str, remarks: &str) -> String {
    match remarks.trim() {
        "" => format!("Signed off by {}", typed(by)),
        remarks => format!("Signed off by {}: {}", typed(by), balanced(remarks)),
    }
}
/// The job was taken up again.
pub fn reopened(reason: &str) -> String {
    format!("Reopened: {}", balanced(reason))
}
/// A role that was played before anybody named the instrument.
pub const NOT_NAMED: &str = "not named";
/// The instrument that a result was read with, where its role was played by several.
pub fn read_with(name: &str) -> String {
    format!("read with {name}")
}
/// The same where nobody named it.
pub const READ_WITH_NONE: &str = "instrument not named";
/// In which steps an instrument was read.
pub fn in_steps(numbers: &[usize]) -> String {
    match numbers {
        [one] => format!("step\u{a0}{one}"),
        all => format!("steps {}", self::numbers(all)),
    }
}
/// Numbers in a row, three or more that follow each other by the first and the last of them.
pub fn numbers(all: &[usize]) -> String {
    let runs = all.chunk_by(|one, next| one + 1 == *next);
    let said = runs.flat_map(|run| match run {
        [first, .., last] if run.len() > 2 => vec![format!("{first}\u{2060}–\u{2060}{last}")],
        few => few.iter().map(usize::to_string).collect(),
    });
    said.collect::<Vec<_>>().join(", ")
}
/// See [`STEP`].
pub const CALIBRATED: &str = "Calibrated";
/// See [`STEP`].
pub const DUE: &str = "Due";
/// See [`STEP`].
pub const SOURCE: &str = "Source";
/// See [`STEP`].
pub const LIMIT: &str = "Limit";
/// See [`STEP`].
pub const KNOWN: &str = "Known by";
/// See [`STEP`].
pub const CHANNEL: &str = "Channel";
/// See [`STEP`].
pub const MODE: &str = "Mode";
/// See [`STEP`].
pub const PREDICTED: &str = "Predicted error";
/// See [`STEP`].
pub const MEASURED: &str = "Measured error";
/// See [`STEP`].
pub const VISIT: &str = "Visit";
/// See [`STEP`].
pub const SECTION: &str = "Section";
/// See [`STEP`].
pub const MINUTES: &str = "Minutes";
/// See [`STEP`].
pub const COURSE: &str = "Course";
/// See [`STEP`].
pub const TOTAL: &str = "Total";
/// All minutes together.
pub const ALL_TIME: &str = "All time";
/// A total that leaves out what has no price.
pub const TOTAL_PRICED: &str = "Total of what has a price";
/// All parts together.
pub const ALL_PARTS: &str = "All parts";
/// What the owner agreed to pay.
pub const AGREED_PRICE: &str = "Price agreed with the owner";
