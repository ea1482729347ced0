//! Before the iron: what a capacitor still holds and how to drain it.

use crate::quantity::Fault;
use crate::quantity::fault::{not_negative, ordered, positive};

/// Charge in C of a capacitance in F at a voltage in V: C·V.
///
/// Source: definition of capacitance.
pub fn charge(capacitance: f64, volts: f64) -> Result<f64, Fault> {
    Ok(positive("The capacitance", capacitance)? * not_negative("The voltage", volts)?)
}

/// Energy in J of a capacitance in F at a voltage in V: ½·C·V².
///
/// Source: energy of a charged capacitor, closed form.
pub fn energy(capacitance: f64, volts: f64) -> Result<f64, Fault> {
    Ok(0.5
        * positive("The capacitance", capacitance)?
        * not_negative("The voltage", volts)?.powi(2))
}

/// Voltage in V left after a time in s of bleeding through a resistor in Ω: V₀·e^(−t/(R·C)).
///
/// Source: exponential discharge, closed form.
pub fn voltage_after(
    start: f64,
    resistance: f64,
    capacitance: f64,
    seconds: f64,
) -> Result<f64, Fault> {
    let tau = time_constant(resistance, capacitance)?;
    let start = not_negative("The voltage at the start", start)?;
    Ok(start * (-not_negative("The time", seconds)? / tau).exp())
}

/// Time in s to bleed from a voltage to a lower safe one in V through a resistor in Ω:
/// R·C·ln(V₀/V).
///
/// Source: exponential discharge, closed form.
pub fn time_to_bleed(
    start: f64,
    safe: f64,
    resistance: f64,
    capacitance: f64,
) -> Result<f64, Fault> {
    let tau = time_constant(resistance, capacitance)?;
    let safe = positive("The safe voltage", safe)?;
    ordered(
        ("The safe voltage", safe),
        ("the voltage at the start", start),
    )?;
    // The form that keeps its digits when both voltages are nearly the same.
    Ok(tau * ((start - safe) / safe).ln_1p())
}

/// Time constant in s of a resistor in Ω and a capacitor in F: R·C.
///
/// Source: NCVEC question pool E5B04.
pub fn time_constant(resistance: f64, capacitance: f64) -> Result<f64, Fault> {
    Ok(positive("The resistance", resistance)? * positive("The capacitance", capacitance)?)
}

/// Power in W that a bleeder in Ω takes at the first moment: V²/R; its rating should be above.
///
/// Source: Joule's law.
pub fn bleeder_power(volts: f64, resistance: f64) -> Result<f64, Fault> {
    Ok(not_negative("The voltage", volts)?.powi(2) / positive("The resistance", resistance)?)
}

/// A voltage below which bleeding may stop, with the standard that states it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SafeVoltage {
    /// Volts, direct.
    pub volts: f64,
    /// Standard and clause.
    pub source: &'static str,
}

/// Published thresholds for direct voltage, lowest first.
pub const SAFE_VOLTAGES: [SafeVoltage; 2] = [
    SafeVoltage {
        volts: 42.4,
        source: "IEC 60335-1, 8.1.4",
    },
    SafeVoltage {
        volts: 60.0,
        source: "IEC 60065, 9.1.1",
    },
];
