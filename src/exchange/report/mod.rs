//! The hand-over: what remains of a job when the set has gone home. Built from a job as plain
//! data; the writers turn that into a page, a table of readings and a label.
//!
//! Like every room below the app, this one knows no clock and no language of the device: times
//! and days are put into words by functions that are handed in.

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
pub use plot::{drift as drift_plot, share};
pub use section::history::visits_of;
pub use section::sections::after_break;
pub use section::several::plots;
use section::{
    bases, dealings, faults, history, papers, passes, photos, plan, readings, result, sections,
    summary, trace,
};
pub use text::{escape, shortened, typed};

use crate::job::{Job, Measuring, Origin, Progress, StepProgress};
use crate::metrology::date::Date;
use crate::procedure::{Id, PictureDigest, Section as Steps};
use crate::quantity::DecimalSign;

/// How things are put into words on this device, and what the sheet is to hold.
#[derive(Clone, Copy)]
pub struct Look<'a> {
    /// The decimal sign in use.
    pub sign: DecimalSign,
    /// A moment as the sheet writes it.
    pub when: &'a dyn Fn(i64) -> String,
    /// A moment as a spreadsheet reads it: local time as `2026-03-31 14:05:09`.
    pub stamp: &'a dyn Fn(i64) -> String,
    /// A day as the sheet writes it.
    pub day: &'a dyn Fn(Date) -> String,
    /// Whether the sheet says how long the work took.
    pub time: bool,
    /// The currency of prices; no prices are shown where it is empty.
    pub currency: &'a str,
    /// A photo as an address that holds it whole; nothing where its bytes are not here.
    pub picture: &'a dyn Fn(&PictureDigest) -> Option<String>,
}

impl Look<'_> {
    /// The day of a moment.
    fn day_of(&self, at: i64) -> Option<Date> {
        (self.stamp)(at).get(..10)?.parse().ok()
    }
}

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
}

/// A label and what belongs to it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fact {
    /// What it is.
    pub label: &'static str,
    /// What was typed or found; several lines are possible.
    pub text: String,
}

/// A part of the sheet with a title.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// The title.
    pub title: &'static str,
    /// Sentences above.
    pub lead: Vec<String>,
    /// Pictures and tables, in order.
    pub parts: Vec<Part>,
}

/// Something in a section.
#[derive(Clone, Debug, PartialEq)]
pub enum Part {
    /// A picture, as an SVG text of ours.
    Picture {
        /// The SVG.
        svg: String,
        /// What it shows.
        caption: String,
    },
    /// A table.
    Table(Table),
    /// Photos under a heading.
    Photos {
        /// The state of the set that they show.
        heading: &'static str,
        /// The photos in order.
        photos: Vec<SheetPhoto>,
    },
}

/// A photo on the sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetPhoto {
    /// The picture as an address that holds it whole; nothing where its bytes are not here.
    pub address: Option<String>,
    /// What it is, for who does not see it.
    pub alt: String,
    /// What was typed about it.
    pub note: String,
    /// Where in the work it was taken, and when.
    pub below: String,
}

/// A table.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// What it is of; may be empty.
    pub caption: String,
    /// Its kind, which the style sheet knows.
    pub kind: &'static str,
    /// The headings.
    pub columns: Vec<String>,
    /// The rows; the first cell is the row's own heading.
    pub rows: Vec<Vec<Cell>>,
}

/// One cell of a table.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Cell {
    /// What stands in it.
    pub text: String,
    /// A quieter line below.
    pub below: String,
    /// A picture below, as an SVG text of ours.
    pub picture: Option<String>,
    /// Whether it is to be seen at once.
    pub strong: bool,
}

impl Cell {
    /// A cell with a text.
    pub fn of(text: impl Into<String>) -> Self {
        Cell {
            text: text.into(),
            ..Cell::default()
        }
    }

    /// The same with a quieter line below.
    pub fn with(self, below: impl Into<String>) -> Self {
        Cell {
            below: below.into(),
            ..self
        }
    }

    /// The same, to be seen at once where that is so.
    pub fn strong_if(self, strong: bool) -> Self {
        Cell { strong, ..self }
    }
}

impl Section {
    fn new(title: &'static str) -> Self {
        Section {
            title,
            lead: Vec::new(),
            parts: Vec::new(),
        }
    }

    /// A section of one table, where that has rows.
    fn of_table(title: &'static str, table: Table) -> Option<Self> {
        (!table.rows.is_empty()).then(|| Section {
            parts: vec![Part::Table(table)],
            ..Section::new(title)
        })
    }
}

impl Table {
    fn new(kind: &'static str, columns: &[&'static str]) -> Self {
        Table {
            caption: String::new(),
            kind,
            columns: columns.iter().map(|&name| name.to_owned()).collect(),
            rows: Vec::new(),
        }
    }

    fn with_rows(self, rows: impl IntoIterator<Item = Vec<Cell>>) -> Self {
        Table {
            rows: rows.into_iter().collect(),
            ..self
        }
    }
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

/// Everything that a part of the sheet is made from.
struct Source<'a> {
    job: &'a Job,
    progress: &'a Progress,
    look: &'a Look<'a>,
    /// With what the readings were taken.
    measured_with: Vec<Measuring>,
}

impl Source<'_> {
    /// Whether readings in a role were taken with more than one instrument.
    fn is_shared(&self, role: &Id) -> bool {
        let in_role = |it: &&Measuring| it.role == *role;
        self.measured_with.iter().filter(in_role).count() > 1
    }

    /// What a section is called on the sheet.
    fn title_of(&self, section: &Steps) -> String {
        let course = &self.progress.course;
        let first = section.steps.first();
        let part = first.and_then(|step| course.part_with(&step.id));
        let title = text::typed(&section.title);
        match part.map(|part| &part.from) {
            Some(Origin::Bench) => words::ADDED_STEPS.to_owned(),
            Some(Origin::Start(name) | Origin::TakenOn { name, .. })
                if course.procedures().count() > 1 =>
            {
                words::section_of(&text::typed(&name.title), &title)
            }
            _ => title,
        }
    }

    /// Whether a step's part is to be named by the step: it was fitted, and the log holds no
    /// change of its own for it.
    fn is_fitted_unlisted(&self, standing: &StepProgress) -> bool {
        let changes = &self.progress.changes;
        let listed = changes
            .iter()
            .any(|c| c.step.as_ref() == Some(&standing.id));
        standing.ticked.is_some() && !listed
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
            result: result::lines(&source),
            details: head::details(&source),
            summary: summary::sentences(&source),
            sections: sections.into_iter().flatten().collect(),
            fingerprint: fingerprint(job),
        }
    }
}
