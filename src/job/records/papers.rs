//! The papers of a set: those of the procedures that its job is worked by, and those that the job
//! brought itself.

use crate::job::entries::event::paper::PaperChange;
use crate::job::{Deed, Event, Log};
use crate::procedure::{Paper, PictureDigest};

/// What a log makes of the papers of its procedures.
pub(in crate::job) fn fold(mut papers: Vec<Paper>, log: &Log) -> Vec<Paper> {
    let undone = log.undone();
    for event in log.events().filter(|event| !undone.contains(&event.id)) {
        take(&mut papers, event);
    }
    papers
}

/// Follows one event of the log.
pub(in crate::job) fn take(papers: &mut Vec<Paper>, event: &Event) {
    match &event.did {
        Deed::PaperKept { paper } => keep(papers, paper),
        Deed::PaperChanged { paper, change } => follow(papers, paper, change),
        _ => {}
    }
}

/// A paper that comes once more brings its name and its pins.
fn keep(papers: &mut Vec<Paper>, paper: &Paper) {
    match papers.iter_mut().find(|it| it.paper == paper.paper) {
        Some(known) => {
            known.title = paper.title.clone();
            paper.pins.iter().for_each(|pin| known.put(pin.clone()));
        }
        None => papers.push(paper.clone()),
    }
}

/// What another copy of the job says of a paper that it took out is left alone.
fn follow(papers: &mut Vec<Paper>, name: &PictureDigest, change: &PaperChange) {
    let Some(place) = papers.iter().position(|it| it.paper == *name) else {
        return;
    };
    let paper = &mut papers[place];
    match change {
        PaperChange::Titled(title) => paper.title = title.clone(),
        PaperChange::Pinned(pin) => paper.put(pin.clone()),
        PaperChange::Unpinned(spot) => paper.pins.retain(|pin| pin.of != *spot),
        PaperChange::Removed => {
            papers.remove(place);
        }
    }
}

impl Deed {
    /// What is wrong in itself with a paper that it brings or changes, if anything is.
    pub(in crate::job) fn fault_of_paper(&self) -> Option<String> {
        let (title, pins) = match self {
            Deed::PaperKept { paper } => (Some(&paper.title), paper.pins.as_slice()),
            Deed::PaperChanged { change, .. } => match change {
                PaperChange::Titled(title) => (Some(title), [].as_slice()),
                PaperChange::Pinned(pin) => (None, std::slice::from_ref(pin)),
                PaperChange::Unpinned(_) | PaperChange::Removed => return None,
            },
            _ => return None,
        };
        if title.is_some_and(|title| title.trim().is_empty()) {
            return Some("a paper has no name".to_owned());
        }
        let lost = pins.iter().find(|pin| !pin.is_sound())?;
        let name = lost.of.name();
        Some(format!("the pin of “{name}” lies on no page of its paper"))
    }
}

impl Log {
    /// The bytes that its entries name: photos, sounds, papers, and the pictures and papers of the
    /// procedures that it took on.
    pub fn pictures(&self) -> impl Iterator<Item = PictureDigest> + use<> {
        let photos = crate::job::photos(self)
            .into_iter()
            .map(|photo| photo.picture);
        let papers = fold(Vec::new(), self).into_iter().map(|it| it.paper);
        let undone = self.undone();
        let counting = self.events().filter(|event| !undone.contains(&event.id));
        let taken: Vec<PictureDigest> = counting
            .filter_map(|event| match &event.did {
                Deed::TookOn { procedure } => Some(procedure),
                _ => None,
            })
            .flat_map(|procedure| procedure.picture_names().cloned().collect::<Vec<_>>())
            .collect();
        let sounds = crate::job::sounds(self).into_iter().map(|it| it.bytes);
        photos.chain(sounds).chain(papers).chain(taken)
    }
}
