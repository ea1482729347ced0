//! What is left to do in a step.

/// What is left to do in a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Status {
    /// Not done yet.
    Open,
    /// Read or left outside its tolerance.
    Outside,
    /// Inside, but not proved under the job's rule.
    Unproved,
    /// Inside, but still drifting beyond the limit that the step sets.
    Unsettled,
    /// Something was turned since that moves its reading.
    LookAgain,
    /// A stop that was confirmed; a break has ended that.
    Lapsed,
    /// A warm-up that was done; a break has ended that, and readings follow it.
    WaitAgain,
    /// Done, and inside where there is a tolerance.
    Done,
    /// Left out or left outside on purpose, with a reason.
    Waived,
}

impl Status {
    /// Whether it keeps the job from being finished.
    pub const fn is_owed(self) -> bool {
        matches!(
            self,
            Status::Open
                | Status::Outside
                | Status::Unproved
                | Status::Unsettled
                | Status::LookAgain
                | Status::Lapsed
                | Status::WaitAgain
        )
    }

    /// The state in a word or two.
    pub const fn name(self) -> &'static str {
        match self {
            Status::Open => "open",
            Status::Outside => "outside",
            Status::Unproved => "conformity not shown",
            Status::Unsettled => "not settled",
            Status::LookAgain => "recheck",
            Status::Lapsed => "re-confirm",
            Status::WaitAgain => "wait again",
            Status::Done => "done",
            Status::Waived => "waived",
        }
    }
}
