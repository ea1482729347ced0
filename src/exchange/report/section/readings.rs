//! The readings from found to left, each with its scale, and all of them in one picture.

use crate::exchange::report::plot::Line;
use crate::exchange::report::scale::{Drawing, Mark, MarkKind, SMALL};
use crate::exchange::report::section::several;
use crate::exchange::report::section::several::shared::Shared;
use crate::exchange::report::sheet::{Place, Source};
use crate::exchange::report::text::typed;
use crate::exchange::report::{Cell, Part, Section, Table, plot, scale, words};
use crate::job::guidance::advice::is_null_outside;
use crate::job::{Group, Phase, Read, Status, StepProgress, Taken, Unproved};
use crate::metrology::Limits;
use crate::procedure::{Gauge, Id, Section as Steps, Step, TargetFault};
use crate::quantity::DecimalSign;
use std::sync::Arc;

const COLUMNS: [&str; 6] = [
    words::READING,
    words::TARGET,
    words::FOUND,
    words::LEFT,
    words::MARGIN,
    words::VERDICT,
];

/// The readings, a table for each section of the procedure.
pub fn section(source: &Source) -> Option<Section> {
    let sections = source.progress.course.procedure.sections.iter();
    let tables: Vec<Part> = sections.flat_map(|steps| parts(source, steps)).collect();
    (!tables.is_empty()).then(|| Section {
        lead: vec![words::rule(
            &source
                .progress
                .header
                .rule
                .sentence()
                .typeset(source.look.sign),
        )],
        parts: std::iter::once(key()).chain(tables).collect(),
        ..Section::new(words::READINGS)
    })
}

/// What is drawn on the scales.
fn key() -> Part {
    Part::Picture {
        svg: scale::key(),
        caption: String::new(),
    }
}

/// The readings of a section one by one, then those that stand in tables.
fn parts(source: &Source, steps: &Steps) -> Vec<Part> {
    let single = Some(table(source, steps)).filter(|table| !table.rows.is_empty());
    let is_here = |id: &Id| steps.steps.iter().any(|step| step.id == *id);
    let tables = source.progress.course.procedure.tables.iter();
    let here = tables.filter(|table| table.steps().next().is_some_and(is_here));
    let in_tables = here.flat_map(|table| several::parts(source, table));
    single
        .map(Part::Table)
        .into_iter()
        .chain(in_tables)
        .collect()
}

fn table(source: &Source, steps: &Steps) -> Table {
    let is_single = |step: &&Step| {
        source
            .progress
            .course
            .procedure
            .table_of(&step.id)
            .is_none()
    };
    let read = steps.steps.iter().filter(is_single).filter_map(|step| {
        let standing = source.progress.step(&step.id)?;
        let gauge = step.work.gauge()?;
        (!standing.readings.is_empty()).then_some((step, gauge, standing))
    });
    let read: Vec<(&Step, &Gauge, &StepProgress)> = read.collect();
    let shared = Shared::of(&read, source.look.sign);
    let rows = read.into_iter();
    let rows = rows.map(|(step, gauge, standing)| row(source, (step, gauge, standing), &shared));
    Table {
        caption: source.title_of(steps),
        lead: shared.words(),
        ..Table::new("readings", &COLUMNS).with_rows(rows)
    }
}

/// The row of a reading.
fn row(
    source: &Source,
    (step, gauge, standing): (&Step, &Gauge, &StepProgress),
    shared: &Shared,
) -> Vec<Cell> {
    let target = limits_in_words(source, standing);
    let target = Cell {
        picture: drawing(source, gauge, standing).svg(SMALL),
        ..Cell::of(target).with(limit_known(step).unwrap_or_default())
    };
    let with = read_by(gauge, standing);
    let taken_at = words::taken_at(standing.number, gauge.at.as_str(), &with);
    let above = shared.correction_of(&gauge.with);
    let heading = Cell {
        under: words::conditions(&shared.left_to(standing.number, step)),
        ..Cell::of(typed(&step.title)).with(taken_at)
    };
    vec![
        heading,
        target,
        found(source, gauge, standing, above),
        left(source, (step, gauge, standing), above),
        margin(source, standing),
        verdict(standing),
    ]
}

/// With what the readings that count were taken. A level of the generator is the generator's, however
/// it was told.
pub(in crate::exchange::report) fn read_by(gauge: &Gauge, standing: &StepProgress) -> String {
    let is_sound = |taken: &Arc<Taken>| {
        let heard = taken.heard.as_ref();
        heard.is_some_and(|heard| !heard.measure.is_of_generator())
    };
    let by_sound = standing.readings.iter().any(is_sound);
    let by_instrument = !standing.readings.iter().all(is_sound);
    words::read_by(gauge.with.as_str(), by_instrument, by_sound)
}

/// How the figures of its limit are known, where that is worth a word beside it.
pub(in crate::exchange::report) fn limit_known(step: &Step) -> Option<&'static str> {
    words::known_beside(step.basis()?.known)
}

