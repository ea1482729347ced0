//! A number with its unit, as read off an instrument: exact, with the resolution it was typed with.

pub mod decibel;
pub mod fault;
pub mod formula;
mod number;
mod phrase;
mod prefix;
mod reader;
pub mod sum;
mod unit;
mod whole;
mod with_unit;

pub use fault::Fault;
pub use number::{MAX_DIGITS, Number, NumberError, to_f64};
pub use phrase::{Phrase, ended};
pub use prefix::Prefix;
pub use reader::{DecimalSign, ReadError, read, read_in_any, read_number};
pub use unit::{Family, Unit};
pub use whole::whole_figures;
pub use with_unit::read_with_unit;

use bigdecimal::BigDecimal;
use num_traits::Zero;
use serde::de::{self, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;
use std::marker::PhantomData;
use std::str::FromStr;

/// The unit and prefix in which a reading is taken and shown, such as MHz or mA.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Scale {
    /// The SI prefix in front of the unit.
    pub prefix: Prefix,
    /// The unit itself.
    pub unit: Unit,
}

/// A measured or stated value: the number as typed, and the scale it was typed in.
///
/// Two quantities are equal only when they promise the same: `10.6920 MHz` differs from
/// `10.692 MHz` and from `10692 kHz`. Compare [`Quantity::base`] to compare sizes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Quantity {
    /// The number as typed, trailing zeros included.
    pub number: Number,
    /// What the number counts.
    pub scale: Scale,
}

impl Scale {
    /// Whether a size given in the unit without prefix is said in this without a long row of
    /// zeros or of figures.
    pub fn suits(&self, base: &BigDecimal) -> bool {
        let figure = self.prefix.remove(base).abs();
        let (least, beyond) = (BigDecimal::new(1.into(), 2), BigDecimal::from(10_000));
        figure.is_zero() || (figure >= least && figure < beyond)
    }

    /// The scale with this prefix and unit.
    pub const fn new(prefix: Prefix, unit: Unit) -> Self {
        Scale { prefix, unit }
    }

    /// The unit without a prefix.
    pub const fn plain(unit: Unit) -> Self {
        Scale::new(Prefix::None, unit)
    }

    /// This scale between the next smaller and the next larger one in use with its unit.
    pub fn near(self) -> Vec<Scale> {
        let prefixes = self.unit.prefixes();
        let here = prefixes.iter().position(|prefix| *prefix == self.prefix);
        let here = here.unwrap_or_default();
        let near = here.saturating_sub(1)..(here + 2).min(prefixes.len());
        let scale = |prefix: &Prefix| Scale::new(*prefix, self.unit);
        prefixes[near].iter().map(scale).collect()
    }

    /// The symbol as printed, such as `kHz`, `mV p-p` or `dBm`.
    pub fn symbol(self) -> String {
        format!("{}{}", self.prefix.symbol(), self.unit.symbol())
    }

    /// Whether this is its symbol.
    fn has_symbol(self, text: &str) -> bool {
        text.strip_suffix(self.unit.symbol()) == Some(self.prefix.symbol())
    }

    /// The unit's name as a screen reader should say it, such as `megahertz`.
    pub fn spoken(self) -> String {
        format!("{}{}", self.prefix.name(), self.unit.name())
    }
}

impl Quantity {
    /// A quantity from its two parts.
    pub fn new(number: Number, scale: Scale) -> Self {
        Quantity { number, scale }
    }

    /// The exact size in the unit without prefix, such as Hz for `9.0015 MHz`.
    pub fn base(&self) -> BigDecimal {
        self.scale.prefix.apply(self.number.decimal())
    }

    /// The size in the unit without prefix, for transcendental formulas only.
    pub fn base_f64(&self) -> f64 {
        to_f64(&self.base())
    }

    /// What one count of the last digit is worth, in the unit without prefix.
    pub fn resolution(&self) -> BigDecimal {
        self.scale.prefix.apply(&self.number.last_place())
    }

    /// The unit without its prefix.
    pub fn unit(&self) -> Unit {
        self.scale.unit
    }

