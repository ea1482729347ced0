//! The fingerprint that ties a sheet to the file it was made from.

use super::head::set_title;
use super::words;
use crate::exchange::document::write_as;
pub use crate::exchange::report::check::Check;
use crate::exchange::{Document, VERSION, read};
use crate::job::Job;
use crate::procedure::{digest_of, hexadecimal};
use sha2::{Digest, Sha256};

/// How many characters a fingerprint has.
pub const LENGTH: usize = 64;

/// SHA-256 (FIPS 180-4) of the job document's text, in hexadecimal. Pictures are not in it, for
/// the log names each by its own digest.
pub fn fingerprint(job: &Job) -> String {
    in_version(VERSION, job)
}

fn in_version(version: u32, job: &Job) -> String {
    digest_of(write_as(version, &Document::Job(job.clone()), &[]).as_bytes())
}

/// How many entries the job had when its document had this fingerprint, if that was before its
/// latest ones.
fn entries_then(version: u32, job: &Job, wanted: &str) -> Option<usize> {
    let text = write_as(version, &Document::Job(job.clone()), &[]);
    let (head, entries) = text.split_at_checked(text.find(LOG)? + LOG.len())?;
    let entries = entries.strip_suffix(BEHIND)?;
    let mut hash = Sha256::new_with_prefix(head);
    let mut from = 0;
    let ends = entries.match_indices(ENTRY_ENDS);
    let ends = ends.map(|(place, end)| place + end.len()).enumerate();
    for (index, end) in ends {
        hash.update(entries.get(from..end)?);
        from = end;
        let then = hash.clone().chain_update(BEHIND).finalize();
        if hexadecimal(&then) == wanted {
            return Some(index + 1);
        }
    }
    None
}

/// How the entries of a job's document begin, how each ends and what stands behind the last: no text
/// in a document has a line of its own.
const LOG: &str = "\n    \"log\": [\n";
const ENTRY_ENDS: &str = "\n      }";
const BEHIND: &str = "\n    ]\n  }\n}\n";

/// The same in groups of eight, for eyes.
pub fn grouped(fingerprint: &str) -> String {
    let letters: Vec<char> = fingerprint.chars().collect();
    let groups: Vec<String> = letters.chunks(8).map(|g| g.iter().collect()).collect();
    groups.join(" ")
}

impl Check {
    /// Compares the text of a file with a fingerprint, which may be grouped, in capitals, or
    /// inside the text that a label's code holds.
    pub fn of(file: &str, typed: &str) -> Check {
        let Some(wanted) = find(typed) else {
            return Check::NoFingerprint;
        };
        let job = match read(file) {
            Ok(Document::Job(job)) => job,
            Ok(_) => return Check::NoJob,
            Err(error) => return Check::Unreadable(error),
        };
        // Written anew, so that a mark or line ends that some program changed don't matter.
        // An old sheet has the fingerprint of the format of its time.
        let versions = 1..=VERSION;
        let header = job.progress().header;
        let title = words::job_and_set(&header.number, &set_title(&header.set));
        if versions
            .clone()
            .any(|version| in_version(version, &job) == wanted)
        {
            return Check::Matches { job: title };
        }
        // The log only grows: what a sheet was made of before is the beginning of it.
        let mut earlier = versions.filter_map(|version| entries_then(version, &job, &wanted));
        match earlier.next() {
            Some(entry) => Check::MatchesUpTo {
                job: title,
                entry,
                since: (job.log.len() + job.log.damaged().len()).saturating_sub(entry),
            },
            None => Check::Differs {
                job: title,
                has: fingerprint(&job),
            },
        }
    }

    /// Whether sheet and file belong together, as the job is or as it was.
    pub fn matches(&self) -> bool {
        matches!(self, Check::Matches { .. } | Check::MatchesUpTo { .. })
    }
}

/// The one run of 64 hexadecimal digits in a text, groups joined.
fn find(typed: &str) -> Option<String> {
    let is_fingerprint =
        |text: &str| text.len() == LENGTH && text.bytes().all(|b| b.is_ascii_hexdigit());
    let joined: String = typed.split_whitespace().collect();
    let words = typed.split_whitespace().map(str::to_owned);
    words
        .chain([joined])
        .find(|text| is_fingerprint(text))
        .map(|text| text.to_lowercase())
}
