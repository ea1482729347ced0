//! The readings as a table for spreadsheets: RFC 4180, UTF-8 with a mark, one row a reading.

mod cell;

pub use self::cell::harmless;

use super::{Look, words};
use crate::authoring::draft::typed_path;
use crate::exchange::report::csv::cell::{MARK, figure_or_harmless, push_row};
use crate::job::guidance::advice::Opinion;
use crate::job::{self, Deed, Event, Job, Line, Origin, PartState, Progress, Proof, Tool};
use crate::metrology::{Limits, Tolerance, Verdict};
use crate::procedure::{Comparison, Gauge, Id, Setting, Step, Work};
use crate::quantity::{DecimalSign, Number, Quantity, Scale};
use bigdecimal::BigDecimal;
use std::collections::HashSet;
use std::sync::Arc;

/// Every reading in the log in its order, also those that no longer count, with a heading.
pub fn readings(job: &Job, look: &Look) -> String {
    let progress = job.progress();
    let undone = job.log.undone();
    let table = Table {
        progress: &progress,
        look,
        undone,
    };
    let mut out = String::from(MARK);
    push_row(&mut out, words::CSV.map(str::to_owned));
    for (order, event) in job.log.events().enumerate() {
        if let Some(row) = table.row(order, event) {
            push_row(&mut out, row);
        }
    }
    out
}

/// The parts that are still to come, of these jobs.
pub fn to_order(lines: &[Line]) -> String {
    let mut out = String::from(MARK);
    push_row(&mut out, words::CSV_PARTS.map(str::to_owned));
    for line in lines {
        for part in &line.parts_due {
            let state = match part.ordered {
                true => PartState::Ordered,
                false => PartState::Needed,
            };
            let cells = [
                harmless(&part.what),
                harmless(&part.number),
                part.count.to_string(),
                words::part_state(state).to_owned(),
                harmless(&line.number),
                harmless(&line.set.title()),
            ];
            push_row(&mut out, cells);
        }
    }
    out
}

struct Table<'a> {
    progress: &'a Progress,
    look: &'a Look<'a>,
    undone: HashSet<Id>,
}

/// The cells behind those of the settings.
const BEHIND: usize = 7;

/// What a row is about.
struct Read<'a> {
    value: &'a Quantity,
    kind: &'static str,
    repeat: &'static str,
    tool: Option<Tool>,
    /// What became of it, where it counts.
    read: Option<job::Read>,
    tolerance: Option<Tolerance>,
    verdict: Option<Verdict>,
    /// What it proves, where that is known.
    proof: Option<Proof>,
    pin: String,
}

