//! What keeps hand, set and instruments whole, as rules over every procedure that comes with the
//! app. For each step that a rule is about, what makes it hold is taken away, and the rule has to
//! name the step: so none of them holds for nothing.
//!
//! Common practice, no source, but where a rule names one.

mod bundled;

use bundled::procedures as all;
use halfturn::procedure::{
    AdjusterKind, Control, Holds, Id, Procedure, Signal, Step, Target, Work,
};
use halfturn::quantity::Quantity;

/// A rule over the steps that it is about.
struct Rule {
    name: &'static str,
    concerns: fn(&Procedure, &Step) -> bool,
    is_kept: fn(&Procedure, &Step) -> bool,
    /// What breaks it at a step.
    spoils: &'static [(&'static str, Spoil)],
}

/// Does it at a step; false where there is nothing to be done.
type Spoil = fn(&mut Procedure, &Id) -> bool;

const RULES: [Rule; 13] = [
    Rule {
        name: "keyed only behind a stop for the load, while that is on",
        concerns: |_, step| is_keyed(step),
        is_kept: is_into_a_confirmed_load,
        spoils: &[
            ("above its stop", to_the_front),
            ("after the load is off", to_the_end),
            ("needs nothing", needs_nothing),
            ("the stop says nothing of the load", |all, _| {
                reworded_stops(all, "dummy load", "lamp")
            }),
            ("the stop leaves the aerial on", |all, _| {
                reworded_stops(all, "no aerial", "an aerial")
            }),
            ("an aerial on the socket", |all, id| {
                reword_controls(all, id, "dummy load", "aerial")
            }),
        ],
    },
    Rule {
        name: "hands off wherever keyed",
        concerns: |_, step| is_keyed(step),
        is_kept: |_, step| warns(step, &["hands off"]),
        spoils: &[("silent", silent)],
    },
    Rule {
        name: "keyed in a stated mode, channel and supply",
        concerns: |_, step| is_keyed(step),
        is_kept: |_, Step { set_up, .. }| {
            let stated = [&set_up.mode, &set_up.channel, &set_up.supply];
            stated.iter().all(|part| part.is_some())
        },
        spoils: &[
            ("no mode", |all, id| {
                with(all, id, |it| it.set_up.mode = None)
            }),
            ("no channel", |all, id| {
                with(all, id, |it| it.set_up.channel = None)
            }),
            ("no supply", |all, id| {
                with(all, id, |it| it.set_up.supply = None)
            }),
        ],
    },
    Rule {
        name: "a generator only where nothing can key",
        concerns: |_, step| has_a_generator(step),
        is_kept: |_, step| !is_keyed(step) && nothing_can_key(step),
        spoils: &[
            ("keyed", |all, id| {
                with(all, id, |it| it.set_up.signal = Some(Signal::Tx))
            }),
            ("a key box in", |all, id| {
                with(all, id, |it| {
                    let sockets = it.set_up.controls.iter_mut().filter(|c| keys(c));
                    sockets.for_each(|control| control.to = "key box, key up".to_owned());
                })
            }),
            ("nothing said of it", |all, id| {
                with(all, id, |it| it.set_up.controls.retain(|c| !keys(c)))
            }),
        ],
    },
    Rule {
        name: "the current limit that a step is worked with is the last that was confirmed",
        concerns: |all, step| is_fed_by_a_bench_supply(all) && is_powered(step),
        is_kept: is_behind_its_limit,
        spoils: &[
            ("before its stop", to_the_front),
            ("the stops say nothing of it", |all, _| {
                reworded_stops(all, "limit", "knob")
            }),
            ("without a limit", |all, id| {
                with(all, id, |it| {
                    it.set_up.supply = Some("13.8 V".to_owned());
                    it.set_up.controls.retain(|control| !limits(control));
                })
            }),
            ("with another", |all, id| {
                let other = Some("13.8 V, limit 77 A".to_owned());
                with(all, id, |it| it.set_up.supply = other)
            }),
        ],
    },
    Rule {
        name: "discharged before hands are in",
        concerns: |all, step| {
            (is_inside(all, step) || is_iron_work(step)) && !is_measured(all, step)
        },
        is_kept: is_behind_a_discharge,
        spoils: &[
            ("nothing is measured", |all, _| {
                let measures: Vec<Id> = those(all, is_measured);
                measures.iter().for_each(|id| {
                    with(all, id, |it| it.work = Work::Tick);
                });
                true
            }),
            ("as soon as the cover is off", |all, id| {
                let cover = all.steps().find(|step| uncovers(step)).cloned();
                let before = cover.filter(|it| !is_measured(all, it) && it.id != *id);
                before.is_some_and(|before| behind(all, id, &before.id))
            }),
            ("an iron after power", |all, id| {
                let is_after =
                    all.steps().any(is_powered) && all.step(id).is_some_and(is_iron_work);
                is_after && to_the_end(all, id)
            }),
        ],
    },
    Rule {
        name: "one hand at a reservoir",
        concerns: |all, step| step.work.gauge().is_some() && is_at_a_reservoir(all, step),
        is_kept: |_, step| warns(step, &["one hand", "behind your back"]),
        spoils: &[("silent", silent)],
    },
    Rule {
        name: "a brittle core is said to be one, and turned with what fits it",
        concerns: |all, step| turns(all, step, |it| it.kind == AdjusterKind::Core),
        is_kept: |all, step| {
            let has_tool = turns(all, step, |it| {
                let tool = it.tool.to_lowercase();
                !tool.is_empty() && !tool.contains("metal") && !tool.contains("screwdriver")
            });
            has_tool && (warns(step, &["brittle", "fill"]) || warns(step, &["brittle", "fit"]))
        },
        spoils: &[
            ("silent", silent),
            ("no word of what fits", |all, id| {
                with(all, id, |it| it.cautions = vec!["Brittle.".to_owned()])
            }),
            ("no tool", |all, id| {
                with_adjuster(all, id, |it| it.tool.clear())
            }),
            ("a screwdriver", |all, id| {
                with_adjuster(all, id, |it| it.tool = "Screwdriver".to_owned())
            }),
        ],
    },
    Rule {
        name: "bias comes up from none, by a pot that may be worn",
        concerns: |all, step| {
            turns(all, step, |it| {
                let what = format!("{} {}", it.id, it.note).to_lowercase();
                it.kind == AdjusterKind::Pot && what.contains("bias")
            })
        },
        is_kept: |_, step| warns(step, &["worn"]) && says(step, "from no"),
        spoils: &[
            ("silent", silent),
            ("from anywhere", |all, id| {
                with(all, id, |it| {
                    it.text = it.text.replace("from no", "from so");
                    let cautions = it.cautions.iter_mut();
                    cautions.for_each(|said| *said = said.replace("from no", "from so"));
                })
            }),
        ],
    },
    Rule {
        name: "an analyser behind a pad, a coupler or the tap of the load",
        concerns: |_, step| is_keyed(step) && is_read_by_an_analyser(step),
        is_kept: |all, step| is_behind_a_pad(all, step) && warns(step, &["analyser"]),
        spoils: &[
            ("silent", silent),
            ("straight on the socket", |all, id| {
                let at = all.step(id).and_then(|step| step.work.gauge());
                let at = at.map(|gauge| gauge.at.clone());
                for point in &mut all.test_points {
                    if Some(&point.id) == at.as_ref() {
                        point.place = "Aerial socket".to_owned();
                    }
                }
                with(all, id, |it| {
                    it.set_up.controls.retain(|c| !c.name.contains("nalyser"));
                    if let Work::Read { gauge, .. }
                    | Work::Set { gauge, .. }
                    | Work::Peak { gauge, .. }
                    | Work::Dip { gauge, .. } = &mut it.work
                    {
                        gauge.path = None;
                    }
                })
            }),
        ],
    },
    Rule {
        name: "whatever comes off goes back",
        concerns: |_, step| !step.takes_off.is_empty(),
        is_kept: |all, step| {
            let after = all.steps().skip_while(|other| other.id != step.id);
            let back: Vec<&String> = after.flat_map(|other| &other.puts_back).collect();
            step.takes_off.iter().all(|item| back.contains(&&item.what))
        },
        spoils: &[
            ("nothing goes back", |all, _| {
                each(all, |it| it.puts_back.clear());
                true
            }),
            ("after all went back", to_the_end),
        ],
    },
    Rule {
        name: "an iron only with power off, and the eyes behind glass",
        concerns: |_, step| is_iron_work(step),
        is_kept: |all, step| {
            let needs = step.needs.iter().filter_map(|need| all.step(need));
            let mut needs = needs.filter(|need| is_above(all, need, step));
            let is_out = needs.any(|need| match &need.work {
                Work::Stop { confirm, .. } => {
                    confirm.contains(" is out") || confirm.contains("Nothing feeds")
                }
                _ => false,
            });
            let sees = warns(step, &["solder", "goggles"]) || warns(step, &["solder", "eyes"]);
            is_off(step) && is_out && sees
        },
        spoils: &[
            ("under power", |all, id| {
                with(all, id, |it| {
                    it.set_up.supply = Some("13.8 V, limit 1 A".to_owned());
                })
            }),
            ("no word of the supply", |all, id| {
                with(all, id, |it| it.set_up.supply = None)
            }),
            ("needs nothing", needs_nothing),
            ("above its stop", to_the_front),
            ("silent", silent),
        ],
    },
    Rule {
        name: "each powered step is on receive or keyed, and says which",
        concerns: |all, step| {
            is_fed_by_a_bench_supply(all) && is_powered(step) && step.work.measures()
        },
        is_kept: |_, step| step.set_up.signal.is_some(),
        spoils: &[("nothing said", |all, id| {
            with(all, id, |it| it.set_up.signal = None)
        })],
    },
];

