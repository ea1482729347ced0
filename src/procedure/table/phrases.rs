//! The English of published tables: every word and phrase that the reader of tables knows, as
//! data. Another language of tables is another copy of this file.

use super::meaning::Meaning;
use crate::procedure::{Kind, Signal};
use crate::quantity::Unit;

/// What a word or a sign says of the figures around it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sense {
    /// The figure that follows is the smallest that passes.
    AtLeast,
    /// The figure that follows is the largest that passes.
    AtMost,
    /// The figure before is the smallest that passes.
    OrMore,
    /// The figure before is the largest that passes.
    OrLess,
    /// The figure that follows is the worst that passes, on whichever side that is.
    Better,
    /// A lower limit beside a figure, and alone the smallest reading.
    Min,
    /// An upper limit beside a figure, and alone the largest reading.
    Max,
    /// The largest reading.
    Peak,
    /// The smallest reading.
    Dip,
    /// Two figures follow.
    Between,
    /// The other end of a range follows.
    To,
    /// Joins two figures or two limits.
    And,
    /// A tolerance to both sides follows.
    PlusMinus,
    /// A tolerance above follows.
    Plus,
    /// A tolerance below follows.
    Minus,
    /// How far from a figure that follows.
    Within,
    /// What a tolerance is counted from follows.
    Of,
    /// Decibels below something.
    Down,
    /// The figure binds nobody.
    About,
    /// What comes before a figure says nothing of it; what comes behind one is how it is read.
    At,
    /// What a figure is a figure of, said behind it.
    Kind,
    /// Says nothing.
    Nothing,
    /// A figure in words.
    Count,
    /// Turns the meaning of the whole, so that it isn't understood.
    Turns,
}

use Sense::*;

