//! What a step measures, read out of what is typed: gauge, path, target, pins.

use super::kinds::{Kind, TargetKind};
use super::limits::{difference, read_margin, read_tolerance, spells_unit};
use super::step::picked;
use super::{DraftStep, Say, Wrong};
use crate::authoring::draft::cells::{parts, rows};
use crate::metrology::Tolerance;
use crate::procedure::{
    Expectation, Field, Gauge, HoldPoint, Id, Path, Pin, Socket, Target, Work, goes_by_power,
};
use crate::quantity::{DecimalSign, Quantity, ReadError, Scale, Unit, read};

fn read_gauge(step: &DraftStep, sign: DecimalSign, say: Say) -> Option<Gauge> {
    let into = read_impedance(step, sign, say);
    let path = read_path(step, say);
    let at = picked(&step.at, (Field::At, "test point"), say);
    let with = picked(&step.with, (Field::With, "instrument"), say);
    Some(Gauge {
        into,
        path,
        ..Gauge::new(at?, with?, step.scale)
    })
}

/// What a target that has to be stated says; what is wrong with it is said.
fn stated_target(step: &DraftStep, sign: DecimalSign, say: Say) -> Option<Target> {
    match read_target(step, sign) {
        Ok(Some(target)) => Some(target),
        Ok(None) => {
            say(Field::Target, NO_TARGET.to_owned());
            None
        }
        Err((field, sentence)) => {
            say(field, sentence);
            None
        }
    }
}

const NO_TARGET: &str = "it has no target: choose how it is stated";

pub(super) fn read_hold_point(step: &DraftStep, sign: DecimalSign, say: Say) -> Option<HoldPoint> {
    let gauge = read_gauge(step, sign, say);
    let target = stated_target(step, sign, say);
    Some(HoldPoint {
        gauge: gauge?,
        target: target?,
    })
}

pub(super) fn read_measured(step: &DraftStep, sign: DecimalSign, say: Say) -> Work {
    let gauge = read_gauge(step, sign, say);
    let adjuster = match step.kind.turns() {
        true => picked(&step.adjuster, (Field::Adjuster, "adjuster"), say),
        false => None,
    };
    let Some(gauge) = gauge else {
        // What else is wrong is said all the same.
        let _ = read_target(step, sign).map_err(|(field, sentence)| say(field, sentence));
        return Work::Tick;
    };
    let target = match read_target(step, sign) {
        Ok(target) => target,
        Err((field, sentence)) => {
            say(field, sentence);
            return Work::Read {
                gauge,
                target: None,
            };
        }
    };
    match (step.kind, adjuster, target) {
        (Kind::Set, Some(adjuster), Some(target)) => Work::Set {
            gauge,
            adjuster,
            target,
        },
        (Kind::Set, _, None) => {
            say(Field::Target, NO_TARGET.to_owned());
            Work::Read {
                gauge,
                target: None,
            }
        }
        (Kind::Peak, Some(adjuster), bound) => Work::Peak {
            gauge,
            adjuster,
            bound,
        },
        (Kind::Dip, Some(adjuster), bound) => Work::Dip {
            gauge,
            adjuster,
            bound,
        },
        (_, _, target) => Work::Read { gauge, target },
    }
}

/// The impedance in which a voltage is a power, where one is stated.
fn read_impedance(step: &DraftStep, sign: DecimalSign, say: Say) -> Option<Quantity> {
    if step.into.trim().is_empty() {
        return None;
    }
    read(&step.into, Scale::plain(Unit::Ohm), sign)
        .map_err(|error| say(Field::Impedance, format!("its impedance: {error}")))
        .ok()
}

/// The pads, couplers and probes in the path, one after the other with commas between.
fn read_path(step: &DraftStep, say: Say) -> Option<Path> {
    let names = step.path.split(',').map(str::trim);
    let mut through = Vec::new();
    for name in names.filter(|name| !name.is_empty()) {
        match name.parse::<Id>() {
            Ok(role) => through.push(role),
            Err(error) => say(Field::Path, format!("its path: {error}")),
        }
    }
    (!through.is_empty()).then_some(Path {
        through,
        direction: step.direction,
    })
}

