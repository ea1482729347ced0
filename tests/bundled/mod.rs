//! The procedures that come with the app.

use halfturn::authoring::TargetKind;
use halfturn::exchange::{Starter, demo, starters};
use halfturn::procedure::Procedure;
use halfturn::quantity::DecimalSign;

/// All of them, the demo's last, each open figure with one in its place: a step without is none
/// that turns a thing.
pub fn procedures() -> Vec<Procedure> {
    let mut starters = starters(DecimalSign::Point);
    for step in starters.iter_mut().flat_map(|it| it.draft.steps_mut()) {
        if step.target.kind == TargetKind::Around && step.target.value.is_empty() {
            step.target.value = format!("10 {}", step.scale);
        }
    }
    let read = |starter: Starter| starter.draft.read(DecimalSign::Point).0;
    let read = starters.into_iter().map(read);
    read.chain([demo::procedure().expect("the demo")]).collect()
}
