//! The sounds of a job: what was heard while readings were taken, kept as evidence.

use crate::job::{Deed, Event, Log};
use crate::procedure::{Id, PictureDigest};

/// A sound that was kept and not removed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sound {
    /// The event that brought it.
    pub event: Id,
    /// The name of its bytes.
    pub bytes: PictureDigest,
    /// The step of the reading.
    pub step: Id,
    /// The reading's event.
    pub reading: Id,
    /// When it was taken into the job, by the device's clock.
    pub at: i64,
}

/// The sounds that follow from a log, without all else that does.
pub fn sounds(log: &Log) -> Vec<Sound> {
    let undone = log.undone();
    let mut sounds = Vec::new();
    for event in log.events().filter(|event| !undone.contains(&event.id)) {
        take(&mut sounds, event);
    }
    sounds
}

/// Follows one event of the log.
pub(in crate::job) fn take(sounds: &mut Vec<Sound>, event: &Event) {
    match &event.did {
        Deed::SoundKept {
            sound,
            step,
            reading,
        } => sounds.push(Sound {
            event: event.id.clone(),
            bytes: sound.clone(),
            step: step.clone(),
            reading: reading.clone(),
            at: event.at,
        }),
        Deed::SoundRemoved { sound } => sounds.retain(|kept| kept.event != *sound),
        _ => {}
    }
}
