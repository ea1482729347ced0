//! What the specification tests share: a small procedure with every kind of step, jobs worked
//! by it, and strategies for logs.
#![allow(dead_code)] // Each test file uses a part of it.

use halfturn::authoring::TargetKind;
use halfturn::exchange::Starter;
use halfturn::exchange::report::Look;
use halfturn::job::{
    Deed, Event, Finding, Header, Job, Log, Moment, Phase, SetIdentity, Stamp, UsedInstrument,
};
use halfturn::metrology::{Margin, Tolerance};
use halfturn::procedure::{
    Adjuster, AdjusterKind, Alteration, Control, Gauge, Holds, Id, Instrument, Lead, Procedure,
    Section, Sense, SetUp, Signal, Step, Target, TestPoint, Work,
};
use halfturn::quantity::{DecimalSign, Quantity};
use proptest::prelude::*;
use proptest::test_runner::Config;

/// So many cases of a property, and no files left behind.
pub fn cases(count: u32) -> Config {
    Config {
        cases: count,
        failure_persistence: None,
        ..Config::default()
    }
}

pub fn id(text: &str) -> Id {
    text.parse().expect("an id")
}

pub fn q(text: &str) -> Quantity {
    text.parse().expect("a quantity")
}

pub fn stamp(number: usize) -> Stamp {
    Stamp {
        id: id(&format!("e{number}")),
        at: 1_700_000_000_000 + number as i64,
    }
}

/// A sheet as plain as can be: moments as they are counted, no pictures, no times.
pub fn look() -> Look<'static> {
    Look {
        sign: DecimalSign::Point,
        when: &|at| at.to_string(),
        stamp: &|_| String::new(),
        day: &|day| day.to_string(),
        picture: &|_| None,
        time: false,
        currency: "",
        spelling: Default::default(),
    }
}

/// The Quillmere Radio Club's trainer in twelve steps, one at least of every kind.
pub fn procedure() -> Procedure {
    Procedure {
        id: id("trainer-short"),
        title: "Quillmere trainer, short check".to_owned(),
        revision: 3,
        covers: "Trainers built by the club".to_owned(),
        cautions: vec!["The output stage gets hot".to_owned()],
        adjusters: vec![
            adjuster("L1", AdjusterKind::Core),
            adjuster("L2", AdjusterKind::Core),
            adjuster("R1", AdjusterKind::Pot),
        ],
        test_points: ["TP1", "TP2", "TP3", "SK1"].map(test_point).to_vec(),
        instruments: ["counter", "scope", "wattmeter", "meter"]
            .map(instrument)
            .to_vec(),
        pictures: Vec::new(),
        papers: Vec::new(),
        plan: None,
        channels: None,
        chases: Vec::new(),
        tables: Vec::new(),
        sections: vec![
            Section {
                title: "Before power".to_owned(),
                steps: vec![
                    step("look", Work::Inspect),
                    step("lead", Work::Wire(lead())),
                    step("part", Work::Fit(part())),
                    step("load", stop("The dummy load is connected")),
                ],
            },
            Section {
                title: "Levels".to_owned(),
                steps: vec![
                    step("osc", set_oscillator()),
                    step("mixed", read_relative_to_the_oscillator()),
                    step("drive", peak_drive()),
                    step("leak", dip_carrier()),
                ],
            },
            Section {
                title: "Power".to_owned(),
                steps: vec![
                    step("hot", stop("My hands are off the output stage")),
                    step("power", read("SK1", "wattmeter", "W", Some(power()))),
                    step("current", read("TP3", "meter", "mA", None)),
                    step("close", Work::Tick),
                ],
            },
        ],
    }
}

fn step(name: &str, work: Work) -> Step {
    Step {
        cautions: vec!["Mind the fingers".to_owned()],
        set_up: SetUp {
            mode: Some("USB".to_owned()),
            channel: Some("8".to_owned()),
            signal: Some(Signal::Rx),
            supply: Some("13.8 V".to_owned()),
            settings: Default::default(),
            controls: vec![Control {
                name: "Clarifier".to_owned(),
                to: "centre".to_owned(),
            }],
        },
        ..Step::new(id(name), format!("Do {name}"), work)
    }
}

