//! How a level goes with the frequency.

use crate::signal::fault::Unfit;
use crate::signal::figure::Figure;

/// A level at a frequency.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// In hertz.
    pub frequency: f64,
    /// In decibels.
    pub level: Figure,
}

/// Levels against that at the reference.
#[derive(Clone, Debug, PartialEq)]
pub struct Response {
    /// By rising frequency, each against the reference.
    pub points: Vec<Point>,
    /// The reference in hertz.
    pub reference: f64,
}

impl Response {
    /// Of levels as they were measured, the last of each frequency.
    pub fn of(levels: &[Point], reference: f64) -> Result<Response, Unfit> {
        let mut points: Vec<Point> = Vec::new();
        for level in levels {
            points.retain(|point| point.frequency != level.frequency);
            points.push(*level);
        }
        points.sort_by(|a, b| a.frequency.total_cmp(&b.frequency));
        let at = points
            .iter()
            .find(|point| point.frequency == reference)
            .copied();
        let zero = at.ok_or(Unfit::NoSense)?.level;
        for point in &mut points {
            let own = point.frequency == reference;
            point.level.value -= zero.value;
            point.level.standard = match own {
                true => 0.0,
                false => point.level.standard.hypot(zero.standard),
            };
        }
        Ok(Response { points, reference })
    }

    /// The least and the greatest within a band.
    pub fn within(&self, low: f64, high: f64) -> Option<(Point, Point)> {
        let inside = self
            .points
            .iter()
            .filter(|point| (low..=high).contains(&point.frequency));
        let by_level = |a: &&Point, b: &&Point| a.level.value.total_cmp(&b.level.value);
        Some((*inside.clone().min_by(by_level)?, *inside.max_by(by_level)?))
    }

    /// Where it first falls below so many decibels under the reference, downward and upward from
    /// it: between points straight over the logarithm of the frequency.
    pub fn corners(&self, down: f64) -> (Option<f64>, Option<f64>) {
        let below: Vec<&Point> = self
            .points
            .iter()
            .filter(|p| p.frequency <= self.reference)
            .collect();
        let above: Vec<&Point> = self
            .points
            .iter()
            .filter(|p| p.frequency >= self.reference)
            .collect();
        let downward: Vec<&Point> = below.into_iter().rev().collect();
        (crossing(&downward, -down), crossing(&above, -down))
    }
}

fn crossing(points: &[&Point], level: f64) -> Option<f64> {
    let pair = points.windows(2).find(|pair| pair[1].level.value < level)?;
    let (from, to) = (pair[0], pair[1]);
    let part = (level - from.level.value) / (to.level.value - from.level.value);
    Some(from.frequency * (to.frequency / from.frequency).powf(part))
}
