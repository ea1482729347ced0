//! What a column of tolerances says beside the figure of another.

use crate::authoring::table::aim::parts::{Bound, Said, Sides};
use crate::authoring::table::aim::quantity::quantity;
use crate::authoring::table::aim::resolve::resolved;
use crate::authoring::table::aim::said::{limit, meaning, two_sides, understood};
use crate::authoring::table::aim::{Aim, Cell, Due};
use crate::authoring::table::lex::{Figure, Token, lex};
use crate::authoring::table::phrases::Sense::*;
use crate::authoring::table::why::Why;
use crate::metrology::Tolerance;
use num_traits::Zero;

/// What a column of tolerances states alone; a figure there is no target.
pub(super) fn of_tolerance_alone(tolerance: &str, due: Due) -> Aim {
    let tokens = lex(tolerance).tokens;
    let said = understood(&tokens);
    let bound = said.as_deref().and_then(|said| match said {
        [
            Said {
                extreme: None,
                bound,
            },
        ] => *bound,
        _ => None,
    });
    let why = match bound {
        Some(
            bound @ (Bound::AtLeast(_) | Bound::AtMost(_) | Bound::Between(..) | Bound::Around(..)),
        ) => {
            let mut aim = resolved(bound, due);
            if let Some((cell, _)) = &mut aim.unclear {
                *cell = Cell::Tolerance;
            }
            return aim;
        }
        Some(Bound::Spread(_) | Bound::Figure(_)) => Why::NoNominal,
        _ => Why::Tolerance,
    };
    Aim::unclear(Cell::Tolerance, why)
}

pub(super) fn with_tolerance(bound: Bound, tolerance: &str, due: Due) -> Aim {
    if tolerance.is_empty() {
        return resolved(bound, due);
    }
    // What swings to both sides is stated with a sign, and has its tolerance besides.
    let (Bound::Figure(nominal) | Bound::Spread(nominal)) = bound else {
        return two_limits(bound, due);
    };
    if matches!(bound, Bound::Spread(_)) && !due.hints.swings {
        return two_limits(bound, due);
    }
    let tokens = meaning(&lex(tolerance).tokens);
    use Token::{Figure as F, Sense as S};
    let bound = match tokens.as_slice() {
        [S(Min | OrMore)] => Bound::AtLeast(nominal),
        [S(Max | OrLess)] => Bound::AtMost(nominal),
        [S(About)] => Bound::Figure(nominal),
        [F(both)] | [S(PlusMinus), F(both)] | [S(Within), S(PlusMinus), F(both)] => Bound::Around(
            nominal,
            Sides {
                below: *both,
                above: *both,
            },
        ),
        tokens => match two_sides(tokens)
            .map(|sides| Bound::Around(nominal, sides))
            .or_else(|| limits_beside(tokens, nominal))
        {
            Some(bound) => bound,
            None => return without_its_tolerance(nominal, due),
        },
    };
    let bare = Due { side: None, ..due };
    let aim = resolved(bound, bare);
    match holds(&aim, nominal, due) {
        true => aim,
        false => without_its_tolerance(nominal, due),
    }
}

/// A figure beside a tolerance that isn't understood.
fn without_its_tolerance(nominal: Figure, due: Due) -> Aim {
    let aim = resolved(Bound::Figure(nominal), due);
    let unclear = aim
        .unclear
        .clone()
        .or(Some((Cell::Tolerance, Why::Tolerance)));
    Aim { unclear, ..aim }
}

/// Whether a limit in a column of tolerances holds the figure that it stands beside. One that
/// doesn't, or that stands beside nought, may be how far the figure is off.
fn holds(aim: &Aim, nominal: Figure, due: Due) -> bool {
    let (least, limit) = match &aim.tolerance {
        Some(Tolerance::AtLeast(limit)) => (true, limit),
        Some(Tolerance::AtMost(limit)) => (false, limit),
        _ => return true,
    };
    let bare = Due { side: None, ..due };
    match quantity(&nominal, None, bare) {
        Ok(nominal) if nominal.unit() == limit.unit() => match least {
            true => nominal.base() >= limit.base(),
            false => nominal.base() <= limit.base() && !nominal.base().is_zero(),
        },
        _ => true,
    }
}

/// Limits beside a tolerance that is one too many.
fn two_limits(bound: Bound, due: Due) -> Aim {
    let aim = resolved(bound, due);
    let unclear = aim
        .unclear
        .clone()
        .or(Some((Cell::Tolerance, Why::TwoLimits)));
    Aim { unclear, ..aim }
}

/// The limits of a figure that a column of tolerances states as readings.
fn limits_beside<'a>(tokens: &[Token<'a>], nominal: Figure<'a>) -> Option<Bound<'a>> {
    let own = |figure: &Figure| figure.unit.is_some() || nominal.unit.is_none();
    match limit(tokens)? {
        Bound::Between(low, high) => Some(Bound::Inside(nominal, low, high)),
        bound @ (Bound::AtLeast(one) | Bound::AtMost(one)) if own(&one) => Some(bound),
        _ => None,
    }
}
