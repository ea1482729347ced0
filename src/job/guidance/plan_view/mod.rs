//! What a job's readings say of the frequency plan, channel by channel and mode by mode.

mod view;

pub use self::view::{
    ChannelView, LastTarget, Measured, ModeView, OscillatorView, Predicted, StepRef,
};
use crate::job::fold::standing::unproved::of_kit;

use crate::job::fold::judging::plan_part::{Part, reads};
use crate::job::fold::standing::unproved::Unproved;
use crate::job::{Group, Progress, StepProgress};
use crate::metrology::instrument::{Accuracy, Instrument, Range};
use crate::metrology::uncertainty::{Budget, Contribution, Evaluation, Shape, stated};
use crate::procedure::{Procedure, Step};
use crate::quantity::{Number, Quantity, Scale, Unit, to_f64};
use crate::radio::channels::Channel;
use crate::radio::plan;
use crate::radio::plan::{Mode, Readings, Term};
use bigdecimal::BigDecimal;

/// What a job's readings say of its frequency plan, in the order in which the steps first use
/// the channels; empty where the procedure has no plan or no channel table.
pub fn plan_view(procedure: &Procedure, progress: &Progress) -> Vec<ChannelView> {
    let Some(plan) = &procedure.plan else {
        return Vec::new();
    };
    let places: Vec<Place> = procedure
        .steps()
        .zip(&progress.steps)
        .filter_map(|(step, state)| Place::of(procedure, step, state))
        .collect();
    let mut channels: Vec<&Channel> = Vec::new();
    for place in &places {
        if !channels.contains(&place.channel) {
            channels.push(place.channel);
        }
    }
    let view = |channel| channel_view(channel, &plan.modes, &places);
    channels
        .into_iter()
        .map(view)
        .filter(|channel| !channel.modes.is_empty())
        .collect()
}

/// A step that reads a frequency of the plan, and where.
struct Place<'a> {
    step: &'a Step,
    state: &'a StepProgress,
    channel: &'a Channel,
    mode: &'a str,
    /// The oscillator that it reads; the air itself where there is none.
    oscillator: Option<&'a str>,
}

impl<'a> Place<'a> {
    fn of(procedure: &'a Procedure, step: &'a Step, state: &'a StepProgress) -> Option<Self> {
        let Part { mode, oscillator } = reads(step)?;
        Some(Place {
            step,
            state,
            channel: procedure.channel_of(step).ok()?,
            mode,
            oscillator,
        })
    }

    fn left(&self) -> Option<&'a Group> {
        let in_hertz = |left: &&Group| left.value.unit() == Unit::Hertz;
        self.state.left.as_ref().filter(in_hertz)
    }

    fn step_ref(&self) -> StepRef {
        StepRef {
            id: self.step.id.clone(),
            number: self.state.number,
            status: self.state.status,
        }
    }

    fn scale(&self) -> Option<Scale> {
        Some(self.step.work.gauge()?.scale)
    }

    fn instrument(&self) -> Result<&'a Instrument, Unproved> {
        let role = self.step.work.gauge().map(|gauge| &gauge.with);
        let role = role.ok_or(Unproved::NoTarget)?;
        of_kit(self.left().and_then(Group::record), role)
    }
}

fn channel_view(channel: &Channel, modes: &[Mode], places: &[Place]) -> ChannelView {
    let here: Vec<&Place> = places
        .iter()
        .filter(|place| place.channel == channel)
        .collect();
    let mut predictions = Vec::new();
    let modes = modes
        .iter()
        .filter_map(|mode| {
            let of_mode = here.iter().filter(|place| place.mode == mode.name);
            let of_mode: Vec<&Place> = of_mode.copied().collect();
            if of_mode.is_empty() {
                return None;
            }
            let sum = Sum {
                mode,
                channel,
                places: of_mode,
            };
            predictions.extend(sum.mode.predict(channel, &sum.readings()).ok());
            Some(sum.view())
        })
        .collect();
    let spread = (predictions.len() > 1)
        .then(|| plan::spread(&predictions))
        .flatten();
    ChannelView {
        channel: channel.clone(),
        modes,
        spread: spread.map(hertz),
    }
}

