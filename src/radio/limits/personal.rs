//! Personal radio near 27 MHz: rules of the United States, of Europe and of the United Kingdom.

use super::Known::{FromMemory, Read, ReadSecondHand};
use crate::radio::limits::row::Row;
use crate::radio::limits::row::Text::{AtMost, BelowPower, Between, Ppm, Within};

pub(super) const US: &[Row] = &[
    (
        "frequency",
        "Carrier frequency, for SSB the reference frequency",
        Ppm(50),
        "95.965",
        Read,
    ),
    (
        "carrier-power",
        "Mean carrier power, AM or FM",
        AtMost("4 W"),
        "95.967(a)",
        Read,
    ),
    (
        "pep",
        "Peak envelope power, SSB",
        AtMost("12 W PEP"),
        "95.967(b)",
        Read,
    ),
    (
        "depth",
        "Modulation depth, AM voice",
        Between("85 %", "100 %"),
        "95.975(a)",
        Read,
    ),
    (
        "deviation",
        "Peak deviation, FM",
        AtMost("2 kHz"),
        "95.975(c)",
        Read,
    ),
    (
        "bandwidth-am-fm",
        "Authorized bandwidth, AM or FM",
        AtMost("8 kHz"),
        "95.973",
        ReadSecondHand,
    ),
    (
        "bandwidth-ssb",
        "Authorized bandwidth, SSB",
        AtMost("4 kHz"),
        "95.973",
        ReadSecondHand,
    ),
    (
        "unwanted-am-fm-near",
        "Unwanted emissions, AM or FM, 4 to 8 kHz from the centre",
        AtMost("-25 dBc"),
        "95.979(a)(1); as the former 95.635(b)",
        FromMemory,
    ),
    (
        "unwanted-am-fm-far",
        "Unwanted emissions, AM or FM, 8 to 20 kHz from the centre",
        AtMost("-35 dBc"),
        "95.979(a)(2); as the former 95.635(b)",
        FromMemory,
    ),
    (
        "unwanted-ssb-near",
        "Unwanted emissions, SSB, 2 to 6 kHz from the centre",
        AtMost("-25 dBc"),
        "95.979(a)(1); as the former 95.635(b)",
        FromMemory,
    ),
    (
        "unwanted-ssb-far",
        "Unwanted emissions, SSB, 6 to 10 kHz from the centre",
        AtMost("-35 dBc"),
        "95.979(a)(2); as the former 95.635(b)",
        FromMemory,
    ),
    (
        "unwanted-am-fm-beyond",
        "Unwanted emissions, AM or FM, beyond 20 kHz from the centre",
        BelowPower(53),
        "95.979(a)(3); as the former 95.635(b)(8)",
        FromMemory,
    ),
    (
        "unwanted-ssb-beyond",
        "Unwanted emissions, SSB, beyond 10 kHz from the centre",
        BelowPower(53),
        "95.979(a)(3); as the former 95.635(b)(8)",
        FromMemory,
    ),
    (
        "harmonics",
        "Emissions centred on each harmonic",
        AtMost("-60 dBc"),
        "95.979(a)(4); as the former 95.635(b)(9)",
        FromMemory,
    ),
];

/// Rows of [`US`] that older procedures cite: the same for one power, with the power taken as known.
pub(super) const US_OF_ONE_POWER: &[Row] = &[
    (
        "unwanted-4-w",
        "Unwanted emissions beyond 20 kHz from the centre, at 4 W: 53 + 10 log P",
        AtMost("-59.02 dBc"),
        "95.979(a)(3)",
        FromMemory,
    ),
    (
        "unwanted-12-w",
        "Unwanted emissions beyond 10 kHz from the centre, SSB at 12 W: 53 + 10 log P",
        AtMost("-63.79 dBc"),
        "95.979(a)(3)",
        FromMemory,
    ),
];

pub(super) const US_FORMER: &[Row] = &[
    (
        "unwanted-am-near",
        "Unwanted emissions, AM, from 50 % to 100 % of the authorized bandwidth",
        AtMost("-25 dBc"),
        "95.635(b)(1)",
        Read,
    ),
    (
        "unwanted-ssb-near",
        "Unwanted emissions, SSB, from 50 % to 150 % of the authorized bandwidth",
        AtMost("-25 dBc"),
        "95.635(b)(2)",
        Read,
    ),
    (
        "unwanted-am-far",
        "Unwanted emissions, AM, from 100 % to 250 % of the authorized bandwidth",
        AtMost("-35 dBc"),
        "95.635(b)(3)",
        Read,
    ),
    (
        "unwanted-ssb-far",
        "Unwanted emissions, SSB, from 150 % to 250 % of the authorized bandwidth",
        AtMost("-35 dBc"),
        "95.635(b)(4)",
        Read,
    ),
    (
        "unwanted-beyond",
        "Unwanted emissions, AM and SSB, beyond 250 % of the authorized bandwidth",
        BelowPower(53),
        "95.635(b)(8)",
        Read,
    ),
    (
        "unwanted-beyond-old",
        "The same for AM sets accepted before 10 September 1976, SSB sets before 10 September 1986",
        BelowPower(43),
        "95.635(b)(7)",
        Read,
    ),
    (
        "harmonics",
        "Any frequency at or above twice the carrier",
        AtMost("-60 dBc"),
        "95.635(b)(9)",
        Read,
    ),
];

