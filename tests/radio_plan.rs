//! Frequency plans, channel tables and limits.

mod common;

use bigdecimal::BigDecimal;
use common::{facts, q};
use halfturn::radio::channels::{Channel, ChannelTable};
use halfturn::radio::frequency::hertz_of_ppm;
use halfturn::radio::limits::{Bound, Known, attenuation_required, built_in};
use halfturn::radio::plan::{Factor, Mode, Plan, Readings, Target, Term, spread};
use std::collections::BTreeMap;

fn hz(text: &str) -> BigDecimal {
    text.parse().unwrap()
}

fn term(oscillator: &str, factor: i32, target: Target) -> Term {
    Term {
        oscillator: oscillator.to_owned(),
        factor,
        target,
        adjuster: String::new(),
    }
}

/// A loop that follows the channel, and a carrier oscillator that each mode sets.
fn mode(name: &str, carrier: &str) -> Mode {
    Mode {
        name: name.to_owned(),
        terms: vec![
            term("loop", 1, Target::FollowsChannel),
            term("carrier", 1, Target::Fixed(q(carrier))),
        ],
        injection: vec![Factor {
            oscillator: "loop".to_owned(),
            factor: 1,
        }],
    }
}

fn plan() -> Plan {
    Plan {
        name: "two oscillators".to_owned(),
        modes: vec![
            mode("AM", "10.6950 MHz"),
            mode("USB", "10.6925 MHz"),
            mode("LSB", "10.6975 MHz"),
        ],
    }
}

fn readings(pairs: &[(&str, &str)]) -> Readings {
    let reading = |(name, text): &(&str, &str)| ((*name).to_owned(), q(text));
    pairs.iter().map(reading).collect()
}

fn channel_19() -> Channel {
    ChannelTable::us_27_megahertz()
        .channel("19")
        .unwrap()
        .clone()
}

// Check: 27.185 MHz is 16.4900 + 10.6950 (AM), 16.4925 + 10.6925 (USB), 16.4875 + 10.6975 (LSB)
// Source: common practice, no source
// Known by: common practice
#[test]
fn every_mode_lands_on_the_channel() {
    let plan = plan();
    for (name, target) in [("AM", "16490000"), ("USB", "16492500"), ("LSB", "16487500")] {
        let mode = plan.mode(name).unwrap();
        assert_eq!(mode.target("loop", &channel_19()).unwrap(), hz(target));
    }
    let am = plan.mode("AM").unwrap();
    assert_eq!(am.target("carrier", &channel_19()).unwrap(), hz("10695000"));
    let channel_1 = ChannelTable::us_27_megahertz()
        .channel("1")
        .unwrap()
        .clone();
    assert_eq!(am.target("loop", &channel_1).unwrap(), hz("16270000"));
}

// Check: readings predict the on-air error of each mode, how far the modes are apart and where
// the last adjuster lands the sum
// Source: sum of exact decimals
// Known by: closed form
#[test]
fn readings_predict_the_error_on_the_air() {
    let plan = plan();
    let am = readings(&[("loop", "16.490120 MHz"), ("carrier", "10.694950 MHz")]);
    let usb = readings(&[("loop", "16.492500 MHz"), ("carrier", "10.692550 MHz")]);
    let predictions = plan.predictions(&channel_19(), |mode| match mode {
        "AM" => Some(&am),
        "USB" => Some(&usb),
        _ => None,
    });
    let errors: Vec<_> = predictions.iter().map(|p| p.error.clone()).collect();
    assert_eq!(errors, [hz("70"), hz("50")]);
    assert_eq!(spread(&predictions), Some(hz("20")));
    let mode = plan.mode("AM").unwrap();
    let target = mode.last_target("carrier", &channel_19(), &am).unwrap();
    assert_eq!(target, hz("10694880"));
    assert_eq!(
        mode.on_air(&readings(&[("loop", "16.49 MHz")]))
            .unwrap_err()
            .to_string(),
        "The reading of “carrier” is missing; enter it first."
    );
}

// Check: multipliers, differences and a crystal per channel fit the same sum
// Source: sum of exact decimals
// Known by: closed form
#[test]
fn multipliers_differences_and_crystals_fit() {
    let tripler = Mode {
        name: "FM".to_owned(),
        terms: vec![term("oscillator", 3, Target::FollowsChannel)],
        injection: Vec::new(),
    };
    assert_eq!(
        tripler.target("oscillator", &channel_19()).unwrap(),
        hz("9061666.666667")
    );
    let crystals: BTreeMap<_, _> = [("19".to_owned(), q("37.660 MHz"))].into();
    let difference = Mode {
        name: "AM".to_owned(),
        terms: vec![
            term("high", 1, Target::PerChannel(crystals)),
            term("low", -1, Target::FollowsChannel),
        ],
        injection: Vec::new(),
    };
    assert_eq!(
        difference.target("low", &channel_19()).unwrap(),
        hz("10475000")
    );
    let unknown = ChannelTable::us_27_megahertz()
        .channel("20")
        .unwrap()
        .clone();
    assert!(difference.target("low", &unknown).is_err());
}

