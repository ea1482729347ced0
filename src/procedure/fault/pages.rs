//! What is wrong with pictures and papers.

use crate::procedure::pages::paper::{Paper, PaperSpot};
use crate::procedure::pages::picture::{MAX_SIDE, WHOLE};
use crate::procedure::{Fault, Field, Place, Procedure};
use std::collections::HashSet;

/// What is wrong with the papers of a procedure.
pub(in crate::procedure) fn paper_faults(procedure: &Procedure) -> Vec<Fault> {
    let spots: HashSet<PaperSpot> = procedure.paper_spots().into_iter().collect();
    let mut names = HashSet::new();
    let mut found = Vec::new();
    for (index, paper) in procedure.papers.iter().enumerate() {
        let number = index + 1;
        if paper.title.trim().is_empty() {
            found.push(format!("Paper {number} has no name: say what it is"));
        }
        if !names.insert(&paper.paper) {
            found.push(format!(
                "Paper {number} is there twice: remove one of the two"
            ));
        }
        found.extend(pin_faults(number, paper, &spots));
    }
    let fault = |sentence| Fault {
        place: Place::Whole,
        field: Field::Papers,
        sentence,
    };
    found.into_iter().map(fault).collect()
}

fn pin_faults(number: usize, paper: &Paper, spots: &HashSet<PaperSpot>) -> Vec<String> {
    let mut pinned = HashSet::new();
    let mut found = Vec::new();
    for pin in &paper.pins {
        let (kind, name) = (pin.of.kind(), pin.of.name());
        if !spots.contains(&pin.of) {
            found.push(format!(
                "Paper {number} has a pin for the {kind} “{name}”, which isn't there: remove the pin or add the {kind}"
            ));
        }
        if !pinned.insert(&pin.of) {
            found.push(format!(
                "Paper {number} has two pins for the {kind} “{name}”: remove one"
            ));
        }
        if !pin.is_sound() {
            found.push(format!(
                "In paper {number}, the pin of “{name}” lies on no page that is shown: move it"
            ));
        }
    }
    found
}

/// What is wrong with the pictures of a procedure.
pub(in crate::procedure) fn picture_faults(procedure: &Procedure) -> Vec<Fault> {
    let mut found = Vec::new();
    let mut say = |sentence: String| {
        found.push(Fault {
            place: Place::Whole,
            field: Field::Pictures,
            sentence,
        });
    };
    let mut names = HashSet::new();
    for (index, picture) in procedure.pictures.iter().enumerate() {
        let number = index + 1;
        if picture.title.trim().is_empty() {
            say(format!(
                "Board picture {number} has no title: say which side it shows"
            ));
        }
        if !names.insert(&picture.picture) {
            say(format!(
                "Board picture {number} is there twice: remove one of the two"
            ));
        }
        let sides = 1..=MAX_SIDE;
        if !sides.contains(&picture.width) || !sides.contains(&picture.height) {
            say(format!(
                "Board picture {number} says that it has {} by {} pixels: take it again",
                picture.width, picture.height
            ));
        }
        let mut pinned = HashSet::new();
        for pin in &picture.pins {
            let (kind, id) = (pin.of.kind(), pin.of.id());
            if !procedure.has(&pin.of) {
                say(format!(
                    "Board picture {number} has a pin for the {kind} “{id}”, which isn't there: remove the pin or add the {kind}"
                ));
            }
            if !pinned.insert(&pin.of) {
                say(format!(
                    "Board picture {number} has two pins for the {kind} “{id}”: remove one"
                ));
            }
            if pin.x > WHOLE || pin.y > WHOLE {
                say(format!(
                    "On board picture {number}, the pin of “{id}” lies outside: move it"
                ));
            }
        }
    }
    found
}
