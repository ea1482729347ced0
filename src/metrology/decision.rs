//! Decision rules: from a value, its limits and its uncertainty to a statement.

use super::Limits;
use crate::metrology::distribution::normal;
use crate::quantity::fault::{above, below, finite, not_negative, positive};
use crate::quantity::{Fault, Number, Phrase};
use bigdecimal::BigDecimal;
use serde::{Deserialize, Serialize};
use std::fmt;

/// How a value near a limit is judged.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Rule {
    /// Pass inside the tolerance, fail outside it.
    ///
    /// Source: ILAC-G8:09/2019, 4.2.1.
    #[default]
    SimpleAcceptance,
    /// Pass only if the value is inside by w = r·U, else fail; r = 1 is usual.
    ///
    /// Source: ILAC-G8:09/2019, 4.2.2; w = rU from memory.
    GuardBand {
        /// The multiple r of the expanded uncertainty.
        ratio: Number,
    },
    /// Pass, conditional pass, conditional fail and fail, with a guard band w = U.
    ///
    /// Source: ILAC-G8:09/2019, 4.2.3; the zones from memory.
    FourWay,
}

/// What a rule says of a value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Statement {
    /// Outside, beyond doubt under the rule.
    Fail,
    /// Outside by less than the guard band.
    ConditionalFail,
    /// Inside by less than the guard band.
    ConditionalPass,
    /// Inside, beyond doubt under the rule.
    Pass,
}

impl fmt::Display for Statement {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Statement::Fail => "fail",
            Statement::ConditionalFail => "conditional fail",
            Statement::ConditionalPass => "conditional pass",
            Statement::Pass => "pass",
        })
    }
}

impl Rule {
    /// The guard band rule with w = U.
    pub fn guard_band() -> Self {
        Rule::GuardBand { ratio: 1.into() }
    }

    /// The rule in a sentence, as it is printed with every verdict.
    pub fn sentence(&self) -> Phrase {
        match self {
            Rule::SimpleAcceptance => Phrase::new(
                "Simple acceptance: pass inside the tolerance limits; the risk of a false pass \
                 is below 50 % where the uncertainty is small against the tolerance \
                 (ILAC-G8:09/2019, 4.2.1).",
                [],
            ),
            Rule::GuardBand { ratio } => Phrase::new(
                "Guard band w = {} U: pass only inside the tolerance limits by w; the risk of a \
                 false pass is at most {} % beyond each limit, for errors that are spread \
                 normally (ILAC-G8:09/2019, 4.2.2).",
                [
                    ratio.clone(),
                    percent(risk_beyond_a_limit(ratio.to_f64())).unwrap_or(100.into()),
                ],
            ),
            Rule::FourWay => Phrase::new(
                "Four-way statement with guard band w = U: pass, conditional pass, conditional \
                 fail or fail (ILAC-G8:09/2019, 4.2.3).",
                [],
            ),
        }
    }

    /// The rule in a few words, as it stands beside a figure.
    pub fn name(&self) -> Phrase {
        match self {
            Rule::SimpleAcceptance => Phrase::new("simple acceptance", []),
            Rule::GuardBand { ratio } => Phrase::new("guard band w = {} U", [ratio.clone()]),
            Rule::FourWay => Phrase::new("four-way with guard band w = U", []),
        }
    }

    /// The width w of the guard band for an expanded uncertainty.
    pub fn guard(&self, expanded: &BigDecimal) -> BigDecimal {
        match self {
            Rule::SimpleAcceptance => BigDecimal::from(0),
            Rule::GuardBand { ratio } => ratio.decimal() * expanded.abs(),
            Rule::FourWay => expanded.abs(),
        }
    }

    /// The limits inside which a value passes.
    pub fn acceptance(&self, limits: &Limits, expanded: &BigDecimal) -> Limits {
        limits.moved_inward(&self.guard(expanded))
    }

    /// Judges a value against limits, exactly.
    pub fn state(&self, value: &BigDecimal, limits: &Limits, expanded: &BigDecimal) -> Statement {
        let guard = self.guard(expanded);
        if holds(&limits.moved_inward(&guard), value) {
            return Statement::Pass;
        }
        match self {
            Rule::FourWay if holds(limits, value) => Statement::ConditionalPass,
            Rule::FourWay if holds(&limits.moved_inward(&-guard), value) => {
                Statement::ConditionalFail
            }
            _ => Statement::Fail,
        }
    }
}

fn holds(limits: &Limits, value: &BigDecimal) -> bool {
    limits.low.as_ref().is_none_or(|low| value >= low)
        && limits.high.as_ref().is_none_or(|high| value <= high)
}

