//! A reading is corrected, judged and said to be read with the instrument that it was taken with,
//! whatever plays its role later.

mod support;

use halfturn::exchange::report::{self, Report};
use halfturn::job::{Counts, Deed, Header, Job, Phase, Read, Status, UsedInstrument};
use halfturn::metrology::instrument::{Accuracy, Correction, Instrument, Range};
use halfturn::quantity::DecimalSign;
use serde_json::json;
use support::{does, good_deeds, id, look, q, reading, undo};

/// A wattmeter of the kit, to whose readings so much is added.
fn wattmeter(name: &str, adds: &str) -> UsedInstrument {
    UsedInstrument {
        role: id("wattmeter"),
        name: name.to_owned(),
        record: Some(Instrument {
            name: name.to_owned(),
            role: "wattmeter".to_owned(),
            ranges: vec![Range {
                full_scale: q("10 W"),
                resolution: q("0.01 W"),
                accuracy: Accuracy {
                    absolute: Some(q("0.05 W")),
                    ..Accuracy::default()
                },
            }],
            corrections: vec![Correction::Offset(q(adds))],
            asset: String::new(),
            calibrated: None,
            due: None,
            further: Vec::new(),
            loss: None,
        }),
    }
}

fn takes_up(used: &UsedInstrument) -> Deed {
    Deed::MeasuredWith {
        instrument: Box::new(used.clone()),
    }
}

/// The details put right: the whole header with this in the wattmeter's role.
fn stated(job: &Job, used: &UsedInstrument) -> Deed {
    let mut header: Header = job.progress().header;
    header.use_instrument(used.clone());
    Deed::Amended(Box::new(header))
}

/// A job up to the reading of its power, with a wattmeter named at its beginning or none.
fn at_power(used: Option<&UsedInstrument>) -> Job {
    let mut job = support::fresh_job();
    if let Some(used) = used {
        let deed = stated(&job, used);
        does(&mut job, deed);
    }
    for deed in good_deeds().into_iter().take(9) {
        does(&mut job, deed);
    }
    job
}

/// What each reading of the power is taken for, and with what.
fn powers(job: &Job) -> Vec<(String, String)> {
    let progress = job.progress();
    let step = progress.step(&id("power")).unwrap();
    let told = step.readings.iter().map(|taken| {
        let with = taken.with.as_ref().map_or("-", |with| &with.name);
        (taken.corrected.to_string(), with.to_owned())
    });
    told.collect()
}

fn told(all: &[(&str, &str)]) -> Vec<(String, String)> {
    let told = all
        .iter()
        .map(|(value, with)| ((*value).to_owned(), (*with).to_owned()));
    told.collect()
}

#[test]
fn another_instrument_counts_from_there_on() {
    let (first, second) = (wattmeter("A", "0.10 W"), wattmeter("B", "-0.20 W"));
    let mut job = at_power(Some(&first));
    does(&mut job, reading("power", Phase::AsFound, "4.00 W"));
    let before = job.progress();
    does(&mut job, takes_up(&second));
    does(&mut job, reading("power", Phase::AsLeft, "4.00 W"));
    assert_eq!(powers(&job), told(&[("4.10 W", "A"), ("3.80 W", "B")]));
    // The fold that goes on from what was known says the same.
    let whole = job.progress();
    assert_eq!(before.after(&job.procedure, &job.log), whole);
    let step = whole.step(&id("power")).unwrap();
    let instrument = |group: &halfturn::job::Group| group.record().unwrap().name.clone();
    assert_eq!(step.found.as_ref().map(instrument).as_deref(), Some("A"));
    assert_eq!(step.left.as_ref().map(instrument).as_deref(), Some("B"));
    // Taken back, it was never there.
    let last = job.log.events().nth_back(1).unwrap().id.clone();
    does(&mut job, undo(&last));
    assert_eq!(powers(&job), told(&[("4.10 W", "A"), ("4.10 W", "A")]));
}

#[test]
fn an_earlier_verdict_stays_what_it_was() {
    // 4.40 W is on the limit as it is; with B it would be outside.
    let (first, second) = (wattmeter("A", "0.00 W"), wattmeter("B", "0.30 W"));
    let mut job = at_power(Some(&first));
    does(&mut job, reading("power", Phase::AsLeft, "4.40 W"));
    let status = |job: &Job| job.progress().step(&id("power")).unwrap().status;
    assert_eq!(status(&job), Status::Done);
    does(&mut job, takes_up(&second));
    assert_eq!(status(&job), Status::Done);
    // Said to have been the one all along, it judges what was read with it.
    let last = job.log.events().next_back().unwrap().id.clone();
    does(&mut job, undo(&last));
    let deed = stated(&job, &second);
    does(&mut job, deed);
    assert_eq!(status(&job), Status::Outside);
}

