//! A printed figure with its unit as one that readings have.

use crate::authoring::table::aim::Due;
use crate::authoring::table::lex::{Figure, Spelled, infix};
use crate::authoring::table::why::Why;
use crate::quantity::{DecimalSign, Family, Number, Prefix, Quantity, Scale, Unit, read_number};

/// A figure with its unit: its own, else that of the figure beside it, else the one due.
pub(super) fn quantity(
    figure: &Figure,
    beside: Option<Spelled>,
    due: Due,
) -> Result<Quantity, Why> {
    let number = read_digits(figure.number, due.sign)?;
    let scale = figure
        .unit
        .or(beside)
        .map_or(due.scale, |unit| scale_in(unit, due));
    match scale {
        Some(scale) => Ok(Quantity::new(number, scale)),
        None if figure.unit.is_some() => Err(Why::NoTarget),
        None => Err(Why::NoUnit(figure.number.to_owned())),
    }
}

pub(super) fn read_digits(text: &str, sign: DecimalSign) -> Result<Number, Why> {
    let mut text = text.replace(' ', "");
    if let Some(prefix) = infix(&text) {
        text = text.replace(prefix, ".");
        return read_number(&text, DecimalSign::Point)
            .map_err(|error| Why::Figure(error.to_string()));
    }
    if let Some((over, below)) = text.split_once('/') {
        let parts = over.parse::<u32>().ok().zip(below.parse::<u32>().ok());
        let (over, below) = parts.ok_or(Why::NoTarget)?;
        let sixteenths = 10_000 * over * (16 / below) / 16;
        let fraction = format!("{sixteenths:04}");
        let text = format!("0.{}", fraction.trim_end_matches('0'));
        return read_number(&text, DecimalSign::Point)
            .map_err(|error| Why::Figure(error.to_string()));
    }
    if sign == DecimalSign::Point && is_grouped_by_commas(&text) {
        text = text.replace(',', "");
    }
    read_number(&text, sign).map_err(|error| Why::Figure(error.to_string()))
}

/// Whether commas stand between groups of three, as in `60,000`.
fn is_grouped_by_commas(text: &str) -> bool {
    let unsigned = text.trim_start_matches(['+', '-']);
    let (whole, fraction) = unsigned.split_once('.').unwrap_or((unsigned, ""));
    let mut groups = whole.split(',');
    let first = groups.next().unwrap_or("");
    let is_whole = (1..=3).contains(&first.len()) && first != "0";
    // A comma behind a point is no grouping, whatever else it is.
    is_whole && groups.all(|group| group.len() == 3) && !fraction.contains(',')
}

/// A printed unit as one that readings have, where the words around may tell of volts and of what
/// a lone prefix belongs to. Nobody means kilovolts by a lone k.
fn scale_in(unit: Spelled, due: Due) -> Option<Scale> {
    let volts = due
        .scale
        .filter(|scale| scale.unit.family() == Family::Voltage);
    match unit {
        Spelled::Volts(prefix) if volts.is_none_or(|scale| scale.unit == Unit::VoltDc) => {
            match due.hints.volts {
                Some(kind) => Some(Scale::new(prefix, kind)),
                None if prefix == Prefix::Micro || due.hints.alternates => {
                    Some(Scale::new(prefix, Unit::VoltRms))
                }
                None => scale_of(unit, due.scale),
            }
        }
        Spelled::Prefix(prefix) => {
            let due_unit = due
                .scale
                .filter(|_| volts.is_none())
                .map(|scale| scale.unit);
            let unit = due.hints.unit.or(due_unit)?;
            let scale = Scale::new(prefix, unit);
            unit.prefixes().contains(&prefix).then_some(scale)
        }
        unit => scale_of(unit, due.scale),
    }
}

/// A printed unit as one that readings have. Volts are of the kind that is due; where none is,
/// microvolts are no direct voltage.
pub(in crate::authoring::table) fn scale_of(unit: Spelled, due: Option<Scale>) -> Option<Scale> {
    let due_unit = due.map(|scale| scale.unit);
    let scale = match unit {
        Spelled::Scale(scale) => match due_unit {
            Some(unit) if unit.is_kind_of() == Some(scale.unit) => Scale::new(scale.prefix, unit),
            _ => scale,
        },
        Spelled::Prefix(prefix) => Scale::new(prefix, due_unit?),
        Spelled::Volts(prefix) => match due_unit.filter(|unit| unit.family() == Family::Voltage) {
            Some(unit) => Scale::new(prefix, unit),
            None if prefix == Prefix::Micro => Scale::new(prefix, Unit::VoltRms),
            None => Scale::new(prefix, Unit::VoltDc),
        },
    };
    scale
        .unit
        .prefixes()
        .contains(&scale.prefix)
        .then_some(scale)
}
