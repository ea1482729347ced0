//! Documents with everything in them that a document can hold.
#![allow(dead_code)] // Each test file uses its own part.

use halfturn::exchange::{Backup, Document, Picture, demo, read, wav};
use halfturn::job::{
    Change, Charge, Deed, Event, FaultOf, FaultRecord, Finding, Header, Heard, Job, Log, Look,
    LookAt, Moment, Outcome, OwnStep, PaperChange, PartRecord, PartState, Phase, Preferences,
    Reply, SetIdentity, Showed, Span, Tool, TypedStep, UsedInstrument,
};
use halfturn::metrology::Tolerance;
use halfturn::metrology::decision::Rule;
use halfturn::metrology::inference::suspects::Reach;
use halfturn::metrology::instrument::{Correction, Instrument};
use halfturn::procedure::{
    Axis, BoardPicture, BoardPin, Chance, CheckName, CheckPoint, Effort, Id, Paper, PaperPin,
    PaperSpot, Procedure, ReadingTable, Removable, Section, Sets, Signal, SignalPath, Spot, Stage,
    Step, Target, Work,
};
use halfturn::quantity::DecimalSign;
use halfturn::radio::components::substitution::{Device, Gain, Kind, Pins, Seen, Substitution};
use halfturn::signal::Weighting;
use halfturn::signal::measure::Measure;

const TRAINER: &str = include_str!("../../src/exchange/demo/trainer.json");

pub fn id(text: &str) -> Id {
    text.parse().unwrap()
}

/// The demo's procedure with fewer channels, and one step that cites a published limit.
pub fn trainer() -> Procedure {
    let mut procedure = match read(TRAINER) {
        Ok(Document::Procedure(procedure)) => procedure,
        other => panic!("{other:?}"),
    };
    let mut steps = procedure.sections.iter_mut().flat_map(|s| &mut s.steps);
    let on_the_air = steps.find(|step| step.id == id("air-am")).unwrap();
    let Work::Read { target, .. } = &mut on_the_air.work else {
        panic!("air-am takes no reading")
    };
    *target = Some(Target::Limit {
        set: "47-cfr-95-d".to_owned(),
        limit: "frequency".to_owned(),
        power: None,
    });
    let table = procedure.channels.as_mut().unwrap();
    table
        .channels
        .retain(|channel| ["1", "30"].contains(&channel.name.as_str()));
    let pins = [
        Spot::TestPoint(procedure.test_points[0].id.clone()),
        Spot::Adjuster(procedure.adjusters[0].id.clone()),
    ];
    procedure.pictures.push(BoardPicture {
        picture: picture().digest().clone(),
        title: "Top".to_owned(),
        width: 1,
        height: 1,
        pins: pins
            .map(|of| BoardPin {
                of,
                x: 2500,
                y: 10_000,
            })
            .to_vec(),
    });
    procedure.tables.push(audio());
    procedure
}

/// One cell of the demo's as a table, with what its rows set and what its column says is read.
fn audio() -> ReadingTable {
    let axis = |sets, name: &str| Axis {
        sets,
        names: vec![name.to_owned()],
    };
    ReadingTable {
        id: id("on-the-air"),
        title: "On the air".to_owned(),
        columns: axis(Sets::Reading, "Frequency (MHz)"),
        rows: axis(Sets::Control("Load".to_owned()), "50 ohms"),
        cells: vec![vec![Some(id("air-am"))]],
    }
}

/// So much of the demo's kit as shows every key; its counter adds an amount as well.
pub fn kit() -> Vec<Instrument> {
    let mut kit = demo::kit().unwrap();
    kit.retain(|entry| ["meter", "counter", "scope", "generator"].contains(&entry.role.as_str()));
    let counter = kit.iter_mut().find(|entry| entry.role == "counter");
    let offset = Correction::Offset("-0.5 Hz".parse().unwrap());
    counter.unwrap().corrections.push(offset);
    kit
}