/// Words and signs, in lower case. Where several fit the longest counts.
pub(super) const SENSES: &[(&[&str], Sense)] = &[
    (
        &[
            ">=",
            "=>",
            "≥",
            ">",
            "\u{2267}",
            "at least",
            "not less than",
            "no less than",
            "not be less than",
            "not fall below",
            "not be below",
            "not below",
            "no lower than",
            "not lower than",
            "not be lower than",
            "more than",
            "greater than",
            "higher than",
            "over",
            "above",
            "rises above",
            "risen above",
            "in excess of",
            "exceed",
            "exceeds",
            "exceeding",
            "equal to or greater than",
            "equal to or more than",
            "greater than or equal to",
            "more than or equal to",
        ],
        AtLeast,
    ),
    (
        &[
            "<=",
            "=<",
            "≤",
            "<",
            "\u{2266}",
            "at most",
            "never exceed",
            "never exceeds",
            "not more than",
            "no more than",
            "not be more than",
            "not greater than",
            "no greater than",
            "not be greater than",
            "not exceed",
            "not to exceed",
            "not exceeding",
            "not over",
            "not above",
            "not be above",
            "not higher than",
            "no higher than",
            "not be higher than",
            "up to",
            "less than",
            "lower than",
            "below",
            "falls below",
            "fall below",
            "fallen below",
            "drops below",
            "drop below",
            "dropped below",
            "falls to less than",
            "drops to less than",
            "under",
            "equal to or less than",
            "less than or equal to",
        ],
        AtMost,
    ),
    (
        &[
            "or more",
            "or greater",
            "or higher",
            "or above",
            "and above",
            "or over",
            "upwards",
        ],
        OrMore,
    ),
    (
        &["or less", "or lower", "or below", "or under", "or smaller"],
        OrLess,
    ),
    (
        &["better than", "equal to or better than", "or better"],
        Better,
    ),
    (&["minimum", "min", "lower limit"], Min),
    (&["maximum", "max", "upper limit"], Max),
    (
        &[
            "peak", "maximise", "maximize", "highest", "greatest", "largest",
        ],
        Peak,
    ),
    (
        &["dip", "null", "minimise", "minimize", "lowest", "smallest"],
        Dip,
    ),
    (
        &[
            "between",
            "from",
            "range",
            "range of",
            "the range of",
            "within the range of",
            "in the range of",
        ],
        Between,
    ),
    (&["to", "through", "…", "...", "..", "~to~"], To),
    (&["and", "but", ",", ";", "/", "&", "\n"], And),
    (&["±", "+/-", "+-", "plus or minus"], PlusMinus),
    (&["+", "plus"], Plus),
    (&["-", "minus"], Minus),
    (&["within"], Within),
    (&["of"], Of),
    (&["down", "of attenuation", "of rejection"], Down),
    (
        &[
            "about",
            "approximately",
            "approx",
            "appr",
            "ca",
            "circa",
            "roughly",
            "near",
            "nearly",
            "~",
            "≈",
            "nominal",
            "nominally",
            "nom",
            "typical",
            "typically",
            "typ",
            "recommended",
            "preferred",
        ],
        About,
    ),
    (
        &[
            "at",
            "@",
            "across",
            "into",
            "on",
            "with",
            "in",
            "for",
            "when",
            "while",
            "during",
            "through a",
            "all",
            "on every",
            "on each",
            "at every",
            "at each",
            "in every",
            "in each",
            "for every",
            "for each",
        ],
        At,
    ),
    (
        &[
            "carrier",
            "carrier power",
            "average",
            "mean",
            "power",
            "pep",
            "peak envelope",
            "peak envelope power",
            "sinad",
            "eirp",
            "erp",
            "effective radiated power",
            "output",
            "input",
            "ripple",
            "noise",
            "noise ratio",
            "a-weighted",
            "c-weighted",
            "weighted",
            "unweighted",
            "psophometric",
            "signal-to-noise ratio",
            "signal to noise ratio",
            "rejection ratio",
            "distortion",
            "modulation",
            "deviation",
            "am",
            "fm",
            "ssb",
            "cw",
        ],
        Kind,
    ),
    (
        &[
            "the",
            "a",
            "an",
            "be",
            "is",
            "are",
            "should",
            "shall",
            "must",
            "to be",
            "to read",
            "reads",
            "read",
            "reading",
            "readings",
            "indicate",
            "indicates",
            "indication",
            "indications",
            "meter",
            "meter reading",
            "obtain",
            "remain",
            "return to",
            "return",
            "drops to",
            "drop to",
            "falls to",
            "fall to",
            "decreases to",
            "rises to",
            "rise to",
            "increases to",
            "=",
        ],
        Nothing,
    ),
    (
        &[
            "zero",
            "one",
            "two",
            "three",
            "four",
            "five",
            "six",
            "seven",
            "eight",
            "nine",
            "ten",
            "twelve",
            "twenty",
            "hundred",
            "infinite",
            "infinity",
            "inf",
            "ol",
            "full scale",
            "full-scale",
            "midscale",
            "mid-scale",
            "center scale",
            "centre scale",
            "zero beat",
        ],
        Count,
    ),
    (
        &[
            "not",
            "no",
            "except",
            "unless",
            "if",
            "than",
            "or",
            "decrease",
            "decreases",
            "increase",
            "increases",
            "increasing",
            "decreasing",
            "drop",
            "drops",
            "rise",
            "rises",
            "fall",
            "falls",
            "change",
            "changes",
            "vary",
            "varies",
            "variation",
            "difference",
            "differ",
            "relative",
            "ref",
            "reference",
            "referenced",
            "compared",
            "ratio",
            "half",
            "twice",
            "double",
            "times",
            "same",
            "equal",
            "log",
            "log10",
            "linear",
            "linearly",
            "left",
            "right",
            "deflect",
            "deflection",
            "per",
            "every",
            "blows",
            "trips",
            "cuts",
            "lesser",
            "greater",
            "whichever",
            "bandwidth",
            "better",
            "worse",
            "x",
            "×",
            "*",
            "^",
            "steps",
            "dbr",
            "see",
            "note",
            "original",
            "previous",
            "flat",
        ],
        Turns,
    ),
];

