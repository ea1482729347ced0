//! Units as the trade reads them: tolerances in decibels, a power read as dBm, EMF and PD, and what
//! stands in the path of a reading.

mod support;

use halfturn::authoring::draft::Draft;
use halfturn::authoring::edit::List;
use halfturn::authoring::{edit, remarks};
use halfturn::exchange::report::{Report, csv, html};
use halfturn::job::{Counts, Deed, Header, Job, Log, Phase, Status, Unproved, UsedInstrument};
use halfturn::metrology::decision::Rule;
use halfturn::metrology::instrument::Instrument;
use halfturn::metrology::{Margin, Tolerance};
use halfturn::procedure::{
    Direction, Field, Gauge, Path, Procedure, Section, Step, Target, Work, faults, spoken,
};
use halfturn::quantity::DecimalSign::Point;
use std::sync::Arc;
use support::{id, look, q, stamp};

fn gauge(scale: &str) -> Gauge {
    Gauge::new(id("SK1"), id("wattmeter"), scale.parse().expect("a scale"))
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
        heard: None,
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
    row[place].replace('\u{a0}', " ")
}

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

// A level in another unit.

fn into_50(scale: &str) -> Gauge {
    Gauge {
        into: Some(q("50 Ω")),
        ..gauge(scale)
    }
}

fn at_most(gauge: Gauge, limit: &str) -> Step {
    read(gauge, Tolerance::AtMost(q(limit)))
}

fn refusal(gauge: Gauge, limit: &str, value: &str) -> String {
    let mut job = Job {
        id: id("job"),
        procedure: Arc::new(procedure(at_most(gauge, limit))),
        log: Log::default(),
    };
    let refused = job.record(stamp(1), reading(value)).err();
    refused.expect("it is refused").to_string()
}

fn judged(job: &Job) -> String {
    let progress = job.progress();
    let left = progress.steps[0].left.as_ref().expect("a result");
    left.judged.to_string()
}

// Check: 43.0 dBm read against watts are 20.0 W, and 20.0 W against dBm 43.01 dBm
// Source: definition of dBm; the place by the slope at it
// Known by: closed form
#[test]
fn a_power_is_read_in_dbm_against_watts_and_in_watts_against_dbm() {
    for (due, value, result, due_status) in [
        ("20 W", "43.0 dBm", "20.0 W", Status::Done),
        ("19.95 W", "43.0 dBm", "20.0 W", Status::Outside),
        ("10 W", "40 dBm", "10 W", Status::Done),
        ("43.5 dBm", "20.0 W", "43.01 dBm", Status::Done),
        ("43 dBm", "20.0 W", "43.01 dBm", Status::Outside),
        ("2 mW", "-10.0 dBm", "0.100 mW", Status::Done),
    ] {
        let scale = due.split_once(' ').expect("a unit").1;
        let job = job(at_most(gauge(scale), due), value);
        assert_eq!(judged(&job), result, "{value}");
        assert_eq!(status(&job), due_status, "{value} against {due}");
        let logged = format!("{:?}", job.log);
        assert!(logged.contains("Reading"), "{logged}");
        assert_eq!(
            cell(&job, "value"),
            value.split_once(' ').expect("a unit").0
        );
        assert_eq!(cell(&job, "unit"), value.split_once(' ').expect("a unit").1);
        let as_judged = format!(
            "{} {}",
            cell(&job, "corrected value"),
            cell(&job, "corrected unit")
        );
        assert_eq!(as_judged, result);
        assert_eq!(
            cell(&job, "upper limit"),
            due.split_once(' ').expect("a unit").0
        );
        assert_eq!(cell(&job, "limit unit"), scale);
        let indicated = format!("indicated {}", value.replace('-', "−"));
        assert!(
            sheet(&job).contains(&indicated),
            "{indicated}: {}",
            sheet(&job)
        );
    }
}

#[test]
fn a_reading_on_a_limit_in_decibels_is_inside_by_whichever_way_it_comes() {
    let step = || read(gauge("mW"), around("100 mW", "1 dB"));
    for (value, due) in [
        ("19 dBm", Status::Done),
        ("21.0 dBm", Status::Done),
        ("18.99 dBm", Status::Outside),
        ("21.01 dBm", Status::Outside),
    ] {
        assert_eq!(status(&job(step(), value)), due, "{value}");
    }
}

