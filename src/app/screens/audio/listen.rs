//! What is heard, and what is made of it ten times a second.

use crate::app::platform::audio::{Listening, Source, Trouble};
use crate::app::platform::device;
use crate::app::screens::audio::field::as_typed;
use crate::app::screens::audio::series::cells;
use crate::app::screens::audio::series::gathered::{Series, of_set_up};
use crate::app::shell::bench::Bench;
use crate::app::shell::open_step::OpenStep;
use crate::app::words::audio as words;
use crate::exchange::wav;
use crate::procedure::Setting;
use crate::quantity::{Unit, read_number};
use crate::signal::carrier::{Clock, Sideband};
use crate::signal::hum::Mains;
use crate::signal::measure::Measure;
use crate::signal::response;
use crate::signal::search;
use crate::signal::spectrum::{Spectrum, fine};
use crate::signal::volts::FullScale;
use crate::signal::{Figure, Unfit, Weighting, record};
use leptos::prelude::*;
use std::cell::RefCell;
use std::time::Duration;

/// What is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Task {
    Tone,
    SignalAndNoise,
    Hum,
    Two,
    Response,
    Carrier,
    Sensitivity,
    Squelch,
    Agc,
}

impl Task {
    pub const ALL: [Task; 9] = [
        Task::Tone,
        Task::SignalAndNoise,
        Task::Hum,
        Task::Two,
        Task::Response,
        Task::Carrier,
        Task::Sensitivity,
        Task::Squelch,
        Task::Agc,
    ];

    pub const fn name(self) -> &'static str {
        match self {
            Task::Tone => words::TASK_TONE,
            Task::SignalAndNoise => words::TASK_SN,
            Task::Hum => words::TASK_HUM,
            Task::Two => words::TASK_TWO,
            Task::Response => words::TASK_RESPONSE,
            Task::Carrier => words::TASK_CARRIER,
            Task::Sensitivity => words::TASK_SENSITIVITY,
            Task::Squelch => words::TASK_SQUELCH,
            Task::Agc => words::TASK_AGC,
        }
    }

    /// What the step that led here is read by: a cell of a table by what its table goes over, any
    /// other by its unit.
    fn for_step(bench: Bench, step: &OpenStep) -> Option<(Task, Measure)> {
        let over = |setting| cells::cells(bench, step, setting).len() > 1;
        Some(match step.scale?.unit {
            Unit::Decibel | Unit::DecibelMilliwatt if over(Setting::ModulationTone) => {
                (Task::Response, Measure::Response)
            }
            Unit::Decibel if over(Setting::GeneratorLevel) => (Task::Agc, Measure::AgcLevel),
            unit => Task::for_unit(unit),
        })
    }

    fn for_unit(unit: Unit) -> (Task, Measure) {
        match unit {
            Unit::DecibelSignalAndNoise => (Task::SignalAndNoise, Measure::SignalAndNoise),
            Unit::DecibelCarrier => (Task::Two, Measure::Intermodulation),
            Unit::Percent => (Task::Tone, Measure::ThdN),
            Unit::VoltRms => (Task::Tone, Measure::Voltage),
            Unit::Hertz => (Task::Carrier, Measure::Carrier),
            Unit::DecibelMilliwatt | Unit::VoltEmf | Unit::VoltPd => {
                (Task::Sensitivity, Measure::Sensitivity)
            }
            _ => (Task::Tone, Measure::Sinad),
        }
    }
}

/// A figure with what it is of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shown {
    pub measure: Measure,
    pub figure: Figure,
}

/// The level at the input.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Meter {
    /// In dBFS.
    pub level: f64,
    /// As a part of full scale.
    pub peak: f64,
}

/// What is drawn.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Seen {
    pub wave: Vec<f64>,
    pub columns: Vec<f64>,
    /// The tone's frequency, where there is one.
    pub tone: Option<f64>,
    /// The noise beside it, in dBFS of a line.
    pub floor: Option<f64>,
}

/// The columns of the spectrum, and its ends in hertz.
pub const COLUMNS: usize = 240;
pub const ENDS: (f64, f64) = (50.0, 10_000.0);

