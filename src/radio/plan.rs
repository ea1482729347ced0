//! Frequency plans: an on-air frequency as a sum of oscillators, exact to the last digit.

use super::channels::Channel;
use crate::quantity::{Fault, Quantity, Unit, to_f64};
use bigdecimal::{BigDecimal, RoundingMode};
use num_traits::Zero;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// How a set makes its on-air frequency, for every mode.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Plan {
    /// The plan's name.
    pub name: String,
    /// Its modes; the first one is what the others are compared with.
    pub modes: Vec<Mode>,
}

/// One mode of a set: on-air frequency = Σ factor · oscillator.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Mode {
    /// Such as AM, USB or LSB.
    pub name: String,
    /// What adds up to the on-air frequency.
    pub terms: Vec<Term>,
    /// What adds up to the receiver's first injection; empty if it isn't known.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub injection: Vec<Factor>,
}

/// One oscillator in the sum of a mode.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Term {
    /// The oscillator's name.
    pub oscillator: String,
    /// How often it counts: 1 for a sum, −1 for a difference, 3 behind a tripler.
    pub factor: i32,
    /// Where it should be.
    pub target: Target,
    /// What sets it in this mode, such as a coil or a trimmer.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub adjuster: String,
}

/// How often an oscillator counts.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Factor {
    /// The oscillator's name.
    pub oscillator: String,
    /// How often it counts.
    pub factor: i32,
}

/// Where an oscillator should be.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Target {
    /// The same on every channel.
    Fixed(Quantity),
    /// By the channel's name, as in sets with a crystal per channel.
    PerChannel(BTreeMap<String, Quantity>),
    /// Whatever lands the sum on the channel.
    FollowsChannel,
}

/// Frequencies of oscillators by name, as read.
pub type Readings = BTreeMap<String, Quantity>;

/// What readings say of the frequency on the air.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Prediction {
    /// The mode.
    pub mode: String,
    /// The frequency on the air, in Hz.
    pub on_air: BigDecimal,
    /// On-air frequency less the channel's, in Hz.
    pub error: BigDecimal,
}

/// Frequencies at which a receiver also listens, in Hz.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Responses {
    /// The intermediate frequency: |f − LO|.
    pub intermediate: BigDecimal,
    /// The image: |2·LO − f|.
    pub image: BigDecimal,
    /// The half-IF response: (f + LO)/2.
    pub half_if: BigDecimal,
}

/// Decimals of Hz to which a target is rounded when the division does not come out even.
const DECIMALS: i64 = 6;

impl Plan {
    /// The mode of a name.
    pub fn mode(&self, name: &str) -> Result<&Mode, Fault> {
        let found = self.modes.iter().find(|mode| mode.name == name);
        found.ok_or_else(|| Fault::Unknown {
            what: "mode",
            name: name.to_owned(),
        })
    }

    /// The predicted on-air error of every mode that has all its readings.
    pub fn predictions<'a>(
        &self,
        channel: &Channel,
        readings: impl Fn(&str) -> Option<&'a Readings>,
    ) -> Vec<Prediction> {
        self.modes
            .iter()
            .filter_map(|mode| mode.predict(channel, readings(&mode.name)?).ok())
            .collect()
    }
}

impl Mode {
    /// The target in Hz of an oscillator on a channel.
    ///
    /// One that follows the channel gets (channel − Σ k·f of the others)/k.
    pub fn target(&self, oscillator: &str, channel: &Channel) -> Result<BigDecimal, Fault> {
        let term = self.term(oscillator)?;
        match term.stated(channel)? {
            Some(stated) => Ok(stated),
            None => {
                let others = self.others(oscillator, |other| {
                    other.stated(channel)?.ok_or_else(|| self.undetermined())
                })?;
                term.landing(channel.frequency.base() - others)
            }
        }
    }

    /// The on-air frequency in Hz of readings: Σ k·f, exact.
    pub fn on_air(&self, readings: &Readings) -> Result<BigDecimal, Fault> {
        self.terms.iter().try_fold(BigDecimal::zero(), |sum, term| {
            Ok(sum + term.weighted(&term.read(readings)?))
        })
    }

    /// The on-air frequency of readings and how far it is from the channel.
    pub fn predict(&self, channel: &Channel, readings: &Readings) -> Result<Prediction, Fault> {
        let on_air = self.on_air(readings)?;
        Ok(Prediction {
            mode: self.name.clone(),
            error: &on_air - channel.frequency.base(),
            on_air,
        })
    }

    /// The target in Hz of the last oscillator to be adjusted, which lands the sum on the channel
    /// whatever the others read.
    pub fn last_target(
        &self,
        oscillator: &str,
        channel: &Channel,
        readings: &Readings,
    ) -> Result<BigDecimal, Fault> {
        let others = self.others(oscillator, |other| other.read(readings))?;
        self.term(oscillator)?
            .landing(channel.frequency.base() - others)
    }

