//! Steps and sections: added, moved, taken out.

use crate::authoring::draft::{Draft, DraftSection, DraftStep};
use crate::authoring::edit::place::{fresh_step_id, place_of};
use crate::authoring::edit::several;
use crate::procedure::Id;

/// A new step below another; it goes on from how that one leaves the set.
pub fn add_step_below(draft: &mut Draft, above: &Id) -> Option<Id> {
    let (section, index) = place_of(draft, above)?;
    let id = fresh_step_id(draft);
    let step = several::behind(draft, &draft.sections[section].steps[index], id.clone());
    draft.sections[section].steps.insert(index + 1, step);
    Some(id)
}

/// A new step at the end of a section; it goes on from the step before.
pub fn add_step(draft: &mut Draft, section: usize) -> Option<Id> {
    let id = fresh_step_id(draft);
    let before = draft.sections.get(..=section)?;
    let last = before.iter().rev().find_map(|section| section.steps.last());
    let step = match last {
        Some(last) => several::behind(draft, last, id.clone()),
        None => DraftStep::blank(id.clone()),
    };
    draft.sections[section].steps.push(step);
    Some(id)
}

/// A copy of a step right below it.
pub fn duplicate_step(draft: &mut Draft, id: &Id) -> Option<Id> {
    let (section, index) = place_of(draft, id)?;
    let fresh = fresh_step_id(draft);
    let copy = DraftStep {
        id: fresh.clone(),
        // What came off comes off once, and a null is shared by two.
        takes_off: String::new(),
        puts_back: String::new(),
        shares_null_with: None,
        ..draft.sections[section].steps[index].clone()
    };
    draft.sections[section].steps.insert(index + 1, copy);
    Some(fresh)
}

/// Takes a step out, and what refers to it in passing; a target counted from it stays and says
/// that it is gone.
pub fn remove_step(draft: &mut Draft, id: &Id) {
    let Some((section, index)) = place_of(draft, id) else {
        return;
    };
    draft.sections[section].steps.remove(index);
    for step in draft.steps_mut() {
        step.needs.retain(|need| need != id);
        if step.shares_null_with.as_ref() == Some(id) {
            step.shares_null_with = None;
        }
    }
    for adjuster in &mut draft.adjusters {
        adjuster.disturbs.retain(|step| step != id);
    }
    for chase in &mut draft.chases {
        chase.steps.retain(|step| step != id);
    }
    draft.chases.retain(|chase| chase.steps.len() > 1);
    several::forget(draft, id);
}

/// Moves a step to a place in a section; the place is counted without the step itself.
pub fn move_step(draft: &mut Draft, id: &Id, section: usize, index: usize) {
    let Some((from, at)) = place_of(draft, id) else {
        return;
    };
    if section >= draft.sections.len() {
        return;
    }
    let step = draft.sections[from].steps.remove(at);
    let steps = &mut draft.sections[section].steps;
    steps.insert(index.min(steps.len()), step);
}

/// Moves a step one place up or down, over the border of its section if it stands there.
pub fn nudge_step(draft: &mut Draft, id: &Id, down: bool) {
    let Some((section, index)) = place_of(draft, id) else {
        return;
    };
    let length = draft.sections[section].steps.len();
    match (down, index) {
        (false, 0) if section > 0 => {
            let end = draft.sections[section - 1].steps.len();
            move_step(draft, id, section - 1, end);
        }
        (false, 0) => {}
        (false, _) => move_step(draft, id, section, index - 1),
        (true, _) if index + 1 < length => move_step(draft, id, section, index + 1),
        (true, _) => move_step(draft, id, section + 1, 0),
    }
}

/// A new section at the end.
pub fn add_section(draft: &mut Draft, title: &str) {
    draft.sections.push(DraftSection {
        title: title.to_owned(),
        steps: Vec::new(),
    });
}

/// Makes a section of its own of a step and those below it in its section.
pub fn split_section(draft: &mut Draft, id: &Id, title: &str) {
    let Some((section, index)) = place_of(draft, id) else {
        return;
    };
    let steps = draft.sections[section].steps.split_off(index);
    let fresh = DraftSection {
        title: title.to_owned(),
        steps,
    };
    draft.sections.insert(section + 1, fresh);
}

/// Moves a section one place up or down.
pub fn nudge_section(draft: &mut Draft, section: usize, down: bool) {
    let other = match down {
        true => section + 1,
        false => section.wrapping_sub(1),
    };
    if section < draft.sections.len() && other < draft.sections.len() {
        draft.sections.swap(section, other);
    }
}

/// Takes a section away; its steps go to the one before it, or the one after the first.
pub fn remove_section(draft: &mut Draft, section: usize) {
    if section >= draft.sections.len() || draft.sections.len() == 1 {
        return;
    }
    let gone = draft.sections.remove(section);
    match section {
        0 => {
            let first = &mut draft.sections[0].steps;
            first.splice(0..0, gone.steps);
        }
        _ => draft.sections[section - 1].steps.extend(gone.steps),
    }
}
