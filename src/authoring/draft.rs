//! A procedure as it is being written: texts as typed, so that what is not right yet is kept too.

mod written;
mod written_step;

pub use crate::authoring::draft::written::{
    Draft, DraftAdjuster, DraftInstrument, DraftPoint, DraftSection,
};
pub use crate::authoring::draft::written_step::{DraftRepeat, DraftStep, DraftTarget};

mod cells;
mod cross_check;
mod kinds;
mod limits;
mod measured;
mod plan;
mod several;
mod step;
mod typing;
mod whole;

pub use self::cells::{cells, line_of};
pub use self::kinds::{ConfirmedBy, Kind, TargetKind, UntilKind};
pub use self::limits::{read_margin, read_tolerance, typed_tolerance};
pub use self::typing::typed_path;
pub use self::whole::revision_behind;
pub use crate::authoring::draft::written::{DraftAxis, DraftTable, Heading, Limit};
pub use crate::authoring::draft::written::{DraftMode, DraftPlan, DraftTerm};
pub use crate::authoring::draft::written_step::{ComparisonKind, DraftCrossCheck};

pub(in crate::authoring) use self::typing::{typed, typed_target};

use crate::procedure::Field;

/// What can't be read of a draft, and where.
pub type Unread = (crate::procedure::Place, Field, String);

/// Says what can't be read of a field.
type Say<'a> = &'a mut dyn FnMut(Field, String);

/// Something that goes by a name.
pub(super) trait Named {
    /// The name as typed.
    fn name(&self) -> &str;
    /// The name, to be changed.
    fn name_mut(&mut self) -> &mut String;
}

macro_rules! named {
    ($($kind:ty),*) => {$(
        impl Named for $kind {
            fn name(&self) -> &str {
                &self.name
            }
            fn name_mut(&mut self) -> &mut String {
                &mut self.name
            }
        }
    )*};
}
named!(DraftAdjuster, DraftPoint, DraftInstrument);

/// The lines of a text that have something in them.
pub(super) fn lines(text: &str) -> Vec<String> {
    text.lines()
        .map(|line| line.trim().to_owned())
        .filter(|line| !line.is_empty())
        .collect()
}

/// What a field says wrong.
type Wrong = (Field, String);
