//! One step: the state the set must be in, where to probe, what to turn and what must come of it.

use super::Id;
use crate::metrology::{Margin, Tolerance};
use crate::quantity::{DecimalSign, Quantity, Scale, Unit};
use num_traits::Zero;
use serde::{Deserialize, Serialize};
use std::fmt;

/// One thing to do.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Step {
    /// Its name within the procedure.
    pub id: Id,
    /// A few words.
    pub title: String,
    /// What to do, in sentences.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub text: String,
    /// What can hurt or break here.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<String>,
    /// The state that the set must be in.
    #[serde(default, skip_serializing_if = "SetUp::is_empty")]
    pub set_up: SetUp,
    /// What kind of step it is, with what only that kind needs.
    pub work: Work,
}

/// The kinds of steps.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Work {
    /// Look for what earlier hands or years did: sound, altered, worn or damaged.
    Inspect,
    /// Read an instrument.
    Read {
        /// Where, with what, in which unit.
        gauge: Gauge,
        /// Where the reading must lie; a reading for the record has none.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        target: Option<Target>,
    },
    /// Turn an adjuster until the reading meets its target.
    Set {
        /// Where, with what, in which unit.
        gauge: Gauge,
        /// What is turned.
        adjuster: Id,
        /// Where the reading must lie.
        target: Target,
    },
    /// Turn an adjuster until the reading is as large as it gets.
    Peak {
        /// Where, with what, in which unit.
        gauge: Gauge,
        /// What is turned.
        adjuster: Id,
        /// Where the peak must lie, if that is known.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bound: Option<Target>,
    },
    /// Turn an adjuster until the reading is as small as it gets.
    Dip {
        /// Where, with what, in which unit.
        gauge: Gauge,
        /// What is turned.
        adjuster: Id,
        /// Where the dip must lie, if that is known.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bound: Option<Target>,
    },
    /// Fit a part or make a change.
    Fit(Alteration),
    /// Wire a lead.
    Wire(Lead),
    /// Do it and tick it.
    Tick,
    /// A safety gate: nothing after it opens until it is confirmed.
    Stop {
        /// What the technician confirms, in the first person.
        confirm: String,
    },
}

/// How a reading is taken.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Gauge {
    /// The test point.
    pub at: Id,
    /// The instrument's role.
    pub with: Id,
    /// The unit and prefix in which a bare number is taken.
    #[serde(rename = "in")]
    pub scale: Scale,
}

/// Where a reading must lie: a tolerance of its own, or one that another step's reading gives.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Target {
    /// Known beforehand.
    Fixed(Tolerance),
    /// Another step's reading as left, plus an offset.
    Relative {
        /// The other step.
        to: Id,
        /// What is added to its reading. Decibels on a linear reading multiply it.
        offset: Quantity,
        /// The margin below.
        below: Margin,
        /// The margin above.
        above: Margin,
    },
}

/// A part or a change to be fitted.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Alteration {
    /// What comes out, if anything.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub out: String,
    /// What goes in.
    #[serde(rename = "in")]
    pub fitted: String,
    /// Why.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub why: String,
}

/// A lead from one place to another.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Lead {
    /// Where it starts.
    pub from: String,
    /// Where it ends.
    pub to: String,
    /// Its colour.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub colour: String,
}

/// Receiving or transmitting.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Signal {
    /// Receiving.
    Rx,
    /// Transmitting.
    Tx,
}

impl fmt::Display for Signal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Signal::Rx => "RX",
            Signal::Tx => "TX",
        })
    }
}

/// The state that a set must be in for a step.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct SetUp {
    /// AM, FM, USB and so on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mode: Option<String>,
    /// The channel as the set shows it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub channel: Option<String>,
    /// Receiving or transmitting.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub signal: Option<Signal>,
    /// The supply, such as `13.8 V`, or `off`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub supply: Option<String>,
    /// Controls and what is connected.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub controls: Vec<Control>,
}

/// A control and where it stands, or a socket and what hangs on it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Control {
    /// The control.
    pub name: String,
    /// Where it stands.
    pub to: String,
}

/// One line of a set-up as shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetUpItem {
    /// What it is, such as `Mode`.
    pub name: String,
    /// What it must be.
    pub value: String,
    /// How that differs from the step before.
    pub change: SetUpChange,
}

/// How a line of a set-up differs from the step before.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SetUpChange {
    /// As before.
    Same,
    /// It was something else before.
    From(String),
    /// Nothing was said of it before.
    New,
}

impl SetUp {
    /// Whether nothing is stated.
    pub fn is_empty(&self) -> bool {
        *self == SetUp::default()
    }

