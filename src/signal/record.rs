//! A stretch of sound that can be measured.

use super::fault::Unfit;
use super::figure::decibels;

/// Samples this near to the end of the scale count as clipped: 12 bits end at 0.9995.
const CLIPPED: f64 = 0.999;

/// Below this there is nothing: what a converter of 16 bits leaves when it is open.
const SILENT: f64 = -90.0;

/// So many samples of nothing in a row within a sound are a gap: browsers put in 128 where they are
/// late.
const GAP: usize = 100;

/// The least rate that holds the band of speech.
pub const LEAST_RATE: f64 = 8_000.0;

/// The greatest rate of common sound devices.
pub const MOST_RATE: f64 = 192_000.0;

/// Samples of one channel, looked over: of a sound rate, neither silent nor clipped, and enough.
#[derive(Clone, Copy, Debug)]
pub struct Record<'a> {
    samples: &'a [f64],
    rate: f64,
}

impl<'a> Record<'a> {
    /// Looks samples over that were taken at a rate in hertz.
    pub fn of(samples: &'a [f64], rate: f64) -> Result<Record<'a>, Unfit> {
        if !(LEAST_RATE..=MOST_RATE).contains(&rate) {
            return Err(Unfit::Rate { hertz: rate });
        }
        // A tenth of a second.
        let least = (rate / 10.0).ceil() as usize;
        if samples.len() < least {
            return Err(Unfit::TooShort {
                samples: samples.len(),
                least,
            });
        }
        if samples.iter().any(|each| !each.is_finite()) {
            return Err(Unfit::NotFinite);
        }
        let clipped = samples.iter().filter(|each| each.abs() >= CLIPPED).count();
        if clipped > 0 {
            return Err(Unfit::Clipped { samples: clipped });
        }
        let level = level(samples);
        if level < SILENT {
            return Err(Unfit::Silent { level });
        }
        match longest_nothing(samples) >= GAP {
            true => Err(Unfit::Gap),
            false => Ok(Record { samples, rate }),
        }
    }

    /// The samples.
    pub fn samples(&self) -> &'a [f64] {
        self.samples
    }

    /// The rate in hertz.
    pub fn rate(&self) -> f64 {
        self.rate
    }

    /// How long it lasts, in seconds.
    pub fn seconds(&self) -> f64 {
        self.samples.len() as f64 / self.rate
    }

    /// A part of it, from a sample on.
    pub(super) fn parts(&self, count: usize) -> impl Iterator<Item = &'a [f64]> {
        self.samples.chunks_exact(self.samples.len() / count)
    }
}

/// The level of all but the constant part, in dBFS; minus infinity where there is nothing.
pub fn level(samples: &[f64]) -> f64 {
    let count = samples.len().max(1) as f64;
    let mean = samples.iter().sum::<f64>() / count;
    let power = samples
        .iter()
        .map(|each| (each - mean).powi(2))
        .sum::<f64>()
        / count;
    decibels(2.0 * power)
}

/// The longest row of samples that are exactly zero.
fn longest_nothing(samples: &[f64]) -> usize {
    let rows = samples.split(|each| *each != 0.0);
    rows.map(<[f64]>::len).max().unwrap_or(0)
}

/// The largest sample, as a part of full scale.
pub fn peak(samples: &[f64]) -> f64 {
    samples.iter().fold(0.0, |most, each| each.abs().max(most))
}
