//! The one-way rule of the rooms in `src`: each knows only the rooms below it, and only the
//! upper ones know that there is a browser or a clock.

use std::fs;
use std::path::{Path, PathBuf};

/// Each room with the rooms it may use.
const ROOMS: [(&str, &[&str]); 8] = [
    ("quantity", &[]),
    ("metrology", &["quantity"]),
    ("radio", &["quantity"]),
    ("procedure", &["quantity", "metrology", "radio"]),
    ("job", &["quantity", "metrology", "radio", "procedure"]),
    (
        "exchange",
        &["quantity", "metrology", "radio", "procedure", "job"],
    ),
    (
        "store",
        &[
            "quantity",
            "metrology",
            "radio",
            "procedure",
            "job",
            "exchange",
        ],
    ),
    (
        "app",
        &[
            "quantity",
            "metrology",
            "radio",
            "procedure",
            "job",
            "exchange",
            "store",
        ],
    ),
];

/// What ties code to a browser, a clock or chance. Times and ids are handed in instead.
const OUTSIDE: [&str; 10] = [
    "leptos",
    "web_sys",
    "js_sys",
    "wasm_bindgen",
    "gloo_",
    "idb::",
    "SystemTime",
    "Instant::now",
    "rand::",
    "getrandom",
];

/// The store's two ways to the browser: local storage and the database.
const BROWSER_SIDE: [&str; 2] = ["store/browser.rs", "store/database.rs"];

struct Source {
    /// The path below `src`, with `/` between its parts.
    path: String,
    code: String,
}

impl Source {
    fn room(&self) -> &str {
        let first = self.path.split('/').next().unwrap_or_default();
        first.strip_suffix(".rs").unwrap_or(first)
    }

    /// The names that follow `crate::`, also inside braces.
    fn uses(&self) -> Vec<String> {
        let mut names = Vec::new();
        for (at, before) in self.code.match_indices("crate::") {
            let rest = &self.code[at + before.len()..];
            match rest.strip_prefix('{') {
                Some(group) => names.extend(heads(group)),
                None => names.push(word(rest)),
            }
        }
        names
    }
}

/// The first word of each path in `a::b, c::{d, e}, f}`.
fn heads(group: &str) -> Vec<String> {
    let mut names = vec![word(group.trim_start())];
    let mut depth = 0;
    for (at, character) in group.char_indices() {
        match character {
            '{' => depth += 1,
            '}' if depth == 0 => break,
            '}' => depth -= 1,
            ',' if depth == 0 => names.push(word(group[at + 1..].trim_start())),
            _ => {}
        }
    }
    names.retain(|name| !name.is_empty());
    names
}

fn word(text: &str) -> String {
    text.chars()
        .take_while(|character| character.is_alphanumeric() || *character == '_')
        .collect()
}

fn sources() -> Vec<Source> {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files: Vec<PathBuf> = Vec::new();
    let mut folders = vec![src.clone()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).expect("src can be listed") {
            let path = entry.expect("src can be listed").path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                files.push(path);
            }
        }
    }
    files
        .iter()
        .map(|file| Source {
            path: file
                .strip_prefix(&src)
                .expect("the file is below src")
                .to_string_lossy()
                .replace('\\', "/"),
            code: fs::read_to_string(file)
                .expect("sources are text")
                .lines()
                .filter(|line| !line.trim_start().starts_with("//"))
                .collect::<Vec<_>>()
                .join("\n"),
        })
        .filter(|source| !["lib.rs", "main.rs"].contains(&source.path.as_str()))
        .collect()
}

#[test]
fn every_room_uses_only_rooms_below_it() {
    let sources = sources();
    assert!(sources.len() > ROOMS.len(), "found {}", sources.len());
    for source in &sources {
        let room = source.room();
        let (_, below) = ROOMS
            .iter()
            .find(|(name, _)| *name == room)
            .unwrap_or_else(|| panic!("{room} has no place in the map of rooms"));
        for used in source.uses() {
            assert!(
                used == room || below.contains(&used.as_str()),
                "src/{} uses {used}, which is not below {room}",
                source.path
            );
        }
    }
}

#[test]
fn only_the_app_and_the_browser_side_of_the_store_know_the_outside() {
    for source in sources() {
        if source.room() == "app" || BROWSER_SIDE.contains(&source.path.as_str()) {
            continue;
        }
        for word in OUTSIDE {
            assert!(
                !source.code.contains(word),
                "src/{} mentions {word}",
                source.path
            );
        }
    }
}

#[test]
fn only_the_store_touches_browser_storage() {
    for source in sources() {
        if source.room() == "store" {
            continue;
        }
        for word in ["LocalStorage", "local_storage", "session_storage"] {
            assert!(
                !source.code.contains(word),
                "src/{} mentions {word}",
                source.path
            );
        }
    }
}

#[test]
fn grouped_uses_are_seen_too() {
    let source = Source {
        path: "quantity/mod.rs".to_owned(),
        code: "use crate::{job::{Job, Log}, store};\nuse crate::app::x;".to_owned(),
    };
    assert_eq!(source.room(), "quantity");
    assert_eq!(source.uses(), ["job", "store", "app"]);
}
