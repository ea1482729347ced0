//! The colour code of resistors.

use crate::quantity::Fault;
use crate::quantity::fault::positive;

/// The colour of a band.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Colour {
    /// 0
    Black,
    /// 1
    Brown,
    /// 2
    Red,
    /// 3
    Orange,
    /// 4
    Yellow,
    /// 5
    Green,
    /// 6
    Blue,
    /// 7
    Violet,
    /// 8
    Grey,
    /// 9
    White,
    /// Multiplier 0.1, tolerance 5 %
    Gold,
    /// Multiplier 0.01, tolerance 10 %
    Silver,
}

use Colour::*;

impl Colour {
    /// Every colour, digits first.
    pub const ALL: [Colour; 12] = [
        Black, Brown, Red, Orange, Yellow, Green, Blue, Violet, Grey, White, Gold, Silver,
    ];

    /// The name in lower case.
    pub const fn name(self) -> &'static str {
        match self {
            Black => "black",
            Brown => "brown",
            Red => "red",
            Orange => "orange",
            Yellow => "yellow",
            Green => "green",
            Blue => "blue",
            Violet => "violet",
            Grey => "grey",
            White => "white",
            Gold => "gold",
            Silver => "silver",
        }
    }

    /// The digit, where the colour has one.
    pub fn digit(self) -> Option<u32> {
        Colour::ALL
            .iter()
            .position(|&colour| colour == self)
            .filter(|&index| index < 10)
            .map(|index| index as u32)
    }

    /// The power of ten as a multiplier.
    pub fn exponent(self) -> i32 {
        match self {
            Gold => -1,
            Silver => -2,
            colour => colour.digit().unwrap_or(0) as i32,
        }
    }

    /// The tolerance in %, where the colour has one.
    pub const fn tolerance(self) -> Option<f64> {
        match self {
            Brown => Some(1.0),
            Red => Some(2.0),
            Orange => Some(0.05),
            Yellow => Some(0.02),
            Green => Some(0.5),
            Blue => Some(0.25),
            Violet => Some(0.1),
            Grey => Some(0.01),
            Gold => Some(5.0),
            Silver => Some(10.0),
            Black | White => None,
        }
    }

    /// The colour of a digit from 0 to 9.
    fn of_digit(digit: u32) -> Option<Colour> {
        Colour::ALL[..10].get(digit as usize).copied()
    }

    /// The colour of a multiplier.
    fn of_exponent(exponent: i32) -> Option<Colour> {
        Colour::ALL
            .iter()
            .copied()
            .find(|c| c.exponent() == exponent)
    }
}

/// What the bands say.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Marked {
    /// Resistance in Ω.
    pub ohms: f64,
    /// Tolerance in %.
    pub tolerance: f64,
}

/// Reads the bands of a resistor: two or three digits, then the multiplier and the tolerance.
///
/// Source (from memory): IEC 60062, colour code for resistors.
pub fn read_bands(
    digits: &[Colour],
    multiplier: Colour,
    tolerance: Colour,
) -> Result<Marked, Fault> {
    let figures = digits.iter().try_fold(0, |figures, &colour| {
        let digit = colour.digit().ok_or_else(|| unknown("digit", colour))?;
        Ok(figures * 10 + digit)
    })?;
    let tolerance = tolerance
        .tolerance()
        .ok_or_else(|| unknown("tolerance", tolerance))?;
    let text = format!("{figures}e{}", multiplier.exponent());
    Ok(Marked {
        ohms: text
            .parse()
            .map_err(|_| unknown("multiplier", multiplier))?,
        tolerance,
    })
}

/// The bands of a resistance in Ω above zero, rounded to `figures` digits, multiplier last.
///
/// Source (from memory): IEC 60062, colour code for resistors.
pub fn bands_of(ohms: f64, figures: usize) -> Result<Vec<Colour>, Fault> {
    let ohms = positive("The resistance", ohms)?;
    let text = format!("{ohms:.*e}", figures.max(1) - 1);
    let (digits, exponent) = text.split_once('e').unwrap_or((&text, "0"));
    let exponent = exponent.parse().unwrap_or(0) - (figures.max(1) as i32 - 1);
    let out_of_code = || Fault::Unknown {
        what: "multiplier band",
        name: format!("10^{exponent}"),
    };
    digits
        .chars()
        .filter_map(|c| c.to_digit(10))
        .map(Colour::of_digit)
        .chain([Colour::of_exponent(exponent)])
        .collect::<Option<Vec<_>>>()
        .ok_or_else(out_of_code)
}

fn unknown(what: &'static str, colour: Colour) -> Fault {
    Fault::Unknown {
        what,
        name: colour.name().to_owned(),
    }
}
