//! The carrier by its pitch: with a known input the beat says where the carrier oscillator is.

use crate::signal::fault::Unfit;
use crate::signal::figure::Figure;

/// The clock of a sound device, by a tone of known frequency.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clock {
    /// What a frequency by this clock is multiplied with.
    factor: Figure,
}

impl Clock {
    /// A clock that nobody has compared: right within the given part of one, evenly spread.
    pub fn within(part: f64) -> Clock {
        Clock {
            factor: Figure::within(1.0, part),
        }
    }

    /// By a tone of known frequency and what this clock makes of it.
    pub fn of(known: Figure, heard: Figure) -> Result<Clock, Unfit> {
        if !(known.value > 0.0 && heard.value > 0.0) {
            return Err(Unfit::NoSense);
        }
        let factor = known.value / heard.value;
        let relative = known.relative().hypot(heard.relative());
        Ok(Clock {
            factor: Figure::new(factor, factor * relative),
        })
    }

    /// By how many millionths it runs fast.
    pub fn fast_by(&self) -> Figure {
        Figure::new(
            (self.factor.value - 1.0) * 1e6,
            self.factor.relative() * 1e6,
        )
    }

    /// A frequency put right.
    pub fn right(&self, heard: Figure) -> Figure {
        let value = heard.value * self.factor.value;
        Figure {
            value,
            standard: value.abs() * heard.relative().hypot(self.factor.relative()),
            freedom: heard.freedom,
        }
    }
}

/// Which side of the carrier is heard.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sideband {
    /// The pitch rises with the input.
    Upper,
    /// The pitch falls as the input rises.
    Lower,
}

/// The beat of a receiver with a known input.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beat {
    /// The input in hertz.
    pub input: Figure,
    /// The pitch in hertz, by the clock put right.
    pub pitch: Figure,
    /// Which side is heard.
    pub sideband: Sideband,
}

impl Beat {
    /// The frequency on air at which the pitch would be zero: the carrier, with all oscillators
    /// before it as they are.
    pub fn carrier(&self) -> Figure {
        let sign = match self.sideband {
            Sideband::Upper => -1.0,
            Sideband::Lower => 1.0,
        };
        Figure {
            value: self.input.value + sign * self.pitch.value,
            standard: self.input.standard.hypot(self.pitch.standard),
            freedom: self.pitch.freedom,
        }
    }

    /// By how much the carrier is above where it should be, in hertz.
    pub fn error(&self, due: f64) -> Figure {
        let carrier = self.carrier();
        Figure {
            value: carrier.value - due,
            ..carrier
        }
    }
}
