//! Documents in and out: procedures, jobs and backups as JSON files, what an import will do, and the
//! report that goes to the owner.

pub mod demo;
mod document;
mod import;
pub mod report;

pub use document::{
    Backup, BackupJob, Document, DocumentError, MAX_BYTES, VERSION, file_name, read, write,
};
pub use import::{Choice, Here, Item, Outcome, Subject, preview};
