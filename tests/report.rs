//! The hand-over: what the sheet says follows from the log, whatever was typed stays text, the
//! table of readings is the log, and a sheet can be matched with its file.

use halfturn::exchange::report::{
    Cell, Check, Look, Part, Report, Section, Table, cost, csv, escape, fingerprint, grouped, html,
    label::{Label, Scanned},
    share, visits_of, words,
};
use halfturn::exchange::{Document, demo, read, write};
use halfturn::job::{
    Change, Deed, Event, Header, Job, Line, Log, Phase, Reply, SetIdentity, Stamp,
};
use halfturn::metrology::date::Date;
use halfturn::procedure::{
    Alteration, CrossCheck, Gauge, Id, Procedure, Section as Steps, Step, Target, Work,
};
use halfturn::quantity::{DecimalSign, Quantity};
use proptest::prelude::*;
use std::sync::Arc;

fn id(text: &str) -> Id {
    text.parse().unwrap()
}

fn q(text: &str) -> Quantity {
    text.parse().unwrap()
}

const WHEN: &dyn Fn(i64) -> String = &|at| format!("moment {at}");
const STAMP: &dyn Fn(i64) -> String = &|at| format!("2026-03-31 14:05:{:02}", at / 1000 % 60);
const DAY: &dyn Fn(Date) -> String = &|day| format!("day {day}");

fn look() -> Look<'static> {
    Look {
        sign: DecimalSign::Point,
        when: WHEN,
        stamp: STAMP,
        day: DAY,
        time: false,
        currency: "",
        spelling: Default::default(),
        picture: &|_| None,
    }
}

fn demo_job() -> Job {
    let mut count = 0;
    demo::half_done(1_767_225_600_000, || {
        count += 1;
        id(&format!("e{count:03}"))
    })
    .unwrap()
}

/// A procedure with one step of each kind that a sheet tells of.
fn procedure() -> Procedure {
    let gauge = Gauge::new(id("TP1"), id("meter"), "V".parse().unwrap());
    let target: Target = serde_json::from_value(serde_json::json!({"fixed": {"around": {
        "nominal": "8.00 V", "below": {"absolute": "200 mV"}, "above": {"absolute": "200 mV"}}}}))
    .unwrap();
    let rail = Work::Read {
        gauge: gauge.clone(),
        target: Some(target.clone()),
    };
    let bias = Work::Set {
        gauge,
        adjuster: id("RV1"),
        target,
    };
    let fit = Work::Fit(Alteration {
        out: "old can".to_owned(),
        fitted: "new can".to_owned(),
        why: "dry".to_owned(),
    });
    let steps = vec![
        Step::new(id("look"), "Look it over", Work::Inspect),
        Step::new(id("fit"), "Fit the can", fit),
        Step::new(id("rail"), "Rail", rail),
        Step::new(id("bias"), "Bias", bias),
    ];
    Procedure {
        sections: vec![Steps {
            title: "All".to_owned(),
            steps,
        }],
        ..Procedure::new(id("p"), "A check")
    }
}

fn header() -> Header {
    Header {
        number: "17".to_owned(),
        set: SetIdentity {
            make: "Quillmere Radio Club".to_owned(),
            model: "Trainer".to_owned(),
            serial: "QRC-07".to_owned(),
        },
        fault: "Hums".to_owned(),
        next_check: "2027-03-31".parse().ok(),
        ..Header::default()
    }
}

/// A job with these deeds, a minute apart.
fn job(number: &str, header: Header, deeds: Vec<Deed>) -> Job {
    let opened = std::iter::once(Deed::Opened(header.into()));
    let events = opened.chain(deeds).enumerate().map(|(index, did)| Event {
        id: id(&format!("{number}-{index}")),
        seq: index as u64 + 1,
        at: index as i64 * 60_000,
        did,
    });
    Job {
        id: id(number),
        procedure: procedure().into(),
        log: Log::from_events(events).unwrap(),
    }
}

fn reading(step: &str, phase: Phase, value: &str) -> Deed {
    Deed::Reading {
        step: id(step),
        phase,
        value: q(value),
        tool: None,
        repeat: false,
        heard: None,
    }
}

fn answered(note: &str) -> Deed {
    Deed::Answered {
        step: id("look"),
        answer: halfturn::job::Finding::Worn,
        note: note.to_owned(),
    }
}

fn whole() -> Vec<Deed> {
    vec![
        answered("ring joint"),
        Deed::Ticked { step: id("fit") },
        reading("rail", Phase::AsFound, "7.41 V"),
        reading("rail", Phase::AsLeft, "7.70 V"),
        Deed::Waived {
            step: id("rail"),
            reason: "The owner wants no more work".to_owned(),
        },
        reading("bias", Phase::AsFound, "8.30 V"),
        reading("bias", Phase::Try, "8.10 V"),
        reading("bias", Phase::AsLeft, "8.01 V"),
        Deed::Changed {
            first: None,
            step: None,
            change: Change {
                out: "3 A fuse".to_owned(),
                fitted: "2 A fuse".to_owned(),
                price: "0.35".parse().ok(),
                ..Change::default()
            }
            .into(),
        },
        Deed::SignedOff {
            by: "Bench 2".to_owned(),
            remarks: String::new(),
        },
    ]
}

