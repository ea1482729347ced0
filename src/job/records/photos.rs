//! The photos of a job: the set as found and as left.

use crate::job::{Deed, Event, Log, Moment};
use crate::procedure::{Id, PictureDigest};

/// A photo that was taken and not removed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Photo {
    /// The event that brought it.
    pub event: Id,
    /// The name of its bytes.
    pub picture: PictureDigest,
    /// The state of the set that it shows.
    pub when: Moment,
    /// In words.
    pub note: String,
    /// At which step, if at one.
    pub step: Option<Id>,
    /// When it was taken into the job, by the device's clock.
    pub at: i64,
}

/// The photos that follow from a log, without all else that does.
pub fn photos(log: &Log) -> Vec<Photo> {
    let undone = log.undone();
    let mut photos = Vec::new();
    for event in log.events().filter(|event| !undone.contains(&event.id)) {
        take(&mut photos, event);
    }
    photos
}

/// Follows one event of the log.
pub(in crate::job) fn take(photos: &mut Vec<Photo>, event: &Event) {
    match &event.did {
        Deed::Photographed {
            picture,
            when,
            note,
            step,
        } => photos.push(Photo {
            event: event.id.clone(),
            picture: picture.clone(),
            when: *when,
            note: note.clone(),
            step: step.clone(),
            at: event.at,
        }),
        Deed::PhotoRemoved { photo } => photos.retain(|taken| taken.event != *photo),
        _ => {}
    }
}
