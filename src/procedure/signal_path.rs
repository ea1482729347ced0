//! The way of a signal through a set, stage by stage, where a fault is looked for.

use super::{Id, Signal, Step};
use crate::metrology::Tolerance;
use crate::metrology::inference::suspects::{Path, Probe, Reach};
use serde::{Deserialize, Serialize};

/// The stages that a signal passes, in its order. What feeds a stage from the side, such as an
/// oscillator or a rail, stands before it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields, default)]
pub struct SignalPath {
    /// What it is called.
    pub title: String,
    /// How the set and what hangs on it are made ready for it.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub lead: String,
    /// What can hurt or break on the way.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub caution: String,
    /// The mode that the set is in.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub mode: String,
    /// The channel or frequency.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub channel: String,
    /// Receiving or transmitting.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub signal: Option<Signal>,
    /// What has to be confirmed before anything is looked at along it, in the first person.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub confirm: String,
    /// The stages.
    pub stages: Vec<Stage>,
}

/// The most stages of a path.
pub const MOST_STAGES: usize = 60;

/// A stage of a path.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Stage {
    /// Its name within the path.
    pub id: Id,
    /// What it is called.
    pub name: String,
    /// How often such a stage fails, against the others.
    #[serde(default)]
    pub chance: Chance,
    /// Where can be looked whether it works, each of another reach.
    pub checks: Vec<CheckPoint>,
}

/// A place where can be looked whether a stage works.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct CheckPoint {
    /// What it shows.
    pub shows: Reach,
    /// What is looked at.
    pub what: String,
    /// The test point, where one is known.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub at: String,
    /// What is expected there.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub expect: String,
    /// Where a reading must lie, where that is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub limit: Option<Tolerance>,
    /// What it takes to get there.
    #[serde(default)]
    pub effort: Effort,
}

/// How often a stage fails, against the others of its path.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Chance {
    /// Half as often as most.
    Seldom,
    /// As most do.
    #[default]
    Usual,
    /// Twice as often as most.
    Often,
}

impl Chance {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Chance; 3] = [Chance::Seldom, Chance::Usual, Chance::Often];

    const fn weight(self) -> f64 {
        match self {
            Chance::Seldom => 1.0,
            Chance::Usual => 2.0,
            Chance::Often => 4.0,
        }
    }
}

/// What it takes to look somewhere.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Effort {
    /// The probe gets there at once.
    #[default]
    Little,
    /// About twice as much.
    Some,
    /// About five times as much: something has to come off.
    Much,
    /// The probe doesn't get there.
    OutOfReach,
}

impl Effort {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Effort; 4] = [
        Effort::Little,
        Effort::Some,
        Effort::Much,
        Effort::OutOfReach,
    ];

    /// What a look costs, where the easiest costs 1.
    const fn cost(self) -> Option<f64> {
        match self {
            Effort::Little => Some(1.0),
            Effort::Some => Some(2.0),
            Effort::Much => Some(5.0),
            Effort::OutOfReach => None,
        }
    }
}

/// A place to look, by its stage and what it shows.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct CheckName {
    /// The stage.
    pub stage: Id,
    /// What it shows.
    pub shows: Reach,
}

/// What is wrong with a path.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PathFault {
    /// It has no name.
    Untitled,
    /// It has fewer than two stages.
    TooShort,
    /// It has more stages than a path may have.
    TooLong,
    /// A stage has no name: its place, from 1.
    Nameless(usize),
    /// Two stages are called the same: the place of the second, from 1.
    Twice(usize),
    /// Nothing can be looked at along it.
    NoCheck,
    /// A stage has two places that show the same: its place, from 1.
    SameCheck(usize),
    /// Nothing says what is looked at: the place of the stage, from 1.
    NothingSaid(usize),
}

impl SignalPath {
    /// The first thing that is wrong with it.
    pub fn fault(&self) -> Option<PathFault> {
        let blank = |text: &str| text.trim().is_empty();
        if blank(&self.title) {
            return Some(PathFault::Untitled);
        }
        match self.stages.len() {
            0 | 1 => return Some(PathFault::TooShort),
            MOST_STAGES.. if self.stages.len() > MOST_STAGES => return Some(PathFault::TooLong),
            _ => {}
        }
        for (place, stage) in self.stages.iter().enumerate() {
            let number = place + 1;
            let is_twin =
                |other: &Stage| other.id == stage.id || other.name.trim() == stage.name.trim();
            let is_same = |(place, check): (usize, &CheckPoint)| {
                stage.checks[..place]
                    .iter()
                    .any(|it| it.shows == check.shows)
            };
            if blank(&stage.name) {
                return Some(PathFault::Nameless(number));
            }
            if self.stages[..place].iter().any(is_twin) {
                return Some(PathFault::Twice(number));
            }
            if stage.checks.iter().enumerate().any(is_same) {
                return Some(PathFault::SameCheck(number));
            }
            if stage.checks.iter().any(|check| blank(&check.what)) {
                return Some(PathFault::NothingSaid(number));
            }
        }
        let is_bare = self.stages.iter().all(|stage| stage.checks.is_empty());
        is_bare.then_some(PathFault::NoCheck)
    }

    /// A place to look, with its stage.
    pub fn check(&self, name: &CheckName) -> Option<(&Stage, &CheckPoint)> {
        let stage = self.stages.iter().find(|stage| stage.id == name.stage)?;
        let check = stage
            .checks
            .iter()
            .find(|check| check.shows == name.shows)?;
        Some((stage, check))
    }

    /// Every place to look, in the order of the signal.
    pub fn checks(&self) -> impl Iterator<Item = (usize, CheckName, &CheckPoint)> {
        self.stages.iter().enumerate().flat_map(|(place, stage)| {
            stage.checks.iter().map(move |check| {
                let name = CheckName {
                    stage: stage.id.clone(),
                    shows: check.shows,
                };
                (place, name, check)
            })
        })
    }

    /// The path as suspicion goes along it, with the places of its probes. `seen` says how often
    /// each stage was at fault in sets of this model before; each such set counts as much as a
    /// stage that fails as most do, on top of how often it is expected to (P. S. Laplace's rule of
    /// succession, with the expectation as what was there before).
    pub fn suspicion(&self, seen: impl Fn(&Stage) -> usize) -> (Path, Vec<CheckName>) {
        let weight = |stage: &Stage| {
            let before = seen(stage) as f64;
            stage.chance.weight() + before * Chance::Usual.weight()
        };
        let reached = self
            .checks()
            .filter_map(|(stage, name, check)| Some((stage, name, check.effort.cost()?)));
        let (probes, names) = reached
            .map(|(stage, name, cost)| {
                let reach = name.shows;
                (Probe { stage, reach, cost }, name)
            })
            .unzip();
        let weights = self.stages.iter().map(weight).collect();
        (Path { weights, probes }, names)
    }

    /// What an own step of a path has for its set-up.
    pub(crate) fn prepare(&self, step: &mut Step) {
        let stated = |text: &str| Some(text.trim().to_owned()).filter(|text| !text.is_empty());
        step.set_up.mode = stated(&self.mode);
        step.set_up.channel = stated(&self.channel);
        step.set_up.signal = self.signal;
        step.cautions.extend(stated(&self.caution));
    }
}
