//! Decision rules and conformance against published figures.

mod common;

use common::{agrees, facts, floats, n, prints_as};
use halfturn::metrology::Limits;
use halfturn::metrology::decision::{
    Rule, Statement, conformance_probability, false_accept_risk, guard_for, managed_guard_band,
    risk_beyond_a_limit,
};
use halfturn::quantity::DecimalSign;

fn limits(low: Option<&str>, high: Option<&str>) -> Limits {
    let decimal = |text: Option<&str>| text.map(|text| n(text).decimal().clone());
    Limits {
        low: decimal(low),
        high: decimal(high),
    }
}

fn state(rule: &Rule, value: &str, limits: &Limits, expanded: &str) -> Statement {
    rule.state(n(value).decimal(), limits, n(expanded).decimal())
}

// Check: risk at the acceptance limit below 50, 5, 2.5, 0.16 % and 1 ppm for r = 0, 0.83, 1, 1.5, 3
// Source: ILAC-G8:09/2019 as quoted by an accredited laboratory; ISO 14253-1:2017 by a training note
// Known by: read
#[test]
fn guard_bands_keep_the_published_risk() {
    for (ratio, bound) in [(0.83, 0.05), (1.0, 0.025), (1.5, 0.0016), (3.0, 1e-6)] {
        assert!(false_accept_risk(ratio) < bound, "{ratio}");
    }
    assert_eq!(false_accept_risk(0.0), 0.5);
    for row in facts("guard_band_pfa") {
        let row = floats(&row);
        agrees(false_accept_risk(row[0]), row[2]);
    }
}

// Check: w = U at 95 % leaves 2.5 % beyond each limit, w = 0.83 U leaves 5.2 %
// Source: closed form of the normal distribution
// Known by: closed form
#[test]
fn a_guard_band_states_its_risk_for_the_uncertainty_it_is_made_of() {
    prints_as(100.0 * risk_beyond_a_limit(1.0), "2.500");
    prints_as(100.0 * risk_beyond_a_limit(0.83), "5.189");
    let said = Rule::guard_band().sentence().typeset(DecimalSign::Point);
    assert!(said.contains("at most 2.5 % beyond each limit"), "{said}");
}

// Check: acceptance limits TL, TL − w; pass on the limit, fail beyond it
// Source: ILAC-G8:09/2019, 4.2.1 and 4.2.2
// Known by: read
#[test]
fn two_way_rules_pass_up_to_their_acceptance_limit() {
    let upper = limits(None, Some("10.0"));
    for (rule, value, statement) in [
        (Rule::SimpleAcceptance, "10.0", Statement::Pass),
        (Rule::SimpleAcceptance, "10.1", Statement::Fail),
        (Rule::guard_band(), "9.5", Statement::Pass),
        (Rule::guard_band(), "9.51", Statement::Fail),
        (
            Rule::GuardBand { ratio: n("0.83") },
            "9.585",
            Statement::Pass,
        ),
        (
            Rule::GuardBand { ratio: n("0.83") },
            "9.586",
            Statement::Fail,
        ),
    ] {
        assert_eq!(state(&rule, value, &upper, "0.5"), statement, "{value}");
    }
}

// Check: pass to TL − w, conditional pass to TL, conditional fail to TL + w, fail beyond
// Source: ILAC-G8:09/2019, 4.2.3
// Known by: read; the zones from memory
#[test]
fn the_four_way_statement_has_four_zones() {
    let both = limits(Some("-10"), Some("10"));
    for (value, statement) in [
        ("9.5", Statement::Pass),
        ("9.6", Statement::ConditionalPass),
        ("10", Statement::ConditionalPass),
        ("10.1", Statement::ConditionalFail),
        ("10.5", Statement::ConditionalFail),
        ("10.6", Statement::Fail),
        ("-9.6", Statement::ConditionalPass),
        ("-10.6", Statement::Fail),
    ] {
        assert_eq!(
            state(&Rule::FourWay, value, &both, "0.5"),
            statement,
            "{value}"
        );
    }
}

// Check: ±0.5 Ω with a guard band of 20 %, 0.1 Ω, accepts ±0.4 Ω
// Source: training note of a measurement consultant on decision rules
// Known by: read
#[test]
fn a_guard_band_moves_both_limits_inward() {
    let both = limits(Some("-0.5"), Some("0.5"));
    let acceptance = Rule::guard_band().acceptance(&both, n("0.1").decimal());
    assert_eq!(acceptance, limits(Some("-0.4"), Some("0.4")));
}

// Check: TU −5.40 V, y −5.47 V, u 0.05 V: z 1.40, pc 0.92
// Source: JCGM 106:2012, 7.3.3 Example 1
// Known by: memory
#[test]
fn one_sided_conformance_prints_as_in_the_example() {
    let p = conformance_probability(-5.47, None, Some(-5.40), 0.05).unwrap();
    prints_as(p, "0.92");
    agrees(p, 0.919243340766);
    let mirrored = conformance_probability(5.47, Some(5.40), None, 0.05).unwrap();
    agrees(mirrored, p);
}

