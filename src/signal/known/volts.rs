//! Volts by the level at the input, once a known voltage was put in.

use crate::signal::fault::Unfit;
use crate::signal::figure::{Figure, decibels, decibels_of_change, power_of};
use crate::signal::tone::Range;

/// What the full scale of an input is worth, by a known voltage.
///
/// It holds for the input as it is set, and at the frequency at which it was compared: nobody
/// stated its response.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FullScale {
    /// The voltage of a sine that fills it, in V rms.
    volts: Figure,
    /// In hertz.
    pub frequency: f64,
}

impl FullScale {
    /// By a known voltage in V rms, the level it makes in dBFS, and its frequency.
    pub fn of(known: Figure, level: Figure, frequency: f64) -> Result<FullScale, Unfit> {
        if known.value <= 0.0 {
            return Err(Unfit::NoSense);
        }
        let volts = scaled(known, level.standard, power_of(-level.value).sqrt());
        Ok(FullScale { volts, frequency })
    }

    /// The voltage of a tone in V rms by its level in dBFS; nothing where it is another tone than
    /// the one that was compared.
    pub fn volts(&self, level: Figure, frequency: f64) -> Option<Figure> {
        let Range { low, high } = Range::around(self.frequency);
        let volts = scaled(self.volts, level.standard, power_of(level.value).sqrt());
        (low..=high).contains(&frequency).then_some(Figure {
            freedom: level.freedom,
            ..volts
        })
    }
}

/// A voltage times a factor that is uncertain by some decibels.
fn scaled(volts: Figure, spread: f64, factor: f64) -> Figure {
    // A part of a power in decibels is twice the same part of a voltage.
    let relative = spread / decibels_of_change(2.0);
    let value = volts.value * factor;
    Figure {
        value,
        standard: value * volts.relative().hypot(relative),
        ..volts
    }
}

/// The level of a voltage across a resistance, in dBm: 10·log₁₀(U²/R/1 mW).
pub fn milliwatts(volts: Figure, ohms: f64) -> Figure {
    Figure {
        value: decibels(volts.value.powi(2) / ohms / 1e-3),
        standard: decibels_of_change(2.0 * volts.relative()),
        ..volts
    }
}

/// The voltage across a resistance by its level in dBm: the same the other way round.
pub fn across(level: Figure, ohms: f64) -> Figure {
    let value = (power_of(level.value) * 1e-3 * ohms).sqrt();
    Figure {
        value,
        standard: value * level.standard / decibels_of_change(2.0),
        ..level
    }
}