#[test]
fn a_voltage_is_a_power_only_in_an_impedance_that_the_step_states() {
    let job = job(at_most(into_50("dBm"), "0 dBm"), "107 dBµV");
    assert_eq!(judged(&job), "0 dBm");
    assert_eq!(status(&job), Status::Outside, "it is 0.01 dBm");
    assert!(
        sheet(&job).contains("indicated 107 dBµV, into 50 Ω"),
        "{}",
        sheet(&job)
    );
    assert_eq!(cell(&job, "correction"), "into 50 Ω");
    assert_eq!(
        refusal(gauge("dBm"), "0 dBm", "107 dBµV"),
        "The reading is in dBµV, the step judges in dBm, and a voltage is a power only in an \
         impedance, and this step states none: type it in dBm"
    );
    assert_eq!(
        refusal(gauge("dBm"), "0 dBm", "5 V"),
        "The reading is in V, but the step wants dBm: check the instrument and its range"
    );
    let nothing = refusal(gauge("dBm"), "0 dBm", "0 W");
    assert!(
        nothing.contains("only what is above zero has such a level"),
        "{nothing}"
    );
}

// Check: 0.50 µV PD are 1.00 µV EMF, and −113.0 dBm in 50 Ω are too
// Source: voltage divider of two equal impedances; Joule's law
// Known by: closed form
#[test]
fn an_emf_and_a_pd_are_told_apart_converted_and_printed() {
    let job = |value| job(at_most(into_50("µV EMF"), "1 µV EMF"), value);
    for (value, result, due) in [
        ("0.50 µV PD", "1.00 µV EMF", Status::Done),
        ("0.51 µV PD", "1.02 µV EMF", Status::Outside),
        ("0.9 µV EMF", "0.9 µV EMF", Status::Done),
        ("0.0 dBµV EMF", "1.00 µV EMF", Status::Done),
        ("-6.0 dBµV PD", "1.00 µV EMF", Status::Outside),
        ("-113.0 dBm", "1.00 µV EMF", Status::Outside),
    ] {
        let job = job(value);
        assert_eq!(judged(&job), result, "{value}");
        assert_eq!(status(&job), due, "{value}");
        let printed = value.replace('-', "−");
        assert!(sheet(&job).contains(&printed), "{printed}");
    }
    let unsaid = refusal(into_50("µV EMF"), "1 µV EMF", "0.5 µV rms");
    assert_eq!(
        unsaid,
        "The reading is in V rms, the step judges in V EMF, and it does not say whether it is EMF \
         or PD: type V rms with EMF or PD behind it"
    );
}

// Check: a meter good to 0.5 dB read at 43.0 dBm: U = 1.96·P·ln 10/10·√(0.5²/3 + 0.1²/12) W
// Source: JCGM 100:2008, 5.1.2 and 5.1.3
// Known by: closed form
#[test]
fn the_uncertainty_of_a_level_is_carried_over_to_the_power() {
    let meter = kit(serde_json::json!({
        "role": "wattmeter", "name": "Club level meter",
        "ranges": [{"full-scale": "50 dBm", "resolution": "0.1 dB", "accuracy": {"absolute": "0.5 dB"}}],
    }));
    let job = job_with(vec![meter], at_most(gauge("W"), "30 W"), "43.0 dBm");
    let progress = job.progress();
    let left = progress.steps[0].left.as_ref().expect("a result");
    let proof = left.proof.as_ref().expect("it is proved");
    let slope = 19.952_623_149_7 * 10f64.ln() / 10.0;
    let due = 1.96 * slope * (0.25f64 / 3.0 + 0.01 / 12.0).sqrt();
    assert!(
        (proof.budget.expanded / due - 1.0).abs() < 1e-3,
        "{} {due}",
        proof.budget.expanded
    );
    assert!(proof.expanded.unit() == q("1 W").unit());
}

// What stands in the path.

fn kit(record: serde_json::Value) -> UsedInstrument {
    let record: Instrument = serde_json::from_value(record).expect("an instrument");
    UsedInstrument {
        role: id(&record.role),
        name: record.name.clone(),
        record: Some(record),
    }
}

/// A pad whose tolerance nobody knows.
fn vague_pad(by: &str) -> UsedInstrument {
    kit(serde_json::json!({"role": "meter", "name": "Old pad", "loss": {"by": by}}))
}

fn pad(by: &str, within: serde_json::Value) -> UsedInstrument {
    kit(serde_json::json!({
        "role": "meter", "name": "Club pad", "loss": {"by": by, "within": within},
    }))
}

/// A gauge with the role `meter` of the support's procedure in its path.
fn through(scale: &str, direction: Direction) -> Gauge {
    Gauge {
        path: Some(Path {
            through: vec![id("meter")],
            direction,
        }),
        ..into_50(scale)
    }
}

