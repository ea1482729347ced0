//! Looking for a fault along the path of a signal.

use crate::authoring::usual_instrument;
use crate::job::entries::event::look::LookAt;
use crate::job::fold::standing::trace::Trace;
use crate::job::{Deed, Job, OwnStep, Progress, Refusal};
use crate::procedure::{
    CheckName, CheckPoint, Gauge, Holds, Id, Instrument, SignalPath, Step, Target, TestPoint, Work,
};
use crate::quantity::Scale;

impl Progress {
    /// Whether a path may be written like this, or a look be taken along it.
    pub(in crate::job) fn check_trace(&self, deed: &Deed) -> Result<(), Refusal> {
        let known = |name: &Id| {
            let found = self.traces.iter().find(|trace| trace.name == *name);
            found.ok_or(Refusal::NoEntry)
        };
        match deed {
            Deed::PathNoted { first, path, .. } => {
                first.as_ref().map(known).transpose()?;
                path.fault()
                    .map_or(Ok(()), |fault| Err(Refusal::Path(fault)))
            }
            Deed::Looked { look } => {
                let trace = known(&look.at.path)?;
                trace.path.check(&look.at.check).ok_or(Refusal::NoEntry)?;
                self.check_stop(trace)
            }
            _ => Ok(()),
        }
    }

    /// Whether what a path asks for is confirmed, where it asks for anything.
    pub fn is_ready(&self, trace: &Trace) -> bool {
        self.check_stop(trace).is_ok()
    }

    /// The entries that confirm what a path asks for.
    pub fn confirms(&self, trace: &Trace) -> Vec<Deed> {
        let Some(stop) = &trace.stop else {
            return Vec::new();
        };
        let added = self.step(stop).is_none().then(|| Deed::AddedStep {
            added: Box::new(trace.stop_step(stop)),
        });
        let ticked = Deed::Ticked { step: stop.clone() };
        added.into_iter().chain([ticked]).collect()
    }

    fn check_stop(&self, trace: &Trace) -> Result<(), Refusal> {
        if trace.path.confirm.trim().is_empty() {
            return Ok(());
        }
        let stop = trace.stop.as_ref().and_then(|stop| self.step(stop));
        let stop = stop.ok_or(Refusal::PathNotConfirmed)?;
        match (stop.holds, stop.ticked) {
            (true, _) => Ok(()),
            (false, None) => Err(Refusal::Behind(stop.number)),
            (false, Some(_)) => Err(Refusal::BehindLapsed(stop.number)),
        }
    }
}

/// The entry that begins a path. What one asks to be confirmed becomes a stop once it is, under a
/// name that nothing else has.
pub fn begins(path: SignalPath, stop: Id) -> Deed {
    let needs_stop = !path.confirm.trim().is_empty();
    Deed::PathNoted {
        first: None,
        stop: needs_stop.then_some(stop),
        path: Box::new(path),
    }
}

/// The paths of some jobs, the last one first, each once and none that is known already. What was
/// filled in for one set serves the next of its make and model.
pub fn paths_of(jobs: &[Job], known: &[Trace]) -> Vec<SignalPath> {
    let mut paths: Vec<SignalPath> = Vec::new();
    let traces = jobs.iter().flat_map(|job| job.progress().traces);
    let mut traces: Vec<Trace> = traces.collect();
    traces.sort_by_key(|trace| std::cmp::Reverse(trace.at));
    for Trace { path, .. } in traces {
        let is_here = known.iter().any(|trace| trace.path == path);
        if !is_here && !paths.contains(&path) {
            paths.push(path);
        }
    }
    paths
}

/// The step in which a figure is read at a place of a path, under a name that nothing else has.
/// `None` where no limit is known there.
pub fn reading_step(trace: &Trace, check: &CheckName, id: Id) -> Option<OwnStep> {
    let (_, place) = trace.path.check(check)?;
    let limit = place.limit.clone()?;
    let scale = limit.scale();
    let (at, with) = (point_of(place)?, role_for(scale)?);
    let work = Work::Read {
        gauge: Gauge::new(at.clone(), with.clone(), scale),
        target: Some(Target::Fixed(limit)),
    };
    let mut step = Step::new(id, place.what.trim(), work);
    trace.path.prepare(&mut step);
    step.needs = trace.stop.iter().cloned().collect();
    Some(OwnStep {
        step,
        point: Some(TestPoint::named(at)),
        role: Some(Instrument::named(with)),
        look: Some(LookAt {
            path: trace.name.clone(),
            check: check.clone(),
        }),
    })
}

/// The test point, or what is looked at where none is known, cut to what a name may be.
fn point_of(place: &CheckPoint) -> Option<Id> {
    let name = filled(&place.at).or_else(|| filled(&place.what))?;
    let short: String = name.chars().take(64).collect();
    short.trim().parse().ok()
}

fn role_for(scale: Scale) -> Option<Id> {
    usual_instrument(scale.unit).parse().ok()
}

fn filled(text: &str) -> Option<String> {
    Some(text.trim().to_owned()).filter(|text| !text.is_empty())
}

impl Trace {
    /// The stop for what the path asks to be confirmed.
    fn stop_step(&self, stop: &Id) -> OwnStep {
        let work = Work::Stop {
            confirm: self.path.confirm.trim().to_owned(),
            holds: Holds::default(),
            reads: None,
        };
        let mut step = Step::new(stop.clone(), self.path.title.clone(), work);
        step.text = self.path.lead.clone();
        step.cautions = filled(&self.path.caution).into_iter().collect();
        OwnStep {
            step,
            point: None,
            role: None,
            look: None,
        }
    }

    /// The entry that takes the path up again.
    pub fn taken_up(&self) -> Deed {
        self.noted(self.path.clone())
    }

    /// The entry that writes the path anew. It names the stop as well, for a copy of the job may have
    /// taken back the entry that the path began with.
    pub fn noted(&self, path: SignalPath) -> Deed {
        Deed::PathNoted {
            first: Some(self.name.clone()),
            stop: self.stop.clone(),
            path: Box::new(path),
        }
    }
}
