//! Where a squelch opens and closes: for each level of the generator whether the audio was open,
//! and between which levels that changed on the way up and on the way down.

use super::difference;
use crate::signal::fault::Unfit;
use crate::signal::figure::{Figure, decibels, ends};
use crate::signal::record::{self, LEAST_RATE, MOST_RATE};
use crate::signal::spectrum::{Spectrum, fine, short};
use crate::signal::tone::{SPEECH, strongest};
use crate::signal::weighting::Weighting;

/// What is heard of the audio.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Audio {
    /// As quiet as when it was closed, all the time.
    Closed,
    /// Well above that, all the time.
    Open,
    /// Now one, now the other, or between the two.
    Neither,
}

/// How quiet the audio is when it is closed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Floor {
    /// The loudest stretch of it, in dBFS of the band of speech.
    level: f64,
}

/// Above the floor by less than this is closed, by more than [`OPEN`] open, in decibels.
const CLOSED: f64 = 3.0;

/// A set whose noise comes through hardly louder than its floor can't be heard to open.
const OPEN: f64 = 10.0;

/// So many lines to either side hold the power of a tone: the window of Hann has four in all.
const OF_TONE: f64 = 2.5;

/// The quietest that can be told from nothing, in dBFS.
const QUIETEST: f64 = -90.0;

/// From here on, in dBFS, it is no rest that a closed squelch leaves: where an input is set so that
/// an open one does not clip, closed ones are 20 dB below that and more (common practice, no source).
const LOUD: f64 = -40.0;

/// A tone from here on, in dBFS, is one that was sent. Weaker ones leak through a closed squelch.
const SENT: f64 = -60.0;

/// Whether a tone makes more of the band than all else in it.
fn has_tone(samples: &[f64], rate: f64) -> bool {
    let spectrum = fine(samples, rate);
    let Some(hertz) = strongest(&spectrum, SPEECH) else {
        return false;
    };
    let (mut own, mut rest) = (0.0, 0.0);
    for (line, power) in spectrum.power.iter().enumerate() {
        let at = line as f64 * spectrum.spacing;
        let power = power * Weighting::Speech.power(at);
        match (at - hertz).abs() <= OF_TONE * spectrum.spacing {
            true => own += power,
            false => rest += power,
        }
    }
    own > rest && decibels(2.0 * own) > SENT
}

/// The band's level in stretches of less than a tenth of a second, each half over the next, in
/// dBFS.
fn levels(samples: &[f64], rate: f64) -> Result<Vec<f64>, Unfit> {
    if !(LEAST_RATE..=MOST_RATE).contains(&rate) {
        return Err(Unfit::Rate { hertz: rate });
    }
    if samples.iter().any(|each| !each.is_finite()) {
        return Err(Unfit::NotFinite);
    }
    // One second is heard.
    let least = rate.floor() as usize;
    if samples.len() < least {
        return Err(Unfit::TooShort {
            samples: samples.len(),
            least,
        });
    }
    let level = |spectrum: Spectrum| {
        let lines = spectrum.power.iter().enumerate();
        let through = lines
            .map(|(line, power)| power * Weighting::Speech.power(line as f64 * spectrum.spacing));
        decibels(2.0 * through.sum::<f64>()).max(QUIETEST)
    };
    Ok(short(samples, rate).into_iter().map(level).collect())
}

impl Floor {
    /// Of a second with the squelch closed. Who says so is not believed where the sound says
    /// otherwise.
    pub fn of(samples: &[f64], rate: f64) -> Result<Floor, Unfit> {
        let (low, high) = ends(levels(samples, rate)?.into_iter());
        let is_open = high > LOUD || high - low >= OPEN || has_tone(samples, rate);
        match is_open {
            true => Err(Unfit::NotClosed),
            false => Ok(Floor { level: high }),
        }
    }

    /// In dBFS of the band of speech.
    pub fn level(&self) -> f64 {
        self.level
    }

