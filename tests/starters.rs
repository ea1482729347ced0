//! The procedures to start from: sound but for what is open, safe to key, and true to the
//! limits that they cite.

mod support;

use bigdecimal::BigDecimal;
use halfturn::exchange::report::words;
use halfturn::exchange::{Starter, starters};
use halfturn::procedure::{
    Basis, Gravity, Id, Place, Procedure, Signal, Step, Target, TargetKind, Work, cited, remarks,
};
use halfturn::quantity::{DecimalSign, Quantity, Unit};
use halfturn::radio::channels::ChannelTable;
use halfturn::radio::levels::dbm_of_watts;
use halfturn::radio::limits::{Bound, NOTICE};
use std::collections::{BTreeSet, HashSet};
use support::id;

const POINT: DecimalSign = DecimalSign::Point;

/// The files that starters stand in, as their ids name them.
const FILES: [&str; 6] = ["intake", "align", "proof", "power", "airband", "hf"];
const START: &str = "<!-- starters -->";
const END: &str = "<!-- /starters -->";

fn all() -> Vec<Starter> {
    starters(POINT)
}

fn named(part: &str) -> Starter {
    let mut found = all()
        .into_iter()
        .filter(|s| s.draft.id.as_str().contains(part));
    found.next().unwrap_or_else(|| panic!("no starter {part}"))
}

fn read(starter: &Starter) -> Procedure {
    starter.draft.read(POINT).0
}

fn faults(starter: &Starter) -> Vec<(Place, String)> {
    let all = remarks(&starter.draft, &[], POINT);
    let faults = all.into_iter().filter(|r| r.gravity == Gravity::Fault);
    faults.map(|r| (r.place, r.sentence)).collect()
}

#[test]
fn every_starter_is_there_and_says_what_it_is_for() {
    let names: Vec<String> = all().into_iter().map(|s| s.name).collect();
    assert_eq!(
        names,
        [
            "Intake inspection",
            "Alignment, 40-channel AM/SSB",
            "Proof, 47 CFR Part 95 Subpart D",
            "Proof, EN 300 433 and EN 300 135",
            "Proof, MPT 1320 (27/81)",
            "Power supply and lead",
            "Airband AM, 47 CFR Part 87 (aircraft) and ICAO Annex 10 (airborne)",
            "Airband AM, 47 CFR Part 87 (ground) and ICAO Annex 10 (ground)",
            "HF transceiver, SSB and CW, 47 CFR Part 97",
            "HF transceiver, SSB and CW, ITU Radio Regulations, Appendix 3",
        ]
    );
    let ids: HashSet<Id> = all().into_iter().map(|s| s.draft.id).collect();
    assert_eq!(ids.len(), names.len(), "each has an id of its own");
    for starter in all() {
        assert!(starter.about.ends_with('.'), "{}", starter.name);
        assert_eq!(starter.draft.from, 0, "{}", starter.name);
        assert!(!starter.draft.covers.is_empty(), "{}", starter.name);
    }
}

#[test]
fn all_but_those_with_something_open_can_start_a_job_as_they_are() {
    for starter in all() {
        if open(&starter).is_empty() {
            assert_eq!(faults(&starter), [], "{}", starter.name);
        }
    }
}

/// The numbers of the steps whose figure is open.
fn open(starter: &Starter) -> Vec<usize> {
    let draft = &starter.draft;
    let is_open = |step: &&halfturn::procedure::DraftStep| {
        step.target.kind == TargetKind::Around && step.target.value.is_empty()
    };
    let steps = draft.steps().filter(is_open);
    steps.filter_map(|step| draft.number_of(&step.id)).collect()
}

/// The starters with something open: how many figures, and whether designators are.
const OPEN: [(&str, usize, bool); 5] = [
    ("align", 12, true),
    ("airband-47-cfr-87-aircraft", 2, false),
    ("airband-47-cfr-87-ground", 2, false),
    ("hf-47-cfr-97", 1, false),
    ("hf-itu", 1, false),
];

