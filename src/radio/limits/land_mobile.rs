//! Land mobile FM: rules of the United States, and the European standard.

use super::Known::{FromMemory, Read, WorkedOut};
use crate::radio::limits::row::Row;
use crate::radio::limits::row::Text::{AtMost, BelowPower, Ppm, PpmOf};

/// 150 to 174 MHz.
pub(super) const US_VHF: &[Row] = &[
    (
        "frequency",
        "Carrier frequency, mobile above 2 W, 25 or 12.5 kHz channel",
        Ppm(5),
        "90.213(a)",
        Read,
    ),
    (
        "frequency-narrow",
        "Carrier frequency, mobile, 6.25 kHz channel",
        Ppm(2),
        "90.213(a)",
        Read,
    ),
    (
        "frequency-small",
        "Carrier frequency, mobile of 2 W or less, figure of the table; its notes narrow it",
        Ppm(50),
        "90.213(a)",
        Read,
    ),
    (
        "frequency-base-25",
        "Carrier frequency, fixed or base, 25 kHz channel",
        Ppm(5),
        "90.213(a)",
        Read,
    ),
    (
        "frequency-base",
        "Carrier frequency, fixed or base, 12.5 kHz channel",
        PpmOf("2.5"),
        "90.213(a)",
        Read,
    ),
    (
        "frequency-base-narrow",
        "Carrier frequency, fixed or base, 6.25 kHz channel",
        Ppm(1),
        "90.213(a)",
        Read,
    ),
    (
        "transient-on",
        "Transient frequency, 12.5 kHz channel, above 6 W: the first 5 ms of the carrier",
        AtMost("12.5 kHz"),
        "90.214",
        Read,
    ),
    (
        "transient-settling",
        "Transient frequency, 12.5 kHz channel: the 20 ms behind that",
        AtMost("6.25 kHz"),
        "90.214",
        Read,
    ),
    (
        "transient-off",
        "Transient frequency, 12.5 kHz channel, above 6 W: the 5 ms after it is keyed off",
        AtMost("12.5 kHz"),
        "90.214",
        Read,
    ),
    (
        "transient-on-25",
        "Transient frequency, 25 kHz channel, above 6 W: the first 5 ms of the carrier",
        AtMost("25 kHz"),
        "90.214",
        Read,
    ),
    (
        "transient-settling-25",
        "Transient frequency, 25 kHz channel: the 20 ms behind that",
        AtMost("12.5 kHz"),
        "90.214",
        Read,
    ),
    (
        "transient-off-25",
        "Transient frequency, 25 kHz channel, above 6 W: the 5 ms after it is keyed off",
        AtMost("25 kHz"),
        "90.214",
        Read,
    ),
];

/// 421 to 512 MHz.
pub(super) const US_UHF: &[Row] = &[
    (
        "frequency",
        "Carrier frequency, mobile, 12.5 kHz channel",
        PpmOf("2.5"),
        "90.213(a)",
        Read,
    ),
    (
        "frequency-25",
        "Carrier frequency, mobile, 25 kHz channel",
        Ppm(5),
        "90.213(a)",
        Read,
    ),
    (
        "frequency-narrow",
        "Carrier frequency, mobile, 6.25 kHz channel",
        Ppm(1),
        "90.213(a)",
        Read,
    ),
    (
        "frequency-base-25",
        "Carrier frequency, fixed or base, 25 kHz channel",
        PpmOf("2.5"),
        "90.213(a)",
        Read,
    ),
    (
        "frequency-base",
        "Carrier frequency, fixed or base, 12.5 kHz channel",
        PpmOf("1.5"),
        "90.213(a)",
        Read,
    ),
    (
        "frequency-base-narrow",
        "Carrier frequency, fixed or base, 6.25 kHz channel",
        PpmOf("0.5"),
        "90.213(a)",
        Read,
    ),
    (
        "transient-on",
        "Transient frequency, 12.5 kHz channel, above 6 W: the first 10 ms of the carrier",
        AtMost("12.5 kHz"),
        "90.214",
        Read,
    ),
    (
        "transient-settling",
        "Transient frequency, 12.5 kHz channel: the 25 ms behind that",
        AtMost("6.25 kHz"),
        "90.214",
        Read,
    ),
    (
        "transient-off",
        "Transient frequency, 12.5 kHz channel, above 6 W: the 10 ms after it is keyed off",
        AtMost("12.5 kHz"),
        "90.214",
        Read,
    ),
    (
        "transient-on-25",
        "Transient frequency, 25 kHz channel, above 6 W: the first 10 ms of the carrier",
        AtMost("25 kHz"),
        "90.214",
        Read,
    ),
    (
        "transient-settling-25",
        "Transient frequency, 25 kHz channel: the 25 ms behind that",
        AtMost("12.5 kHz"),
        "90.214",
        Read,
    ),
    (
        "transient-off-25",
        "Transient frequency, 25 kHz channel, above 6 W: the 10 ms after it is keyed off",
        AtMost("25 kHz"),
        "90.214",
        Read,
    ),
];

