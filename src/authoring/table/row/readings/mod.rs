//! The readings that a row states, each with its limits.

mod cells;
mod limits;

pub(super) use self::limits::is_name;

use self::limits::{is_of_its_figure, limits};
use crate::authoring::table::aim::{Aim, Cell, Extreme, read_aims};
use crate::authoring::table::columns::{Column, says};
use crate::authoring::table::lex::{Token, begins, has_word, lex, plain};
use crate::authoring::table::meaning::Meaning;
use crate::authoring::table::phrases::{FAILED, OFFSETS, TOLERANCES};
use crate::authoring::table::row::{Measured, Reader};
use crate::authoring::table::why::Why;
use crate::metrology::Tolerance;
use crate::quantity::Scale;

impl<'a> Reader<'a> {
    /// Every reading that the row states; one that states nothing where there is none.
    pub(super) fn measured(&mut self) -> Vec<Measured> {
        let unit = self.unit();
        let limits = self.find(Meaning::Low).or(self.find(Meaning::High));
        let target = self.find(Meaning::Target);
        let nominal = self.find(Meaning::Nominal);
        let aimed = target.or(nominal.filter(|_| limits.is_none()));
        let readings = self.readings();
        // With nothing else that is aimed at, a tolerance is that of the readings.
        let is_aimed = aimed.is_some_and(|index| says(self.at(index)));
        let shared = !readings.is_empty() && !is_aimed && limits.is_none();
        let mut all = match shared {
            true => Vec::new(),
            false => self.of_target(aimed, unit),
        };
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
        let margin = match shared {
            true => self.tolerance_of_all(&readings, unit),
            false => String::new(),
        };
        for index in readings {
            all.extend(self.of_cell(index, &margin, unit));
        }
        self.leave_out_loose_tolerance(&mut all);
        self.tell_of_a_spread_beside(&all);
        // In the order of the columns that state them.
        all.sort_by_key(|one| one.column);
        if all.is_empty() {
            all.push(Measured {
                due: unit.or_else(|| target.and_then(|index| self.columns[index].scale)),
                ..Measured::default()
            });
        }
        all
    }

    /// The columns of readings that say something in this row.
    fn readings(&self) -> Vec<usize> {
        let stated = self.columns_of(Meaning::Reading);
        let stated = stated.filter(|(.., cell)| says(cell));
        stated.map(|(index, ..)| index).collect()
    }

    /// The one tolerance of all readings of the row; none where it has no unit and the readings
    /// are in different ones, which is told.
    fn tolerance_of_all(&mut self, readings: &[usize], unit: Option<Scale>) -> String {
        let index = self.find(Meaning::Tolerance);
        let margin = self.with_unit_of(index, self.said(index));
        let cell = plain(&margin);
        let has_unit = |token: &Token| match token {
            Token::Figure(figure) => figure.unit.is_some(),
            _ => false,
        };
        if lex(&cell).tokens.iter().any(has_unit) {
            return margin;
        }
        let scale = |index: &usize| {
            let aims = read_aims(self.at(*index), "", self.due(*index, None, unit));
            aims.first().and_then(Aim::scale)
        };
        let mut scales = readings.iter().filter_map(scale);
        let first = scales.next();
        let differ = scales.any(|other| Some(other) != first);
        match index.filter(|_| differ && !margin.is_empty()) {
            Some(index) => {
                self.puzzle(index, Why::Tolerance);
                String::new()
            }
            None => margin,
        }
    }

    /// A tolerance that belongs to nothing is told, and is no reading beside others.
    fn leave_out_loose_tolerance(&self, all: &mut Vec<Measured>) {
        let tolerance = self.find(Meaning::Tolerance);
        let loose = |one: &Measured| {
            one.column == tolerance && matches!(one.aim.unclear, Some((Cell::Tolerance, _)))
        };
        if tolerance.is_some() && all.iter().any(|one| !loose(one)) {
            all.retain(|one| !loose(one));
        }
    }

    /// Tells of how far a reading of its own may be off, where another column states from what: it
    /// may be off from that.
    fn tell_of_a_spread_beside(&mut self, all: &[Measured]) {
        let unit = |one: &Measured| one.aim.scale().map(|scale| scale.unit);
        let spread = |one: &&Measured| is_spread(&one.aim);
        let figure = |one: &Measured| {
            let around = matches!(one.aim.tolerance, Some(Tolerance::Around { .. }));
            around || one.aim.nominal.is_some()
        };
        for one in all.iter().filter(spread) {
            let beside = all
                .iter()
                .any(|other| figure(other) && unit(other) == unit(one));
            let Some(index) = one.column.filter(|_| beside) else {
                continue;
            };
            let name = &self.columns[index].name;
            if !OFFSETS.iter().any(|word| has_word(name, word)) {
                self.puzzle(index, Why::Swing);
            }
        }
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
            // The smallest reading is hardly limited from below, nor the largest from above.
            let against = matches!(
                (&aim.extreme, &aim.tolerance),
                (Some(Extreme::Dip), Some(Tolerance::AtLeast(_)))
                    | (Some(Extreme::Peak), Some(Tolerance::AtMost(_)))
            );
            if against && let Some(cell) = tolerance.filter(|cell| says(self.at(*cell))) {
                self.puzzle(cell, Why::Tolerance);
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
            // Where others have their tolerance beside them, a blank may have been forgotten.
            if aim.tolerance.is_none()
                && aim.nominal.is_some()
                && !aim.usual
                && aim.unclear.is_none()
                && tolerance.is_some_and(|cell| self.at(cell).is_empty())
            {
                self.puzzle(index, Why::NoTolerance);
            }
            if !is_spread(aim)
                && aim
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
}

/// Whether it is so far to both sides of nought.
fn is_spread(aim: &Aim) -> bool {
    match &aim.tolerance {
        Some(Tolerance::Between { low, high }) => {
            low.number.is_negative() && low.base() == -high.base()
        }
        _ => false,
    }
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
    // No heading has the number of a row or the name of a point.
    let counted = |(column, cell): (&Column, &String)| {
        let names = [Meaning::Number, Meaning::Point, Meaning::Adjuster];
        column.meaning.is_some_and(|it| names.contains(&it)) && figured(cell)
    };
    if columns.iter().zip(cells).any(counted) {
        return false;
    }
    due().any(|(_, cell)| says(cell) && is_name(cell)) && !due().any(|(_, cell)| figured(cell))
}
