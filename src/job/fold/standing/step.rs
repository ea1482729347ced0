//! Where a step stands.

use crate::job::fold::standing::group::Group;
use crate::job::fold::standing::group::Settled;
use crate::job::fold::standing::noted::{Answer, LookAgain, Note};
use crate::job::fold::standing::pins::{PinReading, PinTaken, SocketFault};
use crate::job::fold::standing::second::CrossReading;
use crate::job::fold::standing::second::Opinion;
use crate::job::fold::standing::status::Status;
use crate::job::fold::standing::taken::{Struck, Taken, is_same};
use crate::job::{Passes, Phase};
use crate::metrology::inference::drift::Steadiness;
use crate::metrology::{Tolerance, Verdict};
use crate::procedure::Work;
use crate::procedure::{Id, TargetFault};
use std::sync::Arc;

/// Whether a step adjusts something, so that only a reading as left settles it.
pub(in crate::job) fn adjusts(work: &Work) -> bool {
    work.adjuster().is_some()
}

/// Where a step stands.
#[derive(Clone, Debug, PartialEq)]
pub struct StepProgress {
    /// The step.
    pub id: Id,
    /// Its place in the whole, from 1.
    pub number: usize,
    /// What is left to do.
    pub status: Status,
    /// The number of the stop that must be confirmed before this step opens.
    pub behind: Option<usize>,
    /// Where the reading must lie, once that is known.
    pub tolerance: Option<Result<Tolerance, TargetFault>>,
    /// The readings that count, in order.
    pub readings: Vec<Arc<Taken>>,
    /// How it was found: the first reading as found, with those that repeat it.
    pub found: Option<Group>,
    /// What the step stands by: for an adjustment the reading as left, if it is the last one;
    /// for a plain reading the last one; in both cases with the readings that it repeats.
    pub left: Option<Group>,
    /// Readings that were slips, with the reasons.
    pub struck: Vec<Struck>,
    /// What the drift of the readings shows where the step watches that, or why it can't be said
    /// yet; `None` before there is a reading.
    pub settling: Option<Result<Settled, String>>,
    /// What the other route showed, the last one.
    pub cross: Option<CrossReading>,
    /// What was measured on the pins of a socket, the last of each pin and state.
    pub pins: Vec<PinReading>,
    /// The same, where a later reading took its place.
    pub pins_before: Vec<PinReading>,
    /// What is wrong with the wiring of a socket, or not measured yet.
    pub wiring: Vec<SocketFault>,
    /// When its wait began, unless a break has ended that.
    pub wait_begun: Option<i64>,
    /// Where in the log that is.
    pub(in crate::job::fold) wait_order: Option<usize>,
    /// Whether it is a stop that is confirmed and that no break has ended.
    pub holds: bool,
    /// Why the step needs another look, if it does.
    pub look_again: Option<LookAgain>,
    /// When it was ticked or confirmed.
    pub ticked: Option<i64>,
    /// Where in the log that is.
    pub(in crate::job) ticked_order: Option<usize>,
    /// The passes over the steps that it repeats.
    pub passes: Option<Passes>,
    /// Where in the log each pass after the first began, and when.
    pub(in crate::job) passes_begun: Vec<(usize, i64)>,
    /// Every reading of a pin, in order.
    pub(in crate::job::fold) pins_taken: Vec<PinTaken>,
    /// Where in the log its reading or its waiver was settled last.
    pub(in crate::job) touched: Option<usize>,
    /// Where in the log the hands were at it first; what it takes off is off since then.
    pub(in crate::job) worked: Option<usize>,
    /// Where in the log the hands were at it last.
    pub(in crate::job::fold) last_worked: Option<usize>,
    /// What the inspection found.
    pub answer: Option<Answer>,
    /// Why it was waived.
    pub waived: Option<Note>,
    /// Remarks.
    pub notes: Vec<Note>,
}

impl StepProgress {
    /// The limits, where they are known.
    pub fn known_tolerance(&self) -> Option<&Tolerance> {
        self.tolerance.as_ref()?.as_ref().ok()
    }

    /// The readings of a phase that stand beside what was found and left, and that a sheet must
    /// not hide for that. A try is a result only where it was repeated.
    pub fn beside(&self, phase: Phase) -> impl Iterator<Item = &Taken> {
        let of = |group: &Option<Group>| group.as_ref().map_or(0, |group| group.readings.len());
        let first = self.readings.iter().position(|t| t.phase == Phase::AsFound);
        let found = first.map_or(0..0, |first| first..first + of(&self.found));
        let left = self.readings.len() - of(&self.left)..self.readings.len();
        let readings = self.readings.iter().enumerate();
        readings.filter_map(move |(place, taken)| {
            let stands = match phase {
                Phase::AsFound => found.contains(&place),
                Phase::AsLeft => left.contains(&place),
                Phase::Try => left.contains(&place) || self.group_of(place).len() == 1,
            };
            (taken.phase == phase && !stands).then_some(&**taken)
        })
    }

    /// The last reading with those that it repeats: nothing was turned in between.
    pub(in crate::job) fn last_group(&self) -> &[Arc<Taken>] {
        match self.readings.len().checked_sub(1) {
            Some(last) => self.group_of(last),
            None => &[],
        }
    }

