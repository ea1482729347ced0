//! What is gathered, and what stays of it for the other steps of the job.

use crate::app::screens::audio::field::as_typed;
use crate::app::screens::audio::series::cells::cells;
use crate::app::shell::bench::Bench;
use crate::app::shell::open_step::OpenStep;
use crate::procedure::{Id, SetUp, Setting, is_level};
use crate::quantity::{Quantity, Scale, Unit};
use crate::signal::Unfit;
use crate::signal::agc;
use crate::signal::squelch::{self, Audio, Floor};
use crate::signal::sweep::{SPOT, Sweep, spot};
use crate::signal::tone::Range;
use leptos::prelude::*;
use std::cell::RefCell;

/// Where a sweep is followed, in hertz.
pub const FOLLOWED: Range = Range {
    low: 100.0,
    high: 8_000.0,
};

/// What was gathered when the screen was left: one series answers several steps.
struct Kept {
    job: Option<Id>,
    scale: Scale,
    input: String,
    sweep: Sweep,
    floor: Option<Result<Floor, Unfit>>,
    squelched: Vec<squelch::Point>,
    outputs: Vec<agc::Point>,
}

thread_local! {
    static KEPT: RefCell<Option<Kept>> = const { RefCell::new(None) };
}

/// What is gathered.
#[derive(Clone, Copy)]
pub struct Series {
    /// What levels of the generator are typed in.
    pub scale: StoredValue<Scale>,
    pub following: RwSignal<bool>,
    pub sweep: RwSignal<Sweep>,
    /// Up to where the sweep was followed, by the count of samples.
    followed: StoredValue<f64>,
    pub squelch_level: RwSignal<String>,
    /// How quiet it is when it is closed, or why that can't be so.
    pub floor: RwSignal<Option<Result<Floor, Unfit>>>,
    pub audio: RwSignal<Option<Audio>>,
    pub squelched: RwSignal<Vec<squelch::Point>>,
    pub agc_level: RwSignal<String>,
    pub agc_low: RwSignal<String>,
    pub agc_high: RwSignal<String>,
    pub agc_reference: RwSignal<String>,
    /// The level of the step, where it is a cell of a table that goes over levels.
    pub own_level: StoredValue<Option<f64>>,
    pub outputs: RwSignal<Vec<agc::Point>>,
    /// Which input it was heard through.
    input: StoredValue<String>,
}

/// What is said of a step's set-up.
pub fn of_set_up<T>(bench: Bench, id: &Id, of: impl FnOnce(&SetUp) -> T) -> Option<T> {
    bench.progress.with_untracked(|progress| {
        let procedure = &progress.as_ref()?.course.procedure;
        Some(of(&procedure.step(id)?.set_up))
    })
}

/// The level whose reading the step's target is worked out from; its own where none is.
fn reference_level(bench: Bench, step: &OpenStep) -> Option<Quantity> {
    let other = bench.progress.with_untracked(|progress| {
        let procedure = &progress.as_ref()?.course.procedure;
        procedure.step(&step.id)?.work.target()?.leans_on().cloned()
    });
    let id = other.as_ref().unwrap_or(&step.id);
    of_set_up(bench, id, SetUp::generator_levels)?.pop()
}

