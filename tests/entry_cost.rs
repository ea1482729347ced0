//! An entry costs about the same however many there are before it. What it costs is counted in
//! pieces of memory asked for, which come out alike on every machine; the times are printed
//! (`-- --nocapture`), not judged.

mod support;

use halfturn::job::{Deed, Header, Job, Phase, Progress, UsedInstrument};
use halfturn::store::{MemoryStorage, Storage, Store};
use proptest::prelude::*;
use std::alloc::{GlobalAlloc, Layout, System};
use std::cell::Cell;
use std::time::{Duration, Instant};
use support::*;

/// The system's allocator, which counts how often it is asked.
struct Counting;

thread_local! {
    static ASKED: Cell<u64> = const { Cell::new(0) };
}

// SAFETY: all is passed on to the system's allocator as it is.
unsafe impl GlobalAlloc for Counting {
    unsafe fn alloc(&self, layout: Layout) -> *mut u8 {
        // While a thread ends there may be nothing to count with any more.
        let _ = ASKED.try_with(|asked| asked.set(asked.get() + 1));
        unsafe { System.alloc(layout) }
    }

    unsafe fn dealloc(&self, memory: *mut u8, layout: Layout) {
        unsafe { System.dealloc(memory, layout) }
    }
}

#[global_allocator]
static COUNTING: Counting = Counting;

/// What a part of an entry costs.
#[derive(Clone, Copy, Debug, Default)]
struct Cost {
    asked: u64,
    time: Duration,
}

fn cost<T>(total: &mut Cost, act: impl FnOnce() -> T) -> T {
    let (asked, begun) = (ASKED.get(), Instant::now());
    let done = act();
    total.time += begun.elapsed();
    total.asked += ASKED.get() - asked;
    done
}

/// The parts of an entry, in their order.
const PARTS: [&str; 4] = ["log", "fold", "store", "journal"];
/// How many entries are made for a figure.
const ENTRIES: usize = 8;

/// What the parts of an entry cost behind so many readings of one step, on average.
fn costs(readings: usize) -> [Cost; 4] {
    let mut job: Job = job_with(good_deeds().into_iter().take(4));
    let value = |count: usize| format!("10.24{:03} MHz", count % 1000);
    for count in 0..readings {
        let deed = reading("osc", Phase::Try, &value(count));
        job.log.append(stamp(100 + count), deed);
    }
    let memory = MemoryStorage::default();
    let (store, opened) = Store::open(&memory);
    assert_eq!(opened, Ok(()));
    store.rejoin("a", &[]);
    job = store.save_entries(&job).expect("room for it");
    assert!(store.due().expect("a storage").is_some());
    store.settle(true);
    let mut progress: Progress = job.progress();
    let mut all = [Cost::default(); 4];
    for count in readings..readings + ENTRIES {
        let deed = reading("osc", Phase::Try, &value(count));
        let mut next = job.clone();
        let event = stamp(100 + count);
        cost(&mut all[0], || next.record_at(&progress, event, deed)).expect("allowed");
        job = cost(&mut all[2], || store.save_entries(&next)).expect("room for it");
        progress = cost(&mut all[1], || job.progress_after(Some(&progress)));
        let due = cost(&mut all[3], || {
            let due = store.due();
            store.settle(true);
            due
        });
        let written = due.expect("a storage").expect("due").entries;
        let sizes = written.iter().flat_map(|(_, text)| text).map(String::len);
        assert!(sizes.sum::<usize>() < 1000, "only what is new");
    }
    assert_eq!(progress, job.progress());
    let stored = (&memory).get("halfturn:job:job-17").expect("a storage");
    assert_eq!(
        stored.map(|text| text.matches("\"check\"").count()),
        Some(job.log.len())
    );
    all.map(|cost| Cost {
        asked: cost.asked / ENTRIES as u64,
        time: cost.time / ENTRIES as u32,
    })
}

#[test]
fn an_entry_costs_about_the_same_however_many_there_are() {
    let sizes = [10, 100, 1000, 3000];
    let all = sizes.map(costs);
    for (size, parts) in sizes.iter().zip(&all) {
        for (part, cost) in PARTS.iter().zip(parts) {
            println!(
                "{size:>5} readings: {part:<8}{:>7} pieces {:>10.1?}",
                cost.asked, cost.time
            );
        }
    }
    let total = |parts: &[Cost; 4]| parts.iter().map(|cost| cost.asked).sum::<u64>();
    let (few, many) = (total(&all[0]), total(&all[3]));
    // A copy of the log has a node of its tree for some readings; nothing else may grow.
    let nodes = sizes[3] as u64 / 4;
    let said = format!("{few} pieces with few readings, {many} with many");
    assert!(many < few + nodes, "{said}");
}

// What is remembered

/// A header whose counter reads low, or is not of the kit.
fn with_counter(is_known: bool) -> Header {
    let record = serde_json::json!({
        "role": "counter",
        "name": "Bench counter",
        "ranges": [{
            "full-scale": "100 MHz",
            "resolution": "1 Hz",
            "accuracy": {"ppm": "1.0", "counts": 1}
        }],
        "corrections": [{"time-base": {"reference": "10.000000 MHz", "reading": "9.999988 MHz"}}]
    });
    let record = serde_json::from_value(record).expect("an instrument");
    let counter = UsedInstrument {
        role: id("counter"),
        name: "Bench counter".to_owned(),
        record: is_known.then_some(record),
    };
    Header {
        instruments: vec![counter],
        ..header()
    }
}

/// What happens to a job beside what `drafts` make.
fn further() -> impl Strategy<Value = Vec<(usize, u8)>> {
    prop::collection::vec((0usize..40, 0u8..3), 0..8)
}

proptest! {
    #![proptest_config(cases(96))]

    #[test]
    fn what_follows_is_the_same_with_what_was_known_before_and_without(
        drafts in drafts(40),
        further in further(),
    ) {
        let mut job = fresh_job();
        let mut known = job.progress();
        for (place, draft) in drafts.iter().enumerate() {
            let deed = draft.deed(&job.log);
            job.log.append(draft.stamp("a", &job.log), deed);
            for (_, what) in further.iter().filter(|(at, _)| *at == place) {
                let stamp = stamp(1000 + job.log.len());
                let reading = job.log.events().find_map(|event| match &event.did {
                    Deed::Reading { step, .. } => Some((step.clone(), event.id.clone())),
                    _ => None,
                });
                let deed = match (what, reading) {
                    (0, Some((step, reading))) => Deed::Struck {
                        step,
                        reading,
                        reason: "A slip".to_owned(),
                    },
                    (what, _) => Deed::Amended(with_counter(*what == 1).into()),
                };
                job.log.append(stamp, deed);
            }
            known = job.progress_after(Some(&known));
            prop_assert_eq!(&known, &job.progress());
        }
    }
}
