//! One device in place of another: which ratings hold, and how the legs go in.

use crate::quantity::fault::{above, finite, not_negative, positive};
use crate::quantity::{DecimalSign, Fault, Number, Quantity, Unit, to_f64};
use bigdecimal::BigDecimal;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;
use std::str::FromStr;

/// The case temperature in °C at which a dissipation is rated.
const RATED_AT: f64 = 25.0;

/// What a data sheet says of a transistor.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Device {
    /// What is printed on it.
    pub name: String,
    /// What it is made as.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kind: Option<Kind>,
    /// Breakdown voltage, in V; PNP signs don't matter.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub breakdown: Option<Quantity>,
    /// Highest current, in A.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub current: Option<Quantity>,
    /// Highest dissipation at a case of 25 °C, in W.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dissipation: Option<Quantity>,
    /// Highest junction temperature, in °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub junction: Option<Quantity>,
    /// Thermal resistance from junction to case, in °C/W.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub junction_to_case: Option<Quantity>,
    /// Current gain.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gain: Option<Gain>,
    /// Transition frequency, in Hz.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub transition: Option<Quantity>,
    /// The order of its legs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pins: Option<Pins>,
}

/// What a device is made as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// Bipolar, NPN.
    Npn,
    /// Bipolar, PNP.
    Pnp,
    /// Field effect, N channel.
    NChannel,
    /// Field effect, P channel.
    PChannel,
}

/// The range of a current gain; pieces of a type differ widely.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Gain {
    /// The least that a piece may have.
    pub least: Number,
    /// The most that a piece may have, where that is stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub most: Option<Number>,
}

/// The order of legs in a row, from left to right.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Pins {
    /// A letter for each leg, such as ECB or GDS.
    pub order: PinOrder,
    /// From where they are seen.
    pub seen: Seen,
}

/// The side from which legs are seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Seen {
    /// From the flat or printed side, legs down.
    Front,
    /// From the round or metal side, legs down.
    Back,
    /// From below, legs towards you, flat or printed side up.
    Below,
}

/// Letters of legs, two to six and each once.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PinOrder(String);

/// A text that is not an order of legs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotAnOrder;

impl fmt::Display for NotAnOrder {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(
            "This is not an order of legs; write a capital for each from left to right, as in ECB.",
        )
    }
}

impl std::error::Error for NotAnOrder {}

impl FromStr for PinOrder {
    type Err = NotAnOrder;

    fn from_str(text: &str) -> Result<Self, NotAnOrder> {
        let capitals = text.bytes().all(|byte| byte.is_ascii_uppercase());
        let different = text
            .char_indices()
            .all(|(at, leg)| !text[..at].contains(leg));
        match (2..=6).contains(&text.len()) && capitals && different {
            true => Ok(PinOrder(text.to_owned())),
            false => Err(NotAnOrder),
        }
    }
}

impl fmt::Display for PinOrder {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl Serialize for PinOrder {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for PinOrder {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = <std::borrow::Cow<'de, str>>::deserialize(deserializer)?;
        text.parse().map_err(serde::de::Error::custom)
    }
}

/// The ratings that are compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Rating {
    /// Breakdown voltage.
    Breakdown,
    /// Current.
    Current,
    /// Dissipation at the real case temperature.
    Dissipation,
    /// Least current gain; more than the old one had is rarely a fault.
    Gain,
    /// Transition frequency.
    Transition,
}

/// How the new device stands in a rating.
#[derive(Clone, Debug, PartialEq)]
pub enum Standing {
    /// More than the old one.
    Better,
    /// The same.
    Equal,
    /// Less than the old one.
    Weaker {
        /// By how much.
        short: Quantity,
        /// The same in percent of the old rating.
        percent: f64,
    },
    /// Not stated for one of them, or not in full.
    Missing {
        /// The name of the device whose data lack it.
        of: String,
    },
}

