//! One entry of the journal: its name, and which of two is the later.

use crate::store::journal::JOB;
use crate::store::journal::PROCEDURE;
use crate::store::journal::is_kept;
use crate::store::records::JobRecord;

/// What an entry says.
pub(super) struct Record<'a> {
    pub(super) key: String,
    pub(super) number: u64,
    pub(super) name: String,
    /// Which of the entries with its number it is.
    tie: (&'a str, u64),
    pub(super) text: Option<&'a str>,
}

impl<'a> Record<'a> {
    /// An entry by its name; nothing where the name is none of ours.
    pub(super) fn read(name: &'a str, text: Option<&'a str>) -> Option<Self> {
        let mut parts = name.splitn(4, '.');
        let number = parts.next().and_then(|number| number.parse().ok());
        let (key, number, tie) = match (number, parts.next(), parts.next(), parts.next()) {
            (Some(number), Some(page), Some(which), Some(key)) => {
                (key.to_owned(), number, (page, which.parse().ok()?))
            }
            _ => (earlier(name, text?)?, 0, (name, 0)),
        };
        is_kept(&key).then(|| Record {
            key,
            number,
            name: name.to_owned(),
            tie,
            text,
        })
    }

    pub(super) fn order(&self) -> (u64, (&'a str, u64)) {
        (self.number, self.tie)
    }
}

/// The key of the storage that an entry of an earlier version is about: those of jobs were
/// called by the job and the first event in it, either of which may hold a colon.
fn earlier(name: &str, text: &str) -> Option<String> {
    if let Some(digest) = name.strip_prefix("procedure:") {
        return Some(format!("{PROCEDURE}{digest}"));
    }
    let of_job = name.strip_prefix("job:")?;
    let log = JobRecord::read(name, text).ok()?.log();
    let mut ids = log.events().map(|event| event.id.as_str());
    let job = ids.find_map(|id| of_job.strip_suffix(id)?.strip_suffix(':'))?;
    Some(format!("{JOB}{job}"))
}

pub(super) fn name(number: u64, page: &str, named: u64, key: &str) -> String {
    format!("{number}.{page}.{named}.{key}")
}
