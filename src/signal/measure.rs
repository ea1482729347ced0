//! SINAD, signal to noise, distortion.
//!
//! SINAD is a receiver's: (S+N+D)/(N+D), never below 0 dB, tone and residue through one and the
//! same filter. The sine fit's own ratio, S/(N+D), is 0.28 dB less at 12 dB.

use super::fault::Unfit;
use super::figure::{Figure, decibels, decibels_of_change, freedom_of};
use super::lines;
use super::power::Left;
use super::record::Record;
use super::tone::{self, Found, Range};
use super::weighting::Weighting;
use serde::{Deserialize, Serialize};

/// What can be measured in sound.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Measure {
    /// (S+N+D)/(N+D).
    Sinad,
    /// (S+N)/N, by switching the modulation.
    SignalAndNoise,
    /// Harmonics over the fundamental.
    Thd,
    /// Noise and distortion over all.
    ThdN,
    /// The level of the tone.
    Level,
    /// The voltage of the tone.
    Voltage,
    /// The frequency of the tone.
    Frequency,
    /// The multiples of the mains below the tone.
    Hum,
    /// The strongest product of the third order below one of two tones.
    Intermodulation,
    /// The same below the peak envelope power.
    IntermodulationPep,
    /// A level against that at the reference tone.
    Response,
    /// A carrier by the pitch of its beat.
    Carrier,
    /// The level at which a figure is crossed.
    Sensitivity,
    /// A level against that at the reference tone, by a tone that sweeps.
    SweptResponse,
    /// The level at which the squelch opens.
    SquelchOpening,
    /// The level at which it closes.
    SquelchClosing,
    /// By how much it closes below where it opens.
    SquelchHysteresis,
    /// The output against that at a reference level of the input.
    AgcLevel,
    /// The change of the output over a change of the input.
    AgcChange,
}

impl Measure {
    /// Whether it sets the level of one line against that of another. What the response of the
    /// input is off by from the one to the other is then in it, and nothing in the sound tells that.
    pub const fn compares_lines(self) -> bool {
        matches!(
            self,
            Measure::Thd
                | Measure::Hum
                | Measure::Intermodulation
                | Measure::IntermodulationPep
                | Measure::Response
                | Measure::SweptResponse
        )
    }

    /// Whether it is a level of the generator that the sound only tells: it is as uncertain as that.
    pub const fn is_of_generator(self) -> bool {
        matches!(
            self,
            Measure::Sensitivity | Measure::SquelchOpening | Measure::SquelchClosing
        )
    }

    /// Whether something in it is not known by the sound: the response of the input, the steps of
    /// the generator's attenuator, or a drift between readings of which there is but one each.
    pub const fn leaves_open(self, count: u32) -> bool {
        match self {
            Measure::SquelchHysteresis => true,
            Measure::AgcLevel | Measure::AgcChange => count < 2,
            other => other.compares_lines(),
        }
    }

    /// Its name, with what is put in relation to what.
    pub const fn name(self) -> &'static str {
        match self {
            Measure::Sinad => "SINAD (S+N+D)/(N+D)",
            Measure::SignalAndNoise => "(S+N)/N",
            Measure::Thd => "THD over the fundamental",
            Measure::ThdN => "THD+N over all",
            Measure::Level => "level of the tone",
            Measure::Voltage => "voltage of the tone",
            Measure::Frequency => "frequency of the tone",
            Measure::Hum => "hum below the tone",
            Measure::Intermodulation => "third-order products below one tone",
            Measure::IntermodulationPep => "third-order products below PEP",
            Measure::Response => "level against the reference",
            Measure::Carrier => "carrier by pitch",
            Measure::Sensitivity => "sensitivity",
            Measure::SweptResponse => "level against the reference by a sweep",
            Measure::SquelchOpening => "opening of the squelch",
            Measure::SquelchClosing => "closing of the squelch",
            Measure::SquelchHysteresis => "closing of the squelch below its opening",
            Measure::AgcLevel => "output against that at the reference level",
            Measure::AgcChange => "change of the output over that of the input",
        }
    }
}

/// How a record is measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Settings {
    /// Where its tone is.
    pub range: Range,
    /// Through which filter.
    pub weighting: Weighting,
    /// Up to which harmonic THD counts.
    pub harmonics: usize,
}

/// Up to which harmonic THD counts unless it is said.
pub const HARMONICS: usize = 10;

/// What a record with one tone says.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// The frequency of the tone in hertz, by the clock of the sound device.
    pub frequency: Figure,
    /// Its level in dBFS.
    pub level: Figure,
    /// (S+N+D)/(N+D) in decibels.
    pub sinad: Figure,
    /// S/(N+D) in decibels.
    pub fit_sinad: Figure,
    /// The share of noise and distortion in all, as a voltage: 1 over the SINAD.
    pub thd_n: Figure,
    /// Harmonics over the fundamental, without a filter; nothing where none is below half the rate.
    pub distortion: Option<Distortion>,
}