/// How the new legs go into the old holes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Seat {
    /// As the old one was.
    DropsIn,
    /// Turned round: the order is reversed.
    Turned,
    /// Only with its legs formed to another order.
    LegsFormed,
    /// Not at all: it has other legs, or is made as another kind.
    Never,
    /// The kind or the legs of one of them aren't stated.
    Unknown,
}

/// A new device in place of an old one.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Substitution {
    /// What comes out.
    pub old: Device,
    /// What goes in.
    pub new: Device,
    /// The case temperature in the set, in °C.
    pub case: Quantity,
}

/// What comes of a comparison.
#[derive(Clone, Debug, PartialEq)]
pub struct Comparison {
    /// Each rating with how the new device stands in it.
    pub ratings: Vec<(Rating, Standing)>,
    /// The rating that falls short the most, in percent.
    pub weakest: Option<Rating>,
    /// How the legs go in.
    pub seat: Seat,
}

/// Why devices can't be compared.
#[derive(Clone, Debug, PartialEq)]
pub enum RatingFault {
    /// A rating in a unit that it can't have.
    Unit {
        /// The name of the device.
        device: String,
        /// The rating as stated.
        stated: Quantity,
        /// The unit that is due.
        due: Unit,
    },
    /// A value that makes no sense.
    Fault(Fault),
}

impl fmt::Display for RatingFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            RatingFault::Unit {
                device,
                stated,
                due,
            } => write!(
                f,
                "{} of “{device}” is in {} where {} is due; change the unit.",
                stated.typeset(DecimalSign::Point),
                stated.unit().symbol(),
                due.symbol()
            ),
            RatingFault::Fault(fault) => fault.fmt(f),
        }
    }
}

impl std::error::Error for RatingFault {}

impl From<Fault> for RatingFault {
    fn from(fault: Fault) -> Self {
        RatingFault::Fault(fault)
    }
}

/// Highest dissipation in W at a case temperature in °C, from that at 25 °C and the highest
/// junction temperature: Pmax·(Tjmax−Tc)/(Tjmax−25), all of it at or below 25 °C, none from Tjmax
/// on.
///
/// Source: linear derating as data sheets draw it; MIL-PRF-19500, temperature-power derating
/// curves.
pub fn derated(dissipation: f64, junction: f64, case: f64) -> Result<f64, Fault> {
    let dissipation = not_negative("The dissipation", dissipation)?;
    let junction = above("The highest junction temperature in °C", junction, RATED_AT)?;
    let left = (junction - finite("The case temperature", case)?) / (junction - RATED_AT);
    Ok(dissipation * left.clamp(0.0, 1.0))
}

impl Substitution {
    /// How the new device stands against the old one at the real case temperature.
    ///
    /// Source: common practice, no source.
    pub fn compare(&self) -> Result<Comparison, RatingFault> {
        let ratings = Rating::ALL
            .iter()
            .map(|&rating| Ok((rating, self.standing(rating)?)))
            .collect::<Result<Vec<_>, RatingFault>>()?;
        Ok(Comparison {
            weakest: weakest(&ratings),
            ratings,
            seat: seat(&self.old, &self.new),
        })
    }

    /// What comes of the check, in a few sentences.
    pub fn verdict(&self, sign: DecimalSign) -> String {
        let compared = match self.compare() {
            Ok(compared) => compared,
            Err(fault) => return fault.to_string(),
        };
        let pair = format!(
            "“{}” for “{}” at a case of {}",
            self.new.name,
            self.old.name,
            self.case.typeset(sign)
        );
        let Some(finding) = compared.finding() else {
            return match compared.seat {
                Seat::Unknown => format!("{pair}: nothing is known of both, so nothing is said."),
                seat => format!("{pair}: no rating is known of both. {seat}"),
            };
        };
        let known = compared
            .known()
            .map(|(rating, standing)| format!("{rating} {}", standing.words(sign)));
        let ratings = known.collect::<Vec<_>>().join(", ");
        format!("{pair}: {ratings}. {finding} {}", compared.seat)
    }

