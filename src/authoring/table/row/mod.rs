//! One row of a pasted table as steps.

mod roles;
mod said;

pub(super) use self::said::{one_line, shortened};

mod kinds;
mod made;
mod readings;
mod set_up;
mod words;

pub(super) use self::readings::has_words_for_figures;
pub(super) use self::set_up::designators;

use self::made::with_adjuster;
use crate::authoring::Kind;
use crate::authoring::draft::{Draft, DraftStep};
use crate::authoring::table::aim::Aim;
use crate::authoring::table::columns::{Column, HeadedSet, is_limit, repeats, says};
use crate::authoring::table::meaning::Meaning;
use crate::authoring::table::orders::repeat::row_name;
use crate::authoring::table::why::Why;
use crate::authoring::table::{Answers, Unclear};
use crate::quantity::{DecimalSign, Scale, Unit};

/// Reads one row.
pub(super) struct Reader<'a> {
    columns: &'a [Column],
    cells: &'a [String],
    /// The title of the section that the row is in.
    section: &'a str,
    /// The row's place in the table, from 1.
    number: usize,
    sign: DecimalSign,
    /// The unit of what states none, if someone has said it.
    unstated: Option<Scale>,
    /// Which volts a level is in that doesn't say it, if someone has said it.
    volts: Option<Unit>,
    /// What goes into the text besides the notes.
    kept: Vec<String>,
    /// What was not understood so far.
    pub unclear: Vec<Unclear>,
    /// Whether what is read was taken out of words about what to wait for.
    held: bool,
    /// The printed numbers of the first and the last row that the row repeats.
    pub repeats: Option<(String, String)>,
}

/// One reading of a row.
#[derive(Clone, Debug, Default)]
struct Measured {
    /// The column that states it.
    column: Option<usize>,
    /// What tells it from the table's other readings.
    name: String,
    set: HeadedSet,
    due: Option<Scale>,
    aim: Aim,
}

impl<'a> Reader<'a> {
    pub fn new(
        columns: &'a [Column],
        cells: &'a [String],
        section: &'a str,
        number: usize,
        sign: DecimalSign,
        answers: &Answers,
    ) -> Self {
        Reader {
            columns,
            cells,
            section,
            number,
            sign,
            unstated: answers.unit,
            volts: answers.volts.map(|scale| scale.unit),
            kept: Vec::new(),
            unclear: Vec::new(),
            held: false,
            repeats: None,
        }
    }

    /// The number that stands before the row, or else its place.
    pub fn printed_number(&self) -> String {
        match row_name(self.cell(Meaning::Number)) {
            name if name.is_empty() => self.number.to_string(),
            name => name,
        }
    }

    /// Notes that the headings above may not be the row's own.
    pub fn doubt_headings(&mut self) {
        self.leave_open(Unclear {
            column: String::new(),
            cell: String::new(),
            why: Why::Headings,
        });
    }

    /// The row's steps: one a reading, and one an adjuster where it peaks or dips several.
    pub fn steps(&mut self, blank: &DraftStep, draft: &Draft) -> Vec<DraftStep> {
        for index in 0..self.columns.len() {
            if self.columns[index].is_asked() && says(self.at(index)) {
                self.puzzle(index, Why::Column);
            } else if repeats(self.at(index)) {
                self.puzzle(index, Why::NothingAbove);
            } else if self.has_limit_for_name(index) {
                self.puzzle(index, Why::Headings);
            }
        }
        if let Some(index) = self.loose_end() {
            self.puzzle(index, Why::GoesOn);
        }
        let mut measured = self.measured();
        let mut set_up = self.set_up(blank);
        self.hold_on(&mut measured, &mut set_up);
        let turned = self.worded(&mut measured, &mut set_up);
        self.tell_of_second_step(&measured);
        set_up.wait = self.wait().map_or(String::new(), |it| it.to_string());
        let extreme = measured.iter().any(|one| one.aim.extreme.is_some());
        let mut adjusters = self.adjusters(extreme);
        if adjusters.is_empty() {
            adjusters = self.one_unless(extreme, turned);
        }
        let stated = self.stated_kind();
        let mut steps: Vec<DraftStep> = Vec::new();
        for one in &measured {
            let step = self.step(&set_up, one, &adjusters, stated, draft);
            match adjusters.len() {
                0 | 1 => steps.push(self.named(step, one)),
                _ => {
                    let step = self.named(step, one);
                    steps.extend(adjusters.iter().map(|name| with_adjuster(&step, name)));
                }
            }
        }
        self.tell_of_figures_not_read(&steps);
        self.keep_the_rest(&steps);
        let notes = self.all(Meaning::Note).into_iter();
        let text: Vec<&str> = notes.chain(self.kept.iter().map(String::as_str)).collect();
        let text = text.join("\n");
        let open: Vec<String> = self.unclear.iter().map(Unclear::line).collect();
        for step in &mut steps {
            step.text.clone_from(&text);
            step.open = open.join("\n");
        }
        steps
    }