fn those(procedure: &Procedure, are: impl Fn(&Procedure, &Step) -> bool) -> Vec<Id> {
    let steps = procedure.steps().filter(|step| are(procedure, step));
    steps.map(|step| step.id.clone()).collect()
}

impl Rule {
    /// The steps that break it.
    fn broken(&self, procedure: &Procedure) -> Vec<Id> {
        those(procedure, |procedure, step| {
            (self.concerns)(procedure, step) && !(self.is_kept)(procedure, step)
        })
    }
}

// What a step says.

fn is_keyed(step: &Step) -> bool {
    step.set_up.signal == Some(Signal::Tx) || step.text.to_lowercase().contains("key down")
}

/// Whether one caution has all of these words.
fn warns(step: &Step, of: &[&str]) -> bool {
    let mut cautions = step.cautions.iter().map(|caution| caution.to_lowercase());
    cautions.any(|caution| of.iter().all(|word| caution.contains(word)))
}

fn says(step: &Step, what: &str) -> bool {
    step.text.contains(what) || warns(step, &[what])
}

fn is_off(step: &Step) -> bool {
    let supply = step.set_up.supply.as_deref();
    supply.is_some_and(|supply| supply.starts_with("off"))
}

fn is_powered(step: &Step) -> bool {
    step.set_up.supply.is_some() && !is_off(step)
}

