//! Adjusters that chase each other: how each disturbs the others' readings, and where to leave
//! each so that one round brings all home.

use crate::metrology::distribution::student;
use crate::metrology::uncertainty::COVERAGE;
use crate::quantity::Fault;
use crate::quantity::fault::{at_least, at_most, finite, not_negative};
use std::fmt;

/// The fewest adjusters that can chase each other.
pub const FEWEST: usize = 2;

/// The most adjusters that are worked out together.
pub const MOST: usize = 6;

/// Below this, on a scale from 0 to 1, two causes can't be told apart.
const APART: f64 = 1e-4;

/// Below this, on a scale from 0 to 1, adjusters do nearly the same to the readings.
const UNLIKE: f64 = 0.05;

/// What the corrections of all readings together must be of their doubt.
const WORTH_A_ROUND: f64 = 2.0;

/// A stop farther out than the worst reading is now must gain so many times its doubt.
const WORTH_A_DETOUR: f64 = 3.0;

/// A visit to an adjuster: its own reading before and after turning it.
///
/// A look has no reading after; where nothing was read before turning, by how much it was turned
/// isn't known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    /// Which adjuster, from 0; its own reading has the same number.
    pub adjuster: usize,
    /// Its reading before, in the unit without prefix.
    pub before: Option<f64>,
    /// Its reading after, where it was turned.
    pub after: Option<f64>,
}

/// What the readings tell of a group of adjusters.
#[derive(Clone, Debug, PartialEq)]
pub struct Coupling {
    rows: Vec<Row>,
    /// What a standard deviation in units of the stated noise is multiplied by for 95 %.
    cover: f64,
    /// The scatter of the residues in units of the stated noise, where that is more than one.
    scatter: f64,
    /// Degrees of freedom of the residues of all readings.
    freedom: f64,
}

/// What is known of one reading.
#[derive(Clone, Debug, PartialEq)]
struct Row {
    /// What one unit of each adjuster's own change does to this reading, 1 for its own; then what
    /// it drifts by from one visit to the next.
    effects: Vec<f64>,
    /// Covariances of the effects by the stated noise; zero for its own.
    covariance: Vec<Vec<f64>>,
    /// Its level after the last visit.
    now: f64,
    /// Variance of that, but for the effects'.
    now_variance: f64,
    /// Stated standard deviation of one reading.
    noise: f64,
}

/// Where to leave an adjuster in the next round.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Aim {
    /// Which adjuster, from 0.
    pub adjuster: usize,
    /// The reading at which to leave it, so that those turned after it bring it home.
    pub stop_at: f64,
    /// Half-width around its target in which its reading lies when the round is over, at 95 %.
    pub half_width: f64,
}

/// Why the readings don't support aims.
#[derive(Clone, Debug, PartialEq)]
pub enum Unsupported {
    /// A reading was not looked at often enough, or not after each of the others was turned.
    TooFewLooks {
        /// Which reading, from 0.
        reading: usize,
        /// How many times it was looked at again with its own adjuster left alone.
        count: usize,
        /// How many are needed: one more than there are unknowns.
        least: usize,
    },
    /// Two or more adjusters were always turned together between looks at a reading.
    Entangled {
        /// Which reading, from 0.
        reading: usize,
    },
    /// A reading drifts from visit to visit by more than it scatters.
    Drifting {
        /// Which reading, from 0.
        reading: usize,
    },
    /// A reading does not move as earlier sets of the kind say, and this set's own readings don't
    /// support aims yet.
    Contradicted {
        /// Which reading, from 0.
        reading: usize,
        /// How many earlier sets say so.
        sets: usize,
    },
    /// Earlier sets of the kind tell where to leave each, but for a reading that was not looked at
    /// as it stands.
    NotSeen {
        /// Which reading, from 0.
        reading: usize,
        /// How many earlier sets there are.
        sets: usize,
    },
    /// What the adjusters do to each other doesn't stand out from the scatter of the readings.
    Scatter,
    /// Two or more adjusters do nearly the same to all readings.
    Alike,
    /// An adjuster was not turned yet, so that nobody knows what it does.
    NotTurned {
        /// Whose reading, from 0.
        reading: usize,
    },
    /// Not every reading has a target to both sides that is known.
    NoTargets,
    /// A value that makes no sense.
    Fault(Fault),
}

