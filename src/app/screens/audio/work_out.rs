//! What is made of a second of sound, by what is measured.

use crate::app::screens::audio::listen::{Shown, State, Task};
use crate::signal::carrier::{Beat, Clock};
use crate::signal::hum::hum;
use crate::signal::measure::{HARMONICS, Measure, Measured, signal_and_noise};
use crate::signal::search::{Next, Search};
use crate::signal::tone::Range;
use crate::signal::two_tones::two_tones;
use crate::signal::{Figure, Record, Settings, Unfit, measure};
use leptos::prelude::*;

/// The SINAD at which a sensitivity is stated: TIA-603 and its family, from memory.
const SENSITIVITY_AT: f64 = 12.0;

/// The lowest level of common generators, in dBm.
const LOWEST_LEVEL: f64 = -140.0;

/// The standard uncertainty of a sensitivity that is enough, in decibels: ±0.4 dB at 95 %.
const ENOUGH: f64 = 0.2;

/// How a clock that nobody compared may be off.
const NOT_COMPARED: f64 = 100e-6;

impl State {
    pub fn measured(self, samples: &[f64], rate: f64) -> Result<Vec<Shown>, Unfit> {
        match self.task.get() {
            // A closed set may be silent, and a sweep is no steady tone.
            Task::Squelch => return self.squelch(samples, rate),
            Task::Response if self.series.following.get() => return self.swept(samples, rate),
            _ => {}
        }
        let record = Record::of(samples, rate)?;
        match self.task.get() {
            Task::SignalAndNoise => self.signal_and_noise(&record),
            Task::Hum => self.hum(&record),
            Task::Two => self.two_tones(&record),
            Task::Carrier => Ok(self.carrier(self.tone(&record)?)),
            Task::Response => Ok(self.response(self.tone(&record)?)),
            Task::Sensitivity => self.sensitivity(self.tone(&record)),
            Task::Agc => self.gain_control(self.tone(&record)),
            Task::Tone | Task::Squelch => self.tone(&record),
        }
    }

    fn range(self) -> Result<Range, Unfit> {
        Ok(Range::around(self.number(self.tone)?))
    }

    fn tone(self, record: &Record) -> Result<Vec<Shown>, Unfit> {
        let settings = Settings {
            range: self.range()?,
            weighting: self.weighting.get(),
            harmonics: HARMONICS,
        };
        let found = measure(record, &settings)?;
        let harmonics = found.distortion.as_ref().map(|it| it.harmonics.as_slice());
        let harmonics = harmonics.unwrap_or_default().iter().zip(2..);
        self.parts.set(
            harmonics
                .map(|(level, order)| (found.frequency.value * f64::from(order), *level))
                .collect(),
        );
        self.pitch.set(Some(found.frequency));
        Ok(self.of_tone(&found))
    }

    /// All that one tone says, volts where the input was compared with a known voltage.
    fn of_tone(self, found: &Measured) -> Vec<Shown> {
        let shown = |measure, figure| Shown { measure, figure };
        let thd = found.distortion.as_ref().map(|it| it.thd);
        let volts = self
            .full_scale
            .get()
            .and_then(|it| it.volts(found.level, found.frequency.value));
        let frequency = self.clock().right(found.frequency);
        let figures = [
            (Measure::Sinad, Some(found.sinad)),
            (Measure::ThdN, Some(found.thd_n)),
            (Measure::Thd, thd),
            (Measure::Level, Some(found.level)),
            (Measure::Voltage, volts),
            (Measure::Frequency, Some(frequency)),
        ];
        let known = figures.into_iter();
        known
            .filter_map(|(measure, figure)| Some(shown(measure, figure?)))
            .collect()
    }

    fn signal_and_noise(self, record: &Record) -> Result<Vec<Shown>, Unfit> {
        let Some(modulated) = self.modulated.get() else {
            return Ok(Vec::new());
        };
        let on = Record::of(&modulated, record.rate())?;
        let figure = signal_and_noise(&on, record, self.weighting.get())?;
        Ok(vec![Shown {
            measure: Measure::SignalAndNoise,
            figure,
        }])
    }

