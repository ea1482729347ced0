//! One row of a pasted table as steps.

use super::Unclear;
use super::aim::{Aim, Cell, Due, Extreme, Side, ordered, read_aims, scale_of};
use super::columns::{Column, HeadedSet, Meaning, repeats, says};
use super::hold::{Hold, hold_in, says_to_hold};
use super::layout::{is_doing, promises, without_letter};
use super::lex::{Token, begins, lex, lone_unit, plain};
use super::phrases::{ACTIONS, KINDS, LOOKS, MEASURES, PUT, SIGNALS, STOPS, Sense, TURNED_ROUND};
use super::repeat::{Again, again_in, row_name};
use super::timer::minutes_in;
use super::why::Why;
use crate::metrology::Tolerance;
use crate::procedure::draft::{
    ConfirmedBy, Draft, DraftStep, DraftTarget, UntilKind, typed, typed_target,
};
use crate::procedure::{Id, Kind, Setting, Signal, Target, TargetKind, usual_instrument};
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
    /// The unit of what states none, if someone has said it.
    unstated: Option<Scale>,
    /// What goes into the text besides the notes.
    kept: Vec<String>,
    /// What was not understood so far.
    pub unclear: Vec<Unclear>,
    /// The printed numbers of the first and the last row that the row repeats.
    pub repeats: Option<(String, String)>,
}

/// One reading of a row.
#[derive(Clone, Debug, Default)]
struct Measured {
    /// The column that states it.
    column: Option<usize>,
    /// What tells it from the row's other readings.
    name: String,
    set: HeadedSet,
    due: Option<Scale>,
    aim: Aim,
}