/// Spellings of units beside their symbols, in lower case.
pub(super) const UNITS: &[(&str, &[&str])] = &[
    (
        "V",
        &[
            "vdc",
            "v dc",
            "v d.c.",
            "v d-c",
            "volt dc",
            "volts dc",
            "volts d.c.",
            "volts d-c",
            "dc volts",
            "dc v",
            "d.c. volts",
            "d-c volts",
            "volts direct",
        ],
    ),
    ("mV", &["mvdc", "mv dc", "millivolts dc"]),
    (
        "V rms",
        &[
            "vac",
            "v ac",
            "v a.c.",
            "volt ac",
            "volts ac",
            "volts a.c.",
            "volts a-c",
            "ac volts",
            "ac v",
            "v rms",
            "vrms",
            "volt rms",
            "volts rms",
            "rms volts",
        ],
    ),
    (
        "mV rms",
        &[
            "mvac",
            "mv ac",
            "mv rms",
            "mvrms",
            "millivolts ac",
            "millivolts rms",
        ],
    ),
    ("µV rms", &["µv rms", "uv rms", "µvrms", "uvrms"]),
    (
        "V p-p",
        &[
            "vpp",
            "v pp",
            "v p-p",
            "vp-p",
            "v pk-pk",
            "vpk-pk",
            "volt p-p",
            "volts p-p",
            "volts pp",
            "volts peak to peak",
            "volts peak-to-peak",
            "v peak-to-peak",
            "v peak to peak",
        ],
    ),
    (
        "mV p-p",
        &[
            "mvpp",
            "mv pp",
            "mv p-p",
            "mvp-p",
            "mv pk-pk",
            "millivolts p-p",
            "mv peak to peak",
            "mv peak-to-peak",
        ],
    ),
    (
        "µV p-p",
        &["µvp-p", "µvpp", "µv p-p", "µv pp", "uvp-p", "uvpp"],
    ),
    ("V peak", &["v peak", "v pk", "vpk", "vp", "volts peak"]),
    ("mV peak", &["mv peak", "mv pk", "mvpk"]),
    ("V EMF", &["v emf", "v e.m.f.", "volts emf"]),
    ("mV EMF", &["mv emf", "mv e.m.f."]),
    (
        "µV EMF",
        &[
            "µv emf",
            "uv emf",
            "µv e.m.f.",
            "uv e.m.f.",
            "microvolts emf",
            "microvolts e.m.f.",
        ],
    ),
    ("V PD", &["v pd", "volts pd"]),
    ("mV PD", &["mv pd"]),
    (
        "µV PD",
        &[
            "µv pd",
            "uv pd",
            "µv p.d.",
            "uv p.d.",
            "microvolts pd",
            "microvolts p.d.",
        ],
    ),
    ("A", &["amp", "amps", "ampere", "amperes", "a dc", "adc"]),
    (
        "mA",
        &[
            "ma",
            "ma dc",
            "milliamp",
            "milliamps",
            "milliampere",
            "milliamperes",
        ],
    ),
    (
        "µA",
        &[
            "µa",
            "ua",
            "microamp",
            "microamps",
            "microampere",
            "microamperes",
        ],
    ),
    ("W", &["watt", "watts", "w rms"]),
    ("mW", &["mw", "milliwatt", "milliwatts"]),
    ("µW", &["µw", "uw", "microwatt", "microwatts"]),
    ("nW", &["nanowatt", "nanowatts"]),
    ("kW", &["kw", "kilowatt", "kilowatts"]),
    (
        "W PEP",
        &["w pep", "watt pep", "watts pep", "w p.e.p.", "watts p.e.p."],
    ),
    ("mW PEP", &["mw pep", "milliwatts pep"]),
    ("kW PEP", &["kw pep", "kilowatts pep"]),
    ("dBm", &["dbm"]),
    ("dBm PEP", &["dbm pep"]),
    ("dBW", &["dbw"]),
    ("dBc", &["dbc"]),
    ("dBµV", &["dbµv", "dbuv"]),
    ("dBµV EMF", &["dbµv emf", "dbuv emf"]),
    ("dBµV PD", &["dbµv pd", "dbuv pd"]),
    ("dB", &["db", "decibel", "decibels"]),
    ("dB SINAD", &["db sinad"]),
    ("dB (S+N)/N", &["db (s+n)/n", "db s+n/n", "db s + n/n"]),
    ("dB S/N", &["db s/n", "db snr"]),
    (
        "Hz",
        &["hz", "hertz", "cps", "c/s", "cycles", "cycles per second"],
    ),
    (
        "kHz",
        &[
            "khz",
            "kilohertz",
            "kc",
            "kcs",
            "kc/s",
            "kcps",
            "kilocycles",
        ],
    ),
    (
        "MHz",
        &["mhz", "megahertz", "mc", "mcs", "mc/s", "megacycles"],
    ),
    ("GHz", &["ghz", "gigahertz"]),
    ("Ω", &["ω", "ohm", "ohms"]),
    (
        "kΩ",
        &[
            "kω", "kohm", "kohms", "k ohm", "k ohms", "kilohm", "kilohms",
        ],
    ),
    ("MΩ", &["mω", "megohm", "megohms", "meg", "m ohms", "mohm"]),
    ("pF", &["pf", "uuf", "µµf", "mmf", "mmfd"]),
    ("nF", &["nf"]),
    ("µF", &["uf", "µf", "mfd", "mf"]),
    ("µH", &["uh", "µh", "microhenries"]),
    ("mH", &["mh", "millihenries"]),
    ("%", &["%", "percent", "per cent", "pct"]),
    ("ppm", &["ppm", "parts per million", "parts-per-million"]),
    (":1", &[":1", ": 1"]),
    (
        "S-points",
        &[
            "s-points", "s points", "s-units", "s units", "s-unit", "s unit", "s-point",
        ],
    ),
    (
        "div",
        &["div", "divs", "division", "divisions", "scale divisions"],
    ),
    (
        "°C",
        &["°c", "degc", "deg c", "degrees c", "degrees celsius"],
    ),
    ("s", &["sec", "secs", "second", "seconds"]),
    ("ms", &["ms", "msec", "milliseconds"]),
    ("µs", &["us", "µs", "usec", "microseconds"]),
    ("ns", &["ns", "nsec", "nanoseconds"]),
];

