//! What readings tell of what is not read: pull, drift, coupling, slips, faults.

pub mod agreement;
pub mod coupling;
pub mod drift;
pub mod kindred;
pub mod pull;
pub mod slip;
pub mod suspects;
