//! Reads what fingers type into a quantity, and says in a sentence why it can't.

mod error;
pub(super) mod with_unit;

pub use crate::quantity::reader::error::ReadError;
pub use crate::quantity::sign::DecimalSign;

use super::{Number, NumberError, Prefix, Quantity, Scale, Unit, excerpt};

/// Reads a typed reading. A bare number is taken in the scale that is due; a prefix alone
/// (`50m`) goes with the unit that is due; a unit in full must be the one that is due.
pub fn read(text: &str, due: Scale, sign: DecimalSign) -> Result<Quantity, ReadError> {
    let (digits, suffix) = split(text);
    if digits.is_empty() && suffix.is_empty() {
        return Err(ReadError::Empty);
    }
    if digits.is_empty() {
        return Err(ReadError::Number(NumberError::Unreadable(excerpt(&suffix))));
    }
    let number = read_digits(&digits, sign)?;
    let scale = read_suffix(&suffix, due)?;
    Ok(Quantity::new(number, scale))
}

/// The same where other units may be spelled out in full as well; the first of them that fits the
/// spelling is meant.
pub fn read_in_any(
    text: &str,
    due: Scale,
    others: &[Unit],
    sign: DecimalSign,
) -> Result<Quantity, ReadError> {
    let error = match read(text, due, sign) {
        Err(error @ ReadError::WrongUnit { .. }) => error,
        read => return read,
    };
    let spelled = |unit: &Unit| read(text, Scale::plain(*unit), sign).ok();
    others.iter().find_map(spelled).ok_or(error)
}

/// Reads a typed number that has no unit, such as a percentage or a count.
pub fn read_number(text: &str, sign: DecimalSign) -> Result<Number, ReadError> {
    let (digits, suffix) = split(text);
    match (digits.is_empty(), suffix.is_empty()) {
        (true, true) => Err(ReadError::Empty),
        (_, true) => read_digits(&digits, sign),
        (_, false) => Err(ReadError::UnknownUnit(excerpt(&suffix))),
    }
}

/// The part that belongs to the number and the unit behind it, with odd spaces and signs
/// brought to one form.
fn split(text: &str) -> (String, String) {
    let text: String = text
        .chars()
        .map(|c| match c {
            '\u{2212}' | '\u{2013}' => '-',
            c if c.is_whitespace() => ' ',
            c => c,
        })
        .collect();
    let text = text.trim();
    let is_numeric = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '+' | ' ');
    let end = text.find(|c| !is_numeric(c)).unwrap_or(text.len());
    (text[..end].trim().to_owned(), text[end..].trim().to_owned())
}

fn read_digits(text: &str, sign: DecimalSign) -> Result<Number, ReadError> {
    let unreadable = || ReadError::Number(NumberError::Unreadable(excerpt(text)));
    let unsigned = text.trim_start_matches('+').trim_start();
    let (minus, unsigned) = match unsigned.strip_prefix('-') {
        Some(rest) => ("-", rest.trim_start()),
        None => ("", unsigned),
    };
    if text.len() - unsigned.len() > 2 {
        return Err(unreadable());
    }
    if unsigned.contains(',') && sign == DecimalSign::Point {
        return Err(ReadError::Comma);
    }
    if unsigned.matches([',', '.']).count() > 1 {
        return Err(ReadError::TwoSigns);
    }
    let (whole, fraction) = unsigned.split_once([',', '.']).unwrap_or((unsigned, ""));
    if !is_grouped(whole, Side::Whole) || !is_grouped(fraction, Side::Fraction) {
        return Err(ReadError::Grouping(excerpt(unsigned)));
    }
    let whole = whole.replace(' ', "");
    let fraction = fraction.replace(' ', "");
    if whole.is_empty() && fraction.is_empty() {
        return Err(unreadable());
    }
    let whole = if whole.is_empty() { "0" } else { &whole };
    let plain = match fraction.is_empty() {
        true => format!("{minus}{whole}"),
        false => format!("{minus}{whole}.{fraction}"),
    };
    plain.parse().map_err(ReadError::Number)
}

enum Side {
    Whole,
    Fraction,
}

/// Whether spaces, if any, stand between groups of three digits counted from the decimal sign.
fn is_grouped(digits: &str, side: Side) -> bool {
    if !digits.contains(' ') {
        return true;
    }
    let mut groups: Vec<&str> = digits.split(' ').collect();
    if matches!(side, Side::Fraction) {
        groups.reverse();
    }
    let outer = groups[0].len();
    (1..=3).contains(&outer) && groups[1..].iter().all(|group| group.len() == 3)
}

