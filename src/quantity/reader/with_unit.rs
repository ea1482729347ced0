//! Texts that bring their own unit, where none is foreseen.

use crate::quantity::{DecimalSign, Quantity, Scale, Unit, read, read_number};

/// A quantity that brings its own unit, whatever it is.
pub fn read_with_unit(text: &str, sign: DecimalSign) -> Option<Quantity> {
    let text = text.trim();
    if read_number(text, sign).is_ok() {
        return None;
    }
    // A lone prefix is no unit: nobody knows 50m of what.
    let ends = |unit: Unit| {
        let lower = text.to_lowercase();
        let scales = unit.prefixes().iter().map(move |&p| Scale::new(p, unit));
        scales
            .clone()
            .any(|s| lower.ends_with(&s.symbol().to_lowercase()))
    };
    let read_in = |unit: Unit| read(text, Scale::plain(unit), sign).ok();
    let all = || Unit::ALL.iter().copied();
    all()
        .filter(|&unit| ends(unit))
        .find_map(read_in)
        .or_else(|| all().find_map(read_in))
}
