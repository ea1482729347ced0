//! The judgement: what readings prove, what settles a step, what opens and closes others.

pub mod gate;
pub mod known;
pub mod look_again;
pub mod null;
pub mod passes;
pub mod plan_part;
pub mod put_back;
pub mod readings;
pub mod second;
pub mod settling;
pub mod socket;
pub mod status;
pub mod trace;
