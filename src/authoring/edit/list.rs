//! The lists of names that steps refer to.

use crate::authoring::draft::{
    Draft, DraftAdjuster, DraftInstrument, DraftPoint, DraftStep, Named,
};
use crate::procedure::{AdjusterKind, BoardPin, Id, PaperSpot, Spot};
use std::fmt;

/// The lists of things that steps refer to by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum List {
    /// What is turned.
    Adjusters,
    /// Where is probed.
    TestPoints,
    /// What it is measured with.
    Instruments,
}

/// Why a name was not taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NameFault {
    /// It is no name.
    Unfit(crate::procedure::IdError),
    /// Another entry of the list has it.
    Taken(String),
}

impl fmt::Display for NameFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NameFault::Unfit(error) => error.fmt(f),
            NameFault::Taken(name) => {
                write!(
                    f,
                    "There is a “{name}” already: give this one a name of its own"
                )
            }
        }
    }
}

impl List {
    /// The names in the list, in order.
    pub fn names(self, draft: &Draft) -> Vec<String> {
        fn all<T: Named>(list: &[T]) -> Vec<String> {
            list.iter().map(|entry| entry.name().to_owned()).collect()
        }
        match self {
            List::Adjusters => all(&draft.adjusters),
            List::TestPoints => all(&draft.test_points),
            List::Instruments => all(&draft.instruments),
        }
    }

    fn name_at(self, draft: &mut Draft, index: usize) -> Option<&mut String> {
        match self {
            List::Adjusters => draft.adjusters.get_mut(index).map(Named::name_mut),
            List::TestPoints => draft.test_points.get_mut(index).map(Named::name_mut),
            List::Instruments => draft.instruments.get_mut(index).map(Named::name_mut),
        }
    }

    /// A name as it may stand in the list, in the place of the entry at `except`.
    fn fit(self, draft: &Draft, name: &str, except: Option<usize>) -> Result<String, NameFault> {
        let name = name.trim();
        name.parse::<Id>().map_err(NameFault::Unfit)?;
        let names = self.names(draft);
        let mut others = names.iter().enumerate().filter(|(i, _)| Some(*i) != except);
        match others.any(|(_, other)| other == name) {
            true => Err(NameFault::Taken(name.to_owned())),
            false => Ok(name.to_owned()),
        }
    }

    /// What a pin of an entry points at; nothing for what has no place on the board.
    fn spot(self, name: &str) -> Option<Spot> {
        let id = name.trim().parse().ok()?;
        match self {
            List::Adjusters => Some(Spot::Adjuster(id)),
            List::TestPoints => Some(Spot::TestPoint(id)),
            List::Instruments => None,
        }
    }

    /// Every place in a step where a name of this list stands.
    fn refer(self, step: &mut DraftStep, from: &str, to: &str) {
        let replace = |name: &mut String| {
            if name.trim() == from {
                *name = to.to_owned();
            }
        };
        match self {
            List::Adjusters => replace(&mut step.adjuster),
            List::TestPoints => replace(&mut step.at),
            List::Instruments => {
                replace(&mut step.with);
                replace_in_path(step, from, to);
            }
        }
        if let Some(check) = &mut step.cross_check {
            match self {
                List::Adjusters => {}
                List::TestPoints => replace(&mut check.at),
                List::Instruments => replace(&mut check.with),
            }
        }
    }
}

/// Gives a role in the path of a step its new name.
fn replace_in_path(step: &mut DraftStep, from: &str, to: &str) {
    if step.path.split(',').any(|name| name.trim() == from) {
        let names = step.path.split(',').map(str::trim);
        let names = names.map(|name| if name == from { to } else { name });
        step.path = names.collect::<Vec<_>>().join(", ");
    }
}

/// Adds an entry and gives its name as it stands in the list.
pub fn add(draft: &mut Draft, list: List, name: &str) -> Result<String, NameFault> {
    let name = list.fit(draft, name, None)?;
    match list {
        List::Adjusters => draft.adjusters.push(DraftAdjuster {
            kind: guess_kind(&name),
            name: name.clone(),
            note: String::new(),
            tool: String::new(),
            clockwise: None,
            disturbs: Vec::new(),
        }),
        List::TestPoints => draft.test_points.push(DraftPoint {
            name: name.clone(),
            ..DraftPoint::default()
        }),
        List::Instruments => draft.instruments.push(DraftInstrument {
            name: name.clone(),
            ..DraftInstrument::default()
        }),
    }
    Ok(name)
}

/// The kind of adjuster that the class letters of a designator suggest (IEEE 315 from memory, and
/// habit).
fn guess_kind(name: &str) -> AdjusterKind {
    match class_letters(name).to_uppercase().as_str() {
        "L" | "T" | "IFT" | "FL" => AdjusterKind::Core,
        "C" | "CV" | "CT" | "TC" | "VC" => AdjusterKind::Trimmer,
        "LK" | "J" | "JP" | "W" => AdjusterKind::Link,
        _ => AdjusterKind::Pot,
    }
}

/// The class letters of a designator, behind those of the assemblies that it is in: `C` of `A4C7`
/// and of `A1A2C7` (IEEE 315, reference designations, from memory).
fn class_letters(name: &str) -> &str {
    let name = name.trim_start_matches(|c: char| !c.is_alphabetic());
    let number = name.trim_start_matches(char::is_alphabetic);
    let letters = &name[..name.len() - number.len()];
    let rest = number.trim_start_matches(|c: char| !c.is_alphabetic());
    let is_part = rest.contains(|c: char| c.is_ascii_digit());
    match letters.eq_ignore_ascii_case("A")
        && number.starts_with(|c: char| c.is_ascii_digit())
        && is_part
    {
        true => class_letters(rest),
        false => letters,
    }
}

