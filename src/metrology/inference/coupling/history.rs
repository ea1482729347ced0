//! What each turn did to a reading, and the straight line through it.

use crate::metrology::inference::coupling::linear::{dot, invert, solve};
use crate::metrology::inference::coupling::plan::sizes;
use crate::metrology::inference::coupling::unsupported::Unsupported;
use crate::quantity::Fault;
use crate::quantity::fault::{at_least, at_most, finite, not_negative};

/// Below this, on a scale from 0 to 1, two causes can't be told apart.
const APART: f64 = 1e-4;

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

/// What is known of one reading.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Row {
    /// What one unit of each adjuster's own change does to this reading, 1 for its own; then what
    /// it drifts by from one visit to the next.
    pub(super) effects: Vec<f64>,
    /// Covariances of the effects by the stated noise; zero for its own.
    covariance: Vec<Vec<f64>>,
    /// Its level after the last visit.
    pub(super) now: f64,
    /// Variance of that, but for the effects'.
    pub(super) now_variance: f64,
    /// Stated standard deviation of one reading.
    pub(super) noise: f64,
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
pub(super) struct Fit {
    pub(super) row: Row,
    pub(super) squares: f64,
    pub(super) freedom: f64,
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

impl Row {
    /// Standard uncertainty of an effect, or of the drift, by the stated noise.
    pub(super) fn doubt_of(&self, at: usize) -> f64 {
        self.covariance[at][at].max(0.0).sqrt()
    }

    /// Standard uncertainty of what causes do to the reading, by the stated noise.
    pub(super) fn doubt(&self, causes: &[f64]) -> f64 {
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
    pub(super) fn fit(self, reading: usize, noise: &[f64]) -> Result<Fit, Unsupported> {
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

/// The fewest adjusters that can chase each other.
pub const FEWEST: usize = 2;

/// The most adjusters that are worked out together.
pub const MOST: usize = 6;

/// Below this, on a scale from 0 to 1, adjusters do nearly the same to the readings.
const UNLIKE: f64 = 0.05;