fn adjuster(name: &str, kind: AdjusterKind) -> Adjuster {
    Adjuster {
        id: id(name),
        kind,
        note: "Beside the filter".to_owned(),
        tool: "Ceramic blade".to_owned(),
        clockwise: Some(Sense::Raises),
        disturbs: Vec::new(),
    }
}

fn test_point(name: &str) -> TestPoint {
    TestPoint {
        id: id(name),
        place: "Near the edge of the board".to_owned(),
        also: vec![format!("{name}a")],
    }
}

fn instrument(role: &str) -> Instrument {
    Instrument {
        role: id(role),
        needs: "Good to 30 MHz".to_owned(),
    }
}

fn stop(confirm: &str) -> Work {
    Work::Stop {
        confirm: confirm.to_owned(),
        holds: Holds::default(),
        reads: None,
    }
}

fn lead() -> Lead {
    Lead {
        from: "TP1".to_owned(),
        to: "Ground".to_owned(),
        colour: "green".to_owned(),
    }
}

fn part() -> Alteration {
    Alteration {
        out: "10 µF".to_owned(),
        fitted: "22 µF".to_owned(),
        why: "Hum".to_owned(),
    }
}

fn gauge(at: &str, with: &str, scale: &str) -> Gauge {
    Gauge::new(id(at), id(with), scale.parse().expect("a scale"))
}

fn read(at: &str, with: &str, scale: &str, target: Option<Target>) -> Work {
    Work::Read {
        gauge: gauge(at, with, scale),
        target,
    }
}

fn set_oscillator() -> Work {
    let margin = Margin::Absolute(q("20 Hz"));
    Work::Set {
        gauge: gauge("TP1", "counter", "MHz"),
        adjuster: id("L1"),
        target: Target::Fixed(Tolerance::plus_minus(q("10.24000 MHz"), margin)),
    }
}

fn read_relative_to_the_oscillator() -> Work {
    let target = Target::Relative {
        to: id("osc"),
        offset: q("-9 MHz"),
        below: Margin::Absolute(q("10 Hz")),
        above: Margin::Absolute(q("10 Hz")),
    };
    read("TP2", "counter", "MHz", Some(target))
}

fn peak_drive() -> Work {
    Work::Peak {
        gauge: gauge("TP3", "scope", "V p-p"),
        adjuster: id("L2"),
        bound: None,
    }
}

fn dip_carrier() -> Work {
    Work::Dip {
        gauge: gauge("TP3", "scope", "mV p-p"),
        adjuster: id("R1"),
        bound: Some(Target::Fixed(Tolerance::AtMost(q("20 mV p-p")))),
    }
}

fn power() -> Target {
    Target::Fixed(Tolerance::Between {
        low: q("3.6 W"),
        high: q("4.4 W"),
    })
}

pub fn header() -> Header {
    Header {
        number: "17".to_owned(),
        set: SetIdentity {
            make: "Quillmere Radio Club".to_owned(),
            model: "Trainer".to_owned(),
            serial: "004".to_owned(),
        },
        owner: "Shelf 2".to_owned(),
        ..Header::default()
    }
}

pub fn reading(step: &str, phase: Phase, value: &str) -> Deed {
    Deed::Reading {
        step: id(step),
        phase,
        value: q(value),
        tool: None,
        repeat: false,
        heard: None,
    }
}

/// A pin of the demo's socket, measured in a state of the set.
pub fn pin(pin: &str, state: &str, value: &str) -> Deed {
    Deed::PinRead {
        step: id("acc-socket"),
        pin: id(pin),
        state: id(state),
        value: q(value),
    }
}

/// An instrument of this name takes up the counter's role.
pub fn takes_up(name: &str) -> Deed {
    let instrument = UsedInstrument {
        role: id("counter"),
        name: name.to_owned(),
        record: None,
    };
    Deed::MeasuredWith {
        instrument: Box::new(instrument),
    }
}

pub fn as_left(step: &str, value: &str) -> Deed {
    reading(step, Phase::AsLeft, value)
}

pub fn tick(step: &str) -> Deed {
    Deed::Ticked { step: id(step) }
}

pub fn answer(step: &str) -> Deed {
    Deed::Answered {
        step: id(step),
        answer: Finding::Sound,
        note: String::new(),
    }
}

pub fn waive(step: &str, reason: &str) -> Deed {
    Deed::Waived {
        step: id(step),
        reason: reason.to_owned(),
    }
}

