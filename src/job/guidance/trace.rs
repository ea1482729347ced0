//! Looking for a fault along the path of a signal.

use crate::authoring::usual_instrument;
use crate::job::{Deed, Event, Job, OwnStep, Phase, Progress, Refusal, StepProgress, Taken};
use crate::metrology::inference::suspects;
use crate::metrology::inference::suspects::{Next, Reach, Suspects};
use crate::procedure::{
    CheckName, CheckPoint, Gauge, Holds, Id, Instrument, SignalPath, Stage, Step, Target,
    TestPoint, Work,
};
use crate::quantity::{Quantity, Scale};
use serde::{Deserialize, Serialize};

/// What a look without a figure showed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Look {
    /// Where along which path.
    pub at: LookAt,
    /// What it showed.
    pub showed: Showed,
    /// In words.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

/// A place along a path of the job.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct LookAt {
    /// The entry that the path was first written with.
    pub path: Id,
    /// Where along it.
    pub check: CheckName,
}

/// What was found where something was looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Showed {
    /// It is as it should be.
    Expected,
    /// It is not.
    Otherwise,
}

impl Showed {
    /// Both, in the order in which they are offered.
    pub const ALL: [Showed; 2] = [Showed::Expected, Showed::Otherwise];
}

/// A path along which a fault is looked for.
#[derive(Clone, Debug, PartialEq)]
pub struct Trace {
    /// Its name, the same through all its entries: that of the first.
    pub name: Id,
    /// The path as it was last written.
    pub path: SignalPath,
    /// The stop that has to hold before anything is looked at.
    pub stop: Option<Id>,
    /// When it was last written, in milliseconds since 1970 UTC by the device's clock.
    pub at: i64,
    /// Where in the log that is.
    order: usize,
    /// What was seen, in the order of the log.
    pub looks: Vec<Seen>,
}

/// What was seen at a place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Seen {
    /// Where along the path.
    pub check: CheckName,
    /// What it showed.
    pub showed: Showed,
    /// The step that it was read in, where a figure was.
    pub step: Option<Id>,
    /// The figure.
    pub value: Option<Quantity>,
    /// In words.
    pub note: String,
    /// When, in milliseconds since 1970 UTC by the device's clock.
    pub at: i64,
    /// Whether the set is as it was then: no part was changed and no cure recorded since.
    pub counts: bool,
    order: usize,
}

/// What is to be thought of a path, and where to look next.
#[derive(Clone, Debug, PartialEq)]
pub struct Tracing {
    /// How likely each stage is to be the first one at fault.
    pub suspects: Suspects,
    /// The place that tells most for what it takes.
    pub next: Option<CheckName>,
    /// Places whose looks speak against the stage that is most likely: one of them may be wrong.
    pub against: Vec<CheckName>,
    /// How much of the suspicion lies with the stages that `next` speaks of, from 0 to 1.
    pub part: f64,
}

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

    /// What to think of it. `before` says how often a stage was at fault in such sets.
    pub fn tracing(&self, before: impl Fn(&Stage) -> usize) -> Tracing {
        let (path, names) = self.path.suspicion(before);
        let place = |check: &CheckName| names.iter().position(|name| name == check);
        let counting = self.looks.iter().filter(|look| look.counts);
        let looks: Vec<suspects::Look> = counting
            .filter_map(|look| {
                Some(suspects::Look {
                    probe: place(&look.check)?,
                    is_good: look.showed == Showed::Expected,
                })
            })
            .collect();
        let weighed = path.weigh(&looks);
        let (suspects, next) = (weighed.suspects(), weighed.next());
        let part = next.map_or(0.0, |Next { probe, .. }| {
            let probe = &path.probes[probe];
            suspects.behind(probe)
        });
        let lead = suspects.leading();
        let speaks_against = |look: &&suspects::Look| {
            let probe = &path.probes[look.probe];
            let reaches = lead.is_some_and(|lead| lead <= probe.stage);
            lead.is_some() && probe.reach == Reach::Through && reaches == look.is_good
        };
        let mut against: Vec<CheckName> = Vec::new();
        for look in looks.iter().filter(speaks_against) {
            if !against.contains(&names[look.probe]) {
                against.push(names[look.probe].clone());
            }
        }
        Tracing {
            against,
            next: next.map(|next| names[next.probe].clone()),
            part,
            suspects,
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
        last.is_some_and(|last| is_outside(last) && Some(last.order) < self.mended)
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