#[test]
fn a_starter_has_no_fault_but_what_is_open() {
    for (part, figures, designators) in OPEN {
        let starter = named(part);
        let open = open(&starter);
        assert_eq!(open.len(), figures, "{part}");
        let found = faults(&starter);
        let (parts, steps): (Vec<_>, Vec<_>) = found
            .into_iter()
            .partition(|(place, _)| *place == Place::Parts);
        let said: Vec<usize> = steps
            .iter()
            .map(|(place, sentence)| {
                assert!(sentence.contains("its target is missing"), "{sentence}");
                match place {
                    Place::Step(number) => *number,
                    place => panic!("{part}: {place:?}: {sentence}"),
                }
            })
            .collect();
        assert_eq!(said, open, "{part}");
        // Of adjusters and of test points.
        assert_eq!(parts.len(), if designators { 2 } else { 0 }, "{parts:?}");
        assert!(
            parts
                .iter()
                .all(|(_, sentence)| sentence.contains("wait for their designators"))
        );
    }
}

/// A starter as a person fills it in: a designator for every open name, a figure for every open
/// target.
fn filled_in(part: &str) -> Starter {
    use halfturn::procedure::edit::{List, rename};
    let mut starter = named(part);
    let draft = &mut starter.draft;
    for (list, letter) in [(List::Adjusters, 'A'), (List::TestPoints, 'P')] {
        for (index, name) in list.names(draft).into_iter().enumerate() {
            if name.starts_with('?') {
                rename(draft, list, index, &format!("{letter}{index}")).expect("a free name");
            }
        }
    }
    for step in draft.steps_mut() {
        if step.target.kind == TargetKind::Around && step.target.value.is_empty() {
            step.target.value = format!("10 {}", step.scale);
        }
    }
    starter
}

#[test]
fn filled_in_a_starter_is_sound() {
    for (part, ..) in OPEN {
        assert_eq!(faults(&filled_in(part)), [], "{part}");
    }
}

#[test]
fn every_starter_can_be_typed_with_a_comma() {
    for (point, comma) in all().iter().zip(starters(DecimalSign::Comma)) {
        assert_eq!(
            point.draft.read(POINT),
            comma.draft.read(DecimalSign::Comma),
            "{}",
            comma.name
        );
    }
}

/// Those that key the transmitter.
fn keyed(procedure: &Procedure) -> impl Iterator<Item = &Step> {
    let steps = procedure.steps();
    steps.filter(|step| step.set_up.signal == Some(Signal::Tx))
}

#[test]
fn nothing_is_keyed_but_behind_a_stop_for_the_load() {
    let mut count = 0;
    for starter in [all(), vec![filled_in("align")]].concat() {
        let procedure = read(&starter);
        for step in keyed(&procedure) {
            count += 1;
            let holds = |need: &Id| match procedure.step(need).map(|s| &s.work) {
                Some(Work::Stop { confirm, .. }) => {
                    procedure.number_of(need) < procedure.number_of(&step.id)
                        && confirm.contains("50 Ω dummy load is on")
                        && confirm.contains("no aerial")
                }
                _ => false,
            };
            assert!(
                step.needs.iter().any(holds),
                "{} of {}",
                step.id,
                starter.name
            );
            let socket = step
                .set_up
                .controls
                .iter()
                .find(|c| c.name == "Aerial socket");
            let socket = &socket.unwrap_or_else(|| panic!("{}", step.id)).to;
            assert!(
                socket.contains("dummy load"),
                "{} of {}",
                step.id,
                starter.name
            );
        }
    }
    assert!(count > 60, "{count}");
}

#[test]
fn nothing_is_keyed_at_a_bench_supply_without_a_stop_for_its_limit() {
    for part in [
        "align",
        "proof-47",
        "proof-en",
        "proof-mpt",
        "airband-47-cfr-87-aircraft",
        "airband-47-cfr-87-ground",
        "hf-47",
        "hf-itu",
    ] {
        let procedure = read(&named(part));
        for step in keyed(&procedure) {
            let limits = |need: &Id| match procedure.step(need).map(|s| &s.work) {
                Some(Work::Stop { confirm, .. }) => confirm.contains("current limit is at"),
                _ => false,
            };
            assert!(step.needs.iter().any(limits), "{} of {part}", step.id);
        }
    }
}

#[test]
fn a_generator_meets_a_socket_that_nothing_can_key() {
    for starter in all() {
        for step in read(&starter).steps() {
            let on = |name: &str| {
                let control = step.set_up.controls.iter().find(|c| c.name == name);
                control.map_or("", |c| c.to.as_str())
            };
            if on("Aerial socket").starts_with("generator") {
                assert_ne!(step.set_up.signal, Some(Signal::Tx), "{}", step.id);
                assert_eq!(on("Microphone socket"), "empty", "{}", step.id);
            }
        }
    }
}

