//! Adjusters that chase each other: the rounds so far, and what to aim at next.

use crate::job::fold::standing::figures::{in_scale, resolution, rounded};
use crate::job::guidance::advice::aim::target_of;
use crate::job::{Phase, Progress, StepProgress, Taken};
use crate::metrology::inference::coupling::{Aim, Coupling, Turn, Unsupported};
use crate::metrology::inference::kindred::Kindred;
use crate::procedure::{Chase, Procedure};
use crate::quantity::Quantity;

/// One visit to a step of a chase: its reading before and after turning.
#[derive(Clone, Debug, PartialEq)]
pub struct Visit {
    /// The step's place in the chase, from 0.
    pub member: usize,
    /// The last reading before its adjuster was turned, where there is one: as found, or taken
    /// once more.
    pub before: Option<Quantity>,
    /// The reading on leaving it, where its adjuster was turned.
    pub after: Option<Quantity>,
}

/// Where to leave a step of a chase in the next round.
#[derive(Clone, Debug, PartialEq)]
pub struct ChaseAim {
    /// The step's place in the chase, from 0.
    pub member: usize,
    /// The reading to leave it at, so that the others bring it home.
    pub leave_at: Quantity,
    /// Half-width around its target in which it lies after the round, at 95 %.
    pub half_width: Option<Quantity>,
}

/// The rounds of steps that chase each other, and the aims for the next one.
#[derive(Clone, Debug, PartialEq)]
pub struct Rounds {
    /// The visits in their order, one list a round.
    pub rounds: Vec<Vec<Visit>>,
    /// What each reading moves by for one unit of each adjuster's own move.
    pub coupling: Option<Vec<Vec<f64>>>,
    /// The aims, or why the readings don't support any.
    pub aims: Result<NextAims, Unsupported>,
}

/// The aims for the next round, or for the one that goes on.
#[derive(Clone, Debug, PartialEq)]
pub struct NextAims {
    /// One for each step.
    pub each: Vec<ChaseAim>,
    /// Where the coupling is known from.
    pub from: KnownFrom,
}

/// Where it is known from how adjusters pull each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KnownFrom {
    /// The readings of this set.
    ThisSet,
    /// So many earlier jobs with other sets.
    EarlierJobs(usize),
}

/// Works out how the steps of a chase pull each other; `None` before any has a reading.
///
/// This set's own readings come first; what `earlier` ones tell is gone by until these suffice.
/// Aims stand from the first turn of a round to its end, unless the readings contradict what they
/// are from: a stop that moves while one turns towards it brings nobody home.
pub fn rounds(
    procedure: &Procedure,
    progress: &Progress,
    chase: &Chase,
    earlier: Option<&Kindred>,
) -> Option<Rounds> {
    let members = members(progress, chase)?;
    let visits = visits(&members);
    if visits.is_empty() {
        return None;
    }
    let noise: Vec<f64> = members.iter().map(|member| noise(member)).collect();
    let now = turns(&visits);
    let effects = Coupling::of(&now, &noise).ok().map(|coupling| {
        let all = 0..coupling.count();
        let row = |reading| {
            all.clone()
                .filter_map(|adjuster| coupling.effect(reading, adjuster))
                .collect()
        };
        all.clone().map(row).collect()
    });
    let rounds = in_rounds(visits, members.len());
    let next = Next {
        procedure,
        chase,
        members: &members,
        noise: &noise,
        earlier,
    };
    let begun = turns(&when_begun(&rounds, members.len()));
    Some(Rounds {
        aims: next.aims(&begun, &now).or_else(|_| next.aims(&now, &now)),
        rounds,
        coupling: effects,
    })
}

/// How the steps of a chase pull each other, as far as their own readings tell; `None` where a
/// step is not there.
pub(in crate::job) fn coupling(
    progress: &Progress,
    chase: &Chase,
) -> Option<Result<Coupling, Unsupported>> {
    let members = members(progress, chase)?;
    let noise: Vec<f64> = members.iter().map(|member| noise(member)).collect();
    Some(Coupling::of(&turns(&visits(&members)), &noise))
}

fn members<'a>(progress: &'a Progress, chase: &Chase) -> Option<Vec<&'a StepProgress>> {
    chase.steps.iter().map(|id| progress.step(id)).collect()
}

fn turns(visits: &[Visit]) -> Vec<Turn> {
    let turn = |visit: &Visit| Turn {
        adjuster: visit.member,
        before: visit.before.as_ref().map(Quantity::base_f64),
        after: visit.after.as_ref().map(Quantity::base_f64),
    };
    visits.iter().map(turn).collect()
}

/// The visits until the first turn of a round that goes on; all of them where none does.
fn when_begun(rounds: &[Vec<Visit>], members: usize) -> Vec<Visit> {
    let mut visits = rounds.concat();
    let goes_on = |round: &&Vec<Visit>| round.len() < members;
    let Some(last) = rounds.last().filter(goes_on) else {
        return visits;
    };
    if let Some(turned) = last.iter().position(|visit| visit.after.is_some()) {
        visits.truncate(visits.len() - last.len() + turned + 1);
        // Before it was turned it was looked at, if at all.
        let looked = visits.pop().filter(|visit| visit.before.is_some());
        visits.extend(looked.map(|visit| Visit {
            after: None,
            ..visit
        }));
    }
    visits
}