/// Gives an entry another name, here and wherever a step or the plan refers to it.
pub fn rename(draft: &mut Draft, list: List, index: usize, name: &str) -> Result<(), NameFault> {
    let name = list.fit(draft, name, Some(index))?;
    let Some(entry) = list.name_at(draft, index) else {
        return Ok(());
    };
    let old = std::mem::replace(entry, name.clone());
    let old = old.trim();
    // Where two entries share the old name, the steps mean the first, and that one moved on.
    for step in draft.steps_mut() {
        list.refer(step, old, &name);
    }
    if let (Some(from), Some(to)) = (list.spot(old), list.spot(&name)) {
        for pin in pins_mut(draft).filter(|pin| pin.of == from) {
            pin.of = to.clone();
        }
        let (from, to) = (PaperSpot::from(from), PaperSpot::from(to));
        let pins = draft.papers.iter_mut().flat_map(|it| &mut it.pins);
        for pin in pins.filter(|pin| pin.of == from) {
            pin.of = to.clone();
        }
    }
    if list == List::Adjusters
        && let Some(plan) = &mut draft.plan
    {
        let terms = plan.modes.iter_mut().flat_map(|mode| &mut mode.terms);
        for term in terms.filter(|term| term.adjuster.trim() == old) {
            term.adjuster = name.clone();
        }
    }
    Ok(())
}

fn pins_mut(draft: &mut Draft) -> impl Iterator<Item = &mut BoardPin> {
    draft.pictures.iter_mut().flat_map(|p| &mut p.pins)
}

/// Takes an entry off its list, and its pins off the pictures. Steps keep its name, and say
/// that it isn't there.
pub fn take_off_list(draft: &mut Draft, list: List, index: usize) {
    let name = list.names(draft).get(index).cloned().unwrap_or_default();
    fn take<T>(entries: &mut Vec<T>, index: usize) {
        if index < entries.len() {
            entries.remove(index);
        }
    }
    match list {
        List::Adjusters => take(&mut draft.adjusters, index),
        List::TestPoints => take(&mut draft.test_points, index),
        List::Instruments => take(&mut draft.instruments, index),
    }
    let names = list.names(draft);
    let is_left = names.iter().any(|other| other.trim() == name.trim());
    if let Some(spot) = list.spot(&name)
        && !is_left
    {
        for picture in &mut draft.pictures {
            picture.pins.retain(|pin| pin.of != spot);
        }
        let spot = PaperSpot::from(spot);
        for paper in &mut draft.papers {
            paper.pins.retain(|pin| pin.of != spot);
        }
    }
}

/// How many steps refer to a name of a list.
pub fn uses(draft: &Draft, list: List, name: &str) -> usize {
    let name = name.trim();
    draft
        .steps()
        .filter(|step| match list {
            List::Adjusters => step.kind.turns() && step.adjuster.trim() == name,
            List::TestPoints => step.reads() && step.at.trim() == name,
            List::Instruments => {
                let reads = step.reads() || step.kind == crate::authoring::Kind::Socket;
                let in_path = step.path.split(',').any(|other| other.trim() == name);
                reads && (step.with.trim() == name || in_path)
            }
        })
        .count()
}

/// The entries of a list whose names keep it from being published: they wait for the designator on
/// the board, are no names, or are another entry's too.
pub fn unfit_names(draft: &Draft, list: List) -> Vec<usize> {
    let names = list.names(draft);
    let is_unfit = |index: &usize| {
        let name = names[*index].trim();
        let is_twice = || names.iter().filter(|other| other.trim() == name).count() > 1;
        name.parse::<Id>().map_or(true, |id| id.is_open()) || is_twice()
    };
    (0..names.len()).filter(is_unfit).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_that_waits_for_the_board_or_stands_twice_is_found_by_its_row() {
        let mut draft = Draft::blank("p".parse().unwrap());
        for name in ["L1", "?osc", "L2", "L3"] {
            add(&mut draft, List::Adjusters, name).unwrap();
        }
        draft.adjusters[3].name = " L1 ".to_owned();
        assert_eq!(unfit_names(&draft, List::Adjusters), [0, 1, 3]);
        draft.adjusters[2].name = String::new();
        assert_eq!(unfit_names(&draft, List::Adjusters), [0, 1, 2, 3]);
        assert_eq!(unfit_names(&draft, List::TestPoints), [0; 0]);
    }

    // Check: the class letters of a designator are those of the part, not of its assembly
    // Source: IEEE 315, reference designations
    // Known by: memory
    #[test]
    fn an_assembly_prefix_does_not_tell_the_kind() {
        for (name, kind) in [
            ("A4C7", AdjusterKind::Trimmer),
            ("A1A2L3", AdjusterKind::Core),
            ("-A4-C7", AdjusterKind::Trimmer),
            ("1A4T2", AdjusterKind::Core),
            ("A4R12", AdjusterKind::Pot),
            ("A4VR7", AdjusterKind::Pot),
            ("A4JP1", AdjusterKind::Link),
            ("C7A", AdjusterKind::Trimmer),
            ("A4", AdjusterKind::Pot),
            ("TC3", AdjusterKind::Trimmer),
            ("ä4c7", AdjusterKind::Pot),
            ("", AdjusterKind::Pot),
        ] {
            assert_eq!(guess_kind(name), kind, "{name}");
        }
    }
}
