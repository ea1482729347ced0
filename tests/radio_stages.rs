//! Stages and capacitors against published figures.

mod common;

use common::{agrees, prints_as};
use halfturn::radio::components::discharge::*;
use halfturn::radio::stages::*;

// Check: 0.5 A through 10 Ω dissipate 2.5 W; a current's sign does not matter
// Source: Joule's law
// Known by: closed form
#[test]
fn a_resistor_dissipates_by_the_square_of_its_current() {
    assert_eq!(resistor_dissipation(0.5, 10.0).unwrap(), 2.5);
    assert_eq!(resistor_dissipation(-0.5, 10.0).unwrap(), 2.5);
    assert!(resistor_dissipation(1.0, 0.0).is_err());
}

// Check: 1 A from 4700 µF at 100 Hz makes 2.13 V p-p; a sawtooth's rms is its swing over 2·√3
// Source: charge of a capacitor; mean square of a straight line
// Known by: closed form
#[test]
fn ripple_follows_from_the_charge_taken() {
    agrees(reservoir_ripple(1.0, 100.0, 4.7e-3).unwrap(), 2.12765957447);
    agrees(rms_of_sawtooth(1.0), 0.288675134595);
    agrees(ripple_share(13.8, 0.138).unwrap(), 0.01);
    let steps = 10_000;
    let squares = (0..steps).map(|at| ((f64::from(at) + 0.5) / f64::from(steps) - 0.5).powi(2));
    let mean_square = squares.sum::<f64>() / f64::from(steps);
    assert!((mean_square.sqrt() - rms_of_sawtooth(1.0)).abs() < 1e-6);
}

// Check: 3.9 W and 6 W through 13 and 3.125 °C/W: case 76 and 103 °C, junction 88 °C
// Source: laboratory sheet on transistor heat sinking
// Known by: read
#[test]
fn junction_and_case_reach_the_printed_temperatures() {
    prints_as(junction_temperature(25.0, 3.9, &[13.0]).unwrap(), "76");
    prints_as(
        junction_temperature(25.0, 3.9, &[13.0, 3.125]).unwrap(),
        "88",
    );
    assert_eq!(junction_temperature(25.0, 6.0, &[13.0]).unwrap(), 103.0);
}

// Check: 5 W through 3, 1 and 8 °C/W: junction 85 °C, case 70 °C; the heatsink that follows
// Source: online thermal resistance calculator with worked example
// Known by: read
#[test]
fn a_chain_of_thermal_resistances_adds_up() {
    assert_eq!(
        junction_temperature(25.0, 5.0, &[3.0, 1.0, 8.0]).unwrap(),
        85.0
    );
    assert_eq!(junction_temperature(25.0, 5.0, &[1.0, 8.0]).unwrap(), 70.0);
    assert_eq!(heatsink_needed(85.0, 25.0, 5.0, 3.0, 1.0).unwrap(), 8.0);
    assert!(heatsink_needed(85.0, 25.0, 50.0, 3.0, 1.0).is_err());
}

// Check: 50 mA of quiescent current go with about 0.7 V at the base
// Source: common practice, no source
// Known by: common practice
#[test]
fn a_conducting_transistor_has_about_0_7_volts_at_its_base() {
    assert_eq!(current_of_drop(0.5, 10.0).unwrap(), 0.05);
    assert_eq!(judge_base_voltage(0.7).unwrap(), BaseVoltage::Plausible);
    assert_eq!(judge_base_voltage(0.2).unwrap(), BaseVoltage::CutOff);
    assert_eq!(judge_base_voltage(1.4).unwrap(), BaseVoltage::Suspicious);
}

// Check: 2 × 220 µF and 2 × 1 MΩ, each in parallel: 220 s
// Source: NCVEC question pool E5B04
// Known by: read
#[test]
fn the_time_constant_is_resistance_times_capacitance() {
    agrees(time_constant(0.5e6, 440e-6).unwrap(), 220.0);
}

