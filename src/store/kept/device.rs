//! What is set for this device alone: it goes into no file and on no report.

use crate::store::keys::DEVICE;
use crate::store::storage::{Storage, StorageError};
use crate::store::{Store, records};
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// Light or dark. The page reads it before it paints anything (`public/theme.js`).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Theme {
    /// As the device is set.
    #[default]
    Device,
    /// Always light.
    Light,
    /// Always dark.
    Dark,
}

/// Who has done as many steps needs no line that says what to do.
const ENOUGH: u8 = 10;

/// What is set for this device, and what whoever works here has met. What a later version adds is
/// passed over.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
pub struct OnDevice {
    /// Light or dark.
    pub theme: Theme,
    /// The kinds of step whose line for the first time was put away, by their names.
    #[serde(skip_serializing_if = "BTreeSet::is_empty")]
    met: BTreeSet<String>,
    /// How many steps were done here, up to as many as count.
    done: u8,
}

impl OnDevice {
    /// Whether steps of a kind say what to do.
    pub fn introduces(&self, kind: &str) -> bool {
        self.is_new_here() && !self.met.contains(kind)
    }

    /// Whether too few steps were done here to know the work.
    pub const fn is_new_here(&self) -> bool {
        self.done < ENOUGH
    }

    /// The line of a kind was put away.
    pub fn meet(&mut self, kind: &str) {
        self.met.insert(kind.to_owned());
    }

    /// So many steps more were done here.
    pub fn count(&mut self, steps: usize) {
        let steps = u8::try_from(steps).unwrap_or(ENOUGH);
        self.done = self.done.saturating_add(steps).min(ENOUGH);
    }
}

pub(in crate::store) fn read(text: &str) -> Option<OnDevice> {
    serde_json::from_str(text).ok()
}

impl<S: Storage> Store<S> {
    /// What is set for this device; as on a new one where that can't be read.
    pub fn on_device(&self) -> OnDevice {
        let text = self.storage.get(DEVICE).ok().flatten();
        text.and_then(|text| read(&text)).unwrap_or_default()
    }

    /// Writes what is set for this device.
    pub fn save_on_device(&self, on_device: &OnDevice) -> Result<(), StorageError> {
        let stored = self.storage.get(DEVICE)?;
        if stored.is_some_and(|text| read(&text).is_none()) {
            self.move_aside(DEVICE)?;
        }
        self.write(DEVICE, &records::json(on_device))
    }
}

#[cfg(test)]
mod tests {
    use super::{OnDevice, Theme, read};

    #[test]
    fn a_kind_says_what_to_do_until_it_is_put_away_or_ten_steps_are_done() {
        let mut here = OnDevice::default();
        assert!(here.introduces("read") && here.introduces("wire"));
        here.meet("read");
        assert!(!here.introduces("read") && here.introduces("wire"));
        here.count(9);
        assert!(here.introduces("wire"));
        here.count(1);
        assert!(!here.introduces("wire"));
        here.count(usize::MAX);
        assert!(!here.is_new_here());
    }

    #[test]
    fn what_others_wrote_is_read_as_far_as_it_goes() {
        assert_eq!(read("{}"), Some(OnDevice::default()));
        let later = read(r#"{"theme":"dark","done":3,"more":{"x":1}}"#);
        let later = later.expect("a field more is no reason to lose the rest");
        assert_eq!((later.theme, later.done), (Theme::Dark, 3));
        assert_eq!(read(r#"{"theme":"sepia"}"#), None);
        let text = crate::store::records::json(&later);
        assert_eq!(read(&text), Some(later));
    }
}
