//! Procedures as they are written: typed, read, edited, checked and compared.

mod support;

use halfturn::authoring::draft::{
    ComparisonKind, Draft, DraftCrossCheck, DraftStep, read_margin, read_tolerance, typed_tolerance,
};
use halfturn::authoring::edit::{List, NameFault};
use halfturn::authoring::{
    Gravity, Kind, Remark, TargetKind, differences, differences_of_draft, edit, remarks,
};
use halfturn::exchange::demo;
use halfturn::procedure::{Control, Field, Place, Procedure, Removable, Signal, faults};
use halfturn::quantity::DecimalSign::{self, Comma, Point};
use halfturn::quantity::Scale;
use proptest::prelude::*;
use support::id;

fn trainer() -> Procedure {
    demo::procedure().expect("the demo is sound")
}

fn draft() -> Draft {
    Draft::of(&trainer(), Point)
}

fn scale(text: &str) -> Scale {
    text.parse().expect("a scale")
}

fn hard(draft: &Draft) -> Vec<String> {
    let all = remarks(draft, &[], Point);
    let faults = all.into_iter().filter(|r| r.gravity == Gravity::Fault);
    faults.map(|r| r.sentence).collect()
}

#[test]
fn a_procedure_survives_being_typed_and_read_with_either_decimal_sign() {
    for sign in [Point, Comma] {
        let whole = trainer();
        let (read, unread) = Draft::of(&whole, sign).read(sign);
        assert_eq!(unread, []);
        assert_eq!(read.revision, whole.revision + 1);
        assert_eq!(
            Procedure {
                revision: whole.revision,
                ..read
            },
            whole
        );
    }
}

#[test]
fn behind_the_highest_revision_there_is_none_and_that_is_said() {
    let last = Draft {
        from: u32::MAX,
        ..draft()
    };
    assert_eq!(last.read(Point).0.revision, u32::MAX);
    assert_eq!(
        hard(&last),
        [
            "No revision can follow 4294967295, the highest number there is: make a copy, which counts from 1 again"
        ]
    );
    let last_but_one = Draft {
        from: u32::MAX - 1,
        ..draft()
    };
    assert_eq!(last_but_one.read(Point).0.revision, u32::MAX);
    assert_eq!(hard(&last_but_one), [""; 0]);
}

#[test]
fn every_kind_of_step_and_target_survives_being_typed() {
    let text = include_str!("every_step.json");
    let steps: Vec<halfturn::procedure::Step> = serde_json::from_str(text).expect("steps");
    let whole = Procedure {
        sections: vec![halfturn::procedure::Section {
            title: "All".to_owned(),
            steps,
        }],
        ..trainer()
    };
    for sign in [Point, Comma] {
        let (read, unread) = Draft::of(&whole, sign).read(sign);
        assert_eq!(unread, []);
        assert_eq!(read.sections, whole.sections);
    }
}

#[test]
fn a_draft_as_json_is_the_same_draft() {
    let text = serde_json::to_string(&draft()).expect("JSON");
    assert_eq!(serde_json::from_str::<Draft>(&text).expect("JSON"), draft());
}

#[test]
fn tolerances_are_read_as_they_are_typed() {
    for (text, scale_text) in [
        ("9.0015 MHz ± 20 Hz", "MHz"),
        ("50 mA + 2 mA - 10 mA", "mA"),
        ("7.5 V ± 5 %", "V"),
        ("9 MHz ± 10 ppm", "MHz"),
        ("30 % ± 2 %", "%"),
        ("30 % ± 5 % of it", "%"),
        ("-20 dBm ± 1 dB", "dBm"),
        ("20 W ± 1 dB", "W"),
        ("0.5 V + 1 dB - 3 dB", "V"),
        ("at least 4 W", "W"),
        ("at most -40 dBc", "dBc"),
        ("3 V to 5.5 V", "V"),
    ] {
        let read = read_tolerance(text, scale(scale_text), Point).expect(text);
        assert_eq!(typed_tolerance(&read, Point), text);
    }
}

