//! Every word of the sheet, the label and the check, in one place. Another language is another
//! copy of this file.

use super::fingerprint::Check;
use super::text::{balanced, typed};
use crate::job::guidance::advice::Opinion;
use crate::job::{
    Change, CureShown, FaultRecord, Finding, LeftOut, Moment, OffState, Outcome, PartState, Passes,
    Phase, Reply, Showed, Shows, SocketFault, Status,
};
use crate::metrology::Place;
use crate::metrology::inference::agreement::Agreement;
use crate::metrology::inference::drift::Steadiness;
use crate::procedure::{Basis, Control, Holds, Id, JoinFault, Sense};
use crate::quantity::{DecimalSign, ended};
use crate::radio::limits::Known;

/// The language of these words, for screen readers and hyphenation (BCP 47).
pub const LANGUAGE: &str = "en";

// The sheet as a whole

/// What the sheet is.
pub const REPORT: &str = "Bench report";
/// A set of which nothing is known.
pub const NAMELESS: &str = "A set without a name";
/// What stands where nothing is known.
pub const NONE: &str = "–";

/// Number and set in a line.
pub fn job_and_set(number: &str, set: &str) -> String {
    let set = if set.is_empty() { NAMELESS } else { set };
    match number.trim() {
        "" => typed(set),
        number => format!("Job {}, {}", typed(number), typed(set)),
    }
}

/// A job that is not signed off is no result.
pub fn draft(owed: usize) -> String {
    match owed {
        0 => "Draft: nothing is outstanding, but the job is not signed off.".to_owned(),
        1 => "Draft: one step is outstanding and the job is not signed off.".to_owned(),
        n => format!("Draft: {n} steps are outstanding and the job is not signed off."),
    }
}

/// A job that was signed off, although copies of it that were merged later hold entries that the
/// sign-off did not know of.
pub fn signed_but_open(owed: usize, off: usize) -> String {
    let steps = match owed {
        0 => None,
        1 => Some("one step is outstanding".to_owned()),
        n => Some(format!("{n} steps are outstanding")),
    };
    let things = match off {
        0 => None,
        1 => Some("one thing is still off".to_owned()),
        n => Some(format!("{n} things are still off")),
    };
    let open: Vec<String> = steps.into_iter().chain(things).collect();
    format!(
        "Signed off, but {}: a copy of this job that was merged holds entries that the sign-off did not know of, an entry of it is damaged, or more is asked of a step now than when it was signed off. Reopen the job, do what is outstanding and sign off again.",
        open.join(" and ")
    )
}

/// Entries that are not what their checks say, of which some may be set aside. What else stands
/// there may follow from their being missed.
pub fn damaged(count: usize, set_aside: usize) -> String {
    let aside = match set_aside {
        0 => String::new(),
        n => format!(", {n} of them set aside"),
    };
    match count {
        1 => "1 entry of this job is damaged: it is not what its check says, or has none, and counts for nothing. What stands here was worked out without it. A file that has it sound puts it right: bring that in.".to_owned(),
        n => format!("{n} entries of this job are damaged{aside}: they are not what their checks say, or have none, and count for nothing. What stands here was worked out without them. A file that has them sound puts them right: bring that in."),
    }
}

/// The same of a job in a file.
pub fn damaged_in_file(count: usize) -> String {
    match count {
        1 => "1 entry in the file is damaged: it is not what its check says, or has none, and counts for nothing".to_owned(),
        n => format!("{n} entries in the file are damaged: they are not what their checks say, or have none, and count for nothing"),
    }
}

/// Entries of a file as it was before there were checks.
pub fn bare_in_file(count: usize) -> String {
    match count {
        1 => "1 entry in the file carries no check, as before there were checks: nothing tells whether it is what was entered".to_owned(),
        n => format!("{n} entries in the file carry no check, as before there were checks: nothing tells whether they are what was entered"),
    }
}

/// Numbers that no entry of a log has.
pub fn missing(count: u64) -> String {
    match count {
        1 => "The entries are numbered, and 1 number is missing: an entry was lost or taken out, or was damaged once".to_owned(),
        n => format!("The entries are numbered, and {n} numbers are missing: entries were lost or taken out, or were damaged once"),
    }
}

/// What an entry says that has lost its check.
pub fn without_check(said: &str) -> String {
    format!("{said}, without its check")
}

/// Where an entry belongs that does not read as one.
pub const NO_PLACE: &str = "Where it belongs can’t be read";

/// What is left of an entry that does not read as one.
pub fn unread(text: &str) -> String {
    match text.is_empty() {
        true => "nothing: the log stops there".to_owned(),
        false => format!("“{text}”"),
    }
}

/// The list of damaged entries.
pub const DAMAGED: &str = "Damaged entries";
/// Who set such an entry aside, when, and why.
pub const SET_ASIDE: &str = "Set aside";

/// By whom and why.
pub fn set_aside(by: &str, reason: &str, when: &str) -> String {
    format!("{reason} ({by}, {when})")
}

/// What such an entry says, which need not be what was entered.
pub const READS_NOW: &str = "Reads now";

/// The word in front of a page number.
pub const PAGE: &str = "Page";

// The head

