//! Uncertainty of a reading by JCGM 100:2008 (GUM): contributions, budget, expanded uncertainty.

mod stated;

pub use self::stated::{Stated, stated};

use crate::metrology::distribution::law::Law;
use crate::metrology::distribution::statistics::Statistics;
use crate::metrology::distribution::student;
use crate::quantity::Fault;
use crate::quantity::fault::{above, at_least, finite, not_negative, positive};

/// The coverage probability at which a bench states an expanded uncertainty.
pub const COVERAGE: f64 = 0.95;

/// Below this many degrees of freedom no probability is given: four readings are the least.
const LEAST_FREEDOM: f64 = 3.0;

/// The distribution within limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// Anywhere within the limits alike: divisor √3.
    Rectangular,
    /// Most likely in the middle: divisor √6.
    Triangular,
    /// Most likely near the limits, as for mismatch: divisor √2.
    UShaped,
}

impl Shape {
    /// What the half-width is divided by.
    ///
    /// Source: JCGM 100:2008, 4.3.7 and 4.3.9 (from memory); the documentation of the library
    /// GTC for the U shape.
    pub fn divisor(self) -> f64 {
        match self {
            Shape::Rectangular => 3f64.sqrt(),
            Shape::Triangular => 6f64.sqrt(),
            Shape::UShaped => 2f64.sqrt(),
        }
    }
}

/// How a standard uncertainty is found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Evaluation {
    /// A display that steps by δ: δ/√12.
    Resolution {
        /// One count of the last digit.
        step: f64,
    },
    /// Limits ±a: a over the divisor of their shape.
    Limits {
        /// The half-width a.
        half_width: f64,
        /// The distribution within the limits.
        shape: Shape,
    },
    /// A certificate that states U with its coverage factor: U/k.
    Expanded {
        /// The expanded uncertainty U.
        uncertainty: f64,
        /// The coverage factor k.
        coverage: f64,
    },
    /// The mean of repeated readings: s/√n, with n−1 degrees of freedom.
    Repeated {
        /// The experimental standard deviation s.
        deviation: f64,
        /// The number of readings n.
        count: usize,
    },
    /// A standard uncertainty that is known already.
    Standard {
        /// The standard uncertainty u.
        uncertainty: f64,
    },
}

impl Evaluation {
    /// The figure that is divided: δ, a, U, s or u.
    pub fn stated(self) -> f64 {
        match self {
            Evaluation::Resolution { step } => step,
            Evaluation::Limits { half_width, .. } => half_width,
            Evaluation::Expanded { uncertainty, .. } | Evaluation::Standard { uncertainty } => {
                uncertainty
            }
            Evaluation::Repeated { deviation, .. } => deviation,
        }
    }

    /// What the stated figure is divided by.
    ///
    /// Source: JCGM 100:2008, F.2.2.1, 4.3.3, 4.3.7 and 4.2.3 (from memory).
    pub fn divisor(self) -> f64 {
        match self {
            Evaluation::Resolution { .. } => 12f64.sqrt(),
            Evaluation::Limits { shape, .. } => shape.divisor(),
            Evaluation::Expanded { coverage, .. } => coverage,
            Evaluation::Repeated { count, .. } => (count as f64).sqrt(),
            Evaluation::Standard { .. } => 1.0,
        }
    }

    /// The standard uncertainty: the stated figure over the divisor.
    pub fn standard(self) -> Result<f64, Fault> {
        if let Evaluation::Repeated { count, .. } = self {
            at_least("The number of repeated readings", count as f64, 2.0)?;
        }
        let stated = not_negative("The uncertainty", self.stated())?;
        Ok(stated / positive("The coverage factor", self.divisor())?)
    }

    /// The degrees of freedom; infinite for all but repeated readings.
    ///
    /// Source: JCGM 100:2008, G.3.3 and G.4.3.
    pub fn freedom(self) -> f64 {
        match self {
            Evaluation::Repeated { count, .. } => count as f64 - 1.0,
            _ => f64::INFINITY,
        }
    }
}

