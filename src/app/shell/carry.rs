//! Files with their pictures: gathered when one is saved, kept when one is brought in.

use crate::app::platform::device;
use crate::app::platform::device::{DOCUMENT, Parts};
use crate::app::platform::timeline::Stage;
use crate::app::shell::bench::Bench;
use crate::app::shell::slices::{Stopped, Turn};
use crate::app::words::shared;
use crate::app::words::shell::{carry as words, slices as long};
use crate::exchange::{Backup, BackupJob, Document, Picture, Unread, file_name, parcels, parts};
use crate::job::Preferences;
use crate::procedure::{Id, PictureDigest};
use crate::store::{DatabaseError, Pictures};
use leptos::task::spawn_local;

/// What is to go into a file.
#[derive(Clone)]
pub enum Outgoing {
    /// A document that is at hand.
    One(Box<Document>),
    /// What was picked: jobs, and what else there is beside them.
    Several {
        /// All but the jobs.
        shelf: Box<Backup>,
        /// The jobs.
        jobs: Vec<Id>,
    },
    /// Everything on this device.
    All,
}

/// Why there is no document.
enum NoDocument {
    /// The user stopped it.
    Stopped,
    /// Something can't be read, which was told.
    Unreadable,
}

impl From<Stopped> for NoDocument {
    fn from(Stopped: Stopped) -> Self {
        NoDocument::Stopped
    }
}

impl Outgoing {
    /// A document that is at hand.
    pub fn one(document: Document) -> Self {
        Outgoing::One(Box::new(document))
    }

    /// A document of the same kind and name, known before anything is gathered.
    pub fn stand_in(&self) -> Document {
        let preferences = match self {
            Outgoing::One(document) => return Document::clone(document),
            Outgoing::Several { shelf, .. } => shelf.preferences.clone(),
            Outgoing::All => Some(Preferences::default()),
        };
        Document::Backup(Backup {
            preferences,
            ..Backup::default()
        })
    }

    /// The name for its file.
    pub fn file_name(&self) -> String {
        file_name(&self.stand_in(), &device::iso_date())
    }
}

/// The texts of files that belong together.
pub struct Written {
    /// What they hold.
    pub document: Document,
    /// The first one, which holds the document.
    pub first: Parts,
    /// How many pictures are not in it.
    pub left_out: usize,
}

/// Hands something to the user as a file, together with its pictures.
pub fn save(bench: Bench, outgoing: Outgoing) {
    let Some(turn) = bench.slices.begin() else {
        return bench.refuse(long::BUSY);
    };
    spawn_local(async move {
        match save_in_slices(bench, &turn, outgoing).await {
            Ok(()) | Err(NoDocument::Unreadable) => {}
            Err(NoDocument::Stopped) => bench.say(long::NOTHING_SAVED),
        }
    });
}

async fn save_in_slices(bench: Bench, turn: &Turn, outgoing: Outgoing) -> Result<(), NoDocument> {
    let name = outgoing.file_name();
    let document = gather(bench, turn, outgoing).await?;
    let wanted = document.pictures();
    let text = written(turn, &document, &[]).await?;
    let here = match wanted.is_empty() {
        true => Ok(Vec::new()),
        false => sizes(&document).await,
    };
    let here = match here {
        Ok(here) => here,
        Err(error) => {
            // What was written down is not to wait for what was photographed.
            if hand_over(bench, &name, &text) {
                bench.note_filed(&document);
                bench.refuse(words::without_pictures(&name, error));
            }
            return Ok(());
        }
    };
    let mut missing = wanted.len() - here.len();
    let parcels = parcels(text.len(), &here);
    let further = parcels.len() - 1;
    for (index, parcel) in parcels.into_iter().enumerate() {
        let count = parcel.len();
        let gathered = pictures(parcel).await;
        missing += count - gathered.len();
        let saved = match (index, gathered.as_slice()) {
            (0, []) => hand_over(bench, &name, &text),
            (0, some) => hand_over(bench, &name, &written(turn, &document, some).await?),
            (n, some) => match written(turn, &pictures_alone(), some).await {
                Ok(text) => hand_over(bench, &words::further(&name, n + 1), &text),
                Err(Stopped) => {
                    // The first file has all but the pictures.
                    bench.note_filed(&document);
                    bench.say(words::stopped_after(n));
                    return Ok(());
                }
            },
        };
        if !saved {
            return Ok(());
        }
    }
    // With years of jobs, each of these takes about a frame: handing over, noting, and giving
    // back the memory of the document.
    device::breathe().await;
    bench.note_filed(&document);
    let said = words::saved(&shared::handed_over(&name), further, missing);
    bench.say(said + &words::unread(unread(&document)));
    device::breathe().await;
    Ok(())
}

