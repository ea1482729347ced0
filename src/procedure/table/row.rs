//! One row of a pasted table as a step.

use super::Unclear;
use super::aim::{Aim, Extreme, Misread, read_aim};
use super::columns::{Column, Meaning, capitalised, read_scale};
use crate::procedure::draft::{Draft, DraftStep, DraftTarget, typed, typed_target};
use crate::procedure::{Id, Kind, Signal, Target, TargetKind, usual_instrument};
use crate::quantity::{DecimalSign, Scale, Unit};

/// The longest title that is made of a cell; a longer cell stands in the text as a whole.
const LONGEST_TITLE: usize = 80;

/// Reads one row.
pub(super) struct Reader<'a> {
    columns: &'a [Column],
    cells: &'a [String],
    /// The row's place in the table, from 1.
    number: usize,
    sign: DecimalSign,
    /// What goes into the text besides the notes.
    kept: Vec<String>,
    /// What was not understood so far.
    pub unclear: Vec<Unclear>,
}

impl<'a> Reader<'a> {
    pub fn new(
        columns: &'a [Column],
        cells: &'a [String],
        number: usize,
        sign: DecimalSign,
    ) -> Self {
        Reader {
            columns,
            cells,
            number,
            sign,
            kept: Vec::new(),
            unclear: Vec::new(),
        }
    }

    /// The row's step; several where it peaks or dips several adjusters.
    pub fn steps(&mut self, blank: &DraftStep, draft: &Draft) -> Vec<DraftStep> {
        let due = self.due();
        let aim = self.aim(due);
        let adjusters = self.adjusters(aim.extreme.is_some());
        let mut step = DraftStep {
            at: self.name(Meaning::Point),
            with: self.name(Meaning::Instrument),
            adjuster: adjusters.first().cloned().unwrap_or_default(),
            mode: one_line(self.cell(Meaning::Mode)),
            channel: one_line(self.cell(Meaning::Channel)),
            supply: one_line(self.cell(Meaning::Supply)),
            signal: self.signal(),
            cautions: self.all(Meaning::Caution).join("\n"),
            target: self.target(&aim),
            ..blank.clone()
        };
        step.kind = self.kind(&step, &aim);
        if step.kind.reads() {
            step.scale = self.scale(due.or(aim.scale()));
        }
        if step.kind.reads() && step.with.is_empty() {
            step.with = instrument_for(draft, step.scale.unit);
        }
        self.keep_the_rest(&step);
        step.title = self.title(&step);
        let notes = self.all(Meaning::Note).into_iter();
        let all: Vec<&str> = notes.chain(self.kept.iter().map(String::as_str)).collect();
        step.text = all.join("\n");
        match adjusters.len() {
            0 | 1 => vec![step],
            _ => adjusters
                .iter()
                .map(|name| with_adjuster(&step, name))
                .collect(),
        }
    }

    fn columns_of(&self, meaning: Meaning) -> impl Iterator<Item = (&'a Column, &'a str)> {
        let cells = self.cells;
        let columns = self.columns.iter().enumerate();
        columns
            .filter(move |(_, column)| column.meaning == Some(meaning))
            .map(move |(index, column)| (column, cells.get(index).map_or("", String::as_str)))
    }

