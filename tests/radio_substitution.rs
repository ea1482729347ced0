//! One device in place of another, with devices that nobody makes.

mod common;

use common::{n, prints_as, q};
use halfturn::quantity::{DecimalSign, Quantity};
use halfturn::radio::components::substitution::{
    Device, Gain, Kind, Pins, Rating, RatingFault, Seat, Seen, Standing, Substitution, derated,
    seat,
};
use proptest::prelude::*;

/// A driver in a small plastic case.
fn driver() -> Device {
    Device {
        name: "old driver".to_owned(),
        kind: Some(Kind::Npn),
        breakdown: Some(q("35 V")),
        current: Some(q("500 mA")),
        dissipation: Some(q("10 W")),
        junction: Some(q("150 °C")),
        junction_to_case: None,
        gain: Some(gain("40")),
        transition: Some(q("150 MHz")),
        pins: Some(pins("ECB", Seen::Front)),
    }
}

fn gain(least: &str) -> Gain {
    Gain {
        least: n(least),
        most: None,
    }
}

fn pins(order: &str, seen: Seen) -> Pins {
    Pins {
        order: order.parse().unwrap(),
        seen,
    }
}

fn named(name: &str, device: Device) -> Device {
    Device {
        name: name.to_owned(),
        ..device
    }
}

fn against_driver(new: Device, case: &str) -> Substitution {
    Substitution {
        old: driver(),
        new,
        case: q(case),
    }
}

// Check: 10 W and 150 °C leave 10, 8, 4 and 0 W at 25, 50, 100 and 150 °C
// Source: linear derating of data sheets, as in MIL-PRF-19500 temperature-power derating curves
// Known by: closed form
#[test]
fn dissipation_falls_in_a_line() {
    for (case, left) in [
        (-10.0, "10.00"),
        (25.0, "10.00"),
        (50.0, "8.00"),
        (100.0, "4.00"),
        (150.0, "0.00"),
        (170.0, "0.00"),
    ] {
        prints_as(derated(10.0, 150.0, case).unwrap(), left);
    }
    assert!(derated(10.0, 25.0, 50.0).is_err());
    assert!(derated(-1.0, 150.0, 50.0).is_err());
}

// Check: 1.14 mW/°C above 25 °C is the slope of 200 mW at 200 °C
// Source: a list of data sheet derating factors for transistors in metal cans
// Known by: read; the ratings from memory
#[test]
fn derating_has_the_slope_of_a_data_sheet() {
    let slope = derated(0.2, 200.0, 50.0).unwrap() - derated(0.2, 200.0, 51.0).unwrap();
    prints_as(1000.0 * slope, "1.14");
}

// Check: every rating is judged, and the one that falls short the most is named
// Source: own rule
// Known by: own rule
#[test]
fn the_weak_rating_is_named() {
    let new = Device {
        breakdown: Some(q("30 V")),
        current: Some(q("0.50 A")),
        dissipation: Some(q("12 W")),
        junction: Some(q("125 °C")),
        gain: Some(gain("60")),
        transition: None,
        ..named("new", driver())
    };
    // At 25 °C the new one is stronger, at 85 °C not: 5.2 W against 4.8 W.
    let cold = against_driver(new.clone(), "25 °C").compare().unwrap();
    assert_eq!(cold.ratings[2], (Rating::Dissipation, Standing::Better));
    let hot = against_driver(new, "85 °C").compare().unwrap();
    let words: Vec<String> = hot
        .ratings
        .iter()
        .map(|(rating, standing)| format!("{rating}: {}", standing.words(DecimalSign::Point)))
        .map(|text| text.replace('\u{a0}', " "))
        .collect();
    assert_eq!(
        words,
        [
            "breakdown voltage: weaker by 5 V (15 %)",
            "current: equal",
            "dissipation: weaker by 400 mW (8 %)",
            "gain: better",
            "transition frequency: not stated for “new”",
        ]
    );
    assert_eq!(hot.weakest, Some(Rating::Breakdown));
    assert_eq!(hot.seat, Seat::DropsIn);
}

// Check: a path of 12.5 °C/W says the same of 10 W as a junction of 150 °C; without either, hot is
// not stated
// Source: data sheet practice, θ = (Tjmax − 25)/Pmax
// Known by: closed form
#[test]
fn the_path_to_the_case_tells_the_junction() {
    let bare = Device {
        junction: None,
        ..named("bare", driver())
    };
    let path = Device {
        junction_to_case: Some(q("12.5 °C/W")),
        ..bare.clone()
    };
    let dissipation = |new: &Device, case: &str| {
        let comparison = against_driver(new.clone(), case).compare().unwrap();
        comparison.ratings[2].1.clone()
    };
    assert_eq!(dissipation(&path, "85 °C"), Standing::Equal);
    assert_eq!(dissipation(&bare, "20 °C"), Standing::Equal);
    let of = "bare".to_owned();
    assert_eq!(dissipation(&bare, "85 °C"), Standing::Missing { of });
}

