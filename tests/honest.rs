//! The sheet says nothing that the log doesn't hold: whatever was written to a log, allowed or
//! not, what the summary and the breaks claim is found in its events again, by another way than
//! the fold's.

mod support;

use halfturn::exchange::report::{Look, Part, Report, words};
use halfturn::job::{Deed, Event, Job, Phase, Status};
use halfturn::procedure::{Id, Work};
use halfturn::quantity::{DecimalSign, Quantity};
use proptest::prelude::*;
use support::*;

fn look() -> Look<'static> {
    Look {
        sign: DecimalSign::Point,
        when: &|at| format!("at {at}"),
        stamp: &|_| String::new(),
        day: &|day| day.to_string(),
        time: false,
        currency: "",
        spelling: Default::default(),
        picture: &|_| None,
    }
}

fn any_reading() -> impl Strategy<Value = Deed> {
    let value = prop::sample::select(vec![
        ("osc", "10.24000 MHz"),
        ("osc", "10.24001 MHz"),
        ("osc", "10.24100 MHz"),
        ("power", "4.0 W"),
        ("power", "4.4 W"),
        ("power", "4.5 W"),
        ("leak", "12 mV p-p"),
        ("leak", "21 mV p-p"),
        ("mixed", "1.24000 MHz"),
    ]);
    let phase = prop::sample::select(vec![Phase::AsFound, Phase::Try, Phase::AsLeft]);
    (value, phase, any::<bool>()).prop_map(|((step, value), phase, repeat)| Deed::Reading {
        step: id(step),
        phase,
        value: q(value),
        tool: None,
        repeat,
        heard: None,
    })
}

/// Deeds, each with whether it is taken back at once.
fn deeds() -> impl Strategy<Value = Vec<(Deed, bool)>> {
    let deed = prop_oneof![
        4 => any_reading(),
        2 => prop::sample::select(good_deeds()),
        1 => Just(Deed::Paused),
        1 => Just(tick("load")),
        1 => Just(tick("hot")),
    ];
    prop::collection::vec((deed, prop::bool::weighted(0.15)), 0..=30)
}

fn job_of(deeds: &[(Deed, bool)]) -> Job {
    let mut job = fresh_job();
    for (deed, taken_back) in deeds {
        let event = job.log.append(stamp(job.log.len() + 1), deed.clone());
        if *taken_back && deed.can_be_undone() {
            job.log.append(stamp(job.log.len() + 1), undo(&event));
        }
    }
    job
}

/// The readings of a step that count, in order: phase, value, and whether it repeats.
fn readings(job: &Job, step: &Id) -> Vec<(Phase, Quantity, bool)> {
    let undone = job.log.undone();
    let counting = job.log.events().filter(|event| !undone.contains(&event.id));
    let reading = |event: &Event| match &event.did {
        Deed::Reading {
            step: of,
            phase,
            value,
            repeat,
            ..
        } if of == step => Some((*phase, value.clone(), *repeat)),
        _ => None,
    };
    counting.filter_map(reading).collect()
}

/// The readings that a step is left with: the last one, and back from it those it repeats. Once
/// something was read as left, only that counts.
fn left(job: &Job, step: &Id, work: &Work) -> Vec<Quantity> {
    let mut all = readings(job, step);
    let was_left = all.iter().any(|(phase, ..)| *phase == Phase::AsLeft);
    let Some((phase, value, mut repeats)) = all.pop() else {
        return Vec::new();
    };
    if (work.adjuster().is_some() || was_left) && phase != Phase::AsLeft {
        return Vec::new();
    }
    let mut group = vec![value];
    while repeats && all.last().is_some_and(|(other, ..)| *other == phase) {
        let (_, value, further) = all.pop().unwrap();
        group.push(value);
        repeats = further;
    }
    group
}

fn outside(job: &Job, step: &Id, values: &[Quantity]) -> bool {
    let progress = job.progress();
    let standing = progress.step(step).unwrap();
    let tolerance = standing.tolerance.as_ref().and_then(|t| t.as_ref().ok());
    tolerance.is_some_and(|tolerance| values.iter().any(|v| !tolerance.judge(v).is_inside()))
}

