//! Why something of a table isn't understood.

use crate::metrology::ToleranceFault;
use crate::procedure::IdError;
use std::fmt;

/// Why a cell isn't understood, or what a row doesn't say.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Why {
    /// Nobody has said yet what the column is.
    Column,
    /// It is no target that is known.
    NoTarget,
    /// A figure that nothing gives a unit.
    NoUnit(String),
    /// Nothing says in which unit it is read.
    NoUnitAtAll,
    /// A unit that isn't known.
    UnknownUnit,
    /// Volts that are no direct voltage, and nothing says of which kind.
    WhichVolts,
    /// The worst that passes, and nothing says on which side of it is better.
    Better,
    /// So far to both sides: how far something swings, or how far it may be off.
    Swing,
    /// A figure that can't be read; why.
    Figure(String),
    /// A tolerance that isn't understood.
    Tolerance,
    /// A figure that something is set to, without a tolerance.
    NoTolerance,
    /// A bare tolerance that can hardly be meant.
    BareTolerance(String),
    /// A tolerance with nothing that it belongs to.
    NoNominal,
    /// Target and tolerance each state limits.
    TwoLimits,
    /// The limits don't go together.
    Limits(ToleranceFault),
    /// The nominal figure is outside its limits, which may be counted from it.
    NominalOutside,
    /// The least of something that is better the smaller it is.
    TurnedRound,
    /// A limit of what is set around the set, which hardly is read.
    SetUp,
    /// Something is turned and nothing says to what.
    NothingToSet,
    /// A peak or a dip of nothing that is turned.
    NoAdjuster,
    /// Several adjusters for one target.
    OneAdjuster(String),
    /// A reading is to be taken and nothing says what it must be.
    NoReading,
    /// Nothing says what is to be done.
    NothingToDo,
    /// A second adjustment or reading in the words of one row.
    TwoSteps,
    /// The title names another quantity than its unit is one of.
    OtherQuantity,
    /// Neither receiving nor transmitting.
    Signal,
    /// No kind of step that is known.
    Kind,
    /// A name that can't be one.
    Name(IdError),
    /// The same as above, with nothing above.
    NothingAbove,
    /// A limit alone in its row, which may go on with the row above.
    GoesOn,
    /// The row below may belong to this one.
    Broken,
    /// A line above looks like headings that aren't known.
    Headings,
    /// A line that is taken for the title of a section, and may be something else.
    Section,
    /// A note with no step that it could go to.
    NoStep,
    /// Rows to be repeated that are not above.
    NoSuchRows,
    /// Rows to be repeated, and nothing says until when.
    NoEnd,
    /// How much still counts as no change.
    NoChange,
}

impl fmt::Display for Why {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Why::Column => f.write_str("nobody has said yet what this column is"),
            Why::NoSuchRows => f.write_str("the rows that it repeats are not found above: choose the steps"),
            Why::NoEnd => f.write_str("it doesn't say until when in words that are known here: choose what ends it"),
            Why::NoChange => f.write_str("it doesn't say how much still counts as no change: type a figure"),
            Why::NoTarget => f.write_str(
                "it is no target that is known here: write it like 9.0015 MHz, 4…5 W, > 4 W, max or min",
            ),
            Why::NoUnit(text) => write!(
                f,
                "{text} of what? Write it with its unit, such as {text} MHz, or give the table a column of units"
            ),
            Why::NoUnitAtAll => f.write_str("nothing says in which unit it is read"),
            Why::WhichVolts => f.write_str(
                "nothing says which volts they are: EMF or PD, rms or peak to peak. Rms is taken until someone says it",
            ),
            Why::Better => {
                f.write_str("nothing says which side is the better one: write it like > 60 dB or < 5 %")
            }
            Why::Swing => f.write_str(
                "it may be how far it swings, or how far that may be off: write it like < 5 kHz or 5 kHz ± 0.2 kHz",
            ),
            Why::UnknownUnit => f.write_str("it is not a unit that is known here"),
            Why::Figure(why) => f.write_str(why),
            Why::Tolerance => {
                f.write_str("it is no tolerance that is known here: write it like 20 Hz, 5 % or +2/-10 mA")
            }
            Why::NoTolerance => {
                f.write_str("it has no tolerance: give it one, such as ± 20 Hz, 5 % or 10 ppm")
            }
            Why::BareTolerance(why) => f.write_str(why),
            Why::NoNominal => f.write_str("there is no target that it belongs to"),
            Why::TwoLimits => {
                f.write_str("the target brings its limits itself: one of the two is too many")
            }
            Why::Limits(fault) => write!(f, "{fault}"),
            Why::NominalOutside => {
                f.write_str("the nominal figure is not between its limits: write the limits as readings")
            }
            Why::TurnedRound => f.write_str(
                "the least of it may be the largest figure: write the limit like < 0.5 µV or > 0.5 µV",
            ),
            Why::SetUp => f.write_str(
                "it may be what is connected and no limit: put it among the conditions, or write the limit like > 50 Ω",
            ),
            Why::NothingToSet => f.write_str("nothing says what it is set to"),
            Why::NoAdjuster => f.write_str("nothing says what is turned"),
            Why::OneAdjuster(first) => {
                write!(f, "a step turns one adjuster: {first} was taken")
            }
            Why::NoReading => f.write_str("a reading is asked for, and nothing says where it must lie"),
            Why::NothingToDo => f.write_str("nothing says what is to be done or read"),
            Why::TwoSteps => f.write_str(
                "it asks for two steps, and one was made: add the other one after it",
            ),
            Why::OtherQuantity => f.write_str(
                "its unit is not one of what the row says is read: look at both again",
            ),
            Why::Signal => f.write_str("it is neither RX nor TX"),
            Why::Kind => f.write_str("it is no kind of step that is known here"),
            Why::Name(error) => write!(f, "{error}"),
            Why::NothingAbove => f.write_str("nothing stands above it that it could repeat"),
            Why::GoesOn => f.write_str("nothing beside it says what is read: it may belong to the row above"),
            Why::Broken => f.write_str("the row below may go on with it: join the two if they are one"),
            Why::Headings => f.write_str("a line above looks like other headings: paste what follows by itself"),
            Why::Section => f.write_str("it is taken for the title of a section: nothing stands beside it"),
            Why::NoStep => f.write_str("there is no step that it could go to"),
        }
    }
}