/// Without the isolates that keep typed texts to themselves, and with plain spaces.
fn plain(text: &str) -> String {
    text.replace(['\u{2068}', '\u{2069}'], "")
        .replace('\u{a0}', " ")
}

fn section<'a>(report: &'a Report, title: &str) -> Option<&'a Section> {
    report
        .sections
        .iter()
        .find(|section| section.title == title)
}

fn tables(section: &Section) -> impl Iterator<Item = &Table> {
    section.parts.iter().filter_map(|part| match part {
        Part::Table(table) => Some(table),
        Part::Picture { .. } | Part::Photos { .. } => None,
    })
}

fn row_texts(row: &[Cell]) -> Vec<String> {
    row.iter().map(|cell| plain(&cell.text)).collect()
}

// What it says

#[test]
fn the_summary_says_what_was_wrong_changed_set_and_is_outside_and_why() {
    let report = Report::of(&job("a", header(), whole()), &[], &look());
    let said: Vec<String> = report.summary.iter().map(|s| plain(s)).collect();
    assert_eq!(
        said,
        [
            "The set came in with this fault: Hums.",
            "The record does not say whether the reported fault was found.",
            "Visual inspection: Look it over (worn).",
            "2 of 2 readings were outside their limits as found: Rail 0.39 V under the lower limit and Bias 0.10 V over the upper limit.",
            "Changed: new can for old can and 2 A fuse for 3 A fuse.",
            "One adjustment was made: Bias from 8.30 V to 8.01 V.",
            "Left outside: Rail 0.10 V under the lower limit, because: The owner wants no more work.",
            "Waived, with a reason below: Rail.",
        ]
    );
    assert_eq!(report.draft, None);
    assert_eq!(
        plain(&report.running),
        "Job 17, Quillmere Radio Club Trainer QRC-07"
    );
}

#[test]
fn an_unfinished_job_says_that_it_is_a_draft_and_what_is_owed() {
    let report = Report::of(&job("a", header(), vec![]), &[], &look());
    assert_eq!(
        report.draft.as_deref(),
        Some("Draft: 4 steps are outstanding and the job is not signed off.")
    );
    assert!(
        report
            .summary
            .contains(&"4 steps are outstanding.".to_owned())
    );
}

#[test]
fn every_reading_has_a_row_with_its_scale_and_the_outside_is_marked() {
    let report = Report::of(&job("a", header(), whole()), &[], &look());
    let readings = section(&report, words::READINGS).unwrap();
    let table = tables(readings).next().unwrap();
    assert_eq!(
        row_texts(&table.rows[0]),
        [
            "Rail",
            "8.00 V ± 200 mV",
            "7.41 V",
            "7.70 V",
            "0.10 V under the lower limit",
            "outside"
        ]
    );
    assert!(table.rows[0][5].strong);
    assert!(!table.rows[1][5].strong);
    for row in &table.rows {
        let picture = row[1].picture.as_deref().unwrap();
        assert!(picture.contains("mark-found") && picture.contains("mark-latest"));
    }
}

fn again(step: &str, phase: Phase, value: &str) -> Deed {
    Deed::Reading {
        step: id(step),
        phase,
        value: q(value),
        tool: None,
        repeat: true,
        heard: None,
    }
}

#[test]
fn each_repeat_stands_on_the_sheet_and_one_that_is_outside_decides() {
    let deeds = vec![
        reading("rail", Phase::AsFound, "8.00 V"),
        again("rail", Phase::AsFound, "8.10 V"),
        reading("bias", Phase::AsFound, "8.30 V"),
        again("bias", Phase::AsFound, "7.90 V"),
        reading("bias", Phase::AsLeft, "8.05 V"),
        again("bias", Phase::AsLeft, "7.60 V"),
    ];
    let report = Report::of(&job("a", header(), deeds), &[], &look());
    let readings = section(&report, words::READINGS).unwrap();
    let rows = &tables(readings).next().unwrap().rows;
    let said = |row: usize, cell: usize| {
        let cell = &rows[row][cell];
        (plain(&cell.text), plain(&cell.below))
    };
    let of = |text: &str, below: &str| (text.to_owned(), below.to_owned());
    let rail = of("8.05 V", "0.15 V inside; mean of 2: 8.00 V, 8.10 V");
    assert_eq!(said(0, 2), rail);
    // What decides has the place, and the mean beside it says that it is one.
    let mean = "mean 7.82 V of 2: 8.05 V, 7.60 V";
    assert_eq!(said(1, 3), of("7.60 V", mean));
    assert_eq!(
        said(1, 4),
        of("7.60 V: 0.20 V under the lower limit", "0.40 V low")
    );
    assert_eq!(said(1, 5), of("outside", ""));
    assert!(rows[1][5].strong);
    let found = "0.10 V over the upper limit; mean 8.10 V of 2: 8.30 V, 7.90 V";
    assert_eq!(said(1, 2), of("8.30 V", found));
    assert!(rows[1][2].strong);
    let outside = "Outside: Bias 0.20 V under the lower limit; no reason is given.";
    assert!(report.summary.iter().any(|said| plain(said) == outside));
}

