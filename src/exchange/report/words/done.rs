//! What was done, confirmed and left, and what holds a socket open.

use crate::exchange::report::text::typed;
use crate::exchange::report::words::readings::table_of_readings;
use crate::job::Change;
use crate::job::Finding;
use crate::job::OffState;
use crate::job::Reply;
use crate::job::SocketFault;
use crate::job::Status;
use crate::procedure::Id;

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

/// A pin of a socket in a state of the set.
pub fn on_pin(socket: &str, pin: &str, state: &str) -> String {
    format!("{socket}, pin {pin} in {state}")
}

/// How the table of a socket's pins was read: all cells hold what was left.
pub fn pins_left(step: &str, with: &str) -> String {
    table_of_readings(&[step.to_owned(), "as left".to_owned(), typed(with)])
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