/// Spellings of volts that don't say which kind they are.
pub(super) const VOLTS: &[(&str, &[&str])] = &[
    ("V", &["v", "volt", "volts"]),
    ("mV", &["mv", "millivolt", "millivolts"]),
    ("µV", &["µv", "uv", "microvolt", "microvolts"]),
    ("kV", &["kv", "kilovolt", "kilovolts"]),
];

/// What follows a unit and makes another one of it that isn't known: volts RF may be any kind,
/// and so much per something is no plain figure.
pub(super) const TURNED_UNITS: &[&str] = &[
    "rf", "r.f.", "r-f", "pd", "p.d.", "/", "per", "dbm", "high", "wide",
];

/// Units that may end a heading with nothing around them.
pub(super) const TAIL_UNITS: &[&str] = &[
    "hz", "khz", "mhz", "ghz", "dbm", "dbc", "db", "mv", "µv", "uv", "mw", "ma", "volts", "watts",
    "ohms", "amps", "percent", "%", "ppm", "vdc", "vac", "v dc", "v ac", "volts dc", "volts ac",
    "dc volts", "ac volts", "vpp", "v p-p", "v rms", "kω", "ω",
];

/// Words that a heading of what is found at fault begins with.
pub(super) const FAILED: &[&str] = &["fail", "fails", "reject", "bad", "faulty"];

/// Words between a unit that heads a column and where that is measured.
pub(super) const PLACES: &[&str] = &["to", "at", "from", "across"];

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