// Check: TL 12.5, TU 16.3, y 13.6, u 1.8 mm²/s: pc 0.66
// Source: JCGM 106:2012, 7.4
// Known by: memory
#[test]
fn two_sided_conformance_prints_as_in_the_example() {
    let p = conformance_probability(13.6, Some(12.5), Some(16.3), 1.8).unwrap();
    prints_as(p, "0.66");
    agrees(p, 0.662629786495);
    assert!(conformance_probability(13.6, Some(16.3), Some(12.5), 1.8).is_err());
    assert!(conformance_probability(13.6, None, None, 0.0).is_err());
}

// Check: a guard band of 5 % of U at 4 : 1, none from 4.6 : 1 on, 0.46 U at 1 : 1
// Source: M. Dobbert, "A guard-band strategy for managing false-accept risk", 2008
// Known by: memory
#[test]
fn a_managed_guard_band_shrinks_with_the_uncertainty_ratio() {
    prints_as(managed_guard_band(4.0).unwrap(), "0.05");
    prints_as(managed_guard_band(1.0).unwrap(), "0.46");
    assert!(managed_guard_band(4.5).unwrap() > 0.0);
    assert_eq!(managed_guard_band(4.7).unwrap(), 0.0);
    assert!(managed_guard_band(0.0).is_err());
}

// Check: with the managed guard band at most 2 % of all items are accepted wrongly, however they
// are spread about the middle
// Source: ANSI/NCSL Z540.3-2006, 5.3 b), worked out over spreads and ratios
// Known by: computed
#[test]
fn a_managed_guard_band_keeps_the_false_accepts_at_two_percent() {
    for ratio in [1.5, 2.0, 3.0, 4.0] {
        // Limits ±1, U = 1/ratio at 95 %.
        let standard = 1.0 / ratio / 1.96;
        let acceptance = 1.0 - managed_guard_band(ratio).unwrap() / ratio;
        for spread in [0.2, 0.35, 0.5, 0.7, 1.0, 2.0] {
            let mut wrong = 0.0;
            let width = 0.002;
            for step in 0..4000 {
                let truth = 1.0 + (f64::from(step) + 0.5) * width;
                let density = (-0.5 * (truth / spread) * (truth / spread)).exp()
                    / (spread * (2.0 * std::f64::consts::PI).sqrt());
                let accepted =
                    conformance_probability(truth, Some(-acceptance), Some(acceptance), standard);
                wrong += 2.0 * width * density * accepted.unwrap();
            }
            assert!(wrong < 0.0205, "{ratio} {spread}: {wrong}");
        }
    }
}

// Check: at the acceptance limit for a probability a value conforms with just that: 1.64 u for 95 %
// Source: JCGM 106:2012, 7.3 Table 1
// Known by: memory
#[test]
fn an_acceptance_limit_has_the_probability_required() {
    let one_sided = guard_for(0.95, (None, Some(10.0)), 0.5).unwrap().unwrap();
    prints_as(one_sided / 0.5, "1.64");
    for (probability, standard) in [(0.8, 0.1), (0.95, 0.1), (0.95, 0.4), (0.99, 0.3)] {
        let guard = guard_for(probability, (Some(-1.0), Some(1.0)), standard)
            .unwrap()
            .unwrap();
        let conforms =
            conformance_probability(1.0 - guard, Some(-1.0), Some(1.0), standard).unwrap();
        agrees(conforms, probability);
    }
    assert_eq!(guard_for(0.95, (Some(-1.0), Some(1.0)), 1.0).unwrap(), None);
    assert!(guard_for(1.0, (None, Some(1.0)), 1.0).is_err());
}

// Check: every rule can be printed and kept in a document
// Source: this project's own rule
// Known by: own rule
#[test]
fn a_rule_is_printed_with_its_clause_and_kept() {
    for rule in [
        Rule::SimpleAcceptance,
        Rule::guard_band(),
        Rule::GuardBand { ratio: n("0.83") },
        Rule::FourWay,
    ] {
        assert!(
            rule.sentence()
                .typeset(DecimalSign::Point)
                .contains("ILAC-G8:09/2019")
        );
        let json = serde_json::to_string(&rule).unwrap();
        assert_eq!(serde_json::from_str::<Rule>(&json).unwrap(), rule);
    }
    let said = |sign| Rule::guard_band().sentence().typeset(sign);
    assert!(said(DecimalSign::Point).contains("at most 2.5 %"));
    assert!(said(DecimalSign::Comma).contains("at most 2,5 %"));
    let extra = r#"{"guard-band":{"ratio":"1","width":"2"}}"#;
    assert!(serde_json::from_str::<Rule>(extra).is_err());
}
