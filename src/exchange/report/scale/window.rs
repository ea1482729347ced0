//! What part of the number line a drawn scale shows.

use super::frame::Frame;
use crate::metrology::Limits;
use crate::quantity::to_f64;

/// How much of the width a band with two limits takes.
const BAND_SHARE: f64 = 0.46;

/// What part of the number line is shown.
pub(super) struct Window {
    low: f64,
    high: f64,
    pub(super) frame: Frame,
}

impl Window {
    /// A window that shows the band in its middle; with one limit or none, one that shows
    /// all readings.
    pub(super) fn of(limits: &Limits, readings: &[f64], frame: Frame) -> Window {
        let low = limits.low.as_ref().map(to_f64);
        let high = limits.high.as_ref().map(to_f64);
        let window = |low, high| Window { low, high, frame };
        let reach = |from: f64| {
            let farthest = readings
                .iter()
                .map(|r| (r - from).abs())
                .fold(0.0, f64::max);
            // A fifth of the limit to either side where the readings are nearer than that.
            let least = if from == 0.0 { 1.0 } else { from.abs() * 0.2 };
            (farthest * 1.25).max(least)
        };
        match (low, high) {
            (Some(low), Some(high)) => {
                let middle = (low + high) / 2.0;
                let least = middle.abs().max(1.0) * 1e-9;
                let half = ((high - low) / 2.0).max(least) / BAND_SHARE;
                window(middle - half, middle + half)
            }
            (Some(limit), None) | (None, Some(limit)) => {
                window(limit - reach(limit), limit + reach(limit))
            }
            (None, None) => {
                let least = readings.iter().copied().fold(f64::INFINITY, f64::min);
                let most = readings.iter().copied().fold(f64::NEG_INFINITY, f64::max);
                let margin = ((most - least) * 0.2).max(most.abs().max(1e-9) * 0.05);
                window(least - margin, most + margin)
            }
        }
    }

    /// The lowest and the highest value that it shows.
    pub(super) fn ends(&self) -> (f64, f64) {
        (self.low, self.high)
    }

    /// Where a value is drawn, and whether it had to be drawn at the edge.
    pub(super) fn place(&self, value: f64) -> (f64, bool) {
        let Frame { width, edge, .. } = self.frame;
        let inner = width - 2.0 * edge;
        let x = edge + (value - self.low) / (self.high - self.low) * inner;
        let kept = x.clamp(edge, width - edge);
        (kept, (x - kept).abs() > 0.5)
    }
}