impl fmt::Display for Unsupported {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Unsupported::TooFewLooks {
                reading,
                count,
                least,
            } => write!(
                f,
                "Reading {} was looked at again {count} of at least {least} times, and must be \
                 after each of the others was turned; set each to its own target once more, and \
                 read all before and after each turn.",
                reading + 1
            ),
            Unsupported::Entangled { reading } => write!(
                f,
                "Several adjusters were turned between two looks at reading {}, always in the \
                 same measure; look at it after each single turn.",
                reading + 1
            ),
            Unsupported::Drifting { reading } => write!(
                f,
                "Reading {} drifts from visit to visit; wait until the set has settled, then set \
                 each to its own target.",
                reading + 1
            ),
            Unsupported::Contradicted { reading, sets } => write!(
                f,
                "Reading {} does not move as in {sets} earlier jobs, so these are not gone by; \
                 set each to its own target, and read all before and after each turn.",
                reading + 1
            ),
            Unsupported::NotSeen { reading, sets } => write!(
                f,
                "Look at reading {} before any is turned: {sets} earlier jobs then tell where to \
                 leave each.",
                reading + 1
            ),
            Unsupported::Scatter => f.write_str(
                "What the adjusters do to each other is lost in the scatter of the readings; \
                 set each to its own target.",
            ),
            Unsupported::Alike => f.write_str(
                "Two adjusters do nearly the same to all readings, so no aim for both follows \
                 from them; leave one where it is and check its circuit.",
            ),
            Unsupported::NotTurned { reading } => write!(
                f,
                "What the adjuster of reading {} does is not known before it was turned; set each \
                 to its own target.",
                reading + 1
            ),
            Unsupported::NoTargets => f.write_str(
                "Not every reading has a target to both sides that is known by now, so there is \
                 nothing to aim at; set each as its step says.",
            ),
            Unsupported::Fault(fault) => fault.fmt(f),
        }
    }
}

impl std::error::Error for Unsupported {}

impl From<Fault> for Unsupported {
    fn from(fault: Fault) -> Self {
        Unsupported::Fault(fault)
    }
}

/// A reading, and what had been turned until then.
pub(in crate::metrology) struct Seen {
    /// Grows by one whenever the reading may have moved by an amount that isn't known.
    pub segment: usize,
    /// What each adjuster was turned in all, in its own reading; then the number of the visit.
    pub causes: Vec<f64>,
    pub value: f64,
}

/// The looks at one reading.
pub(in crate::metrology) struct History {
    pub seen: Vec<Seen>,
    /// As in [`Seen`], as it stands now.
    pub segment: usize,
    /// As in [`Seen`], as it stands now.
    pub causes: Vec<f64>,
}

/// A reading's fit before its scatter is known.
struct Fit {
    row: Row,
    squares: f64,
    freedom: f64,
}

