//! Where a table of readings stands, and which of its cells is read next.

use crate::job::{Progress, Status, StepProgress};
use crate::metrology::Verdict;
use crate::procedure::{Id, ReadingTable, TargetFault};

/// Where a table of readings stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TableStanding {
    /// How many of its cells are done.
    pub done: usize,
    /// How many of them are waived.
    pub waived: usize,
    /// How many there are.
    pub cells: usize,
    /// What is left to do: outside where a cell is, done where all are settled.
    pub status: Status,
}

impl Progress {
    /// Where a table stands.
    pub fn table(&self, table: &ReadingTable) -> TableStanding {
        let cells: Vec<Status> = table
            .steps()
            .filter_map(|id| Some(self.step(id)?.status))
            .collect();
        let count = |status| cells.iter().filter(|it| **it == status).count();
        let (done, waived) = (count(Status::Done), count(Status::Waived));
        let status = match done + waived == cells.len() {
            true => Status::Done,
            false if cells.contains(&Status::Outside) => Status::Outside,
            false => Status::Open,
        };
        TableStanding {
            done,
            waived,
            cells: cells.len(),
            status,
        }
    }

    /// The cell that is read after this one: the next that is owed, from the beginning again
    /// behind the last; on a second walk, with none owed and this one read inside before, the one
    /// behind it. None while this one holds, as one that is outside does.
    pub fn next_cell(&self, table: &ReadingTable, after: &Id) -> Option<Id> {
        let here = self.step(after)?;
        if here.status.is_owed() && !here.waits_for_its_target() {
            return None;
        }
        let place = table.steps().position(|id| id == after)?;
        let cells: Vec<&Id> = table.steps().collect();
        let (before, behind) = cells.split_at(place + 1);
        let mut in_turn = behind.iter().chain(before).copied();
        let is_due = |id: &&Id| {
            let cell = self.step(id);
            cell.is_some_and(|cell| cell.status.is_owed() && !cell.waits_for_its_target())
        };
        let due = in_turn.find(is_due).filter(|id| *id != after);
        due.or_else(|| behind.first().copied().filter(|_| here.was_good_before()))
            .cloned()
    }
}

impl StepProgress {
    /// Whether the reading before the last was inside too.
    fn was_good_before(&self) -> bool {
        let before = self.readings.iter().rev().nth(1);
        let verdict = before.and_then(|taken| taken.verdict.as_ref());
        verdict.is_some_and(Verdict::is_inside)
    }

    /// Whether it is read, and its target is known only when another step is read too.
    pub fn waits_for_its_target(&self) -> bool {
        self.left.is_some() && matches!(self.tolerance, Some(Err(TargetFault::Waiting(_))))
    }
}
