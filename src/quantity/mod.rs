//! A number with its unit, as read off an instrument: exact, with the resolution it was typed with.

mod text;
mod value;

pub use self::scale::{FormatError, Scale};
pub(crate) use self::text::excerpt;
pub use self::value::Quantity;

pub mod decibel;
pub mod fault;
pub mod formula;
mod number;
mod phrase;
mod prefix;
mod reader;
mod scale;
mod sign;
pub mod sum;
mod unit;
mod whole;

pub use crate::quantity::reader::with_unit::read_with_unit;
pub use fault::Fault;
pub use number::{MAX_DIGITS, Number, NumberError, to_f64};
pub use phrase::{Phrase, ended};
pub use prefix::Prefix;
pub use reader::{DecimalSign, ReadError, read, read_in_any, read_number};
pub use unit::{Family, Unit};
pub use whole::whole_figures;

use serde::de::{self, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;
use std::marker::PhantomData;
use std::str::FromStr;

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
    use bigdecimal::BigDecimal;

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
