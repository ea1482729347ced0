//! What is to be said of a draft while it is written: faults, which keep it from being
//! published, and advice, which doesn't.

use crate::authoring::draft::{Draft, lines};
use crate::authoring::edit::{List, uses};
use crate::metrology::instrument::{Ability, Instrument};
use crate::procedure::{AdjusterKind, Field, Gauge, Place, Procedure, Signal, Step, faults};
use crate::quantity::{DecimalSign, Quantity, Unit};
use crate::radio::channels::Channel;
use crate::radio::plan::{Mode, Target as PlanTarget};
use bigdecimal::BigDecimal;
use num_traits::Zero;

/// How much a remark matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gravity {
    /// With it, no job can start.
    Fault,
    /// Worth a look.
    Advice,
}

/// Something to be said of a draft, and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Remark {
    /// How much it matters.
    pub gravity: Gravity,
    /// Where it is.
    pub place: Place,
    /// The field there.
    pub field: Field,
    /// What it is, as a sentence.
    pub sentence: String,
}

/// Everything to be said of a draft, what matters most first.
pub fn remarks(draft: &Draft, kit: &[Instrument], sign: DecimalSign) -> Vec<Remark> {
    let (procedure, unread) = draft.read(sign);
    let broken: Vec<Place> = unread.iter().map(|(place, ..)| place.clone()).collect();
    let remark = |gravity| {
        move |(place, field, sentence)| Remark {
            gravity,
            place,
            field,
            sentence,
        }
    };
    let mut all: Vec<Remark> = unread.into_iter().map(remark(Gravity::Fault)).collect();
    let follows = |place: &Place| matches!(place, Place::Step(_)) && broken.contains(place);
    let hard = faults(&procedure)
        .into_iter()
        // Of stops that must hold, more is said below.
        .filter(|fault| fault.field != Field::Needs)
        .map(|fault| (fault.place, fault.field, fault.sentence))
        .chain(lost_references(&procedure))
        // A step that can't be read wholly stands there with less than was typed.
        .filter(|(place, _, sentence)| !follows(place) && !refers_to_broken(sentence, &broken));
    all.extend(hard.chain(unsettled(draft)).map(remark(Gravity::Fault)));
    let advice = advice(&procedure, kit)
        .into_iter()
        .filter(|(place, ..)| !follows(place));
    let advice = unturned(draft).chain(advice);
    all.extend(advice.map(remark(Gravity::Advice)));
    all
}

/// The adjusters that no step turns. Asked of the draft, for a step that can't be read yet may
/// turn one all the same.
fn unturned(draft: &Draft) -> impl Iterator<Item = Said> {
    let adjusters = draft.adjusters.iter();
    let idle = adjusters.filter(|adjuster| {
        adjuster.kind != AdjusterKind::Link && uses(draft, List::Adjusters, &adjuster.name) == 0
    });
    idle.map(|adjuster| {
        let sentence = format!("No step turns the adjuster {}", adjuster.name.trim());
        (Place::Parts, Field::Adjusters, sentence)
    })
}

/// What of a pasted table is still open in a step.
fn unsettled(draft: &Draft) -> impl Iterator<Item = Said> {
    let steps = draft.steps().enumerate();
    steps.flat_map(|(index, step)| {
        let open = lines(&step.open).into_iter();
        open.map(move |line| {
            let sentence =
                format!("of its table “{line}” is still open: settle it, and take the line off");
            (Place::Step(index + 1), Field::Open, sentence)
        })
    })
}

/// Whether a fault only says that another step, which can't be read yet, takes no reading.
fn refers_to_broken(sentence: &str, broken: &[Place]) -> bool {
    let number = ["its target refers to step ", "its cell is step "]
        .into_iter()
        .find_map(|start| sentence.strip_prefix(start))
        .and_then(|rest| rest.split_once(", which takes no "))
        .and_then(|(number, _)| number.parse().ok());
    number.is_some_and(|number| broken.contains(&Place::Step(number)))
}

type Said = (Place, Field, String);

