//! The units of the bench. To add one: a variant, its line in `facts`, its place in `ALL`.

use super::Prefix::{self, *};

/// A unit as a bench instrument shows it.
///
/// Kinds of volts are units of their own, since a reading in one is not a reading in another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Unit {
    /// Frequency.
    Hertz,
    /// Direct voltage.
    VoltDc,
    /// Alternating voltage, root mean square.
    VoltRms,
    /// Alternating voltage, peak.
    VoltPeak,
    /// Alternating voltage, peak to peak.
    VoltPeakToPeak,
    /// Electromotive force of a generator, before its source impedance.
    VoltEmf,
    /// Potential difference that a generator delivers into its load.
    VoltPd,
    /// Current.
    Ampere,
    /// Power.
    Watt,
    /// Power at the crest of the envelope, as of two tones: no meter of mean power reads it.
    WattPep,
    /// Power relative to 1 mW.
    DecibelMilliwatt,
    /// Power at the crest of the envelope relative to 1 mW.
    DecibelMilliwattPep,
    /// Power relative to 1 W.
    DecibelWatt,
    /// A ratio in decibels.
    Decibel,
    /// A signal with noise and distortion, against noise and distortion.
    DecibelSinad,
    /// A signal with noise, against noise.
    DecibelSignalAndNoise,
    /// A signal against noise.
    DecibelSignalToNoise,
    /// Decibels relative to the carrier.
    DecibelCarrier,
    /// Voltage relative to 1 µV.
    DecibelMicrovolt,
    /// Electromotive force relative to 1 µV.
    DecibelMicrovoltEmf,
    /// Potential difference of a generator relative to 1 µV.
    DecibelMicrovoltPd,
    /// Resistance or impedance.
    Ohm,
    /// Capacitance.
    Farad,
    /// Inductance.
    Henry,
    /// Energy.
    Joule,
    /// Parts in a hundred.
    Percent,
    /// Parts in a million.
    PartsPerMillion,
    /// A plain ratio, such as a standing wave ratio.
    Ratio,
    /// Points of a meter of received strength.
    StrengthPoint,
    /// Divisions of a scale or of a screen.
    Division,
    /// Temperature.
    Celsius,
    /// Thermal resistance.
    CelsiusPerWatt,
    /// Time.
    Second,
}

/// What a unit measures, coarsely: units of one family are easily taken for each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Family {
    /// Any kind of volts.
    Voltage,
    /// Decibels of any reference.
    Level,
    /// Everything else, each its own.
    Other,
}

struct Facts {
    symbol: &'static str,
    name: &'static str,
    prefixes: &'static [Prefix],
    /// What fingers type for it, in lower case.
    spellings: &'static [&'static str],
}

const fn facts(
    symbol: &'static str,
    name: &'static str,
    prefixes: &'static [Prefix],
    spellings: &'static [&'static str],
) -> Facts {
    Facts {
        symbol,
        name,
        prefixes,
        spellings,
    }
}

const PLAIN: &[Prefix] = &[None];
const VOLTS: &[Prefix] = &[Nano, Micro, Milli, None, Kilo];

impl Unit {
    /// Every unit, in the order in which a list shows them.
    pub const ALL: &[Unit] = &[
        Unit::Hertz,
        Unit::VoltDc,
        Unit::VoltRms,
        Unit::VoltPeak,
        Unit::VoltPeakToPeak,
        Unit::VoltEmf,
        Unit::VoltPd,
        Unit::Ampere,
        Unit::Watt,
        Unit::WattPep,
        Unit::DecibelMilliwatt,
        Unit::DecibelMilliwattPep,
        Unit::DecibelWatt,
        Unit::Decibel,
        Unit::DecibelSinad,
        Unit::DecibelSignalAndNoise,
        Unit::DecibelSignalToNoise,
        Unit::DecibelCarrier,
        Unit::DecibelMicrovolt,
        Unit::DecibelMicrovoltEmf,
        Unit::DecibelMicrovoltPd,
        Unit::Ohm,
        Unit::Farad,
        Unit::Henry,
        Unit::Joule,
        Unit::Percent,
        Unit::PartsPerMillion,
        Unit::Ratio,
        Unit::StrengthPoint,
        Unit::Division,
        Unit::Celsius,
        Unit::CelsiusPerWatt,
        Unit::Second,
    ];