    fn standing(&self, rating: Rating) -> Result<Standing, RatingFault> {
        let was = self.old.rated(rating, &self.case)?;
        let is = self.new.rated(rating, &self.case)?;
        let missing = |device: &Device| Standing::Missing {
            of: device.name.clone(),
        };
        Ok(match (was, is) {
            (None, _) => missing(&self.old),
            (_, None) => missing(&self.new),
            (Some(was), Some(is)) if is > was => Standing::Better,
            (Some(was), Some(is)) if is < was => Standing::Weaker {
                percent: percent(&was, &is),
                short: Quantity::natural(was - is, rating.unit()),
            },
            _ => Standing::Equal,
        })
    }
}

impl Comparison {
    /// The ratings that are known of both.
    fn known(&self) -> impl Iterator<Item = &(Rating, Standing)> {
        let missing = |standing: &Standing| matches!(standing, Standing::Missing { .. });
        self.ratings
            .iter()
            .filter(move |(_, standing)| !missing(standing))
    }

    /// What the ratings come to, as a sentence; nothing where none is known of both.
    pub fn finding(&self) -> Option<String> {
        let (known, all) = (self.known().count(), self.ratings.len());
        Some(match self.weakest {
            Some(rating) => format!("The weak one is its {rating}."),
            None if known == 0 => return None,
            None if known == all => "No rating falls short.".to_owned(),
            None => {
                format!("No rating known of both falls short; {known} of {all} are known of both.")
            }
        })
    }

    /// Whether anything is known of both, so that there is something to say.
    pub fn says_something(&self) -> bool {
        self.finding().is_some() || self.seat != Seat::Unknown
    }
}

fn weakest(ratings: &[(Rating, Standing)]) -> Option<Rating> {
    let shortfall = |(rating, standing): &(Rating, Standing)| match standing {
        Standing::Weaker { percent, .. } => Some((*rating, *percent)),
        _ => None,
    };
    let worst = ratings.iter().filter_map(shortfall);
    worst
        .reduce(|worst, next| if next.1 > worst.1 { next } else { worst })
        .map(|(rating, _)| rating)
}

/// By how many percent `is` falls short of `was`, which is above zero.
fn percent(was: &BigDecimal, is: &BigDecimal) -> f64 {
    100.0 * to_f64(&(was - is)) / to_f64(was)
}

impl Device {
    /// The size of a rating in the unit without prefix, where it is stated in full.
    fn rated(&self, rating: Rating, case: &Quantity) -> Result<Option<BigDecimal>, RatingFault> {
        match rating {
            Rating::Breakdown => self.size(&self.breakdown, Unit::VoltDc),
            Rating::Current => self.size(&self.current, Unit::Ampere),
            Rating::Dissipation => self.dissipation_at(case),
            Rating::Gain => self.least_gain(),
            Rating::Transition => self.size(&self.transition, Unit::Hertz),
        }
    }

    fn size(
        &self,
        stated: &Option<Quantity>,
        due: Unit,
    ) -> Result<Option<BigDecimal>, RatingFault> {
        match stated {
            Some(stated) if stated.unit() != due => Err(RatingFault::Unit {
                device: self.name.clone(),
                stated: stated.clone(),
                due,
            }),
            Some(stated) => Ok(Some(stated.base().abs())),
            None => Ok(None),
        }
    }

    fn least_gain(&self) -> Result<Option<BigDecimal>, RatingFault> {
        let Some(gain) = &self.gain else {
            return Ok(None);
        };
        not_negative("The gain", gain.least.to_f64())?;
        Ok(Some(gain.least.decimal().clone()))
    }

