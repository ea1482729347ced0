//! The one-way rule of the rooms in `src`: each knows only the rooms below it, and only the
//! upper ones know that there is a browser or a clock. So it is between the floors of `src/app`.
//!
//! Paths are read as the compiler reads them: out of tokens, so that no remark and no text counts
//! and no macro hides one, and each is followed to where it leads, however it is spelled.

mod circles;
mod sizes;
mod sources;

use sources::{Source, sources};
use std::fs;

/// Each room with the rooms it may use.
const ROOMS: [(&str, &[&str]); 10] = [
    ("quantity", &[]),
    ("metrology", &["quantity"]),
    ("radio", &["quantity"]),
    ("signal", &[]),
    ("procedure", &["quantity", "metrology", "radio"]),
    (
        "authoring",
        &["quantity", "metrology", "radio", "procedure"],
    ),
    (
        "job",
        &[
            "quantity",
            "metrology",
            "radio",
            "signal",
            "procedure",
            "authoring",
        ],
    ),
    (
        "exchange",
        &[
            "quantity",
            "metrology",
            "radio",
            "procedure",
            "authoring",
            "job",
        ],
    ),
    (
        "store",
        &[
            "quantity",
            "metrology",
            "radio",
            "procedure",
            "authoring",
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
            "signal",
            "procedure",
            "authoring",
            "job",
            "exchange",
            "store",
        ],
    ),
];

/// The floors of the app: each with those below it.
const FLOORS: [(&str, &[&str]); 5] = [
    ("platform", &["words"]),
    ("words", &["platform"]),
    ("shell", &["platform", "words"]),
    ("ui", &["platform", "words", "shell"]),
    ("screens", &["platform", "words", "shell", "ui"]),
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

/// What a source uses and, by its place in a map of places, must not: the place and what it is used as.
fn trespasses(source: &Source, depth: usize, map: &[(&str, &[&str])]) -> Vec<String> {
    let module = source.module();
    let Some(place) = module.get(depth) else {
        return Vec::new();
    };
    let Some((_, below)) = map.iter().find(|(name, _)| name == place) else {
        return vec![format!("src/{} has no place in the map", source.path)];
    };
    let uses = source.uses().into_iter();
    let out = uses.filter(|used| {
        let other = used.get(depth);
        used[..depth.min(used.len())] == module[..depth]
            && other.is_some_and(|other| other != place && !below.contains(&other.as_str()))
    });
    out.map(|used| format!("src/{} uses {}", source.path, used.join("::")))
        .collect()
}

#[test]
fn every_room_uses_only_rooms_below_it() {
    let sources = sources();
    assert!(sources.len() > ROOMS.len(), "found {}", sources.len());
    let out: Vec<String> = sources
        .iter()
        .flat_map(|source| trespasses(source, 0, &ROOMS))
        .collect();
    assert!(out.is_empty(), "{}", out.join("\n"));
}

#[test]
fn every_floor_of_the_app_uses_only_floors_below_it() {
    let out: Vec<String> = sources()
        .iter()
        .filter(|source| source.path.starts_with("app/") && source.path != "app/mod.rs")
        .flat_map(|source| trespasses(source, 1, &FLOORS))
        .collect();
    assert!(out.is_empty(), "{}", out.join("\n"));
}

/// Nothing at the top of the crate lends a room's things to all others.
#[test]
fn the_crate_itself_hands_nothing_on() {
    let lib = concat!(env!("CARGO_MANIFEST_DIR"), "/src/lib.rs");
    let code = fs::read_to_string(lib).expect("the crate has a root");
    assert!(!code.contains("pub use"), "{code}");
}

#[test]
fn only_the_app_and_the_browser_side_of_the_store_know_the_outside() {
    for source in sources() {
        if source.room() == "app" || BROWSER_SIDE.contains(&source.path.as_str()) {
            continue;
        }
        let code = without_remarks(&source.code);
        for word in OUTSIDE {
            assert!(!code.contains(word), "src/{} mentions {word}", source.path);
        }
    }
}

#[test]
fn only_the_store_touches_browser_storage() {
    for source in sources() {
        if source.room() == "store" {
            continue;
        }
        let code = without_remarks(&source.code);
        for word in ["LocalStorage", "local_storage", "session_storage"] {
            assert!(!code.contains(word), "src/{} mentions {word}", source.path);
        }
    }
}

fn without_remarks(code: &str) -> String {
    let lines = code
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"));
    lines.collect::<Vec<_>>().join("\n")
}

#[test]
fn a_way_upwards_is_seen_however_it_is_spelled() {
    for code in [
        "use crate::job::Log;",
        "use crate::{quantity::Unit, job::{Job, Log}};",
        "use super::super::job::Log;",
        "use super::super::{quantity::Unit, job};",
        "pub use crate::job as work;",
        "use halfturn::job::Log;",
        "fn f() { let log = crate::job::Log::default(); }",
        "fn f() { view! { <p>{super::super::job::name()}</p> } }",
        "mod inner { use super::super::super::job::Log; }",
        "mod inner { fn f() { vec![self::super::super::super::job::Log] } }",
        "type T = Vec<crate :: job :: Log>;",
    ] {
        let source = Source {
            path: "radio/levels.rs".to_owned(),
            code: code.to_owned(),
        };
        assert!(!trespasses(&source, 0, &ROOMS).is_empty(), "{code}");
    }
}

#[test]
fn what_is_below_or_beside_is_no_way_upwards() {
    for code in [
        "use crate::quantity::{Number, Unit};",
        "use super::limits::Limit;",
        "use super::super::quantity::Unit;",
        "// use crate::job::Log;",
        "const TEXT: &str = \"crate::job::Log\";",
        "mod tests { use super::*; use super::super::limits; }",
    ] {
        let source = Source {
            path: "radio/levels.rs".to_owned(),
            code: code.to_owned(),
        };
        assert_eq!(
            trespasses(&source, 0, &ROOMS),
            Vec::<String>::new(),
            "{code}"
        );
    }
}
