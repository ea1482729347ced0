//! Files of every version of the format, as they were written in their time, still open with all
//! that is in them.
//!
//! `cargo test --no-default-features --test samples -- --ignored` writes the folder of the present
//! version anew: to be done while a format is still in the making, never after it was given out.

mod examples;

use examples::{backup, id, job, paper, pdf, picture, pinned, sound, trainer};
use halfturn::exchange::report::Check;
use halfturn::exchange::{Backup, Document, VERSION, demo, open, read, write_with};
use halfturn::job::{Deed, Header, Heard, Job, PaperChange, Phase, Preferences, Stamp};
use halfturn::procedure::{
    Gauge, Instrument, PaperSpot, Procedure, Section, Step, TestPoint, Work, digest_of,
};
use halfturn::quantity::{Scale, Unit};
use halfturn::signal::Weighting;
use halfturn::signal::measure::Measure;
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

const KINDS: [&str; 3] = ["halfturn-procedure", "halfturn-job", "halfturn-backup"];

fn folder(version: u32) -> PathBuf {
    let root = env!("CARGO_MANIFEST_DIR");
    PathBuf::from(format!("{root}/tests/files/{version}"))
}

/// Name and text of each file of a version.
fn files(version: u32) -> Vec<(String, String)> {
    let entries = fs::read_dir(folder(version)).expect("a folder for every version");
    let mut files: Vec<_> = entries
        .map(|entry| {
            let path = entry.unwrap().path();
            let name = path.file_name().unwrap().to_string_lossy();
            (name.into_owned(), fs::read_to_string(&path).unwrap())
        })
        .collect();
    files.sort();
    files
}

fn file(version: u32, name: &str) -> Document {
    let text = fs::read_to_string(folder(version).join(name)).expect(name);
    read(&text).unwrap_or_else(|error| panic!("{version}/{name}: {error}"))
}

/// A procedure with every kind of step and target, after the demo's own steps.
fn every_step() -> Procedure {
    let mut steps: Vec<Step> = serde_json::from_str(include_str!("every_step.json")).unwrap();
    // Some are for a form alone: they point at what the procedure doesn't have.
    steps.retain(|step| !["e", "g", "h"].contains(&step.id.as_str()));
    for step in &mut steps {
        step.shares_null_with = None;
    }
    let title = "Every kind of step".to_owned();
    let mut procedure = trainer();
    procedure.id = id("every-step");
    procedure.sections.push(Section { title, steps });
    procedure
}

fn half_done() -> Job {
    let mut count = 0;
    let fresh = || {
        count += 1;
        id(&format!("e{count}"))
    };
    demo::half_done(1_767_225_600_000, fresh).unwrap()
}

/// A procedure with a paper and a job that brought one itself.
fn with_papers() -> Backup {
    let mut procedure = Procedure::new(id("with-papers"), "With papers");
    procedure.covers = "Trainers".to_owned();
    procedure.test_points = trainer().test_points[..1].to_vec();
    procedure.adjusters = trainer().adjusters[..1].to_vec();
    procedure.adjusters[0].disturbs.clear();
    procedure.sections = vec![Section {
        title: "Outside".to_owned(),
        steps: vec![Step::new(id("case"), "Look at the case", Work::Inspect)],
    }];
    let mut own = paper();
    own.paper = picture().digest().clone();
    own.pins = vec![pinned(PaperSpot::Adjuster(
        trainer().adjusters[0].id.clone(),
    ))];
    procedure.papers = vec![own];
    let stamp = |name: &str| Stamp {
        id: id(name),
        at: 1_767_225_600_000,
    };
    let mut job = Job::open(id("job-papers"), procedure, Header::default(), stamp("p1"));
    let kept = Deed::PaperKept {
        paper: Box::new(paper()),
    };
    job.record(stamp("p2"), kept).unwrap();
    let at = PaperSpot::TestPoint(trainer().test_points[0].id.clone());
    let pin = Deed::PaperChanged {
        paper: pdf().digest().clone(),
        change: PaperChange::Pinned(pinned(at)),
    };
    job.record(stamp("p3"), pin).unwrap();
    Backup::of(Preferences::default(), Vec::new(), Vec::new(), vec![job])
}

