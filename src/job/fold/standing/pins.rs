//! What was measured on the pins of a socket.

use crate::job::Group;
use crate::procedure::Id;
use crate::quantity::Quantity;

/// What was measured on a pin of a socket.
#[derive(Clone, Debug, PartialEq)]
pub struct PinReading {
    /// The event that brought it.
    pub event: Id,
    /// The pin.
    pub pin: Id,
    /// The state of the set.
    pub state: Id,
    /// As it was indicated, corrected, judged and proved.
    pub result: Group,
}

/// A pin as it was measured, before anything is known of socket and instrument.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::job) struct PinTaken {
    pub event: Id,
    pub at: i64,
    pub order: usize,
    pub pin: Id,
    pub state: Id,
    pub value: Quantity,
}

/// What is wrong with the wiring of a socket, or not known of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SocketFault {
    /// Each pin reads what the other should.
    Swapped(Id, Id),
    /// Nothing stands on the pin in any state in which something is due.
    Missing(Id),
    /// The reading is outside in this state.
    Outside(Id, Id),
    /// The pin has no reading in this state.
    Unread(Id, Id),
}

impl SocketFault {
    pub(in crate::job::fold) fn names(&self, pin: &Id) -> bool {
        match self {
            SocketFault::Swapped(a, b) => a == pin || b == pin,
            SocketFault::Missing(a) | SocketFault::Outside(a, _) | SocketFault::Unread(a, _) => {
                a == pin
            }
        }
    }

    /// Whether it says that something is wrong, not only that it isn't known.
    pub fn is_wrong(&self) -> bool {
        !matches!(self, SocketFault::Unread(..))
    }

    /// The fault in a sentence.
    pub fn sentence(&self) -> String {
        match self {
            SocketFault::Swapped(a, b) => {
                format!("Pins {a} and {b} look swapped: each reads what the other should.")
            }
            SocketFault::Missing(pin) => format!(
                "The line to pin {pin} looks missing: nothing stands on it where something is due."
            ),
            SocketFault::Outside(pin, state) => format!("Pin {pin} is outside in {state}."),
            SocketFault::Unread(pin, state) => format!("Pin {pin} is not measured in {state}."),
        }
    }
}
