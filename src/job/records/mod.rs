//! What a job is about: faults, parts, papers, photos, and how jobs are found.

pub mod fault_record;
pub mod find;
pub mod heard;
pub mod line;
pub mod loose;
pub mod own;
pub mod papers;
pub mod part;
pub mod photos;
pub mod plate;
