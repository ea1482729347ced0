//! One judgement: whatever says something of a reading reads it from the fold, and what belongs
//! together is written together or not at all.

mod support;

use halfturn::exchange::demo;
use halfturn::exchange::report::{self, Report};
use halfturn::job::{Deed, Job, Phase, Refusal, Status, advice};
use halfturn::metrology::slip::Slip;
use support::{does, header, id, look, q, stamp, tick};

fn pin(pin: &str, state: &str, value: &str) -> Deed {
    Deed::PinRead {
        step: id("acc-socket"),
        pin: id(pin),
        state: id(state),
        value: q(value),
    }
}

#[test]
fn the_sheet_names_the_pins_that_are_outside_or_not_measured() {
    let mut job = Job::open(id("job"), demo::procedure().unwrap(), header(), stamp(1));
    let mut log = job.log.clone();
    for deed in [
        pin("1", "AM", "0.00 V"),
        pin("2", "AM", "9999 V"),
        pin("3", "AM", "8.01 V"),
        pin("3", "USB", "0.02 V"),
        tick("acc-socket"),
    ] {
        log.append(stamp(log.len() + 10), deed);
    }
    job.log = log;
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