    const fn facts(self) -> Facts {
        match self {
            Unit::Hertz => facts("Hz", "hertz", &[None, Kilo, Mega, Giga], &["hz"]),
            Unit::VoltDc => facts("V", "volts DC", VOLTS, &["v", "vdc", "v dc"]),
            Unit::VoltRms => facts("V rms", "volts RMS", VOLTS, &["vrms", "v rms"]),
            Unit::VoltPeak => facts(
                "V peak",
                "volts peak",
                VOLTS,
                &["vpk", "vp", "v peak", "vpeak"],
            ),
            Unit::VoltPeakToPeak => facts(
                "V p-p",
                "volts peak to peak",
                VOLTS,
                &["vpp", "v pp", "vp-p", "v p-p"],
            ),
            Unit::VoltEmf => facts("V EMF", "volts EMF", VOLTS, &["vemf", "v emf"]),
            Unit::VoltPd => facts("V PD", "volts PD", VOLTS, &["vpd", "v pd"]),
            Unit::Ampere => facts("A", "amperes", &[Nano, Micro, Milli, None], &["a", "amp"]),
            Unit::Watt => facts(
                "W",
                "watts",
                &[Pico, Nano, Micro, Milli, None, Kilo],
                &["w", "watt"],
            ),
            Unit::WattPep => facts(
                "W PEP",
                "watts PEP",
                &[Micro, Milli, None, Kilo],
                &["w pep", "wpep", "watt pep", "watts pep"],
            ),
            Unit::DecibelMilliwatt => facts("dBm", "dBm", PLAIN, &["dbm"]),
            Unit::DecibelMilliwattPep => facts("dBm PEP", "dBm PEP", PLAIN, &["dbm pep", "dbmpep"]),
            Unit::DecibelWatt => facts("dBW", "dBW", PLAIN, &["dbw"]),
            Unit::Decibel => facts("dB", "decibels", PLAIN, &["db"]),
            Unit::DecibelSinad => facts(
                "dB SINAD",
                "decibels SINAD",
                PLAIN,
                &["db sinad", "dbsinad"],
            ),
            Unit::DecibelSignalAndNoise => facts(
                "dB (S+N)/N",
                "decibels signal and noise to noise",
                PLAIN,
                &["db (s+n)/n", "db s+n/n", "db(s+n)/n"],
            ),
            Unit::DecibelSignalToNoise => facts(
                "dB S/N",
                "decibels signal to noise",
                PLAIN,
                &["db s/n", "db snr", "dbsnr"],
            ),
            Unit::DecibelCarrier => facts("dBc", "decibels to the carrier", PLAIN, &["dbc"]),
            Unit::DecibelMicrovolt => facts("dBµV", "dB microvolts", PLAIN, &["dbµv", "dbuv"]),
            Unit::DecibelMicrovoltEmf => facts(
                "dBµV EMF",
                "dB microvolts EMF",
                PLAIN,
                &["dbµv emf", "dbuv emf", "dbµvemf", "dbuvemf"],
            ),
            Unit::DecibelMicrovoltPd => facts(
                "dBµV PD",
                "dB microvolts PD",
                PLAIN,
                &["dbµv pd", "dbuv pd", "dbµvpd", "dbuvpd"],
            ),
            Unit::Ohm => facts(
                "Ω",
                "ohms",
                &[Milli, None, Kilo, Mega],
                &["ω", "ohm", "ohms", "r"],
            ),
            Unit::Farad => facts("F", "farads", &[Pico, Nano, Micro, Milli, None], &["f"]),
            Unit::Henry => facts("H", "henries", &[Nano, Micro, Milli, None], &["h"]),
            Unit::Joule => facts("J", "joules", &[Micro, Milli, None, Kilo], &["j"]),
            Unit::Percent => facts("%", "percent", PLAIN, &["%"]),
            Unit::PartsPerMillion => facts("ppm", "parts per million", PLAIN, &["ppm"]),
            Unit::Ratio => facts(":1", "to one", PLAIN, &[":1"]),
            Unit::StrengthPoint => facts(
                "S-points",
                "S-points",
                PLAIN,
                &["s-point", "s-points", "s-unit", "s-units"],
            ),
            Unit::Division => facts(
                "div",
                "divisions",
                PLAIN,
                &["div", "divs", "division", "divisions"],
            ),
            Unit::Celsius => facts("°C", "degrees Celsius", PLAIN, &["°c", "c", "degc"]),
            Unit::CelsiusPerWatt => facts(
                "°C/W",
                "degrees Celsius per watt",
                PLAIN,
                &["°c/w", "c/w", "k/w"],
            ),
            Unit::Second => facts("s", "seconds", &[Nano, Micro, Milli, None], &["s", "sec"]),
        }
    }

