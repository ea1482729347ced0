//! What screens share.

mod ask;
pub mod board;
mod counts;
mod damage;
mod field_text;
mod frame;
mod header_form;
mod keypad;
mod number_field;
mod picture;
mod picture_input;
mod pictures;
mod proved;
mod removal;
mod scale;
mod text;
mod whole_name;
mod wide;

pub use ask::{Ask, Question};
pub use counts::counts;
pub use damage::damage;
pub use field_text::{field_text, watch_composing};
pub use frame::{FRAME, Frame, Look, Spotted};
pub use header_form::HeaderForm;
pub use keypad::Keypad;
pub use number_field::NumberField;
pub use picture::{Photograph, Seen, fetch, instead};
pub use picture_input::PictureInput;
pub use pictures::{SumPicture, paint};
pub use proved::Proved;
pub use removal::Removal;
pub use scale::{Mark, MarkKind, TargetScale};
pub use text::{StatusMark, capitalised, list_of};
pub use whole_name::whole_name;
pub use wide::Wide;
