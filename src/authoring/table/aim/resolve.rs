//! What is stated as limits with their units.

use crate::authoring::table::aim::parts::{Bound, Sides};
use crate::authoring::table::aim::quantity::{quantity, read_digits, scale_of};
use crate::authoring::table::aim::{Aim, Cell, Due, Side};
use crate::authoring::table::lex::{Figure, Spelled};
use crate::authoring::table::why::Why;
use crate::metrology::{Margin, Tolerance};
use crate::quantity::{Number, Quantity, Scale, Unit};
use bigdecimal::BigDecimal;
use num_traits::Zero;

/// The limits with their units.
pub(super) fn resolved(bound: Bound, due: Due) -> Aim {
    use Tolerance::{AtLeast, AtMost};
    let one = |figure, make: fn(Quantity) -> Tolerance| match quantity(&figure, None, due) {
        Ok(quantity) => Aim::of(make(quantity), Cell::Target),
        Err(why) => Aim::unclear(Cell::Target, why),
    };
    match (bound, due.side) {
        (Bound::AtLeast(low), _) | (Bound::Figure(low), Some(Side::Lower)) => one(low, AtLeast),
        (Bound::AtMost(high), _) | (Bound::Figure(high), Some(Side::Upper)) => one(high, AtMost),
        (Bound::Between(low, high), _) => between(low, high, due),
        (Bound::Around(nominal, sides), _) => around(nominal, sides, due),
        (Bound::Off(sides), _) if sides.above.is_ratio() || sides.below.is_ratio() => {
            off(sides, due)
        }
        (Bound::Off(sides), _) if due.is_in_decibels() => off(sides, due),
        (Bound::Off(_), _) => Aim::unclear(Cell::Target, Why::NoTarget),
        (Bound::Inside(nominal, low, high), _) => inside(nominal, low, high, due),
        (Bound::Magnitude(both), _)
        | (Bound::Spread(both), Some(Side::Upper | Side::Both))
        | (Bound::Figure(both), Some(Side::Both)) => magnitude(both, due),
        (Bound::Spread(both), _) if due.hints.offset && !due.hints.swings => magnitude(both, due),
        (Bound::Spread(both), _) => spread(both, due),
        (Bound::Better(worst), _) => match better_side(worst, due) {
            Some(Side::Lower) => one(worst, AtLeast),
            Some(_) => one(worst, AtMost),
            None => Aim::unclear(Cell::Target, Why::Better),
        },
        (Bound::Figure(figure), None) => match quantity(&figure, None, due) {
            // A share, where a tolerance is stated, is how far it may be off.
            Ok(off)
                if matches!(off.unit(), Unit::PartsPerMillion | Unit::Percent) && due.hints.off =>
            {
                magnitude(figure, due)
            }
            Ok(nominal) => Aim {
                nominal: Some(nominal),
                ..Aim::default()
            },
            Err(why) => Aim::unclear(Cell::Target, why),
        },
    }
}

/// On which side the better readings are not. A noise of 40 dB may be so far down, and then more of
/// it is better; levels below zero say it by their sign.
fn better_side(worst: Figure, due: Due) -> Option<Side> {
    let decibels = worst.is_decibels() || (worst.unit.is_none() && due.is_in_decibels());
    match (decibels, worst.is_negative(), due.hints.better) {
        (true, true, Some(Side::Lower)) => None,
        (true, false, Some(Side::Upper)) => None,
        // So many decibels below something are the better the more they are.
        (true, true, None) if worst.is_ratio() => Some(Side::Upper),
        (_, _, side) => side,
    }
}

