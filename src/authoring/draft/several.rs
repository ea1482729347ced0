//! A table of readings as typed: its headings and limits as texts, its cells as the steps that
//! they made.

use crate::authoring::draft::written::{DraftAxis, DraftTable, Heading, Limit};
use crate::authoring::draft::{DraftTarget, TargetKind, read_tolerance, typed, typed_tolerance};
use crate::authoring::table::read_limit;
use crate::metrology::{Margin, Tolerance};
use crate::procedure::{Axis, Field, Id, Procedure, ReadingTable, Sets, Target, unit_in_brackets};
use crate::quantity::{DecimalSign, Number, Quantity, Scale, Unit};
use bigdecimal::BigDecimal;
use num_traits::{Signed, Zero};

impl DraftAxis {
    /// The headings. There is always one, which may be nameless still.
    pub fn read(&self, sign: DecimalSign) -> Vec<Heading> {
        let headings: Vec<Heading> = split(&self.headings, sign)
            .into_iter()
            .filter(|part| !part.trim().is_empty())
            .map(|part| {
                let (name, limit) = part.split_once('=').unwrap_or((part, ""));
                Heading {
                    name: name.trim().to_owned(),
                    limit: limit.trim().to_owned(),
                }
            })
            .collect();
        match headings.is_empty() {
            true => vec![Heading::default()],
            false => headings,
        }
    }

    fn axis(&self, sign: DecimalSign) -> Axis {
        let sets = match &self.sets {
            Sets::Control(name) => Sets::Control(name.trim().to_owned()),
            sets => sets.clone(),
        };
        let names = self.read(sign).into_iter().map(|heading| heading.name);
        Axis {
            sets,
            names: names.collect(),
        }
    }
}

/// The parts of a list: lines, or what stands between commas or semicolons. A comma before a digit
/// is a decimal comma where that is how numbers are written.
fn split(text: &str, sign: DecimalSign) -> Vec<&str> {
    let mut parts = Vec::new();
    let mut from = 0;
    for (at, letter) in text.char_indices() {
        let next = text[at + letter.len_utf8()..].chars().next();
        let is_decimal = sign == DecimalSign::Comma && next.is_some_and(|c| c.is_ascii_digit());
        if matches!(letter, '\n' | ';') || (letter == ',' && !is_decimal) {
            parts.push(&text[from..at]);
            from = at + letter.len_utf8();
        }
    }
    parts.push(&text[from..]);
    parts
}

impl DraftTable {
    /// A table as it would be typed.
    pub fn of(table: &ReadingTable, procedure: &Procedure, sign: DecimalSign) -> Self {
        let axis = |axis: &Axis, limits: Option<&Vec<String>>| DraftAxis {
            sets: axis.sets.clone(),
            headings: match axis.is_plain() && axis.names.iter().all(String::is_empty) {
                true => String::new(),
                false => headings_of(&axis.names, limits),
            },
        };
        let (from, stated) = limits_of(table, procedure, sign);
        let (limit, rows, columns) = match &stated {
            Stated::ForAll(limit) => (limit.clone(), None, None),
            Stated::PerRow(limits) => (String::new(), Some(limits), None),
            Stated::PerColumn(limits) => (String::new(), None, Some(limits)),
        };
        DraftTable {
            id: table.id.clone(),
            title: table.title.clone(),
            columns: axis(&table.columns, columns),
            rows: axis(&table.rows, rows),
            limit,
            from,
            cells: table.cells.clone(),
        }
    }

    /// The table, its cells being what they are.
    pub(super) fn read(&self, sign: DecimalSign) -> ReadingTable {
        ReadingTable {
            id: self.id.clone(),
            title: self.title.trim().to_owned(),
            columns: self.columns.axis(sign),
            rows: self.rows.axis(sign),
            cells: self.cells.clone(),
        }
    }

