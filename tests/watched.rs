//! Readings that are watched while they drift: what is judged, what keeps the step open, and
//! when it is told that they have settled.

mod chance;
mod support;
mod two_oscillators;

use chance::Chance;
use halfturn::exchange::report::Report;
use halfturn::job::{Deed, Job, Phase, Stamp, Status};
use halfturn::metrology::decision::Rule;
use halfturn::metrology::inference::drift::{Drift, Steadiness, Timed, recent};
use serde_json::json;
use two_oscillators::*;

const MINUTE: i64 = 60_000;

/// A job whose only step reads an oscillator within ± 26 Hz and watches that it drifts by no more
/// than this a minute; read once a minute, in hertz beside its aim.
fn watched(per_minute: &str, readings: &[i64], phase: Phase) -> Job {
    let target = json!({"fixed": {"around": {"nominal": "9.000000 MHz",
        "below": {"absolute": "26 Hz"}, "above": {"absolute": "26 Hz"}}}});
    let mut step = reads("osc", "AM", "19", "counter", "MHz", target);
    step["settles"] = json!({"per-minute": per_minute});
    let counter = instrument("Club counter", "50 MHz", "1 Hz", json!({"counts": 1}));
    let header = header(Rule::default(), &[("counter", &counter)]);
    let mut job = job(procedure(vec![step]), header, &[]);
    for (minute, off) in readings.iter().enumerate() {
        let stamp = Stamp {
            id: id(&format!("m{minute}")),
            at: minute as i64 * MINUTE,
        };
        let reading = Deed::Reading {
            step: id("osc"),
            phase,
            value: q(&format!("{:.6} MHz", (9_000_000 + off) as f64 / 1e6)),
            tool: None,
            repeat: minute > 0,
            heard: None,
        };
        job.record(stamp, reading).unwrap();
    }
    job
}

fn steadiness(job: &Job) -> Option<Steadiness> {
    let settling = standing(job, "osc").settling.unwrap();
    settling.ok().map(|settled| settled.steadiness)
}

#[test]
fn the_last_reading_of_a_drift_is_judged_and_not_the_mean() {
    let job = watched("1 Hz", &[0, 8, 16, 24, 32, 40], Phase::AsLeft);
    let left = standing(&job, "osc").left.unwrap();
    assert_eq!(left.value, q("9.000040 MHz"), "the mean is 20 Hz high");
    assert_eq!(status(&job, "osc"), Status::Outside);
    assert_eq!(steadiness(&job), Some(Steadiness::Drifting));
    // The trend is no scatter: what is left about the line is nothing.
    let budget = left.proof.unwrap().budget;
    let names: Vec<&str> = budget
        .lines
        .iter()
        .map(|line| line.contribution.name.as_str())
        .collect();
    assert_eq!(names, ["Accuracy", "Resolution", "Scatter about the drift"]);
    assert!(budget.lines[2].effect < 1e-3, "{budget:?}");
    // How it began, far outside, is neither a verdict nor a finding.
    let warmed = watched("1 Hz", &[900, 60, 5, 3, 2, 2, 2, 2], Phase::AsFound);
    assert_eq!(status(&warmed, "osc"), Status::Done);
    assert_eq!(standing(&warmed, "osc").found_outside(), None);
}

#[test]
fn a_drift_beyond_its_limit_keeps_a_step_open_though_it_is_inside() {
    let drifting = watched("1 Hz", &[-20, -15, -10, -5, 0], Phase::AsLeft);
    assert_eq!(status(&drifting, "osc"), Status::Unsettled);
    assert!(status(&drifting, "osc").is_owed());
    assert_eq!(
        standing(&drifting, "osc").next_phase(&work(&drifting)),
        Phase::AsLeft
    );
    let steady = watched("1 Hz", &[-20, -15, -10, 0, 0, 0, 0, 0], Phase::AsLeft);
    assert_eq!(steadiness(&steady), Some(Steadiness::Settled));
    assert_eq!(status(&steady, "osc"), Status::Done);
    // Too few readings show no drift, and no settling either.
    let few = watched("1 Hz", &[-20, -15], Phase::AsLeft);
    assert_eq!(
        (steadiness(&few), status(&few, "osc")),
        (None, Status::Done)
    );
}

fn work(job: &Job) -> halfturn::procedure::Work {
    job.procedure.step(&id("osc")).unwrap().work.clone()
}

#[test]
fn the_sheet_says_that_a_step_has_not_settled() {
    let said = |readings: &[i64]| {
        let report = Report::of(
            &watched("1 Hz", readings, Phase::AsLeft),
            &[],
            &support::look(),
        );
        report.summary.join(" ")
    };
    assert!(said(&[-20, -15, -10, -5, 0]).contains("not settled"));
    assert!(said(&[-20, -15]).contains("not shown to have settled"));
    assert!(!said(&[0; 8]).contains("settled"));
}

#[test]
fn settling_is_told_soon_after_it_is_true() {
    // 200 Hz off when it is cold, falling by a factor e every 5 minutes: slower than 2 Hz a
    // minute from minute 15 on.
    let at = |minute: usize| 200.0 * (-(minute as f64) / 5.0).exp();
    let mut first = None;
    for minute in 3..60 {
        let readings: Vec<Timed> = (0..=minute)
            .map(|minute| Timed {
                minutes: minute as f64,
                value: at(minute).round(),
            })
            .collect();
        let says = |readings: &[Timed]| Drift::of(readings, 1.0).unwrap().steadiness(2.0).unwrap();
        let latest = &readings[readings.len() - recent(&readings, 1.0, 2.0)..];
        let told = says(latest) == Steadiness::Settled;
        assert!(
            !told || minute >= 15,
            "told at {minute}, before it was true"
        );
        first = first.or(told.then_some(minute));
        assert!(told || first.is_none(), "taken back at {minute}");
        // The line through all of them says so long after.
        assert!(minute > 30 || says(&readings) != Steadiness::Settled);
    }
    assert!(first.is_some_and(|minute| minute <= 19), "{first:?}");
}

#[test]
fn the_slope_of_the_recent_readings_is_as_sure_as_it_says() {
    let mut chance = Chance(20);
    for noise in [0.3, 1.0, 3.0, 10.0] {
        for limit in [0.5, 2.0, 10.0] {
            let trials = 2000;
            let mut held = 0;
            for _ in 0..trials {
                let start = chance.between(-5.0, 5.0);
                let readings: Vec<Timed> = (0..20)
                    .map(|minute| Timed {
                        minutes: f64::from(minute),
                        value: (start + 1.5 * f64::from(minute) + chance.normal(noise)).round(),
                    })
                    .collect();
                let latest = &readings[readings.len() - recent(&readings, 1.0, limit)..];
                let line = Drift::of(latest, 1.0).unwrap();
                held += usize::from((line.slope - 1.5).abs() <= line.expanded);
            }
            let share = held as f64 / trials as f64;
            assert!(share >= 0.93, "noise {noise}, limit {limit}: {share}");
        }
    }
}