    fn cell(&self, meaning: Meaning) -> &'a str {
        self.columns_of(meaning).next().map_or("", |(_, cell)| cell)
    }

    fn all(&self, meaning: Meaning) -> Vec<&'a str> {
        let cells = self.columns_of(meaning).map(|(_, cell)| cell);
        cells.filter(|cell| !cell.is_empty()).collect()
    }

    fn heading(&self, meaning: Meaning) -> String {
        match self.columns_of(meaning).next() {
            Some((column, _)) => column.heading.clone(),
            None => capitalised(meaning.headings()[0]),
        }
    }

    /// Notes a cell that was not understood, and keeps it.
    fn puzzle(&mut self, meaning: Meaning, why: impl Into<String>) {
        self.keep(meaning);
        self.unclear.push(Unclear {
            column: self.heading(meaning),
            cell: self.cell(meaning).to_owned(),
            why: why.into(),
        });
    }

    /// Keeps a cell in the text, under its heading.
    fn keep(&mut self, meaning: Meaning) {
        let cell = self.cell(meaning);
        if !cell.is_empty() {
            self.kept.push(format!("{}: {cell}", self.heading(meaning)));
        }
    }

    fn name(&mut self, meaning: Meaning) -> String {
        let name = one_line(self.cell(meaning));
        match name.parse::<Id>() {
            Err(error) if !name.is_empty() => {
                self.puzzle(meaning, error.to_string());
                String::new()
            }
            _ => name,
        }
    }

    /// The adjusters of the row. Only for a peak or a dip can they be turned one by one.
    fn adjusters(&mut self, extreme: bool) -> Vec<String> {
        let mut names = designators(self.cell(Meaning::Adjuster));
        if names.len() < 2 {
            let name = self.name(Meaning::Adjuster);
            return Vec::from_iter(Some(name).filter(|name| !name.is_empty()));
        }
        if !extreme {
            let why = format!("a step turns one adjuster: {} was taken", names[0]);
            self.puzzle(Meaning::Adjuster, why);
            names.truncate(1);
        }
        names
    }

    fn signal(&mut self) -> Option<Signal> {
        match self.cell(Meaning::Signal).to_lowercase().as_str() {
            "" => None,
            "rx" | "r" | "receive" | "receiving" => Some(Signal::Rx),
            "tx" | "t" | "transmit" | "transmitting" => Some(Signal::Tx),
            _ => {
                self.puzzle(Meaning::Signal, "it is neither RX nor TX");
                None
            }
        }
    }

    /// The unit that the table states for bare figures.
    fn due(&mut self) -> Option<Scale> {
        let cell = self.cell(Meaning::Unit);
        let scale = read_scale(cell);
        if scale.is_none() && !cell.is_empty() {
            self.puzzle(Meaning::Unit, "it is not a unit that is known here");
        }
        let headed = || self.columns_of(Meaning::Target).next()?.0.scale;
        scale.or_else(headed)
    }

    fn aim(&mut self, due: Option<Scale>) -> Aim {
        let (target, tolerance) = (self.cell(Meaning::Target), self.cell(Meaning::Tolerance));
        let mut aim = read_aim(target, tolerance, due, self.sign);
        match aim.misread.take() {
            None => {}
            Some(Misread::Tolerance(why)) => self.puzzle(Meaning::Tolerance, why),
            Some(Misread::Target(why)) => {
                self.puzzle(Meaning::Target, why);
                self.keep(Meaning::Tolerance);
            }
        }
        aim
    }

    fn target(&self, aim: &Aim) -> DraftTarget {
        match (&aim.tolerance, &aim.nominal) {
            (Some(tolerance), _) => {
                let unit = aim.scale().map_or(Unit::VoltDc, |scale| scale.unit);
                typed_target(&Target::Fixed(tolerance.clone()), unit, self.sign)
            }
            (None, Some(nominal)) => DraftTarget {
                kind: TargetKind::Around,
                value: typed(nominal, self.sign),
                ..DraftTarget::default()
            },
            (None, None) => DraftTarget::default(),
        }
    }

    fn kind(&self, step: &DraftStep, aim: &Aim) -> Kind {
        let (turns, probes) = (!step.adjuster.is_empty(), !step.at.is_empty());
        let aims = step.target.kind != TargetKind::None || !self.cell(Meaning::Target).is_empty();
        match aim.extreme {
            Some(Extreme::Peak) => Kind::Peak,
            Some(Extreme::Dip) => Kind::Dip,
            None if turns && (aims || probes) => Kind::Set,
            None if probes || step.target.kind != TargetKind::None => Kind::Read,
            None => Kind::Tick,
        }
    }

    /// The unit of the reading; where nothing states one, volts, and that is told.
    fn scale(&mut self, stated: Option<Scale>) -> Scale {
        stated.unwrap_or_else(|| {
            self.unclear.push(Unclear {
                column: self.heading(Meaning::Unit),
                cell: String::new(),
                why: "nothing says in which unit it is read: volts DC were taken".to_owned(),
            });
            Scale::plain(Unit::VoltDc)
        })
    }

    /// Keeps in the text what has no place of its own in the step.
    fn keep_the_rest(&mut self, step: &DraftStep) {
        if self.cell(Meaning::Number) != self.number.to_string() {
            self.keep(Meaning::Number);
        }
        if !step.kind.reads() {
            self.keep(Meaning::Instrument);
        }
        if !step.kind.turns() {
            self.keep(Meaning::Adjuster);
        }
        for (column, cell) in self.columns.iter().zip(self.cells) {
            if column.meaning.is_none() && !cell.is_empty() {
                self.kept.push(format!("{}: {cell}", column.heading));
            }
        }
    }

    /// The pasted title, or else one that says what is done.
    fn title(&mut self, step: &DraftStep) -> String {
        let pasted = self.cell(Meaning::Title);
        let title = shortened(pasted);
        if title != one_line(pasted) {
            self.kept.insert(0, pasted.to_owned());
        }
        let note = self.all(Meaning::Note).first().map(|note| shortened(note));
        match note {
            _ if !title.is_empty() => title,
            Some(note) if !step.kind.reads() => note,
            _ => described(step),
        }
    }
}