/// Words that an instruction to do something begins with.
pub(super) const ACTIONS: &[&str] = &[
    "add",
    "allow",
    "apply",
    "attach",
    "clean",
    "clear",
    "clip",
    "close",
    "connect",
    "couple",
    "cut",
    "detune",
    "disable",
    "disconnect",
    "discharge",
    "do",
    "download",
    "enable",
    "enter",
    "exercise",
    "feed",
    "fit",
    "ground",
    "hold",
    "increase",
    "inject",
    "insert",
    "install",
    "keep",
    "key",
    "leave",
    "let",
    "load",
    "loosen",
    "lower",
    "lubricate",
    "modulate",
    "mount",
    "move",
    "open",
    "operate",
    "place",
    "plug",
    "position",
    "power",
    "preset",
    "press",
    "program",
    "push",
    "put",
    "raise",
    "reconnect",
    "reduce",
    "refit",
    "release",
    "remove",
    "repeat",
    "replace",
    "reset",
    "restore",
    "return",
    "reverse",
    "reinstall",
    "reassemble",
    "restart",
    "secure",
    "lock",
    "unlock",
    "isolate",
    "bypass",
    "bridge",
    "jumper",
    "charge",
    "dial",
    "fasten",
    "rotate",
    "run",
    "seal",
    "select",
    "set",
    "short",
    "slide",
    "solder",
    "start",
    "stop",
    "strap",
    "switch",
    "take",
    "terminate",
    "tighten",
    "turn",
    "transmit",
    "unkey",
    "unplug",
    "unscrew",
    "unsolder",
    "wait",
    "warm",
    "wire",
];

/// Those that are names as well: `Load current` asks for nothing to be done, and `Load the set` does.
pub(super) const NAMES_TOO: &[&str] = &[
    "bridge",
    "bypass",
    "charge",
    "clear",
    "clip",
    "cut",
    "dial",
    "discharge",
    "feed",
    "fit",
    "ground",
    "hold",
    "jumper",
    "key",
    "load",
    "lock",
    "lower",
    "mount",
    "open",
    "plug",
    "position",
    "power",
    "preset",
    "program",
    "reset",
    "return",
    "reverse",
    "run",
    "seal",
    "short",
    "slide",
    "start",
    "transmit",
    "stop",
    "strap",
    "switch",
    "wire",
];

/// What follows such a word where it is something to do.
pub(super) const OBJECTS: &[&str] = &[
    "the",
    "a",
    "an",
    "all",
    "both",
    "each",
    "on",
    "off",
    "up",
    "down",
    "in",
    "out",
    "to",
    "for",
    "from",
    "set",
    "unit",
    "radio",
    "receiver",
    "transmitter",
    "equipment",
    "power",
    "knob",
];

/// What is put into a position, which stands behind one of the words after them.
pub(super) const CONTROLS: &[&str] = &[
    "switch",
    "switches",
    "control",
    "controls",
    "dial",
    "knob",
    "selector",
    "pushbutton",
    "attenuator",
];
pub(super) const POSITIONS: &[&str] = &["to", "at", "in", "off", "on", "fully"];

/// Words that end a few words about how things are put.
pub(super) const PUT: &[&str] = &["on", "off", "in", "out", "back"];

/// Words that an instruction to look begins with.
pub(super) const LOOKS: &[&str] = &["inspect", "examine", "look", "visual", "visually"];

/// Words that promise a reading or a setting, which some other words must then state.
pub(super) const MEASURES: &[&str] = &[
    "adjust",
    "align",
    "balance",
    "calibrate",
    "check",
    "compare",
    "confirm",
    "determine",
    "ensure",
    "measure",
    "monitor",
    "note",
    "observe",
    "read",
    "record",
    "sweep",
    "test",
    "trim",
    "tune",
    "verify",
];

/// Words of a cell that only says where its figure stands.
pub(super) const REFERS: &[&str] = &["refer to", "see", "per", "as per", "according to"];

/// Words that an instruction to bring a signal or a supply begins with; a figure there is what it
/// has.
pub(super) const APPLIES: &[&str] = &["apply", "feed", "inject", "supply"];

/// What stands in place of what is turned where nothing is.
pub(super) const VERIFIES: &[&str] = &[
    "verify",
    "check",
    "check only",
    "confirm",
    "measure",
    "read",
    "record",
    "observe",
    "n.a",
];