pub(super) const EUROPE_DECISION: &[Row] = &[
    (
        "power-angle",
        "Radiated power, FM",
        AtMost("4 W"),
        "decides 5, text of 2011",
        ReadSecondHand,
    ),
    (
        "power-dsb",
        "Radiated power, AM, RMS",
        AtMost("4 W"),
        "decides 5, text of 2011",
        ReadSecondHand,
    ),
    (
        "power-ssb",
        "Radiated peak envelope power, SSB",
        AtMost("12 W PEP"),
        "decides 5, text of 2011",
        ReadSecondHand,
    ),
];

/// The edition of 1995, for sets that are older than the powers of today.
pub(super) const EUROPE_STANDARD_1995: &[Row] = &[
    (
        "carrier-power",
        "Carrier power, AM",
        AtMost("1 W"),
        "abstract in a catalogue",
        ReadSecondHand,
    ),
    (
        "pep",
        "Peak envelope power, SSB",
        AtMost("4 W PEP"),
        "abstract in a catalogue",
        ReadSecondHand,
    ),
];

pub(super) const EUROPE_STANDARD: &[Row] = &[
    (
        "frequency",
        "Frequency error",
        Within("0.6 kHz"),
        "frequency error",
        FromMemory,
    ),
    (
        "carrier-power",
        "Carrier power, FM and AM",
        AtMost("4 W"),
        "carrier power",
        FromMemory,
    ),
    (
        "pep",
        "Peak envelope power, SSB",
        AtMost("12 W PEP"),
        "carrier power",
        FromMemory,
    ),
    (
        "adjacent",
        "Adjacent channel power",
        AtMost("20 µW"),
        "adjacent channel power",
        FromMemory,
    ),
    (
        "spurious-broadcast",
        "Conducted spurious emissions while transmitting, in the listed broadcast bands",
        AtMost("4 nW"),
        "spurious emissions",
        FromMemory,
    ),
    (
        "spurious-low",
        "Conducted spurious emissions while transmitting, elsewhere below 1 GHz",
        AtMost("0.25 µW"),
        "spurious emissions",
        FromMemory,
    ),
    (
        "spurious-high",
        "Conducted spurious emissions while transmitting, above 1 GHz",
        AtMost("1 µW"),
        "spurious emissions",
        FromMemory,
    ),
    (
        "standby-low",
        "Conducted spurious emissions in standby, below 1 GHz",
        AtMost("2 nW"),
        "spurious emissions",
        FromMemory,
    ),
    (
        "standby-high",
        "Conducted spurious emissions in standby, above 1 GHz",
        AtMost("20 nW"),
        "spurious emissions",
        FromMemory,
    ),
];

pub(super) const EUROPE_FM: &[Row] = &[(
    "deviation",
    "Peak deviation, FM",
    AtMost("2 kHz"),
    "deviation",
    FromMemory,
)];

pub(super) const UK: &[Row] = &[
    (
        "frequency",
        "Frequency error",
        Within("1.5 kHz"),
        "tolerance",
        FromMemory,
    ),
    (
        "deviation",
        "Peak deviation, in sets placed on the market before 1997",
        AtMost("2.5 kHz"),
        "deviation",
        ReadSecondHand,
    ),
];

/// What followed it in 1997.
pub(super) const UK_FROM_1997: &[Row] = &[
    (
        "frequency",
        "Frequency error",
        Within("0.6 kHz"),
        "tolerance",
        ReadSecondHand,
    ),
    (
        "carrier-power",
        "Carrier power, FM or PM; radiated from a built-in aerial",
        AtMost("4 W"),
        "power",
        ReadSecondHand,
    ),
    (
        "deviation",
        "Peak deviation, FM or PM",
        AtMost("2 kHz"),
        "deviation",
        ReadSecondHand,
    ),
    (
        "adjacent",
        "Adjacent channel power",
        AtMost("20 µW"),
        "adjacent channel power",
        ReadSecondHand,
    ),
    (
        "sensitivity",
        "Sensitivity of sets with an aerial socket; the guide doesn't say whether EMF or PD",
        AtMost("6 dBµV"),
        "sensitivity",
        ReadSecondHand,
    ),
];