#[test]
fn a_bare_tolerance_is_refused_where_it_could_mean_two_things() {
    assert!(read_margin("20", scale("MHz"), Point).is_err());
    assert!(read_margin("", scale("MHz"), Point).is_err());
    assert!(read_margin("1", scale("dBm"), Point).is_ok());
    assert!(read_margin("±20 Hz", scale("MHz"), Point).is_ok());
}

#[test]
fn renaming_reaches_every_reference() {
    let mut changed = draft();
    let used = edit::uses(&changed, List::Adjusters, "C222");
    assert!(used > 0);
    let place = |names: Vec<String>, name: &str| names.iter().position(|n| n == name).expect(name);
    for (list, from, to) in [
        (List::Adjusters, "C222", "VC7"),
        (List::TestPoints, "TP301", "A 3"),
        (List::Instruments, "counter", "frequency counter"),
    ] {
        let before = edit::uses(&changed, list, from);
        let index = place(list.names(&changed), from);
        edit::rename(&mut changed, list, index, to).expect(to);
        assert_eq!(edit::uses(&changed, list, to), before, "{to}");
        assert_eq!(edit::uses(&changed, list, from), 0, "{from}");
    }
    let (read, unread) = changed.read(Point);
    assert_eq!((unread, faults(&read)), (vec![], vec![]));
    let plan = serde_json::to_string(&read.plan).expect("JSON");
    assert!(plan.contains("VC7") && !plan.contains("C222"));
}

#[test]
fn a_name_is_taken_once_and_never_empty() {
    let mut draft = draft();
    let before = draft.clone();
    let taken = edit::rename(&mut draft, List::Adjusters, 0, " L103 ");
    assert_eq!(taken, Err(NameFault::Taken("L103".to_owned())));
    assert!(matches!(
        edit::rename(&mut draft, List::TestPoints, 0, "  "),
        Err(NameFault::Unfit(_))
    ));
    assert!(edit::add(&mut draft, List::Instruments, "counter").is_err());
    assert_eq!(draft, before);
}

#[test]
fn a_new_step_goes_on_from_the_one_above() {
    let mut draft = draft();
    let above = draft.steps().nth(30).expect("a step").clone();
    let fresh = edit::add_step_below(&mut draft, &above.id).expect("a step");
    assert_eq!(draft.number_of(&fresh), Some(32));
    let step = draft.step(&fresh).expect("it");
    assert_eq!(step.controls, above.controls);
    assert_eq!(
        (&step.mode, &step.channel, step.signal),
        (&above.mode, &above.channel, above.signal)
    );
    assert_eq!((&step.with, step.scale), (&above.with, above.scale));
    assert_eq!(step.title, "");
}

#[test]
fn steps_move_within_and_between_sections() {
    let mut draft = Draft::blank(id("p"));
    let ids: Vec<_> = (0..3)
        .map(|_| edit::add_step(&mut draft, 0).expect("a step"))
        .collect();
    let order = |draft: &Draft| -> String {
        let section = |s: &halfturn::authoring::draft::DraftSection| -> String {
            let numbers = s.steps.iter().map(|step| {
                ids.iter()
                    .position(|id| *id == step.id)
                    .map_or("x".to_owned(), |n| n.to_string())
            });
            numbers.collect()
        };
        draft
            .sections
            .iter()
            .map(section)
            .collect::<Vec<_>>()
            .join("|")
    };
    edit::nudge_step(&mut draft, &ids[2], false);
    assert_eq!(order(&draft), "021");
    edit::split_section(&mut draft, &ids[2], "Second");
    assert_eq!(order(&draft), "0|21");
    edit::nudge_step(&mut draft, &ids[2], false);
    assert_eq!(order(&draft), "02|1");
    edit::nudge_step(&mut draft, &ids[2], true);
    assert_eq!(order(&draft), "0|21");
    edit::move_step(&mut draft, &ids[0], 1, 9);
    assert_eq!(order(&draft), "|210");
    edit::nudge_section(&mut draft, 0, true);
    assert_eq!(order(&draft), "210|");
    edit::duplicate_step(&mut draft, &ids[1]);
    assert_eq!(order(&draft), "21x0|");
    edit::remove_section(&mut draft, 0);
    assert_eq!(order(&draft), "21x0");
    edit::remove_step(&mut draft, &ids[2]);
    assert_eq!(order(&draft), "1x0");
    edit::remove_section(&mut draft, 0);
    assert_eq!(order(&draft), "1x0", "the last section stays");
}

