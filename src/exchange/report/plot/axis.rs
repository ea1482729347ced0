//! Round values along an axis.

use crate::quantity::DecimalSign;

/// No axis has more of them, whatever it is made of.
const MOST: usize = 24;

/// About so many round values between two ends, each with its figure.
pub(in crate::exchange::report) fn round_values(
    low: f64,
    high: f64,
    about: f64,
    sign: DecimalSign,
) -> Vec<(f64, String)> {
    let rough = (high - low) / about;
    let decade = 10f64.powf(rough.log10().floor());
    let step = [1.0, 2.0, 5.0, 10.0].map(|times| times * decade);
    let step = step
        .into_iter()
        .find(|step| *step >= rough)
        .unwrap_or(rough);
    if !(step.is_finite() && step > 0.0) {
        return Vec::new();
    }
    // What a logarithm leaves of a round step is no decimal more.
    let decimals = (-(step.log10() + 1e-9).floor()).clamp(0.0, 9.0) as usize;
    let first = (low / step).ceil();
    (0..MOST)
        .map(|index| (first + index as f64) * step + 0.0)
        .take_while(|value| *value <= high)
        .map(|value| (value, figure(value, decimals, sign)))
        .collect()
}

fn figure(value: f64, decimals: usize, sign: DecimalSign) -> String {
    format!("{value:.decimals$}")
        .replace('-', "\u{2212}")
        .replace('.', sign.symbol())
}

#[cfg(test)]
mod tests {
    use super::round_values;
    use crate::quantity::DecimalSign;

    #[test]
    fn round_values_lie_between_the_ends() {
        let said = |low, high| {
            let all = round_values(low, high, 4.0, DecimalSign::Comma);
            all.into_iter().map(|(_, text)| text).collect::<Vec<_>>()
        };
        assert_eq!(said(0.0, 4.0), ["0", "1", "2", "3", "4"]);
        assert_eq!(said(-0.3, 0.3), ["\u{2212}0,2", "0,0", "0,2"]);
        let close = said(12.799970, 12.799976);
        assert_eq!(close, ["12,799970", "12,799972", "12,799974", "12,799976"]);
        for ends in [
            (1.0, 1.0),
            (f64::NAN, 1.0),
            (f64::NEG_INFINITY, f64::INFINITY),
            (2.0, 1.0),
        ] {
            assert!(said(ends.0, ends.1).len() <= 24, "{ends:?}");
        }
    }
}
