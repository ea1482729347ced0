//! Pictures and sounds in files, and the pixels of the first.

pub mod picture;
pub mod pixels;
pub mod wav;
