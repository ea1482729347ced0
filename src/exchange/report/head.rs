//! What is known of the set and the work as a whole.

use super::text::{balanced, typed as typed_on};
use crate::exchange::report::sheet::Source;
use crate::exchange::report::{Fact, words};
use crate::job::{Origin, SetIdentity};

/// Make, model and serial number in a line, each kept from turning the others.
pub fn set_title(set: &SetIdentity) -> String {
    let parts = [&set.make, &set.model, &set.serial];
    let known: Vec<String> = parts
        .into_iter()
        .map(|part| part.trim())
        .filter(|part| !part.is_empty())
        .map(typed_on)
        .collect();
    known.join(" ")
}

/// What the job is worked by, and when that was taken on where it wasn't from the start.
fn procedures(source: &Source) -> String {
    let parts = source.progress.course.parts.iter();
    let named = parts.filter_map(|part| match &part.from {
        Origin::Start(name) if name.is_none() => None,
        Origin::Start(name) => Some(words::procedure(&name.title, name.revision)),
        Origin::TakenOn { name, at } => Some(words::taken_on(
            &words::procedure(&name.title, name.revision),
            &(source.look.when)(*at),
        )),
        Origin::Bench => None,
    });
    match named.collect::<Vec<_>>() {
        none if none.is_empty() => words::NO_PROCEDURE.to_owned(),
        all => all.join("; "),
    }
}

/// The facts of the head: who, what was wrong, by what and when.
pub fn facts(source: &Source) -> Vec<Fact> {
    let header = &source.progress.header;
    let when = source.look.when;
    let signed = source.progress.signed_off.as_ref();
    let worked = source.progress.span;
    let last = match signed {
        Some(end) => (words::SIGNED, words::signed(&end.by, &when(end.at))),
        None => (words::TECHNICIAN, balanced(&header.technician)),
    };
    known([
        (words::NUMBER, balanced(&header.number)),
        (words::OWNER, balanced(&header.owner)),
        (words::FAULT, balanced(&header.fault)),
        (words::PROCEDURE, procedures(source)),
        (
            words::WORKED,
            worked.map_or(String::new(), |(from, to)| {
                words::span(&when(from), &when(to))
            }),
        ),
        last,
    ])
}

/// What else is known of the set and the job.
pub fn details(source: &Source) -> Vec<Fact> {
    let header = &source.progress.header;
    let signed = source.progress.signed_off.as_ref();
    let home = source.progress.collected();
    let when = source.look.when;
    known([
        (
            words::NEXT_CHECK,
            header.next_check.map_or(String::new(), source.look.day),
        ),
        (
            words::REMARKS,
            signed.map_or(String::new(), |end| balanced(&end.remarks)),
        ),
        (words::MAKE, balanced(&header.set.make)),
        (words::MODEL, balanced(&header.set.model)),
        (words::SERIAL, balanced(&header.set.serial)),
        (words::CONDITION, balanced(&header.condition)),
        (words::ACCESSORIES, balanced(&header.accessories)),
        (
            words::TECHNICIAN,
            signed.map_or(String::new(), |_| balanced(&header.technician)),
        ),
        (
            words::COLLECTED,
            home.map_or(String::new(), |home| {
                words::signed(&home.by, &when(home.at))
            }),
        ),
    ])
}

/// Those that say something.
fn known<const N: usize>(facts: [(&'static str, String); N]) -> Vec<Fact> {
    facts
        .into_iter()
        .filter(|(_, text)| !text.trim().is_empty())
        .map(|(label, text)| Fact { label, text })
        .collect()
}