// Check: 13.0 dBm behind 30 dB are 20.0 W at the set, 120 mV behind a probe ×10 are 1.20 V
// Source: product of power ratios; a probe's ratio is one of voltages
// Known by: closed form
#[test]
fn a_reading_is_corrected_for_what_stands_in_its_path() {
    use Direction::{FromSet, IntoSet};
    let decibels = || serde_json::json!({"amount": "0.3 dB"});
    let percent = || serde_json::json!({"percent": "2"});
    for (scale, direction, by, within, value, result, said) in [
        (
            "dBm",
            FromSet,
            "30 dB",
            decibels(),
            "13.0 dBm",
            "43.0 dBm",
            "Club pad +30 dB",
        ),
        (
            "W",
            FromSet,
            "30 dB",
            decibels(),
            "20.0 mW",
            "20.0 W",
            "Club pad +30 dB",
        ),
        (
            "W",
            FromSet,
            "30 dB",
            decibels(),
            "13.0 dBm",
            "20.0 W",
            "Club pad +30 dB",
        ),
        (
            "dBm",
            IntoSet,
            "20 dB",
            decibels(),
            "-87.0 dBm",
            "-107.0 dBm",
            "Club pad −20 dB",
        ),
        (
            "µV EMF",
            IntoSet,
            "20 dB",
            decibels(),
            "5.0 µV EMF",
            "0.50 µV EMF",
            "Club pad −20 dB",
        ),
        (
            "V",
            FromSet,
            "10 :1",
            percent(),
            "1.20 V",
            "12.0 V",
            "Club pad ×10",
        ),
        (
            "V rms",
            FromSet,
            "10 :1",
            percent(),
            "120 mV rms",
            "1.20 V rms",
            "Club pad ×10",
        ),
    ] {
        let unit = result.split_once(' ').expect("a unit").1;
        let step = at_most(through(scale, direction), &format!("100 {unit}"));
        let job = job_with(vec![pad(by, within)], step, value);
        assert_eq!(judged(&job), result, "{value} through {by}");
        assert_eq!(status(&job), Status::Done, "{value}");
        let indicated = format!("indicated {}, ", value.replace('-', "−"));
        let printed = sheet(&job);
        assert!(
            printed.contains(&indicated) && printed.contains(said),
            "{indicated}{said}: {printed}"
        );
        assert!(
            cell(&job, "correction")
                .replace('\u{a0}', " ")
                .ends_with(said)
        );
        assert_eq!(
            cell(&job, "value"),
            value.split_once(' ').expect("a unit").0
        );
        assert_eq!(
            cell(&job, "corrected value"),
            result.split_once(' ').expect("a unit").0
        );
    }
}

#[test]
fn without_the_loss_of_what_stands_in_the_path_nothing_is_judged_and_that_is_said() {
    let bare = UsedInstrument {
        record: None,
        ..pad("10 dB", serde_json::json!({"amount": "0.3 dB"}))
    };
    for used in [Vec::new(), vec![bare]] {
        let step = at_most(through("W", Direction::FromSet), "1 W");
        let job = job_with(used, step, "5.0 W");
        let progress = job.progress();
        let standing = &progress.steps[0];
        assert_eq!(standing.readings[0].verdict, None);
        assert_eq!(standing.status, Status::Open, "it is not settled by that");
        let left = standing.left.as_ref().expect("a result");
        assert_eq!(left.verdict, None);
        assert!(
            matches!(left.proof, Err(Unproved::NoLoss(_))),
            "{:?}",
            left.proof
        );
        let printed = sheet(&job);
        assert!(
            printed.contains("Not judged: loss of the meter not known"),
            "{printed}"
        );
        assert_eq!(cell(&job, "place"), "");
        assert_eq!(cell(&job, "correction"), "loss of the meter not known");
    }
}

#[test]
fn another_pad_counts_from_the_next_reading_on() {
    let decibels = || serde_json::json!({"amount": "0.3 dB"});
    let step = at_most(through("dBm", Direction::FromSet), "100 dBm");
    let mut job = job_with(vec![pad("30 dB", decibels())], step, "13.0 dBm");
    let progress = job.progress();
    let mut header = progress.header.clone();
    header.use_instrument(pad("20 dB", decibels()));
    let present = progress.replaced(&job.procedure, &header);
    assert_eq!(present.len(), 1, "something was read through it");
    let deeds = progress.amended(&job.procedure, header, Counts::FromHere);
    for (number, deed) in deeds.into_iter().enumerate() {
        job.record(stamp(10 + number), deed).expect("it is taken");
    }
    assert_eq!(judged(&job), "43.0 dBm");
}

