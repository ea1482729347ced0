//! Readings that the device took itself: how they stand in the log, what they are judged by, and
//! what sheet and table say of them.

mod support;

use halfturn::exchange::report::{self, Report};
use halfturn::exchange::{Document, Picture, PictureError, open, wav, write_with};
use halfturn::job::{
    Deed, Event, Header, Heard, Job, OwnStep, Phase, Read, Refusal, Span, UsedInstrument,
};
use halfturn::metrology::instrument::Instrument;
use halfturn::procedure::{Gauge, Id, Instrument as RoleOf, Step, TestPoint, Work};
use halfturn::quantity::{Scale, Unit};
use halfturn::signal::Weighting;
use halfturn::signal::measure::Measure;
use support::{does, fresh_job, header, id, look, q, reading, worked_job};

fn heard(standard: &str) -> Heard {
    Heard {
        input: "Bench interface".to_owned(),
        measure: Measure::Sinad,
        weighting: Weighting::Psophometric,
        window: 1000,
        rate: 44_100,
        count: 5,
        standard: q(standard),
        span: None,
        into: None,
    }
}

fn taken(value: &str, standard: &str) -> Deed {
    Deed::Reading {
        step: id("power"),
        phase: Phase::AsFound,
        value: q(value),
        tool: None,
        repeat: false,
        heard: Some(Box::new(heard(standard))),
    }
}

const NAME: &str = "Sound input “Bench interface”: SINAD (S+N+D)/(N+D), psophometric (ITU-T O.41), \
                    1\u{a0}s at 44100\u{a0}Hz, n\u{a0}=\u{a0}5";

