//! What is usually read with what (common practice, no source).

use super::{Draft, DraftStep, Id};
use crate::quantity::{Scale, Unit};

/// The role that usually reads a unit.
pub const fn usual_instrument(unit: Unit) -> &'static str {
    match unit {
        Unit::Hertz | Unit::PartsPerMillion | Unit::Second => "counter",
        Unit::Ampere => "ammeter",
        Unit::VoltPeak | Unit::VoltPeakToPeak => "scope",
        Unit::Watt | Unit::DecibelWatt => "power-meter",
        Unit::VoltEmf | Unit::DecibelMicrovolt => "generator",
        Unit::DecibelCarrier => "analyser",
        Unit::Decibel => "audio-analyser",
        Unit::Percent => "modulation-meter",
        Unit::Ratio => "swr-meter",
        Unit::Celsius | Unit::CelsiusPerWatt => "thermometer",
        Unit::VoltDc
        | Unit::VoltRms
        | Unit::DecibelMilliwatt
        | Unit::Ohm
        | Unit::Farad
        | Unit::Henry
        | Unit::Joule => "meter",
    }
}

/// The units that an instrument of this role usually reads; none for a role of another name.
pub fn usual_units(role: &str) -> Vec<Unit> {
    let role = role.trim().to_lowercase().replace(' ', "-");
    // What reads volts and ohms mostly reads currents too.
    let also = |unit: Unit| role == usual_instrument(Unit::VoltDc) && unit == Unit::Ampere;
    let all = Unit::ALL.iter().copied();
    all.filter(|&unit| usual_instrument(unit) == role || also(unit))
        .collect()
}

/// The scales to offer for a reading with an instrument, the likeliest first: those that other
/// steps read with it, then those of the units that it usually reads. Where nothing is known of
/// the instrument, what the draft uses and the usual scales of every unit.
pub fn likely_scales(draft: &Draft, but: &Id, role: &str) -> Vec<Scale> {
    let role = role.trim();
    let others = || {
        draft
            .steps()
            .filter(|step| step.kind.reads() && step.id != *but)
    };
    let same = |step: &&DraftStep| !role.is_empty() && step.with.trim() == role;
    let of_role = others().filter(same).map(|step| step.scale);
    let of_role = of_role.chain(usual_units(role).into_iter().flat_map(Unit::usual_scales));
    let mut scales = Vec::new();
    put_once(&mut scales, of_role);
    if scales.is_empty() {
        let every = Unit::ALL.iter().flat_map(|unit| unit.usual_scales());
        put_once(&mut scales, others().map(|step| step.scale).chain(every));
    }
    scales
}

fn put_once(scales: &mut Vec<Scale>, more: impl Iterator<Item = Scale>) {
    for scale in more {
        if !scales.contains(&scale) {
            scales.push(scale);
        }
    }
}
