//! A difference in words.

/// Something that differs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Difference {
    /// What it concerns, such as `Target of step 12`.
    pub what: String,
    /// What it was; nothing for something new.
    pub was: Option<String>,
    /// What it is; nothing for something gone.
    pub is: Option<String>,
}

impl Difference {
    /// The difference as one line, such as `Target of step 12: 9.0015 MHz → 9.0013 MHz`.
    pub fn line(&self) -> String {
        match (&self.was, &self.is) {
            (Some(was), Some(is)) => format!("{}: {was} → {is}", self.what),
            (None, Some(is)) => format!("{}: {is}", self.what),
            (Some(was), None) => format!("{}: {was}", self.what),
            (None, None) => self.what.clone(),
        }
    }
}

/// What stands in the place of a text that was taken out.
const NOTHING: &str = "nothing";

/// A text, where there is one.
pub(super) fn some(text: String) -> Option<String> {
    Some(text).filter(|text| !text.is_empty())
}

pub(super) fn changed(what: String, was: String, is: String) -> Option<Difference> {
    (was != is).then(|| Difference {
        what,
        // What is said no more is no new thing.
        is: some(is).or(some(was.clone()).map(|_| NOTHING.to_owned())),
        was: some(was),
    })
}
