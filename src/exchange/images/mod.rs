//! Pictures in files, and the pixels of them.

pub mod picture;
pub mod pixels;
