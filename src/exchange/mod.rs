//! Documents in and out: procedures, jobs and backups as JSON files, what an import will do, and the
//! report that goes to the owner.

mod compare;
mod decoder;
pub mod demo;
mod document;
mod images;
mod import;
mod parcels;
mod parts;
pub mod paths;
mod reading;
pub mod report;
mod starters;

pub use compare::of_damaged;
pub use decoder::Decoder;
pub use document::{
    Backup, BackupJob, Document, DocumentError, Faulty, File, MAX_BYTES, MAX_THINGS, Part, Unread,
    VERSION, file_name, read, write, write_with,
};
pub use images::picture::{MAX_PDF, MAX_PICTURE, MAX_PIXELS, Picture, PictureError, PictureType};
pub use images::pixels::size as pixels;
pub use images::wav;
pub use import::{Choice, Here, Item, Outcome, Subject, items, preview};
pub use parcels::parcels;
pub use parts::parts;
pub use reading::{Reading, open};
pub use starters::{Starter, starters};