/// A substitution in which everything is stated of both devices.
pub fn substitution() -> Substitution {
    let device = |name: &str| Device {
        name: name.to_owned(),
        kind: Some(Kind::Npn),
        breakdown: "35 V".parse().ok(),
        current: "500 mA".parse().ok(),
        dissipation: "10 W".parse().ok(),
        junction: "150 °C".parse().ok(),
        junction_to_case: "12.5 °C/W".parse().ok(),
        gain: "40".parse().ok().map(|least| Gain {
            least,
            most: "120".parse().ok(),
        }),
        transition: "150 MHz".parse().ok(),
        pins: "ECB".parse().ok().map(|order| Pins {
            order,
            seen: Seen::Front,
        }),
    };
    Substitution {
        old: device("Old"),
        new: device("New"),
        case: "60 °C".parse().unwrap(),
    }
}

/// A job whose log has every kind of event.
pub fn job() -> Job {
    let used = |record: Instrument| UsedInstrument {
        role: id(&record.role),
        name: record.name.clone(),
        record: Some(record),
    };
    let header = Header {
        number: "2".to_owned(),
        set: SetIdentity {
            make: "Quillmere Radio Club".to_owned(),
            model: "28 MHz trainer".to_owned(),
            serial: "QRC-02".to_owned(),
        },
        owner: "Loan shelf".to_owned(),
        fault: "Deaf".to_owned(),
        condition: "Clean".to_owned(),
        accessories: "None".to_owned(),
        technician: "Bench 1".to_owned(),
        instruments: kit().into_iter().map(used).collect(),
        rule: Rule::guard_band(),
        next_check: "2027-03-31".parse().ok(),
        charge: Charge {
            rate: "48.00".parse().ok(),
            minutes: Some(75),
            agreed: "90".parse().ok(),
        },
    };
    let reading = |phase, value: &str| Deed::Reading {
        step: id("ref-osc"),
        phase,
        value: value.parse().unwrap(),
        tool: None,
        repeat: false,
        heard: None,
    };
    let removable = Removable {
        what: "Knob".to_owned(),
        place: "Front".to_owned(),
        orientation: "Flat to the left".to_owned(),
        note: "With its ring".to_owned(),
    };
    let item = || "isolate/Knob".to_owned();
    let noted = |step| Deed::Noted {
        step,
        text: "A remark".to_owned(),
    };
    let deeds = [
        Deed::Opened(Box::default()),
        Deed::Amended(header.into()),
        reading(Phase::AsFound, "12.800310 MHz"),
        reading(Phase::Try, "12799.9 kHz"),
        reading(Phase::AsLeft, "12.8000000 MHz"),
        Deed::Ticked {
            step: id("isolate"),
        },
        Deed::Answered {
            step: id("cores"),
            answer: Finding::Altered,
            note: "C223".to_owned(),
        },
        noted(Some(id("cores"))),
        noted(None),
        Deed::Waived {
            step: id("narrow-fm"),
            reason: "Not agreed".to_owned(),
        },
        Deed::Reading {
            step: id("ref-osc"),
            phase: Phase::AsLeft,
            value: "12.8000000 MHz".parse().unwrap(),
            tool: Some(Tool::Out),
            repeat: true,
            heard: None,
        },
        Deed::Reading {
            step: id("ref-osc"),
            phase: Phase::AsLeft,
            value: "12.8000001 MHz".parse().unwrap(),
            tool: None,
            repeat: false,
            heard: Some(Box::new(Heard {
                input: "Bench interface".to_owned(),
                measure: Measure::Carrier,
                weighting: Weighting::Whole,
                window: 1000,
                rate: 44_100,
                count: 5,
                standard: "0.02 Hz".parse().unwrap(),
                span: Some(Span {
                    from: "28500000 Hz".parse().unwrap(),
                    to: "28501000 Hz".parse().unwrap(),
                }),
                into: Some("8 Ω".parse().unwrap()),
            })),
        },
        Deed::Struck {
            step: id("ref-osc"),
            reading: id("e2"),
            reason: "Slip".to_owned(),
        },
        Deed::CrossRead {
            step: id("bias-driver"),
            value: "0.68 V".parse().unwrap(),
        },
        Deed::PinRead {
            step: id("acc-socket"),
            pin: id("3"),
            state: id("AM"),
            value: "8.0 V".parse().unwrap(),
        },
        Deed::WaitBegun {
            step: id("warm-up"),
        },
        Deed::PassBegun {
            step: id("warm-up"),
        },
        Deed::Paused,
        Deed::TakenOff {
            step: Some(id("cores")),
            item: removable,
        },
        Deed::PutBack { item: item() },
        Deed::StaysOff {
            item: item(),
            reason: "Lost".to_owned(),
        },
        Deed::Changed {
            first: None,
            step: Some(id("audio-cap")),
            change: Change {
                out: "Old".to_owned(),
                fitted: "New".to_owned(),
                why: "Worn".to_owned(),
                agreed: Reply::Yes,
                reversible: Reply::Yes,
                touches_approval: Reply::NotAsked,
                price: "0.35".parse().ok(),
                part: Some(id("e33")),
                substitution: Some(Box::new(substitution())),
            }
            .into(),
        },
        Deed::Undone { event: id("e3") },
        Deed::Photographed {
            picture: picture().digest().clone(),
            when: Moment::Found,
            note: "Scorched".to_owned(),
            step: Some(id("cores")),
        },
        Deed::Photographed {
            picture: picture().digest().clone(),
            when: Moment::Left,
            note: String::new(),
            step: None,
        },
        Deed::PhotoRemoved { photo: id("e20") },
        Deed::SignedOff {
            by: "Bench 1".to_owned(),
            remarks: "As built".to_owned(),
        },
        Deed::Reopened {
            reason: "Came back".to_owned(),
        },
        Deed::TookOn {
            procedure: Box::new(taken_on()),
        },
        Deed::FaultNoted {
            first: None,
            record: Box::new(fault()),
        },
        Deed::FaultNoted {
            first: Some(id("e29")),
            record: Box::default(),
        },
        Deed::PartNoted {
            first: None,
            part: Box::new(PartRecord {
                what: "Electrolytic".to_owned(),
                number: "EL-470".to_owned(),
                count: 2,
                price: "0.35".parse().ok(),
                state: PartState::Ordered,
                note: "From the club’s stock".to_owned(),
            }),
        },
        Deed::PartNoted {
            first: Some(id("e31")),
            part: Box::default(),
        },
        Deed::OwnerAsked {
            question: "Renew it?".to_owned(),
        },
        Deed::OwnerAnswered {
            asked: id("e33"),
            answer: "Yes".to_owned(),
        },
        Deed::Collected {
            by: "The owner".to_owned(),
        },
        Deed::AddedStep {
            added: Box::new(own_step()),
        },
        Deed::PathNoted {
            first: None,
            stop: Some(id("load")),
            path: Box::new(signal_path()),
        },
        Deed::PathNoted {
            first: Some(id("e37")),
            stop: None,
            path: Box::new(signal_path()),
        },
        Deed::Looked {
            look: Box::new(Look {
                at: look_at(),
                showed: Showed::Otherwise,
                note: "Very weak".to_owned(),
            }),
        },
        Deed::Changed {
            first: Some(id("e20")),
            step: None,
            change: Box::default(),
        },
        Deed::PaperKept {
            paper: Box::new(paper()),
        },
        changed(PaperChange::Titled("Whole circuit".to_owned())),
        changed(PaperChange::Pinned(pinned(PaperSpot::TestPoint(id("TP1"))))),
        changed(PaperChange::Unpinned(PaperSpot::Adjuster(id("C221")))),
        changed(PaperChange::Removed),
        Deed::SoundKept {
            sound: sound().digest().clone(),
            step: id("ref-osc"),
            reading: id("e3"),
        },
        Deed::SoundRemoved { sound: id("e46") },
    ];
    let events = deeds.into_iter().enumerate().map(|(index, did)| Event {
        id: id(&format!("e{index}")),
        seq: index as u64 + 1,
        at: 1_767_225_600_000 + index as i64,
        did,
    });
    Job {
        id: id("job-1"),
        procedure: trainer().into(),
        log: Log::from_events(events).unwrap(),
    }
}

