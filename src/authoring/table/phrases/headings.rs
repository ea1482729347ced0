//! Words in headings and in titles of sections.

use crate::authoring::Kind;
use crate::authoring::table::meaning::Meaning;
use crate::procedure::Signal;
use crate::quantity::Unit;

/// Words that a heading of what is found at fault begins with.
pub(in crate::authoring::table) const FAILED: &[&str] =
    &["fail", "fails", "reject", "bad", "faulty"];

/// Words by which headings tell a lower limit from an upper one.
pub(in crate::authoring::table) const ENDS_OF_LIMITS: &[&str] = &[
    "lower", "upper", "low", "high", "lo", "hi", "from", "to", "lsl", "usl", "least", "most",
    "limit", "minimum", "maximum", "min", "max",
];

/// Words between a unit that heads a column and where that is measured.
pub(in crate::authoring::table) const PLACES: &[&str] = &["to", "at", "from", "across"];

/// Words that titles of sections have.
pub(in crate::authoring::table) const SECTIONS: &[&str] = &[
    "receiver",
    "transmitter",
    "receive",
    "transmit",
    "rx",
    "tx",
    "alignment",
    "adjustment",
    "adjustments",
    "test",
    "tests",
    "check",
    "checks",
    "voltage",
    "voltages",
    "section",
    "stage",
    "stages",
    "circuit",
    "circuits",
    "board",
    "unit",
    "supply",
    "am",
    "fm",
    "ssb",
    "if",
    "rf",
    "af",
    "audio",
    "synthesizer",
    "synthesiser",
    "oscillator",
    "oscillators",
    "amplifier",
    "module",
    "performance",
    "general",
    "final",
    "preliminary",
    "measurement",
    "measurements",
    "resistance",
    "modulation",
    "squelch",
    "band",
    "deviation",
    "spurious",
    "table",
    "part",
    "loop",
    "filter",
    "mixer",
    "control",
    "bias",
    "output",
    "sensitivity",
    "frequency",
    "power",
    "preparation",
    "inspection",
    "distortion",
    "response",
    "gain",
    "selectivity",
    "harmonics",
    "current",
    "currents",
    "battery",
    "microphone",
    "speaker",
    "agc",
    "avc",
    "vco",
    "pll",
    "resistances",
    "continuity",
];

/// Words for the kinds of steps.
pub(in crate::authoring::table) const KINDS: &[(&[&str], Kind)] = &[
    (&["set", "set to target", "adjust", "align"], Kind::Set),
    (&["read", "measure", "reading", "measurement"], Kind::Read),
    (&["peak", "maximum"], Kind::Peak),
    (&["dip", "null", "minimum"], Kind::Dip),
    (&["inspect", "inspection", "visual", "look"], Kind::Inspect),
    (&["tick", "do", "action", "set-up", "setup"], Kind::Tick),
    (&["stop", "hold", "gate"], Kind::Stop),
];

/// Words for receiving and transmitting.
pub(in crate::authoring::table) const SIGNALS: &[(&[&str], Signal)] = &[
    (&["rx", "r", "receive", "receiving", "receiver"], Signal::Rx),
    (
        &["tx", "t", "transmit", "transmitting", "transmitter"],
        Signal::Tx,
    ),
];

/// Modes.
pub(in crate::authoring::table) const MODES: &[&str] =
    &["am", "fm", "nfm", "ssb", "usb", "lsb", "cw", "pa", "dsb"];

/// Electrodes and the like, each a test point of its own at the part that the row names.
pub(in crate::authoring::table) const ELECTRODES: &[&str] = &[
    "e",
    "b",
    "c",
    "s",
    "g",
    "d",
    "g1",
    "g2",
    "emitter",
    "base",
    "collector",
    "source",
    "gate",
    "drain",
    "plate",
    "anode",
    "cathode",
    "grid",
    "screen",
    "screen grid",
    "control grid",
    "heater",
    "filament",
    "suppressor",
];

/// Words before a number that name a pin or a channel.
pub(in crate::authoring::table) const PINS: &[&str] = &["pin", "terminal", "tp"];

pub(in crate::authoring::table) const CHANNELS: &[&str] = &["ch", "chan", "channel"];

/// The last words of headings that say what a column holds, whatever stands before them.
pub(in crate::authoring::table) const TAILS: &[(&[&str], Meaning)] = &[
    (
        &[
            "indication",
            "indications",
            "reading",
            "readings",
            "requirement",
            "requirements",
            "limits",
            "limit",
            "standard",
            "tolerance limits",
            "result wanted",
            "specification",
        ],
        Meaning::Target,
    ),
    (
        &[
            "setting",
            "settings",
            "set",
            "conditions",
            "condition",
            "connections",
        ],
        Meaning::Condition,
    ),
    (&["tolerance"], Meaning::Tolerance),
    (&["parameter", "parameters"], Meaning::Title),
    (&["terminals"], Meaning::Point),
    (&["action", "cause", "trouble", "method"], Meaning::Note),
];

/// Words that a title ends with, and in which unit that is read.
pub(in crate::authoring::table) const ENDS: &[(&str, Unit)] = &[
    ("voltage", Unit::VoltDc),
    ("voltages", Unit::VoltDc),
    ("current", Unit::Ampere),
    ("power", Unit::Watt),
    ("resistance", Unit::Ohm),
    ("temperature", Unit::Celsius),
];

/// Headings of what is done, above which marks such as `A1` count.
pub(in crate::authoring::table) const STEPS: &[&str] =
    &["step", "test", "check", "test step", "operation"];

/// Words in headings that say only that something is read.
pub(in crate::authoring::table) const READINGS: &[&str] = &[
    "voltage",
    "voltages",
    "volts",
    "dc",
    "d.c.",
    "reading",
    "readings",
    "measured",
    "normal",
    "nominal",
    "typical",
    "resistance",
    "mode",
];

/// Words that a heading of what is to be read begins with.
pub(in crate::authoring::table) const HEADS: &[&str] = &[
    "expected",
    "required",
    "desired",
    "correct",
    "acceptable",
    "permissible",
    "allowable",
];

/// Words that a heading of what is read ends with.
pub(in crate::authoring::table) const QUANTITY_NOUNS: &[&str] = &[
    "reading",
    "readings",
    "value",
    "values",
    "indication",
    "indications",
    "result",
    "results",
    "output",
    "out",
    "voltage",
    "voltages",
    "resistance",
    "current",
    "level",
    "levels",
    "power",
    "range",
    "limit",
    "limits",
    "response",
    "gain",
    "deviation",
    "frequency",
    "distortion",
    "attenuation",
    "tolerance",
    "criteria",
    "requirement",
    "requirements",
    "error",
    "loss",
    "sensitivity",
    "modulation",
    "ripple",
    "rail",
    "drop",
    "swing",
    "amplitude",
    "ratio",
    "latency",
    "delay",
    "noise",
    "rejection",
    "isolation",
    "suppression",
    "accuracy",
    "stability",
    "timing",
];

/// The heading of what has to be so, which beside a figure is only a name.
pub(in crate::authoring::table) const CRITERION: &str = "criterion";