    /// The reading at a place with those that it repeats and those that repeat it, all of one
    /// phase and with one instrument.
    pub(in crate::job::fold) fn group_of(&self, place: usize) -> &[Arc<Taken>] {
        let readings = &self.readings;
        let is_alike = |at: usize| {
            let (here, one) = (&readings[at], &readings[place]);
            here.phase == one.phase
                && is_same(here.with.as_ref(), one.with.as_ref())
                && here.way == one.way
        };
        let goes_on = |at: usize| at < readings.len() && readings[at].repeat && is_alike(at);
        let mut first = place;
        while first > 0 && goes_on(first) && is_alike(first - 1) {
            first -= 1;
        }
        let mut end = place + 1;
        while goes_on(end) {
            end += 1;
        }
        &readings[first..end]
    }

    /// What it stands by, unless something in the path takes away nobody knows how much of it.
    pub(in crate::job::fold) fn left_for_sure(&self) -> Option<&Group> {
        self.left.as_ref().filter(|left| left.lacks().is_none())
    }

    /// Whether the readings show a drift beyond the limit that the step sets.
    pub(in crate::job::fold) fn is_drifting(&self) -> bool {
        let settling = self.settling.as_ref().and_then(|said| said.as_ref().ok());
        settling.is_some_and(|settled| settled.steadiness == Steadiness::Drifting)
    }

    /// What its second route says, where that speaks against the reading.
    pub fn spoken_against(&self) -> Option<&Opinion> {
        let said = self.cross.as_ref()?.opinion.as_ref()?;
        Some(&said.opinion).filter(|opinion| opinion.is_against())
    }

    /// Each reading that is judged, of whatever kind, in the order of the log: its event, and
    /// whether it is inside.
    pub fn judged(&self) -> Vec<(&Id, bool)> {
        let inside = |verdict: &Option<Verdict>| Some(verdict.as_ref()?.is_inside());
        let readings = self.readings.iter();
        let readings =
            readings.filter_map(|taken| Some((taken.order, &taken.event, inside(&taken.verdict)?)));
        // One in another unit, which only a file can bring, fits nothing.
        let pins = self.pins.iter().map(|pin| {
            let inside = inside(&pin.result.verdict).unwrap_or(false);
            (pin.result.last, &pin.event, inside)
        });
        let mut all: Vec<(usize, &Id, bool)> = readings.chain(pins).collect();
        all.sort_by_key(|(order, ..)| *order);
        all.into_iter()
            .map(|(_, id, inside)| (id, inside))
            .collect()
    }

    /// The reading of a pin that an event brought.
    pub fn pin_read(&self, event: &Id) -> Option<&PinReading> {
        let mut all = self.pins.iter().chain(&self.pins_before);
        all.find(|pin| pin.event == *event)
    }

    /// What stands on a pin in a state of the set, where that was measured.
    pub fn pin(&self, pin: &Id, state: &Id) -> Option<&PinReading> {
        let mut pins = self.pins.iter();
        pins.find(|read| read.pin == *pin && read.state == *state)
    }

    /// What was read first on a pin in a state of the set.
    pub fn pin_found(&self, pin: &Id, state: &Id) -> Option<&PinReading> {
        let mut pins = self.pins_before.iter().chain(&self.pins);
        pins.find(|read| read.pin == *pin && read.state == *state)
    }

    /// How it was left: what the step stands by, unless that was only found, lies outside, and
    /// nobody has said that it stays so.
    pub fn as_left(&self) -> Option<&Group> {
        let is_found = |taken: &Arc<Taken>| taken.phase == Phase::AsFound;
        let is_only_found = self.readings.last().is_some_and(is_found);
        self.left.as_ref().filter(|left| {
            let is_inside = left.verdict.as_ref().is_none_or(Verdict::is_inside);
            is_inside || !is_only_found || self.waived.is_some()
        })
    }

    /// The verdict of the reading as found that lies furthest outside, if one does. Where a drift
    /// is watched, that of the last of them: how it began is no finding.
    pub fn found_outside(&self) -> Option<&Verdict> {
        if self.settling.is_some() {
            let found = self.found.as_ref()?.verdict.as_ref();
            return found.filter(|verdict| !verdict.is_inside());
        }
        self.readings
            .iter()
            .filter(|taken| taken.phase == Phase::AsFound)
            .filter_map(|taken| taken.verdict.as_ref())
            .filter(|verdict| !verdict.is_inside())
            .max_by_key(|verdict| verdict.margin.base())
    }

    /// The largest reading of a peak or the smallest of a dip, as found included.
    pub fn best(&self, work: &Work) -> Option<&Taken> {
        let by_size = |a: &&Taken, b: &&Taken| a.right.cmp(&b.right);
        let readings = self.readings.iter().map(Arc::as_ref);
        match work {
            Work::Peak { .. } => readings.max_by(by_size),
            Work::Dip { .. } => readings.min_by(by_size),
            _ => None,
        }
    }

    /// The phase that the next reading most likely has: a good one as left is repeated rather
    /// than turned away from. Whatever the repeats show, they change nothing about what is next.
    pub fn next_phase(&self, work: &Work) -> Phase {
        let Some(first) = self.last_group().first() else {
            return Phase::AsFound;
        };
        if !adjusts(work) {
            return Phase::AsLeft;
        }
        let was_inside = first.verdict.as_ref().is_none_or(Verdict::is_inside);
        let left_well = match self.status {
            Status::Outside | Status::Unsettled | Status::LookAgain => was_inside,
            status => !status.is_owed(),
        };
        match left_well && first.phase == Phase::AsLeft {
            true => Phase::AsLeft,
            false => Phase::Try,
        }
    }
}