pub fn note(step: Option<&str>, text: &str) -> Deed {
    Deed::Noted {
        step: step.map(id),
        text: text.to_owned(),
    }
}

pub fn photo(step: &str, picture: &str) -> Deed {
    Deed::Photographed {
        picture: picture.parse().expect("a digest"),
        when: Moment::Found,
        note: String::new(),
        step: Some(id(step)),
    }
}

pub fn undo(event: &Id) -> Deed {
    Deed::Undone {
        event: event.clone(),
    }
}

pub fn sign_off(by: &str) -> Deed {
    Deed::SignedOff {
        by: by.to_owned(),
        remarks: String::new(),
    }
}

pub fn reopen(reason: &str) -> Deed {
    Deed::Reopened {
        reason: reason.to_owned(),
    }
}

/// A job that was only started.
pub fn fresh_job() -> Job {
    Job::open(id("job-17"), procedure(), header(), stamp(1))
}

/// Does a deed that must be allowed, and gives its event's id.
pub fn does(job: &mut Job, deed: Deed) -> Id {
    let next = stamp(job.log.len() + 1);
    job.record(next, deed).expect("an allowed deed")
}

/// A job with these deeds done.
/// Written into the log whatever stands in the way: what a step is held back by is not looked at here.
pub fn logged(job: &mut Job, deeds: impl IntoIterator<Item = Deed>) {
    let mut log = job.log.clone();
    for deed in deeds {
        log.append(stamp(log.len() + 10), deed);
    }
    job.log = log;
}

pub fn job_with(deeds: impl IntoIterator<Item = Deed>) -> Job {
    let mut job = fresh_job();
    for deed in deeds {
        does(&mut job, deed);
    }
    job
}

/// One good deed for each step, in order.
pub fn good_deeds() -> Vec<Deed> {
    vec![
        answer("look"),
        tick("lead"),
        tick("part"),
        tick("load"),
        as_left("osc", "10.24001 MHz"),
        as_left("mixed", "1.24001 MHz"),
        as_left("drive", "2.40 V p-p"),
        as_left("leak", "12 mV p-p"),
        tick("hot"),
        as_left("power", "4.0 W"),
        as_left("current", "850 mA"),
        tick("close"),
    ]
}

/// A job with nothing left to do but to sign it off.
pub fn worked_job() -> Job {
    job_with(good_deeds())
}

pub fn finished_job() -> Job {
    let mut job = worked_job();
    does(&mut job, sign_off("Quillmere bench"));
    job
}

/// A finished job in whose log every kind of deed occurs.
pub fn eventful_job() -> Job {
    let mut job = worked_job();
    does(&mut job, reading("osc", Phase::AsFound, "10.2431 MHz"));
    does(&mut job, takes_up("Loan counter"));
    does(&mut job, reading("osc", Phase::Try, "10.2404 MHz"));
    does(&mut job, as_left("osc", "10.24000 MHz"));
    let slip = does(&mut job, as_left("power", "5.0 W"));
    does(&mut job, undo(&slip));
    does(&mut job, waive("mixed", "Counter is on loan"));
    does(&mut job, as_left("mixed", "1.25000 MHz"));
    does(&mut job, waive("mixed", "Owner accepts it"));
    does(&mut job, note(Some("leak"), "R1 is near its end"));
    does(&mut job, note(None, "Case screws are missing"));
    does(&mut job, Deed::Amended(header().into()));
    does(&mut job, sign_off("Quillmere bench"));
    does(&mut job, reopen("One screw found"));
    does(&mut job, sign_off("Quillmere bench"));
    job
}

/// A deed to come, before it is known in which log it will stand.
#[derive(Clone, Debug)]
pub struct Draft {
    pub at: i64,
    /// Begins the event's id, so that ids don't sort as they were written.
    salt: u8,
    act: Act,
}

#[derive(Clone, Debug)]
enum Act {
    Does(Box<Deed>),
    /// Undoes the event at this place of the log, counted around it.
    Undoes(usize),
}

impl Draft {
    /// The deed, given what is in the log.
    pub fn deed(&self, log: &Log) -> Deed {
        match &self.act {
            Act::Does(deed) => Deed::clone(deed),
            Act::Undoes(place) => {
                let target = log.events().nth(place % log.len().max(1));
                target.map_or_else(|| undo(&id("nothing")), |event| undo(&event.id))
            }
        }
    }

