//! Whether a device fits the holes of another.

use crate::radio::components::substitution::pin_order::PinOrder;
use crate::radio::components::substitution::rating::Device;
use serde::{Deserialize, Serialize};
use std::fmt;

/// The order of legs in a row, from left to right.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Pins {
    /// A letter for each leg, such as ECB or GDS.
    pub order: PinOrder,
    /// From where they are seen.
    pub seen: Seen,
}

/// The side from which legs are seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Seen {
    /// From the flat or printed side, legs down.
    Front,
    /// From the round or metal side, legs down.
    Back,
    /// From below, legs towards you, flat or printed side up.
    Below,
}

/// How the new legs go into the old holes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Seat {
    /// As the old one was.
    DropsIn,
    /// Turned round: the order is reversed.
    Turned,
    /// Only with its legs formed to another order.
    LegsFormed,
    /// Not at all: it has other legs, or is made as another kind.
    Never,
    /// The kind or the legs of one of them aren't stated.
    Unknown,
}

/// How the legs of the new device go into the holes of the old one.
pub fn seat(old: &Device, new: &Device) -> Seat {
    if matches!((old.kind, new.kind), (Some(was), Some(is)) if was != is) {
        return Seat::Never;
    }
    let (Some(was), Some(is)) = (&old.pins, &new.pins) else {
        return Seat::Unknown;
    };
    let (was, is) = (was.seen_from_front(), is.seen_from_front());
    let sorted = |order: &str| {
        let mut legs: Vec<char> = order.chars().collect();
        legs.sort_unstable();
        legs
    };
    if sorted(&was) != sorted(&is) {
        Seat::Never
    } else if old.kind.is_none() || new.kind.is_none() {
        // The same legs of another kind go into no hole.
        Seat::Unknown
    } else if was == is {
        Seat::DropsIn
    } else if was.chars().rev().eq(is.chars()) {
        Seat::Turned
    } else {
        Seat::LegsFormed
    }
}

impl Pins {
    /// The order as seen from the front. Tilted until the legs point at one, front up, a device
    /// keeps its left and right.
    pub fn seen_from_front(&self) -> String {
        match self.seen {
            Seen::Front | Seen::Below => self.order.0.clone(),
            Seen::Back => self.order.0.chars().rev().collect(),
        }
    }
}

impl fmt::Display for Seat {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Seat::DropsIn => "It drops in.",
            Seat::Turned => "It must be turned round: its legs have the reverse order.",
            Seat::LegsFormed => "Its legs must be formed to another order.",
            Seat::Never => "It can't go in: it has other legs or is of another kind.",
            Seat::Unknown => "The kind or the order of the legs is not stated for both.",
        })
    }
}
