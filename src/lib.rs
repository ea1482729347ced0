//! Halfturn: a bench companion for people who inspect, align and prove two-way radios.
//!
//! The rooms, from the ground up; arrows only point downward:
//!
//! * [`quantity`]: a number with its unit as read off an instrument
//! * [`metrology`]: what a reading proves
//! * [`radio`]: the trade's arithmetic
//! * [`signal`]: what a stretch of sound says
//! * [`procedure`]: what is to be done
//! * [`authoring`]: a procedure being written
//! * [`job`]: what was done
//! * [`exchange`]: documents in and out
//! * [`store`]: the only room that touches browser storage
//! * `app`: the browser side, with the feature of the same name

#![deny(missing_docs)]

#[cfg(feature = "app")]
pub mod app;
pub mod authoring;
pub mod exchange;
pub mod job;
pub mod metrology;
pub mod procedure;
pub mod quantity;
pub mod radio;
pub mod signal;
pub mod store;
