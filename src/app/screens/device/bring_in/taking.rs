//! Taking in what is wanted of a file.

use crate::app::platform::device;
use crate::app::platform::timeline::Stage;
use crate::app::screens::device::bring_in::incoming::{Incoming, Offer, Preview};
use crate::app::shell::bench::Bench;
use crate::app::shell::carry::keep;
use crate::app::shell::slices::{Stopped, Turn};
use crate::app::words::device::{bring_in as words, data};
use crate::app::words::shell::slices as long;
use crate::exchange::{Item, Subject};
use crate::job::{Correction, Job};
use crate::store::{StorageError, TakenIn};
use leptos::prelude::*;
use leptos::task::spawn_local;

/// Takes in what is ticked.
pub(super) fn take_in(incoming: Incoming, preview: Preview) {
    let bench = incoming.bench;
    // A job is joined with whatever became of it; all else would be taken for what it was.
    if untrack(|| bench.here()) != *preview.here {
        incoming.shown.set(None);
        return bench.refuse(words::CHANGED_MEANWHILE);
    }
    match bench.slices.begin() {
        Some(turn) => spawn_local(async move {
            take_in_slices(incoming, &turn, preview).await;
            // Before the lists are read anew, which takes about a frame with years of jobs.
            device::breathe().await;
            bench.changes.update(|count| *count += 1);
        }),
        None => bench.refuse(long::BUSY),
    }
}

/// Takes one thing in after the other, each of them wholly, so that it can end anywhere. What
/// ends it early is told.
async fn take_in_slices(incoming: Incoming, turn: &Turn, preview: Preview) {
    let bench = incoming.bench;
    // Pictures first, so that nothing is ever shown without its own.
    let pictures = untrack(|| preview.wanted_pictures());
    if !keep(bench, pictures).await {
        return;
    }
    let offers = preview.offers.iter();
    let wanted: Vec<&Offer> = offers.filter(|o| o.wanted.get_untracked()).collect();
    let mut taken = 0;
    let mut jobs = Vec::new();
    let mut trouble = None;
    let work = wanted.iter().map_while(|offer| {
        let outcome = take(bench, &offer.item);
        outcome.map_err(|error| trouble = Some(error)).ok()
    });
    let count = |job: Option<TakenIn>| {
        jobs.extend(job);
        taken += 1;
        taken
    };
    let ended = turn.run(Stage::Taking, wanted.len(), work, count).await;
    bench.note_taken_in(&jobs);
    let all = wanted.len();
    match (ended, trouble) {
        (_, Some(error)) => return bench.refuse(words::taken_until_refused(taken, all, error)),
        (Err(Stopped), None) => bench.say_when_kept(long::taken_until_stopped(taken, all)),
        (Ok(()), None) => {
            bench.say_when_kept(data::taken_in(taken + usize::from(!pictures.is_empty())))
        }
    }
    incoming.shown.set(None);
}

/// Takes one thing in, and gives the job that came with it.
pub(super) fn take(bench: Bench, item: &Item) -> Result<Option<TakenIn>, String> {
    let taken = |job: &Job, joined| Some(TakenIn::of(job, &item.outcome, joined));
    if let Subject::Corrections { job, corrections } = &item.subject {
        return correct(bench, job, corrections).map(|()| None);
    }
    let taken = bench.store.with_value(|store| match &item.subject {
        Subject::Procedure(procedure) => store.save_procedure(procedure).map(|_| None),
        Subject::Job(job) => store.bring_job(job).map(|joined| taken(job, joined)),
        Subject::Corrections { .. } => Ok(None),
        Subject::Channels(table) => {
            let mut tables = store.channel_tables();
            tables.retain(|other| other.name != table.name);
            tables.push(table.clone());
            store.save_channel_tables(&tables).map(|()| None)
        }
        Subject::Instrument(instrument) => {
            let mut kit = store.kit();
            kit.retain(|other| other.name != instrument.name);
            kit.push(instrument.clone());
            store.save_kit(&kit).map(|()| None)
        }
        Subject::Preferences(preferences) => store.save_preferences(preferences).map(|()| None),
    });
    let taken = taken.map_err(|error: StorageError| error.to_string())?;
    if let Subject::Preferences(preferences) = &item.subject {
        bench.preferences.set(preferences.clone());
    }
    if let Some(TakenIn { job, .. }) = &taken {
        show_if_in_hand(bench, job);
    }
    Ok(taken)
}

/// Writes what a file has instead of entries here behind the job as it is now.
fn correct(bench: Bench, job: &Job, corrections: &[Correction]) -> Result<(), String> {
    let stored = bench.store.with_value(|store| store.job(&job.id));
    let stored = stored.map_err(|error| error.to_string())?;
    let mut job = stored.unwrap_or_else(|| job.clone());
    let corrected = job.correct(corrections, device::stamp);
    corrected.map_err(|refusal| refusal.to_string())?;
    let saved = bench.store.with_value(|store| store.save_job(&job));
    show_if_in_hand(bench, &saved.map_err(|error| error.to_string())?);
    Ok(())
}

/// The job in hand may be the one that was merged.
fn show_if_in_hand(bench: Bench, job: &Job) {
    let is_it = |shown: &Option<Job>| shown.as_ref().is_some_and(|shown| shown.id == job.id);
    if bench.job.with_untracked(is_it) {
        bench.job.set(Some(job.clone()));
    }
}
