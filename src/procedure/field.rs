//! The parts of a procedure that something can be said of, as fine as a form's fields.

/// A field of a step, of the lists or of the whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Field {
    /// The title of a step or of the whole.
    Title,
    /// The revision's number.
    Revision,
    /// The steps as a list.
    Steps,
    /// The list of adjusters.
    Adjusters,
    /// The list of test points.
    TestPoints,
    /// The list of instruments.
    Instruments,
    /// The pictures of the board.
    Pictures,
    /// Circuit diagrams, layouts and service sheets.
    Papers,
    /// The groups of steps that pull each other.
    Chases,
    /// The frequency plan.
    Plan,
    /// The headings of a table's columns.
    Columns,
    /// The headings of its rows.
    Rows,
    /// Its cells.
    Cells,
    /// The limit that is stated for several of its cells.
    Limit,
    /// Receiving or transmitting.
    Signal,
    /// Controls and where they stand.
    Controls,
    /// The test point of a reading.
    At,
    /// The instrument of a reading.
    With,
    /// The impedance in which a voltage is a power.
    Impedance,
    /// What stands between the set and the instrument.
    Path,
    /// What is turned.
    Adjuster,
    /// Where the reading must lie.
    Target,
    /// How far it may be off.
    Margin,
    /// What a stop asks to confirm.
    Confirm,
    /// The steps that a step repeats.
    Repeats,
    /// What ends that.
    Until,
    /// How often at most.
    Passes,
    /// What is fitted.
    Fitted,
    /// The ends of a lead.
    Ends,
    /// The pins of a socket.
    Pins,
    /// Minutes to wait.
    Wait,
    /// The drift of a settled reading.
    Settles,
    /// Stops that must hold.
    Needs,
    /// What goes back.
    PutsBack,
    /// The other step of a shared null.
    SharedNull,
    /// A second route to the figure.
    CrossCheck,
    /// What the limit rests on.
    Basis,
    /// What of a table is still to be settled.
    Open,
}

impl Field {
    /// All fields.
    pub const ALL: [Field; 38] = [
        Field::Title,
        Field::Revision,
        Field::Steps,
        Field::Adjusters,
        Field::TestPoints,
        Field::Instruments,
        Field::Pictures,
        Field::Papers,
        Field::Chases,
        Field::Plan,
        Field::Columns,
        Field::Rows,
        Field::Cells,
        Field::Limit,
        Field::Signal,
        Field::Controls,
        Field::At,
        Field::With,
        Field::Impedance,
        Field::Path,
        Field::Adjuster,
        Field::Target,
        Field::Margin,
        Field::Confirm,
        Field::Repeats,
        Field::Until,
        Field::Passes,
        Field::Fitted,
        Field::Ends,
        Field::Pins,
        Field::Wait,
        Field::Settles,
        Field::Needs,
        Field::PutsBack,
        Field::SharedNull,
        Field::CrossCheck,
        Field::Basis,
        Field::Open,
    ];

    /// A short name that an address can carry.
    pub const fn key(self) -> &'static str {
        match self {
            Field::Title => "title",
            Field::Revision => "revision",
            Field::Steps => "steps",
            Field::Adjusters => "adjusters",
            Field::TestPoints => "test-points",
            Field::Instruments => "instruments",
            Field::Pictures => "pictures",
            Field::Papers => "papers",
            Field::Chases => "chases",
            Field::Plan => "plan",
            Field::Columns => "columns",
            Field::Rows => "rows",
            Field::Cells => "cells",
            Field::Limit => "limit",
            Field::Signal => "signal",
            Field::Controls => "controls",
            Field::At => "at",
            Field::With => "with",
            Field::Impedance => "impedance",
            Field::Path => "path",
            Field::Adjuster => "adjuster",
            Field::Target => "target",
            Field::Margin => "margin",
            Field::Confirm => "confirm",
            Field::Repeats => "repeats",
            Field::Until => "until",
            Field::Passes => "passes",
            Field::Fitted => "fitted",
            Field::Ends => "ends",
            Field::Pins => "pins",
            Field::Wait => "wait",
            Field::Settles => "settles",
            Field::Needs => "needs",
            Field::PutsBack => "puts-back",
            Field::SharedNull => "shared-null",
            Field::CrossCheck => "cross-check",
            Field::Basis => "basis",
            Field::Open => "open",
        }
    }

    /// The field of a short name.
    pub fn of(key: &str) -> Option<Field> {
        Field::ALL.into_iter().find(|field| field.key() == key)
    }
}
