//! All the app says: labels, headings, buttons, hints, sentences, names for screen readers.
//!
//! One module a screen, or a part that screens share. What never changes is a constant; what
//! holds a value, or a word that follows a number, is a small function, for another language
//! puts values elsewhere and has other plural forms. Values arrive ready to be shown: numbers,
//! days and times have been put into the form that the user writes them in.
//!
//! **Another language** is another copy of this folder with the same names in it, chosen by the
//! `mod words` of the app. The compiler then names whatever is missing. Not in here are the
//! words of the rooms below: the sheet's are in `exchange::report::words`, the names of units,
//! of sums and their fields, of kinds and states, and the sentences of errors stand with their
//! types.

pub mod abilities;
pub mod author;
pub mod bench;
pub mod board;
pub mod bring_in;
pub mod carry;
pub mod changes;
pub mod damage;
pub mod data;
pub mod dealings;
pub mod details;
pub mod export;
pub mod faults;
pub mod files;
pub mod find;
pub mod finish;
pub mod frame;
pub mod history;
pub mod jobs;
pub mod kit;
pub mod loose;
pub mod open_step;
pub mod own;
pub mod papers;
pub mod parts;
pub mod passes;
pub mod photos;
pub mod pictures;
pub mod plan;
pub mod price;
pub mod procedures;
pub mod put_back;
pub mod reading;
pub mod reference;
pub mod report;
pub mod scan;
pub mod several;
pub mod shared;
pub mod slices;
pub mod socket;
pub mod speech;
pub mod start;
pub mod step;
pub mod steps;
pub mod substitution;
pub mod sums;
pub mod take_on;
pub mod trace;
pub mod verify;
pub mod wait;
