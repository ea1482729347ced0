//! The demo holds: its procedure is sound and safe, its frequency plan adds up to the hertz,
//! and its half-done job could have been done in that order.

use bigdecimal::BigDecimal;
use halfturn::exchange::{Document, demo, read, write};
use halfturn::job::guidance::advice::{self, KnownBy};
use halfturn::job::{Finding, Header, Job, Phase, Status, UsedInstrument, kit_check};
use halfturn::metrology::decision::{Rule, Statement};
use halfturn::metrology::instrument::{Ability, Instrument};
use halfturn::metrology::{Margin, Tolerance};
use halfturn::procedure::{Gauge, Id, Procedure, Setting, Signal, Step, Target, Work, faults};
use halfturn::quantity::{Quantity, Unit};
use halfturn::radio::channels::Channel;
use std::collections::{BTreeSet, HashSet};

const TRAINER: &str = include_str!("../src/exchange/demo/trainer.json");
const KIT: &str = include_str!("../src/exchange/demo/kit.json");

fn trainer() -> Procedure {
    match read(TRAINER) {
        Ok(Document::Procedure(procedure)) => procedure,
        other => panic!("{other:?}"),
    }
}

fn id(text: &str) -> Id {
    text.parse().unwrap()
}

fn hertz(text: &str) -> BigDecimal {
    let quantity: Quantity = text.parse().unwrap();
    assert_eq!(quantity.unit(), Unit::Hertz);
    quantity.base()
}

fn channel_of<'a>(procedure: &'a Procedure, name: &str) -> &'a Channel {
    procedure.channels.as_ref().unwrap().channel(name).unwrap()
}

fn step<'a>(procedure: &'a Procedure, name: &str) -> &'a Step {
    procedure.step(&id(name)).unwrap()
}

/// Where a step's reading must lie, when the steps that it hangs on are left where they aim.
fn tolerance(procedure: &Procedure, name: &str) -> Tolerance {
    let aimed_at = |to: &Id| tolerance(procedure, to.as_str()).nominal().cloned();
    let known = procedure.tolerance(step(procedure, name), aimed_at);
    known
        .unwrap_or_else(|| panic!("{name} has no target"))
        .unwrap_or_else(|fault| panic!("{name}: {fault}"))
}

/// What a step aims at, in the unit without prefix.
fn aim(procedure: &Procedure, name: &str) -> BigDecimal {
    tolerance(procedure, name).nominal().unwrap().base()
}

/// How far from its aim a step may be left, to the worse side, in the unit without prefix.
fn slack(procedure: &Procedure, name: &str) -> BigDecimal {
    let aim = aim(procedure, name);
    let limits = tolerance(procedure, name).limits();
    let (low, high) = (limits.low.unwrap(), limits.high.unwrap());
    (&aim - low).max(high - &aim)
}

#[test]
fn the_trainer_is_sound_and_is_written_as_it_was_read() {
    let procedure = trainer();
    assert_eq!(faults(&procedure), []);
    assert_eq!(procedure.steps().count(), 56);
    assert!((7..=9).contains(&procedure.sections.len()));
    assert_eq!(write(&Document::Procedure(procedure)), TRAINER);
}

#[test]
fn the_trainer_uses_every_kind_of_step_tolerance_margin_and_adjuster() {
    let procedure = trainer();
    let kinds: BTreeSet<&str> = procedure.steps().map(|step| step.work.kind()).collect();
    assert_eq!(
        kinds.into_iter().collect::<Vec<_>>(),
        [
            "dip",
            "fit",
            "inspect",
            "peak",
            "read",
            "repeat",
            "set to target",
            "socket",
            "stop",
            "tick",
            "wire"
        ]
    );
    let mut seen = BTreeSet::new();
    let mut see_margins = |below: &Margin, above: &Margin| {
        seen.insert(match below {
            Margin::Absolute(_) => "absolute",
            Margin::Percent(_) => "percent",
            Margin::Ppm(_) => "ppm",
        });
        if below != above {
            seen.insert("asymmetric");
        }
    };
    let targets = || procedure.steps().filter_map(|step| step.work.target());
    for target in targets() {
        match target {
            Target::Fixed(Tolerance::Around { below, above, .. })
            | Target::Relative { below, above, .. }
            | Target::Oscillator { below, above, .. }
            | Target::Channel { below, above } => see_margins(below, above),
            Target::Fixed(_) | Target::Limit { .. } => {}
        }
    }
    for target in targets() {
        seen.insert(match target {
            Target::Fixed(Tolerance::Around { .. }) => "around",
            Target::Fixed(Tolerance::AtLeast(_)) => "at least",
            Target::Fixed(Tolerance::AtMost(_)) => "at most",
            Target::Fixed(Tolerance::Between { .. }) => "between",
            Target::Relative { offset, .. } if offset.unit() == Unit::Decibel => "relative in dB",
            Target::Relative { .. } => "relative",
            Target::Oscillator { .. } => "by the plan",
            Target::Channel { .. } => "by the channel",
            Target::Limit { .. } => "by a published limit",
        });
    }
    assert_eq!(
        seen.into_iter().collect::<Vec<_>>(),
        [
            "absolute",
            "around",
            "asymmetric",
            "at least",
            "at most",
            "between",
            "by the channel",
            "by the plan",
            "percent",
            "ppm",
            "relative",
            "relative in dB"
        ]
    );
}

