//! What the screens for writing share: fields, keys, lists to pick from, remarks.

pub mod address;
pub mod bar;
pub mod drag;
pub mod fields;
pub mod remarks;
pub mod rows;