/// Labels of the facts in the head.
pub const NUMBER: &str = "Job";
/// See [`NUMBER`].
pub const MAKE: &str = "Make";
/// See [`NUMBER`].
pub const MODEL: &str = "Model";
/// See [`NUMBER`].
pub const SERIAL: &str = "Serial number";
/// See [`NUMBER`].
pub const OWNER: &str = "Owner";
/// See [`NUMBER`].
pub const FAULT: &str = "Fault reported";
/// See [`NUMBER`].
pub const CONDITION: &str = "Condition";
/// See [`NUMBER`].
pub const ACCESSORIES: &str = "Accessories";
/// See [`NUMBER`].
pub const TECHNICIAN: &str = "Technician";
/// See [`NUMBER`].
pub const PROCEDURE: &str = "Procedure";
/// See [`NUMBER`].
pub const WORKED: &str = "Worked on";
/// See [`NUMBER`].
pub const SIGNED: &str = "Signed off";
/// See [`NUMBER`].
pub const REMARKS: &str = "Remarks";
/// See [`NUMBER`].
pub const NEXT_CHECK: &str = "Next check due";

/// A procedure with its revision.
pub fn procedure(title: &str, revision: u32) -> String {
    format!("{}, revision {revision}", typed(title))
}

/// The same, where it was taken on in the course of the work.
pub fn taken_on(procedure: &str, when: &str) -> String {
    format!("{procedure}, taken on {when}")
}

/// In place of a procedure, where the job is worked by none.
pub const NO_PROCEDURE: &str = "none";

/// Parts that are wanted.
pub const PARTS_WANTED: &str = "Parts still to come";
/// A column of it.
pub const PART_NUMBER: &str = "Number";
/// A column of it.
pub const COUNT: &str = "Count";
/// What the owner was asked.
pub const OWNER_ASKED: &str = "Asked of the owner";
/// A column of it.
pub const QUESTION: &str = "Question";
/// A column of it.
pub const ANSWER: &str = "Answer";
/// In place of an answer.
pub const NOT_ANSWERED: &str = "not answered";
/// Who took the set home.
pub const COLLECTED: &str = "Collected by";

/// That a procedure which another copy of the job took on is not worked by here.
pub fn left_out(it: &LeftOut) -> String {
    let LeftOut { name, why, .. } = it;
    let why = match why {
        JoinFault::Empty => "it has no steps",
        JoinFault::Twice => "the job has it in another revision",
        JoinFault::OtherPlan => "its frequency plan is another one",
        JoinFault::OtherChannels => "its channels are others",
        JoinFault::TooMany => "the job would have too many steps",
    };
    format!(
        "Left out, though a copy of the job took it on: {}, for {why}. What was entered in its steps stands in the log alone.",
        procedure(&name.title, name.revision)
    )
}

/// Who took the set home before the job was taken up again.
pub fn collected_before(by: &str) -> String {
    format!("Collected by {}", sentence(by))
}

/// How far a part is.
pub const fn part_state(state: PartState) -> &'static str {
    match state {
        PartState::Needed => "to be ordered",
        PartState::Ordered => "ordered",
        PartState::Here => "here",
        PartState::Dropped => "not wanted any more",
    }
}

/// The faults of a set.
pub const FAULTS: &str = "Faults";
/// Columns of the faults.
pub const SYMPTOM: &str = "Symptom";
/// What showed it.
pub const SHOWN_BY: &str = "Measured";
/// The cause.
pub const CAUSE: &str = "Cause";
/// The cure.
pub const CURE: &str = "Cure";
/// What proves it.
pub const PROOF: &str = "Proof";
/// A fault that nobody reported.
pub const NOT_REPORTED: &str = "Not reported";
/// A fault that was reported, before what was said.
pub const AS_REPORTED: &str = "As reported";
/// That nothing answers the fault that was reported.
pub const NO_ANSWER: &str = "The record does not say whether the reported fault was found.";

/// That records contradict each other, and nothing tells which of them holds.
pub const ANSWERS_DIFFER: &str = "Two records of the reported fault contradict each other.";

/// How far a fault was followed.
pub const fn outcome(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Open => "still looked for",
        Outcome::NotSeen => "did not show on the bench",
        Outcome::NotFound => "cause not found",
        Outcome::Found => "found, not cured",
        Outcome::Cured => "cured, as the technician says",
    }
}

/// An entry on a fault.
pub fn fault_noted(of: Outcome) -> String {
    format!("a fault: {}", outcome(of))
}

/// The looks along a path.
pub const LOOKED_ALONG: &str = "Where the fault was looked for";
/// A stage of a path.
pub const STAGE: &str = "Stage";
/// What was looked at.
pub const LOOKED_AT: &str = "Looked at";
/// What was expected there.
pub const EXPECTED: &str = "Expected";
/// What it showed.
pub const SHOWED: &str = "It was";

/// A reading that is older than what was done about it.
pub const NOT_READ_SINCE: &str = "Not read since a part was changed or a cure recorded";

/// The figure, with the step in which it was read.
pub fn read_in(value: &str, step: usize) -> String {
    format!("{value}, read in step {step}")
}

/// What a look along a path showed.
pub const fn showed(showed: Showed) -> &'static str {
    match showed {
        Showed::Expected => "as expected",
        Showed::Otherwise => "not as expected",
    }
}

/// What is said of a fault that was reported.
pub fn as_reported(fault: &str) -> String {
    format!("Reported: {fault}")
}

/// A reading that a record names, with where it should lie.
pub fn reading_and_due(step: &str, value: Option<&str>, due: Option<&str>) -> String {
    let value = value.unwrap_or("not read");
    match due {
        Some(due) => format!("{step}: {value} (limit {due})"),
        None => format!("{step}: {value}"),
    }
}