    /// The stamp, given who writes and how much is in the log.
    pub fn stamp(&self, author: &str, log: &Log) -> Stamp {
        Stamp {
            id: id(&format!("{}-{author}-{}", self.salt, log.len())),
            at: self.at,
        }
    }
}

/// A copy of a log with the drafts written behind it, allowed or not.
pub fn written(log: &Log, author: &str, drafts: &[Draft]) -> Log {
    let mut log = log.clone();
    for draft in drafts {
        let deed = draft.deed(&log);
        log.append(draft.stamp(author, &log), deed);
    }
    log
}

/// Records the drafts one by one and leaves out what is refused.
pub fn record_allowed(job: &mut Job, author: &str, drafts: &[Draft]) {
    for draft in drafts {
        let deed = draft.deed(&job.log);
        let _ = job.record(draft.stamp(author, &job.log), deed);
    }
}

/// Up to `most` drafts of every kind, with clocks that are right, wrong and extreme.
pub fn drafts(most: usize) -> impl Strategy<Value = Vec<Draft>> {
    prop::collection::vec(draft(), 0..=most)
}

fn draft() -> impl Strategy<Value = Draft> {
    (any::<i64>(), 0u8..4, act()).prop_map(|(at, salt, act)| Draft { at, salt, act })
}

fn act() -> impl Strategy<Value = Act> {
    prop_oneof![
        6 => deed().prop_map(|deed| Act::Does(Box::new(deed))),
        2 => any::<prop::sample::Index>().prop_map(|i| Act::Undoes(i.index(1000))),
    ]
}

fn deed() -> impl Strategy<Value = Deed> {
    prop_oneof![
        6 => prop::sample::select(good_deeds()),
        6 => any_reading(),
        1 => step_name().prop_map(tick),
        1 => step_name().prop_map(|step| waive(step, "Not today")),
        1 => (step_name(), ".{0,12}").prop_map(|(step, text)| note(Some(step), &text)),
        1 => ".{0,12}".prop_map(|text| note(None, &text)),
        1 => ".{0,12}".prop_map(|owner| Deed::Amended(Header { owner, ..header() }.into())),
        1 => prop::sample::select(vec!["", "Loan counter", "Club counter"]).prop_map(takes_up),
        1 => (step_name(), "[0-9a-f]{64}").prop_map(|(step, name)| photo(step, &name)),
        1 => Just(sign_off("Quillmere bench")),
        1 => Just(reopen("Something was forgotten")),
    ]
}

fn step_name() -> impl Strategy<Value = &'static str> {
    prop::sample::select(vec![
        "look", "lead", "part", "load", "osc", "mixed", "drive", "leak", "hot", "power", "current",
        "close",
    ])
}

fn any_reading() -> impl Strategy<Value = Deed> {
    let scales = prop::sample::select(vec![
        ("osc", "MHz"),
        ("mixed", "kHz"),
        ("drive", "V p-p"),
        ("leak", "mV p-p"),
        ("power", "W"),
        ("current", "mA"),
    ]);
    let phases = prop::sample::select(vec![Phase::AsFound, Phase::Try, Phase::AsLeft]);
    let numbers = "-?[0-9]{1,6}(\\.[0-9]{1,6})?";
    (scales, phases, numbers).prop_map(|((step, scale), phase, number)| {
        reading(step, phase, &format!("{number} {scale}"))
    })
}

/// The events with other times in them.
pub fn with_times(log: &Log, time: impl Fn(i64) -> i64) -> Log {
    let events = log.events().map(|event| Event {
        at: time(event.at),
        ..event.clone()
    });
    Log::from_events(events).expect("a log")
}

/// A starter as a person fills it in: a designator for every open name, a figure for every open
/// target.
pub fn filled_in(mut starter: Starter) -> Starter {
    use halfturn::authoring::edit::{List, rename};
    let draft = &mut starter.draft;
    for (list, letter) in [(List::Adjusters, 'A'), (List::TestPoints, 'P')] {
        for (index, name) in list.names(draft).into_iter().enumerate() {
            if name.starts_with('?') {
                rename(draft, list, index, &format!("{letter}{index}")).expect("a free name");
            }
        }
    }
    for step in draft.steps_mut() {
        if step.target.kind == TargetKind::Around && step.target.value.is_empty() {
            step.target.value = format!("10 {}", step.scale);
        }
    }
    starter
}
