//! A step as it would be typed.

use super::kinds::{ConfirmedBy, Kind, TargetKind, UntilKind};
use super::limits::{typed_margin, typed_tolerance};
use super::{DraftCrossCheck, DraftRepeat, DraftStep, DraftTarget, line_of};
use crate::metrology::{Margin, Tolerance};
use crate::procedure::{Direction, Id, Pin, Procedure, Repeat, Step, Target, Until, Work};
use crate::quantity::{DecimalSign, Quantity, Unit};

/// A quantity or number of a document as it is typed here.
pub(in crate::authoring) fn typed(what: &impl ToString, sign: DecimalSign) -> String {
    what.to_string().replace('.', sign.symbol())
}

/// The title of a step, but for one that follows from what it repeats.
pub(super) fn own_title(procedure: &Procedure, step: &Step) -> String {
    match &step.work {
        Work::Repeat(repeat) if step.title == repeat.title(|id| procedure.number_of(id)) => {
            String::new()
        }
        _ => step.title.clone(),
    }
}

pub(super) fn typed_step(step: &Step, sign: DecimalSign) -> DraftStep {
    let mut draft = DraftStep {
        title: step.title.clone(),
        text: step.text.clone(),
        cautions: step.cautions.join("\n"),
        mode: step.set_up.mode.clone().unwrap_or_default(),
        channel: step.set_up.channel.clone().unwrap_or_default(),
        signal: step.set_up.signal,
        supply: step.set_up.supply.clone().unwrap_or_default(),
        settings: step.set_up.settings.clone(),
        controls: joined(&step.set_up.controls, |c| {
            line_of(&[c.name.clone(), c.to.clone()], ':')
        }),
        wait: step.wait.map_or(String::new(), |m| m.to_string()),
        settles: match &step.settles {
            Some(settling) => typed(&settling.per_minute, sign),
            None => String::new(),
        },
        needs: step.needs.clone(),
        takes_off: joined(&step.takes_off, |r| {
            let parts = [&r.what, &r.place, &r.orientation, &r.note];
            line_of(&parts.map(String::clone), ';')
        }),
        puts_back: step.puts_back.join("\n"),
        shares_null_with: step.shares_null_with.clone(),
        cross_check: step
            .cross_check
            .as_ref()
            .map(|check| DraftCrossCheck::of(check, sign)),
        known: step.basis.as_ref().map(|basis| basis.known),
        source: step
            .basis
            .as_ref()
            .map_or(String::new(), |basis| basis.source.clone()),
        ..DraftStep::blank(step.id.clone())
    };
    if let Some(gauge) = step.work.gauge() {
        draft.at = gauge.at.to_string();
        draft.with = gauge.with.to_string();
        draft.scale = gauge.scale;
        draft.into = gauge
            .into
            .as_ref()
            .map_or(String::new(), |into| typed(into, sign));
        draft.path = typed_path(gauge.through());
        let path = gauge.path.as_ref();
        draft.direction = path.map_or(Direction::default(), |path| path.direction);
    }
    draft.adjuster = step.work.adjuster().map_or(String::new(), Id::to_string);
    if let Some(target) = step.work.target() {
        draft.target = typed_target(target, draft.scale.unit, sign);
    }
    type_work(&mut draft, &step.work, sign);
    draft
}

