//! Every word of the sheet, the label and the check, in one place. Another language is another
//! copy of this file.

mod columns;
mod done;
mod files;
mod foot;
mod head;
mod limits;
mod phrases;
mod pictures;
mod procedure;
mod readings;
mod result;
mod summary;
mod titles;
mod whole;

pub use self::columns::*;
pub use self::done::*;
pub use self::files::*;
pub use self::foot::*;
pub use self::head::*;
pub use self::limits::*;
pub use self::phrases::*;
pub use self::pictures::*;
pub use self::procedure::*;
pub use self::readings::*;
pub use self::result::*;
pub use self::summary::*;
pub use self::titles::*;
pub use self::whole::*;

/// The language of these words, for screen readers and hyphenation (BCP 47).
pub const LANGUAGE: &str = "en";
