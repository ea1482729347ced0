//! Match: standing wave ratio, reflection, return loss and what a cable hides.

use crate::quantity::Fault;
use crate::quantity::fault::{at_least, below, not_negative, ordered, positive};
use std::f64::consts::LN_10;

/// Magnitude of the reflection coefficient of a standing wave ratio of 1 or more: (S−1)/(S+1).
///
/// Source (from memory): IEC 60050-726, transmission lines.
pub fn reflection_of_swr(swr: f64) -> Result<f64, Fault> {
    let swr = at_least("The standing wave ratio", swr, 1.0)?;
    Ok((swr - 1.0) / (swr + 1.0))
}

/// Standing wave ratio of a reflection coefficient from 0 to below 1: (1+|Γ|)/(1−|Γ|).
///
/// Source (from memory): IEC 60050-726, transmission lines.
pub fn swr_of_reflection(reflection: f64) -> Result<f64, Fault> {
    let reflection = magnitude(reflection)?;
    Ok((1.0 + reflection) / (1.0 - reflection))
}

/// Return loss in dB of a reflection coefficient above 0 and below 1: −20·log₁₀|Γ|.
///
/// Source (from memory): IEC 60050-726, return loss.
pub fn return_loss_of_reflection(reflection: f64) -> Result<f64, Fault> {
    let reflection = magnitude(reflection)?;
    Ok(-20.0 * positive("The reflection coefficient", reflection)?.log10())
}

/// Magnitude of the reflection coefficient of a return loss above 0 dB: 10^(−RL/20).
///
/// Source (from memory): IEC 60050-726, return loss.
pub fn reflection_of_return_loss(decibels: f64) -> Result<f64, Fault> {
    Ok(10f64.powf(-positive("The return loss", decibels)? / 20.0))
}

/// Standing wave ratio of a return loss above 0 dB: (1+|Γ|)/(1−|Γ|) with |Γ| = 10^(−RL/20).
///
/// Written as the hyperbolic cotangent, which keeps its digits near a total reflection.
/// Source (from memory): IEC 60050-726, return loss.
pub fn swr_of_return_loss(decibels: f64) -> Result<f64, Fault> {
    let half = positive("The return loss", decibels)? * LN_10 / 40.0;
    Ok(1.0 / half.tanh())
}

/// Return loss in dB of a standing wave ratio above 1: −20·log₁₀((S−1)/(S+1)).
///
/// Source (from memory): IEC 60050-726, return loss.
pub fn return_loss_of_swr(swr: f64) -> Result<f64, Fault> {
    let swr = at_least("The standing wave ratio", swr, 1.0)?;
    let excess = positive("What the standing wave ratio has above 1", swr - 1.0)?;
    Ok(20.0 / LN_10 * (2.0 / excess).ln_1p())
}

/// Mismatch loss in dB of a reflection coefficient from 0 to below 1: −10·log₁₀(1−|Γ|²).
///
/// Source (from memory): IEC 60050-726, mismatch loss.
pub fn mismatch_loss(reflection: f64) -> Result<f64, Fault> {
    let reflection = magnitude(reflection)?;
    let lost = if reflection < 0.5 {
        (-reflection * reflection).ln_1p()
    } else {
        ((1.0 - reflection) * (1.0 + reflection)).ln()
    };
    Ok(-10.0 / LN_10 * lost)
}

/// Share of the forward power that comes back, from 0 to below 1: |Γ|².
///
/// Source (from memory): IEC 60050-726, transmission lines.
pub fn reflected_share(reflection: f64) -> Result<f64, Fault> {
    Ok(magnitude(reflection)?.powi(2))
}

/// Magnitude of the reflection coefficient of forward and reflected power in watts: √(Pr/Pf).
///
/// The forward power is above zero and the reflected power below it.
/// Source (from memory): IEC 60050-726, transmission lines.
pub fn reflection_of_powers(forward: f64, reflected: f64) -> Result<f64, Fault> {
    let forward = positive("The forward power", forward)?;
    let reflected = not_negative("The reflected power", reflected)?;
    ordered(
        ("The reflected power", reflected),
        ("the forward power", forward),
    )?;
    magnitude((reflected / forward).sqrt())
}

/// Magnitude of the reflection coefficient of a resistive load in ohms on a line in ohms:
/// |R−Z₀|/(R+Z₀).
///
/// Source (from memory): IEC 60050-726, transmission lines.
pub fn reflection_of_load(load: f64, line: f64) -> Result<f64, Fault> {
    let load = positive("The load", load)?;
    let line = positive("The line impedance", line)?;
    Ok((load - line).abs() / (load + line))
}

/// Reflection coefficient at the load behind a cable, from the one measured at its near end
/// and the cable's loss one way in dB: |Γ|·10^(L/10).
///
/// Source: wave attenuated once on the way there and once on the way back.
pub fn reflection_behind_cable(measured: f64, loss: f64) -> Result<f64, Fault> {
    let loss = not_negative("The cable loss", loss)?;
    let far = magnitude(measured)? * 10f64.powf(loss / 10.0);
    below("The reflection behind this much cable loss", far, 1.0)
}

/// Reflection coefficient seen at the near end of a cable, from the one at its load and the
/// cable's loss one way in dB: |Γ|·10^(−L/10).
///
/// Source: wave attenuated once on the way there and once on the way back.
pub fn reflection_before_cable(load: f64, loss: f64) -> Result<f64, Fault> {
    let loss = not_negative("The cable loss", loss)?;
    Ok(magnitude(load)? * 10f64.powf(-loss / 10.0))
}

/// Worst-case error of a power reading, as a share, from the reflection of source and sensor:
/// 2·|Γs|·|Γd|; its standard uncertainty by the U-shaped law is this over 2·√2.
///
/// Source: power sensor service guide, mismatch uncertainty; JCGM 100 4.3 for the law.
pub fn mismatch_error(source: f64, sensor: f64) -> Result<f64, Fault> {
    Ok(2.0 * magnitude(source)? * magnitude(sensor)?)
}

fn magnitude(reflection: f64) -> Result<f64, Fault> {
    below(
        "The reflection coefficient",
        not_negative("The reflection coefficient", reflection)?,
        1.0,
    )
}
