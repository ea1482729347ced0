//! Slips of typing and reading: what a reading far off its target was most likely meant to be.
//!
//! Suggestions only: nothing here changes a reading, and one inside its tolerance is never
//! doubted. Everything is exact.

use crate::metrology::{Limits, Tolerance};
use crate::quantity::{Number, Quantity, Scale, Unit};
use bigdecimal::BigDecimal;
use num_traits::Zero;

/// The most suspicions that are worth a question.
pub const MOST: usize = 2;

/// Beyond so many half-widths from the limits, a reading is worth a question.
const FAR: i32 = 5;

/// Within so many half-widths from the limits, a correction makes sense.
const NEAR: i32 = 2;

/// How far a point slips or is forgotten, in decades.
const DECADES: [i64; 6] = [1, -1, 2, -2, 3, -3];

/// Another step whose reading may have been mixed up with this one.
#[derive(Clone, Debug, PartialEq)]
pub struct Neighbour<'a, K> {
    /// The step.
    pub step: K,
    /// Where its reading must lie.
    pub tolerance: &'a Tolerance,
    /// Its reading, where it has one.
    pub reading: Option<&'a Quantity>,
}

/// What a reading was most likely meant to be. Digits stay as typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Slip<K> {
    /// The right size with the wrong sign, as with reversed leads.
    Sign {
        /// The reading with the other sign.
        corrected: Quantity,
    },
    /// The right digits with the wrong prefix, as MHz typed where kHz was chosen.
    Prefix {
        /// The same number in the other scale.
        corrected: Quantity,
    },
    /// Two readings in each other's place, as the carriers of two sidebands.
    Swapped {
        /// The step that has this step's reading.
        with: K,
        /// That reading, which belongs here.
        corrected: Quantity,
    },
    /// The reading of another step.
    Neighbour {
        /// The step that it fits.
        step: K,
    },
    /// The right digits with the point in the wrong place.
    Decade {
        /// By how many places the point moves to the right.
        shift: i64,
        /// The reading with its point moved.
        corrected: Quantity,
    },
}

impl<K> Slip<K> {
    /// The reading that belongs here, where this is known.
    pub fn corrected(&self) -> Option<&Quantity> {
        match self {
            Slip::Sign { corrected }
            | Slip::Prefix { corrected }
            | Slip::Swapped { corrected, .. }
            | Slip::Decade { corrected, .. } => Some(corrected),
            Slip::Neighbour { .. } => None,
        }
    }
}

/// At most two suspicions about a reading, the likeliest first.
///
/// A reading is doubted only when it lies beyond five half-widths from the limits of its
/// tolerance, and a correction counts only inside the limits or within two half-widths from
/// them; those inside come first, then sign, prefix, swap, neighbour, decade. For a target
/// with one limit, the half-width is 5 % of that limit, a correction has to lie within a factor
/// of two on the good side, and a slipped point is not guessed at. Source: own rule.
pub fn suspect<K: Clone>(
    typed: &Quantity,
    tolerance: &Tolerance,
    scales: &[Scale],
    neighbours: &[Neighbour<'_, K>],
) -> Vec<Slip<K>> {
    let Some(band) = Band::of(tolerance) else {
        return Vec::new();
    };
    if typed.unit() == band.unit && !band.is_far(typed) {
        return Vec::new();
    }
    let mut found = corrections(typed, &band, scales);
    found.extend(
        neighbours
            .iter()
            .filter_map(|neighbour| mix_up(typed, &band, neighbour)),
    );
    found.sort_by_key(|(fit, slip)| (*fit, slip.rank()));
    let mut kept: Vec<Slip<K>> = Vec::new();
    for (_, slip) in found {
        if !kept.iter().any(|other| other.means_the_same_as(&slip)) {
            kept.push(slip);
        }
    }
    kept.truncate(MOST);
    kept
}

impl<K> Slip<K> {
    /// The likelier, the smaller.
    fn rank(&self) -> u8 {
        match self {
            Slip::Sign { .. } => 0,
            Slip::Prefix { .. } => 1,
            Slip::Swapped { .. } => 2,
            Slip::Neighbour { .. } => 3,
            Slip::Decade { .. } => 4,
        }
    }

    fn means_the_same_as(&self, other: &Self) -> bool {
        match (self.corrected(), other.corrected()) {
            (Some(a), Some(b)) => a.base() == b.base(),
            _ => false,
        }
    }
}

/// How well a value goes with a target.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Fit {
    Inside,
    Near,
}