/// All that the screen knows.
#[derive(Clone, Copy)]
pub struct State {
    pub bench: Bench,
    pub step: StoredValue<Option<OpenStep>>,
    pub input: RwSignal<String>,
    pub source: RwSignal<Option<Source>>,
    pub trouble: RwSignal<Option<Trouble>>,
    pub task: RwSignal<Task>,
    pub chosen: RwSignal<Measure>,
    pub weighting: RwSignal<Weighting>,
    pub tone: RwSignal<String>,
    pub lower: RwSignal<String>,
    pub upper: RwSignal<String>,
    pub mains: RwSignal<Mains>,
    pub meter: RwSignal<Option<Meter>>,
    pub found: RwSignal<Option<Result<Vec<Shown>, Unfit>>>,
    /// The frequency of the tone by the clock of the sound device.
    pub pitch: RwSignal<Option<Figure>>,
    /// What else is worth a line: harmonics, multiples of the mains, products.
    pub parts: RwSignal<Vec<(f64, f64)>>,
    pub seen: RwSignal<Seen>,
    /// How many samples came by the time of what is shown.
    pub came: RwSignal<f64>,
    /// A record with the modulation on.
    pub modulated: RwSignal<Option<Vec<f64>>>,
    /// The levels that were taken for a response.
    pub levels: RwSignal<Vec<response::Point>>,
    pub reference: RwSignal<String>,
    pub rf: RwSignal<String>,
    pub rf_within: RwSignal<String>,
    pub due: RwSignal<String>,
    pub sideband: RwSignal<Sideband>,
    pub known_tone: RwSignal<String>,
    pub clock: RwSignal<Option<Clock>>,
    pub known_volts: RwSignal<String>,
    pub volts_within: RwSignal<String>,
    pub load: RwSignal<String>,
    /// What the input that is listened to is worth in volts.
    pub full_scale: RwSignal<Option<FullScale>>,
    pub first_level: RwSignal<String>,
    pub highest_level: RwSignal<String>,
    pub points: RwSignal<Vec<search::Point>>,
    pub series: Series,
    /// Whether the last seconds of the sound are kept with a reading.
    pub keeps_sound: RwSignal<bool>,
    pub samples: StoredValue<Vec<f64>>,
    /// When the next look is due, by the page's clock.
    next: StoredValue<f64>,
}

thread_local! {
    /// The one input that is listened to.
    static LISTENING: RefCell<Option<Listening>> = const { RefCell::new(None) };
}

/// So many seconds of the sound can be kept with a reading.
const CLIP: f64 = 5.0;

/// How often it is looked.
const BETWEEN: Duration = Duration::from_millis(100);

impl State {
    pub fn new(bench: Bench) -> State {
        let step = untrack(|| OpenStep::find(bench));
        let known = step.as_ref().and_then(|step| Task::for_step(bench, step));
        let (task, chosen) = known.unwrap_or((Task::Tone, Measure::Sinad));
        let series = Series::new(bench, step.as_ref());
        let set = step
            .as_ref()
            .and_then(|step| of_set_up(bench, &step.id, |it| it.quantity(Setting::ModulationTone)));
        let set = set.flatten().filter(|it| it.unit() == Unit::Hertz);
        let text = |place: &str, at_first: &str| as_typed(bench, place, at_first);
        let state = State {
            bench,
            step: StoredValue::new(step),
            input: RwSignal::new(String::new()),
            source: RwSignal::new(None),
            trouble: RwSignal::new(None),
            task: RwSignal::new(task),
            chosen: RwSignal::new(chosen),
            weighting: RwSignal::new(Weighting::Speech),
            // A tone that the step sets is kept by itself, as it is typed over.
            tone: match set.map(|it| it.base().normalized().to_plain_string()) {
                Some(hertz) => text(&format!("audio-tone-{hertz}"), &hertz),
                None => text("audio-tone", "1000"),
            },
            lower: text("audio-lower", "700"),
            upper: text("audio-upper", "1900"),
            mains: RwSignal::new(Mains::Fifty),
            meter: RwSignal::new(None),
            found: RwSignal::new(None),
            pitch: RwSignal::new(None),
            parts: RwSignal::new(Vec::new()),
            seen: RwSignal::new(Seen::default()),
            came: RwSignal::new(0.0),
            modulated: RwSignal::new(None),
            levels: RwSignal::new(Vec::new()),
            reference: text("audio-reference", "1000"),
            rf: text("audio-rf", ""),
            rf_within: text("audio-rf-within", ""),
            due: text("audio-due", ""),
            sideband: RwSignal::new(Sideband::Upper),
            known_tone: text("audio-known", "1000"),
            clock: RwSignal::new(None),
            known_volts: text("audio-volts", ""),
            volts_within: text("audio-volts-within", ""),
            load: text("audio-load", "600"),
            full_scale: RwSignal::new(None),
            first_level: text("audio-first", "-100"),
            highest_level: text("audio-highest", "-60"),
            points: RwSignal::new(Vec::new()),
            series,
            keeps_sound: RwSignal::new(false),
            samples: StoredValue::new(Vec::new()),
            next: StoredValue::new(0.0),
        };
        // The input is let go when the screen is left.
        on_cleanup(|| LISTENING.set(None));
        state
    }

