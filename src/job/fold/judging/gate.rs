//! Which stops hold, and what a break has ended.

use crate::job::Part;
use crate::job::fold::pause;
use crate::job::fold::standing::status::Status;
use crate::job::fold::standing::whole::Progress;
use crate::procedure::{Id, Procedure, Step, Work};
use std::collections::HashMap;

impl Progress {
    /// Finds the stops that hold, and closes what comes behind those that don't in the same
    /// procedure. A break ends what was confirmed before it for the work to come; a job signed off
    /// since has none to come.
    pub(super) fn gate(&mut self, procedure: &Procedure) {
        let signed = self.signed_off.as_ref().map(|end| end.order);
        self.paused.retain(|(order, _)| signed < Some(*order));
        let paused = self.paused.last().map(|(order, _)| *order);
        let mut failing: HashMap<Id, usize> = HashMap::new();
        for (step, progress) in procedure.steps().zip(&mut self.steps) {
            let Work::Stop { holds, .. } = &step.work else {
                continue;
            };
            let lapsed = holds.is_until_a_break() && progress.ticked_order < paused;
            progress.holds = progress.ticked.is_some() && !lapsed;
            if progress.ticked.is_some() && lapsed {
                progress.status = Status::Lapsed;
            }
            if !progress.holds {
                failing.insert(step.id.clone(), progress.number);
            }
        }
        for (step, progress) in procedure.steps().zip(&mut self.steps) {
            let place = progress.number - 1;
            let part = self.course.part_of(place);
            let start = part.map_or(0, |part| part.steps.start);
            let stops = failing.values().copied();
            let goes_down = part.is_some_and(Part::is_of_a_procedure);
            let above = stops
                .filter(|stop| goes_down && (start + 1..=place).contains(stop))
                .min();
            let mut needs = step.needs.iter();
            progress.behind = above.or_else(|| needs.find_map(|need| failing.get(need).copied()));
        }
    }

    /// Ends the waits that a break outlasted, and the warm-ups that were done before it where
    /// something is read after them: nobody knows whether the set was on meanwhile.
    pub(super) fn cool_down(&mut self, procedure: &Procedure) {
        let Some(&(last, _)) = self.paused.last() else {
            return;
        };
        let mut reads_on = false;
        let steps: Vec<&Step> = procedure.steps().collect();
        for (step, progress) in steps.into_iter().zip(&mut self.steps).rev() {
            let ends = pause::wait_ends(step, progress);
            let outlasts = |(order, at): &(usize, i64)| {
                let began_before = progress.wait_order < Some(*order);
                began_before && ends.is_some_and(|ends| pause::is_past_wait(ends, *at))
            };
            let is_warm = pause::is_warm_up(step) && progress.status == Status::Done;
            let is_cold = is_warm && reads_on && progress.ticked_order < Some(last);
            let is_outlasted = progress.status.is_owed() && self.paused.iter().any(outlasts);
            // Nor is it over where it was ticked since without being started again.
            let is_undone = is_warm && reads_on && progress.wait_order < Some(last);
            if is_outlasted || is_undone {
                progress.wait_begun = None;
            }
            if is_cold {
                progress.status = Status::WaitAgain;
            }
            let read_since = progress.last_worked > Some(last);
            reads_on |= step.work.measures() && (progress.status.is_owed() || read_since);
        }
    }
}