#[test]
fn a_second_reading_as_found_is_not_hidden_by_the_first() {
    let deeds = vec![
        reading("rail", Phase::AsFound, "8.00 V"),
        reading("rail", Phase::AsFound, "7.50 V"),
        reading("rail", Phase::AsLeft, "8.00 V"),
    ];
    let report = Report::of(&job("a", header(), deeds), &[], &look());
    let readings = section(&report, words::READINGS).unwrap();
    let found = &tables(readings).next().unwrap().rows[0][2];
    assert_eq!(
        plain(&found.below),
        "0.20 V inside; also read as found: 7.50 V"
    );
    assert!(found.strong);
    let said = "The one reading that was judged as found was outside its limits: Rail 0.30 V under the lower limit.";
    assert!(report.summary.iter().any(|text| plain(text) == said));
}

#[test]
fn a_reading_that_a_later_one_took_the_place_of_still_stands_on_the_sheet() {
    let left = |deeds: Vec<Deed>, row: usize| {
        let report = Report::of(&job("a", header(), deeds), &[], &look());
        let readings = section(&report, words::READINGS).unwrap();
        let cell = tables(readings).next().unwrap().rows[row][3].clone();
        (plain(&cell.text), plain(&cell.below), cell.strong)
    };
    // Nothing is adjusted in this step.
    let replaced = vec![
        reading("rail", Phase::AsLeft, "8.00 V"),
        again("rail", Phase::AsLeft, "7.00 V"),
        reading("rail", Phase::AsLeft, "8.00 V"),
    ];
    let said = "also read as left: 8.00 V, 7.00 V";
    let expected = |text: &str, said: &str, strong| (text.to_owned(), said.to_owned(), strong);
    assert_eq!(left(replaced, 0), expected("8.00 V", said, true));
    // A good one is not to be seen at once; a try alone is no result, one that was repeated is.
    let tried = vec![
        reading("bias", Phase::Try, "8.30 V"),
        reading("bias", Phase::Try, "8.10 V"),
        again("bias", Phase::Try, "8.11 V"),
        reading("bias", Phase::AsLeft, "8.05 V"),
        reading("bias", Phase::AsLeft, "8.06 V"),
    ];
    let said = "repeated while adjusting: 8.10 V, 8.11 V; also read as left: 8.05 V";
    assert_eq!(left(tried, 0), expected("8.06 V", said, false));
    // Nor is one gone because the step was turned on since.
    let open = vec![
        reading("bias", Phase::AsLeft, "8.05 V"),
        reading("bias", Phase::Try, "8.30 V"),
    ];
    let said = "also read as left: 8.05 V";
    assert_eq!(left(open, 0), expected(words::NOT_LEFT, said, false));
}

#[test]
fn what_the_second_route_says_is_on_the_sheet() {
    let with_second_route = |value: &str| {
        let deeds = vec![
            reading("rail", Phase::AsFound, "8.00 V"),
            Deed::CrossRead {
                step: id("rail"),
                value: q(value),
            },
        ];
        let mut job = job("a", header(), deeds);
        let mut procedure = Procedure::clone(&job.procedure);
        let rail = &mut procedure.sections[0].steps[2];
        rail.cross_check = Some(CrossCheck {
            text: "By the panel meter".to_owned(),
            gauge: rail.work.gauge().unwrap().clone(),
            compares: serde_json::from_value(serde_json::json!({
                "plausible": {"between": {"low": "7 V", "high": "9 V"}}}))
            .unwrap(),
        });
        job.procedure = procedure.into();
        job
    };
    let doubted = with_second_route("3.00 V");
    let report = Report::of(&doubted, &[], &look());
    let row = |report: &Report| {
        let readings = section(report, words::READINGS).unwrap();
        tables(readings).next().unwrap().rows[0].clone()
    };
    let cells = row(&report);
    assert_eq!(plain(&cells[3].below), "cross-check 3.00 V: not plausible");
    assert_eq!(plain(&cells[5].below), "cross-check: not plausible");
    assert!(cells[5].strong);
    let said = "The cross-check speaks against this: Rail (not plausible).";
    assert!(report.summary.iter().any(|text| plain(text) == said));
    let table = rows(&csv::readings(&doubted, &look()));
    assert_eq!(table[1][column("place")], "under the lower limit");

    let borne_out = Report::of(&with_second_route("8.10 V"), &[], &look());
    let cells = row(&borne_out);
    assert_eq!(plain(&cells[3].below), "cross-check 8.10 V: plausible");
    assert_eq!((cells[5].below.as_str(), cells[5].strong), ("", false));
    assert!(
        !borne_out
            .summary
            .iter()
            .any(|text| text.contains("cross-check"))
    );
}

