//! What is sent: levels of tones, and noise of the band of speech.

use super::figure::power_of;
use std::f64::consts::TAU;

/// The tones in use, in hertz.
pub const TONES: [f64; 4] = [400.0, 1000.0, 1004.0, 1020.0];

/// The two tones in use, in hertz.
pub const TWO: [f64; 2] = [700.0, 1900.0];

/// The highest level of one tone, in tenths of a decibel of full scale.
pub const MOST: i32 = 0;

/// The highest of two equal tones together: at their crest they are 3 dB above one of their power.
pub const MOST_OF_TWO: i32 = -31;

/// The highest of noise, whose peaks stay below [`CREST`].
pub const MOST_OF_NOISE: i32 = -121;

/// The lowest.
pub const LEAST: i32 = -800;

/// The peak value of a tone at tenths of a decibel of full scale.
pub fn amplitude(tenths: i32) -> f64 {
    power_of(f64::from(tenths.clamp(LEAST, MOST)) / 10.0).sqrt()
}

/// The peak value of each of two equal tones that together have a level: half the power each.
pub fn each_of_two(tenths: i32) -> f64 {
    amplitude(tenths) / 2f64.sqrt()
}

/// How far a second of noise goes at most, where a tone of its level goes to 1.
pub const CREST: f64 = 4.0;

/// A second of noise from 300 to 3400 Hz that can be repeated without a seam: a line each hertz,
/// all of one size, with phases by chance from a seed. Its mean square is a half at full level, as
/// a tone's, and its peaks stay below [`CREST`].
pub fn noise(rate: usize, seed: u64) -> Vec<f64> {
    let mut chance = seed | 1;
    let mut samples = vec![0.0; rate];
    let lines = 300..=3400usize;
    let size = (1.0 / lines.clone().count() as f64).sqrt();
    // A table of one turn, for each line visits only its places.
    let turn: Vec<f64> = (0..rate)
        .map(|at| (TAU * at as f64 / rate as f64).cos())
        .collect();
    for line in lines {
        chance ^= chance << 13;
        chance ^= chance >> 7;
        chance ^= chance << 17;
        let mut place = (chance % rate as u64) as usize;
        for sample in &mut samples {
            *sample += size * turn[place];
            place = (place + line) % rate;
        }
    }
    samples
}
