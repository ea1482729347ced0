//! A response by a tone that sweeps, whoever sends it: up and down, slowly enough that the set
//! follows.
//!
//! Each tenth of a second says where the tone was and how strong. What the level is at a frequency
//! is read off the passes through it, each against the pass through the reference that is nearest
//! in time: what drifts evenly takes opposite signs on the way up and on the way down.

use super::response::Point;
use crate::signal::fault::Unfit;
use crate::signal::figure::{Figure, decibels, ends};
use crate::signal::fit::solve;
use crate::signal::record::Record;
use crate::signal::spectrum::fine;
use crate::signal::tone::{Range, strongest};

/// Where the tone was in a tenth of a second.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// The middle of it, in seconds from any start.
    pub time: f64,
    /// In hertz.
    pub frequency: f64,
    /// In dBFS.
    pub level: f64,
}

/// How long a spot listens, in seconds.
pub const SPOT: f64 = 0.1;

/// So far to either side of a frequency its passes are looked at, in octaves.
pub const BESIDE: f64 = 0.125;

/// A tone that is nearer than this, in octaves, stands at the frequency.
const STILL: f64 = BESIDE / 20.0;

/// Spots farther apart than this, in seconds, are of two passes.
const APART: f64 = 0.35;

/// So fast a sweep is sent: an octave in three seconds leaves seven spots within a pass.
pub const OCTAVES_A_SECOND: f64 = 1.0 / 3.0;

/// A parabola has three parameters, and fewer spots leave the noise of each in it.
const FEWEST: usize = 6;

/// Fewer passes after the reference, and before it, tell little of a drift.
const EACH_WAY: usize = 2;

/// How many passes a level needs.
pub const PASSES: usize = 2 * EACH_WAY;

/// Five minutes; what is older says less of the set as it is.
const MOST: usize = 3_000;

/// So many lines to either side hold the power of a tone that moves while it is looked at.
const WIDE: usize = 6;

/// The middle one of lines of noise against their mean: they spread as e⁻ˣ.
const MIDDLE: f64 = std::f64::consts::LN_2;

/// More than this of the power beside the tone, and it is no tone alone: the spot fell on a step
/// from one to the next, or a harmonic is as strong.
const BY_ITSELF: f64 = 0.25;

/// So far back, in seconds, it is told whether the tone moves at all.
const LOOKED_BACK: f64 = 3.0;

/// Spots in the last second below which there is no tone to follow: noise by chance gives one.
const HEARD: usize = 3;

/// Faster than this, in octaves a second, too few spots lie within a pass.
const TOO_FAST: f64 = 0.45;

/// What was heard of a sweep.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sweep {
    spots: Vec<Spot>,
}

/// A level against the reference.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Swept {
    /// In decibels.
    pub level: Figure,
    /// From how many passes.
    pub passes: usize,
    /// From how many spots in them.
    pub spots: usize,
}

/// Looks where the tone is in a tenth of a second.
pub fn spot(samples: &[f64], rate: f64, within: Range, time: f64) -> Result<Spot, Unfit> {
    let record = Record::of(samples, rate)?;
    let absent = Unfit::ToneAbsent {
        low: within.low,
        high: within.high,
    };
    let spectrum = fine(record.samples(), rate);
    let near = strongest(&spectrum, within).ok_or(absent)?;
    let at = (near / spectrum.spacing).round() as usize;
    let last = spectrum.power.len().saturating_sub(1);
    let lines = at.saturating_sub(WIDE).max(1)..=(at + WIDE).min(last);
    let noise = spectrum.floor(near) / MIDDLE;
    let (mut power, mut turn) = (0.0, 0.0);
    for line in lines.clone() {
        let here = spectrum.power[line] - noise;
        power += here;
        turn += here * line as f64;
    }
    let ends = [within.low, within.high].map(|hertz| (hertz / spectrum.spacing) as usize);
    let others = (ends[0].max(1)..=ends[1].min(last)).filter(|line| !lines.contains(line));
    let beside: f64 = others.map(|line| spectrum.power[line]).sum();
    if power <= 0.0 || beside > BY_ITSELF * power {
        return Err(absent);
    }
    Ok(Spot {
        time,
        frequency: turn / power * spectrum.spacing,
        level: decibels(2.0 * power),
    })
}

