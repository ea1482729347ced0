//! The last seconds of the sound, kept with the reading that was taken from it.

use crate::app::shell::bench::Bench;
use crate::app::words::audio as words;
use crate::exchange::Picture;
use crate::job::{Deed, Job};
use crate::procedure::Id;
use crate::store::Pictures;
use leptos::prelude::*;
use leptos::task::spawn_local;

/// Stores the bytes, and only then writes them into the log, behind the reading just entered.
pub fn keep(bench: Bench, step: Id, bytes: Vec<u8>) {
    let entered = bench.job.with_untracked(|job| {
        let job = job.as_ref()?;
        Some((job.id.clone(), last_reading(job, &step)?))
    });
    let Some((job, reading)) = entered else {
        return;
    };
    let sound = match Picture::of(bytes) {
        Ok(sound) => sound,
        Err(error) => return bench.refuse(error.to_string()),
    };
    spawn_local(async move {
        let stored = Pictures.put(&sound).await;
        // Another job may be in hand by now.
        let in_hand = bench
            .job
            .with_untracked(|it| it.as_ref().is_some_and(|it| it.id == job));
        match stored {
            Ok(sound) if in_hand => {
                let deed = Deed::SoundKept {
                    sound,
                    step,
                    reading,
                };
                if bench.record(deed) {
                    bench.say_when_kept(words::SOUND_KEPT);
                }
            }
            Ok(_) => {}
            Err(error) => bench.refuse(error.to_string()),
        }
    });
}

fn last_reading(job: &Job, step: &Id) -> Option<Id> {
    let mut latest_first = job.log.events().rev();
    let found = latest_first
        .find(|event| matches!(&event.did, Deed::Reading { step: of, .. } if of == step));
    Some(found?.id.clone())
}
