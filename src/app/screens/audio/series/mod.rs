//! What is gathered over levels of the generator or over frequencies: its panels, what it comes
//! to, and the key that fills a table with it.

mod absolute;
pub mod agc;
pub mod cells;
mod found;
pub mod gathered;
pub mod response;
pub mod squelch;
mod table;