/// A job with a reading that the device took, and two sounds of it, one of them removed.
fn with_sounds() -> Job {
    let mut procedure = Procedure::new(id("by-sound"), "By sound");
    procedure.covers = "Trainers".to_owned();
    procedure.test_points = vec![TestPoint::named(id("TP1"))];
    procedure.instruments = vec![Instrument::named(id("meter"))];
    let gauge = Gauge::new(id("TP1"), id("meter"), Scale::plain(Unit::DecibelSinad));
    let work = Work::Read {
        gauge,
        target: None,
    };
    procedure.sections = vec![Section {
        title: "Receiver".to_owned(),
        steps: vec![Step::new(id("sinad"), "SINAD", work)],
    }];
    let stamp = |name: &str| Stamp {
        id: id(name),
        at: 1_767_225_600_000,
    };
    let mut job = Job::open(id("job-sounds"), procedure, Header::default(), stamp("s1"));
    let reading = Deed::Reading {
        step: id("sinad"),
        phase: Phase::AsFound,
        value: "12.4 dB SINAD".parse().unwrap(),
        tool: None,
        repeat: false,
        heard: Some(Box::new(Heard {
            input: "Bench interface".to_owned(),
            measure: Measure::Sinad,
            weighting: Weighting::Speech,
            window: 1000,
            rate: 44_100,
            count: 3,
            standard: "0.05 dB".parse().unwrap(),
            span: None,
            into: None,
        })),
    };
    job.record(stamp("s2"), reading).unwrap();
    let kept = || Deed::SoundKept {
        sound: sound().digest().clone(),
        step: id("sinad"),
        reading: id("s2"),
    };
    job.record(stamp("s3"), kept()).unwrap();
    job.record(stamp("s4"), kept()).unwrap();
    let removed = Deed::SoundRemoved { sound: id("s3") };
    job.record(stamp("s5"), removed).unwrap();
    job
}

#[test]
fn sounds_are_in_their_file_with_the_readings_that_they_are_of() {
    let text = fs::read_to_string(folder(3).join("sounds.json")).unwrap();
    let file = open(&text).unwrap();
    let Document::Job(job) = file.document else {
        panic!("no job")
    };
    let sounds = job.progress().sounds;
    let told: Vec<_> = sounds.iter().map(|it| (&it.reading, &it.bytes)).collect();
    assert_eq!(told, [(&id("s2"), sound().digest())]);
    assert_eq!(file.pictures, [sound()]);
}

#[test]
#[ignore = "writes the files of the present version"]
fn write_the_files_of_the_present_version() {
    let documents = [
        ("procedure", Document::Procedure(demo::procedure().unwrap())),
        ("procedure-every-step", Document::Procedure(every_step())),
        ("job", Document::Job(half_done())),
        ("job-every-deed", Document::Job(job())),
        ("backup", Document::Backup(backup())),
        (
            "several",
            Document::Backup(Backup {
                preferences: None,
                ..backup()
            }),
        ),
    ];
    fs::create_dir_all(folder(VERSION)).unwrap();
    let papers = write_with(&Document::Backup(with_papers()), &[picture(), pdf()]);
    fs::write(folder(VERSION).join("papers.json"), papers).unwrap();
    let sounds = write_with(&Document::Job(with_sounds()), &[sound()]);
    fs::write(folder(VERSION).join("sounds.json"), sounds).unwrap();
    for (name, document) in documents {
        let path = folder(VERSION).join(format!("{name}.json"));
        fs::write(path, write_with(&document, &[picture()])).unwrap();
    }
}

#[test]
fn every_version_has_every_kind_of_document() {
    for version in 1..=VERSION {
        let kinds: BTreeSet<String> = files(version)
            .iter()
            .map(|(_, text)| serde_json::from_str::<Value>(text).unwrap())
            .inspect(|file| assert_eq!(file["version"], json!(version)))
            .map(|file| file["type"].as_str().unwrap().to_owned())
            .collect();
        assert_eq!(kinds, KINDS.map(str::to_owned).into(), "version {version}");
    }
}

