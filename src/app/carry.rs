//! Files with their pictures: gathered when one is saved, kept when one is brought in.

use super::bench::Bench;
use super::device;
use super::words::{carry as words, shared};
use crate::exchange::{Backup, Document, Picture, file_name, parcels, write, write_with};
use crate::store::Pictures;
use leptos::task::spawn_local;

/// Hands a document to the user as a file, together with its pictures.
pub fn save(bench: Bench, document: &Document) {
    let name = file_name(document, &device::iso_date());
    if document.pictures().is_empty() {
        if hand_over(bench, &name, &write(document)) {
            bench.note_filed(document);
            bench.say(shared::saved_as(&name));
        }
        return;
    }
    let document = document.clone();
    spawn_local(async move { save_with_pictures(bench, document, name).await });
}

async fn save_with_pictures(bench: Bench, document: Document, name: String) {
    let wanted = document.pictures();
    let text = write(&document);
    let mut here = match Pictures.sizes().await {
        Ok(sizes) => sizes,
        Err(error) => {
            // What was written down is not to wait for what was photographed.
            if hand_over(bench, &name, &text) {
                bench.note_filed(&document);
                bench.refuse(words::saved_without(&name, error));
            }
            return;
        }
    };
    here.retain(|(digest, _)| wanted.contains(digest));
    // So that the same content gives the same file.
    here.sort();
    let mut missing = wanted.len() - here.len();
    let parcels = parcels(text.len(), &here);
    let further = parcels.len() - 1;
    for (index, parcel) in parcels.into_iter().enumerate() {
        let mut gathered = Vec::new();
        for digest in parcel {
            match Pictures.get(&digest).await {
                Ok(picture) => gathered.push(picture),
                Err(_) => missing += 1,
            }
        }
        let (name, text) = match index {
            0 => (name.clone(), write_with(&document, &gathered)),
            n => (
                words::further(&name, n + 1),
                write_with(&pictures_alone(), &gathered),
            ),
        };
        if !hand_over(bench, &name, &text) {
            return;
        }
    }
    bench.note_filed(&document);
    bench.say(words::saved(&shared::saved_as(&name), further, missing));
}

/// A file of nothing, to carry the pictures that had no room in the first one.
fn pictures_alone() -> Document {
    Document::Backup(Backup::default())
}

/// The text of the one file that holds a document and, as far as there is room, its pictures;
/// and how many pictures are not in it.
pub async fn text(document: &Document) -> (String, usize) {
    let wanted = document.pictures();
    let mut here = Pictures.sizes().await.unwrap_or_default();
    here.retain(|(digest, _)| wanted.contains(digest));
    here.sort();
    let parcels = parcels(write(document).len(), &here);
    let mut gathered = Vec::new();
    for digest in parcels.into_iter().next().unwrap_or_default() {
        gathered.extend(Pictures.get(&digest).await.ok());
    }
    let left_out = wanted.len() - gathered.len();
    (write_with(document, &gathered), left_out)
}

fn hand_over(bench: Bench, name: &str, text: &str) -> bool {
    let saved = device::save_file(name, text).is_ok();
    if !saved {
        bench.refuse(shared::NOT_SAVED);
    }
    saved
}

/// Keeps the pictures of a file; whether all are kept. What kept them off is told.
pub async fn keep(bench: Bench, arrived: &[Picture]) -> bool {
    for picture in arrived {
        if let Err(error) = Pictures.put(picture).await {
            bench.refuse(error.to_string());
            return false;
        }
    }
    true
}