fn is_fed_by_a_bench_supply(procedure: &Procedure) -> bool {
    let mut roles = procedure.instruments.iter().map(|it| it.role.as_str());
    roles.any(|role| role == "bench-supply")
}

fn is_above(procedure: &Procedure, one: &Step, other: &Step) -> bool {
    procedure.number_of(&one.id) < procedure.number_of(&other.id)
}

fn above<'a>(procedure: &'a Procedure, step: &'a Step) -> impl Iterator<Item = &'a Step> {
    procedure.steps().take_while(|other| other.id != step.id)
}

fn turns(
    procedure: &Procedure,
    step: &Step,
    is: impl Fn(&halfturn::procedure::Adjuster) -> bool,
) -> bool {
    let adjuster = step.work.adjuster().and_then(|id| procedure.adjuster(id));
    adjuster.is_some_and(is)
}

// The load.

fn is_into_a_confirmed_load(procedure: &Procedure, step: &Step) -> bool {
    let mut controls = step.set_up.controls.iter();
    let needs = step.needs.iter().filter_map(|need| procedure.step(need));
    let mut above = needs.filter(|need| is_above(procedure, need, step));
    controls.any(|control| control.to.contains("dummy load"))
        && above.any(|need| confirms_the_load(need) && stays_on(procedure, need, step))
}

