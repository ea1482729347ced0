//! What was seen along a path, and what still counts of it.

use crate::job::entries::event::look::{LookAt, Showed};
use crate::job::fold::standing::trace::{Seen, Trace};
use crate::job::{Deed, Event, Phase, Progress, StepProgress, Taken};
use crate::procedure::{Id, SignalPath};

impl Trace {
    /// Takes an entry of the log.
    pub(in crate::job) fn take(traces: &mut Vec<Trace>, order: usize, event: &Event) {
        match &event.did {
            Deed::PathNoted { first, stop, path } => {
                let name = first.as_ref().unwrap_or(&event.id);
                // Only a file can bring one that can't be looked along.
                if path.fault().is_some() {
                    return;
                }
                let path = SignalPath::clone(path);
                match traces.iter_mut().find(|trace| trace.name == *name) {
                    Some(known) => {
                        (known.path, known.at, known.order) = (path, event.at, order);
                    }
                    None => traces.push(Trace {
                        name: name.clone(),
                        path,
                        stop: stop.clone(),
                        at: event.at,
                        order,
                        looks: Vec::new(),
                    }),
                }
            }
            Deed::Looked { look } => {
                let mut all = traces.iter_mut();
                if let Some(trace) = all.find(|trace| trace.name == look.at.path) {
                    trace.looks.push(Seen {
                        check: look.at.check.clone(),
                        showed: look.showed,
                        step: None,
                        value: None,
                        note: look.note.clone(),
                        at: event.at,
                        counts: true,
                        order,
                    });
                }
            }
            _ => {}
        }
    }
}

impl Progress {
    /// The path that was begun or taken up last.
    pub fn trace(&self) -> Option<&Trace> {
        self.traces.iter().max_by_key(|trace| trace.order)
    }

    /// Whether a step was read outside its limits before a part was changed or a cure recorded, and
    /// not since.
    pub fn was_read_before_the_cure(&self, step: &StepProgress) -> bool {
        let last = step.readings.last();
        let is_outside = |taken: &Taken| taken.verdict.as_ref().is_some_and(|it| !it.is_inside());
        last.is_some_and(|last| is_outside(last)) && self.was_not_read_since(step)
    }

    /// Whether a step was read before a part was changed or a cure recorded, and not since.
    pub fn was_not_read_since(&self, step: &StepProgress) -> bool {
        let last = step.readings.last();
        last.is_some_and(|last| Some(last.order) < self.mended)
    }

    /// Whether a step is there to look for a fault along a path, or to be confirmed before that.
    pub fn is_of_a_trace(&self, step: &Id) -> bool {
        let reads = self.course.looks.iter().any(|(look, _)| look == step);
        reads
            || self
                .traces
                .iter()
                .any(|trace| trace.stop.as_ref() == Some(step))
    }

    /// Joins the looks that were read in steps, and says which count: what was seen before a part
    /// was changed or a cure recorded, the set no longer shows.
    pub(in crate::job) fn follow_traces(&mut self) {
        let mut traces = std::mem::take(&mut self.traces);
        for trace in &mut traces {
            let read = self.course.looks.iter();
            let read = read.filter(|(_, at)| at.path == trace.name);
            trace
                .looks
                .extend(read.filter_map(|(step, at)| self.seen_in(step, at)));
            trace.looks.sort_by_key(|look| look.order);
            for look in &mut trace.looks {
                look.counts = self.mended < Some(look.order);
            }
        }
        self.traces = traces;
    }

    /// What the reading of a step says. Once the set is mended, the reading that showed the fault
    /// stays what was seen then.
    fn seen_in(&self, step: &Id, at: &LookAt) -> Option<Seen> {
        let readings = &self.step(step)?.readings;
        let is_since = |order: usize| self.mended < Some(order);
        let since = readings.iter().rev().find(|taken| is_since(taken.order));
        let taken = since.or_else(|| readings.iter().find(|it| it.phase == Phase::AsFound))?;
        let showed = match taken.verdict.as_ref()?.is_inside() {
            true => Showed::Expected,
            false => Showed::Otherwise,
        };
        Some(Seen {
            check: at.check.clone(),
            showed,
            step: Some(step.clone()),
            value: Some(taken.corrected.clone()),
            note: String::new(),
            at: taken.at,
            counts: true,
            order: taken.order,
        })
    }
}
