//! The file that can be saved when the app has stopped on an error: the storage as it was,
//! taken in like a backup.

use super::{MemoryStorage, PREFERENCES, PREFIX, Storage, StorageError, Store, job_key};
use crate::exchange::{Document, DocumentError, Faulty, File, Part};
use std::collections::BTreeMap;

/// Reads such a file; nothing where the text is none.
pub fn rescue(text: &str) -> Option<File> {
    let kept: BTreeMap<String, String> = serde_json::from_str(text).ok()?;
    let is_ours = !kept.is_empty() && kept.keys().all(|key| key.starts_with(PREFIX));
    is_ours.then(|| read(&kept).ok()).flatten()
}

fn read(kept: &BTreeMap<String, String>) -> Result<File, StorageError> {
    let memory = MemoryStorage::default();
    for (key, value) in kept {
        (&memory).set(key, value)?;
    }
    // One in the layout of a later version is read as far as that goes.
    let (store, _) = Store::open(&memory);
    let asides = store.contents()?.asides;
    let mut backup = store.backup()?;
    let has_settings = kept.contains_key(PREFERENCES);
    if !has_settings || asides.iter().any(|aside| aside.key == PREFERENCES) {
        backup.preferences = None;
    }
    let kept = |name: String, what: String| Faulty {
        part: Part::Kept,
        name: Some(name),
        why: DocumentError::Unsound {
            place: String::new(),
            what,
        },
    };
    let asides = asides.into_iter().map(|aside| kept(aside.key, aside.why));
    let mut faulty: Vec<Faulty> = asides.collect();
    backup.jobs.retain(|job| match job.log.file_fault() {
        None => true,
        Some(fault) => {
            faulty.push(kept(job_key(&job.id), fault.to_string()));
            false
        }
    });
    Ok(File {
        document: Document::Backup(backup),
        pictures: Vec::new(),
        faulty,
    })
}
