//! The set's history: the visits that the jobs on this device know of.

use crate::exchange::report::plot::{Bounds, Edge, Stay, share};
use crate::exchange::report::text::{balanced, typed};
use crate::exchange::report::{Cell, Look, Part, Section, Table, plot, words};
use crate::job::{Group, Job, Progress, SetIdentity, is_same_set};
use crate::metrology::Tolerance;
use crate::procedure::{Id, Step};
use crate::quantity::{DecimalSign, Quantity};
use bigdecimal::BigDecimal;

/// One stay of the set on the bench.
struct Visit<'a> {
    job: &'a Job,
    progress: Progress,
}

fn in_order<'a>(jobs: impl IntoIterator<Item = (&'a Job, Progress)>) -> Vec<Visit<'a>> {
    let jobs = jobs.into_iter();
    let mut visits: Vec<Visit> = jobs
        .map(|(job, progress)| Visit { job, progress })
        .collect();
    visits.sort_by_key(|visit| (visit.progress.span, visit.job.id.clone()));
    visits
}

/// The other visits of a job's set; nothing where there are none.
pub fn section(job: &Job, others: &[Job], look: &Look) -> Option<Section> {
    let set = job.progress().header.set;
    let others = others.iter().filter(|other| other.id != job.id);
    let same: Vec<(&Job, Progress)> = others
        .map(|other| (other, other.progress()))
        .filter(|(_, progress)| is_same_set(&progress.header.set, &set))
        .collect();
    if same.is_empty() {
        return None;
    }
    let all = same.into_iter().chain([(job, job.progress())]);
    Some(shown(&in_order(all), Some(&job.id), look))
}

/// The history of a set on its own page; nothing where no job is of it.
pub fn visits_of(set: &SetIdentity, jobs: &[Job], look: &Look) -> Option<Section> {
    let same: Vec<(&Job, Progress)> = jobs
        .iter()
        .map(|job| (job, job.progress()))
        .filter(|(_, progress)| is_same_set(&progress.header.set, set))
        .collect();
    (!same.is_empty()).then(|| shown(&in_order(same), None, look))
}

fn shown(visits: &[Visit], this: Option<&Id>, look: &Look) -> Section {
    let rows = visits.iter().map(|visit| row(visit, this, look));
    let columns = [words::VISIT, words::FAULT, words::TECHNICIAN, words::RESULT];
    let visits_table = Table::new("plain", &columns).with_rows(rows);
    let courses = courses(visits, look);
    let lead = match courses.rows.is_empty() {
        true => Vec::new(),
        false => vec![words::HISTORY_KEY.to_owned()],
    };
    let tables = [visits_table, courses];
    Section {
        lead,
        parts: tables
            .into_iter()
            .filter(|table| !table.rows.is_empty())
            .map(Part::Table)
            .collect(),
        ..Section::new(words::HISTORY)
    }
}

fn row(visit: &Visit, this: Option<&Id>, look: &Look) -> Vec<Cell> {
    let header = &visit.progress.header;
    let started = visit.progress.span.map(|(from, _)| (look.when)(from));
    let here = this == Some(&visit.job.id);
    let below = if here { words::THIS_VISIT } else { "" };
    let signed = visit.progress.signed_off.as_ref();
    let signed = signed.map(|end| (look.when)(end.at));
    let owed = visit.progress.owed().count();
    vec![
        Cell::of(started.unwrap_or_default()).with(
            format!("{} {below}", typed(&header.number))
                .trim()
                .to_owned(),
        ),
        Cell::of(balanced(&header.fault)),
        Cell::of(balanced(&header.technician)),
        Cell::of(words::visit_end(signed.as_deref(), owed)),
    ]
}

/// A reading of a visit.
struct Point {
    at: i64,
    found: Option<(f64, bool)>,
    left: Option<(f64, bool)>,
    text: String,
    bounds: Bounds,
}

