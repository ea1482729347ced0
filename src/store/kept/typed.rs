//! What was typed and is not sent yet.

use crate::procedure::Id;
use crate::store::keys::DRAFT;
use crate::store::keys::{FORMS, draft_key, sum_key};
use crate::store::records::TypedInputs;
use crate::store::storage::{Storage, StorageError};
use crate::store::{Store, layout, records};
use std::collections::BTreeMap;

/// What is typed in forms and not sent yet, by their places.
pub(super) type Forms = BTreeMap<String, String>;

impl<S: Storage> Store<S> {
    /// What was typed in a step but not entered.
    pub fn draft(&self, job: &Id, step: &Id) -> Option<String> {
        self.storage.get(&draft_key(job, step)).ok().flatten()
    }

    /// Keeps what is being typed; an empty text takes the draft away.
    pub fn save_draft(&self, job: &Id, step: &Id, text: &str) -> Result<(), StorageError> {
        let key = draft_key(job, step);
        match text.is_empty() {
            true => {
                layout::check(&self.storage)?;
                self.storage.remove(&key)
            }
            false => self.write(&key, text),
        }
    }

    /// What was typed in a form or dialog and not sent yet.
    pub fn form(&self, place: &str) -> Option<String> {
        let kept = self.forms().and_then(|mut forms| forms.remove(place));
        // Forms were kept among the drafts of steps once.
        kept.or_else(|| self.storage.get(&format!("{DRAFT}{place}")).ok().flatten())
    }

    /// Where in a job something was typed and not sent yet: the places of its forms, without the
    /// job's own name in front.
    pub fn unsent(&self, job: &Id) -> Vec<String> {
        let forms = self.forms().unwrap_or_default();
        let of_job = format!("{job}:");
        let places = forms.keys().filter_map(|place| place.strip_prefix(&of_job));
        places.map(str::to_owned).collect()
    }

    /// Keeps what is being typed in a form or dialog; an empty text takes it away. All of them
    /// stand together, so that the journal has one entry for them, however many there were.
    pub fn save_form(&self, place: &str, text: &str) -> Result<(), StorageError> {
        let earlier = format!("{DRAFT}{place}");
        if self.storage.size(&earlier)?.is_some() {
            layout::check(&self.storage)?;
            self.storage.remove(&earlier)?;
        }
        let mut forms = match self.forms() {
            Some(forms) => forms,
            None => {
                self.move_aside(FORMS)?;
                Forms::new()
            }
        };
        let before = match text.is_empty() {
            true => forms.remove(place),
            false => forms.insert(place.to_owned(), text.to_owned()),
        };
        match before.unwrap_or_default() == text {
            true => Ok(()),
            false => self.write(FORMS, &records::json(&forms)),
        }
    }

    /// What is typed in all forms; `None` where that can't be read.
    fn forms(&self) -> Option<Forms> {
        match self.storage.get(FORMS).ok().flatten() {
            Some(text) => serde_json::from_str(&text).ok(),
            None => Some(Forms::new()),
        }
    }

    /// Takes away what was typed in the forms of a job and not sent.
    pub(super) fn drop_forms(&self, job: &Id) -> Result<(), StorageError> {
        let Some(mut forms) = self.forms() else {
            return Ok(());
        };
        let (all, of_job) = (forms.len(), format!("{job}:"));
        forms.retain(|place, _| !place.starts_with(&of_job));
        match forms.len() == all {
            true => Ok(()),
            false => self.write(FORMS, &records::json(&forms)),
        }
    }

    /// What was typed in a calculation; nothing where that can't be read.
    pub fn sum(&self, id: &str) -> TypedInputs {
        let text = self.storage.get(&sum_key(id)).ok().flatten();
        text.and_then(|text| records::read_typed(&text))
            .unwrap_or_default()
    }

    /// Keeps what is typed in a calculation; inputs without any take it away.
    pub fn save_sum(&self, id: &str, typed: &TypedInputs) -> Result<(), StorageError> {
        let key = sum_key(id);
        let stored = self.storage.get(&key)?;
        if stored.is_some_and(|text| records::read_typed(&text).is_none()) {
            self.move_aside(&key)?;
        }
        match typed.is_empty() {
            true => {
                layout::check(&self.storage)?;
                self.storage.remove(&key)
            }
            false => self.write(&key, &records::json(typed)),
        }
    }
}