fn type_work(draft: &mut DraftStep, work: &Work, sign: DecimalSign) {
    draft.kind = match work {
        Work::Inspect => Kind::Inspect,
        Work::Read { .. } => Kind::Read,
        Work::Set { .. } => Kind::Set,
        Work::Peak { .. } => Kind::Peak,
        Work::Dip { .. } => Kind::Dip,
        Work::Tick => Kind::Tick,
        Work::Repeat(repeat) => {
            draft.repeat = typed_repeat(repeat, sign);
            Kind::Repeat
        }
        Work::Fit(alteration) => {
            draft.out = alteration.out.clone();
            draft.fitted = alteration.fitted.clone();
            draft.why = alteration.why.clone();
            Kind::Fit
        }
        Work::Wire(lead) => {
            draft.wire_from = lead.from.clone();
            draft.wire_to = lead.to.clone();
            draft.colour = lead.colour.clone();
            Kind::Wire
        }
        Work::Socket(socket) => {
            draft.socket = socket.name.clone();
            draft.with = socket.with.to_string();
            draft.pins = joined(&socket.pins, |pin| typed_pin(pin, sign));
            Kind::Socket
        }
        Work::Stop {
            confirm,
            holds,
            reads,
        } => {
            draft.confirm = confirm.clone();
            draft.holds = *holds;
            draft.confirmed_by = match reads {
                Some(_) => ConfirmedBy::Reading,
                None => ConfirmedBy::Hand,
            };
            Kind::Stop
        }
    };
}

fn typed_repeat(repeat: &Repeat, sign: DecimalSign) -> DraftRepeat {
    let (until, change) = match &repeat.until {
        Until::Inside => (UntilKind::Inside, String::new()),
        Until::Steady(most) => (UntilKind::Steady, typed(most, sign)),
    };
    DraftRepeat {
        from: Some(repeat.from.clone()),
        to: Some(repeat.to.clone()),
        until,
        change,
        passes: repeat.passes.map_or(String::new(), |most| most.to_string()),
    }
}

fn joined<T>(parts: &[T], line: impl Fn(&T) -> String) -> String {
    parts.iter().map(line).collect::<Vec<_>>().join("\n")
}

fn typed_pin(pin: &Pin, sign: DecimalSign) -> String {
    let expects = pin.expects.iter().map(|expects| {
        let tolerance = typed_tolerance(&expects.tolerance, sign);
        format!("{} = {tolerance}", expects.state)
    });
    let expects = expects.collect::<Vec<_>>().join("; ");
    let parts = [
        pin.pin.as_str(),
        &pin.signal,
        &pin.from,
        &pin.colour,
        &expects,
    ];
    line_of(&parts.map(str::to_owned), ';')
}

pub(in crate::authoring) fn typed_target(
    target: &Target,
    unit: Unit,
    sign: DecimalSign,
) -> DraftTarget {
    let mut draft = DraftTarget::default();
    let q = |quantity: &Quantity| typed(quantity, sign);
    let margins = |draft: &mut DraftTarget, below: &Margin, above: &Margin| {
        draft.margin = typed_margin(above, unit, sign);
        if below != above {
            draft.below = typed_margin(below, unit, sign);
        }
    };
    draft.kind = match target {
        Target::Fixed(Tolerance::Around {
            nominal,
            below,
            above,
        }) => {
            draft.value = q(nominal);
            margins(&mut draft, below, above);
            TargetKind::Around
        }
        Target::Fixed(Tolerance::AtLeast(low)) => {
            draft.value = q(low);
            TargetKind::AtLeast
        }
        Target::Fixed(Tolerance::AtMost(high)) => {
            draft.value = q(high);
            TargetKind::AtMost
        }
        Target::Fixed(Tolerance::Between { low, high }) => {
            draft.value = q(low);
            draft.high = q(high);
            TargetKind::Between
        }
        Target::Relative {
            to,
            offset,
            below,
            above,
        } => {
            draft.other = Some(to.clone());
            draft.value = q(offset);
            margins(&mut draft, below, above);
            TargetKind::Relative
        }
        Target::Oscillator { name, below, above } => {
            draft.oscillator = name.clone();
            margins(&mut draft, below, above);
            TargetKind::Oscillator
        }
        Target::Channel { below, above } => {
            margins(&mut draft, below, above);
            TargetKind::Channel
        }
        Target::Limit { set, limit, power } => {
            draft.set = set.clone();
            draft.limit = limit.clone();
            draft.other = power.clone();
            TargetKind::Limit
        }
    };
    draft
}

/// The roles of a path as they are typed.
pub fn typed_path(path: &[Id]) -> String {
    let names: Vec<&str> = path.iter().map(Id::as_str).collect();
    names.join(", ")
}
