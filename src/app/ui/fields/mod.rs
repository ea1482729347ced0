//! Fields: text, numbers, the keypad, what is on and off.

pub mod field_text;
pub mod form;
pub mod keypad;
pub mod number_field;
pub mod picker;
pub mod term;
pub mod text;
pub mod whole_name;
