//! What follows from the log, told to most of a screen only once the verdict is painted.

use leptos::prelude::*;

/// A value of which most readers hear a moment after an entry: first comes the frame that says
/// what became of it, then all that goes with it. Whoever reads it has always what it is now; only
/// the call to look again waits.
pub struct Late<T: Send + Sync + 'static> {
    now: Memo<T>,
    told: Memo<u64>,
}

impl<T: Send + Sync + 'static> Clone for Late<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T: Send + Sync + 'static> Copy for Late<T> {}

impl<T: PartialEq + Send + Sync + 'static> Late<T> {
    /// What changes with a value, and is not told while `is_held`.
    pub fn new(now: Memo<T>, is_held: RwSignal<bool>) -> Self {
        let changes = Memo::new(move |before: Option<&u64>| {
            // Only what was worked out once can be said to have changed.
            now.with(|_| ());
            before.map_or(0, |before| before + 1)
        });
        let told = Memo::new(move |before: Option<&u64>| match (is_held.get(), before) {
            (true, Some(before)) => *before,
            _ => changes.get(),
        });
        Late { now, told }
    }

    /// The same for who has to hear at once.
    pub fn now(self) -> Memo<T> {
        self.now
    }

    /// Calls the reader again once it is told of a change.
    pub fn track(self) {
        self.told.with(|_| ());
    }

    /// Reads it, and hears of changes.
    pub fn with<U>(self, read: impl FnOnce(&T) -> U) -> U {
        self.track();
        self.now.with_untracked(read)
    }

    /// Reads it once.
    pub fn with_untracked<U>(self, read: impl FnOnce(&T) -> U) -> U {
        self.now.with_untracked(read)
    }
}

impl<T: Clone + PartialEq + Send + Sync + 'static> Late<T> {
    /// A copy, and hears of changes.
    pub fn get(self) -> T {
        self.with(T::clone)
    }

    /// A copy of what it is now.
    pub fn get_untracked(self) -> T {
        self.with_untracked(T::clone)
    }
}