    /// Tells of figures among the limits of a row that reads nothing.
    fn tell_of_figures_not_read(&mut self, steps: &[DraftStep]) {
        use Meaning::{High, Low, Nominal, Reading, Target, Tolerance};
        if !self.unclear.is_empty()
            || steps
                .iter()
                .any(|step| !matches!(step.kind, Kind::Tick | Kind::Inspect))
        {
            return;
        }
        for index in 0..self.columns.len() {
            let meaning = self.columns[index].meaning;
            let limits = matches!(
                meaning,
                Some(Target | Low | High | Nominal | Reading | Tolerance)
            );
            let cell = self.at(index);
            if limits && says(cell) && cell.contains(|c: char| c.is_ascii_digit()) {
                self.puzzle(index, Why::NoTarget);
            }
        }
    }

    /// The limit that stands alone in its row, where other columns say what is read.
    fn loose_end(&self) -> Option<usize> {
        use Meaning::{High, Low, Nominal, Number, Reading, Target, Title};
        let mut filled = (0..self.columns.len()).filter(|index| !self.at(*index).is_empty());
        let (Some(index), None) = (filled.next(), filled.next()) else {
            return None;
        };
        let names = |column: &Column| matches!(column.meaning, Some(Number | Title));
        let limits = matches!(
            self.columns[index].meaning,
            Some(Target | Low | High | Nominal | Reading)
        );
        (limits && self.columns.iter().any(names)).then_some(index)
    }

    /// Whether a limit stands where the heading wants a name.
    fn has_limit_for_name(&self, index: usize) -> bool {
        use Meaning::{Adjuster, Channel, Instrument, Mode, Point, Section, Signal};
        let names = [Adjuster, Channel, Instrument, Mode, Point, Section, Signal];
        let meaning = self.columns[index].meaning;
        meaning.is_some_and(|meaning| names.contains(&meaning)) && is_limit(self.at(index))
    }

    fn at(&self, index: usize) -> &'a str {
        self.cells.get(index).map_or("", String::as_str)
    }

    fn find(&self, meaning: Meaning) -> Option<usize> {
        self.columns
            .iter()
            .position(|column| column.meaning == Some(meaning))
    }

    fn columns_of(&self, meaning: Meaning) -> impl Iterator<Item = (usize, &'a Column, &'a str)> {
        let cells = self.cells;
        let columns = self.columns.iter().enumerate();
        columns
            .filter(move |(_, column)| column.meaning == Some(meaning))
            .map(move |(index, column)| {
                (index, column, cells.get(index).map_or("", String::as_str))
            })
    }

    fn cell(&self, meaning: Meaning) -> &'a str {
        self.find(meaning).map_or("", |index| self.at(index))
    }

    /// A cell without the signs that say nothing.
    fn said(&self, index: Option<usize>) -> &'a str {
        index
            .map(|index| self.at(index))
            .filter(|cell| says(cell))
            .unwrap_or_default()
    }

    fn all(&self, meaning: Meaning) -> Vec<&'a str> {
        let cells = self.columns_of(meaning).map(|(.., cell)| cell);
        cells
            .filter(|cell| cell.contains(char::is_alphanumeric))
            .collect()
    }

    /// Notes a cell that was not understood, and keeps it.
    fn puzzle(&mut self, index: usize, why: Why) {
        self.keep(index);
        self.leave_open(Unclear {
            column: self.columns[index].heading.clone(),
            cell: self.at(index).to_owned(),
            why,
        });
    }

    /// Notes what the row doesn't say.
    fn miss(&mut self, meaning: Meaning, why: Why) {
        let heading = self
            .find(meaning)
            .map(|index| self.columns[index].heading.clone());
        self.leave_open(Unclear {
            column: heading.unwrap_or_else(|| meaning.name().to_owned()),
            cell: String::new(),
            why,
        });
    }

    /// Once: several readings of a row may stumble over one cell.
    fn leave_open(&mut self, unclear: Unclear) {
        if !self.unclear.contains(&unclear) {
            self.unclear.push(unclear);
        }
    }

    /// Keeps a cell in the text, under its heading.
    fn keep(&mut self, index: usize) {
        let line = format!("{}: {}", self.columns[index].heading, self.at(index));
        if !self.at(index).is_empty() && !self.kept.contains(&line) {
            self.kept.push(line);
        }
    }

    /// What a cell names, which stays open where it says something that isn't known.
    fn known<T>(
        &mut self,
        meaning: Meaning,
        why: Why,
        find: impl FnOnce(&str) -> Option<T>,
    ) -> Option<T> {
        let index = self.find(meaning)?;
        let cell = self.said(Some(index));
        let found = find(cell);
        if found.is_none() && !cell.is_empty() {
            self.puzzle(index, why);
        }
        found
    }
}