/// The numbers of the stops that a row of the breaks says were confirmed before any work below.
fn claimed(text: &str) -> Vec<usize> {
    let sentences = text.split("Hold point ").skip(1);
    let good = sentences.filter(|said| said.contains("before any work below it"));
    good.filter_map(|said| said.split(' ').next()?.parse().ok())
        .collect()
}

proptest! {
    #![proptest_config(cases(256))]

    #[test]
    fn the_summary_claims_that_all_is_inside_only_where_all_is(deeds in deeds()) {
        let job = job_of(&deeds);
        let report = Report::of(&job, &[], &look());
        let says = |part: &str| report.summary.iter().any(|said| said.contains(part));
        for step in job.procedure.steps() {
            let found = readings(&job, &step.id).into_iter();
            let found: Vec<Quantity> = found
                .filter(|(phase, ..)| *phase == Phase::AsFound)
                .map(|(_, value, _)| value)
                .collect();
            if says("judged as found were inside") || says("judged as found was inside") {
                prop_assert!(!outside(&job, &step.id, &found), "{found:?}");
            }
            let left = left(&job, &step.id, &step.work);
            if says("as-left readings are within limits") || says("as-left reading is within limits") {
                prop_assert!(!outside(&job, &step.id, &left), "{left:?}");
            }
            let progress = job.progress();
            let status = progress.step(&step.id).unwrap().status;
            if outside(&job, &step.id, &left) {
                prop_assert!(status.is_owed(), "{status:?} {left:?}");
            }
        }
    }

    #[test]
    fn the_result_names_readings_that_are_outside_and_open(deeds in deeds()) {
        let job = job_of(&deeds);
        let report = Report::of(&job, &[], &look());
        let progress = job.progress();
        let open = progress.steps.iter().any(|step| {
            let is_left = step.as_left().is_some_and(|left| left.verdict.is_some());
            step.status == Status::Outside && !is_left
        });
        let says = |line: &String| line.contains("outside");
        prop_assert_eq!(report.result.iter().any(says), open, "{:?}", report.result);
        let says_all = |line: &String| line.starts_with("All ") || line.starts_with("The one ");
        prop_assert!(!(open && report.result.iter().any(says_all)), "{:?}", report.result);
    }

    #[test]
    fn a_stop_is_said_to_be_confirmed_again_before_work_only_where_it_was(deeds in deeds()) {
        let job = job_of(&deeds);
        let report = Report::of(&job, &[], &look());
        let breaks = report.sections.iter().find(|section| section.title == words::BREAKS);
        let rows = breaks.into_iter().flat_map(|section| &section.parts);
        let rows = rows.flat_map(|part| match part {
            Part::Table(table) => table.rows.clone(),
            _ => Vec::new(),
        });
        let undone = job.log.undone();
        let events: Vec<&Event> = job.log.events().collect();
        let pauses = events.iter().enumerate().filter(|(_, e)| e.did == Deed::Paused);
        let pauses: Vec<usize> = pauses.map(|(place, _)| place).collect();
        let rows: Vec<_> = rows.collect();
        prop_assert_eq!(rows.len(), pauses.len());
        for (row, pause) in rows.iter().zip(pauses) {
            for stop in claimed(&row[1].text) {
                let mut confirmed = false;
                for event in &events[pause..] {
                    let number = event.did.step().and_then(|step| job.procedure.number_of(step));
                    let ticks = matches!(event.did, Deed::Ticked { .. });
                    if ticks && number == Some(stop) && !undone.contains(&event.id) {
                        confirmed = true;
                        break;
                    }
                    let works = ticks || matches!(
                        event.did,
                        Deed::Reading { .. } | Deed::Answered { .. }
                    );
                    prop_assert!(!(works && number > Some(stop)), "{event:?}");
                }
                prop_assert!(confirmed);
            }
        }
    }
}