#[test]
fn a_reading_that_nobody_heard_is_written_as_before() {
    // The text that is checked must never change for events that are there.
    let typed = serde_json::to_string(&reading("power", Phase::AsFound, "4.00 W")).unwrap();
    assert_eq!(
        typed,
        r#"{"reading":{"step":"power","phase":"as-found","value":"4.00 W"}}"#
    );
    let itself = taken("4.00 W", "0.05 W");
    let text = serde_json::to_string(&itself).unwrap();
    assert!(
        text.contains(r#""heard":{"input":"Bench interface","measure":"sinad""#),
        "{text}"
    );
    assert_eq!(serde_json::from_str::<Deed>(&text).unwrap(), itself);
    // What it is not known by is refused, as everywhere.
    assert!(serde_json::from_str::<Deed>(&text.replace("1000", "1000,\"other\":1")).is_err());
}

#[test]
fn what_the_device_took_is_its_own_and_no_other_instrument_corrects_it() {
    let mut job = worked_job();
    does(&mut job, taken("3.90 W", "0.05 W"));
    let progress = job.progress();
    let standing = progress.step(&id("power")).unwrap();
    let last = standing.readings.last().unwrap();
    let read = Read::of(last);
    assert_eq!(read.with.as_ref().unwrap().name, NAME);
    assert_eq!(read.corrected, q("3.90 W"));
    // A reading that is typed afterwards goes by the instrument again.
    does(&mut job, reading("power", Phase::AsFound, "3.90 W"));
    let progress = job.progress();
    let last = progress
        .step(&id("power"))
        .unwrap()
        .readings
        .last()
        .unwrap()
        .clone();
    assert_ne!(
        last.with.as_ref().map(|with| with.name.as_str()),
        Some(NAME)
    );
}

#[test]
fn its_own_uncertainty_is_its_budget() {
    let mut job = worked_job();
    does(&mut job, taken("3.90 W", "0.05 W"));
    let progress = job.progress();
    let procedure = &progress.course.procedure;
    let step = procedure.step(&id("power")).unwrap();
    let standing = progress.step(&id("power")).unwrap();
    let last = standing.readings.last().unwrap();
    let proof = progress.proof_of(procedure, step, last).unwrap();
    let lines = &proof.budget.lines;
    let samples = lines
        .iter()
        .find(|line| line.contribution.name == "Samples")
        .expect("its line");
    assert!((samples.standard - 0.05).abs() < 1e-12);
    // Check: a reading of the device is uncertain by its samples and by its last digit, which is off
    // by half of it to either side
    // Source: JCGM 100:2008, 4.3.7 and 5.1.2
    // Known by: memory
    let due = 1.96 * (0.05f64.powi(2) + 0.005f64.powi(2) / 3.0).sqrt();
    assert!(
        (proof.budget.expanded - due).abs() < 1e-3,
        "{}",
        proof.budget.expanded
    );
}

#[test]
fn sheet_and_table_name_source_and_settings() {
    let mut job = fresh_job();
    let mut header = header();
    header.instruments.clear();
    does(&mut job, Deed::Amended(Box::new(header)));
    for deed in support::good_deeds().into_iter().take(4) {
        does(&mut job, deed);
    }
    does(&mut job, support::tick("hot"));
    does(&mut job, taken("3.90 W", "0.05 W"));
    does(&mut job, taken("3.91 W", "0.04 W"));
    let table = report::csv::readings(&job, &look());
    let row = table
        .lines()
        .find(|line| line.contains(",3.90,W,"))
        .expect("its row");
    assert!(row.contains(NAME), "{row}");
    let page = report::html::file(&Report::of(&job, &[], &look()));
    let page = page.replace(['\u{2068}', '\u{2069}'], "");
    // One line of instruments, however uncertain each reading is.
    assert_eq!(page.matches(NAME).count(), 1, "{page}");
}

#[test]
fn a_row_of_the_sheet_names_the_sound_input_where_that_was_read() {
    // What stands at the step's name, and the table's row of its only reading.
    let said = |deeds: &[Deed]| {
        let mut job = fresh_job();
        for deed in support::good_deeds().into_iter().take(4) {
            does(&mut job, deed);
        }
        does(&mut job, support::tick("hot"));
        for deed in deeds {
            does(&mut job, deed.clone());
        }
        let page = report::html::file(&Report::of(&job, &[], &look()));
        page.replace(['\u{2068}', '\u{2069}'], "")
    };
    let by_sound = taken("3.90 W", "0.05 W");
    let typed = reading("power", Phase::AsFound, "3.90 W");
    let page = said(std::slice::from_ref(&by_sound));
    assert!(page.contains("· sound input<"), "{page}");
    assert!(!page.contains("· wattmeter"), "{page}");
    let page = said(std::slice::from_ref(&typed));
    assert!(page.contains("· wattmeter<"), "{page}");
    let page = said(&[typed, by_sound]);
    assert!(page.contains("· wattmeter, sound input<"), "{page}");
    // A level of the generator is the generator's own.
    let mut level = taken("3.90 W", "0.05 W");
    if let Deed::Reading {
        heard: Some(heard), ..
    } = &mut level
    {
        heard.measure = Measure::Sensitivity;
    }
    let page = said(&[level]);
    assert!(page.contains("· wattmeter<"), "{page}");
}

#[test]
fn a_reading_of_the_sound_that_was_taken_back_names_its_source_too() {
    let mut job = worked_job();
    let event = job
        .record(support::stamp(900), taken("3.90 W", "0.05 W"))
        .unwrap();
    does(&mut job, Deed::Undone { event });
    let table = report::csv::readings(&job, &look());
    let row = table.lines().find(|line| line.contains(",3.90,W,"));
    let row = row.expect("its row");
    assert!(row.contains(NAME), "{row}");
    assert!(!row.contains("wattmeter"), "{row}");
}

/// Half a second of a tone, as it is kept.
fn sound() -> Picture {
    let tone = |at: u32| 0.2 * f64::from(at % 8) / 8.0;
    let samples: Vec<f64> = (0..4_000).map(tone).collect();
    Picture::of(wav::written(&samples, 8_000)).unwrap()
}

/// A job with a reading of the device, its sound kept, and the events of both.
fn job_with_sound() -> (Job, Id, Id) {
    let mut job = worked_job();
    let reading = does(&mut job, taken("3.90 W", "0.05 W"));
    let kept = Deed::SoundKept {
        sound: sound().digest().clone(),
        step: id("power"),
        reading: reading.clone(),
    };
    let kept = does(&mut job, kept);
    (job, reading, kept)
}

#[test]
fn a_sound_is_kept_with_a_reading_of_the_device_and_removing_it_is_an_entry_too() {
    let (mut job, reading, kept) = job_with_sound();
    let name = sound().digest().clone();
    let told = |job: &Job| -> Vec<Id> {
        let all = job.progress().sounds;
        assert_eq!(all, halfturn::job::sounds(&job.log));
        all.into_iter().map(|sound| sound.reading).collect()
    };
    assert_eq!(told(&job), std::slice::from_ref(&reading));
    assert!(job.pictures().contains(&name));
    let removal = Deed::SoundRemoved { sound: kept };
    let removed = does(&mut job, removal.clone());
    assert!(told(&job).is_empty());
    assert!(!job.pictures().contains(&name));
    assert_eq!(
        job.record(support::stamp(900), removal),
        Err(Refusal::NoSound)
    );
    does(&mut job, Deed::Undone { event: removed });
    assert_eq!(told(&job), [reading]);
}

#[test]
fn a_sound_belongs_to_no_reading_that_an_instrument_took() {
    let mut job = worked_job();
    let typed = does(&mut job, reading("power", Phase::AsFound, "3.90 W"));
    for of in [typed, id("no-such-event")] {
        let kept = Deed::SoundKept {
            sound: sound().digest().clone(),
            step: id("power"),
            reading: of,
        };
        let refused = job.record(support::stamp(900), kept);
        assert_eq!(refused, Err(Refusal::NotInStep("reading by sound")));
    }
}

#[test]
fn a_job_with_its_sounds_comes_back_from_its_file() {
    let (job, ..) = job_with_sound();
    let document = Document::Job(job);
    let text = write_with(&document, &[sound()]);
    assert!(text.contains(r#""type": "audio/wave""#));
    let file = open(&text).unwrap();
    assert_eq!((file.document, file.pictures), (document, vec![sound()]));
    // Bytes that only begin like a sound are none.
    let cut = sound().data()[..44].to_vec();
    assert_eq!(Picture::of(cut), Err(PictureError::NoPicture));
}

#[test]
fn the_sheet_names_the_sounds_by_their_digests() {
    let (mut job, reading, _) = job_with_sound();
    let page = |job: &Job| {
        let page = report::html::file(&Report::of(job, &[], &look()));
        page.replace(['\u{2068}', '\u{2069}'], "")
    };
    let kept = sound();
    let begins = &kept.digest().as_str()[..12];
    let said = page(&job);
    let (_, rest) = said.split_once("Sound recordings").expect("its section");
    let (row, _) = rest.split_once("</table>").unwrap();
    assert!(row.contains("3.90\u{a0}W") && row.contains(begins), "{row}");
    let struck = Deed::Struck {
        step: id("power"),
        reading,
        reason: "Another cable".to_owned(),
    };
    does(&mut job, struck);
    let said = page(&job);
    let (_, rest) = said.split_once("Sound recordings").expect("its section");
    let (row, _) = rest.split_once("</table>").unwrap();
    assert!(row.contains("no longer counts"), "{row}");
    assert!(!page(&worked_job()).contains("Sound recordings"));
}

#[test]
fn the_sound_input_takes_up_no_role_where_its_reading_comes_into_a_job() {
    let mut loose = Job::loose(id("loose"), Header::default(), support::stamp(700));
    let step = OwnStep {
        step: Step::new(
            id("own"),
            "Power at the socket",
            Work::Read {
                gauge: Gauge::new(id("socket"), id("wattmeter"), Scale::plain(Unit::Watt)),
                target: None,
            },
        ),
        point: Some(TestPoint::named(id("socket"))),
        role: Some(RoleOf::named(id("wattmeter"))),
        look: None,
    };
    let added = Box::new(step);
    loose
        .record(support::stamp(701), Deed::AddedStep { added })
        .unwrap();
    let heard = match taken("3.90 W", "0.05 W") {
        Deed::Reading {
            phase,
            value,
            heard,
            ..
        } => Deed::Reading {
            step: id("own"),
            phase,
            value,
            tool: None,
            repeat: false,
            heard,
        },
        other => other,
    };
    loose.record(support::stamp(702), heard).unwrap();
    let mut job = worked_job();
    let mut count = 800;
    let fresh = || {
        count += 1;
        support::stamp(count)
    };
    job.take_in(&loose, "Read before", fresh).unwrap();
    let takes_up = |event: &Event| match &event.did {
        Deed::MeasuredWith { instrument } => instrument.name.contains("Sound input"),
        _ => false,
    };
    assert!(!job.log.events().any(takes_up));
    let progress = job.progress();
    let own = progress.step(&id("own")).unwrap();
    assert_eq!(own.readings[0].with.as_ref().unwrap().name, NAME);
}

/// A job in which a power was heard as such a measure, read with the club's wattmeter where that is
/// in the kit.
fn heard_as(measure: Measure, count: Option<u32>, with_kit: bool) -> Job {
    let mut job = worked_job();
    if with_kit {
        let mut header = job.progress().header;
        header.use_instrument(UsedInstrument {
            role: id("wattmeter"),
            name: "Club wattmeter".to_owned(),
            record: Some(wattmeter()),
        });
        does(&mut job, Deed::Amended(Box::new(header)));
    }
    let mut deed = taken("3.90 W", "0.05 W");
    if let Deed::Reading {
        heard: Some(heard), ..
    } = &mut deed
    {
        heard.measure = measure;
        heard.count = count.unwrap_or(heard.count);
    }
    does(&mut job, deed);
    job
}

#[test]
fn a_sensitivity_is_as_uncertain_as_its_generator_and_the_samples() {
    let budget = |measure: Measure, with_kit: bool| {
        let job = heard_as(measure, None, with_kit);
        let progress = job.progress();
        let step = progress.course.procedure.step(&id("power")).unwrap();
        let last = progress
            .step(&id("power"))
            .unwrap()
            .readings
            .last()
            .unwrap()
            .clone();
        let name = last.with.as_ref().unwrap().name.clone();
        let proof = progress.proof_of(&progress.course.procedure, step, &last);
        (name, proof.map(|proof| proof.budget.combined))
    };
    let (name, combined) = budget(Measure::Sensitivity, true);
    assert!(name.starts_with("Club wattmeter; Sound input"), "{name}");
    let digit = 0.005f64.powi(2) / 3.0;
    let due = (0.2f64.powi(2) / 3.0 + 0.05f64.powi(2) + digit).sqrt();
    assert!((combined.unwrap() - due).abs() < 1e-9);
    let (_, alone) = budget(Measure::Sinad, true);
    assert!((alone.unwrap() - (0.05f64.powi(2) + digit).sqrt()).abs() < 1e-9);
}

#[test]
fn a_level_against_that_of_another_frequency_makes_no_conformity_known() {
    let proof = |measure: Measure| {
        let mut job = worked_job();
        let mut deed = taken("3.90 W", "0.05 W");
        if let Deed::Reading {
            heard: Some(heard), ..
        } = &mut deed
        {
            heard.measure = measure;
        }
        does(&mut job, deed);
        let progress = job.progress();
        let procedure = &progress.course.procedure;
        let step = procedure.step(&id("power")).unwrap();
        let standing = progress.step(&id("power")).unwrap();
        let proof = progress.proof_of(procedure, step, standing.readings.last().unwrap());
        proof.map(|_| ()).map_err(|why| why.to_string())
    };
    for measure in [
        Measure::Thd,
        Measure::Hum,
        Measure::Intermodulation,
        Measure::IntermodulationPep,
        Measure::Response,
        Measure::SweptResponse,
        Measure::SquelchHysteresis,
    ] {
        let why = proof(measure).unwrap_err();
        assert!(
            why.starts_with("Conformity not shown: accuracy unknown"),
            "{measure:?}: {why}"
        );
    }
    for measure in [Measure::Sinad, Measure::SignalAndNoise, Measure::Frequency] {
        assert_eq!(proof(measure), Ok(()), "{measure:?}");
    }
}

#[test]
fn a_power_by_a_voltage_names_the_load() {
    let heard = Heard {
        measure: Measure::Response,
        into: Some(q("8 Ω")),
        ..heard("0.05 dB")
    };
    let name = heard.name();
    assert!(
        name.contains("level against the reference across 8\u{a0}Ω, psophometric"),
        "{name}"
    );
}

#[test]
fn what_is_of_two_settings_names_both() {
    for (measure, from, to, due) in [
        (
            Measure::SweptResponse,
            "1000 Hz",
            "300 Hz",
            "level against the reference by a sweep (300\u{a0}Hz against 1000\u{a0}Hz), ",
        ),
        (
            Measure::SquelchOpening,
            "-112.5 dBm",
            "-112.0 dBm",
            "opening of the squelch (between −112.5\u{a0}dBm and −112.0\u{a0}dBm), ",
        ),
        (
            Measure::AgcChange,
            "-93 dBm",
            "-13 dBm",
            "change of the output over that of the input (from −93\u{a0}dBm to −13\u{a0}dBm), ",
        ),
    ] {
        let heard = Heard {
            measure,
            span: Some(Span {
                from: q(from),
                to: q(to),
            }),
            ..heard("0.05 W")
        };
        let name = heard.name();
        assert!(name.contains(due), "{name}");
    }
}

#[test]
fn an_edge_of_the_squelch_is_as_uncertain_as_its_generator_and_a_drift_needs_repeats() {
    let proof = |measure: Measure, count: u32, with_kit: bool| {
        let job = heard_as(measure, Some(count), with_kit);
        let progress = job.progress();
        let procedure = &progress.course.procedure;
        let step = procedure.step(&id("power")).unwrap();
        let standing = progress.step(&id("power")).unwrap();
        let proof = progress.proof_of(procedure, step, standing.readings.last().unwrap());
        proof.map(|proof| proof.budget.combined).ok()
    };
    let digit = 0.005f64.powi(2) / 3.0;
    for measure in [Measure::SquelchOpening, Measure::SquelchClosing] {
        let both = proof(measure, 5, true).unwrap();
        let due = (0.2f64.powi(2) / 3.0 + 0.05f64.powi(2) + digit).sqrt();
        assert!((both - due).abs() < 1e-9, "{measure:?}: {both}");
    }
    for measure in [Measure::AgcLevel, Measure::AgcChange] {
        assert_eq!(proof(measure, 1, false), None, "{measure:?}");
        let twice = proof(measure, 2, false).unwrap();
        assert!((twice - (0.05f64.powi(2) + digit).sqrt()).abs() < 1e-9);
    }
}

fn wattmeter() -> Instrument {
    serde_json::from_str(
        r#"{"role":"wattmeter","name":"Club wattmeter","ranges":[{"full-scale":"10.00 W","resolution":"0.01 W","accuracy":{"absolute":"0.20 W"}}]}"#,
    )
    .unwrap()
}