fn confirms_the_load(stop: &Step) -> bool {
    match &stop.work {
        Work::Stop { confirm, holds, .. } => {
            confirm.contains("50 Ω dummy load is on")
                && confirm.contains("no aerial")
                && *holds == Holds::UntilABreak
        }
        _ => false,
    }
}

/// Whether nothing takes the load off between two steps.
fn stays_on(procedure: &Procedure, from: &Step, to: &Step) -> bool {
    let between = procedure.steps().skip_while(|step| step.id != from.id);
    let mut between = between.take_while(|step| step.id != to.id);
    let goes = |item: &String| item.to_lowercase().contains("dummy load");
    !between.any(|step| has_a_generator(step) || step.puts_back.iter().any(goes))
}

// The generator.

fn has_a_generator(step: &Step) -> bool {
    let mut controls = step.set_up.controls.iter();
    let is_on = |it: &Control| {
        let is_socket = it.name.to_lowercase().contains("aerial") || it.name == "SK1";
        is_socket && it.to.contains("generator")
    };
    let reads = step
        .work
        .gauge()
        .is_some_and(|it| it.with.as_str() == "generator");
    reads || controls.any(is_on)
}

/// Whether a control is a socket that can key.
fn keys(control: &Control) -> bool {
    let name = control.name.to_lowercase();
    name.contains("microphone") || name.contains("key socket") || name == "sk3"
}

fn nothing_can_key(step: &Step) -> bool {
    let sockets: Vec<&Control> = step.set_up.controls.iter().filter(|c| keys(c)).collect();
    let is_free = |it: &&Control| it.to.starts_with("empty") || it.to.starts_with("unplugged");
    !sockets.is_empty() && sockets.iter().all(is_free)
}

// The current limit.

/// The current limit that a step is worked with, as its supply or a control states it.
fn limit_of(step: &Step) -> Option<&str> {
    let supply = step.set_up.supply.as_deref()?;
    let said = supply.split_once("limit ").map(|(_, limit)| limit);
    let mut controls = step.set_up.controls.iter();
    said.or_else(|| controls.find(|it| limits(it)).map(|it| it.to.as_str()))
}

fn limits(control: &Control) -> bool {
    control.name == "Current limit"
}

/// Whether the last limit that a stop above confirmed is the one that the step is worked with.
fn is_behind_its_limit(procedure: &Procedure, step: &Step) -> bool {
    let stops = above(procedure, step).filter_map(|it| match &it.work {
        Work::Stop { confirm, .. } if confirm.contains("limit") => Some(confirm),
        _ => None,
    });
    let both = stops.last().zip(limit_of(step));
    both.is_some_and(|(confirm, limit)| confirm.contains(&format!("at {limit}")))
}

// The reservoir.

fn is_at_a_reservoir(procedure: &Procedure, step: &Step) -> bool {
    let at = step
        .work
        .gauge()
        .and_then(|it| procedure.test_point(&it.at));
    at.is_some_and(|point| {
        let said = format!("{} {}", point.id, point.place).to_lowercase();
        said.contains("reservoir")
    })
}

