//! Student's t-distribution, with real degrees of freedom as Welch–Satterthwaite gives them.

use crate::metrology::distribution::normal;
use crate::quantity::Fault;
use crate::quantity::fault::{above, below, finite};
use std::f64::consts::PI;

/// Above this, the expansions in 1/ν are exact to the last digit.
const MANY: f64 = 1e6;

/// Share of a t-distribution with `freedom` degrees of freedom below `t`.
///
/// The degrees of freedom are 1 or more, or infinite for the normal distribution.
/// Source: M. Abramowitz and I. A. Stegun, 26.5 and 26.7.
pub fn cdf(t: f64, freedom: f64) -> Result<f64, Fault> {
    let freedom = degrees(freedom)?;
    let t = finite("The t value", t)?;
    if freedom > MANY {
        return Ok(normal::cdf(normal_deviate(t, freedom)));
    }
    let tail = tail(t.abs(), freedom);
    Ok(if t < 0.0 { tail } else { 1.0 - tail })
}

/// The `t` below which a share `p` of a t-distribution with `freedom` degrees of freedom lies.
///
/// 0 < p < 1; the degrees of freedom are 1 or more, or infinite for the normal distribution.
/// Source: Newton's method on the distribution; above a million degrees of freedom
/// M. Abramowitz and I. A. Stegun, 26.7.5.
pub fn quantile(p: f64, freedom: f64) -> Result<f64, Fault> {
    let freedom = degrees(freedom)?;
    let p = below("The probability", above("The probability", p, 0.0)?, 1.0)?;
    let upper = if p > 0.5 {
        upper_quantile(1.0 - p, freedom)?
    } else {
        -upper_quantile(p, freedom)?
    };
    finite("The t value", upper)
}

/// Coverage factor k for a coverage probability, such as 0.95, at degrees of freedom:
/// the two-sided t-factor.
///
/// Source: JCGM 100:2008, Table G.2; NIST Technical Note 1297, Table B.1.
pub fn coverage_factor(probability: f64, freedom: f64) -> Result<f64, Fault> {
    let probability = below("The coverage probability", probability, 1.0)?;
    quantile(
        0.5 + above("The coverage probability", probability, 0.0)? / 2.0,
        freedom,
    )
}

fn degrees(freedom: f64) -> Result<f64, Fault> {
    match freedom >= 1.0 {
        true => Ok(freedom),
        false => Err(Fault::TooLow {
            what: "The number of degrees of freedom",
            value: freedom,
            least: 1.0,
        }),
    }
}

/// The t above which a share `q` of at most a half lies.
fn upper_quantile(q: f64, freedom: f64) -> Result<f64, Fault> {
    let z = -normal::quantile(q)?;
    Ok(if freedom > MANY {
        expanded(z, freedom)
    } else if q > 0.25 {
        central_quantile(0.5 - q, freedom)
    } else {
        tail_quantile(q, freedom, z)
    })
}

/// Newton's method from the middle outward: the share between 0 and t is concave.
fn central_quantile(share: f64, freedom: f64) -> f64 {
    let start = share / density(0.0, freedom);
    converge(start, |t| {
        t - (central(t, freedom) - share) / density(t, freedom)
    })
}

/// Newton's method in logarithms of both: heavy tails are straight lines there.
fn tail_quantile(q: f64, freedom: f64, start: f64) -> f64 {
    converge(start, |t| {
        let tail = tail(t, freedom);
        let slope = t * density(t, freedom) / tail;
        t * ((tail / q).ln() / slope).exp()
    })
}

/// Repeats a step until it no longer moves the value by more than rounding does.
fn converge(start: f64, step: impl Fn(f64) -> f64) -> f64 {
    const MOST_STEPS: usize = 60;
    let mut value = start;
    for _ in 0..MOST_STEPS {
        let next = step(value);
        let moved = (next - value).abs();
        value = next;
        if moved <= 4.0 * f64::EPSILON * value.abs() {
            break;
        }
    }
    value
}

fn density(t: f64, freedom: f64) -> f64 {
    let power = -0.5 * (freedom + 1.0) * (t * t / freedom).ln_1p();
    half_step_ratio(freedom / 2.0) / (PI * freedom).sqrt() * power.exp()
}

