//! Entries that are not what was entered.

/// What a damaged entry says now, and where it says that it belongs.
pub fn remains(place: &str, said: &str) -> String {
    format!("{place}: now reads {said}")
}