// Check: a pad of 30 ± 0.3 dB before a meter good to 0.5 dB: both add in quadrature
// Source: JCGM 100:2008, 4.3.7 and 5.1.2
// Known by: closed form
#[test]
fn the_tolerance_of_a_pad_stands_in_the_budget() {
    let meter = kit(serde_json::json!({
        "role": "wattmeter", "name": "Club level meter",
        "ranges": [{"full-scale": "20 dBm", "resolution": "0.1 dB", "accuracy": {"absolute": "0.5 dB"}}],
    }));
    let step = at_most(through("dBm", Direction::FromSet), "45 dBm");
    let with = pad("30 dB", serde_json::json!({"amount": "0.3 dB"}));
    let job = job_with(vec![meter, with], step, "13.0 dBm");
    let progress = job.progress();
    let left = progress.steps[0].left.as_ref().expect("a result");
    let budget = &left.proof.as_ref().expect("it is proved").budget;
    let names: Vec<&str> = budget
        .lines
        .iter()
        .map(|line| line.contribution.name.as_str())
        .collect();
    assert_eq!(names, ["Accuracy", "Resolution", "Club pad"]);
    let due = 1.96 * ((0.25 + 0.09) / 3.0 + 0.01 / 12.0f64).sqrt();
    assert!(
        (budget.expanded / due - 1.0).abs() < 1e-3,
        "{} {due}",
        budget.expanded
    );
}

#[test]
fn a_target_counted_from_a_reading_whose_loss_is_not_known_waits() {
    let mut other = Step::new(
        id("t"),
        "Harmonic",
        Work::Read {
            gauge: gauge("W"),
            target: Some(Target::Relative {
                to: id("s"),
                offset: q("-40 dB"),
                below: Margin::Absolute(q("3 dB")),
                above: Margin::Absolute(q("3 dB")),
            }),
        },
    );
    other.title = "Second".to_owned();
    let first = at_most(through("W", Direction::FromSet), "1 W");
    let mut procedure = procedure(first);
    procedure.sections[0].steps.push(other);
    assert_eq!(faults(&procedure), []);
    let mut job = Job {
        id: id("job"),
        procedure: Arc::new(procedure),
        log: Log::default(),
    };
    job.record(stamp(1), reading("0.5 W")).expect("it is taken");
    let progress = job.progress();
    assert!(
        matches!(progress.steps[1].tolerance, Some(Err(_))),
        "{:?}",
        progress.steps[1].tolerance
    );
}

#[test]
fn a_draft_keeps_impedance_and_path_and_says_what_is_wrong_with_them() {
    let procedure = procedure(at_most(through("µV EMF", Direction::IntoSet), "1 µV EMF"));
    let draft = Draft::of(&procedure, Point);
    let (read, unread) = draft.read(Point);
    assert_eq!(unread, []);
    assert_eq!(read.sections, procedure.sections);
    let mut renamed = draft.clone();
    edit::rename(&mut renamed, List::Instruments, 3, "pad").expect("a name");
    assert_eq!(renamed.steps().next().expect("a step").path, "pad");
    let mut wrong = draft;
    for step in wrong.steps_mut() {
        step.path = "meter, coupler".to_owned();
        step.into = "0".to_owned();
    }
    let told = remarks(&wrong, &[], Point);
    for field in [Field::Path, Field::Impedance] {
        assert!(
            told.iter().any(|remark| remark.field == field),
            "{field:?}: {told:?}"
        );
    }
}

#[test]
fn the_printed_procedure_names_what_stands_in_the_path_and_the_impedance() {
    let procedure = procedure(at_most(through("µV EMF", Direction::IntoSet), "1 µV EMF"));
    let page = html::procedure(&halfturn::exchange::report::procedure::Sheet::of(
        &procedure, Point,
    ));
    let page = page
        .replace('\u{a0}', " ")
        .replace(['\u{2068}', '\u{2069}'], "");
    assert!(
        page.contains("Read at SK1 with wattmeter, through meter, in µV EMF into 50 Ω"),
        "{page}"
    );
}

