//! The addresses of the screens for writing procedures.

use crate::procedure::{Field, Id, PictureDigest, Place};

/// A screen for writing procedures. A field is where the focus goes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Desk {
    /// How to begin one.
    New,
    /// A draft as a whole: title, sections, steps.
    Whole(Id, Option<Field>),
    /// One step of a draft.
    Step(Id, Id, Option<Field>),
    /// A table of its readings.
    Several(Id, Id, Option<Field>),
    /// Its adjusters, test points, instruments and chases.
    Lists(Id, Option<Field>),
    /// Its pictures of the board.
    Pictures(Id),
    /// Its papers.
    Papers(Id),
    /// One of them.
    Paper(Id, PictureDigest),
    /// Its frequency plan.
    Plan(Id),
    /// Steps from a table.
    Table(Id),
    /// What publishing it would change.
    Publish(Id),
    /// The revisions of a published procedure.
    Revisions(Id),
}

impl Desk {
    /// The screen of an address's parts.
    pub fn read(parts: &[&str]) -> Option<Desk> {
        let id = |text: &str| text.parse::<Id>().ok();
        Some(match parts {
            ["author"] => Desk::New,
            ["author", draft] => Desk::Whole(id(draft)?, None),
            ["author", draft, "pictures"] => Desk::Pictures(id(draft)?),
            ["author", draft, "papers"] => Desk::Papers(id(draft)?),
            ["author", draft, "papers", paper] => Desk::Paper(id(draft)?, paper.parse().ok()?),
            ["author", draft, "plan"] => Desk::Plan(id(draft)?),
            ["author", draft, "table"] => Desk::Table(id(draft)?),
            ["author", draft, "publish"] => Desk::Publish(id(draft)?),
            ["author", draft, "lists"] => Desk::Lists(id(draft)?, None),
            ["author", draft, "lists", field] => Desk::Lists(id(draft)?, Field::of(field)),
            ["author", draft, "whole", field] => Desk::Whole(id(draft)?, Field::of(field)),
            ["author", draft, "step", step] => Desk::Step(id(draft)?, id(step)?, None),
            ["author", draft, "step", step, field] => {
                Desk::Step(id(draft)?, id(step)?, Field::of(field))
            }
            ["author", draft, "several", table] => Desk::Several(id(draft)?, id(table)?, None),
            ["author", draft, "several", table, field] => {
                Desk::Several(id(draft)?, id(table)?, Field::of(field))
            }
            ["revisions", procedure] => Desk::Revisions(id(procedure)?),
            _ => return None,
        })
    }

    /// The parts of its address.
    pub fn parts(&self) -> Vec<String> {
        let of = |draft: &Id, rest: &[&str]| {
            let mut parts = vec!["author".to_owned(), draft.to_string()];
            parts.extend(rest.iter().map(|part| (*part).to_owned()));
            parts
        };
        let with = |mut parts: Vec<String>, field: &Option<Field>| {
            parts.extend(field.map(|field| field.key().to_owned()));
            parts
        };
        match self {
            Desk::New => vec!["author".to_owned()],
            Desk::Whole(draft, None) => of(draft, &[]),
            Desk::Whole(draft, field) => with(of(draft, &["whole"]), field),
            Desk::Step(draft, step, field) => with(of(draft, &["step", step.as_str()]), field),
            Desk::Several(draft, table, field) => {
                with(of(draft, &["several", table.as_str()]), field)
            }
            Desk::Lists(draft, field) => with(of(draft, &["lists"]), field),
            Desk::Pictures(draft) => of(draft, &["pictures"]),
            Desk::Papers(draft) => of(draft, &["papers"]),
            Desk::Paper(draft, paper) => of(draft, &["papers", paper.as_str()]),
            Desk::Plan(draft) => of(draft, &["plan"]),
            Desk::Table(draft) => of(draft, &["table"]),
            Desk::Publish(draft) => of(draft, &["publish"]),
            Desk::Revisions(procedure) => vec!["revisions".to_owned(), procedure.to_string()],
        }
    }

    /// The screen where something said of a draft is put right.
    /// A step or table is given by its id.
    pub fn of(draft: &Id, place: &Place, field: Field, thing: Option<Id>) -> Desk {
        match (place, field, thing) {
            (Place::Step(_), _, Some(step)) => Desk::Step(draft.clone(), step, Some(field)),
            (Place::Table(_), _, Some(table)) => Desk::Several(draft.clone(), table, Some(field)),
            (_, Field::Pictures, _) => Desk::Pictures(draft.clone()),
            (_, Field::Papers, _) => Desk::Papers(draft.clone()),
            (_, Field::Plan, _) => Desk::Plan(draft.clone()),
            (_, Field::Adjusters | Field::TestPoints | Field::Instruments | Field::Chases, _) => {
                Desk::Lists(draft.clone(), Some(field))
            }
            _ => Desk::Whole(draft.clone(), Some(field)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_address_leads_back_to_its_screen() {
        let id = |text: &str| text.parse::<Id>().unwrap();
        let (draft, step) = (id("d"), id("step/1"));
        for desk in [
            Desk::New,
            Desk::Whole(draft.clone(), None),
            Desk::Whole(draft.clone(), Some(Field::Title)),
            Desk::Step(draft.clone(), step.clone(), None),
            Desk::Step(draft.clone(), step, Some(Field::Margin)),
            Desk::Several(draft.clone(), id("table-1"), None),
            Desk::Several(draft.clone(), id("table-1"), Some(Field::Rows)),
            Desk::Lists(draft.clone(), None),
            Desk::Lists(draft.clone(), Some(Field::Adjusters)),
            Desk::Pictures(draft.clone()),
            Desk::Papers(draft.clone()),
            Desk::Paper(draft.clone(), PictureDigest::of(b"a")),
            Desk::Plan(draft.clone()),
            Desk::Table(draft.clone()),
            Desk::Publish(draft.clone()),
            Desk::Revisions(draft),
        ] {
            let parts = desk.parts();
            let parts: Vec<&str> = parts.iter().map(String::as_str).collect();
            assert_eq!(Desk::read(&parts), Some(desk));
        }
    }
}
