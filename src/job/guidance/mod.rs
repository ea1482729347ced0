//! What is told while one works: where to stop, what chases what, where to look for a fault.

pub mod advice;
pub mod before;
pub mod breaks;
pub mod kindred;
pub mod plan_view;
pub mod trace;
pub mod unfinished;
