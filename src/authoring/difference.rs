//! What differs between two revisions, in the words of the trade.

mod pages;
mod said;
mod step;

pub use self::said::Difference;

use crate::authoring::difference::pages::{papers, pictures};
use crate::authoring::difference::said::{changed, some};
use crate::authoring::difference::step::{Compared, is_same_reference, lines_of, step_differences};
mod typed;

use crate::authoring::Draft;
use crate::procedure::{Axis, Id, Place, Procedure, ReadingTable, Step};
use crate::quantity::DecimalSign;

/// Everything that differs from one revision to a later one, in the order of the later.
pub fn differences(was: &Procedure, is: &Procedure, sign: DecimalSign) -> Vec<Difference> {
    let compare = |old: &Step, new: &Step| {
        let same_target = is_same_reference(old, new);
        let lines = (lines_of(was, old, sign), lines_of(is, new, sign));
        (old != new).then_some((lines, same_target))
    };
    whole_and_steps(was, is, compare)
}

/// Everything in which a draft differs from a revision. A step of which something can't be read is
/// compared as it is typed: what is only mistyped is still there.
pub fn differences_of_draft(was: &Procedure, draft: &Draft, sign: DecimalSign) -> Vec<Difference> {
    let (is, unread) = draft.read(sign);
    let before = Draft::of(was, sign);
    let unread_at = |id: &Id| {
        let number = is.number_of(id).unwrap_or_default();
        unread
            .iter()
            .any(|(place, ..)| *place == Place::Step(number))
    };
    let compare = |old: &Step, new: &Step| {
        let typed = before.step(&old.id).zip(draft.step(&new.id));
        if let Some((old, new)) = typed.filter(|_| unread_at(&new.id)) {
            let lines = (typed::lines_of(&before, old), typed::lines_of(draft, new));
            return (old != new).then_some((lines, old.target == new.target));
        }
        let lines = (lines_of(was, old, sign), lines_of(&is, new, sign));
        (old != new).then_some((lines, is_same_reference(old, new)))
    };
    whole_and_steps(was, &is, compare)
}

fn whole_and_steps(
    was: &Procedure,
    is: &Procedure,
    compare: impl Fn(&Step, &Step) -> Compared,
) -> Vec<Difference> {
    let mut found = Vec::new();
    let mut text = |what: &str, was: String, is: String| {
        if let Some(difference) = changed(what.to_owned(), was, is) {
            found.push(difference);
        }
    };
    text("Title", was.title.clone(), is.title.clone());
    text("Covers", was.covers.clone(), is.covers.clone());
    text(
        "Cautions",
        was.cautions.join(" / "),
        is.cautions.join(" / "),
    );
    found.extend(entries(
        "Adjuster",
        was.adjusters.iter().map(|a| (&a.id, adjuster_words(a))),
        is.adjusters.iter().map(|a| (&a.id, adjuster_words(a))),
    ));
    found.extend(entries(
        "Test point",
        was.test_points.iter().map(|p| (&p.id, p.place.clone())),
        is.test_points.iter().map(|p| (&p.id, p.place.clone())),
    ));
    found.extend(entries(
        "Instrument",
        was.instruments.iter().map(|i| (&i.role, i.needs.clone())),
        is.instruments.iter().map(|i| (&i.role, i.needs.clone())),
    ));
    found.extend(pictures(was, is));
    found.extend(papers(was, is));
    let whole = |what: &str| Difference {
        what: what.to_owned(),
        was: None,
        is: None,
    };
    if was.plan != is.plan {
        found.push(whole("Frequency plan changed"));
    }
    if was.channels != is.channels {
        found.push(whole("Channel table changed"));
    }
    if was.chases != is.chases {
        found.push(whole("Interacting adjustments changed"));
    }
    found.extend(tables(was, is));
    found.extend(steps(was, is, compare));
    found
}

/// Which tables of readings came and went, and what changed in their headings.
fn tables(was: &Procedure, is: &Procedure) -> Vec<Difference> {
    let named = |table: &ReadingTable, what: &str| format!("Table “{}” {what}", table.title);
    let plain = |what| Difference {
        what,
        was: None,
        is: None,
    };
    let of = |procedure: &Procedure, id: &Id| {
        let mut tables = procedure.tables.iter();
        tables.find(|table| table.id == *id).cloned()
    };
    let mut found = Vec::new();
    for table in &is.tables {
        let Some(old) = of(was, &table.id).filter(|old| old != table) else {
            if of(was, &table.id).is_none() {
                found.push(Difference {
                    is: some(table_words(table)),
                    ..plain(named(table, "added"))
                });
            }
            continue;
        };
        let (before, now) = (table_words(&old), table_words(table));
        let title = changed(
            "Title of a table".to_owned(),
            old.title.clone(),
            table.title.clone(),
        );
        let headings = changed(format!("Table “{}”", table.title), before, now);
        let cells = (title.is_none() && headings.is_none())
            .then(|| plain(named(table, "has other steps in its cells")));
        found.extend(title.into_iter().chain(headings).chain(cells));
    }
    let gone = was.tables.iter().filter(|old| of(is, &old.id).is_none());
    found.extend(gone.map(|table| plain(named(table, "removed"))));
    found
}

