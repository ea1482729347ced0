//! Every starter can be worked from its first step to the signing of its job, once what is open is
//! filled in: limits that lean on other readings come out, stops open, and all goes back.

mod support;

use halfturn::exchange::report::{Report, html};
use halfturn::exchange::starters;
use halfturn::job::{Deed, Finding, Header, Job, Phase, Status, UsedInstrument};
use halfturn::metrology::Tolerance;
use halfturn::metrology::instrument::Instrument;
use halfturn::procedure::{Id, Procedure, Repeat, Step, Work};
use halfturn::quantity::{DecimalSign, Quantity, Scale};
use halfturn::radio::channels::ChannelTable;
use std::collections::{BTreeSet, HashMap};
use support::{filled_in, header, id, look, sign_off, stamp};

const POINT: DecimalSign = DecimalSign::Point;

/// A kit in which the loss of all that a signal passes is known, if none at all.
fn kit(procedure: &Procedure) -> Header {
    let known = |role: &str| {
        let record =
            format!(r#"{{"name": "A {role}", "role": "{role}", "loss": {{"by": "0.0 dB"}}}}"#);
        let record: Instrument = serde_json::from_str(&record).expect("an instrument");
        UsedInstrument {
            role: id(role),
            name: role.to_owned(),
            record: Some(record),
        }
    };
    let gauges = procedure.steps().filter_map(|step| step.work.gauge());
    let passed: BTreeSet<&str> = gauges
        .flat_map(|gauge| gauge.through())
        .map(|role| role.as_str())
        .collect();
    Header {
        instruments: passed.into_iter().map(known).collect(),
        ..header()
    }
}

/// A set without channels of its own has those of its licence.
fn licensed(mut procedure: Procedure) -> Procedure {
    let lines = "lowest 151.0000\nmiddle 155.0000\nhighest 159.0000";
    let table = ChannelTable::read("Made up", "this test", lines, POINT);
    procedure
        .channels
        .get_or_insert_with(|| table.expect("channels"));
    procedure
}

struct Bench {
    job: Job,
    read: HashMap<Id, Quantity>,
}

impl Bench {
    fn does(&mut self, deed: Deed) {
        let number = self.job.log.len() + 1;
        let said = format!("{deed:?}");
        let done = self.job.record(stamp(number * 1000), deed);
        done.unwrap_or_else(|refusal| panic!("{refusal}: {said}"));
    }

    /// A reading that is inside, as close to a limit as it may be.
    fn inside(&self, step: &Step) -> Quantity {
        let scale = step.work.gauge().expect("a gauge").scale;
        let known = |other: &Id| self.read.get(other).cloned();
        match self.job.procedure.tolerance(step, known) {
            Some(Ok(tolerance)) => on_the_limit(tolerance),
            _ => ten(scale),
        }
    }

    fn reads(&mut self, step: &Step) {
        let value = self.inside(step);
        self.read.insert(step.id.clone(), value.clone());
        self.does(Deed::Reading {
            step: step.id.clone(),
            phase: Phase::AsLeft,
            value,
            tool: None,
            repeat: false,
            heard: None,
        });
    }

    /// One more pass, in which nothing moves.
    fn goes_through_again(&mut self, step: Id, repeat: &Repeat) {
        let range = self.job.procedure.range_of(repeat).expect("its steps");
        let steps = self.job.procedure.steps().skip(*range.start());
        let steps: Vec<Step> = steps.take(range.count()).cloned().collect();
        self.does(Deed::PassBegun { step });
        for step in steps.iter().filter(|step| step.work.measures()) {
            self.reads(step);
        }
    }

    fn works(&mut self, step: &Step) {
        let name = step.id.clone();
        match &step.work {
            Work::Inspect => self.does(Deed::Answered {
                step: name,
                answer: Finding::Sound,
                note: String::new(),
            }),
            Work::Socket(socket) => {
                for (pin, expected) in socket
                    .pins
                    .iter()
                    .flat_map(|pin| pin.expects.iter().map(move |it| (pin, it)))
                {
                    self.does(Deed::PinRead {
                        step: name.clone(),
                        pin: pin.pin.clone(),
                        state: expected.state.clone(),
                        value: on_the_limit(expected.tolerance.clone()),
                    });
                }
                self.does(Deed::Ticked { step: name });
            }
            work if work.gauge().is_some() => self.reads(step),
            Work::Repeat(repeat) => self.goes_through_again(name, repeat),
            _ => self.does(Deed::Ticked { step: name }),
        }
    }
}

fn on_the_limit(tolerance: Tolerance) -> Quantity {
    match tolerance {
        Tolerance::Around { nominal, .. } => nominal,
        Tolerance::AtLeast(limit) | Tolerance::AtMost(limit) => limit,
        Tolerance::Between { low, .. } => low,
    }
}

fn ten(scale: Scale) -> Quantity {
    format!("10 {scale}").parse().expect("a quantity")
}

#[test]
fn every_starter_is_worked_to_the_signing_of_its_job() {
    for starter in starters(POINT) {
        let name = starter.name.clone();
        let procedure = licensed(filled_in(starter).draft.read(POINT).0);
        let job = Job::open(id("job-17"), procedure.clone(), kit(&procedure), stamp(1));
        let mut bench = Bench {
            job,
            read: HashMap::new(),
        };
        for step in procedure.steps() {
            bench.works(step);
        }
        // What a later turn moved wants one more look, and finds it as it was; what leans on a cell
        // that is read after it can be judged only now.
        for _ in 0..3 {
            let moved: Vec<Id> = bench
                .job
                .progress()
                .owed()
                .filter(|standing| matches!(standing.status, Status::LookAgain | Status::Outside))
                .map(|standing| standing.id.clone())
                .collect();
            for step in moved {
                let step = procedure.step(&step).expect("a step").clone();
                bench.reads(&step);
            }
        }
        let progress = bench.job.progress();
        let owed: Vec<String> = progress
            .owed()
            .map(|standing| format!("{}: {:?}", standing.id, standing.status))
            .collect();
        assert_eq!(owed, Vec::<String>::new(), "{name}");
        assert_eq!(progress.still_off().count(), 0, "{name}");
        bench.does(sign_off("Quillmere bench"));
        assert!(bench.job.progress().is_closed(), "{name}");
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