/// The share above a `t` of zero or more. With one degree of freedom the law is Cauchy's, whose
/// shares are angles.
fn tail(t: f64, freedom: f64) -> f64 {
    if freedom == 1.0 {
        1f64.atan2(t) / PI
    } else if is_far(t, freedom) {
        let square = t * t;
        0.5 * beta_share(
            freedom / 2.0,
            0.5,
            freedom / (freedom + square),
            front(t, freedom),
        )
    } else {
        0.5 - central(t, freedom)
    }
}

/// The share between 0 and a `t` of zero or more.
fn central(t: f64, freedom: f64) -> f64 {
    if freedom == 1.0 {
        t.atan() / PI
    } else if is_far(t, freedom) {
        0.5 - tail(t, freedom)
    } else {
        let square = t * t;
        0.5 * beta_share(
            0.5,
            freedom / 2.0,
            square / (freedom + square),
            front(t, freedom),
        )
    }
}

/// Whether the continued fraction converges for the tail rather than for the middle.
fn is_far(t: f64, freedom: f64) -> bool {
    let share_of_middle = t * t / (freedom + t * t);
    share_of_middle > 1.5 / (freedom / 2.0 + 2.5)
}

/// xᵃ·(1−x)ᵇ/B(a,b) of the incomplete beta functions of this t.
fn front(t: f64, freedom: f64) -> f64 {
    let ratio = t * t / freedom;
    let root = (ratio / (1.0 + ratio)).sqrt();
    root * (-0.5 * freedom * ratio.ln_1p()).exp() * half_step_ratio(freedom / 2.0) / PI.sqrt()
}

/// Incomplete beta function from its continued fraction by Lentz's method.
///
/// Source: M. Abramowitz and I. A. Stegun, 26.5.8.
fn beta_share(a: f64, b: f64, x: f64, front: f64) -> f64 {
    const MOST_TERMS: usize = 20_000;
    const TINY: f64 = 1e-300;
    let guarded = |value: f64| if value.abs() < TINY { TINY } else { value };
    let mut c = 1.0;
    let mut d = 1.0 / guarded(1.0 - (a + b) * x / (a + 1.0));
    let mut fraction = d;
    for term in 1..MOST_TERMS {
        let m = term as f64;
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        let before = fraction;
        for coefficient in [even, odd] {
            d = 1.0 / guarded(1.0 + coefficient * d);
            c = guarded(1.0 + coefficient / c);
            fraction *= c * d;
        }
        if (fraction - before).abs() <= f64::EPSILON * fraction.abs() {
            break;
        }
    }
    front * fraction / a
}

/// Γ(a+½)/Γ(a), from its asymptotic series after stepping up to where that is exact.
///
/// Source: F. G. Tricomi and A. Erdélyi, ratio of gamma functions (from memory).
fn half_step_ratio(a: f64) -> f64 {
    const FAR: f64 = 60.0;
    let mut a = a;
    let mut factor = 1.0;
    while a < FAR {
        factor *= a / (a + 0.5);
        a += 1.0;
    }
    let r = 1.0 / a;
    let series = [
        869.0 / 4194304.0,
        -399.0 / 262144.0,
        -21.0 / 32768.0,
        5.0 / 1024.0,
        1.0 / 128.0,
        -1.0 / 8.0,
        1.0,
    ];
    factor * a.sqrt() * series.iter().fold(0.0, |sum, term| sum * r + term)
}

/// The t of a normal deviate at many degrees of freedom.
fn expanded(z: f64, freedom: f64) -> f64 {
    let r = 1.0 / freedom;
    let s = z * z;
    let first = (s + 1.0) / 4.0;
    let second = ((5.0 * s + 16.0) * s + 3.0) / 96.0;
    let third = (((3.0 * s + 19.0) * s + 17.0) * s - 15.0) / 384.0;
    z * (1.0 + r * (first + r * (second + r * third)))
}

/// The normal deviate of a t at many degrees of freedom.
fn normal_deviate(t: f64, freedom: f64) -> f64 {
    let r = 1.0 / freedom;
    let s = t * t;
    let first = (s + 1.0) / 4.0;
    let second = ((13.0 * s + 8.0) * s + 3.0) / 96.0;
    let third = (((35.0 * s + 19.0) * s + 1.0) * s - 15.0) / 384.0;
    t * (1.0 - r * (first - r * (second - r * third)))
}