    fn hum(self, record: &Record) -> Result<Vec<Shown>, Unfit> {
        let range = self.range()?;
        let found = hum(record, range, self.mains.get())?;
        let multiples = found.multiples.iter().zip(1..);
        self.parts.set(
            multiples
                .map(|(level, order)| (found.mains * f64::from(order), *level))
                .collect(),
        );
        let below = found.below_tone.ok_or(Unfit::ToneAbsent {
            low: range.low,
            high: range.high,
        })?;
        Ok(vec![Shown {
            measure: Measure::Hum,
            figure: Figure::new(below, found.level.standard),
        }])
    }

    fn two_tones(self, record: &Record) -> Result<Vec<Shown>, Unfit> {
        let (lower, upper) = (self.number(self.lower)?, self.number(self.upper)?);
        let found = two_tones(record, lower, upper)?;
        let products = found.products.iter();
        self.parts.set(
            products
                .map(|it| (it.frequency, -it.below_one.value))
                .collect(),
        );
        let worst = found.strongest(3).ok_or(Unfit::NoSense)?;
        let shown = |measure, figure| Shown { measure, figure };
        Ok(vec![
            shown(Measure::Intermodulation, worst.below_one),
            shown(Measure::IntermodulationPep, worst.below_peak),
        ])
    }

    /// The clock of the sound device, as well as it is known.
    fn clock(self) -> Clock {
        self.clock.get().unwrap_or(Clock::within(NOT_COMPARED))
    }

    /// The figures of the tone with the carrier, where the input is known.
    fn carrier(self, mut found: Vec<Shown>) -> Vec<Shown> {
        let input = self.number(self.rf);
        let within = self.number(self.rf_within);
        if let (Some(pitch), Ok(input), Ok(within)) = (self.pitch.get(), input, within) {
            let beat = Beat {
                input: Figure::within(input, within),
                pitch: self.clock().right(pitch),
                sideband: self.sideband.get(),
            };
            let carrier = Shown {
                measure: Measure::Carrier,
                figure: beat.carrier(),
            };
            found.insert(0, carrier);
        }
        found
    }

    /// The figures of the tone with its level against the reference, where that was taken.
    fn response(self, mut found: Vec<Shown>) -> Vec<Shown> {
        let level = found.iter().find(|it| it.measure == Measure::Level);
        let zero = self.number(self.reference).ok().and_then(|reference| {
            let levels = self.levels.get();
            levels
                .into_iter()
                .rev()
                .find(|it| it.frequency == reference)
        });
        if let (Some(level), Some(zero)) = (level, zero) {
            let standard = level.figure.standard.hypot(zero.level.standard);
            let figure = Figure::new(level.figure.value - zero.level.value, standard);
            let measure = Measure::Response;
            found.insert(0, Shown { measure, figure });
        }
        found
    }

    /// The figures of the tone with the level that was searched, which stands without a tone too.
    fn sensitivity(self, tone: Result<Vec<Shown>, Unfit>) -> Result<Vec<Shown>, Unfit> {
        match self.searched() {
            Ok(Next::Found(crossing)) => {
                let mut found = tone.unwrap_or_default();
                let measure = Measure::Sensitivity;
                let figure = crossing.level;
                found.insert(0, Shown { measure, figure });
                Ok(found)
            }
            _ => tone,
        }
    }

    /// What the levels that were taken come to.
    pub fn searched(self) -> Result<Next, Unfit> {
        let search = Search {
            target: SENSITIVITY_AT,
            first: self.number(self.first_level)?,
            lowest: LOWEST_LEVEL,
            highest: self.number(self.highest_level)?,
            enough: ENOUGH,
        };
        self.points.with(|points| search.next(points))
    }
}
