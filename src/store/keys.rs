//! The keys under which things lie.

use crate::procedure::Id;

pub(super) const PREFIX: &str = "halfturn:";

pub(super) const PREFERENCES: &str = "halfturn:preferences";

pub(super) const DEVICE: &str = "halfturn:device";

pub(super) const KIT: &str = "halfturn:kit";

pub(super) const CHANNELS: &str = "halfturn:channels";

pub(super) const PLACE: &str = "halfturn:place";

pub(super) const STEP: &str = "halfturn:step";

pub(super) const JOB: &str = "halfturn:job:";

pub(super) const LINE: &str = "halfturn:line:";

pub(super) const PROCEDURE: &str = "halfturn:procedure:";

pub(super) const DRAFT: &str = "halfturn:draft:";

pub(super) const FORMS: &str = "halfturn:forms";

pub(super) const SUM: &str = "halfturn:sum:";

pub(super) const AUTHORING: &str = "halfturn:authoring:";

pub(super) const REMOVED: &str = "halfturn:removed:";

pub(super) const COUNT: &str = "halfturn:count";

pub(super) fn job_key(id: &Id) -> String {
    format!("{JOB}{id}")
}

pub(super) fn removed_key(id: &Id) -> String {
    format!("{REMOVED}{id}")
}

pub(super) fn line_key(id: &Id) -> String {
    format!("{LINE}{id}")
}

pub(super) fn procedure_key(digest: &str) -> String {
    format!("{PROCEDURE}{digest}")
}

pub(super) fn draft_key(job: &Id, step: &Id) -> String {
    format!("{DRAFT}{job}:{step}")
}

pub(super) fn sum_key(id: &str) -> String {
    format!("{SUM}{id}")
}

pub(super) fn authoring_key(id: &Id) -> String {
    format!("{AUTHORING}{id}")
}
