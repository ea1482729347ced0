//! Units as they are printed beside their symbols.

/// Spellings of units beside their symbols, in lower case.
pub(in crate::authoring::table) const UNITS: &[(&str, &[&str])] = &[
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
    (
        "A",
        &[
            "amp",
            "amps",
            "ampere",
            "amperes",
            "a dc",
            "adc",
            "amp dc",
            "amps dc",
            "amperes dc",
        ],
    ),
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
    ("W", &["watt", "watts", "w rms", "w"]),
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
pub(in crate::authoring::table) const VOLTS: &[(&str, &[&str])] = &[
    ("V", &["v", "volt", "volts"]),
    ("mV", &["mv", "millivolt", "millivolts"]),
    ("µV", &["µv", "uv", "microvolt", "microvolts"]),
    ("kV", &["kv", "kilovolt", "kilovolts"]),
];

/// What follows a unit and makes another one of it that isn't known: volts RF may be any kind,
/// and so much per something is no plain figure.
pub(in crate::authoring::table) const TURNED_UNITS: &[&str] = &[
    "rf", "r.f.", "r-f", "pd", "p.d.", "/", "per", "dbm", "high", "wide",
];

/// Units that may end a heading with nothing around them.
pub(in crate::authoring::table) const TAIL_UNITS: &[&str] = &[
    "hz", "khz", "mhz", "ghz", "dbm", "dbc", "db", "mv", "µv", "uv", "mw", "ma", "volts", "watts",
    "ohms", "amps", "percent", "%", "ppm", "vdc", "vac", "v dc", "v ac", "volts dc", "volts ac",
    "dc volts", "ac volts", "vpp", "v p-p", "v rms", "kω", "ω",
];

/// What decibels are counted down from, where they stand as a unit.
pub(in crate::authoring::table) const BELOW: &[&str] = &[
    "below", "down", "above", "re", "rel", "relative", "ref", "referred",
];