/// One line of an uncertainty budget, as put in.
#[derive(Clone, Debug, PartialEq)]
pub struct Contribution {
    /// What it comes from.
    pub name: String,
    /// How its standard uncertainty is found.
    pub evaluation: Evaluation,
    /// By how much the result moves for one unit of this input.
    pub sensitivity: f64,
    /// Degrees of freedom, infinite when the evaluation is beyond doubt.
    pub freedom: f64,
}

impl Contribution {
    /// The spread of repeated readings, whose mean is the result.
    pub fn of_repeats(repeats: &Statistics) -> Self {
        let evaluation = Evaluation::Repeated {
            deviation: repeats.deviation,
            count: repeats.count,
        };
        Contribution::new("Repeatability", evaluation)
    }

    /// An error anywhere within limits alike.
    pub fn even(name: impl Into<String>, half_width: f64) -> Self {
        let shape = Shape::Rectangular;
        Contribution::new(name, Evaluation::Limits { half_width, shape })
    }

    /// A contribution that goes into the result one to one.
    pub fn new(name: impl Into<String>, evaluation: Evaluation) -> Self {
        Contribution {
            name: name.into(),
            evaluation,
            sensitivity: 1.0,
            freedom: evaluation.freedom(),
        }
    }

    /// The same with another sensitivity.
    pub fn sensitivity(self, sensitivity: f64) -> Self {
        Contribution {
            sensitivity,
            ..self
        }
    }

    /// The same with other degrees of freedom.
    pub fn freedom(self, freedom: f64) -> Self {
        Contribution { freedom, ..self }
    }
}

/// One line of an uncertainty budget, worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// The contribution as put in.
    pub contribution: Contribution,
    /// Its standard uncertainty u(x).
    pub standard: f64,
    /// What it does to the result: |c|·u(x).
    pub effect: f64,
    /// Its share of the combined variance, from 0 to 1.
    pub share: f64,
}

/// An uncertainty budget, worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Budget {
    /// The contributions in the order put in.
    pub lines: Vec<Line>,
    /// Combined standard uncertainty: √Σ(c·u)².
    pub combined: f64,
    /// Effective degrees of freedom, infinite when all are.
    pub freedom: f64,
    /// Coverage factor k.
    pub coverage: f64,
    /// Expanded uncertainty U = k·u.
    pub expanded: f64,
}

impl Budget {
    /// The budget of independent contributions at 95 %.
    pub fn of(contributions: Vec<Contribution>) -> Result<Budget, Fault> {
        Budget::at(COVERAGE, contributions)
    }

    /// How likely the true value lies within limits, either of which may be open, for a reading
    /// with this budget, if nothing was known of it before. `None` where the uncertainty is zero,
    /// or rests on too few readings.
    ///
    /// Errors within limits are taken as even, the rest as Student's t of its freedom.
    /// Source: JCGM 106:2012, 7.2 (from memory), with the distributions of JCGM 101:2008, 6.4.
    pub fn probability_within(
        &self,
        value: f64,
        low: Option<f64>,
        high: Option<f64>,
    ) -> Result<Option<f64>, Fault> {
        let value = finite("The value", value)?;
        if let (Some(low), Some(high)) = (low, high) {
            not_negative("The upper limit less the lower one", high - low)?;
        }
        if self.combined == 0.0 || self.freedom < LEAST_FREEDOM {
            return Ok(None);
        }
        let law = Law::of(&self.lines)?;
        let below = |limit: Option<f64>, sign: f64| match limit {
            Some(limit) => law.share_below(sign * (limit - value)),
            None => Ok(1.0),
        };
        // Each tail by itself: a law about zero has the same on both sides.
        let inside = below(high, 1.0)? + below(low, -1.0)? - 1.0;
        Ok(Some(inside.clamp(0.0, 1.0)))
    }

