//! What is on this device: data, files, settings, the shelf of instruments.

pub mod abilities;
pub mod bring_in;
pub mod data;
pub mod export;
pub mod kit;
pub mod settings;
