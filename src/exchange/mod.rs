//! Documents in and out: procedures, jobs and backups as JSON files, and what an import will do.

pub mod demo;
mod document;
mod import;

pub use document::{
    Backup, BackupJob, Document, DocumentError, MAX_BYTES, VERSION, file_name, read, write,
};
pub use import::{Choice, Here, Item, Outcome, Subject, preview};
