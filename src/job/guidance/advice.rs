//! What the readings so far advise at a step: where to stop, what pulls what, whether two routes
//! agree, whether something was a slip. All of it follows from the log; nothing is stored.

use crate::job::fold::{look_again, proof};
use crate::job::{Deed, Group, Phase, Progress, Read, Status, StepProgress, Taken, Tool};
use crate::metrology::distribution::outlier;
use crate::metrology::inference::agreement::{Agreement, Measured, normalised_error};
use crate::metrology::inference::coupling::{Aim, Coupling, Turn, Unsupported};
use crate::metrology::inference::kindred::Kindred;
use crate::metrology::inference::pull::{Origin, Pull, Try};
use crate::metrology::inference::slip;
use crate::metrology::inference::slip::{Neighbour, Slip};
use crate::metrology::{Place, Tolerance, Verdict};
use crate::procedure::{Chase, Comparison, CrossCheck, Id, Procedure, Step, Work};
use crate::quantity::{Number, Quantity, Scale, Unit, to_f64};
use bigdecimal::BigDecimal;
use std::ops::Range;

/// Where to stop with the tool in.
#[derive(Clone, Debug, PartialEq)]
pub struct AimOff {
    /// By how much the reading moves when the tool leaves, on average.
    pub pull: Quantity,
    /// How many tries that is from.
    pub tries: usize,
    /// The reading to stop at with the tool in, put right as those are that it is learnt from.
    pub stop_at: Quantity,
    /// Whether that is another figure than the instrument shows there.
    pub is_corrected: bool,
    /// Half-width of the range around the target in which it settles with 95 %.
    pub half_width: Option<Quantity>,
    /// How likely it settles inside the tolerance.
    pub chance: Option<f64>,
    /// Whether this is the adjuster's own habit or a first guess from others of its kind.
    pub origin: Origin,
}

/// Learns the pull of the step's adjuster and works out where to stop; `None` where nothing is
/// known yet or nothing is aimed at.
pub fn aim_off(procedure: &Procedure, progress: &Progress, step: &Step) -> Option<AimOff> {
    let standing = progress.step(&step.id)?;
    let tolerance = standing.tolerance.as_ref()?.as_ref().ok()?;
    let target = target_of(tolerance)?;
    let gauge = step.work.gauge()?;
    let own = tries(standing);
    let sisters: Vec<Vec<Try>> = sisters(procedure, step)
        .filter_map(|sister| progress.step(&sister.id))
        .map(tries)
        .filter(|tries| !tries.is_empty())
        .collect();
    let display = resolution(standing);
    let pull = Pull::learn(&own, &sisters, display).ok()?;
    let aim = pull.aim(target).ok()?;
    let (low, high) = tolerance.limits().to_f64();
    let decimals = standing.readings.last().map(|t| t.value.number.decimals());
    Some(AimOff {
        pull: rounded(pull.mean, step, 3)?,
        tries: pull.count,
        stop_at: in_scale(aim.stop_at, gauge.scale, decimals)?,
        is_corrected: standing
            .readings
            .last()
            .is_some_and(|taken| taken.way.is_some() || taken.value != taken.corrected),
        half_width: aim.half_width.and_then(|half| rounded(half, step, 2)),
        chance: pull.chance(aim.stop_at, low, high).ok().flatten(),
        origin: pull.origin,
    })
}

/// The value to aim at: the nominal one, or the middle between two limits that are not alike.
fn target_of(tolerance: &Tolerance) -> Option<f64> {
    match tolerance {
        Tolerance::Around {
            nominal,
            below,
            above,
        } if below == above => return Some(nominal.base_f64()),
        _ => {}
    }
    let (low, high) = tolerance.limits().to_f64();
    Some((low? + high?) / 2.0)
}

/// Readings with the tool in that are followed by one with the tool out.
fn tries(standing: &StepProgress) -> Vec<Try> {
    standing
        .readings
        .windows(2)
        .filter(|pair| pair[0].tool == Some(Tool::In) && pair[1].tool == Some(Tool::Out))
        .map(|pair| Try {
            tool_in: pair[0].corrected.base_f64(),
            tool_out: pair[1].corrected.base_f64(),
        })
        .collect()
}

/// Steps that read the same unit with another adjuster of the same kind.
fn sisters<'a>(procedure: &'a Procedure, step: &'a Step) -> impl Iterator<Item = &'a Step> {
    let kind_of = |step: &Step| {
        let adjuster = step.work.adjuster()?;
        procedure.adjuster(adjuster).map(|adjuster| adjuster.kind)
    };
    let unit_of = |step: &Step| step.work.gauge().map(|gauge| gauge.scale.unit);
    let kind = kind_of(step);
    procedure.steps().filter(move |other| {
        other.id != step.id
            && other.work.adjuster() != step.work.adjuster()
            && kind.is_some()
            && kind_of(other) == kind
            && unit_of(other) == unit_of(step)
    })
}

