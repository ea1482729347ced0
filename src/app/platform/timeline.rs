//! The parts of long work, as the page's timeline has them.

/// A part of long work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// The bytes of a file become its text.
    Loading,
    /// The text of a file becomes what it holds.
    Reading,
    /// What a file holds is compared with what is here.
    Comparing,
    /// What was ticked is stored.
    Taking,
    /// What goes into a file is read out of the storage.
    Gathering,
    /// It becomes the text of a file.
    Writing,
}

impl Stage {
    /// What it is called in the page's timeline (User Timing, W3C), for who measures it.
    pub const fn mark(self) -> &'static str {
        match self {
            Stage::Loading => "halfturn-loading",
            Stage::Reading => "halfturn-reading",
            Stage::Comparing => "halfturn-comparing",
            Stage::Taking => "halfturn-taking",
            Stage::Gathering => "halfturn-gathering",
            Stage::Writing => "halfturn-writing",
        }
    }
}