/// The headings of a table in a line.
fn table_words(table: &ReadingTable) -> String {
    let axis = |axis: &Axis| format!("{} {}", axis.sets.name(), axis.names.join(", "));
    format!("{} by {}", axis(&table.rows), axis(&table.columns))
}

fn adjuster_words(adjuster: &crate::procedure::Adjuster) -> String {
    let clockwise = match adjuster.clockwise {
        Some(crate::procedure::Sense::Raises) => "clockwise raises",
        Some(crate::procedure::Sense::Lowers) => "clockwise lowers",
        None => "",
    };
    [
        adjuster.kind.name(),
        &adjuster.note,
        &adjuster.tool,
        clockwise,
    ]
    .into_iter()
    .filter(|part| !part.is_empty())
    .collect::<Vec<_>>()
    .join(", ")
}

fn entries<'a>(
    what: &str,
    was: impl Iterator<Item = (&'a Id, String)>,
    is: impl Iterator<Item = (&'a Id, String)>,
) -> Vec<Difference> {
    let was: Vec<_> = was.collect();
    let is: Vec<_> = is.collect();
    let old = |id: &Id| was.iter().find(|(other, _)| *other == id);
    let mut found: Vec<Difference> = is
        .iter()
        .filter_map(|(id, words)| match old(id) {
            None => Some(Difference {
                what: format!("{what} {id} added"),
                was: None,
                is: some(words.clone()),
            }),
            Some((_, old)) => changed(format!("{what} {id}"), old.clone(), words.clone()),
        })
        .collect();
    let gone = was
        .iter()
        .filter(|(id, _)| is.iter().all(|(other, _)| other != id));
    found.extend(gone.map(|(id, _)| Difference {
        what: format!("{what} {id} removed"),
        was: None,
        is: None,
    }));
    found
}

fn steps(
    was: &Procedure,
    is: &Procedure,
    compare: impl Fn(&Step, &Step) -> Compared,
) -> Vec<Difference> {
    let mut found = Vec::new();
    for step in was.steps().filter(|step| is.step(&step.id).is_none()) {
        let number = was.number_of(&step.id).unwrap_or_default();
        found.push(Difference {
            what: format!("Step {number} removed"),
            was: some(step.title.clone()),
            is: None,
        });
    }
    let stays = staying(was, is);
    for (index, step) in is.steps().enumerate() {
        let number = index + 1;
        let Some(old) = was.step(&step.id) else {
            found.push(Difference {
                what: format!("Step {number} added"),
                was: None,
                is: some(step.title.clone()),
            });
            continue;
        };
        let section = |p: &Procedure| p.section_of(&step.id).map(|s| s.title.clone());
        if !stays.contains(&&step.id) {
            let place = |p: &Procedure| p.number_of(&step.id).map(|n| n.to_string());
            found.push(Difference {
                what: format!("Step “{}” moved", step.title),
                was: place(was),
                is: place(is),
            });
        }
        found.extend(changed(
            format!("Section of step {number}"),
            section(was).unwrap_or_default(),
            section(is).unwrap_or_default(),
        ));
        found.extend(step_differences(compare(old, step), number));
    }
    found
}

/// The steps of both that kept their order: a longest common run, so that one step moved by
/// hand counts as one move.
fn staying<'a>(was: &'a Procedure, is: &'a Procedure) -> Vec<&'a Id> {
    let old: Vec<&Id> = was
        .steps()
        .map(|s| &s.id)
        .filter(|id| is.step(id).is_some())
        .collect();
    let new: Vec<&Id> = is
        .steps()
        .map(|s| &s.id)
        .filter(|id| was.step(id).is_some())
        .collect();
    let mut longest = vec![vec![0_usize; new.len() + 1]; old.len() + 1];
    for i in (0..old.len()).rev() {
        for j in (0..new.len()).rev() {
            longest[i][j] = match old[i] == new[j] {
                true => longest[i + 1][j + 1] + 1,
                false => longest[i + 1][j].max(longest[i][j + 1]),
            };
        }
    }
    let (mut i, mut j, mut stays) = (0, 0, Vec::new());
    while i < old.len() && j < new.len() {
        if old[i] == new[j] {
            stays.push(old[i]);
            i += 1;
            j += 1;
        } else if longest[i + 1][j] >= longest[i][j + 1] {
            i += 1;
        } else {
            j += 1;
        }
    }
    stays
}