#[test]
fn the_trainer_uses_everything_that_a_step_may_carry() {
    let procedure = trainer();
    let some = |has: fn(&Step) -> bool| procedure.steps().any(has);
    assert!(some(|step| !step.needs.is_empty()));
    assert!(some(|step| !step.takes_off.is_empty()));
    assert!(some(|step| !step.puts_back.is_empty()));
    assert!(some(|step| step.wait.is_some()));
    assert!(some(|step| step.settles.is_some()));
    assert!(some(|step| step.shares_null_with.is_some()));
    assert!(some(|step| step.cross_check.is_some()));
    assert!(some(|step| !step.set_up.settings.is_empty()));
    assert!(some(|step| matches!(
        &step.work,
        Work::Stop { reads: Some(_), .. }
    )));
    assert!(some(|step| step
        .work
        .gauge()
        .is_some_and(|gauge| gauge.path.is_some())));
    assert!(procedure.tables.len() > 1);
    assert!(!procedure.chases.is_empty());
    assert!(procedure.adjusters.iter().any(|a| !a.disturbs.is_empty()));
}

#[test]
fn whatever_the_trainer_takes_off_goes_back() {
    let procedure = trainer();
    let back: Vec<&String> = procedure.steps().flat_map(|step| &step.puts_back).collect();
    for item in procedure.steps().flat_map(|step| &step.takes_off) {
        assert!(back.contains(&&item.what), "{}", item.what);
    }
}

#[test]
fn whatever_is_listed_is_used() {
    let procedure = trainer();
    let gauges = || {
        procedure.steps().flat_map(|step| {
            let second = step.cross_check.as_ref().map(|check| &check.gauge);
            step.work.gauge().into_iter().chain(second)
        })
    };
    let probed: HashSet<&Id> = gauges().map(|gauge| &gauge.at).collect();
    for point in &procedure.test_points {
        assert!(probed.contains(&point.id), "{}", point.id);
    }
    let turned: HashSet<&Id> = procedure
        .steps()
        .filter_map(|step| step.work.adjuster())
        .collect();
    for adjuster in &procedure.adjusters {
        // Links are opened on the way to another adjustment; the text says so.
        let named = procedure
            .steps()
            .any(|step| step.text.contains(adjuster.id.as_str()));
        assert!(turned.contains(&adjuster.id) || named, "{}", adjuster.id);
    }
    for step in procedure.steps() {
        if let Some(adjuster) = step.work.adjuster() {
            assert!(step.text.contains(adjuster.as_str()), "{}", step.id);
        }
    }
}

#[test]
fn on_every_mode_synthesiser_and_carrier_make_the_channel() {
    let procedure = trainer();
    let channel = hertz("28.300 MHz");
    for mode in ["am", "usb", "lsb"] {
        let synthesiser = aim(&procedure, &format!("synth-{mode}"));
        let carrier = aim(&procedure, &format!("car-{mode}"));
        assert_eq!(synthesiser + carrier, channel, "{mode}");
    }
    // The tone of 1 kHz lies above the suppressed carrier on USB, below it on LSB.
    let tone = hertz("1 kHz");
    assert_eq!(aim(&procedure, "air-am"), channel);
    assert_eq!(aim(&procedure, "air-fm"), channel);
    assert_eq!(aim(&procedure, "air-usb"), &channel + &tone);
    assert_eq!(aim(&procedure, "air-lsb"), &channel - &tone);
}

