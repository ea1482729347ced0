//! The number of the layout, and the way from each earlier one to the present.

use super::kept::aside;
use super::records::JobRecord;
use crate::store::keys::JOB;
use crate::store::{Storage, StorageError};

/// The layout that this version writes.
pub const LAYOUT: u32 = 3;

pub(super) const KEY: &str = "halfturn:layout";

/// One step of the way: from the layout with the number of its place to the next one. A step
/// that was cut off is simply taken again, so each must bear being repeated.
type Migration = fn(&dyn Storage) -> Result<(), StorageError>;

/// From layout 0, a storage that holds nothing of ours yet, there is nothing to change.
const WAY: [Migration; LAYOUT as usize] = [|_| Ok(()), write_jobs_anew, write_jobs_anew];

/// Since layout 2 the log of a finished job is packed; since layout 3 each event has its check,
/// a packed log one for all. Each job is changed by itself, and all forms are read, so this may
/// be cut off anywhere and begun again.
fn write_jobs_anew(storage: &dyn Storage) -> Result<(), StorageError> {
    for key in storage.keys()? {
        let text = match key.starts_with(JOB) {
            true => storage.get(&key)?.unwrap_or_default(),
            false => continue,
        };
        // What can't be read stays as it is.
        let anew = JobRecord::read(&key, &text).map(|record| record.text());
        if let Ok(anew) = anew
            && anew != text
        {
            match storage.set(&key, &anew) {
                // What there is no room for can be read as it is, and waits for its next writing.
                Ok(()) | Err(StorageError::Full) => {}
                Err(error) => return Err(error),
            }
        }
    }
    Ok(())
}

/// The layout that a mark names.
pub(super) fn read(mark: &str) -> Option<u32> {
    mark.parse().ok()
}

/// The layout that the storage is in; `None` where it was never used, and where the mark can't
/// be read. A damaged mark must not lock the app out for ever, and need not: every record is
/// judged by itself, and none that can't be read is overwritten.
fn found(storage: &dyn Storage) -> Result<Option<u32>, StorageError> {
    Ok(storage.get(KEY)?.as_deref().and_then(read))
}

/// Whether this version may write.
pub(super) fn check(storage: &dyn Storage) -> Result<(), StorageError> {
    match found(storage)? {
        Some(newer) if newer > LAYOUT => Err(StorageError::Newer(newer)),
        _ => Ok(()),
    }
}

/// Brings the storage to the present layout, step by step.
pub(super) fn bring_up(storage: &dyn Storage) -> Result<(), StorageError> {
    check(storage)?;
    let found = match found(storage)? {
        Some(layout) => layout,
        None => {
            aside::keep(storage, KEY)?;
            0
        }
    };
    for number in found..LAYOUT {
        WAY[number as usize](storage)?;
        storage.set(KEY, &(number + 1).to_string())?;
    }
    Ok(())
}