#[test]
fn an_author_is_asked_whether_a_generators_volts_are_emf_or_pd() {
    for (unit, asked) in [
        ("µV rms", true),
        ("dBµV", true),
        ("µV EMF", false),
        ("dBµV PD", false),
    ] {
        let mut procedure = procedure(at_most(gauge(unit), &format!("1 {unit}")));
        procedure.instruments[2].role = id("generator");
        for step in procedure.sections.iter_mut().flat_map(|it| &mut it.steps) {
            if let Work::Read { gauge, .. } = &mut step.work {
                gauge.with = id("generator");
            }
        }
        assert_eq!(faults(&procedure), []);
        let told = remarks(&Draft::of(&procedure, Point), &[], Point);
        let is_asked = told
            .iter()
            .any(|remark| remark.sentence.contains("EMF or PD"));
        assert_eq!(is_asked, asked, "{unit}: {told:?}");
    }
}

// Peak envelope power, SINAD and what else is a unit of its own though it is called as another.

// Check: 42.6 dBm PEP read against watts are 18.2 W PEP; 20 W ± 1 dB is 15.89 W to 25.17 W
// Source: definition of dBm
// Known by: closed form
#[test]
fn a_peak_envelope_power_is_judged_in_decibels_and_read_in_dbm() {
    for (value, result, due) in [
        ("42.6 dBm PEP", "18.2 W PEP", Status::Done),
        ("25.1 W PEP", "25.1 W PEP", Status::Done),
        ("25.2 W PEP", "25.2 W PEP", Status::Outside),
        ("15900 mW PEP", "15900 mW PEP", Status::Done),
        ("44.1 dBm PEP", "25.7 W PEP", Status::Outside),
    ] {
        let step = read(gauge("W PEP"), around("20 W PEP", "1 dB"));
        let job = job(step, value);
        assert_eq!(judged(&job), result, "{value}");
        assert_eq!(status(&job), due, "{value}");
        assert!(cell(&job, "limit unit").ends_with("W PEP"));
        assert_eq!(cell(&job, "unit"), value.split_once(' ').expect("a unit").1);
        let sheet = sheet(&job);
        assert!(
            sheet.contains("20 W PEP ± 1 dB (15.89 W PEP to 25.17 W PEP)"),
            "{sheet}"
        );
        assert!(sheet.contains(result) || value == result, "{sheet}");
    }
    let step = read(gauge("W PEP"), around("20 W PEP", "1 dB"));
    let procedure = procedure(step);
    let step = procedure.steps().next().expect("the step");
    let target = step.work.target().map(|it| it.typeset(Point, |_| None));
    let said = spoken(&procedure, step, target).replace('\u{a0}', " ");
    assert!(said.contains("20 W PEP ± 1 dB"), "{said}");
}

#[test]
fn a_mean_power_is_no_peak_envelope_power_and_one_ratio_is_not_another() {
    for (due, value, why) in [
        (
            "20 W PEP",
            "20 W",
            "the one is a mean power, the other one at the crest of the envelope: read it with \
             what shows W PEP",
        ),
        ("20 W PEP", "43 dBm", "read it with what shows W PEP"),
        ("43 dBm", "20 W PEP", "read it with what shows dBm"),
        ("12 dB SINAD", "12 dB", "the step wants dB SINAD"),
        ("10 dB (S+N)/N", "10 dB S/N", "the step wants dB (S+N)/N"),
    ] {
        let scale = due.split_once(' ').expect("a unit").1;
        let said = refusal(into_50(scale), due, value);
        assert!(said.contains(why), "{value} against {due}: {said}");
    }
}

// A wattmeter that is known in watts tells nothing of how well it reads a crest: one of mean power
// shows half of two equal tones.
#[test]
fn only_figures_in_watts_pep_say_how_well_an_instrument_reads_them() {
    let meter = |scale: &str, resolution: &str| {
        kit(serde_json::json!({
            "role": "wattmeter", "name": "Club wattmeter",
            "ranges": [{
                "full-scale": scale, "resolution": resolution,
                "accuracy": {"percent-of-reading": "5"},
            }],
        }))
    };
    let step = || read(gauge("W PEP"), around("20 W PEP", "1 dB"));
    let of_mean = job_with(vec![meter("50 W", "0.1 W")], step(), "20.0 W PEP");
    let left = of_mean.progress().steps[0].left.clone().expect("a result");
    let why = left
        .proof
        .as_ref()
        .expect_err("it is not proved")
        .to_string();
    assert!(
        why.starts_with("Conformity not shown: accuracy unknown.") && why.contains("W PEP"),
        "{why}"
    );
    let of_crest = job_with(vec![meter("50 W PEP", "0.1 W PEP")], step(), "20.0 W PEP");
    let left = of_crest.progress().steps[0].left.clone().expect("a result");
    let proof = left.proof.as_ref().expect("it is proved");
    // U = 1.96·√((5 % of 20 W)²/3 + 0.1²/12) = 1.13 W, rounded up.
    assert_eq!(proof.expanded.to_string(), "1.2 W PEP");
}