#[test]
fn what_is_put_right_is_of_the_instrument_of_now() {
    let (first, second) = (wattmeter("A", "0.10 W"), wattmeter("B", "-0.20 W"));
    let mut job = at_power(Some(&first));
    does(&mut job, reading("power", Phase::AsFound, "4.00 W"));
    does(&mut job, takes_up(&second));
    does(&mut job, reading("power", Phase::AsLeft, "4.00 W"));
    let deed = stated(&job, &wattmeter("C", "-0.10 W"));
    does(&mut job, deed);
    assert_eq!(powers(&job), told(&[("4.10 W", "A"), ("3.90 W", "C")]));
    // Details that name the same change nothing of that.
    let header = job.progress().header;
    does(&mut job, Deed::Amended(Box::new(header)));
    assert_eq!(powers(&job), told(&[("4.10 W", "A"), ("3.90 W", "C")]));
}

#[test]
fn naming_an_instrument_completes_what_nobody_said() {
    let mut job = at_power(None);
    does(&mut job, reading("power", Phase::AsFound, "4.00 W"));
    assert_eq!(powers(&job), told(&[("4.00 W", "-")]));
    let mut from_now = job.clone();
    let used = wattmeter("A", "0.10 W");
    let deed = stated(&job, &used);
    does(&mut job, deed);
    assert_eq!(powers(&job), told(&[("4.10 W", "A")]));
    does(&mut from_now, takes_up(&used));
    does(&mut from_now, reading("power", Phase::AsLeft, "4.00 W"));
    assert_eq!(powers(&from_now), told(&[("4.00 W", "-"), ("4.10 W", "A")]));
}

#[test]
fn a_log_from_before_means_what_it_meant() {
    // Then an amended header was said to count for the whole job.
    let (first, second) = (wattmeter("A", "0.10 W"), wattmeter("B", "-0.20 W"));
    let mut job = at_power(Some(&first));
    does(&mut job, reading("power", Phase::AsFound, "4.00 W"));
    let deed = stated(&job, &second);
    does(&mut job, deed);
    does(&mut job, reading("power", Phase::AsLeft, "4.00 W"));
    assert_eq!(powers(&job), told(&[("3.80 W", "B"), ("3.80 W", "B")]));
}

#[test]
fn readings_of_two_instruments_are_no_repeats_of_each_other() {
    let (first, second) = (wattmeter("A", "0.10 W"), wattmeter("B", "-0.20 W"));
    let mut job = at_power(Some(&first));
    does(&mut job, reading("power", Phase::AsLeft, "4.00 W"));
    does(&mut job, takes_up(&second));
    let again = Deed::Reading {
        step: id("power"),
        phase: Phase::AsLeft,
        value: q("4.00 W"),
        tool: None,
        repeat: true,
        heard: None,
    };
    does(&mut job, again);
    let progress = job.progress();
    let left = progress.step(&id("power")).unwrap().left.clone().unwrap();
    assert_eq!((left.readings.len(), left.value), (1, q("3.80 W")));
}

#[test]
fn sheet_and_table_name_the_instrument_of_each_reading() {
    let (first, second) = (
        wattmeter("Club A", "0.10 W"),
        wattmeter("Club B", "-0.20 W"),
    );
    let mut job = at_power(Some(&first));
    does(&mut job, reading("power", Phase::AsFound, "4.00 W"));
    does(&mut job, takes_up(&second));
    does(&mut job, reading("power", Phase::AsLeft, "4.02 W"));
    let table = report::csv::readings(&job, &look());
    let row = |value: &str| {
        let cell = format!(",{value},W,");
        table.lines().find(|line| line.contains(&cell)).unwrap()
    };
    assert!(row("4.00").contains(",Club A,4.10,W,"), "{}", row("4.00"));
    assert!(row("4.02").contains(",Club B,3.82,W,"), "{}", row("4.02"));
    let page = report::html::file(&Report::of(&job, &[], &look()));
    let page = page.replace(['\u{2068}', '\u{2069}'], "");
    for said in ["read with Club A", "read with Club B"] {
        assert_eq!(page.matches(said).count(), 1, "{said}");
    }
    let listed = page.split("Test equipment").nth(1).unwrap();
    assert!(listed.find("Club A") < listed.find("Club B"), "{listed}");
    // With one instrument alone there is nothing to tell apart.
    let mut job = at_power(Some(&first));
    does(&mut job, reading("power", Phase::AsLeft, "4.00 W"));
    let page = report::html::file(&Report::of(&job, &[], &look()));
    assert!(!page.contains("read with"));
}

