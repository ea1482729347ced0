//! Modulation against published figures.

mod common;

use common::{agrees, facts, floats, prints_as};
use halfturn::radio::modulation::*;

// Check: depth from 0 to 100 % as PEP, mean power, sidebands and envelope ratio
// Source: closed form, 12 digits
// Known by: computed
#[test]
fn powers_of_every_depth_agree() {
    for row in facts("am_depth") {
        let row = floats(&row);
        let depth = row[0];
        agrees(peak_envelope_power(1.0, depth).unwrap(), row[1]);
        agrees(mean_power(1.0, depth).unwrap(), row[2]);
        agrees(2.0 * sideband_power(1.0, depth).unwrap(), row[3]);
        agrees(sideband_power(1.0, depth).unwrap(), row[4]);
        assert!((depth_of_envelope(1.0, row[6]).unwrap() - depth).abs() < 1e-11);
        assert_eq!(
            depth_of_envelope(1.0, row[6]).unwrap(),
            depth_of_trapezoid(1.0, row[6]).unwrap()
        );
    }
}

// Check: 1 kW fully modulated: 250 W per sideband, 1.5 kW in all
// Source: engineering tutorial on amplitude modulation
// Known by: read
#[test]
fn a_kilowatt_fully_modulated_makes_a_kilowatt_and_a_half() {
    assert_eq!(sideband_power(1000.0, 1.0).unwrap(), 250.0);
    assert_eq!(mean_power(1000.0, 1.0).unwrap(), 1500.0);
    assert_eq!(peak_envelope_power(4.0, 1.0).unwrap(), 16.0);
}

// Check: 5 kW in all at 80 % come from 3.8 kW of carrier
// Source: examination question on broadcast transmitters
// Known by: read
#[test]
fn the_carrier_follows_from_the_mean_power() {
    let carrier = carrier_of_mean_power(5000.0, 0.8).unwrap();
    prints_as(carrier / 1000.0, "3.8");
    agrees(carrier / 1000.0, 3.78787878788);
}

// Check: a carrier of 12 V at 75 % swings by 9 V; each sideband at full depth is −6 dB
// Source: examination question on carrier waves; measurement guide of a spectrum analyser maker
// Known by: read
#[test]
fn sidebands_and_envelope_tell_the_same_depth() {
    assert_eq!(depth_of_envelope(12.0 + 9.0, 12.0 - 9.0).unwrap(), 0.75);
    assert_eq!(depth_of_sideband(12.0, 4.5).unwrap(), 0.75);
    assert_eq!(depth_of_sideband(1.0, 0.5).unwrap(), 1.0);
}

// Check: 200 V p-p in 50 Ω is 100 W PEP; two equal tones have half of that as mean power
// Source: NCVEC question pool G5B06; textbook on solid-state radio engineering
// Known by: read
#[test]
fn two_equal_tones_have_half_their_peak_as_mean() {
    assert_eq!(pep_of_crest(200.0, 50.0).unwrap(), 100.0);
    assert_eq!(mean_of_two_tones(100.0).unwrap(), 50.0);
    assert_eq!(pep_of_two_tones(50.0).unwrap(), 100.0);
}

// Check: 3 kHz deviation with 1 kHz is index 3; 5 kHz with 3 kHz is 1.67
// Source: NCVEC question pool E8B03, E8B05
// Known by: read
#[test]
fn modulation_indices_come_out() {
    assert_eq!(modulation_index(3000.0, 1000.0).unwrap(), 3.0);
    prints_as(modulation_index(5000.0, 3000.0).unwrap(), "1.67");
    assert_eq!(carson_bandwidth(2000.0, 3000.0).unwrap(), 10_000.0);
}

// Check: carrier nulls at 2.405, 5.520, 8.654, 11.792, 14.931
// Source: table of Bessel nulls of a broadcast equipment maker
// Known by: read
#[test]
fn carrier_nulls_lie_at_the_zeros_of_the_bessel_function() {
    let printed = ["2.405", "5.520", "8.654", "11.792", "14.931"];
    for (null, text) in CARRIER_NULLS.iter().zip(printed) {
        prints_as(*null, text);
    }
    for (null, row) in CARRIER_NULLS.iter().zip(facts("bessel_nulls")) {
        agrees(*null, floats(&row)[1]);
    }
}

