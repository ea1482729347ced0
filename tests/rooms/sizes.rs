//! What can be read in one sitting: how long a file is, and how many stand in a folder.

use crate::sources::sources;
use std::fs;
use std::path::{Path, PathBuf};

const MOST_LINES: usize = 400;
const MOST_IN_A_FOLDER: usize = 15;

/// The files that are longer. The list only shrinks: one here that is short enough is a fault too.
const LONGER: &[(&str, &str)] = &[
    (
        "authoring/table/meaning.rs",
        "a table of headings and what each means",
    ),
    (
        "exchange/paths.rs",
        "tables of what a signal passes in a receiver, a transmitter, a loop, a supply",
    ),
    (
        "radio/limits/land_mobile.rs",
        "a table of published limits, each with its source",
    ),
    (
        "authoring/table/phrases/senses.rs",
        "a table of phrases and what each means",
    ),
];

#[test]
fn a_file_can_be_read_in_one_sitting() {
    let mut faults = Vec::new();
    for source in sources() {
        let lines = source.code.lines().count();
        let named = LONGER.iter().any(|(path, _)| *path == source.path);
        match (lines > MOST_LINES, named) {
            (true, false) => faults.push(format!("src/{} has {lines} lines", source.path)),
            (false, true) => faults.push(format!("src/{} is no longer too long", source.path)),
            _ => {}
        }
    }
    for (path, reason) in LONGER {
        let there = sources().iter().any(|source| source.path == *path);
        if !there || reason.is_empty() {
            faults.push(format!("{path} is named with no file or no reason"));
        }
    }
    faults.sort();
    assert_eq!(faults, Vec::<String>::new());
}

#[test]
fn no_folder_holds_more_than_can_be_seen_at_a_glance() {
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join("src")];
    let mut full = Vec::new();
    while let Some(folder) = folders.pop() {
        let entries = fs::read_dir(&folder).expect("src can be listed");
        let paths: Vec<PathBuf> = entries.map(|it| it.expect("an entry").path()).collect();
        if paths.len() > MOST_IN_A_FOLDER {
            full.push(format!("{}: {}", folder.display(), paths.len()));
        }
        folders.extend(paths.into_iter().filter(|path| path.is_dir()));
    }
    assert_eq!(full, Vec::<String>::new());
}
