//! Sound that is made up: tones, hum and noise by chance from a seed.

#![allow(dead_code)]

use std::f64::consts::TAU;

/// Chance that anybody can make again: splitmix64 (Steele, Lea, Flood 2014), by counting, so that
/// an array of it is made in one go elsewhere too.
pub struct Chance {
    seed: u64,
    at: u64,
}

impl Chance {
    pub fn of(seed: u64) -> Chance {
        Chance { seed, at: 0 }
    }

    /// From 0 up to 1, never 0 itself.
    pub fn even(&mut self) -> f64 {
        self.at += 1;
        let mut z = self
            .seed
            .wrapping_add(self.at.wrapping_mul(0x9e37_79b9_7f4a_7c15));
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^= z >> 31;
        ((z >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.even()
    }

    /// Of the normal distribution, by the way of Box and Muller.
    pub fn normal(&mut self) -> f64 {
        let (radius, turn) = (self.even(), self.even());
        (-2.0 * radius.ln()).sqrt() * (TAU * turn).cos()
    }
}

/// A sine of a peak value.
pub fn tone(rate: f64, count: usize, hertz: f64, peak: f64, phase: f64) -> Vec<f64> {
    (0..count)
        .map(|at| peak * (TAU * hertz * at as f64 / rate + phase).cos())
        .collect()
}

/// White noise of an effective value.
pub fn noise(count: usize, effective: f64, chance: &mut Chance) -> Vec<f64> {
    (0..count).map(|_| effective * chance.normal()).collect()
}

/// Noise of the band of speech, as receivers have it: white noise through two poles of low pass
/// at 3 kHz and two of high pass at 300 Hz. Its effective value is so in the mean, and scatters
/// from record to record as noise does.
pub fn band_noise(rate: f64, count: usize, effective: f64, chance: &mut Chance) -> Vec<f64> {
    let warm = (rate / 10.0) as usize;
    let mut once = vec![0.0; warm];
    once[0] = 1.0;
    // White noise comes out with the energy of what one sample makes.
    let energy: f64 = through_band(rate, once)
        .iter()
        .map(|each| each * each)
        .sum();
    let white = noise(count + warm, effective / energy.sqrt(), chance);
    through_band(rate, white).split_off(warm)
}

fn through_band(rate: f64, mut samples: Vec<f64>) -> Vec<f64> {
    for (hertz, high) in [
        (3000.0, false),
        (3000.0, false),
        (300.0, true),
        (300.0, true),
    ] {
        let part = 1.0 - (-TAU * hertz / rate).exp();
        let mut low = 0.0;
        for sample in &mut samples {
            low += part * (*sample - low);
            *sample = if high { *sample - low } else { low };
        }
    }
    samples
}

pub fn sum(parts: &[Vec<f64>]) -> Vec<f64> {
    (0..parts[0].len())
        .map(|at| parts.iter().map(|part| part[at]).sum())
        .collect()
}

/// How many trials: of the whole number where `HALFTURN_TRIALS` asks for them.
pub fn trials(short: usize) -> usize {
    std::env::var("HALFTURN_TRIALS")
        .ok()
        .and_then(|text| text.parse().ok())
        .unwrap_or(short)
}