#[test]
fn only_what_was_answered_of_a_change_is_on_the_sheet() {
    let said = |agreed, reversible| {
        let change = Change {
            fitted: "2 A fuse".to_owned(),
            agreed,
            reversible,
            ..Change::default()
        };
        let deeds = vec![Deed::Changed {
            first: None,
            step: None,
            change: change.into(),
        }];
        let report = Report::of(&job("a", header(), deeds), &[], &look());
        let changes = section(&report, words::CHANGES).unwrap();
        let rows = &tables(changes).next().unwrap().rows;
        rows.last().unwrap().last().unwrap().below.clone()
    };
    for (agreed, reversible, expected) in [
        (Reply::NotAsked, Reply::NotAsked, ""),
        (Reply::Yes, Reply::NotAsked, "the owner agreed"),
        (Reply::No, Reply::NotAsked, "the owner did not agree"),
        (Reply::NotAsked, Reply::No, "not reversible"),
        (Reply::Yes, Reply::Yes, "the owner agreed; reversible"),
    ] {
        assert_eq!(said(agreed, reversible), expected);
    }
}

#[test]
fn a_sentence_ends_with_one_full_stop_whatever_was_typed() {
    let mut deeds = whole();
    let change = Change {
        fitted: "New cap.".to_owned(),
        ..Change::default()
    };
    deeds.insert(
        0,
        Deed::Changed {
            first: None,
            step: None,
            change: change.into(),
        },
    );
    deeds.insert(
        0,
        Deed::TakenOff {
            step: None,
            item: halfturn::procedure::Removable {
                what: "Lid.".to_owned(),
                place: String::new(),
                orientation: String::new(),
                note: String::new(),
            },
        },
    );
    let header = Header {
        fault: "Hums.".to_owned(),
        ..header()
    };
    let report = Report::of(&job("a", header, deeds), &[], &look());
    for said in &report.summary {
        let said = plain(said);
        assert!(said.ends_with('.') && !said.ends_with(".."), "{said}");
    }
}

#[test]
fn the_demo_has_every_part_that_its_log_gives_rise_to() {
    let report = Report::of(&demo_job(), &[], &look());
    let titles: Vec<&str> = report.sections.iter().map(|s| s.title).collect();
    for title in [
        words::OVERVIEW,
        words::READINGS,
        words::PLAN,
        words::INSPECTED,
        words::CHANGES,
        words::WAIVED,
        words::NOTES,
        words::INSTRUMENTS,
    ] {
        assert!(titles.contains(&title), "{title} in {titles:?}");
    }
    // Nothing is shown that was not asked for or does not exist.
    assert!(!titles.contains(&words::COST));
    assert!(!titles.contains(&words::HISTORY));
}

