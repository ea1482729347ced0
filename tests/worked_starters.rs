//! The proofs of land mobile and marine sets, worked through with readings of a good set: every
//! reading is judged, the job closes, and its sheet answers what an inspector asks.
//!
//! The readings are made up; common practice, no source.

mod support;

use halfturn::exchange::report::{Report, html};
use halfturn::exchange::{Starter, starters};
use halfturn::job::{Deed, Finding, Header, Job, Phase, Progress, Status, UsedInstrument};
use halfturn::procedure::{Direction, Id, Procedure, Setting, Signal, Step, Work};
use halfturn::quantity::DecimalSign;
use halfturn::radio::channels::ChannelTable;
use serde_json::json;
use support::{header, id, look, reading, stamp};

const POINT: DecimalSign = DecimalSign::Point;

fn proofs() -> Vec<Procedure> {
    let is_new = |starter: &Starter| {
        let id = starter.draft.id.as_str();
        id.contains("land-mobile") || id.contains("marine")
    };
    let starters = starters(POINT).into_iter().filter(is_new);
    let read = starters.map(|mut starter| {
        if starter.draft.channels.is_none() {
            let lines = "lowest 151.0000\nmiddle 155.0000\nhighest 159.0000";
            let table = ChannelTable::read("Made up", "this test", lines, POINT);
            starter.draft.channels = Some(table.expect("channels"));
        }
        starter.draft.read(POINT).0
    });
    read.collect()
}

/// What each instrument of a good set's proof shows, by the beginning of the step's name; as it
/// shows it, before what stands in the path.
const SHOWN: [(&str, &str); 58] = [
    ("supply", ""),
    ("idle", "420 mA"),
    ("sens-20", "2.5 dBµV EMF"),
    ("sens-", "-118.5 dBm"),
    ("quieting", "0.45 µV PD"),
    ("audio-power", "4.1 W"),
    ("audio-distortion", "3.2 %"),
    ("audio-3000", "-20.4 dB"),
    ("audio-300", "-0.3 dB"),
    ("audio-1000", "-10.0 dB"),
    ("audio-2000", "-16.5 dB"),
    ("audio-2550", "-18.8 dB"),
    ("hum", "43 dB"),
    ("squelch-open", "-121.0 dBm"),
    ("squelch-close", "-123.5 dBm"),
    ("adjacent-rx", "-38.0 dBm"),
    ("image", "-42.0 dBm"),
    ("standby-low", "-82 dBm"),
    ("standby-high", "-78 dBm"),
    ("dsc-rx", "0.2 %"),
    ("power-small", "0.8 W"),
    ("power-at-", "21.0 W"),
    ("power-", "22.0 W"),
    ("reduced-", "0.8 W"),
    ("tx-volts", ""),
    ("freq-lowest", "151.00021 MHz"),
    ("freq-middle", "155.00022 MHz"),
    ("freq-highest", "159.00023 MHz"),
    ("freq-at-85", "155.00020 MHz"),
    ("freq-at-115", "155.00024 MHz"),
    ("freq-60", "156.02510 MHz"),
    ("freq-16", "156.80010 MHz"),
    ("freq-88", "157.42510 MHz"),
    ("freq-at-1", "156.62510 MHz"),
    ("dev-null", "2.42 kHz"),
    ("dev-max", ""),
    ("dev-std", "11.5 mV rms"),
    ("tx-3000", "8.7 dB"),
    ("tx-300", "-10.9 dB"),
    ("tx-500", "-6.3 dB"),
    ("tx-1000", "0.0 dB"),
    ("tx-2000", "5.6 dB"),
    ("tx-2550", "7.4 dB"),
    ("tx-distortion", "1.9 %"),
    ("tx-hum", "44 dB"),
    ("tone-deviation", "0.34 kHz"),
    ("mask-", "-69 dBc"),
    ("beyond", "-72 dBc"),
    ("harmonics", "-74 dBc"),
    ("spurious-low", "-84 dBm"),
    ("spurious-high", "-80 dBm"),
    ("spurious", "-84 dBc"),
    ("adjacent", "-74 dBc"),
    ("near", "-41 dBc"),
    ("far", "-58 dBc"),
    ("transient-", "1.2 kHz"),
    ("no-speech", "0.00 W"),
    ("all-locked", ""),
];

