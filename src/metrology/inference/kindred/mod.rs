//! What earlier sets of a kind tell of one more: how its adjusters pull each other, before it has
//! shown that itself.

mod pooled;

use crate::metrology::distribution::student;
use crate::metrology::inference::coupling::{
    Aim, Coupling, History, Plan, Turn, Unsupported, aims_of, changes, check, dot, histories,
    worth_a_round,
};
use crate::metrology::inference::kindred::pooled::{Known, Pooled};
use crate::metrology::uncertainty::COVERAGE;
use crate::quantity::Fault;

/// The fewest sets that tell how sets differ. Two or three that differ little by luck would be
/// gone by too often: of what they advised, the stated 95 % often held in less than 90 %.
pub const FEWEST_SETS: usize = 4;

/// How rarely a set of the kind may be taken for none: one in a hundred.
const OF_THE_KIND: f64 = 0.99;

/// A step of an effect, in units of its uncertainty, over which what follows from it is straight.
const SMALL: f64 = 1e-3;

/// How often the range of a variance is halved to find it.
const HALVINGS: usize = 50;

/// What each adjuster's own change does to each reading, then what that drifts by in a visit.
type Effects = Vec<Vec<f64>>;

/// Earlier sets whose adjusters pull each other, of which one more is taken to be another of the
/// same kind.
#[derive(Clone, Debug, PartialEq)]
pub struct Kindred {
    sets: Vec<Coupling>,
    /// What is expected of one more; zero where it doesn't stand out from its uncertainty.
    typical: Effects,
    /// Standard deviation of a look at each reading, as all sets' residues show it.
    noise: Vec<f64>,
    /// What that is multiplied by for 95 %.
    cover: f64,
}

impl Kindred {
    /// From what each earlier set's own readings told; `None` where fewer than
    /// [`FEWEST_SETS`] are known, or not all have as many adjusters.
    pub fn of(sets: Vec<Coupling>) -> Option<Kindred> {
        let count = sets.first()?.count();
        if sets.len() < FEWEST_SETS || sets.iter().any(|set| set.count() != count) {
            return None;
        }
        let freedom: f64 = sets.iter().map(|set| set.noise(0).1).sum();
        let noise = |reading: usize| {
            let squares = sets.iter().map(|set| {
                let (deviation, freedom) = set.noise(reading);
                freedom * deviation.powi(2)
            });
            (squares.sum::<f64>() / freedom).sqrt()
        };
        let effects: Vec<Effects> = sets.iter().map(Coupling::effects).collect();
        let effect = |reading: usize, at: usize| {
            let mut alone = vec![0.0; count + 1];
            alone[at] = 1.0;
            let known = sets.iter().zip(&effects).map(|(set, effects)| Known {
                value: effects[reading][at],
                doubt: set.doubt(reading, &alone),
            });
            let pooled = Pooled::of(&known.collect::<Vec<_>>());
            let factor = student::coverage_factor(COVERAGE, pooled.freedom)?;
            Ok(match pooled.mean.abs() > factor * pooled.doubt {
                true => pooled.mean,
                false => 0.0,
            })
        };
        let typical = (0..count)
            .map(|reading| (0..=count).map(|at| effect(reading, at)).collect())
            .collect::<Result<Effects, Fault>>();
        Some(Kindred {
            typical: typical.ok()?,
            noise: (0..count).map(noise).collect(),
            cover: student::coverage_factor(COVERAGE, freedom).ok()?,
            sets,
        })
    }

    /// How many sets there are.
    pub fn sets(&self) -> usize {
        self.sets.len()
    }

