//! Through which filter a receiver's output is heard.
//!
//! The tables are those of the standards; between their lines the decibels run straight over the
//! logarithm of the frequency. Outside a table nothing is counted, for it says nothing there.

use super::figure::power_of;
use serde::{Deserialize, Serialize};

/// A filter before the meter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Weighting {
    /// None: all that the record holds but its constant part.
    Whole,
    /// Even from 300 to 3400 Hz, nothing outside.
    Speech,
    /// Psophometric, ITU-T O.41 (10/94): 0 dB at 800 Hz, hence 1 dB at 1 kHz.
    Psophometric,
    /// C-message, IEEE Std 743: 0 dB at 1 kHz.
    CMessage,
}

/// Frequency in hertz with the decibels there.
type Table = &'static [(f64, f64)];

/// ITU-T O.41 (10/94) as quoted by Table A.1 of the ballot draft of ANSI/TIA-470.120-C.
pub const PSOPHOMETRIC: Table = &[
    (16.66, -85.0),
    (50.0, -63.0),
    (100.0, -41.0),
    (200.0, -21.0),
    (300.0, -10.6),
    (400.0, -6.3),
    (500.0, -3.6),
    (600.0, -2.0),
    (700.0, -0.9),
    (800.0, 0.0),
    (900.0, 0.6),
    (1000.0, 1.0),
    (1200.0, 0.0),
    (1400.0, -0.9),
    (1600.0, -1.7),
    (1800.0, -2.4),
    (2000.0, -3.0),
    (2500.0, -4.2),
    (3000.0, -5.6),
    (3500.0, -8.5),
    (4000.0, -15.0),
    (4500.0, -25.0),
    (5000.0, -36.0),
    (6000.0, -43.0),
];

/// IEEE Std 743-1995 as quoted by Table A.2 of the same draft.
pub const C_MESSAGE: Table = &[
    (60.0, -55.7),
    (100.0, -42.5),
    (200.0, -25.1),
    (300.0, -16.3),
    (400.0, -11.2),
    (500.0, -7.7),
    (600.0, -5.0),
    (700.0, -2.8),
    (800.0, -1.3),
    (900.0, -0.3),
    (1000.0, 0.0),
    (1200.0, -0.4),
    (1300.0, -0.7),
    (1500.0, -1.2),
    (1800.0, -1.3),
    (2000.0, -1.1),
    (2500.0, -1.1),
    (2800.0, -2.0),
    (3000.0, -3.0),
    (3300.0, -5.1),
    (3500.0, -7.1),
    (4000.0, -14.6),
    (4500.0, -22.3),
    (5000.0, -28.7),
];

impl Weighting {
    /// All there are.
    pub const ALL: [Weighting; 4] = [
        Weighting::Speech,
        Weighting::Psophometric,
        Weighting::CMessage,
        Weighting::Whole,
    ];

    /// Its name.
    pub const fn name(self) -> &'static str {
        match self {
            Weighting::Whole => "no filter",
            Weighting::Speech => "300–3400\u{a0}Hz",
            Weighting::Psophometric => "psophometric (ITU-T O.41)",
            Weighting::CMessage => "C-message (IEEE 743)",
        }
    }

    /// What it does to power at a frequency in hertz.
    pub fn power(self, hertz: f64) -> f64 {
        match self {
            Weighting::Whole => 1.0,
            Weighting::Speech => f64::from(u8::from((300.0..=3400.0).contains(&hertz))),
            Weighting::Psophometric => tabled(PSOPHOMETRIC, hertz),
            Weighting::CMessage => tabled(C_MESSAGE, hertz),
        }
    }
}

fn tabled(table: Table, hertz: f64) -> f64 {
    let above = table.iter().position(|(frequency, _)| *frequency >= hertz);
    match above {
        None => 0.0,
        Some(0) if table[0].0 > hertz => 0.0,
        Some(0) => power_of(table[0].1),
        Some(at) => {
            let ((low, from), (high, to)) = (table[at - 1], table[at]);
            power_of(from + (to - from) * (hertz / low).ln() / (high / low).ln())
        }
    }
}
