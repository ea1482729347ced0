//! Aim-off: a tool in a coil pulls the reading, so one stops beside the target and lets it settle.

use crate::metrology::distribution::sample::{mean, squares_about_mean};
use crate::metrology::distribution::student;
use crate::metrology::uncertainty::COVERAGE;
use crate::quantity::Fault;
use crate::quantity::fault::{finite, not_negative, ordered};

/// One try: the same adjustment read with the tool in place and with the hand away.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Try {
    /// The reading with the tool in.
    pub tool_in: f64,
    /// The reading with the tool out.
    pub tool_out: f64,
}

/// Where the knowledge of a pull comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// The adjuster's own tries.
    Own,
    /// A first guess: at least the spread is that of sister adjusters of the same kind.
    Sisters,
}

/// By how much a reading moves when the tool leaves, in the unit without prefix.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pull {
    /// Mean of tool-out less tool-in.
    pub mean: f64,
    /// How many tries the mean is of; how many sisters for a guess from these.
    pub count: usize,
    /// How the pull scatters; unknown after a first try without sisters.
    pub spread: Option<Spread>,
    /// Where mean and spread come from.
    pub origin: Origin,
}

/// How a pull scatters from try to try.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// Standard deviation of one try.
    pub deviation: f64,
    /// Its degrees of freedom.
    pub freedom: f64,
}

/// Where to stop with the tool in, and where that settles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Aim {
    /// The tool-in reading to stop at.
    pub stop_at: f64,
    /// Half-width of the 95 % interval around the target in which it settles, where that is
    /// known.
    pub half_width: Option<f64>,
    /// Where the knowledge comes from.
    pub origin: Origin,
}

impl Pull {
    /// The pull of an adjuster from its own tries and those of its sisters, one list each.
    ///
    /// * Two or more own tries: their mean and experimental standard deviation with n−1.
    /// * One own try: its pull, with the spread within the sisters, √(ΣΣ(x−x̄)²/Σ(n−1)).
    /// * No own try: the mean of the sisters' means, with the spread between them, as this
    ///   adjuster differs from them like they do from each other, and within them,
    ///   √(s_b² + s_w²·(1 − mean of 1/n)). One sister gives no spread.
    ///
    /// A try is the difference of two readings; where the display steps by `step`, their
    /// rounding alone scatters by step/√6, and no spread is taken as less.
    /// Source: JCGM 100:2008, 4.2.1 and 4.2.2, G.4.1 for the freedom of both spreads together;
    /// F.2.2.1 for the step (from memory); one-way analysis of variance for the first guess.
    pub fn learn(own: &[Try], sisters: &[Vec<Try>], step: f64) -> Result<Pull, Fault> {
        let unseen = not_negative("The step of the display", step)? / 6f64.sqrt();
        let own = pulls(own)?;
        let sisters: Vec<Vec<f64>> = sisters
            .iter()
            .filter(|tries| !tries.is_empty())
            .map(|tries| pulls(tries))
            .collect::<Result<_, _>>()?;
        let (known, spread, origin) = match own.len() {
            0 => {
                let means: Vec<f64> = sisters.iter().map(|tries| mean(tries)).collect();
                let spread = between(&sisters, &means);
                (means, spread, Origin::Sisters)
            }
            1 => match spread(&sisters) {
                Some(spread) => (own, Some(spread), Origin::Sisters),
                None => (own, None, Origin::Own),
            },
            _ => {
                let spread = spread(std::slice::from_ref(&own));
                (own, spread, Origin::Own)
            }
        };
        if known.is_empty() {
            return Err(Fault::TooFew {
                what: "tries with the tool in and out",
                count: 0,
                least: 1,
            });
        }
        Ok(Pull {
            mean: mean(&known),
            count: known.len(),
            spread: spread.map(|spread| Spread {
                deviation: spread.deviation.max(unseen),
                ..spread
            }),
            origin,
        })
    }