impl Table<'_> {
    fn row(&self, order: usize, event: &Event) -> Option<impl Iterator<Item = String> + use<>> {
        /// The cells before those of the settings.
        const BEFORE: usize = words::CSV.len() - Setting::ALL.len() - BEHIND;
        let step = self.progress.course.procedure.step(event.did.step()?)?;
        let read = self.read(event, step)?;
        let header = &self.progress.header;
        let (counts, reason) = self.counts(event, step);
        let at = gauge_of(event, step).map(|gauge| gauge.at.to_string());
        let number = |id| {
            self.progress
                .course
                .procedure
                .number_of(id)
                .map(|n| n.to_string())
        };
        let sign = self.look.sign;
        let result = read.read.as_ref().map(|read| &read.corrected);
        let (corrected, corrected_unit) = match result {
            Some(value) => (number_of(value, sign), value.scale.symbol()),
            None => Default::default(),
        };
        let corrects = |read: &&job::Read| read.way.is_some() || read.corrected != read.indicated;
        let correction = read.read.as_ref().filter(corrects);
        let correction = correction.map_or(String::new(), |read| read.correction(sign));
        let limits = read.tolerance.as_ref().map(Tolerance::limits);
        let unit = read.tolerance.as_ref().map(Tolerance::unit);
        let judged = [read.value].into_iter().chain(result);
        let mut judged = judged.map(|value| value.scale);
        let scale = judged.find(|scale| Some(scale.unit) == unit);
        let scale = scale.or(unit.map(Scale::plain)).unwrap_or(read.value.scale);
        let limit = |of: fn(&Limits) -> &Option<BigDecimal>| {
            let limit = limits.as_ref().and_then(|limits| of(limits).clone());
            let limit = limit.map(|limit| number_of(&Quantity::in_scale(limit, scale), sign));
            limit.unwrap_or_default()
        };
        let set_up = &step.set_up;
        let shown = |text: &str| figure_or_harmless(text, sign);
        let stated = |text: &Option<String>| shown(text.as_deref().unwrap_or_default());
        let setting = |setting| shown(set_up.settings.get(&setting).map_or("", String::as_str));
        let (table, row, column) = self.in_table(step).unwrap_or_default();
        let (place, margin, margin_unit) = match &read.verdict {
            Some(Verdict { place, margin, .. }) => (
                place.to_string(),
                number_of(margin, sign),
                margin.scale.symbol(),
            ),
            None => Default::default(),
        };
        let cells: [String; BEFORE] = [
            harmless(&header.number),
            harmless(&header.set.make),
            harmless(&header.set.model),
            harmless(&header.set.serial),
            (self.look.stamp)(event.at),
            harmless(self.section(step)),
            number(&step.id).unwrap_or_default(),
            harmless(step.id.as_str()),
            harmless(&step.title),
            read.kind.to_owned(),
            read.repeat.to_owned(),
            counts.to_owned(),
            number_of(read.value, sign),
            read.value.scale.symbol(),
            tool(read.tool).to_owned(),
            harmless(&at.unwrap_or_default()),
            harmless(&self.with(order, event, step)),
            corrected,
            corrected_unit,
            figure_or_harmless(&correction, sign),
            limit(|limits| &limits.low),
            limit(|limits| &limits.high),
            limits.map_or(String::new(), |_| scale.symbol()),
            place,
            margin,
            margin_unit,
            harmless(&read.pin),
            harmless(&reason),
            stated(&set_up.mode),
            stated(&set_up.channel),
            set_up
                .signal
                .map_or(String::new(), |signal| signal.to_string()),
            stated(&set_up.supply),
            harmless(&words::controls(&set_up.controls)),
            harmless(table),
            shown(row),
            shown(column),
            self.pass(event, step),
        ];
        let behind = self.how_well(gauge_of(event, step), &read);
        let settings = Setting::ALL.map(setting);
        Some(cells.into_iter().chain(settings).chain(behind))
    }

    /// What a reading came through, and what it proves: nothing where that is not known.
    fn how_well(&self, gauge: Option<&Gauge>, read: &Read) -> [String; BEHIND] {
        let sign = self.look.sign;
        let path = gauge.and_then(|gauge| gauge.path.as_ref());
        let path = path.map_or(String::new(), |path| {
            format!("{}: {}", path.direction.name(), typed_path(&path.through))
        });
        let into = gauge.and_then(|gauge| gauge.into.as_ref());
        let into = into.map_or(String::new(), |into| {
            format!("{} {}", number_of(into, sign), into.scale.symbol())
        });
        let proof = read.proof.as_ref();
        let (expanded, unit) = proof.map_or(Default::default(), |proof| {
            let scale = proof.expanded.scale;
            (number_of(&proof.expanded, sign), scale.symbol())
        });
        let coverage = proof.and_then(|proof| Number::from_f64(proof.budget.coverage, 2));
        let coverage = coverage.map(|k| k.to_string().replace('.', sign.symbol()));
        let rule = self.progress.header.rule.name().typeset(sign);
        [
            harmless(&path),
            harmless(&into),
            expanded,
            unit,
            coverage.unwrap_or_default(),
            read.verdict.as_ref().map_or(String::new(), |_| rule),
            proof.map_or(String::new(), Proof::words),
        ]
    }

    fn section(&self, step: &Step) -> &str {
        let course = &self.progress.course;
        let section = course.procedure.section_of(&step.id);
        let part = course.part_with(&step.id).map(|part| &part.from);
        match (part, section) {
            (Some(Origin::Bench), _) => words::ADDED_STEPS,
            (_, section) => section.map_or("", |section| &section.title),
        }
    }

    /// The pass in which a step that is gone through again was read.
    fn pass(&self, event: &Event, step: &Step) -> String {
        let standing = self.progress.step(&step.id);
        let standing = standing.filter(|_| step.work.measures());
        let passes = standing.and_then(|standing| self.progress.repeated_by(standing.number));
        let taken = standing.and_then(|standing| {
            let struck = standing.struck.iter().map(|struck| &struck.taken);
            let mut taken = standing.readings.iter().map(Arc::as_ref).chain(struck);
            taken.find(|taken| taken.event == event.id)
        });
        let pass = passes
            .zip(taken)
            .map(|((_, passes), taken)| passes.pass_of(taken));
        pass.map_or(String::new(), |pass| pass.to_string())
    }

    fn read<'a>(&self, event: &'a Event, step: &Step) -> Option<Read<'a>> {
        let standing = self.progress.step(&step.id)?;
        let plain = |value, kind| Read {
            value,
            kind,
            repeat: "",
            tool: None,
            read: None,
            tolerance: None,
            verdict: None,
            proof: None,
            pin: String::new(),
        };
        match &event.did {
            Deed::Reading {
                phase,
                value,
                tool,
                repeat,
                ..
            } => {
                let taken = standing.readings.iter().find(|t| t.event == event.id);
                Some(Read {
                    tool: *tool,
                    read: taken.map(|taken| job::Read::of(taken)),
                    tolerance: standing.tolerance.clone().and_then(Result::ok),
                    verdict: taken.and_then(|taken| taken.verdict.clone()),
                    proof: taken.and_then(|taken| {
                        let proof =
                            self.progress
                                .proof_of(&self.progress.course.procedure, step, taken);
                        proof.ok()
                    }),
                    repeat: if *repeat { words::REPEAT } else { "" },
                    ..plain(value, phase.name())
                })
            }
            Deed::CrossRead { value, .. } => {
                let cross = standing.cross.as_ref();
                let cross = cross.filter(|cross| cross.event == event.id);
                let opinion = cross.and_then(|cross| cross.opinion.as_ref());
                let compares = step.cross_check.as_ref().map(|check| &check.compares);
                Some(Read {
                    read: cross.map(|cross| cross.read.clone()),
                    tolerance: match compares {
                        Some(Comparison::Plausible(tolerance)) => Some(tolerance.clone()),
                        _ => None,
                    },
                    verdict: match opinion.map(|said| &said.opinion) {
                        Some(Opinion::Plausible(verdict)) => Some(verdict.clone()),
                        _ => None,
                    },
                    ..plain(value, words::CROSS)
                })
            }
            Deed::PinRead {
                pin, state, value, ..
            } => {
                let Work::Socket(socket) = &step.work else {
                    return Some(plain(value, words::PIN_READING));
                };
                let result = standing.pin_read(&event.id).map(|read| &read.result);
                Some(Read {
                    verdict: result.and_then(|result| result.verdict.clone()),
                    proof: result.and_then(|result| result.proof.clone().ok()),
                    read: result.and_then(|result| result.readings.last().cloned()),
                    tolerance: socket.expected(pin, state).cloned(),
                    pin: format!("{pin}, {state}"),
                    ..plain(value, words::PIN_READING)
                })
            }
            _ => None,
        }
    }

    fn counts(&self, event: &Event, step: &Step) -> (&'static str, String) {
        if self.undone.contains(&event.id) {
            return (words::TAKEN_BACK, String::new());
        }
        let standing = self.progress.step(&step.id);
        let struck = standing.and_then(|s| s.struck.iter().find(|it| it.taken.event == event.id));
        match struck {
            Some(it) => (words::STRUCK, it.reason.clone()),
            None => (words::COUNTS, String::new()),
        }
    }

    /// The table that a reading stands in, with its row and column.
    fn in_table(&self, step: &Step) -> Option<(&str, &str, &str)> {
        let table = self.progress.course.procedure.table_of(&step.id)?;
        let (row, column) = table.place_of(&step.id)?;
        Some((
            &table.title,
            table.rows.heading(row),
            table.columns.heading(column),
        ))
    }

    /// What a reading was taken with: the instrument, or its role where nobody named it. One that was
    /// taken back plays no part in the job any more, and names the sound that it was of by itself.
    fn with(&self, order: usize, event: &Event, step: &Step) -> String {
        let Some(role) = role_of(event, step) else {
            return String::new();
        };
        if let Deed::Reading {
            heard: Some(heard), ..
        } = &event.did
            && self.undone.contains(&event.id)
        {
            return heard.name();
        }
        let with = self.progress.instruments.at(role, order);
        with.map_or_else(|| role.to_string(), |with| with.name.clone())
    }
}

/// How a reading was taken.
fn gauge_of<'a>(event: &Event, step: &'a Step) -> Option<&'a Gauge> {
    match (&event.did, &step.cross_check) {
        (Deed::CrossRead { .. }, Some(check)) => Some(&check.gauge),
        _ => step.work.gauge(),
    }
}

/// The role of the instrument that a reading was taken with.
fn role_of<'a>(event: &Event, step: &'a Step) -> Option<&'a Id> {
    match &step.work {
        Work::Socket(socket) => Some(&socket.with),
        _ => gauge_of(event, step).map(|gauge| &gauge.with),
    }
}

const fn tool(tool: Option<Tool>) -> &'static str {
    match tool {
        Some(Tool::In) => words::TOOL_IN,
        Some(Tool::Out) => words::TOOL_OUT,
        None => "",
    }
}

/// The digits as typed, with the decimal sign that a spreadsheet of the same language reads.
fn number_of(value: &Quantity, sign: DecimalSign) -> String {
    value.number.to_string().replace('.', sign.symbol())
}
