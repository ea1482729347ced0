//! One obvious slip among repeated readings: which one to strike, as a suggestion only.

use crate::metrology::distribution::sample::{mean, squares_about_mean};
use crate::metrology::distribution::student;
use crate::quantity::Fault;
use crate::quantity::fault::{above, below, finite, not_negative};

/// The fewest readings among which one can stand out.
pub const LEAST_READINGS: usize = 3;

/// The risk of suspecting a reading that is as good as the others.
pub const SIGNIFICANCE: f64 = 0.01;

/// A reading that does not belong to the others.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Suspect {
    /// Its place among the readings, from 0.
    pub index: usize,
    /// Its value less the mean of the others.
    pub off: f64,
    /// Grubbs' statistic G.
    pub statistic: f64,
    /// The value that G exceeds.
    pub critical: f64,
}

/// The one reading that stands out by Grubbs' test, if one does.
///
/// G = |x−x̄|/s of the reading farthest from the mean, two-sided at a risk of 1 %. It is found
/// in its equal form t = |x−x̄'|/(s'·√(1+1/(n−1))) with mean and deviation of the others, so that
/// a display that steps by `step` counts: s' is never taken as less than step/√12. Three or more
/// readings. Source: ISO 5725-2, 7.3.4, and ASTM E178 (from memory); F. E. Grubbs, 1969.
pub fn suspect(readings: &[f64], step: f64) -> Result<Option<Suspect>, Fault> {
    let critical = critical(readings.len(), SIGNIFICANCE)?;
    let unseen = not_negative("The step of the display", step)? / 12f64.sqrt();
    for &reading in readings {
        finite("A reading", reading)?;
    }
    let centre = mean(readings);
    let off_centre = |&(_, x): &(usize, &f64)| (x - centre).abs();
    let farthest = readings
        .iter()
        .enumerate()
        .max_by(|a, b| off_centre(a).total_cmp(&off_centre(b)));
    let Some((index, &value)) = farthest else {
        return Ok(None);
    };
    let others: Vec<f64> = [&readings[..index], &readings[index + 1..]].concat();
    let off = value - mean(&others);
    let deviation = (squares_about_mean(&others) / (others.len() as f64 - 1.0)).sqrt();
    let statistic = statistic(readings.len(), off, deviation.max(unseen));
    let found = Suspect {
        index,
        off,
        statistic,
        critical,
    };
    Ok((statistic > critical).then_some(found))
}

/// Grubbs' G from how far a reading is off the mean of the n−1 others and their deviation.
fn statistic(count: usize, off: f64, deviation: f64) -> f64 {
    if off == 0.0 {
        return 0.0;
    }
    let n = count as f64;
    let scale = deviation * (n / (n - 1.0)).sqrt();
    (n - 1.0) / (n * (1.0 + (n - 2.0) * (scale / off).powi(2))).sqrt()
}

/// Critical value of Grubbs' test for one outlier on either side.
///
/// (n−1)/√n·√(t²/(n−2+t²)) with t of n−2 degrees of freedom at α/(2n) in its upper tail.
/// Three or more readings; 0 < α < 1.
/// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.1 (from memory).
pub fn critical(count: usize, significance: f64) -> Result<f64, Fault> {
    if count < LEAST_READINGS {
        return Err(Fault::TooFew {
            what: "readings",
            count,
            least: LEAST_READINGS,
        });
    }
    let risk = below("The risk", above("The risk", significance, 0.0)?, 1.0)?;
    let n = count as f64;
    // The lower quantile keeps the digits of a small tail; only its square counts.
    let t = student::quantile(risk / (2.0 * n), n - 2.0)?;
    Ok((n - 1.0) / (n * (1.0 + (n - 2.0) / (t * t))).sqrt())
}
