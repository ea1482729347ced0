//! The papers that the work went by. They themselves stay with the job's file.

use crate::exchange::report::sheet::Source;
use crate::exchange::report::text::balanced;
use crate::exchange::report::{Cell, Section, Table, words};
use crate::procedure::PictureDigest;

/// How much of the digest of a paper or a sound tells it from any other.
const BEGINNING: usize = 12;

pub(super) fn beginning(digest: &PictureDigest) -> Cell {
    Cell::of(digest.as_str().chars().take(BEGINNING).collect::<String>())
}

/// The papers by their names.
pub fn section(source: &Source) -> Option<Section> {
    let papers = source.progress.papers.iter();
    let rows = papers.map(|it| vec![Cell::of(balanced(&it.title)), beginning(&it.paper)]);
    let columns = [words::PAPER, words::PAPER_DIGEST];
    Section::of_table(words::PAPERS, Table::new("plain", &columns).with_rows(rows))
}
