//! What the browser gives: time, files, pictures, PDFs, voices, tones.

pub mod audio;
pub mod device;
pub mod imaging;
pub mod pdf;
pub mod timeline;