    /// The limits that can't be read, each with its field.
    pub(super) fn unread(&self, scale: Scale, sign: DecimalSign) -> Vec<(Field, String)> {
        let own = |axis: &DraftAxis, field| {
            let is_reading = axis.sets == Sets::Reading;
            let of_heading = move |heading: Heading| {
                let own = unit_in_brackets(&heading.name).filter(|_| is_reading);
                (field, heading.limit, own.unwrap_or(scale))
            };
            axis.read(sign).into_iter().map(of_heading)
        };
        let all = own(&self.columns, Field::Columns)
            .chain(own(&self.rows, Field::Rows))
            .chain([(Field::Limit, self.limit.clone(), scale)]);
        let states = |axis: &DraftAxis| axis.read(sign).iter().any(|it| !it.limit.is_empty());
        let both = (states(&self.rows) && states(&self.columns)).then(|| {
            let sentence = "rows and columns both state limits, and a cell has one: state them at the rows or at the columns";
            (Field::Columns, sentence.to_owned())
        });
        all.filter(|(_, limit, _)| !limit.trim().is_empty())
            .filter_map(|(field, limit, scale)| {
                let read = match self.from {
                    Some(_) => counted(&limit, scale, sign).map(|_| ()),
                    None => limit_of(&limit, scale, sign).map(|_| ()),
                };
                Some((field, read.err()?))
            })
            .chain(both)
            .collect()
    }

    /// What is typed for the limit of a cell; nothing where no limit is stated for it. The cell
    /// from which the others are counted has only one of its own.
    pub fn stated(&self, row: &Heading, column: &Heading, cell: Option<&Id>) -> Option<Limit> {
        let is_origin = self.from.is_some() && self.from.as_ref() == cell;
        let own = [&row.limit, &column.limit]
            .into_iter()
            .find(|limit| !limit.is_empty());
        let all = Some(&self.limit).filter(|limit| !limit.trim().is_empty() && !is_origin);
        Some(Limit {
            text: own.or(all)?.trim().to_owned(),
            from: self.from.clone().filter(|_| !is_origin),
        })
    }
}

impl Limit {
    /// The same as a step states it. What can't be read stays as it is typed.
    pub fn target(&self, scale: Scale, sign: DecimalSign) -> DraftTarget {
        let read = match &self.from {
            Some(from) => {
                counted(&self.text, scale, sign).map(|(offset, below, above)| Target::Relative {
                    to: from.clone(),
                    offset,
                    below,
                    above,
                })
            }
            None => limit_of(&self.text, scale, sign).map(Target::Fixed),
        };
        match read {
            Ok(target) => crate::authoring::draft::typed_target(&target, scale.unit, sign),
            Err(_) => DraftTarget {
                kind: TargetKind::Around,
                value: self.text.clone(),
                ..DraftTarget::default()
            },
        }
    }
}

/// A limit in the app's own words or in those of published tables.
fn limit_of(text: &str, scale: Scale, sign: DecimalSign) -> Result<Tolerance, String> {
    read_tolerance(text, scale, sign).or_else(|why| read_limit(text, scale, sign).ok_or(why))
}

/// A limit that is counted from another reading: how far from it, and the margins.
fn counted(
    text: &str,
    scale: Scale,
    sign: DecimalSign,
) -> Result<(Quantity, Margin, Margin), String> {
    let unit = scale.unit.of_difference();
    let zero = |scale: Scale| Quantity::new(Number::from(0), scale);
    let read_in = |scale: Scale| {
        let text = text.trim();
        let text = match ["±", "within "]
            .iter()
            .find_map(|sign| text.strip_prefix(sign))
        {
            Some(both) => format!("{} ± {both}", typed(&zero(scale), sign)),
            None => text.to_owned(),
        };
        match limit_of(&text, scale, sign)? {
            Tolerance::Around {
                nominal,
                below,
                above,
            } => Ok((nominal, below, above)),
            Tolerance::Between { low, high } => Ok(around(low, high)),
            Tolerance::AtLeast(_) | Tolerance::AtMost(_) => Err(format!(
                "“{text}” has one end only: a limit counted from a cell has two, such as “-3 dB to 1 dB”"
            )),
        }
    };
    // Decibels of a reading that is in volts are decibels, and no volts from zero.
    let is_ratio = text.contains(Unit::Decibel.symbol());
    match is_ratio {
        true => read_in(Scale::plain(Unit::Decibel)),
        false => read_in(Scale::plain(unit)),
    }
}