    /// The coverage factor at 95 % of what the errors are made of: where one even error within
    /// limits outweighs the rest, it is nearer to 1.65 than to 2. `None` where the uncertainty is
    /// zero.
    ///
    /// Source: JCGM 100:2008, G.1.5 and G.5.3, with the distributions of JCGM 101:2008, 6.4.
    pub fn factor_of_its_law(&self) -> Result<Option<f64>, Fault> {
        match self.combined == 0.0 {
            true => Ok(None),
            false => factor_by_law(COVERAGE, &self.lines, self.combined, 0.0).map(Some),
        }
    }

    /// The budget of independent contributions at a coverage probability between 0 and 1.
    ///
    /// The effective degrees of freedom are cut to the next lower integer for k. Where a part
    /// rests on two readings, they come out too many when the two happen to lie close together:
    /// then k is at least that of what the errors are made of.
    /// Source: JCGM 100:2008, 5.1.2, G.4.1 and G.4.2, and JCGM 101:2008, 6.4.
    pub fn at(probability: f64, contributions: Vec<Contribution>) -> Result<Budget, Fault> {
        let mut lines = contributions
            .into_iter()
            .map(line)
            .collect::<Result<Vec<_>, _>>()?;
        let combined = lines
            .iter()
            .fold(0.0, |sum: f64, line| sum.hypot(line.effect));
        for line in &mut lines {
            line.share = share(line.effect, combined);
        }
        let freedom = effective_freedom(&lines, combined);
        let mut coverage = student::coverage_factor(probability, whole(freedom))?;
        if lines.iter().any(rests_on_two) && lines.len() > 1 && combined > 0.0 {
            coverage = factor_by_law(probability, &lines, combined, coverage)?;
        }
        Ok(Budget {
            lines,
            combined,
            freedom,
            coverage,
            expanded: finite("The expanded uncertainty", coverage * combined)?,
        })
    }
}

fn rests_on_two(line: &Line) -> bool {
    line.contribution.freedom < 2.0 && line.effect > 0.0
}

/// The least factor of the combined uncertainty, from one on, within which a share of the errors
/// lies by the law of their parts.
fn factor_by_law(share: f64, lines: &[Line], combined: f64, least: f64) -> Result<f64, Fault> {
    let law = Law::of(lines)?;
    let holds = |factor: f64| Ok(law.share_below(factor * combined)? >= 0.5 + share / 2.0);
    if holds(least)? {
        return Ok(least);
    }
    let (mut low, mut high) = (least, least + 1.0);
    while !holds(high)? {
        (low, high) = (high, 2.0 * high);
    }
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        match holds(middle)? {
            true => high = middle,
            false => low = middle,
        }
    }
    Ok(high)
}

/// The next lower integer, but not one less where rounding left 3 as 2.9999999999999996.
fn whole(freedom: f64) -> f64 {
    (freedom * (1.0 + 1e-12)).floor().max(1.0)
}

fn line(contribution: Contribution) -> Result<Line, Fault> {
    let standard = contribution.evaluation.standard()?;
    at_least_one_degree(contribution.freedom)?;
    let sensitivity = finite("The sensitivity", contribution.sensitivity)?;
    Ok(Line {
        effect: sensitivity.abs() * standard,
        contribution,
        standard,
        share: 0.0,
    })
}

fn at_least_one_degree(freedom: f64) -> Result<(), Fault> {
    match freedom.is_infinite() {
        true => above("The number of degrees of freedom", freedom.signum(), 0.0),
        false => at_least("The number of degrees of freedom", freedom, 1.0),
    }
    .map(|_| ())
}

fn share(effect: f64, combined: f64) -> f64 {
    if combined > 0.0 {
        (effect / combined).powi(2)
    } else {
        0.0
    }
}

/// Effective degrees of freedom by Welch–Satterthwaite: uc⁴/Σ((c·u)⁴/ν).
///
/// Source: JCGM 100:2008, G.4.1, equation (G.2b).
pub(super) fn effective_freedom<'a>(
    lines: impl IntoIterator<Item = &'a Line>,
    combined: f64,
) -> f64 {
    if combined == 0.0 {
        return f64::INFINITY;
    }
    let weight: f64 = lines
        .into_iter()
        .map(|line| (line.effect / combined).powi(4) / line.contribution.freedom)
        .sum();
    1.0 / weight
}