#[test]
fn shares_put_the_limits_at_one() {
    let around = |text: &str| {
        let tolerance: halfturn::metrology::Tolerance = serde_json::from_str(text).unwrap();
        tolerance
    };
    for (tolerance, value, expected) in [
        (
            r#"{"around":{"nominal":"8 V","below":{"absolute":"1 V"},"above":{"absolute":"2 V"}}}"#,
            "10 V",
            1.0,
        ),
        (
            r#"{"around":{"nominal":"8 V","below":{"absolute":"1 V"},"above":{"absolute":"2 V"}}}"#,
            "7.5 V",
            -0.5,
        ),
        (r#"{"between":{"low":"1 W","high":"3 W"}}"#, "2 W", 0.0),
        (r#"{"at-most":"4 W"}"#, "4 W", 1.0),
        (r#"{"at-most":"4 W"}"#, "2 W", 0.5),
        (r#"{"at-least":"40 dB"}"#, "60 dB", -0.5),
        (r#"{"at-most":"-40 dBc"}"#, "-60 dBc", 0.5),
    ] {
        assert_eq!(
            share(&around(tolerance), &q(value)),
            expected,
            "{tolerance} {value}"
        );
    }
}

// History

#[test]
fn visits_of_one_set_are_found_by_plate_and_put_in_order() {
    let early = job("a", header(), whole());
    let mut spelled = header();
    spelled.set.serial = " qrc 07".to_owned();
    let mut late = job("b", spelled, whole());
    let events = late.log.events().cloned().map(|event| Event {
        at: event.at + 86_400_000,
        ..event
    });
    late.log = Log::from_events(events.collect::<Vec<_>>()).unwrap();
    let mut other = header();
    other.set.serial = "QRC-08".to_owned();
    let jobs = [job("c", other, whole()), late, early];
    let history = visits_of(&header().set, &jobs, &look()).unwrap();
    let all: Vec<&Table> = tables(&history).collect();
    assert_eq!(all[0].rows.len(), 2);
    assert_eq!(all[0].rows[0][0].text, "moment 0");
    assert_eq!(plain(&all[1].rows[1][1].text), "8.01 V → 8.01 V");
    // A small picture a reading, with what was found and left at each visit, and when.
    for row in &all[1].rows {
        let picture = row[2].picture.as_ref().expect("a picture");
        let marks = |class: &str| picture.matches(&format!("<circle class=\"{class}")).count();
        assert_eq!((marks("found"), marks("left")), (2, 2), "{picture}");
        let day = DAY("2026-03-31".parse().unwrap());
        assert_eq!(picture.matches(&format!(">{day}</text>")).count(), 2);
        assert!(!picture.contains("NaN"));
    }
    let report = Report::of(&jobs[2], &jobs, &look());
    assert!(section(&report, words::HISTORY).is_some());
    assert!(visits_of(&SetIdentity::default(), &jobs, &look()).is_none());
}

// Time and money

#[test]
fn breaks_and_long_gaps_take_no_time() {
    let minute = 60_000;
    let at = [0, 2, 3, 100, 105, 106, 90];
    let deeds = [
        Deed::Opened(header().into()),
        answered(""),                             // 2 min
        Deed::Paused,                             // 1 min, of no step
        Deed::Ticked { step: id("fit") },         // away
        reading("rail", Phase::AsFound, "8.0 V"), // 5 min
        Deed::Noted {
            step: None,
            text: "x".into(),
        }, // 1 min, of no step
        answered("clock set back"),               // nothing
    ];
    let events = deeds.into_iter().enumerate().map(|(index, did)| Event {
        id: id(&format!("e{index}")),
        seq: index as u64 + 1,
        at: at[index] * minute,
        did,
    });
    let job = Job {
        id: id("t"),
        procedure: procedure().into(),
        log: Log::from_events(events).unwrap(),
    };
    assert_eq!(cost::worked(&job), [7 * minute, 2 * minute]);
}

#[test]
fn prices_and_time_are_shown_when_asked_for_and_add_up_exactly() {
    let mut deeds = whole();
    let part = |price: &str| Deed::Changed {
        first: None,
        step: None,
        change: Change {
            fitted: "part".to_owned(),
            price: price.parse().ok(),
            ..Change::default()
        }
        .into(),
    };
    deeds.insert(0, part("0.10"));
    deeds.insert(0, part("12.20"));
    let job = job("a", header(), deeds);
    assert_eq!(cost::total(&job).to_string(), "12.65");
    let asked = Look {
        time: true,
        currency: "EUR",
        sign: DecimalSign::Comma,
        ..look()
    };
    let report = Report::of(&job, &[], &asked);
    let cost = section(&report, words::COST).unwrap();
    let last: Vec<Vec<String>> = tables(cost)
        .map(|table| row_texts(table.rows.last().unwrap()))
        .collect();
    assert_eq!(last, [["All time", "12 min"], ["All parts", "12,65 EUR"]]);
}

// The table of readings

/// The rows of a table as a general reader sees them, without its heading.
fn rows(text: &str) -> Vec<Vec<String>> {
    let text = text.strip_prefix('\u{feff}').expect("a mark");
    let mut reader = ::csv::ReaderBuilder::new().from_reader(text.as_bytes());
    let heading: Vec<String> = reader
        .headers()
        .unwrap()
        .iter()
        .map(str::to_owned)
        .collect();
    assert_eq!(heading, words::CSV);
    let records = reader.records().map(|record| record.unwrap());
    records
        .map(|record| record.iter().map(str::to_owned).collect())
        .collect()
}

fn column(name: &str) -> usize {
    words::CSV.iter().position(|other| *other == name).unwrap()
}

fn given_back(cell: &str) -> String {
    cell.strip_prefix('\'').unwrap_or(cell).to_owned()
}

/// Step, kind, value, unit and whether it repeats, of every reading in the log.
fn in_log(job: &Job) -> Vec<[String; 5]> {
    let row = |step: &Id, kind: &str, value: &Quantity, repeat: bool| {
        let repeat = if repeat { words::REPEAT } else { "" };
        let unit = value.scale.symbol();
        let number = value.number.to_string();
        [
            step.to_string(),
            kind.to_owned(),
            number,
            unit,
            repeat.to_owned(),
        ]
    };
    let readings = job.log.events().filter_map(|event| match &event.did {
        Deed::Reading {
            step,
            phase,
            value,
            repeat,
            ..
        } => Some(row(step, phase.name(), value, *repeat)),
        Deed::PinRead { step, value, .. } => Some(row(step, words::PIN_READING, value, false)),
        Deed::CrossRead { step, value } => Some(row(step, words::CROSS, value, false)),
        _ => None,
    });
    readings.collect()
}

#[test]
fn the_table_of_readings_is_the_log_digit_for_digit() {
    for job in [demo_job(), job("a", header(), whole())] {
        let text = csv::readings(&job, &look());
        let read: Vec<[String; 5]> = rows(&text)
            .iter()
            .map(|row| {
                ["step name", "kind", "value", "unit", "repeat"]
                    .map(|name| row[column(name)].clone())
            })
            .collect();
        assert_eq!(read, in_log(&job));
        assert!(text.lines().count() > 1 && text.ends_with("\r\n"));
        assert_eq!(text.matches('\n').count(), text.matches("\r\n").count());
    }
}

#[test]
fn readings_that_no_longer_count_are_marked_and_a_comma_is_quoted() {
    let mut job = job(
        "a",
        header(),
        vec![reading("rail", Phase::AsFound, "7.410 V")],
    );
    let stamp = |text: &str| Stamp {
        id: id(text),
        at: 9,
    };
    let slip = job
        .record(stamp("s1"), reading("rail", Phase::AsFound, "-74.1 V"))
        .unwrap();
    job.record(
        stamp("s2"),
        Deed::Struck {
            step: id("rail"),
            reading: slip,
            reason: "=slip, \"typed\"".into(),
        },
    )
    .unwrap();
    let undone = job
        .record(stamp("s3"), reading("rail", Phase::AsLeft, "8.0 V"))
        .unwrap();
    job.record(stamp("s4"), Deed::Undone { event: undone })
        .unwrap();
    let comma = Look {
        sign: DecimalSign::Comma,
        ..look()
    };
    let all = rows(&csv::readings(&job, &comma));
    let of =
        |name: &str| -> Vec<&str> { all.iter().map(|row| row[column(name)].as_str()).collect() };
    assert_eq!(of("value"), ["7,410", "-74,1", "8,0"]);
    assert_eq!(
        of("counts"),
        [words::COUNTS, words::STRUCK, words::TAKEN_BACK]
    );
    assert_eq!(of("reason"), ["", "'=slip, \"typed\"", ""]);
    assert_eq!(of("place"), ["under the lower limit", "", ""]);
    assert_eq!(of("margin"), ["0,390", "", ""]);
    assert_eq!(of("margin unit"), ["V", "", ""]);
}

#[test]
fn a_figure_of_the_set_up_that_a_spreadsheet_gives_back_stays_a_figure() {
    use DecimalSign::{Comma, Point};
    for (typed, sign, shown) in [
        ("12.6", Point, "12.6"),
        ("12,6", Comma, "12,6"),
        ("-0.5", Point, "-0.5"),
        ("20", Point, "20"),
        ("13.8 V", Point, "13.8 V"),
        // A spreadsheet makes a day of it, or leaves a zero out.
        ("12.6", Comma, "'12.6"),
        ("12.60", Point, "'12.60"),
        ("012.6", Point, "'012.6"),
        ("1.2.3", Point, "'1.2.3"),
        ("-1+2", Point, "'-1+2"),
        ("1234567890.1234567", Point, "'1234567890.1234567"),
    ] {
        let deeds = vec![reading("rail", Phase::AsFound, "7.41 V")];
        let mut job = job("a", header(), deeds);
        let procedure = Arc::make_mut(&mut job.procedure);
        let rail = procedure.sections.iter_mut().flat_map(|it| &mut it.steps);
        let rail = rail.filter(|step| step.id == id("rail"));
        rail.for_each(|step| step.set_up.supply = Some(typed.to_owned()));
        let all = rows(&csv::readings(&job, &Look { sign, ..look() }));
        assert_eq!(all[0][column("supply")], shown, "{typed}");
    }
}

proptest! {
    #[test]
    fn no_typed_text_runs_as_a_formula_and_each_comes_back(text in "\\PC{0,12}|[=+@'\t\r\n\",;-]{1,3}.{0,9}") {
        let cell = csv::harmless(&text);
        let first = cell.trim_start().chars().next();
        prop_assert!(!first.is_some_and(|c| "=+-@".contains(c)));
        prop_assert!(!cell.starts_with(['\t', '\r', '\n']));
        prop_assert_eq!(given_back(&cell), text);
    }

    #[test]
    fn typed_texts_survive_the_table(title in "[^\u{0}]{0,40}") {
        let mut named = header();
        named.set.make = title.clone();
        let job = job("a", named, vec![reading("rail", Phase::AsFound, "7.41 V")]);
        let all = rows(&csv::readings(&job, &look()));
        prop_assert_eq!(given_back(&all[0][column("make")]), title);
    }

    #[test]
    fn nothing_typed_leaves_its_place_in_the_page(text in "[<>&\"'a-z/=\u{202e}\u{2066}\u{2069}\u{0}-\u{1f}]{0,30}") {
        let escaped = escape(&text);
        prop_assert!(!escaped.contains(['<', '>', '"', '\'']));
        let page = |text: &str| {
            let mut named = header();
            named.number = format!("x{text}");
            named.fault = format!("x{text}");
            named.set.model = format!("x{text}");
            html::file(&Report::of(&job("a", named, whole()), &[], &look()))
        };
        // The same tags, whatever was typed.
        let dirty = page(&text);
        prop_assert_eq!(dirty.matches('<').count(), page("").matches('<').count());
        prop_assert!(!dirty.contains("<script") && !dirty.contains("onerror"));
    }
}

// The file

#[test]
fn the_file_allows_itself_nothing_but_its_style() {
    let page = html::file(&Report::of(&demo_job(), &[], &look()));
    assert!(page.starts_with("<!doctype html>"));
    assert!(page.contains("default-src 'none'; img-src data:; style-src 'sha256-"));
    for never in [
        "<script", "http:", "https:", "url(", "@import", " style=", "src=", "href=",
    ] {
        assert!(!page.contains(never), "{never}");
    }
    assert_eq!(page.matches("<style>").count(), 1);
}

#[test]
fn hostile_texts_stay_texts() {
    let nasty =
        "</style><script>alert(1)</script>\" onload='x' \u{202e}\u{2069}& \u{5e9}\u{5dc} \u{1f4fb}";
    let long = "x".repeat(10_000);
    let header = Header {
        number: nasty.to_owned(),
        set: SetIdentity {
            make: nasty.to_owned(),
            model: long.clone(),
            serial: nasty.to_owned(),
        },
        fault: format!("{nasty} {long}"),
        technician: nasty.to_owned(),
        ..header()
    };
    let job = job("a", header, vec![answered(nasty)]);
    let page = html::file(&Report::of(&job, &[], &look()));
    assert!(!page.contains("<script>") && page.matches("</style>").count() == 1);
    assert!(page.contains(&long));
    let label = Label::of(&job, &look()).fragment();
    assert!(!label.contains("<script>") && label.contains("label-code"));
}

// The fingerprint

#[test]
fn a_sheet_is_matched_with_its_file_and_with_no_other() {
    let mut job = demo_job();
    let file = write(&Document::Job(job.clone()));
    let print = fingerprint(&job);
    assert_eq!(print.len(), 64);
    let code = Label::of(&job, &look()).code;
    let with_mark = format!("\u{feff}{}", file.replace('\n', "\r\n"));
    for typed in [print.clone(), print.to_uppercase(), grouped(&print), code] {
        for text in [&file, &with_mark] {
            assert!(Check::of(text, &typed).matches(), "{typed}");
        }
    }
    // A job that went on holds what the sheet was made of, and more.
    let noted = Deed::Noted {
        step: None,
        text: "Smoke".into(),
    };
    let stamp = Stamp {
        id: id("later"),
        at: 0,
    };
    job.record(stamp, noted).unwrap();
    let later = write(&Document::Job(job.clone()));
    let check = Check::of(&later, &print);
    assert!(
        matches!(check, Check::MatchesUpTo { since: 1, .. }),
        "{check:?}"
    );
    // What was changed in it is another file.
    let forged = later.replace("7.41 V", "7.42 V");
    assert!(!Check::of(&forged, &print).matches());
    assert_eq!(Check::of(&file, "0123"), Check::NoFingerprint);
    assert_eq!(
        Check::of(
            &write(&Document::Procedure(demo::procedure().unwrap())),
            &print
        ),
        Check::NoJob
    );
    assert!(matches!(Check::of("{", &print), Check::Unreadable(_)));
    assert_eq!(
        fingerprint(&match read(&later) {
            Ok(Document::Job(job)) => job,
            other => panic!("{other:?}"),
        }),
        fingerprint(&job)
    );
}

#[test]
fn the_fingerprint_is_the_sha256_of_the_file() {
    use std::io::Write;
    use std::process::{Command, Stdio};
    let job = demo_job();
    let tool = Command::new("sha256sum")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn();
    let Ok(mut tool) = tool else {
        return; // A machine without the tool; the digest itself is tested by its crate.
    };
    let text = write(&Document::Job(job.clone()));
    tool.stdin
        .take()
        .unwrap()
        .write_all(text.as_bytes())
        .unwrap();
    let output = tool.wait_with_output().unwrap();
    let said = String::from_utf8(output.stdout).unwrap();
    assert_eq!(
        said.split_whitespace().next(),
        Some(fingerprint(&job).as_str())
    );
}

#[test]
fn the_label_says_set_day_and_due() {
    let label = Label::of(&job("a", header(), whole()), &look());
    assert_eq!(plain(&label.set), "Quillmere Radio Club Trainer QRC-07");
    assert_eq!(label.checked, "day 2026-03-31");
    assert_eq!(label.due.as_deref(), Some("day 2027-03-31"));
    let unsigned = Label::of(&job("a", header(), vec![]), &look());
    assert_eq!(unsigned.checked, words::NOT_SIGNED);
}

#[test]
fn a_strike_stands_at_the_time_when_it_was_made() {
    let deeds = vec![
        reading("rail", Phase::AsFound, "8.1 V"),
        Deed::Noted {
            step: None,
            text: "Lid is bent".to_owned(),
        },
        Deed::Struck {
            step: id("rail"),
            reading: id("a-1"),
            reason: "Lead was off".to_owned(),
        },
    ];
    let job = job("a", header(), deeds);
    let stamped = |stamp| {
        let report = Report::of(&job, &[], &Look { stamp, ..look() });
        let notes = section(&report, words::NOTES).unwrap();
        let table = tables(notes).next().unwrap();
        let struck = table.rows.iter();
        let struck = struck
            .clone()
            .find(|row| row[1].text.contains("Lead was off"));
        let when = struck.unwrap()[2].text.clone();
        (table.columns[2].clone(), when)
    };
    // The day stands once in the head where all was on one, and at each moment otherwise.
    let one_day: &dyn Fn(i64) -> String = &|at| format!("2026-03-31 14:{:02}:00", at / 60_000);
    let head = format!("When, {}", DAY("2026-03-31".parse().unwrap()));
    assert_eq!(stamped(one_day), (head, "14:03".to_owned()));
    let two_days: &dyn Fn(i64) -> String =
        &|at| format!("2026-03-{:02} 14:05:00", 28 + at / 60_000);
    assert_eq!(stamped(two_days), ("When".to_owned(), WHEN(3 * 60_000)));
}

#[test]
fn what_all_readings_of_a_section_share_stands_once_above_them_and_nothing_is_lost() {
    let job = demo_job();
    let progress = job.progress();
    let report = Report::of(&job, &[], &look());
    let readings = section(&report, words::READINGS).unwrap();
    let tables: Vec<&Table> = tables(readings)
        .filter(|it| it.kind == "readings")
        .collect();
    assert!(tables.len() > 2);
    for table in tables {
        for row in &table.rows {
            let number = plain(&row[0].below);
            let number: usize = number.split(' ').next().unwrap().parse().unwrap();
            let step = progress.course.procedure.steps().nth(number - 1).unwrap();
            let (lead, own) = (plain(&table.lead), plain(&row[0].under));
            let (shared, exception) = match lead.split_once("; all but step") {
                Some((shared, rest)) => (shared, rest.trim_start_matches('\u{a0}')),
                None => (lead.as_str(), ""),
            };
            let is_excepted = exception.split(' ').next() == Some(&number.to_string());
            for (name, to) in step.set_up.lines() {
                let said = format!("{name} {}", plain(&to));
                let places = [shared, &own, if is_excepted { "" } else { exception }];
                let places = places.iter().filter(|text| text.contains(&said)).count();
                assert_eq!(places, 1, "{said} of step {number}: {lead} | {own}");
            }
        }
    }
}

#[test]
fn numbers_that_follow_each_other_are_said_by_their_first_and_last() {
    let said = |all: &[usize]| words::numbers(all).replace('\u{2060}', "");
    assert_eq!(said(&[]), "");
    assert_eq!(said(&[9, 10]), "9, 10");
    assert_eq!(said(&[13, 14, 15, 20, 22, 23]), "13–15, 20, 22, 23");
}

#[test]
fn a_label_that_is_read_names_its_job_and_anything_else_is_a_text() {
    let print = "0123456789abcdef".repeat(4);
    let label = |number: &str, job: Option<&str>| Scanned::Label {
        number: number.to_owned(),
        job: job.map(id),
    };
    let text = |text: &str| Scanned::Text(text.to_owned());
    for (code, expected) in [
        (
            format!("halfturn 17 {print} job-1"),
            label("17", Some("job-1")),
        ),
        (
            format!("halfturn A 17 b {print} job-1"),
            label("A 17 b", Some("job-1")),
        ),
        (format!("halfturn  {print} job-1"), label("", Some("job-1"))),
        // Early labels named no job.
        (format!("halfturn 17 {print}"), label("17", None)),
        ("halfturn 17".to_owned(), text("halfturn 17")),
        ("QRC-47\r\n".to_owned(), text("QRC-47")),
        ("\u{0}".to_owned(), text("")),
        (print.clone(), text(&print)),
    ] {
        assert_eq!(Scanned::of(&code), expected, "{code}");
    }
    assert_eq!(Scanned::of(&"x".repeat(5_000)), text(&"x".repeat(100)));
}

#[test]
fn a_label_leads_to_the_job_that_it_was_made_of() {
    let (first, second) = (job("17", header(), whole()), job("18", header(), vec![]));
    let lines = [Line::of(&first), Line::of(&second)];
    let found = |code: &str| {
        let line = Scanned::of(code).job(lines.iter());
        line.map(|line| line.id.clone())
    };
    for job in [&first, &second] {
        assert_eq!(found(&Label::of(job, &look()).code), Some(job.id.clone()));
    }
    let print = fingerprint(&first);
    assert_eq!(found(&format!("halfturn 99 {print} job-99")), None);
    // Two jobs have the number, so it tells nothing.
    let number = &lines[0].number;
    assert_eq!(found(&format!("halfturn {number} {print}")), None);
    assert_eq!(found("QRC-47"), None);
}
