//! What differs in a step.

use crate::authoring::ConfirmedBy;
use crate::authoring::difference::said::{Difference, changed};
use crate::authoring::draft::typed_path;
use crate::procedure::{Id, Procedure, Step, Target, Work};
use crate::quantity::DecimalSign;
use crate::radio::limits::Known;

/// What a step says, line by line: what the line is of, and its words.
pub(super) type Lines = Vec<(&'static str, String)>;

/// What the target of a step is called among its lines.
pub(super) const TARGET: &str = "Target";

/// A step before and after, where anything of it differs, and whether the target is the same
/// whatever its words: a step that only got another number is the same reference.
pub(super) type Compared = Option<((Lines, Lines), bool)>;

pub(super) fn step_differences(compared: Compared, number: usize) -> Vec<Difference> {
    let Some(((old, new), same_target)) = compared else {
        return Vec::new();
    };
    let found: Vec<Difference> = old
        .into_iter()
        .zip(new)
        .filter(|((what, _), _)| !(same_target && *what == TARGET))
        .filter_map(|((what, was), (_, is))| changed(format!("{what} of step {number}"), was, is))
        .collect();
    match found.is_empty() {
        true => vec![Difference {
            what: format!("Something else of step {number} changed"),
            was: None,
            is: None,
        }],
        false => found,
    }
}

pub(super) fn is_same_reference(old: &Step, new: &Step) -> bool {
    let is_reference = old.work.target().and_then(Target::leans_on).is_some();
    is_reference && old.work.target() == new.work.target()
}

/// What the limit that the step states itself rests on.
fn basis(step: &Step) -> String {
    let basis = step.basis.as_ref();
    basis.map_or(String::new(), |basis| {
        known_beside(Some(basis.known), &basis.source)
    })
}

/// How a figure is known, and its source.
pub(super) fn known_beside(known: Option<Known>, source: &str) -> String {
    let known = known.map_or("", Known::name);
    let parts = [known, source.trim()].into_iter();
    parts
        .filter(|part| !part.is_empty())
        .collect::<Vec<_>>()
        .join(": ")
}

/// What stands in the path, and which way the signal goes.
fn path(gauge: &crate::procedure::Gauge) -> String {
    let path = gauge.path.as_ref();
    path.map_or(String::new(), |path| {
        format!("{}: {}", path.direction.name(), typed_path(&path.through))
    })
}

pub(super) fn lines_of(procedure: &Procedure, step: &Step, sign: DecimalSign) -> Lines {
    let gauge = |part: fn(&crate::procedure::Gauge) -> String| {
        step.work.gauge().map_or(String::new(), part)
    };
    let (confirm, holds, by) = match &step.work {
        Work::Stop {
            confirm,
            holds,
            reads,
        } => {
            let by = match reads {
                Some(_) => ConfirmedBy::Reading,
                None => ConfirmedBy::Hand,
            };
            (
                confirm.clone(),
                holds.name().to_owned(),
                by.name().to_owned(),
            )
        }
        _ => Default::default(),
    };
    let repeats = match &step.work {
        Work::Repeat(repeat) => repeat.words(sign, |id| procedure.number_of(id)),
        _ => String::new(),
    };
    let into = step.work.gauge().and_then(|gauge| gauge.into.as_ref());
    let impedance = into.map_or(String::new(), |into| into.typeset(sign));
    let target = step.work.target();
    let set_up = step.set_up.lines();
    let set_up = set_up.iter().map(|(name, to)| format!("{name} {to}"));
    vec![
        ("Title", step.title.clone()),
        ("Kind", step.work.kind().to_owned()),
        ("To be confirmed", confirm),
        ("How long it holds", holds),
        ("Confirmed", by),
        ("Repeats", repeats),
        (
            "Adjuster",
            step.work.adjuster().map_or(String::new(), Id::to_string),
        ),
        ("Test point", gauge(|g| g.at.to_string())),
        ("Instrument", gauge(|g| g.with.to_string())),
        ("Unit", gauge(|g| g.scale.symbol())),
        ("Impedance", impedance),
        ("Path", gauge(path)),
        (
            TARGET,
            target.map_or(String::new(), |target| {
                target.typeset(sign, |id| procedure.number_of(id))
            }),
        ),
        ("Basis of the limit", basis(step)),
        ("Set-up", set_up.collect::<Vec<_>>().join(", ")),
        ("Text", step.text.clone()),
        ("Cautions", step.cautions.join(" / ")),
        (
            "Wait",
            step.wait.map_or(String::new(), |m| format!("{m} min")),
        ),
    ]
}
