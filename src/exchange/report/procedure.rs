//! A procedure as a sheet: everything it says, and room to write what is read beside it.

use super::text::{shortened, typed};
use super::{Cell, Fact, Part, Section, Table, words};
use crate::procedure::{Gauge, Procedure, Section as Steps, Step, Work};
use crate::quantity::{DecimalSign, Quantity, whole_figures};

/// The sheet of a procedure.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// The procedure's title.
    pub title: String,
    /// Title and revision, for the head of each page.
    pub running: String,
    /// What it covers, and which revision it is.
    pub facts: Vec<Fact>,
    /// Cautions, what it takes, and the steps.
    pub sections: Vec<Section>,
    /// The fingerprint of this very revision.
    pub digest: String,
}

impl Sheet {
    /// The sheet of a procedure.
    pub fn of(procedure: &Procedure, sign: DecimalSign) -> Self {
        let revision = procedure.revision.to_string();
        let fact = |label, text: &str| Fact {
            label,
            text: text.to_owned(),
        };
        let sections = [
            cautions(procedure),
            Some(takes(procedure)).filter(|takes| !takes.parts.is_empty()),
            Some(steps(procedure, sign)),
        ];
        Sheet {
            title: procedure.title.clone(),
            running: words::title_and_revision(&shortened(&procedure.title, 76), &revision),
            facts: vec![
                fact(words::COVERS, &procedure.covers),
                fact(words::REVISION, &revision),
            ],
            sections: sections.into_iter().flatten().collect(),
            digest: procedure.digest(),
        }
    }
}

/// What an author wrote, with figures and their units on one line.
fn prose(text: &str) -> String {
    typed(&whole_figures(text))
}

/// The texts that say something, behind each other.
fn list<const N: usize>(texts: [&str; N]) -> String {
    let said = texts.into_iter().filter(|text| !text.is_empty());
    said.map(typed).collect::<Vec<_>>().join(", ")
}

fn read_at(gauge: &Gauge) -> String {
    let through = gauge.through().iter().map(|role| typed(role.as_str()));
    let through: Vec<String> = through.collect();
    words::read_at(
        &typed(gauge.at.as_str()),
        &typed(gauge.with.as_str()),
        &gauge.scale.symbol(),
        gauge.into.as_ref().map(Quantity::to_string).as_deref(),
        &through.join(", "),
    )
}

fn cautions(procedure: &Procedure) -> Option<Section> {
    (!procedure.cautions.is_empty()).then(|| Section {
        lead: procedure.cautions.iter().map(|text| prose(text)).collect(),
        ..Section::new(words::CAUTIONS)
    })
}

/// The instruments, test points and adjusters.
fn takes(procedure: &Procedure) -> Section {
    let instruments = procedure.instruments.iter();
    let instruments = instruments.map(|it| row(it.role.as_str(), [it.needs.clone()]));
    let points = procedure.test_points.iter();
    let points = points.map(|it| row(it.id.as_str(), [it.place.clone(), it.also.join(", ")]));
    let adjusters = procedure.adjusters.iter().map(|it| {
        let sense = it.clockwise.map(words::clockwise).unwrap_or_default();
        let said = [it.note.as_str(), sense].into_iter();
        let said: Vec<&str> = said.filter(|text| !text.is_empty()).collect();
        let kind = it.kind.name().to_owned();
        row(it.id.as_str(), [kind, said.join("; "), it.tool.clone()])
    });
    let tables = [
        Table::new("takes", &words::OF_INSTRUMENTS).with_rows(instruments),
        Table::new("takes", &words::OF_POINTS).with_rows(points),
        Table::new("takes", &words::OF_ADJUSTERS).with_rows(adjusters),
    ];
    let tables = tables.into_iter().filter(|table| !table.rows.is_empty());
    Section {
        parts: tables.map(Part::Table).collect(),
        ..Section::new(words::TAKES)
    }
}

fn row<const N: usize>(name: &str, rest: [String; N]) -> Vec<Cell> {
    let rest = rest.map(|text| Cell::of(prose(&text)));
    [Cell::of(typed(name))].into_iter().chain(rest).collect()
}

fn steps(procedure: &Procedure, sign: DecimalSign) -> Section {
    let tables = procedure.sections.iter();
    let tables = tables.filter(|section| !section.steps.is_empty());
    Section {
        parts: tables
            .map(|section| Part::Table(table(procedure, section, sign)))
            .collect(),
        ..Section::new(words::STEPS)
    }
}

