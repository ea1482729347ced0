//! How figures and what they are uncertain by come into digits.

use crate::metrology::distribution::student::coverage_factor;
use crate::quantity::{DecimalSign, Number, Quantity, Scale};
use crate::signal::Figure;
use crate::signal::measure::Measure;

/// As many decimals as a figure's uncertainty bears: the last is worth up to five times of it, as
/// the tenth of a decibel of a SINAD is, so that it stays one from look to look.
pub fn decimals(standard: f64) -> u8 {
    let needed = -(5.0 * standard).log10();
    match needed.is_finite() {
        true => needed.ceil().clamp(0.0, 6.0) as u8,
        false => 1,
    }
}

/// The decimals of what is measured. A voltage is held against one that was typed, and shows no
/// fewer digits than that.
pub fn decimals_of(measure: Measure, standard: f64) -> u8 {
    match measure {
        Measure::Voltage => decimals(standard / 5.0),
        // Of levels that are typed in tenths and halves.
        Measure::SquelchHysteresis => 1,
        _ => decimals(standard).min(most_decimals(measure)),
    }
}

/// More of them say nothing of a set, however clean the sound is: the input has its own noise and
/// distortion in it.
const fn most_decimals(measure: Measure) -> u8 {
    match measure {
        Measure::Thd | Measure::ThdN => 3,
        Measure::Sinad
        | Measure::SignalAndNoise
        | Measure::Level
        | Measure::Hum
        | Measure::Intermodulation
        | Measure::IntermodulationPep
        | Measure::Response
        | Measure::SweptResponse
        | Measure::AgcLevel
        | Measure::AgcChange => 2,
        _ => 6,
    }
}

/// A figure in the unit that it is shown in, with what it is rounded by where that is more than
/// the sound leaves open.
pub fn rounded(measure: Measure, figure: Figure) -> Figure {
    let most = most_decimals(measure);
    let is_finer = figure.standard > 0.0 && decimals(figure.standard) > most;
    let last = 10f64.powi(-i32::from(most));
    Figure {
        standard: match is_finer {
            true => figure.standard.hypot(last / 12f64.sqrt()),
            false => figure.standard,
        },
        ..figure
    }
}

/// Digits of a value.
pub fn digits(value: f64, decimals: u8, sign: DecimalSign) -> String {
    Number::from_f64(value, decimals).map_or(String::new(), |number| number.typeset(sign))
}

/// What a figure is uncertain by at 95 %.
pub fn expanded(figure: Figure) -> f64 {
    coverage_factor(0.95, figure.freedom.max(1.0)).map_or(f64::NAN, |k| k * figure.standard)
}

/// The decimals that leave two digits of a size; none of nothing, as a reference has against
/// itself.
pub fn two_digits(size: f64) -> u8 {
    match size > 0.0 {
        true => (1.0 - size.log10().floor()).clamp(0.0, 9.0) as u8,
        false => 0,
    }
}

/// An uncertainty in two digits, rounded up.
pub fn uncertainty(size: f64, sign: DecimalSign) -> String {
    let decimals = two_digits(size).min(7);
    let step = 10f64.powi(-i32::from(decimals));
    digits((size / step).ceil() * step, decimals, sign)
}

/// The standard uncertainty as a budget takes it, which holds it for well known: what few readings
/// tell is wider by as much as their factor is.
pub fn budgeted(figure: Figure) -> f64 {
    let well_known = Figure::new(figure.value, figure.standard);
    match (expanded(figure), expanded(well_known)) {
        (few, many) if many > 0.0 && few.is_finite() => figure.standard * few / many,
        _ => figure.standard,
    }
}

/// A value with as many digits as it takes, four at most.
pub fn exact(value: f64, scale: Scale) -> Option<Quantity> {
    let is_exact = |decimals: &u8| {
        let counts = value * 10f64.powi(i32::from(*decimals));
        (counts - counts.round()).abs() < 1e-6
    };
    let decimals = (0..4).find(is_exact).unwrap_or(4);
    Some(Quantity::new(Number::from_f64(value, decimals)?, scale))
}