    /// The tool-in reading to stop at for a target: target − mean pull, with the half-width
    /// t₉₅·s·√(1+1/n) of the prediction interval for where it settles.
    ///
    /// Source: prediction interval for one more observation, G. J. Hahn, 1970 (from memory).
    pub fn aim(&self, target: f64) -> Result<Aim, Fault> {
        let factor = |spread: Spread| student::coverage_factor(COVERAGE, spread.freedom);
        let half_width = match self.spread {
            Some(spread) => Some(factor(spread)? * self.scale(spread)),
            None => None,
        };
        Ok(Aim {
            stop_at: finite("The target", target)? - self.mean,
            half_width,
            origin: self.origin,
        })
    }

    /// Probability that a tool-in reading settles inside limits, either of which may be open;
    /// `None` where the spread is unknown.
    ///
    /// Student's t of (limit − expected)/(s·√(1+1/n)).
    /// Source: as for [`Pull::aim`].
    pub fn chance(
        &self,
        tool_in: f64,
        low: Option<f64>,
        high: Option<f64>,
    ) -> Result<Option<f64>, Fault> {
        let expected = finite("The reading", tool_in)? + self.mean;
        if let (Some(low), Some(high)) = (low, high) {
            ordered(("The lower limit", low), ("the upper limit", high))?;
        }
        let Some(spread) = self.spread else {
            return Ok(None);
        };
        let beyond = |distance: Option<f64>| match distance {
            Some(distance) => share_beyond(distance, self.scale(spread), spread.freedom),
            None => Ok(0.0),
        };
        let too_low = beyond(low.map(|low| expected - low))?;
        let too_high = beyond(high.map(|high| high - expected))?;
        Ok(Some((1.0 - too_low - too_high).clamp(0.0, 1.0)))
    }

    /// Standard deviation of one more try about the mean of those there are.
    fn scale(&self, spread: Spread) -> f64 {
        spread.deviation * (1.0 + 1.0 / self.count as f64).sqrt()
    }
}

/// The share that settles beyond a limit at this distance; on the limit is inside.
fn share_beyond(distance: f64, scale: f64, freedom: f64) -> Result<f64, Fault> {
    match scale > 0.0 {
        true => student::cdf(finite("A limit", -distance / scale)?, freedom),
        false => Ok(if distance < 0.0 { 1.0 } else { 0.0 }),
    }
}

fn pulls(tries: &[Try]) -> Result<Vec<f64>, Fault> {
    let pull = |t: &Try| finite("The change when the tool leaves", t.tool_out - t.tool_in);
    tries.iter().map(pull).collect()
}

/// The spread within samples; `None` when none of them has two values.
fn spread(samples: &[Vec<f64>]) -> Option<Spread> {
    let several = || samples.iter().filter(|sample| sample.len() > 1);
    let freedom: f64 = several().map(|sample| sample.len() as f64 - 1.0).sum();
    let squares: f64 = several().map(|sample| squares_about_mean(sample)).sum();
    (freedom > 0.0).then(|| Spread {
        deviation: (squares / freedom).sqrt(),
        freedom,
    })
}

/// The spread of one try of an adjuster about the mean of its sisters' means; `None` with one
/// sister.
fn between(sisters: &[Vec<f64>], means: &[f64]) -> Option<Spread> {
    let between = spread(&[means.to_vec()])?;
    let inverse: f64 = sisters.iter().map(|tries| 1.0 / tries.len() as f64).sum();
    let unaveraged = 1.0 - inverse / sisters.len() as f64;
    let Some(within) = spread(sisters) else {
        return Some(between);
    };
    let (a, b) = (
        between.deviation.powi(2),
        within.deviation.powi(2) * unaveraged,
    );
    let weight = a * a / between.freedom + b * b / within.freedom;
    Some(Spread {
        deviation: (a + b).sqrt(),
        freedom: match weight > 0.0 {
            true => ((a + b).powi(2) / weight).max(1.0),
            false => between.freedom,
        },
    })
}
