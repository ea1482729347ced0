//! What is gathered over levels of the generator or over frequencies, and what it comes to.

use crate::app::screens::audio::listen::{Shown, State, as_typed};
use crate::app::screens::audio::table;
use crate::app::shell::bench::Bench;
use crate::app::shell::open_step::OpenStep;
use crate::procedure::{Id, Setting};
use crate::quantity::{DecimalSign, Number, Quantity, Scale, Unit, read_number, read_with_unit};
use crate::signal::agc::{self, Against, Change, Control};
use crate::signal::measure::Measure;
use crate::signal::squelch::{self, Audio, Between, Edge, Floor, Way, edge, hysteresis};
use crate::signal::sweep::{SPOT, Sweep, spot};
use crate::signal::tone::Range;
use crate::signal::{Figure, Unfit};
use leptos::prelude::*;
use std::cell::RefCell;

/// Where a sweep is followed, in hertz.
const FOLLOWED: Range = Range {
    low: 100.0,
    high: 8_000.0,
};

/// What was gathered when the screen was left: one series answers several steps.
struct Kept {
    job: Option<Id>,
    scale: Scale,
    input: String,
    sweep: Sweep,
    floor: Option<Floor>,
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
    pub floor: RwSignal<Option<Floor>>,
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

/// A setting of a step as it is written.
fn written(bench: Bench, id: &Id, of: Setting) -> Option<String> {
    bench.progress.with_untracked(|progress| {
        let procedure = &progress.as_ref()?.course.procedure;
        procedure.step(id)?.set_up.settings.get(&of).cloned()
    })
}

/// A setting of the step, where it is a number of a kind.
pub fn setting(bench: Bench, step: &OpenStep, of: Setting) -> Option<Quantity> {
    quantity(&written(bench, &step.id, of)?)
}

/// The levels that are written for the generator, one or more after the other.
fn levels_written(bench: Bench, id: &Id) -> Vec<Quantity> {
    let text = written(bench, id, Setting::GeneratorLevel).unwrap_or_default();
    let parts = text.split(", ").flat_map(|part| part.split(" to "));
    let parts = parts.map(|part| part.trim().trim_start_matches("then "));
    parts
        .filter_map(quantity)
        .filter(|level| is_level(level.unit()))
        .collect()
}

/// The level whose reading the step's target is worked out from; its own where none is.
fn reference_level(bench: Bench, step: &OpenStep) -> Option<Quantity> {
    let other = bench.progress.with_untracked(|progress| {
        let procedure = &progress.as_ref()?.course.procedure;
        procedure.step(&step.id)?.work.target()?.leans_on().cloned()
    });
    levels_written(bench, other.as_ref().unwrap_or(&step.id)).pop()
}

/// A quantity as procedures write it, whatever their decimal sign.
pub fn quantity(text: &str) -> Option<Quantity> {
    read_with_unit(text, DecimalSign::Point).or_else(|| read_with_unit(text, DecimalSign::Comma))
}

/// Whether a unit is one of a generator's level.
pub const fn is_level(unit: Unit) -> bool {
    matches!(unit, Unit::DecibelMilliwatt | Unit::VoltEmf | Unit::VoltPd)
}

impl Series {
    pub fn new(bench: Bench, step: Option<&OpenStep>) -> Series {
        let read = step.and_then(|step| step.scale);
        let mut set = step.map_or(Vec::new(), |step| levels_written(bench, &step.id));
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
            step.is_some_and(|step| table::cells(bench, step, Setting::GeneratorLevel).len() > 1);
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

impl State {
    /// A level of the generator as it is typed, in its unit without prefix.
    pub fn level(self, text: RwSignal<String>) -> Result<f64, Unfit> {
        let number = text.with(|text| read_number(text, self.bench.sign()));
        let scale = self.series.scale.get_value();
        number
            .map(|number| Quantity::new(number, scale).base_f64())
            .map_err(|_| Unfit::NoSense)
    }

    /// What a sweep says of the tone that is set.
    pub fn swept(self) -> Vec<Shown> {
        let at = self
            .number(self.tone)
            .ok()
            .zip(self.number(self.reference).ok());
        let found = at.and_then(|(hertz, reference)| {
            self.series.sweep.with(|sweep| sweep.at(hertz, reference))
        });
        let shown = |swept: crate::signal::sweep::Swept| Shown {
            measure: Measure::SweptResponse,
            figure: swept.level,
        };
        found.map(shown).into_iter().collect()
    }

    /// Where the squelch opened, or closed.
    pub fn edge(self, way: Way) -> Option<Edge> {
        self.series.squelched.with(|points| edge(points, way))
    }

    /// Levels that are no decibels yet are voltages.
    fn in_decibels(self, between: Between) -> Option<Between> {
        let decibels = |volts: f64| 20.0 * volts.log10();
        let known = match self.series.scale.get_value().unit {
            Unit::DecibelMilliwatt => between,
            _ => Between {
                low: decibels(between.low),
                high: decibels(between.high),
            },
        };
        (known.low.is_finite() && known.high.is_finite()).then_some(known)
    }

    /// A level in the scale in which levels are typed, with as many digits as it takes.
    pub fn level_quantity(self, level: f64) -> Option<Quantity> {
        let scale = self.series.scale.get_value();
        let one = Quantity::new(Number::from_f64(1.0, 0)?, scale).base_f64();
        exact(level / one, scale)
    }

    /// Hears whether it is open, and what the levels come to.
    pub fn squelch(self, samples: &[f64], rate: f64) -> Result<Vec<Shown>, Unfit> {
        let heard = match self.series.floor.get() {
            Some(floor) => Some(floor.hear(samples, rate)?),
            None => None,
        };
        self.series.audio.set(heard);
        let (opens, closes) = (self.edge(Way::Rising), self.edge(Way::Falling));
        let by = opens.zip(closes).and_then(|(opens, closes)| {
            let [opens, closes] = [opens, closes].map(|it| self.in_decibels(it.between));
            Some(hysteresis(opens?, closes?))
        });
        let figures = [
            (Measure::SquelchOpening, opens.map(|it| it.between.figure())),
            (
                Measure::SquelchClosing,
                closes.map(|it| it.between.figure()),
            ),
            (Measure::SquelchHysteresis, by),
        ];
        Ok(known(figures))
    }

    /// The levels of the audio that were taken.
    pub fn control(self) -> Control {
        self.series.outputs.with(|taken| Control::of(taken))
    }

    /// The change between the ends that are typed.
    pub fn change(self) -> Result<Change, Unfit> {
        let ends = [self.series.agc_low, self.series.agc_high].map(|end| self.level(end));
        let [Ok(low), Ok(high)] = ends else {
            return Err(Unfit::NoSense);
        };
        self.control().change(low, high)
    }

    /// The output at the step's own level against the reference.
    pub fn own_output(self) -> Option<Against> {
        let level = self.series.own_level.get_value()?;
        let reference = self.level(self.series.agc_reference).ok()?;
        self.control().at(level, reference)
    }

    /// The figures of the tone with what was taken, which stands without a tone too: for a cell
    /// its level against the reference, else the change over the range.
    pub fn gain_control(self, tone: Result<Vec<Shown>, Unfit>) -> Result<Vec<Shown>, Unfit> {
        let mut found = known([match self.series.own_level.get_value() {
            Some(_) => (Measure::AgcLevel, self.own_output().map(|it| it.figure)),
            None => (
                Measure::AgcChange,
                self.change().ok().map(|it| it.change.figure),
            ),
        }]);
        if found.is_empty() {
            return tone;
        }
        found.extend(tone.unwrap_or_default());
        Ok(found)
    }
}

/// A value with as many digits as it takes, four at most.
pub fn exact(value: f64, scale: Scale) -> Option<Quantity> {
    let is_exact = |decimals: &u8| {
        let counts = value * 10f64.powi(i32::from(*decimals));
        (counts - counts.round()).abs() < 1e-6
    };
    let decimals = (0..4).find(is_exact).unwrap_or(4);
    Some(Quantity::new(Number::from_f64(value, decimals)?, scale))
}

fn known<const COUNT: usize>(figures: [(Measure, Option<Figure>); COUNT]) -> Vec<Shown> {
    let known = figures.into_iter();
    known
        .filter_map(|(measure, figure)| {
            Some(Shown {
                measure,
                figure: figure?,
            })
        })
        .collect()
}
