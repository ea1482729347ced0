//! What a limit of a table is made of.

use crate::authoring::table::hints::Hints;
use crate::authoring::table::lex::Figure;
use crate::authoring::table::why::Why;
use crate::metrology::Tolerance;
use crate::quantity::{DecimalSign, Quantity, Scale, Unit};

/// What a step aims at, as far as it was understood.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(in crate::authoring::table) struct Aim {
    /// A largest or smallest reading.
    pub extreme: Option<Extreme>,
    /// Where the reading must lie.
    pub tolerance: Option<Tolerance>,
    /// The figure stated, where no tolerance is.
    pub nominal: Option<Quantity>,
    /// What was not understood, and in which of the two cells.
    pub unclear: Option<(Cell, Why)>,
    /// Whether the cell says more than the limits do.
    pub more: bool,
    /// Whether it has words and no figure at all.
    pub words: bool,
    /// Whether nothing says of which kind its volts are, though that matters.
    pub volts_unsaid: bool,
    /// Whether it says that its figure binds nobody.
    pub usual: bool,
}

/// The cell of the target or that of its tolerance.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::authoring::table) enum Cell {
    Target,
    Tolerance,
}

/// The largest or the smallest reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::authoring::table) enum Extreme {
    Peak,
    Dip,
}

/// On which side of a bare figure the limit is that its heading states.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// It is the smallest that passes.
    Lower,
    /// It is the largest that passes.
    Upper,
    /// It is how far a reading may be off to either side.
    Both,
}

/// What is stated beside a target: the unit of bare figures, and whether they are limits.
#[derive(Clone, Copy, Debug)]
pub(in crate::authoring::table) struct Due {
    pub scale: Option<Scale>,
    pub side: Option<Side>,
    pub sign: DecimalSign,
    /// What the words around say of what is read.
    pub hints: Hints,
    /// Whether the volts in `scale` are of a kind that nothing states.
    pub volts_unsaid: bool,
}

impl Due {
    pub(super) fn is_in_decibels(&self) -> bool {
        let unit = self.scale.map(|scale| scale.unit);
        unit.is_some_and(|unit| unit.of_difference() == Unit::Decibel)
    }

    /// A text that stands by itself.
    pub fn alone(scale: Option<Scale>, sign: DecimalSign) -> Due {
        Due {
            scale,
            side: None,
            sign,
            hints: Hints::default(),
            volts_unsaid: false,
        }
    }
}

/// How a limit is written, its figures still as printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Bound<'a> {
    AtLeast(Figure<'a>),
    AtMost(Figure<'a>),
    Between(Figure<'a>, Figure<'a>),
    Around(Figure<'a>, Sides<'a>),
    /// So far to both sides of nothing that is named.
    Spread(Figure<'a>),
    /// So far to both sides and no farther.
    Magnitude(Figure<'a>),
    /// So far to either side of nothing that is named.
    Off(Sides<'a>),
    /// The worst that passes.
    Better(Figure<'a>),
    /// A figure with the range that it may be in.
    Inside(Figure<'a>, Figure<'a>, Figure<'a>),
    Figure(Figure<'a>),
}

/// The tolerance to either side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Sides<'a> {
    pub(super) below: Figure<'a>,
    pub(super) above: Figure<'a>,
}

/// What one part of a cell states.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Said<'a> {
    pub(super) extreme: Option<Extreme>,
    pub(super) bound: Option<Bound<'a>>,
}

/// Decibels that nothing is likely to have to be above.
const FAR_DOWN: i32 = -20;

impl Aim {
    /// Whether its limit is on the side on which the better readings are, as the words have it: a
    /// sensitivity of so much at least, a noise of so little at least.
    pub fn is_turned_round(&self, hints: Hints) -> bool {
        let decibels = |one: &Quantity| one.unit().of_difference() == Unit::Decibel;
        match &self.tolerance {
            Some(Tolerance::AtLeast(least)) => {
                let level = decibels(least) && least.number.is_negative();
                // A level that something withstands is the better the higher it is.
                let ratio = matches!(least.unit(), Unit::Decibel | Unit::DecibelCarrier);
                let withstands = hints.rejects || hints.better == Some(Side::Lower);
                let falls = hints.falls || (withstands && ratio);
                // So many decibels are how good the signal is, and no level.
                let quality = match least.unit() {
                    Unit::Decibel | Unit::DecibelSinad => !least.number.is_negative(),
                    unit => matches!(unit, Unit::Watt | Unit::Percent),
                };
                // What is so far below the carrier must hardly be above that.
                let below = match least.unit() {
                    Unit::DecibelCarrier => level,
                    Unit::Decibel => least.base() <= FAR_DOWN,
                    _ => false,
                };
                (hints.less_is_better && !quality) || (falls && level) || below
            }
            Some(Tolerance::AtMost(most)) => {
                let counted = matches!(most.unit(), Unit::Decibel | Unit::DecibelCarrier);
                let negative = most.number.is_negative();
                counted && ((hints.rejects && !negative) || (hints.loses && negative))
            }
            _ => false,
        }
    }

    /// The unit and prefix in which the reading is taken.
    pub fn scale(&self) -> Option<Scale> {
        let figure = match &self.tolerance {
            None => self.nominal.as_ref(),
            Some(Tolerance::Around { nominal, .. }) => Some(nominal),
            Some(Tolerance::AtLeast(one) | Tolerance::AtMost(one)) => Some(one),
            Some(Tolerance::Between { high, .. }) => Some(high),
        };
        figure.map(|quantity| quantity.scale)
    }

    pub(super) fn unclear(cell: Cell, why: Why) -> Aim {
        Aim {
            unclear: Some((cell, why)),
            ..Aim::default()
        }
    }

    pub(super) fn of(tolerance: Tolerance, cell: Cell) -> Aim {
        match tolerance.fault(tolerance.unit()) {
            None => Aim {
                tolerance: Some(tolerance),
                ..Aim::default()
            },
            Some(fault) => Aim::unclear(cell, Why::Limits(fault)),
        }
    }
}