/// What an instruction says when it asks for a reading.
pub(super) const PROMISES: &[&str] = &[
    "for a",
    "for an",
    "for max",
    "for maximum",
    "for min",
    "for minimum",
    "for peak",
    "for null",
    "for a null",
    "for dip",
    "for zero",
    "for best",
    "for greatest",
    "for proper",
    "for full",
    "until",
    "to obtain",
    "should",
    "shall",
    "must",
    "reads",
    "indicates",
    "indicating",
    "reading of",
    "±",
    "+/-",
    "<",
    ">",
    "≤",
    "≥",
    "at least",
    "not more than",
    "less than",
    "between",
];

/// Words that make a duration of the figure before them.
pub(super) const DURATIONS: &[&str] = &[
    "s", "sec", "secs", "second", "seconds", "min", "minute", "minutes", "h", "hour", "hours",
    "hrs",
];

/// Words behind which a time is one to wait.
pub(super) const WAITS: &[&str] = &[
    "wait", "waiting", "allow", "warm", "warmup", "soak", "leave",
];

/// Numbers that tables write out.
pub(super) const NUMBERS: &[(&str, u32)] = &[
    ("one", 1),
    ("two", 2),
    ("three", 3),
    ("four", 4),
    ("five", 5),
    ("ten", 10),
    ("fifteen", 15),
    ("twenty", 20),
    ("thirty", 30),
    ("sixty", 60),
];