    /// An exact size given in the unit without prefix, shown with the prefix that keeps
    /// the figures before the point between 1 and 999 where the unit has such a prefix.
    pub fn natural(base: BigDecimal, unit: Unit) -> Self {
        let prefix = Prefix::natural(&base, unit);
        let number = Number::from_decimal(prefix.remove(&base).normalized());
        Quantity::new(number.without_exponent(), Scale::new(prefix, unit))
    }

    /// An exact size given in the unit without prefix, in the scale asked for where that suits it,
    /// else with its natural prefix.
    pub fn handy(base: BigDecimal, scale: Scale) -> Self {
        match scale.suits(&base) {
            true => Quantity::in_scale(base, scale),
            false => Quantity::natural(base, scale.unit),
        }
    }

    /// An exact size given in the unit without prefix, in the scale asked for and with the digits
    /// that it has: those of the finest figure that it was worked out from.
    pub fn worked_out(base: BigDecimal, scale: Scale) -> Self {
        let number = Number::from_decimal(scale.prefix.remove(&base));
        Quantity::new(number.without_exponent(), scale)
    }

    /// An exact size given in the unit without prefix, shown in the scale asked for.
    pub fn in_scale(base: BigDecimal, scale: Scale) -> Self {
        let number = Number::from_decimal(scale.prefix.remove(&base).normalized());
        Quantity::new(number.without_exponent(), scale)
    }

    /// The same, with as many digits as the finer of this and another quantity has.
    pub fn as_fine_as(self, other: &Quantity) -> Self {
        let finer = other.resolution() < self.resolution();
        let scale = self.scale;
        match finer {
            true => {
                let places = scale.prefix.remove(&other.resolution());
                let places = places.fractional_digit_count();
                let decimal = self.number.decimal().with_scale(places);
                Quantity::new(Number::from_decimal(decimal), scale)
            }
            false => self,
        }
    }

    /// The quantity as a page shows it: a real minus sign, the user's decimal sign and
    /// spaces that do not break before the unit and in it.
    pub fn typeset(&self, sign: DecimalSign) -> String {
        let number = self.number.typeset(sign);
        let symbol = self.scale.symbol().replace(' ', "\u{a0}");
        format!("{number}\u{a0}{symbol}")
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.number, self.scale)
    }
}

impl fmt::Display for Scale {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.prefix.symbol())?;
        f.write_str(self.unit.symbol())
    }
}

/// Why a text in a document is not a quantity.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FormatError {
    /// No space between number and unit, or a number alone.
    NoUnit(String),
    /// The number part cannot be read.
    Number(NumberError),
    /// The unit part is not one that we know.
    Unit(String),
}

impl fmt::Display for FormatError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            FormatError::NoUnit(text) => write!(
                f,
                "“{text}” is not a quantity: write a number, a space and a unit, as in “9.0015 MHz”"
            ),
            FormatError::Number(error) => error.fmt(f),
            FormatError::Unit(text) => write!(f, "“{text}” is not a unit that is known here"),
        }
    }
}

impl std::error::Error for FormatError {}

impl FromStr for Scale {
    type Err = FormatError;

    fn from_str(text: &str) -> Result<Self, FormatError> {
        Unit::ALL
            .iter()
            .flat_map(|&unit| unit.prefixes().iter().map(move |&p| Scale::new(p, unit)))
            .find(|scale| scale.has_symbol(text))
            .ok_or_else(|| FormatError::Unit(excerpt(text)))
    }
}

impl FromStr for Quantity {
    type Err = FormatError;

    /// Reads the form that documents use: what [`Quantity`] displays, and nothing else.
    fn from_str(text: &str) -> Result<Self, FormatError> {
        let (number, unit) = text
            .split_once(' ')
            .ok_or_else(|| FormatError::NoUnit(excerpt(text)))?;
        let number = number.parse().map_err(FormatError::Number)?;
        Ok(Quantity::new(number, unit.parse()?))
    }
}

/// The beginning of a text that is quoted in an error, so that a hostile one stays short.
pub(crate) fn excerpt(text: &str) -> String {
    const MOST: usize = 24;
    if text.chars().count() <= MOST {
        return text.to_owned();
    }
    text.chars().take(MOST).chain(['…']).collect()
}