/// The answer to the fault that was reported, of the record that answers it.
pub fn fault_answer(record: &FaultRecord, shown: &CureShown) -> String {
    match record.outcome {
        Outcome::Open => "The reported fault is still looked for.".to_owned(),
        Outcome::NotSeen => "The reported fault did not show on the bench.".to_owned(),
        Outcome::NotFound => "The cause of the reported fault was not found.".to_owned(),
        Outcome::Found => format!(
            "The reported fault was found and is not cured: {}",
            sentence(&record.cause)
        ),
        Outcome::Cured => {
            let cause = match record.cause.trim().is_empty() {
                true => String::new(),
                false => format!(" Cause: {}", sentence(&record.cause)),
            };
            format!(
                "The reported fault is cured, as the technician says.{cause} Cure: {} {}",
                sentence(&record.cure),
                cure_shown(shown)
            )
        }
    }
}

/// What the readings say of a cure.
pub fn cure_shown(shown: &CureShown) -> String {
    match shown {
        CureShown::NoStep => "No reading is named that proves the cure.".to_owned(),
        CureShown::Inside => "The readings named for the cure are inside their limits.".to_owned(),
        CureShown::Not(steps) => {
            let steps: Vec<String> = steps.iter().map(usize::to_string).collect();
            format!(
                "Not shown by all readings named for the cure: see {} {}.",
                if steps.len() == 1 { "step" } else { "steps" },
                steps.join(", ")
            )
        }
    }
}

/// The section of the steps that no procedure has.
pub const ADDED_STEPS: &str = "Added at the bench";

/// A section of one of several procedures.
pub fn section_of(procedure: &str, section: &str) -> String {
    match section.is_empty() {
        true => procedure.to_owned(),
        false => format!("{procedure}: {section}"),
    }
}

/// From one moment to another.
pub fn span(from: &str, to: &str) -> String {
    format!("{from} to {to}")
}

/// Who signed off, and when.
pub fn signed(by: &str, when: &str) -> String {
    format!("{}, {when}", typed(by))
}

// Titles of the sections

/// See its text.
pub const SUMMARY: &str = "Summary";
/// See its text.
pub const READINGS: &str = "Readings";
/// See its text.
pub const OVERVIEW: &str = "As found and as left, overview";
/// See its text.
pub const PLAN: &str = "Carrier frequency";
/// See its text.
pub const DRIFT: &str = "Drift";
/// See its text.
pub const INSPECTED: &str = "Inspections and checks";
/// See its text.
pub const SOCKETS: &str = "Sockets";
/// See its text.
pub const CHANGES: &str = "Parts and changes";
/// See its text.
pub const PAPERS: &str = "Papers of the set";
/// See its text.
pub const PAPER: &str = "Paper";
/// See its text.
pub const PAPER_DIGEST: &str = "SHA-256 begins";
/// See its text.
pub const PHOTOS: &str = "Photos";
/// See its text.
pub const OFF: &str = "Reassembly";
/// See its text.
pub const BREAKS: &str = "Pauses";
/// See its text.
pub const WAIVED: &str = "Waived";
/// See its text.
pub const NOTES: &str = "Notes";
/// See its text.
pub const INSTRUMENTS: &str = "Test equipment";
/// See its text.
pub const LIMITS: &str = "Limits applied";
/// See its text.
pub const BASES: &str = "Basis of the other limits";
/// See [`STEP`].
pub const BASIS: &str = "Basis of the limit";
/// Where a limit does not say what it rests on.
pub const NOT_STATED: &str = "not stated";
/// See its text.
pub const HISTORY: &str = "Service history";
/// See its text.
pub const COST: &str = "Time and parts";
/// See its text.
pub const FINGERPRINT: &str = "Verification";

// Photos

/// Stands in the place of a photo whose bytes are not on the device.
pub const NO_PHOTO: &str =
    "This photo is not on the device that made the report. The job’s file may hold it.";

/// The heading over the photos of a state.
pub const fn photo_heading(when: Moment) -> &'static str {
    match when {
        Moment::Found => "As found",
        Moment::Left => "As left",
    }
}

/// What a photo is, for who does not see it.
pub fn photo(when: Moment, step: Option<&str>, note: &str) -> String {
    let place = step.map_or(String::new(), |step| format!(", {}", typed(step)));
    let note = match note.trim() {
        "" => String::new(),
        note => format!(": {}", typed(note)),
    };
    format!("Photo of the set {}{place}{note}", when.name())
}

/// Where in the work a photo was taken, and when.
pub fn photo_place(step: Option<&str>, when: &str) -> String {
    match step {
        Some(step) => format!("{}, {when}", typed(step)),
        None => when.to_owned(),
    }
}

/// A step by its number and title.
pub fn step(number: usize, title: &str) -> String {
    format!("Step {number}, {title}")
}

// The result

/// How many readings are within their limits, of those that were judged as left.
pub fn result_of_readings(inside: usize, all: usize, not_shown: usize) -> String {
    let within = match (inside == all, all) {
        (true, 1) => "The one as-left reading is within limits".to_owned(),
        (true, _) => format!("All {all} as-left readings are within limits"),
        (false, _) => format!("{inside} of {all} as-left readings are within limits"),
    };
    match not_shown {
        0 => format!("{within}."),
        n => format!("{within}; conformity not shown for {n}."),
    }
}

/// How many parts went in.
pub fn result_of_parts(count: usize) -> String {
    match count {
        1 => "1 part or change.".to_owned(),
        n => format!("{n} parts or changes."),
    }
}

/// How many parts are not back.
pub fn result_of_off(count: usize) -> String {
    match count {
        1 => "1 part is not refitted.".to_owned(),
        n => format!("{n} parts are not refitted."),
    }
}

/// What was read with after its calibration had run out.
pub fn result_of_overdue(names: &[String]) -> String {
    ended(format!("Calibration overdue when used: {}", listed(names)))
}

/// Where a hand signs.
pub const SIGNATURE: &str = "Signature";
/// The day of it.
pub const DATE: &str = "Date";
/// What does not stand in the head: the rest of what is known of set and job.
pub const SET_AND_JOB: &str = "Set and job";

