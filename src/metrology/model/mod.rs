//! A measurement model: a result by a formula of measured quantities, which may be correlated.

mod dual;
mod trials;

pub use self::trials::{LEAST_TRIALS, MOST_TRIALS, Trials};

use super::uncertainty::{Budget, COVERAGE, Contribution, Evaluation};
use crate::metrology::distribution::student;
use crate::metrology::model::dual::Dual;
use crate::metrology::model::trials::Chance;
use crate::quantity::fault::{at_least, at_most, finite, not_negative, ordered};
use crate::quantity::formula::{Formula, NAMES};
use crate::quantity::{Fault, Number};

/// The most quantities that a formula names.
pub const MOST: usize = NAMES.len();

/// A measured quantity of a model. Its error is the sum of a normal part and of an even one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Input {
    /// The best estimate.
    pub value: f64,
    /// The standard uncertainty of the normal part.
    pub standard: f64,
    /// The half-width of limits within which the other part lies anywhere alike.
    pub limits: f64,
    /// The degrees of freedom of the standard uncertainty; infinite where it is known.
    pub freedom: f64,
}

/// A correlation between the normal parts of two quantities, by their places.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Correlation {
    /// Of these two.
    pub between: (usize, usize),
    /// The coefficient, from −1 to 1.
    pub coefficient: f64,
}

/// A result by a formula of measured quantities.
#[derive(Clone, Debug)]
pub struct Model {
    formula: Formula,
    inputs: Vec<Input>,
    correlations: Vec<Correlation>,
    /// The Cholesky factor of the correlations, row by row.
    factor: Vec<Vec<f64>>,
}

/// What the law of propagation says of a model's result.
#[derive(Clone, Debug, PartialEq)]
pub struct Propagated {
    /// The result.
    pub value: f64,
    /// By how much it moves for one unit of each quantity.
    pub sensitivities: Vec<f64>,
    /// Its combined standard uncertainty.
    pub combined: f64,
    /// Its coverage factor and degrees of freedom; `None` where the quantities are correlated and
    /// a standard uncertainty rests on few readings, for which no rule gives them.
    pub coverage: Option<Coverage>,
    /// Name and share of the variance, where the quantities are independent.
    pub shares: Vec<(String, f64)>,
}

/// A coverage factor at 95 %.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coverage {
    /// The factor k.
    pub factor: f64,
    /// The effective degrees of freedom.
    pub freedom: f64,
}

impl Model {
    /// A model with an input for each quantity that its formula names.
    pub fn new(
        formula: Formula,
        inputs: Vec<Input>,
        correlations: Vec<Correlation>,
    ) -> Result<Model, Fault> {
        let named = formula.quantities();
        if inputs.len() < named {
            return Err(Fault::TooFew {
                what: "values for the quantities of the formula",
                count: inputs.len(),
                least: named,
            });
        }
        at_most("The number of quantities", inputs.len() as f64, MOST as f64)?;
        for input in &inputs {
            finite("A value", input.value)?;
            not_negative("A standard uncertainty", input.standard)?;
            not_negative("A limit", input.limits)?;
            if input.freedom.is_finite() {
                at_least("The number of degrees of freedom", input.freedom, 1.0)?;
            }
        }
        for (at, correlation) in correlations.iter().enumerate() {
            let same = |other: &Correlation| {
                let (a, b) = other.between;
                [(a, b), (b, a)].contains(&correlation.between)
            };
            if correlations[..at].iter().any(same) {
                return Err(Fault::Contradiction {
                    what: "Two correlations of the same quantities",
                });
            }
            let (a, b) = correlation.between;
            at_least("A correlation", correlation.coefficient, -1.0)?;
            at_most("A correlation", correlation.coefficient, 1.0)?;
            ordered(
                ("The place of a correlated quantity", a.max(b) as f64 + 1.0),
                ("the number of quantities", inputs.len() as f64),
            )?;
        }
        Ok(Model {
            factor: cholesky(inputs.len(), &correlations)?,
            formula,
            inputs,
            correlations,
        })
    }

    /// The result and its uncertainty by the law of propagation, first order.
    ///
    /// Source: JCGM 100:2008, 5.1.2 and 5.2.2, equation (13); G.4.1 for the freedom of
    /// independent quantities.
    pub fn propagate(&self) -> Result<Propagated, Fault> {
        let places = 0..self.inputs.len();
        let duals = places.map(|at| Dual::quantity(self.inputs[at].value, at));
        let Dual { value, slopes } = self.formula.work_out(&duals.collect::<Vec<_>>());
        finite("The result", value)?;
        let sensitivities = slopes[..self.inputs.len()].to_vec();
        for slope in &sensitivities {
            finite("The slope of the formula at these values", *slope)?;
        }
        let budget = Budget::of(self.contributions(&sensitivities))?;
        let pairs = self.correlations.iter().map(|correlation| {
            let (a, b) = correlation.between;
            let effect = |at: usize| sensitivities[at] * self.inputs[at].standard;
            2.0 * correlation.coefficient * effect(a) * effect(b)
        });
        let covariance: f64 = pairs.sum();
        if covariance == 0.0 {
            return Ok(Propagated {
                value,
                combined: budget.combined,
                coverage: Some(Coverage {
                    factor: budget.coverage,
                    freedom: budget.freedom,
                }),
                shares: shares(&budget),
                sensitivities,
            });
        }
        let coverage = match budget.freedom.is_finite() {
            true => None,
            false => Some(Coverage {
                factor: student::coverage_factor(COVERAGE, f64::INFINITY)?,
                freedom: f64::INFINITY,
            }),
        };
        Ok(Propagated {
            value,
            // Rounding can leave a little below zero where everything cancels.
            combined: (budget.combined.powi(2) + covariance).max(0.0).sqrt(),
            coverage,
            shares: Vec::new(),
            sensitivities,
        })
    }

