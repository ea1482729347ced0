//! One device in place of another: which ratings hold, and how the legs go in.

mod pin_order;
mod rating;
mod seat;

pub use self::pin_order::{NotAnOrder, PinOrder};
pub use self::rating::{Device, Gain, Kind, Rating, RatingFault, Standing, derated};
pub use self::seat::{Pins, Seat, Seen, seat};

use crate::quantity::{DecimalSign, Quantity};
use crate::radio::components::substitution::rating::percent;
use serde::{Deserialize, Serialize};

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