/// What differs between a land and a ship's set.
fn of_the_set(step: &str, is_marine: bool) -> &'static str {
    match (step, is_marine) {
        ("supply", true) => "13.62 V",
        ("supply", false) => "13.80 V",
        ("tx-volts", true) => "13.48 V",
        ("tx-volts", false) => "13.61 V",
        ("dev-max", true) => "4.6 kHz",
        ("speech", true) => "4.4 kHz",
        ("dev-max" | "speech", false) => "2.3 kHz",
        ("dsc-tx", _) => "4.3 kHz",
        ("all-locked", true) => "0.8 W",
        ("all-locked", false) => "21.0 W",
        ("inhibit", _) => "0.00 W",
        _ => panic!("nothing is shown in {step}"),
    }
}

fn shown(step: &Step, procedure: &Procedure) -> &'static str {
    let name = step.id.as_str();
    // An emission stated as a power is read in dBm behind the tap.
    let in_watts = step.work.gauge().is_some_and(|it| it.scale.unit.is_power());
    let found = SHOWN.iter().find(|(start, _)| name.starts_with(start));
    match found {
        Some(("spurious", _)) if in_watts => "-84 dBm",
        Some((_, text)) if !text.is_empty() => text,
        _ => of_the_set(name, procedure.id.as_str().contains("marine")),
    }
}

/// Tap, pad and combiner with what they take away.
fn kit() -> Header {
    let known = [
        ("tap", "40.0 dB"),
        ("pad", "20.0 dB"),
        ("combiner", "6.0 dB"),
    ];
    let used = known.map(|(role, by)| UsedInstrument {
        role: id(role),
        name: format!("Club {role}"),
        record: serde_json::from_value(json!({"role": role, "name": format!("Club {role}"),
            "loss": {"by": by, "within": {"amount": "0.5 dB"}}}))
        .expect("an instrument"),
    });
    Header {
        instruments: used.to_vec(),
        ..header()
    }
}

/// A job with its progress, which each deed goes by.
struct Bench {
    job: Job,
    progress: Progress,
}

impl Bench {
    fn does(&mut self, deed: Deed) {
        let said = format!("{deed:?}");
        let next = stamp(self.job.log.len() + 1);
        let done = self.job.record_at(&self.progress, next, deed);
        done.unwrap_or_else(|refusal| panic!("{said}: {refusal}"));
        self.progress = self.job.progress_after(Some(&self.progress));
    }
}

/// What comes off and goes back follows from the steps that say so.
fn work(procedure: &Procedure) -> Bench {
    let job = Job::open(id("job-1"), procedure.clone(), kit(), stamp(1));
    let progress = job.progress();
    let mut bench = Bench { job, progress };
    for step in procedure.steps() {
        let step_id = step.id.clone();
        match &step.work {
            Work::Read { .. } => {
                let deed = reading(step.id.as_str(), Phase::AsFound, shown(step, procedure));
                bench.does(deed);
            }
            Work::Inspect => bench.does(Deed::Answered {
                step: step_id,
                answer: Finding::Sound,
                note: String::new(),
            }),
            Work::Tick | Work::Stop { .. } => bench.does(Deed::Ticked { step: step_id }),
            other => panic!("{}: {other:?}", step.id),
        }
    }
    bench
}