#[test]
fn the_carriers_stand_at_the_edges_of_one_filter() {
    let procedure = trainer();
    let usb = aim(&procedure, "car-usb");
    let lsb = aim(&procedure, "car-lsb");
    let centre = aim(&procedure, "car-am");
    assert_eq!(usb, hertz("8.9985 MHz"));
    assert_eq!(lsb, hertz("9.0015 MHz"));
    assert_eq!(usb + lsb, &centre * BigDecimal::from(2));
    assert_eq!(centre, hertz("9 MHz"));
}

#[test]
fn the_loop_adds_whole_steps_to_the_offset_crystals() {
    let procedure = trainer();
    let loop_steps = hertz("10 kHz") * BigDecimal::from(220);
    for (mode, trimmer) in [("am", "C221"), ("usb", "C222"), ("lsb", "C223")] {
        let note = &procedure.adjuster(&id(trimmer)).unwrap().note;
        let crystal = hertz(note.rsplit_once(", ").unwrap().1);
        let sum = crystal + &loop_steps;
        assert_eq!(sum, aim(&procedure, &format!("synth-{mode}")), "{mode}");
    }
    for (mode, trimmer) in [("am", "C311"), ("usb", "C312"), ("lsb", "C313")] {
        let note = &procedure.adjuster(&id(trimmer)).unwrap().note;
        let crystal = hertz(note.rsplit_once(", ").unwrap().1);
        assert_eq!(crystal, aim(&procedure, &format!("car-{mode}")), "{mode}");
    }
    // A step of the loop is a whole part of the reference.
    let parts = aim(&procedure, "ref-osc") / hertz("10 kHz");
    assert_eq!(parts, BigDecimal::from(1280));
}

#[test]
fn every_oscillator_and_adjuster_of_the_plan_has_its_step() {
    let procedure = trainer();
    let plan = procedure.plan.as_ref().unwrap();
    let modes: Vec<&str> = plan.modes.iter().map(|mode| mode.name.as_str()).collect();
    assert_eq!(modes, ["AM", "FM", "USB", "LSB"]);
    for mode in &plan.modes {
        for term in &mode.terms {
            let set = procedure.steps().find(|step| {
                let adjusts = step.work.adjuster().map(Id::as_str);
                let target = step.work.target();
                adjusts == Some(&term.adjuster)
                    && matches!(target, Some(Target::Oscillator { name, .. }) if *name == term.oscillator)
            });
            assert!(set.is_some(), "{}: {}", mode.name, term.oscillator);
        }
        // On every channel the sum of the targets is the channel.
        for channel in &procedure.channels.as_ref().unwrap().channels {
            let target = |name| mode.target(name, channel).unwrap();
            let sum = target("synthesiser") + target("carrier");
            assert_eq!(sum, channel.frequency.base(), "{}", channel.name);
        }
    }
}

#[test]
fn a_set_left_inside_everywhere_is_inside_on_the_air() {
    let procedure = trainer();
    let sum =
        |steps: &[&str]| -> BigDecimal { steps.iter().map(|name| slack(&procedure, name)).sum() };
    // 220 steps of the loop follow the reference.
    let reference = slack(&procedure, "ref-osc") * hertz("2.2 MHz") / hertz("12.8 MHz");
    for (air, parts) in [
        ("air-am", ["synth-am", "car-am"]),
        ("air-usb", ["synth-usb", "car-usb"]),
        ("air-lsb", ["synth-lsb", "car-lsb"]),
    ] {
        let worst = sum(&parts) + &reference;
        assert!(worst <= slack(&procedure, air), "{air}: {worst}");
    }
}