fn table(procedure: &Procedure, section: &Steps, sign: DecimalSign) -> Table {
    let rows = section.steps.iter().map(|step| {
        vec![
            heading(procedure, step),
            Cell::of(said(step)).with(below(procedure, step)),
            Cell::of(asked(procedure, step, sign)),
            Cell::default(),
            Cell::default(),
        ]
    });
    Table {
        caption: typed(&section.title),
        ..Table::new("steps", &words::OF_STEPS).with_rows(rows)
    }
}

fn heading(procedure: &Procedure, step: &Step) -> Cell {
    let number = procedure.number_of(&step.id).unwrap_or_default();
    Cell::of(words::numbered(number, &typed(&step.title))).with(step.work.kind())
}

/// Cautions and the instruction.
fn said(step: &Step) -> String {
    let cautions = step.cautions.iter();
    let cautions = cautions.map(|text| words::caution(&prose(text)));
    let text = Some(step.text.as_str()).filter(|text| !text.is_empty());
    let text = text.map(prose);
    let mut said: Vec<String> = cautions.chain(text).collect();
    said.extend(match &step.work {
        Work::Wire(lead) => Some(words::lead(&lead.from, &lead.to, &lead.colour)),
        Work::Socket(socket) => Some(typed(&socket.name)),
        _ => None,
    });
    said.join("\n")
}

/// The set-up, and where the hands go.
fn below(procedure: &Procedure, step: &Step) -> String {
    let set_up = step.set_up.lines();
    let set_up = set_up
        .iter()
        .map(|(name, value)| format!("{} {}", typed(name), prose(value)));
    let mut lines = vec![set_up.collect::<Vec<_>>().join(" · ")];
    lines.extend(step.work.gauge().map(read_at));
    lines.extend(
        step.work
            .adjuster()
            .map(|id| words::turn(&typed(id.as_str()))),
    );
    lines.extend(
        step.basis()
            .map(|basis| words::limit_rests_on(&words::basis(&basis))),
    );
    lines.extend(step.wait.map(words::wait));
    let numbers = step.needs.iter().filter_map(|id| procedure.number_of(id));
    lines.extend(numbers.map(words::needs));
    lines.extend(
        step.cross_check
            .as_ref()
            .map(|check| words::second_route(&prose(&check.text), &read_at(&check.gauge))),
    );
    let off = step.takes_off.iter();
    lines.extend(off.map(|item| {
        words::comes_off(&list([
            item.what.as_str(),
            &item.place,
            &item.orientation,
            &item.note,
        ]))
    }));
    let back = step.puts_back.iter();
    lines.extend(back.map(|what| words::goes_back(&typed(what))));
    lines.retain(|line| !line.is_empty());
    lines.join("\n")
}

/// What must come of it: the limits, what is confirmed, what is fitted, what pins must read.
fn asked(procedure: &Procedure, step: &Step, sign: DecimalSign) -> String {
    match &step.work {
        Work::Stop {
            confirm,
            holds,
            reads,
        } => {
            let closes = words::closes(*holds);
            match reads {
                None => format!("{}\n{closes}", prose(confirm)),
                Some(reads) => {
                    let target = reads.target.typeset(sign, |id| procedure.number_of(id));
                    let by = words::confirmed_by_reading(&target);
                    format!("{}\n{by}\n{closes}", prose(confirm))
                }
            }
        }
        Work::Repeat(repeat) => repeat.words(sign, |id| procedure.number_of(id)),
        Work::Fit(change) => {
            let fitted = match change.out.is_empty() {
                true => typed(&change.fitted),
                false => words::becomes(&typed(&change.out), &typed(&change.fitted)),
            };
            [fitted, prose(&change.why)].join("\n")
        }
        Work::Socket(socket) => {
            let pins = socket.pins.iter().flat_map(|pin| {
                pin.expects.iter().map(move |expected| {
                    let limits = expected.tolerance.typeset(sign);
                    let lead = list([pin.signal.as_str(), &pin.from, &pin.colour]);
                    let state = expected.state.as_str();
                    words::pin(pin.pin.as_str(), &lead, state, &limits)
                })
            });
            pins.collect::<Vec<_>>().join("\n")
        }
        work => match work.target() {
            Some(target) => {
                let stated = target.typeset(sign, |id| procedure.number_of(id));
                // What follows from the plan, the channels or a published limit is a figure too.
                let known = procedure.tolerance(step, |_| None).and_then(Result::ok);
                let figure = known.map(|known| known.typeset(sign));
                let figure = figure.filter(|figure| *figure != stated);
                figure.map_or(stated.clone(), |figure| format!("{stated}\n{figure}"))
            }
            None if work.gauge().is_some() => words::FOR_THE_RECORD.to_owned(),
            None => String::new(),
        },
    }
}
