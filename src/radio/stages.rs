//! Stages: quiescent current, dissipation, heat and resonance.

use crate::quantity::Fault;
use crate::quantity::fault::{above, finite, not_negative, ordered, positive};
use std::f64::consts::TAU;

/// Current in A from the drop in V across a resistor in Ω: V/R.
///
/// Source: Ohm's law.
pub fn current_of_drop(drop: f64, resistance: f64) -> Result<f64, Fault> {
    let resistance = positive("The resistance", resistance)?;
    Ok(finite("The drop", drop)? / resistance)
}

/// Dissipation in W of a resistor in Ω at a current in A, direct or RMS: I²·R.
///
/// Source: Joule's law.
pub fn resistor_dissipation(current: f64, resistance: f64) -> Result<f64, Fault> {
    let resistance = positive("The resistance", resistance)?;
    Ok(finite("The current", current)?.powi(2) * resistance)
}

/// Ripple from peak to peak as a share of a direct voltage, both in V: Vpp/V.
///
/// Source: definition, closed form.
pub fn ripple_share(direct: f64, ripple: f64) -> Result<f64, Fault> {
    let direct = above(
        "The direct voltage",
        finite("The direct voltage", direct)?.abs(),
        0.0,
    )?;
    Ok(not_negative("The ripple", ripple)? / direct)
}

/// RMS of a sawtooth about its mean from its swing: Vpp/(2·√3).
///
/// Source: mean square of a straight line, closed form.
pub fn rms_of_sawtooth(peak_to_peak: f64) -> f64 {
    peak_to_peak / (2.0 * 3f64.sqrt())
}

/// Ripple in V p-p, at most, of a reservoir capacitor in F that feeds a current in A and is
/// charged so many times a second: I/(f·C).
///
/// Source: charge taken between two peaks, closed form.
pub fn reservoir_ripple(current: f64, frequency: f64, capacitance: f64) -> Result<f64, Fault> {
    let charge =
        not_negative("The load current", current)? / positive("The ripple frequency", frequency)?;
    Ok(charge / positive("The capacitance", capacitance)?)
}

/// Sum of the currents of stages in A.
///
/// Source: Kirchhoff's current law.
pub fn sum_of_stages(currents: &[f64]) -> f64 {
    currents.iter().sum()
}

/// What the base-emitter voltage of a silicon transistor suggests.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BaseVoltage {
    /// Below 0.6 V: cut off, or the bias is missing.
    CutOff,
    /// 0.6 to 0.75 V: plausible for a conducting transistor.
    Plausible,
    /// Above 0.75 V: the junction may be open, or the emitter has lost its ground.
    Suspicious,
}

/// Least base-emitter voltage in V of a conducting silicon transistor.
pub const BASE_VOLTAGE_LEAST: f64 = 0.6;

/// Greatest base-emitter voltage in V of a sound silicon transistor at bench currents.
pub const BASE_VOLTAGE_MOST: f64 = 0.75;

/// Judges the base-emitter voltage in V of a silicon transistor: 0.6 to 0.75 V is plausible.
///
/// Source: common practice, no source.
pub fn judge_base_voltage(volts: f64) -> Result<BaseVoltage, Fault> {
    let volts = finite("The base-emitter voltage", volts)?;
    Ok(match volts {
        v if v < BASE_VOLTAGE_LEAST => BaseVoltage::CutOff,
        v if v <= BASE_VOLTAGE_MOST => BaseVoltage::Plausible,
        _ => BaseVoltage::Suspicious,
    })
}

/// Dissipation in W of a series pass device: (Vin−Vout)·I.
///
/// Source: Joule's law.
pub fn pass_dissipation(input: f64, output: f64, current: f64) -> Result<f64, Fault> {
    ordered(("The output voltage", output), ("the input voltage", input))?;
    Ok((input - output) * not_negative("The current", current)?)
}