// Check: the same legs drop in, reversed ones are turned, others formed, seen from any side
// Source: geometry of three legs in a row
// Known by: closed form
#[test]
fn legs_are_compared_from_one_side() {
    let front = |order| Some(pins(order, Seen::Front));
    let other = |pins, kind| Device {
        pins,
        kind,
        ..driver()
    };
    let npn = Some(Kind::Npn);
    for (new, expected) in [
        (other(front("ECB"), npn), Seat::DropsIn),
        (other(front("BCE"), npn), Seat::Turned),
        (other(front("EBC"), npn), Seat::LegsFormed),
        (other(Some(pins("BCE", Seen::Back)), npn), Seat::DropsIn),
        (other(Some(pins("ECB", Seen::Below)), npn), Seat::DropsIn),
        (other(Some(pins("ECB", Seen::Back)), npn), Seat::Turned),
        (other(front("ECB"), None), Seat::Unknown),
        (other(front("GDS"), None), Seat::Never),
        (other(front("GDS"), npn), Seat::Never),
        (other(front("ECB"), Some(Kind::Pnp)), Seat::Never),
        (other(None, npn), Seat::Unknown),
    ] {
        assert_eq!(seat(&driver(), &new), expected, "{new:?}");
    }
}

// Check: what can't be is refused: units, gains below zero, legs named twice, unknown fields
// Source: own rule
// Known by: own rule
#[test]
fn nonsense_is_refused() {
    let volts = Device {
        current: Some(q("5 V")),
        ..named("odd", driver())
    };
    let refused = against_driver(volts, "25 °C").compare().unwrap_err();
    assert_eq!(
        refused.to_string().replace('\u{a0}', " "),
        "5 V of “odd” is in V where A is due; change the unit."
    );
    let negative = Device {
        gain: Some(gain("-5")),
        ..driver()
    };
    let refused = against_driver(negative, "25 °C").compare();
    assert!(matches!(refused, Err(RatingFault::Fault(_))));
    assert!(against_driver(driver(), "25 V").compare().is_err());
    for order in ["", "E", "EE", "ecb", "ECBXYZW", "E B"] {
        let json = format!(r#"{{"name":"x","pins":{{"order":"{order}","seen":"front"}}}}"#);
        assert!(serde_json::from_str::<Device>(&json).is_err(), "{order}");
    }
    assert!(serde_json::from_str::<Device>(r#"{"name":"x","colour":"red"}"#).is_err());
}

// Check: without a rating or legs known of both there is no verdict, and none is put into words
// Source: own rule
// Known by: own rule
#[test]
fn nothing_known_is_no_verdict() {
    let only = |name: &str, change: fn(&mut Device)| {
        let mut device = named(name, Device::default());
        change(&mut device);
        device
    };
    let bare = |name: &str| only(name, |_| {});
    let rated = |name: &str| only(name, |device| device.breakdown = Some(q("35 V")));
    let legs = |name: &str| only(name, |device| device.pins = Some(pins("ECB", Seen::Front)));
    for (old, new, finding, says) in [
        (bare("a"), bare("b"), None, false),
        (rated("a"), bare("b"), None, false),
        (rated("a"), legs("b"), None, false),
        (legs("a"), legs("b"), None, false),
        (
            rated("a"),
            rated("b"),
            Some("No rating known of both falls short; 1 of 5 are known of both."),
            true,
        ),
        (driver(), driver(), Some("No rating falls short."), true),
    ] {
        let check = Substitution {
            old,
            new,
            case: q("25 °C"),
        };
        let compared = check.compare().unwrap();
        assert_eq!(compared.finding().as_deref(), finding);
        assert_eq!(compared.says_something(), says);
        let verdict = check.verdict(DecimalSign::Point);
        assert_eq!(
            verdict.contains("falls short"),
            finding.is_some(),
            "{verdict}"
        );
        assert_eq!(verdict.contains("nothing is said"), !says, "{verdict}");
    }
}

// Check: a document keeps ratings as typed
// Source: own rule
// Known by: own rule
#[test]
fn a_document_keeps_its_ratings() {
    let substitution = against_driver(named("new", driver()), "85.0 °C");
    let json = serde_json::to_string(&substitution).unwrap();
    assert!(json.contains(r#""breakdown":"35 V""#), "{json}");
    assert!(json.contains(r#""case":"85.0 °C""#), "{json}");
    assert!(json.contains(r#""kind":"npn""#), "{json}");
    let back: Substitution = serde_json::from_str(&json).unwrap();
    assert_eq!(back, substitution);
}

proptest! {
    // Check: better one way is weaker the other way, and a device stands in for itself
    // Source: own rule
    // Known by: own rule
    #[test]
    fn a_comparison_turned_round_is_its_reverse(
        volts in 1i32..100,
        other in 1i32..100,
        case in -40i32..200,
    ) {
        let rated = |volts: i32| Device {
            breakdown: Some(q(&format!("{volts} V"))),
            ..driver()
        };
        let case: Quantity = q(&format!("{case} °C"));
        let compare = |old, new| {
            let substitution = Substitution { old, new, case: case.clone() };
            substitution.compare().unwrap()
        };
        let there = compare(rated(volts), rated(other));
        let back = compare(rated(other), rated(volts));
        let weaker = |standing: &Standing| matches!(standing, Standing::Weaker { .. });
        prop_assert_eq!(there.ratings[0].1 == Standing::Better, weaker(&back.ratings[0].1));
        prop_assert_eq!(there.weakest.is_some(), other < volts);
        prop_assert_eq!(compare(rated(volts), rated(volts)).weakest, None);
    }
}