/// Risk that an item at the acceptance limit is outside the tolerance, for a guard band w = r·U
/// with U = 2·u: Φ(−2·r).
///
/// Source: ILAC-G8:09/2019 and its bounds for r = 0, 0.83, 1, 1.5 and 3.
pub fn false_accept_risk(ratio: f64) -> f64 {
    normal::cdf(-2.0 * ratio)
}

/// The same for a U at 95 %, which is 1.96·u: Φ(−1.96·r). It is the risk beyond one limit; where
/// two are as close together as the guard bands, there is as much again beyond the other.
///
/// Source: closed form of the normal distribution.
pub fn risk_beyond_a_limit(ratio: f64) -> f64 {
    const COVERAGE: f64 = 1.959_963_984_540_054;
    normal::cdf(-COVERAGE * ratio)
}

/// Probability that the true value lies within limits, for a value with a standard uncertainty
/// above zero and a normal distribution: Φ((TU−y)/u) − Φ((TL−y)/u).
///
/// Without a lower or upper limit, its term is 0 or 1.
/// Source: JCGM 106:2012, 7.3 and 7.4 (from memory).
pub fn conformance_probability(
    value: f64,
    low: Option<f64>,
    high: Option<f64>,
    standard: f64,
) -> Result<f64, Fault> {
    let standard = positive("The standard uncertainty", standard)?;
    let value = finite("The value", value)?;
    if let (Some(low), Some(high)) = (low, high) {
        not_negative("The upper limit less the lower one", high - low)?;
    }
    let above_low = low.map_or(f64::INFINITY, |low| (value - low) / standard);
    let below_high = high.map_or(f64::INFINITY, |high| (high - value) / standard);
    Ok(between(-above_low, below_high))
}

/// Φ(to) − Φ(from), taken on the side where the tails are small.
fn between(from: f64, to: f64) -> f64 {
    if from > 0.0 {
        normal::cdf(-from) - normal::cdf(-to)
    } else {
        normal::cdf(to) - normal::cdf(from)
    }
}

/// A risk in percent with two significant digits.
fn percent(share: f64) -> Option<Number> {
    let percent = share * 100.0;
    let decimals = (1.0 - percent.abs().log10().floor()).clamp(0.0, 12.0);
    Number::from_f64(percent, decimals as u8)
}

/// The width of the guard band of ANSI/NCSL Z540.3, Method 6, in expanded uncertainties, at a
/// test uncertainty ratio: 1.04 − exp(0.38·ln TUR − 0.54), and none where that is below zero. It
/// keeps the risk of a false accept below 2 %, however the items are spread.
///
/// Source (from memory): M. Dobbert, "A guard-band strategy for managing false-accept risk", 2008,
/// for ANSI/NCSL Z540.3-2006, 5.3 b).
pub fn managed_guard_band(uncertainty_ratio: f64) -> Result<f64, Fault> {
    let ratio = positive("The test uncertainty ratio", uncertainty_ratio)?;
    Ok((1.04 - (0.38 * ratio.ln() - 0.54).exp()).max(0.0))
}

/// The width w of the guard band inside which a value conforms with at least a probability, for a
/// normal error with a standard uncertainty; `None` where no value between the limits does.
///
/// Source: JCGM 106:2012, 8.3.2 and 7.3, solved for the acceptance limit.
pub fn guard_for(
    probability: f64,
    limits: (Option<f64>, Option<f64>),
    standard: f64,
) -> Result<Option<f64>, Fault> {
    let probability = above("The required probability", probability, 0.0)?;
    let probability = below("The required probability", probability, 1.0)?;
    let standard = positive("The standard uncertainty", standard)?;
    let (low, high) = match limits {
        (Some(low), Some(high)) => (low, high),
        _ => return Ok(Some(standard * normal::quantile(probability)?)),
    };
    let conforms = |guard: f64| {
        conformance_probability(low + guard, Some(low), Some(high), standard)
            .map(|conforms| conforms >= probability)
    };
    // From the limit inward the probability grows until the middle.
    let half = not_negative("The upper limit less the lower one", high - low)? / 2.0;
    if !conforms(half)? {
        return Ok(None);
    }
    let (mut outside, mut inside) = (half.min(-8.0 * standard), half);
    for _ in 0..200 {
        let middle = (outside + inside) / 2.0;
        match conforms(middle)? {
            true => inside = middle,
            false => outside = middle,
        }
    }
    Ok(Some(inside))
}