/// Whether a reading or a stop says that the reservoir is empty.
fn is_measured(procedure: &Procedure, step: &Step) -> bool {
    if let Work::Stop { confirm, .. } = &step.work
        && confirm.contains("measured less than")
    {
        return true;
    }
    let harmless = "10 V".parse::<Quantity>().expect("volts").base();
    let is_low = match step.work.target() {
        Some(Target::Fixed(tolerance)) => {
            let limits = tolerance.limits();
            limits.low.is_none() && limits.high.is_some_and(|high| high <= harmless)
        }
        _ => false,
    };
    is_low && is_at_a_reservoir(procedure, step)
}

fn uncovers(step: &Step) -> bool {
    let mut off = step.takes_off.iter();
    off.any(|item| item.what.to_lowercase().contains("cover"))
}

fn covers(step: &Step) -> bool {
    let mut back = step.puts_back.iter();
    back.any(|item| item.to_lowercase().contains("cover"))
}

/// Whether a set is open in a step, the one that opens it and the one that closes it apart.
fn is_inside(procedure: &Procedure, step: &Step) -> bool {
    let mut before: Vec<&Step> = above(procedure, step).collect();
    let last = before.iter().rposition(|it| uncovers(it));
    let last = last.map(|last| before.split_off(last));
    last.is_some_and(|since| !since.into_iter().chain([step]).any(covers))
}

/// Whether an iron or a probe goes to the parts themselves.
fn is_iron_work(step: &Step) -> bool {
    let text = step.text.to_lowercase();
    let is_work = matches!(step.work, Work::Fit(_) | Work::Wire(_));
    is_work || text.contains("solder")
}

/// Whether it was measured since the cover came off and, where an iron goes in, since any power.
fn is_behind_a_discharge(procedure: &Procedure, step: &Step) -> bool {
    let before: Vec<&Step> = above(procedure, step).collect();
    let open = before.iter().position(|it| uncovers(it)).unwrap_or(0);
    let Some(measured) = before.iter().rposition(|it| is_measured(procedure, it)) else {
        return false;
    };
    let is_fresh = !before[measured..].iter().any(|it| is_powered(it));
    measured >= open && (is_fresh || !is_iron_work(step))
}

// The analyser.

fn is_read_by_an_analyser(step: &Step) -> bool {
    let role = step.work.gauge().map(|gauge| gauge.with.as_str());
    role.is_some_and(|role| role.contains("analyser") && !role.contains("audio"))
}

fn is_behind_a_pad(procedure: &Procedure, step: &Step) -> bool {
    let Some(gauge) = step.work.gauge() else {
        return false;
    };
    let is_pad = |said: &str| {
        ["tap", "pad", "coupler", "attenuator"]
            .iter()
            .any(|it| said.contains(it))
    };
    let place = procedure.test_point(&gauge.at).map(|point| &point.place);
    let mut controls = step.set_up.controls.iter();
    !gauge.through().is_empty()
        || place.is_some_and(|place| is_pad(place))
        || controls.any(|it| it.name.contains("nalyser") && is_pad(&it.to))
}

// What spoils a step.

fn with(procedure: &mut Procedure, id: &Id, change: impl FnOnce(&mut Step)) -> bool {
    let mut steps = procedure.sections.iter_mut().flat_map(|it| &mut it.steps);
    let step = steps.find(|step| step.id == *id);
    step.map(change).is_some()
}

fn each(procedure: &mut Procedure, change: impl FnMut(&mut Step)) {
    let steps = procedure.sections.iter_mut().flat_map(|it| &mut it.steps);
    steps.for_each(change);
}

fn with_adjuster(
    procedure: &mut Procedure,
    id: &Id,
    change: impl FnOnce(&mut halfturn::procedure::Adjuster),
) -> bool {
    let turned = procedure.step(id).and_then(|step| step.work.adjuster());
    let turned = turned.cloned();
    let mut adjusters = procedure.adjusters.iter_mut();
    let adjuster = adjusters.find(|it| Some(&it.id) == turned.as_ref());
    adjuster.map(change).is_some()
}