#[test]
fn a_blank_draft_says_what_it_lacks() {
    let mut draft = Draft::blank(id("p"));
    assert_eq!(hard(&draft).len(), 2, "no title, no steps");
    let step = edit::add_step(&mut draft, 0).expect("a step");
    draft.steps_mut().for_each(|s| {
        s.title = "Carrier".to_owned();
        s.kind = Kind::Set;
    });
    draft.title = "Mine".to_owned();
    let said = hard(&draft).join("\n");
    for part in ["no test point", "no instrument", "no adjuster"] {
        assert!(said.contains(part), "{said}");
    }
    assert!(draft.step(&step).is_some());
}

#[test]
fn a_target_in_the_wrong_unit_is_said_at_its_step() {
    let mut draft = draft();
    let number = {
        let step = draft
            .steps_mut()
            .find(|s| s.kind == Kind::Set)
            .expect("one");
        step.target.kind = TargetKind::AtLeast;
        step.target.value = "4 furlongs".to_owned();
        step.id.clone()
    };
    let number = draft.number_of(&number).expect("it");
    let all = remarks(&draft, &[], Point);
    let places: Vec<_> = all
        .iter()
        .filter(|r| r.gravity == Gravity::Fault)
        .map(|r| r.place.clone())
        .collect();
    assert_eq!(places, [Place::Step(number)], "{all:?}");
}

#[test]
fn the_demo_has_no_faults_as_a_draft() {
    assert_eq!(hard(&draft()), Vec::<String>::new());
}

fn advised(draft: &Draft, part: &str) -> Vec<Remark> {
    let kit = demo::kit().expect("the demo's kit");
    let all = remarks(draft, &kit, Point);
    let found = all.into_iter().filter(|r| r.gravity == Gravity::Advice);
    found.filter(|r| r.sentence.contains(part)).collect()
}

#[test]
fn an_adjuster_that_nobody_turns_is_told() {
    let mut draft = draft();
    assert_eq!(advised(&draft, "No step turns").len(), 0);
    edit::add(&mut draft, List::Adjusters, "L999").expect("free");
    let found = advised(&draft, "L999");
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].place, Place::Parts);
}

#[test]
fn transmitting_with_no_stop_before_is_told() {
    let mut draft = draft();
    assert_eq!(advised(&draft, "no hold point before it").len(), 0);
    let first = draft.steps_mut().next().expect("a step");
    first.signal = Some(Signal::Tx);
    assert_eq!(advised(&draft, "no hold point before it").len(), 1);
}

#[test]
fn a_plan_that_misses_the_channel_is_told() {
    let mut draft = draft();
    assert_eq!(advised(&draft, "misses channel").len(), 0);
    let plan = draft.plan.as_mut().expect("a plan");
    plan.modes[0].terms[0].frequency = "19.3 MHz".to_owned();
    let found = advised(&draft, "misses channel 2 by");
    assert_eq!(found.len(), 1, "channel 1 is reached, 59 are not");
    assert!(
        found[0].sentence.contains("58 more"),
        "{}",
        found[0].sentence
    );
}

#[test]
fn a_tolerance_tighter_than_the_kit_is_told() {
    let mut draft = draft();
    let tight = |d: &Draft| advised(d, "as tight as this").len();
    let before = tight(&draft);
    let step = draft
        .steps_mut()
        .find(|s| s.with == "counter" && s.target.kind == TargetKind::Around)
        .expect("one");
    step.target.margin = "0.001 Hz".to_owned();
    assert_eq!(tight(&draft), before + 1);
}

