//! Entries that are not what was entered.

/// What a damaged entry says now, and where it says that it belongs.
pub fn remains(place: &str, said: &str) -> String {
    format!("{place}: now reads {said}")
}

/// What is said behind it where someone set it aside.
pub fn set_aside(by: &str, reason: &str) -> String {
    format!(" (set aside by {by}: {reason})")
}

/// That entries are damaged, all of them set aside.
pub fn all_set_aside(count: usize) -> String {
    match count {
        1 => "1 entry of this job is damaged and set aside: it counts for nothing.".to_owned(),
        n => format!("{n} entries of this job are damaged and set aside: they count for nothing."),
    }
}
