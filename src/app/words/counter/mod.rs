//! Where a set comes in and goes out.

pub mod dealings;
pub mod details;
pub mod finish;
pub mod history;
pub mod jobs;
pub mod loose;
pub mod price;
pub mod report;
pub mod start;
pub mod verify;