#[test]
fn whatever_comes_off_or_is_fitted_for_a_while_goes_back() {
    for starter in all() {
        let procedure = read(&starter);
        let off: BTreeSet<&str> = procedure
            .steps()
            .flat_map(|step| step.takes_off.iter().map(|item| item.what.as_str()))
            .collect();
        let back: BTreeSet<&str> = procedure
            .steps()
            .flat_map(|step| step.puts_back.iter().map(String::as_str))
            .collect();
        assert_eq!(off, back, "{}", starter.name);
        assert!(!off.is_empty(), "{}", starter.name);
    }
}

#[test]
fn whatever_is_listed_is_used() {
    for starter in all()
        .into_iter()
        .chain(OPEN.map(|(part, ..)| filled_in(part)))
    {
        if !faults(&starter).is_empty() {
            continue;
        }
        let procedure = read(&starter);
        let turned: HashSet<&Id> = procedure
            .steps()
            .filter_map(|s| s.work.adjuster())
            .collect();
        for adjuster in &procedure.adjusters {
            let link = adjuster.kind == halfturn::procedure::AdjusterKind::Link;
            assert!(link || turned.contains(&adjuster.id), "{}", adjuster.id);
        }
        let gauges = || procedure.steps().filter_map(|step| step.work.gauge());
        let at: HashSet<&Id> = gauges().map(|gauge| &gauge.at).collect();
        for point in &procedure.test_points {
            assert!(at.contains(&point.id), "{} of {}", point.id, starter.name);
        }
    }
}

// Check: limits that the starter proofs cite, worked out on their channels
// Source: 47 CFR 95.965, 95.967, 95.975, 87.131, 87.133, 87.139, 97.307(d), 97.313(b); ICAO Annex 10
// Volume III from memory
// Known by: read
#[test]
fn the_proofs_judge_by_the_published_limits() {
    for (part, step, low, high) in [
        ("proof-47", "power-am", None, Some("4 W")),
        ("proof-47", "power-usb", None, Some("12 W")),
        ("proof-47", "depth", Some("85 %"), Some("100 %")),
        ("proof-47", "deviation", None, Some("2 kHz")),
        // 50 ppm of 27.205 MHz are 1360.25 Hz.
        (
            "proof-47",
            "freq-am-20",
            Some("27203639.75 Hz"),
            Some("27206360.25 Hz"),
        ),
        ("proof-47", "harmonics", None, Some("-60 dBc")),
        ("proof-en", "power-am", None, Some("4 W")),
        ("proof-en", "power-usb", None, Some("12 W")),
        (
            "proof-en",
            "freq-am-20",
            Some("27204400 Hz"),
            Some("27205600 Hz"),
        ),
        ("proof-en", "deviation", None, Some("2 kHz")),
        ("proof-en", "adjacent", None, Some("20 µW")),
        // 30, 20, 5 and 1 ppm of 127 MHz are 3810, 2540, 635 and 127 Hz.
        (
            "airband-47-cfr-87-aircraft",
            "freq-mid",
            Some("126996190 Hz"),
            Some("127003810 Hz"),
        ),
        (
            "airband-47-cfr-87-ground",
            "freq-mid",
            Some("126997460 Hz"),
            Some("127002540 Hz"),
        ),
        (
            "airband-47-cfr-87-ground",
            "freq-narrow",
            Some("126999365 Hz"),
            Some("127000635 Hz"),
        ),
        (
            "airband-47-cfr-87-ground",
            "freq-icao",
            Some("126999873 Hz"),
            Some("127000127 Hz"),
        ),
        (
            "airband-47-cfr-87-aircraft",
            "power-most",
            None,
            Some("55 W"),
        ),
        (
            "airband-47-cfr-87-aircraft",
            "depth",
            Some("85 %"),
            Some("100 %"),
        ),
        (
            "airband-47-cfr-87-aircraft",
            "near-narrow",
            None,
            Some("-25 dBc"),
        ),
        ("hf-47", "clean-20", None, Some("-43 dBc")),
        ("hf-47", "cw-power", None, Some("1500 W")),
        (
            "proof-mpt",
            "freq-fm-1",
            Some("27599750 Hz"),
            Some("27602750 Hz"),
        ),
        ("proof-mpt", "deviation", None, Some("2.5 kHz")),
    ] {
        let procedure = read(&named(part));
        let found = procedure
            .step(&id(step))
            .unwrap_or_else(|| panic!("{step}"));
        let tolerance = procedure
            .tolerance(found, |_| None)
            .expect(step)
            .expect(step);
        let limits = tolerance.limits();
        let base = |text: Option<&str>| text.map(|t| t.parse::<Quantity>().expect(t).base());
        assert_eq!(
            (limits.low, limits.high),
            (base(low), base(high)),
            "{part}: {step}"
        );
    }
}

