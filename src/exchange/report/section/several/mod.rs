//! Tables of readings on the sheet: what all cells have in common once, in each cell what is its
//! own, and a picture where the headings are numbers.

pub(in crate::exchange::report) mod shared;

use self::shared::{Condition, conditions_of};
use crate::exchange::report::plot::{Curve, Point, response};
use crate::exchange::report::section::readings::{
    found, left, limit_known, limits_in_words, margin, read_by, verdict,
};
use crate::exchange::report::sheet::Source;
use crate::exchange::report::text::typed;
use crate::exchange::report::{Cell, Part, Table, words};
use crate::job::{Group, Progress, StepProgress};
use crate::procedure::{Axis, Gauge, Id, Procedure, ReadingTable, Sets, Step};
use crate::quantity::{DecimalSign, Quantity, Scale};

/// The table with what was read in it, and its pictures; nothing before something is.
pub(in crate::exchange::report) fn parts(source: &Source, table: &ReadingTable) -> Vec<Part> {
    let cells: Vec<Read> = table
        .steps()
        .filter_map(|id| Read::of(source, id))
        .collect();
    if cells.iter().all(|cell| cell.standing.readings.is_empty()) {
        return Vec::new();
    }
    let pictures = plots(
        &source.progress.course.procedure,
        source.progress,
        table,
        source.look.sign,
    );
    let pictures = pictures
        .into_iter()
        .map(|(caption, svg)| Part::Picture { svg, caption });
    std::iter::once(Part::Table(whole(source, table, &cells)))
        .chain(pictures)
        .collect()
}

/// A cell with all that is known of it.
struct Read<'a> {
    step: &'a Step,
    gauge: &'a Gauge,
    standing: &'a StepProgress,
    place: (usize, usize),
    limit: String,
    at: String,
    /// What the set-up states beside what the headings do.
    conditions: Vec<Condition>,
}

impl<'a> Read<'a> {
    fn of(source: &Source<'a>, id: &Id) -> Option<Self> {
        let step = source.progress.course.procedure.step(id)?;
        let table = source.progress.course.procedure.table_of(id)?;
        let gauge = step.work.gauge()?;
        let standing = source.progress.step(id)?;
        let of_headings = [&table.rows, &table.columns].map(set_up_line);
        let lines = conditions_of(step).into_iter();
        let others = lines.filter(|(name, _)| !of_headings.contains(&Some(name.as_str())));
        Some(Read {
            limit: match limit_known(step) {
                Some(known) => format!("{} ({known})", limits_in_words(source, standing)),
                None => limits_in_words(source, standing),
            },
            at: taken_with(gauge, standing, source.look.sign),
            conditions: others.collect(),
            place: table.place_of(id)?,
            step,
            gauge,
            standing,
        })
    }
}

fn taken_with(gauge: &Gauge, standing: &StepProgress, sign: DecimalSign) -> String {
    let through = gauge.through().iter().map(|role| typed(role.as_str()));
    let into = gauge.into.as_ref().map(|into| into.typeset(sign));
    words::taken_with(
        gauge.at.as_str(),
        &read_by(gauge, standing),
        &through.collect::<Vec<_>>().join(", "),
        into.as_deref(),
    )
}

/// The line of the set-up that the headings of an axis fill in.
fn set_up_line(axis: &Axis) -> Option<&str> {
    match &axis.sets {
        Sets::Reading => None,
        sets => Some(sets.name()),
    }
}

/// What is alike in all of them.
fn alike<T: PartialEq + Clone>(mut all: impl Iterator<Item = T>) -> Option<T> {
    let first = all.next()?;
    all.all(|other| other == first).then_some(first)
}

/// What most cells state of each condition that all of them state.
fn common_conditions(cells: &[Read]) -> Vec<Condition> {
    let of_cells: Vec<&[Condition]> = cells.iter().map(|cell| &cell.conditions[..]).collect();
    let first = of_cells.first().copied().unwrap_or_default();
    first
        .iter()
        .filter_map(|(name, _)| {
            let of_cell =
                |cell: &&[Condition]| cell.iter().find(|(other, _)| other == name).cloned();
            let all: Vec<Condition> = of_cells.iter().map(of_cell).collect::<Option<_>>()?;
            let count = |line: &Condition| all.iter().filter(|other| *other == line).count();
            all.iter().rev().max_by_key(|line| count(line)).cloned()
        })
        .collect()
}

