//! A procedure being written: the draft as it is typed, what is changed in it, what is said of it,
//! and how it differs from what was published; tables of others, read.

pub mod check;
pub mod difference;
pub mod draft;
pub mod edit;
mod fit;
pub mod table;
mod usual;

pub use check::{Gravity, Remark, remarks};
pub use difference::{Difference, differences, differences_of_draft};
pub use draft::{ConfirmedBy, Draft, DraftStep, Kind, TargetKind};
pub use fit::{Fit, fit};
pub use usual::{likely_scales, usual_instrument, usual_units};
