//! Where a set comes in and goes out: jobs, intake, hand-over, what is owed and waited for.

pub mod blank;
pub mod care;
pub mod dealings;
pub mod details;
pub mod finish;
pub mod header_form;
pub mod history;
pub mod jobs;
pub mod loose;
pub mod paper;
pub mod price;
pub mod report;
pub mod start;
pub mod verify;
