//! Remarks on a draft.

use crate::procedure::Place;

/// How much a remark matters.
pub fn gravity(fault: bool) -> &'static str {
    match fault {
        true => "Error",
        false => "Warning",
    }
}

/// How many remarks there are.
pub fn remarks(faults: usize, advice: usize) -> String {
    let faults = match faults {
        0 => "No errors".to_owned(),
        1 => "1 error".to_owned(),
        n => format!("{n} errors"),
    };
    match advice {
        0 => faults,
        1 => format!("{faults}, 1 warning"),
        n => format!("{faults}, {n} warnings"),
    }
}

/// Where a remark belongs, before its sentence.
pub fn place(place: &Place) -> String {
    match place {
        Place::Step(number) => format!("Step {number}: "),
        Place::Table(number) => format!("Table {number}: "),
        Place::Whole | Place::Parts => String::new(),
    }
}
