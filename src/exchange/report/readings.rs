//! The readings from found to left, each with its scale, and all of them in one picture.

use super::plot::{self, Line};
use super::scale::{Drawing, Mark, MarkKind, SMALL};
use super::text::typed;
use super::{Cell, Part, Section, Source, Table, words};
use crate::job::{Left, Status, StepProgress, Taken};
use crate::metrology::{Limits, Tolerance};
use crate::procedure::{Gauge, Section as Steps, Step};
use crate::quantity::Quantity;

const COLUMNS: [&str; 6] = [
    words::READING,
    words::TARGET,
    words::FOUND,
    words::LEFT,
    words::DEVIATION,
    words::VERDICT,
];

/// The readings, a table for each section of the procedure.
pub fn section(source: &Source) -> Option<Section> {
    let tables: Vec<Part> = source
        .job
        .procedure
        .sections
        .iter()
        .map(|steps| table(source, steps))
        .filter(|table| !table.rows.is_empty())
        .map(Part::Table)
        .collect();
    (!tables.is_empty()).then(|| Section {
        lead: vec![
            words::rule(
                &source
                    .progress
                    .header
                    .rule
                    .sentence()
                    .typeset(source.look.sign),
            ),
            words::SCALE_KEY.to_owned(),
        ],
        parts: tables,
        ..Section::new(words::READINGS)
    })
}

fn table(source: &Source, steps: &Steps) -> Table {
    let rows = steps.steps.iter().filter_map(|step| {
        let standing = source.progress.step(&step.id)?;
        let gauge = step.work.gauge()?;
        (!standing.readings.is_empty()).then(|| row(source, step, gauge, standing))
    });
    Table {
        caption: typed(&steps.title),
        ..Table::new("readings", &COLUMNS).with_rows(rows)
    }
}

fn row(source: &Source, step: &Step, gauge: &Gauge, standing: &StepProgress) -> Vec<Cell> {
    let sign = source.look.sign;
    let tolerance = known(standing);
    let target = match &standing.tolerance {
        Some(Ok(tolerance)) => tolerance.typeset(sign),
        Some(Err(fault)) => fault.to_string(),
        None => words::FOR_THE_RECORD.to_owned(),
    };
    let target = Cell {
        picture: drawing(source, gauge, standing).svg(SMALL),
        ..Cell::of(target)
    };
    let found = standing.found().map_or(Cell::of(words::NONE), |taken| {
        let off = taken.verdict.as_ref().map(|verdict| verdict.words(sign));
        let outside = is_outside(tolerance, &taken.corrected);
        let raw =
            (taken.value != taken.corrected).then(|| words::read_as(&taken.value.typeset(sign)));
        let below: Vec<String> = off.into_iter().chain(raw).collect();
        Cell::of(taken.corrected.typeset(sign))
            .with(below.join("; "))
            .strong_if(outside)
    });
    vec![
        Cell::of(typed(&step.title)).with(words::taken_at(
            standing.number,
            gauge.at.as_str(),
            gauge.with.as_str(),
        )),
        target,
        found,
        left(source, standing),
        deviation(source, standing),
        verdict(standing),
    ]
}

fn known(standing: &StepProgress) -> Option<&Tolerance> {
    standing.tolerance.as_ref()?.as_ref().ok()
}

fn is_outside(tolerance: Option<&Tolerance>, value: &Quantity) -> bool {
    tolerance
        .filter(|tolerance| tolerance.unit() == value.unit())
        .is_some_and(|tolerance| !tolerance.judge(value).is_inside())
}

fn left(source: &Source, standing: &StepProgress) -> Cell {
    let sign = source.look.sign;
    let Some(left) = &standing.left else {
        return Cell::of(words::NOT_LEFT);
    };
    let raw = standing.readings.last().map(|taken| &taken.value);
    let below = match (&left.repeats, raw) {
        (Some(repeats), _) => words::mean_of(repeats.count),
        (None, Some(raw)) if *raw != left.value => words::read_as(&raw.typeset(sign)),
        _ => String::new(),
    };
    let cross = standing.cross.as_ref();
    let cross = cross.map(|value| words::other_route(&value.typeset(sign)));
    let below: Vec<String> = [below]
        .into_iter()
        .chain(cross)
        .filter(|text| !text.is_empty())
        .collect();
    Cell::of(left.value.typeset(sign)).with(below.join("; "))
}

