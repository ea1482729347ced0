//! What is wrong with a procedure, so that it can't start a job.

use super::several::table_faults;
use super::{Field, Gauge, Id, OPEN, Procedure, Repeat, Step, Target, Until, Work};
use crate::metrology::ToleranceFault;
use crate::procedure::pages::paper::paper_faults;
use crate::procedure::pages::picture::picture_faults;
use crate::quantity::{Number, Quantity, Scale, Unit};
use num_traits::Signed;
use std::collections::HashSet;
use std::fmt;

/// Something that is wrong, and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Where it is.
    pub place: Place,
    /// The field there.
    pub field: Field,
    /// What it is, as a sentence.
    pub sentence: String,
}

/// What is wrong with a field.
type Wrong = (Field, String);

/// A place in a procedure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Place {
    /// The procedure as a whole.
    Whole,
    /// The lists of adjusters, test points and instruments.
    Parts,
    /// A step, by its number from 1.
    Step(usize),
    /// A table of readings, by its number from 1.
    Table(usize),
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.place {
            Place::Whole | Place::Parts => f.write_str(&self.sentence),
            Place::Step(number) => write!(f, "Step {number}: {}", self.sentence),
            Place::Table(number) => write!(f, "Table {number}: {}", self.sentence),
        }
    }
}

/// Everything that is wrong with a procedure; empty for a sound one.
pub fn faults(procedure: &Procedure) -> Vec<Fault> {
    let mut found = Vec::new();
    let mut whole = |field, sentence: String| {
        found.push(Fault {
            place: Place::Whole,
            field,
            sentence,
        })
    };
    if procedure.title.trim().is_empty() {
        whole(
            Field::Title,
            "The procedure has no title: give it one".to_owned(),
        );
    }
    if procedure.revision == 0 {
        whole(
            Field::Revision,
            "The revision is 0: count from 1".to_owned(),
        );
    }
    if procedure.steps().next().is_none() && !procedure.is_none() {
        whole(
            Field::Steps,
            "There are no steps: add at least one".to_owned(),
        );
    }
    for id in twice(procedure.steps().map(|step| &step.id)) {
        whole(
            Field::Steps,
            format!("Two steps are called “{id}”: rename one"),
        );
    }
    for id in twice(procedure.adjusters.iter().map(|a| &a.id)) {
        whole(
            Field::Adjusters,
            format!("Two adjusters are called “{id}”: rename one"),
        );
    }
    for id in twice(procedure.test_points.iter().map(|p| &p.id)) {
        whole(
            Field::TestPoints,
            format!("Two test points are called “{id}”: rename one"),
        );
    }
    for id in twice(procedure.instruments.iter().map(|i| &i.role)) {
        whole(
            Field::Instruments,
            format!("Two instruments have the role “{id}”: rename one"),
        );
    }
    for id in procedure.adjusters.iter().flat_map(|a| &a.disturbs) {
        if procedure.step(id).is_none() {
            whole(
                Field::Adjusters,
                format!("An adjuster disturbs a step “{id}” that isn't there: choose another"),
            );
        }
    }
    for chase in &procedure.chases {
        for id in &chase.steps {
            if !procedure.step(id).is_some_and(is_set_to_target) {
                whole(
                    Field::Chases,
                    format!(
                        "“{}” names “{id}”, which is no step that sets something to a target: choose another",
                        chase.title
                    ),
                );
            }
        }
        if !(2..=6).contains(&chase.steps.len()) {
            whole(
                Field::Chases,
                format!(
                    "“{}” has {} steps: between 2 and 6 can chase each other",
                    chase.title,
                    chase.steps.len()
                ),
            );
        }
    }
    found.extend(open_designators(procedure));
    found.extend(picture_faults(procedure));
    found.extend(paper_faults(procedure));
    found.extend(table_faults(procedure));
    for (index, step) in procedure.steps().enumerate() {
        for (field, sentence) in step_faults(procedure, index, step) {
            found.push(Fault {
                place: Place::Step(index + 1),
                field,
                sentence,
            });
        }
    }
    found
}

