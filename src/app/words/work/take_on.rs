//! Another procedure for a job.

pub const LEAD: &str = "Its steps join the job. It keeps its own revision.";
pub const TAKE_IT_ON: &str = "Take it on";
pub const ANOTHER: &str = "Another procedure";
pub const ALL_HERE: &str = "This job is worked by every procedure on this device already.";
