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

/// The facts that are known, in the order of a sheet's head.
pub fn facts(source: &Source) -> Vec<Fact> {
    let header = &source.progress.header;
    let when = source.look.when;
    let span = source.progress.span;
    let signed = source.progress.signed_off.as_ref();
    let typed = |label, text: &String| (label, balanced(text));
    let facts = [
        typed(words::NUMBER, &header.number),
        typed(words::MAKE, &header.set.make),
        typed(words::MODEL, &header.set.model),
        typed(words::SERIAL, &header.set.serial),
        typed(words::OWNER, &header.owner),
        typed(words::FAULT, &header.fault),
        typed(words::CONDITION, &header.condition),
        typed(words::ACCESSORIES, &header.accessories),
        typed(words::TECHNICIAN, &header.technician),
        (words::PROCEDURE, procedures(source)),
        (
            words::WORKED,
            span.map_or(String::new(), |(from, to)| {
                words::span(&when(from), &when(to))
            }),
        ),
        (
            words::SIGNED,
            signed.map_or(String::new(), |end| words::signed(&end.by, &when(end.at))),
        ),
        (
            words::COLLECTED,
            source.progress.collected().map_or(String::new(), |home| {
                words::signed(&home.by, &when(home.at))
            }),
        ),
        (
            words::REMARKS,
            signed.map_or(String::new(), |end| balanced(&end.remarks)),
        ),
        (
            words::NEXT_CHECK,
            header.next_check.map_or(String::new(), source.look.day),
        ),
    ];
    facts
        .into_iter()
        .filter(|(_, text)| !text.trim().is_empty())
        .map(|(label, text)| Fact { label, text })
        .collect()
}
