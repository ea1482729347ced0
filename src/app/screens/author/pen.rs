//! A draft in hand, and the only way to change it: each change is in the store before the
//! screen shows it.

use crate::app::platform::device;
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::words::author as words;
use crate::authoring::{Draft, DraftStep, Remark, remarks};
use crate::procedure::{Id, Place};
use crate::quantity::DecimalSign;
use crate::store::Saving;
use leptos::prelude::*;

/// How many changes can be taken back.
const STEPS_BACK: usize = 200;

/// What was before the changes made since the app was started, and what the store had no room
/// for. Shared by the screens, so that going to another one loses neither.
#[derive(Clone, Copy, Default)]
pub struct Past {
    before: RwSignal<Vec<Before>>,
    unsaved: RwSignal<Option<Draft>>,
}

/// A draft as it was before a change.
#[derive(Clone)]
struct Before {
    /// The change, as undoing it is offered.
    what: String,
    /// Where text was typed; more text there is the same change.
    typing: Option<String>,
    draft: Draft,
}

/// A draft in hand.
#[derive(Clone, Copy)]
pub struct Pen {
    /// What all screens share.
    pub bench: Bench,
    /// The draft as it stands.
    pub draft: RwSignal<Draft>,
    /// What is to be said of it.
    pub remarks: Memo<Vec<Remark>>,
    saved: StoredValue<u64>,
    past: Past,
}

impl Pen {
    /// Takes the draft with this id into hand, if it is there.
    pub fn open(id: &Id) -> Option<Pen> {
        let bench = use_bench();
        let past = expect_context::<Past>();
        let stored = bench.read_store(|store| store.authored(id))?;
        let unsaved = past.unsaved.get_untracked().filter(|draft| draft.id == *id);
        let draft = unsaved.or_else(|| stored.as_ref().map(|s| s.draft.clone()))?;
        let draft = RwSignal::new(draft);
        let sign = bench.sign_now();
        let kit = StoredValue::new(untrack(|| bench.kit()));
        let pen = Pen {
            bench,
            draft,
            remarks: Memo::new(move |_| draft.with(|d| kit.with_value(|k| remarks(d, k, sign)))),
            saved: StoredValue::new(stored.map_or(0, |stored| stored.saved)),
            past,
        };
        let is_other = |before: &Before| before.draft.id != *id;
        if past.before.with_untracked(|all| all.iter().any(is_other)) {
            past.before.set(Vec::new());
        }
        Effect::new(move |_| {
            bench.changes.track();
            pen.look_elsewhere();
        });
        Some(pen)
    }

    /// The draft's id.
    pub fn id(self) -> Id {
        self.draft.with_untracked(|draft| draft.id.clone())
    }

    /// The decimal sign in use.
    pub fn sign(self) -> DecimalSign {
        self.bench.sign_now()
    }

    /// Something of a step; the default where the step is gone.
    pub fn of_step<T: Default>(self, step: &Id, part: impl Fn(&DraftStep) -> T) -> T {
        self.draft
            .with(|draft| draft.step(step).map(part).unwrap_or_default())
    }

    /// What is said of a place.
    pub fn said_of(self, place: &Place) -> Vec<Remark> {
        self.remarks.with(|all| {
            let here = all.iter().filter(|remark| remark.place == *place);
            here.cloned().collect()
        })
    }

    /// Makes a change, which `what` names where undoing it is offered.
    pub fn change<T>(self, what: impl Into<String>, act: impl Fn(&mut Draft) -> T) -> T {
        self.make(what.into(), None, act)
    }

    /// Types a text; all that is typed in one place without a change elsewhere is one change.
    pub fn write(self, place: impl Into<String>, act: impl Fn(&mut Draft)) {
        self.make(words::TYPING.to_owned(), Some(place.into()), act);
    }

    /// Makes one of many small changes in one place, which are undone together.
    pub fn adjust(
        self,
        what: impl Into<String>,
        place: impl Into<String>,
        act: impl Fn(&mut Draft),
    ) {
        self.make(what.into(), Some(place.into()), act);
    }

    fn make<T>(self, what: String, typing: Option<String>, act: impl Fn(&mut Draft) -> T) -> T {
        let before = self.draft.get_untracked();
        let mut now = before.clone();
        let outcome = act(&mut now);
        if now == before {
            return outcome;
        }
        match self.store(&now, self.saved.get_value()) {
            Some(Saving::ChangedElsewhere(other)) => {
                // The change goes on top of what the other page made of it.
                let mut now = other.draft.clone();
                let outcome = act(&mut now);
                self.past.before.set(Vec::new());
                self.store(&now, other.saved);
                self.draft.set(now);
                return outcome;
            }
            Some(Saving::Gone) => self.bench.refuse(words::GONE_ELSEWHERE),
            Some(Saving::Saved(_)) | None => {}
        }
        self.remember(Before {
            what,
            typing,
            draft: before,
        });
        self.draft.set(now);
        outcome
    }

    fn remember(self, before: Before) {
        self.past.before.update(|all| {
            let same = before.typing.is_some()
                && all.last().is_some_and(|last| last.typing == before.typing);
            if !same {
                all.push(before);
            }
            if all.len() > STEPS_BACK {
                all.remove(0);
            }
        });
    }

    /// Writes to the store; what it has no room for is kept here and said.
    fn store(self, draft: &Draft, seen: u64) -> Option<Saving> {
        let saving = self
            .bench
            .read_store(|store| store.save_authored(draft, seen, device::now()));
        match &saving {
            Some(Saving::Saved(number)) => {
                self.saved.set_value(*number);
                self.past.unsaved.set(None);
            }
            Some(_) => {}
            None => self.past.unsaved.set(Some(draft.clone())),
        }
        saving
    }

    /// Takes up what another page saved.
    fn look_elsewhere(self) {
        let id = self.id();
        let Some(Some(stored)) = self.bench.read_store(|store| store.authored(&id)) else {
            return;
        };
        let changed = self.draft.with_untracked(|draft| *draft != stored.draft);
        let unsaved = self.past.unsaved.with_untracked(Option::is_some);
        if !changed || unsaved {
            return;
        }
        if stored.saved == self.saved.get_value() {
            // Both pages saved at the same moment, and the other came last.
            self.bench.refuse(words::OVERWRITTEN);
        }
        self.saved.set_value(stored.saved);
        self.past.before.set(Vec::new());
        self.draft.set(stored.draft);
    }

    /// What undoing would take back.
    pub fn last_change(self) -> Option<String> {
        self.past
            .before
            .with(|all| all.last().map(|before| before.what.clone()))
    }

    /// Takes the last change back.
    pub fn undo(self) {
        let mut last = None;
        self.past.before.update(|all| last = all.pop());
        let Some(before) = last else {
            return;
        };
        match self.store(&before.draft, self.saved.get_value()) {
            Some(Saving::ChangedElsewhere(_)) => {
                self.look_elsewhere();
                self.bench.refuse(words::NOT_UNDONE);
            }
            saving => {
                self.draft.set(before.draft);
                // Where it is not stored, that stands there already.
                match saving {
                    Some(Saving::Gone) => self.bench.refuse(words::GONE_ELSEWHERE),
                    Some(_) => self.bench.say_when_kept(words::undone(&before.what)),
                    None => {}
                }
            }
        }
    }

    /// Forgets the draft once it is published or thrown away.
    pub fn put_away(self) {
        self.past.before.set(Vec::new());
        self.past.unsaved.set(None);
    }
}
