//! What the browser gives: time, files, pictures, PDFs, voices, tones.

pub mod abilities;
pub mod device;
pub mod imaging;
pub mod paper;
pub mod pdf;
pub mod speech;
pub mod tone;
