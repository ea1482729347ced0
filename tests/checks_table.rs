//! The table of checks in `docs/checks.md`, made from the tests themselves.
//!
//! Above each test stand three remarks: what is checked, the source, and how the figure is known.
//! `HALFTURN_BLESS=1 cargo test --test checks_table` rewrites the table.

use std::fs;
use std::path::PathBuf;

const START: &str = "<!-- checks -->";
const END: &str = "<!-- /checks -->";

/// One row of the table.
struct Check {
    what: String,
    source: String,
    known_by: String,
}

fn root(path: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(path)
}

/// The remarks of a test file, in order.
fn checks(text: &str) -> Vec<Check> {
    let mut found: Vec<Check> = Vec::new();
    let mut field = 0;
    for line in text.lines().map(str::trim) {
        let Some(remark) = line.strip_prefix("// ") else {
            field = 0;
            continue;
        };
        let named = ["Check: ", "Source: ", "Known by: "]
            .iter()
            .position(|name| remark.starts_with(name));
        if let Some(position) = named {
            field = position + 1;
            if position == 0 {
                let empty = String::new;
                found.push(Check {
                    what: empty(),
                    source: empty(),
                    known_by: empty(),
                });
            }
        }
        let Some(check) = found.last_mut().filter(|_| field > 0) else {
            continue;
        };
        let value = match named {
            Some(_) => remark.split_once(": ").map_or("", |(_, value)| value),
            None => remark,
        };
        let cell = match field {
            1 => &mut check.what,
            2 => &mut check.source,
            _ => &mut check.known_by,
        };
        if !cell.is_empty() {
            cell.push(' ');
        }
        cell.push_str(value);
    }
    found
}

/// Every check of every test file that names a source from outside.
fn all_checks() -> Vec<Check> {
    let mut files: Vec<_> = fs::read_dir(root("tests"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "rs"))
        .filter(|path| !path.ends_with("checks_table.rs"))
        .collect();
    files.sort();
    files
        .iter()
        .flat_map(|file| checks(&fs::read_to_string(file).unwrap()))
        .filter(|check| check.known_by != "own rule")
        .collect()
}

fn table() -> String {
    let mut lines = vec![
        "| What is checked | Source | Known by |".to_owned(),
        "| --- | --- | --- |".to_owned(),
    ];
    for check in all_checks() {
        let cells = [check.what, check.source, check.known_by].map(|cell| cell.replace('|', "\\|"));
        lines.push(format!("| {} |", cells.join(" | ")));
    }
    lines.join("\n")
}

#[test]
fn every_check_names_its_source_and_how_it_is_known() {
    let known = [
        "read",
        "memory",
        "computed",
        "closed form",
        "common practice",
    ];
    for check in all_checks() {
        assert!(!check.source.is_empty(), "{} has no source", check.what);
        let first = check.known_by.split(';').next().unwrap_or_default();
        assert!(
            known.contains(&first),
            "{}: known by “{}”",
            check.what,
            check.known_by
        );
    }
}

#[test]
fn the_page_of_checks_has_the_table_that_the_tests_make() {
    let path = root("docs/checks.md");
    let page = fs::read_to_string(&path).unwrap();
    let (before, rest) = page
        .split_once(START)
        .expect("docs/checks.md has lost its checks mark");
    let (_, after) = rest
        .split_once(END)
        .expect("docs/checks.md has lost its closing checks mark");
    let due = format!("{before}{START}\n{}\n{END}{after}", table());
    if std::env::var_os("HALFTURN_BLESS").is_some() {
        fs::write(&path, due).unwrap();
        return;
    }
    assert!(
        page == due,
        "The table of checks is stale: run HALFTURN_BLESS=1 cargo test --no-default-features --test checks_table"
    );
}
