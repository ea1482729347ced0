//! The cells of a table that one series answers.

use crate::app::shell::bench::Bench;
use crate::app::shell::open_step::OpenStep;
use crate::job::{Phase, Progress};
use crate::procedure::{Id, SetUp, Setting};
use crate::quantity::{Quantity, Scale, Unit};

/// A cell that is set up as the open step but for one setting.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    pub id: Id,
    pub phase: Phase,
    /// In what it is read.
    pub scale: Scale,
    /// What is set for it.
    pub set: Quantity,
    /// Whether it is owed.
    pub is_owed: bool,
}

/// Whether a response is given in a scale: against its reference, or as the power that it is.
const fn of_response(scale: Scale) -> bool {
    matches!(scale.unit, Unit::Decibel | Unit::DecibelMilliwatt)
}

/// The cells in decibels of the open step's table that differ from it in a setting alone, in the
/// order in which they are read.
pub fn cells(bench: Bench, step: &OpenStep, of: Setting) -> Vec<Cell> {
    bench.progress.with(|progress| {
        let found = progress.as_ref().and_then(|it| cells_in(it, step, of));
        found.unwrap_or_default()
    })
}

fn cells_in(progress: &Progress, step: &OpenStep, of: Setting) -> Option<Vec<Cell>> {
    let procedure = &progress.course.procedure;
    let table = procedure.table_of(&step.id)?;
    let own = but_for(&procedure.step(&step.id)?.set_up, of);
    let cell = |id: &Id| {
        let other = procedure.step(id)?;
        let scale = other.work.gauge()?.scale;
        let in_decibels = match of {
            Setting::ModulationTone => of_response(scale),
            _ => scale == Scale::plain(Unit::Decibel),
        };
        let standing = progress.step(id)?;
        let alike = in_decibels && but_for(&other.set_up, of) == own;
        alike.then_some(Cell {
            id: id.clone(),
            phase: standing.next_phase(&other.work),
            scale,
            set: other.set_up.quantity(of)?,
            is_owed: standing.status.is_owed(),
        })
    };
    Some(table.steps().filter_map(cell).collect())
}

/// What has to be alike. Controls are not in it: they name the setting in words, as a volume does
/// that is set at one level.
fn but_for(set_up: &SetUp, of: Setting) -> SetUp {
    let mut alike = set_up.clone();
    alike.controls.clear();
    alike.settings.remove(&of);
    alike
}
