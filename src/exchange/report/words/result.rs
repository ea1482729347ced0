//! What came of the job, a line each.

use crate::exchange::report::text::typed;
use crate::exchange::report::words::columns::numbers;
use crate::exchange::report::words::phrases::listed;
use crate::quantity::ended;

/// How many readings are within their limits, of those that were judged as left; whether these are
/// all that were judged.
pub fn result_of_readings(inside: usize, all: usize, not_shown: usize, are_all: bool) -> String {
    let within = match (inside == all, all, are_all) {
        (true, 1, true) => "The one as-left reading is within limits".to_owned(),
        (true, 1, false) => "1 as-left reading is within limits".to_owned(),
        (true, _, true) => format!("All {all} as-left readings are within limits"),
        (true, _, false) => format!("{all} as-left readings are within limits"),
        (false, ..) => format!("{inside} of {all} as-left readings are within limits"),
    };
    match not_shown {
        0 => format!("{within}."),
        n => format!("{within}; conformity not shown for {n}."),
    }
}

/// The steps whose readings are older than what was changed last.
pub fn result_of_not_read_since(steps: &[usize]) -> String {
    let (those, were) = match steps {
        [_] => ("Step", "was"),
        _ => ("Steps", "were"),
    };
    format!(
        "{those}\u{a0}{} {were} not read since a part was changed or a cure recorded.",
        numbers(steps)
    )
}

/// The steps whose readings are outside and wait for another.
pub fn result_of_outside(steps: &[usize]) -> String {
    match steps {
        [one] => format!("1 reading is outside its limits, and its step\u{a0}{one} is open."),
        all => format!(
            "{} readings are outside their limits, and their steps {} are open.",
            all.len(),
            numbers(all)
        ),
    }
}

/// What is not done, each step by its number, and by its title too where these are few.
pub fn result_of_owed(steps: &[(usize, &str)]) -> String {
    /// More titles than these make a list of the result.
    const FEW: usize = 3;
    let title = |(number, title): &(usize, &str)| format!("{number} · {}", typed(title));
    match steps {
        [one] => format!("One step is outstanding: {}.", title(one)),
        few if few.len() <= FEW => {
            let titles: Vec<String> = few.iter().map(title).collect();
            format!(
                "{} steps are outstanding: {}.",
                few.len(),
                titles.join("; ")
            )
        }
        many => {
            let all: Vec<usize> = many.iter().map(|(number, _)| *number).collect();
            format!("{} steps are outstanding: {}.", all.len(), numbers(&all))
        }
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
