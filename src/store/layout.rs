//! The number of the layout, and the way from each earlier one to the present.

use super::{Storage, StorageError};

/// The layout that this version writes.
pub const LAYOUT: u32 = 1;

const KEY: &str = "halfturn:layout";

/// One step of the way: from the layout with the number of its place to the next one. A step
/// that was cut off is simply taken again, so each must bear being repeated.
type Migration = fn(&dyn Storage) -> Result<(), StorageError>;

/// From layout 0, a storage that holds nothing of ours yet, there is nothing to change.
const WAY: [Migration; LAYOUT as usize] = [|_| Ok(())];

/// The layout that the storage is in; 0 where it was never used.
fn found(storage: &dyn Storage) -> Result<u32, StorageError> {
    let Some(text) = storage.get(KEY)? else {
        return Ok(0);
    };
    text.parse().map_err(|_| StorageError::Unreadable {
        key: KEY.to_owned(),
        why: "it is not the number of a layout".to_owned(),
    })
}

/// Whether this version may write.
pub(super) fn check(storage: &dyn Storage) -> Result<(), StorageError> {
    match found(storage)? {
        newer if newer > LAYOUT => Err(StorageError::Newer(newer)),
        _ => Ok(()),
    }
}

/// Brings the storage to the present layout, step by step.
pub(super) fn bring_up(storage: &dyn Storage) -> Result<(), StorageError> {
    check(storage)?;
    for number in found(storage)?..LAYOUT {
        WAY[number as usize](storage)?;
        storage.set(KEY, &(number + 1).to_string())?;
    }
    Ok(())
}