impl Coupling {
    /// The coupling of 2 to 6 adjusters from the visits in the order in which they were made.
    ///
    /// `noise` is the standard deviation of each reading as far as it is known, from its display
    /// or from repeats. Between two turns of its own, a reading is
    /// level + Σ cᵢⱼ·(own change of j) + drift·(number of the visit): levels, effects and drift by
    /// least squares, with one look more than unknowns. The residues of all readings together, in
    /// units of the noise, tell how much they really scatter, with Student's factor at their
    /// freedom.
    /// Source: linear model of interaction, common practice, no source; least squares with
    /// covariance σ²·(DᵀD)⁻¹, closed form.
    pub fn of(turns: &[Turn], noise: &[f64]) -> Result<Coupling, Unsupported> {
        let fits = histories(turns, noise)?
            .into_iter()
            .enumerate()
            .map(|(reading, history)| history.fit(reading, noise))
            .collect::<Result<Vec<Fit>, _>>()?;
        let squares: f64 = fits.iter().map(|fit| fit.squares).sum();
        let freedom: f64 = fits.iter().map(|fit| fit.freedom).sum();
        let scatter = (squares / freedom).sqrt();
        let as_stated = match noise.iter().all(|&noise| noise == 0.0) {
            true => 0.0,
            false => student::coverage_factor(COVERAGE, f64::INFINITY)?,
        };
        let as_seen = student::coverage_factor(COVERAGE, freedom)? * scatter;
        Ok(Coupling {
            rows: fits.into_iter().map(|fit| fit.row).collect(),
            cover: as_stated.max(as_seen),
            scatter: if as_stated > 0.0 {
                scatter.max(1.0)
            } else {
                scatter
            },
            freedom,
        })
    }

    /// How many adjusters there are.
    pub fn count(&self) -> usize {
        self.rows.len()
    }

    /// What one unit of an adjuster's own change does to a reading; 1 for its own, `None` where
    /// there is no such adjuster.
    pub fn effect(&self, reading: usize, adjuster: usize) -> Option<f64> {
        let effects = &self.rows.get(reading)?.effects;
        effects[..self.count()].get(adjuster).copied()
    }

    /// Standard uncertainty of [`Coupling::effect`].
    pub fn uncertainty(&self, reading: usize, adjuster: usize) -> Option<f64> {
        let row = self.rows.get(reading)?;
        (adjuster < self.count()).then(|| self.scatter * row.doubt_of(adjuster))
    }

    /// What causes each reading to move: the own change of each adjuster, and a visit more.
    pub(in crate::metrology) fn effects(&self) -> Vec<Vec<f64>> {
        self.rows.iter().map(|row| row.effects.clone()).collect()
    }

    /// Standard uncertainty of what causes do to a reading, in units of these.
    pub(in crate::metrology) fn doubt(&self, reading: usize, causes: &[f64]) -> f64 {
        self.scatter * self.rows[reading].doubt(causes)
    }

    /// Standard deviation of one look at a reading, as its residues show it, and its degrees of
    /// freedom.
    pub(in crate::metrology) fn noise(&self, reading: usize) -> (f64, f64) {
        (self.scatter * self.rows[reading].noise, self.freedom)
    }

    /// What a reading drifts by from one visit to the next.
    pub fn drift(&self, reading: usize) -> Option<f64> {
        self.rows.get(reading)?.effects.last().copied()
    }

    /// The aims for one more round, in the order of turning, that bring each reading to its
    /// target when the round is over.
    ///
    /// C·d = target − reading gives each own change d; adjuster i is left at
    /// targetᵢ − Σ cᵢⱼ·dⱼ over the adjusters j turned after it, less what it drifts by until then.
    /// An effect or a drift that doesn't stand out from its uncertainty is left out, and counts
    /// as doubt. Refused when a reading drifts, when the corrections of all readings together are not more than their
    /// doubt at 95 % twice over, or when one asks for a stop farther out than the worst reading is now and
    /// isn't three times its doubt.
    /// Source: linear system, closed form; the criteria are common practice, no source.
    pub fn aims(&self, targets: &[f64], order: &[usize]) -> Result<Vec<Aim>, Unsupported> {
        check(self.count(), targets, order)?;
        if let Some(reading) = (0..self.count()).find(|&reading| self.is_drifting(reading)) {
            return Err(Unsupported::Drifting { reading });
        }
        let known: Vec<Vec<f64>> = self.rows.iter().map(|row| self.significant(row)).collect();
        let visits = self.count() as f64;
        let now = self.rows.iter().map(|row| row.now);
        let missing: Vec<f64> = now
            .zip(&known)
            .zip(targets)
            .map(|((now, effects), target)| target - now - effects[self.count()] * visits)
            .collect();
        let changes = changes(&known, &missing)?;
        let plans: Vec<Plan> = (0..order.len())
            .map(|place| self.plan(&known, &changes, order, place))
            .collect();
        worth_a_round(&plans, &missing)?;
        Ok(aims_of(targets, order, &plans))
    }

