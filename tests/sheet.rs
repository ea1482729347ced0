//! What the sheet says of pins, of open steps, of what was only found, and in which digits.

mod support;

use halfturn::exchange::report::{Check, Part, Report, Section, Table, fingerprint, visits_of};
use halfturn::exchange::{Document, demo, write};
use halfturn::job::{Deed, Job, Log, Phase, Status};
use proptest::prelude::*;
use support::{does, header, id, job_with, logged, look, pin, q, reading, stamp, tick};

fn plain(text: &str) -> String {
    text.replace(['\u{2068}', '\u{2069}', '\u{2060}'], "")
        .replace('\u{a0}', " ")
}

fn section<'a>(report: &'a Report, title: &str) -> Option<&'a Section> {
    report
        .sections
        .iter()
        .find(|section| section.title == title)
}

fn table(section: &Section) -> &Table {
    let mut tables = section.parts.iter().filter_map(|part| match part {
        Part::Table(table) => Some(table),
        Part::Picture { .. } | Part::Photos { .. } => None,
    });
    tables.next_back().expect("a table")
}

fn demo_job() -> Job {
    Job::open(id("job"), demo::procedure().unwrap(), header(), stamp(1))
}

fn half_done() -> Job {
    let mut count = 0;
    demo::half_done(1_767_225_600_000, || {
        count += 1;
        id(&format!("e{count:03}"))
    })
    .unwrap()
}

/// Every pin of the demo's socket, as it should be but for what is given for pin 3 in AM.
fn pins(third: &[&str]) -> Vec<Deed> {
    let mut deeds = vec![
        pin("1", "AM", "0.00 V"),
        pin("2", "AM", "13.78 V"),
        pin("4", "AM", "0.02 V"),
        pin("1", "USB", "0.00 V"),
        pin("2", "USB", "13.78 V"),
        pin("3", "USB", "0.02 V"),
        pin("4", "USB", "8.00 V"),
    ];
    deeds.extend(third.iter().map(|value| pin("3", "AM", value)));
    deeds
}

#[test]
fn a_pin_stands_on_the_sheet_with_its_instrument_and_with_what_was_found_and_left_on_it() {
    let mut job = demo_job();
    logged(&mut job, pins(&["6.20 V", "8.01 V"]));
    let report = Report::of(&job, &[], &look());
    let sockets = table(section(&report, "Sockets").expect("sockets"));
    let number = job.progress().step(&id("acc-socket")).unwrap().number;
    assert_eq!(
        plain(&sockets.lead),
        format!(": step {number}; as left; meter")
    );
    let third = &sockets.rows[2][1];
    assert_eq!(plain(&third.text), "8.01 V");
    let below = plain(&third.below);
    assert!(
        below.contains("found 6.20 V, 1.40 V under the lower limit"),
        "{below}"
    );
    // What was read once has nothing else to be found at.
    assert!(!sockets.rows[1][1].below.contains("found"));
}

#[test]
fn pins_count_among_the_readings_of_the_result_and_the_summary() {
    let mut job = demo_job();
    logged(&mut job, pins(&["6.20 V", "8.01 V"]));
    let report = Report::of(&job, &[], &look());
    assert!(
        report.result[0].starts_with("All 8 as-left readings are within limits"),
        "{:?}",
        report.result
    );
    let said = plain(&report.summary.join("\n"));
    assert!(
        said.contains("One of 8 readings was outside its limits as found: SK5, accessories, pin 3 in AM 1.40 V under the lower limit."),
        "{said}"
    );
    assert!(
        said.contains("All 8 as-left readings are within limits."),
        "{said}"
    );

    let mut job = demo_job();
    logged(&mut job, pins(&["6.20 V"]));
    let report = Report::of(&job, &[], &look());
    assert!(
        report.result[0].starts_with("7 of 8 as-left readings are within limits"),
        "{:?}",
        report.result
    );
    // The step is open with that reading: it is not told a second time as another one.
    assert!(
        !report
            .result
            .iter()
            .any(|line| line.contains("1 reading is outside"))
    );
    assert!(
        !report
            .summary
            .iter()
            .any(|line| line.contains("as-left readings"))
    );
}