// The summary

/// The owner's words.
pub fn came_with(fault: &str) -> String {
    format!("The set came in with this fault: {}", sentence(fault))
}

/// What the eye found.
pub fn found_by_eye(things: &[String]) -> String {
    ended(format!("Visual inspection: {}", listed(things)))
}

/// An inspection that found something.
pub fn finding(title: &str, finding: Finding) -> String {
    format!("{} ({})", typed(title), finding.name())
}

/// What was outside when it came.
pub fn found_outside(outside: usize, of: usize, worst: &[String]) -> String {
    let worst = listed(worst);
    match (outside, of) {
        (0, 1) => "The one reading that was judged as found was inside its limits.".to_owned(),
        (0, _) => format!("All {of} readings that were judged as found were inside their limits."),
        (1, 1) => {
            format!("The one reading that was judged as found was outside its limits: {worst}.")
        }
        (1, _) => format!("One of {of} readings was outside its limits as found: {worst}."),
        (n, _) => format!("{n} of {of} readings were outside their limits as found: {worst}."),
    }
}

/// A reading with how far it was off.
pub fn off_by(title: &str, off: &str) -> String {
    format!("{} {off}", typed(title))
}

/// What was changed.
pub fn changed(things: &[String]) -> String {
    ended(format!("Changed: {}", listed(things)))
}

/// What went in for what.
pub fn swapped(out: &str, fitted: &str) -> String {
    match out.trim() {
        "" => typed(fitted),
        out => format!("{} for {}", typed(fitted), typed(out)),
    }
}

/// What was set.
pub fn set(count: usize, things: &[String]) -> String {
    match count {
        1 => ended(format!("One adjustment was made: {}", listed(things))),
        n => ended(format!("{n} adjustments were made: {}", listed(things))),
    }
}

/// A reading from found to left.
pub fn moved(title: &str, found: &str, left: &str) -> String {
    format!("{} from {found} to {left}", typed(title))
}

/// How it was left, where all is well.
pub fn left_inside(count: usize) -> String {
    match count {
        1 => "The one as-left reading is within limits.".to_owned(),
        n => format!("All {n} as-left readings are within limits."),
    }
}

/// What is left outside.
pub fn left_outside(title: &str, off: &str, why: Option<&str>) -> String {
    match why {
        Some(why) => format!(
            "Left outside: {} {off}, because: {}",
            typed(title),
            sentence(why)
        ),
        None => format!("Outside: {} {off}; no reason is given.", typed(title)),
    }
}

/// What could not be proved.
pub fn left_unproved(titles: &[String]) -> String {
    ended(format!(
        "Inside, conformity not shown under the rule of this job: {}",
        listed(titles)
    ))
}

/// What was waived.
pub fn waived(titles: &[String]) -> String {
    ended(format!("Waived, with a reason below: {}", listed(titles)))
}

/// What is not done.
pub fn owed(count: usize) -> String {
    match count {
        1 => "One step is outstanding.".to_owned(),
        n => format!("{n} steps are outstanding."),
    }
}

/// What stays off.
pub fn stays_off(things: &[String]) -> String {
    ended(format!("Stays off on purpose: {}", listed(things)))
}

/// What is still off.
pub fn still_off(things: &[String]) -> String {
    ended(format!("Not refitted: {}", listed(things)))
}

/// How many things a sentence names.
const NAMED: usize = 5;

/// Things in a row, the first few by name.
pub fn listed(things: &[String]) -> String {
    let named = &things[..things.len().min(NAMED)];
    match (things.len() - named.len(), named) {
        (0, [first @ .., last]) if !first.is_empty() => {
            format!("{} and {last}", first.join(", "))
        }
        (0, named) => named.join(", "),
        (1, named) => format!("{} and one more", named.join(", ")),
        (more, named) => format!("{} and {more} more", named.join(", ")),
    }
}

/// A typed text that ends as a sentence does.
fn sentence(text: &str) -> String {
    ended(typed(text.trim()))
}

// Tables

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
    let list: Vec<String> = numbers.iter().map(usize::to_string).collect();
    match list.as_slice() {
        [one] => format!("step\u{a0}{one}"),
        all => format!("steps {}", all.join(", ")),
    }
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

/// Above the readings: the rule that judged them.
pub fn rule(rule: &str) -> String {
    format!(
        "{rule} “Margin” is how far inside the nearest limit a reading lies, or how far beyond it; below it stands its deviation from the target. U is the expanded uncertainty at 95\u{a0}%."
    )
}

/// How the scales are to be read, for who does not see it.
pub const SCALE_KEY: &str = "On each scale: shaded, within limits; dark ends, guard band; ring, as found; pointer, as left.";

/// How the overview is to be read.
pub const OVERVIEW_KEY: &str =
    "Each reading as a share of its own tolerance; with one limit, as a share of that.";
/// What a mark is.
pub const KEY_FOUND: &str = "as found";
/// See [`KEY_FOUND`].
pub const KEY_LEFT: &str = "as left";
/// See [`KEY_FOUND`].
pub const KEY_BEYOND: &str = "further out";
/// See [`KEY_FOUND`].
pub const KEY_LIMITS: &str = "within limits";
/// See [`KEY_FOUND`].
pub const KEY_GUARD: &str = "guard band";

/// A verdict where there is no statement of a rule.
pub const FOR_THE_RECORD: &str = "record only";
/// Inside, and nothing is known of the uncertainty.
pub const INSIDE_NO_U: &str = "inside; uncertainty not known";
/// Outside, and nothing is known of the uncertainty.
pub const OUTSIDE: &str = "outside";
/// Not read as left.
pub const NOT_LEFT: &str = "not taken";
/// Not read.
pub const NOT_READ: &str = "not read";
/// The mark of a waived step.
pub const WAIVED_MARK: &str = "waived";