    /// Whether a reading drifts for sure, and by more than it scatters in a round. A drift that
    /// slows down, as most do, bends every other effect then.
    fn is_drifting(&self, reading: usize) -> bool {
        let row = &self.rows[reading];
        let (drift, at) = (row.effects[self.count()].abs(), self.count());
        drift > self.cover * row.doubt_of(at) && drift * at as f64 > self.cover * row.noise
    }

    /// The effects and the drift of a row that stand out from their uncertainty; zero for others.
    fn significant(&self, row: &Row) -> Vec<f64> {
        let stands_out = |(at, &effect): (usize, &f64)| {
            let doubt = self.cover * row.doubt_of(at);
            if effect.abs() > doubt { effect } else { 0.0 }
        };
        row.effects.iter().enumerate().map(stands_out).collect()
    }

    /// What the aim of the adjuster at a place in the order is made of.
    fn plan(&self, known: &[Vec<f64>], changes: &[f64], order: &[usize], place: usize) -> Plan {
        let (row, effects) = (&self.rows[order[place]], &known[order[place]]);
        let later = &order[place + 1..];
        let visits = later.len() as f64;
        let moves = self.moves(changes, later, visits);
        let correction: f64 = later.iter().map(|&j| effects[j] * changes[j]).sum::<f64>()
            + effects[self.count()] * visits;
        // What was left out for want of significance may be there all the same.
        let left_out = dot(&row.effects, &moves) - dot(effects, &moves);
        let effects_doubt = row.doubt(&moves);
        // The others' changes are as sure as their readings and what disturbs these before.
        let carried = later.iter().enumerate().map(|(after, &j)| {
            let earlier = &order[..place + 1 + after];
            let before = self.moves(changes, earlier, 0.0);
            let other = &self.rows[j];
            let stop = other.noise.powi(2);
            effects[j].powi(2) * (other.doubt(&before).powi(2) + other.now_variance + stop)
        });
        let variance = effects_doubt.powi(2) + carried.sum::<f64>();
        let doubt = (self.cover.powi(2) * variance + left_out.powi(2)).sqrt();
        Plan {
            correction,
            doubt,
            miss: doubt.hypot(self.cover * row.noise),
            noise: row.noise,
            reading: order[place],
        }
    }

    /// The changes of some adjusters and a number of visits, as the causes of a row.
    fn moves(&self, changes: &[f64], of: &[usize], visits: f64) -> Vec<f64> {
        let change = |j: usize| if of.contains(&j) { changes[j] } else { 0.0 };
        (0..self.count()).map(change).chain([visits]).collect()
    }
}

/// Whether there is a target for each adjuster, and each is turned once.
pub(in crate::metrology) fn check(
    count: usize,
    targets: &[f64],
    order: &[usize],
) -> Result<(), Fault> {
    let too_few = |what, has| Fault::TooFew {
        what,
        count: has,
        least: count,
    };
    for &target in targets {
        finite("A target", target)?;
    }
    if targets.len() != count {
        return Err(too_few("targets", targets.len()));
    }
    let named = (0..count).filter(|i| order.contains(i)).count();
    match named == count && order.len() == count {
        true => Ok(()),
        false => Err(too_few(
            "different adjusters in the order of turning",
            named,
        )),
    }
}