    /// The printed symbol without prefix.
    pub const fn symbol(self) -> &'static str {
        self.facts().symbol
    }

    /// The spoken name without prefix.
    pub const fn name(self) -> &'static str {
        self.facts().name
    }

    /// The prefixes in use with this unit, smallest first.
    pub const fn prefixes(self) -> &'static [Prefix] {
        self.facts().prefixes
    }

    /// The prefix in the middle of what a bench reads in this unit (common practice, no source).
    pub const fn usual_prefix(self) -> Prefix {
        match self {
            Unit::Hertz => Mega,
            Unit::VoltRms | Unit::Ampere | Unit::Second => Milli,
            Unit::VoltEmf | Unit::VoltPd | Unit::Henry => Micro,
            Unit::Farad => Nano,
            _ => None,
        }
    }

    /// Whether `text`, in lower case, is a usual way to type this unit.
    pub(super) fn is_spelled(self, text: &str) -> bool {
        self.facts().spellings.contains(&text)
    }

    /// The unit that it is a kind of, by whose name it may be called where it is due: a peak
    /// envelope power is in watts, a SINAD in decibels.
    pub const fn is_kind_of(self) -> Option<Unit> {
        match self {
            Unit::WattPep => Option::Some(Unit::Watt),
            Unit::DecibelMilliwattPep => Option::Some(Unit::DecibelMilliwatt),
            Unit::DecibelMicrovoltEmf | Unit::DecibelMicrovoltPd => {
                Option::Some(Unit::DecibelMicrovolt)
            }
            Unit::DecibelSinad | Unit::DecibelSignalAndNoise | Unit::DecibelSignalToNoise => {
                Option::Some(Unit::Decibel)
            }
            _ => Option::None,
        }
    }

    /// Whether it is one of power, linear or in decibels above a power.
    pub const fn is_power(self) -> bool {
        matches!(
            self,
            Unit::Watt
                | Unit::WattPep
                | Unit::DecibelMilliwatt
                | Unit::DecibelMilliwattPep
                | Unit::DecibelWatt
        )
    }

    /// The coarse kind, for telling a likely mix-up from a plain error.
    pub const fn family(self) -> Family {
        match self {
            Unit::VoltDc
            | Unit::VoltRms
            | Unit::VoltPeak
            | Unit::VoltPeakToPeak
            | Unit::VoltEmf
            | Unit::VoltPd => Family::Voltage,
            Unit::DecibelMilliwatt
            | Unit::DecibelMilliwattPep
            | Unit::DecibelWatt
            | Unit::Decibel
            | Unit::DecibelSinad
            | Unit::DecibelSignalAndNoise
            | Unit::DecibelSignalToNoise
            | Unit::DecibelCarrier
            | Unit::DecibelMicrovolt
            | Unit::DecibelMicrovoltEmf
            | Unit::DecibelMicrovoltPd => Family::Level,
            _ => Family::Other,
        }
    }

    /// The unit of the difference of two readings: decibels for levels, else the same unit.
    pub const fn of_difference(self) -> Unit {
        match self.family() {
            Family::Level => Unit::Decibel,
            _ => self,
        }
    }
}
