//! What is gathered comes to this.

use crate::app::platform::device;
use crate::app::screens::audio::listen::{Shown, State};
use crate::app::screens::audio::numbers::exact;
use crate::app::screens::audio::series::gathered::FOLLOWED;
use crate::quantity::{Number, Quantity, Unit, read_number};
use crate::signal::agc::{Against, Change, Control};
use crate::signal::measure::Measure;
use crate::signal::squelch::{Audio, Between, Edge, Way, edge, hysteresis};
use crate::signal::sweep::{Sweep, Swept};
use crate::signal::{Figure, Record, Unfit};
use leptos::prelude::*;

impl State {
    /// A level of the generator as it is typed, in its unit without prefix.
    pub fn level(self, text: RwSignal<String>) -> Result<f64, Unfit> {
        let number = text.with(|text| read_number(text, self.bench.sign()));
        let scale = self.series.scale.get_value();
        number
            .map(|number| Quantity::new(number, scale).base_f64())
            .map_err(|_| Unfit::NoSense)
    }

    /// What a sweep says of the tone that is set. Where that is nothing yet, the sound has to be
    /// a sweep.
    pub fn swept(self, samples: &[f64], rate: f64) -> Result<Vec<Shown>, Unfit> {
        let at = self
            .number(self.tone)
            .ok()
            .zip(self.number(self.reference).ok());
        let found = at.and_then(|(hertz, reference)| {
            self.series.sweep.with(|sweep| sweep.at(hertz, reference))
        });
        let shown = |swept: Swept| Shown {
            measure: Measure::SweptResponse,
            figure: swept.level,
        };
        if let Some(found) = found {
            return Ok(vec![shown(found)]);
        }
        Record::of(samples, rate)?;
        let now = device::clock() / 1000.0;
        let goes = |sweep: &Sweep| sweep.goes(FOLLOWED, now);
        self.series.sweep.with(goes).map(|()| Vec::new())
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

    /// Whether it is open; nothing before it is known how it sounds when it is closed.
    fn heard(self, samples: &[f64], rate: f64) -> Result<Option<Audio>, Unfit> {
        match self.series.floor.get() {
            Some(floor) => floor?.hear(samples, rate).map(Some),
            None => Ok(None),
        }
    }

    /// Hears whether it is open, and what the levels come to.
    pub fn squelch(self, samples: &[f64], rate: f64) -> Result<Vec<Shown>, Unfit> {
        let heard = self.heard(samples, rate);
        self.series.audio.set(heard.unwrap_or_default());
        if heard == Err(Unfit::QuieterThanClosed) {
            // What was told against it, open or closed, was told wrongly.
            self.series.floor.set(Some(Err(Unfit::QuieterThanClosed)));
            self.series.squelched.set(Vec::new());
        }
        heard?;
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
