//! What the screens for writing procedures say.

mod draft;
mod lists;
mod outline;
mod picker;
mod publish;
mod remarks;
mod start;
mod step;
mod table;

pub use self::draft::*;
pub use self::lists::*;
pub use self::outline::*;
pub use self::picker::*;
pub use self::publish::*;
pub use self::remarks::*;
pub use self::start::*;
pub use self::step::*;
pub use self::table::*;
