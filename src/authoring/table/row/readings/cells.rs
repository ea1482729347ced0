//! The cell of a target.

use crate::authoring::table::aim::{Aim, Due, read_aims, scale_of};
use crate::authoring::table::columns::says;
use crate::authoring::table::hints::{Hints, only};
use crate::authoring::table::lex::{Spelled, has_word, lone_unit, plain};
use crate::authoring::table::meaning::Meaning;
use crate::authoring::table::orders::hold::is_designator;
use crate::authoring::table::phrases::{AC_SOURCES, ENDS, EXTREMES, TOLERANCES};
use crate::authoring::table::row::{Measured, Reader};
use crate::authoring::table::why::Why;
use crate::quantity::{Family, Prefix, Scale, Unit};

impl<'a> Reader<'a> {
    /// The unit that the row states for bare figures.
    pub(in crate::authoring::table::row) fn unit(&mut self) -> Option<Scale> {
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

    pub(in crate::authoring::table::row) fn of_target(
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
    pub(in crate::authoring::table::row) fn with_unit_of(
        &self,
        index: Option<usize>,
        cell: &str,
    ) -> String {
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
    pub(in crate::authoring::table::row) fn hints(&self, index: usize) -> Hints {
        let own = format!("{} {}", self.cell(Meaning::Title), self.at(index));
        let hints = Hints::of(&own, &self.columns[index].name, self.section);
        let with = self.all(Meaning::Instrument).join(" ").to_lowercase();
        let name = &self.columns[index].name;
        let says = |text: &str| TOLERANCES.iter().any(|word| has_word(text, word));
        // A share under the title of an accuracy is how far it is off.
        let share = plain(self.at(index)).ends_with('%');
        let title = self.cell(Meaning::Title).to_lowercase();
        let off = says(name) || (share && says(&title));
        let sources = AC_SOURCES.iter().any(|source| has_word(&with, source));
        let resistor = [Meaning::Title, Meaning::Point]
            .iter()
            .any(|meaning| is_resistor(self.cell(*meaning)));
        Hints {
            unit: hints.unit.or(resistor.then_some(Unit::Ohm)),
            alternates: hints.alternates || sources,
            offset: hints.offset || off,
            ..hints
        }
    }

    pub(in crate::authoring::table::row) fn due(
        &self,
        index: usize,
        other: Option<usize>,
        unit: Option<Scale>,
    ) -> Due {
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
        self.take_unit_of_title(&mut due);
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

    /// Gives bare figures the unit that stands behind their title, as in `Carrier power, W`.
    fn take_unit_of_title(&self, due: &mut Due) {
        if due.scale.is_some() || self.find(Meaning::Unit).is_some() {
            return;
        }
        match unit_behind_title(self.cell(Meaning::Title)) {
            Some(Spelled::Volts(prefix)) => {
                let kind = due.hints.volts.or(self.volts);
                let asked = prefix == Prefix::Micro || due.hints.alternates;
                let taken = if asked { Unit::VoltRms } else { Unit::VoltDc };
                due.scale = Some(Scale::new(prefix, kind.unwrap_or(taken)));
                due.volts_unsaid = asked && kind.is_none();
            }
            Some(unit) => due.scale = scale_of(unit, None),
            None => {}
        }
    }

    pub(in crate::authoring::table::row) fn of_cell(
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
    pub(super) fn names_an_extreme(&self) -> bool {
        let title = self.cell(Meaning::Title).to_lowercase();
        let mut words = title.split(|c: char| !c.is_alphanumeric());
        words.any(|word| ["max", "maximum", "min", "minimum"].contains(&word))
    }

    /// Whether the title ends with the name of a quantity that isn't read in this unit.
    pub(super) fn names_another(&self, unit: Unit) -> bool {
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
        named.is_some_and(|(_, named)| match (unit, *named) {
            // A share of it is none of its units.
            (Unit::Percent, _) => true,
            // Much else is read of power.
            (_, Unit::Watt) => false,
            (unit, named) => kind(unit).is_some_and(|unit| unit != named),
        })
    }
}

/// The unit in brackets or behind a comma at the end of a title. A letter behind a comma may be the
/// name of a part, where the title doesn't name what is read in such a unit.
fn unit_behind_title(title: &str) -> Option<Spelled> {
    let title = title.trim_end();
    let bracketed = title.strip_suffix(')').and_then(|it| it.rsplit_once('('));
    let (name, unit) = bracketed.or_else(|| title.rsplit_once(", "))?;
    let spelled = lone_unit(unit)?;
    let named = only(EXTREMES, &name.to_lowercase());
    let is_named = match spelled {
        Spelled::Scale(scale) => named == Some(scale.unit),
        Spelled::Volts(_) => named == Some(Unit::VoltDc),
        Spelled::Prefix(_) => false,
    };
    let letter = unit.trim().chars().count() == 1 && unit.trim() != "%" && unit.trim() != "Ω";
    let sure = bracketed.is_some() && matches!(unit.trim(), "V" | "W" | "A");
    (!letter || is_named || sure).then_some(spelled)
}

/// Whether a cell names a resistor as boards print it, and nothing else.
fn is_resistor(cell: &str) -> bool {
    cell.starts_with('R') && is_designator(cell) && cell[1..].bytes().all(|b| b.is_ascii_digit())
}
