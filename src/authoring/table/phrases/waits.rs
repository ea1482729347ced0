//! Words of waiting and of stopping.

/// Words that make a duration of the figure before them.
pub(in crate::authoring::table) const DURATIONS: &[&str] = &[
    "s", "sec", "secs", "second", "seconds", "min", "minute", "minutes", "h", "hour", "hours",
    "hrs",
];

/// Words behind which a time is one to wait.
pub(in crate::authoring::table) const WAITS: &[&str] = &[
    "wait", "waiting", "allow", "warm", "warmup", "soak", "leave",
];

/// Numbers that tables write out.
pub(in crate::authoring::table) const NUMBERS: &[(&str, u32)] = &[
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

/// What a stop begins with.
pub(in crate::authoring::table) const STOPS: &[&str] = &[
    "stop:",
    "stop.",
    "stop!",
    "stop -",
    "stop –",
    "do not proceed",
    "do not go on",
];

/// What says that steps are repeated until all of them are right.
pub(in crate::authoring::table) const ALL_INSIDE: &[&str] = &[
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
pub(in crate::authoring::table) const NO_CHANGE: &[&str] = &[
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
pub(in crate::authoring::table) const GO_ON: &[&str] = &[
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
pub(in crate::authoring::table) const HOLDS: &[&str] =
    &["discharge", "wait", "let", "allow", "leave", "bleed"];
