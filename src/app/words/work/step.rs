//! The screen of a step.

use crate::app::words::spelling::either;
use crate::exchange::report;
use crate::job::{SocketFault, Status};

pub const NOT_HERE_LEAD: &str = "The job or step of this address is not here. It may be on another device: open its file under Files.";
pub const TO_THE_JOBS: &str = "To the jobs";
pub const SUMS: &str = "Calculations";

pub const NOTE_TITLE: &str = "A note on this step";
pub const NOTE_HINT: &str = "It stands in the log and on the report.";
pub const KEEP_NOTE: &str = "Save the note";
pub const WAIVE_TITLE: &str = "Waive this step";
pub const WAIVE_HINT: &str = "Reason (printed on the report)";
pub const WAIVE_STEP: &str = "Waive the step";
pub const STRIKE_TITLE: &str = "Void a reading";
pub const STRIKE_HINT: &str = "Reason. The reading stays visible, marked void.";
pub const STRIKE_OUT: &str = "Void reading";

/// Where in the procedure the step stands.
pub fn place(number: usize, total: usize) -> String {
    format!("Step {number} of {total}")
}

/// A space follows, for the reason is said behind it.
pub const LOOK_AGAIN: &str = "Recheck. ";

/// Why a step needs another look.
pub fn was_turned(adjuster: &str, step: usize) -> String {
    format!("{adjuster} adjusted since (step {step}).")
}

/// The two halves of a step, on a screen that has room for one only.
pub const HALVES: &str = "What is shown of the step";
pub const TO_DO: &str = "Do";
pub const TO_MEASURE: &str = "Measure";

// What to do

pub const SET_UP: &str = "Set-up";
/// A space follows, for the settings are said behind it.
pub const AS_BEFORE: &str = "Unchanged: ";
pub const PROBE: &str = "Test point";
/// Follows a pad, coupler or probe that stands in the path.
pub const THROUGH: &str = "Through";
/// A pad with what it takes away.
pub fn with_loss(name: &str, loss: &str) -> String {
    format!("{name}, {loss}")
}
/// A pad of which nobody knows what it takes away.
pub fn loss_unknown(name: Option<&str>) -> String {
    match name {
        Some(name) => format!("{name}, its loss is not known"),
        None => "its loss is not known".to_owned(),
    }
}
pub const WITH: &str = "Instrument";
pub const TURN: &str = "Adjust";
pub const TAKE_OUT: &str = "Remove";
pub const FIT: &str = "Fit";
pub const FROM: &str = "From";
pub const TO: &str = "To";
/// The colour of a wire.
pub fn colour() -> &'static str {
    either("Colour", "Color")
}
pub const NOTHING: &str = "nothing";
pub const CLOCKWISE_RAISES: &str = "clockwise raises";
pub const CLOCKWISE_LOWERS: &str = "clockwise lowers";
pub const NOTED: &str = "Noted";

/// What a control was set to before.
pub fn was(old: &str) -> String {
    format!("was {old}")
}

/// A control with its setting.
pub fn setting(name: &str, value: &str) -> String {
    format!("{name} {value}")
}

/// Settings that stay as they are.
pub fn settings(settings: &[String]) -> String {
    settings.join(" · ")
}

/// Follows the place of a test point.
pub fn also_called(names: &str) -> String {
    format!("; marked {names}")
}

/// What an adjuster is turned with.
pub fn with_tool(tool: &str) -> String {
    format!("with {tool}")
}

/// Why a step was waived.
pub fn waived(reason: &str) -> String {
    format!("Waived: {reason}")
}

// What to answer

pub const DONE: &str = "Done";
pub const CONFIRM: &str = "I confirm";
pub const CONFIRM_AGAIN: &str = "Re-confirm";
pub const WIRED: &str = "Fitted and checked";
pub const SOCKET_DONE: &str = "Socket wired as listed.";
pub const WHAT_YOU_SEE: &str = "Observation";
pub const WHAT_YOU_FOUND: &str = "Finding";
pub const SOUND_MEANS: &str = "as built";
pub const ALTERED_MEANS: &str = "previous work";
pub const WORN_MEANS: &str = "serviceable";
pub const DAMAGED_MEANS: &str = "broken";

/// A confirmation that a break has ended.
pub fn lapsed(when: &str) -> String {
    format!("Confirmed {when}. Paused since: re-confirm.")
}

/// Heads what a stop wants confirmed.
pub const IS_HOLD_POINT: &str = "Hold point";
pub const BY_READING: &str = "Only a reading inside its limits confirms this.";

/// A stop that a reading confirmed.
pub fn opened_by(reading: &str, when: &str) -> String {
    format!("Confirmed by {reading}, {when}.")
}

/// A stop whose last reading is outside.
pub fn stays_closed(reading: &str) -> String {
    format!("{reading} is outside: hold point stays closed. Read again once it is inside.")
}

/// A warm-up that a break has ended.
pub fn wait_again(when: &str) -> String {
    format!("Done {when}. Paused since: restart the timer.")
}

// Why nothing can be entered

/// A sentence that names the place that it is about: what stands before its name, the name, and
/// what follows.
pub type Leading = (&'static str, String, &'static str);

/// A job that takes no entries any more.
pub fn finished() -> Leading {
    ("Signed off. Reopen under ", "Sign off".to_owned(), ".")
}

/// The step waits for a stop, for the first time or again.
pub fn closed(stop: usize, lapsed: bool) -> Leading {
    let stop = format!("hold point {stop}");
    match lapsed {
        true => ("Paused: re-confirm ", stop, "."),
        false => ("Locked until ", stop, " is confirmed."),
    }
}

// What is left open

/// Enters what is typed.
pub const ENTER_IT: &str = "Enter it";

/// Something is typed only.
pub fn typed_only(typed: &str) -> String {
    format!("“{typed}” is typed but not entered.")
}

/// The last reading is good, and not recorded as left.
pub fn not_left(reading: &str) -> String {
    format!("{reading} is not recorded as left, so the step stays open.")
}

pub const OUTSIDE: &str = "A reading is outside, so the step stays open.";

/// The last reading of an adjustment was read where the tool may pull it.
pub fn tool_in(reading: &str) -> String {
    format!("{reading} was read with the tool in, so the step stays open.")
}

/// A step was begun and is not done.
pub fn stays_open(status: Status) -> String {
    format!("The step stays open: {}.", status.name())
}

/// What keeps a socket open: its pins, their proof, or that nobody ticked it.
pub fn socket_open(wiring: &[SocketFault], status: Status) -> String {
    match (wiring.is_empty(), status) {
        (false, _) => {
            let open = report::words::open_on_socket(wiring);
            format!("{open} The step stays open.")
        }
        (true, Status::Open) => {
            "Every pin is measured, but the socket is not ticked as wired.".to_owned()
        }
        (true, status) => stays_open(status),
    }
}

/// A stop is not confirmed, or not since the last break.
pub fn unconfirmed(lapsed: bool) -> String {
    match lapsed {
        false => "This hold point is not confirmed.".to_owned(),
        true => "This hold point is not re-confirmed since the pause.".to_owned(),
    }
}

/// What is left open, and that the same key once more goes on or back all the same.
pub fn once_more(open: &str, on: bool) -> String {
    let key = if on { NEXT } else { BACK };
    format!("{open} {key} once more leaves it so.")
}

// The keys below

pub const STEP: &str = "Step";
pub const BACK: &str = "Back";
pub const WAIVE: &str = "Waive";
pub const NEXT: &str = "Next";
