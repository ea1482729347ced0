//! Where values go that can't be read when their place is needed.

use crate::store::keys::PREFIX;
use crate::store::{Storage, StorageError};

/// What the keys of such values begin with.
pub(in crate::store) const ASIDE: &str = "halfturn:aside:";

/// Copies the value under a key, if there is one, to a key of its own, so that its place can
/// be used, and gives that key where it is new. A copy that is there already is not made again,
/// so that trying often costs nothing.
pub(in crate::store) fn keep(
    storage: &dyn Storage,
    key: &str,
) -> Result<Option<String>, StorageError> {
    let Some(text) = storage.get(key)? else {
        return Ok(None);
    };
    let name = key.strip_prefix(PREFIX).unwrap_or(key);
    let mut number = 1;
    loop {
        let place = format!("{ASIDE}{number}:{name}");
        match storage.get(&place)? {
            None => return storage.set(&place, &text).map(|()| Some(place)),
            Some(other) if other == text => return Ok(None),
            Some(_) => number += 1,
        }
    }
}