#[test]
fn a_pad_of_20_decibels_makes_a_hundred_times_the_watts_of_a_crest() {
    let step = at_most(through("W PEP", Direction::FromSet), "25 W PEP");
    let job = job_with(
        vec![pad("20 dB", serde_json::json!({"amount": "0.3 dB"}))],
        step,
        "182 mW PEP",
    );
    assert_eq!(judged(&job), "18.2 W PEP");
    assert!(sheet(&job).contains("Club pad +20 dB"), "{}", sheet(&job));
}

#[test]
fn a_draft_takes_the_new_units_and_gives_them_back() {
    for (unit, figure, margin, due) in [
        ("W PEP", "20", "1 dB", around("20 W PEP", "1 dB")),
        ("W PEP", "20 W", "2 W", around("20 W PEP", "2 W PEP")),
        ("dB SINAD", "12", "1", around("12 dB SINAD", "1 dB")),
        (
            "dB (S+N)/N",
            "10 dB",
            "1 dB",
            around("10 dB (S+N)/N", "1 dB"),
        ),
    ] {
        let step = read(gauge(unit), due.clone());
        let mut draft = Draft::of(&procedure(step.clone()), Point);
        let typed = draft.steps_mut().next().expect("the step");
        typed.target.value = figure.to_owned();
        typed.target.margin = margin.to_owned();
        let made = draft.read(Point).0;
        let made = made.steps().next().expect("the step").clone();
        assert_eq!(made, step, "{figure} {margin} of {unit}");
        let text = serde_json::to_string(&made).expect("a text");
        assert_eq!(serde_json::from_str::<Step>(&text).expect("a step"), made);
    }
}

// A pad without a tolerance, and one that two readings share.

fn level_meter() -> UsedInstrument {
    kit(serde_json::json!({
        "role": "wattmeter", "name": "Club level meter",
        "ranges": [{"full-scale": "50 dBm", "resolution": "0.1 dB", "accuracy": {"absolute": "0.5 dB"}}],
    }))
}

#[test]
fn a_loss_without_a_tolerance_corrects_the_reading_and_shows_no_conformity() {
    let step = || at_most(through("W", Direction::FromSet), "25 W");
    let job = job_with(vec![level_meter(), vague_pad("30 dB")], step(), "13.0 dBm");
    assert_eq!(judged(&job), "20.0 W");
    // As with an instrument without data, what is inside is inside, and no more is shown.
    assert_eq!(status(&job), Status::Done);
    let left = job.progress().steps[0].left.clone().expect("a result");
    let why = left.proof.expect_err("it is not proved").to_string();
    assert_eq!(
        why,
        "Conformity not shown: accuracy unknown. How well the loss of the meter is known is not \
         stated. Enter it under Instruments, or choose another meter"
    );
    let sheet = sheet(&job);
    assert!(sheet.contains("Old pad +30 dB"), "{sheet}");
    assert!(sheet.contains("inside; uncertainty not known"), "{sheet}");
    let text = serde_json::to_string(&vague_pad("30 dB").record).expect("a text");
    assert!(!text.contains("within"), "{text}");
}

/// Two readings, the second against the first, of a meter behind a pad.
fn two_readings(
    scale: &str,
    offset: &str,
    margin: &str,
    kit: Vec<UsedInstrument>,
    values: [&str; 2],
) -> Job {
    let gauge = || through(scale, Direction::FromSet);
    let plain = Work::Read {
        gauge: gauge(),
        target: None,
    };
    let first = Step::new(id("first"), "Reference", plain);
    let margin = Margin::Absolute(q(margin));
    let against = Work::Read {
        gauge: gauge(),
        target: Some(Target::Relative {
            to: id("first"),
            offset: q(offset),
            below: margin.clone(),
            above: margin,
        }),
    };
    let second = Step::new(id("s"), "Output", against);
    let procedure = Procedure {
        sections: vec![Section {
            title: "Output".to_owned(),
            steps: vec![first, second],
        }],
        adjusters: Vec::new(),
        ..support::procedure()
    };
    let header = Header {
        instruments: kit,
        ..Header::default()
    };
    let mut log = Log::default();
    log.append(stamp(0), Deed::Opened(Box::new(header)));
    let mut job = Job {
        id: id("job"),
        procedure: Arc::new(procedure),
        log,
    };
    for (number, (step, value)) in ["first", "s"].into_iter().zip(values).enumerate() {
        let deed = Deed::Reading {
            step: id(step),
            phase: Phase::AsFound,
            value: q(value),
            tool: None,
            repeat: false,
            heard: None,
        };
        job.record(stamp(number + 1), deed).expect("it is taken");
    }
    job
}

