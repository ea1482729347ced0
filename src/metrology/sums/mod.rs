//! Uncertainty and decisions in the catalogue of calculations.

use crate::metrology::sums::said::MEAN_DECIMALS;
mod conformity;
mod propagation;
mod reading;
mod said;

use super::Statistics;
use super::instrument::{prove, time_base_corrected, time_base_ppm};
use super::uncertainty::stated;
use crate::metrology::sums::conformity::{acceptance_limits, decision};
use crate::metrology::sums::propagation::{by_trials, paired, propagated};
use crate::metrology::sums::reading::{counter, dominant_rectangle, reading_uncertainty};
use crate::quantity::fault::not_negative;
use crate::quantity::sum::{Group, Input, Outcome, Output, Sum};
use crate::quantity::{Number, Phrase, Prefix, Scale, Unit};

/// Every sum of the metrology room, in the order of the catalogue.
pub const SUMS: &[Sum] = &[
    Sum {
        id: "time-base",
        group: Group::Proof,
        title: "A counter's time base",
        inputs: &[
            Input::measured("reference", "Known frequency", FREQUENCY),
            Input::measured("shown", "What the counter shows for it", FREQUENCY),
            Input::measured("reading", "A reading to put right", FREQUENCY).optional(),
        ],
        formula: "ppm = (shown − known)/known·10⁶; right = reading·known/shown",
        source: "NCVEC question pool E4B03, error in Hz = frequency · ppm",
        compute: |given| {
            let (reference, shown) = (given.quantity("reference")?, given.quantity("shown")?);
            let ppm = time_base_ppm(shown.base_f64(), reference.base_f64())?;
            let mut outputs = vec![Output::amount(
                "The counter reads high by",
                ppm,
                Unit::PartsPerMillion,
            )];
            if let Ok(raw) = given.quantity("reading") {
                let counter = counter(reference, shown);
                outputs.push(Output::exact("Raw", raw.clone()));
                outputs.push(Output::exact("Corrected", counter.corrected(raw)));
                let error = raw.base_f64() - time_base_corrected(raw.base_f64(), ppm)?;
                outputs.push(Output::amount("Taken off", error, Unit::Hertz));
            }
            Ok(Outcome::new(outputs))
        },
    },
    Sum {
        id: "reading-uncertainty",
        group: Group::Proof,
        title: "Uncertainty of a reading",
        inputs: &[
            Input::measured("reading", "Reading, with all its digits", ANY),
            Input::plain("range", "Range, in the same unit", "").optional(),
            Input::plain("percent-reading", "Accuracy, ± % of reading", "").optional(),
            Input::plain("percent-range", "Accuracy, ± % of range", "").optional(),
            Input::plain("ppm", "Accuracy, ± ppm", "").optional(),
            Input::plain("counts", "Accuracy, ± counts", "").optional(),
            Input::plains("repeated", "Repeated readings, in the same unit").optional(),
            Input::plain("of-mean", "Standard uncertainty of the mean, if stated", "").optional(),
            Input::plain("of-mean-freedom", "Its degrees of freedom", "").optional(),
            Input::plain("certificate", "Certificate: expanded uncertainty U", "").optional(),
            Input::plain("certificate-k", "Certificate: coverage factor k", "2"),
        ],
        formula: "u = √(a²/3 + δ²/12 + s²/n + u² + (U/k)²); U = k·u with k of Student's t at 95 %",
        source: "JCGM 100:2008, 4.2.3, 4.3.3, 4.3.7, 5.1.2, F.2.2.1 and G.4",
        compute: reading_uncertainty,
    },
    Sum {
        id: "repeated",
        group: Group::Proof,
        title: "Mean and spread of repeated readings",
        inputs: &[Input::plains("readings", "Readings, one to a line")],
        formula: "s = √(Σ(x − mean)²/(n − 1)); uncertainty of the mean s/√n",
        source: "JCGM 100:2008, 4.2.1 to 4.2.3",
        compute: |given| {
            let readings = given.numbers("readings");
            let statistics = Statistics::of(readings)?;
            let alone = |number: Option<Number>| {
                let number = number.map(Number::without_exponent);
                Phrase::new("{}", Vec::from_iter(number))
            };
            let mean = Number::from_f64(statistics.mean, MEAN_DECIMALS);
            let stated = match &mean {
                Some(mean) => stated(mean.decimal(), statistics.of_mean())?,
                None => None,
            };
            let (mean, of_mean) = match stated {
                Some(stated) => (Some(stated.value), Some(stated.expanded)),
                None => (readings.first().cloned(), Some(0.into())),
            };
            Ok(Outcome::new([
                Output::phrase("Mean", alone(mean)),
                Output::plain("Standard deviation", statistics.deviation).at_most(2),
                Output::phrase("Uncertainty of the mean", alone(of_mean)),
            ]))
        },
    },
    Sum {
        id: "decision",
        group: Group::Proof,
        title: "Pass or fail",
        inputs: &[
            Input::plain("value", "Value", ""),
            Input::plain("low", "Lower limit", "").optional(),
            Input::plain("high", "Upper limit", "").optional(),
            Input::plain("expanded", "Expanded uncertainty U, 95 %", ""),
            Input::choice("rule", "Decision rule", RULES),
        ],
        formula: "acceptance limits = tolerance limits moved inward by w = r·U; \
                  probability = Φ((TU − y)/u) − Φ((TL − y)/u), u = U/2",
        source: "ILAC-G8:09/2019; JCGM 106:2012, 7.3 and 7.4 (from memory)",
        compute: decision,
    },
    Sum {
        id: "acceptance-limits",
        group: Group::Proof,
        title: "Acceptance limits of every rule",
        inputs: &[
            Input::plain("low", "Lower tolerance limit", "").optional(),
            Input::plain("high", "Upper tolerance limit", "").optional(),
            Input::plain("expanded", "Expanded uncertainty U, 95 %", ""),
            Input::plain(
                "probability",
                "Required probability of conformance, %",
                "95",
            ),
        ],
        formula: "tolerance limits moved inward by w = 0, U, 0.83 U; for a probability by w with \
                  Φ((TU − y)/u) − Φ((TL − y)/u) = p at the limit, u = U/2; \
                  Method 6: w = U·(1.04 − exp(0.38·ln TUR − 0.54)), TUR = half the tolerance / U",
        source: "ILAC-G8:09/2019; JCGM 106:2012, 8.3 (from memory); ANSI/NCSL Z540.3 Method 6 after \
                 M. Dobbert, 2008 (from memory)",
        compute: acceptance_limits,
    },
    Sum {
        id: "dominant-rectangle",
        group: Group::Proof,
        title: "Coverage factor with a dominant rectangle",
        inputs: &[
            Input::plain("half-width", "Limits ± of the dominant error", ""),
            Input::plain("rest", "Standard uncertainty of the rest", "0"),
            Input::plain("freedom", "Degrees of freedom of the rest", "").optional(),
            Input::plain("second", "Limits ± of a second even error", "").optional(),
        ],
        formula: "k = U/u with 95 % of (even error + rest) within ± U",
        source: "JCGM 101:2008, 6.4 and 9.2.4; EA-4/02 M, S9.14, for k = 1.65 (from memory)",
        compute: dominant_rectangle,
    },
    Sum {
        id: "correlation",
        group: Group::Proof,
        title: "Correlation of paired readings",
        inputs: &[
            Input::plains("first", "First of each pair"),
            Input::plains("second", "Second of each pair"),
        ],
        formula: "r = Σ(Δx·Δy)/√(ΣΔx²·ΣΔy²), Δ from each mean; covariance of the means = r·u(x)·u(y)",
        source: "JCGM 100:2008, 5.2.2, 5.2.3 and H.2",
        compute: paired,
    },
    Sum {
        id: "model",
        group: Group::Proof,
        title: "A formula of measured quantities",
        inputs: &[
            FORMULA,
            VALUES,
            STANDARDS,
            LIMITS,
            Input::plains("freedoms", "Degrees of freedom of each, if few").optional(),
            CORRELATIONS,
        ],
        formula: "u² = Σ(cᵢ·uᵢ)² + 2·Σ cᵢ·cⱼ·r·uᵢ·uⱼ, with cᵢ by exact differentiation; \
                  + − × ÷ √ ln sin cos, angles in radians",
        source: "JCGM 100:2008, 5.1.2, 5.2.2 and G.4.1",
        compute: propagated,
    },
    Sum {
        id: "model-monte-carlo",
        group: Group::Proof,
        title: "A formula of measured quantities, by Monte Carlo",
        inputs: &[
            FORMULA,
            VALUES,
            STANDARDS,
            LIMITS,
            CORRELATIONS,
            Input::plain("trials", "Trials", "100000"),
            Input::plain("seed", "Seed", "1"),
        ],
        formula: "each trial draws normal and even errors and works the formula out; \
                  + − × ÷ √ ln sin cos, angles in radians",
        source: "JCGM 101:2008, 6.4 and 7",
        compute: by_trials,
    },
    Sum {
        id: "can-prove",
        group: Group::Proof,
        title: "Can this instrument prove this tolerance?",
        inputs: &[
            Input::plain("tolerance", "Tolerance, ±", ""),
            Input::plain("accuracy", "Accuracy in the same unit, ±", ""),
            Input::plain("resolution", "One count in the same unit", "0"),
        ],
        formula: "ratio = tolerance/U; comfortable from 4 up, hopeless below 1",
        source: "JCGM 100:2008, 4.3.7 and F.2.2.1; ANSI/NCSL Z540.3 for 4 : 1 (from memory)",
        compute: |given| {
            let step = not_negative("The resolution", given.value("resolution")?)?;
            let accuracy = not_negative("The accuracy", given.value("accuracy")?)?;
            let coverage =
                crate::metrology::distribution::student::coverage_factor(0.95, f64::INFINITY)?;
            let expanded = coverage * (accuracy / 3f64.sqrt()).hypot(step / 12f64.sqrt());
            let proof = prove(given.value("tolerance")?, expanded, step)?;
            let mut outputs = vec![
                Output::words("Verdict", proof.ability.words()),
                Output::plain("Expanded uncertainty U", proof.expanded).at_most(2),
            ];
            let ratio = |ratio| Output::plain("Tolerance over U", ratio);
            outputs.extend(proof.ratio.map(ratio));
            outputs.push(match proof.accuracy_needed {
                Some(accuracy) => Output::plain("Accuracy that would be comfortable, ±", accuracy),
                None => Output::words("What would do", "A finer resolution first"),
            });
            Ok(Outcome::new(outputs))
        },
    },
];

