//! The sections of the sheet, each as plain data.

pub(super) mod bases;
pub(super) mod dealings;
pub(super) mod faults;
pub(super) mod history;
pub(super) mod papers;
pub(super) mod passes;
pub(super) mod photos;
pub(super) mod plan;
pub(super) mod readings;
pub(super) mod sections;
pub(super) mod several;
pub(super) mod sockets;
pub(super) mod summary;
pub(super) mod trace;