// Check: a plan with two oscillators that follow the channel is refused in a sentence
// Source: this project's own rule
// Known by: own rule
#[test]
fn an_undetermined_plan_says_what_to_change() {
    let mode = Mode {
        name: "AM".to_owned(),
        terms: vec![
            term("a", 1, Target::FollowsChannel),
            term("b", 1, Target::FollowsChannel),
        ],
        injection: Vec::new(),
    };
    assert_eq!(
        mode.target("a", &channel_19()).unwrap_err().to_string(),
        "In AM, 2 oscillators follow the channel; let exactly one follow it."
    );
    assert!(mode.target("c", &channel_19()).is_err());
    assert!(plan().mode("CW").is_err());
}

// Check: independent parts add in quadrature (3 and 4 Hz make 5), the shared time base linearly
// Source: JCGM 100:2008, 5.1.2 and 5.2.2
// Known by: closed form
#[test]
fn the_shared_time_base_adds_linearly() {
    let plan = plan();
    let mode = plan.mode("AM").unwrap();
    let readings = readings(&[("loop", "16.4900 MHz"), ("carrier", "10.6950 MHz")]);
    let parts: BTreeMap<_, _> = [("loop".to_owned(), 3.0), ("carrier".to_owned(), 4.0)].into();
    assert_eq!(mode.uncertainty(&readings, &parts, 0.0).unwrap(), 5.0);
    let shared = mode.uncertainty(&readings, &BTreeMap::new(), 1e-6).unwrap();
    assert!((shared - 27.185).abs() < 1e-9);
    let both = mode.uncertainty(&readings, &parts, 1e-6).unwrap();
    assert!((both - 27.185f64.hypot(5.0)).abs() < 1e-9);
}

// Check: image and half-IF of a plan
// Source: superheterodyne principle
// Known by: closed form
#[test]
fn a_plan_knows_where_else_it_listens() {
    let responses = plan().mode("AM").unwrap().responses(&channel_19()).unwrap();
    assert_eq!(responses.intermediate, hz("10695000"));
    assert_eq!(responses.image, hz("5795000"));
    assert_eq!(responses.half_if, hz("21837500"));
}

// Check: a plan survives a document and refuses fields that it does not know
// Source: this project's own rule
// Known by: own rule
#[test]
fn a_plan_is_a_document() {
    let json = serde_json::to_string(&plan()).unwrap();
    assert_eq!(serde_json::from_str::<Plan>(&json).unwrap(), plan());
    let extra = json.replacen("{", "{\"colour\":\"red\",", 1);
    assert!(serde_json::from_str::<Plan>(&extra).is_err());
}

// Check: 40 channels with the odd order from 22 to 26
// Source: 47 CFR 95.963 (read as former 95.407)
// Known by: read
#[test]
fn the_us_table_is_the_published_one() {
    let table = ChannelTable::us_27_megahertz();
    let rows = facts("cfr95_963_channels");
    assert_eq!(table.channels.len(), rows.len());
    for (channel, row) in table.channels.iter().zip(rows) {
        assert_eq!(channel.name, row[0]);
        assert_eq!(channel.frequency.to_string(), format!("{} MHz", row[1]));
        assert_eq!(channel.frequency.base(), hz(&row[2]));
        let limit = hertz_of_ppm(50.0, channel.frequency.base_f64()).unwrap();
        assert!((limit - row[3].parse::<f64>().unwrap()).abs() < 1e-9);
    }
    assert_eq!(table.channel("23").unwrap().frequency, q("27.255 MHz"));
    assert_eq!(table.channel("24").unwrap().frequency, q("27.235 MHz"));
}

// Check: band edges, 10 kHz raster and the five excluded centres
// Source: ECC/DEC/(11)03; numbering of EN 300 433 from memory
// Known by: read
#[test]
fn the_european_table_keeps_the_excluded_centres_free() {
    let table = ChannelTable::european_27_megahertz();
    let excluded = ["26.995", "27.045", "27.095", "27.145", "27.195"];
    for channel in &table.channels {
        let frequency = channel.frequency.base();
        assert!(frequency > hz("26960000") && frequency < hz("27410000"));
        assert!(!excluded.contains(&channel.frequency.number.to_string().as_str()));
    }
}

// Check: 27.60125 MHz + 10 kHz·(n − 1)
// Source: 27/81 band plan (MPT 1320)
// Known by: read
#[test]
fn the_uk_table_is_the_published_one() {
    let table = ChannelTable::uk_27_81();
    for (channel, row) in table.channels.iter().zip(facts("uk_27_81_channels")) {
        assert_eq!(channel.frequency.to_string(), format!("{} MHz", row[1]));
    }
    assert_eq!(table.channels.len(), 40);
}