/// Repeated readings.
pub fn mean_of(each: &[String]) -> String {
    format!("mean of {}: {}", each.len(), each.join(", "))
}

/// Repeated readings of which one decides, and not their mean.
pub fn mean_is(mean: &str, each: &[String]) -> String {
    format!("mean {mean} of {}: {}", each.len(), each.join(", "))
}

/// Further readings of a phase, which the result is not made of.
pub fn also_read(phase: Phase, others: &[String]) -> String {
    let how = match phase {
        Phase::AsFound => "also read as found",
        Phase::Try => "repeated while adjusting",
        Phase::AsLeft => "also read as left",
    };
    format!("{how}: {}", others.join(", "))
}

/// What is said of one of several readings.
pub fn of_reading(reading: &str, said: &str) -> String {
    format!("{reading}: {said}")
}

/// Where and with what.
pub fn taken_at(number: usize, at: &str, with: &str) -> String {
    format!("{number} · {} · {}", typed(at), typed(with))
}

/// Where and with what all cells of a table are read, through what and into what.
pub fn taken_with(at: &str, with: &str, through: &str, into: Option<&str>) -> String {
    let through = match through.is_empty() {
        true => String::new(),
        false => format!(", through {through}"),
    };
    let into = into.map_or(String::new(), |into| format!(", into {into}"));
    format!("{} · {}{through}{into}", typed(at), typed(with))
}

/// What the set was set to while a reading was taken.
pub fn conditions(lines: &[(String, String)]) -> String {
    let said = lines
        .iter()
        .map(|(name, to)| format!("{} {}", typed(name), typed(to)));
    said.collect::<Vec<_>>().join(", ")
}

/// Controls and where they stand, in one cell of the table of readings.
pub fn controls(all: &[Control]) -> String {
    let said = all
        .iter()
        .map(|control| format!("{}: {}", control.name, control.to));
    said.collect::<Vec<_>>().join("; ")
}

/// What the set was set to for the cells of a table; where one of them differs, it says so itself.
pub fn common_conditions(lines: &[(String, String)], is_everywhere: bool) -> String {
    match (lines.is_empty(), is_everywhere) {
        (false, false) => format!("{}, where a cell says nothing else", conditions(lines)),
        _ => conditions(lines),
    }
}

/// The numbers of the steps of a table.
pub fn steps(first: usize, last: usize) -> String {
    match first == last {
        true => format!("step {first}"),
        false => format!("steps {first} to {last}"),
    }
}

/// A table's title with what holds for all of its readings.
pub fn table_of_readings(title: &str, said: &[String]) -> String {
    format!("{title}: {}", said.join("; "))
}

/// What a reading was found at, with what is said of that.
pub fn found_at(reading: &str, said: &str) -> String {
    match said.is_empty() {
        true => format!("found {reading}"),
        false => format!("found {reading}, {said}"),
    }
}

/// What a picture of a table shows.
pub fn plot_of(title: &str, unit: &str, over: &str) -> String {
    format!("{title} in {unit} over {}", over.to_lowercase())
}

/// A picture of a table, for who does not see it; the table says the figures.
pub fn curve(title: &str, read: usize, outside: usize) -> String {
    format!("{title}: {read} points, {outside} outside; the figures are in the table")
}

/// Another route to the same thing, and what it says of the reading.
pub fn other_route(value: &str, said: Option<&str>) -> String {
    match said {
        Some(said) => format!("cross-check {value}: {said}"),
        None => format!("cross-check {value}"),
    }
}

/// What a second route says of a reading.
pub const fn opinion(opinion: &Opinion) -> &'static str {
    match opinion {
        Opinion::Judged(_, Agreement::Agree) => "agrees within both uncertainties",
        Opinion::Judged(_, Agreement::Disagree) => "differs by more than both uncertainties",
        Opinion::Plausible(verdict) => match verdict.place {
            Place::Inside => "plausible",
            Place::Low | Place::High => "not plausible",
        },
        Opinion::SameInstrument => "read with the same instrument, not compared",
        Opinion::Unjudged => "not compared, an uncertainty is not known",
    }
}

/// A second route that speaks against a verdict.
pub fn second_route_says(said: &Opinion) -> String {
    format!("cross-check: {}", opinion(said))
}

/// A reading that its second route speaks against.
pub fn doubted(title: &str, said: &Opinion) -> String {
    format!("{} ({})", typed(title), opinion(said))
}

/// The readings that their second routes speak against.
pub fn second_route_against(doubted: &[String]) -> String {
    ended(format!(
        "The cross-check speaks against this: {}",
        listed(doubted)
    ))
}

/// A null that one adjuster makes in two steps, and that is not made in both.
pub const NULL_OUTSIDE: &str = "shared null: the worse side is outside";

/// A reading struck out.
pub fn struck(value: &str, why: &str) -> String {
    format!("{value} is void, entry error: {}", sentence(why))
}

/// A step that is done.
pub const DONE: &str = "done";
/// What keeps a socket open: what is wrong on its pins, and what was not measured.
pub fn open_on_socket(faults: &[SocketFault]) -> String {
    let wrong = faults.iter().filter(|fault| fault.is_wrong());
    let wrong: Vec<String> = wrong.map(SocketFault::sentence).collect();
    let unread = unread_pins(faults).map(|pins| format!("Not measured: {pins}."));
    let said: Vec<String> = wrong.into_iter().chain(unread).collect();
    said.join(" ")
}