/// Two ends as an offset with margins: none where they are to both sides of the reading.
fn around(low: Quantity, high: Quantity) -> (Quantity, Margin, Margin) {
    let scale = low.scale;
    let (from, to) = (low.base(), high.base());
    let offset = match from.is_positive() || to.is_negative() {
        true => (&from + &to) / BigDecimal::from(2),
        false => BigDecimal::zero(),
    };
    let margin = |amount: BigDecimal| Margin::Absolute(Quantity::in_scale(amount, scale));
    let (below, above) = (margin(&offset - &from), margin(&to - &offset));
    (Quantity::in_scale(offset, scale), below, above)
}

fn headings_of(names: &[String], limits: Option<&Vec<String>>) -> String {
    let limit = |index: usize| {
        limits
            .and_then(|all| all.get(index))
            .filter(|it| !it.is_empty())
    };
    let line = |(index, name): (usize, &String)| match limit(index) {
        Some(limit) => format!("{name} = {limit}"),
        None => name.clone(),
    };
    let lines: Vec<String> = names.iter().enumerate().map(line).collect();
    lines.join("\n")
}

/// For which cells limits are stated together.
enum Stated {
    ForAll(String),
    PerRow(Vec<String>),
    PerColumn(Vec<String>),
}

/// The limits of a table's steps as they would be typed once for several; none where they have
/// nothing in common.
fn limits_of(
    table: &ReadingTable,
    procedure: &Procedure,
    sign: DecimalSign,
) -> (Option<Id>, Stated) {
    let origin = table.steps().find_map(|id| {
        let to = procedure.step(id)?.work.target()?.leans_on()?;
        table.place_of(to).map(|_| to.clone())
    });
    let none = (None, Stated::ForAll(String::new()));
    let mut texts = Vec::new();
    for id in table.steps().filter(|id| Some(*id) != origin.as_ref()) {
        let target = procedure.step(id).and_then(|step| step.work.target());
        let Some(text) = text_of(target, origin.as_ref(), sign) else {
            return none;
        };
        texts.push((table.place_of(id).unwrap_or_default(), text));
    }
    let origin_is_free = origin.as_ref().is_none_or(|id| {
        procedure
            .step(id)
            .is_some_and(|step| step.work.target().is_none())
    });
    if !origin_is_free {
        return none;
    }
    // The one text of the cells of which `of` says that they are in a line.
    let common = |of: &dyn Fn((usize, usize)) -> bool| {
        let mut here = texts
            .iter()
            .filter(|(place, _)| of(*place))
            .map(|(_, text)| text);
        let first = here.next().cloned().unwrap_or_default();
        here.all(|text| *text == first).then_some(first)
    };
    let rows = || {
        (0..table.rows.names.len())
            .map(|row| common(&|place| place.0 == row))
            .collect()
    };
    let columns = || {
        (0..table.columns.names.len())
            .map(|column| common(&|place| place.1 == column))
            .collect()
    };
    let stated = match common(&|_| true) {
        Some(limit) => Some(Stated::ForAll(limit)),
        None => Option::<Vec<String>>::map(rows(), Stated::PerRow)
            .or_else(|| Option::<Vec<String>>::map(columns(), Stated::PerColumn)),
    };
    stated.map_or(none, |stated| (origin, stated))
}

/// A target as the limit of a table is typed, where it can be.
fn text_of(target: Option<&Target>, origin: Option<&Id>, sign: DecimalSign) -> Option<String> {
    match target {
        None => Some(String::new()),
        Some(Target::Fixed(tolerance)) if origin.is_none() => {
            Some(typed_tolerance(tolerance, sign))
        }
        Some(Target::Relative {
            to,
            offset,
            below,
            above,
        }) if Some(to) == origin => {
            let around = Tolerance::Around {
                nominal: offset.clone(),
                below: below.clone(),
                above: above.clone(),
            };
            Some(typed_tolerance(&around, sign))
        }
        Some(_) => None,
    }
}
