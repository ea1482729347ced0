//! A step read out of what is typed.

use super::kinds::{ConfirmedBy, Kind, UntilKind};
use super::limits::difference;
use super::measured::{read_hold_point, read_measured, read_socket};
use super::{DraftRepeat, DraftStep, Say, lines};
use crate::authoring::draft::cells::{parts, rows};
use crate::procedure::{
    Alteration, Basis, Control, Field, Id, Lead, Removable, Repeat, SetUp, Settling, Step, Until,
    Work,
};
use crate::quantity::{DecimalSign, read_with_unit};
use crate::radio::limits::Known;

pub(super) fn read_step(step: &DraftStep, sign: DecimalSign, say: Say) -> Step {
    let optional = |text: &str| Some(text.trim().to_owned()).filter(|text| !text.is_empty());
    let mut controls = Vec::new();
    for line in rows(&step.controls, ':') {
        let [name, to] = parts(&line, ':');
        match !name.is_empty() && line.contains(':') {
            true => controls.push(Control { name, to }),
            false => say(
                Field::Controls,
                format!("the control “{line}” has no colon: write it like “Clarifier: centre”"),
            ),
        }
    }
    let wait = match step.wait.trim() {
        "" => None,
        text => match text.parse() {
            Ok(minutes) => Some(minutes),
            Err(_) => {
                let sentence = format!("the wait “{text}” is not a whole number of minutes");
                say(Field::Wait, sentence);
                None
            }
        },
    };
    let settles = optional(&step.settles).and_then(|text| {
        let read = difference(&text, step.scale, sign, "drift per minute");
        read.map_err(|sentence| say(Field::Settles, sentence))
            .ok()
            .map(|per_minute| Settling { per_minute })
    });
    Step {
        id: step.id.clone(),
        title: step.title.trim().to_owned(),
        text: step.text.trim().to_owned(),
        cautions: lines(&step.cautions),
        set_up: SetUp {
            mode: optional(&step.mode),
            channel: optional(&step.channel),
            signal: step.signal,
            supply: optional(&step.supply),
            settings: step
                .settings
                .iter()
                .filter_map(|(setting, text)| Some((*setting, optional(text)?)))
                .collect(),
            controls,
        },
        needs: step.needs.clone(),
        takes_off: rows(&step.takes_off, ';')
            .iter()
            .map(|line| read_removable(line))
            .collect(),
        puts_back: lines(&step.puts_back),
        wait,
        settles,
        shares_null_with: step.shares_null_with.clone(),
        cross_check: step
            .cross_check
            .as_ref()
            .and_then(|check| check.read(sign, say)),
        basis: read_basis(step, say),
        work: read_work(step, sign, say),
    }
}

/// What the limit rests on; nothing where it states none, whatever was typed for one before.
fn read_basis(step: &DraftStep, say: Say) -> Option<Basis> {
    if !step.states_limit() {
        return None;
    }
    let source = step.source.split_whitespace().collect::<Vec<_>>().join(" ");
    match (step.known, source.is_empty()) {
        (None, true) => return None,
        (None, false) => {
            let sentence = "how the figures of its limit are known is not said: choose it";
            say(Field::Basis, sentence.to_owned());
        }
        (Some(known), true) if known != Known::CommonPractice => {
            let sentence =
                "what its limit rests on is not named: write the document and its clause";
            say(Field::Basis, sentence.to_owned());
        }
        _ => {}
    }
    step.known.map(|known| Basis { known, source })
}

fn read_removable(line: &str) -> Removable {
    let [what, place, orientation, note] = parts(line, ';');
    Removable {
        what,
        place,
        orientation,
        note,
    }
}

fn read_work(step: &DraftStep, sign: DecimalSign, say: Say) -> Work {
    let text = |text: &str| text.trim().to_owned();
    match step.kind {
        Kind::Inspect => Work::Inspect,
        Kind::Tick => Work::Tick,
        Kind::Repeat => read_repeat(&step.repeat, sign, say),
        Kind::Stop => {
            if step.confirm.trim().is_empty() {
                let sentence = "nothing to confirm yet: write it in the first person";
                say(Field::Confirm, sentence.to_owned());
            }
            Work::Stop {
                confirm: text(&step.confirm),
                holds: step.holds,
                reads: match step.confirmed_by {
                    ConfirmedBy::Hand => None,
                    ConfirmedBy::Reading => read_hold_point(step, sign, say),
                },
            }
        }
        Kind::Fit => {
            if step.fitted.trim().is_empty() {
                say(Field::Fitted, "it does not say what goes in".to_owned());
            }
            Work::Fit(Alteration {
                out: text(&step.out),
                fitted: text(&step.fitted),
                why: text(&step.why),
            })
        }
        Kind::Wire => {
            if step.wire_from.trim().is_empty() || step.wire_to.trim().is_empty() {
                say(Field::Ends, "the lead needs both its ends".to_owned());
            }
            Work::Wire(Lead {
                from: text(&step.wire_from),
                to: text(&step.wire_to),
                colour: text(&step.colour),
            })
        }
        Kind::Socket => read_socket(step, sign, say),
        Kind::Set | Kind::Read | Kind::Peak | Kind::Dip => read_measured(step, sign, say),
    }
}

fn read_repeat(repeat: &DraftRepeat, sign: DecimalSign, say: Say) -> Work {
    let until = match repeat.until {
        UntilKind::Inside => Some(Until::Inside),
        UntilKind::Steady => read_with_unit(&repeat.change, sign).map(Until::Steady),
    };
    if until.is_none() {
        let sentence = "its largest change is no figure with a unit: type it like 20 mV";
        say(Field::Until, sentence.to_owned());
    }
    let passes = match repeat.passes.trim() {
        "" => None,
        text => text
            .parse()
            .map_err(|_| {
                let sentence = format!("its most passes “{text}” are not a whole number");
                say(Field::Passes, sentence);
            })
            .ok(),
    };
    let Some((from, to)) = repeat.from.clone().zip(repeat.to.clone()) else {
        let sentence =
            "the steps that it repeats are not chosen yet: choose the first and the last";
        say(Field::Repeats, sentence.to_owned());
        return Work::Tick;
    };
    Work::Repeat(Repeat {
        from,
        to,
        until: until.unwrap_or_default(),
        passes,
    })
}

/// A name picked from a list.
pub(super) fn picked(name: &str, (field, what): (Field, &str), say: Say) -> Option<Id> {
    if name.trim().is_empty() {
        say(field, format!("no {what} is chosen yet"));
        return None;
    }
    name.trim()
        .parse()
        .map_err(|error| say(field, format!("its {what}: {error}")))
        .ok()
}