    fn contributions(&self, sensitivities: &[f64]) -> Vec<Contribution> {
        let parts = self.inputs.iter().zip(sensitivities).zip(NAMES);
        parts
            .flat_map(|((input, &sensitivity), name)| {
                let standard = Evaluation::Standard {
                    uncertainty: input.standard,
                };
                [
                    Contribution::new(name, standard)
                        .freedom(input.freedom)
                        .sensitivity(sensitivity),
                    Contribution::even(format!("{name}, limits"), input.limits)
                        .sensitivity(sensitivity),
                ]
            })
            .filter(|part| part.evaluation.stated() > 0.0)
            .collect()
    }

    /// The result by trials drawn from the distributions of its quantities.
    ///
    /// Source: JCGM 101:2008, 6.4.2, 6.4.7 and 6.4.8 for the draws, 7.2 to 7.7 for the rest.
    pub fn trials(&self, count: usize, seed: u64) -> Result<Trials, Fault> {
        at_least("The number of trials", count as f64, LEAST_TRIALS as f64)?;
        at_most("The number of trials", count as f64, MOST_TRIALS as f64)?;
        let mut chance = Chance(seed);
        let mut results = Vec::with_capacity(count);
        for _ in 0..count {
            let result = self.formula.work_out(&self.draw(&mut chance));
            results.push(finite("The result of a trial", result)?);
        }
        results.sort_by(f64::total_cmp);
        Ok(Trials { results })
    }

    fn draw(&self, chance: &mut Chance) -> Vec<f64> {
        let normals: Vec<f64> = self.inputs.iter().map(|_| chance.normal()).collect();
        let mut drawn = Vec::with_capacity(self.inputs.len());
        for (input, row) in self.inputs.iter().zip(&self.factor) {
            let normal: f64 = row.iter().zip(&normals).map(|(l, z)| l * z).sum();
            let even = 2.0 * chance.share() - 1.0;
            drawn.push(input.value + input.standard * normal + input.limits * even);
        }
        drawn
    }
}

fn shares(budget: &Budget) -> Vec<(String, f64)> {
    let lines = budget.lines.iter();
    lines
        .map(|line| (line.contribution.name.clone(), line.share))
        .collect()
}

/// L with L·Lᵀ the matrix of correlations; refused where no quantities can have these.
fn cholesky(count: usize, correlations: &[Correlation]) -> Result<Vec<Vec<f64>>, Fault> {
    /// What rounding leaves of a pivot that is zero.
    const NOTHING: f64 = 1e-12;
    let coefficient = |a: usize, b: usize| {
        let of = |c: &&Correlation| c.between == (a, b) || c.between == (b, a);
        match a == b {
            true => 1.0,
            false => correlations.iter().rfind(of).map_or(0.0, |c| c.coefficient),
        }
    };
    let contradiction = || Fault::Contradiction {
        what: "The correlations",
    };
    let mut rows: Vec<Vec<f64>> = Vec::with_capacity(count);
    for row in 0..count {
        let mut next = vec![0.0; row + 1];
        for column in 0..=row {
            let known: f64 = (0..column)
                .map(|at| next[at] * rows.get(column).map_or(next[at], |other| other[at]))
                .sum();
            let left = coefficient(row, column) - known;
            next[column] = match rows.get(column).map(|other| other[column]) {
                None if left < -NOTHING => return Err(contradiction()),
                None => left.max(0.0).sqrt(),
                Some(pivot) if pivot > NOTHING.sqrt() => left / pivot,
                Some(_) if left.abs() > NOTHING.sqrt() => return Err(contradiction()),
                Some(_) => 0.0,
            };
        }
        rows.push(next);
    }
    Ok(rows)
}

/// The correlation of paired readings: Σ(x−x̄)(y−ȳ)/√(Σ(x−x̄)²·Σ(y−ȳ)²).
///
/// Source: JCGM 100:2008, 5.2.2, equation (14), and 5.2.3, equation (17).
pub fn correlation(first: &[Number], second: &[Number]) -> Result<f64, Fault> {
    const LEAST: usize = 3;
    let pairs = first.len();
    if first.len() != second.len() {
        return Err(Fault::Uneven {
            what: "second readings: one for each first",
            count: second.len(),
            due: first.len(),
        });
    }
    if pairs < LEAST {
        return Err(Fault::TooFew {
            what: "pairs of readings",
            count: pairs,
            least: LEAST,
        });
    }
    let about = |numbers: &[Number]| -> Vec<f64> {
        // The differences to the first are exact, so that no digit is lost beside a large mean.
        let start = numbers[0].decimal();
        let from_start = numbers
            .iter()
            .map(|n| crate::quantity::to_f64(&(n.decimal() - start)));
        let from_start: Vec<f64> = from_start.collect();
        let mean = from_start.iter().sum::<f64>() / pairs as f64;
        from_start.iter().map(|value| value - mean).collect()
    };
    let (x, y) = (about(first), about(second));
    let sum = |a: &[f64], b: &[f64]| -> f64 { a.iter().zip(b).map(|(a, b)| a * b).sum() };
    let scale = (sum(&x, &x) * sum(&y, &y)).sqrt();
    match scale > 0.0 {
        true => Ok((sum(&x, &y) / scale).clamp(-1.0, 1.0)),
        false => Err(Fault::NotAbove {
            what: "The spread of the readings",
            value: 0.0,
            bound: 0.0,
        }),
    }
}