#[test]
fn a_step_whose_limit_the_rules_lack_falls_away_or_is_for_the_record() {
    for (part, lacks, records) in [
        (
            "proof-47",
            vec!["adjacent", "spurious-low", "standby-low"],
            vec![],
        ),
        (
            "proof-en",
            vec!["near-am", "harmonics", "bandwidth-usb"],
            vec!["depth"],
        ),
        (
            "proof-mpt",
            vec!["power-am", "sens-usb", "harmonics", "depth"],
            vec!["power-fm"],
        ),
    ] {
        let procedure = read(&named(part));
        for step in lacks {
            assert_eq!(procedure.step(&id(step)), None, "{part}: {step}");
        }
        for step in records {
            let found = procedure.step(&id(step)).expect(step);
            assert_eq!(found.work.target(), None, "{part}: {step}");
        }
        assert!(procedure.cautions.iter().any(|caution| caution == NOTICE));
        for step in procedure.steps() {
            if let Some(Target::Limit { set, limit, .. }) = step.work.target() {
                assert!(cited(set, limit).is_ok(), "{part}: {set} {limit}");
            }
        }
    }
}

#[test]
fn a_proof_goes_by_the_channels_of_its_rules() {
    for (part, table) in [
        ("proof-47", ChannelTable::us_27_megahertz()),
        ("proof-en", ChannelTable::european_27_megahertz()),
        ("proof-mpt", ChannelTable::uk_27_81()),
    ] {
        assert_eq!(named(part).draft.channels, Some(table));
    }
    let align = named("align").draft.channels.expect("channels");
    assert_eq!(align.channels, ChannelTable::us_27_megahertz().channels);
}

// Check: powers in watts that the starters also state in dBm
// Source: 10 log (P / 1 mW)
// Known by: own rule
#[test]
fn a_power_that_a_text_also_states_in_dbm_is_the_same_power() {
    let mut checked = 0;
    for step in read(&named("proof-en")).steps() {
        let Some(Target::Limit { set, limit, .. }) = step.work.target() else {
            continue;
        };
        let Bound::AtMost(most) = cited(set, limit).expect("a limit").1.bound else {
            continue;
        };
        let unit = step.work.gauge().expect("a gauge").scale;
        if unit.unit != Unit::Watt || unit.symbol() == "W" {
            continue;
        }
        let dbm = dbm_of_watts(most.base_f64()).expect("a power").round();
        let said = format!("−{} dBm", dbm.abs());
        assert!(step.text.contains(&said), "{}: {said}", step.id);
        assert!(step.text.contains(&most.to_string()), "{}: {most}", step.id);
        checked += 1;
    }
    assert_eq!(checked, 6);
}

// Check: figures of the starter alignment that repeat a published limit
// Source: 47 CFR 95.965, 95.967, 95.975
// Known by: read
#[test]
fn an_alignment_left_inside_meets_the_published_limits() {
    let procedure = read(&filled_in("align"));
    let tolerance = |name: &str| {
        let step = procedure.step(&id(name)).expect(name);
        procedure
            .tolerance(step, |_| None)
            .expect(name)
            .expect(name)
            .limits()
    };
    let bound = |limit: &str| cited("47-cfr-95-d", limit).expect(limit).1.bound;
    for (step, limit) in [
        ("power-am", "carrier-power"),
        ("power-ssb", "pep"),
        ("harmonics", "harmonics"),
    ] {
        let Bound::AtMost(most) = bound(limit) else {
            panic!("{limit}")
        };
        assert_eq!(tolerance(step).high, Some(most.base()), "{step}");
    }
    let Bound::Between(low, high) = bound("depth") else {
        panic!("depth")
    };
    let depth = tolerance("depth");
    assert_eq!(
        (depth.low, depth.high),
        (Some(low.base()), Some(high.base()))
    );
    // What the alignment allows on the air lies inside of all three rules' frequency limits.
    for (name, channel) in [
        ("air-am-1", 26_965_000),
        ("air-am-20", 27_205_000),
        ("air-am-40", 27_405_000),
    ] {
        let limits = tolerance(name);
        let nearest: BigDecimal = 600.into();
        let centre = BigDecimal::from(channel);
        assert!(limits.high.expect("a limit") < &centre + &nearest, "{name}");
        assert!(limits.low.expect("a limit") > centre - nearest, "{name}");
    }
}

