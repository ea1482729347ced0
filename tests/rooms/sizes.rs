//! What can be read in one sitting: how long a file is, and how many stand in a folder.

use crate::sources::sources;
use std::fs;
use std::path::{Path, PathBuf};

const MOST_LINES: usize = 400;
const MOST_IN_A_FOLDER: usize = 15;

/// The files that are longer. The list only shrinks: one here that is short enough is a fault too.
const LONGER: &[(&str, &str)] = &[
    (
        "exchange/report/words.rs",
        "all words of the sheet; one file a section is due",
    ),
    ("job/fold/progress.rs", "still to be split"),
    ("app/screens/work/step.rs", "still to be split"),
    ("store/mod.rs", "still to be split"),
    ("exchange/document.rs", "still to be split"),
    ("metrology/tolerance.rs", "still to be split"),
    ("metrology/instrument.rs", "still to be split"),
    ("app/screens/work/reading/mod.rs", "still to be split"),
    ("app/words/author.rs", "still to be split"),
    ("app/shell/bench.rs", "still to be split"),
    ("metrology/sums.rs", "still to be split"),
    ("quantity/sum.rs", "still to be split"),
    ("job/guidance/advice.rs", "still to be split"),
    ("metrology/inference/coupling.rs", "still to be split"),
    ("procedure/step.rs", "still to be split"),
    ("procedure/target.rs", "still to be split"),
    ("job/entries/event.rs", "still to be split"),
    ("app/ui/boards/paper_view.rs", "still to be split"),
    ("store/journal.rs", "still to be split"),
    ("app/screens/device/bring_in.rs", "still to be split"),
    ("radio/components/substitution.rs", "still to be split"),
    ("exchange/reading.rs", "still to be split"),
    ("job/entries/refusal.rs", "still to be split"),
    ("app/screens/author/several.rs", "still to be split"),
    ("authoring/difference.rs", "still to be split"),
    ("authoring/edit.rs", "still to be split"),
    ("job/fold/proof.rs", "still to be split"),
    ("authoring/table/mod.rs", "still to be split"),
    ("procedure/fault.rs", "still to be split"),
    ("app/screens/counter/dealings.rs", "still to be split"),
    ("job/guidance/plan_view.rs", "still to be split"),
    ("authoring/table/meaning.rs", "still to be split"),
    ("job/fold/way.rs", "still to be split"),
    (
        "app/screens/author/step_sheet/step_reading.rs",
        "still to be split",
    ),
    ("app/screens/set/substitution.rs", "still to be split"),
    ("app/shell/route.rs", "still to be split"),
    ("app/screens/set/trace/mod.rs", "still to be split"),
    ("app/screens/lookup/sums.rs", "still to be split"),
    ("job/entries/written.rs", "still to be split"),
    ("app/screens/set/trace/stage.rs", "still to be split"),
    ("exchange/paths.rs", "still to be split"),
    ("app/platform/device.rs", "still to be split"),
    ("job/entries/log.rs", "still to be split"),
    ("app/screens/set/papers.rs", "still to be split"),
    ("quantity/reader.rs", "still to be split"),
    ("exchange/report/csv.rs", "still to be split"),
    ("exchange/report/plot.rs", "still to be split"),
    ("metrology/model.rs", "still to be split"),
    ("exchange/import.rs", "still to be split"),
    ("metrology/inference/kindred.rs", "still to be split"),
    ("exchange/report/section/sections.rs", "still to be split"),
    ("app/screens/device/kit/typed.rs", "still to be split"),
    (
        "radio/limits/land_mobile.rs",
        "a table of published limits, each with its source",
    ),
    ("authoring/table/phrases/senses.rs", "still to be split"),
    ("authoring/edit/several.rs", "still to be split"),
    ("app/screens/counter/finish.rs", "still to be split"),
    ("metrology/uncertainty.rs", "still to be split"),
    ("job/guidance/trace.rs", "still to be split"),
    ("authoring/draft.rs", "still to be split"),
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