fn read_suffix(suffix: &str, due: Scale) -> Result<Scale, ReadError> {
    if suffix.is_empty() {
        return Ok(due);
    }
    if let Some(prefix) = prefix_of(suffix) {
        if due.unit.prefixes().contains(&prefix) {
            return Ok(Scale::new(prefix, due.unit));
        }
        // A letter that is no usable prefix may still be a unit, such as `m` or `G`.
        if find_unit(suffix, due).is_none() {
            return Err(ReadError::WrongPrefix {
                typed: prefix,
                unit: due.unit,
            });
        }
    }
    let scale = find_unit(suffix, due).ok_or_else(|| ReadError::UnknownUnit(excerpt(suffix)))?;
    if scale.unit != due.unit {
        return Err(ReadError::WrongUnit {
            typed: scale.unit,
            due: due.unit,
        });
    }
    if !due.unit.prefixes().contains(&scale.prefix) {
        return Err(ReadError::WrongPrefix {
            typed: scale.prefix,
            unit: scale.unit,
        });
    }
    Ok(scale)
}

/// The unit and prefix that a suffix spells. A spelling that fits several units, such as
/// plain `V`, means the one that is due.
fn find_unit(suffix: &str, due: Scale) -> Option<Scale> {
    let candidates = std::iter::once(due.unit).chain(Unit::ALL.iter().copied());
    candidates
        .flat_map(|unit| splits(suffix).map(move |(prefix, rest)| (unit, prefix, rest)))
        .find(|(unit, _, rest)| spells(*unit, rest, due))
        .map(|(unit, prefix, _)| Scale::new(prefix, unit))
}

/// The ways to take a suffix apart: no prefix, or its first letter as one.
fn splits(suffix: &str) -> impl Iterator<Item = (Prefix, &str)> {
    let first = suffix.chars().next().map_or(0, char::len_utf8);
    let (head, rest) = suffix.split_at(first);
    let all_lower = suffix.chars().all(|c| !c.is_uppercase());
    let prefixed = prefix_of(head).map(move |prefix| {
        // Nobody means millihertz: `mhz` in one case is megahertz typed in haste.
        let hasty = all_lower && prefix == Prefix::Milli && Unit::Hertz.is_spelled(rest);
        (if hasty { Prefix::Mega } else { prefix }, rest)
    });
    std::iter::once((Prefix::None, suffix)).chain(prefixed)
}

fn spells(unit: Unit, text: &str, due: Scale) -> bool {
    let lower = text.to_lowercase().replace('\u{3bc}', "µ");
    let is_due = unit == due.unit;
    let any_volts = lower == "v" && due.unit.family() == super::Family::Voltage;
    let as_its_kind = || {
        unit.is_kind_of()
            .is_some_and(|kind| kind.is_spelled(&lower))
    };
    unit.is_spelled(&lower) || is_due && (any_volts || as_its_kind())
}

