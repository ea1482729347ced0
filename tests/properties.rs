//! What holds for every value.

mod common;

use bigdecimal::BigDecimal;
use halfturn::metrology::Limits;
use halfturn::metrology::decision::{Rule, Statement, conformance_probability};
use halfturn::metrology::distribution::{normal, student};
use halfturn::metrology::uncertainty::stated;
use halfturn::quantity::sum::{Answer, Entry};
use halfturn::quantity::{Number, Quantity, Scale, Unit};
use halfturn::radio;
use halfturn::radio::components::discharge;
use halfturn::radio::components::preferred::Series;
use halfturn::radio::levels::*;
use halfturn::radio::mismatch::*;
use halfturn::radio::receiver::*;
use halfturn::radio::{modulation, stages};
use proptest::prelude::*;

/// Equal in the twelve digits that a page shows at most.
fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-12 * b.abs().max(1e-300)
}

fn decimal(thousandths: i64) -> BigDecimal {
    BigDecimal::new(thousandths.into(), 3)
}

fn statement(rule: &Rule, value: i64, half_width: i64, expanded: i64) -> Statement {
    let limits = Limits {
        low: Some(decimal(-half_width)),
        high: Some(decimal(half_width)),
    };
    rule.state(&decimal(value), &limits, &decimal(expanded))
}

fn rules() -> impl Strategy<Value = Rule> {
    prop_oneof![
        Just(Rule::SimpleAcceptance),
        Just(Rule::FourWay),
        (0i64..4000).prop_map(|ratio| Rule::GuardBand {
            ratio: Number::from_decimal(decimal(ratio)),
        }),
    ]
}