// Check: after 1, 3 and 5 time constants 36.8, 5.0 and 0.67 % are left; energy 13.5, 0.25, 0.0045 %
// Source: NCVEC question pool E5B01; online capacitor calculator
// Known by: read
#[test]
fn a_capacitor_dies_away_as_printed() {
    for (taus, volts, joules) in [
        (1.0, "36.8", "13.5"),
        (3.0, "5.0", "0.25"),
        (5.0, "0.67", "0.0045"),
    ] {
        let left = voltage_after(1.0, 1e6, 1e-6, taus).unwrap();
        prints_as(left * 100.0, volts);
        let share = energy(1e-6, left).unwrap() / energy(1e-6, 1.0).unwrap();
        prints_as(share * 100.0, joules);
    }
}

// Check: 1000 µF at 24 V hold 0.288 J
// Source: online capacitor calculator with worked example
// Known by: read
#[test]
fn a_charged_capacitor_holds_the_printed_energy() {
    agrees(energy(1000e-6, 24.0).unwrap(), 0.288);
    agrees(charge(1000e-6, 24.0).unwrap(), 0.024);
}

// Check: 20 V fall to 7.36 V in 0.02 s through 2 MΩ from 0.01 µF
// Source: NCVEC question pool, former E5B07
// Known by: memory
#[test]
fn the_time_to_bleed_is_a_logarithm() {
    let seconds = time_to_bleed(20.0, 7.36, 2e6, 0.01e-6).unwrap();
    prints_as(seconds, "0.02");
    agrees(seconds, 0.0199934468163);
    agrees(voltage_after(20.0, 2e6, 0.01e-6, seconds).unwrap(), 7.36);
    assert!(time_to_bleed(5.0, 7.36, 2e6, 0.01e-6).is_err());
}

// Check: thresholds of 42.4 V and 60 V for direct voltage
// Source: IEC 60335-1, 8.1.4; IEC 60065, 9.1.1
// Known by: read
#[test]
fn safe_voltages_name_their_clause() {
    let known: Vec<_> = SAFE_VOLTAGES
        .iter()
        .map(|safe| (safe.volts, safe.source))
        .collect();
    assert_eq!(
        known,
        [(42.4, "IEC 60335-1, 8.1.4"), (60.0, "IEC 60065, 9.1.1")]
    );
}

// Check: 1 µH and 25.33 pF resonate at 31.62 MHz; a probe of 10 pF pulls it down
// Source: Thomson's formula
// Known by: closed form
#[test]
fn a_probe_detunes_what_it_touches() {
    let alone = resonance(1e-6, 25.33e-12).unwrap();
    prints_as(alone / 1e6, "31.62");
    let shift = probe_shift(1e-6, 25.33e-12, 10e-12).unwrap();
    agrees(alone + shift, resonance(1e-6, 35.33e-12).unwrap());
    assert_eq!(probe_shift(1e-6, 25.33e-12, 0.0).unwrap(), 0.0);
    agrees(resonating_capacitance(alone, 1e-6).unwrap(), 25.33e-12);
    agrees(resonating_inductance(alone, 25.33e-12).unwrap(), 1e-6);
}

// Check: what goes in and does not come out is dissipated
// Source: conservation of energy
// Known by: closed form
#[test]
fn dissipation_is_what_does_not_come_out() {
    assert_eq!(pass_dissipation(13.5, 8.5, 0.5).unwrap(), 2.5);
    assert_eq!(output_dissipation(12.0, 1.0, 0.5, 4.5).unwrap(), 8.0);
    assert!(output_dissipation(12.0, 1.0, 0.0, 13.0).is_err());
    assert!(pass_dissipation(8.0, 13.5, 0.5).is_err());
    assert_eq!(sum_of_stages(&[0.125, 0.25, 0.5]), 0.875);
    assert_eq!(bleeder_power(100.0, 1000.0).unwrap(), 10.0);
}