/// The limits of a reading, or why it has none.
pub(in crate::exchange::report) fn limits_in_words(
    source: &Source,
    standing: &StepProgress,
) -> String {
    match &standing.tolerance {
        Some(Ok(tolerance)) => tolerance.typeset(source.look.sign),
        Some(Err(TargetFault::Waiting(id))) => {
            let number = source.progress.course.procedure.number_of(id);
            words::waits_for(&number.map_or(id.to_string(), |number| number.to_string()))
        }
        Some(Err(fault)) => fault.to_string(),
        None => words::FOR_THE_RECORD.to_owned(),
    }
}

/// The reading that is judged, and below it the mean where it is one of several, each of them, and
/// what was indicated, with the reason of the correction where that isn't said above.
fn result_of(
    source: &Source,
    gauge: &Gauge,
    group: &Group,
    said_above: Option<&str>,
) -> (String, Vec<String>) {
    let sign = source.look.sign;
    let each = group
        .readings
        .iter()
        .map(|read| read.corrected.typeset(sign));
    let each: Vec<String> = each.collect();
    let mean = group.repeats.is_some().then(|| match decides_alone(group) {
        false => words::mean_of(&each),
        true => words::mean_is(&group.value.typeset(sign), &each),
    });
    let indicated = match said_above {
        None => Read::indicated(&group.readings, sign),
        Some(_) => Read::indicated_and_why(&group.readings, sign).map(|(indicated, _)| indicated),
    };
    let with = named_instrument(source, &gauge.with, group);
    (
        group.judged.typeset(sign),
        mean.into_iter().chain(indicated).chain(with).collect(),
    )
}

/// The instrument that a result was read with, where more than one played its role in the job.
pub(in crate::exchange::report) fn named_instrument(
    source: &Source,
    role: &Id,
    group: &Group,
) -> Option<String> {
    let with = group.readings.last().and_then(|read| read.with.as_ref());
    source.is_shared(role).then(|| match with {
        Some(with) => words::read_with(&typed(&with.name)),
        None => words::READ_WITH_NONE.to_owned(),
    })
}

/// Whether one of several readings decides, and not their mean.
fn decides_alone(group: &Group) -> bool {
    group.judged != group.value
}

pub(in crate::exchange::report) fn found(
    source: &Source,
    gauge: &Gauge,
    standing: &StepProgress,
    said_above: Option<&str>,
) -> Cell {
    let sign = source.look.sign;
    let Some(group) = &standing.found else {
        return Cell::of(words::NONE);
    };
    let (text, mut below) = result_of(source, gauge, group, said_above);
    let off = group.verdict.as_ref();
    let off = off.map(|verdict| verdict.margin_words(sign));
    below.splice(0..0, off);
    below.extend(beside(source, standing, Phase::AsFound));
    let outside = standing.found_outside().is_some();
    Cell::of(text).with(below.join("; ")).strong_if(outside)
}

/// The readings of a phase that are part of no result.
fn beside(source: &Source, standing: &StepProgress, phase: Phase) -> Option<String> {
    let sign = source.look.sign;
    let values = standing.beside(phase).map(|it| it.corrected.typeset(sign));
    let values: Vec<String> = values.collect();
    (!values.is_empty()).then(|| words::also_read(phase, &values))
}

pub(in crate::exchange::report) fn left(
    source: &Source,
    (step, gauge, standing): (&Step, &Gauge, &StepProgress),
    said_above: Option<&str>,
) -> Cell {
    let result = standing.as_left();
    let result = result.map(|group| result_of(source, gauge, group, said_above));
    let (text, mut below) = result.unwrap_or_else(|| (words::NOT_LEFT.to_owned(), Vec::new()));
    let phases = [Phase::Try, Phase::AsLeft];
    below.extend(
        phases
            .into_iter()
            .filter_map(|phase| beside(source, standing, phase)),
    );
    below.extend(standing.cross.as_ref().map(|cross| {
        let value = cross.read.corrected.typeset(source.look.sign);
        let said = cross
            .opinion
            .as_ref()
            .map(|said| words::opinion(&said.opinion));
        words::other_route(&value, said)
    }));
    let is_old = source.progress.was_read_before_the_cure(standing);
    below.extend(is_old.then(|| words::NOT_READ_SINCE.to_owned()));
    let is_null_outside = is_null_outside(source.progress, step);
    below.extend(is_null_outside.then(|| words::NULL_OUTSIDE.to_owned()));
    let mut replaced = phases.into_iter().flat_map(|phase| standing.beside(phase));
    let hid = replaced.any(|it| {
        it.verdict
            .as_ref()
            .is_some_and(|verdict| !verdict.is_inside())
    });
    Cell::of(text).with(below.join("; ")).strong_if(hid)
}

