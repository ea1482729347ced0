//! Units as the trade reads them: tolerances in decibels of a power or a voltage.

mod support;

use halfturn::exchange::report::{Report, csv, html};
use halfturn::job::{Deed, Header, Job, Log, Phase, Status, UsedInstrument};
use halfturn::metrology::{Margin, Tolerance};
use halfturn::procedure::{Gauge, Procedure, Section, Step, Target, Work, faults, spoken};
use halfturn::quantity::DecimalSign::Point;
use std::sync::Arc;
use support::{id, look, q, stamp};

fn gauge(scale: &str) -> Gauge {
    Gauge {
        at: id("SK1"),
        with: id("wattmeter"),
        scale: scale.parse().expect("a scale"),
    }
}

fn read(gauge: Gauge, target: Tolerance) -> Step {
    let work = Work::Read {
        gauge,
        target: Some(Target::Fixed(target)),
    };
    Step::new(id("s"), "Output", work)
}

fn around(nominal: &str, margin: &str) -> Tolerance {
    Tolerance::plus_minus(q(nominal), Margin::Absolute(q(margin)))
}

/// The procedure of one step, with the test points and roles of the support's.
fn procedure(step: Step) -> Procedure {
    let procedure = Procedure {
        sections: vec![Section {
            title: "Output".to_owned(),
            steps: vec![step],
        }],
        adjusters: Vec::new(),
        ..support::procedure()
    };
    assert_eq!(faults(&procedure), []);
    procedure
}

fn reading(value: &str) -> Deed {
    Deed::Reading {
        step: id("s"),
        phase: Phase::AsFound,
        value: q(value),
        tool: None,
        repeat: false,
    }
}

/// A job with one reading, taken with instruments of the kit.
fn job_with(kit: Vec<UsedInstrument>, step: Step, value: &str) -> Job {
    let header = Header {
        instruments: kit,
        ..Header::default()
    };
    let mut log = Log::default();
    log.append(stamp(0), Deed::Opened(Box::new(header)));
    let mut job = Job {
        id: id("job"),
        procedure: Arc::new(procedure(step)),
        log,
    };
    job.record(stamp(1), reading(value)).expect("it is taken");
    job
}

/// A job with one reading, taken with who knows what.
fn job(step: Step, value: &str) -> Job {
    job_with(Vec::new(), step, value)
}

fn status(job: &Job) -> Status {
    job.progress().steps[0].status
}

fn sheet(job: &Job) -> String {
    let page = html::fragment(&Report::of(job, &[], &look()));
    page.replace('\u{a0}', " ")
        .replace(['\u{2068}', '\u{2069}'], "")
}

/// The cell of the only reading in the table of readings under a heading.
fn cell(job: &Job, heading: &str) -> String {
    let text = csv::readings(job, &look());
    let mut reader = ::csv::Reader::from_reader(text.trim_start_matches('\u{feff}').as_bytes());
    let place = reader.headers().expect("headings");
    let place = place.iter().position(|it| it == heading).expect("a column");
    let row = reader.records().next().expect("a reading").expect("a row");
    row[place].to_owned()
}

/// Source: definition of the decibel; the figures by hand, 20·10^±0.1 and 0.5·10^±0.15.
#[test]
fn a_tolerance_in_decibels_judges_watts_and_volts() {
    for (nominal, margin, scale, value, is_inside) in [
        ("20 W", "1 dB", "W", "25.1", true),
        ("20 W", "1 dB", "W", "25.2", false),
        ("20 W", "1 dB", "W", "15.9", true),
        ("20 W", "1 dB", "W", "15.8", false),
        ("0.5 V rms", "3 dB", "V rms", "0.354", true),
        ("0.5 V rms", "3 dB", "V rms", "0.353", false),
        ("0.5 V rms", "3 dB", "V rms", "0.706", true),
        ("0.5 V rms", "3 dB", "V rms", "0.707", false),
    ] {
        let step = read(gauge(scale), around(nominal, margin));
        let job = job(step, &format!("{value} {scale}"));
        let due = if is_inside {
            Status::Done
        } else {
            Status::Outside
        };
        assert_eq!(status(&job), due, "{value} of {nominal} ± {margin}");
    }
}

#[test]
fn limits_in_decibels_stand_on_the_sheet_in_the_table_and_in_what_is_said_aloud() {
    let job = job(read(gauge("W"), around("20 W", "1 dB")), "18.0 W");
    assert!(
        sheet(&job).contains("20 W ± 1 dB (15.89 W to 25.17 W)"),
        "{}",
        sheet(&job)
    );
    assert_eq!(cell(&job, "lower limit"), "15.8865646945");
    assert_eq!(cell(&job, "upper limit"), "25.1785082359");
    let step = job.procedure.step(&id("s")).expect("the step");
    let target = step
        .work
        .target()
        .map(|target| target.typeset(Point, |_| None));
    let said = spoken(&job.procedure, step, target).replace('\u{a0}', " ");
    assert!(
        said.ends_with("Target: 20 W ± 1 dB (15.89 W to 25.17 W)."),
        "{said}"
    );
}