/// Where a limit is said: once for all, at the heading of its row, or in its cell.
#[derive(Clone, Copy, PartialEq, Eq)]
enum LimitAt {
    Caption,
    Rows,
    Cells,
}

fn whole(source: &Source, table: &ReadingTable, cells: &[Read]) -> Table {
    let procedure = &source.progress.course.procedure;
    let of_row = |row: usize| cells.iter().filter(move |cell| cell.place.0 == row);
    let row_limit = |row| alike(of_row(row).map(|cell| cell.limit.clone()));
    let limit = alike(cells.iter().map(|cell| cell.limit.clone()));
    let rows = 0..table.rows.names.len();
    let limit_at = match (&limit, rows.clone().all(|row| row_limit(row).is_some())) {
        (Some(_), _) => LimitAt::Caption,
        (None, true) if table.columns.names.len() > 1 => LimitAt::Rows,
        (None, _) => LimitAt::Cells,
    };
    let at = alike(cells.iter().map(|cell| cell.at.clone()));
    let common = common_conditions(cells);
    let is_everywhere = cells
        .iter()
        .all(|cell| common.iter().all(|line| cell.conditions.contains(line)));
    let number = |id: Option<&Id>| {
        id.and_then(|id| procedure.number_of(id))
            .unwrap_or_default()
    };
    let steps = words::steps(number(table.steps().next()), number(table.steps().last()));
    let said = [
        Some(steps),
        at.clone(),
        some(words::common_conditions(&common, is_everywhere)),
        limit,
    ];
    let said: Vec<String> = said.into_iter().flatten().collect();
    let columns = (0..table.columns.names.len()).map(|column| typed(table.columns.heading(column)));
    let head = match table.rows.is_plain() {
        true => words::READING.to_owned(),
        false => typed(table.rows.sets.name()),
    };
    let row = |row: usize| {
        let heading = Cell::of(typed(table.rows.heading(row))).with(match limit_at {
            LimitAt::Rows => row_limit(row).unwrap_or_default(),
            LimitAt::Caption | LimitAt::Cells => String::new(),
        });
        let cell = |column: usize| {
            let here = of_row(row).find(|cell| cell.place.1 == column);
            here.map_or(Cell::of(words::NONE), |cell| {
                let own: Vec<Condition> = cell
                    .conditions
                    .iter()
                    .filter(|line| !common.contains(line))
                    .cloned()
                    .collect();
                let before = [
                    at.is_none().then(|| cell.at.clone()),
                    some(words::conditions(&own)),
                    (limit_at == LimitAt::Cells).then(|| cell.limit.clone()),
                ];
                reading(source, cell, before.into_iter().flatten().collect())
            })
        };
        std::iter::once(heading)
            .chain((0..table.columns.names.len()).map(cell))
            .collect()
    };
    Table {
        caption: typed(&table.title),
        lead: words::table_of_readings(&said),
        columns: std::iter::once(head).chain(columns).collect(),
        ..Table::new("matrix", &[]).with_rows(rows.map(row))
    }
}

fn some(text: String) -> Option<String> {
    Some(text).filter(|text| !text.is_empty())
}

/// What a row of the ordinary table would say of a reading, in one cell.
fn reading(source: &Source, cell: &Read, before: Vec<String>) -> Cell {
    let Read {
        step,
        gauge,
        standing,
        ..
    } = cell;
    if standing.readings.is_empty() {
        return Cell::of(words::NOT_LEFT).with(before.join("; "));
    }
    let (found, left) = (
        found(source, gauge, standing, None),
        left(source, (step, gauge, standing), None),
    );
    let is_new = found.text != left.text && standing.found.is_some();
    let was = is_new.then(|| words::found_at(&found.text, &found.below));
    let verdict = verdict(standing);
    let margin = margin(source, standing);
    let mut below = before;
    below.extend(was);
    let rest = [
        left.below,
        margin.text,
        margin.below,
        verdict.text,
        verdict.below,
    ];
    // Of what was only found, the margin stands beside that.
    let is_said = |text: &str| standing.as_left().is_none() && found.below.starts_with(text);
    below.extend(
        rest.into_iter()
            .filter(|text| !text.is_empty() && text != words::NONE && !is_said(text)),
    );
    // A reading without limits is for the record, which its limit says already.
    below.dedup();
    let strong = left.strong || verdict.strong || found.strong;
    Cell::of(left.text).with(below.join("; ")).strong_if(strong)
}

