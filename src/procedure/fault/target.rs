//! What is wrong with a target.

use crate::metrology::ToleranceFault;
use crate::procedure::{Id, Procedure, Step, Target};
use crate::quantity::{Number, Quantity, Scale, Unit};

pub(super) fn target_fault(procedure: &Procedure, index: usize, step: &Step) -> Option<String> {
    let unit = step.work.gauge()?.scale.unit;
    let target = step.work.target()?;
    if step.work.is_stop() && !matches!(target, Target::Fixed(_)) {
        let sentence = "a hold point opens at a figure of its own: state its target as one";
        return Some(sentence.to_owned());
    }
    let is_relative = matches!(target, Target::Relative { .. });
    if let Some(to) = target.leans_on()
        && let Some(sentence) =
            reference_fault(procedure, (index, step), to, is_relative.then_some(unit))
    {
        return Some(sentence);
    }
    // With a made-up reading for any other step, the rest of the target shows whether it judges.
    let one = |id: &Id| {
        let unit = procedure.step(id)?.work.gauge()?.scale.unit;
        Some(Quantity::new(Number::from(1), Scale::plain(unit)))
    };
    match procedure.tolerance(step, one)? {
        // Where the made-up reading and the offset come to zero, a real one won't.
        Ok(tolerance) => tolerance
            .fault(unit)
            .filter(|fault| !is_relative || !is_of_zero(fault))
            .map(|fault| fault.to_string()),
        Err(fault) => Some(fault.to_string()),
    }
}

fn is_of_zero(fault: &ToleranceFault) -> bool {
    use ToleranceFault::{DecibelsOfNothing, ShareOfZero};
    matches!(fault, ShareOfZero { .. } | DecibelsOfNothing { .. })
}

/// What is wrong with the step that a target refers to, whose reading has to be in the unit where
/// there is one.
fn reference_fault(
    procedure: &Procedure,
    (index, step): (usize, &Step),
    to: &Id,
    unit: Option<Unit>,
) -> Option<String> {
    let Some(number) = procedure.number_of(to) else {
        return Some(format!(
            "its target refers to a step “{to}” that isn't there: choose another"
        ));
    };
    if number > index && !procedure.may_wait_for(step, to) {
        return Some(format!(
            "its target refers to step {number}, which does not come before it: choose an earlier one"
        ));
    }
    match procedure.step(to)?.work.gauge() {
        None => Some(format!(
            "its target refers to step {number}, which takes no reading: choose another"
        )),
        Some(gauge) => unit.filter(|unit| gauge.scale.unit != *unit).map(|unit| {
            format!(
                "its target refers to step {number}, which is in {}, not in {}: choose another",
                gauge.scale.unit.symbol(),
                unit.symbol()
            )
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::metrology::Margin;
    use crate::procedure::fault::faults;
    use crate::procedure::fault::place::Place;
    use crate::procedure::{Gauge, Work};
    use crate::procedure::{Instrument, Section, TestPoint};

    fn id(text: &str) -> Id {
        text.parse().unwrap()
    }

    fn reads(name: &str, target: Option<Target>) -> Step {
        let gauge = Gauge::new(id("TP1"), id("counter"), "MHz".parse().unwrap());
        Step::new(id(name), "Read", Work::Read { gauge, target })
    }

    fn with_relative_target(to: &str, offset: &str, margin: &str) -> Procedure {
        let margin = Margin::Absolute(margin.parse().unwrap());
        let target = Target::Relative {
            to: id(to),
            offset: offset.parse().unwrap(),
            below: margin.clone(),
            above: margin,
        };
        Procedure {
            test_points: vec![TestPoint {
                id: id("TP1"),
                place: String::new(),
                also: Vec::new(),
            }],
            instruments: vec![Instrument {
                role: id("counter"),
                needs: String::new(),
            }],
            sections: vec![Section {
                title: "All".to_owned(),
                steps: vec![reads("first", None), reads("second", Some(target))],
            }],
            ..Procedure::new(id("p"), "Two readings")
        }
    }

    #[test]
    fn a_relative_target_is_checked_as_strictly_as_a_fixed_one() {
        for (to, offset, margin, said) in [
            ("first", "3 kHz", "20 Hz", None),
            ("nowhere", "3 kHz", "20 Hz", Some("isn't there")),
            ("second", "3 kHz", "20 Hz", Some("does not come before it")),
            (
                "first",
                "3 V",
                "20 Hz",
                Some("can't be added to a reading in Hz"),
            ),
            ("first", "3 kHz", "20 V", Some("in V where Hz is due")),
            ("first", "3 kHz", "-20 Hz", Some("below zero")),
        ] {
            let found = faults(&with_relative_target(to, offset, margin));
            match said {
                None => assert_eq!(found, []),
                Some(part) => {
                    assert_eq!(found.len(), 1, "{part}");
                    assert_eq!(found[0].place, Place::Step(2));
                    assert!(found[0].sentence.contains(part), "{}", found[0]);
                }
            }
        }
    }
}