/// What one count of the display is worth.
fn resolution(standing: &StepProgress) -> f64 {
    let last = standing.readings.last();
    last.map_or(0.0, |taken| to_f64(&Read::of(taken).place()))
}

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
    procedure: &'a Procedure,
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

/// A null that one adjuster makes in two modes.
#[derive(Clone, Debug, PartialEq)]
pub struct SharedNull {
    /// The two readings that were last taken without a turn between them, this step's first.
    pub latest: (Quantity, Quantity),
    /// Whether the adjuster still stands as it did then; else either side has to be looked at.
    pub is_current: bool,
    /// Whether the worse of the two is inside, where both are known as the adjuster stands now.
    pub place: Option<Place>,
    /// Which of the two is the worse, and so the one to give to.
    pub worse: Side,
    /// The pair whose worse reading was the best so far.
    pub best: (Quantity, Quantity),
}

/// One of the two steps of a shared null.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// The step asked about.
    This,
    /// Its partner.
    Other,
    /// Both alike.
    Both,
}

/// Judges a shared null by the worse of its two readings; `None` until both have one, and where
/// its other step was waived, which then asks for nothing.
pub fn shared_null(procedure: &Procedure, progress: &Progress, step: &Step) -> Option<SharedNull> {
    let (this, other) = null_sides(progress, step)?;
    let partner = procedure.step(&other.id)?;
    let is_still = look_again::stood_still(procedure, &progress.steps);
    let mut pairs = null_pairs(this, other, |between| {
        is_still(step, between.clone()) && is_still(partner, between)
    });
    let now = null_now(this, other);
    pairs.extend(now.clone());
    let latest = pairs.last()?.clone();
    let best = pairs.iter().min_by_key(|pair| worse_of(pair))?.clone();
    let worse = match latest.0.base().cmp(&latest.1.base()) {
        std::cmp::Ordering::Greater => Side::This,
        std::cmp::Ordering::Less => Side::Other,
        std::cmp::Ordering::Equal => Side::Both,
    };
    Some(SharedNull {
        latest,
        is_current: now.is_some(),
        place: now.and_then(|now| null_place(this, &now)),
        worse,
        best,
    })
}

/// Whether the worse side of a step's null lies outside as the adjuster stands now. The fold asks
/// this at each entry, so it looks at the last readings alone.
pub fn is_null_outside(progress: &Progress, step: &Step) -> bool {
    let place = null_sides(progress, step)
        .and_then(|(this, other)| null_place(this, &null_now(this, other)?));
    place.is_some_and(|place| place != Place::Inside)
}

/// A step and the other step of its null; none where that was waived.
fn null_sides<'a>(
    progress: &'a Progress,
    step: &Step,
) -> Option<(&'a StepProgress, &'a StepProgress)> {
    let this = progress.step(&step.id)?;
    let other = progress.step(step.shares_null_with.as_ref()?)?;
    (other.status != Status::Waived).then_some((this, other))
}

/// Both readings as the adjuster stands now; none where a side has to be looked at first.
fn null_now(this: &StepProgress, other: &StepProgress) -> Option<(Quantity, Quantity)> {
    let last = |of: &StepProgress| {
        let taken = of.readings.last().filter(|_| of.look_again.is_none())?;
        Some(taken.corrected.clone())
    };
    last(this).zip(last(other))
}

fn null_place(this: &StepProgress, now: &(Quantity, Quantity)) -> Option<Place> {
    let tolerance = this.tolerance.as_ref()?.as_ref().ok()?;
    Some(tolerance.limits().place(&worse_of(now)))
}

fn worse_of(pair: &(Quantity, Quantity)) -> BigDecimal {
    pair.0.base().max(pair.1.base())
}

/// Neighbouring readings of the two steps, where what moves them stood still between them.
fn null_pairs(
    this: &StepProgress,
    other: &StepProgress,
    is_still: impl Fn(Range<usize>) -> bool,
) -> Vec<(Quantity, Quantity)> {
    let mine = this.readings.iter().map(|taken| (true, &**taken));
    let theirs = other.readings.iter().map(|taken| (false, &**taken));
    let mut all: Vec<(bool, &Taken)> = mine.chain(theirs).collect();
    all.sort_by_key(|(_, taken)| taken.order);
    all.windows(2)
        .filter(|pair| pair[0].0 != pair[1].0 && is_still(pair[0].1.order..pair[1].1.order))
        .map(|pair| {
            let value = |want: bool| {
                let taken = if pair[0].0 == want {
                    pair[0].1
                } else {
                    pair[1].1
                };
                taken.corrected.clone()
            };
            (value(true), value(false))
        })
        .collect()
}