/// A picture for each unit that is read, over the headings that are numbers: what it is of, and
/// the SVG.
pub fn plots(
    procedure: &Procedure,
    progress: &Progress,
    table: &ReadingTable,
    sign: DecimalSign,
) -> Vec<(String, String)> {
    let by_row = table.rows.numbers();
    let is_by_row = by_row.is_some();
    let Some(numbers) = by_row.or_else(|| table.columns.numbers()) else {
        return Vec::new();
    };
    let (along, across) = match is_by_row {
        true => (&table.rows, &table.columns),
        false => (&table.columns, &table.rows),
    };
    let cell = |line: usize, place: usize| match is_by_row {
        true => table.cell(place, line),
        false => table.cell(line, place),
    };
    let curves = (0..across.names.len()).filter_map(|line| {
        let mut scale = None;
        let points = numbers.iter().enumerate().filter_map(|(place, number)| {
            let id = cell(line, place)?;
            let gauge = procedure.step(id)?.work.gauge()?;
            // What is read in the unit of the headings is those once more.
            let known = *scale.get_or_insert(gauge.scale);
            let is_drawn = gauge.scale.unit == known.unit && Some(known.unit) != along.unit();
            is_drawn.then(|| point(progress.step(id)?, number, along.heading(place), known))?
        });
        let points: Vec<Point> = points.collect();
        Some(Curve {
            name: across.heading(line).to_owned(),
            points,
            scale: scale?,
        })
    });
    let curves: Vec<Curve> = curves
        .filter(|curve| curve.points.iter().any(Point::is_read))
        .collect();
    let mut scales: Vec<Scale> = Vec::new();
    for curve in &curves {
        if scales.iter().all(|scale| scale.unit != curve.scale.unit) {
            scales.push(curve.scale);
        }
    }
    scales
        .into_iter()
        .map(|scale| {
            let of_unit: Vec<&Curve> = curves
                .iter()
                .filter(|curve| curve.scale.unit == scale.unit)
                .collect();
            let caption = words::plot_of(&typed(&table.title), &scale.symbol(), along.sets.name());
            let svg = response(&caption, &of_unit, scale, sign);
            (caption, svg)
        })
        .collect()
}

fn point(standing: &StepProgress, over: &Quantity, heading: &str, scale: Scale) -> Option<Point> {
    let value = |group: &Group| {
        let is_same = group.judged.unit() == scale.unit && group.lacks().is_none();
        is_same.then(|| in_scale(group.judged.base(), scale))
    };
    let limits = standing
        .tolerance
        .as_ref()
        .and_then(|known| known.as_ref().ok());
    let limits = limits.map(|tolerance| tolerance.limits());
    let limit = |of: fn(&crate::metrology::Limits) -> &Option<bigdecimal::BigDecimal>| {
        limits
            .as_ref()
            .and_then(|limits| of(limits).clone())
            .map(|limit| in_scale(limit, scale))
    };
    let left = standing.left.as_ref();
    let inside = left.and_then(|group| Some(group.verdict.as_ref()?.is_inside()));
    Some(Point {
        over: over.base_f64(),
        heading: heading.to_owned(),
        found: standing.found.as_ref().and_then(value),
        left: left.and_then(value),
        is_outside: inside == Some(false),
        low: limit(|limits| &limits.low),
        high: limit(|limits| &limits.high),
    })
}

fn in_scale(base: bigdecimal::BigDecimal, scale: Scale) -> f64 {
    Quantity::in_scale(base, scale).number.to_f64()
}