// Check: first sidebands vanish at 3.8317, 7.0156, 10.1735, 13.3237, 16.4706
// Source: M. Abramowitz and I. A. Stegun, table 9.5
// Known by: memory
#[test]
fn sideband_nulls_lie_at_the_zeros_of_the_next_bessel_function() {
    let printed = ["3.8317", "7.0156", "10.1735", "13.3237", "16.4706"];
    for (null, text) in SIDEBAND_NULLS.iter().zip(printed) {
        prints_as(*null, text);
    }
    for (null, row) in SIDEBAND_NULLS.iter().zip(facts("bessel_nulls")) {
        agrees(*null, floats(&row)[2]);
    }
    let tone = tone_of_null(Line::FirstSidebands, 2000.0, 1).unwrap();
    prints_as(tone, "522");
    agrees(
        deviation_of_null(Line::FirstSidebands, tone, 1).unwrap(),
        2000.0,
    );
}

// Check: 1 kW of carrier that reads 1.5 kW mean or 4 kW PEP is fully modulated
// Source: engineering tutorial on amplitude modulation
// Known by: read
#[test]
fn the_depth_follows_from_powers() {
    agrees(depth_of_mean_power(1000.0, 1500.0).unwrap(), 1.0);
    agrees(depth_of_peak_power(1000.0, 4000.0).unwrap(), 1.0);
    agrees(depth_of_mean_power(4.0, 4.18).unwrap(), 0.3);
    assert!(depth_of_mean_power(4.0, 3.9).is_err());
    assert!(depth_of_peak_power(4.0, 17.0).is_err());
}

// Check: a carrier of 12 V at 75 % has its envelope between 21 and 3 V
// Source: examination question on carrier waves
// Known by: read
#[test]
fn the_envelope_follows_from_carrier_and_depth() {
    assert_eq!(envelope(12.0, 0.75).unwrap(), (21.0, 3.0));
    assert_eq!(envelope(12.0, 1.0).unwrap(), (24.0, 0.0));
}

// Check: one of two equal tones is 6.02 dB below their PEP
// Source: textbook on solid-state radio engineering, peak n²·P
// Known by: read
#[test]
fn one_tone_and_the_crest_of_two_are_six_decibels_apart() {
    assert_eq!(peak_of_tones(1), 1.0);
    let apart = 10.0 * peak_of_tones(2).log10();
    prints_as(apart, "6.02");
    // The same by watts: one tone is a quarter of the PEP.
    agrees(
        mean_of_two_tones(100.0).unwrap() / 2.0 * peak_of_tones(2),
        100.0,
    );
}

// Check: 5 kHz of deviation null the carrier with 2079.0 and 905.8 Hz, 2.5 kHz with 1039 Hz
// Source: table of Bessel nulls of a broadcast equipment maker; page of an amateur radio station
// Known by: read
#[test]
fn a_tone_sets_the_deviation_by_the_null() {
    let first = tone_of_null(Line::Carrier, 5000.0, 1).unwrap();
    // The page divides by the rounded 2.405.
    assert!((first - 2079.0).abs() < 0.2);
    agrees(first, 2079.15288658);
    prints_as(tone_of_null(Line::Carrier, 5000.0, 2).unwrap(), "905.8");
    agrees(
        tone_of_null(Line::Carrier, 2500.0, 1).unwrap(),
        1039.57644329,
    );
    agrees(
        tone_of_null(Line::Carrier, 2000.0, 1).unwrap(),
        831.661154631,
    );
    agrees(deviation_of_null(Line::Carrier, first, 1).unwrap(), 5000.0);
    assert!(tone_of_null(Line::Carrier, 5000.0, 0).is_err());
    assert!(tone_of_null(Line::Carrier, 5000.0, 9).is_err());
}

// Check: a depth beyond 100 % and a reversed envelope are refused in a sentence
// Source: this project's own rule
// Known by: own rule
#[test]
fn impossible_depths_are_sentences() {
    assert_eq!(
        mean_power(4.0, 1.2).unwrap_err().to_string(),
        "The modulation depth in % is 120, which is too high; enter 100 or less."
    );
    assert_eq!(
        depth_of_envelope(1.0, 2.0).unwrap_err().to_string(),
        "The envelope minimum is larger than the envelope maximum; swap the two or take them again."
    );
}
