//! What a sheet is made of, and what its sections are made from.

use crate::exchange::report::{Spelling, text, words};
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
    /// How our own words are spelt.
    pub spelling: Spelling,
    /// Whether the sheet says how long the work took.
    pub time: bool,
    /// The currency of prices; no prices are shown where it is empty.
    pub currency: &'a str,
    /// A photo as an address that holds it whole; nothing where its bytes are not here.
    pub picture: &'a dyn Fn(&PictureDigest) -> Option<String>,
}

impl Look<'_> {
    /// The day of a moment.
    pub(super) fn day_of(&self, at: i64) -> Option<Date> {
        (self.stamp)(at).get(..10)?.parse().ok()
    }
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
    /// Where it stands.
    pub place: Place,
}

/// Where a section stands on the sheet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Place {
    /// On the first page, before what is to be read.
    Front,
    /// Behind the summary.
    #[default]
    Behind,
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
    /// What holds for all of its rows, behind the caption; may be empty.
    pub lead: String,
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
    /// Of a row's heading: a quieter line that on paper stands below the whole row.
    pub under: String,
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
    pub(super) fn new(title: &'static str) -> Self {
        Section {
            title,
            lead: Vec::new(),
            parts: Vec::new(),
            place: Place::default(),
        }
    }

    /// A section of one table, where that has rows.
    pub(super) fn of_table(title: &'static str, table: Table) -> Option<Self> {
        (!table.rows.is_empty()).then(|| Section {
            parts: vec![Part::Table(table)],
            ..Section::new(title)
        })
    }
}

impl Table {
    pub(super) fn new(kind: &'static str, columns: &[&'static str]) -> Self {
        Table {
            caption: String::new(),
            lead: String::new(),
            kind,
            columns: columns.iter().map(|&name| name.to_owned()).collect(),
            rows: Vec::new(),
        }
    }

    pub(super) fn with_rows(self, rows: impl IntoIterator<Item = Vec<Cell>>) -> Self {
        Table {
            rows: rows.into_iter().collect(),
            ..self
        }
    }
}

/// A table that ends with when each row was. Where all were on one day, the day stands once in
/// the head.
pub(super) fn dated(
    source: &Source,
    kind: &'static str,
    columns: &[&'static str],
    rows: impl Iterator<Item = (Vec<Cell>, i64)>,
) -> Table {
    let look = source.look;
    let rows: Vec<(Vec<Cell>, i64)> = rows.collect();
    let first = rows.first().and_then(|(_, at)| look.day_of(*at));
    let is_that_day = |(_, at): &(Vec<Cell>, i64)| look.day_of(*at) == first;
    let day = first.filter(|_| rows.iter().all(is_that_day));
    let clock = |at: i64| (look.stamp)(at).get(11..16).map(str::to_owned);
    let when = |at: i64| match day {
        Some(_) => clock(at).unwrap_or_else(|| (look.when)(at)),
        None => (look.when)(at),
    };
    let rows = rows.into_iter().map(|(mut cells, at)| {
        cells.push(Cell::of(when(at)));
        cells
    });
    let mut table = Table::new(kind, columns).with_rows(rows);
    table.columns.push(match day {
        Some(day) => words::when_on(&(look.day)(day)),
        None => words::WHEN.to_owned(),
    });
    table
}

/// Everything that a part of the sheet is made from.
pub(super) struct Source<'a> {
    pub(super) job: &'a Job,
    pub(super) progress: &'a Progress,
    pub(super) look: &'a Look<'a>,
    /// With what the readings were taken.
    pub(super) measured_with: Vec<Measuring>,
}

impl Source<'_> {
    /// Whether readings in a role were taken with more than one instrument.
    pub(super) fn is_shared(&self, role: &Id) -> bool {
        let in_role = |it: &&Measuring| it.role == *role;
        self.measured_with.iter().filter(in_role).count() > 1
    }

    /// What a section is called on the sheet.
    pub(super) fn title_of(&self, section: &Steps) -> String {
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
    pub(super) fn is_fitted_unlisted(&self, standing: &StepProgress) -> bool {
        let changes = &self.progress.changes;
        let listed = changes
            .iter()
            .any(|c| c.step.as_ref() == Some(&standing.id));
        standing.ticked.is_some() && !listed
    }
}