/// Reads what stands in a document as a text, without a copy of the text.
pub(crate) fn from_text<'de, D, T>(deserializer: D) -> Result<T, D::Error>
where
    D: Deserializer<'de>,
    T: FromStr<Err: fmt::Display>,
{
    struct Text<T>(PhantomData<T>);
    impl<T: FromStr<Err: fmt::Display>> Visitor<'_> for Text<T> {
        type Value = T;

        fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
            f.write_str("a string")
        }

        fn visit_str<E: de::Error>(self, text: &str) -> Result<T, E> {
            text.parse().map_err(E::custom)
        }
    }
    deserializer.deserialize_str(Text(PhantomData))
}

/// Serialises as the displayed text and reads it back with `FromStr`.
macro_rules! as_text {
    ($($type:ty),*) => {$(
        impl Serialize for $type {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.collect_str(self)
            }
        }
        impl<'de> Deserialize<'de> for $type {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                from_text(deserializer)
            }
        }
    )*};
}
as_text!(Quantity, Scale, Number);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_document_keeps_a_quantity_exactly_as_it_was_typed() {
        for text in [
            "10.6920 MHz",
            "10.692 MHz",
            "16492.5 kHz",
            "-107 dBm",
            "0.0 V",
            "50 mA",
            "12.40 V p-p",
            "2.0 µV EMF",
            "100 %",
            "-40 dBc",
            "45.0 °C",
        ] {
            let quantity: Quantity = text.parse().unwrap();
            assert_eq!(quantity.to_string(), text);
        }
    }

    #[test]
    fn trailing_zeros_are_a_promise() {
        let fine: Quantity = "10.6920 MHz".parse().unwrap();
        let coarse: Quantity = "10.692 MHz".parse().unwrap();
        assert_ne!(fine, coarse);
        assert_eq!(fine.base(), coarse.base());
        assert_eq!(fine.resolution(), BigDecimal::from(100));
        assert_eq!(coarse.resolution(), BigDecimal::from(1000));
    }

    #[test]
    fn a_figure_that_was_worked_out_keeps_the_digits_of_what_it_was_worked_out_from() {
        let q = |text: &str| text.parse::<Quantity>().unwrap();
        let scale = q("1 MHz").scale;
        let worked_out =
            Quantity::worked_out(q("28.300 MHz").base() - q("9.0000 MHz").base(), scale);
        assert_eq!(worked_out.to_string(), "19.3000 MHz");
        assert_eq!(
            worked_out.clone().as_fine_as(&q("20 Hz")),
            q("19.300000 MHz")
        );
        assert_eq!(worked_out.as_fine_as(&q("2 kHz")), q("19.3000 MHz"));
    }

    #[test]
    fn no_line_ends_between_a_number_and_its_unit_or_within_that() {
        for text in ["8.0 mV p-p", "0.50 µV EMF", "9.0015 MHz"] {
            let quantity: Quantity = text.parse().unwrap();
            assert!(
                !quantity.typeset(DecimalSign::Point).contains(' '),
                "{text}"
            );
        }
    }

    #[test]
    fn a_natural_scale_is_the_one_a_person_would_say() {
        for (base, unit, said) in [
            ("1200", Unit::Hertz, "1.2 kHz"),
            ("-20", Unit::Hertz, "-20 Hz"),
            ("0.05", Unit::Ampere, "50 mA"),
            ("0", Unit::Watt, "0 W"),
            ("0.3", Unit::Decibel, "0.3 dB"),
            ("2000", Unit::Percent, "2000 %"),
            ("0.0000005", Unit::VoltEmf, "500 nV EMF"),
        ] {
            let base = base.parse().unwrap();
            assert_eq!(Quantity::natural(base, unit).to_string(), said);
        }
    }

    #[test]
    fn a_document_with_another_spelling_is_refused() {
        for text in ["9.0015MHz", "9.0015", "9,0015 MHz", "9.0015 furlong", ""] {
            assert!(text.parse::<Quantity>().is_err(), "{text}");
        }
    }
}
