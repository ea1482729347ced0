//! Words of what is to be done.

/// Words that an instruction to do something begins with.
pub(in crate::authoring::table) const ACTIONS: &[&str] = &[
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
pub(in crate::authoring::table) const NAMES_TOO: &[&str] = &[
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
pub(in crate::authoring::table) const OBJECTS: &[&str] = &[
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
pub(in crate::authoring::table) const CONTROLS: &[&str] = &[
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

pub(in crate::authoring::table) const POSITIONS: &[&str] =
    &["to", "at", "in", "off", "on", "fully"];

/// Words that end a few words about how things are put.
pub(in crate::authoring::table) const PUT: &[&str] = &["on", "off", "in", "out", "back"];

/// Words that an instruction to look begins with.
pub(in crate::authoring::table) const LOOKS: &[&str] =
    &["inspect", "examine", "look", "visual", "visually"];

/// Words that promise a reading or a setting, which some other words must then state.
pub(in crate::authoring::table) const MEASURES: &[&str] = &[
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
pub(in crate::authoring::table) const REFERS: &[&str] = &[
    "refer to",
    "see",
    "per",
    "as per",
    "according to",
    "same",
    "as in",
    "as step",
];

/// Words that an instruction to bring a signal or a supply begins with; a figure there is what it
/// has.
pub(in crate::authoring::table) const APPLIES: &[&str] = &["apply", "feed", "inject", "supply"];

/// What stands in place of what is turned where nothing is.
pub(in crate::authoring::table) const VERIFIES: &[&str] = &[
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
pub(in crate::authoring::table) const PROMISES: &[&str] = &[
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

/// Words that an adjustment begins with.
pub(in crate::authoring::table) const TURNS: &[&str] = &[
    "adjust", "set", "turn", "tune", "trim", "align", "rotate", "peak", "dip", "null",
];

/// Words that make a demand of what follows them.
pub(in crate::authoring::table) const MODALS: &[&str] = &["shall", "should", "must", "will"];

/// Words that ask to see whether something is so.
pub(in crate::authoring::table) const VERIFIED: &[&str] =
    &["verify", "check", "confirm", "ensure", "make sure"];

/// Words by which a sentence says how far a reading goes from where it was.
pub(in crate::authoring::table) const MOVES: &[&str] = &[
    "drops by",
    "falls by",
    "decreases by",
    "rises by",
    "increases by",
    "changes by",
];

/// Words that a sentence begins with that holds only in some case.
pub(in crate::authoring::table) const CONDITIONALS: &[&str] =
    &["if", "when", "unless", "in case", "where"];

/// Words before a limit that something is done about where a reading doesn't keep it.
pub(in crate::authoring::table) const UNLESS: &[&str] = &[
    "does not indicate ",
    "do not indicate ",
    "does not read ",
    "do not read ",
];

/// What an adjustment is done during.
pub(in crate::authoring::table) const MEANWHILE: &[&str] = &[
    "while monitoring",
    "while observing",
    "while watching",
    "while measuring",
    "monitoring",
    "observing",
];

/// What a part is called before its name.
pub(in crate::authoring::table) const PARTS: &[&str] = &[
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

/// Words by which a sentence says what nothing may do.
pub(in crate::authoring::table) const DENIALS: &[&str] = &["no", "none", "neither", "never", "nor"];
