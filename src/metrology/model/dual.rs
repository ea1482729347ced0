//! Numbers that carry how they change with each input.

use crate::metrology::model::MOST;
use crate::quantity::formula::Worked;

/// A value with its slope in each quantity: exact differentiation, rule by rule.
#[derive(Clone, Copy, Debug)]
pub(super) struct Dual {
    pub(super) value: f64,
    pub(super) slopes: [f64; MOST],
}

impl Dual {
    pub(super) fn quantity(value: f64, at: usize) -> Dual {
        let mut slopes = [0.0; MOST];
        slopes[at] = 1.0;
        Dual { value, slopes }
    }

    /// f(x) by the chain rule.
    fn chained(self, value: f64, slope: f64) -> Dual {
        Dual {
            value,
            slopes: self.slopes.map(|own| times(own, slope)),
        }
    }

    pub(super) fn combined(self, other: Dual, value: f64, slope: f64, of_other: f64) -> Dual {
        let pair = |at| times(self.slopes[at], slope) + times(other.slopes[at], of_other);
        Dual {
            value,
            slopes: std::array::from_fn(pair),
        }
    }
}

/// A product in which nothing stays nothing, even of a slope without end.
fn times(own: f64, slope: f64) -> f64 {
    if own == 0.0 { 0.0 } else { own * slope }
}

impl Worked for Dual {
    fn number(value: f64) -> Self {
        Dual {
            value,
            slopes: [0.0; MOST],
        }
    }
    fn minus(self) -> Self {
        self.chained(-self.value, -1.0)
    }
    fn plus(self, other: Self) -> Self {
        self.combined(other, self.value + other.value, 1.0, 1.0)
    }
    fn times(self, other: Self) -> Self {
        self.combined(other, self.value * other.value, other.value, self.value)
    }
    fn over(self, other: Self) -> Self {
        let value = self.value / other.value;
        self.combined(other, value, 1.0 / other.value, -value / other.value)
    }
    fn root(self) -> Self {
        let root = self.value.sqrt();
        self.chained(root, 0.5 / root)
    }
    fn logarithm(self) -> Self {
        self.chained(self.value.ln(), 1.0 / self.value)
    }
    fn sine(self) -> Self {
        self.chained(self.value.sin(), self.value.cos())
    }
    fn cosine(self) -> Self {
        self.chained(self.value.cos(), -self.value.sin())
    }
}
