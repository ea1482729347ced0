//! The demo: an invented set of the Quillmere Radio Club, its procedure, the club's instruments and
//! a half-done job.

use super::{Document, DocumentError, read};
use crate::job::{Deed, Header, Job, Stamp};
use crate::metrology::instrument::Instrument;
use crate::procedure::{Id, Procedure};
use serde::Deserialize;

const PROCEDURE: &str = include_str!("demo/trainer.json");
const KIT: &str = include_str!("demo/kit.json");
const HALF_DONE: &str = include_str!("demo/half-done.json");

/// The half-done job as it is written in its file.
#[derive(Deserialize)]
struct Written {
    header: Header,
    /// What was done, in order.
    deeds: Vec<Deed>,
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

/// How far the entries of the half-done job are apart, in milliseconds.
const TWO_MINUTES: i64 = 120_000;

/// The half-done job, with its last entry at `last`.
pub fn half_done_until(last: i64, fresh_id: impl FnMut() -> Id) -> Result<Job, DocumentError> {
    let written = written()?;
    // One entry more opens it.
    let entries = i64::try_from(written.deeds.len()).unwrap_or_default() + 1;
    job(written, last - entries * TWO_MINUTES, fresh_id)
}

/// A job that was started at `started` and is about half done. Its entries are
/// two minutes apart.
pub fn half_done(started: i64, fresh_id: impl FnMut() -> Id) -> Result<Job, DocumentError> {
    job(written()?, started, fresh_id)
}

fn written() -> Result<Written, DocumentError> {
    serde_json::from_str(HALF_DONE).map_err(|error| unsound(&error))
}

fn job(
    written: Written,
    started: i64,
    mut fresh_id: impl FnMut() -> Id,
) -> Result<Job, DocumentError> {
    let mut at = started;
    let mut stamp = |fresh_id: &mut dyn FnMut() -> Id| {
        at += TWO_MINUTES;
        Stamp { id: fresh_id(), at }
    };
    let header = with_records(written.header, &kit()?);
    let opened = stamp(&mut fresh_id);
    let mut job = Job::open(fresh_id(), procedure()?, header, opened);
    for deed in written.deeds {
        job.record(stamp(&mut fresh_id), deed)
            .map_err(|refusal| unsound(&refusal))?;
    }
    Ok(job)
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
    fn nothing_of_the_half_done_job_is_still_to_come() {
        let mut count = 0;
        let fresh = || {
            count += 1;
            format!("e{count}").parse().unwrap()
        };
        let now = 1_767_225_600_000;
        let job = half_done_until(now, fresh).unwrap();
        assert_eq!(job.log.events().last().map(|event| event.at), Some(now));
    }

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
        assert!((0.4..0.8).contains(&share), "{share}");
    }
}
