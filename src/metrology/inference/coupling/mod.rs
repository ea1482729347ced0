//! Adjusters that chase each other: how each disturbs the others' readings, and where to leave
//! each so that one round brings all home.

pub use self::history::{FEWEST, MOST};

mod history;
mod linear;
mod plan;
mod unsupported;

pub use self::history::Turn;
pub(in crate::metrology) use self::history::{History, Seen, changes, check, histories};
pub(in crate::metrology) use self::linear::dot;
pub use self::plan::Aim;
pub(in crate::metrology) use self::plan::{Plan, aims_of, worth_a_round};
pub use self::unsupported::Unsupported;

use crate::metrology::distribution::student;
use crate::metrology::inference::coupling::history::{Fit, Row};
use crate::metrology::uncertainty::COVERAGE;

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