fn expanded_of_second(job: &Job) -> Result<f64, String> {
    let left = job.progress().steps[1].left.clone().expect("a result");
    left.proof
        .map(|proof| proof.budget.expanded)
        .map_err(|why| why.to_string())
}

// Check: −20.0 dB between two levels read by one meter through one pad: neither the meter's 0.5 dB
// nor the pad's 0.3 dB is left, U = 1.96·√(2·0.1²/12) dB; 20 W and 2.0 W through one pad of ±0.3 dB,
// 10 dB apart but for −0.03 W: what is left of it is 0.03 W of ln 10/10 a decibel
// Source: JCGM 100:2008, 5.2.2, fully correlated errors
// Known by: closed form
#[test]
fn what_two_readings_share_of_a_pad_cancels_in_their_difference() {
    let exact = || pad("30 dB", serde_json::json!({"amount": "0.3 dB"}));
    let due = 1.96 * (2.0f64 * 0.01 / 12.0).sqrt();
    for known in [
        exact(),
        pad("30 dB", serde_json::json!({"amount": "3 dB"})),
        vague_pad("30 dB"),
    ] {
        let kit = vec![level_meter(), known];
        let job = two_readings("dBm", "-20 dB", "1 dB", kit, ["13.0 dBm", "-7.0 dBm"]);
        assert_eq!(job.progress().steps[1].status, Status::Done);
        let expanded = expanded_of_second(&job).expect("it is proved");
        assert!((expanded / due - 1.0).abs() < 1e-3, "{expanded} {due}");
    }

    let meter = kit(serde_json::json!({
        "role": "wattmeter", "name": "Club wattmeter",
        "ranges": [{"full-scale": "50 mW", "resolution": "0.01 mW", "accuracy": {"counts": 1}}],
    }));
    let kit = vec![meter, exact()];
    let job = two_readings("W", "-10 dB", "1 dB", kit, ["20.00 mW", "1.97 mW"]);
    let expanded = expanded_of_second(&job).expect("it is proved");
    // In watts at the set: counts of 0.01 W each and their digits, of the first a tenth.
    let digits = (1.0f64 + 0.01) * (0.01f64.powi(2) / 3.0 + 0.01f64.powi(2) / 12.0);
    let of_pad = (1.97f64 - 2.0) * 10f64.ln() / 10.0 * 0.3;
    let due = 1.96 * (digits + of_pad.powi(2) / 3.0).sqrt();
    assert!((expanded / due - 1.0).abs() < 2e-3, "{expanded} {due}");

    // Of a pad that nobody knows well, a difference in watts is left with something.
    let meter = level_meter();
    let job = two_readings(
        "W",
        "-10 dB",
        "1 dB",
        vec![meter, vague_pad("30 dB")],
        ["13.0 dBm", "2.9 dBm"],
    );
    let why = expanded_of_second(&job).expect_err("it is not proved");
    assert!(
        why.contains("How well the loss of the meter is known"),
        "{why}"
    );
}

#[test]
fn two_readings_through_two_pads_count_the_tolerance_of_each() {
    // The log names another pad for the second reading.
    let exact = |name: &str| {
        kit(serde_json::json!({
            "role": "meter", "name": name, "loss": {"by": "30 dB", "within": {"amount": "0.3 dB"}},
        }))
    };
    let start = vec![level_meter(), exact("Club pad")];
    let mut job = two_readings("dBm", "-20 dB", "1 dB", start, ["13.0 dBm", "-7.0 dBm"]);
    let header = Header {
        instruments: vec![level_meter(), exact("Other pad")],
        ..Header::default()
    };
    let progress = job.progress();
    let deeds = progress.amended(&job.procedure, header, Counts::FromHere);
    for (number, deed) in deeds.into_iter().enumerate() {
        job.record(stamp(10 + number), deed).expect("it is taken");
    }
    let deed = Deed::Reading {
        step: id("s"),
        phase: Phase::AsFound,
        value: q("-7.0 dBm"),
        tool: None,
        repeat: false,
        heard: None,
    };
    job.record(stamp(20), deed).expect("it is taken");
    let due = 1.96 * (2.0f64 * 0.01 / 12.0 + 2.0 * 0.09 / 3.0).sqrt();
    let expanded = expanded_of_second(&job).expect("it is proved");
    assert!((expanded / due - 1.0).abs() < 1e-3, "{expanded} {due}");
}

