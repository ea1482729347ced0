//! The start of a job.

pub const WHICH_PROCEDURE: &str = "Choose a procedure";
pub const NONE_YET: &str = "None yet: book the set in";
pub const NONE_YET_HINT: &str =
    "Procedures and steps of your own come to the job as the work shows what is needed.";
pub const BY_A_PROCEDURE: &str = "By a procedure";
pub const ANOTHER_PROCEDURE: &str = "Change procedure";
pub const LEFT_OVER: &str =
    "What stands below is from an intake that was not ended. Look whether it is of this set.";
pub const START_THE_JOB: &str = "Start the job";
pub const START_WITH_A_PHOTO: &str = "Start it with a photo";