/// Dissipation in W of an output stage: V·I + drive − output power.
///
/// Source: conservation of energy.
pub fn output_dissipation(
    supply: f64,
    current: f64,
    drive: f64,
    output: f64,
) -> Result<f64, Fault> {
    let supplied = not_negative("The supply voltage", supply)?
        * not_negative("The current", current)?
        + not_negative("The drive power", drive)?;
    let output = not_negative("The output power", output)?;
    ordered(
        ("The output power", output),
        ("the power that goes in", supplied),
    )?;
    Ok(supplied - output)
}

/// Junction temperature in °C of a dissipation in W through thermal resistances in °C/W from
/// an ambient temperature in °C: TA + P·(θJC+θCS+θSA).
///
/// Source: laboratory sheet on transistor heat sinking, TJ = TA + PD(θjc + θcs + θsa).
pub fn junction_temperature(ambient: f64, watts: f64, resistances: &[f64]) -> Result<f64, Fault> {
    let ambient = above("The ambient temperature in °C", ambient, -273.15)?;
    let watts = not_negative("The dissipation", watts)?;
    let path = resistances.iter().try_fold(0.0, |sum, &theta| {
        Ok(sum + not_negative("The thermal resistance", theta)?)
    })?;
    Ok(ambient + watts * path)
}

/// Greatest thermal resistance in °C/W that a heatsink may have for a junction temperature in °C:
/// (TJ−TA)/P − θJC − θCS.
///
/// Source: laboratory sheet on transistor heat sinking, solved for θsa.
pub fn heatsink_needed(
    junction: f64,
    ambient: f64,
    watts: f64,
    junction_to_case: f64,
    case_to_sink: f64,
) -> Result<f64, Fault> {
    let watts = positive("The dissipation", watts)?;
    ordered(
        ("The ambient temperature", ambient),
        ("the highest junction temperature", junction),
    )?;
    let inside = not_negative("The thermal resistance junction to case", junction_to_case)?
        + not_negative("The thermal resistance case to sink", case_to_sink)?;
    above(
        "What is left for the heatsink, in °C/W,",
        (junction - ambient) / watts - inside,
        0.0,
    )
}

/// Resonance in Hz of an inductance in H and a capacitance in F: 1/(2π·√(L·C)).
///
/// Source: Thomson's formula.
pub fn resonance(inductance: f64, capacitance: f64) -> Result<f64, Fault> {
    let inductance = positive("The inductance", inductance)?;
    let capacitance = positive("The capacitance", capacitance)?;
    Ok(1.0 / (TAU * inductance.sqrt() * capacitance.sqrt()))
}

/// Capacitance in F that resonates an inductance in H at a frequency in Hz: 1/((2πf)²·L).
///
/// Source: Thomson's formula, solved for C.
pub fn resonating_capacitance(frequency: f64, inductance: f64) -> Result<f64, Fault> {
    let frequency = positive("The frequency", frequency)?;
    let inductance = positive("The inductance", inductance)?;
    Ok(1.0 / ((TAU * frequency).powi(2) * inductance))
}

/// Inductance in H that resonates a capacitance in F at a frequency in Hz: 1/((2πf)²·C).
///
/// Source: Thomson's formula, solved for L.
pub fn resonating_inductance(frequency: f64, capacitance: f64) -> Result<f64, Fault> {
    let frequency = positive("The frequency", frequency)?;
    let capacitance = positive("The capacitance", capacitance)?;
    Ok(1.0 / ((TAU * frequency).powi(2) * capacitance))
}

/// By how many Hz a probe's capacitance in F pulls a resonance, as a change below zero:
/// f₀·(√(C/(C+Cp)) − 1).
///
/// Source: Thomson's formula with both capacitances in parallel.
pub fn probe_shift(inductance: f64, capacitance: f64, probe: f64) -> Result<f64, Fault> {
    let probe = not_negative("The probe capacitance", probe)?;
    let undisturbed = resonance(inductance, capacitance)?;
    Ok(undisturbed * (-0.5 * (probe / capacitance).ln_1p()).exp_m1())
}
