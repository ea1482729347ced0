//! The head: the set, the job, and what was wrong.

use crate::exchange::report::text::typed;
use crate::exchange::report::words::phrases::sentence;
use crate::job::CureShown;
use crate::job::FaultRecord;
use crate::job::LeftOut;
use crate::job::Outcome;
use crate::job::PartState;
use crate::job::Showed;
use crate::procedure::JoinFault;

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
