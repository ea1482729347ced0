//! How long the fold over a log takes. Natively it prints a line for each length: events,
//! nanoseconds of one fold, and a digest of what came out of it. For the browser it exports the
//! same, and the page there has the clock.

use halfturn::exchange::demo;
use halfturn::job::{Deed, Job, Stamp, StepProgress};
use halfturn::procedure::Id;
use std::cell::RefCell;
use std::hint::black_box;

/// The demo's deeds over and over, as of a set that goes round and round, and now and then one
/// of them taken back.
fn job_of(events: usize) -> Job {
    let mut count = 0;
    let fresh = move || {
        count += 1;
        id(format!("d{count}"))
    };
    let mut job = demo::half_done(1_767_225_600_000, fresh).expect("the demo is sound");
    let deeds: Vec<Deed> = job
        .log
        .events()
        .skip(1)
        .map(|event| event.did.clone())
        .collect();
    let mut last = None;
    for number in job.log.len()..events {
        let deed = match (number % 20, last.take()) {
            (0, Some(event)) => Deed::Undone { event },
            _ => deeds[number % deeds.len()].clone(),
        };
        let can_be_undone = deed.can_be_undone();
        let stamp = Stamp {
            id: id(format!("e{number}")),
            at: 1_767_225_600_000 + 20_000 * number as i64,
        };
        let event = job.log.append(stamp, deed);
        last = can_be_undone.then_some(event);
    }
    job
}

fn id(text: String) -> Id {
    text.parse().expect("an id")
}

/// FNV-1a of the standing and the readings of each step. Source of the constants: from memory.
fn digest(job: &Job) -> u32 {
    let steps = job.progress().steps;
    // Not the whole of it, since sets print in an order of their own.
    let seen = |step: &StepProgress| format!("{:?} {:?};", step.status, step.readings);
    let text: String = steps.iter().map(seen).collect();
    text.bytes().fold(0x811c_9dc5, |hash, byte| {
        (hash ^ u32::from(byte)).wrapping_mul(0x0100_0193)
    })
}

thread_local! {
    static JOB: RefCell<Option<Job>> = const { RefCell::new(None) };
}

/// Makes a job with so many events and gives the digest of what follows from it.
#[unsafe(no_mangle)]
pub extern "C" fn prepare(events: u32) -> u32 {
    let job = job_of(events as usize);
    let digest = digest(&job);
    JOB.set(Some(job));
    digest
}

/// Folds the log of the job so many times.
#[unsafe(no_mangle)]
pub extern "C" fn fold(times: u32) {
    JOB.with_borrow(|job| {
        for _ in 0..times {
            black_box(job.as_ref().map(Job::progress));
        }
    });
}

fn main() {
    for events in std::env::args().skip(1) {
        let events = events.parse().expect("a number of events");
        let digest = prepare(events);
        // Often enough for the clock, and the best of five.
        let times = 1 + 1_000_000 / events;
        let best = (0..5).map(|_| {
            let start = std::time::Instant::now();
            fold(times);
            start.elapsed().as_nanos() / u128::from(times)
        });
        println!("{events} {} {digest}", best.min().unwrap_or_default());
    }
}