/// The limits of all visits together: where they are the same, in figures.
fn bounds(points: &[Point]) -> Bounds {
    let mut all = points.iter().map(|point| &point.bounds);
    let first = all.next().cloned().unwrap_or_default();
    all.fold(first, |known, other| known.and(other))
}

fn bounds_of(tolerance: &Tolerance, sign: DecimalSign) -> Bounds {
    let scale = tolerance.scale();
    let limits = tolerance.limits();
    let edge = |limit: Option<BigDecimal>| match limit {
        Some(limit) => Edge::At(Quantity::in_scale(limit, scale).typeset(sign)),
        None => Edge::Open,
    };
    Bounds {
        low: edge(limits.low),
        high: edge(limits.high),
        has_target: tolerance.nominal().is_some(),
    }
}

/// The readings that more than one visit found or left, each with its course.
fn courses(visits: &[Visit], look: &Look) -> Table {
    let mut names: Vec<(Id, &Step)> = Vec::new();
    // The latest procedure has the say over what a reading is called. One that is taken in another
    // state of the set since, though at a step of the same name, is another one.
    for visit in visits.iter().rev() {
        let course = &visit.progress.course;
        for step in course.procedure.steps() {
            let name = course.known_as(&step.id);
            let is_same = |known: &(Id, &Step)| known.0 == name && known.1.reads_as(step);
            if !names.iter().any(is_same) {
                names.push((name, step));
            }
        }
    }
    let began = |visit: Option<&Visit>| {
        visit
            .and_then(|visit| visit.progress.span)
            .map(|span| span.0)
    };
    let (first, last) = (began(visits.first()), began(visits.last()));
    let (first, last) = (first.unwrap_or_default(), last.unwrap_or_default());
    let day = |at: i64| look.day_of(at).map(look.day).unwrap_or_default();
    let days = (day(first), day(last));
    // All on one scale of time.
    let when = |at: i64| (at - first) as f64 / (last - first).max(1) as f64;
    let rows = names.into_iter().filter_map(|(name, step)| {
        let title = step.title.as_str();
        let points = visits
            .iter()
            .filter_map(|visit| point(visit, &name, step, look));
        let points: Vec<Point> = points.collect();
        (points.len() > 1).then(|| {
            let stays = points.iter().map(|point| Stay {
                when: when(point.at),
                found: point.found,
                left: point.left,
            });
            let stays: Vec<Stay> = stays.collect();
            let texts: Vec<&str> = points.iter().map(|point| point.text.as_str()).collect();
            vec![
                Cell::of(typed(title)),
                Cell::of(texts.join(" → ")),
                Cell {
                    picture: Some(plot::course(
                        title,
                        &stays,
                        &bounds(&points),
                        (&days.0, &days.1),
                    )),
                    ..Cell::default()
                },
            ]
        })
    });
    let columns = [words::READING, words::LEFT, words::COURSE];
    Table::new("courses", &columns).with_rows(rows)
}

fn point(visit: &Visit, name: &Id, step: &Step, look: &Look) -> Option<Point> {
    let then = visit.progress.course.step_known_as(name)?;
    let standing = visit
        .progress
        .step(&then.id)
        .filter(|_| then.reads_as(step))?;
    let tolerance = standing.tolerance.as_ref()?.as_ref().ok()?;
    let placed = |group: &Group| {
        let inside = group.verdict.as_ref()?.is_inside();
        Some((share(tolerance, &group.judged), inside))
    };
    let (found, left) = (standing.found.as_ref(), standing.as_left());
    let in_words = |group: &Group| group.judged.typeset(look.sign);
    let text = match (left, found) {
        (Some(left), _) => in_words(left),
        (None, Some(found)) => words::found_at(&in_words(found), ""),
        (None, None) => return None,
    };
    let (found, left) = (found.and_then(placed), left.and_then(placed));
    found.or(left)?;
    Some(Point {
        at: visit.progress.span?.0,
        found,
        left,
        text,
        bounds: bounds_of(tolerance, look.sign),
    })
}
