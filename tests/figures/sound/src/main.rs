//! How long it takes to make of a second of sound what its screen shows: the sine fit, SINAD, THD,
//! THD+N, level, frequency, each with its uncertainty, and the spectrum that is drawn. Natively it
//! prints nanoseconds and the SINAD in hundredths of a decibel. For the browser it exports the
//! same, and the page there has the clock.

use halfturn::signal::measure::HARMONICS;
use halfturn::signal::spectrum::fine;
use halfturn::signal::tone::Range;
use halfturn::signal::{Record, Settings, Weighting, measure};
use std::f64::consts::TAU;
use std::hint::black_box;

const RATE: f64 = 48_000.0;
const TONE: f64 = 1_004.3;
/// How many columns a picture of it has.
const COLUMNS: usize = 512;

/// A tone with a second harmonic and noise, about 20 dB SINAD.
fn second() -> Vec<f64> {
    let mut state = 1_u32;
    let mut noise = || {
        // A generator of 32 bits (Numerical Recipes' constants, from memory).
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        f64::from(state) / f64::from(u32::MAX) - 0.5
    };
    (0..RATE as usize)
        .map(|sample| {
            let angle = TAU * TONE * sample as f64 / RATE;
            0.3 * angle.sin() + 0.01 * (2.0 * angle).sin() + 0.07 * noise()
        })
        .collect()
}

/// Measures it so many times, and gives the SINAD in hundredths of a decibel.
#[unsafe(no_mangle)]
pub extern "C" fn hear(times: u32) -> i32 {
    let samples = second();
    let settings = Settings {
        range: Range::around(1_000.0),
        weighting: Weighting::Flat,
        harmonics: HARMONICS,
    };
    let mut sinad = 0.0;
    for _ in 0..times {
        let record = Record::of(&samples, RATE).expect("a sound second");
        let found = measure(&record, &settings).expect("a tone");
        black_box(fine(&samples, RATE).columns(20.0, 20_000.0, COLUMNS));
        sinad = found.sinad.value;
    }
    (100.0 * sinad).round() as i32
}

fn main() {
    const TIMES: u32 = 50;
    hear(5);
    let best = (0..5).map(|_| {
        let start = std::time::Instant::now();
        hear(TIMES);
        start.elapsed().as_nanos() / u128::from(TIMES)
    });
    println!("{} {}", best.min().unwrap_or_default(), hear(1));
}