/// Reads what is to go into a file out of the storage.
async fn gather(bench: Bench, turn: &Turn, outgoing: Outgoing) -> Result<Document, NoDocument> {
    let read = match outgoing {
        Outgoing::One(document) => return Ok(*document),
        Outgoing::Several { shelf, jobs } => Some((*shelf, jobs)),
        Outgoing::All => bench.read_store(|store| Ok((store.shelf()?, store.job_ids()?))),
    };
    let (shelf, ids) = read.ok_or(NoDocument::Unreadable)?;
    let known = bench.read_store(|store| store.procedures_by_digest());
    let known = known.ok_or(NoDocument::Unreadable)?;
    let mut shelf = shelf;
    let mut jobs: Vec<BackupJob> = Vec::new();
    let mut is_readable = true;
    let all = ids.len();
    let read = ids.iter().enumerate().map_while(|(index, id)| {
        let job = bench.read_store(|store| store.backup_job(id, &known));
        is_readable = job.is_some();
        Some((index, job?))
    });
    let take = |(index, job): (usize, Option<Result<BackupJob, Unread>>)| {
        match job {
            Some(Ok(job)) => jobs.push(job),
            Some(Err(unread)) => shelf.unread.push(unread),
            None => {}
        }
        index + 1
    };
    turn.run(Stage::Gathering, all, read, take).await?;
    match is_readable {
        true => Ok(Document::Backup(shelf.with_jobs(jobs, known))),
        false => Err(NoDocument::Unreadable),
    }
}

/// How much in a document could not be read.
pub fn unread(document: &Document) -> usize {
    match document {
        Document::Backup(backup) => backup.unread.len(),
        _ => 0,
    }
}

/// The text of a document with these pictures.
async fn written(turn: &Turn, document: &Document, pictures: &[Picture]) -> Result<Parts, Stopped> {
    let things = match document {
        Document::Backup(backup) => backup.things(),
        _ => 1,
    };
    let mut text = Parts::default();
    let mut count = 0;
    let take = |part: String| {
        text.push(&part);
        count += 1;
        count
    };
    let all = things + pictures.len();
    turn.run(Stage::Writing, all, parts(document, pictures), take)
        .await?;
    Ok(text)
}

/// A file of nothing, to carry the pictures that had no room in the first one.
fn pictures_alone() -> Document {
    Document::Backup(Backup::default())
}

/// The pictures of a document that are on this device, with their sizes, in an order of their
/// own, so that the same content gives the same file.
async fn sizes(document: &Document) -> Result<Vec<(PictureDigest, usize)>, DatabaseError> {
    let wanted = document.pictures();
    let mut here = Pictures.sizes().await?;
    here.retain(|(digest, _)| wanted.contains(digest));
    here.sort();
    Ok(here)
}

/// Those of the pictures that can be read.
async fn pictures(digests: Vec<PictureDigest>) -> Vec<Picture> {
    let mut gathered = Vec::new();
    for digest in digests {
        gathered.extend(Pictures.get_paper(&digest).await.ok());
    }
    gathered
}

/// The one file that holds a document and, as far as there is room, its pictures. Where there
/// is none, that is told.
pub async fn in_one_file(bench: Bench, outgoing: Outgoing) -> Option<Written> {
    let Some(turn) = bench.slices.begin() else {
        bench.refuse(long::BUSY);
        return None;
    };
    match write_in_one(bench, &turn, outgoing).await {
        Ok(written) => Some(written),
        Err(NoDocument::Unreadable) => None,
        Err(NoDocument::Stopped) => {
            bench.say(long::NOTHING_SAVED);
            None
        }
    }
}

async fn write_in_one(
    bench: Bench,
    turn: &Turn,
    outgoing: Outgoing,
) -> Result<Written, NoDocument> {
    let document = gather(bench, turn, outgoing).await?;
    let wanted = document.pictures().len();
    let mut first = written(turn, &document, &[]).await?;
    let mut gathered = Vec::new();
    if wanted > 0 {
        let here = sizes(&document).await.unwrap_or_default();
        let own = parcels(first.len(), &here).into_iter().next();
        gathered = pictures(own.unwrap_or_default()).await;
        if !gathered.is_empty() {
            first = written(turn, &document, &gathered).await?;
        }
    }
    Ok(Written {
        document,
        first,
        left_out: wanted - gathered.len(),
    })
}

fn hand_over(bench: Bench, name: &str, text: &Parts) -> bool {
    let saved = device::save_file_as(name, text, DOCUMENT).is_ok();
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
