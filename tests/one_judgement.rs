//! One judgement: whatever says something of a reading reads it from the fold, and what belongs
//! together is written together or not at all.

mod support;

use halfturn::exchange::demo;
use halfturn::exchange::report::{self, Report};
use halfturn::job::guidance::advice;
use halfturn::job::{Deed, Job, Phase, Refusal, Status};
use halfturn::metrology::inference::slip::Slip;
use halfturn::procedure::Work;
use support::{does, header, id, logged, look, pin, q, stamp, tick};

#[test]
fn the_sheet_names_the_pins_that_are_outside_or_not_measured() {
    let mut job = Job::open(id("job"), demo::procedure().unwrap(), header(), stamp(1));
    let deeds = [
        pin("1", "AM", "0.00 V"),
        pin("2", "AM", "9999 V"),
        pin("3", "AM", "8.01 V"),
        pin("3", "USB", "0.02 V"),
        tick("acc-socket"),
    ];
    logged(&mut job, deeds);
    let standing = job.progress().step(&id("acc-socket")).unwrap().clone();
    assert_eq!(standing.status, Status::Outside);
    let report = Report::of(&job, &[], &look());
    let said = report
        .summary
        .join("\n")
        .replace(['\u{2068}', '\u{2069}'], "");
    let sentence = "SK5, accessories: Pin 2 is outside in AM. \
                    Not measured: pin 1 in USB; pin 2 in USB; pin 4 in AM, USB.";
    assert!(said.contains(sentence), "{said}");
    let page = report::html::file(&report);
    assert!(page.contains("ticked, but outside"), "{page}");
    // The table for spreadsheets says the same of each.
    let table = report::csv::readings(&job, &look());
    let row = table.lines().find(|line| line.contains("9999")).unwrap();
    assert!(row.contains(",over the upper limit,"), "{row}");
}

#[test]
fn two_swapped_readings_are_put_right_together_or_not_at_all() {
    let mut job = support::job_with(support::good_deeds().into_iter().take(4));
    does(
        &mut job,
        support::reading("osc", Phase::AsFound, "1.24000 MHz"),
    );
    does(
        &mut job,
        support::reading("mixed", Phase::AsFound, "10.24000 MHz"),
    );
    let slip = Slip::Swapped {
        with: id("osc"),
        corrected: q("1.24000 MHz"),
    };
    let progress = job.progress();
    let deeds = advice::corrections(&progress, &id("mixed"), &slip, "slip").unwrap();
    let stamped = |from: usize| {
        let deeds = deeds.clone().into_iter().enumerate();
        deeds.map(move |(index, deed)| (stamp(from + index), deed))
    };
    // A stop that a break has ended keeps the readings out, and then nothing is struck either.
    let mut closed = job.clone();
    does(&mut closed, Deed::Paused);
    let before = closed.log.clone();
    let refused = closed.record_all(&closed.progress(), stamped(100));
    assert!(
        matches!(refused, Err(Refusal::BehindLapsed(_))),
        "{refused:?}"
    );
    assert_eq!(closed.log, before);

    job.record_all(&progress, stamped(100)).unwrap();
    let last = |job: &Job, step: &str| {
        let standing = job.progress().step(&id(step)).unwrap().clone();
        (
            standing.readings.last().unwrap().value.clone(),
            standing.struck.len(),
        )
    };
    assert_eq!(last(&job, "osc"), (q("10.24000 MHz"), 1));
    assert_eq!(last(&job, "mixed"), (q("1.24000 MHz"), 1));
}

/// The demo with both of its steps of the shared null read, so many millivolts each, in this order.
fn null_of(readings: &[(&str, Phase, &str)]) -> (Status, Status) {
    let progress = null_job(readings).progress();
    let status = |step: &str| progress.step(&id(step)).unwrap().status;
    (status("balance"), status("balance-lsb"))
}

fn null_job(readings: &[(&str, Phase, &str)]) -> Job {
    let mut job = Job::open(id("job"), demo::procedure().unwrap(), header(), stamp(1));
    let deeds = readings.iter().map(|(step, phase, millivolts)| {
        support::reading(step, *phase, &format!("{millivolts} mV p-p"))
    });
    logged(&mut job, deeds);
    job
}