/// A reading that still drifts beyond its limit.
pub fn not_settled(title: &str) -> String {
    format!("{} has not settled.", typed(title))
}

/// A reading of which its repeats don't tell whether it settled, or that was not repeated.
pub fn settling_not_shown(title: &str) -> String {
    format!("{} is not shown to have settled.", typed(title))
}

/// The same after the name of the socket.
pub fn on_socket(name: &str, open: &str) -> String {
    format!("{}: {open}", typed(name))
}

/// The pins that were not measured, each with its states; `None` where all were.
fn unread_pins(faults: &[SocketFault]) -> Option<String> {
    let mut pins: Vec<(&Id, Vec<&str>)> = Vec::new();
    for fault in faults {
        let SocketFault::Unread(pin, state) = fault else {
            continue;
        };
        match pins.iter_mut().find(|(other, _)| *other == pin) {
            Some((_, states)) => states.push(state.as_str()),
            None => pins.push((pin, vec![state.as_str()])),
        }
    }
    let named = |(pin, states): &(&Id, Vec<&str>)| format!("pin {pin} in {}", states.join(", "));
    let named: Vec<String> = pins.iter().map(named).collect();
    (!named.is_empty()).then(|| named.join("; "))
}

/// A reading that fits nothing, since it is in another unit.
pub const OTHER_UNIT: &str = "in another unit";

/// The result of a step that was ticked and is not done for all that.
pub fn ticked_but(status: Status) -> String {
    format!("ticked, but {}", status.name())
}
/// The result of a step that was ticked before its wait was over, or whose wait was never begun.
pub fn without_its_wait(done: &str, minutes: u32) -> String {
    format!("{done}; its wait of {minutes}\u{a0}min was not seen to its end")
}
/// The result of a stop or a warm-up that a break has ended.
pub const LAPSED: &str = "lapsed in a pause";

/// The state of a step.
pub fn status(status: Status) -> &'static str {
    status.name()
}

/// An answer with its note.
pub fn answer(found: Finding, note: &str) -> String {
    match note.trim() {
        "" => found.name().to_owned(),
        note => format!("{}: {}", found.name(), typed(note)),
    }
}

/// What became of something that was off.
pub fn off_state(state: &OffState) -> String {
    match state {
        OffState::Off => "still off".to_owned(),
        OffState::Back => "back".to_owned(),
        OffState::StaysOff(reason) => format!("stays off: {}", typed(reason)),
    }
}

/// What was said of a change; what was not asked is not said.
pub fn change_replies(change: &Change) -> String {
    let said = |reply, yes, no| match reply {
        Reply::Yes => Some(yes),
        Reply::No => Some(no),
        Reply::NotAsked => None,
    };
    let all = [
        said(change.agreed, "the owner agreed", "the owner did not agree"),
        said(change.reversible, "reversible", "not reversible"),
        said(
            change.touches_approval,
            "may affect type approval",
            "does not affect type approval",
        ),
    ];
    all.into_iter().flatten().collect::<Vec<_>>().join("; ")
}

/// A break that ended no stop.
pub const ENDED_NO_STOP: &str = "No hold point lapsed.";

/// What the log holds of a stop that a break ended.
pub fn stop_after_break(stop: usize, again: Option<&str>, worked: bool) -> String {
    let entered = match worked {
        true => "but there is work below it from before that",
        false => "before any work below it",
    };
    match (again, worked) {
        (Some(when), _) => {
            format!("Hold point {stop} was confirmed again, {when}, {entered}.")
        }
        (None, true) => format!(
            "Hold point {stop} was not confirmed again, but there is work below it from after the pause."
        ),
        (None, false) => format!(
            "Hold point {stop} was not confirmed again, and there was no work below it since."
        ),
    }
}

/// Sentences in a row.
pub fn sentences(sentences: &[String]) -> String {
    sentences.join(" ")
}

/// The check of a part that took another's place.
pub fn checked(verdict: &str) -> String {
    format!("Substitution check: {verdict}")
}

/// A target that was worked out from another step, which has no reading.
pub fn waits_for(step: &str) -> String {
    format!("known with the reading of step {step}")
}

/// A calibration that has run out, of an instrument that nothing was read with.
pub fn run_out(date: &str) -> String {
    format!("{date}, overdue")
}

/// A calibration that had run out.
pub fn overdue(date: &str) -> String {
    format!("{date}, overdue when used")
}

/// How a figure is known.
pub const fn known(known: Known) -> &'static str {
    match known {
        Known::FromMemory => "from memory: unverified",
        Known::CommonPractice => "common practice, no source",
        known => known.name(),
    }
}

/// How the figures of a limit are known, where that is worth a word beside it: what was read in its
/// document says nothing.
pub const fn known_beside(known: Known) -> Option<&'static str> {
    match known {
        Known::Read => None,
        Known::ReadSecondHand => Some("limit read where it is quoted"),
        Known::FromMemory => Some("limit from memory"),
        Known::CommonPractice => Some("limit by common practice"),
        Known::WorkedOut => Some("limit worked out"),
    }
}

/// What the limit of a step rests on, as a line of its own.
pub fn limit_rests_on(basis: &str) -> String {
    format!("Basis of the limit: {basis}")
}

/// What a limit rests on, in a line.
pub fn basis(basis: &Basis) -> String {
    match (basis.known, basis.source.as_str()) {
        (known, "") => self::known(known).to_owned(),
        (Known::Read, source) => source.to_owned(),
        (Known::CommonPractice, why) => format!("{}: {why}", basis.known.name()),
        (known, source) => format!("{}: {source}", self::known(known)),
    }
}