#[test]
fn a_good_set_passes_each_proof_and_its_sheet_names_every_source() {
    let all = proofs();
    assert_eq!(all.len(), 5);
    for procedure in all {
        let mut bench = work(&procedure);
        let progress = &bench.progress;
        let owed: Vec<(&Id, Status)> = progress.owed().map(|it| (&it.id, it.status)).collect();
        assert_eq!(owed, [], "{}", procedure.title);
        assert!(progress.is_closed(), "{}", procedure.title);
        for step in &progress.steps {
            let asked = procedure.step(&step.id).expect("it");
            if asked.work.target().is_some() {
                let taken = step.readings.last().expect("a reading");
                assert!(taken.verdict.is_some(), "{}: not judged", step.id);
            }
        }
        bench.does(support::sign_off("the technician"));
        sources_stand_on_the_sheet(&procedure, &bench.job);
    }
}

fn sources_stand_on_the_sheet(procedure: &Procedure, job: &Job) {
    let sheet = html::file(&Report::of(job, &[], &look()));
    let sheet = sheet.replace(['\u{2068}', '\u{2069}', '\u{2060}'], "");
    let sheet = sheet.replace('\u{a0}', " ");
    for step in procedure.steps() {
        if let Some(basis) = step.basis().filter(|it| !it.source.is_empty()) {
            let source = basis.source.replace('\'', "&#39;");
            let is_there = sheet.contains(&source);
            assert!(is_there, "{}: {}: {source}", procedure.title, step.id);
        }
    }
}

/// What an inspector asks of a reading, and how the step answers.
fn unanswered(step: &Step) -> Vec<&'static str> {
    let set_up = &step.set_up;
    let control = |name: &str| set_up.controls.iter().find(|it| it.name == name);
    let setting = |setting: Setting| set_up.settings.get(&setting);
    let at = control("Aerial socket").map_or("", |it| it.to.as_str());
    let gauge = step.work.gauge().expect("a reading");
    let mut asked = vec![("supply", set_up.supply.is_some())];
    if set_up.signal == Some(Signal::Tx) || set_up.mode.is_some() {
        asked.push(("mode", set_up.mode.is_some()));
        asked.push(("channel", set_up.channel.is_some()));
    }
    if set_up.signal == Some(Signal::Tx) {
        let is_spoken_to = control("Microphone socket").is_some_and(|it| it.to == "microphone");
        asked.push(("load", setting(Setting::Load).is_some()));
        asked.push(("power", control("Power").is_some()));
        asked.push(("audio", control("Audio in").is_some() || is_spoken_to));
    }
    if at.starts_with("generator") {
        asked.push((
            "generator frequency",
            setting(Setting::GeneratorFrequency).is_some(),
        ));
        asked.push((
            "generator level",
            setting(Setting::GeneratorLevel).is_some(),
        ));
        let modulation = setting(Setting::Modulation).map_or("", |it| it.as_str());
        let is_modulated = modulation != "none";
        asked.push(("modulation", !modulation.is_empty()));
        asked.push((
            "tone",
            !is_modulated || setting(Setting::ModulationTone).is_some(),
        ));
        let is_deep = setting(Setting::ModulationDepth).is_some() || modulation.contains("index");
        asked.push(("deviation", !is_modulated || is_deep));
    }
    if gauge.with.as_str() == "analyser" {
        asked.push(("bandwidth", setting(Setting::AnalyserBandwidth).is_some()));
        asked.push(("what is in the path", !gauge.through().is_empty()));
    }
    if gauge.with.as_str() == "deviation-meter" {
        asked.push(("modulation", setting(Setting::Modulation).is_some()));
    }
    if gauge.with.as_str() == "interferer" {
        let direction = gauge.path.as_ref().map(|path| path.direction);
        asked.push(("the combiner", direction == Some(Direction::IntoSet)));
    }
    asked.push((
        "limit's source",
        step.work.target().is_none() || step.basis().is_some(),
    ));
    let open = asked.into_iter().filter(|(_, is_said)| !is_said);
    open.map(|(what, _)| what).collect()
}

#[test]
fn every_reading_answers_what_an_inspector_asks() {
    for procedure in proofs() {
        for step in procedure.steps().filter(|it| it.work.gauge().is_some()) {
            assert_eq!(
                unanswered(step),
                Vec::<&str>::new(),
                "{}: {}",
                procedure.title,
                step.id
            );
        }
    }
}