#[test]
fn a_circle_and_a_lost_stop_are_faults_of_a_draft() {
    let mut draft = draft();
    let later = draft.steps().last().expect("a step").id.clone();
    draft.steps_mut().next().expect("a step").needs = vec![later, id("nowhere")];
    let said = hard(&draft).join("\n");
    assert!(
        said.contains("circle") && said.contains("isn't there"),
        "{said}"
    );
}

/// Where something is said, from a change of the demo's draft on.
fn said_at(change: impl Fn(&mut Draft)) -> Vec<(Place, Field)> {
    let mut draft = draft();
    let kit = demo::kit().expect("the demo's kit");
    let before = remarks(&draft, &kit, Point);
    change(&mut draft);
    let after = remarks(&draft, &kit, Point).into_iter();
    after
        .filter(|remark| !before.contains(remark))
        .map(|remark| (remark.place, remark.field))
        .collect()
}

/// The number of the first step that sets something to a figure.
fn first_set(draft: &Draft) -> usize {
    let is_set = |s: &halfturn::authoring::DraftStep| {
        s.kind == Kind::Set && s.target.kind == TargetKind::Around && s.with == "counter"
    };
    draft.steps().position(is_set).expect("one") + 1
}

type Change = fn(&mut halfturn::authoring::DraftStep);

#[test]
fn whatever_is_said_of_a_step_is_said_at_its_field() {
    let number = first_set(&draft());
    let changes: [(Change, Field); 15] = [
        (|s| s.known = None, Field::Basis),
        (|s| s.source.clear(), Field::Basis),
        (|s| s.title.clear(), Field::Title),
        (|s| s.at.clear(), Field::At),
        (|s| s.at = "TP999".to_owned(), Field::At),
        (|s| s.with = "crystal ball".to_owned(), Field::With),
        (|s| s.target.value = "7.5 V".to_owned(), Field::Target),
        (|s| s.target.kind = TargetKind::None, Field::Target),
        (|s| s.target.margin = "20".to_owned(), Field::Margin),
        (|s| s.target.margin = "0.001 Hz".to_owned(), Field::Margin),
        (|s| s.controls = "Clarifier".to_owned(), Field::Controls),
        (|s| s.wait = "a while".to_owned(), Field::Wait),
        (|s| s.settles = "5".to_owned(), Field::Settles),
        (|s| s.needs = vec![id("nowhere")], Field::Needs),
        (
            |s| s.cross_check = Some(DraftCrossCheck::blank(s.scale)),
            Field::CrossCheck,
        ),
    ];
    for (change, field) in changes {
        let said = said_at(|draft| change(draft.steps_mut().nth(number - 1).expect("it")));
        let here = said
            .iter()
            .all(|place| *place == (Place::Step(number), field));
        assert!(here && !said.is_empty(), "{field:?}: {said:?}");
    }
}

#[test]
fn what_a_limit_rests_on_goes_with_it() {
    let number = first_set(&draft());
    for kind in [Kind::Inspect, Kind::Tick, Kind::Read] {
        let mut draft = draft();
        let step = draft.steps_mut().nth(number - 1).expect("it");
        // Typed for a limit that the step states no more: no field shows it.
        step.kind = kind;
        step.target.kind = TargetKind::None;
        (step.known, step.source) = (None, "Handbook, table 3".to_owned());
        let said = remarks(&draft, &[], Point);
        let at_basis = said.iter().filter(|remark| remark.field == Field::Basis);
        assert_eq!(at_basis.count(), 0, "{kind:?}");
        let read = draft
            .read(Point)
            .0
            .steps()
            .nth(number - 1)
            .expect("it")
            .clone();
        assert_eq!(read.basis, None, "{kind:?}");
    }
}

#[test]
fn a_step_without_its_adjuster_leaves_one_that_nobody_turns() {
    let number = first_set(&draft());
    let said = said_at(|draft| {
        let step = draft.steps_mut().nth(number - 1).expect("it");
        step.adjuster.clear();
    });
    let wanted = [
        (Place::Step(number), Field::Adjuster),
        (Place::Parts, Field::Adjusters),
    ];
    assert_eq!(said, wanted);
}

