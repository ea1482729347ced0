//! A path along which a fault is looked for, as far as it was followed.

use crate::job::entries::event::look::Showed;
use crate::metrology::inference::suspects;
use crate::metrology::inference::suspects::{Next, Reach, Suspects};
use crate::procedure::{CheckName, Id, SignalPath, Stage};
use crate::quantity::Quantity;

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
    pub(in crate::job::fold) order: usize,
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
    pub(in crate::job::fold) order: usize,
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
