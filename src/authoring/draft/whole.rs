//! A whole procedure: typed out of what is published, and read out of what is typed.

use super::step::read_step;
use super::typing::{own_title, typed_step};
use super::{
    Draft, DraftAdjuster, DraftInstrument, DraftPlan, DraftPoint, DraftSection, DraftStep,
    DraftTable, Kind, Named, Unread, lines,
};
use crate::procedure::{
    Adjuster, BoardPicture, Field, Id, Instrument, Paper, PictureDigest, Procedure, Repeat,
    Section, Step, TestPoint, Until,
};
use crate::quantity::{DecimalSign, Scale, Unit};

impl Draft {
    /// A procedure with nothing in it but a first section.
    pub fn blank(id: Id) -> Self {
        Draft {
            id,
            from: 0,
            title: String::new(),
            covers: String::new(),
            cautions: String::new(),
            adjusters: Vec::new(),
            test_points: Vec::new(),
            instruments: Vec::new(),
            pictures: Vec::new(),
            papers: Vec::new(),
            plan: None,
            channels: None,
            chases: Vec::new(),
            tables: Vec::new(),
            sections: vec![DraftSection {
                title: "Alignment".to_owned(),
                steps: Vec::new(),
            }],
        }
    }

    /// All steps in order.
    pub fn steps(&self) -> impl Iterator<Item = &DraftStep> {
        self.sections.iter().flat_map(|section| &section.steps)
    }

    /// All steps in order, to be changed.
    pub fn steps_mut(&mut self) -> impl Iterator<Item = &mut DraftStep> {
        self.sections
            .iter_mut()
            .flat_map(|section| &mut section.steps)
    }

    /// The step with this id.
    pub fn step(&self, id: &Id) -> Option<&DraftStep> {
        self.steps().find(|step| step.id == *id)
    }

    /// The step's place in the whole, from 1.
    pub fn number_of(&self, id: &Id) -> Option<usize> {
        self.steps().position(|step| step.id == *id).map(|i| i + 1)
    }

    /// The table with a step among its cells, by its place among the tables.
    pub fn table_of(&self, id: &Id) -> Option<usize> {
        let has = |table: &DraftTable| {
            table
                .cells
                .iter()
                .flatten()
                .flatten()
                .any(|cell| cell == id)
        };
        self.tables.iter().position(has)
    }

    /// In what the first cell of a table is read.
    pub fn scale_of(&self, table: &DraftTable) -> Scale {
        let mut cells = table.cells.iter().flatten().flatten();
        let step = cells.find_map(|id| self.step(id));
        step.map_or(Scale::plain(Unit::VoltDc), |step| step.scale)
    }

    /// A procedure as it would be typed.
    pub fn of(procedure: &Procedure, sign: DecimalSign) -> Self {
        Draft {
            id: procedure.id.clone(),
            from: procedure.revision,
            title: procedure.title.clone(),
            covers: procedure.covers.clone(),
            cautions: procedure.cautions.join("\n"),
            adjusters: procedure.adjusters.iter().map(typed_adjuster).collect(),
            test_points: procedure
                .test_points
                .iter()
                .map(|point| DraftPoint {
                    name: point.id.to_string(),
                    place: point.place.clone(),
                    also: point.also.join("\n"),
                })
                .collect(),
            instruments: procedure
                .instruments
                .iter()
                .map(|instrument| DraftInstrument {
                    name: instrument.role.to_string(),
                    needs: instrument.needs.clone(),
                })
                .collect(),
            pictures: procedure.pictures.clone(),
            papers: procedure.papers.clone(),
            plan: procedure
                .plan
                .as_ref()
                .map(|plan| DraftPlan::of(plan, sign)),
            channels: procedure.channels.clone(),
            chases: procedure.chases.clone(),
            tables: procedure
                .tables
                .iter()
                .map(|table| DraftTable::of(table, procedure, sign))
                .collect(),
            sections: procedure
                .sections
                .iter()
                .map(|section| DraftSection {
                    title: section.title.clone(),
                    steps: section
                        .steps
                        .iter()
                        .map(|step| DraftStep {
                            title: own_title(procedure, step),
                            ..typed_step(step, sign)
                        })
                        .collect(),
                })
                .collect(),
        }
    }

    /// What a step is called: by its title, or by what it repeats, whose numbers change with the
    /// draft.
    pub fn title_of(&self, step: &DraftStep) -> String {
        let repeat = &step.repeat;
        match repeat.from.clone().zip(repeat.to.clone()) {
            Some((from, to)) if step.kind == Kind::Repeat && step.title.trim().is_empty() => {
                let repeat = Repeat {
                    from,
                    to,
                    until: Until::default(),
                    passes: None,
                };
                repeat.title(|id| self.number_of(id))
            }
            _ => step.title.clone(),
        }
    }

