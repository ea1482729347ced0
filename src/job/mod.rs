//! What was done: an append-only log, and everything else derived from it by a pure fold.

mod preferences;
mod record;

pub use preferences::Preferences;
pub use record::Job;

mod admission;
pub mod entries;
pub(super) mod fold;
pub mod guidance;
mod records;

pub use crate::job::fold::standing::group::Settled;
pub use crate::job::fold::standing::noted::{Off, OffState};
pub use entries::bounded::{Bounded, MAX_EVENTS, too_many};
pub use entries::correct::Correction;
pub use entries::event::fault::{FaultOf, FaultRecord, Outcome};
pub use entries::event::look::{Look, LookAt, Showed};
pub use entries::event::paper::PaperChange;
pub use entries::event::part::{PartRecord, PartState};
pub use entries::event::{
    Change, Charge, Deed, Event, Finding, Header, Moment, OwnStep, Phase, Reply, SetIdentity,
    Stamp, Tool, UsedInstrument,
};
pub use entries::header::HeaderPart;
pub use entries::log::{Clash, Log, LogFault};
pub use entries::refusal::Refusal;
pub use entries::remains::{Remains, SetAside, remains};
pub use entries::written::{Damaged, EventFault, ReadEvent, check_of, torn};
pub use fold::course::ProcedureName;
pub use fold::course::{Course, LeftOut, Origin, Part};
pub use fold::in_force::{Counts, Measuring, Present};
pub use fold::pause::BREAK_AFTER;
pub use fold::proof::{KitLine, kit_check};
pub use fold::several::TableStanding;
pub use fold::standing::group::{Group, Proof, Read};
pub use fold::standing::in_force::{InForce, Restated};
pub use fold::standing::noted::{Answer, Changed, LookAgain, Note, SignOff};
pub use fold::standing::passes::{Pass, PassRead, Passes, Shows};
pub use fold::standing::pins::{PinReading, SocketFault};
pub use fold::standing::second::CrossReading;
pub use fold::standing::status::Status;
pub use fold::standing::step::StepProgress;
pub use fold::standing::taken::{Struck, Taken};
pub use fold::standing::trace::{Seen, Trace, Tracing};
pub use fold::standing::unproved::Unproved;
pub use fold::standing::way::Way;
pub use fold::standing::whole::Progress;
pub use fold::wait::{Wait, minutes_and_seconds, waits};
pub use fold::way::{takes, unit_read};
pub use guidance::before::{Before, Found, before};
pub use guidance::breaks::{Break, Ended, breaks, is_break_due, stops_brought};
pub use guidance::kindred::{MOST_JOBS, MOST_SETS, kindred, may_teach};
pub use guidance::plan_view::{
    ChannelView, LastTarget, Measured, ModeView, OscillatorView, Predicted, StepRef, plan_view,
};
pub use guidance::trace::{begins, paths_of, reading_step};
pub use guidance::unfinished::{Unfinished, good_to_leave};
pub use records::cure::CureShown;
pub use records::fault_record::{Fault, Unsaid};
pub use records::find::{Search, Shown};
pub use records::heard::sounds::{Sound, sounds};
pub use records::heard::{Heard, Span};
pub use records::line::map::{LineMap, Tick};
pub use records::line::{Line, Standing, StepReached};
pub use records::own::{OwnFault, OwnField, OwnKind, TypedStep, typed_limit};
pub use records::part::{Asked, Collected, Dealings, Part as WantedPart};
pub use records::parts_due::{Awaits, OrderedTogether, PartDue, ordered_together};
pub use records::photos::{Photo, photos};
pub use records::plate::{SetKey, is_same_set, set_key};