/// The sum of one mode on one channel, with the steps that read its parts.
struct Sum<'a> {
    mode: &'a Mode,
    channel: &'a Channel,
    places: Vec<&'a Place<'a>>,
}

impl Sum<'_> {
    fn view(&self) -> ModeView {
        let terms = self.mode.terms.iter();
        let oscillators: Vec<OscillatorView> = terms.map(|term| self.oscillator(term)).collect();
        ModeView {
            mode: self.mode.name.clone(),
            predicted: self.predicted(),
            measured: self.measured(),
            last: self.last(&oscillators),
            responses: self.mode.responses(self.channel).ok(),
            oscillators,
        }
    }

    /// The step that reads an oscillator, or the air: the last one that has a reading, or else
    /// the first one.
    fn place(&self, oscillator: Option<&str>) -> Option<&Place<'_>> {
        let mut of_it = self.places.iter().filter(|p| p.oscillator == oscillator);
        let read = of_it.clone().rfind(|place| place.left().is_some());
        read.or_else(|| of_it.next()).copied()
    }

    fn left(&self, oscillator: &str) -> Option<&Group> {
        self.place(Some(oscillator))?.left()
    }

    fn readings(&self) -> Readings {
        let terms = self.mode.terms.iter();
        terms
            .filter_map(|term| {
                let left = self.left(&term.oscillator)?;
                Some((term.oscillator.clone(), left.worked_with()))
            })
            .collect()
    }

    /// The scale in which an oscillator is read; the channel's where nothing reads it.
    fn scale(&self, oscillator: &str) -> Scale {
        let place = self.place(Some(oscillator));
        let scale = place.and_then(Place::scale);
        scale.unwrap_or(self.channel.frequency.scale)
    }

    fn oscillator(&self, term: &Term) -> OscillatorView {
        let name = &term.oscillator;
        let target = self.mode.target(name, self.channel);
        let reading = self.left(name).map(|left| left.value.clone());
        let off = reading.as_ref().zip(target.as_ref().ok());
        OscillatorView {
            name: name.clone(),
            factor: term.factor,
            adjuster: term.adjuster.clone(),
            error: off.map(|(reading, target)| hertz(reading.base() - target)),
            target: target.map(|target| Quantity::worked_out(target, self.scale(name))),
            step: self.place(Some(name)).map(Place::step_ref),
            reading,
        }
    }

    fn predicted(&self) -> Option<Predicted> {
        let prediction = self.mode.predict(self.channel, &self.readings()).ok()?;
        let scale = self.channel.frequency.scale;
        let shown = Number::from_decimal(scale.prefix.remove(&prediction.on_air));
        let uncertainty = self.uncertainty();
        let rounded = |budget: &Budget| stated(&prediction.on_air, budget.expanded).ok()?;
        let rounded = uncertainty.as_ref().ok().and_then(rounded);
        Some(Predicted {
            frequency: Quantity::new(shown.without_exponent(), scale),
            ppm: self.ppm(&prediction.error),
            expanded: rounded.map(|stated| hertz(stated.expanded.decimal().clone())),
            error: hertz(prediction.error),
            uncertainty,
        })
    }

    fn measured(&self) -> Option<Measured> {
        let place = self.place(None)?;
        let left = place.left()?;
        let error = left.value.base() - self.channel.frequency.base();
        let proof = left.proof.as_ref();
        Some(Measured {
            step: place.step_ref(),
            frequency: left.value.clone(),
            ppm: self.ppm(&error),
            error: hertz(error),
            expanded: proof
                .map(|proof| proof.expanded.clone())
                .map_err(Unproved::clone),
        })
    }

    fn last(&self, oscillators: &[OscillatorView]) -> Option<LastTarget> {
        let mut open = oscillators.iter().filter(|oscillator| oscillator.is_open());
        let (Some(last), None) = (open.next(), open.next()) else {
            return None;
        };
        let target = self
            .mode
            .last_target(&last.name, self.channel, &self.readings())
            .ok()?;
        let target = Quantity::worked_out(target, self.scale(&last.name));
        let place = self.place(Some(&last.name));
        let tolerance = place.and_then(|place| place.state.tolerance.as_ref()?.as_ref().ok());
        Some(LastTarget {
            oscillator: last.name.clone(),
            inside: tolerance.map(|tolerance| tolerance.judge(&target).is_inside()),
            target,
        })
    }

    /// The uncertainty of the sum in Hz.
    ///
    /// Of each reading, what has nothing to do with the counter's time base is independent of
    /// the other readings and adds in quadrature, k·u. The time base, the ± ppm of its accuracy,
    /// moves every reading of the same counter the same way, so that its parts add up with their
    /// signs before they go in, Σk·f·r. Where all readings are of one counter and range this is
    /// what [`Mode::uncertainty`] gives; the budget adds shares, degrees of freedom and U.
    ///
    /// Source: JCGM 100:2008, 5.1.2 and 5.2.2.
    fn uncertainty(&self) -> Result<Budget, Unproved> {
        let mut lines = Vec::new();
        let mut time_bases: Vec<(&Instrument, f64)> = Vec::new();
        for term in &self.mode.terms {
            let (Some(place), Some(left)) = (
                self.place(Some(&term.oscillator)),
                self.left(&term.oscillator),
            ) else {
                continue;
            };
            let instrument = place.instrument()?;
            let range = instrument.stated_range(&left.value, &left.place);
            let range = range.map_err(Unproved::NoAccuracy)?;
            let factor = f64::from(term.factor);
            let alone = without_time_base(instrument, range, left)?;
            lines.push(
                Contribution::new(
                    &term.oscillator,
                    Evaluation::Standard {
                        uncertainty: alone.combined,
                    },
                )
                .sensitivity(factor)
                .freedom(alone.freedom),
            );
            let moved = factor * left.value.base_f64() * time_base(&range.accuracy)?;
            let same = |(other, _): &&mut (&Instrument, f64)| is_same(other, instrument);
            match time_bases.iter_mut().find(same) {
                Some((_, sum)) => *sum += moved,
                None => time_bases.push((instrument, moved)),
            }
        }
        for (instrument, moved) in time_bases {
            let evaluation = Evaluation::Standard {
                uncertainty: moved.abs(),
            };
            let name = format!("Time base of {}", instrument.name);
            lines.push(Contribution::new(name, evaluation));
        }
        Budget::of(lines).map_err(Unproved::NoAccuracy)
    }

    fn ppm(&self, error: &BigDecimal) -> f64 {
        let error = to_f64(error);
        error / self.channel.frequency.base_f64() * 1e6
    }
}

/// The budget of one reading in its range, but for the ± ppm.
fn without_time_base(
    instrument: &Instrument,
    range: &Range,
    left: &Group,
) -> Result<Budget, Unproved> {
    let accuracy = Accuracy {
        ppm: None,
        ..range.accuracy.clone()
    };
    let steady = Range {
        accuracy,
        ..range.clone()
    };
    instrument
        .budget_in(&steady, &left.value, &left.place, left.scatter.clone())
        .map_err(Unproved::NoAccuracy)
}

/// The standard uncertainty of a time base as a ratio: its limits ± ppm over √3.
fn time_base(accuracy: &Accuracy) -> Result<f64, Unproved> {
    let ppm = accuracy.ppm.as_ref().map_or(0.0, Number::to_f64);
    Evaluation::Limits {
        half_width: ppm.abs() / 1e6,
        shape: Shape::Rectangular,
    }
    .standard()
    .map_err(Unproved::NoAccuracy)
}

/// One counter may play more than one part.
fn is_same(one: &Instrument, other: &Instrument) -> bool {
    (&one.name, &one.asset) == (&other.name, &other.asset)
}

fn hertz(base: BigDecimal) -> Quantity {
    Quantity::natural(base, Unit::Hertz)
}
