//! Documents in and out: procedures, jobs and backups as JSON files, what an import will do, and the
//! report that goes to the owner.

mod compare;
pub mod demo;
mod document;
mod import;
mod parcels;
mod picture;
pub mod report;
mod starters;

pub use document::{
    Backup, BackupJob, Document, DocumentError, Faulty, File, MAX_BYTES, Part, VERSION, file_name,
    open, read, write, write_with,
};
pub use import::{Choice, Here, Item, Outcome, Subject, preview};
pub use parcels::parcels;
pub use picture::{MAX_PICTURE, Picture, PictureError, PictureType};
pub use starters::{Starter, starters};
