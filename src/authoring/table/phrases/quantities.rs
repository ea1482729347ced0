//! Words that tell of what is read: its unit, and which side of it is the better.

use crate::quantity::Unit;

/// Readings for which the least means the largest figure: a more sensitive set needs less.
pub(in crate::authoring::table) const TURNED_ROUND: &[&str] = &["sensitivity", "quieting"];

/// How good a signal is, for which a receiver needs so much.
pub(in crate::authoring::table) const QUALITIES: &[&str] = &[
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
pub(in crate::authoring::table) const JOINTS: &[&str] =
    &[" at ", " @ ", " for ", " with ", " gives ", " from "];

/// Words of what is better the more there is of it.
pub(in crate::authoring::table) const BETTER_MORE: &[&str] = &[
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
pub(in crate::authoring::table) const BETTER_LESS: &[&str] = &[
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
pub(in crate::authoring::table) const SWINGS: &[&str] =
    &["deviation", "peak deviation", "fm deviation"];

/// Words that say of which kind volts are.
pub(in crate::authoring::table) const KINDS_OF_VOLTS: &[(&[&str], Unit)] = &[
    (
        &["p-p", "pp", "pk-pk", "peak-to-peak", "peak to peak"],
        Unit::VoltPeakToPeak,
    ),
    (&["rms", "r.m.s."], Unit::VoltRms),
    (&["emf"], Unit::VoltEmf),
    (&["pd", "p.d."], Unit::VoltPd),
];

/// Words that name what is read, and its unit without prefix.
pub(in crate::authoring::table) const QUANTITIES: &[(&[&str], Unit)] = &[
    (
        &["resistance", "resistances", "resistor", "ohmmeter"],
        Unit::Ohm,
    ),
    (&["capacitance"], Unit::Farad),
    (&["inductance"], Unit::Henry),
    (&["vswr", "swr", "standing wave ratio"], Unit::Ratio),
];

/// Words of what is brought to its largest or smallest, and in which unit that is read.
pub(in crate::authoring::table) const EXTREMES: &[(&[&str], Unit)] = &[
    (&["voltage", "voltages", "volts"], Unit::VoltDc),
    (&["current"], Unit::Ampere),
    (&["power", "power output", "output power"], Unit::Watt),
    (&["sinad"], Unit::DecibelSinad),
];

/// Instruments, and in which unit they read.
pub(in crate::authoring::table) const INSTRUMENTS: &[(&[&str], Unit)] = &[
    (&["vtvm", "voltmeter", "dc voltmeter", "dvm"], Unit::VoltDc),
    (&["wattmeter", "power meter"], Unit::Watt),
    (&["ammeter"], Unit::Ampere),
    (&["sinad meter", "sinadder"], Unit::DecibelSinad),
];

/// Words of what is the worse the larger its level is.
pub(in crate::authoring::table) const WORSE_MORE: &[&str] = &[
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
pub(in crate::authoring::table) const REJECTS: &[&str] = &[
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

/// Words of what is lost on the way, printed with or without the sign.
pub(in crate::authoring::table) const LOSSES: &[&str] = &[
    "insertion loss",
    "cable loss",
    "line loss",
    "path loss",
    "through loss",
    "conversion loss",
];

/// Words of how far something reaches to both sides.
pub(in crate::authoring::table) const REACHES: &[&str] = &[
    "range",
    "shift",
    "span",
    "passband",
    "pass band",
    "bandwidth",
    "pull in",
    "pull-in",
];

/// Words of volts that are no direct voltage.
pub(in crate::authoring::table) const ALTERNATING: &[&str] = &[
    "sidetone",
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

/// Instruments that read no direct voltage.
pub(in crate::authoring::table) const AC_METERS: &[&str] =
    &["ac vtvm", "ac voltmeter", "ac millivoltmeter", "af vtvm"];

/// Instruments that make what is read beside them, and that is no direct voltage.
pub(in crate::authoring::table) const AC_SOURCES: &[&str] =
    &["ag", "audio generator", "audio oscillator", "af oscillator"];

/// Words of what is off to either side.
pub(in crate::authoring::table) const OFFSETS: &[&str] =
    &["offset", "error", "unbalance", "imbalance"];

/// What a figure of its unit is, in a word behind it.
pub(in crate::authoring::table) const PLAIN_QUANTITIES: &[&str] =
    &["current", "resistance", "voltage"];

/// Words between the name of what is read and what that is of.
pub(in crate::authoring::table) const OF_WHAT: &[&str] = &["across", "of", "outside"];
