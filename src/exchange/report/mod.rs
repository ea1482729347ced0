//! The hand-over: what remains of a job when the set has gone home. Built from a job as plain
//! data; the writers turn that into a page, a table of readings and a label.
//!
//! Like every room below the app, this one knows no clock and no language of the device: times
//! and days are put into words by functions that are handed in.

mod check;
mod sheet;

pub use self::sheet::{Cell, Fact, Look, Part, Section, SheetPhoto, Table};

use crate::exchange::report::sheet::Source;
pub mod cost;
pub mod csv;
mod fingerprint;
mod head;
pub mod html;
pub mod label;
mod plot;
pub mod procedure;
pub mod scale;
mod section;
mod text;
pub mod words;

use crate::exchange::report::section::sockets;
pub use fingerprint::{Check, fingerprint, grouped};
pub use plot::{Drifting, drift as drift_plot, share};
pub use section::history::visits_of;
pub use section::sections::after_break;
pub use section::several::plots;
use section::{
    bases, dealings, faults, history, papers, passes, photos, plan, readings, sections, summary,
    trace,
};
pub use text::{Spelling, escape, shortened, typed};

use crate::job::{Job, Progress};

/// A whole sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Report {
    /// The set.
    pub title: String,
    /// The job's number and the set, for the head of each page.
    pub running: String,
    /// Why this is no result yet, if it isn't.
    pub draft: Option<String>,
    /// What the head says of set, fault and work.
    pub facts: Vec<Fact>,
    /// What came of it, a line each.
    pub result: Vec<String>,
    /// What else is known of the set and the job.
    pub details: Vec<Fact>,
    /// What was wrong, changed and set, and what is outside, in a few sentences.
    pub summary: Vec<String>,
    /// Everything in detail.
    pub sections: Vec<Section>,
    /// SHA-256 of the job's file.
    pub fingerprint: String,
    /// What a verdict is and isn't.
    pub notice: String,
}

/// Why the sheet is no result, if it isn't: entries are damaged and not set aside, the job is in hand, or was signed
/// off before a copy with open ends was merged.
fn draft(progress: &Progress) -> Option<String> {
    let (damaged, open) = (progress.damaged.len(), progress.unsettled().count());
    if open > 0 {
        return Some(words::damaged(damaged, damaged - open));
    }
    let (owed, off) = (progress.owed().count(), progress.still_off().count());
    match progress.signed_off {
        None => Some(words::draft(owed)),
        Some(_) if progress.is_closed() => None,
        Some(_) => Some(words::signed_but_open(owed, off)),
    }
}

impl Report {
    /// The sheet of a job; the other jobs on the device give the set's history.
    pub fn of(job: &Job, others: &[Job], look: &Look) -> Self {
        let progress = job.progress();
        let source = Source {
            job,
            measured_with: progress.measured_with(&progress.course.procedure),
            progress: &progress,
            look,
        };
        let header = &progress.header;
        let set = head::set_title(&header.set);
        let title = match set.is_empty() {
            true => words::NAMELESS.to_owned(),
            false => set.clone(),
        };
        let sections = [
            readings::overview(&source),
            faults::section(&source),
            trace::section(&source),
            readings::section(&source),
            plan::section(&source),
            passes::section(&source),
            sections::drifts(&source),
            sections::inspected(&source),
            sockets::sockets(&source),
            sections::changes(&source),
            dealings::parts(&source),
            dealings::owner(&source),
            papers::section(&source),
            photos::section(&source),
            photos::sounds(&source),
            sections::put_back(&source),
            sections::breaks(&source),
            sections::waived(&source),
            sections::notes(&source),
            sections::damaged(&source),
            sections::instruments(&source),
            bases::limits(&source),
            bases::bases(&source),
            history::section(job, others, look),
            cost::section(&source),
        ];
        Report {
            running: words::job_and_set(
                &text::shortened(&header.number, 30),
                &text::shortened(&set, 76),
            ),
            title,
            draft: draft(&progress),
            facts: head::facts(&source),
            result: summary::result::lines(&source),
            details: head::details(&source),
            summary: summary::sentences(&source),
            sections: sections.into_iter().flatten().collect(),
            fingerprint: fingerprint(job),
            notice: look.spelling.write(words::NOTICE),
        }
    }
}
