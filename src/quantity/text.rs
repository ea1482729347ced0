//! Texts in sentences about them.

/// The beginning of a text that is quoted in an error, so that a hostile one stays short.
pub(crate) fn excerpt(text: &str) -> String {
    const MOST: usize = 24;
    if text.chars().count() <= MOST {
        return text.to_owned();
    }
    text.chars().take(MOST).chain(['…']).collect()
}