/// Whatever the band.
pub(super) const US: &[Row] = &[
    (
        "frequency-low-band",
        "Carrier frequency, 25 to 50 MHz, fixed, base, or mobile above 2 W",
        Ppm(20),
        "90.213(a)",
        Read,
    ),
    (
        "frequency-low-band-small",
        "Carrier frequency, 25 to 50 MHz, mobile of 2 W or less",
        Ppm(50),
        "90.213(a)",
        Read,
    ),
    (
        "bandwidth-25",
        "Authorized bandwidth, 25 kHz equipment",
        AtMost("20 kHz"),
        "90.209(b)(5) note 3",
        Read,
    ),
    (
        "bandwidth",
        "Authorized bandwidth, 12.5 kHz equipment",
        AtMost("11.25 kHz"),
        "90.209(b)(5) note 3",
        Read,
    ),
    (
        "bandwidth-narrow",
        "Authorized bandwidth, 6.25 kHz equipment",
        AtMost("6 kHz"),
        "90.209(b)(5) note 3",
        Read,
    ),
    (
        "mask-b-near",
        "Unwanted emissions, mask B, more than 50 % to 100 % of the authorized bandwidth off",
        AtMost("-25 dBc"),
        "90.210(b)(1)",
        Read,
    ),
    (
        "mask-b-far",
        "Unwanted emissions, mask B, more than 100 % to 250 % of the authorized bandwidth off",
        AtMost("-35 dBc"),
        "90.210(b)(2)",
        Read,
    ),
    (
        "mask-b-beyond",
        "Unwanted emissions, mask B, beyond 250 % of the authorized bandwidth",
        BelowPower(43),
        "90.210(b)(3)",
        Read,
    ),
    (
        "mask-d-6",
        "Unwanted emissions, mask D, 6 kHz off the centre",
        AtMost("-22.68 dBc"),
        "90.210(d)(2), 7.27 (fd − 2.88) dB at 6 kHz",
        WorkedOut,
    ),
    (
        "mask-d-7-5",
        "Unwanted emissions, mask D, 7.5 kHz off the centre",
        AtMost("-33.58 dBc"),
        "90.210(d)(2), 7.27 (fd − 2.88) dB at 7.5 kHz",
        WorkedOut,
    ),
    (
        "mask-d-9",
        "Unwanted emissions, mask D, 9 kHz off the centre",
        AtMost("-44.49 dBc"),
        "90.210(d)(2), 7.27 (fd − 2.88) dB at 9 kHz",
        WorkedOut,
    ),
    (
        "mask-d-10",
        "Unwanted emissions, mask D, 10 kHz off the centre",
        AtMost("-51.76 dBc"),
        "90.210(d)(2), 7.27 (fd − 2.88) dB at 10 kHz",
        WorkedOut,
    ),
    (
        "mask-d-12",
        "Unwanted emissions, mask D, 12 kHz off the centre",
        AtMost("-66.30 dBc"),
        "90.210(d)(2), 7.27 (fd − 2.88) dB at 12 kHz",
        WorkedOut,
    ),
    (
        "mask-d-12-5",
        "Unwanted emissions, mask D, 12.5 kHz off the centre",
        AtMost("-69.93 dBc"),
        "90.210(d)(2), 7.27 (fd − 2.88) dB at 12.5 kHz",
        WorkedOut,
    ),
    (
        "mask-d-beyond",
        "Unwanted emissions, mask D, more than 12.5 kHz off the centre; above 100 W never more than 70 dB",
        BelowPower(50),
        "90.210(d)(3)",
        Read,
    ),
    (
        "mask-e-beyond",
        "Unwanted emissions, mask E, more than 4.6 kHz off the centre; above 10 W never more than 65 dB",
        BelowPower(55),
        "90.210(e)(3)",
        Read,
    ),
    (
        "adjacent-22",
        "Adjacent channel power, 450 to 470 MHz, 22 kHz bandwidth, above 1 W, 25 kHz off",
        AtMost("-60 dBc"),
        "90.221(b)",
        Read,
    ),
    (
        "adjacent-22-small",
        "Adjacent channel power, 450 to 470 MHz, 22 kHz bandwidth, 1 W or less, 25 kHz off",
        AtMost("-55 dBc"),
        "90.221(b)",
        Read,
    ),
    (
        "adjacent-22-far",
        "Adjacent channel power, 450 to 470 MHz, 22 kHz bandwidth, 50 and 75 kHz off",
        AtMost("-70 dBc"),
        "90.221(b)",
        Read,
    ),
];