/// The level at a frequency in one pass, and when.
#[derive(Clone, Copy)]
struct Pass {
    time: f64,
    level: f64,
    spots: usize,
}

impl Sweep {
    /// Adds what was heard last.
    pub fn push(&mut self, spot: Spot) {
        if self.spots.len() == MOST {
            self.spots.drain(..MOST / 2);
        }
        self.spots.push(spot);
    }

    /// The spots as they came.
    pub fn spots(&self) -> &[Spot] {
        &self.spots
    }

    /// The level at a frequency against that at the reference. Nothing before there are enough
    /// passes each way, slowly enough; nothing at the reference itself, which is the zero.
    pub fn at(&self, hertz: f64, reference: f64) -> Option<Swept> {
        let pairs = self.pairs(hertz, reference);
        let (mut after, mut before): (Vec<_>, Vec<_>) = pairs
            .into_iter()
            .partition(|(pass, zero)| pass.time > zero.time);
        let each_way = after.len().min(before.len());
        if each_way < EACH_WAY {
            return None;
        }
        // As many of the one as of the other, the newest, so that a drift cancels.
        let mut pairs = after.split_off(after.len() - each_way);
        pairs.append(&mut before.split_off(before.len() - each_way));
        let each: Vec<f64> = pairs
            .iter()
            .map(|(pass, zero)| pass.level - zero.level)
            .collect();
        Some(Swept {
            // By what the passes scatter: the spots of one pass know nothing of a drift.
            level: Figure::of_repeats(&each)?,
            passes: pairs.len(),
            spots: pairs
                .iter()
                .map(|(pass, zero)| pass.spots + zero.spots)
                .sum(),
        })
    }

    /// Each pass of a frequency with the one of the reference beside it, which serves it alone.
    fn pairs(&self, hertz: f64, reference: f64) -> Vec<(Pass, Pass)> {
        if hertz == reference {
            return Vec::new();
        }
        let (here, zero) = (self.passes(hertz), self.passes(reference));
        let pair = |pass: &Pass| {
            let other = nearest(&zero, pass.time)?;
            let back = nearest(&here, other.time)?;
            (back.time == pass.time).then_some((*pass, *other))
        };
        here.iter().filter_map(pair).collect()
    }

    /// Whether a tone goes up and down lately; else what is heard in its place.
    pub fn goes(&self, within: Range, now: f64) -> Result<(), Unfit> {
        let newest_first = self.spots.iter().rev();
        let lately: Vec<&Spot> = newest_first
            .take_while(|spot| now - spot.time <= LOOKED_BACK)
            .collect();
        let last = lately.iter().filter(|spot| now - spot.time <= 1.0).count();
        if last < HEARD {
            return Err(Unfit::ToneAbsent {
                low: within.low,
                high: within.high,
            });
        }
        let (low, high) = ends(lately.iter().map(|spot| spot.frequency.log2()));
        let long_ago = |spot: &&Spot| now - spot.time > LOOKED_BACK - 2.0 * SPOT;
        if lately.last().is_some_and(long_ago) && high - low < 2.0 * STILL {
            return Err(Unfit::NoSweep);
        }
        match middle_speed(&lately) > TOO_FAST {
            true => Err(Unfit::SweepTooFast),
            false => Ok(()),
        }
    }

    /// How many of the passes that a level needs there are.
    pub fn passed(&self, hertz: f64, reference: f64) -> usize {
        let pairs = self.pairs(hertz, reference);
        let after = pairs
            .iter()
            .filter(|(pass, zero)| pass.time > zero.time)
            .count();
        after.min(EACH_WAY) + (pairs.len() - after).min(EACH_WAY)
    }

    /// Whether a frequency was passed often enough to be a reference.
    pub fn passed_at_all(&self, hertz: f64) -> bool {
        self.passes(hertz).len() >= PASSES
    }

    /// The level at a frequency itself, in dBFS, from as many passes as a reference needs.
    pub fn level_at(&self, hertz: f64) -> Option<Figure> {
        let levels: Vec<f64> = self.passes(hertz).iter().map(|pass| pass.level).collect();
        let enough = levels.len() >= PASSES;
        enough.then(|| Figure::of_repeats(&levels)).flatten()
    }

    /// How many spots there are in the passes of a frequency.
    pub fn spots_at(&self, hertz: f64) -> usize {
        self.passes(hertz).iter().map(|pass| pass.spots).sum()
    }

