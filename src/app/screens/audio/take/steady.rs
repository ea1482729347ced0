//! Whether a figure stays what it is.

use crate::signal::Figure;
use crate::signal::measure::Measure;

/// So many seconds apart from each other must agree.
pub const STRETCHES: usize = 3;

/// A figure of a second of its own, and how many samples had come by then.
#[derive(Clone, Copy)]
pub struct Stretch {
    pub came: f64,
    pub figure: Figure,
}

/// Keeps stretches that share no sample, and only as long as each agrees with the one before.
pub fn gather(all: &mut Vec<Stretch>, next: Stretch, rate: f64) {
    if all.last().is_some_and(|last| next.came < last.came + rate) {
        return;
    }
    let agrees = |each: &Stretch| {
        let apart = (each.figure.value - next.figure.value).abs();
        apart <= 3.0 * each.figure.standard.hypot(next.figure.standard)
    };
    if !all.iter().all(agrees) {
        all.clear();
    }
    all.push(next);
}

/// The mean. What is uncertain in all of them alike, as by the clock of the sound device or by one
/// reference, grows no smaller in it.
pub fn mean(all: &[Stretch], measure: Measure) -> Figure {
    let count = all.len() as f64;
    let standard = match shares_errors(measure) {
        true => all.iter().map(|it| it.figure.standard).fold(0.0, f64::max),
        false => {
            let variance = all.iter().map(|it| it.figure.standard.powi(2)).sum::<f64>();
            variance.sqrt() / count
        }
    };
    Figure {
        value: all.iter().map(|it| it.figure.value).sum::<f64>() / count,
        standard,
        freedom: all.iter().map(|it| it.figure.freedom).sum(),
    }
}

const fn shares_errors(measure: Measure) -> bool {
    matches!(
        measure,
        Measure::Frequency
            | Measure::Voltage
            | Measure::Carrier
            | Measure::SignalAndNoise
            | Measure::Response
            | Measure::Sensitivity
            | Measure::SweptResponse
            | Measure::SquelchOpening
            | Measure::SquelchClosing
            | Measure::SquelchHysteresis
            | Measure::AgcLevel
            | Measure::AgcChange
    )
}