    /// Standard uncertainty in Hz of the on-air frequency, from that of each reading in Hz and
    /// that of the time base as a ratio: √(Σ(k·u)² + (r·Σk·f)²).
    ///
    /// The readings are independent and add in quadrature; the time base is the same for all of
    /// them, so that its parts add up before that. An oscillator without an entry adds nothing.
    /// Source: JCGM 100:2008, 5.1.2 and 5.2.2.
    pub fn uncertainty(
        &self,
        readings: &Readings,
        standard: &BTreeMap<String, f64>,
        time_base: f64,
    ) -> Result<f64, Fault> {
        let shared = to_f64(&self.on_air(readings)?) * time_base;
        let independent = self
            .terms
            .iter()
            .filter_map(|term| Some(f64::from(term.factor) * standard.get(&term.oscillator)?));
        Ok(independent.fold(shared.abs(), f64::hypot))
    }

    /// The responses of the receiver on a channel, from the targets of its first injection.
    pub fn responses(&self, channel: &Channel) -> Result<Responses, Fault> {
        if self.injection.is_empty() {
            return Err(Fault::Missing {
                what: "first injection",
                name: self.name.clone(),
            });
        }
        let injection = self
            .injection
            .iter()
            .try_fold(BigDecimal::zero(), |sum, part| {
                let target = self.target(&part.oscillator, channel)?;
                Ok(sum + target * BigDecimal::from(part.factor))
            })?;
        Ok(responses(&channel.frequency.base(), &injection))
    }

    fn term(&self, oscillator: &str) -> Result<&Term, Fault> {
        let found = self.terms.iter().find(|term| term.oscillator == oscillator);
        found.ok_or_else(|| Fault::Unknown {
            what: "oscillator",
            name: oscillator.to_owned(),
        })
    }

    /// Σ k·f of all oscillators but one.
    fn others(
        &self,
        oscillator: &str,
        frequency: impl Fn(&Term) -> Result<BigDecimal, Fault>,
    ) -> Result<BigDecimal, Fault> {
        self.terms
            .iter()
            .filter(|term| term.oscillator != oscillator)
            .try_fold(BigDecimal::zero(), |sum, term| {
                Ok(sum + term.weighted(&frequency(term)?))
            })
    }

    fn undetermined(&self) -> Fault {
        let follows = |term: &&Term| term.target == Target::FollowsChannel;
        Fault::Undetermined {
            mode: self.name.clone(),
            following: self.terms.iter().filter(follows).count(),
        }
    }
}

impl Term {
    /// The target in Hz that the plan states; `None` when it follows the channel.
    fn stated(&self, channel: &Channel) -> Result<Option<BigDecimal>, Fault> {
        match &self.target {
            Target::Fixed(quantity) => Ok(Some(hertz(quantity)?)),
            Target::PerChannel(table) => match table.get(&channel.name) {
                Some(quantity) => Ok(Some(hertz(quantity)?)),
                None => Err(Fault::Unknown {
                    what: "channel in the table of this oscillator",
                    name: channel.name.clone(),
                }),
            },
            Target::FollowsChannel => Ok(None),
        }
    }

    fn read(&self, readings: &Readings) -> Result<BigDecimal, Fault> {
        let reading = readings
            .get(&self.oscillator)
            .ok_or_else(|| Fault::Missing {
                what: "reading",
                name: self.oscillator.clone(),
            })?;
        hertz(reading)
    }

    fn weighted(&self, frequency: &BigDecimal) -> BigDecimal {
        frequency * BigDecimal::from(self.factor)
    }

    /// The frequency that makes up for what the sum lacks; exact, or to the microhertz where the
    /// division by the factor goes on.
    fn landing(&self, lacking: BigDecimal) -> Result<BigDecimal, Fault> {
        if self.factor == 0 {
            return Err(Fault::Missing {
                what: "factor",
                name: self.oscillator.clone(),
            });
        }
        let divided = lacking / BigDecimal::from(self.factor);
        Ok(divided
            .with_scale_round(DECIMALS, RoundingMode::HalfEven)
            .normalized())
    }
}

/// How far apart the on-air errors of all modes are, in Hz: largest less smallest.
pub fn spread(predictions: &[Prediction]) -> Option<BigDecimal> {
    let errors = || predictions.iter().map(|prediction| &prediction.error);
    Some(errors().max()? - errors().min()?)
}

/// The responses of a receiver to a wanted frequency with an injection, both in Hz.
///
/// Source: superheterodyne principle, |f−LO| alike for both; 2·f and 2·LO for the half-IF.
pub fn responses(wanted: &BigDecimal, injection: &BigDecimal) -> Responses {
    Responses {
        intermediate: (wanted - injection).abs(),
        image: (injection.double() - wanted).abs(),
        half_if: (wanted + injection).half().normalized(),
    }
}

fn hertz(quantity: &Quantity) -> Result<BigDecimal, Fault> {
    match quantity.unit() {
        Unit::Hertz => Ok(quantity.base()),
        _ => Err(Fault::Unknown {
            what: "frequency",
            name: quantity.to_string(),
        }),
    }
}