/// The one repeated reading that looks like a slip, if one does. Among readings that drift none
/// stands out.
pub fn odd_one_out(standing: &StepProgress) -> Option<&Taken> {
    if standing.settling.is_some() {
        return None;
    }
    let group = standing.last_group();
    let values: Vec<f64> = group.iter().map(|t| t.corrected.base_f64()).collect();
    let suspect = outlier::suspect(&values, resolution(standing)).ok()??;
    group.get(suspect.index).map(|taken| &**taken)
}

/// What the latest reading of a step was most likely meant to be, where it looks like a slip.
pub fn slips(procedure: &Procedure, progress: &Progress, step: &Step) -> Vec<Slip<Id>> {
    let Some((standing, gauge)) = progress.step(&step.id).zip(step.work.gauge()) else {
        return Vec::new();
    };
    let known = standing.tolerance.as_ref().and_then(|t| t.as_ref().ok());
    let (Some(tolerance), Some(last)) = (known, standing.readings.last()) else {
        return Vec::new();
    };
    let scales: Vec<Scale> = gauge
        .scale
        .unit
        .prefixes()
        .iter()
        .map(|&prefix| Scale::new(prefix, gauge.scale.unit))
        .collect();
    let section = procedure.section_of(&step.id);
    let neighbours: Vec<Neighbour<'_, Id>> = section
        .iter()
        .flat_map(|section| &section.steps)
        .filter(|other| other.id != step.id)
        .filter_map(|other| {
            let standing = progress.step(&other.id)?;
            Some(Neighbour {
                step: other.id.clone(),
                tolerance: standing.tolerance.as_ref()?.as_ref().ok()?,
                reading: standing.readings.last().map(|taken| &taken.value),
            })
        })
        .collect();
    slip::suspect(&last.value, tolerance, &scales, &neighbours)
}

/// The deeds that put a step's latest reading right, in their order: struck out with the reason
/// are it and what it was swapped with, and then everything is entered where it belongs. `None`
/// where one of the readings is not there any more.
pub fn corrections(
    progress: &Progress,
    step: &Id,
    slip: &Slip<Id>,
    reason: &str,
) -> Option<Vec<Deed>> {
    let taken = |step: &Id| progress.step(step)?.readings.last();
    let strike = |step: &Id, taken: &Taken| Deed::Struck {
        step: step.clone(),
        reading: taken.event.clone(),
        reason: reason.to_owned(),
    };
    // What was meant was read in the manner of the slip.
    let enter = |step: &Id, taken: &Taken, value: &Quantity| Deed::Reading {
        step: step.clone(),
        phase: taken.phase,
        value: value.clone(),
        tool: taken.tool,
        repeat: taken.repeat,
        heard: taken.heard.clone(),
    };
    let last = taken(step)?;
    Some(match slip {
        Slip::Swapped { with, corrected } => {
            let other = taken(with)?;
            vec![
                strike(step, last),
                strike(with, other),
                enter(with, other, &last.value),
                enter(step, last, corrected),
            ]
        }
        Slip::Neighbour { step: other } => vec![
            strike(step, last),
            Deed::Reading {
                step: other.clone(),
                phase: last.phase,
                value: last.value.clone(),
                tool: None,
                repeat: false,
                heard: None,
            },
        ],
        Slip::Sign { corrected } | Slip::Prefix { corrected } | Slip::Decade { corrected, .. } => {
            vec![strike(step, last), enter(step, last, corrected)]
        }
    })
}

/// What a second route says of a step's reading.
#[derive(Clone, Debug, PartialEq)]
pub struct SecondOpinion {
    /// The figure by the second route, in the step's own unit where the two are compared.
    pub figure: Quantity,
    /// Second figure less first, where they are compared.
    pub difference: Option<Quantity>,
    /// What that means.
    pub opinion: Opinion,
}

/// Whether two routes agree.
#[derive(Clone, Debug, PartialEq)]
pub enum Opinion {
    /// Judged with both uncertainties: the normalised error Eₙ and what it says.
    Judged(f64, Agreement),
    /// The second figure is plausible in itself, or isn't.
    Plausible(Verdict),
    /// Both were read with one instrument, so what it is off by would not show.
    SameInstrument,
    /// The uncertainty of at least one is not known, so only the difference can be shown.
    Unjudged,
}

impl Opinion {
    /// Whether the second route speaks against the reading.
    pub fn is_against(&self) -> bool {
        match self {
            Opinion::Judged(_, agreement) => *agreement == Agreement::Disagree,
            Opinion::Plausible(verdict) => !verdict.is_inside(),
            Opinion::SameInstrument | Opinion::Unjudged => false,
        }
    }
}

