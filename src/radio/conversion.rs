//! A level in another unit: watts as dBm, a voltage as a power into an impedance, the
//! electromotive force of a generator as what it delivers. In decimals, so that a figure comes out
//! the same whichever way it is reached.

use crate::quantity::decibel::{log_of_ten, power_of_ten, rounded};
use crate::quantity::{Scale, Unit, to_f64};
use bigdecimal::{BigDecimal, Signed};
use std::fmt;

/// What a level is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Of {
    Power,
    /// At the crest of the envelope: what the mean is then depends on what the envelope is.
    Pep,
    /// A voltage that stands where it is read.
    Volts,
    /// What a matched generator delivers.
    Pd,
    /// What it would give without a load.
    Emf,
}

/// How a unit states a level: what it is of and, in decibels, above which power of ten of the
/// unit without prefix.
struct Form {
    of: Of,
    above: Option<i64>,
}

const fn form(unit: Unit) -> Option<Form> {
    let (of, above) = match unit {
        Unit::Watt => (Of::Power, None),
        Unit::DecibelMilliwatt => (Of::Power, Some(-3)),
        Unit::DecibelWatt => (Of::Power, Some(0)),
        Unit::WattPep => (Of::Pep, None),
        Unit::DecibelMilliwattPep => (Of::Pep, Some(-3)),
        Unit::VoltRms => (Of::Volts, None),
        Unit::DecibelMicrovolt => (Of::Volts, Some(-6)),
        Unit::VoltPd => (Of::Pd, None),
        Unit::DecibelMicrovoltPd => (Of::Pd, Some(-6)),
        Unit::VoltEmf => (Of::Emf, None),
        Unit::DecibelMicrovoltEmf => (Of::Emf, Some(-6)),
        _ => return None,
    };
    Some(Form { of, above })
}

/// Whether a unit states a level that others may state too.
pub const fn is_level(unit: Unit) -> bool {
    form(unit).is_some()
}

/// Why a level can't be given in another unit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoConversion {
    /// The two units measure different things.
    Unlike,
    /// A voltage is a power only in an impedance, and none is stated.
    NoImpedance,
    /// A voltage of a generator that doesn't say whether it is EMF or PD.
    EmfOrPd,
    /// One is a mean power, the other one at the crest of the envelope.
    MeanOrPep,
    /// Zero or less has no level in decibels, and no voltage.
    NotAboveZero,
}

/// A level, in the unit without prefix, in another unit, in an impedance in ohms where one is
/// stated.
///
/// dBm = 10·log₁₀(P/1 mW), dBµV = 20·log₁₀(V/1 µV): ITU-R V.574 (from memory). P = V²/R: Joule's
/// law. EMF = 2·PD: voltage divider of two equal impedances.
pub fn convert(
    level: &BigDecimal,
    from: Unit,
    to: Unit,
    ohms: Option<&BigDecimal>,
) -> Result<BigDecimal, NoConversion> {
    if from == to {
        return Ok(level.clone());
    }
    let (is, due) = form(from).zip(form(to)).ok_or(NoConversion::Unlike)?;
    let linear = is.linear(level);
    let linear = across(linear, is.of, due.of, ohms)?;
    due.stated(linear).map(rounded)
}

/// By how much a level in another unit moves for one unit of the first, which stands at so much.
pub fn slope(level: &BigDecimal, from: Unit, to: Unit, ohms: Option<&BigDecimal>) -> Option<f64> {
    if from == to {
        return Some(1.0);
    }
    let there = to_f64(&convert(level, from, to, ohms).ok()?);
    let (is, due) = form(from).zip(form(to))?;
    // Of relative changes: a level in decibels has one of its own whatever it stands at.
    let relative = match is.above {
        None => 1.0 / to_f64(level),
        Some(_) => 10f64.ln() / is.of.decibels_of_ten() as f64,
    };
    let squares = match (is.of, due.of) {
        (Of::Power, Of::Power) | (Of::Pep, _) | (_, Of::Pep) => 1.0,
        (Of::Power, _) => 0.5,
        (_, Of::Power) => 2.0,
        _ => 1.0,
    };
    let stated = match due.above {
        None => there,
        Some(_) => due.of.decibels_of_ten() as f64 / 10f64.ln(),
    };
    Some(relative * squares * stated)
}

