//! What an inspector asks of a reading a year later, asked of every step of every starter and the
//! demo that reads an instrument: in which state of the set, modulated how, into what, held
//! against which limit, and what that rests on.

mod support;

use halfturn::exchange::{demo, starters};
use halfturn::procedure::{Procedure, Setting, Signal, Step, Work};
use halfturn::quantity::DecimalSign;

fn all() -> Vec<Procedure> {
    let starters = starters(DecimalSign::Point).into_iter();
    let read = starters.map(|starter| starter.draft.read(DecimalSign::Point).0);
    read.chain(demo::procedure()).collect()
}

/// A question, and whether a step owes the answer and gives it.
struct Question {
    asked: &'static str,
    is_owed: fn(&Step) -> bool,
    is_answered: fn(&Step) -> bool,
}

const QUESTIONS: [Question; 13] = [
    Question {
        asked: "in which mode",
        is_owed: |step| is_keyed(step) || is_fed(step),
        is_answered: |step| step.set_up.mode.is_some(),
    },
    Question {
        asked: "on which channel or frequency",
        is_owed: |step| is_keyed(step) || is_fed(step),
        is_answered: |step| step.set_up.channel.is_some() || has(step, Setting::GeneratorFrequency),
    },
    Question {
        asked: "at which supply",
        is_owed: |_| true,
        is_answered: |step| step.set_up.supply.is_some(),
    },
    Question {
        asked: "into which load",
        is_owed: is_keyed,
        is_answered: |step| {
            has(step, Setting::Load) || control(step, "Aerial socket").contains("load")
        },
    },
    Question {
        asked: "modulated by what",
        is_owed: is_keyed,
        is_answered: |step| {
            has(step, Setting::Modulation)
                || has(step, Setting::ModulationTone)
                || !control(step, "Audio in").is_empty()
                || control(step, "Microphone socket") == "microphone"
                || step.set_up.mode.as_deref() == Some("CW")
        },
    },
    Question {
        asked: "fed at which frequency",
        is_owed: is_fed,
        is_answered: |step| has(step, Setting::GeneratorFrequency),
    },
    Question {
        asked: "fed at which level",
        is_owed: |step| is_fed(step) && !reads_with(step, "generator"),
        is_answered: |step| has(step, Setting::GeneratorLevel),
    },
    Question {
        asked: "fed with which modulation",
        is_owed: is_fed,
        is_answered: |step| has(step, Setting::Modulation),
    },
    Question {
        asked: "modulated by which tone",
        is_owed: |step| is_fed(step) && set(step, Setting::Modulation) != "none",
        is_answered: |step| has(step, Setting::ModulationTone),
    },
    Question {
        asked: "how deep",
        is_owed: |step| is_fed(step) && set(step, Setting::Modulation) != "none",
        is_answered: |step| {
            has(step, Setting::ModulationDepth) || set(step, Setting::Modulation).contains("index")
        },
    },
    Question {
        asked: "in which bandwidth",
        is_owed: |step| reads_with(step, "analyser"),
        is_answered: |step| has(step, Setting::AnalyserBandwidth),
    },
    Question {
        // A ratio is the same behind any attenuator.
        asked: "through what",
        is_owed: |step| {
            let gauge = step
                .work
                .gauge()
                .filter(|it| it.with.as_str() == "analyser");
            gauge.is_some_and(|it| it.scale.unit.is_power())
        },
        is_answered: |step| step.work.gauge().is_some_and(|it| !it.through().is_empty()),
    },
    Question {
        asked: "what the limit rests on",
        is_owed: |step| step.work.target().is_some(),
        is_answered: |step| step.basis().is_some(),
    },
];

fn set(step: &Step, setting: Setting) -> &str {
    step.set_up
        .settings
        .get(&setting)
        .map_or("", String::as_str)
}

fn has(step: &Step, setting: Setting) -> bool {
    !set(step, setting).is_empty()
}

fn reads_with(step: &Step, role: &str) -> bool {
    step.work
        .gauge()
        .is_some_and(|gauge| gauge.with.as_str() == role)
}

fn control<'a>(step: &'a Step, name: &str) -> &'a str {
    let found = step
        .set_up
        .controls
        .iter()
        .find(|control| control.name == name);
    found.map_or("", |control| control.to.as_str())
}

fn is_keyed(step: &Step) -> bool {
    step.set_up.signal == Some(Signal::Tx)
}

fn is_fed(step: &Step) -> bool {
    control(step, "Aerial socket").starts_with("generator") || has(step, Setting::GeneratorLevel)
}

/// The questions that are asked of a step and not answered.
fn open(step: &Step) -> impl Iterator<Item = &'static str> {
    let reads = step.work.gauge().is_some();
    let open = QUESTIONS
        .iter()
        .filter(move |question| reads && (question.is_owed)(step) && !(question.is_answered)(step));
    open.map(|question| question.asked)
}

#[test]
fn every_reading_answers_what_an_inspector_asks() {
    let mut silent = Vec::new();
    for procedure in all() {
        for step in procedure.steps() {
            silent
                .extend(open(step).map(|asked| format!("{}, {}: {asked}?", procedure.id, step.id)));
        }
    }
    assert!(silent.is_empty(), "{}", silent.join("\n"));
}

#[test]
fn a_step_that_loses_an_answer_is_asked_for_it() {
    for question in &QUESTIONS {
        let asked = all().iter().any(|procedure| {
            procedure.steps().any(|step| {
                let mut bare = step.clone();
                bare.basis = None;
                bare.set_up.mode = None;
                bare.set_up.channel = None;
                bare.set_up.supply = None;
                bare.set_up.settings.clear();
                if let Work::Read { gauge, .. } = &mut bare.work {
                    gauge.path = None;
                }
                let owed = |control: &halfturn::procedure::Control| {
                    control.name == "Aerial socket" && control.to.starts_with("generator")
                };
                bare.set_up.controls.retain(owed);
                open(&bare).any(|asked| asked == question.asked)
            })
        });
        assert!(asked, "{}", question.asked);
    }
}
