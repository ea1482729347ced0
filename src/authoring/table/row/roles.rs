//! Which instrument a row is read with.

use crate::authoring::draft::{Draft, DraftStep};
use crate::authoring::usual_instrument;
use crate::quantity::Unit;

/// The role as the draft has it; a new one in small letters, as a kit names its own.
pub(super) fn role_of(draft: &Draft, printed: &str) -> String {
    let small = printed.to_lowercase();
    let mut known = draft.instruments.iter().map(|it| it.name.trim());
    let found = known.find(|role| role.to_lowercase() == small);
    found.map_or(small.clone(), str::to_owned)
}

/// The instrument that a draft reads a unit with; where it has none, what usually reads it.
pub(super) fn instrument_for(draft: &Draft, unit: Unit) -> String {
    let reads_it =
        |step: &&DraftStep| step.reads() && step.scale.unit == unit && !step.with.trim().is_empty();
    match draft.steps().find(reads_it) {
        Some(step) => step.with.trim().to_owned(),
        None => usual_instrument(unit).to_owned(),
    }
}
