//! Match against published figures.

mod common;

use common::{agrees, facts, floats, prints_as};
use halfturn::radio::mismatch::*;

// Check: return loss from 1 to 29 dB as SWR and |Γ|, 20 printed rows
// Source: return loss table of a radio electronics magazine; its row 26 dB prints 1.105 for 1.1055
// Known by: read
#[test]
fn return_losses_print_as_in_the_table() {
    for row in facts("return_loss_vswr") {
        let loss: f64 = row[0].parse().unwrap();
        let swr = swr_of_return_loss(loss).unwrap();
        let reflection = reflection_of_return_loss(loss).unwrap();
        if loss != 26.0 {
            prints_as(swr, &row[1]);
        }
        prints_as(reflection, &row[2]);
        let computed = floats(&row);
        agrees(reflection, computed[3]);
        agrees(swr, computed[4]);
        assert!((mismatch_loss(reflection).unwrap() - computed[5]).abs() < 1e-10);
        agrees(reflected_share(reflection).unwrap() * 100.0, computed[6]);
    }
}

// Check: SWR from 1 to 100 as |Γ|, return loss, mismatch loss and reflected power
// Source: closed form, 12 digits
// Known by: computed
#[test]
fn standing_wave_ratios_agree_in_every_form() {
    for row in facts("swr_forward") {
        let row = floats(&row);
        let reflection = reflection_of_swr(row[0]).unwrap();
        agrees(reflection, row[1]);
        if row[2].is_finite() {
            agrees(return_loss_of_reflection(reflection).unwrap(), row[2]);
            agrees(return_loss_of_swr(row[0]).unwrap(), row[2]);
        }
        agrees(mismatch_loss(reflection).unwrap(), row[3]);
        agrees(reflected_share(reflection).unwrap() * 100.0, row[4]);
    }
}

// Check: SWR 1.5 is |Γ| 0.2, 13.979 dB, 0.1773 dB mismatch loss and 4 % reflected
// Source: online VSWR calculator with worked example
// Known by: read
#[test]
fn a_ratio_of_one_and_a_half_reflects_four_percent() {
    let reflection = reflection_of_swr(1.5).unwrap();
    prints_as(reflection, "0.2");
    prints_as(return_loss_of_reflection(reflection).unwrap(), "13.979");
    prints_as(mismatch_loss(reflection).unwrap(), "0.1773");
    prints_as(reflected_share(reflection).unwrap() * 100.0, "4");
}

// Check: 200 Ω on a 50 Ω line is 4 : 1
// Source: NCVEC question pool G9A09
// Known by: read
#[test]
fn a_load_of_200_ohms_is_four_to_one() {
    let reflection = reflection_of_load(200.0, 50.0).unwrap();
    agrees(swr_of_reflection(reflection).unwrap(), 4.0);
    assert_eq!(reflection, reflection_of_load(12.5, 50.0).unwrap());
}

// Check: 100 W forward and 25 W reflected leave 75 W; |Γ| 0.5, SWR 3, 6.02 dB
// Source: NCVEC question pool E4B06
// Known by: read
#[test]
fn forward_and_reflected_power_give_the_match() {
    let reflection = reflection_of_powers(100.0, 25.0).unwrap();
    assert_eq!(reflection, 0.5);
    assert_eq!(swr_of_reflection(reflection).unwrap(), 3.0);
    agrees(
        return_loss_of_reflection(reflection).unwrap(),
        6.02059991328,
    );
    agrees(mismatch_loss(reflection).unwrap(), 1.24938736608);
    agrees(100.0 * (1.0 - reflected_share(reflection).unwrap()), 75.0);
}

// Check: mismatch uncertainty of VSWR 1.05 and ρ 0.0244: 0.00042 standard, 0.0012 worst case
// Source: power sensor service guide of an instrument maker
// Known by: read
#[test]
fn mismatch_makes_the_printed_power_error() {
    let reflection = reflection_of_swr(1.05).unwrap();
    prints_as(reflection, "0.0244");
    let worst = mismatch_error(reflection, reflection).unwrap();
    prints_as(worst, "0.0012");
    prints_as(worst / (2.0 * 2f64.sqrt()), "0.00042");
}

// Check: 3 dB of cable turn SWR 3 at the load into a better one at the meter, and back
// Source: attenuated there and back
// Known by: closed form
#[test]
fn a_lossy_cable_flatters_the_load() {
    let load = reflection_of_swr(3.0).unwrap();
    let seen = reflection_before_cable(load, 3.0).unwrap();
    assert!(swr_of_reflection(seen).unwrap() < 1.7);
    agrees(reflection_behind_cable(seen, 3.0).unwrap(), load);
    assert!(reflection_behind_cable(0.6, 3.0).is_err());
}

// Check: an SWR below 1 and more reflected than forward power are refused in a sentence
// Source: this project's own rule
// Known by: own rule
#[test]
fn impossible_matches_are_sentences() {
    assert_eq!(
        reflection_of_swr(0.9).unwrap_err().to_string(),
        "The standing wave ratio is 0.9, which is too low; enter 1 or more."
    );
    assert_eq!(
        reflection_of_powers(5.0, 6.0).unwrap_err().to_string(),
        "The reflected power is larger than the forward power; swap the two or take them again."
    );
}
