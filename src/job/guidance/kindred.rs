//! Which earlier jobs tell how the adjusters of a set pull each other. All of it follows from their
//! logs; nothing is stored.

use crate::job::guidance::advice;
use crate::job::{Course, Job, Line, SetKey, set_key};
use crate::metrology::inference::coupling::Coupling;
use crate::metrology::inference::kindred::Kindred;
use crate::procedure::{Chase, Id, Work};
use std::collections::BTreeSet;

/// The most sets that are gone by; more make what they tell hardly surer.
pub const MOST_SETS: usize = 12;

/// The most jobs that are read to find them. One that went by earlier sets itself often has too
/// few looks of its own to tell anything.
pub const MOST_JOBS: usize = 24;

/// The jobs that may tell something of a job, by their lines: begun before it, by the same
/// procedure; the latest first.
pub fn may_teach<'a>(lines: impl IntoIterator<Item = &'a Line>, job: &Id) -> Vec<&'a Line> {
    let lines: Vec<&Line> = lines.into_iter().collect();
    let Some(this) = lines.iter().find(|line| line.id == *job).copied() else {
        return Vec::new();
    };
    let began = |line: &Line| (line.started, line.id.clone());
    let is_earlier = |line: &&Line| line.shares_procedure(this) && began(line) < began(this);
    let mut earlier: Vec<&Line> = lines.into_iter().filter(is_earlier).collect();
    earlier.sort_by_key(|line| std::cmp::Reverse(began(line)));
    earlier.truncate(MOST_JOBS);
    earlier
}

/// What earlier jobs tell of a chase, from the latest on; `None` where too few tell anything.
///
/// A job counts where its chase has the same steps with the same work, whatever else its revision
/// changed, where its readings determine the coupling, and where nothing in its log is damaged.
/// One set counts once: that it pulls as it did says nothing of how sets differ.
pub fn kindred(
    course: &Course,
    chase: &Chase,
    earlier: impl IntoIterator<Item = Job>,
) -> Option<Kindred> {
    let mut sets: BTreeSet<SetKey> = BTreeSet::new();
    let mut known: Vec<Coupling> = Vec::new();
    for job in earlier {
        if known.len() == MOST_SETS {
            break;
        }
        if job.log.damaged().len() > 0 {
            continue;
        }
        let progress = job.progress();
        let Some(chase) = alike(course, &progress.course, chase) else {
            continue;
        };
        let set = set_key(&progress.header.set);
        if set.as_ref().is_some_and(|set| sets.contains(set)) {
            continue;
        }
        let Some(Ok(coupling)) = advice::coupling(&progress, chase) else {
            continue;
        };
        known.push(coupling);
        sets.extend(set);
    }
    Kindred::of(known)
}

/// The chase of another job that has the same steps chase each other, each the same work.
fn alike<'a>(this: &Course, other: &'a Course, chase: &Chase) -> Option<&'a Chase> {
    let work = |course: &Course, step: &Id| -> Option<Work> {
        Some(course.procedure.step(step)?.work.clone())
    };
    let is_same = |(here, there): (&Id, &Id)| {
        this.known_as(here) == other.known_as(there) && work(this, here) == work(other, there)
    };
    other.procedure.chases.iter().find(|known| {
        let steps = chase.steps.iter().zip(&known.steps);
        known.steps.len() == chase.steps.len() && steps.into_iter().all(is_same)
    })
}
