//! Receiver against published figures.

mod chance;
mod common;

use chance::Chance;
use common::{agrees, facts, floats, prints_as};
use halfturn::radio::levels::{volts_of_watts, watts_of_dbm};
use halfturn::radio::receiver::*;

// Check: SINAD from 0.5 to 60 dB as distortion and as residue against the tone
// Source: closed form, 12 digits
// Known by: computed
#[test]
fn every_sinad_agrees_with_its_distortion() {
    for row in facts("sinad_distortion") {
        let row = floats(&row);
        let distortion = distortion_of_sinad(row[0]).unwrap();
        agrees(distortion * 100.0, row[1]);
        agrees(residue_of_sinad(row[0]).unwrap() * 100.0, row[2]);
        assert!((sinad_of_distortion(distortion).unwrap() - row[0]).abs() < 1e-12);
        assert!((sinad_of_voltages(1.0, distortion).unwrap() - row[0]).abs() < 1e-12);
        assert!((signal_to_noise(row[0]).unwrap() - row[3]).abs() < 1e-9);
    }
}

// Check: 12 dB SINAD is 25.1 % of distortion; SINAD is the reciprocal of THD+N
// Source: Federal Standard 1037C; application note of an audio analyser maker
// Known by: read
#[test]
fn twelve_decibels_are_a_quarter() {
    prints_as(distortion_of_sinad(12.0).unwrap() * 100.0, "25.1");
    assert_eq!(sinad_of_distortion(1.0).unwrap(), 0.0);
    assert!(sinad_of_voltages(0.1, 0.2).is_err());
}

// Check: S9 is −73 dBm or 50 µV below 30 MHz and −93 dBm above, 6 dB per unit; printed µV
// Source: IARU Region 1 Technical Recommendation R.1
// Known by: read
#[test]
fn s_units_are_six_decibels_from_50_microvolts() {
    for (units, over, dbm, microvolts) in [
        (9.0, 0.0, -73.0, "50"),
        (7.0, 0.0, -85.0, "12.6"),
        (6.0, 0.0, -91.0, "6.3"),
        (5.0, 0.0, -97.0, "3.2"),
        (4.0, 0.0, -103.0, "1.6"),
        (3.0, 0.0, -109.0, "0.8"),
        (1.0, 0.0, -121.0, "0.2"),
        (9.0, 10.0, -63.0, "158"),
    ] {
        let level = level_of_s_units(units, over, Band::Below30Megahertz).unwrap();
        assert_eq!(level, dbm);
        let volts = volts_of_watts(watts_of_dbm(level).unwrap(), 50.0).unwrap();
        prints_as(volts * 1e6, microvolts);
        let back = s_units_of_level(level, Band::Below30Megahertz).unwrap();
        assert_eq!((back.units, back.over), (units, over));
    }
    let above = level_of_s_units(9.0, 0.0, Band::Above30Megahertz).unwrap();
    assert_eq!(above, -93.0);
    assert!(level_of_s_units(10.0, 0.0, Band::Below30Megahertz).is_err());
}

// Check: thermal noise is −174 dBm in 1 Hz at 290 K
// Source: NCVEC question pool E4C05
// Known by: read
#[test]
fn thermal_noise_prints_as_minus_174() {
    prints_as(thermal_noise(1.0).unwrap(), "-174");
    let figure = noise_figure(thermal_noise(2500.0).unwrap() + 16.0, 2500.0, 10.0).unwrap();
    assert!((figure - 6.0).abs() < 1e-12);
    assert!(noise_figure(-150.0, 2500.0, 10.0).is_err());
}

// Check: an AM carrier counts 10.46 dB less at a depth of 30 %, and in full at 100 %
// Source: envelope detection well above the noise, S/N = m²·C/N
// Known by: closed form
#[test]
fn only_the_sidebands_of_an_am_signal_are_heard() {
    agrees(heard_of_carrier(0.3).unwrap(), -10.4575749056);
    assert_eq!(heard_of_carrier(1.0).unwrap(), 0.0);
    assert!(heard_of_carrier(0.0).is_err() && heard_of_carrier(1.1).is_err());
}

// Check: the audio of a carrier with noise on it, worked out sample by sample, has m²·C/N
// Source: Monte Carlo of an envelope detector
// Known by: computed
#[test]
fn an_envelope_detector_hears_what_the_formula_says() {
    let mut chance = Chance(30);
    let (amplitude, depth, samples) = (100.0, 0.3, 100_000);
    let (mut tone, mut noise) = (0.0, 0.0);
    for sample in 0..samples {
        let swing = depth * (0.7 * f64::from(sample)).cos();
        let (in_phase, across) = (chance.normal(1.0), chance.normal(1.0));
        let envelope = (amplitude * (1.0 + swing) + in_phase).hypot(across);
        tone += (amplitude * swing).powi(2);
        noise += (envelope - amplitude * (1.0 + swing)).powi(2);
    }
    // Carrier A²/2 against noise of 1 in each of the two: C/N = A²/2.
    let carrier_to_noise = 10.0 * (amplitude * amplitude / 2.0_f64).log10();
    let heard = 10.0 * f64::log10(tone / noise) - carrier_to_noise;
    assert!(
        (heard - heard_of_carrier(depth).unwrap()).abs() < 0.1,
        "{heard}"
    );
}

// Check: (S+N)/N of 10 dB is 9.54 dB of S/N
// Source: closed form from powers that add
// Known by: computed
#[test]
fn noise_is_taken_out_of_signal_plus_noise() {
    assert_eq!(signal_plus_noise(10f64.sqrt(), 1.0).unwrap().round(), 10.0);
    agrees(signal_to_noise(10.0).unwrap(), 9.54242509439);
}

// Check: 27.185 MHz with 16.490 MHz injection: image 5.795 MHz, half-IF 21.8375 MHz
// Source: superheterodyne principle
// Known by: closed form
#[test]
fn the_image_mirrors_the_wanted_frequency() {
    assert_eq!(image(27.185e6, 16.49e6).unwrap(), 5.795e6);
    assert_eq!(half_if(27.185e6, 16.49e6).unwrap(), 21.8375e6);
    assert_eq!(image(27.185e6, 37.88e6).unwrap(), 48.575e6);
}