    /// Name and value of everything stated, in a fixed order.
    pub fn lines(&self) -> Vec<(&str, String)> {
        let mut lines = Vec::new();
        let mut push = |name, value: Option<String>| {
            if let Some(value) = value {
                lines.push((name, value));
            }
        };
        push("Mode", self.mode.clone());
        push("Channel", self.channel.clone());
        push("State", self.signal.map(|signal| signal.to_string()));
        push("Supply", self.supply.clone());
        for control in &self.controls {
            lines.push((&control.name, control.to.clone()));
        }
        lines
    }

    /// The lines, each with what it was in the step before.
    pub fn compared_with(&self, before: Option<&SetUp>) -> Vec<SetUpItem> {
        let earlier = before.map(SetUp::lines).unwrap_or_default();
        self.lines()
            .into_iter()
            .map(|(name, value)| {
                let change = match earlier.iter().find(|(n, _)| *n == name) {
                    Some((_, old)) if *old == value => SetUpChange::Same,
                    Some((_, old)) => SetUpChange::From(old.clone()),
                    None => SetUpChange::New,
                };
                SetUpItem {
                    name: name.to_owned(),
                    value,
                    change,
                }
            })
            .collect()
    }
}

impl Work {
    /// The kind in a word.
    pub const fn kind(&self) -> &'static str {
        match self {
            Work::Inspect => "inspect",
            Work::Read { .. } => "read",
            Work::Set { .. } => "set to target",
            Work::Peak { .. } => "peak",
            Work::Dip { .. } => "dip",
            Work::Fit(_) => "fit",
            Work::Wire(_) => "wire",
            Work::Tick => "tick",
            Work::Stop { .. } => "stop",
        }
    }

    /// How the reading is taken, where the step takes one.
    pub fn gauge(&self) -> Option<&Gauge> {
        match self {
            Work::Read { gauge, .. }
            | Work::Set { gauge, .. }
            | Work::Peak { gauge, .. }
            | Work::Dip { gauge, .. } => Some(gauge),
            _ => None,
        }
    }

    /// What is turned, where something is.
    pub fn adjuster(&self) -> Option<&Id> {
        match self {
            Work::Set { adjuster, .. }
            | Work::Peak { adjuster, .. }
            | Work::Dip { adjuster, .. } => Some(adjuster),
            _ => None,
        }
    }

    /// Where the reading must lie, where that is stated.
    pub fn target(&self) -> Option<&Target> {
        match self {
            Work::Set { target, .. } => Some(target),
            Work::Read { target, .. } => target.as_ref(),
            Work::Peak { bound, .. } | Work::Dip { bound, .. } => bound.as_ref(),
            _ => None,
        }
    }
}

/// Why a relative target gives no tolerance.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TargetFault {
    /// The other step has no reading yet.
    Waiting(Id),
    /// The other step's reading and the offset don't go together.
    Units {
        /// The unit of the other step's reading.
        reading: Unit,
        /// The unit of the offset.
        offset: Unit,
    },
}

impl Target {
    /// The tolerance, given the reading as left of any other step.
    pub fn tolerance(
        &self,
        reading_of: impl Fn(&Id) -> Option<Quantity>,
    ) -> Result<Tolerance, TargetFault> {
        match self {
            Target::Fixed(tolerance) => Ok(tolerance.clone()),
            Target::Relative {
                to,
                offset,
                below,
                above,
            } => {
                let reading = reading_of(to).ok_or_else(|| TargetFault::Waiting(to.clone()))?;
                Ok(Tolerance::Around {
                    nominal: shifted(&reading, offset)?,
                    below: below.clone(),
                    above: above.clone(),
                })
            }
        }
    }

    /// The unit a reading must be in, where the target alone says so.
    pub fn unit(&self) -> Option<Unit> {
        match self {
            Target::Fixed(tolerance) => Some(tolerance.unit()),
            Target::Relative { .. } => None,
        }
    }

    /// The target in print; a relative one names the other step by its number.
    pub fn typeset(&self, sign: DecimalSign, number_of: impl Fn(&Id) -> Option<usize>) -> String {
        match self {
            Target::Fixed(tolerance) => tolerance.typeset(sign),
            Target::Relative {
                to,
                offset,
                below,
                above,
            } => {
                let step = number_of(to).map_or_else(|| to.to_string(), |n| n.to_string());
                let size = Quantity::natural(offset.base().abs(), offset.unit()).typeset(sign);
                let around = match (offset.number.is_negative(), offset.base().is_zero()) {
                    (_, true) => format!("the reading of step {step}"),
                    (true, _) => format!("{size} below the reading of step {step}"),
                    (false, _) => format!("{size} above the reading of step {step}"),
                };
                let zero = Quantity::in_scale(0.into(), offset.scale);
                let margins = Tolerance::Around {
                    nominal: zero,
                    below: below.clone(),
                    above: above.clone(),
                }
                .typeset(sign);
                let margins = margins.split_once(' ').map_or("", |(_, rest)| rest);
                format!("{around} {margins}")
            }
        }
    }
}

