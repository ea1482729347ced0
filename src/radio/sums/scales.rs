//! The scales in which the sums take their inputs, the usual one first.

use crate::quantity::{Prefix, Scale, Unit};

const fn scale(prefix: Prefix, unit: Unit) -> Scale {
    Scale::new(prefix, unit)
}

pub(super) const LEVEL: &[Scale] = &[
    Scale::plain(Unit::DecibelMilliwatt),
    Scale::plain(Unit::Watt),
    scale(Prefix::Milli, Unit::Watt),
    Scale::plain(Unit::DecibelWatt),
    Scale::plain(Unit::DecibelMicrovolt),
    Scale::plain(Unit::VoltRms),
    scale(Prefix::Milli, Unit::VoltRms),
    scale(Prefix::Micro, Unit::VoltRms),
    Scale::plain(Unit::VoltPeak),
    Scale::plain(Unit::VoltPeakToPeak),
    scale(Prefix::Milli, Unit::VoltPeakToPeak),
    scale(Prefix::Micro, Unit::VoltEmf),
];
pub(super) const DBM: &[Scale] = &[Scale::plain(Unit::DecibelMilliwatt)];
pub(super) const DECIBELS: &[Scale] = &[Scale::plain(Unit::Decibel)];
pub(super) const WATTS: &[Scale] = &[
    Scale::plain(Unit::Watt),
    scale(Prefix::Milli, Unit::Watt),
    scale(Prefix::Kilo, Unit::Watt),
];
pub(super) const VOLTS: &[Scale] = &[
    Scale::plain(Unit::VoltDc),
    scale(Prefix::Milli, Unit::VoltDc),
];
pub(super) const AUDIO: &[Scale] = &[
    scale(Prefix::Milli, Unit::VoltRms),
    Scale::plain(Unit::VoltRms),
];
pub(super) const PEAK_TO_PEAK: &[Scale] = &[
    Scale::plain(Unit::VoltPeakToPeak),
    scale(Prefix::Milli, Unit::VoltPeakToPeak),
];
pub(super) const RIPPLE: &[Scale] = &[
    scale(Prefix::Milli, Unit::VoltPeakToPeak),
    Scale::plain(Unit::VoltPeakToPeak),
];
pub(super) const AMPERES: &[Scale] = &[
    Scale::plain(Unit::Ampere),
    scale(Prefix::Milli, Unit::Ampere),
];
pub(super) const OHMS: &[Scale] = &[
    Scale::plain(Unit::Ohm),
    scale(Prefix::Kilo, Unit::Ohm),
    scale(Prefix::Mega, Unit::Ohm),
];
pub(super) const MEGAHERTZ: &[Scale] = &[
    scale(Prefix::Mega, Unit::Hertz),
    scale(Prefix::Kilo, Unit::Hertz),
    Scale::plain(Unit::Hertz),
];
pub(super) const KILOHERTZ: &[Scale] =
    &[scale(Prefix::Kilo, Unit::Hertz), Scale::plain(Unit::Hertz)];
pub(super) const BANDWIDTH: &[Scale] = &[
    scale(Prefix::Kilo, Unit::Hertz),
    Scale::plain(Unit::Hertz),
    scale(Prefix::Mega, Unit::Hertz),
];
pub(super) const HERTZ: &[Scale] = &[Scale::plain(Unit::Hertz), scale(Prefix::Kilo, Unit::Hertz)];
pub(super) const PICOFARADS: &[Scale] = &[
    scale(Prefix::Pico, Unit::Farad),
    scale(Prefix::Nano, Unit::Farad),
];
pub(super) const MICROFARADS: &[Scale] = &[
    scale(Prefix::Micro, Unit::Farad),
    scale(Prefix::Nano, Unit::Farad),
    scale(Prefix::Milli, Unit::Farad),
];
pub(super) const SECONDS: &[Scale] = &[
    Scale::plain(Unit::Second),
    scale(Prefix::Milli, Unit::Second),
];
pub(super) const MICROHENRIES: &[Scale] = &[
    scale(Prefix::Micro, Unit::Henry),
    scale(Prefix::Nano, Unit::Henry),
    scale(Prefix::Milli, Unit::Henry),
];
pub(super) const RATIO: &[Scale] = &[Scale::plain(Unit::Ratio)];
pub(super) const PERCENT: &[Scale] = &[Scale::plain(Unit::Percent)];
pub(super) const PPM: &[Scale] = &[Scale::plain(Unit::PartsPerMillion)];
pub(super) const CELSIUS: &[Scale] = &[Scale::plain(Unit::Celsius)];
pub(super) const THERMAL: &[Scale] = &[Scale::plain(Unit::CelsiusPerWatt)];