/// How far the reading that was judged is from its limit; it is named where it is not the result.
fn judged(group: &Group, sign: DecimalSign) -> String {
    let Some(verdict) = &group.verdict else {
        return words::NONE.to_owned();
    };
    let margin = verdict.margin_words(sign);
    match decides_alone(group) {
        false => margin,
        true => words::of_reading(&group.judged.typeset(sign), &margin),
    }
}

pub(in crate::exchange::report) fn margin(source: &Source, standing: &StepProgress) -> Cell {
    let sign = source.look.sign;
    let Some(left) = &standing.left else {
        return Cell::of(words::NONE);
    };
    let off = left.verdict.as_ref();
    let off = off.and_then(|verdict| verdict.deviation_words(sign));
    let expanded = left.proof.as_ref().ok();
    let expanded = expanded.map(|proof| words::with_u(&proof.expanded.typeset(sign)));
    let below: Vec<String> = off.into_iter().chain(expanded).collect();
    Cell::of(judged(left, sign)).with(below.join("; "))
}

pub(in crate::exchange::report) fn verdict(standing: &StepProgress) -> Cell {
    let mark = match standing.status {
        Status::Done => String::new(),
        status => words::status(status).to_owned(),
    };
    let Some(left) = &standing.left else {
        return Cell::of(words::NOT_LEFT).with(mark);
    };
    let (word, strong) = statement(left);
    let mark = if mark == word { String::new() } else { mark };
    let against = standing.spoken_against();
    let marks: Vec<String> = against
        .map(words::second_route_says)
        .into_iter()
        .chain([mark])
        .filter(|it| !it.is_empty())
        .collect();
    let is_doubted = against.is_some() || standing.status == Status::Outside;
    Cell::of(word)
        .with(marks.join("; "))
        .strong_if(strong || is_doubted)
}

/// What the rule says of a reading, and whether that is to be seen at once.
pub(in crate::exchange::report) fn statement(left: &Group) -> (String, bool) {
    let inside = left.verdict.as_ref().map(|verdict| verdict.is_inside());
    match (&left.proof, inside) {
        (Err(why @ Unproved::NoLoss(_)), _) => (why.to_string(), true),
        (_, None) => (words::FOR_THE_RECORD.to_owned(), false),
        (Ok(proof), Some(inside)) => (proof.words(), !inside),
        (Err(_), Some(true)) => (words::INSIDE_NO_U.to_owned(), false),
        (Err(_), Some(false)) => (words::OUTSIDE.to_owned(), true),
    }
}

fn drawing(source: &Source, gauge: &Gauge, standing: &StepProgress) -> Drawing {
    // What nobody knows the place of has none on the scale.
    let placed = |group: &&Group| group.lacks().is_none();
    let found = standing.found.as_ref().filter(placed);
    let found = found.map(|group| (&group.judged, MarkKind::Found));
    let left = standing.as_left().filter(placed);
    let left = left.map(|group| (&group.judged, MarkKind::Latest));
    let marks = found.into_iter().chain(left);
    Drawing {
        acceptance: acceptance(source, standing),
        marks: marks
            .filter(|(value, _)| value.unit() == gauge.scale.unit)
            .map(|(value, kind)| Mark {
                value: value.clone(),
                kind,
            })
            .collect(),
        tolerance: standing.known_tolerance().cloned(),
        scale: gauge.scale,
        sign: source.look.sign,
    }
}

/// Where the rule takes a reading for inside beyond doubt.
fn acceptance(source: &Source, standing: &StepProgress) -> Option<Limits> {
    let proof = standing.left.as_ref()?.proof.as_ref().ok()?;
    let limits = standing.known_tolerance()?.limits();
    let rule = &source.progress.header.rule;
    let accepted = rule.acceptance(&limits, &proof.expanded.base());
    (accepted != limits).then_some(accepted)
}

/// All judged readings in one picture.
pub fn overview(source: &Source) -> Option<Section> {
    let lines: Vec<Line> = source
        .progress
        .course
        .procedure
        .steps()
        .zip(&source.progress.steps)
        .filter(|(step, _)| !step.work.is_stop())
        .filter_map(|(step, standing)| line(step, standing))
        .collect();
    Some(Section {
        parts: vec![Part::Picture {
            svg: plot::overview(&lines)?,
            caption: words::OVERVIEW_KEY.to_owned(),
        }],
        place: Place::Front,
        ..Section::new(words::OVERVIEW)
    })
}

fn line(step: &Step, standing: &StepProgress) -> Option<Line> {
    let tolerance = standing.known_tolerance()?;
    let placed = |group: &Group| {
        let inside = group.verdict.as_ref()?.is_inside();
        Some((plot::share(tolerance, &group.judged), inside))
    };
    let found = standing.found.as_ref().and_then(placed);
    let left = standing.as_left().and_then(placed);
    (found.is_some() || left.is_some()).then(|| Line {
        number: standing.number,
        title: step.title.clone(),
        found,
        left,
    })
}