/// The range in which a figure may be, if it is in there itself.
fn inside(nominal: Figure, mut low: Figure, mut high: Figure, due: Due) -> Aim {
    let unit = low.unit.or(high.unit).or(nominal.unit);
    low.unit = low.unit.or(unit);
    high.unit = high.unit.or(unit);
    let aim = between(low, high, due);
    let Some(Tolerance::Between { low, high }) = &aim.tolerance else {
        return aim;
    };
    let is_inside = quantity(&nominal, unit, due).is_ok_and(|nominal| {
        nominal.unit() == high.unit() && (low.base()..=high.base()).contains(&nominal.base())
    });
    // A range with another prefix tells where it is read, and not what may be read.
    let elsewhere = nominal.unit.is_some() && nominal.unit != unit;
    match quantity(&nominal, None, due) {
        _ if is_inside => aim,
        Ok(nominal) if elsewhere && nominal.unit() == high.unit() => Aim {
            nominal: Some(nominal),
            more: true,
            ..Aim::default()
        },
        _ => Aim::unclear(Cell::Target, Why::NominalOutside),
    }
}

/// So far to either side at most. A deviation is read as how far it goes.
fn magnitude(both: Figure, due: Due) -> Aim {
    match quantity(&both, None, due) {
        Ok(most) if due.hints.swings && most.unit() == Unit::Hertz => {
            Aim::of(Tolerance::AtMost(most), Cell::Target)
        }
        Ok(high) => {
            let low = Quantity::new(Number::from_decimal(-high.number.decimal()), high.scale);
            ordered(low, high)
        }
        Err(why) => Aim::unclear(Cell::Target, why),
    }
}

/// So far below and so far above nought.
fn off(sides: Sides, due: Due) -> Aim {
    let ends = quantity(&sides.below, sides.above.unit, due)
        .and_then(|below| Ok((below, quantity(&sides.above, sides.below.unit, due)?)));
    match ends {
        Ok((below, high)) => {
            let low = Quantity::new(Number::from_decimal(-below.number.decimal()), below.scale);
            Aim::of(Tolerance::Between { low, high }, Cell::Target)
        }
        Err(why) => Aim::unclear(Cell::Target, why),
    }
}

fn between(low: Figure, high: Figure, due: Due) -> Aim {
    let ends =
        quantity(&low, high.unit, due).and_then(|one| Ok((one, quantity(&high, low.unit, due)?)));
    match ends {
        // From nought or above down to below it there is one range only.
        Ok((low, high)) if !low.number.is_negative() && high.number.is_negative() => {
            ordered(high, low)
        }
        Ok((low, high)) => ordered(low, high),
        Err(why) => Aim::unclear(Cell::Target, why),
    }
}

/// A range of negative figures is often printed with the smaller figure first.
pub(in crate::authoring::table) fn ordered(low: Quantity, high: Quantity) -> Aim {
    let negative = low.number.is_negative() && high.number.is_negative();
    let (low, high) = match negative && low.base() > high.base() {
        true => (high, low),
        false => (low, high),
    };
    // No reading is exactly a figure: both ends the same tell of a reference.
    if low.base() == high.base() {
        return Aim::unclear(Cell::Target, Why::NoTarget);
    }
    Aim::of(Tolerance::Between { low, high }, Cell::Target)
}

/// So far to both sides of what should be: read as what it is off, where that is a unit for it.
fn spread(both: Figure, due: Due) -> Aim {
    match quantity(&both, None, due) {
        Ok(_) if due.hints.reaches => Aim::unclear(Cell::Target, Why::Swing),
        Ok(both) if due.hints.swings && both.unit() == Unit::Hertz => {
            Aim::unclear(Cell::Target, Why::Swing)
        }
        Ok(high)
            if matches!(
                high.unit(),
                Unit::Hertz | Unit::Decibel | Unit::PartsPerMillion
            ) =>
        {
            let low = Quantity::new(Number::from_decimal(-high.number.decimal()), high.scale);
            ordered(low, high)
        }
        Ok(_) => Aim::unclear(Cell::Target, Why::NoTarget),
        Err(why) => Aim::unclear(Cell::Target, why),
    }
}