// Check: 50 ppm, 4 W, 12 W, 85 to 100 %, 2 kHz
// Source: 47 CFR 95.965, 95.967, 95.975
// Known by: read
#[test]
fn us_limits_carry_their_section() {
    let sets = built_in();
    let us = sets.iter().find(|set| set.id == "47-cfr-95-d").unwrap();
    for (id, bound, clause) in [
        ("frequency", Bound::WithinPpm(50.into()), "95.965"),
        ("carrier-power", Bound::AtMost(q("4 W")), "95.967(a)"),
        ("pep", Bound::AtMost(q("12 W PEP")), "95.967(b)"),
        ("depth", Bound::Between(q("85 %"), q("100 %")), "95.975(a)"),
        ("deviation", Bound::AtMost(q("2 kHz")), "95.975(c)"),
    ] {
        let limit = us.limits.iter().find(|limit| limit.id == id).unwrap();
        assert_eq!((&limit.bound, limit.clause.as_str()), (&bound, clause));
        assert_eq!(limit.known, Known::Read);
    }
}

// Check: ±0.6 kHz, 4 W, 12 W and 20 µW are marked as from memory
// Source: EN 300 433
// Known by: memory
#[test]
fn european_limits_say_that_they_are_from_memory() {
    let sets = built_in();
    let europe = sets.iter().find(|set| set.id == "en-300-433").unwrap();
    assert!(
        europe
            .limits
            .iter()
            .all(|limit| limit.known == Known::FromMemory)
    );
}

// Check: every paragraph for this service of the text before 2017; the powers of the edition of
// 1995; what followed MPT 1320 in 1997
// Source: 47 CFR 95.635(b)(1) to (4) and (7) to (9); ETS 300 433, edition 1; a guide to MPT 1382
// Known by: read; the last two second-hand
#[test]
fn editions_that_sets_were_built_to_are_there_with_their_own_figures() {
    let sets = built_in();
    for (set, limit, bound, known) in [
        (
            "47-cfr-95-635",
            "unwanted-ssb-far",
            Bound::AtMost(q("-35 dBc")),
            Known::Read,
        ),
        (
            "47-cfr-95-635",
            "unwanted-beyond",
            Bound::BelowPower(53.into()),
            Known::Read,
        ),
        (
            "47-cfr-95-635",
            "unwanted-beyond-old",
            Bound::BelowPower(43.into()),
            Known::Read,
        ),
        (
            "47-cfr-95-635",
            "harmonics",
            Bound::AtMost(q("-60 dBc")),
            Known::Read,
        ),
        (
            "ets-300-433-1995",
            "carrier-power",
            Bound::AtMost(q("1 W")),
            Known::ReadSecondHand,
        ),
        (
            "ets-300-433-1995",
            "pep",
            Bound::AtMost(q("4 W PEP")),
            Known::ReadSecondHand,
        ),
        (
            "mpt-1320",
            "deviation",
            Bound::AtMost(q("2.5 kHz")),
            Known::ReadSecondHand,
        ),
        (
            "mpt-1382",
            "frequency",
            Bound::Within(q("0.6 kHz")),
            Known::ReadSecondHand,
        ),
        (
            "mpt-1382",
            "deviation",
            Bound::AtMost(q("2 kHz")),
            Known::ReadSecondHand,
        ),
        (
            "mpt-1382",
            "carrier-power",
            Bound::AtMost(q("4 W")),
            Known::ReadSecondHand,
        ),
        (
            "mpt-1382",
            "adjacent",
            Bound::AtMost(q("20 µW")),
            Known::ReadSecondHand,
        ),
    ] {
        let of = sets.iter().find(|it| it.id == set).unwrap();
        let found = of.limits.iter().find(|it| it.id == limit).unwrap();
        assert_eq!(
            (&found.bound, found.known),
            (&bound, known),
            "{set} {limit}"
        );
    }
}

// Check: 53 + 10 log P at 4 and 12 W, 43 + 10 log P at 4 W
// Source: 47 CFR 95.979(a)(3) from memory; 47 CFR 95.779(a)
// Known by: computed
#[test]
fn attenuation_grows_with_power() {
    for (base, watts, decibels) in [
        (53.0, 4.0, 59.0205999133),
        (53.0, 12.0, 63.7918124605),
        (43.0, 4.0, 49.0205999133),
    ] {
        common::agrees(attenuation_required(base, watts).unwrap(), decibels);
    }
}

// Check: ±1, ±0.1 and ±10 ppm of 146.52 MHz; of 462.1 and 156.52 MHz
// Source: NCVEC question pool E4B03 to E4B05; FCC Element 3 items 3-11B1 and 3-11B4
// Known by: read
#[test]
fn parts_per_million_come_out_in_hertz() {
    for (ppm, frequency, hertz) in [
        (1.0, 146.52e6, "146.52"),
        (0.1, 146.52e6, "14.652"),
        (10.0, 146.52e6, "1465.20"),
        (0.1, 462.1e6, "46.21"),
        (1.0, 156.52e6, "156.52"),
    ] {
        common::prints_as(hertz_of_ppm(ppm, frequency).unwrap(), hertz);
    }
}
