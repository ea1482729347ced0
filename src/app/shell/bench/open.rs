//! The bench as it is laid out at the start.

use crate::app::platform::device;
use crate::app::shell::bench::keeping::Safekeeping;
use crate::app::shell::bench::late::Late;
use crate::app::shell::bench::{Bench, Visits};
use crate::app::shell::route::Route;
use crate::app::shell::route::parts::{Bringing, Part};
use crate::app::shell::slices::Slices;
use crate::job::{Job, Line, Progress};
use crate::store;
use crate::store::{BrowserStorage, StorageError, Store};
use leptos::prelude::*;
use std::sync::Arc;

impl Bench {
    /// Opens the storage, finds the screen to show, and listens for changes of both.
    pub fn open(resumes: bool, bring: fn(Part) -> Bringing) -> Self {
        let (store, opened) = Store::open(BrowserStorage);
        store::ask_to_persist();
        let preferences = store.preferences();
        let on_device = RwSignal::new(store.on_device());
        let last_step = store.last_step().map(|address| Route::read(&address));
        let job = RwSignal::new(None::<Job>);
        let store = StoredValue::new(store);
        let trouble = RwSignal::new(opened.err());
        let changes = RwSignal::new(0);
        let lines = Memo::new(move |_| {
            changes.track();
            store.with_value(lines_of).unwrap_or_else(|error| {
                trouble.set(Some(error));
                Vec::new()
            })
        });
        let progress = Memo::new(move |before: Option<&Option<Progress>>| {
            let before = before.and_then(Option::as_ref);
            job.with(|job| Some(job.as_ref()?.progress_after(before)))
        });
        let is_held = RwSignal::new(false);
        let bench = Bench {
            store,
            resumes,
            bring: StoredValue::new(bring),
            safekeeping: Safekeeping::open(),
            slices: Slices::open(),
            route: RwSignal::new(Route::read(&device::hash())),
            last_step: RwSignal::new(last_step),
            job,
            progress: Late::new(progress, is_held),
            is_held,
            preferences: RwSignal::new(preferences),
            on_device,
            walked: RwSignal::new(None),
            notice: RwSignal::new(None),
            trouble,
            unsaved: RwSignal::new(None),
            changes,
            lines,
            at_risk: Memo::new(move |_| {
                changes.track();
                let filed = store.with_value(Store::filed);
                lines.with(|lines| filed.at_risk(lines.iter().map(Arc::as_ref)))
            }),
            beside: RwSignal::new(None),
            unchecked: StoredValue::new(None),
            visits: StoredValue::new(Visits::default()),
            kindred: StoredValue::new(None),
        };
        bench.remember_step(&bench.route.get_untracked());
        bench.load_first(&bench.route.get_untracked());
        device::on_window("hashchange", move |_| bench.moved());
        device::on_window("visibilitychange", move |_| bench.came_back());
        store::on_change_elsewhere(move |_| bench.changed_elsewhere());
        bench.begin_keeping();
        bench
    }
}

fn lines_of(store: &Store<BrowserStorage>) -> Result<Vec<Arc<Line>>, StorageError> {
    let mut lines = store.lines()?;
    lines.sort_by(|a, b| (b.touched, &b.id).cmp(&(a.touched, &a.id)));
    Ok(lines)
}

/// A start without an address goes on where the last one ended. Whether it was one.
pub fn resume() -> bool {
    let fresh = matches!(device::hash().as_str(), "" | "#");
    if fresh && let Some(place) = store::place(&BrowserStorage) {
        device::go(&place);
    }
    fresh
}
