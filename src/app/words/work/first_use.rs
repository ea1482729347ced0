//! What to do at a step of a kind that is met for the first time: one line of at most twelve words.

use crate::procedure::Work;

/// Puts the line away.
pub const HIDE: &str = "Hide";
/// The same for who hears it.
pub const HIDE_FOR_GOOD: &str = "Hide this hint for good";

/// What a step of this kind asks for.
pub const fn what_to_do(work: &Work) -> &'static str {
    match work {
        Work::Inspect => "Write what you see first: a finding is recorded at once.",
        Work::Read { .. } => "Type what the instrument shows, then press Enter.",
        Work::Set { .. } => "Enter what you find. Then adjust. Then Record as left.",
        Work::Peak { .. } => "Enter readings while you adjust. At the largest, Record as left.",
        Work::Dip { .. } => "Enter readings while you adjust. At the smallest, Record as left.",
        Work::Fit(_) => "Fit the part, note what went in, then press Fitted.",
        Work::Wire(_) => "Fit the lead and check it, then press the button.",
        Work::Socket(_) => "Measure each pin in the table, then press Done.",
        Work::Tick => "Do what the step says, then press Done.",
        Work::Repeat(_) => "Go through the steps named here until they hold.",
        Work::Stop { reads: None, .. } => {
            "Make sure, then confirm: what follows is locked until then."
        }
        Work::Stop { reads: Some(_), .. } => {
            "Take this reading: once inside its limits, it opens what follows."
        }
    }
}
