//! Warm-up and drift: from timed repeat readings to a slope, and whether it has settled.

use crate::metrology::distribution::sample::{mean, squares_about_mean};
use crate::metrology::distribution::student;
use crate::metrology::uncertainty::COVERAGE;
use crate::quantity::Fault;
use crate::quantity::fault::{finite, not_negative, positive};

/// The fewest readings that show a slope and how sure it is.
pub const LEAST_READINGS: usize = 3;

/// A reading and when it was taken.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Timed {
    /// Minutes since any fixed moment.
    pub minutes: f64,
    /// The reading in the unit without prefix.
    pub value: f64,
}

/// The straight line through timed readings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drift {
    /// Change per minute, in the unit without prefix.
    pub slope: f64,
    /// Where the line stands at minute zero.
    pub intercept: f64,
    /// Standard deviation of the readings about the line, with n−2, as it was seen.
    pub scatter: f64,
    /// The same, or what the steps of the display can hide where that is more.
    pub deviation: f64,
    /// Standard uncertainty of the slope.
    pub standard: f64,
    /// Expanded uncertainty U of the slope at 95 %.
    pub expanded: f64,
}

/// Whether a drift is inside a stated limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Steadiness {
    /// The slope is inside even at the far end of its uncertainty: |slope| + U ≤ limit.
    Settled,
    /// The readings don't tell yet: take more, or further apart.
    Unsure,
    /// The slope is outside even at the near end of its uncertainty: |slope| − U > limit.
    Drifting,
}

/// The fewest readings that are taken for the present drift where there are more.
const LEAST_RECENT: usize = 4;

/// How many of the latest readings tell the drift as it is now: as few as would show half the
/// limit beyond doubt, by how neighbours scatter in all of them; the later half where so many
/// readings don't tell yet. Which slope they have plays no part in the choice, so that a slope
/// is as sure as its U says.
///
/// Source: common practice, no source.
pub fn recent(readings: &[Timed], step: f64, limit: f64) -> usize {
    let count = readings.len();
    let noise = scatter_of_neighbours(readings).max(step / 12f64.sqrt());
    let tells = |latest: &[Timed]| {
        let minutes: Vec<f64> = latest.iter().map(|reading| reading.minutes).collect();
        let factor = student::coverage_factor(COVERAGE, latest.len() as f64 - 2.0);
        let reach = squares_about_mean(&minutes).sqrt() * limit / 2.0;
        factor.is_ok_and(|factor| factor * noise <= reach)
    };
    (LEAST_RECENT..=count)
        .find(|latest| tells(&readings[count - latest..]))
        .unwrap_or((count / 2).max(LEAST_RECENT.min(count)))
}

/// The standard deviation of a single reading from how far each lies off the line through its
/// two neighbours, which a slow bend hardly moves. The middle one of all counts, so that a fast
/// beginning does not.
fn scatter_of_neighbours(readings: &[Timed]) -> f64 {
    /// Standard deviation over the median of the sizes of a normal law: 1/0.6745.
    const OF_MEDIAN: f64 = 1.4826;
    let off = |three: &[Timed]| {
        let all = three[2].minutes - three[0].minutes;
        let share = (three[1].minutes - three[0].minutes) / all;
        let between = three[0].value + share * (three[2].value - three[0].value);
        let spread = 1.0 + share.powi(2) + (1.0 - share).powi(2);
        (all > 0.0).then(|| (three[1].value - between).abs() / spread.sqrt())
    };
    let mut sizes: Vec<f64> = readings.windows(3).filter_map(off).collect();
    sizes.sort_by(f64::total_cmp);
    sizes
        .get(sizes.len() / 2)
        .map_or(0.0, |middle| OF_MEDIAN * middle)
}

impl Drift {
    /// The line by least squares through three or more readings at two or more moments.
    ///
    /// slope b = Σ(t−t̄)(x−x̄)/Σ(t−t̄)², u(b) = s/√Σ(t−t̄)², s² = Σ(x−line)²/(n−2),
    /// U = t₉₅(n−2)·u(b). A display that steps by `step` can hide a scatter of step/√12, so s is
    /// never taken as less: three like readings within seconds prove nothing.
    /// Source: JCGM 100:2008, H.3.3 for the line, G.3.2 for U, F.2.2.1 for the step (from
    /// memory).
    pub fn of(readings: &[Timed], step: f64) -> Result<Drift, Fault> {
        let count = readings.len();
        if count < LEAST_READINGS {
            return Err(Fault::TooFew {
                what: "timed readings",
                count,
                least: LEAST_READINGS,
            });
        }
        for reading in readings {
            finite("A time", reading.minutes)?;
            finite("A reading", reading.value)?;
        }
        let unseen = not_negative("The step of the display", step)? / 12f64.sqrt();
        let minutes: Vec<f64> = readings.iter().map(|reading| reading.minutes).collect();
        let values: Vec<f64> = readings.iter().map(|reading| reading.value).collect();
        let (middle, level) = (mean(&minutes), mean(&values));
        let spread = squares_about_mean(&minutes);
        let spread = positive("The time from first to last reading", spread)?;
        let product = |r: &Timed| (r.minutes - middle) * (r.value - level);
        let slope = readings.iter().map(product).sum::<f64>() / spread;
        let residue = |r: &Timed| (r.value - level - slope * (r.minutes - middle)).powi(2);
        let freedom = count as f64 - 2.0;
        let scatter = (readings.iter().map(residue).sum::<f64>() / freedom).sqrt();
        let deviation = scatter.max(unseen);
        let standard = deviation / spread.sqrt();
        Ok(Drift {
            slope: finite("The slope", slope)?,
            intercept: level - slope * middle,
            scatter,
            deviation,
            standard,
            expanded: student::coverage_factor(COVERAGE, freedom)? * standard,
        })
    }

    /// Where the line stands at a time in minutes.
    pub fn at(&self, minutes: f64) -> f64 {
        self.intercept + self.slope * minutes
    }

    /// Whether the slope is inside a limit per minute, doubt included on either side.
    ///
    /// Source: common practice, no source; the guard band of ILAC-G8:09/2019, 4.2.2 on both
    /// sides.
    pub fn steadiness(&self, limit: f64) -> Result<Steadiness, Fault> {
        let limit = not_negative("The limit of the drift", limit)?;
        let size = self.slope.abs();
        Ok(if size + self.expanded <= limit {
            Steadiness::Settled
        } else if size - self.expanded > limit {
            Steadiness::Drifting
        } else {
            Steadiness::Unsure
        })
    }
}
