//! What is typed and not sent yet.

use crate::app::shell::bench::Bench;
use crate::procedure::Id;
use crate::store::TypedInputs;
use leptos::prelude::*;

impl Bench {
    /// What was typed in a step but not entered.
    pub fn draft(self, job: &Id, step: &Id) -> String {
        self.store
            .with_value(|store| store.draft(job, step))
            .unwrap_or_default()
    }

    /// Keeps what is being typed. It is a convenience: failing to keep it is not told.
    pub fn keep_draft(self, job: &Id, step: &Id, text: &str) {
        let _ = self
            .store
            .with_value(|store| store.save_draft(job, step, text));
    }

    /// What was typed in a form or dialog and not sent yet.
    pub fn form(self, place: &str) -> String {
        self.store
            .with_value(|store| store.form(place))
            .unwrap_or_default()
    }

    /// The places of a job's forms in which something was typed and not sent.
    pub fn unsent(self, job: &Id) -> Vec<String> {
        self.store.with_value(|store| store.unsent(job))
    }

    /// Keeps what is being typed in a form; an empty text is dropped. Failing to keep it is not
    /// told: it stands in the form.
    pub fn keep_form(self, place: &str, text: &str) {
        let _ = self.store.with_value(|store| store.save_form(place, text));
    }

    /// Keeps what is typed in a form as it changes; none is kept as it was. At first nothing is
    /// typed yet, and the journal may have what was.
    pub fn keep_form_as_typed(self, place: String, text: impl Fn() -> Option<String> + 'static) {
        Effect::new(move |before: Option<()>| {
            if let Some(text) = text().filter(|_| before.is_some()) {
                self.keep_form(&place, &text);
            }
        });
    }

    /// What was typed in a calculation.
    pub fn sum(self, id: &str) -> TypedInputs {
        self.store.with_value(|store| store.sum(id))
    }

    /// Keeps what is being typed in a calculation, as a convenience like a draft.
    pub fn keep_sum(self, id: &str, typed: &TypedInputs) {
        let _ = self.store.with_value(|store| store.save_sum(id, typed));
    }
}
