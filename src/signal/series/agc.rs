//! What a receiver's gain control leaves of a change at its input: the level of the audio against
//! the level of the generator.

use super::difference;
use crate::signal::fault::Unfit;
use crate::signal::figure::Figure;

/// The audio at a level of the generator.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// The level of the generator, in any unit.
    pub level: f64,
    /// The level of the tone, in decibels from any zero.
    pub audio: Figure,
}

/// Levels of the audio over levels of the generator.
#[derive(Clone, Debug, PartialEq)]
pub struct Control {
    /// By rising level.
    points: Vec<Taken>,
}

/// What was taken at a level.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Taken {
    /// The level of the generator.
    pub level: f64,
    /// The mean of the audio there.
    pub audio: Figure,
    /// How often it was taken.
    pub times: usize,
}

/// The audio at one level against that at another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Against {
    /// In decibels.
    pub figure: Figure,
    /// How often the one of both was taken that was taken less often. What was taken once says
    /// nothing of a drift.
    pub times: usize,
}

/// By how much the audio changes over a range of the input.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Change {
    /// From this level of the generator.
    pub low: f64,
    /// To this one.
    pub high: f64,
    /// The audio at the high end against that at the low end, in decibels.
    pub change: Against,
    /// How far it goes beyond both ends in between, where it surely does.
    pub beyond: Option<f64>,
}

/// What surely is no noise, in standard deviations.
const SURELY: f64 = 3.0;

impl Control {
    /// Of what was taken, in any order.
    pub fn of(taken: &[Point]) -> Control {
        let mut levels: Vec<f64> = taken.iter().map(|it| it.level).collect();
        levels.sort_by(f64::total_cmp);
        levels.dedup();
        let all = |level: f64| -> Vec<Figure> {
            let of = taken.iter().filter(|it| it.level == level);
            of.map(|it| it.audio).collect()
        };
        let groups: Vec<(f64, Vec<Figure>)> = levels
            .into_iter()
            .map(|level| (level, all(level)))
            .collect();
        let scatter = scatter(groups.iter().map(|(_, all)| all.as_slice()));
        let point = |(level, all): &(f64, Vec<Figure>)| Taken {
            level: *level,
            audio: mean(all, scatter),
            times: all.len(),
        };
        Control {
            points: groups.iter().map(point).collect(),
        }
    }

    /// What was taken, by rising level.
    pub fn points(&self) -> &[Taken] {
        &self.points
    }

    /// The audio at a level against that at the reference; the reference is the zero.
    pub fn at(&self, level: f64, reference: f64) -> Option<Against> {
        let found = |level: f64| self.points.iter().find(|it| it.level == level);
        let (here, zero) = (found(level)?, found(reference)?);
        Some(Against {
            figure: match level == reference {
                true => Figure::new(0.0, 0.0),
                false => Figure {
                    // Both rest on the same scatter.
                    freedom: here.audio.freedom.min(zero.audio.freedom),
                    ..difference(here.audio, zero.audio)
                },
            },
            times: here.times.min(zero.times),
        })
    }

    /// The change between two levels that both were taken.
    pub fn change(&self, low: f64, high: f64) -> Result<Change, Unfit> {
        if low >= high {
            return Err(Unfit::NoSense);
        }
        let change = self.at(high, low).ok_or(Unfit::NoSense)?;
        let inside = self
            .points
            .iter()
            .filter(|it| it.level > low && it.level < high);
        let past = |point: &Taken| {
            let ends = [low, high].map(|end| Some(self.at(point.level, end)?.figure));
            let [Some(from_low), Some(from_high)] = ends else {
                return None;
            };
            let same_way = from_low.value.signum() == from_high.value.signum();
            let least = match from_low.value.abs() < from_high.value.abs() {
                true => from_low,
                false => from_high,
            };
            let surely = least.value.abs() > SURELY * least.standard;
            (same_way && surely).then_some(least.value.abs())
        };
        Ok(Change {
            low,
            high,
            change,
            beyond: inside.filter_map(past).max_by(f64::total_cmp),
        })
    }
}

/// What readings of one level scatter by: variance and degrees of freedom over all levels.
fn scatter<'a>(groups: impl Iterator<Item = &'a [Figure]>) -> Option<(f64, f64)> {
    let (mut squares, mut freedom) = (0.0, 0.0);
    for group in groups {
        let count = group.len() as f64;
        let mean = group.iter().map(|it| it.value).sum::<f64>() / count;
        squares += group
            .iter()
            .map(|it| (it.value - mean).powi(2))
            .sum::<f64>();
        freedom += count - 1.0;
    }
    (freedom > 0.0).then_some((squares / freedom, freedom))
}

/// The mean at a level: as uncertain as the samples say, or as the repeats scatter where that is
/// more.
fn mean(all: &[Figure], scatter: Option<(f64, f64)>) -> Figure {
    let count = all.len() as f64;
    let own = all.iter().map(|it| it.standard.powi(2)).sum::<f64>() / count;
    let (variance, freedom) = match scatter {
        Some((variance, freedom)) if variance > own => (variance, freedom),
        _ => (own, all.iter().map(|it| it.freedom).sum()),
    };
    Figure {
        value: all.iter().map(|it| it.value).sum::<f64>() / count,
        standard: (variance / count).sqrt(),
        freedom,
    }
}
