//! Two tones and what an amplifier makes of them.

use super::fault::Unfit;
use super::figure::{Figure, decibels, decibels_of_change, power_of};
use super::fit;
use super::lines::{self, Lines};
use super::power::Left;
use super::record::Record;
use super::spectrum::Spectrum;

/// Two equal tones have four times the power of one at their peak: 10·log₁₀ 4.
///
/// Source: peak envelope power is the mean over one cycle at the crest of the envelope.
pub const PEAK_ABOVE_ONE: f64 = 6.020_599_913_279_624;

/// A product: so many times the one and so many times the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Product {
    /// Times the lower tone.
    pub lower: i32,
    /// Times the upper one.
    pub upper: i32,
}

/// The products that are looked at: of odd order beside the tones, then of the second order.
pub const PRODUCTS: [Product; 6] = [
    Product {
        lower: 2,
        upper: -1,
    },
    Product {
        lower: -1,
        upper: 2,
    },
    Product {
        lower: 3,
        upper: -2,
    },
    Product {
        lower: -2,
        upper: 3,
    },
    Product {
        lower: -1,
        upper: 1,
    },
    Product { lower: 1, upper: 1 },
];

impl Product {
    /// Where it is heard, in hertz.
    pub fn hertz(self, lower: f64, upper: f64) -> f64 {
        (f64::from(self.lower) * lower + f64::from(self.upper) * upper).abs()
    }

    /// Its order.
    pub fn order(self) -> i32 {
        self.lower.abs() + self.upper.abs()
    }
}

/// A product as it was found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Heard {
    /// Which it is.
    pub product: Product,
    /// Where, in hertz.
    pub frequency: f64,
    /// Decibels below one of the two tones, by their mean power.
    pub below_one: Figure,
    /// Decibels below the peak envelope power: 6.02 more.
    pub below_peak: Figure,
}

/// What two tones say.
#[derive(Clone, Debug, PartialEq)]
pub struct TwoTones {
    /// Their frequencies in hertz.
    pub tones: [f64; 2],
    /// Their levels in dBFS.
    pub levels: [f64; 2],
    /// The products below half the rate.
    pub products: Vec<Heard>,
}

impl TwoTones {
    /// The strongest product of an order.
    pub fn strongest(&self, order: i32) -> Option<Heard> {
        let of_order = self
            .products
            .iter()
            .filter(|each| each.product.order() == order);
        of_order
            .min_by(|a, b| a.below_one.value.total_cmp(&b.below_one.value))
            .copied()
    }
}

/// Measures two tones near known frequencies.
pub fn two_tones(record: &Record, lower: f64, upper: f64) -> Result<TwoTones, Unfit> {
    if !(0.0 < lower && lower < upper && upper < record.rate() / 2.0) {
        return Err(Unfit::NoSense);
    }
    let (samples, rate) = (record.samples(), record.rate());
    let tones = settled(samples, rate, [lower, upper])?;
    let both = lines::fit(samples, rate, &tones)?;
    let noise = Left::of(both.residue(samples, rate), rate);
    stands_out(&both, noise.spectrum(), record.seconds())?;
    let heard = PRODUCTS
        .iter()
        .map(|product| (*product, product.hertz(tones[0], tones[1])))
        .filter(|(_, hertz)| *hertz > 0.0 && *hertz < rate * 0.475)
        .collect::<Vec<_>>();
    let all: Vec<f64> = tones
        .iter()
        .copied()
        .chain(heard.iter().map(|(_, hertz)| *hertz))
        .collect();
    let lines = lines::fit(samples, rate, &all)?.lines;
    let one = (lines[0].power() + lines[1].power()) / 2.0;
    let products = heard
        .iter()
        .zip(&lines[2..])
        .map(|((product, frequency), line)| {
            let density = noise.spectrum().density(*frequency);
            let relative = 2.0 * (density / record.seconds()).sqrt() / line.amplitude();
            let below = decibels(one / line.power());
            let standard = decibels_of_change(relative);
            Heard {
                product: *product,
                frequency: *frequency,
                below_one: Figure::new(below, standard),
                below_peak: Figure::new(below + PEAK_ABOVE_ONE, standard),
            }
        });
    Ok(TwoTones {
        levels: [0, 1].map(|at| decibels(2.0 * lines[at].power())),
        products: products.collect(),
        tones,
    })
}

/// Each tone is fitted in what the other leaves, until neither moves.
fn settled(samples: &[f64], rate: f64, mut tones: [f64; 2]) -> Result<[f64; 2], Unfit> {
    for _ in 0..4 {
        for at in [0, 1] {
            let mut both = lines::fit(samples, rate, &tones)?;
            both.lines.remove(at);
            let alone = both.residue(samples, rate);
            let near = super::tone::near(&alone, rate, tones[at])?;
            tones[at] = fit::four(&alone, rate, near)?.line.frequency;
        }
    }
    Ok(tones)
}

/// Both tones must be there: 20 dB above the noise of a record this long.
fn stands_out(both: &Lines, noise: &Spectrum, seconds: f64) -> Result<(), Unfit> {
    let weak = both
        .lines
        .iter()
        .find(|line| line.power() < power_of(20.0) * noise.density(line.frequency) / seconds);
    match weak {
        Some(line) => Err(Unfit::ToneAbsent {
            low: line.frequency,
            high: line.frequency,
        }),
        None => Ok(()),
    }
}