/// The own change of each adjuster that changes the readings as asked.
pub(in crate::metrology) fn changes(
    effects: &[Vec<f64>],
    asked: &[f64],
) -> Result<Vec<f64>, Unsupported> {
    // Effects have units; only the products of an effect and its reverse compare.
    let sizes = sizes(effects);
    let scaled = |(effects, size): (&Vec<f64>, &f64)| -> Vec<f64> {
        let to_scale = |(effect, other): (&f64, &f64)| effect * other / size;
        effects.iter().zip(&sizes).map(to_scale).collect()
    };
    let matrix = effects.iter().zip(&sizes).map(scaled).collect();
    let asked = asked.iter().zip(&sizes).map(|(a, size)| a / size).collect();
    let changes = solve(matrix, asked, UNLIKE).ok_or(Unsupported::Alike)?;
    Ok(changes
        .iter()
        .zip(&sizes)
        .map(|(d, size)| d * size)
        .collect())
}

/// Refuses plans whose corrections together are not worth their doubt, or one of which goes far
/// out for too little. `missing` is what each reading is off its target.
pub(in crate::metrology) fn worth_a_round(
    plans: &[Plan],
    missing: &[f64],
) -> Result<(), Unsupported> {
    let weigh = |part: fn(&Plan) -> f64| plans.iter().map(part).sum::<f64>();
    let certain = weigh(|plan| plan.weight(plan.correction));
    let doubtful = weigh(|plan| plan.weight(plan.doubt));
    let off = plans.iter().map(|plan| plan.weight(missing[plan.reading]));
    let worst = off.fold(0.0, f64::max);
    let detour = |plan: &Plan| {
        plan.weight(plan.correction) > worst && plan.correction.abs() < WORTH_A_DETOUR * plan.doubt
    };
    match WORTH_A_ROUND.powi(2) * doubtful > certain || certain == 0.0 || plans.iter().any(detour) {
        true => Err(Unsupported::Scatter),
        false => Ok(()),
    }
}

pub(in crate::metrology) fn aims_of(targets: &[f64], order: &[usize], plans: &[Plan]) -> Vec<Aim> {
    let aim = |(&adjuster, plan): (&usize, &Plan)| Aim {
        adjuster,
        stop_at: targets[adjuster] - plan.correction,
        half_width: plan.miss,
    };
    order.iter().zip(plans).map(aim).collect()
}

/// Factors for the readings that make what each does to the others about as large as what
/// the others do to it.
///
/// Source: balancing of a matrix, E. E. Osborne, 1960 (from memory).
fn sizes(effects: &[Vec<f64>]) -> Vec<f64> {
    const SWEEPS: usize = 4;
    let count = effects.len();
    let mut sizes = vec![1.0; count];
    let others = |i: usize| (0..count).filter(move |&j| j != i);
    for reading in (0..SWEEPS).flat_map(|_| 0..count) {
        let effect = |i: usize, j: usize| effects[i][j].abs();
        let suffers: f64 = others(reading).map(|j| effect(reading, j) * sizes[j]).sum();
        let does: f64 = others(reading).map(|j| effect(j, reading) / sizes[j]).sum();
        if suffers > 0.0 && does > 0.0 {
            sizes[reading] = (suffers / does).sqrt();
        }
    }
    sizes
}

/// What one adjuster's aim is made of.
pub(in crate::metrology) struct Plan {
    /// Which adjuster, from 0.
    pub reading: usize,
    /// What the adjusters turned later and the drift will do to the reading.
    pub correction: f64,
    /// How far that may be wrong, at 95 %.
    pub doubt: f64,
    /// How far off its target the reading may end, at 95 %.
    pub miss: f64,
    /// Stated standard deviation of one reading.
    pub noise: f64,
}

impl Plan {
    /// A square in units of the noise, so that readings in different units compare.
    fn weight(&self, value: f64) -> f64 {
        match self.noise > 0.0 {
            true => (value / self.noise).powi(2),
            false => value.powi(2),
        }
    }
}

impl Row {
    /// Standard uncertainty of an effect, or of the drift, by the stated noise.
    fn doubt_of(&self, at: usize) -> f64 {
        self.covariance[at][at].max(0.0).sqrt()
    }

    /// Standard uncertainty of what causes do to the reading, by the stated noise.
    fn doubt(&self, causes: &[f64]) -> f64 {
        let spread: Vec<f64> = self.covariance.iter().map(|row| dot(row, causes)).collect();
        dot(&spread, causes).max(0.0).sqrt()
    }
}