#[test]
fn the_image_and_the_harmonics_are_where_the_text_says() {
    let procedure = trainer();
    let synthesiser = aim(&procedure, "synth-am");
    let between = aim(&procedure, "car-am");
    let channel = &synthesiser + &between;
    let image = &synthesiser - &between;
    assert_eq!(image, &channel - &between * BigDecimal::from(2));
    let mhz = |frequency: &BigDecimal, places: i64| {
        let mega = (frequency / hertz("1 MHz")).with_scale(places);
        format!("{} MHz", mega.to_plain_string())
    };
    let step_image = step(&procedure, "image");
    for text in [&step_image.text, &step_image.set_up.controls[1].to] {
        assert!(text.contains(&mhz(&channel, 3)), "{text}");
        assert!(text.contains(&mhz(&image, 3)), "{text}");
    }
    assert_eq!(mhz(&image, 3), "10.300 MHz");
    let first = channel_of(&procedure, "1");
    let mode = procedure.plan.as_ref().unwrap().mode("AM").unwrap();
    let responses = mode.responses(first).unwrap();
    assert_eq!(responses.image, image);
    assert_eq!(responses.intermediate, between);
    let harmonics = &step(&procedure, "harmonics").text;
    for order in [2, 3] {
        let frequency = &channel * BigDecimal::from(order);
        assert!(harmonics.contains(&mhz(&frequency, 1)), "{order}");
    }
}

#[test]
fn the_generator_stands_one_tone_beside_the_channel() {
    let procedure = trainer();
    let spacing = hertz("10 kHz");
    let of_channel = |number: i32| hertz("28.290 MHz") + &spacing * BigDecimal::from(number);
    assert_eq!(of_channel(1), aim(&procedure, "air-am"));
    let covers = &procedure.covers;
    assert!(covers.contains("channel 1 is 28.300 MHz"));
    assert!(covers.contains("channel 60 is 28.890 MHz"));
    assert_eq!(of_channel(60), hertz("28.890 MHz"));
    let table = procedure.channels.as_ref().unwrap();
    assert_eq!(table.channels.len(), 60);
    for number in 1..=60 {
        let channel = channel_of(&procedure, &number.to_string());
        assert_eq!(channel.frequency.base(), of_channel(number), "{number}");
    }
    let mut checked = 0;
    for step in procedure.steps() {
        let set_up = &step.set_up;
        let controls = set_up.controls.iter().find(|c| c.name == "Generator");
        let field = set_up.settings.get(&Setting::GeneratorFrequency);
        let generator = controls.map(|control| &control.to).or(field);
        let (Some(generator), Some(mode)) = (generator, set_up.mode.as_deref()) else {
            continue;
        };
        let tone = match mode {
            "USB" => hertz("1 kHz"),
            "LSB" => -hertz("1 kHz"),
            _ => continue,
        };
        let channel: i32 = set_up.channel.as_deref().unwrap().parse().unwrap();
        let stated = generator.split(',').next().unwrap();
        assert_eq!(hertz(stated), of_channel(channel) + tone, "{}", step.id);
        checked += 1;
    }
    assert_eq!(checked, 5);
}

#[test]
fn nothing_is_keyed_before_the_load_is_on() {
    let procedure = trainer();
    let place = |name: &str| procedure.number_of(&id(name)).unwrap();
    let load_on = step(&procedure, "load-on");
    let Work::Stop { confirm, .. } = &load_on.work else {
        panic!("load-on is no stop")
    };
    assert!(confirm.contains("50 Ω dummy load"));
    let mut keyed = 0;
    for step in procedure.steps() {
        let number = place(step.id.as_str());
        let of = |name: &str| {
            let control = step.set_up.controls.iter().find(|c| c.name == name);
            control.map(|control| control.to.as_str())
        };
        if step.set_up.signal == Some(Signal::Tx) {
            keyed += 1;
            assert!(number > place("load-on"), "{}", step.id);
            assert!(of("SK1").unwrap().contains("dummy load"), "{}", step.id);
        } else if number < place("load-on") && step.set_up.signal.is_some() {
            // Nobody can key it by mistake either.
            assert_eq!(of("SK3"), Some("empty"), "{}", step.id);
        }
    }
    assert!(keyed >= 10);
    // Power comes after the mains stop; full power comes after the links are closed.
    for step in procedure.steps() {
        let number = place(step.id.as_str());
        let supply = step.set_up.supply.as_deref().unwrap();
        assert!(supply == "off" || number > place("isolate"), "{}", step.id);
        let full = supply.ends_with("limit 3 A");
        assert!(!full || number > place("links"), "{}", step.id);
        if number > place("load-on") && number < place("links") {
            assert!(!full, "{}", step.id);
        }
    }
}