#[test]
fn the_result_names_the_open_steps_by_their_titles_while_they_are_few_and_else_by_number() {
    let report = Report::of(&half_done(), &[], &look());
    let open: Vec<usize> = {
        let progress = half_done().progress();
        progress.owed().map(|step| step.number).collect()
    };
    let line = report
        .result
        .iter()
        .find(|line| line.contains("steps are outstanding"))
        .expect("a line");
    let line = plain(line);
    let (count, numbers) = line
        .split_once(" steps are outstanding: ")
        .expect("numbers");
    assert_eq!(count, open.len().to_string());
    let mut read = Vec::new();
    for part in numbers.trim_end_matches('.').split(", ") {
        let (first, last) = part.split_once('–').unwrap_or((part, part));
        read.extend(first.parse::<usize>().unwrap()..=last.parse().unwrap());
    }
    assert_eq!(read, open);

    // All but the last two: these are named.
    let job = job_with(support::good_deeds().into_iter().take(10));
    let report = Report::of(&job, &[], &look());
    let said: Vec<String> = report.result.iter().map(|line| plain(line)).collect();
    let line = "2 steps are outstanding: 11 · Do current; 12 · Do close.".to_owned();
    assert!(said.contains(&line), "{said:?}");
}

#[test]
fn a_reading_that_is_outside_names_its_open_step() {
    let mut job = demo_job();
    logged(&mut job, [reading("sens", Phase::AsFound, "2.9 µV EMF")]);
    let number = job.progress().step(&id("sens")).unwrap().number;
    let report = Report::of(&job, &[], &look());
    let said: Vec<String> = report.result.iter().map(|line| plain(line)).collect();
    let line = format!("1 reading is outside its limits, and its step {number} is open.");
    assert!(said.contains(&line), "{said:?}");
    // Nobody left it so.
    assert!(
        !said.iter().any(|line| line.contains("as-left")),
        "{said:?}"
    );
    assert!(
        !report
            .summary
            .iter()
            .any(|line| line.contains("no reason is given"))
    );
}

/// Two visits of the demo's set with one reading each.
fn visits(step: &str, first: (Phase, &str), second: (Phase, &str)) -> Section {
    let visit = |number: usize, (phase, value): (Phase, &str)| {
        let mut job = Job::open(
            id(&format!("job-{number}")),
            demo::procedure().unwrap(),
            header(),
            stamp(number * 1000),
        );
        logged(&mut job, [reading(step, phase, value)]);
        job
    };
    let jobs = [visit(1, first), visit(2, second)];
    visits_of(&header().set, &jobs, &look()).expect("visits")
}

#[test]
fn the_history_says_found_of_what_was_only_found_and_lies_outside() {
    let history = visits(
        "sens",
        (Phase::AsFound, "0.35 µV EMF"),
        (Phase::AsFound, "2.90 µV EMF"),
    );
    let row = &table(&history).rows[0];
    assert_eq!(plain(&row[1].text), "0.35 µV EMF → found 2.90 µV EMF");
    let picture = row[2].picture.as_ref().expect("a picture");
    assert_eq!(picture.matches("class=\"left\"").count(), 1, "{picture}");
    assert_eq!(
        picture.matches("class=\"left outside\"").count(),
        0,
        "{picture}"
    );
    assert_eq!(
        picture.matches("class=\"found outside\"").count(),
        1,
        "{picture}"
    );
}

#[test]
fn what_an_adjustment_was_only_found_at_stands_in_the_history_too() {
    let history = visits(
        "rail-8",
        (Phase::AsLeft, "8.02 V"),
        (Phase::AsFound, "7.41 V"),
    );
    let table = table(&history);
    let row = table.rows.iter().find(|row| row[1].text.contains("7.41"));
    let row = row.expect("a course of the rail");
    assert_eq!(plain(&row[1].text), "8.02 V → found 7.41 V");
}