/// Sorts the visits by reading.
pub(in crate::metrology) fn histories(
    turns: &[Turn],
    noise: &[f64],
) -> Result<Vec<History>, Fault> {
    let count = noise.len();
    at_least("The number of adjusters", count as f64, FEWEST as f64)?;
    at_most("The number of adjusters", count as f64, MOST as f64)?;
    for &noise in noise {
        not_negative("The scatter of a reading", noise)?;
    }
    let mut histories: Vec<History> = (0..count).map(|_| History::new(count)).collect();
    for turn in turns {
        let adjuster = turn.adjuster;
        at_most(
            "The number of an adjuster",
            adjuster as f64 + 1.0,
            count as f64,
        )?;
        for value in turn.before.iter().chain(&turn.after) {
            finite("A reading", *value)?;
        }
        for history in &mut histories {
            history.causes[count] += 1.0;
        }
        if let Some(before) = turn.before {
            histories[adjuster].look(before);
        }
        let Some(after) = turn.after else {
            continue;
        };
        for (reading, history) in histories.iter_mut().enumerate() {
            match turn.before {
                Some(before) if reading != adjuster => history.causes[adjuster] += after - before,
                _ => history.segment += 1,
            }
        }
        histories[adjuster].look(after);
    }
    Ok(histories)
}

impl History {
    fn new(count: usize) -> Self {
        History {
            seen: Vec::new(),
            segment: 0,
            causes: vec![0.0; count + 1],
        }
    }

    fn look(&mut self, value: f64) {
        self.seen.push(Seen {
            segment: self.segment,
            causes: self.causes.clone(),
            value,
        });
    }

    /// The means of the causes and of the readings in a segment, and how many there are.
    fn middle(&self, segment: usize) -> (Vec<f64>, f64, usize) {
        let here: Vec<&Seen> = self.seen.iter().filter(|s| s.segment == segment).collect();
        let share = 1.0 / here.len().max(1) as f64;
        let cause = |at: usize| here.iter().map(|seen| seen.causes[at] * share).sum();
        let causes = (0..self.causes.len()).map(cause).collect();
        let value = here.iter().map(|seen| seen.value * share).sum();
        (causes, value, here.len())
    }