/// The units in which a level can be read that is judged in this one, where an impedance is stated
/// or not; this one is not among them.
pub fn others(unit: Unit, with_impedance: bool) -> Vec<Unit> {
    let ohms = with_impedance.then(|| BigDecimal::from(50));
    let one = BigDecimal::from(1);
    let goes = |other: &Unit| *other != unit && convert(&one, *other, unit, ohms.as_ref()).is_ok();
    Unit::ALL.iter().copied().filter(goes).collect()
}

/// The units of levels that may be spelled out where one of them is due, what is meant by a
/// spelling of several first: dBm is of the peak envelope power where that is due, and a plain
/// volt does not say whether it is EMF or PD.
pub fn spelled(due: Unit) -> Vec<Unit> {
    if !is_level(due) {
        return Vec::new();
    }
    let all = Unit::ALL.iter().copied().filter(|unit| is_level(*unit));
    let is_pep = |unit: Unit| form(unit).is_some_and(|form| form.of == Of::Pep);
    let (like, others): (Vec<Unit>, Vec<Unit>) = all.partition(|unit| is_pep(*unit) == is_pep(due));
    like.into_iter().chain(others).collect()
}

/// The scales to offer for a reading that is judged in this one: those near it, then the usual ones
/// of the other units that its level is stated in.
pub fn offered(due: Scale, with_impedance: bool) -> Vec<Scale> {
    let mut scales = due.near();
    let of = form(due.unit).map(|form| form.of);
    for unit in others(due.unit, with_impedance) {
        let other = form(unit).map(|form| form.of);
        // What is seldom read in another unit can be typed with it.
        let is_usual = match (of, other) {
            (Some(Of::Power), Some(Of::Power)) => unit != Unit::DecibelWatt,
            (_, Some(Of::Power)) => unit == Unit::DecibelMilliwatt,
            (Some(Of::Power), _) => false,
            _ => true,
        };
        let prefix = match (
            due.unit.prefixes().len() > 1,
            unit.prefixes().contains(&due.prefix),
        ) {
            (true, true) => due.prefix,
            _ => unit.usual_prefix(),
        };
        scales.extend(is_usual.then(|| Scale::new(prefix, unit)));
    }
    scales
}

impl Of {
    const fn decibels_of_ten(self) -> u32 {
        match self {
            Of::Power | Of::Pep => 10,
            Of::Volts | Of::Pd | Of::Emf => 20,
        }
    }
}

impl Form {
    fn linear(&self, level: &BigDecimal) -> BigDecimal {
        match self.above {
            None => level.clone(),
            Some(above) => {
                let decades = level / BigDecimal::from(self.of.decibels_of_ten());
                power_of_ten(&(decades + BigDecimal::from(above)))
            }
        }
    }

    fn stated(&self, linear: BigDecimal) -> Result<BigDecimal, NoConversion> {
        let Some(above) = self.above else {
            return Ok(linear);
        };
        let decades = log_of_ten(&linear).ok_or(NoConversion::NotAboveZero)?;
        Ok((decades - BigDecimal::from(above)) * BigDecimal::from(self.of.decibels_of_ten()))
    }
}

