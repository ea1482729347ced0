//! The English of published tables: every word and phrase that the reader of tables knows, as
//! data. Another language of tables is another copy of this directory.

mod actions;
mod headings;
mod quantities;
mod senses;
mod units;
mod waits;

pub(super) use self::actions::{
    ACTIONS, APPLIES, CONDITIONALS, CONTROLS, DENIALS, LOOKS, MEANWHILE, MEASURES, MODALS, MOVES,
    NAMES_TOO, OBJECTS, PARTS, POSITIONS, PROMISES, PUT, REFERS, TURNS, UNLESS, VERIFIED, VERIFIES,
};
pub(super) use self::headings::{
    CHANNELS, CRITERION, ELECTRODES, ENDS, ENDS_OF_LIMITS, FAILED, HEADS, KINDS, MODES, PINS,
    PLACES, QUANTITY_NOUNS, READINGS, SECTIONS, SIGNALS, STEPS, TAILS,
};
pub(super) use self::quantities::{
    AC_METERS, AC_SOURCES, ALTERNATING, BETTER_LESS, BETTER_MORE, EXTREMES, INSTRUMENTS, JOINTS,
    KINDS_OF_VOLTS, LOSSES, OF_WHAT, OFFSETS, PLAIN_QUANTITIES, QUALITIES, QUANTITIES, REACHES,
    REJECTS, SWINGS, TURNED_ROUND, WORSE_MORE,
};
pub(super) use self::senses::{SENSES, Sense};
pub(super) use self::units::{BELOW, TAIL_UNITS, TURNED_UNITS, UNITS, VOLTS};
pub(super) use self::waits::{
    ALL_INSIDE, DURATIONS, GO_ON, HOLDS, NO_CHANGE, NUMBERS, STOPS, WAITS,
};

/// Cells that say the same as the cell above.
pub(super) const DITTO: &[&str] = &[
    "\"", "''", "”", "“", "〃", "do", "do.", "Do.", "-do-", "—do—", "ditto", "Ditto", "DITTO", "″",
    ",,", "\" \"", "......do", "same", "as above",
];

/// Cells that say nothing.
pub(super) const NOTHING: &[&str] = &[
    "-",
    "—",
    "–",
    "--",
    "---",
    "n/a",
    "n.a.",
    "tbd",
    "[ ]",
    "\u{2610}",
    "\u{25a1}",
    "not applicable",
    "not used",
    "na",
    "none",
    "nc",
    "n/c",
    "n.c.",
    "no connection",
    "…",
    "...",
];

/// Lines that are notes.
pub(super) const NOTES: &[&str] = &["note", "notes", "remark", "remarks", "nb", "n.b."];

/// Lines that warn.
pub(super) const CAUTIONS: &[&str] = &["caution", "warning", "danger"];

/// Signs that a line is a footnote to what stands above it.
pub(super) const FOOTNOTES: &[&str] = &[
    "*", "\u{2020}", "\u{2021}", "§", "¹", "²", "³", "⁴", "⁵", "⁶",
];

/// Words before a figure that is a tolerance.
pub(super) const TOLERANCES: &[&str] = &["tolerance", "accuracy", "stability"];

/// Words of what a share is a share of, which is stated elsewhere.
pub(super) const RATINGS: &[&str] = &["rated", "rating", "nameplate", "full", "nominal"];

/// Words before the number of another line or of another table.
pub(super) const NUMBERED: &[&str] = &[
    "step",
    "steps",
    "para",
    "paragraph",
    "table",
    "item",
    "line",
    "row",
    "figure",
    "fig",
];

/// States that something is found in, which stand in place of a figure.
pub(super) const STATES: &[&str] = &[
    "open", "closed", "short", "shorted", "on", "off", "low", "high", "normal", "pass", "fail",
    "yes", "no", "lit", "dark", "zero", "infinite", "infinity", "same", "none", "good", "steady",
    "ground", "minimum", "maximum", "peak",
];

/// Words by which a bracket changes the limit before it.
pub(super) const BINDING: &[&str] = &[
    "less",
    "more",
    "greater",
    "smaller",
    "lower",
    "higher",
    "better",
    "worse",
    "min",
    "minimum",
    "max",
    "maximum",
    "over",
    "under",
    "above",
    "below",
    "between",
    "within",
    "relative",
    "ref",
    "reference",
    "referenced",
    "compared",
    "times",
    "x",
    "per",
    "ratio",
    "difference",
    "change",
    "changes",
    "vary",
    "varies",
    "half",
    "twice",
    "double",
    "except",
    "unless",
    "than",
    "same",
    "or",
    "increase",
    "increases",
    "decrease",
    "decreases",
    "drop",
    "rise",
    "plus",
    "minus",
    "to",
    "from",
    "each",
    "every",
    "log",
    "squared",
];

/// Words that a bracket begins with which only tells what else there is.
pub(super) const COVERS: &[&str] = &[
    "covers",
    "covering",
    "includes",
    "including",
    "adjustable",
    "e.g",
    "such as",
];

/// Words of what a limit is for, one of several cases.
pub(super) const CASES: &[&str] = &[
    "channel",
    "channels",
    "ch sp",
    "spacing",
    "bandwidth",
    "bw",
    "load",
    "supply",
];

/// Those that tell of a place where no figure stands beside them.
pub(super) const PLACING: &[&str] = &["from", "to"];

/// What a box to tick has beside it.
pub(super) const BOXED: &[&str] = &["pass", "fail", "yes", "no", "ok", "n", "a", "done", "x"];
