//! What is typed in a form and not sent yet: it outlives the page, and the browser.

use crate::app::shell::bench::Bench;
use crate::procedure::Id;
use leptos::prelude::*;
use serde::{Serialize, de::DeserializeOwned};

/// What stands in a form, and over what it was typed.
pub struct KeptForm<T: Send + Sync + 'static> {
    /// What stands in the form.
    pub typed: RwSignal<T>,
    bench: Bench,
    over: StoredValue<T>,
    place: StoredValue<String>,
}

/// The forms of a job as a whole, under names that no author gives a step.
pub const DETAILS: &str = "~details";
/// The form for a step that no procedure foresaw.
pub const OWN_STEP: &str = "~own-step";
/// The form that puts such a step right.
pub const OWN_CHANGED: &str = "own";
/// The form for a fault.
pub const FAULT: &str = "~fault";
/// The form for a stage of a path.
pub const TRACE: &str = "~trace";
/// The forms for a wanted part and for a question to the owner.
pub const DEALINGS: &str = "~dealings";
/// The form for another part that was changed.
pub const CHANGE: &str = "~change";
/// The same with a substitution check.
pub const CHECKED: &str = "~checked";

/// Where a form of a step is kept, within its job.
pub fn of_step(step: &Id, name: &str) -> String {
    format!("{step}~{name}")
}

/// Where a form of a job is kept.
pub fn of_job(job: &Id, name: &str) -> String {
    format!("{job}:{name}")
}

/// Fills a blank form in with what is known already. One that is half typed is not written over.
pub fn fill_in<T: Default + Serialize>(bench: Bench, place: &str, known: &T) {
    if bench.form(place).is_empty() {
        let text = serde_json::to_string(&(T::default(), known));
        bench.keep_form(place, &text.unwrap_or_default());
    }
}

/// Whether what a form was filled in from is not what stands there now; from then on it is what
/// the form writes over.
pub fn is_overtaken<F: Send + Sync + 'static, T: PartialEq>(
    form: RwSignal<F>,
    was: fn(&mut F) -> &mut Option<T>,
    now: Option<T>,
) -> bool {
    let differs = form.try_update(|form| {
        let was = was(form);
        let differs = *was != now;
        *was = now;
        differs
    });
    differs.unwrap_or(false)
}

impl<T: Send + Sync + 'static> Clone for KeptForm<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T: Send + Sync + 'static> Copy for KeptForm<T> {}

impl<T> KeptForm<T>
where
    T: Clone + PartialEq + Serialize + DeserializeOwned + Send + Sync + 'static,
{
    /// A form that begins with `over`, or with what was typed over that before. What was typed over
    /// another state than the one here is old: it was sent since, and only the form's end was lost
    /// when the browser was.
    pub fn of(bench: Bench, place: String, over: T) -> Self {
        let kept = serde_json::from_str::<(T, T)>(&bench.form(&place)).ok();
        let typed = kept.filter(|(was, _)| *was == over).map(|(_, typed)| typed);
        let form = KeptForm {
            typed: RwSignal::new(typed.unwrap_or_else(|| over.clone())),
            bench,
            over: StoredValue::new(over),
            place: StoredValue::new(place.clone()),
        };
        bench.keep_form_as_typed(place, move || form.text());
        form
    }

    /// What it was typed over.
    pub fn over(self) -> T {
        self.over.get_value()
    }

    /// What is kept: nothing where nothing was typed.
    fn text(self) -> Option<String> {
        self.typed.with(|typed| {
            self.over.with_value(|over| match over == typed {
                true => Some(String::new()),
                false => serde_json::to_string(&(over, typed)).ok(),
            })
        })
    }

    /// What stands in the form was sent, or is not wanted: the form begins there from now on.
    pub fn forget(self) {
        self.over.set_value(self.typed.get_untracked());
        self.place
            .with_value(|place| self.bench.keep_form(place, ""));
    }
}
