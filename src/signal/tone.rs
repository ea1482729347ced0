//! The tone of a record: where it is, how strong, and whether it stands still.

use super::fault::Unfit;
use super::figure::{Figure, decibels, decibels_of_change, ends};
use super::fit::{self, Sine};
use super::lines::turn;
use super::power::Left;
use super::record::Record;
use super::spectrum::{Spectrum, fine};
use super::weighting::Weighting;
use std::f64::consts::{PI, TAU};

/// Where a tone is looked for, in hertz.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// From here.
    pub low: f64,
    /// To here.
    pub high: f64,
}

/// The band in which a tone of unknown pitch is looked for.
pub const SPEECH: Range = Range {
    low: 250.0,
    high: 3_450.0,
};

impl Range {
    /// Around a tone that is known by its name, such as 1000 Hz: a twentieth to either side.
    pub fn around(hertz: f64) -> Range {
        Range {
            low: hertz * 0.95,
            high: hertz * 1.05,
        }
    }
}

/// By how much a line must stand out of the middle one around it: 17 times the mean of noise,
/// which by chance one line of 30 million does (e⁻¹⁷).
const STANDS_OUT: f64 = 25.0;

/// A tone that was found, and the record without it.
pub struct Found {
    /// The sine.
    pub sine: Sine,
    /// The rest.
    pub left: Left,
    /// The noise around it, in mean square for each hertz.
    pub density: f64,
    seconds: f64,
}

/// Finds the strongest tone in a range and fits it.
pub fn find(record: &Record, range: Range) -> Result<Found, Unfit> {
    let (samples, rate) = (record.samples(), record.rate());
    let absent = Unfit::ToneAbsent {
        low: range.low,
        high: range.high,
    };
    let near = strongest(&fine(samples, rate), range).ok_or(absent)?;
    let sine = fit::four(samples, rate, near).map_err(|_| absent)?;
    let left = Left::of(sine.residue(samples, rate), rate);
    let found = Found {
        density: left.spectrum().density(sine.line.frequency),
        seconds: record.seconds(),
        sine,
        left,
    };
    found.stands_still(record)?;
    Ok(found)
}

impl Found {
    /// Its frequency in hertz. The bound of Cramér and Rao, by the noise that is around the tone:
    /// σ² = 3·N₀/(π²·A²·T³).
    pub fn frequency(&self) -> Figure {
        let variance =
            3.0 * self.density / (PI * self.sine.line.amplitude()).powi(2) / self.seconds.powi(3);
        Figure::new(self.sine.line.frequency, variance.sqrt())
    }

    /// Its peak value as a part of full scale.
    pub fn amplitude(&self) -> Figure {
        let standard = (self.density / self.seconds).sqrt();
        Figure::new(self.sine.line.amplitude(), standard)
    }

    /// Its level in dBFS.
    pub fn level(&self) -> Figure {
        let amplitude = self.amplitude();
        Figure::new(
            decibels(amplitude.value.powi(2)),
            decibels_of_change(2.0 * amplitude.relative()),
        )
    }

    /// A pitch or a level that moves slowly leaves a residue that is neither noise nor distortion. It
    /// counts where it makes a tenth of the residue and is surely not made by the noise.
    fn stands_still(&self, record: &Record) -> Result<(), Unfit> {
        let Parts { phases, levels } = parts(record, &self.sine);
        let piece = self.seconds / PARTS as f64;
        let by_noise = 1.5 * self.density / (self.sine.line.amplitude().powi(2) * piece);
        let power = self.sine.line.power();
        let left = self.left.power(Weighting::Whole).value;
        let moves = |wander: f64| {
            wander > LEAST_WANDER.powi(2) && wander > 9.0 * by_noise && wander * power > 0.1 * left
        };
        if moves(mean_square(from_line(&phases).into_iter())) {
            return Err(Unfit::ToneWanders {
                hertz: steepest(&phases) / (TAU * piece),
            });
        }
        let (low, high) = ends(levels.iter().copied());
        match moves(mean_square(levels.into_iter().map(|level| level - 1.0))) {
            true => Err(Unfit::LevelWanders {
                decibels: decibels((high / low).powi(2)),
            }),
            false => Ok(()),
        }
    }
}

fn mean_square(values: impl ExactSizeIterator<Item = f64>) -> f64 {
    let count = values.len() as f64;
    values.map(|each| each * each).sum::<f64>() / count
}

/// Over so many parts of the record the phase is followed.
const PARTS: usize = 8;

