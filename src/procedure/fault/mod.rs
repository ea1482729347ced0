//! What is wrong with a procedure, so that it can't start a job.

pub mod pages;
mod place;
mod repeat;
mod step;
pub mod table;
mod target;

pub(super) use self::place::twice;
pub use self::place::{Fault, Place};

use super::{Field, Id, OPEN, Procedure};
use crate::procedure::fault::pages::paper_faults;
use crate::procedure::fault::pages::picture_faults;
use crate::procedure::fault::step::{is_set_to_target, step_faults};
use crate::procedure::fault::table::table_faults;

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

#[cfg(test)]
mod tests {}