fn changed(change: PaperChange) -> Deed {
    let paper = pdf().digest().clone();
    Deed::PaperChanged { paper, change }
}

/// A pin on a further page.
pub fn pinned(of: PaperSpot) -> PaperPin {
    PaperPin {
        of,
        page: 2,
        x: 2_500,
        y: 7_500,
    }
}

/// A circuit diagram with a pin of each kind.
pub fn paper() -> Paper {
    Paper {
        paper: pdf().digest().clone(),
        title: "Circuit diagram".to_owned(),
        pins: vec![
            PaperPin {
                page: 1,
                ..pinned(PaperSpot::Adjuster(id("C221")))
            },
            pinned(PaperSpot::Socket("Accessory socket".to_owned())),
        ],
    }
}

/// Two samples of sound.
pub fn sound() -> Picture {
    Picture::of(wav::written(&[0.5, -0.5], 8_000)).unwrap()
}

/// The least that begins like a PDF.
pub fn pdf() -> Picture {
    Picture::of(b"%PDF-1.4 and so on".to_vec()).unwrap()
}

/// A procedure that a job takes on.
pub fn taken_on() -> Procedure {
    let mut procedure = Procedure::new(id("look-over"), "Look over");
    procedure.sections = vec![Section {
        title: "Outside".to_owned(),
        steps: vec![Step::new(id("case"), "Look at the case", Work::Inspect)],
    }];
    procedure
}

