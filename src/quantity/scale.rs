//! A unit with its prefix.

use crate::quantity::number::NumberError;
use crate::quantity::prefix::Prefix;
use crate::quantity::text::excerpt;
use crate::quantity::unit::Unit;
use bigdecimal::BigDecimal;
use num_traits::Zero;
use std::fmt;
use std::str::FromStr;

impl Unit {
    /// The scales in which a bench mostly reads this unit, the one without prefix first.
    pub fn usual_scales(self) -> Vec<Scale> {
        let plain = Scale::plain(self);
        let near = Scale::new(self.usual_prefix(), self).near();
        let others = near.into_iter().filter(|scale| *scale != plain);
        std::iter::once(plain).chain(others).collect()
    }
}

/// The unit and prefix in which a reading is taken and shown, such as MHz or mA.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Scale {
    /// The SI prefix in front of the unit.
    pub prefix: Prefix,
    /// The unit itself.
    pub unit: Unit,
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