/// How a drift was judged.
pub fn drift(steadiness: Steadiness, slope: &str, expanded: &str, limit: &str) -> String {
    let word = match steadiness {
        Steadiness::Settled => "settled",
        Steadiness::Unsure => "not sure",
        Steadiness::Drifting => "still drifting",
    };
    format!("{word}: {slope}/min, U\u{a0}=\u{a0}{expanded}; limit {limit}/min")
}

/// An error in hertz with its share of the channel.
pub fn error(hertz: &str, ppm: &str) -> String {
    format!("{hertz} ({ppm}\u{a0}ppm)")
}

/// An uncertainty beside an error.
pub fn with_u(expanded: &str) -> String {
    format!("U\u{a0}=\u{a0}{expanded}")
}

/// How far apart the modes are.
pub fn spread(channel: &str, hertz: &str) -> String {
    format!("Channel {}: the modes lie {hertz} apart.", typed(channel))
}

/// Time at work.
pub fn minutes(minutes: i64) -> String {
    match (minutes / 60, minutes % 60) {
        (0, m) => format!("{m}\u{a0}min"),
        (h, m) => format!("{h}\u{a0}h {m:02}\u{a0}min"),
    }
}

/// How the time was counted.
pub const TIME_KEY: &str = "Counted from entry to entry in the log; pauses, and gaps of more than half an hour, are left out.";
/// The work: how long it took, how that is known, and what an hour costs.
pub fn labour(time: i64, is_typed: bool, rate: &str) -> String {
    let how = match is_typed {
        true => "as stated",
        false => "by the log",
    };
    format!("Work: {} {how}, at {rate} an hour", minutes(time))
}
/// Entries that belong to no step.
pub const NO_SECTION: &str = "Intake and finish";
/// A part without a price.
pub const NO_PRICE: &str = "no price given";

/// The way a visit ended.
pub fn visit_end(signed: Option<&str>, owed: usize) -> String {
    match (signed, owed) {
        (Some(when), 0) => format!("signed off, {when}"),
        (Some(when), 1) => format!("signed off, {when}, but one step is outstanding"),
        (Some(when), n) => format!("signed off, {when}, but {n} steps are outstanding"),
        (None, 1) => "in progress, one step open".to_owned(),
        (None, n) => format!("in progress, {n} steps open"),
    }
}

/// The visit that this sheet is of.
pub const THIS_VISIT: &str = "this visit";

/// How the course of readings is to be read.
pub const HISTORY_KEY: &str = "Readings that more than one visit left, as a share of their tolerance, the earliest visit first: the middle line is the target, the shaded band the tolerance.";

/// Nothing to compare with.
pub const NO_VISITS: &str = "No job on this device is of this set.";

// Pictures in words

/// A scale in words.
pub fn scale(target: Option<&str>, latest: Option<(&str, &str)>) -> String {
    let band = target.map_or("No target".to_owned(), |t| format!("Target {t}"));
    match latest {
        Some((value, "")) => format!("{band}; latest reading {value}"),
        Some((value, place)) => format!("{band}; latest reading {value}, {place}"),
        None => band,
    }
}

/// The overview in words.
pub fn overview(readings: usize, found_outside: usize, left_outside: usize) -> String {
    format!(
        "{readings} readings as shares of their tolerance: {found_outside} outside as found, {left_outside} outside as left"
    )
}

/// A course in words.
pub fn course(title: &str, visits: usize, outside: usize) -> String {
    format!("{}: {visits} visits, {outside} left outside", typed(title))
}

/// A drift plot in words.
pub fn drift_plot(readings: usize, minutes: &str) -> String {
    format!("{readings} readings over {minutes} minutes with a line through them")
}

/// Labels of the overview.
pub const LOW_LIMIT: &str = "lower limit";
/// See [`LOW_LIMIT`].
pub const HIGH_LIMIT: &str = "upper limit";
/// See [`LOW_LIMIT`].
pub const ON_TARGET: &str = "target";

// The foot

/// What the fingerprint is for.
pub const FINGERPRINT_KEY: &str = "SHA-256 of the job’s file. To verify: Files, Verify a report.";

/// What a verdict is and isn't.
pub const NOTICE: &str = "Results are computed from the readings entered. Local regulations, the licence and a qualified technician’s judgement prevail.";

// The label

/// What the label's code holds.
pub fn code(number: &str, fingerprint: &str, job: &str) -> String {
    format!("{CODE_BEGINS} {number} {fingerprint} {job}")
}

/// With what the text of a label's code begins.
pub const CODE_BEGINS: &str = "halfturn";

/// The label's code in words.
pub const CODE: &str =
    "Code that leads back to the job, with its number and the fingerprint of its file";
/// The label's check mark.
pub const CHECKED: &str = "Checked";
/// A label of a job that is not signed off.
pub const NOT_SIGNED: &str = "not signed off";
/// A label of a job that was signed off and is open again by what was merged.
pub const OPEN_AGAIN: &str = "steps owed";

// The sheet of a procedure

/// The kind of sheet.
pub const A_PROCEDURE: &str = "Procedure";
/// Which sets it is for.
pub const COVERS: &str = "For";
/// Which revision it is.
pub const REVISION: &str = "Revision";
/// What must be known before the set is opened.
pub const CAUTIONS: &str = "Cautions";
/// What has to be on the bench.
pub const TAKES: &str = "What it takes";
/// The steps.
pub const STEPS: &str = "Steps";
/// The columns of the instruments.
pub const OF_INSTRUMENTS: [&str; 2] = ["Instrument", "What it must do"];
/// The columns of the test points.
pub const OF_POINTS: [&str; 3] = ["Test point", "Where", "Also marked"];
/// The columns of the adjusters.
pub const OF_ADJUSTERS: [&str; 4] = ["Adjuster", "Kind", "What it does", "Tool"];
/// The columns of the steps; the last two are written into by hand.
pub const OF_STEPS: [&str; 5] = ["Step", "What to do", "What is asked", FOUND, LEFT];
/// The fingerprint of a revision.
pub const THIS_REVISION: &str = "This revision";
/// What that fingerprint is for.
pub const THIS_REVISION_KEY: &str = "SHA-256 of all that the procedure says. Nobody judges what stands on paper: enter it in the app.";