    /// Asks for the input that is chosen, and lets go of the one before.
    pub fn open(self) {
        LISTENING.set(None);
        self.source.set(None);
        self.trouble.set(None);
        self.found.set(None);
        self.meter.set(None);
        // Another input, or the same set anew, is worth something else.
        self.full_scale.set(None);
        let fail = move |why: Trouble| {
            let _ = self.source.try_set(None);
            let _ = self.found.try_set(None);
            let _ = self.meter.try_set(None);
            let _ = self.trouble.try_set(Some(why));
        };
        let begun = move |source: Source| {
            self.series.hears(&source.input.id);
            let _ = self.source.try_set(Some(source));
        };
        let input = self.input.get_untracked();
        match Listening::to(&input, begun, fail) {
            Ok(listening) => LISTENING.set(Some(listening)),
            Err(why) => fail(why),
        }
    }

    pub fn choose(self, task: Task) {
        self.task.set(task);
        self.found.set(None);
        self.parts.set(Vec::new());
        self.chosen.set(match task {
            Task::Tone => Measure::Sinad,
            Task::SignalAndNoise => Measure::SignalAndNoise,
            Task::Hum => Measure::Hum,
            Task::Two => Measure::Intermodulation,
            Task::Response => Measure::Response,
            Task::Carrier => Measure::Carrier,
            Task::Sensitivity => Measure::Sensitivity,
            Task::Squelch => Measure::SquelchOpening,
            Task::Agc if self.series.own_level.get_value().is_some() => Measure::AgcLevel,
            Task::Agc => Measure::AgcChange,
        });
    }

    pub fn keep_measuring(self) {
        let timer = set_interval_with_handle(move || self.look(), BETWEEN);
        on_cleanup(move || {
            if let Ok(timer) = timer {
                timer.clear();
            }
        });
    }

    /// One look. A device that takes long over it is left half of its time.
    fn look(self) {
        let began = device::clock();
        let rate = self
            .source
            .with_untracked(|source| source.as_ref().map(|it| it.rate));
        let due = self.next.try_get_value().is_some_and(|next| began >= next);
        let (Some(rate), true) = (rate, due) else {
            return;
        };
        let newest = LISTENING
            .with_borrow_mut(|listening| listening.as_mut()?.latest(rate.round() as usize));
        let Some((samples, came)) = newest else {
            return;
        };
        if came == self.came.get_untracked() {
            return;
        }
        self.came.set(came);
        self.meter.set(Some(Meter {
            level: record::level(&samples),
            peak: record::peak(&samples),
        }));
        self.pitch.set(None);
        self.series.follow(&samples, rate, came, began);
        let found = untrack(|| self.measured(&samples, rate));
        if found.is_err() {
            // Those of an earlier look would stand beside the sentence.
            self.parts.set(Vec::new());
        }
        let tone = self.pitch.get_untracked().map(|pitch| pitch.value);
        self.seen.set(seen(&samples, rate, tone));
        self.found.set(Some(found));
        self.samples.set_value(samples);
        let ended = device::clock();
        self.next.set_value(ended + (ended - began));
    }

    /// The sound of the last seconds as the bytes of a file; nothing where it is not listened any
    /// more.
    pub fn last_seconds(self) -> Option<Vec<u8>> {
        let rate = self.source.with_untracked(|it| Some(it.as_ref()?.rate))?;
        let most = (CLIP * rate).round() as usize;
        let samples = LISTENING.with_borrow(|it| Some(it.as_ref()?.last(most)))?;
        (!samples.is_empty()).then(|| wav::written(&samples, rate.round() as u32))
    }

    /// A number as it is typed in a field, by the decimal sign of this device.
    pub fn number(self, text: RwSignal<String>) -> Result<f64, Unfit> {
        let number = text.with(|text| read_number(text, self.bench.sign()));
        number.map(|it| it.to_f64()).map_err(|_| Unfit::NoSense)
    }

    /// A figure of what is shown.
    pub fn shown(self, measure: Measure) -> Option<Figure> {
        self.found.with(|found| {
            let found = found.as_ref()?.as_ref().ok()?;
            Some(found.iter().find(|it| it.measure == measure)?.figure)
        })
    }
}

fn seen(samples: &[f64], rate: f64, tone: Option<f64>) -> Seen {
    let spectrum: Spectrum = fine(samples, rate);
    let shown = (rate / 100.0) as usize;
    let high = ENDS.1.min(rate * 0.475);
    // What lies above half the rate is not there: the line ends where its frequency lies.
    let part = (high / ENDS.0).ln() / (ENDS.1 / ENDS.0).ln();
    let columns = (COLUMNS as f64 * part).round() as usize;
    Seen {
        wave: samples[samples.len().saturating_sub(shown)..].to_vec(),
        columns: spectrum.columns(ENDS.0, high, columns),
        floor: tone.map(|hertz| spectrum.floor_level(hertz)),
        tone,
    }
}
