//! Whatever a file, a storage or a person brings in: no panic, and what is promised of it holds.
//!
//! `fuzz` goes through the same entrances for hours; what it found is kept in `fuzz/corpus` and
//! gone through here in every run, each text as it is and twisted.

mod entrances;

use entrances::{ALL, seeds, twist::twisted};
use proptest::prelude::*;
use proptest::test_runner::Config;
use std::fs;
use std::sync::LazyLock;

/// The corpus of each entrance, in their order.
static CORPORA: LazyLock<Vec<Vec<String>>> =
    LazyLock::new(|| ALL.iter().map(|(name, _)| corpus(name)).collect());

/// The seeds of an entrance, and what the fuzzer kept for it.
fn corpus(entrance: &str) -> Vec<String> {
    let folder = format!("{}/fuzz/corpus/{entrance}", env!("CARGO_MANIFEST_DIR"));
    let files = fs::read_dir(folder).into_iter().flatten().flatten();
    let mut kept: Vec<String> = files
        .filter_map(|file| fs::read_to_string(file.path()).ok())
        .collect();
    kept.sort();
    seeds::of(entrance).into_iter().chain(kept).collect()
}

#[test]
fn every_entrance_bears_its_corpus() {
    for ((name, enter), corpus) in ALL.iter().zip(&*CORPORA) {
        assert!(!corpus.is_empty(), "{name} has something to begin with");
        corpus.iter().for_each(|text| enter(text));
    }
}

#[test]
fn a_seed_is_read_as_what_it_is() {
    for text in seeds::of("document") {
        assert!(halfturn::exchange::read(&text).is_ok());
    }
}

#[test]
fn the_same_seed_twists_the_same_way_and_mostly_changes_something() {
    for text in seeds::of("document").iter().chain(&seeds::of("number")) {
        let changed = (0..100)
            .filter(|&seed| twisted(text, seed) != *text)
            .count();
        assert!(changed > 60, "{changed} of 100");
        assert_eq!(twisted(text, 7), twisted(text, 7));
    }
}

proptest! {
    #![proptest_config(Config { cases: 40, failure_persistence: None, ..Config::default() })]

    #[test]
    fn every_entrance_bears_twisted_texts(
        pick in any::<prop::sample::Index>(),
        seed in any::<u64>(),
    ) {
        for ((_, enter), corpus) in ALL.iter().zip(&*CORPORA) {
            enter(&twisted(&corpus[pick.index(corpus.len())], seed));
        }
    }

    #[test]
    fn every_entrance_bears_any_text(text in "\\PC{0,60}|[0-9 .,+MkHzVΩ±%-]{0,20}") {
        for (_, enter) in ALL {
            enter(&text);
        }
    }
}
