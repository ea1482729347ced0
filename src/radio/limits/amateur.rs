//! Amateur radio below 30 MHz: rules of the United States, and the spurious limits of the Radio
//! Regulations.

use super::Known::{FromMemory, Read};
use crate::radio::limits::row::Row;
use crate::radio::limits::row::Text::{AtMost, BelowPowerUpTo};

pub(super) const US: &[Row] = &[
    (
        "unwanted",
        "Spurious emissions, below the mean power, transmitters installed after 1 January 2003",
        AtMost("-43 dBc"),
        "97.307(d)",
        Read,
    ),
    (
        "unwanted-older",
        "Spurious emissions, below the mean power, transmitters installed up to 1 January 2003",
        AtMost("-40 dBc"),
        "97.307(d)",
        Read,
    ),
    (
        "unwanted-older-most",
        "Mean power of any spurious emission, transmitters installed up to 1 January 2003",
        AtMost("50 mW"),
        "97.307(d)",
        Read,
    ),
    (
        "unwanted-older-small",
        "Spurious emissions, transmitters of less than 5 W mean power, installed up to 1 January 2003",
        AtMost("-30 dBc"),
        "97.307(d)",
        Read,
    ),
    (
        "pep",
        "Peak envelope power",
        AtMost("1.5 kW PEP"),
        "97.313(b)",
        Read,
    ),
    (
        "pep-30-m",
        "Peak envelope power, 10.10 to 10.15 MHz",
        AtMost("200 W PEP"),
        "97.313(c)(1)",
        Read,
    ),
    (
        "bandwidth-60-m",
        "Bandwidth of telephony in the 60 m band",
        AtMost("2.8 kHz"),
        "97.307(f)(14)",
        Read,
    ),
];

pub(super) const RADIO_REGULATIONS: &[Row] = &[(
    "unwanted",
    "Spurious emissions, amateur stations below 30 MHz, below the peak envelope power",
    BelowPowerUpTo(43, 50),
    "spurious domain limits",
    FromMemory,
)];