/// Takes the checks of events away, which files had none of before version 3.
fn drop_checks(value: &mut Value) {
    if let Some(object) = value.as_object_mut() {
        object.remove("check");
        object.values_mut().for_each(drop_checks);
    } else if let Some(list) = value.as_array_mut() {
        list.iter_mut().for_each(drop_checks);
    }
}

#[test]
fn every_file_of_every_version_opens_and_loses_nothing() {
    for version in 1..=VERSION {
        for (name, text) in files(version) {
            let file = open(&text).unwrap_or_else(|e| panic!("{version}/{name}: {e}"));
            let mut then: Value = serde_json::from_str(&text).unwrap();
            then["version"] = json!(VERSION);
            let mut now: Value =
                serde_json::from_str(&write_with(&file.document, &file.pictures)).unwrap();
            if version < 3 {
                drop_checks(&mut now);
            }
            assert_eq!(now, then, "{version}/{name}");
        }
    }
}

#[test]
fn a_sheet_from_the_time_of_an_earlier_format_still_matches_the_file_it_was_made_from() {
    // The first had no pictures, so that its sheet has the digest of this very file.
    let text = fs::read_to_string(folder(1).join("job.json")).unwrap();
    let printed = digest_of(text.as_bytes());
    // One of format 2 is without those that its file brings along.
    let second = fs::read_to_string(folder(2).join("job.json")).unwrap();
    let (bare, _) = second.split_once(",\n  \"pictures\": [").unwrap();
    let bare = format!("{bare}\n}}\n");
    for (text, printed) in [(text, printed), (second, digest_of(bare.as_bytes()))] {
        assert!(Check::of(&text, &printed).matches());
        // Exported again, in the present format, it is still that job.
        let again = write_with(&read(&text).unwrap(), &[]);
        assert_ne!(digest_of(again.as_bytes()), printed);
        assert!(Check::of(&again, &printed).matches());
    }
}

#[test]
fn papers_are_in_their_file_with_their_pins() {
    let Document::Backup(backup) = file(3, "papers.json") else {
        panic!("no backup")
    };
    let job = Job {
        id: backup.jobs[0].id.clone(),
        procedure: backup.procedures[0].clone().into(),
        log: backup.jobs[0].log.clone(),
    };
    let papers = job.papers();
    let told: Vec<_> = papers
        .iter()
        .map(|paper| (paper.title.as_str(), paper.pins.len()))
        .collect();
    assert_eq!(told, [("Circuit diagram", 1), ("Circuit diagram", 3)]);
}

#[test]
fn what_is_in_the_files_is_what_was_put_in() {
    for version in 1..=VERSION {
        let Document::Procedure(procedure) = file(version, "procedure.json") else {
            panic!("{version}: no procedure")
        };
        assert_eq!(procedure.title, "28 MHz trainer: inspect, align and prove");
        assert_eq!((procedure.revision, procedure.steps().count()), (1, 43));

        let Document::Procedure(all) = file(version, "procedure-every-step.json") else {
            panic!("{version}: no procedure")
        };
        assert_eq!(all.steps().count(), 54);

        let Document::Job(job) = file(version, "job.json") else {
            panic!("{version}: no job")
        };
        let progress = job.progress();
        assert_eq!(progress.header.set.serial, "QRC-07");
        assert_eq!(job.log.events().count(), 74);
        assert_eq!((progress.steps.len(), progress.settled()), (43, 25));
        let reservoir = progress.steps.iter().find(|s| s.id == id("reservoir"));
        let found = &reservoir.unwrap().readings[0];
        assert_eq!(found.phase, Phase::AsFound);
        assert_eq!(found.value.to_string(), "0.12 V");

        let Document::Job(job) = file(version, "job-every-deed.json") else {
            panic!("{version}: no job")
        };
        let deeds = if version < 3 { 23 } else { 26 };
        assert_eq!(job.log.events().count(), deeds);

        let Document::Backup(backup) = file(version, "backup.json") else {
            panic!("{version}: no backup")
        };
        assert_eq!(backup.preferences.as_ref().unwrap().technician, "Bench 1");
        assert_eq!(backup.kit.len(), 4);
        assert_eq!(backup.channels.len(), 1);
        assert_eq!(backup.whole_jobs().len(), 1);
    }
}