fn silent(procedure: &mut Procedure, id: &Id) -> bool {
    with(procedure, id, |step| step.cautions.clear())
}

fn needs_nothing(procedure: &mut Procedure, id: &Id) -> bool {
    with(procedure, id, |step| step.needs.clear())
}

fn taken(procedure: &mut Procedure, id: &Id) -> Step {
    for section in &mut procedure.sections {
        if let Some(place) = section.steps.iter().position(|step| step.id == *id) {
            return section.steps.remove(place);
        }
    }
    panic!("no step {id}")
}

fn to_the_front(procedure: &mut Procedure, id: &Id) -> bool {
    let step = taken(procedure, id);
    procedure.sections[0].steps.insert(0, step);
    true
}

fn to_the_end(procedure: &mut Procedure, id: &Id) -> bool {
    let step = taken(procedure, id);
    let last = procedure.sections.last_mut().expect("a section");
    last.steps.push(step);
    true
}

/// Right behind another step.
fn behind(procedure: &mut Procedure, id: &Id, other: &Id) -> bool {
    let step = taken(procedure, id);
    for section in &mut procedure.sections {
        if let Some(place) = section.steps.iter().position(|it| it.id == *other) {
            section.steps.insert(place + 1, step);
            return true;
        }
    }
    panic!("no step {other}")
}

fn reworded_stops(procedure: &mut Procedure, old: &str, new: &str) -> bool {
    each(procedure, |step| {
        if let Work::Stop { confirm, .. } = &mut step.work {
            *confirm = confirm.replace(old, new);
        }
    });
    true
}

fn reword_controls(procedure: &mut Procedure, id: &Id, old: &str, new: &str) -> bool {
    with(procedure, id, |step| {
        let controls = step.set_up.controls.iter_mut();
        controls.for_each(|control| control.to = control.to.replace(old, new));
    })
}

#[test]
fn every_procedure_that_comes_with_the_app_keeps_every_rule() {
    let mut broken = Vec::new();
    for procedure in all() {
        for rule in &RULES {
            let steps = rule.broken(&procedure).into_iter();
            broken.extend(steps.map(|id| format!("{}: {}: {id}", rule.name, procedure.title)));
        }
    }
    assert!(broken.is_empty(), "{}", broken.join("\n"));
}

#[test]
fn every_rule_names_each_step_that_is_moved_or_loses_what_it_asks_for() {
    let all = all();
    let mut missed = Vec::new();
    for rule in &RULES {
        for (spoilt, spoil) in rule.spoils {
            let mut times = 0;
            for procedure in &all {
                for id in those(procedure, rule.concerns) {
                    let mut spoiled = procedure.clone();
                    if !spoil(&mut spoiled, &id) {
                        continue;
                    }
                    times += 1;
                    if !rule.broken(&spoiled).contains(&id) {
                        missed.push(format!(
                            "{}, {spoilt}: {}: {id}",
                            rule.name, procedure.title
                        ));
                    }
                }
            }
            assert!(times > 0, "{}, {spoilt}: nowhere", rule.name);
        }
    }
    assert!(missed.is_empty(), "{}", missed.join("\n"));
}

#[test]
fn every_rule_is_about_steps_of_the_demo_and_of_a_starter() {
    for rule in &RULES {
        let about = |procedure: &Procedure| !those(procedure, rule.concerns).is_empty();
        let (demo, starters): (Vec<_>, Vec<_>) = all()
            .into_iter()
            .partition(|it| it.id.as_str() == "qrc-trainer-28");
        assert!(demo.iter().any(about), "{}", rule.name);
        let is_iron = rule.name.starts_with("an iron");
        assert!(is_iron || starters.iter().any(about), "{}", rule.name);
    }
}