/// What is known of how a reading scatters: its rounding, or its repeats where these show more.
fn noise(standing: &StepProgress) -> f64 {
    let repeats = standing
        .left
        .as_ref()
        .and_then(|left| left.repeats.as_ref());
    let seen = repeats.map_or(0.0, |repeats| repeats.deviation);
    seen.max(resolution(standing) / 12f64.sqrt())
}

/// The readings of all members in the order of the log, joined into visits. Whether an adjuster
/// was turned before a reading is what its phase says: as found and repeats are looks.
fn visits(members: &[&StepProgress]) -> Vec<Visit> {
    let mut all: Vec<(usize, &Taken)> = members
        .iter()
        .enumerate()
        .flat_map(|(member, standing)| {
            let readings = standing.readings.iter();
            readings.map(move |taken| (member, &**taken))
        })
        .collect();
    all.sort_by_key(|(_, taken)| taken.order);
    let mut visits: Vec<Visit> = Vec::new();
    for (member, taken) in all {
        let is_look = taken.repeat || taken.phase == Phase::AsFound;
        let here = visits.last_mut().filter(|visit| visit.member == member);
        match here {
            // A look after turning says the same as the reading it repeats.
            Some(visit) if is_look && visit.after.is_some() => {}
            Some(visit) if is_look => visit.before = Some(taken.corrected.clone()),
            Some(visit) => visit.after = Some(taken.corrected.clone()),
            None => visits.push(Visit {
                member,
                before: is_look.then(|| taken.corrected.clone()),
                after: (!is_look).then(|| taken.corrected.clone()),
            }),
        }
    }
    visits
}

/// A new round begins when a member is visited that the present one already has.
fn in_rounds(visits: Vec<Visit>, members: usize) -> Vec<Vec<Visit>> {
    let mut rounds: Vec<Vec<Visit>> = Vec::new();
    for visit in visits {
        match rounds.last_mut() {
            Some(round)
                if round.len() < members && round.iter().all(|v| v.member != visit.member) =>
            {
                round.push(visit);
            }
            _ => rounds.push(vec![visit]),
        }
    }
    rounds
}

/// What the aims of a chase are worked out from, but for its visits.
struct Next<'a> {
    pub(super) procedure: &'a Procedure,
    chase: &'a Chase,
    members: &'a [&'a StepProgress],
    noise: &'a [f64],
    earlier: Option<&'a Kindred>,
}

impl Next<'_> {
    /// The aims from the visits when the round began, unless those until now speak against them.
    fn aims(&self, begun: &[Turn], now: &[Turn]) -> Result<NextAims, Unsupported> {
        let targets: Option<Vec<f64>> = self
            .members
            .iter()
            .map(|member| target_of(member.tolerance.as_ref()?.as_ref().ok()?))
            .collect();
        let targets = targets.ok_or(Unsupported::NoTargets)?;
        // What was never turned does nothing yet, which is not as much as doing the same.
        let unturned = (0..self.members.len()).find(|member| {
            let turned = |turn: &Turn| turn.adjuster == *member && turn.after.is_some();
            !now.iter().any(turned)
        });
        let order: Vec<usize> = (0..self.members.len()).collect();
        let own = Coupling::of(begun, self.noise)
            .and_then(|coupling| coupling.aims(&targets, &order))
            .map(|aims| self.shown(&aims, KnownFrom::ThisSet))
            .map_err(|why| match (why, unturned) {
                (Unsupported::Alike, Some(reading)) => Unsupported::NotTurned { reading },
                (why, _) => why,
            });
        let Some(earlier) = self.earlier.filter(|_| own.is_err()) else {
            return own;
        };
        let aims = earlier
            .bears_out(now, self.noise)
            .and_then(|()| earlier.aims(begun, self.noise, &targets, &order));
        match aims {
            Ok(aims) => Ok(self.shown(&aims, KnownFrom::EarlierJobs(earlier.sets()))),
            Err(told @ (Unsupported::Contradicted { .. } | Unsupported::NotSeen { .. })) => {
                Err(told)
            }
            Err(_) => own,
        }
    }

    fn shown(&self, aims: &[Aim], from: KnownFrom) -> NextAims {
        let shown = |aim: &Aim| {
            let step = self.procedure.step(self.chase.steps.get(aim.adjuster)?)?;
            let decimals = self.members[aim.adjuster].readings.last();
            let decimals = decimals.map(|taken| taken.value.number.decimals());
            Some(ChaseAim {
                member: aim.adjuster,
                leave_at: in_scale(aim.stop_at, step.work.gauge()?.scale, decimals)?,
                half_width: rounded(aim.half_width, step, 2),
            })
        };
        NextAims {
            each: aims.iter().filter_map(shown).collect(),
            from,
        }
    }
}
