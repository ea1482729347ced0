//! What a job is about: faults, parts, papers, photos, and how jobs are found.

pub mod cure;
pub mod details;
pub mod fault_record;
pub mod find;
pub mod heard;
pub mod line;
pub mod loose;
pub mod own;
pub mod papers;
pub mod part;
pub mod parts_due;
pub mod photos;
pub mod plain;
pub mod plate;