/// Less than this, in radians, is what clocks of sound devices do: −50 dB.
const LEAST_WANDER: f64 = 0.003;

/// The tone in each part of the record, against the sine through all of it.
struct Parts {
    /// Its phase, in radians.
    phases: Vec<f64>,
    /// Its amplitude, as a part of the sine's.
    levels: Vec<f64>,
}

fn parts(record: &Record, sine: &Sine) -> Parts {
    let step = TAU * sine.line.frequency / record.rate();
    let length = record.samples().len() / PARTS;
    let middle = (record.samples().len() as f64 - 1.0) / 2.0;
    let due = sine.line.sine.atan2(sine.line.cosine);
    let parts = record.parts(PARTS).take(PARTS).enumerate();
    let tone = |(part, samples): (usize, &[f64])| {
        let (mut cosines, mut sines) = (0.0, 0.0);
        let window = TAU / length as f64;
        turn(length, step, |at, cosine, sine| {
            let sample = samples[at] * (1.0 - (window * (at as f64 + 0.5)).cos());
            cosines += sample * cosine;
            sines += sample * sine;
        });
        let centre = part as f64 * length as f64 + (length as f64 - 1.0) / 2.0;
        // x = A·cos(ωt − φ), and the part's own middle is at ω·(centre − middle).
        let phase = sines.atan2(cosines) + step * (centre - middle) - due;
        // The window has a mean of one, and a cosine's square one of a half.
        let level = 2.0 * sines.hypot(cosines) / length as f64 / sine.line.amplitude();
        (phase - TAU * (phase / TAU).round(), level)
    };
    let (phases, levels) = parts.map(tone).unzip();
    Parts {
        phases: unrolled(phases),
        levels,
    }
}

/// Phases that go on from one to the next without a leap of more than half a turn.
fn unrolled(mut phases: Vec<f64>) -> Vec<f64> {
    for at in 1..phases.len() {
        let leap = phases[at] - phases[at - 1];
        phases[at] -= TAU * (leap / TAU).round();
    }
    phases
}

/// How far each is from the straight line through all.
fn from_line(values: &[f64]) -> Vec<f64> {
    let count = values.len() as f64;
    let middle = (count - 1.0) / 2.0;
    let mean = values.iter().sum::<f64>() / count;
    let (mut with, mut own) = (0.0, 0.0);
    for (at, value) in values.iter().enumerate() {
        with += (at as f64 - middle) * (value - mean);
        own += (at as f64 - middle).powi(2);
    }
    let slope = with / own;
    let apart = values.iter().enumerate();
    apart
        .map(|(at, value)| value - mean - slope * (at as f64 - middle))
        .collect()
}

/// The difference between the fastest and the slowest change.
fn steepest(phases: &[f64]) -> f64 {
    let (low, high) = ends(phases.windows(2).map(|pair| pair[1] - pair[0]));
    high - low
}

/// The frequency of the strongest line in a range that stands out, between the lines by the
/// parabola through its decibels.
pub(super) fn strongest(spectrum: &Spectrum, range: Range) -> Option<f64> {
    let first = ((range.low / spectrum.spacing).ceil() as usize).max(1);
    let last = ((range.high / spectrum.spacing).floor() as usize)
        .min(spectrum.power.len().checked_sub(2)?);
    let lines = first..=last;
    let at = lines.max_by(|a, b| spectrum.power[*a].total_cmp(&spectrum.power[*b]))?;
    let hertz = at as f64 * spectrum.spacing;
    let power = spectrum.power[at];
    if power <= STANDS_OUT * spectrum.floor(hertz) {
        return None;
    }
    let level = |line: usize| spectrum.power[line].max(f64::MIN_POSITIVE).ln();
    let (before, here, after) = (level(at - 1), level(at), level(at + 1));
    let bend = before - 2.0 * here + after;
    let part = if bend < 0.0 {
        (before - after) / (2.0 * bend)
    } else {
        0.0
    };
    Some((at as f64 + part.clamp(-1.0, 1.0)) * spectrum.spacing)
}

/// The strongest line near a frequency; an error where none stands out.
pub(super) fn near(samples: &[f64], rate: f64, hertz: f64) -> Result<f64, Unfit> {
    let range = Range::around(hertz);
    let absent = Unfit::ToneAbsent {
        low: range.low,
        high: range.high,
    };
    strongest(&fine(samples, rate), range).ok_or(absent)
}