impl<'a> Reader<'a> {
    pub fn new(
        columns: &'a [Column],
        cells: &'a [String],
        number: usize,
        sign: DecimalSign,
        unstated: Option<Scale>,
    ) -> Self {
        Reader {
            columns,
            cells,
            number,
            sign,
            unstated,
            kept: Vec::new(),
            unclear: Vec::new(),
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
            if self.columns[index].is_asked() && !self.at(index).is_empty() {
                self.puzzle(index, Why::Column);
            } else if repeats(self.at(index)) {
                self.puzzle(index, Why::NothingAbove);
            }
        }
        let mut measured = self.measured();
        let mut set_up = self.set_up(blank);
        self.hold_on(&mut measured, &mut set_up);
        set_up.wait = self.wait().map_or(String::new(), |it| it.to_string());
        let extreme = measured.iter().any(|one| one.aim.extreme.is_some());
        let adjusters = self.adjusters(extreme);
        let stated = self.stated_kind();
        let several = measured.len() > 1;
        let mut steps: Vec<DraftStep> = Vec::new();
        for one in &measured {
            let step = self.step(&set_up, one, &adjusters, stated, draft);
            match adjusters.len() {
                0 | 1 => steps.push(self.named(step, one, several)),
                _ => {
                    let step = self.named(step, one, several);
                    steps.extend(adjusters.iter().map(|name| with_adjuster(&step, name)));
                }
            }
        }
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

    fn name(&mut self, meaning: Meaning) -> String {
        let index = self.find(meaning);
        let name = one_line(self.said(index));
        match (name.parse::<Id>(), index) {
            (Err(error), Some(index)) if !name.is_empty() => {
                self.puzzle(index, Why::Name(error));
                String::new()
            }
            _ => name,
        }
    }

    /// What all steps of the row have in common.
    fn set_up(&mut self, blank: &DraftStep) -> DraftStep {
        let conditions = self
            .columns_of(Meaning::Condition)
            .filter(|(.., cell)| !cell.is_empty());
        let controls: Vec<String> = conditions
            .map(|(_, column, cell)| {
                format!("{}: {}", column.heading.replace(':', " "), one_line(cell))
            })
            .map(|line| one_line(&line))
            .collect();
        DraftStep {
            at: self.point(),
            with: self.name(Meaning::Instrument),
            mode: one_line(self.cell(Meaning::Mode)),
            channel: one_line(self.cell(Meaning::Channel)),
            supply: one_line(self.cell(Meaning::Supply)),
            settings: Setting::ALL
                .into_iter()
                .filter_map(|setting| Some((setting, self.setting(setting)?)))
                .collect(),
            signal: self.signal(),
            cautions: self.all(Meaning::Caution).join("\n"),
            controls: controls.join("\n"),
            ..blank.clone()
        }
    }

    /// What a column of its own says of a setting, with the unit of its heading.
    fn setting(&self, setting: Setting) -> Option<String> {
        let index = self.find(Meaning::Set(setting));
        let cell = one_line(self.said(index));
        (!cell.is_empty()).then(|| self.with_unit_of(index, &cell))
    }

    /// The test point. An electrode or a pin has its name from the stage that it belongs to.
    fn point(&mut self) -> String {
        let point = self.name(Meaning::Point);
        let stage = one_line(self.cell(Meaning::Title));
        let whole = format!("{stage} {point}");
        match is_part_of_a_stage(&point) && !stage.is_empty() && whole.parse::<Id>().is_ok() {
            true => whole,
            false => point,
        }
    }

    /// The adjusters of the row. Only for a peak or a dip can they be turned one by one.
    fn adjusters(&mut self, extreme: bool) -> Vec<String> {
        let index = self.find(Meaning::Adjuster);
        let mut names = designators(self.said(index));
        if names.len() < 2 {
            let name = self.name(Meaning::Adjuster);
            return Vec::from_iter(Some(name).filter(|name| !name.is_empty()));
        }
        if let Some(index) = index
            && !extreme
        {
            self.puzzle(index, Why::OneAdjuster(names[0].clone()));
            names.truncate(1);
        }
        names
    }

    fn signal(&mut self) -> Option<Signal> {
        self.known(Meaning::Signal, Why::Signal, |cell| among(SIGNALS, cell))
    }

    fn stated_kind(&mut self) -> Option<Kind> {
        self.known(Meaning::Kind, Why::Kind, |cell| among(KINDS, cell))
    }

    /// The unit that the row states for bare figures.
    fn unit(&mut self) -> Option<Scale> {
        self.known(Meaning::Unit, Why::UnknownUnit, |cell| {
            lone_unit(cell).and_then(|unit| scale_of(unit, None))
        })
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

    /// Every reading that the row states; one that states nothing where there is none.
    fn measured(&mut self) -> Vec<Measured> {
        let unit = self.unit();
        let limits = self.find(Meaning::Low).or(self.find(Meaning::High));
        let target = self.find(Meaning::Target);
        let nominal = self.find(Meaning::Nominal).filter(|_| limits.is_none());
        let mut all = self.of_target(target.or(nominal), unit);
        all.extend(self.of_limits(unit));
        let readings: Vec<usize> = self
            .columns_of(Meaning::Reading)
            .map(|(index, ..)| index)
            .collect();
        for index in readings {
            all.extend(self.of_cell(index, "", unit));
        }
        if all.is_empty() {
            all.push(Measured {
                due: unit.or_else(|| target.and_then(|index| self.columns[index].scale)),
                ..Measured::default()
            });
        }
        all
    }

    /// What the row repeats, where it says that and states nothing else; what it leaves out is told.
    fn again(&mut self, one: &Measured) -> Option<Again> {
        if one.aim.tolerance.is_some() || one.aim.nominal.is_some() {
            return None;
        }
        let title = without_letter(self.cell(Meaning::Title));
        let notes = self.all(Meaning::Note).into_iter();
        let mut texts = [title].into_iter().chain(notes);
        let again = texts.find_map(|text| again_in(text, self.sign))?;
        if !again.ends {
            self.miss(Meaning::Title, Why::NoEnd);
        } else if again.repeat.until == UntilKind::Steady && again.repeat.change.is_empty() {
            self.miss(Meaning::Title, Why::NoChange);
        }
        self.repeats = Some(again.rows.clone());
        Some(again)
    }

    /// Whether work is to go on only when the row's reading is inside.
    fn holds(&self) -> bool {
        let notes = self.all(Meaning::Note);
        let mut texts = [self.cell(Meaning::Title)].into_iter().chain(notes);
        texts.any(says_to_hold)
    }

    /// Takes what is waited for out of the words of a row that states no limit of its own.
    fn hold_on(&self, measured: &mut [Measured], set_up: &mut DraftStep) {
        let [one] = measured else {
            return;
        };
        let is_stated = one.aim != Aim::default() && !one.aim.words;
        if is_stated || !self.holds() {
            return;
        }
        let notes = self.all(Meaning::Note);
        let texts = [self.cell(Meaning::Title)].into_iter().chain(notes);
        let found = texts.filter_map(|text| hold_in(text, self.sign)).next();
        let Some(Hold { tolerance, at }) = found else {
            return;
        };
        one.aim = Aim {
            tolerance: Some(tolerance),
            ..Aim::default()
        };
        if set_up.at.is_empty() {
            set_up.at = at.unwrap_or_default();
        }
    }

    /// How many minutes the row waits, where its title says so. A note may speak of a time within
    /// the step.
    fn wait(&self) -> Option<u32> {
        minutes_in(self.cell(Meaning::Title))
    }

    fn of_target(&mut self, target: Option<usize>, unit: Option<Scale>) -> Vec<Measured> {
        let tolerance = self.find(Meaning::Tolerance);
        let stated = self.said(tolerance);
        let column = target.filter(|index| says(self.at(*index)));
        match (column, tolerance) {
            (Some(index), _) => self.of_cell(index, &self.with_unit_of(tolerance, stated), unit),
            (None, Some(index)) if !stated.is_empty() => {
                let due = self.due(index, target, unit);
                let aims = read_aims("", &self.with_unit_of(tolerance, stated), due);
                self.measure(index, aims, due.scale)
            }
            _ => Vec::new(),
        }
    }

    /// A bare tolerance with the unit of its heading.
    fn with_unit_of(&self, index: Option<usize>, cell: &str) -> String {
        let scale = index.and_then(|index| self.columns[index].scale);
        match scale {
            Some(scale) if cell.ends_with(|c: char| c.is_ascii_digit()) => {
                format!("{cell} {scale}")
            }
            _ => cell.to_owned(),
        }
    }

    fn due(&self, index: usize, other: Option<usize>, unit: Option<Scale>) -> Due {
        let column = &self.columns[index];
        let of_other = || other.and_then(|index| self.columns[index].scale);
        Due {
            scale: column.scale.or(unit).or_else(of_other).or(self.unstated),
            side: column.side,
            sign: self.sign,
        }
    }

    fn of_cell(&mut self, index: usize, tolerance: &str, unit: Option<Scale>) -> Vec<Measured> {
        if !says(self.at(index)) {
            return Vec::new();
        }
        let mut due = self.due(index, None, unit);
        // What the row says of its unit is nearer than the heading.
        if self.columns[index].meaning == Some(Meaning::Target) {
            due.scale = unit.or(due.scale);
        }
        let aims = read_aims(self.at(index), tolerance, due);
        self.measure(index, aims, due.scale)
    }

    fn measure(&mut self, index: usize, aims: Vec<Aim>, due: Option<Scale>) -> Vec<Measured> {
        let tolerance = self.find(Meaning::Tolerance);
        for aim in &aims {
            match (&aim.unclear, tolerance) {
                (Some((Cell::Tolerance, why)), Some(cell)) if !self.at(cell).is_empty() => {
                    self.puzzle(cell, why.clone());
                }
                // Words say what is to be seen; whether that is enough depends on the step.
                (Some((Cell::Target, Why::NoTarget)), _) if aim.words => self.keep(index),
                (Some((_, why)), _) => {
                    self.puzzle(index, why.clone());
                    if let Some(cell) = tolerance {
                        self.keep(cell);
                    }
                }
                (None, _) => {}
            }
            if aim.more || (aim.tolerance.is_none() && aim.nominal.is_some()) {
                self.keep(index);
            }
        }
        let column = &self.columns[index];
        let with_name = |aim| Measured {
            column: Some(index),
            name: match column.meaning {
                Some(Meaning::Reading) => column.heading.clone(),
                _ => String::new(),
            },
            set: column.set.clone(),
            due,
            aim,
        };
        aims.into_iter().map(with_name).collect()
    }

    /// Limits in columns of their own, grouped by what their headings call the reading.
    fn of_limits(&mut self, unit: Option<Scale>) -> Vec<Measured> {
        let is_limit =
            |column: &Column| matches!(column.meaning, Some(Meaning::Low | Meaning::High));
        let columns = self.columns;
        let mut names: Vec<&str> = Vec::new();
        for column in columns.iter().filter(|column| is_limit(column)) {
            let name = limit_name(column);
            if !names.contains(&name) {
                names.push(name);
            }
        }
        let several = names.len() > 1;
        let mut all = Vec::new();
        for name in names {
            let mut ends: Vec<(usize, Aim)> = Vec::new();
            let mut due_scale = None;
            for (index, column) in columns.iter().enumerate() {
                if !is_limit(column) || limit_name(column) != name || !says(self.at(index)) {
                    continue;
                }
                let side = match column.meaning {
                    Some(Meaning::Low) => Side::Lower,
                    _ => Side::Upper,
                };
                let shared = columns
                    .iter()
                    .filter(|c| is_limit(c))
                    .find_map(|column| column.scale);
                let due = Due {
                    scale: column.scale.or(unit).or(shared).or(self.unstated),
                    side: Some(side),
                    sign: self.sign,
                };
                due_scale = due.scale;
                let aims = read_aims(self.at(index), "", due);
                ends.extend(aims.into_iter().map(|aim| (index, aim)));
            }
            let Some(first) = ends.first().map(|(index, _)| *index) else {
                continue;
            };
            let aim = self.joined(ends, name);
            all.push(Measured {
                column: Some(first),
                name: if several {
                    name.to_owned()
                } else {
                    String::new()
                },
                set: super::columns::Column::headed(name).set,
                due: due_scale,
                aim,
            });
        }
        all
    }

    /// A lower and an upper limit as one aim.
    fn joined(&mut self, ends: Vec<(usize, Aim)>, name: &str) -> Aim {
        for (index, aim) in &ends {
            if let Some((_, why)) = &aim.unclear {
                self.puzzle(*index, why.clone());
            } else if aim.more || aim.tolerance.is_none() {
                self.keep(*index);
            }
        }
        let nominal = self.find(Meaning::Nominal);
        if let Some(index) = nominal {
            self.keep(index);
        }
        let turned = |text: &str| {
            TURNED_ROUND
                .iter()
                .any(|word| text.to_lowercase().contains(word))
        };
        let aims: Vec<&Aim> = ends.iter().map(|(_, aim)| aim).collect();
        match aims.as_slice() {
            [one] => {
                let index = ends[0].0;
                let least = matches!(one.tolerance, Some(Tolerance::AtLeast(_)));
                if least && (turned(name) || turned(self.cell(Meaning::Title))) {
                    self.puzzle(index, Why::TurnedRound);
                    return Aim::default();
                }
                Aim::clone(one)
            }
            [one, other] => {
                let both = match (&one.tolerance, &other.tolerance) {
                    (Some(Tolerance::AtLeast(low)), Some(Tolerance::AtMost(high)))
                    | (Some(Tolerance::AtMost(high)), Some(Tolerance::AtLeast(low))) => {
                        ordered(low.clone(), high.clone())
                    }
                    (None, None) => return Aim::clone(one),
                    _ => Aim {
                        unclear: Some((Cell::Target, Why::TwoLimits)),
                        ..Aim::default()
                    },
                };
                let both = self.beside_nominal(both, nominal);
                if let Some((_, why)) = &both.unclear {
                    for (index, _) in &ends {
                        self.puzzle(*index, why.clone());
                    }
                }
                both
            }
            _ => {
                for (index, _) in &ends {
                    self.puzzle(*index, Why::TwoLimits);
                }
                Aim::default()
            }
        }
    }

    /// Limits beside a nominal figure that isn't between them may be counted from it.
    fn beside_nominal(&self, aim: Aim, nominal: Option<usize>) -> Aim {
        let (Some(Tolerance::Between { low, high }), Some(index)) = (&aim.tolerance, nominal)
        else {
            return aim;
        };
        let due = self.due(index, None, Some(high.scale));
        let aims = read_aims(self.said(Some(index)), "", due);
        let figure = aims.first().and_then(|aim| aim.nominal.as_ref());
        match figure {
            Some(figure) if figure.base() < low.base() || figure.base() > high.base() => Aim {
                unclear: Some((Cell::Target, Why::NominalOutside)),
                ..Aim::default()
            },
            _ => aim,
        }
    }

    fn target(&self, aim: &Aim) -> DraftTarget {
        match &aim.tolerance {
            Some(tolerance) => {
                let unit = aim.scale().map_or(Unit::VoltDc, |scale| scale.unit);
                typed_target(&Target::Fixed(tolerance.clone()), unit, self.sign)
            }
            None => DraftTarget::default(),
        }
    }

    fn step(
        &mut self,
        set_up: &DraftStep,
        one: &Measured,
        adjusters: &[String],
        stated: Option<Kind>,
        draft: &Draft,
    ) -> DraftStep {
        let mut step = DraftStep {
            adjuster: adjusters.first().cloned().unwrap_or_default(),
            target: self.target(&one.aim),
            signal: one.set.signal.or(set_up.signal),
            ..set_up.clone()
        };
        for (of_heading, here) in [
            (&one.set.mode, &mut step.mode),
            (&one.set.channel, &mut step.channel),
        ] {
            if !of_heading.is_empty() {
                here.clone_from(of_heading);
            }
        }
        if !one.set.point.is_empty() {
            step.at = format!("{} {}", step.at, one.set.point).trim().to_owned();
        }
        if let Some(again) = self.again(one) {
            step.kind = Kind::Repeat;
            step.repeat = again.repeat;
            return step;
        }
        step.kind = self.kind(&step, one, stated);
        if step.kind == Kind::Stop && one.aim.tolerance.is_some() {
            step.confirmed_by = ConfirmedBy::Reading;
        }
        if step.kind == Kind::Set
            && step.target.kind == TargetKind::None
            && let Some(nominal) = &one.aim.nominal
        {
            step.target = DraftTarget {
                kind: TargetKind::Around,
                value: typed(nominal, self.sign),
                ..DraftTarget::default()
            };
        }
        if step.reads() {
            step.scale = self.scale(one);
            step.with = match step.with.is_empty() {
                true => instrument_for(draft, step.scale.unit),
                false => role_of(draft, &step.with),
            };
        }
        if step.kind == Kind::Stop {
            step.confirm = one_line(self.cell(Meaning::Title));
        }
        step
    }

    /// What the step does, from what the row states; what it leaves out is told.
    fn kind(&mut self, step: &DraftStep, one: &Measured, stated: Option<Kind>) -> Kind {
        let aim = &one.aim;
        let (turns, probes) = (!step.adjuster.is_empty(), !step.at.is_empty());
        let limited = aim.tolerance.is_some() || aim.nominal.is_some();
        let title = without_letter(self.cell(Meaning::Title));
        // A kind that reads nothing states no limit.
        if let Some(kind) = stated
            && (kind.reads() || kind == Kind::Stop || !limited)
        {
            return kind;
        }
        match aim.extreme {
            Some(_) if !turns => self.miss(Meaning::Adjuster, Why::NoAdjuster),
            _ => {}
        }
        match aim.extreme {
            Some(Extreme::Peak) => return Kind::Peak,
            Some(Extreme::Dip) => return Kind::Dip,
            None => {}
        }
        if begins(title, STOPS) && !limited {
            return Kind::Stop;
        }
        if !turns && aim.tolerance.is_some() && self.holds() {
            return Kind::Stop;
        }
        // A cell that wasn't understood is told already.
        if aim.unclear.is_some() && !aim.words {
            return match (turns, probes || limited) {
                (true, _) => Kind::Set,
                (false, _) => Kind::Read,
            };
        }
        match (turns, limited) {
            (true, true) => {
                if let (None, Some(index)) = (&aim.tolerance, one.column)
                    && aim.unclear.is_none()
                {
                    self.puzzle(index, Why::NoTolerance);
                }
                Kind::Set
            }
            (false, true) => Kind::Read,
            _ if aim.words => self.kind_of_words(title, one),
            (true, false) if probes => {
                self.miss(Meaning::Target, Why::NothingToSet);
                Kind::Set
            }
            (false, false) if probes => Kind::Read,
            _ => self.kind_of_words(title, one),
        }
    }

    /// What a row without any figure does: what its words leave no doubt of.
    fn kind_of_words(&mut self, title: &str, one: &Measured) -> Kind {
        let notes = self.all(Meaning::Note);
        let first = [title]
            .into_iter()
            .chain(notes.iter().copied())
            .find(|text| !text.is_empty());
        let text = without_letter(first.unwrap_or_default());
        if begins(text, LOOKS) && one.aim.tolerance.is_none() {
            return Kind::Inspect;
        }
        let put = text
            .split_whitespace()
            .next_back()
            .is_some_and(|word| PUT.contains(&word.to_lowercase().as_str()));
        let doing = begins(text, ACTIONS) || (put && is_doing(text));
        let figures = |text: &&str| promises(text) && text.contains(|c: char| c.is_ascii_digit());
        let asks = one.column.is_none() && (promises(text) || notes.iter().any(figures));
        if doing && !asks {
            return Kind::Tick;
        }
        match (begins(text, MEASURES), one.column) {
            (_, Some(index)) => self.puzzle(index, Why::NoTarget),
            (measures, None) if measures || doing => self.miss(Meaning::Target, Why::NoReading),
            (_, None) => self.miss(Meaning::Title, Why::NothingToDo),
        }
        Kind::Tick
    }

    /// The unit of the reading; where nothing states one, that is told.
    fn scale(&mut self, one: &Measured) -> Scale {
        one.aim
            .scale()
            .or(one.due)
            .or(self.unstated)
            .unwrap_or_else(|| {
                let told = |told: &Unclear| matches!(told.why, Why::UnknownUnit | Why::NoUnit(_));
                if one.aim.unclear.is_none() && !self.unclear.iter().any(told) {
                    self.miss(Meaning::Unit, Why::NoUnitAtAll);
                }
                Scale::plain(Unit::VoltDc)
            })
    }

    /// Keeps in the text what has no place of its own in the step.
    fn keep_the_rest(&mut self, steps: &[DraftStep]) {
        let number = self.find(Meaning::Number);
        if let Some(index) =
            number.filter(|_| self.cell(Meaning::Number) != self.number.to_string())
        {
            self.keep(index);
        }
        let reads = steps.iter().any(|step| step.reads());
        let turns = steps.iter().any(|step| step.kind.turns());
        for (meaning, placed) in [
            (Meaning::Instrument, reads),
            (Meaning::Point, reads),
            (Meaning::Adjuster, turns),
        ] {
            if let Some(index) = self.find(meaning).filter(|_| !placed) {
                self.keep(index);
            }
        }
        // A second column of what a step has one of.
        for index in 0..self.columns.len() {
            let meaning = self.columns[index].meaning;
            let is_second = meaning.is_some_and(|meaning| {
                let one = [Meaning::Point, Meaning::Instrument, Meaning::Adjuster];
                one.contains(&meaning) && self.find(meaning) != Some(index)
            });
            if is_second && says(self.at(index)) {
                self.keep(index);
            }
        }
        // Cells beyond those that limit something.
        let nominal = self.find(Meaning::Nominal);
        if let Some(index) = nominal.filter(|_| self.find(Meaning::Target).is_some()) {
            self.keep(index);
        }
    }

    /// The pasted title, or else one that says what is done.
    fn named(&mut self, mut step: DraftStep, one: &Measured, several: bool) -> DraftStep {
        let pasted = self.cell(Meaning::Title);
        let mut title = shortened(pasted);
        if title != one_line(pasted) && !self.kept.iter().any(|kept| kept == pasted) {
            self.kept.insert(0, pasted.to_owned());
        }
        let note = self.all(Meaning::Note).first().map(|note| shortened(note));
        if title.is_empty() {
            title = match note {
                Some(note) if !step.reads() => note,
                _ => described(&step),
            };
        }
        let point = one_line(self.cell(Meaning::Point));
        if is_part_of_a_stage(&point) && !pasted.is_empty() {
            title = shortened(&format!("{title}, {point}"));
        }
        if several && !one.name.is_empty() {
            title = shortened(&format!("{title}: {}", one.name));
        }
        step.title = title;
        step
    }
}

/// Whether words stand where the headings want a figure.
pub(super) fn has_words_for_figures(columns: &[Column], cells: &[String]) -> bool {
    let wants = |column: &Column| {
        let figures = matches!(
            column.meaning,
            Some(Meaning::Low | Meaning::High | Meaning::Reading | Meaning::Nominal)
        );
        let target = column.meaning == Some(Meaning::Target);
        figures || (target && (column.scale.is_some() || column.side.is_some()))
    };
    let mut pairs = columns.iter().zip(cells);
    pairs.any(|(column, cell)| wants(column) && says(cell) && is_name(cell))
}

/// Whether a test point is named by a letter or a number alone, as an electrode or a pin is.
fn is_part_of_a_stage(point: &str) -> bool {
    let is_number = point.len() <= 3 && point.bytes().all(|b| b.is_ascii_digit());
    !point.is_empty() && (is_number || matches!(point.as_bytes(), [b'A'..=b'Z' | b'a'..=b'z']))
}

/// Whether a cell names something and states nothing.
fn is_name(cell: &str) -> bool {
    let cell = plain(cell);
    let tokens = lex(&cell).tokens;
    let states = |token: &Token| {
        use Sense::{About, Count, Dip, Max, Min, Peak};
        match token {
            Token::Figure(_) | Token::Lost => true,
            Token::Sense(sense) => matches!(sense, About | Count | Dip | Max | Min | Peak),
            Token::Word => false,
        }
    };
    tokens.contains(&Token::Word) && !tokens.iter().any(states)
}

fn limit_name(column: &Column) -> &str {
    let headings = |meaning: Meaning| meaning.headings().contains(&column.name.as_str());
    match headings(Meaning::Low) || headings(Meaning::High) {
        true => "",
        false => &column.name,
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

pub(super) fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A text short enough for a title, cut between words where it is too long.
pub(super) fn shortened(text: &str) -> String {
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

/// What a list of words names by this one.
fn among<T: Copy>(list: &[(&[&str], T)], word: &str) -> Option<T> {
    let word = word.to_lowercase();
    let found = list
        .iter()
        .find(|(words, _)| words.contains(&word.as_str()));
    found.map(|(_, named)| *named)
}

/// The role as the draft has it; a new one in small letters, as a kit names its own.
fn role_of(draft: &Draft, printed: &str) -> String {
    let small = printed.to_lowercase();
    let mut known = draft.instruments.iter().map(|it| it.name.trim());
    let found = known.find(|role| role.to_lowercase() == small);
    found.map_or(small.clone(), str::to_owned)
}

/// The instrument that a draft reads a unit with; where it has none, what usually reads it.
fn instrument_for(draft: &Draft, unit: Unit) -> String {
    let reads_it =
        |step: &&DraftStep| step.reads() && step.scale.unit == unit && !step.with.trim().is_empty();
    match draft.steps().find(reads_it) {
        Some(step) => step.with.trim().to_owned(),
        None => usual_instrument(unit).to_owned(),
    }
}