fn read_target(step: &DraftStep, sign: DecimalSign) -> Result<Option<Target>, Wrong> {
    let target = &step.target;
    let wrong = |sentence: &str| (Field::Target, sentence.to_owned());
    let figure = |text: &str, what: &str| {
        read(text, step.scale, sign).map_err(|error| {
            let why = match error {
                ReadError::Empty => format!("its {what} is missing: type the figure"),
                error => format!("its {what}: {error}"),
            };
            (Field::Target, why)
        })
    };
    let margin =
        |text: &str| read_margin(text, step.scale, sign).map_err(|error| (Field::Margin, error));
    let margins = || {
        let above = margin(&target.margin)?;
        let below = match target.below.trim().is_empty() {
            true => above.clone(),
            false => margin(&target.below)?,
        };
        Ok::<_, Wrong>((below, above))
    };
    Ok(Some(match target.kind {
        TargetKind::None => return Ok(None),
        TargetKind::Around => {
            let nominal = figure(&target.value, "target")?;
            let (below, above) = margins()?;
            Target::Fixed(Tolerance::Around {
                nominal,
                below,
                above,
            })
        }
        TargetKind::AtLeast => {
            Target::Fixed(Tolerance::AtLeast(figure(&target.value, "lowest figure")?))
        }
        TargetKind::AtMost => {
            Target::Fixed(Tolerance::AtMost(figure(&target.value, "highest figure")?))
        }
        TargetKind::Between => Target::Fixed(Tolerance::Between {
            low: figure(&target.value, "lower figure")?,
            high: figure(&target.high, "upper figure")?,
        }),
        TargetKind::Relative => {
            let Some(to) = target.other.clone() else {
                return Err(wrong(
                    "the step that its target is counted from is not chosen yet",
                ));
            };
            let offset = match read(&target.value, Scale::plain(Unit::Decibel), sign) {
                // A bare number is no decibels unless decibels are what is read.
                Ok(decibels) if spells_unit(&target.value) => decibels,
                _ => difference(&target.value, step.scale, sign, "offset")
                    .map_err(|error| (Field::Target, error))?,
            };
            let (below, above) = margins()?;
            Target::Relative {
                to,
                offset,
                below,
                above,
            }
        }
        TargetKind::Oscillator => {
            if target.oscillator.is_empty() {
                return Err(wrong("the oscillator of its target is not chosen yet"));
            }
            let (below, above) = margins()?;
            Target::Oscillator {
                name: target.oscillator.clone(),
                below,
                above,
            }
        }
        TargetKind::Channel => {
            let (below, above) = margins()?;
            Target::Channel { below, above }
        }
        TargetKind::Limit => {
            if target.limit.is_empty() {
                return Err(wrong("the published limit of its target is not chosen yet"));
            }
            Target::Limit {
                set: target.set.clone(),
                limit: target.limit.clone(),
                power: match goes_by_power(&target.set, &target.limit) {
                    true => target.other.clone(),
                    false => None,
                },
            }
        }
    }))
}

pub(super) fn read_socket(step: &DraftStep, sign: DecimalSign, say: Say) -> Work {
    let Some(with) = picked(&step.with, (Field::With, "instrument"), say) else {
        return Work::Tick;
    };
    let mut pins = Vec::new();
    let lines = rows(&step.pins, ';');
    if lines.is_empty() {
        say(Field::Pins, "the socket has no pins yet".to_owned());
    }
    for line in lines {
        match read_pin(&line, sign) {
            Ok(pin) => pins.push(pin),
            Err(sentence) => say(Field::Pins, format!("in the pin “{line}”: {sentence}")),
        }
    }
    Work::Socket(Socket {
        name: step.socket.trim().to_owned(),
        with,
        pins,
    })
}

fn read_pin(line: &str, sign: DecimalSign) -> Result<Pin, String> {
    let [pin, signal, from, colour, states] = parts(line, ';');
    let id = |text: &str| text.parse::<Id>().map_err(|error| error.to_string());
    let mut expects = Vec::new();
    for part in states
        .split(';')
        .map(str::trim)
        .filter(|part| !part.is_empty())
    {
        let Some((state, tolerance)) = part.split_once('=') else {
            return Err(format!("“{part}” should read like “RX = 7.5 V ± 0.2 V”"));
        };
        expects.push(Expectation {
            state: id(state.trim())?,
            tolerance: pin_tolerance(tolerance, sign)?,
        });
    }
    Ok(Pin {
        pin: id(&pin)?,
        signal,
        from,
        colour,
        expects,
    })
}

/// A tolerance that brings its own unit; volts where it brings none.
fn pin_tolerance(text: &str, sign: DecimalSign) -> Result<Tolerance, String> {
    let units = Unit::ALL.iter().filter(|&&unit| unit != Unit::VoltDc);
    let volts = read_tolerance(text, Scale::plain(Unit::VoltDc), sign);
    units.fold(volts, |found, &unit| {
        found.or_else(|error| read_tolerance(text, Scale::plain(unit), sign).map_err(|_| error))
    })
}
