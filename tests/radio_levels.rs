//! Levels against published figures.

mod common;

use common::{agrees, facts, floats, prints_as};
use halfturn::radio::levels::*;

// Check: 1 km at 2400 MHz loses 100.05 dB in free space
// Source: ITU-R P.525, 32.45 + 20·log₁₀ f/MHz + 20·log₁₀ d/km
// Known by: memory
#[test]
fn free_space_takes_its_loss() {
    let loss = free_space_loss(1000.0, 2.4e9).unwrap();
    assert!(
        (loss - (32.45 + 20.0 * 2400f64.log10())).abs() < 0.005,
        "{loss}"
    );
    assert!(free_space_loss(0.0, 1.0).is_err());
}

// Check: −174 dBm in 1 Hz are −148 dBm in 400 Hz
// Source: NCVEC question pool E4C06
// Known by: memory
#[test]
fn noise_grows_with_the_bandwidth() {
    let wider = -174.0 + decibels_of_power_ratio(400.0).unwrap();
    prints_as(wider, "-148");
}

// Check: 0, ±10 and ±20 dBm in 50 Ω as rms, peak and peak-to-peak volts
// Source: conversion chart of dBm to mW and volts
// Known by: read
#[test]
fn levels_in_50_ohms_print_as_in_the_chart() {
    for (dbm, unit, rms, peak, peak_to_peak) in [
        (0.0, 1e-3, "223.6", "316.2", "632.5"),
        (-20.0, 1e-3, "22.4", "31.6", "63.2"),
        (-10.0, 1e-3, "70.7", "100.0", "200.0"),
        (10.0, 1.0, "0.71", "1.00", "2.00"),
        (20.0, 1.0, "2.24", "3.16", "6.32"),
    ] {
        let volts = volts_of_watts(watts_of_dbm(dbm).unwrap(), 50.0).unwrap();
        prints_as(volts / unit, rms);
        prints_as(peak_of_rms(volts) / unit, peak);
        prints_as(peak_to_peak_of_rms(volts) / unit, peak_to_peak);
    }
}

// Check: −140 to +60 dBm in 50 Ω as W, V rms, V peak, V p-p, dBµV and EMF
// Source: closed form, 12 digits
// Known by: computed
#[test]
fn every_level_of_the_table_agrees_in_every_unit() {
    for row in facts("rf_levels") {
        let row = floats(&row);
        let watts = watts_of_dbm(row[0]).unwrap();
        let volts = volts_of_watts(watts, 50.0).unwrap();
        agrees(watts, row[1]);
        agrees(volts, row[2]);
        agrees(peak_of_rms(volts), row[4]);
        agrees(peak_to_peak_of_rms(volts), row[5]);
        assert!((dbuv_of_volts(volts).unwrap() - row[6]).abs() < 1e-9);
        agrees(emf_of_pd(volts) * 1e6, row[7]);
        assert!((dbuv_of_volts(emf_of_pd(volts)).unwrap() - row[8]).abs() < 1e-9);
        assert!((dbm_of_watts(watts).unwrap() - row[0]).abs() < 1e-12);
    }
}

// Check: dBµV lie 107 dB above dBm in 50 Ω and 108.75 dB in 75 Ω
// Source: conversion tables of two antenna equipment sellers
// Known by: read
#[test]
fn microvolts_lie_107_decibels_above_milliwatts() {
    prints_as(dbuv_above_dbm(50.0).unwrap(), "107");
    agrees(dbuv_above_dbm(50.0).unwrap(), 106.989700043);
    prints_as(dbuv_above_dbm(75.0).unwrap(), "108.75");
}

// Check: 1.0, 0.5 and 10 µV in 50 Ω as dBm; 0 and 20 dBµV as dBm
// Source: manual of a propagation program; an online IT glossary
// Known by: read
#[test]
fn microvolts_print_as_dbm() {
    for (volts, dbm) in [(1e-6, "-107"), (0.5e-6, "-113"), (10e-6, "-87")] {
        prints_as(
            dbm_of_watts(watts_of_volts(volts, 50.0).unwrap()).unwrap(),
            dbm,
        );
    }
    for (dbuv, dbm) in [(0.0, "-107"), (20.0, "-87")] {
        let watts = watts_of_volts(volts_of_dbuv(dbuv).unwrap(), 50.0).unwrap();
        prints_as(dbm_of_watts(watts).unwrap(), dbm);
    }
}

// Check: EMF is twice the PD, 6.02 dB; 150 µV PD is 300 µV EMF
// Source: mailing list on receivers, March 2019
// Known by: read
#[test]
fn emf_is_twice_the_voltage_delivered() {
    assert_eq!(emf_of_pd(150e-6), 300e-6);
    assert_eq!(pd_of_emf(300e-6), 150e-6);
    agrees(decibels_of_voltage_ratio(2.0).unwrap(), 6.02059991328);
}

// Check: 200 V p-p in 50 Ω; 120 V rms as p-p; 17 V peak as rms; −1 dB; ×2, ×10
// Source: NCVEC question pool G5B06, G5B08, G5B09, G5B10, G5B01, T5B09, T5B11
// Known by: read
#[test]
fn question_pool_levels_come_out() {
    let crest = rms_of_peak_to_peak(200.0);
    prints_as(watts_of_volts(crest, 50.0).unwrap(), "100");
    prints_as(peak_to_peak_of_rms(120.0), "339.4");
    prints_as(rms_of_peak(17.0), "12");
    let loss = 1.0 - power_ratio_of_decibels(-1.0).unwrap();
    prints_as(loss * 100.0, "20.6");
    agrees(decibels_of_power_ratio(2.0).unwrap(), 3.01029995664);
    assert_eq!(decibels_of_power_ratio(200.0 / 20.0).unwrap(), 10.0);
}

// Check: 150 W −2 −2.2 +7 dB; 200 W −2 −2.8 −1.2 +7 dB; +40 dBm +6 +3 −100 dB
// Source: NCVEC question pool E9A02, E9A07, E4D13
// Known by: read
#[test]
fn a_chain_of_gains_adds_up() {
    let after = |watts, gains: &[f64]| {
        watts_of_dbm(level_after(dbm_of_watts(watts).unwrap(), gains)).unwrap()
    };
    prints_as(after(150.0, &[-2.0, -2.2, 7.0]), "286");
    prints_as(after(200.0, &[-2.0, -2.8, -1.2, 7.0]), "252");
    assert_eq!(level_after(40.0, &[6.0, 3.0, -100.0]), -51.0);
}

// Check: a coupler of −20 dB and a pad of 10 dB hide 30 dB
// Source: product of power ratios
// Known by: closed form
#[test]
fn the_true_level_lies_above_the_reading_by_what_is_in_front() {
    assert_eq!(level_before(6.0, &[20.0, 10.0]).unwrap(), 36.0);
    assert!(level_before(6.0, &[-20.0]).is_err());
}

// Check: a level that cannot be is refused in a sentence
// Source: this project's own rule
// Known by: own rule
#[test]
fn impossible_levels_are_sentences() {
    let said = |result: Result<f64, halfturn::quantity::Fault>| result.unwrap_err().to_string();
    assert_eq!(
        said(dbm_of_watts(-3.0)),
        "The power is −3; enter a value above 0."
    );
    assert_eq!(
        said(watts_of_volts(1.0, 0.0)),
        "The impedance is 0; enter a value above 0."
    );
    assert_eq!(
        said(watts_of_dbm(f64::NAN)),
        "The level is not a number that can be worked with; check what was entered."
    );
}
