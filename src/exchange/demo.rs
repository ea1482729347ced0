//! The demo: an invented set of the Quillmere Radio Club, its procedure, the club's instruments and
//! a half-done job.

use super::{Document, DocumentError, read};
use crate::job::{Change, Deed, Finding, Header, Job, Phase, Stamp, Tool};
use crate::metrology::instrument::Instrument;
use crate::procedure::{Id, Procedure};
use crate::quantity::Quantity;
use serde::Deserialize;

const PROCEDURE: &str = include_str!("demo/trainer.json");
const KIT: &str = include_str!("demo/kit.json");
const HALF_DONE: &str = include_str!("demo/half-done.json");

/// One line of the half-done job.
#[derive(Deserialize)]
#[serde(untagged)]
enum Line {
    Header {
        header: Box<Header>,
    },
    Readings {
        step: Id,
        readings: Vec<Reading>,
    },
    Pins {
        step: Id,
        pins: Vec<PinValue>,
    },
    Waited {
        step: Id,
        #[serde(rename = "waited")]
        _waited: True,
    },
    Changed {
        step: Id,
        change: Change,
    },
    Ticked {
        step: Id,
        #[serde(rename = "ticked")]
        _ticked: True,
    },
    Answer {
        step: Id,
        answer: Finding,
        #[serde(default)]
        note: String,
    },
    Waived {
        step: Id,
        waived: String,
    },
    Note {
        step: Id,
        note: String,
    },
}

#[derive(Deserialize)]
struct Reading {
    phase: Phase,
    value: Quantity,
    #[serde(default)]
    tool: Option<Tool>,
    #[serde(default)]
    repeat: bool,
}

#[derive(Deserialize)]
struct PinValue {
    pin: Id,
    state: Id,
    value: Quantity,
}

/// Only the word `true`.
#[derive(Deserialize)]
#[serde(try_from = "bool")]
struct True;

impl TryFrom<bool> for True {
    type Error = &'static str;

    fn try_from(value: bool) -> Result<Self, Self::Error> {
        value
            .then_some(True)
            .ok_or("a tick is either true or left out")
    }
}

/// The procedure for the club's home-built 28 MHz trainer.
pub fn procedure() -> Result<Procedure, DocumentError> {
    match read(PROCEDURE)? {
        Document::Procedure(procedure) => Ok(procedure),
        _ => Err(DocumentError::NotOurs),
    }
}

/// The club's instruments, one for every role of the procedure that gives a reading.
pub fn kit() -> Result<Vec<Instrument>, DocumentError> {
    serde_json::from_str(KIT).map_err(|error| unsound(&error))
}

/// Adds to the instruments of a header what the kit says of those that it has.
fn with_records(mut header: Header, kit: &[Instrument]) -> Header {
    for used in &mut header.instruments {
        let entry = kit
            .iter()
            .find(|entry| entry.role == used.role.as_str() && entry.name == used.name);
        used.record = entry.cloned();
    }
    header
}

/// A job that was started at `started` and is somewhat more than half done. Its entries are
/// two minutes apart.
pub fn half_done(started: i64, mut fresh_id: impl FnMut() -> Id) -> Result<Job, DocumentError> {
    const TWO_MINUTES: i64 = 120_000;
    let lines: Vec<Line> = serde_json::from_str(HALF_DONE).map_err(|error| unsound(&error))?;
    let header = lines.iter().find_map(|line| match line {
        Line::Header { header } => Some(Header::clone(header)),
        _ => None,
    });
    let mut at = started;
    let mut stamp = |fresh_id: &mut dyn FnMut() -> Id| {
        at += TWO_MINUTES;
        Stamp { id: fresh_id(), at }
    };
    let header = with_records(header.unwrap_or_default(), &kit()?);
    let opened = stamp(&mut fresh_id);
    let mut job = Job::open(fresh_id(), procedure()?, header, opened);
    for deed in lines.into_iter().flat_map(deeds) {
        job.record(stamp(&mut fresh_id), deed)
            .map_err(|refusal| unsound(&refusal))?;
    }
    Ok(job)
}

fn deeds(line: Line) -> Vec<Deed> {
    match line {
        Line::Header { .. } => Vec::new(),
        Line::Readings { step, readings } => readings
            .into_iter()
            .map(|reading| Deed::Reading {
                step: step.clone(),
                phase: reading.phase,
                value: reading.value,
                tool: reading.tool,
                repeat: reading.repeat,
            })
            .collect(),
        Line::Pins { step, pins } => pins
            .into_iter()
            .map(|PinValue { pin, state, value }| Deed::PinRead {
                step: step.clone(),
                pin,
                state,
                value,
            })
            .collect(),
        Line::Waited { step, .. } => {
            vec![
                Deed::WaitBegun { step: step.clone() },
                Deed::Ticked { step },
            ]
        }
        Line::Changed { step, change } => vec![Deed::Changed {
            step: Some(step),
            change,
        }],
        Line::Ticked { step, .. } => vec![Deed::Ticked { step }],
        Line::Answer { step, answer, note } => vec![Deed::Answered { step, answer, note }],
        Line::Waived { step, waived } => vec![Deed::Waived {
            step,
            reason: waived,
        }],
        Line::Note { step, note } => vec![Deed::Noted {
            step: Some(step),
            text: note,
        }],
    }
}

fn unsound(what: &dyn std::fmt::Display) -> DocumentError {
    DocumentError::Unsound {
        place: "the demo".to_owned(),
        what: what.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_half_done_job_follows_the_procedure() {
        let mut count = 0;
        let fresh = || {
            count += 1;
            format!("e{count}").parse().unwrap()
        };
        let job = half_done(0, fresh).unwrap();
        let progress = job.progress();
        let share = progress.settled() as f64 / progress.steps.len() as f64;
        assert!((0.5..0.8).contains(&share), "{share}");
    }
}
