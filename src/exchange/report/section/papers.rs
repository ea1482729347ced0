//! The papers that the work went by. They themselves stay with the job's file.

use crate::exchange::report::sheet::Source;
use crate::exchange::report::text::balanced;
use crate::exchange::report::{Cell, Section, Table, words};

/// How much of the digest of a paper tells it from any other.
const BEGINNING: usize = 12;

/// The papers by their names.
pub fn section(source: &Source) -> Option<Section> {
    let rows = source.progress.papers.iter().map(|paper| {
        let digest: String = paper.paper.as_str().chars().take(BEGINNING).collect();
        vec![Cell::of(balanced(&paper.title)), Cell::of(digest)]
    });
    let columns = [words::PAPER, words::PAPER_DIGEST];
    Section::of_table(words::PAPERS, Table::new("plain", &columns).with_rows(rows))
}