fn deviation(source: &Source, standing: &StepProgress) -> Cell {
    let sign = source.look.sign;
    let Some(left) = &standing.left else {
        return Cell::of(words::NONE);
    };
    let off = left.verdict.as_ref().map(|verdict| verdict.words(sign));
    let expanded = left.proof.as_ref().ok();
    let expanded = expanded.map(|proof| words::with_u(&proof.expanded.typeset(sign)));
    Cell::of(off.unwrap_or_else(|| words::NONE.to_owned())).with(expanded.unwrap_or_default())
}

fn verdict(standing: &StepProgress) -> Cell {
    let mark = match standing.status {
        Status::Done => String::new(),
        status => words::status(status).to_owned(),
    };
    let Some(left) = &standing.left else {
        return Cell::of(words::NOT_LEFT).with(mark);
    };
    let (word, strong) = statement(left);
    let mark = if mark == word { String::new() } else { mark };
    Cell::of(word).with(mark).strong_if(strong)
}

/// What the rule says of a reading, and whether that is to be seen at once.
fn statement(left: &Left) -> (String, bool) {
    let inside = left.verdict.as_ref().map(|verdict| verdict.is_inside());
    match (&left.proof, inside) {
        (_, None) => (words::FOR_THE_RECORD.to_owned(), false),
        (Ok(proof), Some(inside)) => (proof.statement.to_string(), !inside),
        (Err(_), Some(true)) => (words::INSIDE_NO_U.to_owned(), false),
        (Err(_), Some(false)) => (words::OUTSIDE.to_owned(), true),
    }
}

fn drawing(source: &Source, gauge: &Gauge, standing: &StepProgress) -> Drawing {
    let tolerance = known(standing).cloned();
    let fits = |value: &Quantity| value.unit() == gauge.scale.unit;
    let found = standing
        .found()
        .map(|taken| (&taken.corrected, MarkKind::Found));
    let left = standing.left.as_ref();
    let left = left.map(|left| (&left.value, MarkKind::Latest));
    Drawing {
        acceptance: acceptance(source, standing),
        marks: found
            .into_iter()
            .chain(left)
            .filter(|(value, _)| fits(value))
            .map(|(value, kind)| Mark {
                value: value.clone(),
                kind,
            })
            .collect(),
        tolerance,
        scale: gauge.scale,
        sign: source.look.sign,
    }
}

/// Where the rule takes a reading for inside beyond doubt.
fn acceptance(source: &Source, standing: &StepProgress) -> Option<Limits> {
    let proof = standing.left.as_ref()?.proof.as_ref().ok()?;
    let limits = known(standing)?.limits();
    let rule = &source.progress.header.rule;
    let accepted = rule.acceptance(&limits, &proof.expanded.base());
    (accepted != limits).then_some(accepted)
}

/// All judged readings in one picture.
pub fn overview(source: &Source) -> Option<Section> {
    let lines: Vec<Line> = source
        .job
        .procedure
        .steps()
        .zip(&source.progress.steps)
        .filter_map(|(step, standing)| line(step, standing))
        .collect();
    Some(Section {
        parts: vec![Part::Picture {
            svg: plot::overview(&lines)?,
            caption: words::OVERVIEW_KEY.to_owned(),
        }],
        ..Section::new(words::OVERVIEW)
    })
}

fn line(step: &Step, standing: &StepProgress) -> Option<Line> {
    let tolerance = known(standing)?;
    let placed = |value: &Quantity| {
        let fits = tolerance.unit() == value.unit();
        fits.then(|| {
            let inside = tolerance.judge(value).is_inside();
            (plot::share(tolerance, value), inside)
        })
    };
    let found = standing
        .found()
        .and_then(|taken: &Taken| placed(&taken.corrected));
    let left = standing.left.as_ref().and_then(|left| placed(&left.value));
    (found.is_some() || left.is_some()).then(|| Line {
        number: standing.number,
        title: step.title.clone(),
        found,
        left,
    })
}
