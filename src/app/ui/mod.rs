//! What screens share.

mod ask;
pub mod boards;
mod counts;
mod damage;
pub mod fields;
pub mod find;
mod frame;
mod line_map;
mod pictures;
mod proved;
mod removal;
mod scale;
mod turn;
mod wide;

pub use ask::{Ask, Question};
pub use boards::paper_view::{PaperView, Pinning};
pub use boards::picture::{Photograph, Seen, fetch, instead};
pub use boards::picture_input::PictureInput;
pub use boards::pins::{PinGroup, PinKey, PinPalette};
pub use counts::counts;
pub use damage::damage;
pub use fields::field_text::{field_text, watch_composing};
pub use fields::keypad::Keypad;
pub use fields::number_field::NumberField;
pub use fields::term::TermKey;
pub use fields::text::{StatusMark, capitalised, list_of};
pub use fields::whole_name::whole_name;
pub use frame::{FRAME, Frame, Look, Spotted};
pub use line_map::LineMap;
pub use pictures::{SumPicture, paint};
pub use proved::Proved;
pub use removal::Removal;
pub use scale::{Drawing, Mark, MarkKind, TargetScale};
pub use turn::{Turn, TurnMark};
pub use wide::Wide;