fn prefix_of(text: &str) -> Option<Prefix> {
    Some(match text {
        "p" => Prefix::Pico,
        "n" => Prefix::Nano,
        "µ" | "\u{3bc}" | "u" => Prefix::Micro,
        "m" => Prefix::Milli,
        "k" | "K" => Prefix::Kilo,
        "M" => Prefix::Mega,
        "G" => Prefix::Giga,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::super::MAX_DIGITS;
    use super::*;

    const MHZ: Scale = Scale::new(Prefix::Mega, Unit::Hertz);
    const MA: Scale = Scale::new(Prefix::Milli, Unit::Ampere);
    const DBM: Scale = Scale::plain(Unit::DecibelMilliwatt);
    const VPP: Scale = Scale::plain(Unit::VoltPeakToPeak);
    const OHM: Scale = Scale::plain(Unit::Ohm);
    const WATT: Scale = Scale::plain(Unit::Watt);
    const PEP: Scale = Scale::plain(Unit::WattPep);
    const SINAD: Scale = Scale::plain(Unit::DecibelSinad);
    const SNN: Scale = Scale::plain(Unit::DecibelSignalAndNoise);

    #[test]
    fn what_fingers_type_is_understood() {
        for (typed, due, meant) in [
            ("16.4925", MHZ, "16.4925 MHz"),
            ("16 492.5 k", MHZ, "16492.5 kHz"),
            ("16492.5kHz", MHZ, "16492.5 kHz"),
            ("16492.5 khz", MHZ, "16492.5 kHz"),
            ("16.4925mhz", MHZ, "16.4925 MHz"),
            ("16\u{202f}492\u{a0}500 Hz", MHZ, "16492500 Hz"),
            ("16.492 500", MHZ, "16.492500 MHz"),
            ("-107 dBm", DBM, "-107 dBm"),
            ("\u{2212}107", DBM, "-107 dBm"),
            ("- 107", DBM, "-107 dBm"),
            ("50m", MA, "50 mA"),
            ("50", MA, "50 mA"),
            ("0.05 A", MA, "0.05 A"),
            ("50 µA", MA, "50 µA"),
            ("50 uA", MA, "50 µA"),
            ("12.4 V", VPP, "12.4 V p-p"),
            ("12.40Vpp", VPP, "12.40 V p-p"),
            ("800 mV p-p", VPP, "800 mV p-p"),
            (".5", VPP, "0.5 V p-p"),
            ("+5", VPP, "5 V p-p"),
            ("4.7k", OHM, "4.7 kΩ"),
            ("4.7 kohm", OHM, "4.7 kΩ"),
            ("1 MΩ", OHM, "1 MΩ"),
            ("12", PEP, "12 W PEP"),
            ("12 W", PEP, "12 W PEP"),
            ("12.0 W PEP", PEP, "12.0 W PEP"),
            ("12 Wpep", PEP, "12 W PEP"),
            ("800 mw pep", PEP, "800 mW PEP"),
            ("800m", PEP, "800 mW PEP"),
            ("12.1 dB", SINAD, "12.1 dB SINAD"),
            ("12.1 db sinad", SINAD, "12.1 dB SINAD"),
            ("10 dB S+N/N", SNN, "10 dB (S+N)/N"),
        ] {
            let quantity = read(typed, due, DecimalSign::Point);
            assert_eq!(
                quantity.map(|q| q.to_string()),
                Ok(meant.to_owned()),
                "{typed}"
            );
        }
    }

    #[test]
    fn a_comma_is_a_decimal_sign_only_where_the_setting_says_so() {
        let with = |sign| read("16,4925", MHZ, sign).map(|q| q.to_string());
        assert_eq!(with(DecimalSign::Comma), Ok("16.4925 MHz".to_owned()));
        assert_eq!(with(DecimalSign::Point), Err(ReadError::Comma));
        let point = read("16.4925", MHZ, DecimalSign::Comma).unwrap();
        assert_eq!(point.to_string(), "16.4925 MHz");
        assert_eq!(
            read("16.492,5", MHZ, DecimalSign::Comma),
            Err(ReadError::TwoSigns)
        );
    }

    #[test]
    fn the_rest_is_refused_with_a_sentence_that_names_what_is_wrong() {
        let forty = "1".repeat(40);
        for (typed, due, part) in [
            ("", MHZ, "No number yet"),
            ("   ", MHZ, "No number yet"),
            ("abc", MHZ, "“abc” is not a number"),
            ("kHz", MHZ, "not a number"),
            ("1.2.3", MHZ, "more than one decimal sign"),
            ("1 6492", MHZ, "group the digits by three"),
            ("--5", DBM, "not a number"),
            ("5-", DBM, "not a number"),
            ("1e6", MHZ, "“e6” is not a unit"),
            ("12 V", MHZ, "in V, but the step wants Hz"),
            ("12 V rms", VPP, "in V rms, but the step wants V p-p"),
            ("3 dB", DBM, "in dB, but the step wants dBm"),
            ("12 W PEP", WATT, "in W PEP, but the step wants W"),
            (
                "12 dB SINAD",
                SNN,
                "in dB SINAD, but the step wants dB (S+N)/N",
            ),
            ("16.4925 m", MHZ, "“m” means milli"),
            ("16.4925 mHz", MHZ, "millihertz is not used here"),
            ("5 kdBm", DBM, "kilodBm is not used here"),
            ("16.4925 furlongs", MHZ, "“furlongs” is not a unit"),
            (&forty, MHZ, "has 40 digits"),
            ("<script>", MHZ, "not a number"),
        ] {
            let sentence = read(typed, due, DecimalSign::Point)
                .unwrap_err()
                .to_string();
            assert!(sentence.contains(part), "{typed}: {sentence}");
        }
    }

    #[test]
    fn every_scale_is_read_back_from_its_own_symbol() {
        for &unit in Unit::ALL {
            for &prefix in unit.prefixes() {
                let scale = Scale::new(prefix, unit);
                let typed = format!("7 {}", scale.symbol());
                let quantity = read(&typed, Scale::plain(unit), DecimalSign::Point);
                assert_eq!(quantity.map(|q| q.scale), Ok(scale), "{typed}");
            }
        }
    }

    #[test]
    fn a_long_number_is_accepted_up_to_the_limit() {
        let typed = "1".repeat(MAX_DIGITS);
        assert!(read(&typed, MHZ, DecimalSign::Point).is_ok());
    }
}