    /// The dissipation left at a case temperature, to the milliwatt.
    fn dissipation_at(&self, case: &Quantity) -> Result<Option<BigDecimal>, RatingFault> {
        let case = match case.unit() {
            Unit::Celsius => case.base_f64(),
            _ => {
                return Err(RatingFault::Unit {
                    device: self.name.clone(),
                    stated: case.clone(),
                    due: Unit::Celsius,
                });
            }
        };
        let junction = self
            .size(&self.junction, Unit::Celsius)?
            .map(|decimal| to_f64(&decimal));
        let path = self.size(&self.junction_to_case, Unit::CelsiusPerWatt)?;
        let Some(rated) = self.size(&self.dissipation, Unit::Watt)? else {
            return Ok(None);
        };
        if case <= RATED_AT {
            return Ok(Some(rated));
        }
        let rated = to_f64(&rated);
        // The path to the case says by itself how hot the rated dissipation makes the junction.
        let junction = match (junction, path.map(|decimal| to_f64(&decimal))) {
            (Some(junction), _) => junction,
            (None, Some(path)) => RATED_AT + rated * positive("The thermal resistance", path)?,
            (None, None) => return Ok(None),
        };
        let left = derated(rated, junction, case)?;
        Ok(Number::from_f64(left, 3).map(|number| number.decimal().clone()))
    }
}

impl Rating {
    /// Every rating, in the order in which a page shows them.
    pub const ALL: &[Rating] = &[
        Rating::Breakdown,
        Rating::Current,
        Rating::Dissipation,
        Rating::Gain,
        Rating::Transition,
    ];

    const fn unit(self) -> Unit {
        match self {
            Rating::Breakdown => Unit::VoltDc,
            Rating::Current => Unit::Ampere,
            Rating::Dissipation => Unit::Watt,
            Rating::Gain => Unit::Ratio,
            Rating::Transition => Unit::Hertz,
        }
    }
}

/// How the legs of the new device go into the holes of the old one.
pub fn seat(old: &Device, new: &Device) -> Seat {
    if matches!((old.kind, new.kind), (Some(was), Some(is)) if was != is) {
        return Seat::Never;
    }
    let (Some(was), Some(is)) = (&old.pins, &new.pins) else {
        return Seat::Unknown;
    };
    let (was, is) = (was.seen_from_front(), is.seen_from_front());
    let sorted = |order: &str| {
        let mut legs: Vec<char> = order.chars().collect();
        legs.sort_unstable();
        legs
    };
    if sorted(&was) != sorted(&is) {
        Seat::Never
    } else if old.kind.is_none() || new.kind.is_none() {
        // The same legs of another kind go into no hole.
        Seat::Unknown
    } else if was == is {
        Seat::DropsIn
    } else if was.chars().rev().eq(is.chars()) {
        Seat::Turned
    } else {
        Seat::LegsFormed
    }
}

impl Pins {
    /// The order as seen from the front. Tilted until the legs point at one, front up, a device
    /// keeps its left and right.
    fn seen_from_front(&self) -> String {
        match self.seen {
            Seen::Front | Seen::Below => self.order.0.clone(),
            Seen::Back => self.order.0.chars().rev().collect(),
        }
    }
}

impl Standing {
    /// The standing in words, such as `weaker by 5 V (14 %)`.
    pub fn words(&self, sign: DecimalSign) -> String {
        match self {
            Standing::Better => "better".to_owned(),
            Standing::Equal => "equal".to_owned(),
            Standing::Weaker { short, percent } => {
                let short = match short.unit() {
                    Unit::Ratio => short.number.typeset(sign),
                    _ => short.typeset(sign),
                };
                let percent = percent.ceil();
                format!("weaker by {short} ({percent}\u{a0}%)")
            }
            Standing::Missing { of } => format!("not stated for “{of}”"),
        }
    }
}

impl fmt::Display for Rating {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Rating::Breakdown => "breakdown voltage",
            Rating::Current => "current",
            Rating::Dissipation => "dissipation",
            Rating::Gain => "gain",
            Rating::Transition => "transition frequency",
        })
    }
}

impl fmt::Display for Seat {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Seat::DropsIn => "It drops in.",
            Seat::Turned => "It must be turned round: its legs have the reverse order.",
            Seat::LegsFormed => "Its legs must be formed to another order.",
            Seat::Never => "It can't go in: it has other legs or is of another kind.",
            Seat::Unknown => "The kind or the order of the legs is not stated for both.",
        })
    }
}
