//! A receiver's sensitivity: at which level its SINAD, or its (S+N)/N, crosses a figure.
//!
//! Near the crossing S/(N+D) in decibels goes straight with the level in decibels: by 1 dB a
//! decibel in AM and SSB, steeper in FM below its threshold. So a straight line is fitted to that
//! ratio, which tells level and slope from few points, and the figure is read off it.

use super::surprising;
use crate::signal::fault::Unfit;
use crate::signal::figure::{Figure, decibels, power_of};

/// A figure at a level.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// The level of the generator in dBm, or in any unit of a level in decibels.
    pub level: f64,
    /// SINAD or (S+N)/N in decibels.
    pub figure: Figure,
}

/// What is looked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Search {
    /// The figure to be crossed, in decibels: 12 for SINAD, 10 for (S+N)/N.
    pub target: f64,
    /// From which level it starts.
    pub first: f64,
    /// The lowest level that the generator gives.
    pub lowest: f64,
    /// The highest one that may go into the set.
    pub highest: f64,
    /// The standard uncertainty that is enough, in decibels.
    pub enough: f64,
}

/// The level that was looked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// The level.
    pub level: Figure,
    /// Decibels of S/(N+D) for each decibel of level there.
    pub slope: f64,
    /// From how many readings.
    pub readings: usize,
}

/// What comes next.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Next {
    /// Set the generator to this level and read again.
    Level(f64),
    /// It is found.
    Found(Crossing),
}

/// Farther from the target than this, in decibels, the line may bend.
const NEAR: f64 = 5.0;

/// So far to either side of the crossing levels are asked for, in decibels.
const BESIDE: f64 = 1.5;

/// The first steps, until the target lies between two readings.
const STRIDE: f64 = 6.0;

/// Fewer readings near the target don't tell a slope well.
const FEWEST: usize = 4;

/// More than this are not asked for.
const MOST: usize = 12;

impl Search {
    /// The next level for what was read so far.
    pub fn next(&self, points: &[Point]) -> Result<Next, Unfit> {
        let Some(last) = points.last() else {
            return Ok(Next::Level(tenths(self.first)));
        };
        let above = points
            .iter()
            .filter(|each| each.figure.value >= self.target);
        let below = points.iter().filter(|each| each.figure.value < self.target);
        let lowest_above = above.map(|each| each.level).min_by(f64::total_cmp);
        let highest_below = below.map(|each| each.level).max_by(f64::total_cmp);
        match (lowest_above, highest_below) {
            (Some(level), None) => self.stride(level, -self.stride_of(last)),
            (None, Some(level)) => self.stride(level, self.stride_of(last)),
            (Some(above), Some(below)) => self.closer(points, above, below),
            (None, None) => Err(Unfit::NoSense),
        }
    }

    /// A reading far above says about how far it is: a decibel a decibel.
    fn stride_of(&self, last: &Point) -> f64 {
        let off = (last.figure.value - self.target).abs();
        (off + 1.0).clamp(2.0, 4.0 * STRIDE)
    }

    fn stride(&self, from: f64, by: f64) -> Result<Next, Unfit> {
        let level = tenths((from + by).clamp(self.lowest, self.highest));
        match level == tenths(from) {
            // The generator ends, or the set takes no more, and the figure is not crossed.
            true => Err(Unfit::NotRising),
            false => Ok(Next::Level(level)),
        }
    }

    fn closer(&self, points: &[Point], above: f64, below: f64) -> Result<Next, Unfit> {
        let near: Vec<Point> = self.near(points);
        let spread = near
            .iter()
            .any(|a| near.iter().any(|b| (a.level - b.level).abs() >= 0.5));
        if near.len() < 2 || !spread {
            return self.halve(above, below);
        }
        let Some(crossing) = self.crossing(&near) else {
            return match points.len() < MOST {
                true => self.halve(above, below),
                false => Err(Unfit::NotRising),
            };
        };
        let settled = crossing.level.standard <= self.enough && near.len() >= FEWEST;
        if settled || points.len() >= MOST {
            return Ok(Next::Found(crossing));
        }
        // To that side where there are fewer.
        let higher = near
            .iter()
            .filter(|each| each.level > crossing.level.value)
            .count();
        let side = if 2 * higher > near.len() {
            -BESIDE
        } else {
            BESIDE
        };
        let level = crossing.level.value + side / crossing.slope.max(1.0);
        Ok(Next::Level(tenths(level.clamp(self.lowest, self.highest))))
    }

    fn halve(&self, above: f64, below: f64) -> Result<Next, Unfit> {
        // A set whose figure falls as the level rises.
        if above < below - 3.0 {
            return Err(Unfit::NotRising);
        }
        Ok(Next::Level(tenths((above + below) / 2.0)))
    }

    /// The readings near the target whose tone is seen.
    fn near(&self, points: &[Point]) -> Vec<Point> {
        let near = points.iter().filter(|each| {
            (each.figure.value - self.target).abs() <= NEAR && each.figure.value > 0.5
        });
        near.copied().collect()
    }

    /// The crossing by the line through readings near it; nothing where it does not rise.
    pub fn crossing(&self, near: &[Point]) -> Option<Crossing> {
        let due = seen(self.target);
        let points: Vec<(f64, f64, f64)> = near.iter().map(ratio).collect();
        let weight: f64 = points.iter().map(|(.., weight)| weight).sum();
        let mean = |of: fn(&(f64, f64, f64)) -> f64| {
            points.iter().map(|point| point.2 * of(point)).sum::<f64>() / weight
        };
        let (x, y) = (mean(|point| point.0), mean(|point| point.1));
        let spread: f64 = points.iter().map(|p| p.2 * (p.0 - x).powi(2)).sum();
        let with: f64 = points.iter().map(|p| p.2 * (p.0 - x) * (p.1 - y)).sum();
        let slope = with / spread;
        if !(slope.is_finite() && slope > 0.2) {
            return None;
        }
        let level = x + (due - y) / slope;
        let apart = points
            .iter()
            .map(|p| p.2 * (p.1 - y - slope * (p.0 - x)).powi(2));
        let freedom = (points.len() - 2) as f64;
        // Readings that lie farther from the line than they say make it less certain.
        let scatter = if freedom > 0.0 {
            apart.sum::<f64>() / freedom
        } else {
            1.0
        };
        let wider = if scatter > surprising(freedom) {
            scatter
        } else {
            1.0
        };
        let variance = wider * (1.0 / weight + (level - x).powi(2) / spread) / slope.powi(2);
        Some(Crossing {
            level: Figure {
                value: level,
                standard: variance.sqrt(),
                freedom: if wider > 1.0 { freedom } else { f64::INFINITY },
            },
            slope,
            readings: points.len(),
        })
    }
}

/// Level, S/(N+D) in decibels, and its weight.
fn ratio(point: &Point) -> (f64, f64, f64) {
    let power = power_of(point.figure.value);
    // d(S/(N+D)) for d(SINAD), in decibels.
    let stretch = power / (power - 1.0);
    let standard = (point.figure.standard * stretch).max(1e-6);
    (point.level, seen(point.figure.value), standard.powi(-2))
}

/// S/(N+D) in decibels of (S+N+D)/(N+D).
fn seen(figure: f64) -> f64 {
    decibels(power_of(figure) - 1.0)
}

/// Generators step by a tenth of a decibel.
fn tenths(level: f64) -> f64 {
    (level * 10.0).round() / 10.0
}
