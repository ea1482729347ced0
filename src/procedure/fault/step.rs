//! What is wrong with one step.

use crate::procedure::fault::place::Wrong;
use crate::procedure::fault::repeat::repeat_fault;
use crate::procedure::fault::target::target_fault;
use crate::procedure::{Field, Gauge, Id, Procedure, Step, Work};
use crate::quantity::Unit;
use num_traits::Signed;

pub(super) fn is_set_to_target(step: &Step) -> bool {
    matches!(step.work, Work::Set { .. })
}

/// What is wrong with the things that a step carries beside its own work.
fn companion_faults(procedure: &Procedure, index: usize, step: &Step) -> Vec<Wrong> {
    let mut found = Vec::new();
    for need in &step.needs {
        let stop = procedure.step(need);
        if !stop.is_some_and(|step| step.work.is_stop()) {
            let sentence = format!("it needs “{need}”, which is no hold point: choose another");
            found.push((Field::Needs, sentence));
        }
    }
    if let Some(partner) = &step.shares_null_with {
        let same_adjuster = procedure
            .step(partner)
            .is_some_and(|other| other.work.adjuster() == step.work.adjuster());
        if !same_adjuster || step.work.adjuster().is_none() {
            let sentence = format!(
                "it shares its null with “{partner}”, which does not turn the same adjuster: choose another"
            );
            found.push((Field::SharedNull, sentence));
        }
    }
    for name in &step.puts_back {
        let mut before = procedure.steps().take(index + 1);
        if !before.any(|other| other.takes_off.iter().any(|item| item.what == *name)) {
            let sentence = format!(
                "it puts “{name}” back, which no step before it takes off: correct the name"
            );
            found.push((Field::PutsBack, sentence));
        }
    }
    if let Some(check) = &step.cross_check {
        let second = gauge_faults(procedure, &check.gauge).into_iter();
        found.extend(second.map(|(_, sentence)| (Field::CrossCheck, sentence)));
    }
    if let Work::Socket(socket) = &step.work
        && procedure.instrument(&socket.with).is_none()
    {
        found.push((Field::With, no_instrument(&socket.with)));
    }
    found
}

fn no_instrument(role: &Id) -> String {
    format!("there is no instrument “{role}”: add it or choose another")
}

fn gauge_faults(procedure: &Procedure, gauge: &Gauge) -> Vec<Wrong> {
    let mut found = Vec::new();
    if procedure.test_point(&gauge.at).is_none() {
        let sentence = format!(
            "there is no test point “{}”: add it or choose another",
            gauge.at
        );
        found.push((Field::At, sentence));
    }
    if procedure.instrument(&gauge.with).is_none() {
        found.push((Field::With, no_instrument(&gauge.with)));
    }
    let missing = |role: &&Id| procedure.instrument(role).is_none();
    let missing = gauge.through().iter().filter(missing);
    found.extend(missing.map(|role| (Field::Path, no_instrument(role))));
    if let Some(into) = &gauge.into
        && (into.unit() != Unit::Ohm || !into.base().is_positive())
    {
        let sentence = "its impedance is none: give it in Ω, above zero, such as 50 Ω";
        found.push((Field::Impedance, sentence.to_owned()));
    }
    found
}

pub(super) fn step_faults(procedure: &Procedure, index: usize, step: &Step) -> Vec<Wrong> {
    let mut found = Vec::new();
    if step.title.trim().is_empty() {
        let sentence = "it has no title: give it a few words";
        found.push((Field::Title, sentence.to_owned()));
    }
    if let Some(gauge) = step.work.gauge() {
        found.extend(gauge_faults(procedure, gauge));
    }
    if let Some(adjuster) = step.work.adjuster()
        && procedure.adjuster(adjuster).is_none()
    {
        let sentence = format!("there is no adjuster “{adjuster}”: add it or choose another");
        found.push((Field::Adjuster, sentence));
    }
    if let Work::Repeat(repeat) = &step.work {
        found.extend(repeat_fault(procedure, index, repeat));
    }
    let target = target_fault(procedure, index, step);
    found.extend(target.map(|sentence| (Field::Target, sentence)));
    found.extend(companion_faults(procedure, index, step));
    found
}