    /// What is drawn: the mean level in steps of an eighth of an octave around the reference,
    /// against it.
    pub fn curve(&self, reference: f64) -> Vec<Point> {
        let zero = self.mean_around(0, reference);
        let Some(zero) = zero.filter(|it| it.is_finite()) else {
            return Vec::new();
        };
        let steps = -40..=40;
        let point = |step: i32| {
            let level = self.mean_around(step, reference)? - zero;
            Some(Point {
                frequency: reference * (f64::from(step) / 8.0).exp2(),
                level: Figure::new(level, 0.0),
            })
        };
        steps.filter_map(point).collect()
    }

    fn mean_around(&self, step: i32, reference: f64) -> Option<f64> {
        let place = |spot: &&Spot| {
            let octaves = (spot.frequency / reference).log2() * 8.0;
            (octaves - f64::from(step)).abs() <= 0.5
        };
        let (mut sum, mut count) = (0.0, 0);
        for spot in self.spots.iter().filter(place) {
            sum += spot.level;
            count += 1;
        }
        (count > 0).then(|| sum / f64::from(count))
    }

    fn passes(&self, hertz: f64) -> Vec<Pass> {
        let octaves = |spot: &Spot| (spot.frequency / hertz).log2();
        let mut runs: Vec<Vec<Spot>> = Vec::new();
        for spot in self.spots.iter().filter(|it| octaves(it).abs() <= BESIDE) {
            match runs.last_mut() {
                Some(run)
                    if run
                        .last()
                        .is_some_and(|last| spot.time - last.time <= APART) =>
                {
                    run.push(*spot);
                }
                _ => runs.push(vec![*spot]),
            }
        }
        let pass = |run: &Vec<Spot>| {
            let points: Vec<(f64, f64)> = run.iter().map(|it| (octaves(it), it.level)).collect();
            Some(Pass {
                time: run.iter().map(|it| it.time).sum::<f64>() / run.len() as f64,
                level: level_at_zero(&points)?,
                spots: run.len(),
            })
        };
        runs.iter().filter_map(pass).collect()
    }
}

/// How fast the tone goes either way, in octaves a second: the middle one of what spots that follow
/// each other say. Where it turns, or a spot is missing, it is another.
fn middle_speed(spots: &[&Spot]) -> f64 {
    let pairs = spots.windows(2).filter_map(|pair| {
        let apart = (pair[0].time - pair[1].time).abs();
        let octaves = (pair[0].frequency / pair[1].frequency).log2().abs();
        (apart > 0.0 && apart < 1.5 * SPOT).then_some(octaves / apart)
    });
    let mut speeds: Vec<f64> = pairs.collect();
    speeds.sort_by(f64::total_cmp);
    speeds.get(speeds.len() / 2).copied().unwrap_or(0.0)
}

fn nearest(passes: &[Pass], time: f64) -> Option<&Pass> {
    let apart = |pass: &&Pass| (pass.time - time).abs();
    passes.iter().min_by(|a, b| apart(a).total_cmp(&apart(b)))
}

/// The level at zero by the parabola through points that lie to both sides of it; their mean where
/// all are there, as where the tone goes in steps.
fn level_at_zero(points: &[(f64, f64)]) -> Option<f64> {
    if points.len() < FEWEST {
        return None;
    }
    let (least, most) = ends(points.iter().map(|it| it.0));
    if least > -STILL && most < STILL {
        return Some(points.iter().map(|it| it.1).sum::<f64>() / points.len() as f64);
    }
    // By a third of what is looked at, so that nothing is told from one side alone.
    let both_sides = least < -BESIDE / 3.0 && most > BESIDE / 3.0;
    both_sides.then(|| parabola(points))?
}

fn parabola(points: &[(f64, f64)]) -> Option<f64> {
    // In units of what is looked at the sums are of one size.
    let columns = |x: f64| [1.0, x / BESIDE, (x / BESIDE).powi(2)];
    let mut matrix = vec![0.0; 9];
    let mut right = vec![0.0; 3];
    for (x, level) in points {
        let own = columns(*x);
        for (row, each) in own.iter().enumerate() {
            right[row] += each * level;
            for (column, other) in own.iter().enumerate() {
                matrix[3 * row + column] += each * other;
            }
        }
    }
    solve(matrix, right)?.first().copied()
}
