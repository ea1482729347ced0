//! A reading that was taken before there was a job for it.

mod support;

use halfturn::exchange::report::cost::worked;
use halfturn::job::Phase;
use halfturn::job::{Deed, Header, Job, Line, OwnKind, Stamp, Status, TypedStep, UsedInstrument};
use halfturn::procedure::Procedure;
use halfturn::quantity::DecimalSign;
use support::{does, header, id, job_with, q, reading, stamp, takes_up};

const MINUTE: i64 = 60_000;

fn rail(name: &str) -> Deed {
    let typed = TypedStep {
        kind: OwnKind::Read,
        title: "Supply rail".to_owned(),
        at: "TP3".to_owned(),
        with: "voltmeter".to_owned(),
        scale: "V".parse().ok(),
        limit: "13.5 to 14.1".to_owned(),
        ..TypedStep::default()
    };
    let added = typed.read(id(name), Vec::new(), DecimalSign::Point);
    Deed::AddedStep {
        added: Box::new(added.expect("a step")),
    }
}

fn meter(name: &str) -> UsedInstrument {
    UsedInstrument {
        role: id("voltmeter"),
        name: name.to_owned(),
        record: None,
    }
}

/// Two readings of one rail by the meter of the bag, an hour before the job's last entry.
fn loose() -> Job {
    let header = Header {
        technician: "R. Ames".to_owned(),
        instruments: vec![meter("Meter of the bag")],
        number: "left out".to_owned(),
        ..Header::default()
    };
    let at = |number: i64| Stamp {
        id: id(&format!("loose-{number}")),
        at: number * MINUTE,
    };
    let mut job = Job::loose(id("loose"), header, at(0));
    for (number, deed) in [
        rail("rail"),
        reading("rail", Phase::AsFound, "13.79 V"),
        reading("rail", Phase::AsFound, "13.2 V"),
    ]
    .into_iter()
    .enumerate()
    {
        let number = i64::try_from(number).expect("few") + 1;
        job.record(at(number), deed).expect("a deed");
    }
    job
}

fn keep(job: &mut Job, loose: &Job, now: i64) {
    let mut count = 0;
    let fresh = || {
        count += 1;
        Stamp {
            id: id(&format!("kept-{count}-{now}")),
            at: now,
        }
    };
    job.take_in(loose, "Read before the job", fresh)
        .expect("room");
}

#[test]
fn what_says_nothing_of_a_set_belongs_to_no_job_yet() {
    let loose = loose();
    assert!(loose.progress().is_loose());
    assert!(Line::of(&loose).is_loose());
    let mut named = loose.clone();
    does(&mut named, Deed::Amended(Box::new(header())));
    assert!(!named.progress().is_loose());
    assert!(!Line::of(&named).is_loose());
    let booked_in = Job::open(id("job"), Procedure::none(), header(), stamp(1));
    assert!(!Line::of(&booked_in).is_loose());
    assert!(!Line::of(&job_with([])).is_loose());
}

#[test]
fn it_is_judged_as_any_reading() {
    let progress = loose().progress();
    let step = progress.step(&id("rail")).expect("the step");
    assert_eq!(step.status, Status::Outside);
    let inside = |taken: &std::sync::Arc<halfturn::job::Taken>| {
        taken.verdict.as_ref().map(|verdict| verdict.is_inside())
    };
    let verdicts: Vec<_> = step.readings.iter().map(inside).collect();
    assert_eq!(verdicts, [Some(true), Some(false)]);
}

#[test]
fn kept_into_a_job_it_has_its_time_and_its_instrument_and_the_job_keeps_its_own() {
    let mut job = Job::open(id("job"), Procedure::none(), header(), stamp(1));
    does(&mut job, takes_up("Counter of the bench"));
    let instrument = Box::new(meter("Meter of the bench"));
    does(&mut job, Deed::MeasuredWith { instrument });
    does(&mut job, rail("other"));
    does(&mut job, reading("other", Phase::AsFound, "13.8 V"));
    let bench = job.progress().header.used_as(&id("voltmeter")).cloned();
    let now = 500 * MINUTE;
    keep(&mut job, &loose(), now);
    let progress = job.progress();
    let step = progress.step(&id("rail")).expect("the step");
    let read: Vec<_> = step
        .readings
        .iter()
        .map(|taken| {
            let with = taken.with.as_ref().map(|used| used.name.as_str());
            (taken.value.clone(), taken.at / MINUTE, with)
        })
        .collect();
    let bag = Some("Meter of the bag");
    assert_eq!(read, [(q("13.79 V"), 2, bag), (q("13.2 V"), 3, bag)]);
    assert_eq!(progress.header.used_as(&id("voltmeter")).cloned(), bench);
    let noted: Vec<_> = step.notes.iter().map(|note| note.text.as_str()).collect();
    assert_eq!(noted, ["Read before the job"]);
    assert_eq!(progress.span.map(|(_, touched)| touched), Some(now));
}

#[test]
fn kept_twice_it_stands_in_the_job_once() {
    let mut job = Job::open(id("job"), Procedure::none(), header(), stamp(1));
    keep(&mut job, &loose(), 500 * MINUTE);
    let once = job.clone();
    keep(&mut job, &loose(), 501 * MINUTE);
    assert_eq!(job, once);
}

#[test]
fn the_time_of_the_job_is_not_counted_twice_for_it() {
    let at = |name: &str, minute: i64| Stamp {
        id: id(name),
        at: minute * MINUTE,
    };
    let mut job = Job::open(id("job"), Procedure::none(), header(), at("a", 0));
    job.record(at("b", 10), rail("other")).expect("a step");
    keep(&mut job, &loose(), 15 * MINUTE);
    let minutes: i64 = worked(&job).iter().sum::<i64>() / MINUTE;
    // 10 of its own, 2 between the readings that were taken beside, 5 until they were kept.
    assert_eq!(minutes, 17);
}

#[test]
fn taken_back_it_is_left_behind() {
    let mut loose = loose();
    let slip = loose.log.events().next_back().map(|event| event.id.clone());
    let event = slip.expect("an entry");
    does(&mut loose, Deed::Undone { event });
    let mut job = Job::open(id("job"), Procedure::none(), header(), stamp(1));
    keep(&mut job, &loose, 500 * MINUTE);
    let progress = job.progress();
    let readings = progress.step(&id("rail")).map(|step| step.readings.len());
    assert_eq!(readings, Some(1));
}
