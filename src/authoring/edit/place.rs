//! Where a step stands, and what a new one is called.

use crate::authoring::draft::Draft;
use crate::procedure::Id;

/// An id that no step has.
pub fn fresh_step_id(draft: &Draft) -> Id {
    let taken = |name: &str| draft.steps().any(|step| step.id.as_str() == name);
    let count = draft.steps().count();
    (count + 1..)
        .map(|n| format!("step-{n}"))
        .find(|name| !taken(name))
        .and_then(|name| name.parse().ok())
        // A word and a number are an id, and some number is free.
        .unwrap_or_else(|| draft.id.clone())
}

/// Where a step stands: its section and its place in it.
pub(super) fn place_of(draft: &Draft, id: &Id) -> Option<(usize, usize)> {
    draft.sections.iter().enumerate().find_map(|(s, section)| {
        let index = section.steps.iter().position(|step| step.id == *id)?;
        Some((s, index))
    })
}