/// The harmonics of a tone.
#[derive(Clone, Debug, PartialEq)]
pub struct Distortion {
    /// The root of their powers' sum over the fundamental.
    pub thd: Figure,
    /// Each one's level in dBFS, from the second on.
    pub harmonics: Vec<f64>,
}

/// Measures a record that holds a tone.
pub fn measure(record: &Record, settings: &Settings) -> Result<Measured, Unfit> {
    let found = tone::find(record, settings.range)?;
    let ratio = ratio(&found, settings.weighting)?;
    Ok(Measured {
        frequency: found.frequency(),
        level: found.level(),
        sinad: ratio.sinad(),
        fit_sinad: ratio.fit_sinad(),
        thd_n: ratio.thd_n(),
        distortion: distortion(record, &found, settings.harmonics)?,
    })
}

/// S/(N+D) as a ratio of powers.
struct Ratio {
    value: f64,
    relative: f64,
    freedom: f64,
}

/// Tone and residue through one filter.
fn ratio(found: &Found, weighting: Weighting) -> Result<Ratio, Unfit> {
    let frequency = found.sine.line.frequency;
    let tone = found.sine.line.power() * weighting.power(frequency);
    let rest = found.left.power(weighting);
    // A tone outside the filter, or nothing beside it.
    if tone <= 0.0 || rest.value <= 0.0 {
        return Err(Unfit::NoSense);
    }
    Ok(Ratio {
        value: tone / rest.value,
        relative: rest.relative().hypot(2.0 * found.amplitude().relative()),
        freedom: rest.freedom,
    })
}

impl Ratio {
    fn figure(&self, value: f64, standard: f64) -> Figure {
        Figure {
            value,
            standard,
            freedom: self.freedom,
        }
    }

    fn sinad(&self) -> Figure {
        let share = self.value / (1.0 + self.value);
        self.figure(
            decibels(1.0 + self.value),
            decibels_of_change(self.relative * share),
        )
    }

    fn fit_sinad(&self) -> Figure {
        self.figure(decibels(self.value), decibels_of_change(self.relative))
    }

    fn thd_n(&self) -> Figure {
        let value = (1.0 + self.value).sqrt().recip();
        let share = self.value / (1.0 + self.value);
        self.figure(value, value * self.relative * share / 2.0)
    }
}

/// All harmonics below half the rate at once, so that none leaks into another.
fn distortion(record: &Record, found: &Found, most: usize) -> Result<Option<Distortion>, Unfit> {
    let fundamental = found.sine.line.frequency;
    // A twentieth below half the rate, where the converter's own filter begins.
    let end = record.rate() * 0.475;
    let frequencies: Vec<f64> = (1..=most)
        .map(|order| fundamental * order as f64)
        .take_while(|each| *each < end)
        .collect();
    if frequencies.len() < 2 {
        return Ok(None);
    }
    let lines = lines::fit(record.samples(), record.rate(), &frequencies)?.lines;
    let harmonics: Vec<f64> = lines.iter().skip(1).map(|each| each.amplitude()).collect();
    let noise = frequencies
        .iter()
        .skip(1)
        .map(|each| found.left.spectrum().density(*each));
    let together = root(&harmonics);
    let tone = found.sine.line.amplitude();
    // What moves the root of a sum of squares is each one's part in it.
    let moved = harmonics.iter().zip(noise).map(|(amplitude, density)| {
        let part = if together > 0.0 {
            amplitude / together
        } else {
            1.0
        };
        part * (density / record.seconds()).sqrt()
    });
    Ok(Some(Distortion {
        thd: Figure::new(together / tone, root(&moved.collect::<Vec<f64>>()) / tone),
        harmonics: harmonics
            .iter()
            .map(|each| decibels(each.powi(2)))
            .collect(),
    }))
}

fn root(parts: &[f64]) -> f64 {
    parts.iter().map(|each| each * each).sum::<f64>().sqrt()
}

/// (S+N)/N in decibels: the output with the modulation on, then with it off and the carrier on.
pub fn signal_and_noise(on: &Record, off: &Record, weighting: Weighting) -> Result<Figure, Unfit> {
    let power = |record: &Record| {
        let mean = record.samples().iter().sum::<f64>() / record.samples().len() as f64;
        let samples = record.samples().iter().map(|each| each - mean);
        Left::of(samples.collect(), record.rate()).power(weighting)
    };
    let (on, off) = (power(on), power(off));
    if on.value <= 0.0 || off.value <= 0.0 {
        return Err(Unfit::NoSense);
    }
    let (with, without) = (on.relative(), off.relative());
    let parts = [(with.powi(2), on.freedom), (without.powi(2), off.freedom)];
    Ok(Figure {
        value: decibels(on.value / off.value),
        standard: decibels_of_change(with.hypot(without)),
        freedom: freedom_of(parts.into_iter()),
    })
}