    /// What a second is against it.
    pub fn hear(&self, samples: &[f64], rate: f64) -> Result<Audio, Unfit> {
        let levels = levels(samples, rate)?;
        let clipped = record::peak(samples) >= 0.999;
        let all = |is: fn(f64) -> bool| levels.iter().all(|level| is(level - self.level));
        if all(|by| by <= -OPEN) {
            return Err(Unfit::QuieterThanClosed);
        }
        Ok(match (all(|by| by <= CLOSED), all(|by| by >= OPEN)) {
            (true, _) if !clipped => Audio::Closed,
            (_, true) => Audio::Open,
            _ => Audio::Neither,
        })
    }
}

/// What was heard at a level.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// The level of the generator, in any unit.
    pub level: f64,
    /// What was heard.
    pub audio: Audio,
}

/// Between two levels something changes; it is not known where.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Between {
    /// From this level.
    pub low: f64,
    /// To this one.
    pub high: f64,
}

impl Between {
    /// The middle, anywhere within half of it to either side.
    pub fn figure(&self) -> Figure {
        Figure::within((self.low + self.high) / 2.0, (self.high - self.low) / 2.0)
    }

    fn around(self, other: Between) -> Between {
        Between {
            low: self.low.min(other.low),
            high: self.high.max(other.high),
        }
    }

    fn meets(&self, other: &Between) -> bool {
        self.low <= other.high && other.low <= self.high
    }
}

/// Where it opens or closes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edge {
    /// Between these levels.
    pub between: Between,
    /// How often it was gone through.
    pub times: usize,
    /// Whether it was at levels that exclude each other; then all of them are within.
    pub moved: bool,
}

/// Which way the level goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// From closed to open.
    Rising,
    /// From open to closed.
    Falling,
}

/// Where the audio opened or closed, by the points in the order in which they were taken. Each
/// way through says between which two levels it was; the last one counts, and all of them where
/// they exclude each other.
///
/// None where it was heard closed above where it opens, or open below where it closes: what was
/// heard, or the levels, can't be as they were typed.
pub fn edge(points: &[Point], way: Way) -> Option<Edge> {
    gone_through(points, way).filter(|edge| !is_contradicted(points, way, edge.between))
}

/// Whether an edge was gone through, and what was heard beyond it speaks against it.
pub fn contradicts(points: &[Point], way: Way) -> bool {
    gone_through(points, way).is_some_and(|edge| is_contradicted(points, way, edge.between))
}

fn is_contradicted(points: &[Point], way: Way, edge: Between) -> bool {
    points.iter().any(|point| match (way, point.audio) {
        (Way::Rising, Audio::Closed) => point.level > edge.high,
        (Way::Falling, Audio::Open) => point.level < edge.low,
        _ => false,
    })
}

fn gone_through(points: &[Point], way: Way) -> Option<Edge> {
    let found = ways_through(points, way);
    let last = *found.last()?;
    let moved = found
        .iter()
        .any(|one| found.iter().any(|it| !one.meets(it)));
    let between = match moved {
        true => found.iter().fold(last, |all, one| all.around(*one)),
        false => last,
    };
    Some(Edge {
        between,
        times: found.len(),
        moved,
    })
}

/// The changes from the one to the other while the level goes one way.
fn ways_through(points: &[Point], way: Way) -> Vec<Between> {
    let (before, after) = match way {
        Way::Rising => (Audio::Closed, Audio::Open),
        Way::Falling => (Audio::Open, Audio::Closed),
    };
    let onward = |from: f64, to: f64| match way {
        Way::Rising => to > from,
        Way::Falling => to < from,
    };
    let mut found = Vec::new();
    // The last level of the state before, and the level that it went on to since.
    let mut from: Option<(f64, f64)> = None;
    for point in points {
        let goes_on = from.is_some_and(|(_, last)| onward(last, point.level));
        match point.audio {
            audio if audio == before => from = Some((point.level, point.level)),
            audio if audio == after => {
                if let Some((level, _)) = from.filter(|_| goes_on) {
                    found.push(Between {
                        low: level.min(point.level),
                        high: level.max(point.level),
                    });
                }
                from = None;
            }
            // It chatters: the edge is still to come, or was just passed.
            _ if goes_on => from = from.map(|(level, _)| (level, point.level)),
            _ => from = None,
        }
    }
    found
}

/// By how much it closes below where it opens.
pub fn hysteresis(opens: Between, closes: Between) -> Figure {
    difference(opens.figure(), closes.figure())
}