#[test]
fn a_shared_null_pairs_only_readings_between_which_nothing_was_turned() {
    use Phase::{AsFound, AsLeft, Try};
    let (usb, lsb) = ("balance", "balance-lsb");
    let looked = [(usb, AsFound, "4.0"), (lsb, AsFound, "9.0")];
    let turned = [&looked[..], &[(usb, Try, "2.0"), (usb, AsLeft, "2.0")]].concat();
    let seen_again = [&turned[..], &[(lsb, AsLeft, "12.0")]].concat();
    // What is read, then whether the latest pair is how it stands now, that pair, and the best one.
    let cases = [
        (&looked[..], true, ("4.0", "9.0"), ("4.0", "9.0")),
        (&turned, false, ("4.0", "9.0"), ("4.0", "9.0")),
        (&seen_again, true, ("2.0", "12.0"), ("4.0", "9.0")),
    ];
    for (readings, is_current, latest, best) in cases {
        let job = null_job(readings);
        let step = job.procedure.step(&id(usb)).unwrap();
        let null = advice::shared_null(&job.procedure, &job.progress(), step).unwrap();
        let pair = |(here, there): (&str, &str)| {
            (q(&format!("{here} mV p-p")), q(&format!("{there} mV p-p")))
        };
        assert_eq!(null.is_current, is_current, "{readings:?}");
        assert_eq!(null.latest, pair(latest), "{readings:?}");
        assert_eq!(null.best, pair(best), "{readings:?}");
    }
}

#[test]
fn a_shared_null_is_held_open_until_both_of_its_sides_are_read_with_the_adjuster_still() {
    use Phase::{AsFound, AsLeft, Try};
    let (usb, lsb) = ("balance", "balance-lsb");
    let turned_on = [
        (usb, Try, "4.0"),
        (usb, AsLeft, "4.0"),
        (lsb, AsFound, "9.0"),
        (lsb, Try, "5.0"),
        (lsb, AsLeft, "5.0"),
    ];
    // What was turned for one side is not known of the other.
    assert_eq!(null_of(&turned_on), (Status::LookAgain, Status::Done));
    let seen_again = [&turned_on[..], &[(usb, AsLeft, "6.0")]].concat();
    assert_eq!(null_of(&seen_again), (Status::Done, Status::Done));
    let spoiled = [&turned_on[..], &[(usb, AsLeft, "9.0")]].concat();
    assert_eq!(null_of(&spoiled).0, Status::Outside);
    // Nothing is turned for the second side: both stand.
    let still = [
        (usb, Try, "4.0"),
        (usb, AsLeft, "4.0"),
        (lsb, AsLeft, "5.0"),
    ];
    assert_eq!(null_of(&still), (Status::Done, Status::Done));
}

#[test]
fn a_shared_null_is_not_made_while_the_worse_side_is_outside_though_that_has_no_limit_of_its_own() {
    let mut procedure = demo::procedure().unwrap();
    let all = procedure.sections.iter_mut();
    let lsb = all
        .flat_map(|section| &mut section.steps)
        .find(|step| step.id == id("balance-lsb"));
    if let Work::Dip { bound, .. } = &mut lsb.unwrap().work {
        *bound = None;
    }
    let judged = |millivolts: &str, why: Option<&str>| {
        let mut job = Job::open(id("job"), procedure.clone(), header(), stamp(1));
        let usb = support::as_left("balance", "4.0 mV p-p");
        let lsb = support::as_left("balance-lsb", millivolts);
        let why = why.map(|why| support::waive("balance", why));
        logged(&mut job, [usb, lsb].into_iter().chain(why));
        let status = job.progress().step(&id("balance")).unwrap().status;
        let page = report::html::file(&Report::of(&job, &[], &look()));
        (status, page.contains("the worse side is outside"))
    };
    assert_eq!(judged("5.0 mV p-p", None), (Status::Done, false));
    assert_eq!(judged("30.0 mV p-p", None), (Status::Outside, true));
    let waived = judged("30.0 mV p-p", Some("LSB is not used"));
    assert_eq!(waived, (Status::Waived, true));
}

#[test]
fn a_side_that_was_waived_does_not_hold_the_other_side_of_its_null() {
    let mut job = Job::open(id("job"), demo::procedure().unwrap(), header(), stamp(1));
    let deeds = [
        support::as_left("balance", "4.0 mV p-p"),
        support::as_left("balance-lsb", "30.0 mV p-p"),
        support::waive("balance-lsb", "LSB is not used"),
    ];
    logged(&mut job, deeds);
    let progress = job.progress();
    let status = |step: &str| progress.step(&id(step)).unwrap().status;
    assert_eq!(
        (status("balance"), status("balance-lsb")),
        (Status::Done, Status::Waived)
    );
}
