//! What all screens share: the bench, the addresses, what is kept while it is typed, long work,
//! and what is said over the lower edge.

pub mod at_risk;
pub mod bench;
pub mod carry;
pub mod desk;
pub mod files;
pub mod hold;
pub mod kept;
pub mod open_step;
pub mod room;
pub mod route;
pub mod safekeeping;
pub mod slices;
pub mod strip;