pub(super) const EUROPE: &[Row] = &[
    (
        "deviation",
        "Peak deviation, 12.5 kHz channel",
        AtMost("2.5 kHz"),
        "frequency deviation",
        FromMemory,
    ),
    (
        "deviation-20",
        "Peak deviation, 20 kHz channel",
        AtMost("4 kHz"),
        "frequency deviation",
        FromMemory,
    ),
    (
        "deviation-25",
        "Peak deviation, 25 kHz channel",
        AtMost("5 kHz"),
        "frequency deviation",
        FromMemory,
    ),
    (
        "sensitivity",
        "Maximum usable sensitivity, 20 dB SINAD with psophometric weighting",
        AtMost("6 dBµV EMF"),
        "maximum usable sensitivity",
        FromMemory,
    ),
    (
        "adjacent",
        "Adjacent channel power, 12.5 kHz channel; 0.2 µW is low enough",
        AtMost("-60 dBc"),
        "adjacent channel power",
        FromMemory,
    ),
    (
        "adjacent-25",
        "Adjacent channel power, 20 or 25 kHz channel; 0.2 µW is low enough",
        AtMost("-70 dBc"),
        "adjacent channel power",
        FromMemory,
    ),
    (
        "spurious-low",
        "Conducted spurious emissions while transmitting, up to 1 GHz",
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
        "Conducted spurious emissions in standby, up to 1 GHz",
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Quantity;

    // Check: mask D at 6, 7.5, 9, 10, 12 and 12.5 kHz is 7.27 (fd − 2.88) dB, its hundredths cut off:
    // never stricter than the rule
    // Source: 47 CFR 90.210(d)(2); 19.96 dB at 5.625 kHz and 69.94 dB at 12.5 kHz worked out too
    // Known by: read; figures by hand
    #[test]
    fn points_on_a_sloping_mask_are_what_its_formula_gives() {
        let asked = |kilohertz: f64| 7.27 * (kilohertz - 2.88);
        for (kilohertz, decibels) in [(5.625, "19.96"), (12.5, "69.94")] {
            assert_eq!(format!("{:.2}", asked(kilohertz)), decibels);
        }
        for (id, kilohertz) in [
            ("mask-d-6", 6.0),
            ("mask-d-7-5", 7.5),
            ("mask-d-9", 9.0),
            ("mask-d-10", 10.0),
            ("mask-d-12", 12.0),
            ("mask-d-12-5", 12.5),
        ] {
            let row = US.iter().find(|(name, ..)| *name == id).expect(id);
            let AtMost(most) = row.2 else { panic!("{id}") };
            let most: Quantity = most.parse().expect(most);
            let less = asked(kilohertz) + most.base_f64();
            assert!((0.0..0.01).contains(&less), "{id}: {less}");
        }
    }
}
