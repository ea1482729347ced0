//! What keeps hand, set and instruments whole, as rules over every procedure that comes with the
//! app. Each rule is shown to fail where a step is moved or loses what the rule asks for, so that
//! none of them holds for nothing.
//!
//! Common practice, no source, but where a rule names one.

mod support;

use halfturn::exchange::{demo, starters};
use halfturn::procedure::{AdjusterKind, Id, Procedure, Signal, Step, Target, Work};
use halfturn::quantity::DecimalSign;
use support::id;

/// A rule: its name, and the steps that break it.
type Rule = (&'static str, fn(&Procedure) -> Vec<Id>);

const RULES: [Rule; 8] = [
    (
        "keyed only behind a stop for the load",
        keyed_without_a_load,
    ),
    ("hands off wherever keyed", keyed_without_hands_off),
    (
        "keyed in a stated mode, channel and supply",
        keyed_in_no_stated_state,
    ),
    (
        "a generator never under a keyed set",
        generator_under_a_keyed_set,
    ),
    (
        "a limit before the power that has one",
        power_without_its_limit,
    ),
    ("discharged before hands are in", hands_before_the_discharge),
    (
        "a brittle core is said to be one",
        core_turned_without_a_word,
    ),
    ("an analyser behind the tap", analyser_on_the_socket),
];

fn all() -> Vec<Procedure> {
    let starters = starters(DecimalSign::Point).into_iter();
    let read = starters.map(|starter| starter.draft.read(DecimalSign::Point).0);
    read.chain([demo::procedure().expect("the demo")]).collect()
}

fn those(procedure: &Procedure, breaks: impl Fn(&Step) -> bool) -> Vec<Id> {
    let steps = procedure.steps().filter(|step| breaks(step));
    steps.map(|step| step.id.clone()).collect()
}

fn is_keyed(step: &Step) -> bool {
    step.set_up.signal == Some(Signal::Tx)
}

fn warns(step: &Step, of: &str) -> bool {
    let mut cautions = step.cautions.iter();
    cautions.any(|caution| caution.to_lowercase().contains(of))
}

/// Whether a stop that a step needs, and that stands above it, confirms this.
fn is_confirmed(procedure: &Procedure, step: &Step, what: &str) -> bool {
    let number = |id: &Id| procedure.number_of(id);
    let mut needs = step.needs.iter().filter_map(|need| procedure.step(need));
    needs.any(|need| match &need.work {
        Work::Stop { confirm, .. } => number(&need.id) < number(&step.id) && confirm.contains(what),
        _ => false,
    })
}

fn keyed_without_a_load(procedure: &Procedure) -> Vec<Id> {
    those(procedure, |step| {
        is_keyed(step) && !is_confirmed(procedure, step, "50 Ω dummy load is on")
    })
}

fn keyed_without_hands_off(procedure: &Procedure) -> Vec<Id> {
    those(procedure, |step| {
        is_keyed(step) && !warns(step, "hands off")
    })
}

fn keyed_in_no_stated_state(procedure: &Procedure) -> Vec<Id> {
    those(procedure, |step| {
        let set_up = &step.set_up;
        let stated = [&set_up.mode, &set_up.channel, &set_up.supply];
        is_keyed(step) && stated.iter().any(|part| part.is_none())
    })
}

fn generator_under_a_keyed_set(procedure: &Procedure) -> Vec<Id> {
    those(procedure, |step| {
        let mut controls = step.set_up.controls.iter();
        is_keyed(step) && controls.any(|control| control.to.starts_with("generator"))
    })
}

/// A stop that confirms a supply's limit is needed by all that is done at a bench supply with one.
/// The demo says its limit in the set-up of each step.
fn power_without_its_limit(procedure: &Procedure) -> Vec<Id> {
    if procedure.id == demo::procedure().expect("the demo").id {
        return Vec::new();
    }
    // A stop above closes what is below it; a need closes it wherever the stop stands.
    let mut confirmed = false;
    let mut found = Vec::new();
    for step in procedure.steps() {
        if let Work::Stop { confirm, .. } = &step.work {
            confirmed |= confirm.contains("limit at") || confirm.contains("limit is at");
        }
        let supply = step.set_up.supply.as_deref().unwrap_or_default();
        if supply.contains(", limit") && !confirmed {
            found.push(step.id.clone());
        }
    }
    found
}

/// Covers that come off uncover a reservoir: nothing is done inside before it was measured, or a
/// stop says that it was.
fn hands_before_the_discharge(procedure: &Procedure) -> Vec<Id> {
    let is_cover = |step: &Step| {
        let mut off = step.takes_off.iter();
        off.any(|item| item.what.to_lowercase().contains("cover"))
    };
    let is_measured = |step: &Step| match &step.work {
        Work::Stop { confirm, .. } => confirm.contains("measured less than"),
        Work::Read { gauge, target } => {
            let below = matches!(target, Some(Target::Fixed(tolerance)) if tolerance.limits().low.is_none());
            below && gauge.at.as_str() == "Reservoir"
        }
        _ => false,
    };
    let steps: Vec<&Step> = procedure.steps().collect();
    let Some(open) = steps.iter().position(|step| is_cover(step)) else {
        return Vec::new();
    };
    // What uncovers it may say itself that it was measured.
    let measured = steps[open..].iter().position(|step| is_measured(step));
    let until = measured.map_or(steps.len(), |measured| open + measured);
    let inside = steps[open..until].iter().skip(1);
    inside.map(|step| step.id.clone()).collect()
}

fn core_turned_without_a_word(procedure: &Procedure) -> Vec<Id> {
    those(procedure, |step| {
        let adjuster = step.work.adjuster().and_then(|id| procedure.adjuster(id));
        adjuster.is_some_and(|it| it.kind == AdjusterKind::Core) && !warns(step, "brittle")
    })
}

fn analyser_on_the_socket(procedure: &Procedure) -> Vec<Id> {
    those(procedure, |step| {
        let gauge = step.work.gauge();
        let is_analysed = gauge.is_some_and(|gauge| gauge.with.as_str() == "analyser");
        is_analysed && is_keyed(step) && !(warns(step, "the tap") && warns(step, "attenuator"))
    })
}

#[test]
fn every_procedure_that_comes_with_the_app_keeps_every_rule() {
    for procedure in all() {
        for (rule, broken) in RULES {
            assert_eq!(
                broken(&procedure),
                Vec::<Id>::new(),
                "{rule}: {}",
                procedure.title
            );
        }
    }
}

/// The procedure with a step moved to its end.
fn moved_to_the_end(procedure: &Procedure, step: &str) -> Procedure {
    let mut moved = procedure.clone();
    let sections = moved.sections.iter_mut();
    let mut taken = None;
    for section in sections {
        let place = section.steps.iter().position(|it| it.id == id(step));
        taken = taken.or(place.map(|place| section.steps.remove(place)));
    }
    let last = moved.sections.last_mut().expect("a section");
    last.steps
        .push(taken.unwrap_or_else(|| panic!("no step {step}")));
    moved
}

/// The procedure with something done to each of its steps.
fn with_steps(procedure: &Procedure, change: impl Fn(&mut Step)) -> Procedure {
    let mut changed = procedure.clone();
    let sections = changed.sections.iter_mut();
    sections.flat_map(|it| &mut it.steps).for_each(change);
    changed
}

#[test]
fn every_rule_fails_where_a_step_is_moved_or_loses_what_it_asks_for() {
    let all = all();
    let named = |part: &str| {
        let mut found = all.iter().filter(|it| it.id.as_str().contains(part));
        found
            .next()
            .unwrap_or_else(|| panic!("no procedure {part}"))
    };
    let silent = |procedure: &Procedure| with_steps(procedure, |step| step.cautions.clear());
    let (intake, align, proof) = (named("intake"), named("align"), named("proof-47"));
    let broken: [(&str, Procedure); 8] = [
        (RULES[0].0, moved_to_the_end(proof, "load-on")),
        (RULES[1].0, silent(proof)),
        (
            RULES[2].0,
            with_steps(proof, |step| step.set_up.mode = None),
        ),
        (
            RULES[3].0,
            with_steps(proof, |step| step.set_up.signal = Some(Signal::Tx)),
        ),
        (RULES[4].0, moved_to_the_end(align, "rx-load")),
        (
            RULES[5].0,
            moved_to_the_end(&moved_to_the_end(intake, "reservoir"), "hands-in"),
        ),
        (RULES[6].0, silent(align)),
        (RULES[7].0, silent(proof)),
    ];
    for ((rule, broken_by), (name, procedure)) in RULES.iter().zip(broken) {
        assert_eq!(*rule, name);
        assert!(!broken_by(&procedure).is_empty(), "{rule}");
    }
}