type WholeChange = fn(&mut Draft);

#[test]
fn whatever_is_said_of_the_whole_is_said_at_its_field() {
    let changes: [(WholeChange, Place, Field); 4] = [
        (|d| d.title.clear(), Place::Whole, Field::Title),
        (
            |d| d.adjusters.push(d.adjusters[0].clone()),
            Place::Whole,
            Field::Adjusters,
        ),
        (
            |d| d.chases[0].steps.truncate(1),
            Place::Whole,
            Field::Chases,
        ),
        (
            |d| {
                let plan = d.plan.as_mut().expect("a plan");
                plan.modes[0].terms[1].frequency = "nine".to_owned();
            },
            Place::Whole,
            Field::Plan,
        ),
    ];
    for (change, place, field) in changes {
        let said = said_at(change);
        assert!(said.contains(&(place, field)), "{field:?}: {said:?}");
    }
}

#[test]
fn a_field_has_a_short_name_of_its_own() {
    for field in Field::ALL {
        assert_eq!(Field::of(field.key()), Some(field));
    }
}

#[test]
fn an_oscillator_is_added_and_renamed_everywhere() {
    let mut draft = Draft::blank(id("p"));
    let step = edit::add_step(&mut draft, 0).expect("a step");
    edit::add_oscillator(&mut draft, "USB", "VFO");
    edit::add_oscillator(&mut draft, "USB", "carrier");
    edit::add_oscillator(&mut draft, "LSB", "VFO");
    draft
        .steps_mut()
        .for_each(|s| s.target.oscillator = "VFO".to_owned());
    let plan = draft.plan.clone().expect("a plan");
    assert_eq!(plan.oscillators(), ["VFO", "carrier"]);
    assert_eq!(plan.modes.len(), 2);
    edit::rename_oscillator(&mut draft, "VFO", "synthesiser");
    let plan = draft.plan.clone().expect("a plan");
    assert_eq!(plan.oscillators(), ["synthesiser", "carrier"]);
    let named = draft.step(&step).map(|s| s.target.oscillator.clone());
    assert_eq!(named.as_deref(), Some("synthesiser"));
}

#[test]
fn a_plan_is_read_as_it_is_typed() {
    let mut draft = draft();
    let term = |draft: &mut Draft, frequency: &str, factor: &str| {
        let plan = draft.plan.as_mut().expect("a plan");
        let term = &mut plan.modes[0].terms[1];
        (term.frequency, term.factor) = (frequency.to_owned(), factor.to_owned());
    };
    for (frequency, factor, said) in [
        ("9", "1", ""),
        ("9.0 MHz", "-1", ""),
        ("9.0 MHz", "\u{2212}1", ""),
        ("1: 9.1\n2: 9.2 MHz", "1", ""),
        ("", "1", ""),
        ("9 V", "1", "This is in V"),
        ("1: 9.1\nnine", "1", "should read like"),
        ("9.0 MHz", "0", "adds nothing"),
        ("9.0 MHz", "once", "no whole number"),
    ] {
        term(&mut draft, frequency, factor);
        let (_, unread) = draft.read(Point);
        let sentences: Vec<_> = unread.iter().map(|(.., s)| s.as_str()).collect();
        match said {
            "" => assert_eq!(sentences, Vec::<&str>::new(), "{frequency}"),
            said => assert!(sentences.join(" ").contains(said), "{sentences:?}"),
        }
    }
}

#[test]
fn a_second_route_is_read_as_it_is_typed() {
    for (kind, figure, fits) in [
        (ComparisonKind::Same, "", true),
        (ComparisonKind::PowerInto, "50", true),
        (ComparisonKind::PowerInto, "50 ohm", true),
        (ComparisonKind::PowerInto, "", false),
        (ComparisonKind::CurrentThrough, "0.1 Ω", true),
        (ComparisonKind::CurrentThrough, "0.1 V", false),
        (ComparisonKind::Plausible, "8.9 MHz to 9.1 MHz", true),
        (ComparisonKind::Plausible, "about right", false),
    ] {
        let mut draft = draft();
        let index = first_set(&draft) - 1;
        let step = draft.steps_mut().nth(index).expect("it");
        step.cross_check = Some(DraftCrossCheck {
            at: step.at.clone(),
            with: step.with.clone(),
            kind,
            figure: figure.to_owned(),
            ..DraftCrossCheck::blank(step.scale)
        });
        let (read, unread) = draft.read(Point);
        let step = read.steps().nth(index).expect("it");
        assert_eq!(unread.is_empty(), fits, "{kind:?} {figure}: {unread:?}");
        assert_eq!(step.cross_check.is_some(), fits, "{kind:?} {figure}");
    }
}

