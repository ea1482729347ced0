//! Changes of a draft that reach further than one field: renaming, moving, duplicating.

mod list;
mod place;
mod steps;

pub use self::list::{List, NameFault, add, rename, take_off_list, unfit_names, uses};
pub use crate::authoring::edit::place::fresh_step_id;
pub use crate::authoring::edit::steps::{
    add_section, add_step, add_step_below, duplicate_step, move_step, nudge_section, nudge_step,
    remove_section, remove_step, split_section,
};

mod several;

pub use self::several::{
    add_table, change_cells, dissolve_table, gather_table, is_left_to_all, read_cells_in,
    remove_table, write_table,
};

use crate::authoring::draft::{Draft, DraftMode, DraftTerm};
use crate::authoring::{likely_scales, usual_units};
use crate::procedure::Id;

/// Gives a step its instrument, and, while no figure is typed, a unit that this instrument reads
/// where it never reads the one that stands there.
pub fn read_with(draft: &mut Draft, id: &Id, role: &str) {
    let likely = likely_scales(draft, id, role);
    let known = !usual_units(role).is_empty();
    for step in draft.steps_mut().filter(|step| step.id == *id) {
        step.with = role.to_owned();
        let target = &step.target;
        let figures = [&target.value, &target.high, &target.margin, &target.below];
        let is_free = step.reads() && figures.iter().all(|text| text.is_empty());
        let fits = likely.iter().any(|scale| scale.unit == step.scale.unit);
        if let Some(first) = likely.first().filter(|_| known && is_free && !fits) {
            step.scale = *first;
        }
    }
}

/// Gives an oscillator another name, in the plan and in every target by it.
pub fn rename_oscillator(draft: &mut Draft, from: &str, to: &str) {
    let replace = |name: &mut String| {
        if !from.is_empty() && name.trim() == from {
            *name = to.to_owned();
        }
    };
    let modes = draft.plan.iter_mut().flat_map(|plan| &mut plan.modes);
    for term in modes.flat_map(|mode| &mut mode.terms) {
        replace(&mut term.oscillator);
    }
    for step in draft.steps_mut() {
        replace(&mut step.target.oscillator);
    }
}

/// Puts a new oscillator into a mode of the plan, which is made where it isn't there.
pub fn add_oscillator(draft: &mut Draft, mode: &str, name: &str) {
    let plan = draft.plan.get_or_insert_default();
    let place = plan.modes.iter().position(|m| m.name.trim() == mode.trim());
    let index = place.unwrap_or_else(|| {
        plan.modes.push(DraftMode {
            name: mode.trim().to_owned(),
            ..DraftMode::default()
        });
        plan.modes.len() - 1
    });
    plan.modes[index].terms.push(DraftTerm::named(name.trim()));
}

#[cfg(test)]
mod tests {}