/// A target with the width that distances are counted in.
struct Band {
    unit: Unit,
    limits: Limits,
    /// Where a sensible reading lies: the limits, or up to twice or half the only one.
    low: BigDecimal,
    high: BigDecimal,
    half_width: BigDecimal,
}

impl Band {
    /// `None` where a tolerance gives no width to compare with.
    fn of(tolerance: &Tolerance) -> Option<Band> {
        let limits = tolerance.limits();
        let (low, high, half_width) = match (&limits.low, &limits.high) {
            (Some(low), Some(high)) => (low.clone(), high.clone(), (high - low).half()),
            (Some(low), None) => (low.clone(), good_end(low, true), share(low)),
            (None, Some(high)) => (good_end(high, false), high.clone(), share(high)),
            (None, None) => return None,
        };
        (half_width > BigDecimal::zero()).then(|| Band {
            unit: tolerance.unit(),
            limits,
            low,
            high,
            half_width,
        })
    }

    fn has_two_limits(&self) -> bool {
        self.limits.low.is_some() && self.limits.high.is_some()
    }

    fn is_far(&self, reading: &Quantity) -> bool {
        let value = reading.base();
        let far = &self.half_width * BigDecimal::from(FAR);
        let below = self.limits.low.as_ref().map(|low| low - &value);
        let above = self.limits.high.as_ref().map(|high| &value - high);
        [below, above].into_iter().flatten().any(|by| by > far)
    }

    fn fit(&self, reading: &Quantity) -> Option<Fit> {
        if reading.unit() != self.unit {
            return None;
        }
        let value = reading.base();
        let outside = (&self.low - &value).max(&value - &self.high);
        if outside <= BigDecimal::zero() {
            return Some(Fit::Inside);
        }
        (outside <= &self.half_width * BigDecimal::from(NEAR)).then_some(Fit::Near)
    }
}

/// Twice or half a limit, whichever lies on the good side.
fn good_end(limit: &BigDecimal, upward: bool) -> BigDecimal {
    match (*limit > BigDecimal::zero()) == upward {
        true => limit.double(),
        false => limit.half(),
    }
}

/// 5 % of a limit.
fn share(limit: &BigDecimal) -> BigDecimal {
    limit.abs() * BigDecimal::new(5.into(), 2)
}

/// What the reading may have been meant to be here.
fn corrections<K>(typed: &Quantity, band: &Band, scales: &[Scale]) -> Vec<(Fit, Slip<K>)> {
    let sign = Slip::Sign {
        corrected: Quantity::new(
            Number::from_decimal(-typed.number.decimal().clone()),
            typed.scale,
        ),
    };
    let prefix = |&scale: &Scale| Slip::Prefix {
        corrected: Quantity::new(typed.number.clone(), scale),
    };
    let decade = |&shift: &i64| Slip::Decade {
        shift,
        corrected: Quantity::new(moved(&typed.number, shift), typed.scale),
    };
    // A correction into another unit would not be a slip of the prefix.
    let scales = scales.iter().filter(|scale| scale.unit == typed.unit());
    let decades: &[i64] = if band.has_two_limits() { &DECADES } else { &[] };
    std::iter::once(sign)
        .chain(scales.map(prefix))
        .chain(decades.iter().map(decade))
        .filter_map(|slip| Some((band.fit(slip.corrected()?)?, slip)))
        .collect()
}

/// The number with its point moved to the right, digit for digit.
fn moved(number: &Number, shift: i64) -> Number {
    let (digits, decimals) = number.decimal().as_bigint_and_exponent();
    Number::from_decimal(BigDecimal::new(digits, decimals - shift)).without_exponent()
}

/// Whether the reading belongs to a neighbour, and perhaps the neighbour's belongs here. A
/// neighbour that has a fitting reading already is left alone.
fn mix_up<K: Clone>(
    typed: &Quantity,
    band: &Band,
    neighbour: &Neighbour<'_, K>,
) -> Option<(Fit, Slip<K>)> {
    let theirs = Band::of(neighbour.tolerance)?;
    let there = theirs.fit(typed)?;
    let step = neighbour.step.clone();
    let Some(reading) = neighbour.reading else {
        return Some((there, Slip::Neighbour { step }));
    };
    if theirs.fit(reading).is_some() {
        return None;
    }
    Some(match band.fit(reading) {
        Some(here) => {
            let swapped = Slip::Swapped {
                with: step,
                corrected: reading.clone(),
            };
            (there.max(here), swapped)
        }
        None => (there, Slip::Neighbour { step }),
    })
}