/// References to steps that aren't there, or that go round in a circle.
fn lost_references(procedure: &Procedure) -> Vec<Said> {
    let mut found = Vec::new();
    for (index, step) in procedure.steps().enumerate() {
        let here = index + 1;
        let mut say = |field, sentence: String| found.push((Place::Step(here), field, sentence));
        for need in &step.needs {
            let number = procedure.number_of(need);
            let is_stop = procedure.step(need).is_some_and(|step| step.work.is_stop());
            match number {
                None => say(
                    Field::Needs,
                    format!(
                        "it comes after a hold point “{need}” that isn't there: choose another"
                    ),
                ),
                Some(number) if number >= here => say(
                    Field::Needs,
                    format!(
                        "it comes after step {number}, which does not come before it: that goes round in a circle"
                    ),
                ),
                Some(number) if !is_stop => say(
                    Field::Needs,
                    format!(
                        "it needs step {number} to hold, which is no hold point: choose a hold point"
                    ),
                ),
                Some(_) => {}
            }
        }
    }
    found
}

/// What is worth a look, but stands in nobody's way.
pub fn advice(procedure: &Procedure, kit: &[Instrument]) -> Vec<Said> {
    let mut found = Vec::new();
    let mut stopped = false;
    for (index, step) in procedure.steps().enumerate() {
        stopped |= step.work.is_stop();
        if step.set_up.signal == Some(Signal::Tx) && !stopped {
            let sentence = "it transmits with no hold point before it: put one there that makes sure of the load";
            found.push((Place::Step(index + 1), Field::Signal, sentence.to_owned()));
        }
        if step.work.gauge().is_some_and(is_unsaid) {
            let sentence = "it takes a generator’s volts and does not say whether they are EMF or \
                            PD: choose its unit with EMF or PD";
            found.push((Place::Step(index + 1), Field::With, sentence.to_owned()));
        }
        if let Some(sentence) = unprovable(procedure, step, kit) {
            found.push((Place::Step(index + 1), Field::Margin, sentence));
        }
    }
    found.extend(plan_misses(procedure));
    found
}

/// Whether a reading is of a generator's volts and leaves open whether they are EMF or PD.
fn is_unsaid(gauge: &Gauge) -> bool {
    let is_generator = gauge.with.as_str().contains("generator");
    let volts = [Unit::VoltDc, Unit::VoltRms, Unit::DecibelMicrovolt];
    is_generator && volts.contains(&gauge.scale.unit)
}

/// The tolerance of a step, where every instrument of the kit in its role is too coarse for it.
fn unprovable(procedure: &Procedure, step: &Step, kit: &[Instrument]) -> Option<String> {
    let gauge = step.work.gauge()?;
    let tolerance = procedure.tolerance(step, |_| None)?.ok()?;
    let mut fitting = kit
        .iter()
        .filter(|instrument| instrument.role == gauge.with.as_str())
        .filter_map(|instrument| instrument.can_prove(&tolerance).ok())
        .peekable();
    fitting.peek()?;
    fitting
        .all(|proof| proof.ability == Ability::None)
        .then(|| {
            format!(
                "no {} under Instruments can prove a tolerance as tight as this",
                gauge.with
            )
        })
}

/// The modes of the plan whose stated frequencies don't add up to a channel, one line each.
fn plan_misses(procedure: &Procedure) -> Vec<Said> {
    let Some((plan, channels)) = procedure.plan.as_ref().zip(procedure.channels.as_ref()) else {
        return Vec::new();
    };
    let line = |mode: &Mode| {
        let mut missed = channels
            .channels
            .iter()
            .filter_map(|c| miss(mode, c).map(|by| (c, by)));
        let (channel, by) = missed.next()?;
        let more = match missed.count() {
            0 => String::new(),
            n => format!(", and {n} more channels"),
        };
        let by = Quantity::natural(by, Unit::Hertz);
        Some((
            Place::Whole,
            Field::Plan,
            format!(
                "The plan's sum in {} misses channel {} by {}{more}",
                mode.name,
                channel.name,
                by.typeset(DecimalSign::Point)
            ),
        ))
    };
    plan.modes.iter().filter_map(line).collect()
}

/// How far the stated frequencies of a mode are from a channel; none where they reach it, or
/// where an oscillator follows the channel.
fn miss(mode: &Mode, channel: &Channel) -> Option<BigDecimal> {
    let sum = mode
        .terms
        .iter()
        .try_fold(BigDecimal::zero(), |sum, term| {
            let stated = match &term.target {
                PlanTarget::Fixed(frequency) => frequency.base(),
                PlanTarget::PerChannel(table) => table.get(&channel.name)?.base(),
                PlanTarget::FollowsChannel => return None,
            };
            Some(sum + stated * BigDecimal::from(term.factor))
        })?;
    let miss = sum - channel.frequency.base();
    (!miss.is_zero()).then_some(miss)
}