/// Watts or volts as what another unit is of.
fn across(
    linear: BigDecimal,
    is: Of,
    due: Of,
    ohms: Option<&BigDecimal>,
) -> Result<BigDecimal, NoConversion> {
    let ohms = || {
        ohms.filter(|ohms| ohms.is_positive())
            .ok_or(NoConversion::NoImpedance)
    };
    Ok(match (is, due) {
        (Of::Volts, Of::Pd | Of::Emf) | (Of::Pd | Of::Emf, Of::Volts) => {
            return Err(NoConversion::EmfOrPd);
        }
        (Of::Power, Of::Pep) | (Of::Pep, Of::Power) => return Err(NoConversion::MeanOrPep),
        (Of::Pep, Of::Pep) => linear,
        (Of::Pep, _) | (_, Of::Pep) => return Err(NoConversion::Unlike),
        (Of::Emf, Of::Pd) => linear.half(),
        (Of::Pd, Of::Emf) => linear.double(),
        (Of::Power, Of::Power) => linear,
        (Of::Power, _) => {
            let volts = (linear * ohms()?)
                .sqrt()
                .ok_or(NoConversion::NotAboveZero)?;
            across(volts, if due == Of::Emf { Of::Pd } else { due }, due, None)?
        }
        (_, Of::Power) => {
            let volts = if is == Of::Emf { linear.half() } else { linear };
            volts.square() / ohms()?
        }
        _ => linear,
    })
}

impl fmt::Display for NoConversion {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            NoConversion::Unlike => "the one does not say the other",
            NoConversion::NoImpedance => {
                "a voltage is a power only in an impedance, and this step states none"
            }
            NoConversion::EmfOrPd => "it does not say whether it is EMF or PD",
            NoConversion::MeanOrPep => {
                "the one is a mean power, the other one at the crest of the envelope"
            }
            NoConversion::NotAboveZero => "only what is above zero has such a level",
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Quantity;

    fn said(level: &str, to: &str, ohms: Option<i64>) -> Result<BigDecimal, NoConversion> {
        let level: Quantity = level.parse().expect("a level");
        let to: crate::quantity::Scale = to.parse().expect("a scale");
        let ohms = ohms.map(BigDecimal::from);
        convert(&level.base(), level.unit(), to.unit, ohms.as_ref())
            .map(|it| to.prefix.remove(&it).normalized())
    }

    // Check: 40 dBm are 10 W, PEP or mean; 0 dBm in 50 Ω 223.6 mV or 106.99 dBµV, 1 µV EMF 0.5 µV PD
    // Source: definitions of dBm and dBµV; Joule's law; voltage divider of two equal impedances
    // Known by: closed form
    #[test]
    fn levels_in_other_units_are_those_of_the_tables() {
        for (level, to, ohms, figure) in [
            ("0 dBm", "mW", None, "1"),
            ("40 dBm", "W", None, "10"),
            ("43 dBm", "W", None, "19.9526231497"),
            ("10 W", "dBm", None, "40"),
            ("250 mW", "dBm", None, "23.9794000867"),
            ("10 dBW", "dBm", None, "40"),
            ("0 dBm", "mV rms", Some(50), "223.60679775"),
            ("0 dBm", "dBµV", Some(50), "106.989700043"),
            ("1 V rms", "mW", Some(50), "20"),
            ("2 V EMF", "mW", Some(50), "20"),
            ("1 µV EMF", "µV PD", None, "0.5"),
            ("0.25 µV PD", "µV EMF", None, "0.5"),
            ("6 dBµV EMF", "dBµV PD", None, "-0.0205999132796"),
            ("1 µV PD", "dBm", Some(50), "-106.989700043"),
            ("40 dBm PEP", "W PEP", None, "10"),
            ("12 W PEP", "dBm PEP", None, "40.7918124605"),
        ] {
            let due: BigDecimal = figure.parse().expect("a figure");
            assert_eq!(said(level, to, ohms), Ok(due), "{level} in {to}");
        }
    }

