//! The entry field: what is typed, how it will be taken, and the reading that it becomes.

use crate::app::platform::device;
use crate::app::screens::work::several;
use crate::app::screens::work::step::At;
use crate::job::guidance::advice;
use crate::job::{Deed, Phase, Read, Tool, Way, takes};
use crate::metrology::Tolerance;
use crate::procedure::{Id, Step};
use crate::quantity::{self, DecimalSign, Quantity, ReadError, Scale};
use crate::radio::conversion;
use leptos::prelude::*;
use std::sync::Arc;

/// The state of the entry field.
#[derive(Clone, Copy)]
pub struct Entry {
    /// The step.
    pub at: At,
    pub scale: RwSignal<Scale>,
    /// The number as typed so far, if it can be read.
    pub typed: Memo<Option<Quantity>>,
    pub tolerance: Memo<Option<Tolerance>>,
    pub phase: RwSignal<Option<Phase>>,
    pub tool: RwSignal<Option<Tool>>,
    pub again: RwSignal<bool>,
    pub error: RwSignal<Option<String>>,
}

/// A reading as it is about to be entered.
#[derive(Clone, Copy)]
pub struct Manner {
    pub phase: Phase,
    pub tool: Option<Tool>,
    pub repeat: bool,
}

/// How long after an entry an empty one counts as a bounce of the same press, in milliseconds.
const BOUNCE: i64 = 600;

impl Entry {
    /// The entry field of a step, in the scale that its instrument shows.
    pub fn open(at: At, scale: Scale) -> Self {
        let chosen = RwSignal::new(untrack(|| indicated_in(at, scale)));
        let gauge = at.step.with_value(|step| step.work.gauge().cloned());
        // What the step does not take is no reading yet; why, is said where it is entered.
        let is_taken =
            move |value: &Quantity| gauge.as_ref().is_none_or(|it| takes(it, value).is_ok());
        let read = move |text: &String| {
            let value = understood(text, chosen.get(), at.bench.sign()).ok();
            value.filter(&is_taken)
        };
        let entry = Entry {
            at,
            scale: chosen,
            typed: Memo::new(move |_| at.typed.with(&read)),
            tolerance: Memo::new(move |_| {
                at.standing
                    .now()
                    .with(|s| s.as_ref()?.tolerance.clone()?.ok())
            }),
            phase: RwSignal::new(None),
            tool: RwSignal::new(None),
            again: RwSignal::new(false),
            error: RwSignal::new(None),
        };
        // A new number takes an old complaint away.
        Effect::new(move |_| {
            at.typed.track();
            if entry.error.with_untracked(Option::is_some) {
                entry.error.set(None);
            }
        });
        at.entered_by(move || entry.enter());
        entry
    }

    /// The phase of the next reading: as chosen, or the likely one.
    pub fn next_phase(self) -> Phase {
        let likely = || {
            let work = self.at.step.with_value(|step| step.work.clone());
            self.at
                .standing
                .now()
                .with(|s| s.as_ref().map_or(Phase::AsFound, |s| s.next_phase(&work)))
        };
        self.phase.get().unwrap_or_else(likely)
    }

    /// Where the tool is: as chosen, or where it likely is. A reading as found or as left is
    /// taken with the hand away; tries go in and out by turns.
    pub fn next_tool(self) -> Option<Tool> {
        let step = self.at.step.get_value();
        if !self.at.procedure.with_value(|p| advice::has_tool(p, &step)) {
            return None;
        }
        let last = self
            .at
            .standing
            .now()
            .with(|s| s.as_ref()?.readings.last()?.tool);
        let likely = match (self.next_phase(), last) {
            (Phase::AsFound | Phase::AsLeft, _) | (Phase::Try, Some(Tool::In)) => Tool::Out,
            (Phase::Try, _) => Tool::In,
        };
        Some(self.tool.get().unwrap_or(likely))
    }

    /// How the next reading is taken.
    pub fn manner(self) -> Manner {
        let last = self.at.standing.now().with(|s| {
            let last = s.as_ref()?.readings.last()?;
            Some((last.phase, last.tool))
        });
        match (self.again.get(), last) {
            (true, Some((phase, tool))) => Manner {
                phase,
                tool,
                repeat: true,
            },
            _ => Manner {
                phase: self.next_phase(),
                tool: self.next_tool(),
                repeat: false,
            },
        }
    }

    /// Writes the typed reading to the log; what can't be read stays in the field.
    pub fn enter(self) {
        let text = self.at.typed.get_untracked();
        if text.trim().is_empty() && self.was_just_taken() {
            return;
        }
        let sign = self.at.bench.preferences.with_untracked(|p| p.decimal_sign);
        match understood(&text, self.scale.get_untracked(), sign) {
            Ok(value) => {
                let manner = untrack(|| self.manner());
                if self.at.bench.verdict_first(|| self.record(value, manner)) {
                    self.at.clear_typed();
                    if !manner.repeat {
                        several::walk_on(self.at);
                    }
                }
            }
            Err(error) => self.error.set(Some(error.to_string())),
        }
    }

    /// Whether a reading was entered a moment ago: the same press of Enter may bounce.
    fn was_just_taken(self) -> bool {
        let last = self
            .at
            .standing
            .with_untracked(|s| Some(s.as_ref()?.readings.last()?.at));
        last.is_some_and(|at| (0..BOUNCE).contains(&(device::now() - at)))
    }

    fn record(self, value: Quantity, manner: Manner) -> bool {
        let taken = self.at.record(|step| Deed::Reading {
            step,
            phase: manner.phase,
            value,
            tool: manner.tool,
            repeat: manner.repeat,
            heard: None,
        });
        if taken {
            self.phase.set(None);
            self.tool.set(None);
            self.error.set(None);
        }
        taken
    }

    /// What is typed as a reading: as it stands, and corrected by what is known of the instrument.
    pub fn read(self, indicated: Quantity) -> Read {
        let gauge = self.at.step.with_value(|step| step.work.gauge().cloned());
        let Some(gauge) = gauge else {
            return Read::with(None, indicated);
        };
        let progress = self.at.bench.progress;
        progress.with(|progress| {
            let header = progress.as_ref().map(|progress| &progress.header);
            let used = |role: &Id| header?.used_as(role).cloned().map(Arc::new);
            Read::by(&gauge, used(&gauge.with), Way::of(&gauge, used), indicated)
        })
    }
}

/// The scale in which the instrument of the step shows its reading: the step's own, unless it is
/// one of the kit that is known in another unit of such a level alone.
fn indicated_in(at: At, due: Scale) -> Scale {
    let with_impedance = has_impedance(at);
    let record = at.of_instrument(|header, role| header.kit_instrument(role).cloned());
    let reads = |scale: &Scale| {
        record
            .as_ref()
            .is_some_and(|it| it.reads(scale.unit).is_ok())
    };
    match record.is_none() || reads(&due) {
        true => due,
        false => {
            let mut offered = conversion::offered(due, with_impedance).into_iter();
            offered.find(reads).unwrap_or(due)
        }
    }
}

pub fn has_impedance(at: At) -> bool {
    let into = |step: &Step| step.work.gauge().is_some_and(|gauge| gauge.into.is_some());
    at.step.with_value(into)
}

/// What is typed as a reading: a bare number in the scale in hand, or with any unit of such a
/// level, which the step then takes or refuses.
fn understood(text: &str, scale: Scale, sign: DecimalSign) -> Result<Quantity, ReadError> {
    quantity::read_in_any(text, scale, &conversion::spelled(scale.unit), sign)
}
