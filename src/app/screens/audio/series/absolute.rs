//! The level at the reference as a power, for steps that read the response so.

use crate::app::screens::audio::listen::State;
use crate::quantity::{Quantity, Scale, Unit, read_number};
use crate::signal::Figure;
use crate::signal::volts::milliwatts;
use leptos::prelude::*;

/// A power across a load.
#[derive(Clone, Debug, PartialEq)]
pub struct Power {
    /// In dBm.
    pub level: Figure,
    pub load: Quantity,
}

impl State {
    /// The level at the reference tone; nothing before that was taken, or before the input was
    /// compared with a known voltage at it.
    pub fn power_at_reference(self) -> Option<Power> {
        let reference = self.number(self.reference).ok()?;
        let number = self.load.with(|text| read_number(text, self.bench.sign()));
        let load = Quantity::new(number.ok()?, Scale::plain(Unit::Ohm));
        let ohms = Some(load.base_f64()).filter(|ohms| *ohms > 0.0)?;
        let by_tone = self.levels.with(|taken| {
            let mut latest_first = taken.iter().rev();
            let found = latest_first.find(|it| it.frequency == reference);
            found.map(|it| it.level)
        });
        let by_sweep = || self.series.sweep.with(|sweep| sweep.level_at(reference));
        let level = by_tone.or_else(by_sweep)?;
        let volts = self.full_scale.get()?.volts(level, reference)?;
        Some(Power {
            level: milliwatts(volts, ohms),
            load,
        })
    }
}

impl Power {
    /// A level against the reference as a power.
    pub fn plus(&self, response: Figure) -> Figure {
        Figure {
            value: self.level.value + response.value,
            standard: self.level.standard.hypot(response.standard),
            freedom: response.freedom,
        }
    }
}