/// Words that titles of sections have.
pub(super) const SECTIONS: &[&str] = &[
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

/// States that something is found in, which stand in place of a figure.
pub(super) const STATES: &[&str] = &[
    "open", "closed", "short", "shorted", "on", "off", "low", "high", "normal", "pass", "fail",
    "yes", "no", "lit", "dark", "zero", "infinite", "infinity", "same", "none", "good", "steady",
    "ground", "minimum", "maximum", "peak",
];

/// What a stop begins with.
pub(super) const STOPS: &[&str] = &[
    "stop:",
    "stop.",
    "stop!",
    "stop -",
    "stop –",
    "do not proceed",
    "do not go on",
];

/// What says that steps are repeated until all of them are right.
pub(super) const ALL_INSIDE: &[&str] = &[
    "within",
    "inside",
    "in limits",
    "limits are met",
    "as specified",
    "are correct",
    "is correct",
    "are met",
    "is met",
    "no further adjustment",
    "no adjustment is",
];

/// What says that they are repeated until nothing changes any more.
pub(super) const NO_CHANGE: &[&str] = &[
    "no further change",
    "no more change",
    "no change",
    "no reading changes",
    "no further improvement",
    "no further increase",
    "no further decrease",
    "stop changing",
    "stops changing",
    "change by less than",
    "changes by less than",
];

/// What says that work goes on only once something is so.
pub(super) const GO_ON: &[&str] = &[
    "then go on",
    "then proceed",
    "then continue",
    "before going on",
    "before proceeding",
    "before continuing",
    "do not proceed until",
    "do not go on until",
    "do not continue until",
];

/// Words that an instruction to wait for something begins with.
pub(super) const HOLDS: &[&str] = &["discharge", "wait", "let", "allow", "leave", "bleed"];

/// Words for the kinds of steps.
pub(super) const KINDS: &[(&[&str], Kind)] = &[
    (&["set", "set to target", "adjust", "align"], Kind::Set),
    (&["read", "measure", "reading", "measurement"], Kind::Read),
    (&["peak", "maximum"], Kind::Peak),
    (&["dip", "null", "minimum"], Kind::Dip),
    (&["inspect", "inspection", "visual", "look"], Kind::Inspect),
    (&["tick", "do", "action", "set-up", "setup"], Kind::Tick),
    (&["stop", "hold", "gate"], Kind::Stop),
];

/// Words for receiving and transmitting.
pub(super) const SIGNALS: &[(&[&str], Signal)] = &[
    (&["rx", "r", "receive", "receiving", "receiver"], Signal::Rx),
    (
        &["tx", "t", "transmit", "transmitting", "transmitter"],
        Signal::Tx,
    ),
];

/// Modes.
pub(super) const MODES: &[&str] = &["am", "fm", "nfm", "ssb", "usb", "lsb", "cw", "pa", "dsb"];

/// Electrodes and the like, each a test point of its own at the part that the row names.
pub(super) const ELECTRODES: &[&str] = &[
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
pub(super) const PINS: &[&str] = &["pin", "terminal", "tp"];
pub(super) const CHANNELS: &[&str] = &["ch", "chan", "channel"];

/// Readings for which the least means the largest figure: a more sensitive set needs less.
pub(super) const TURNED_ROUND: &[&str] = &["sensitivity", "quieting"];

/// The last words of headings that say what a column holds, whatever stands before them.
pub(super) const TAILS: &[(&[&str], Meaning)] = &[
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

/// How good a signal is, for which a receiver needs so much.
pub(super) const QUALITIES: &[&str] = &[
    "sinad",
    "(s+n)/n",
    "s+n/n",
    "(s + n)/n",
    "s + n/n",
    "s/n",
    "quieting",
    "signal to noise",
    "signal-to-noise",
    "signal plus noise",
    "signal-plus-noise",
];

/// What joins that to the level.
pub(super) const JOINTS: &[&str] = &[" at ", " @ ", " for ", " with ", " gives ", " from "];

/// Words of what is better the more there is of it.
pub(super) const BETTER_MORE: &[&str] = &[
    "rejection",
    "attenuation",
    "suppression",
    "selectivity",
    "isolation",
    "separation",
    "signal to noise",
    "signal-to-noise",
    "sinad",
    "balance",
    "blocking",
    "dynamic range",
    "efficiency",
    "return loss",
];

/// Words of what is better the less there is of it.
pub(super) const BETTER_LESS: &[&str] = &[
    "sensitivity",
    "distortion",
    "stability",
    "ripple",
    "hum",
    "noise",
    "vswr",
    "swr",
    "drift",
    "error",
    "accuracy",
    "noise figure",
    "leakage",
];

/// Words of what swings to both sides and is read as how far it does.
pub(super) const SWINGS: &[&str] = &["deviation", "peak deviation", "fm deviation"];

/// Words that say of which kind volts are.
pub(super) const KINDS_OF_VOLTS: &[(&[&str], Unit)] = &[
    (
        &["p-p", "pp", "pk-pk", "peak-to-peak", "peak to peak"],
        Unit::VoltPeakToPeak,
    ),
    (&["rms", "r.m.s."], Unit::VoltRms),
    (&["emf"], Unit::VoltEmf),
    (&["pd", "p.d."], Unit::VoltPd),
];

/// Words that name what is read, and its unit without prefix.
pub(super) const QUANTITIES: &[(&[&str], Unit)] = &[
    (
        &["resistance", "resistances", "resistor", "ohmmeter"],
        Unit::Ohm,
    ),
    (&["capacitance"], Unit::Farad),
    (&["inductance"], Unit::Henry),
];

/// Words of what is brought to its largest or smallest, and in which unit that is read.
pub(super) const EXTREMES: &[(&[&str], Unit)] = &[
    (&["voltage", "voltages"], Unit::VoltDc),
    (&["current"], Unit::Ampere),
    (&["power", "power output", "output power"], Unit::Watt),
    (&["sinad"], Unit::DecibelSinad),
];

/// Instruments, and in which unit they read.
pub(super) const INSTRUMENTS: &[(&[&str], Unit)] = &[
    (&["vtvm", "voltmeter", "dc voltmeter", "dvm"], Unit::VoltDc),
    (&["wattmeter", "power meter"], Unit::Watt),
    (&["ammeter"], Unit::Ampere),
    (&["sinad meter", "sinadder"], Unit::DecibelSinad),
];

/// Words that a title ends with, and in which unit that is read.
pub(super) const ENDS: &[(&str, Unit)] = &[
    ("voltage", Unit::VoltDc),
    ("voltages", Unit::VoltDc),
    ("current", Unit::Ampere),
    ("resistance", Unit::Ohm),
    ("temperature", Unit::Celsius),
];

/// Headings of what is done, above which marks such as `A1` count.
pub(super) const STEPS: &[&str] = &["step", "test", "check", "test step", "operation"];

/// Words in headings that say only that something is read.
pub(super) const READINGS: &[&str] = &[
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

/// Words that a heading of what is to be read begins with.
pub(super) const HEADS: &[&str] = &[
    "expected",
    "required",
    "desired",
    "correct",
    "acceptable",
    "permissible",
    "allowable",
];

/// Words that a heading of what is read ends with.
pub(super) const QUANTITY_NOUNS: &[&str] = &[
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

/// What decibels are counted down from, where they stand as a unit.
pub(super) const BELOW: &[&str] = &[
    "below", "down", "above", "re", "rel", "relative", "ref", "referred",
];

/// Words of what is the worse the larger its level is.
pub(super) const WORSE_MORE: &[&str] = &[
    "hum",
    "noise",
    "spurious",
    "spurious emission",
    "spurious emissions",
    "harmonic",
    "harmonics",
    "2nd harmonic",
    "crosstalk",
    "leakage",
    "intermodulation",
    "carrier suppression",
    "carrier leak",
    "emissions",
    "radiation",
];

/// Words of what is the better the more decibels it has.
pub(super) const REJECTS: &[&str] = &[
    "rejection",
    "suppression",
    "selectivity",
    "isolation",
    "separation",
    "image",
    "adjacent channel",
    "notch depth",
    "spurious response",
    "spurious responses",
    "blocking",
];

/// Words of volts that are no direct voltage.
pub(super) const ALTERNATING: &[&str] = &[
    "rf level",
    "rf voltage",
    "rf volts",
    "rf output",
    "rf input",
    "rf signal",
    "af level",
    "af voltage",
    "af output",
    "af input",
    "audio level",
    "audio voltage",
    "audio output",
    "audio input",
    "audio signal",
    "signal level",
    "signal voltage",
    "injection",
    "ripple",
    "hum",
    "noise",
    "oscillator level",
    "oscillator output",
    "drive level",
    "if level",
    "if output",
    "microphone input",
    "modulation input",
];

/// Words that an adjustment begins with.
pub(super) const TURNS: &[&str] = &[
    "adjust", "set", "turn", "tune", "trim", "align", "rotate", "peak", "dip", "null",
];

/// Words that make a demand of what follows them.
pub(super) const MODALS: &[&str] = &["shall", "should", "must", "will"];

/// Words that ask to see whether something is so.
pub(super) const VERIFIED: &[&str] = &["verify", "check", "confirm", "ensure", "make sure"];

/// Words by which a sentence says how far a reading goes from where it was.
pub(super) const MOVES: &[&str] = &[
    "drops by",
    "falls by",
    "decreases by",
    "rises by",
    "increases by",
    "changes by",
];

/// Instruments that read no direct voltage.
pub(super) const AC_METERS: &[&str] = &["ac vtvm", "ac voltmeter", "ac millivoltmeter", "af vtvm"];

/// Instruments that make what is read beside them, and that is no direct voltage.
pub(super) const AC_SOURCES: &[&str] =
    &["ag", "audio generator", "audio oscillator", "af oscillator"];

/// What a box to tick has beside it.
pub(super) const BOXED: &[&str] = &["pass", "fail", "yes", "no", "ok", "n", "a", "done", "x"];

/// Words that a sentence begins with that holds only in some case.
pub(super) const CONDITIONALS: &[&str] = &["if", "when", "unless", "in case", "where"];

/// What an adjustment is done during.
pub(super) const MEANWHILE: &[&str] = &[
    "while monitoring",
    "while observing",
    "while watching",
    "while measuring",
    "monitoring",
    "observing",
];

/// What a part is called before its name.
pub(super) const PARTS: &[&str] = &[
    "the",
    "control",
    "controls",
    "core",
    "cores",
    "slug",
    "slugs",
    "coil",
    "coils",
    "trimmer",
    "trimmers",
    "capacitor",
    "potentiometer",
    "pot",
    "transformer",
    "resistor",
    "of",
];

/// Words of what is off to either side.
pub(super) const OFFSETS: &[&str] = &["offset", "error", "unbalance", "imbalance"];
