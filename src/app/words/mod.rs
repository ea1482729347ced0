//! All the app says: labels, headings, buttons, hints, sentences, names for screen readers.
//!
//! One module a screen, or a part that screens share. What never changes is a constant; what
//! holds a value, or a word that follows a number, is a small function, for another language
//! puts values elsewhere and has other plural forms. What is spelt otherwise in the United States
//! goes through `spelling`. Values arrive ready to be shown: numbers,
//! days and times have been put into the form that the user writes them in.
//!
//! **Another language** is another copy of this folder with the same names in it, chosen by the
//! `mod words` of the app. The compiler then names whatever is missing. Not in here are the
//! words of the rooms below: the sheet's are in `exchange::report::words`, the names of units,
//! of sums and their fields, of kinds and states, and the sentences of errors stand with their
//! types.

pub mod audio;
pub mod author;
pub mod counter;
pub mod device;
pub mod frame;
pub mod lookup;
pub mod procedures;
pub mod set;
pub mod shared;
pub mod shell;
pub mod spelling;
pub mod work;
