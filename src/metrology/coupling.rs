//! Adjusters that chase each other: how each disturbs the others' readings, and where to leave
//! each so that one round brings all home.

use crate::quantity::Fault;
use crate::quantity::fault::{at_least, at_most, finite, not_negative};
use std::fmt;

/// The fewest adjusters that can chase each other.
pub const FEWEST: usize = 2;

/// The most adjusters that are worked out together.
pub const MOST: usize = 6;

/// Below this, on a scale from 0 to 1, two causes can't be told apart.
const APART: f64 = 1e-3;

/// Below this, on a scale from 0 to 1, adjusters do nearly the same to the readings.
const UNLIKE: f64 = 0.05;

/// Coverage factor for about 95 %.
const COVERAGE: f64 = 2.0;

/// A visit to an adjuster: its own reading before and after turning it.
///
/// A look at the reading without turning has the same value twice.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    /// Which adjuster, from 0; its own reading has the same number.
    pub adjuster: usize,
    /// Its reading before, in the unit without prefix.
    pub before: f64,
    /// Its reading after.
    pub after: f64,
}

/// What the readings tell of a group of adjusters.
#[derive(Clone, Debug, PartialEq)]
pub struct Coupling {
    rows: Vec<Row>,
}

/// What is known of one reading.
#[derive(Clone, Debug, PartialEq)]
struct Row {
    /// What one unit of each adjuster's own change does to this reading; 1 for its own.
    effects: Vec<f64>,
    /// Covariances of the effects; zero for its own.
    covariance: Vec<Vec<f64>>,
    /// The last reading.
    last: f64,
    /// What each adjuster was turned since, in its own reading.
    since: Vec<f64>,
    /// Standard deviation of one reading.
    noise: f64,
}

/// Where to leave an adjuster in the next round.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Aim {
    /// Which adjuster, from 0.
    pub adjuster: usize,
    /// The reading at which to leave it, so that those turned after it bring it home.
    pub stop_at: f64,
    /// Half-width around its target in which its reading should end, at about 95 %.
    pub half_width: f64,
}

