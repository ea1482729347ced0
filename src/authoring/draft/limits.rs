//! Tolerances and margins as they are typed, and read.

use super::typing::typed;
use crate::metrology::{Margin, Tolerance};
use crate::quantity::{DecimalSign, Quantity, Scale, Unit, read, read_number};

/// A tolerance as one text.
pub fn typed_tolerance(tolerance: &Tolerance, sign: DecimalSign) -> String {
    let q = |quantity: &Quantity| typed(quantity, sign);
    match tolerance {
        Tolerance::Around {
            nominal,
            below,
            above,
        } => {
            let margin = |margin| typed_margin(margin, nominal.unit(), sign);
            match below == above {
                true => format!("{} ± {}", q(nominal), margin(above)),
                false => format!("{} + {} - {}", q(nominal), margin(above), margin(below)),
            }
        }
        Tolerance::AtLeast(low) => format!("at least {}", q(low)),
        Tolerance::AtMost(high) => format!("at most {}", q(high)),
        Tolerance::Between { low, high } => format!("{} to {}", q(low), q(high)),
    }
}

/// What a share of the target is called where the reading itself is in such shares.
const OF_IT: &str = " of it";

pub(super) fn typed_margin(margin: &Margin, unit: Unit, sign: DecimalSign) -> String {
    let share = |number, symbol: &str, of: Unit| {
        let of_it = if unit == of { OF_IT } else { "" };
        format!("{} {symbol}{of_it}", typed(number, sign))
    };
    match margin {
        Margin::Absolute(quantity) => typed(quantity, sign),
        Margin::Percent(number) => share(number, "%", Unit::Percent),
        Margin::Ppm(number) => share(number, "ppm", Unit::PartsPerMillion),
    }
}

pub(super) fn spells_unit(text: &str) -> bool {
    text.chars().any(char::is_alphabetic)
}

/// An amount in the unit of a difference. A bare number is refused where the unit has several
/// scales: 20 beside a target in MHz is hardly meant as 20 MHz.
pub(super) fn difference(
    text: &str,
    scale: Scale,
    sign: DecimalSign,
    what: &str,
) -> Result<Quantity, String> {
    let unit = scale.unit.of_difference();
    let bare = read_number(text, sign).is_ok();
    if bare && unit.prefixes().len() > 1 {
        return Err(format!(
            "its {what} has no unit: type it with one, such as {text} {}",
            Scale::plain(unit).symbol(),
        ));
    }
    read(text, Scale::plain(unit), sign).map_err(|error| format!("its {what}: {error}"))
}

/// A tolerance to one side: an amount, percent or parts per million; of a power, a voltage or a
/// current decibels as well.
pub fn read_margin(text: &str, scale: Scale, sign: DecimalSign) -> Result<Margin, String> {
    let text = text.trim().trim_start_matches('±').trim();
    let (share, of_it) = match text.strip_suffix(OF_IT) {
        Some(rest) => (rest, true),
        None => (text, false),
    };
    let number =
        |digits: &str| read_number(digits, sign).map_err(|error| format!("its tolerance: {error}"));
    if let Some(digits) = share.strip_suffix('%')
        && (of_it || scale.unit != Unit::Percent)
    {
        return number(digits).map(Margin::Percent);
    }
    if let Some(digits) = share.strip_suffix("ppm")
        && (of_it || scale.unit != Unit::PartsPerMillion)
    {
        return number(digits).map(Margin::Ppm);
    }
    if text.is_empty() {
        return Err("its tolerance is missing: type one, such as 20 Hz, 5 % or 10 ppm".to_owned());
    }
    let decibels = read(text, Scale::plain(Unit::Decibel), sign).ok();
    let decibels = decibels.filter(|_| spells_unit(text) && scale.unit.decibels_of_ten().is_some());
    match decibels {
        Some(decibels) => Ok(Margin::Absolute(decibels)),
        None => difference(text, scale, sign, "tolerance").map(Margin::Absolute),
    }
}

/// A tolerance written as one text: `7.5 V ± 0.2 V`, `at least 4 W`, `3 V to 5 V`.
pub fn read_tolerance(text: &str, scale: Scale, sign: DecimalSign) -> Result<Tolerance, String> {
    let text = text.trim();
    let figure = |text: &str| read(text, scale, sign).map_err(|error| error.to_string());
    let margin = |text: &str, nominal: &Quantity| read_margin(text, nominal.scale, sign);
    if let Some(low) = text.strip_prefix("at least ") {
        return figure(low).map(Tolerance::AtLeast);
    }
    if let Some(high) = text.strip_prefix("at most ") {
        return figure(high).map(Tolerance::AtMost);
    }
    if let Some((nominal, both)) = text.split_once('±') {
        let nominal = figure(nominal)?;
        let both = margin(both, &nominal)?;
        return Ok(Tolerance::plus_minus(nominal, both));
    }
    if let Some((nominal, rest)) = text.split_once(" + ")
        && let Some((above, below)) = rest.split_once(" - ")
    {
        let nominal = figure(nominal)?;
        return Ok(Tolerance::Around {
            below: margin(below, &nominal)?,
            above: margin(above, &nominal)?,
            nominal,
        });
    }
    if let Some((low, high)) = text.split_once(" to ") {
        return Ok(Tolerance::Between {
            low: figure(low)?,
            high: figure(high)?,
        });
    }
    Err(format!(
        "“{text}” is no target: write it like “7.5 V ± 0.2 V”, “at least 4 W” or “3 V to 5 V”"
    ))
}