// The table of readings says how well each is known, and by which rule it was judged.

// Check: 13.0 dBm behind 30 ± 0.3 dB by a meter good to 0.5 dB: U = 1.96·√((0.5² + 0.3²)/3 + 0.1²/12)
// = 0.66 dB, and k = 1.96 of a normal error
// Source: JCGM 100:2008, 4.3.7, 5.1.2 and 7.2.6
// Known by: closed form
#[test]
fn the_table_of_readings_has_the_uncertainty_its_factor_and_the_rule() {
    let exact = || pad("30 dB", serde_json::json!({"amount": "0.3 dB"}));
    let guarded = Rule::GuardBand {
        ratio: "0.5".parse().expect("a number"),
    };
    for (kit, rule, value, cells) in [
        (
            vec![level_meter(), exact()],
            Rule::SimpleAcceptance,
            "13.0 dBm",
            ["0.66", "dB", "1.96", "simple acceptance", "pass"],
        ),
        (
            vec![level_meter(), exact()],
            guarded,
            "14.8 dBm",
            ["0.66", "dB", "1.96", "guard band w = 0.5 U", "fail"],
        ),
        (
            vec![level_meter(), exact()],
            Rule::FourWay,
            "14.8 dBm",
            [
                "0.66",
                "dB",
                "1.96",
                "four-way with guard band w = U",
                "conditional pass",
            ],
        ),
        // Of a meter or a pad that nobody knows well, nothing is stated.
        (
            vec![exact()],
            Rule::FourWay,
            "13.0 dBm",
            ["", "", "", "four-way with guard band w = U", ""],
        ),
        (
            vec![level_meter(), vague_pad("30 dB")],
            Rule::SimpleAcceptance,
            "13.0 dBm",
            ["", "", "", "simple acceptance", ""],
        ),
        // Where the loss is not known, no rule judged it.
        (
            vec![level_meter()],
            Rule::SimpleAcceptance,
            "13.0 dBm",
            ["", "", "", "", ""],
        ),
    ] {
        let header = Header {
            instruments: kit,
            rule,
            ..Header::default()
        };
        let mut log = Log::default();
        log.append(stamp(0), Deed::Opened(Box::new(header)));
        let step = at_most(through("dBm", Direction::FromSet), "45 dBm");
        let mut job = Job {
            id: id("job"),
            procedure: Arc::new(procedure(step)),
            log,
        };
        job.record(stamp(1), reading(value)).expect("it is taken");
        let names = [
            "expanded uncertainty",
            "uncertainty unit",
            "coverage factor",
            "decision rule",
            "statement",
        ];
        assert_eq!(names.map(|name| cell(&job, name)), cells);
        assert_eq!(cell(&job, "path"), "From the set: meter");
        assert_eq!(cell(&job, "impedance"), "50 Ω");
    }
}

#[test]
fn each_try_has_its_own_uncertainty_in_the_table_and_what_no_longer_counts_has_none() {
    let meter = kit(serde_json::json!({
        "role": "wattmeter", "name": "Club wattmeter",
        "ranges": [{"full-scale": "50 W", "resolution": "0.1 W", "accuracy": {"percent-of-reading": "5"}}],
    }));
    let mut job = job_with(
        vec![meter],
        read(gauge("W"), around("20 W", "1 dB")),
        "10.0 W",
    );
    let left = |value: &str| Deed::Reading {
        step: id("s"),
        phase: Phase::AsLeft,
        value: q(value),
        tool: None,
        repeat: false,
        heard: None,
    };
    job.record(stamp(2), left("15.0 W")).expect("it is taken");
    job.record(stamp(3), left("20.0 W")).expect("it is taken");
    let undone = job.record(stamp(4), left("21.0 W")).expect("it is taken");
    job.record(stamp(5), Deed::Undone { event: undone })
        .expect("it is undone");
    let text = csv::readings(&job, &look());
    let mut reader = ::csv::Reader::from_reader(text.trim_start_matches('\u{feff}').as_bytes());
    let place = reader
        .headers()
        .expect("headings")
        .iter()
        .position(|it| it == "expanded uncertainty");
    let place = place.expect("a column");
    let all: Vec<String> = reader
        .records()
        .map(|row| row.expect("a row")[place].to_owned())
        .collect();
    // U = 1.96·√((5 % of P)²/3 + 0.1²/12), to two digits.
    assert_eq!(all, ["0.57", "0.85", "1.2", ""]);
}