/// Why the readings don't support aims.
#[derive(Clone, Debug, PartialEq)]
pub enum Unsupported {
    /// A reading was not looked at often enough after the others had been turned.
    TooFewLooks {
        /// Which reading, from 0.
        reading: usize,
        /// How many looks there are.
        count: usize,
        /// How many are needed.
        least: usize,
    },
    /// Two or more adjusters were always turned together between looks at a reading.
    Entangled {
        /// Which reading, from 0.
        reading: usize,
    },
    /// What the adjusters do to each other doesn't stand out from the scatter of the readings.
    Scatter,
    /// Two or more adjusters do nearly the same to all readings.
    Alike,
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
                "Reading {} was taken {count} of at least {least} times after another adjuster \
                 was turned; set each to its own target once more and read all after each turn.",
                reading + 1
            ),
            Unsupported::Entangled { reading } => write!(
                f,
                "Several adjusters were turned between two looks at reading {}, always in the \
                 same measure; look at it after each single turn.",
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

/// One look at a reading: what it changed by while others were turned.
struct Look {
    moves: Vec<f64>,
    change: f64,
}

/// The looks at one reading, and where it stands.
#[derive(Default)]
struct History {
    looks: Vec<Look>,
    last: Option<f64>,
    since: Vec<f64>,
}

impl Coupling {
    /// The coupling of 2 to 6 adjusters from the turns in the order in which they were made.
    ///
    /// `noise` is the standard deviation of each reading. From one look at reading i to the next,
    /// change = Σ cᵢⱼ·(own change of j) over the adjusters j turned in between; cᵢⱼ by least
    /// squares. Units: those of reading i per those of reading j. Where residues scatter more
    /// than stated, they count instead.
    /// Source: linear model of interaction, common practice, no source; least squares with
    /// covariance σ²·(DᵀD)⁻¹, closed form.
    pub fn of(turns: &[Turn], noise: &[f64]) -> Result<Coupling, Unsupported> {
        let count = noise.len();
        at_least("The number of adjusters", count as f64, FEWEST as f64)?;
        at_most("The number of adjusters", count as f64, MOST as f64)?;
        for &noise in noise {
            not_negative("The scatter of a reading", noise)?;
        }
        let rows = histories(turns, count)?
            .into_iter()
            .enumerate()
            .map(|(reading, history)| row(reading, history, noise))
            .collect::<Result<_, _>>()?;
        Ok(Coupling { rows })
    }

    /// How many adjusters there are.
    pub fn count(&self) -> usize {
        self.rows.len()
    }

    /// What one unit of an adjuster's own change does to a reading; 1 for its own, `None` where
    /// there is no such adjuster.
    pub fn effect(&self, reading: usize, adjuster: usize) -> Option<f64> {
        self.rows.get(reading)?.effects.get(adjuster).copied()
    }

    /// Standard uncertainty of [`Coupling::effect`].
    pub fn uncertainty(&self, reading: usize, adjuster: usize) -> Option<f64> {
        let variance = self.rows.get(reading)?.covariance.get(adjuster)?[adjuster];
        Some(variance.max(0.0).sqrt())
    }

    /// The aims for one more round, in the order of turning, that bring each reading to its
    /// target when the round is over.
    ///
    /// C·d = target − reading gives each own change d; adjuster i is left at
    /// targetᵢ − Σ cᵢⱼ·dⱼ over the adjusters j turned after it. Refused when the corrections
    /// Σ cᵢⱼ·dⱼ of all readings together are not at least twice their uncertainty.
    /// Source: linear system, closed form; the criterion is common practice, no source.
    pub fn aims(&self, targets: &[f64], order: &[usize]) -> Result<Vec<Aim>, Unsupported> {
        self.check(targets, order)?;
        let missing = self
            .rows
            .iter()
            .zip(targets)
            .map(|(row, target)| target - row.now())
            .collect();
        let changes = self.changes(missing)?;
        let plans: Vec<Plan> = order
            .iter()
            .enumerate()
            .map(|(place, &adjuster)| self.rows[adjuster].plan(&changes, &order[place + 1..]))
            .collect();
        let weigh = |part: fn(&Plan) -> f64| plans.iter().map(part).sum::<f64>();
        let certain = weigh(|plan| plan.weight(plan.correction));
        let doubtful = weigh(|plan| plan.weight(COVERAGE * plan.doubt));
        if doubtful > certain {
            return Err(Unsupported::Scatter);
        }
        let aim = |(&adjuster, plan): (&usize, &Plan)| Aim {
            adjuster,
            stop_at: targets[adjuster] - plan.correction,
            half_width: COVERAGE * plan.miss(),
        };
        Ok(order.iter().zip(&plans).map(aim).collect())
    }

    fn check(&self, targets: &[f64], order: &[usize]) -> Result<(), Fault> {
        let count = self.count();
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
    fn changes(&self, asked: Vec<f64>) -> Result<Vec<f64>, Unsupported> {
        // Effects have units; only the products of an effect and its reverse compare.
        let sizes = self.sizes();
        let scaled = |(row, size): (&Row, &f64)| -> Vec<f64> {
            let to_scale = |(effect, other): (&f64, &f64)| effect * other / size;
            row.effects.iter().zip(&sizes).map(to_scale).collect()
        };
        let matrix = self.rows.iter().zip(&sizes).map(scaled).collect();
        let asked = asked.iter().zip(&sizes).map(|(a, size)| a / size).collect();
        let changes = solve(matrix, asked, UNLIKE).ok_or(Unsupported::Alike)?;
        Ok(changes
            .iter()
            .zip(&sizes)
            .map(|(d, size)| d * size)
            .collect())
    }

    /// Factors for the readings that make what each does to the others about as large as what
    /// the others do to it.
    ///
    /// Source: balancing of a matrix, E. E. Osborne, 1960 (from memory).
    fn sizes(&self) -> Vec<f64> {
        const SWEEPS: usize = 4;
        let mut sizes = vec![1.0; self.count()];
        let others = |i: usize| (0..self.count()).filter(move |&j| j != i);
        for reading in (0..SWEEPS).flat_map(|_| 0..self.count()) {
            let effect = |i: usize, j: usize| self.rows[i].effects[j].abs();
            let suffers: f64 = others(reading).map(|j| effect(reading, j) * sizes[j]).sum();
            let does: f64 = others(reading).map(|j| effect(j, reading) / sizes[j]).sum();
            if suffers > 0.0 && does > 0.0 {
                sizes[reading] = (suffers / does).sqrt();
            }
        }
        sizes
    }
}

/// What one adjuster's aim is made of.
struct Plan {
    /// What the adjusters turned later will do to the reading.
    correction: f64,
    /// Standard uncertainty of what all others will have done to it.
    doubt: f64,
    /// Standard deviation of one reading.
    noise: f64,
}

impl Plan {
    /// A square in units of the scatter, so that readings in different units compare.
    fn weight(&self, value: f64) -> f64 {
        match self.noise > 0.0 {
            true => (value / self.noise).powi(2),
            false => 0.0,
        }
    }

    /// Standard uncertainty of where the reading ends: the effects, the reading at which it is
    /// left and the last one before.
    fn miss(&self) -> f64 {
        self.doubt.hypot(self.noise * 2f64.sqrt())
    }
}

impl Row {
    /// The reading now, after what was turned since it was last taken.
    fn now(&self) -> f64 {
        self.last + dot(&self.effects, &self.since)
    }

    fn plan(&self, changes: &[f64], later: &[usize]) -> Plan {
        let whole: Vec<f64> = changes
            .iter()
            .zip(&self.since)
            .map(|(a, b)| a + b)
            .collect();
        let spread: Vec<f64> = self.covariance.iter().map(|row| dot(row, &whole)).collect();
        Plan {
            correction: later.iter().map(|&j| self.effects[j] * changes[j]).sum(),
            doubt: dot(&spread, &whole).max(0.0).sqrt(),
            noise: self.noise,
        }
    }
}

/// Sorts the turns by reading.
fn histories(turns: &[Turn], count: usize) -> Result<Vec<History>, Fault> {
    let mut histories: Vec<History> = (0..count).map(|_| History::new(count)).collect();
    for turn in turns {
        let number = turn.adjuster as f64 + 1.0;
        at_most("The number of an adjuster", number, count as f64)?;
        let before = finite("A reading", turn.before)?;
        let moved = finite("A reading", turn.after)? - before;
        for (reading, history) in histories.iter_mut().enumerate() {
            match reading == turn.adjuster {
                true => history.look(before, turn.after),
                false => history.since[turn.adjuster] += moved,
            }
        }
    }
    Ok(histories)
}

impl History {
    fn new(count: usize) -> Self {
        History {
            since: vec![0.0; count],
            ..History::default()
        }
    }

    fn look(&mut self, before: f64, after: f64) {
        let still = vec![0.0; self.since.len()];
        let moves = std::mem::replace(&mut self.since, still);
        let disturbed = moves.iter().any(|&moved| moved != 0.0);
        if let Some(last) = self.last.filter(|_| disturbed) {
            let change = before - last;
            self.looks.push(Look { moves, change });
        }
        self.last = Some(after);
    }
}

/// Least squares for one reading.
fn row(reading: usize, history: History, noise: &[f64]) -> Result<Row, Unsupported> {
    let count = noise.len();
    let others: Vec<usize> = (0..count).filter(|&j| j != reading).collect();
    let looks = &history.looks;
    let too_few = Unsupported::TooFewLooks {
        reading,
        count: looks.len(),
        least: others.len(),
    };
    let gram = |a: usize, b: usize| looks.iter().map(|l| l.moves[a] * l.moves[b]).sum::<f64>();
    let lengths: Vec<f64> = others.iter().map(|&j| gram(j, j).sqrt()).collect();
    let Some(last) = history.last.filter(|_| looks.len() >= others.len()) else {
        return Err(too_few);
    };
    if lengths.contains(&0.0) {
        return Err(too_few);
    }
    let cosines: Vec<Vec<f64>> = others
        .iter()
        .zip(&lengths)
        .map(|(&a, la)| {
            let cosine = |(&b, lb): (&usize, &f64)| gram(a, b) / (la * lb);
            others.iter().zip(&lengths).map(cosine).collect()
        })
        .collect();
    let inverse = invert(&cosines, APART).ok_or(Unsupported::Entangled { reading })?;
    let pulls: Vec<f64> = others
        .iter()
        .zip(&lengths)
        .map(|(&j, length)| looks.iter().map(|l| l.moves[j] * l.change).sum::<f64>() / length)
        .collect();
    let mut effects = vec![0.0; count];
    for ((&j, length), line) in others.iter().zip(&lengths).zip(&inverse) {
        effects[j] = dot(line, &pulls) / length;
    }
    let scatter = scatter(reading, looks, &effects, noise);
    let mut covariance = vec![vec![0.0; count]; count];
    for ((&a, la), line) in others.iter().zip(&lengths).zip(&inverse) {
        for ((&b, lb), entry) in others.iter().zip(&lengths).zip(line) {
            covariance[a][b] = scatter.powi(2) * entry / (la * lb);
        }
    }
    effects[reading] = 1.0;
    Ok(Row {
        effects,
        covariance,
        last,
        since: history.since,
        noise: noise[reading],
    })
}

/// Standard deviation of a change between looks: two readings of its own, two of each adjuster
/// that was turned; or what the residues show, where that is more.
fn scatter(reading: usize, looks: &[Look], effects: &[f64], noise: &[f64]) -> f64 {
    let own = 2.0 * noise[reading].powi(2);
    let foreign = |(effect, noise): (&f64, &f64)| 2.0 * (effect * noise).powi(2);
    let stated = own + effects.iter().zip(noise).map(foreign).sum::<f64>();
    let freedom = looks.len() + 1 - noise.len();
    let residue = |look: &Look| (look.change - dot(effects, &look.moves)).powi(2);
    let squares: f64 = looks.iter().map(residue).sum();
    let seen = match freedom {
        0 => 0.0,
        _ => squares / freedom as f64,
    };
    stated.max(seen).sqrt()
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
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
