//! What is on this device.

pub mod abilities;
pub mod bring_in;
pub mod damage;
pub mod data;
pub mod export;
pub mod kit;
pub mod settings;
