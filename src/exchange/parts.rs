//! A document written part by part, so that a long one holds nothing up.

use super::document::{BACKUP, VERSION, write_with};
use super::{Backup, Document, Picture};
use serde::Serialize;
use serde_json::ser::{Formatter, PrettyFormatter, Serializer};
use std::io;
use std::iter::once;

type Parts<'a> = Box<dyn Iterator<Item = String> + 'a>;

/// The parts of what [`write_with`] gives, in order: of a backup each thing by itself, of a
/// procedure or a job the whole.
pub fn parts<'a>(document: &'a Document, pictures: &'a [Picture]) -> Parts<'a> {
    match document {
        Document::Backup(backup) => backup_parts(backup, pictures),
        _ => Box::new(once(write_with(document, pictures))),
    }
}

fn backup_parts<'a>(backup: &'a Backup, pictures: &'a [Picture]) -> Parts<'a> {
    let start =
        format!("{{\n  \"type\": \"{BACKUP}\",\n  \"version\": {VERSION},\n  \"backup\": {{");
    let mut inner = Entries::new("\n");
    if let Some(preferences) = &backup.preferences {
        inner.add("preferences", preferences);
    }
    inner.add_list(2, "kit", &backup.kit);
    inner.add_list(2, "channels", &backup.channels);
    inner.add_list(2, "procedures", &backup.procedures);
    inner.add_list(2, "jobs", &backup.jobs);
    inner.add_list(2, "unread", &backup.unread);
    let close = match inner.all.is_empty() {
        true => "}",
        false => "\n  }",
    };
    let mut outer = Entries::new(",\n");
    outer.add_list(1, "pictures", pictures);
    Box::new(
        once(start)
            .chain(inner.all.into_iter().flatten())
            .chain(once(close.to_owned()))
            .chain(outer.all.into_iter().flatten())
            .chain(once("\n}\n".to_owned())),
    )
}

/// What stands under the keys of an object.
struct Entries<'a> {
    /// What comes before the next one.
    before: &'static str,
    all: Vec<Parts<'a>>,
}

impl<'a> Entries<'a> {
    fn new(before: &'static str) -> Self {
        let all = Vec::new();
        Entries { before, all }
    }

    fn add(&mut self, key: &'static str, thing: &'a impl Serialize) {
        let before = std::mem::replace(&mut self.before, ",\n");
        let part = move || format!("{before}    \"{key}\": {}", indented(2, thing));
        self.all.push(Box::new(once(()).map(move |()| part())));
    }

    /// A list so many brackets deep in the file, unless it is empty.
    fn add_list<T: Serialize>(&mut self, depth: usize, key: &'static str, things: &'a [T]) {
        let Some(last) = things.len().checked_sub(1) else {
            return;
        };
        let before = std::mem::replace(&mut self.before, ",\n");
        let indent = "  ".repeat(depth);
        let part = move |(index, thing): (usize, &T)| {
            let before = match index {
                0 => format!("{before}{indent}\"{key}\": [\n{indent}  "),
                _ => format!(",\n{indent}  "),
            };
            let after = match index == last {
                true => format!("\n{indent}]"),
                false => String::new(),
            };
            before + &indented(depth + 1, thing) + &after
        };
        self.all.push(Box::new(things.iter().enumerate().map(part)));
    }
}

/// A thing as it stands so many brackets deep in a file.
fn indented(depth: usize, thing: &impl Serialize) -> String {
    let mut formatter = PrettyFormatter::new();
    for _ in 0..depth {
        // Only counts how deep it is; what it writes goes nowhere.
        let _ = formatter.begin_array(&mut io::sink());
    }
    let mut text = Vec::new();
    let written = thing.serialize(&mut Serializer::with_formatter(&mut text, formatter));
    // Our documents hold nothing that JSON can't, so this does not fail.
    written
        .ok()
        .and_then(|()| String::from_utf8(text).ok())
        .unwrap_or_default()
}
