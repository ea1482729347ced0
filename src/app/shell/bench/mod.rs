//! What all screens share: the store, the job in hand, and what is to be told to the user.

mod files;
mod follow;
pub mod keeping;
mod known;
pub mod late;
pub mod long_work;
mod notice;
mod open;
mod record;
mod say;
mod typed;

pub use self::notice::{Notice, Offer, Weight};
pub use self::open::resume;

use crate::app::shell::bench::keeping::Safekeeping;
use crate::app::shell::bench::late::Late;
use crate::app::shell::route::Route;
use crate::app::shell::route::parts::{Bringing, Part};
use crate::app::shell::slices::Slices;
use crate::job::{Job, Line, Preferences, Progress};
use crate::metrology::inference::kindred::Kindred;
use crate::procedure::{Id, PictureDigest};
use crate::quantity::DecimalSign;
use crate::store::{AtRisk, BrowserStorage, OnDevice, StorageError, Store, Unchecked};
use leptos::prelude::*;
use std::sync::Arc;

/// The shared state, handed to every screen as context.
#[derive(Clone, Copy)]
pub struct Bench {
    pub(in crate::app) store: StoredValue<Store<BrowserStorage>>,
    /// Whether the page was started without an address, to go on where the last one ended.
    pub(in crate::app) resumes: bool,
    /// What fetches parts of the program.
    bring: StoredValue<fn(Part) -> Bringing>,
    /// What is on its way to the disk.
    pub safekeeping: Safekeeping,
    /// Long work that may be going on.
    pub slices: Slices,
    /// The screen shown.
    pub route: RwSignal<Route>,
    /// The step last looked at, which other screens lead back to.
    pub last_step: RwSignal<Option<Route>>,
    /// The job that the screen is about, if it is about one.
    pub job: RwSignal<Option<Job>>,
    /// What follows from that job's log.
    pub progress: Late<Option<Progress>>,
    /// Whether a verdict is to be painted before the rest of the screen hears of its reading.
    pub(in crate::app) is_held: RwSignal<bool>,
    /// The technician's settings.
    pub preferences: RwSignal<Preferences>,
    /// What is set for this device alone.
    pub on_device: RwSignal<OnDevice>,
    /// The cell of a table that was read on the screen before this one.
    pub walked: RwSignal<Option<Id>>,
    /// What is to be told.
    pub notice: RwSignal<Option<Notice>>,
    /// Why the storage can't be used, if it can't.
    pub trouble: RwSignal<Option<StorageError>>,
    /// A job that could not be stored, as it should be.
    pub unsaved: RwSignal<Option<Job>>,
    /// Counts the changes of the storage, so that lists are read anew.
    pub changes: RwSignal<u32>,
    /// All jobs in short, the latest touched first.
    pub lines: Memo<Vec<Arc<Line>>>,
    /// What of the work here is in no saved file.
    pub at_risk: Memo<Option<AtRisk>>,
    /// The paper that stays beside the steps on a wide screen.
    pub beside: RwSignal<Option<PictureDigest>>,
    /// The job in hand after a start, until it is known that its procedure is what it should be.
    unchecked: StoredValue<Option<Unchecked>>,
    /// The visits before that were read last, by the jobs that they were.
    visits: StoredValue<Visits>,
    /// What earlier jobs told last.
    kindred: StoredValue<Option<Told>>,
}

/// What earlier jobs told of a chase, and which these were.
#[derive(Clone)]
struct Told {
    steps: Vec<Id>,
    /// The job that asked, and the earlier ones as they were.
    job: Id,
    by: Vec<AsItWas>,
    kindred: Option<Arc<Kindred>>,
}

/// A job when it was read: which, when it was touched last, and how many entries it had.
type AsItWas = (Id, i64, usize);

/// Visits of a set, and the jobs that they were when they were read.
type Visits = (Vec<AsItWas>, Arc<Vec<Progress>>);

/// The shared state.
pub fn use_bench() -> Bench {
    expect_context()
}

impl Bench {
    /// Whether the job in hand takes entries: there is one, and it is not signed off.
    pub fn is_open(self) -> bool {
        self.progress
            .with(|p| p.as_ref().is_some_and(|p| p.signed_off.is_none()))
    }

    /// The decimal sign in use.
    pub fn sign(self) -> DecimalSign {
        self.preferences
            .with(|preferences| preferences.decimal_sign)
    }

    /// The decimal sign in use, for what is done once.
    pub fn sign_now(self) -> DecimalSign {
        self.preferences
            .with_untracked(|preferences| preferences.decimal_sign)
    }

    /// Changes what is set for this device. Nothing that a list shows depends on it.
    pub fn change_on_device(self, change: impl FnOnce(&mut OnDevice)) {
        let mut on_device = self.on_device.get_untracked();
        change(&mut on_device);
        let save = |store: &Store<BrowserStorage>| store.save_on_device(&on_device);
        if self.read_store(save).is_some() {
            self.on_device.set(on_device);
        }
    }

    /// Lets something be done with the store, and says so when it fails.
    pub fn with_store<T>(
        self,
        act: impl FnOnce(&Store<BrowserStorage>) -> Result<T, StorageError>,
    ) -> Option<T> {
        let outcome = self.store.with_value(act);
        self.changes.update(|count| *count += 1);
        match outcome {
            Ok(value) => Some(value),
            Err(error) => {
                self.refuse(error.to_string());
                None
            }
        }
    }

    /// The same for what no list on any screen shows, so that none is read anew.
    pub fn read_store<T>(
        self,
        act: impl FnOnce(&Store<BrowserStorage>) -> Result<T, StorageError>,
    ) -> Option<T> {
        let refused = |error: StorageError| self.refuse(error.to_string());
        self.store.with_value(act).map_err(refused).ok()
    }
}
