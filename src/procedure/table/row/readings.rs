//! The readings that a row states, each with its limits.

use super::super::aim::{Aim, Cell, Due, Side, ordered, read_aims, scale_of};
use super::super::columns::{Column, says};
use super::super::hints::Hints;
use super::super::lex::{Spelled, Token, begins, has_word, lex, lone_unit, plain};
use super::super::meaning::Meaning;
use super::super::phrases::{AC_SOURCES, ENDS, FAILED, Sense, TOLERANCES};
use super::super::why::Why;
use super::{Measured, Reader};
use crate::metrology::Tolerance;
use crate::quantity::{Family, Prefix, Scale, Unit};

impl<'a> Reader<'a> {
    /// Every reading that the row states; one that states nothing where there is none.
    pub(super) fn measured(&mut self) -> Vec<Measured> {
        let unit = self.unit();
        let limits = self.find(Meaning::Low).or(self.find(Meaning::High));
        let target = self.find(Meaning::Target);
        let nominal = self.find(Meaning::Nominal);
        let mut all = self.of_target(target.or(nominal.filter(|_| limits.is_none())), unit);
        if let (Some(index), Some(nominal), None) = (target, nominal, limits) {
            self.beside_its_nominal(&mut all, index, nominal, unit);
        }
        self.beside_a_note(&mut all, target, unit);
        let limited = self.of_limits(unit);
        if let Some(index) = target
            && self.are_limits_of(&all, &limited, index)
        {
            all.clear();
        }
        self.tell_of_limits_of_the_same(&all, &limited, target);
        all.extend(limited);
        // What is usual is read where nothing limits it.
        if all.is_empty() && limits.is_some() {
            all = self.of_target(nominal, unit);
        }
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

    /// Takes a tolerance out of the note beside a figure that has none; a limit there is told.
    fn beside_a_note(
        &mut self,
        stated: &mut Vec<Measured>,
        target: Option<usize>,
        unit: Option<Scale>,
    ) {
        let (Some(target), [one]) = (target, stated.as_slice()) else {
            return;
        };
        if matches!(
            one.aim.tolerance,
            Some(Tolerance::AtLeast(_) | Tolerance::AtMost(_))
        ) {
            self.tell_of_another_side();
            return;
        }
        let bare = one.aim.tolerance.is_none() && one.aim.unclear.is_none();
        if !bare || one.aim.nominal.is_none() || self.find(Meaning::Tolerance).is_some() {
            return;
        }
        let notes = self.columns_of(Meaning::Note);
        let Some((note, _, cell)) = notes.into_iter().find(|(.., cell)| limits(cell)) else {
            return;
        };
        let lower = cell.to_lowercase();
        let named = TOLERANCES.iter().find_map(|word| lower.strip_suffix(word));
        let named = named.and_then(|rest| cell.get(..rest.len()));
        let margin = named.unwrap_or(cell).trim_end();
        let due = self.due(target, None, unit);
        let aims = read_aims(self.at(target), margin, due);
        match aims.as_slice() {
            [aim] if is_of_its_figure(aim, margin) => {
                *stated = self.measure(target, aims, due.scale);
            }
            _ => self.puzzle(note, Why::Tolerance),
        }
    }

    /// Tells of a limit in a note beside one of one side: it may be that of the other side.
    fn tell_of_another_side(&mut self) {
        let mut notes = self.columns_of(Meaning::Note);
        let other = notes.find(|(_, column, cell)| {
            let failed = begins(&column.name, FAILED);
            cell.starts_with(['<', '>', '≤', '≥']) && limits(cell) && !failed
        });
        let index = other.map(|(index, ..)| index);
        drop(notes);
        if let Some(index) = index {
            self.puzzle(index, Why::TwoLimits);
        }
    }

    /// Takes how far the target's column lets the nominal figure be off for what it is.
    fn beside_its_nominal(
        &mut self,
        stated: &mut Vec<Measured>,
        index: usize,
        nominal: usize,
        unit: Option<Scale>,
    ) {
        let margin = self.said(Some(index));
        let starts = |sign: &&str| plain(margin).starts_with(*sign);
        let off = ["±", "+/-", "+", "-"].iter().any(starts);
        let due = self.due(nominal, None, unit);
        let aims = match says(self.at(nominal)) && !margin.is_empty() {
            true => read_aims(self.at(nominal), margin, due),
            false => return,
        };
        let around = |aim: &Aim| matches!(aim.tolerance, Some(Tolerance::Around { .. }));
        let [aim] = aims.as_slice() else {
            return;
        };
        if off && around(aim) && aim.unclear.is_none() {
            self.unclear.retain(|told| told.cell != margin);
            *stated = self.measure(nominal, aims, due.scale);
        } else if around(aim) && stated.iter().all(|one| one.aim.tolerance.is_none()) {
            // A bare figure beside it may be a limit, or how far it may be off.
            self.puzzle(index, Why::NoTarget);
        }
    }

    /// Tells of a target that states a limit beside a column of limits for the same reading.
    fn tell_of_limits_of_the_same(
        &mut self,
        stated: &[Measured],
        limited: &[Measured],
        target: Option<usize>,
    ) {
        let states = |one: &Measured| one.aim.tolerance.is_some();
        let ([one], [limits], Some(index)) = (stated, limited, target) else {
            return;
        };
        let column = limits.column.map(|index| &self.columns[index]);
        let of_its_own = column.is_some_and(|column| !limit_name(column).is_empty());
        if states(one) && states(limits) && !of_its_own {
            self.puzzle(index, Why::TwoLimits);
        }
    }

    /// Whether the one figure of the target is what the limits beside it are the limits of.
    fn are_limits_of(&mut self, stated: &[Measured], limited: &[Measured], index: usize) -> bool {
        let ([one], [limits]) = (stated, limited) else {
            return false;
        };
        let (Some(figure), None, None) = (&one.aim.nominal, &one.aim.tolerance, &one.aim.unclear)
        else {
            return false;
        };
        let (least, most) = match &limits.aim.tolerance {
            Some(Tolerance::Between { low, high }) => (Some(low), Some(high)),
            Some(Tolerance::AtLeast(low)) => (Some(low), None),
            Some(Tolerance::AtMost(high)) => (None, Some(high)),
            _ => return false,
        };
        if [least, most]
            .iter()
            .flatten()
            .any(|it| it.unit() != figure.unit())
        {
            return false;
        }
        let below = least.is_some_and(|low| figure.base() < low.base());
        let above = most.is_some_and(|high| figure.base() > high.base());
        if below || above {
            self.puzzle(index, Why::NominalOutside);
        }
        true
    }

    /// The unit that the row states for bare figures.
    pub(super) fn unit(&mut self) -> Option<Scale> {
        let cell = self.said(self.find(Meaning::Unit));
        if let Some(Spelled::Volts(prefix)) = lone_unit(cell) {
            let hints = Hints::of(self.cell(Meaning::Title), "", self.section);
            let kind = hints.volts.or(self.volts);
            let asked = prefix == Prefix::Micro || hints.alternates;
            if kind.is_none()
                && asked
                && let Some(index) = self.find(Meaning::Unit)
            {
                self.puzzle(index, Why::WhichVolts);
            }
            let taken = if asked { Unit::VoltRms } else { Unit::VoltDc };
            return Some(Scale::new(prefix, kind.unwrap_or(taken)));
        }
        self.known(Meaning::Unit, Why::UnknownUnit, |cell| {
            lone_unit(cell).and_then(|unit| scale_of(unit, None))
        })
    }

    pub(super) fn of_target(
        &mut self,
        target: Option<usize>,
        unit: Option<Scale>,
    ) -> Vec<Measured> {
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
    pub(super) fn with_unit_of(&self, index: Option<usize>, cell: &str) -> String {
        let column = index.map(|index| &self.columns[index]);
        let unit = column.and_then(|column| match (column.scale, column.printed) {
            (Some(scale), _) => Some(scale.symbol()),
            (None, Some(Spelled::Volts(prefix))) => Some(format!("{}V", prefix.symbol())),
            (None, _) => None,
        });
        match unit {
            Some(unit) if cell.ends_with(|c: char| c.is_ascii_digit()) => {
                format!("{cell} {unit}")
            }
            _ => cell.to_owned(),
        }
    }

    /// What the words around a cell say of what is read there.
    pub(super) fn hints(&self, index: usize) -> Hints {
        let own = format!("{} {}", self.cell(Meaning::Title), self.at(index));
        let hints = Hints::of(&own, &self.columns[index].name, self.section);
        let with = self.all(Meaning::Instrument).join(" ").to_lowercase();
        let name = &self.columns[index].name;
        let off = TOLERANCES.iter().any(|word| has_word(name, word));
        let sources = AC_SOURCES.iter().any(|source| has_word(&with, source));
        Hints {
            alternates: hints.alternates || sources,
            offset: hints.offset || off,
            ..hints
        }
    }

    pub(super) fn due(&self, index: usize, other: Option<usize>, unit: Option<Scale>) -> Due {
        let column = &self.columns[index];
        let hints = self.hints(index);
        let mut due = Due {
            side: column.side,
            hints,
            ..Due::alone(None, self.sign)
        };
        let of_other = other.and_then(|index| self.columns[index].scale);
        due.scale = column.scale.or(unit).or(of_other);
        if due.scale.is_none()
            && let Some(Spelled::Volts(prefix)) = column.printed
        {
            let kind = hints.volts.or(self.volts);
            due.scale = Some(Scale::new(prefix, kind.unwrap_or(Unit::VoltRms)));
            due.volts_unsaid = kind.is_none();
        }
        // A heading says volts of what is no direct voltage.
        let plain_volts = matches!(column.printed, Some(Spelled::Volts(_)));
        if let Some(scale) = due.scale.filter(|it| it.unit == Unit::VoltDc)
            && (hints.alternates || hints.volts.is_some())
            && plain_volts
        {
            let kind = hints.volts.or(self.volts);
            due.scale = Some(Scale::new(scale.prefix, kind.unwrap_or(Unit::VoltRms)));
            due.volts_unsaid = kind.is_none();
        }
        due.scale = due.scale.or(self.unstated);
        // Under the title of another quantity the unit of the headings is over.
        let is_volts = |scale: &Scale| scale.unit.family() == Family::Voltage;
        if hints.section == Some(Unit::Ohm) && due.scale.as_ref().is_some_and(is_volts) {
            due.scale = None;
        }
        if due.hints.volts.is_none() {
            due.hints.volts = self.volts;
        }
        due
    }

    pub(super) fn of_cell(
        &mut self,
        index: usize,
        tolerance: &str,
        unit: Option<Scale>,
    ) -> Vec<Measured> {
        if !says(self.at(index)) {
            return Vec::new();
        }
        let mut due = self.due(index, None, unit);
        // What the row says of its unit is nearer than the heading.
        if self.columns[index].meaning == Some(Meaning::Target) {
            due.scale = unit.or(due.scale);
        }
        let mut aims = read_aims(self.at(index), tolerance, due);
        // What the heading states for all is of figures that state no limit themselves.
        let margin = &self.columns[index].margin;
        let bare = |aim: &Aim| aim.tolerance.is_none() && aim.nominal.is_some();
        if tolerance.is_empty() && !margin.is_empty() && aims.iter().all(bare) {
            aims = read_aims(self.at(index), margin, due);
        }
        self.measure(index, aims, due.scale)
    }

    /// Whether the title says that its figure is the largest or the smallest.
    fn names_an_extreme(&self) -> bool {
        let title = self.cell(Meaning::Title).to_lowercase();
        let mut words = title.split(|c: char| !c.is_alphanumeric());
        words.any(|word| ["max", "maximum", "min", "minimum"].contains(&word))
    }

    /// Whether the title ends with the name of a quantity that isn't read in this unit.
    fn names_another(&self, unit: Unit) -> bool {
        let title = self.cell(Meaning::Title);
        let head = title.split(['(', ',', '[']).next().unwrap_or_default();
        let last = head.split_whitespace().next_back().unwrap_or_default();
        let last = last.to_lowercase();
        let kind = |unit: Unit| match unit {
            unit if unit.of_difference() == Unit::Decibel => None,
            unit if unit.family() == Family::Voltage => Some(Unit::VoltDc),
            Unit::Ampere | Unit::Ohm | Unit::Celsius | Unit::Hertz => Some(unit),
            _ => None,
        };
        let named = ENDS.iter().find(|(word, _)| *word == last);
        named.is_some_and(|(_, named)| kind(unit).is_some_and(|unit| unit != *named))
    }

    pub(super) fn measure(
        &mut self,
        index: usize,
        aims: Vec<Aim>,
        due: Option<Scale>,
    ) -> Vec<Measured> {
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
            if aim.volts_unsaid {
                self.puzzle(index, Why::WhichVolts);
            }
            if aim.is_turned_round(self.hints(index)) {
                self.puzzle(index, Why::TurnedRound);
            }
            // What is usual is no limit, though it be a range.
            let usual = self.columns[index].meaning == Some(Meaning::Nominal);
            let cell = plain(self.at(index));
            let figures = lex(&cell).tokens.into_iter();
            let several = figures.filter(|it| matches!(it, Token::Figure(_))).count() > 1;
            if usual && several && matches!(aim.tolerance, Some(Tolerance::Between { .. })) {
                self.puzzle(index, Why::NoTarget);
            }
            if aim.more || (aim.tolerance.is_none() && aim.nominal.is_some()) {
                self.keep(index);
            }
            if aim.tolerance.is_none()
                && aim.nominal.is_some()
                && !aim.usual
                && self.names_an_extreme()
            {
                self.puzzle(index, Why::Better);
            }
            if aim
                .scale()
                .is_some_and(|scale| self.names_another(scale.unit))
            {
                self.puzzle(index, Why::OtherQuantity);
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
    pub(super) fn of_limits(&mut self, unit: Option<Scale>) -> Vec<Measured> {
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
                let mut due = self.due(index, None, unit.or(shared));
                due.side = Some(side);
                due_scale = due.scale;
                let aims = read_aims(self.at(index), "", due);
                ends.extend(aims.into_iter().map(|aim| (index, aim)));
            }
            let Some(first) = ends.first().map(|(index, _)| *index) else {
                continue;
            };
            let aim = self.joined(ends);
            all.push(Measured {
                column: Some(first),
                name: if several {
                    name.to_owned()
                } else {
                    String::new()
                },
                set: Column::headed(name).set,
                due: due_scale,
                aim,
            });
        }
        all
    }

    /// A lower and an upper limit as one aim.
    pub(super) fn joined(&mut self, ends: Vec<(usize, Aim)>) -> Aim {
        for (index, aim) in &ends {
            if aim.volts_unsaid {
                self.puzzle(*index, Why::WhichVolts);
            }
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
        let aims: Vec<&Aim> = ends.iter().map(|(_, aim)| aim).collect();
        match aims.as_slice() {
            [one] => {
                let index = ends[0].0;
                if one.is_turned_round(self.hints(index)) {
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
    pub(super) fn beside_nominal(&self, aim: Aim, nominal: Option<usize>) -> Aim {
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
}

/// Whether a note made a limit of the figure that it stands beside, and not one of its own.
fn is_of_its_figure(aim: &Aim, note: &str) -> bool {
    let around = matches!(aim.tolerance, Some(Tolerance::Around { .. }));
    let word = aim.tolerance.is_some() && !note.contains(|c: char| c.is_ascii_digit());
    aim.unclear.is_none() && (around || word)
}

/// Whether a note has a limit in it, or is the word for one.
fn limits(note: &str) -> bool {
    use Sense::{AtLeast, AtMost, Better, Max, Min, OrLess, OrMore, PlusMinus};
    let note = plain(note);
    let tokens = lex(&note).tokens;
    let word = |token: &Token| matches!(token, Token::Sense(Better | Max | Min | OrLess | OrMore));
    let stated = tokens.windows(2).any(|pair| {
        let sided = matches!(pair[0], Token::Sense(AtLeast | AtMost | Better | PlusMinus));
        sided && matches!(pair[1], Token::Figure(_))
    });
    stated || (!tokens.is_empty() && tokens.iter().all(word))
}

pub(super) fn limit_name(column: &Column) -> &str {
    let headings = |meaning: Meaning| meaning.headings().contains(&column.name.as_str());
    match headings(Meaning::Low) || headings(Meaning::High) {
        true => "",
        false => &column.name,
    }
}

/// Whether a cell names something and states nothing.
pub(super) fn is_name(cell: &str) -> bool {
    let cell = plain(cell);
    let tokens = lex(&cell).tokens;
    let states = |token: &Token| {
        use Sense::{About, Count, Dip, Max, Min, Peak};
        match token {
            Token::Figure(_) | Token::Range(..) | Token::Lost => true,
            Token::Sense(sense) => matches!(sense, About | Count | Dip | Max | Min | Peak),
            Token::Word => false,
        }
    };
    tokens.contains(&Token::Word) && !tokens.iter().any(states)
}

/// Whether words stand where the headings want a figure.
pub fn has_words_for_figures(columns: &[Column], cells: &[String]) -> bool {
    let wants = |column: &Column| {
        let figures = matches!(
            column.meaning,
            Some(Meaning::Low | Meaning::High | Meaning::Reading | Meaning::Nominal)
        );
        let target = column.meaning == Some(Meaning::Target);
        figures || (target && (column.scale.is_some() || column.side.is_some()))
    };
    let due = || {
        columns
            .iter()
            .zip(cells)
            .filter(|(column, _)| wants(column))
    };
    let figured = |cell: &str| cell.contains(|c: char| c.is_ascii_digit());
    due().any(|(_, cell)| says(cell) && is_name(cell)) && !due().any(|(_, cell)| figured(cell))
}
