//! In which units what is measured is shown and taken.

use crate::app::screens::audio::numbers::rounded;
use crate::quantity::Unit;
use crate::signal::Figure;
use crate::signal::measure::Measure;
use crate::signal::volts::across;

/// The units in which a step may want a figure; the first is its own.
pub fn units(measure: Measure) -> &'static [Unit] {
    match measure {
        Measure::Sinad => &[Unit::DecibelSinad, Unit::Decibel],
        Measure::SignalAndNoise => &[Unit::DecibelSignalAndNoise, Unit::Decibel],
        Measure::Thd | Measure::ThdN => &[Unit::Percent],
        // Of full scale: no step is read in that.
        Measure::Level => &[],
        Measure::Voltage => &[Unit::VoltRms],
        Measure::Frequency | Measure::Carrier => &[Unit::Hertz],
        Measure::Hum
        | Measure::IntermodulationPep
        | Measure::Response
        | Measure::SweptResponse
        | Measure::SquelchHysteresis
        | Measure::AgcLevel
        | Measure::AgcChange => &[Unit::Decibel],
        Measure::Intermodulation => &[Unit::DecibelCarrier, Unit::Decibel],
        Measure::Sensitivity => &[Unit::DecibelMilliwatt, Unit::VoltEmf, Unit::VoltPd],
        // In what the generator's level is typed.
        Measure::SquelchOpening | Measure::SquelchClosing => {
            &[Unit::DecibelMilliwatt, Unit::VoltEmf, Unit::VoltPd]
        }
    }
}

/// The output resistance of a generator, which its level in dBm is across, in ohms (common
/// practice, no source).
pub const GENERATOR: f64 = 50.0;

/// A figure in a unit: ratios in percent, products below the tone as negative where the unit says
/// what they are against.
pub fn in_unit(measure: Measure, figure: Figure, unit: Unit) -> Figure {
    let (by, figure) = match unit {
        Unit::VoltPd => (1.0, across(figure, GENERATOR)),
        // Without a load it is twice of what stands across one of its own resistance.
        Unit::VoltEmf => (2.0, across(figure, GENERATOR)),
        _ => (1.0, figure),
    };
    let by = match (measure, unit) {
        (Measure::Thd | Measure::ThdN, _) => 100.0,
        (Measure::Intermodulation, Unit::DecibelCarrier) => -1.0,
        _ => by,
    };
    let figure = Figure {
        value: figure.value * by,
        standard: figure.standard * by.abs(),
        ..figure
    };
    rounded(measure, figure)
}

/// The unit that a figure is shown in.
pub fn unit_of(measure: Measure) -> &'static str {
    match measure {
        Measure::Level => "dBFS",
        other => units(other).first().map_or("", |unit| unit.symbol()),
    }
}

/// The unit of a difference of two.
pub fn difference_of(measure: Measure) -> &'static str {
    let unit = units(measure).first();
    unit.map_or("dB", |unit| unit.of_difference().symbol())
}
