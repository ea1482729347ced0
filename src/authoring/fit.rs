//! How well what is typed fits a thing to choose, so that the one that is meant comes first.

/// Where a text stands in what is known of a thing; the best fit first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fit {
    /// It is all of a name or note, capitals too.
    Exact,
    /// It is all of a name or note.
    Whole,
    /// One begins with it.
    Beginning,
    /// It stands somewhere in one.
    Within,
}

/// How well a typed text fits what is known of a thing; nothing where it doesn't. Capitals tell
/// only between those that fit alike, as `mΩ` and `MΩ` do.
pub fn fit(known: &[&str], typed: &str) -> Option<Fit> {
    let known: Vec<String> = known.iter().map(|text| as_typed(text)).collect();
    let typed = as_typed(typed.trim());
    if known.contains(&typed) {
        return Some(Fit::Exact);
    }
    let known: Vec<String> = known.iter().map(|text| text.to_lowercase()).collect();
    let typed = typed.to_lowercase();
    let any = |fits: &dyn Fn(&str) -> bool| known.iter().any(|text| fits(text));
    if any(&|text| text == typed) {
        Some(Fit::Whole)
    } else if any(&|text| text.starts_with(&typed)) {
        Some(Fit::Beginning)
    } else {
        any(&|text| text.contains(&typed)).then_some(Fit::Within)
    }
}

/// A text in signs that every keyboard has.
fn as_typed(text: &str) -> String {
    let mut typed = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            // The micro sign and the Greek letter.
            '\u{b5}' | '\u{3bc}' => typed.push('u'),
            // The Greek letter and the ohm sign.
            '\u{3a9}' | '\u{2126}' => typed.push_str("ohm"),
            '°' => typed.push_str("deg"),
            other => typed.push(other),
        }
    }
    typed
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Scale, Unit};

    /// The symbol of the scale that fits a text best.
    fn found(typed: &str) -> Option<String> {
        let scales = Unit::ALL.iter().flat_map(|&unit| {
            let prefixes = unit.prefixes().iter();
            prefixes.map(move |&prefix| Scale::new(prefix, unit))
        });
        let fits = |scale: Scale| Some((fit(&[&scale.symbol(), &scale.spoken()], typed)?, scale));
        let best = scales.filter_map(fits).min_by_key(|(fit, _)| *fit);
        best.map(|(_, scale)| scale.symbol())
    }

    #[test]
    fn the_unit_that_is_named_comes_before_its_parts() {
        for (typed, symbol) in [
            ("volts DC", "V"),
            ("Volts dc ", "V"),
            ("V", "V"),
            ("mw", "mW"),
            ("watts", "W"),
            ("hertz", "Hz"),
            ("mega", "MHz"),
            ("nanovolts", "nV"),
            ("uV", "µV"),
            ("uA", "µA"),
            ("ohm", "Ω"),
            ("Ohms", "Ω"),
            ("kohm", "kΩ"),
            ("Mohm", "MΩ"),
            ("mohm", "mΩ"),
            ("MΩ", "MΩ"),
            ("µV", "µV"),
            ("dbuv", "dBµV"),
            ("degc", "°C"),
            ("uV rms", "µV rms"),
        ] {
            assert_eq!(found(typed).as_deref(), Some(symbol), "{typed}");
        }
        assert_eq!(found("furlong"), None);
    }
}