#[test]
fn a_course_with_one_limit_is_shaded_to_the_edge_and_has_no_target() {
    let upper = visits(
        "sens",
        (Phase::AsFound, "0.35 µV EMF"),
        (Phase::AsFound, "0.36 µV EMF"),
    );
    let picture = table(&upper).rows[0][2].picture.clone().unwrap();
    assert!(!picture.contains("class=\"nominal\""), "{picture}");
    assert_eq!(picture.matches("class=\"limit\"").count(), 1, "{picture}");
    // From the limit, a quarter down, to the lower edge.
    assert!(
        picture.contains(r#"class="band" x="4" y="21.0" width="232" height="51.0""#),
        "{picture}"
    );

    let lower = visits(
        "image",
        (Phase::AsFound, "61 dB"),
        (Phase::AsFound, "62 dB"),
    );
    let picture = table(&lower).rows[0][2].picture.clone().unwrap();
    assert!(!picture.contains("class=\"nominal\""), "{picture}");
    assert!(
        picture.contains(r#"class="band" x="4" y="0.0" width="232" height="51.0""#),
        "{picture}"
    );

    let both = visits(
        "rail-8",
        (Phase::AsLeft, "8.02 V"),
        (Phase::AsLeft, "8.00 V"),
    );
    let picture = table(&both).rows[0][2].picture.clone().unwrap();
    assert_eq!(picture.matches("class=\"nominal\"").count(), 1, "{picture}");
    assert_eq!(picture.matches("class=\"limit\"").count(), 2, "{picture}");
}

#[test]
fn a_margin_and_a_deviation_have_the_digits_of_their_reading() {
    let mut job = demo_job();
    logged(&mut job, [reading("rail-8", Phase::AsFound, "7.98 V")]);
    let progress = job.progress();
    let found = progress.step(&id("rail-8")).unwrap().found.clone().unwrap();
    let verdict = found.verdict.unwrap();
    let said = plain(&verdict.words(look().sign));
    assert_eq!(said, "0.30 V inside, 0.02 V low");
}

#[test]
fn a_mean_is_given_to_the_place_of_its_uncertainty_and_without_one_as_finely_as_it_was_read() {
    let again = |value: &str| Deed::Reading {
        step: id("rail-8"),
        phase: Phase::AsLeft,
        value: q(value),
        tool: None,
        repeat: true,
        heard: None,
    };
    let mut job = demo_job();
    let deeds = [
        reading("rail-8", Phase::AsLeft, "8.01 V"),
        again("8.02 V"),
        again("8.02 V"),
    ];
    logged(&mut job, deeds);
    // Nothing is known of the meter: as finely as it was read.
    let left = job
        .progress()
        .step(&id("rail-8"))
        .unwrap()
        .left
        .clone()
        .unwrap();
    assert!(left.proof.is_err());
    assert_eq!(left.value.to_string(), "8.02 V");
    assert_eq!(left.judged.to_string(), "8.02 V");

    // The demo's counter is known: the mean goes to the second digit of U.
    let progress = half_done().progress();
    for standing in &progress.steps {
        let Some(left) = standing.left.as_ref().filter(|left| left.repeats.is_some()) else {
            continue;
        };
        let Ok(proof) = &left.proof else { continue };
        let read = left
            .readings
            .iter()
            .map(|read| read.corrected.resolution())
            .min();
        let read = read.unwrap();
        let due = proof.expanded.resolution().min(read.clone()).max(read / 10);
        assert_eq!(left.value.resolution(), due, "{}", standing.id);
    }
}

#[test]
fn an_uncertainty_is_given_with_two_digits_also_where_the_second_is_nought() {
    let progress = half_done().progress();
    let proofs = progress
        .steps
        .iter()
        .filter_map(|step| step.left.as_ref()?.proof.as_ref().ok());
    let mut seen = 0;
    for proof in proofs.filter(|proof| proof.budget.expanded > 0.0) {
        let digits = proof.expanded.number.to_string().replace('.', "");
        let digits = digits.trim_start_matches('0');
        let is_whole = proof.expanded.number.decimals() == 0;
        assert!(
            digits.len() == 2 || (is_whole && digits.len() > 2),
            "{}",
            proof.expanded
        );
        seen += 1;
    }
    assert!(seen > 10);
}

#[test]
fn what_limits_rest_on_is_said_of_steps_that_were_read() {
    let job = half_done();
    let progress = job.progress();
    let read: Vec<usize> = progress
        .steps
        .iter()
        .filter(|step| !step.readings.is_empty() || !step.pins.is_empty())
        .map(|step| step.number)
        .collect();
    let report = Report::of(&job, &[], &look());
    let bases = section(&report, "Basis of the other limits").expect("bases");
    let mut named = 0;
    for row in &table(bases).rows {
        for part in plain(&row[1].text).split(", ") {
            let (first, last) = part.split_once('–').unwrap_or((part, part));
            for number in first.parse::<usize>().unwrap()..=last.parse().unwrap() {
                assert!(read.contains(&number), "step {number} was not read");
                named += 1;
            }
        }
    }
    assert!(named > 0);
    if let Some(limits) = section(&report, "Limits applied") {
        for row in &table(limits).rows {
            let number = plain(&row[0].text);
            let number = number.split(" · ").next().unwrap().parse().unwrap();
            assert!(read.contains(&number), "step {number} was not read");
        }
    }
}

fn text_of(job: &Job) -> String {
    write(&Document::Job(job.clone()))
}

#[test]
fn a_sheet_printed_before_the_set_was_collected_matches_the_entries_it_was_made_of() {
    let mut job = job_with(support::good_deeds());
    let sheet = fingerprint(&job);
    let entries = job.log.len();
    does(
        &mut job,
        Deed::Noted {
            step: None,
            text: "Collected tomorrow".to_owned(),
        },
    );
    does(
        &mut job,
        Deed::Noted {
            step: None,
            text: "Rang the owner".to_owned(),
        },
    );
    match Check::of(&text_of(&job), &sheet) {
        Check::MatchesUpTo { entry, since, .. } => assert_eq!((entry, since), (entries, 2)),
        other => panic!("{other:?}"),
    }
    // A file in which an entry before that was changed is another one.
    let forged = text_of(&job).replacen("8.01 V", "8.02 V", 1);
    if forged != text_of(&job) {
        assert!(!Check::of(&forged, &sheet).matches());
    }
}

proptest! {
    #![proptest_config(support::cases(16))]

    #[test]
    fn every_state_that_a_log_went_through_is_known_by_its_fingerprint(count in 1usize..90) {
        let job = half_done();
        let events = job.log.events().take(count).cloned().collect::<Vec<_>>();
        let taken = events.len();
        let then = Job { log: Log::from_events(events).unwrap(), ..job.clone() };
        let all = job.log.len();
        let check = Check::of(&text_of(&job), &fingerprint(&then));
        if taken == all {
            let is_whole = matches!(check, Check::Matches { .. });
            prop_assert!(is_whole);
        } else {
            match check {
                Check::MatchesUpTo { entry, since, .. } => prop_assert_eq!((entry, since), (taken, all - taken)),
                other => prop_assert!(false, "{:?}", other),
            }
        }
    }
}

#[test]
fn a_step_that_is_open_counts_as_outside_once() {
    let mut job = demo_job();
    logged(&mut job, pins(&["6.20 V"]));
    let progress = job.progress();
    assert_eq!(
        progress.step(&id("acc-socket")).unwrap().status,
        Status::Outside
    );
    logged(&mut job, [tick("acc-socket")]);
    let report = Report::of(&job, &[], &look());
    let said: Vec<_> = report
        .result
        .iter()
        .filter(|it| it.contains("outside"))
        .collect();
    assert!(said.is_empty(), "{said:?}");
}