impl Series {
    pub fn new(bench: Bench, step: Option<&OpenStep>) -> Series {
        let read = step.and_then(|step| step.scale);
        let set = step.and_then(|step| of_set_up(bench, &step.id, SetUp::generator_levels));
        let mut set = set.unwrap_or_default();
        set.sort_by_key(Quantity::base);
        let scale = read
            .into_iter()
            .chain(set.iter().map(|it| it.scale))
            .find(|scale| is_level(scale.unit))
            .unwrap_or(Scale::plain(Unit::DecibelMilliwatt));
        let text = |place: &str| as_typed(bench, place, "");
        // What a step says is kept by itself, as it is typed over.
        let said = |place: &str, level: Option<&Quantity>| {
            let level = level.filter(|it| it.unit() == scale.unit);
            let level = level.map(|it| Quantity::worked_out(it.base(), scale).number.to_string());
            match level {
                Some(level) => as_typed(bench, &format!("{place}-{level}"), &level),
                None => text(place),
            }
        };
        let is_cell =
            step.is_some_and(|step| cells(bench, step, Setting::GeneratorLevel).len() > 1);
        let ends = |end: Option<&Quantity>| end.cloned().filter(|_| set.len() == 2);
        let (low, high) = (ends(set.first()), ends(set.last()));
        let reference = step.and_then(|step| reference_level(bench, step));
        let series = Series {
            scale: StoredValue::new(scale),
            following: RwSignal::new(false),
            sweep: RwSignal::new(Sweep::default()),
            followed: StoredValue::new(0.0),
            squelch_level: text("audio-squelch-level"),
            floor: RwSignal::new(None),
            audio: RwSignal::new(None),
            squelched: RwSignal::new(Vec::new()),
            agc_level: text("audio-agc-level"),
            agc_low: said("audio-agc-low", low.as_ref()),
            agc_high: said("audio-agc-high", high.as_ref()),
            agc_reference: said("audio-agc-reference", reference.as_ref()),
            own_level: StoredValue::new(set.first().filter(|_| is_cell).map(Quantity::base_f64)),
            outputs: RwSignal::new(Vec::new()),
            input: StoredValue::new(String::new()),
        };
        let job = bench
            .job
            .with_untracked(|job| job.as_ref().map(|it| it.id.clone()));
        series.take_up(job.as_ref(), scale);
        on_cleanup(move || series.keep(job.clone(), scale));
        series
    }

    /// Goes on with what was gathered for the same job.
    fn take_up(self, job: Option<&Id>, scale: Scale) {
        let kept = KEPT.take();
        let Some(kept) = kept.filter(|it| it.job.as_ref() == job && it.scale.unit == scale.unit)
        else {
            return;
        };
        self.sweep.set(kept.sweep);
        self.floor.set(kept.floor);
        self.squelched.set(kept.squelched);
        self.outputs.set(kept.outputs);
        self.input.set_value(kept.input);
    }

    fn keep(self, job: Option<Id>, scale: Scale) {
        let kept = || {
            Some(Kept {
                job,
                scale,
                input: self.input.try_get_value()?,
                sweep: self.sweep.try_get_untracked()?,
                floor: self.floor.try_get_untracked()?,
                squelched: self.squelched.try_get_untracked()?,
                outputs: self.outputs.try_get_untracked()?,
            })
        };
        KEPT.set(kept());
    }

    /// What was heard through another input says nothing of this one.
    pub fn hears(self, input: &str) {
        let other = self.input.try_with_value(|before| before != input);
        if other == Some(true) {
            self.forget();
            self.input.set_value(input.to_owned());
        }
    }

    /// Begins anew.
    pub fn forget(self) {
        self.sweep.set(Sweep::default());
        self.floor.set(None);
        self.audio.set(None);
        self.squelched.set(Vec::new());
        self.outputs.set(Vec::new());
    }

    /// Follows a sweep through what came since the last look.
    pub fn follow(self, samples: &[f64], rate: f64, came: f64, now: f64) {
        if !self.following.get_untracked() {
            return;
        }
        let size = (SPOT * rate).round();
        let oldest = came - samples.len() as f64;
        let last = self.followed.get_value();
        // The count begins anew after a gap.
        let mut from = if last > came {
            oldest
        } else {
            last.max(oldest)
        };
        let mut found = Vec::new();
        while from + size <= came {
            let first = (from - oldest) as usize;
            let piece = samples.get(first..first + size as usize);
            let time = now / 1000.0 - (came - from - size / 2.0) / rate;
            found.extend(piece.and_then(|piece| spot(piece, rate, FOLLOWED, time).ok()));
            from += size;
        }
        self.followed.set_value(from);
        if !found.is_empty() {
            self.sweep
                .update(|sweep| found.into_iter().for_each(|spot| sweep.push(spot)));
        }
    }
}
