//! Parts that are wanted, and what the owner is asked.

use crate::exchange::report::words as sheet;
use crate::job::PartState;

pub const TITLE: &str = "Parts and the owner";
pub const NO_PARTS: &str = "No part is wanted yet.";
pub const PARTS: &str = "Parts wanted";
pub const WANT: &str = "Want a part";
pub const CHANGE: &str = "Edit";
pub const LEAVE: &str = "Discard changes";
pub const WHAT: &str = "Part";
pub const NUMBER: &str = "Order number";
pub const COUNT: &str = "Count";
pub const NOTE: &str = "From whom, or anything else";
pub const STATE: &str = "How far it is";
pub const KEEP: &str = "Save the part";
pub const FIT: &str = "Record the fitting";
pub const FITTED: &str = "fitted";
pub const NO_COUNT: &str = "Type the count as a whole number from 1 on";
pub const OWNER: &str = "The owner";
pub const ASK: &str = "Ask the owner";
pub const QUESTION: &str = "Question";
pub const KEEP_QUESTION: &str = "Save the question";
pub const ANSWER: &str = "Answer";
pub const KEEP_ANSWER: &str = "Save the answer";
pub const TO_ORDER: &str = "What to order";
pub const TO_ORDER_LEAD: &str = "Over all jobs in progress: what is wanted and not here.";
pub const NOTHING: &str = "Nothing is to be ordered.";
pub const SAVE: &str = "Save as a table";
pub const COLLECTED_BY: &str = "Who takes the set home";
pub const COLLECT: &str = "Record that it was collected";

pub const TOGETHER: &str = "To be ordered under one number";

/// What is wanted more than once under an order number.
pub fn together(number: &str, count: u64, rows: usize) -> String {
    format!("{number}: {count} in all, of {rows} entries")
}

/// How far a part is, as a key.
pub const fn state(state: PartState) -> &'static str {
    match state {
        PartState::Needed => "To be ordered",
        PartState::Ordered => "Ordered",
        PartState::Here => "Here",
        PartState::Dropped => "Not wanted any more",
    }
}

/// A question that is not answered.
pub fn unanswered(question: &str) -> String {
    format!("Not answered: {question}")
}

/// Parts as they were fitted.
pub fn fitted(what: &str, count: u32) -> String {
    match count {
        1 => what.to_owned(),
        count => format!("{count} × {what}"),
    }
}

/// A part in a line.
pub fn line(what: &str, number: &str, count: u32, state: &str) -> String {
    let number = match number.is_empty() {
        true => String::new(),
        false => format!(" ({number})"),
    };
    format!("{count} × {what}{number}, {state}")
}

/// A part that is still to come, by how far it is.
pub const fn due(ordered: bool) -> &'static str {
    match ordered {
        true => sheet::part_state(PartState::Ordered),
        false => sheet::part_state(PartState::Needed),
    }
}

/// Who took the set home.
pub fn collected(by: &str, when: &str) -> String {
    format!("Collected by {by}, {when}")
}