/// A title and a revision, for the head of each page.
pub fn title_and_revision(title: &str, revision: &str) -> String {
    format!("{title}, revision {revision}")
}

/// A step by its number.
pub fn numbered(number: usize, title: &str) -> String {
    format!("{number}\u{a0} {title}")
}

/// A caution in a line.
pub fn caution(text: &str) -> String {
    format!("Caution: {text}")
}

/// Where a reading is taken, with what, and in which unit.
pub fn read_at(at: &str, with: &str, unit: &str, into: Option<&str>, through: &str) -> String {
    let into = into.map_or(String::new(), |into| format!(" into {into}"));
    let through = match through.is_empty() {
        true => String::new(),
        false => format!(", through {through}"),
    };
    format!("Read at {at} with {with}{through}, in {unit}{into}")
}

/// What is turned.
pub fn turn(adjuster: &str) -> String {
    format!("Adjust {adjuster}")
}

/// A lead to be wired.
pub fn lead(from: &str, to: &str, colour: &str) -> String {
    let colour = match colour {
        "" => String::new(),
        colour => format!(", {}", typed(colour)),
    };
    format!("From {} to {}{colour}", typed(from), typed(to))
}

/// How long to wait.
pub fn wait(minutes: u32) -> String {
    format!("Wait {minutes}\u{a0}min")
}

/// What comes off in a step.
pub fn comes_off(what: &str) -> String {
    format!("Remove: {what}")
}

/// What goes back on in a step.
pub fn goes_back(what: &str) -> String {
    format!("Refit: {what}")
}

/// What goes in for what.
pub fn becomes(out: &str, fitted: &str) -> String {
    format!("{out} → {fitted}")
}

/// What a pin carries and must read in a state of the set.
pub fn pin(pin: &str, lead: &str, state: &str, limits: &str) -> String {
    format!("Pin {}, {lead}, {}: {limits}", typed(pin), typed(state))
}

/// The stop that must hold at a step.
pub fn needs(stop: usize) -> String {
    format!("Only while hold point {stop} holds")
}

/// The second route to a figure.
pub fn second_route(text: &str, read: &str) -> String {
    format!("Cross-check: {text} {read}")
}

/// See its text.
pub const PASSES: &str = "Gone through until they held";
/// See its text.
pub const PASS: &str = "Pass";

/// Over the passes of a step that repeats others.
pub fn passes_of(number: usize, title: &str, asked: &str) -> String {
    format!("Step {number}, {title}: {asked}")
}

/// Over the readings of a step in each pass.
pub fn step_column(number: usize, title: &str) -> String {
    format!("{number} {}", typed(title))
}

/// Where a step was found in a pass, below where it was left.
pub fn began_at(reading: &str) -> String {
    format!("began at {reading}")
}

/// What the pass in hand shows.
pub fn shows(passes: &Passes, sign: DecimalSign) -> String {
    let said = match &passes.shows {
        Shows::Open(open) => {
            let numbers: Vec<String> = open.iter().map(usize::to_string).collect();
            match numbers.as_slice() {
                [one] => format!("Step {one} is still to be done in this pass."),
                _ => format!(
                    "Steps {} are still to be done in this pass.",
                    listed(&numbers)
                ),
            }
        }
        Shows::NotDone { step, status } => {
            format!("Not yet: step {step} is {}.", status.name())
        }
        Shows::Turned { step, read } => format!(
            "Not yet: step {step} was turned after step {read} was read, so another pass has to show that both hold."
        ),
        Shows::NothingBefore => {
            "Not yet: there is no pass before this one to compare it with.".to_owned()
        }
        Shows::Changed { step, by } => {
            format!(
                "Not yet: step {step} changed by {} from the pass before.",
                by.typeset(sign)
            )
        }
        Shows::Holds => return "It holds in this pass.".to_owned(),
    };
    let is_open = matches!(passes.shows, Shows::Open(_));
    match passes.is_last() && !is_open {
        true => format!(
            "{said} This is the last pass that there may be: mend it in this pass, or waive the step with a reason."
        ),
        false => said,
    }
}

/// The reading that alone confirms a stop.
pub fn confirmed_by_reading(target: &str) -> String {
    format!("Confirmed by a reading alone: {target}.")
}

/// The reading by which a stop was confirmed.
pub fn confirmed_by(reading: &str) -> String {
    format!("confirmed by {reading}")
}

/// What a stop closes until it is confirmed.
pub const fn closes(holds: Holds) -> &'static str {
    match holds {
        Holds::UntilABreak => "Nothing below before this is confirmed, and again after a pause.",
        Holds::WholeJob => "Nothing below before this is confirmed.",
    }
}

/// What clockwise does to the reading.
pub const fn clockwise(sense: Sense) -> &'static str {
    match sense {
        Sense::Raises => "clockwise raises",
        Sense::Lowers => "clockwise lowers",
    }
}

// The check of a sheet

/// The outcome in a sentence.
pub fn check(check: &Check) -> String {
    match check {
        Check::Matches { job } => {
            format!("They match: the report was made from this file. {job}.")
        }
        Check::Differs { job, has } => format!(
            "They don’t match: the report was made from another file, or the job went on after it. The file is {job}; its fingerprint is {has}."
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