const FORMULA: Input = Input::formula("formula", "Formula of a to e, as in a / b × cos c");
const VALUES: Input = Input::plains("values", "Values of a to e");
const STANDARDS: Input = Input::plains("standards", "Standard uncertainty of each");
const LIMITS: Input = Input::plains("limits", "Limits ± of an even error of each").optional();
const CORRELATIONS: Input =
    Input::pairs("correlations", "Correlations of the standard uncertainties");

const FREQUENCY: &[Scale] = &[
    Scale::new(Prefix::Mega, Unit::Hertz),
    Scale::new(Prefix::Kilo, Unit::Hertz),
    Scale::plain(Unit::Hertz),
];

const ANY: &[Scale] = &[
    Scale::new(Prefix::Mega, Unit::Hertz),
    Scale::plain(Unit::VoltDc),
    Scale::new(Prefix::Milli, Unit::VoltDc),
    Scale::plain(Unit::VoltRms),
    Scale::plain(Unit::VoltPeakToPeak),
    Scale::plain(Unit::Ampere),
    Scale::new(Prefix::Milli, Unit::Ampere),
    Scale::plain(Unit::Watt),
    Scale::plain(Unit::DecibelMilliwatt),
    Scale::plain(Unit::Decibel),
    Scale::plain(Unit::Ohm),
    Scale::plain(Unit::Percent),
    Scale::new(Prefix::Kilo, Unit::Hertz),
    Scale::plain(Unit::Hertz),
];

const RULES: &[&str] = &[
    "guard band w = U",
    "guard band w = 0.83 U",
    "simple acceptance",
    "four-way statement",
];