fn lines(was: &Draft, is: &Draft) -> Vec<String> {
    let (was, is) = (was.read(Point).0, is.read(Point).0);
    let found = differences(&was, &is, Point);
    found
        .iter()
        .map(|d| d.line().replace('\u{a0}', " "))
        .collect()
}

#[test]
fn differences_are_said_in_the_words_of_the_trade() {
    let mut was = draft();
    assert_eq!(lines(&was, &was), Vec::<String>::new());
    let step = was
        .steps_mut()
        .find(|s| s.scale == scale("MHz") && s.target.kind == TargetKind::Around)
        .expect("one");
    step.target.value = "9.0015 MHz".to_owned();
    let id = step.id.clone();
    let number = was.number_of(&id).expect("it");
    let mut is = was.clone();
    let step = is.steps_mut().find(|s| s.id == id).expect("it");
    step.target.value = "9.0013 MHz".to_owned();
    let found = lines(&was, &is);
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(
        found[0].starts_with(&format!("Target of step {number}: 9.0015 MHz")),
        "{found:?}"
    );
    assert!(found[0].contains("→ 9.0013 MHz"), "{found:?}");
}

#[test]
fn a_pin_that_is_typed_badly_is_a_pin_all_the_same() {
    let said = |pins: &str| {
        let mut draft = draft();
        let socket = draft.steps_mut().find(|step| step.kind == Kind::Socket);
        socket.expect("a socket").pins = pins.to_owned();
        let remarks = remarks(&draft, &[], Point).into_iter();
        let of_pins = remarks.filter(|remark| remark.field == Field::Pins);
        of_pins.map(|remark| remark.sentence).collect::<Vec<_>>()
    };
    let bad = said("1; Supply; Board; red; RX = 8 volts or so");
    assert_eq!(bad.len(), 1, "{bad:?}");
    assert!(bad[0].contains("8 volts or so"), "{bad:?}");
    let none = said(" \n;;");
    assert_eq!(none.len(), 1, "{none:?}");
    assert!(none[0].contains("no pins"), "{none:?}");
}