    /// The aims for one more round of one more set, from what was read of it so far; its readings
    /// as found are enough.
    ///
    /// The stops are those of [`Coupling::aims`], by the typical effects. How far off they leave a
    /// reading is told by what the round would have come to with each earlier set: the mean of
    /// that, and how far one more may be from it, so whatever the effects of a set have in common
    /// is in it; and by the scatter of the readings. Refused under the same conditions as those,
    /// and where this set's readings have moved otherwise than the earlier sets allow.
    pub fn aims(
        &self,
        turns: &[Turn],
        noise: &[f64],
        targets: &[f64],
        order: &[usize],
    ) -> Result<Vec<Aim>, Unsupported> {
        let count = self.noise.len();
        check(count, targets, order)?;
        let noise = self.noise(noise)?;
        let histories = histories(turns, &noise)?;
        let standing = Standing::of(&histories).map_err(|reading| Unsupported::NotSeen {
            reading,
            sets: self.sets(),
        })?;
        self.contradicted(&histories, &noise)?;
        let now = standing.now(&self.typical);
        let visits = count as f64;
        let missing: Vec<f64> = (0..count)
            .map(|i| targets[i] - now[i] - self.typical[i][count] * visits)
            .collect();
        let changes = changes(&self.typical, &missing)?;
        let correction = |place: usize| {
            let later = &order[place + 1..];
            let effects = &self.typical[order[place]];
            let drift = effects[count] * later.len() as f64;
            later.iter().map(|&j| effects[j] * changes[j]).sum::<f64>() + drift
        };
        let mut stops = targets.to_vec();
        for (place, &adjuster) in order.iter().enumerate() {
            stops[adjuster] -= correction(place);
        }
        let round = Round {
            standing: &standing,
            stops: &stops,
            order,
        };
        let scatter = round.scatter(&self.typical, &noise);
        let ends = self.ends(|effects| round.end(effects));
        let plan = |(place, &reading): (usize, &usize)| {
            let end = Pooled::of(&ends[reading]);
            let between = (end.mean - targets[reading]).abs() + end.one_more(COVERAGE)?;
            let doubt = between.hypot(self.cover * scatter[reading].before);
            Ok(Plan {
                reading,
                correction: correction(place),
                doubt,
                miss: doubt.hypot(self.cover * scatter[reading].own_stop),
                noise: noise[reading],
            })
        };
        let plans = order.iter().enumerate().map(plan);
        let plans = plans.collect::<Result<Vec<Plan>, Fault>>()?;
        worth_a_round(&plans, &missing)?;
        Ok(aims_of(targets, order, &plans))
    }

    /// Fails where this set's readings have moved otherwise than the earlier sets allow.
    pub fn bears_out(&self, turns: &[Turn], noise: &[f64]) -> Result<(), Unsupported> {
        let noise = self.noise(noise)?;
        self.contradicted(&histories(turns, &noise)?, &noise)
    }

    /// Standard deviation of a look, from what is known of it here and what earlier sets showed.
    fn noise(&self, here: &[f64]) -> Result<Vec<f64>, Fault> {
        check(self.noise.len(), here, &(0..here.len()).collect::<Vec<_>>())?;
        Ok(here
            .iter()
            .zip(&self.noise)
            .map(|(a, b)| a.max(*b))
            .collect())
    }

    /// What something that follows from the effects comes to in each reading with each set, and
    /// how well that set's effects are known for it: a list for each reading.
    /// The uncertainty is carried on by slopes that are taken as straight.
    fn ends(&self, with: impl Fn(&Effects) -> Vec<f64>) -> Vec<Vec<Known>> {
        let count = self.noise.len();
        let mut ends = vec![Vec::new(); count];
        for set in &self.sets {
            let effects = set.effects();
            let end = with(&effects);
            let mut variances = vec![0.0; count];
            for of in 0..count {
                let mut slopes = vec![vec![0.0; count + 1]; count];
                for at in (0..=count).filter(|&at| at != of) {
                    let mut alone = vec![0.0; count + 1];
                    alone[at] = 1.0;
                    let step = set.doubt(of, &alone) * SMALL;
                    if step == 0.0 {
                        continue;
                    }
                    let mut moved = effects.clone();
                    moved[of][at] += step;
                    for (i, other) in with(&moved).iter().enumerate() {
                        slopes[i][at] = (other - end[i]) / step;
                    }
                }
                for (variance, slopes) in variances.iter_mut().zip(&slopes) {
                    *variance += set.doubt(of, slopes).powi(2);
                }
            }
            for ((list, value), variance) in ends.iter_mut().zip(end).zip(variances) {
                let doubt = variance.sqrt();
                list.push(Known { value, doubt });
            }
        }
        ends
    }

    /// Whether each reading has moved, from look to look, as the sets allow. All moves together
    /// are wrongly found odd in at most one of a hundred sets.
    /// Source: Bonferroni's inequality, closed form.
    fn contradicted(&self, histories: &[History], noise: &[f64]) -> Result<(), Unsupported> {
        let moves: Vec<Move> = histories.iter().enumerate().flat_map(moves).collect();
        let each = 1.0 - (1.0 - OF_THE_KIND) / moves.len().max(1) as f64;
        let cover = self.cover / student::coverage_factor(COVERAGE, f64::INFINITY)?
            * student::coverage_factor(each, f64::INFINITY)?;
        for Move {
            reading,
            causes,
            by,
        } in moves
        {
            let expected = self.sets.iter().map(|set| Known {
                value: of_others(&set.effects()[reading], &causes, reading),
                doubt: set.doubt(reading, &causes),
            });
            let expected = Pooled::of(&expected.collect::<Vec<_>>());
            let effects = &self.typical[reading];
            let variance = noise[reading].powi(2) + look(effects, &causes, noise, reading);
            let scatter = cover * variance.sqrt();
            let allowed = expected.one_more(each)?.hypot(scatter);
            if (by - expected.mean).abs() > allowed {
                let sets = self.sets.len();
                return Err(Unsupported::Contradicted { reading, sets });
            }
        }
        Ok(())
    }
}

