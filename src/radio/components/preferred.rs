//! Preferred values of resistors and capacitors, and pairs of them that hit a target.

use crate::quantity::Fault;
use crate::quantity::fault::positive;

/// A series of preferred values.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Series {
    /// 6 values per decade, usually ±20 %.
    E6,
    /// 12 values per decade, usually ±10 %.
    E12,
    /// 24 values per decade, usually ±5 %.
    E24,
    /// 48 values per decade, usually ±2 %.
    E48,
    /// 96 values per decade, usually ±1 %.
    E96,
}

/// The two-figure series, whose values from 2.7 to 4.7 and 8.2 break the rounding rule.
const E24: [u16; 24] = [
    10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91,
];

impl Series {
    /// Every series, coarsest first.
    pub const ALL: [Series; 5] = [
        Series::E6,
        Series::E12,
        Series::E24,
        Series::E48,
        Series::E96,
    ];

    /// The name as printed.
    pub const fn name(self) -> &'static str {
        match self {
            Series::E6 => "E6",
            Series::E12 => "E12",
            Series::E24 => "E24",
            Series::E48 => "E48",
            Series::E96 => "E96",
        }
    }

    /// How many values a decade has.
    pub const fn count(self) -> usize {
        match self {
            Series::E6 => 6,
            Series::E12 => 12,
            Series::E24 => 24,
            Series::E48 => 48,
            Series::E96 => 96,
        }
    }

    /// The values of the decade from 100 to 999.
    ///
    /// E6 and E12 are every fourth and second value of E24; E48 and E96 are 100·10^(i/n)
    /// rounded to three figures. Source: IEC 60063.
    pub fn decade(self) -> Vec<u16> {
        let count = self.count();
        match self {
            Series::E6 | Series::E12 | Series::E24 => {
                let step = E24.len() / count;
                E24.iter().step_by(step).map(|value| value * 10).collect()
            }
            Series::E48 | Series::E96 => (0..count)
                .map(|i| (100.0 * 10f64.powf(i as f64 / count as f64)).round() as u16)
                .collect(),
        }
    }

    /// The nearest preferred values at and around a value above zero.
    pub fn around(self, value: f64) -> Result<Around, Fault> {
        let value = positive("The value", value)?;
        let ladder = self.ladder(value, 1);
        let below = ladder.iter().rfind(|&&rung| rung <= value);
        let above = ladder.iter().find(|&&rung| rung >= value);
        match (below, above) {
            (Some(&below), Some(&above)) => Ok(Around {
                below,
                above,
                nearest: nearest(value, below, above),
            }),
            _ => Err(Fault::NotFinite { what: "The value" }),
        }
    }

    /// The preferred values of the decade of a value, with so many decades on either side.
    fn ladder(self, value: f64, decades: i32) -> Vec<f64> {
        let decade = value.log10().floor() as i32;
        let digits = self.decade();
        (decade - decades..=decade + decades)
            .flat_map(|d| digits.iter().map(move |&v| scaled(v, d - 2)))
            .collect()
    }
}

/// A preferred value below, above and nearest to a wanted one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Around {
    /// The greatest that is not above it.
    pub below: f64,
    /// The least that is not below it.
    pub above: f64,
    /// The one whose ratio to it is closest to 1.
    pub nearest: f64,
}

/// Two preferred values that together come near a target.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair {
    /// The larger one.
    pub larger: f64,
    /// The smaller one.
    pub smaller: f64,
    /// What they make together.
    pub together: f64,
}

/// How two parts are joined, in the sense of whether their values add or their reciprocals.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Joint {
    /// Values add: resistors in series, capacitors in parallel.
    Sum,
    /// Reciprocals add: resistors in parallel, capacitors in series.
    ReciprocalSum,
}

impl Joint {
    /// The value of two parts joined.
    ///
    /// a+b, or a·b/(a+b). Source: Kirchhoff's laws.
    pub fn together(self, a: f64, b: f64) -> f64 {
        match self {
            Joint::Sum => a + b,
            Joint::ReciprocalSum => 1.0 / (1.0 / a + 1.0 / b),
        }
    }
}

/// The pairs of preferred values that come nearest to a target, best first, at most `most`.
///
/// Tries every pair from two decades below the target's to two above it.
/// Source: Kirchhoff's laws.
pub fn pairs(target: f64, series: Series, joint: Joint, most: usize) -> Result<Vec<Pair>, Fault> {
    let target = positive("The target", target)?;
    let ladder = series.ladder(target, 2);
    let miss = |pair: &Pair| (pair.together / target).ln().abs();
    let mut found: Vec<Pair> = Vec::new();
    for (index, &larger) in ladder.iter().enumerate() {
        for &smaller in &ladder[..=index] {
            let together = joint.together(larger, smaller);
            let pair = Pair {
                larger,
                smaller,
                together,
            };
            let place = found.partition_point(|other| miss(other) <= miss(&pair));
            if place < most {
                found.insert(place, pair);
                found.truncate(most);
            }
        }
    }
    Ok(found)
}

/// The nearer by ratio, the lower one when both are equally near.
fn nearest(value: f64, below: f64, above: f64) -> f64 {
    if above / value < value / below {
        above
    } else {
        below
    }
}

/// `figures` times a power of ten, rounded correctly.
fn scaled(figures: u16, exponent: i32) -> f64 {
    format!("{figures}e{exponent}").parse().unwrap_or(f64::NAN)
}
