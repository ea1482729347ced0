//! What a step says of its generator.

use super::{SetUp, Setting};
use crate::quantity::{DecimalSign, Quantity, Unit, read_with_unit};

/// A quantity as procedures write it, whatever their decimal sign.
fn quantity(text: &str) -> Option<Quantity> {
    read_with_unit(text, DecimalSign::Point).or_else(|| read_with_unit(text, DecimalSign::Comma))
}

/// Whether a unit is one of a generator's level.
pub const fn is_level(unit: Unit) -> bool {
    matches!(unit, Unit::DecibelMilliwatt | Unit::VoltEmf | Unit::VoltPd)
}

/// Words before a figure that leave it what it is.
const BEFORE: [&str; 3] = ["about", "at", "≈"];

/// The quantity that a text begins with.
fn leading(text: &str) -> Option<Quantity> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let words = match words.split_first() {
        Some((first, rest)) if BEFORE.contains(first) => rest,
        _ => &words[..],
    };
    let longest_first = (1..=words.len().min(3)).rev();
    let mut beginnings = longest_first.map(|count| words[..count].join(" "));
    beginnings.find_map(|text| quantity(text.trim_end_matches([',', ';'])))
}

impl SetUp {
    /// A setting, where it is a quantity.
    pub fn quantity(&self, of: Setting) -> Option<Quantity> {
        quantity(self.settings.get(&of)?)
    }

    /// The levels that are written for the generator, one or more after the other.
    pub fn generator_levels(&self) -> Vec<Quantity> {
        let text = self.settings.get(&Setting::GeneratorLevel);
        let parts = text.into_iter().flat_map(|text| text.split(','));
        // A word may stand before the next one.
        let figure =
            |part: &'_ str| part.find(|it: char| it.is_ascii_digit() || "+-−".contains(it));
        let levels = parts.filter_map(|part| quantity(part.get(figure(part)?..)?));
        levels.filter(|level| is_level(level.unit())).collect()
    }

    /// Whether it is said at what the generator stands. Then the step asks for something else than
    /// that, whatever its unit; “up from −130 dBm” and “down to 12 dB SINAD” leave it open.
    pub fn states_generator_level(&self) -> bool {
        let text = self.settings.get(&Setting::GeneratorLevel);
        text.is_some_and(|text| leading(text).is_some())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn set_to(level: &str) -> SetUp {
        SetUp {
            settings: [(Setting::GeneratorLevel, level.to_owned())].into(),
            ..SetUp::default()
        }
    }

    #[test]
    fn a_level_that_stands_is_told_from_one_that_is_looked_for() {
        for (level, stands) in [
            ("-47 dBm", true),
            ("−73 dBm", true),
            ("1 µV EMF", true),
            ("0,5 µV EMF", true),
            ("about -50 dBm", true),
            ("50 mV EMF, then 5 µV EMF", true),
            ("-113 dBm at the socket, 0 dBµV EMF", true),
            ("3 dB above the level for 12 dB SINAD", true),
            ("30 dB below the set's, at the demodulator", true),
            ("up from -130 dBm", false),
            ("down to 12 dB SINAD", false),
            ("up until it opens", false),
            ("2 generators, each up to 12 dB SINAD", false),
            ("1st: up, 2nd: down", false),
            ("", false),
        ] {
            assert_eq!(set_to(level).states_generator_level(), stands, "{level}");
        }
        assert!(!SetUp::default().states_generator_level());
    }

    #[test]
    fn levels_one_after_the_other_are_all_read() {
        let read = |level: &str| -> Vec<String> {
            let levels = set_to(level).generator_levels().into_iter();
            levels.map(|level| level.to_string()).collect()
        };
        assert_eq!(read("-47 dBm, then -93 dBm"), ["-47 dBm", "-93 dBm"]);
        assert_eq!(read("1 µV EMF"), ["1 µV EMF"]);
        assert_eq!(read("3 dB above 12 dB SINAD"), [""; 0]);
    }
}
