//! Long work in slices: the page is painted, and answers, in between. One such work goes on at
//! a time; a bar on every screen says how far it is and can stop it.

use crate::app::platform::device;
use crate::app::platform::timeline::Stage;
use leptos::prelude::*;

/// How long the page may be kept from painting, in milliseconds: less than a frame at 60 Hz.
const SLICE: f64 = 12.0;

/// The long work of the page, if one is going on.
#[derive(Clone, Copy)]
pub struct Slices {
    /// What is being done, once it turned out to be long.
    pub(super) shown: RwSignal<Option<Stage>>,
    /// How much is done, and of how much.
    pub(super) far: RwSignal<(usize, usize)>,
    /// Whether work is going on, shown or not.
    busy: RwSignal<bool>,
    pub(super) stop: StoredValue<bool>,
}

/// The user stopped it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stopped;

/// The right to do long work, until it is dropped.
pub struct Turn(Slices);

impl Drop for Turn {
    fn drop(&mut self) {
        self.0.shown.set(None);
        self.0.busy.set(false);
    }
}

impl Slices {
    /// Nothing is going on.
    pub fn open() -> Self {
        Slices {
            shown: RwSignal::new(None),
            far: RwSignal::new((0, 1)),
            busy: RwSignal::new(false),
            stop: StoredValue::new(false),
        }
    }

    /// Whether work is going on.
    pub fn is_busy(self) -> bool {
        self.busy.get()
    }

    /// Takes a turn; nothing while another one is taken.
    pub fn begin(self) -> Option<Turn> {
        if self.busy.get_untracked() {
            return None;
        }
        self.busy.set(true);
        self.stop.set_value(false);
        Some(Turn(self))
    }
}

impl Turn {
    /// Does one thing of the work after the other. Of each, `take` says how much is done then.
    pub async fn run<T>(
        &self,
        stage: Stage,
        all: usize,
        work: impl Iterator<Item = T>,
        take: impl FnMut(T) -> usize,
    ) -> Result<(), Stopped> {
        device::mark_time(stage.mark());
        let outcome = in_slices(work, take, |done| self.goes_on(stage, done, all)).await;
        device::mark_span(stage.mark());
        outcome
    }

    /// Shows how much is done; whether the work goes on.
    pub fn goes_on(&self, stage: Stage, done: usize, all: usize) -> bool {
        let Turn(slices) = self;
        if slices.shown.get_untracked() != Some(stage) {
            slices.shown.set(Some(stage));
        }
        slices.far.set((done.min(all), all));
        !slices.stop.get_value()
    }
}

/// The same for work that nobody waits for: no bar shows it.
pub async fn in_slices<T>(
    mut work: impl Iterator<Item = T>,
    mut take: impl FnMut(T) -> usize,
    goes_on: impl Fn(usize) -> bool,
) -> Result<(), Stopped> {
    loop {
        let until = device::clock() + SLICE;
        let done = loop {
            let Some(thing) = work.next() else {
                return Ok(());
            };
            let done = take(thing);
            if device::clock() >= until {
                break done;
            }
        };
        if !goes_on(done) {
            return Err(Stopped);
        }
        device::breathe().await;
    }
}
