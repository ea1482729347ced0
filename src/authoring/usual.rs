//! What is usually read with what (common practice, no source).

use crate::authoring::{Draft, DraftStep};
use crate::procedure::Id;
use crate::quantity::{Scale, Unit};

/// The role that usually reads a unit.
pub const fn usual_instrument(unit: Unit) -> &'static str {
    match unit {
        Unit::Hertz | Unit::PartsPerMillion | Unit::Second => "counter",
        Unit::Ampere => "ammeter",
        Unit::VoltPeak | Unit::VoltPeakToPeak | Unit::Division => "scope",
        Unit::StrengthPoint => "s-meter",
        Unit::Watt | Unit::WattPep | Unit::DecibelMilliwattPep | Unit::DecibelWatt => "power-meter",
        Unit::VoltEmf
        | Unit::VoltPd
        | Unit::DecibelMicrovolt
        | Unit::DecibelMicrovoltEmf
        | Unit::DecibelMicrovoltPd => "generator",
        Unit::DecibelCarrier => "analyser",
        Unit::Decibel
        | Unit::DecibelSinad
        | Unit::DecibelSignalAndNoise
        | Unit::DecibelSignalToNoise => "audio-analyser",
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
    let others = || draft.steps().filter(|step| step.reads() && step.id != *but);
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::authoring::Kind;
    use crate::authoring::draft::DraftSection;
    use crate::authoring::edit;

    fn id(text: &str) -> Id {
        text.parse().expect("an id")
    }

    fn reads(name: &str, with: &str, scale: &str) -> DraftStep {
        DraftStep {
            kind: Kind::Read,
            with: with.to_owned(),
            scale: scale.parse().expect("a scale"),
            ..DraftStep::blank(id(name))
        }
    }

    fn draft(steps: Vec<DraftStep>) -> Draft {
        let title = String::new();
        Draft {
            sections: vec![DraftSection { title, steps }],
            ..Draft::blank(id("d"))
        }
    }

    fn symbols(scales: &[Scale]) -> Vec<String> {
        scales.iter().map(|scale| scale.symbol()).collect()
    }

    // Check: an ammeter is offered A, mA and µA, a power meter W, one up and one down
    // Source: common practice, no source
    // Known by: own rule
    #[test]
    fn an_instrument_is_offered_what_it_reads() {
        let draft = draft(vec![
            reads("a", "counter", "MHz"),
            reads("b", "scope", "mV p-p"),
            reads("c", "", "MHz"),
        ]);
        for (role, wanted) in [
            ("ammeter", vec!["A", "µA", "mA"]),
            (
                "power-meter",
                vec![
                    "W", "mW", "kW", "W PEP", "mW PEP", "kW PEP", "dBm PEP", "dBW",
                ],
            ),
            (
                "Power meter",
                vec![
                    "W", "mW", "kW", "W PEP", "mW PEP", "kW PEP", "dBm PEP", "dBW",
                ],
            ),
            (
                "scope",
                vec![
                    "mV p-p", "V peak", "mV peak", "kV peak", "V p-p", "kV p-p", "div",
                ],
            ),
        ] {
            assert_eq!(
                symbols(&likely_scales(&draft, &id("c"), role)),
                wanted,
                "{role}"
            );
        }
        let unknown = symbols(&likely_scales(&draft, &id("c"), "gadget"));
        assert_eq!(unknown[..2], ["MHz", "mV p-p"]);
        assert!(!unknown.iter().any(|symbol| symbol == "pW"), "{unknown:?}");
    }

    #[test]
    fn an_instrument_brings_its_unit_unless_a_figure_is_typed() {
        let unit_with = |value: &str, role: &str| {
            let mut step = reads("a", "", "MHz");
            step.target.value = value.to_owned();
            let mut draft = draft(vec![step]);
            edit::read_with(&mut draft, &id("a"), role);
            let step = draft.step(&id("a")).expect("it is there");
            assert_eq!(step.with, role);
            step.scale.symbol()
        };
        assert_eq!(unit_with("", "ammeter"), "A");
        assert_eq!(unit_with("9.0015", "ammeter"), "MHz");
        assert_eq!(unit_with("", "counter"), "MHz");
        assert_eq!(unit_with("", "gadget"), "MHz");
    }
}
