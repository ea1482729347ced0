//! Aeronautical radio in the VHF band, AM: rules of the United States for aircraft and for ground
//! stations, and what ICAO Annex 10 asks of either.

use super::Known::{FromMemory, Read};
use crate::radio::limits::row::Row;
use crate::radio::limits::row::Text::{AtMost, BelowPower, Between, Ppm};

const EIGHT: Row = (
    "frequency-8-33",
    "Frequency, 8.33 kHz channels, enroute",
    Ppm(5),
    "87.133(g)",
    Read,
);

const MOST_DEPTH: Row = (
    "depth-most",
    "Modulation depth, AM voice, not exceeded",
    AtMost("100 %"),
    "87.141(a)",
    Read,
);

const BANDWIDTH: Row = (
    "bandwidth",
    "Authorized bandwidth, AM, 25 kHz channels",
    AtMost("25 kHz"),
    "87.137(a), footnote 3",
    Read,
);

const BANDWIDTH_EIGHT: Row = (
    "bandwidth-8-33",
    "Authorized bandwidth, AM, 8.33 kHz channels",
    AtMost("8.33 kHz"),
    "87.137(a), footnote 17",
    Read,
);

const NEAR: Row = (
    "unwanted-near",
    "Unwanted emissions, from 50 % to 100 % of the authorized bandwidth",
    AtMost("-25 dBc"),
    "87.139(a)(1)",
    Read,
);

const FAR: Row = (
    "unwanted-far",
    "Unwanted emissions, from 100 % to 250 % of the authorized bandwidth",
    AtMost("-35 dBc"),
    "87.139(a)(2)",
    Read,
);

const BEYOND: Row = (
    "unwanted-beyond",
    "Unwanted emissions, beyond 250 % of the authorized bandwidth, above 30 MHz",
    BelowPower(43),
    "87.139(d)",
    Read,
);

pub(super) const AIRCRAFT: &[Row] = &[
    (
        "frequency",
        "Frequency, aircraft station, 108 to 137 MHz",
        Ppm(30),
        "87.133(a)(5)",
        Read,
    ),
    EIGHT,
    (
        "carrier-power",
        "Carrier power, aircraft station",
        AtMost("55 W"),
        "87.131",
        Read,
    ),
    MOST_DEPTH,
    BANDWIDTH,
    BANDWIDTH_EIGHT,
    NEAR,
    FAR,
    BEYOND,
];

pub(super) const GROUND: &[Row] = &[
    (
        "frequency",
        "Frequency, aeronautical station on the ground",
        Ppm(20),
        "87.133(a)(5)",
        Read,
    ),
    EIGHT,
    (
        "carrier-power",
        "Carrier power, control tower",
        AtMost("50 W"),
        "87.131",
        Read,
    ),
    (
        "carrier-power-small",
        "Carrier power, advisory, multi-user or mobile station on the ground",
        AtMost("10 W"),
        "87.131",
        Read,
    ),
    MOST_DEPTH,
    BANDWIDTH,
    BANDWIDTH_EIGHT,
    NEAR,
    FAR,
    BEYOND,
];

/// That 100 % is the most there is needs no document.
const DEPTH: Row = (
    "depth",
    "Peak modulation depth that is reached",
    Between("85 %", "100 %"),
    "Volume III, Part II, chapter 2",
    FromMemory,
);

pub(super) const ICAO_AIRBORNE: &[Row] = &[
    (
        "frequency-icao",
        "Frequency, airborne, 25 kHz channels",
        Ppm(30),
        "Volume III, Part II, chapter 2",
        FromMemory,
    ),
    DEPTH,
];

pub(super) const ICAO_GROUND: &[Row] = &[
    (
        "frequency-icao",
        "Frequency, ground, 25 kHz channels",
        Ppm(20),
        "Volume III, Part II, chapter 2",
        FromMemory,
    ),
    (
        "frequency-icao-8-33",
        "Frequency, ground, 8.33 kHz channels",
        Ppm(1),
        "Volume III, Part II, chapter 2",
        FromMemory,
    ),
    DEPTH,
];