#[test]
fn what_is_only_mistyped_is_not_said_to_be_gone() {
    let revision = draft().read(Point).0;
    type Spoil = (&'static str, fn(&mut DraftStep));
    let spoils: [Spoil; 6] = [
        ("Target", |step| step.target.margin = "20 q".to_owned()),
        ("Target", |step| step.target.value = "9..5".to_owned()),
        ("Wait", |step| step.wait = "a while".to_owned()),
        ("Set-up", |step| {
            step.controls = "Clarifier centre".to_owned()
        }),
        ("Something else", |step| step.settles = "little".to_owned()),
        ("Something else", |step| {
            step.pins = "1 2; ; ; ; = 5".to_owned()
        }),
    ];
    let mut told = 0;
    for index in 0..draft().steps().count() {
        for (only, spoil) in spoils {
            let mut spoilt = draft();
            spoil(spoilt.steps_mut().nth(index).expect("it"));
            if spoilt.read(Point).1.is_empty() {
                continue;
            }
            told += 1;
            let found = differences_of_draft(&revision, &spoilt, Point);
            let lines: Vec<_> = found.iter().map(|d| d.line()).collect();
            assert_eq!(lines.len(), 1, "{lines:?}");
            let wanted = format!("{only} of step {}", index + 1);
            assert!(lines[0].starts_with(&wanted), "{wanted}: {lines:?}");
            assert_eq!(found[0].is.is_some(), only != "Something else", "{lines:?}");
        }
    }
    assert!(told > 50, "{told}");
}

#[test]
fn a_draft_that_can_be_read_differs_as_the_revision_it_becomes() {
    let revision = draft().read(Point).0;
    let mut changed = draft();
    for (index, step) in changed.steps_mut().enumerate() {
        step.title.push_str(" again");
        step.wait = (index % 7).to_string();
        step.target.margin = "7 %".to_owned();
    }
    let found = differences_of_draft(&revision, &changed, Point);
    assert!(found.len() > 80, "{found:?}");
    assert_eq!(found, differences(&revision, &changed.read(Point).0, Point));
}

#[test]
fn a_separator_in_a_name_comes_back_from_the_draft() {
    let mut procedure = draft().read(Point).0;
    let step = &mut procedure.sections[0].steps[0];
    step.set_up.controls = vec![Control {
        name: "S1: A".to_owned(),
        to: "12:00".to_owned(),
    }];
    step.takes_off = vec![Removable {
        what: "Lid; both halves".to_owned(),
        place: "C:\\".to_owned(),
        orientation: String::new(),
        note: "one; two".to_owned(),
    }];
    let (again, unread) = Draft::of(&procedure, Point).read(Point);
    assert_eq!(unread, vec![]);
    assert_eq!(again.sections, procedure.sections);
}

#[test]
fn a_step_added_removed_or_moved_is_one_difference() {
    let was = draft();
    let mut is = was.clone();
    let third = was.steps().nth(2).expect("it").id.clone();
    edit::nudge_step(&mut is, &third, true);
    let found = lines(&was, &is);
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(found[0].contains("moved: "), "{found:?}");

    let mut is = was.clone();
    edit::add_step_below(&mut is, &third);
    let found = lines(&was, &is);
    assert_eq!(found, ["Step 4 added"]);
    assert_eq!(lines(&is, &was), ["Step 4 removed"]);
}

proptest! {
    #[test]
    fn renaming_keeps_the_faults_the_same(list in 0..3_usize, index in 0..40_usize, name in "[A-Z][a-z0-9 ]{0,8}[0-9]") {
        let list = [List::Adjusters, List::TestPoints, List::Instruments][list];
        let mut changed = draft();
        let count = list.names(&changed).len();
        let before = changed.clone();
        match edit::rename(&mut changed, list, index % count, &name) {
            Ok(()) => {
                let (read, unread) = changed.read(Point);
                prop_assert_eq!(unread, vec![]);
                prop_assert_eq!(faults(&read), vec![]);
                let old = list.names(&before)[index % count].clone();
                edit::rename(&mut changed, list, index % count, &old).expect("free again");
                prop_assert_eq!(changed, before);
            }
            Err(_) => prop_assert_eq!(changed, before),
        }
    }

    #[test]
    fn moving_steps_about_loses_none(moves in prop::collection::vec((0..60_usize, 0..12_usize, 0..20_usize), 1..12)) {
        let mut changed = draft();
        let ids = |d: &Draft| { let mut all: Vec<_> = d.steps().map(|s| s.id.to_string()).collect(); all.sort(); all };
        let before = ids(&changed);
        for (step, section, index) in moves {
            let step = changed.steps().nth(step % before.len()).expect("a step").id.clone();
            edit::move_step(&mut changed, &step, section, index);
            edit::nudge_step(&mut changed, &step, index % 2 == 0);
        }
        prop_assert_eq!(ids(&changed), before);
    }

    #[test]
    fn nothing_typed_makes_reading_fall_over(value in ".{0,20}", margin in ".{0,20}", pins in ".{0,60}", comma in any::<bool>()) {
        let sign = if comma { DecimalSign::Comma } else { DecimalSign::Point };
        let mut draft = draft();
        for step in draft.steps_mut() {
            step.target.value = value.clone();
            step.target.margin = margin.clone();
            step.pins = pins.clone();
            step.controls = pins.clone();
        }
        let _ = remarks(&draft, &[], sign);
    }
}
