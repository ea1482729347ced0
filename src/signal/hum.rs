//! Hum: what the mains leave in the sound.

use super::fault::Unfit;
use super::figure::{Figure, decibels, decibels_of_change};
use super::lines::{self, Line};
use super::power::Left;
use super::record::Record;
use super::tone::{self, Range};

/// The mains.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mains {
    /// 50 Hz.
    Fifty,
    /// 60 Hz.
    Sixty,
}

/// Up to which multiple: both half waves of a rectifier, and what they bring along.
const MULTIPLES: usize = 6;

/// How far the frequency of the mains may be off, and in which steps it is looked for, in hertz.
const OFF: f64 = 0.5;
const STEP: f64 = 0.05;

/// The hum of a record.
#[derive(Clone, Debug, PartialEq)]
pub struct Hum {
    /// The frequency of the mains as it comes out best, in hertz.
    pub mains: f64,
    /// All multiples together, in dBFS.
    pub level: Figure,
    /// Each multiple's level in dBFS, from the first on.
    pub multiples: Vec<f64>,
    /// Decibels below the tone; nothing where there is none.
    pub below_tone: Option<f64>,
}

impl Mains {
    /// In hertz.
    pub fn hertz(self) -> f64 {
        match self {
            Mains::Fifty => 50.0,
            Mains::Sixty => 60.0,
        }
    }
}

/// Looks for hum, with the tone in a range taken out first where there is one. One that wanders or
/// fades can't be taken out, and what is left of it would pass for hum.
pub fn hum(record: &Record, range: Range, mains: Mains) -> Result<Hum, Unfit> {
    let tone = match tone::find(record, range) {
        Ok(found) => Some(found.sine),
        Err(Unfit::ToneAbsent { .. }) => None,
        Err(why) => return Err(why),
    };
    let rest = match &tone {
        Some(sine) => sine.residue(record.samples(), record.rate()),
        None => record.samples().to_vec(),
    };
    let steps = (OFF / STEP) as i32;
    let tried = (-steps..=steps).map(|step| mains.hertz() + f64::from(step) * STEP);
    let mut best: Option<(f64, f64, Vec<Line>)> = None;
    for hertz in tried {
        let lines = at(&rest, record.rate(), hertz)?;
        let power = lines.iter().map(Line::power).sum::<f64>();
        if best.as_ref().is_none_or(|(most, ..)| power > *most) {
            best = Some((power, hertz, lines));
        }
    }
    let (power, mains, lines) = best.ok_or(Unfit::NoSense)?;
    let left = Left::of(rest, record.rate());
    let noise = lines.iter().map(|line| {
        2.0 * line.power() * left.spectrum().density(line.frequency) / record.seconds()
    });
    let standard = noise.sum::<f64>().sqrt() / power;
    Ok(Hum {
        mains,
        level: Figure::new(decibels(2.0 * power), decibels_of_change(standard)),
        multiples: lines
            .iter()
            .map(|line| decibels(2.0 * line.power()))
            .collect(),
        below_tone: tone.map(|sine| decibels(sine.line.power() / power)),
    })
}

fn at(samples: &[f64], rate: f64, hertz: f64) -> Result<Vec<Line>, Unfit> {
    let multiples: Vec<f64> = (1..=MULTIPLES).map(|k| hertz * k as f64).collect();
    Ok(lines::fit(samples, rate, &multiples)?.lines)
}