    /// The procedure, and what can't be read of it. A step that can't be read wholly stands in
    /// it with what can.
    pub fn read(&self, sign: DecimalSign) -> (Procedure, Vec<Unread>) {
        let mut unread = Vec::new();
        let adjusters = named(&self.adjusters, &mut unread, LISTS[0], |a, id| Adjuster {
            id,
            kind: a.kind,
            note: a.note.trim().to_owned(),
            tool: a.tool.trim().to_owned(),
            clockwise: a.clockwise,
            disturbs: a.disturbs.clone(),
        });
        let test_points = named(&self.test_points, &mut unread, LISTS[1], |p, id| {
            TestPoint {
                id,
                place: p.place.trim().to_owned(),
                also: lines(&p.also),
            }
        });
        let instruments = named(&self.instruments, &mut unread, LISTS[2], |i, role| {
            Instrument {
                role,
                needs: i.needs.trim().to_owned(),
            }
        });
        let plan = self.plan.as_ref().map(|plan| plan.read(sign));
        let plan = plan.map(|(plan, sentences)| {
            let place = |sentence| (crate::procedure::Place::Whole, Field::Plan, sentence);
            unread.extend(sentences.into_iter().map(place));
            plan
        });
        let mut number = 0;
        let mut section = |section: &DraftSection| Section {
            title: section.title.trim().to_owned(),
            steps: section
                .steps
                .iter()
                .map(|step| {
                    number += 1;
                    let mut say = |field, what| {
                        unread.push((crate::procedure::Place::Step(number), field, what))
                    };
                    let title = self.title_of(step).trim().to_owned();
                    Step {
                        title,
                        ..read_step(step, sign, &mut say)
                    }
                })
                .collect(),
        };
        let sections = self.sections.iter().map(&mut section).collect();
        for (index, table) in self.tables.iter().enumerate() {
            let place = crate::procedure::Place::Table(index + 1);
            let wrong = table.unread(self.scale_of(table), sign).into_iter();
            unread.extend(wrong.map(|(field, sentence)| (place.clone(), field, sentence)));
        }
        let revision = revision_behind(self.from).unwrap_or_else(|sentence| {
            unread.push((crate::procedure::Place::Whole, Field::Revision, sentence));
            self.from
        });
        let procedure = Procedure {
            id: self.id.clone(),
            title: self.title.trim().to_owned(),
            revision,
            covers: self.covers.trim().to_owned(),
            cautions: lines(&self.cautions),
            adjusters,
            test_points,
            instruments,
            pictures: self.pictures.iter().map(read_picture).collect(),
            papers: self.papers.iter().map(read_paper).collect(),
            plan,
            channels: self.channels.clone(),
            chases: self.chases.clone(),
            tables: self.tables.iter().map(|table| table.read(sign)).collect(),
            sections,
        };
        (procedure, unread)
    }
}

/// The number of the revision that goes on from this one, or why there is none.
pub fn revision_behind(revision: u32) -> Result<u32, String> {
    revision.checked_add(1).ok_or_else(|| {
        format!(
            "No revision can follow {revision}, the highest number there is: make a copy, which counts from 1 again"
        )
    })
}

/// The lists, and what one entry of each is.
const LISTS: [(Field, &str); 3] = [
    (Field::Adjusters, "adjuster"),
    (Field::TestPoints, "test point"),
    (Field::Instruments, "instrument"),
];

/// The entries of a list whose names can be names; the others are told.
fn named<T: Named, U>(
    list: &[T],
    unread: &mut Vec<Unread>,
    (field, what): (Field, &str),
    make: impl Fn(&T, Id) -> U,
) -> Vec<U> {
    list.iter()
        .filter_map(|entry| match entry.name().trim().parse() {
            Ok(id) => Some(make(entry, id)),
            Err(error) => {
                let sentence = format!("In the list of {what}s: {error}");
                unread.push((crate::procedure::Place::Parts, field, sentence));
                None
            }
        })
        .collect()
}

impl Draft {
    /// The names of its pictures and papers.
    pub fn picture_names(&self) -> Vec<PictureDigest> {
        let boards = self.pictures.iter().map(|board| &board.picture);
        let papers = self.papers.iter().map(|paper| &paper.paper);
        boards.chain(papers).cloned().collect()
    }

    /// What its sockets are called, each once.
    pub fn sockets(&self) -> Vec<String> {
        let mut names: Vec<String> = Vec::new();
        for step in self.steps().filter(|step| step.kind == Kind::Socket) {
            let name = step.socket.trim().to_owned();
            if !name.is_empty() && !names.contains(&name) {
                names.push(name);
            }
        }
        names
    }
}

fn read_paper(paper: &Paper) -> Paper {
    Paper {
        title: paper.title.trim().to_owned(),
        ..paper.clone()
    }
}

fn read_picture(picture: &BoardPicture) -> BoardPicture {
    BoardPicture {
        title: picture.title.trim().to_owned(),
        ..picture.clone()
    }
}

fn typed_adjuster(adjuster: &Adjuster) -> DraftAdjuster {
    DraftAdjuster {
        name: adjuster.id.to_string(),
        kind: adjuster.kind,
        note: adjuster.note.clone(),
        tool: adjuster.tool.clone(),
        clockwise: adjuster.clockwise,
        disturbs: adjuster.disturbs.clone(),
    }
}