fn around(nominal: Figure, sides: Sides, due: Due) -> Aim {
    // A bare figure takes the unit of what stands beside it, but no share of itself.
    let is_share = |unit: Spelled| matches!(unit, Spelled::Scale(scale) if matches!(scale.unit, Unit::Percent | Unit::PartsPerMillion));
    let beside = sides
        .above
        .unit
        .or(sides.below.unit)
        .filter(|unit| !is_share(*unit));
    let nominal = match quantity(&nominal, beside.filter(|_| due.scale.is_none()), due) {
        Ok(nominal) => nominal,
        Err(why) => return Aim::unclear(Cell::Target, why),
    };
    let side = |one: Figure, other: Figure| margin(&one, other.unit, &nominal, due);
    let both =
        side(sides.below, sides.above).and_then(|b| Ok((b, side(sides.above, sides.below)?)));
    match both {
        Ok((below, above)) if is_wider(&below, &nominal) && is_wider(&above, &nominal) => Aim {
            nominal: Some(nominal),
            ..Aim::unclear(Cell::Tolerance, Why::Tolerance)
        },
        Ok((below, above)) => Aim::of(
            Tolerance::Around {
                nominal,
                below,
                above,
            },
            Cell::Tolerance,
        ),
        Err(why) => Aim {
            nominal: Some(nominal),
            ..Aim::unclear(Cell::Tolerance, why)
        },
    }
}

/// Whether a frequency may be off by more than there is of it, so that the figures hardly belong
/// together.
fn is_wider(margin: &Margin, nominal: &Quantity) -> bool {
    match margin {
        Margin::Absolute(off) => {
            let (off, nought) = (off.base().abs(), nominal.base().is_zero());
            nominal.unit() == Unit::Hertz && !nought && off > nominal.base().abs()
        }
        _ => false,
    }
}

/// The tolerance to one side. A bare one counts in the target's own unit and prefix where that
/// can be meant.
fn margin(
    figure: &Figure,
    beside: Option<Spelled>,
    nominal: &Quantity,
    due: Due,
) -> Result<Margin, Why> {
    let number = read_digits(figure.number, due.sign)?;
    let unit = nominal.unit();
    let difference = unit.of_difference();
    let Some(spelled) = figure.unit.or(beside) else {
        return bare_margin(number, nominal, due);
    };
    let scale = scale_of(spelled, Some(nominal.scale)).ok_or(Why::Tolerance)?;
    Ok(match scale.unit {
        Unit::Percent if unit != Unit::Percent => Margin::Percent(number),
        Unit::PartsPerMillion if unit != Unit::PartsPerMillion => Margin::Ppm(number),
        // Levels differ by decibels, whatever is printed behind them.
        of if of == unit && difference == Unit::Decibel => {
            Margin::Absolute(Quantity::new(number, Scale::plain(difference)))
        }
        _ => Margin::Absolute(Quantity::new(number, scale)),
    })
}

fn bare_margin(number: Number, nominal: &Quantity, due: Due) -> Result<Margin, Why> {
    let difference = nominal.unit().of_difference();
    if difference.prefixes().len() == 1 {
        return Ok(Margin::Absolute(Quantity::new(
            number,
            Scale::plain(difference),
        )));
    }
    let text = number.typeset(due.sign);
    let margin = Quantity::new(number, nominal.scale);
    // Common practice, no source: no bench states a frequency to less than one in a hundred.
    let (share, times) = match nominal.unit() {
        Unit::Hertz if !due.hints.swings => ("a hundredth", 100),
        _ => ("half", 2),
    };
    let least = margin.base().abs() * BigDecimal::from(times);
    match nominal.base().is_zero() || least <= nominal.base().abs() {
        true => Ok(Margin::Absolute(margin)),
        false => Err(Why::BareTolerance(format!(
            "{text} without a unit would be {}, more than {share} of the target: write the unit, such as {text} {}",
            margin.typeset(due.sign),
            Scale::plain(nominal.unit()).symbol(),
        ))),
    }
}