/// What a step does, in a few words.
fn described(step: &DraftStep) -> String {
    let named = |word: &str, name: &str| match name {
        "" => String::new(),
        name => format!(" {word}{name}"),
    };
    let turned = match step.kind.turns() {
        true => named("", &step.adjuster),
        false => String::new(),
    };
    let kind = match step.kind {
        Kind::Set => "Set",
        Kind::Tick => "To do",
        kind => kind.name(),
    };
    format!("{kind}{turned}{}", named("at ", &step.at))
}

/// A step for one of several adjusters.
fn with_adjuster(step: &DraftStep, name: &str) -> DraftStep {
    DraftStep {
        title: match step.title.contains(name) {
            true => step.title.clone(),
            false => format!("{}: {name}", step.title),
        },
        adjuster: name.to_owned(),
        ..step.clone()
    }
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A text short enough for a title, cut between words where it is too long.
fn shortened(text: &str) -> String {
    let line = one_line(text);
    let Some((most, _)) = line.char_indices().nth(LONGEST_TITLE) else {
        return line;
    };
    let end = line[..most].rfind(' ').unwrap_or(most);
    format!("{}…", &line[..end])
}

/// The designators in a cell that holds nothing else, such as `L4, L5` or `T1/T2`.
fn designators(cell: &str) -> Vec<String> {
    let apart = |c: char| c.is_whitespace() || matches!(c, ',' | ';' | '/' | '&' | '+');
    let parts = cell
        .split(apart)
        .filter(|part| !part.is_empty() && *part != "and");
    let is_one = |part: &&str| {
        let digits = part.trim_start_matches(|c: char| c.is_ascii_uppercase());
        digits.len() < part.len()
            && (1..=4).contains(&digits.len())
            && digits.starts_with(|c: char| c.is_ascii_digit())
            && digits.chars().all(|c| c.is_ascii_alphanumeric())
    };
    let parts: Vec<&str> = parts.collect();
    match parts.iter().all(is_one) {
        true => parts.into_iter().map(str::to_owned).collect(),
        false => Vec::new(),
    }
}

/// The instrument that a draft reads a unit with; where it has none, what usually reads it.
fn instrument_for(draft: &Draft, unit: Unit) -> String {
    let reads_it = |step: &&DraftStep| {
        step.kind.reads() && step.scale.unit == unit && !step.with.trim().is_empty()
    };
    match draft.steps().find(reads_it) {
        Some(step) => step.with.trim().to_owned(),
        None => usual_instrument(unit).to_owned(),
    }
}
