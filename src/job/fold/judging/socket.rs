//! What was measured on a socket's pins, and what that says of its wiring: lines swapped,
//! missing, outside, not measured.

use crate::job::fold::proof;
use crate::job::fold::standing::pins::{PinReading, PinTaken, SocketFault};
use crate::job::{Group, Read, Status, UsedInstrument};
use crate::metrology::Tolerance;
use crate::metrology::decision::Rule;
use crate::procedure::{Expectation, Id, Pin, Socket};
use bigdecimal::{BigDecimal, Signed};
use std::sync::Arc;

/// A line counts as missing where this share of the least that is due, or less, stands on it:
/// an open lead picks up a little, a good one never drops so much.
const NOTHING_PERCENT: i64 = 5;

impl PinTaken {
    /// The reading put right by what is known of the instrument that it was taken with, and judged
    /// by what is due.
    pub fn judged(
        &self,
        socket: &Socket,
        with: Option<Arc<UsedInstrument>>,
        rule: &Rule,
    ) -> PinReading {
        let read = Read::with(with, self.value.clone());
        let mut result = Group::single(read, self.at, self.order);
        let due = socket.expected(&self.pin, &self.state);
        result.judge(due, &socket.with, None, rule);
        PinReading {
            event: self.event.clone(),
            pin: self.pin.clone(),
            state: self.state.clone(),
            result,
        }
    }
}

/// Where a socket stands by what was measured on its pins: every one that has something due
/// must be read and accepted by the job's rule before a tick says that it is wired.
pub(in crate::job) fn status(
    faults: &[SocketFault],
    pins: &[PinReading],
    rule: &Rule,
    is_ticked: bool,
) -> Status {
    let is_accepted = |pin: &PinReading| proof::accepts(rule, &pin.result);
    if faults.iter().any(SocketFault::is_wrong) {
        Status::Outside
    } else if !faults.is_empty() {
        Status::Open
    } else if !pins.iter().all(is_accepted) {
        Status::Unproved
    } else if is_ticked {
        Status::Done
    } else {
        Status::Open
    }
}

/// What is wrong with the wiring or not measured yet: swapped lines first, then missing ones,
/// then single readings. A pin that a swap or a missing line explains is not named again.
pub(in crate::job) fn faults(socket: &Socket, readings: &[PinReading]) -> Vec<SocketFault> {
    let sheet = Sheet { socket, readings };
    let mut found = sheet.swapped();
    let explained = |found: &[SocketFault], pin: &Id| found.iter().any(|fault| fault.names(pin));
    for pin in &socket.pins {
        if !explained(&found, &pin.pin) && sheet.is_missing(pin) {
            found.push(SocketFault::Missing(pin.pin.clone()));
        }
    }
    let mut single = Vec::new();
    for pin in &socket.pins {
        let known = explained(&found, &pin.pin);
        for expectation in &pin.expects {
            let (pin, state) = (pin.pin.clone(), expectation.state.clone());
            match sheet.reading(&pin, &state) {
                None => single.push(SocketFault::Unread(pin, state)),
                Some(value) if !known && !fits(&expectation.tolerance, value) => {
                    single.push(SocketFault::Outside(pin, state));
                }
                Some(_) => {}
            }
        }
    }
    found.extend(single);
    found
}

/// A socket with what was measured on it.
struct Sheet<'a> {
    socket: &'a Socket,
    readings: &'a [PinReading],
}

impl<'a> Sheet<'a> {
    fn reading(&self, pin: &Id, state: &Id) -> Option<&'a Group> {
        let same = |reading: &&PinReading| reading.pin == *pin && reading.state == *state;
        self.readings.iter().find(same).map(|found| &found.result)
    }

    fn swapped(&self) -> Vec<SocketFault> {
        let mut found: Vec<SocketFault> = Vec::new();
        for (index, a) in self.socket.pins.iter().enumerate() {
            for b in &self.socket.pins[index + 1..] {
                let taken = found
                    .iter()
                    .any(|fault| fault.names(&a.pin) || fault.names(&b.pin));
                if !taken && self.are_swapped(a, b) {
                    found.push(SocketFault::Swapped(a.pin.clone(), b.pin.clone()));
                }
            }
        }
        found
    }

    /// In every state in which both are known, each fits the other's place; in one of them at
    /// least, neither fits its own.
    fn are_swapped(&self, a: &Pin, b: &Pin) -> bool {
        let mut both_outside = false;
        for here in &a.expects {
            let Some(there) = b.expects.iter().find(|e| e.state == here.state) else {
                continue;
            };
            let on_a = self.reading(&a.pin, &here.state);
            let on_b = self.reading(&b.pin, &here.state);
            let (Some(on_a), Some(on_b)) = (on_a, on_b) else {
                continue;
            };
            if !fits(&there.tolerance, on_a) || !fits(&here.tolerance, on_b) {
                return false;
            }
            both_outside |= !fits(&here.tolerance, on_a) && !fits(&there.tolerance, on_b);
        }
        both_outside
    }

    fn is_missing(&self, pin: &Pin) -> bool {
        let mut known = pin
            .expects
            .iter()
            .filter_map(|expected| {
                let least = least_due(expected)?;
                Some((least, self.reading(&pin.pin, &expected.state)?))
            })
            .peekable();
        known.peek().is_some() && known.all(|(least, value)| is_nothing(&least, value))
    }
}

/// Whether a reading would be inside here, also one that was taken on another pin.
fn fits(tolerance: &Tolerance, read: &Group) -> bool {
    read.against(tolerance).is_some_and(|v| v.is_inside())
}

/// The least size that is due, where nothing at all would be outside.
fn least_due(expected: &Expectation) -> Option<BigDecimal> {
    let limits = expected.tolerance.limits();
    let above = limits.low.filter(Signed::is_positive);
    let below = limits.high.filter(Signed::is_negative);
    above.or(below).map(|limit| limit.abs())
}

fn is_nothing(least: &BigDecimal, read: &Group) -> bool {
    read.judged_right.abs() * BigDecimal::from(100) <= least * BigDecimal::from(NOTHING_PERCENT)
}