/// A path of two stages, with all that is said of one.
pub fn signal_path() -> SignalPath {
    let check = |shows, effort| CheckPoint {
        shows,
        what: "Signal after it".to_owned(),
        at: "TP7".to_owned(),
        expect: "About a volt".to_owned(),
        limit: Some(Tolerance::AtLeast("1.0 V".parse().unwrap())),
        effort,
    };
    let stage = |name: &str, chance, checks| Stage {
        id: id(name),
        name: name.to_owned(),
        chance,
        checks,
    };
    SignalPath {
        title: "Transmitter".to_owned(),
        lead: "Key it shortly".to_owned(),
        caution: "Hands off the socket".to_owned(),
        mode: "FM".to_owned(),
        channel: "20".to_owned(),
        signal: Some(Signal::Tx),
        confirm: "The dummy load is on.".to_owned(),
        stages: vec![
            stage(
                "driver",
                Chance::Often,
                vec![
                    check(Reach::Through, Effort::Much),
                    check(Reach::Bias, Effort::OutOfReach),
                ],
            ),
            stage(
                "output",
                Chance::Seldom,
                vec![check(Reach::Alone, Effort::Some)],
            ),
        ],
    }
}

fn look_at() -> LookAt {
    LookAt {
        path: id("e37"),
        check: CheckName {
            stage: id("driver"),
            shows: Reach::Through,
        },
    }
}

/// A fault that was followed to its end.
pub fn fault() -> FaultRecord {
    FaultRecord {
        of: FaultOf::Bench,
        seen: "No output".to_owned(),
        place: "Driver".to_owned(),
        cause: "C47 open".to_owned(),
        cure: "C47 replaced".to_owned(),
        outcome: Outcome::Cured,
        shown_by: vec![id("ref-osc")],
        proved_by: vec![id("ref-osc")],
    }
}

/// A step that no procedure has.
pub fn own_step() -> OwnStep {
    let typed = TypedStep {
        title: "Rail at the driver".to_owned(),
        at: "R47".to_owned(),
        scale: "V".parse().ok(),
        limit: "8.5 to 9.5".to_owned(),
        mode: "FM".to_owned(),
        ..TypedStep::default()
    };
    let needs = vec![id("isolate")];
    let step = typed.read(id("own-1"), needs, DecimalSign::Point);
    OwnStep {
        look: Some(look_at()),
        ..step.unwrap()
    }
}

/// Everything that a device can hold.
pub fn backup() -> Backup {
    let preferences = Preferences {
        decimal_sign: DecimalSign::Comma,
        technician: "Bench 1".to_owned(),
        tone: true,
        show_time: true,
        currency: "EUR".to_owned(),
        rate: "48.00".parse().ok(),
    };
    Backup {
        channels: trainer().channels.into_iter().collect(),
        unread: vec![halfturn::exchange::Unread {
            key: "halfturn:job:damaged".to_owned(),
            why: "it ends in the middle".to_owned(),
            text: "{\"procedure\":".to_owned(),
        }],
        ..Backup::of(preferences, kit(), vec![trainer()], vec![job()])
    }
}

/// One grey dot.
pub const GREY: &[u8] = include_bytes!("grey.png");

/// A picture.
pub fn picture() -> Picture {
    Picture::of(GREY.to_vec()).unwrap()
}
