//! What differs between two revisions, in the words of the trade.

mod typed;

use crate::authoring::draft::typed_path;
use crate::authoring::{ConfirmedBy, Draft};
use crate::procedure::{
    Axis, BoardPicture, Id, Paper, Place, Procedure, ReadingTable, Step, Target, WHOLE, Work,
};
use crate::quantity::DecimalSign;
use crate::radio::limits::Known;

/// Something that differs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Difference {
    /// What it concerns, such as `Target of step 12`.
    pub what: String,
    /// What it was; nothing for something new.
    pub was: Option<String>,
    /// What it is; nothing for something gone.
    pub is: Option<String>,
}

impl Difference {
    /// The difference as one line, such as `Target of step 12: 9.0015 MHz → 9.0013 MHz`.
    pub fn line(&self) -> String {
        match (&self.was, &self.is) {
            (Some(was), Some(is)) => format!("{}: {was} → {is}", self.what),
            (None, Some(is)) => format!("{}: {is}", self.what),
            (Some(was), None) => format!("{}: {was}", self.what),
            (None, None) => self.what.clone(),
        }
    }
}

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

/// What a step says, line by line: what the line is of, and its words.
type Lines = Vec<(&'static str, String)>;

/// What the target of a step is called among its lines.
const TARGET: &str = "Target";

/// A step before and after, where anything of it differs, and whether the target is the same
/// whatever its words: a step that only got another number is the same reference.
type Compared = Option<((Lines, Lines), bool)>;

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

/// What stands in the place of a text that was taken out.
const NOTHING: &str = "nothing";

/// A text, where there is one.
fn some(text: String) -> Option<String> {
    Some(text).filter(|text| !text.is_empty())
}

fn changed(what: String, was: String, is: String) -> Option<Difference> {
    (was != is).then(|| Difference {
        what,
        // What is said no more is no new thing.
        is: some(is).or(some(was.clone()).map(|_| NOTHING.to_owned())),
        was: some(was),
    })
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

/// Which pictures came and went, and on which pins were set, moved or taken off.
fn pictures(was: &Procedure, is: &Procedure) -> Vec<Difference> {
    let same = |a: &BoardPicture, b: &BoardPicture| a.picture == b.picture;
    let say = |picture: &BoardPicture, what: &str| Difference {
        what: format!("Board picture “{}” {what}", picture.title),
        was: None,
        is: None,
    };
    let mut found = Vec::new();
    for picture in &is.pictures {
        let Some(old) = was.pictures.iter().find(|old| same(old, picture)) else {
            found.push(say(picture, "added"));
            continue;
        };
        found.extend(changed(
            "Title of a board picture".to_owned(),
            old.title.clone(),
            picture.title.clone(),
        ));
        found.extend(changed(
            format!("Pins on board picture “{}”", picture.title),
            moved_pins(old, picture),
            moved_pins(picture, old),
        ));
    }
    let gone = was
        .pictures
        .iter()
        .filter(|old| !is.pictures.iter().any(|picture| same(old, picture)));
    found.extend(gone.map(|picture| say(picture, "removed")));
    found
}

/// The pins of a picture that the other does not have in the same place, in a line.
fn moved_pins(picture: &BoardPicture, other: &BoardPicture) -> String {
    let percent = |share: u16| f64::from(share) / f64::from(WHOLE) * 100.0;
    let pins = picture.pins.iter().filter(|pin| !other.pins.contains(pin));
    let words = pins.map(|pin| {
        let (x, y) = (percent(pin.x), percent(pin.y));
        format!("{} at {x:.0} % across, {y:.0} % down", pin.of.id())
    });
    words.collect::<Vec<_>>().join("; ")
}

/// Which papers came and went, and in which pins were set, moved or taken off.
fn papers(was: &Procedure, is: &Procedure) -> Vec<Difference> {
    let say = |paper: &Paper, what: &str| Difference {
        what: format!("Paper “{}” {what}", paper.title),
        was: None,
        is: None,
    };
    let mut found = Vec::new();
    for paper in &is.papers {
        let Some(old) = was.papers.iter().find(|old| old.paper == paper.paper) else {
            found.push(say(paper, "added"));
            continue;
        };
        let (was, is) = (old.title.clone(), paper.title.clone());
        found.extend(changed("Name of a paper".to_owned(), was, is));
        found.extend(changed(
            format!("Pins in paper “{}”", paper.title),
            moved_paper_pins(old, paper),
            moved_paper_pins(paper, old),
        ));
    }
    let is_here = |old: &Paper| is.papers.iter().any(|paper| old.paper == paper.paper);
    let gone = was.papers.iter().filter(|old| !is_here(old));
    found.extend(gone.map(|paper| say(paper, "removed")));
    found
}

/// The pins in a paper that the other does not have in the same place, in a line.
fn moved_paper_pins(paper: &Paper, other: &Paper) -> String {
    let percent = |share: u16| f64::from(share) / f64::from(WHOLE) * 100.0;
    let pins = paper.pins.iter().filter(|pin| !other.pins.contains(pin));
    let words = pins.map(|pin| {
        let (x, y) = (percent(pin.x), percent(pin.y));
        let (name, page) = (pin.of.name(), pin.page);
        format!("{name} on page {page} at {x:.0} % across, {y:.0} % down")
    });
    words.collect::<Vec<_>>().join("; ")
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

fn step_differences(compared: Compared, number: usize) -> Vec<Difference> {
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

fn is_same_reference(old: &Step, new: &Step) -> bool {
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
fn known_beside(known: Option<Known>, source: &str) -> String {
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

fn lines_of(procedure: &Procedure, step: &Step, sign: DecimalSign) -> Lines {
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