    /// Least squares for one reading, about the middle of each segment.
    fn fit(self, reading: usize, noise: &[f64]) -> Result<Fit, Unsupported> {
        let mut looks: Vec<(Vec<f64>, f64)> = Vec::new();
        let mut segments = 0;
        for segment in 0..=self.segment {
            let (causes, value, count) = self.middle(segment);
            segments += usize::from(count > 0);
            let here = self.seen.iter().filter(|seen| seen.segment == segment);
            looks.extend(here.map(|seen| {
                let off = seen.causes.iter().zip(&causes).map(|(a, b)| a - b);
                (off.collect(), seen.value - value)
            }));
        }
        // Without a stated noise, the reading's own changes make residues in any unit compare.
        let largest = looks.iter().map(|(_, y)| y.abs()).fold(0.0, f64::max);
        let unit = match (noise[reading] > 0.0, largest > 0.0) {
            (true, _) => noise[reading],
            (false, true) => largest,
            (false, false) => 1.0,
        };
        let unknowns: Vec<usize> = (0..self.causes.len()).filter(|&j| j != reading).collect();
        let too_few = Unsupported::TooFewLooks {
            reading,
            count: looks.len() - segments,
            least: unknowns.len() + 1,
        };
        let gram = |a: usize, b: usize| looks.iter().map(|(x, _)| x[a] * x[b]).sum::<f64>();
        let lengths: Vec<f64> = unknowns.iter().map(|&j| gram(j, j).sqrt()).collect();
        let (middle, level, here) = self.middle(self.segment);
        if looks.len() - segments <= unknowns.len() || lengths.contains(&0.0) || here == 0 {
            return Err(too_few);
        }
        let cosines: Vec<Vec<f64>> = unknowns
            .iter()
            .zip(&lengths)
            .map(|(&a, la)| {
                let cosine = |(&b, lb): (&usize, &f64)| gram(a, b) / (la * lb);
                unknowns.iter().zip(&lengths).map(cosine).collect()
            })
            .collect();
        let inverse = invert(&cosines, APART).ok_or(Unsupported::Entangled { reading })?;
        let pull = |(&j, length): (&usize, &f64)| {
            looks.iter().map(|(x, y)| x[j] * y).sum::<f64>() / length
        };
        let pulls: Vec<f64> = unknowns.iter().zip(&lengths).map(pull).collect();
        let mut effects = vec![0.0; self.causes.len()];
        let mut covariance = vec![vec![0.0; self.causes.len()]; self.causes.len()];
        for ((&a, la), line) in unknowns.iter().zip(&lengths).zip(&inverse) {
            effects[a] = dot(line, &pulls) / la;
            for ((&b, lb), entry) in unknowns.iter().zip(&lengths).zip(line) {
                covariance[a][b] = unit.powi(2) * entry / (la * lb);
            }
        }
        // What the others were turned was read with scatter too.
        let of_others = |(effect, noise): (&f64, &f64)| (effect * noise / unit).powi(2);
        let foreign = 1.0 + effects.iter().zip(noise).map(of_others).sum::<f64>();
        for entry in covariance.iter_mut().flatten() {
            *entry *= foreign;
        }
        let residue = |(x, y): &(Vec<f64>, f64)| ((y - dot(&effects, x)) / unit).powi(2);
        let squares = looks.iter().map(residue).sum();
        let since: Vec<f64> = self
            .causes
            .iter()
            .zip(&middle)
            .map(|(a, b)| a - b)
            .collect();
        let now = level + dot(&effects, &since);
        effects[reading] = 1.0;
        Ok(Fit {
            squares,
            freedom: (looks.len() - segments - unknowns.len()) as f64,
            row: Row {
                effects,
                covariance,
                now,
                now_variance: foreign * unit.powi(2) / here as f64,
                noise: unit,
            },
        })
    }
}

pub(in crate::metrology) fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// The inverse of a square matrix; `None` when a pivot is below `least`.
fn invert(matrix: &[Vec<f64>], least: f64) -> Option<Vec<Vec<f64>>> {
    let unit = |at: usize| (0..matrix.len()).map(|i| f64::from(i == at)).collect();
    let columns: Vec<Vec<f64>> = (0..matrix.len())
        .map(|at| solve(matrix.to_vec(), unit(at), least))
        .collect::<Option<_>>()?;
    let line = |i: usize| columns.iter().map(|column| column[i]).collect();
    Some((0..matrix.len()).map(line).collect())
}

/// Gaussian elimination with partial pivoting; `None` when a pivot is below `least`.
fn solve(mut matrix: Vec<Vec<f64>>, mut right: Vec<f64>, least: f64) -> Option<Vec<f64>> {
    let count = right.len();
    for step in 0..count {
        let size = |&i: &usize| matrix[i][step].abs();
        let pivot = (step..count).max_by(|a, b| size(a).total_cmp(&size(b)))?;
        matrix.swap(step, pivot);
        right.swap(step, pivot);
        if matrix[step][step].abs() < least {
            return None;
        }
        let (above, below) = matrix.split_at_mut(step + 1);
        let (head, pivot) = (&above[step], right[step]);
        for (line, value) in below.iter_mut().zip(&mut right[step + 1..]) {
            let factor = line[step] / head[step];
            let entries = line.iter_mut().zip(head).skip(step);
            entries.for_each(|(entry, of_head)| *entry -= factor * of_head);
            *value -= factor * pivot;
        }
    }
    for step in (0..count).rev() {
        let known = dot(&matrix[step][step + 1..], &right[step + 1..]);
        right[step] = (right[step] - known) / matrix[step][step];
    }
    Some(right)
}