#[test]
fn every_step_says_its_set_up_and_reads_like_a_person() {
    for starter in all() {
        for step in read(&starter).steps() {
            let place = format!("{} of {}", step.id, starter.name);
            assert!(step.set_up.supply.is_some(), "{place}");
            assert!(step.title.chars().count() <= 40, "{place}: {}", step.title);
            assert!(!step.title.ends_with('.'), "{place}");
            assert!(step.text.ends_with(['.', '?']), "{place}: {}", step.text);
            assert!(step.text.chars().count() <= 320, "{place}: {}", step.text);
            for caution in &step.cautions {
                assert!(caution.ends_with('.'), "{place}: {caution}");
            }
        }
    }
}

/// Steps with limits of their own, each once, by the file that they stand in.
fn stated() -> Vec<(&'static str, Step, String)> {
    let mut met = HashSet::new();
    let mut found = Vec::new();
    for starter in all() {
        let file = FILES
            .into_iter()
            .find(|f| starter.draft.id.as_str().contains(f));
        let file = file.unwrap_or_else(|| panic!("{}", starter.name));
        let procedure = read(&starter);
        for (step, typed) in procedure.steps().zip(starter.draft.steps()) {
            let is_open = typed.target.kind == TargetKind::Around && typed.target.value.is_empty();
            let limit = match step.work.target() {
                _ if is_open => format!("open ± {}", typed.target.margin),
                Some(Target::Limit { .. }) | None => continue,
                Some(target) => target.typeset(POINT, |id| procedure.number_of(id)),
            };
            // A step of the proof stands in one file, whatever rules it is proved by.
            if met.insert((file, step.id.clone())) {
                let limit = match step.work.target() {
                    Some(Target::Relative { to, .. }) => target_from(&limit, &procedure, to),
                    _ => limit,
                };
                let step = Step {
                    basis: basis_of(typed),
                    ..step.clone()
                };
                found.push((file, step, limit));
            }
        }
    }
    found
}

/// A limit counted from a step, with the step by its name: numbers differ between the proofs.
fn target_from(limit: &str, procedure: &Procedure, to: &Id) -> String {
    let number = procedure.number_of(to).expect("a step");
    limit.replace(&format!("step {number}"), &format!("`{to}`"))
}

fn basis_of(typed: &halfturn::procedure::DraftStep) -> Option<Basis> {
    let source = typed.source.clone();
    typed.known.map(|known| Basis { known, source })
}

#[test]
fn every_figure_of_a_starter_says_what_it_rests_on() {
    let silent: Vec<String> = stated()
        .iter()
        .filter(|(_, step, _)| step.basis.is_none())
        .map(|(file, step, _)| format!("{file}: {}", step.id))
        .collect();
    assert_eq!(silent, Vec::<String>::new());
}

/// `HALFTURN_BLESS=1 cargo test --test starters` writes the table anew.
#[test]
fn the_page_of_sources_says_what_the_starters_say() {
    let mut rows: Vec<(&str, String, String, Vec<String>)> = Vec::new();
    for (file, step, limit) in stated() {
        let basis = step
            .basis
            .map_or(String::new(), |basis| words::basis(&basis));
        let id = format!("`{}`", step.id);
        let same = |row: &&mut (&str, String, String, Vec<String>)| {
            (row.0, &row.1, &row.2) == (file, &limit, &basis)
        };
        match rows.iter_mut().find(same) {
            Some(row) => row.3.push(id),
            None => rows.push((file, limit, basis, vec![id])),
        }
    }
    let mut table = "| starter | steps | limit | basis |\n|---|---|---|---|\n".to_owned();
    for (file, limit, basis, steps) in rows {
        table.push_str(&format!(
            "| `{file}` | {} | {limit} | {basis} |\n",
            steps.join(", ")
        ));
    }
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/src/exchange/starters/SOURCES.md"
    );
    let page = std::fs::read_to_string(path).expect("the page");
    let (head, rest) = page.split_once(START).expect("where the table starts");
    let (_, tail) = rest.split_once(END).expect("where it ends");
    let renewed = format!("{head}{START}\n{table}{END}{tail}");
    if std::env::var_os("HALFTURN_BLESS").is_some() {
        std::fs::write(path, &renewed).expect("the page written");
    }
    assert_eq!(page, renewed, "HALFTURN_BLESS=1 writes it anew");
}