#[test]
fn the_sheet_tells_what_was_said_of_an_instrument_after_readings_with_it() {
    let (first, second) = (
        wattmeter("Club A", "0.10 W"),
        wattmeter("Club B", "-0.20 W"),
    );
    let sheet = |job: &Job| {
        let page = report::html::file(&Report::of(job, &[], &look()));
        page.replace(['\u{2068}', '\u{2069}'], "")
    };
    let mut job = at_power(Some(&first));
    // Before anything was read with it there is nothing to tell.
    let deed = stated(&job, &second);
    does(&mut job, deed);
    does(&mut job, reading("power", Phase::AsFound, "4.00 W"));
    assert!(!sheet(&job).contains("was first said to be"));
    let deed = stated(&job, &first);
    does(&mut job, deed);
    let said =
        "The wattmeter was first said to be Club B; after readings it was said to have been Club A";
    assert!(sheet(&job).contains(said));
    let mut unnamed = at_power(None);
    does(&mut unnamed, reading("power", Phase::AsFound, "4.00 W"));
    let deed = stated(&unnamed, &first);
    does(&mut unnamed, deed);
    assert!(sheet(&unnamed).contains("The wattmeter was named after readings with it: Club A"));
}

#[test]
fn what_another_instrument_counts_for_is_asked_of_what_is_replaced() {
    let typed = |name: &str| UsedInstrument {
        role: id("wattmeter"),
        name: name.to_owned(),
        record: None,
    };
    for (before, after, counts) in [
        (None, Some(wattmeter("A", "0.10 W")), Counts::Before),
        (
            Some(typed("A")),
            Some(wattmeter("A", "0.10 W")),
            Counts::Before,
        ),
        (Some(typed("A")), Some(typed("B")), Counts::FromHere),
        (
            Some(typed("A")),
            Some(wattmeter("B", "0.10 W")),
            Counts::FromHere,
        ),
        (Some(typed("A")), None, Counts::FromHere),
        (
            Some(wattmeter("A", "0.10 W")),
            Some(wattmeter("A", "0.20 W")),
            Counts::FromHere,
        ),
        (
            Some(wattmeter("A", "0.10 W")),
            Some(wattmeter("B", "0.10 W")),
            Counts::FromHere,
        ),
    ] {
        let mut job = at_power(before.as_ref());
        does(&mut job, reading("power", Phase::AsFound, "4.00 W"));
        let progress = job.progress();
        let mut header = progress.header.clone();
        header.instruments.clear();
        header.instruments.extend(after.clone());
        let replaced = progress.replaced(&job.procedure, &header);
        assert_eq!(replaced.len(), 1);
        assert_eq!(
            Counts::usual(&replaced, &header),
            counts,
            "{before:?} {after:?}"
        );
    }
}

#[test]
fn what_another_page_changed_of_the_details_stays() {
    let opened = Header {
        owner: "Shelf 1".to_owned(),
        instruments: vec![wattmeter("A", "0.10 W")],
        ..Header::default()
    };
    let mut here = opened.clone();
    here.technician = "Bench 2".to_owned();
    let mut there = opened.clone();
    there.use_instrument(wattmeter("B", "0.10 W"));
    let both = there.with_changes(&opened, &here);
    assert_eq!(both.technician, "Bench 2");
    assert_eq!(both.instruments, there.instruments);
    // And what was changed here counts, an instrument that is taken away too.
    let mut without = opened.clone();
    without.instruments.clear();
    assert_eq!(there.with_changes(&opened, &without).instruments, []);
}

#[test]
fn a_job_that_was_taken_up_again_says_why_and_who_had_ended_it() {
    let mut job = support::finished_job();
    does(&mut job, support::reopen("The owner came back"));
    does(&mut job, support::sign_off("Second bench"));
    let page = report::html::file(&Report::of(&job, &[], &look()));
    let page = page.replace(['\u{2068}', '\u{2069}'], "");
    for said in [
        "Signed off by Quillmere bench",
        "Reopened: The owner came back",
    ] {
        assert!(page.contains(said), "{said}");
    }
}

#[test]
fn what_was_indicated_is_said_with_the_correction_of_its_own_instrument() {
    let used = wattmeter("A", "0.10 W");
    let read = Read::with(Some(used.into()), q("4.00 W"));
    let said = Read::indicated(&[read], DecimalSign::Point).unwrap();
    assert_eq!(
        said.replace('\u{a0}', " "),
        "indicated 4.00 W, offset +0.10 W"
    );
}

#[test]
fn it_is_written_by_its_role_and_name() {
    let deed = Deed::MeasuredWith {
        instrument: Box::new(UsedInstrument {
            role: id("counter"),
            name: "Club counter".to_owned(),
            record: None,
        }),
    };
    let written =
        json!({"measured-with": {"instrument": {"role": "counter", "name": "Club counter"}}});
    assert_eq!(serde_json::to_value(&deed).unwrap(), written);
}