/// The names that stand for designators still to be filled in.
fn open_designators(procedure: &Procedure) -> Vec<Fault> {
    let adjusters = procedure.adjusters.iter().map(|a| &a.id);
    let points = procedure.test_points.iter().map(|p| &p.id);
    [
        waiting(Field::Adjusters, "adjusters", adjusters.collect()),
        waiting(Field::TestPoints, "test points", points.collect()),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn waiting(field: Field, what: &str, names: Vec<&Id>) -> Option<Fault> {
    let open = names.iter().filter(|id| id.is_open()).count();
    let sentence = format!(
        "{open} {what} wait for their designators, those that begin with “{OPEN}”: write the ones on the board, and take off the list what it doesn't have"
    );
    (open > 0).then_some(Fault {
        place: Place::Parts,
        field,
        sentence,
    })
}

pub(super) fn twice<'a>(ids: impl Iterator<Item = &'a Id>) -> Vec<&'a Id> {
    let mut seen = HashSet::new();
    ids.filter(|id| !seen.insert(*id)).collect()
}

fn is_set_to_target(step: &Step) -> bool {
    matches!(step.work, Work::Set { .. })
}

/// What is wrong with the things that a step carries beside its own work.
fn companion_faults(procedure: &Procedure, index: usize, step: &Step) -> Vec<Wrong> {
    let mut found = Vec::new();
    for need in &step.needs {
        let stop = procedure.step(need);
        if !stop.is_some_and(|step| step.work.is_stop()) {
            let sentence = format!("it needs “{need}”, which is no stop: choose another");
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

fn step_faults(procedure: &Procedure, index: usize, step: &Step) -> Vec<Wrong> {
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

/// What is wrong with what a step repeats.
fn repeat_fault(procedure: &Procedure, index: usize, repeat: &Repeat) -> Option<Wrong> {
    let wrong = |sentence: String| Some((Field::Repeats, sentence));
    for id in [&repeat.from, &repeat.to] {
        match procedure.number_of(id) {
            None => {
                return wrong(format!(
                    "it repeats a step “{id}” that isn't there: choose another"
                ));
            }
            Some(number) if number > index => {
                return wrong(format!(
                    "it repeats step {number}, which does not come before it: choose an earlier one"
                ));
            }
            Some(_) => {}
        }
    }
    let range = procedure.range_of(repeat)?;
    let (first, last) = (range.start() + 1, range.end() + 1);
    if first > last {
        return wrong(format!(
            "it repeats from step {first} to step {last}: the first of them comes before the last"
        ));
    }
    let steps: Vec<(usize, &Step)> = procedure.steps().enumerate().collect();
    let steps = &steps[range];
    if let Some((other, _)) = steps
        .iter()
        .find(|(_, step)| matches!(step.work, Work::Repeat(_)))
    {
        return wrong(format!(
            "it repeats step {}, which repeats others itself: choose the steps before or behind that",
            other + 1
        ));
    }
    let mut measured = steps
        .iter()
        .filter(|(_, step)| step.work.measures())
        .peekable();
    if measured.peek().is_none() {
        return wrong(
            "none of the steps that it repeats takes a reading: choose others".to_owned(),
        );
    }
    if repeat.passes.is_some_and(|most| most < 2) {
        let sentence = "it allows a single pass: allow two at least, or any number";
        return Some((Field::Passes, sentence.to_owned()));
    }
    let sentence = match &repeat.until {
        Until::Inside => measured
            .all(|(_, step)| step.work.target().is_none())
            .then(|| "none of the steps that it repeats has limits: state a largest change".to_owned()),
        Until::Steady(most) if most.number.is_negative() => {
            Some("its largest change is below zero: type how much may still change".to_owned())
        }
        Until::Steady(most) => measured.find_map(|(place, step)| {
            let unit = step.work.gauge()?.scale.unit.of_difference();
            (unit != most.unit()).then(|| {
                format!(
                    "its largest change is in {}, but step {} changes in {}: leave that step out, or type another",
                    most.unit().symbol(),
                    place + 1,
                    unit.symbol()
                )
            })
        }),
    };
    sentence.map(|sentence| (Field::Until, sentence))
}

fn target_fault(procedure: &Procedure, index: usize, step: &Step) -> Option<String> {
    let unit = step.work.gauge()?.scale.unit;
    let target = step.work.target()?;
    if step.work.is_stop() && !matches!(target, Target::Fixed(_)) {
        let sentence = "a stop opens at a figure of its own: state its target as one";
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