    #[test]
    fn the_scales_that_are_offered_are_those_of_the_bench() {
        let symbols = |due: &str, with_impedance| {
            let due: Scale = due.parse().expect("a scale");
            let scales = offered(due, with_impedance).into_iter();
            scales.map(Scale::symbol).collect::<Vec<_>>()
        };
        assert_eq!(symbols("W", false), ["mW", "W", "kW", "dBm"]);
        assert_eq!(symbols("dBm", false), ["dBm", "W"]);
        assert_eq!(
            symbols("W PEP", true),
            ["mW PEP", "W PEP", "kW PEP", "dBm PEP"]
        );
        assert_eq!(symbols("dB SINAD", true), ["dB SINAD"]);
        assert_eq!(
            symbols("µV EMF", true)[1..],
            ["µV EMF", "mV EMF", "µV PD", "dBm", "dBµV EMF", "dBµV PD"]
        );
        assert_eq!(symbols("MHz", false), ["kHz", "MHz", "GHz"]);
        assert_eq!(symbols("V", true), ["mV", "V", "kV"]);
    }

    #[test]
    fn a_unit_that_is_spelled_is_of_the_kind_that_is_due() {
        use crate::quantity::{DecimalSign, read_in_any};
        for (typed, due, meant) in [
            ("40.8 dBm", "W PEP", "40.8 dBm PEP"),
            ("12 W", "dBm PEP", "12 W PEP"),
            ("12 W PEP", "W", "12 W PEP"),
            ("40.8 dBm", "W", "40.8 dBm"),
            ("2 V", "dBm", "2 V rms"),
            ("6 dBµV", "µV EMF", "6 dBµV"),
        ] {
            let due: Scale = due.parse().expect("a scale");
            let read = read_in_any(typed, due, &spelled(due.unit), DecimalSign::Point);
            assert_eq!(
                read.map(|it| it.to_string()),
                Ok(meant.to_owned()),
                "{typed}"
            );
        }
    }

    #[test]
    fn what_does_not_follow_is_refused() {
        use NoConversion::*;
        for (level, to, ohms, why) in [
            ("1 V rms", "dBm", None, NoImpedance),
            ("0 dBm", "V rms", None, NoImpedance),
            ("0 dBm", "V rms", Some(0), NoImpedance),
            ("1 µV rms", "µV EMF", Some(50), EmfOrPd),
            ("6 dBµV EMF", "dBµV", Some(50), EmfOrPd),
            ("12 W PEP", "W", None, MeanOrPep),
            ("40 dBm", "W PEP", Some(50), MeanOrPep),
            ("12 W PEP", "V rms", Some(50), Unlike),
            ("12 dB", "dB SINAD", None, Unlike),
            ("0 W", "dBm", None, NotAboveZero),
            ("-1 W", "V rms", Some(50), NotAboveZero),
            ("1 V", "dBm", Some(50), Unlike),
            ("1 dB", "dBm", Some(50), Unlike),
        ] {
            assert_eq!(said(level, to, ohms), Err(why), "{level} in {to}");
        }
    }

    // Check: what an uncertainty in one unit is in another goes by the slope of the conversion
    // Source: the definition of the derivative
    // Known by: computed
    #[test]
    fn a_slope_is_what_a_small_step_shows() {
        let ohms = BigDecimal::from(50);
        let step: BigDecimal = "0.0001".parse().expect("a decimal");
        for (from, to) in [
            (Unit::DecibelMilliwatt, Unit::Watt),
            (Unit::Watt, Unit::DecibelMilliwatt),
            (Unit::VoltRms, Unit::DecibelMilliwatt),
            (Unit::DecibelMicrovoltEmf, Unit::VoltPd),
            (Unit::DecibelMilliwatt, Unit::VoltEmf),
            (Unit::VoltEmf, Unit::Watt),
            (Unit::DecibelMilliwattPep, Unit::WattPep),
        ] {
            let at = BigDecimal::from(2);
            let value = |level: &BigDecimal| {
                to_f64(&convert(level, from, to, Some(&ohms)).expect("it goes"))
            };
            let seen = (value(&(&at + &step)) - value(&(&at - &step))) / 2e-4;
            let said = slope(&at, from, to, Some(&ohms)).expect("it goes");
            assert!(
                (said / seen - 1.0).abs() < 1e-5,
                "{from:?} to {to:?}: {said}, {seen}"
            );
        }
    }
}