proptest! {
    // Check: conversions there and back keep twelve digits
    // Source: closed form
    // Known by: closed form
    #[test]
    fn conversions_come_back(
        watts in 1e-15..1e4f64,
        ohms in 1.0..1e4f64,
        dbm in -150.0..70.0f64,
        reflection in 1e-4..0.999f64,
        sinad in 0.1..80.0f64,
        depth in 0.0..1.0f64,
        henries in 1e-9..1.0f64,
        farads in 1e-13..1e-3f64,
    ) {
        prop_assert!(same(watts_of_volts(volts_of_watts(watts, ohms)?, ohms)?, watts));
        prop_assert!((dbm_of_watts(watts_of_dbm(dbm)?)? - dbm).abs() < 1e-12);
        prop_assert!((dbuv_of_volts(volts_of_dbuv(dbm)?)? - dbm).abs() < 1e-12);
        prop_assert!((dbm_of_dbw(dbw_of_dbm(dbm)) - dbm).abs() < 1e-12);
        prop_assert!(same(rms_of_peak(peak_of_rms(watts)), watts));
        prop_assert!(same(rms_of_peak_to_peak(peak_to_peak_of_rms(watts)), watts));
        prop_assert_eq!(pd_of_emf(emf_of_pd(watts)), watts);
        let swr = swr_of_reflection(reflection)?;
        prop_assert!((reflection_of_swr(swr)? - reflection).abs() < 1e-13);
        let loss = return_loss_of_reflection(reflection)?;
        prop_assert!(same(reflection_of_return_loss(loss)?, reflection));
        prop_assert!((swr_of_return_loss(loss)? / swr - 1.0).abs() < 1e-11);
        prop_assert!((sinad_of_distortion(distortion_of_sinad(sinad)?)? - sinad).abs() < 1e-12);
        let mean = modulation::mean_power(watts, depth)?;
        prop_assert!(same(modulation::carrier_of_mean_power(mean, depth)?, watts));
        let hertz = stages::resonance(henries, farads)?;
        prop_assert!(same(stages::resonating_capacitance(hertz, henries)?, farads));
        prop_assert!(same(stages::resonating_inductance(hertz, farads)?, henries));
    }

    // Check: a level comes back from what the screen shows within one count of what was typed
    // Source: closed form
    // Known by: closed form
    #[test]
    fn shown_levels_come_back_within_a_count(tenths in -1500i64..700, ohms in 1i32..1000) {
        let level = radio::sums::all().find(|sum| sum.id == "level").unwrap();
        let tenth = |tenths: i64| Number::from_decimal(BigDecimal::new(tenths.into(), 1));
        let dbm = Scale::plain(Unit::DecibelMilliwatt);
        let shown = |typed: Quantity| {
            let impedance = Quantity::new(ohms.into(), Scale::plain(Unit::Ohm));
            match level.answer(&[typed, impedance].map(|quantity| Some(Entry::Amount(quantity)))) {
                Ok(Answer::Worked { outcome, digits }) => outcome
                    .outputs
                    .iter()
                    .filter_map(|output| output.quantity(digits))
                    .collect::<Vec<_>>(),
                other => panic!("{other:?}"),
            }
        };
        for other in shown(Quantity::new(tenth(tenths), dbm)) {
            let back = shown(other.clone())[0].base_f64();
            prop_assert!((back - tenths as f64 / 10.0).abs() <= 0.1, "{other} gives {back}");
        }
    }

    // Check: distribution functions and their quantiles undo each other
    // Source: closed form
    // Known by: closed form
    #[test]
    fn quantiles_undo_their_distribution(p in 1e-9..0.5f64, freedom in 1.0..1e7f64) {
        prop_assert!((normal::cdf(normal::quantile(p)?) / p - 1.0).abs() < 1e-12);
        let back = student::cdf(student::quantile(p, freedom)?, freedom)?;
        prop_assert!((back / p - 1.0).abs() < 1e-9, "{back} for {p}");
        let mirrored = -student::quantile(1.0 - p, freedom)?;
        let same = student::quantile(1.0 - (1.0 - p), freedom)?;
        prop_assert_eq!(mirrored, same);
    }

    // Check: a capacitor reaches its safe voltage at the time foretold, and never rises
    // Source: exponential discharge
    // Known by: closed form
    #[test]
    fn a_capacitor_is_safe_when_foretold(
        start in 50.0..500.0f64,
        safe in 1.0..50.0f64,
        ohms in 10.0..1e6f64,
        farads in 1e-7..1e-2f64,
    ) {
        let seconds = discharge::time_to_bleed(start, safe, ohms, farads)?;
        let left = discharge::voltage_after(start, ohms, farads, seconds)?;
        prop_assert!(same(left, safe));
        prop_assert!(discharge::voltage_after(start, ohms, farads, seconds * 1.1)? < left);
    }

    // Check: a preferred value lies within its series' step of any value
    // Source: IEC 60063
    // Known by: closed form
    #[test]
    fn a_preferred_value_is_never_far(exponent in -12.0..9.0f64) {
        let value = 10f64.powf(exponent);
        for series in Series::ALL {
            let around = series.around(value)?;
            prop_assert!(around.below <= value && value <= around.above);
            prop_assert!([around.below, around.above].contains(&around.nearest));
            prop_assert!(around.above / around.below < 1.6);
        }
    }

    // Check: widening a tolerance never turns a pass into a fail
    // Source: ILAC-G8:09/2019, 4.2
    // Known by: closed form
    #[test]
    fn widening_a_tolerance_never_worsens_a_statement(
        rule in rules(),
        value in -20_000i64..20_000,
        half_width in 0i64..10_000,
        wider in 0i64..10_000,
        expanded in 0i64..5_000,
    ) {
        let narrow = statement(&rule, value, half_width, expanded);
        prop_assert!(statement(&rule, value, half_width + wider, expanded) >= narrow);
    }

    // Check: a value nearer the middle is never judged worse
    // Source: ILAC-G8:09/2019, 4.2
    // Known by: closed form
    #[test]
    fn a_value_nearer_the_middle_is_never_judged_worse(
        rule in rules(),
        value in 0i64..20_000,
        nearer in 0i64..20_000,
        half_width in 0i64..10_000,
        expanded in 0i64..5_000,
    ) {
        let (far, near) = (value.max(nearer), value.min(nearer));
        let far = statement(&rule, far, half_width, expanded);
        prop_assert!(statement(&rule, near, half_width, expanded) >= far);
    }

    // Check: a guard band never turns a fail into a pass, and a wider one never helps
    // Source: ILAC-G8:09/2019, 4.2.2
    // Known by: closed form
    #[test]
    fn a_guard_band_never_turns_fail_to_pass(
        value in -20_000i64..20_000,
        half_width in 0i64..10_000,
        expanded in 0i64..5_000,
        ratio in 0i64..3_000,
        more in 0i64..3_000,
    ) {
        let band = |ratio| Rule::GuardBand { ratio: Number::from_decimal(decimal(ratio)) };
        let simple = statement(&Rule::SimpleAcceptance, value, half_width, expanded);
        let guarded = statement(&band(ratio), value, half_width, expanded);
        let wider = statement(&band(ratio + more), value, half_width, expanded);
        prop_assert!(guarded <= simple && wider <= guarded);
        let four = statement(&Rule::FourWay, value, half_width, expanded);
        let inside = simple == Statement::Pass;
        prop_assert_eq!(four >= Statement::ConditionalPass, inside);
    }

    // Check: a conformance probability is one, and two one-sided ones make the two-sided one
    // Source: JCGM 106:2012, 7.3 and 7.4
    // Known by: closed form
    #[test]
    fn conformance_is_a_probability(
        value in -10.0..10.0f64,
        low in -10.0..0.0f64,
        high in 0.0..10.0f64,
        standard in 0.01..10.0f64,
    ) {
        let of = |low, high| conformance_probability(value, low, high, standard);
        let both = of(Some(low), Some(high))?;
        prop_assert!((0.0..=1.0).contains(&both));
        let one_sided = of(Some(low), None)? + of(None, Some(high))? - 1.0;
        prop_assert!((both - one_sided).abs() < 1e-12);
        prop_assert!(of(Some(low - 1.0), Some(high + 1.0))? >= both);
    }

    // Check: a stated uncertainty has two digits, is never understated by 1 % nor overstated by 10 %
    // Source: JCGM 100:2008, 7.2.6
    // Known by: closed form
    #[test]
    fn a_stated_uncertainty_is_honest(exponent in -9.0..9.0f64, value in -1_000_000i64..1_000_000) {
        let expanded = 10f64.powf(exponent);
        let stated = stated(&decimal(value), expanded)?.unwrap();
        let ratio = stated.expanded.to_f64() / expanded;
        prop_assert!(ratio > 0.99 && ratio <= 1.1, "{ratio}");
        prop_assert_eq!(stated.value.decimals(), stated.expanded.decimals());
        let moved = (stated.value.to_f64() - decimal(value).to_string().parse::<f64>().unwrap()).abs();
        prop_assert!(moved <= stated.expanded.to_f64() * 0.051);
    }
}