/// Where a set stands: the last look at each reading, and what was turned since.
struct Standing {
    looks: Vec<(f64, Vec<f64>)>,
}

impl Standing {
    /// Where each reading was looked at as it stands; else the one that was not.
    fn of(histories: &[History]) -> Result<Standing, usize> {
        let last = |(reading, history): (usize, &History)| {
            let last = history.seen.last();
            let last = last.filter(|seen| seen.segment == history.segment);
            let seen = last.ok_or(reading)?;
            let since = history.causes.iter().zip(&seen.causes).map(|(a, b)| a - b);
            Ok((seen.value, since.collect()))
        };
        let looks = histories.iter().enumerate().map(last);
        Ok(Standing {
            looks: looks.collect::<Result<_, usize>>()?,
        })
    }

    /// The level of each reading by these effects.
    fn now(&self, effects: &Effects) -> Vec<f64> {
        let level = |(reading, (value, since)): (usize, &(f64, Vec<f64>))| {
            value + of_others(&effects[reading], since, reading)
        };
        self.looks.iter().enumerate().map(level).collect()
    }
}

/// Variance of what a look and causes since say of a reading: the look, and two for each
/// adjuster turned since.
fn look(effects: &[f64], since: &[f64], noise: &[f64], reading: usize) -> f64 {
    let turned = (0..noise.len()).filter(|&j| since[j] != 0.0 && j != reading);
    let carried = turned.map(|j| 2.0 * (effects[j] * noise[j]).powi(2));
    noise[reading].powi(2) + carried.sum::<f64>()
}

/// A round from where a set stands: each adjuster turned once, to its stop.
struct Round<'a> {
    standing: &'a Standing,
    stops: &'a [f64],
    order: &'a [usize],
}

/// Standard deviations in a reading after a round.
#[derive(Clone, Copy, Default)]
struct Scatter {
    /// From the looks before the round and from the stops of the others.
    before: f64,
    /// From its own stop.
    own_stop: f64,
}

impl Round<'_> {
    /// The readings when it is over, by these effects.
    fn end(&self, effects: &Effects) -> Vec<f64> {
        after_a_round(effects, self.standing.now(effects), self.stops, self.order)
    }

    fn scatter(&self, effects: &Effects, noise: &[f64]) -> Vec<Scatter> {
        let now = self.standing.now(effects);
        let end = self.end(effects);
        let mut scatter = vec![Scatter::default(); noise.len()];
        for j in 0..noise.len() {
            let since = &self.standing.looks[j].1;
            let (mut seen, mut stops) = (now.clone(), self.stops.to_vec());
            seen[j] += look(&effects[j], since, noise, j).sqrt();
            stops[j] += noise[j];
            let seen = after_a_round(effects, seen, self.stops, self.order);
            let stopped = after_a_round(effects, now.clone(), &stops, self.order);
            for (i, scatter) in scatter.iter_mut().enumerate() {
                let by_stop = stopped[i] - end[i];
                scatter.before = scatter.before.hypot(seen[i] - end[i]);
                match i == j {
                    true => scatter.own_stop = by_stop.abs(),
                    false => scatter.before = scatter.before.hypot(by_stop),
                }
            }
        }
        scatter
    }
}

/// By how much a reading moved between two looks with its own adjuster left alone.
struct Move {
    reading: usize,
    causes: Vec<f64>,
    by: f64,
}

fn moves((reading, history): (usize, &History)) -> Vec<Move> {
    let pairs = history.seen.windows(2);
    let still = pairs.filter(|pair| pair[0].segment == pair[1].segment);
    let moved = |pair: &[crate::metrology::inference::coupling::Seen]| Move {
        reading,
        causes: pair[1]
            .causes
            .iter()
            .zip(&pair[0].causes)
            .map(|(a, b)| a - b)
            .collect(),
        by: pair[1].value - pair[0].value,
    };
    still.map(moved).collect()
}

/// What causes do to a reading, but for its own adjuster.
fn of_others(effects: &[f64], causes: &[f64], own: usize) -> f64 {
    dot(effects, causes) - effects[own] * causes[own]
}

/// The readings when each adjuster has been turned to its stop once.
fn after_a_round(effects: &Effects, now: Vec<f64>, stops: &[f64], order: &[usize]) -> Vec<f64> {
    let mut levels = now;
    for &adjuster in order {
        for (level, effects) in levels.iter_mut().zip(effects) {
            *level += effects[effects.len() - 1];
        }
        let change = stops[adjuster] - levels[adjuster];
        for (level, effects) in levels.iter_mut().zip(effects) {
            *level += effects[adjuster] * change;
        }
    }
    levels
}