#[test]
fn every_step_says_its_set_up_and_reads_like_a_person() {
    let procedure = trainer();
    for step in procedure.steps() {
        let set_up = &step.set_up;
        let supplied = set_up.supply.as_deref() != Some("off");
        if supplied {
            assert!(set_up.mode.is_some(), "{}", step.id);
            assert!(set_up.channel.is_some(), "{}", step.id);
            assert!(set_up.signal.is_some(), "{}", step.id);
        }
        assert!(!set_up.controls.is_empty(), "{}", step.id);
        let names: HashSet<&str> = set_up.controls.iter().map(|c| c.name.as_str()).collect();
        assert_eq!(names.len(), set_up.controls.len(), "{}", step.id);
        assert!(
            (40..=330).contains(&step.text.chars().count()),
            "{}",
            step.id
        );
        let sentences = step.text.matches(". ").count() + 1;
        assert!(step.text.ends_with('.') && sentences <= 3, "{}", step.id);
        assert!(step.title.chars().count() <= 40, "{}", step.id);
    }
    let cautions = procedure.cautions.join(" ");
    for words in [
        "Local codes and licensed practice decide",
        "Only qualified people work on mains",
    ] {
        assert!(cautions.contains(words));
    }
}

fn half_done() -> Job {
    let mut count = 0;
    let fresh = || {
        count += 1;
        id(&format!("demo-{count}"))
    };
    demo::half_done(0, fresh).unwrap()
}

#[test]
fn the_half_done_job_could_have_been_done_in_that_order() {
    let job = half_done();
    let progress = job.progress();
    assert_eq!(progress.header.set.serial, "QRC-07");
    let total = progress.steps.len();
    let settled = progress.settled();
    assert!(settled * 100 / total >= 40 && settled * 100 / total <= 60);
    // What is settled comes first, so that the app opens at the step in hand.
    let (before, after) = progress.steps.split_at(settled);
    assert!(before.iter().all(|step| !step.status.is_owed()));
    assert!(after.iter().all(|step| step.status.is_owed()));
    assert_eq!(progress.current().unwrap().id, id("s-meter"));
    assert!(!progress.current().unwrap().readings.is_empty());
}

#[test]
fn the_half_done_job_shows_what_a_bench_brings() {
    let job = half_done();
    let progress = job.progress();
    let of = |name: &str| progress.step(&id(name)).unwrap();
    assert!(of("isolate").ticked.is_some());
    let cores = of("cores").answer.as_ref().unwrap();
    assert_eq!(cores.finding, Finding::Altered);
    assert!(cores.note.contains("C223"));
    assert_eq!(of("narrow-fm").status, Status::Waived);
    // Far out as found, and brought in over several tries.
    let outside = |name: &str| {
        let verdict = of(name).found.as_ref().unwrap().verdict.as_ref().unwrap();
        !verdict.is_inside()
    };
    for name in ["ref-osc", "synth-lsb", "vco", "rail-8"] {
        assert!(outside(name), "{name}");
        assert_eq!(of(name).status, Status::Done, "{name}");
    }
    let tries = |name: &str| {
        let readings = of(name).readings.iter();
        readings.filter(|taken| taken.phase == Phase::Try).count()
    };
    assert!(tries("ref-osc") >= 3 && tries("synth-lsb") >= 3);
    // A step that is only read can be put right as well.
    let rail = &progress.step(&id("rail-8")).unwrap().readings;
    assert_eq!(rail.last().unwrap().phase, Phase::AsLeft);
}

fn kit() -> Vec<Instrument> {
    demo::kit().unwrap()
}

#[test]
fn the_kit_has_one_instrument_for_every_reading() {
    let procedure = trainer();
    let kit = kit();
    let written = serde_json::to_string_pretty(&kit).unwrap() + "\n";
    assert_eq!(written, KIT);
    let gauges = procedure.steps().filter_map(|step| step.work.gauge());
    let due: BTreeSet<&str> = gauges.flat_map(Gauge::roles).map(Id::as_str).collect();
    let roles: BTreeSet<&str> = kit.iter().map(|entry| entry.role.as_str()).collect();
    assert_eq!(roles, due);
    assert_eq!(roles.len(), kit.len());
    let names: HashSet<&str> = kit.iter().map(|entry| entry.name.as_str()).collect();
    let assets: HashSet<&str> = kit.iter().map(|entry| entry.asset.as_str()).collect();
    assert_eq!((names.len(), assets.len()), (kit.len(), kit.len()));
    for entry in &kit {
        let calibrated = entry.calibrated.unwrap();
        assert!(
            calibrated.to_string().starts_with("2026-"),
            "{}",
            entry.name
        );
        assert!(entry.due.unwrap() > calibrated, "{}", entry.name);
    }
}