/// Compares a step's reading with its second route; `None` until both are there.
pub(in crate::job) fn second_opinion(
    step: &Step,
    second: &Read,
    left: Option<&Group>,
) -> Option<SecondOpinion> {
    let check = step.cross_check.as_ref()?;
    let shown = &second.corrected;
    if let Comparison::Plausible(tolerance) = &check.compares {
        let verdict = (tolerance.unit() == shown.unit())
            .then(|| tolerance.judge_unrounded(shown, &second.right))?;
        return Some(SecondOpinion {
            figure: shown.clone(),
            difference: None,
            opinion: Opinion::Plausible(verdict),
        });
    }
    let left = left?;
    let first = left.value.base_f64();
    let (value, sensitivity) = converted(check, shown.unit(), to_f64(&second.right))?;
    let opinion = match is_one_instrument(step, check, left, second) {
        true => Opinion::SameInstrument,
        false => {
            let place = second.indicated.resolution();
            let budget = proof::budget(second.record(), &check.gauge.with, shown, &place, None);
            let second = budget.ok().map(|budget| budget.expanded * sensitivity);
            compared((value, second), (first, left))
        }
    };
    Some(SecondOpinion {
        figure: rounded(value, step, 3)?,
        difference: rounded(value - first, step, 3),
        opinion,
    })
}

/// What two figures say of each other, where both have an uncertainty.
fn compared((value, second): (f64, Option<f64>), (reference, left): (f64, &Group)) -> Opinion {
    let first = left.proof.as_ref().ok().map(|proof| proof.budget.expanded);
    let judged = first.zip(second).and_then(|(first, second)| {
        let measured = |value, expanded| Measured { value, expanded };
        normalised_error(measured(value, second), measured(reference, first)).ok()
    });
    judged.map_or(Opinion::Unjudged, |error| {
        Opinion::Judged(error, Agreement::of(error))
    })
}

/// Whether a step and its second route were read with one instrument: by one of the kit in both
/// or, where it is not of the kit, in one role.
fn is_one_instrument(step: &Step, check: &CrossCheck, left: &Group, second: &Read) -> bool {
    match (left.record(), second.record()) {
        (Some(a), Some(b)) => (&a.name, &a.asset) == (&b.name, &b.asset),
        _ => step
            .work
            .gauge()
            .is_some_and(|gauge| gauge.with == check.gauge.with),
    }
}

/// The second figure in the unit of the first without prefix, and by how much it moves for
/// one unit of what was read. P = U²/R for RMS volts, U = Upp/(2√2); I = U/R.
fn converted(check: &CrossCheck, unit: Unit, read: f64) -> Option<(f64, f64)> {
    match &check.compares {
        Comparison::Same | Comparison::Plausible(_) => Some((read, 1.0)),
        Comparison::CurrentThrough(ohms) => {
            let ohms = ohms.base_f64();
            (ohms > 0.0).then(|| (read / ohms, 1.0 / ohms))
        }
        Comparison::PowerInto(ohms) => {
            let ohms = ohms.base_f64();
            let to_rms = match unit {
                Unit::VoltRms | Unit::VoltDc => 1.0,
                Unit::VoltPeak => 1.0 / 2f64.sqrt(),
                Unit::VoltPeakToPeak => 1.0 / (2.0 * 2f64.sqrt()),
                _ => return None,
            };
            let rms = read * to_rms;
            (ohms > 0.0).then(|| (rms * rms / ohms, 2.0 * rms * to_rms / ohms))
        }
    }
}

/// A worked-out size in the unit of a step's differences, with so many significant digits.
fn rounded(value: f64, step: &Step, digits: usize) -> Option<Quantity> {
    let unit = step.work.gauge()?.scale.unit.of_difference();
    crate::quantity::sum::Output::amount("", value, unit).quantity(digits)
}

/// A worked-out reading in the step's scale, with the decimals of the readings.
fn in_scale(value: f64, scale: Scale, decimals: Option<i64>) -> Option<Quantity> {
    let shown = value / 10f64.powi(i32::try_from(scale.prefix.exponent()).ok()?);
    let decimals = u8::try_from(decimals.unwrap_or(3)).ok()?;
    Number::from_f64(shown, decimals).map(|number| Quantity::new(number, scale))
}

/// Whether a step adjusts with a tool that may pull the reading.
pub fn has_tool(procedure: &Procedure, step: &Step) -> bool {
    use crate::procedure::AdjusterKind;
    let Work::Set { adjuster, .. } = &step.work else {
        return false;
    };
    let kind = procedure.adjuster(adjuster).map(|adjuster| adjuster.kind);
    matches!(kind, Some(AdjusterKind::Core | AdjusterKind::Trimmer))
}
