//! A reminder to save: what is only on this device, once that is worth a word.

use crate::app::platform::device;
use crate::app::shell::bench::Bench;
use crate::app::shell::route::Route;
use crate::app::words::device::data as words;
use crate::exchange::Document;
use crate::store::{AtRisk, TakenIn};
use leptos::prelude::*;

/// What is in no saved file, in a sentence.
pub fn line(bench: Bench) -> impl IntoView {
    move || {
        let text = match bench.at_risk.get() {
            Some(risk) => sentence(risk),
            None => words::ALL_FILED.to_owned(),
        };
        view! { <p class="hint">{text}</p> }
    }
}

/// The same with the way to save it, where it is worth a word unasked.
pub fn reminder(bench: Bench) -> impl IntoView {
    move || {
        let risk = bench
            .at_risk
            .get()
            .filter(|risk| risk.entries >= AtRisk::WORTH_A_WORD)?;
        Some(view! {
            <p class="hint">{sentence(risk)}" "<a href=Route::Data.address()>{words::SAVE_BACKUP}</a></p>
        })
    }
}

fn sentence(risk: AtRisk) -> String {
    words::at_risk(risk.entries, risk.jobs, &device::date_and_time(risk.since))
}

impl Bench {
    /// Remembers that what a document holds is in a file. Failing to is not told: the reminder
    /// then comes too often, not too seldom.
    pub fn note_filed(self, document: &Document) {
        let _ = self.store.with_value(|store| match document {
            Document::Job(job) => store.note_filed([(&job.id, &job.log)]),
            Document::Backup(backup) => {
                store.note_filed(backup.jobs.iter().map(|job| (&job.id, &job.log)))
            }
            Document::Procedure(_) => Ok(()),
        });
        self.changes.update(|count| *count += 1);
    }

    /// Remembers that jobs came out of a file, which has them. Failing to is not told either.
    pub fn note_taken_in(self, taken: &[TakenIn]) {
        let _ = self.store.with_value(|store| store.note_taken_in(taken));
    }
}