#[test]
fn the_kit_check_finds_the_step_that_the_kit_cannot_prove() {
    let used = |entry: Instrument| UsedInstrument {
        role: id(&entry.role),
        name: entry.name.clone(),
        record: Some(entry),
    };
    let header = Header {
        instruments: kit().into_iter().map(used).collect(),
        ..Header::default()
    };
    let lines = kit_check(&trainer(), &header);
    let of = |ability: Ability| -> Vec<&str> {
        let able = lines.iter().filter(|line| {
            let proof = line.ability.as_ref().unwrap();
            proof.ability == ability
        });
        able.map(|line| line.step.as_str()).collect()
    };
    assert_eq!(of(Ability::None), ["dev-fm"]);
    assert_eq!(
        of(Ability::Narrow),
        ["s-meter", "power-am", "power-ssb", "power-tap"]
    );
    // ± 0.1 kHz to prove with ± 3 % of 5 kHz; √3·√((100/4/1.96)² − 10²/12) Hz would be at ease.
    let deviation = lines.iter().find(|line| line.step == id("dev-fm")).unwrap();
    let needed = deviation.ability.as_ref().unwrap().accuracy_needed.unwrap();
    assert!((needed - 21.5).abs() < 0.1, "{needed}");
}

#[test]
fn the_half_done_job_says_what_its_readings_prove() {
    let job = half_done();
    let progress = job.progress();
    assert_eq!(progress.header.rule, Rule::FourWay);
    for used in &progress.header.instruments {
        let known = kit().iter().any(|entry| entry.name == used.name);
        assert_eq!(used.record.is_some(), known, "{}", used.name);
    }
    let mut statements = Vec::new();
    for step in progress
        .steps
        .iter()
        .filter(|step| step.tolerance.is_some())
    {
        let Some(left) = &step.left else { continue };
        let proof = left.proof.as_ref().unwrap();
        statements.push((step.id.as_str(), proof.statement));
    }
    assert!(statements.len() >= 14);
    // One lies within U of its limit and passes under a condition.
    statements.retain(|(_, statement)| *statement != Statement::Pass);
    assert_eq!(statements, [("car-lsb", Statement::ConditionalPass)]);
    // Where to stop is told as corrected, for so are the tries that it is learnt from.
    let aim = advice::aim_off(&job.procedure, &progress, step(&job.procedure, "ref-osc"));
    let aim = aim.expect("its tries tell");
    assert!(aim.is_corrected);
    // The latest reading is with the tool out: nothing is expected of it.
    assert_eq!(aim.now, None);
    assert_eq!(aim.target.to_string(), "12.800000 MHz");
    // The counter reads 0.21 ppm low, and what it says is put right by that.
    let synthesiser = &progress.step(&id("synth-am")).unwrap().readings[2];
    assert_eq!(synthesiser.value.to_string(), "19.300008 MHz");
    assert_eq!(synthesiser.corrected.to_string(), "19.300012 MHz");
}

#[test]
fn a_pull_that_is_known_from_another_frequency_alone_has_no_interval() {
    let job = half_done();
    let progress = job.progress();
    // Tries with the tool in and out were made at the reference oscillator alone, at 12.8 MHz.
    let aim = |id: &str| advice::aim_off(&job.procedure, &progress, step(&job.procedure, id));
    let own = aim("ref-osc").expect("its own tries");
    assert_eq!(own.known_by, KnownBy::Own(3));
    let half = own.half_width.expect("three tries scatter");
    assert_eq!(own.pull.resolution(), half.resolution());
    let elsewhere: Vec<_> = job
        .procedure
        .steps()
        .filter_map(|step| aim(step.id.as_str()))
        .filter(|aim| aim.known_by == KnownBy::SimilarElsewhere)
        .collect();
    assert!(!elsewhere.is_empty());
    for aim in elsewhere {
        assert_eq!((aim.half_width, aim.chance), (None, None));
    }
}
