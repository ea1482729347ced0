//! The sheet of a procedure.

use crate::exchange::report::text::typed;
use crate::exchange::report::words::columns::FOUND;
use crate::exchange::report::words::columns::LEFT;
use crate::exchange::report::words::phrases::listed;
use crate::job::Passes;
use crate::job::Shows;
use crate::procedure::Holds;
use crate::procedure::Sense;
use crate::quantity::DecimalSign;

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