/// A reading moved by an offset: exactly where the units add, by the decibel rule where a
/// linear reading is offset in decibels (20 log for voltages, 10 log for powers).
fn shifted(reading: &Quantity, offset: &Quantity) -> Result<Quantity, TargetFault> {
    let fault = TargetFault::Units {
        reading: reading.unit(),
        offset: offset.unit(),
    };
    if offset.unit() == reading.unit().of_difference() {
        return Ok(Quantity::in_scale(
            reading.base() + offset.base(),
            reading.scale,
        ));
    }
    if offset.unit() != Unit::Decibel {
        return Err(fault);
    }
    let per_decade = match reading.unit() {
        Unit::Watt => 10.0,
        Unit::VoltDc
        | Unit::VoltRms
        | Unit::VoltPeak
        | Unit::VoltPeakToPeak
        | Unit::VoltEmf
        | Unit::Ampere => 20.0,
        _ => return Err(fault),
    };
    let factor = 10f64.powf(offset.base_f64() / per_decade);
    let value = reading.number.to_f64() * factor;
    // Two places more than the reading shows: the factor has no exact decimal.
    let places = u8::try_from(reading.number.decimals() + 2).unwrap_or(u8::MAX);
    crate::quantity::Number::from_f64(value, places)
        .map(|number| Quantity::new(number, reading.scale))
        .ok_or(fault)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn q(text: &str) -> Quantity {
        text.parse().unwrap()
    }

    fn relative(offset: &str, margin: &str) -> Target {
        Target::Relative {
            to: "s1".parse().unwrap(),
            offset: q(offset),
            below: Margin::Absolute(q(margin)),
            above: Margin::Absolute(q(margin)),
        }
    }

    #[test]
    fn a_relative_target_moves_with_the_other_reading() {
        for (reading, offset, margin, nominal) in [
            ("9.001512 MHz", "-3 kHz", "20 Hz", "8.998512 MHz"),
            ("-20.5 dBm", "-40 dB", "3 dB", "-60.5 dBm"),
            // 20 log 2 is 6.0206 dB, ARRL Handbook, from memory.
            ("2.00 V rms", "-6.0206 dB", "0.1 V rms", "1.0000 V rms"),
            // 10 log 0.5 is −3.0103 dB.
            ("4.0 W", "-3.0103 dB", "0.2 W", "2.000 W"),
        ] {
            let target = relative(offset, margin);
            let tolerance = target.tolerance(|_| Some(q(reading))).unwrap();
            assert_eq!(tolerance.nominal(), Some(&q(nominal)), "{reading}");
        }
    }

    #[test]
    fn a_relative_target_waits_for_its_reading_and_refuses_odd_units() {
        let target = relative("-3 kHz", "20 Hz");
        let waiting = target.tolerance(|_| None);
        assert!(matches!(waiting, Err(TargetFault::Waiting(_))));
        let odd = target.tolerance(|_| Some(q("4 W")));
        assert!(matches!(odd, Err(TargetFault::Units { .. })));
    }

    #[test]
    fn a_relative_target_is_said_in_words() {
        let said = |offset| {
            relative(offset, "20 Hz")
                .typeset(DecimalSign::Point, |_| Some(7))
                .replace('\u{a0}', " ")
        };
        assert_eq!(said("-3 kHz"), "3 kHz below the reading of step 7 ± 20 Hz");
        assert_eq!(said("0 Hz"), "the reading of step 7 ± 20 Hz");
    }

    #[test]
    fn what_changes_from_the_step_before_is_known() {
        let control = |to: &str| Control {
            name: "Clarifier".to_owned(),
            to: to.to_owned(),
        };
        let before = SetUp {
            mode: Some("AM".to_owned()),
            channel: Some("8".to_owned()),
            controls: vec![control("centre")],
            ..SetUp::default()
        };
        let now = SetUp {
            mode: Some("USB".to_owned()),
            channel: Some("8".to_owned()),
            signal: Some(Signal::Tx),
            controls: vec![control("centre")],
            ..SetUp::default()
        };
        let changes: Vec<_> = now
            .compared_with(Some(&before))
            .into_iter()
            .map(|item| (item.name, item.change))
            .collect();
        assert_eq!(
            changes,
            [
                ("Mode".to_owned(), SetUpChange::From("AM".to_owned())),
                ("Channel".to_owned(), SetUpChange::Same),
                ("State".to_owned(), SetUpChange::New),
                ("Clarifier".to_owned(), SetUpChange::Same),
            ]
        );
    }
}
