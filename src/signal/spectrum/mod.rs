//! How power is spread over the frequencies.

pub mod power;

use super::figure::decibels;
use realfft::{RealFftPlanner, RealToComplex};
use std::cell::RefCell;
use std::f64::consts::TAU;
use std::rc::Rc;
use std::sync::Arc;

/// The noise bandwidth of the window, in lines.
const NOISE_LINES: f64 = 1.5;

/// The mean square of each line, from zero to half the rate.
#[derive(Clone, Debug, PartialEq)]
pub struct Spectrum {
    /// From line to line, in hertz.
    pub spacing: f64,
    /// The mean squares; together that of the record.
    pub power: Vec<f64>,
}

/// What looks at stretches of one length, through the window of Hann.
struct Looking {
    plan: Arc<dyn RealToComplex<f64>>,
    window: Vec<f64>,
    /// What the window leaves of a mean square, times the length.
    gain: f64,
}

/// So many lengths are kept: a long and a short one for two rates.
const KEPT: usize = 4;

thread_local! {
    /// The lengths that were looked at last: to plan one takes many times as long as to look.
    static LOOKED: RefCell<Vec<Rc<Looking>>> = const { RefCell::new(Vec::new()) };
}

impl Looking {
    fn at(length: usize) -> Rc<Looking> {
        LOOKED.with_borrow_mut(|kept| {
            let known = kept.iter().position(|each| each.window.len() == length);
            let looking = match known {
                Some(at) => kept.remove(at),
                None => Rc::new(Looking::planned(length)),
            };
            kept.insert(0, Rc::clone(&looking));
            kept.truncate(KEPT);
            looking
        })
    }

    fn planned(length: usize) -> Looking {
        let step = TAU / length as f64;
        let window: Vec<f64> = (0..length)
            .map(|at| 0.5 - 0.5 * (step * at as f64).cos())
            .collect();
        Looking {
            plan: RealFftPlanner::new().plan_fft_forward(length),
            gain: window.iter().map(|each| each * each).sum::<f64>() * length as f64,
            window,
        }
    }

    fn spectrum(&self, samples: &[f64], rate: f64) -> Spectrum {
        let mut input: Vec<f64> = samples
            .iter()
            .zip(&self.window)
            .map(|(x, w)| x * w)
            .collect();
        let mut lines = self.plan.make_output_vec();
        input.resize(self.window.len(), 0.0);
        // It fails only where lengths differ, which they can't.
        let _ = self.plan.process(&mut input, &mut lines);
        let last = lines.len() - 1;
        let power = lines.iter().enumerate().map(|(at, line)| {
            let both = if at == 0 || at == last { 1.0 } else { 2.0 };
            both * line.norm_sqr() / self.gain
        });
        Spectrum {
            spacing: rate / self.window.len() as f64,
            power: power.collect(),
        }
    }
}

/// The largest power of two that is no more than a count.
fn power_of_two(count: usize) -> usize {
    1 << count.max(2).ilog2()
}

/// The finest spectrum of one stretch: of as many samples from its middle as make a power of two.
pub fn fine(samples: &[f64], rate: f64) -> Spectrum {
    let length = power_of_two(samples.len());
    let before = (samples.len() - length.min(samples.len())) / 2;
    Looking::at(length).spectrum(&samples[before..], rate)
}

/// Spectra of stretches of less than a tenth of a second, each half over the next.
pub fn short(samples: &[f64], rate: f64) -> Vec<Spectrum> {
    let length = short_length(samples.len(), rate);
    let looking = Looking::at(length);
    let firsts = (0..=samples.len().saturating_sub(length)).step_by(length / 2);
    firsts
        .map(|first| {
            let piece = &samples[first..samples.len().min(first + length)];
            looking.spectrum(piece, rate)
        })
        .collect()
}

/// How long these are, in samples.
pub fn short_length(samples: usize, rate: f64) -> usize {
    power_of_two((rate / 10.0).min(samples as f64 / 4.0) as usize)
}

/// Their mean: the method of Welch.
pub fn mean(spectra: &[Spectrum]) -> Option<Spectrum> {
    let first = spectra.first()?;
    let mut power = vec![0.0; first.power.len()];
    for spectrum in spectra {
        for (sum, each) in power.iter_mut().zip(&spectrum.power) {
            *sum += each / spectra.len() as f64;
        }
    }
    Some(Spectrum {
        spacing: first.spacing,
        power,
    })
}

/// How far around a frequency the noise there is judged, and what of it belongs to the tone.
const AROUND: usize = 24;
const OWN: usize = 4;

impl Spectrum {
    /// The noise around a frequency, in mean square for each hertz; a whistle beside it counts
    /// little, for it is the middle one of all lines there.
    pub fn density(&self, hertz: f64) -> f64 {
        self.floor(hertz) / self.spacing
    }

    /// The same for each line.
    pub(super) fn floor(&self, hertz: f64) -> f64 {
        let at = (hertz / self.spacing).round() as usize;
        let lines = at.saturating_sub(AROUND).max(1)..self.power.len().min(at + AROUND);
        let others = lines.filter(|line| line.abs_diff(at) >= OWN);
        let mut found: Vec<f64> = others
            .filter_map(|line| self.power.get(line).copied())
            .collect();
        let middle = found.len() / 2;
        match found.is_empty() {
            true => 0.0,
            false => *found.select_nth_unstable_by(middle, f64::total_cmp).1,
        }
    }

    /// What tones near a line would have, in dBFS.
    pub fn level(&self, line: usize) -> f64 {
        let power = self.power.get(line).copied().unwrap_or(0.0);
        decibels(2.0 * NOISE_LINES * power.max(1e-20))
    }

    /// The noise around a frequency as a line of it is shown, in dBFS.
    pub fn floor_level(&self, hertz: f64) -> f64 {
        decibels(2.0 * NOISE_LINES * self.floor(hertz).max(1e-20))
    }

    /// The greatest levels in columns of equal width on a logarithmic scale, in dBFS.
    pub fn columns(&self, low: f64, high: f64, count: usize) -> Vec<f64> {
        let step = (high / low).ln() / count as f64;
        let edge = |at: usize| low * (step * at as f64).exp() / self.spacing;
        let column = |at: usize| {
            let (from, to) = (edge(at), edge(at + 1));
            match (from.ceil() as usize, to.floor() as usize) {
                (first, last) if first <= last => (first..=last)
                    .map(|line| self.level(line))
                    .fold(f64::NEG_INFINITY, f64::max),
                _ => self.between((from + to) / 2.0),
            }
        };
        (0..count).map(column).collect()
    }

    fn between(&self, line: f64) -> f64 {
        let below = line.floor() as usize;
        let part = line - line.floor();
        self.level(below) * (1.0 - part) + self.level(below + 1) * part
    }
}
