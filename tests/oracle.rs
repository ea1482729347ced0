//! The arithmetic against reference vectors that general libraries made.
//!
//! `tests/oracle/make_vectors.py` says how, `tests/oracle/run` compares the full set. Without
//! `HALFTURN_VECTORS` the compact set beside this file is compared.

use bigdecimal::BigDecimal;
use halfturn::metrology::distribution::{normal, student};
use halfturn::metrology::model::{Correlation, Input, Model, Propagated};
use halfturn::metrology::uncertainty::{Budget, Contribution, Evaluation, Shape};
use halfturn::metrology::{Statistics, decision, instrument};
use halfturn::quantity::{DecimalSign, Fault, Number, Prefix, Quantity, Scale, Unit};
use halfturn::radio::channels::Channel;
use halfturn::radio::components::discharge;
use halfturn::radio::components::preferred::{Joint, Series, pairs};
use halfturn::radio::plan::{Mode, Readings, Target, Term};
use halfturn::radio::{frequency, levels, mismatch, modulation, receiver, stages};
use std::fs;
use std::path::PathBuf;

/// How close a result must come.
#[derive(Clone, Copy)]
enum Close {
    /// 1e-12 of the result.
    Relative,
    /// 1e-12 of the result, or of 1 where the result is smaller: for decibels, degrees and
    /// probabilities, which pass through zero.
    Unity,
    /// 1e-9 of the result: for quantiles of distributions.
    Quantile,
}

impl Close {
    fn miss(self, got: f64, expected: f64) -> f64 {
        let scale = match self {
            Close::Relative | Close::Quantile => expected.abs(),
            Close::Unity => expected.abs().max(1.0),
        };
        match got == expected {
            true => 0.0,
            false => (got - expected).abs() / scale,
        }
    }

    fn limit(self) -> f64 {
        match self {
            Close::Relative | Close::Unity => 1e-12,
            Close::Quantile => 1e-9,
        }
    }
}

enum Formula {
    Float(Close, fn(&[f64]) -> Result<f64, Fault>),
    Text(fn(&[&str]) -> String),
    FloatOfText(fn(&[&str]) -> f64),
}

use Close::{Quantile, Relative, Unity};
use Formula::{Float, FloatOfText, Text};

const FORMULAS: &[(&str, Formula)] = &[
    (
        "decibels-of-power-ratio",
        Float(Unity, |x| levels::decibels_of_power_ratio(x[0])),
    ),
    (
        "power-ratio-of-decibels",
        Float(Relative, |x| levels::power_ratio_of_decibels(x[0])),
    ),
    (
        "decibels-of-voltage-ratio",
        Float(Unity, |x| levels::decibels_of_voltage_ratio(x[0])),
    ),
    (
        "voltage-ratio-of-decibels",
        Float(Relative, |x| levels::voltage_ratio_of_decibels(x[0])),
    ),
    ("dbm-of-watts", Float(Unity, |x| levels::dbm_of_watts(x[0]))),
    (
        "watts-of-dbm",
        Float(Relative, |x| levels::watts_of_dbm(x[0])),
    ),
    (
        "watts-of-volts",
        Float(Relative, |x| levels::watts_of_volts(x[0], x[1])),
    ),
    (
        "volts-of-watts",
        Float(Relative, |x| levels::volts_of_watts(x[0], x[1])),
    ),
    (
        "peak-of-rms",
        Float(Relative, |x| Ok(levels::peak_of_rms(x[0]))),
    ),
    (
        "rms-of-peak",
        Float(Relative, |x| Ok(levels::rms_of_peak(x[0]))),
    ),
    (
        "peak-to-peak-of-rms",
        Float(Relative, |x| Ok(levels::peak_to_peak_of_rms(x[0]))),
    ),
    (
        "rms-of-peak-to-peak",
        Float(Relative, |x| Ok(levels::rms_of_peak_to_peak(x[0]))),
    ),
    (
        "dbuv-of-volts",
        Float(Unity, |x| levels::dbuv_of_volts(x[0])),
    ),
    (
        "volts-of-dbuv",
        Float(Relative, |x| levels::volts_of_dbuv(x[0])),
    ),
    (
        "dbuv-above-dbm",
        Float(Unity, |x| levels::dbuv_above_dbm(x[0])),
    ),
    (
        "level-after",
        Float(Unity, |x| Ok(levels::level_after(x[0], &x[1..]))),
    ),
    (
        "level-before",
        Float(Unity, |x| levels::level_before(x[0], &x[1..])),
    ),
    (
        "swr-of-reflection",
        Float(Relative, |x| mismatch::swr_of_reflection(x[0])),
    ),
    (
        "return-loss-of-reflection",
        Float(Unity, |x| mismatch::return_loss_of_reflection(x[0])),
    ),
    (
        "reflection-of-return-loss",
        Float(Relative, |x| mismatch::reflection_of_return_loss(x[0])),
    ),
    (
        "reflection-of-load",
        Float(Relative, |x| mismatch::reflection_of_load(x[0], x[1])),
    ),
    (
        "reflection-of-swr",
        Float(Relative, |x| mismatch::reflection_of_swr(x[0])),
    ),
    (
        "return-loss-of-swr",
        Float(Relative, |x| mismatch::return_loss_of_swr(x[0])),
    ),
    (
        "swr-of-return-loss",
        Float(Relative, |x| mismatch::swr_of_return_loss(x[0])),
    ),
    (
        "mismatch-loss",
        Float(Relative, |x| mismatch::mismatch_loss(x[0])),
    ),
    (
        "reflected-share",
        Float(Relative, |x| mismatch::reflected_share(x[0])),
    ),
    (
        "reflection-of-powers",
        Float(Relative, |x| mismatch::reflection_of_powers(x[0], x[1])),
    ),
    (
        "reflection-before-cable",
        Float(Relative, |x| mismatch::reflection_before_cable(x[0], x[1])),
    ),
    (
        "reflection-behind-cable",
        Float(Relative, |x| mismatch::reflection_behind_cable(x[0], x[1])),
    ),
    (
        "mismatch-error",
        Float(Relative, |x| mismatch::mismatch_error(x[0], x[1])),
    ),
    (
        "depth-of-envelope",
        Float(Relative, |x| modulation::depth_of_envelope(x[0], x[1])),
    ),
    (
        "depth-of-trapezoid",
        Float(Relative, |x| modulation::depth_of_trapezoid(x[0], x[1])),
    ),
    (
        "depth-of-sideband",
        Float(Relative, |x| modulation::depth_of_sideband(x[0], x[1])),
    ),
    (
        "sideband-power",
        Float(Relative, |x| modulation::sideband_power(x[0], x[1])),
    ),
    (
        "mean-power",
        Float(Relative, |x| modulation::mean_power(x[0], x[1])),
    ),
    (
        "peak-envelope-power",
        Float(Relative, |x| modulation::peak_envelope_power(x[0], x[1])),
    ),
    (
        "carrier-of-mean-power",
        Float(Relative, |x| modulation::carrier_of_mean_power(x[0], x[1])),
    ),
    (
        "pep-of-crest",
        Float(Relative, |x| modulation::pep_of_crest(x[0], x[1])),
    ),
    (
        "relative-level",
        Float(Unity, |x| modulation::relative_level(x[0], x[1])),
    ),
    (
        "modulation-index",
        Float(Relative, |x| modulation::modulation_index(x[0], x[1])),
    ),
    (
        "carson-bandwidth",
        Float(Relative, |x| modulation::carson_bandwidth(x[0], x[1])),
    ),
    (
        "tone-of-carrier-null",
        Float(Relative, |x| {
            modulation::tone_of_null(modulation::Line::Carrier, x[0], x[1] as usize)
        }),
    ),
    (
        "sinad-of-voltages",
        Float(Unity, |x| receiver::sinad_of_voltages(x[0], x[1])),
    ),
    (
        "sinad-of-distortion",
        Float(Unity, |x| receiver::sinad_of_distortion(x[0])),
    ),
    (
        "distortion-of-sinad",
        Float(Relative, |x| receiver::distortion_of_sinad(x[0])),
    ),
    (
        "residue-of-sinad",
        Float(Relative, |x| receiver::residue_of_sinad(x[0])),
    ),
    (
        "signal-plus-noise",
        Float(Unity, |x| receiver::signal_plus_noise(x[0], x[1])),
    ),
    (
        "signal-to-noise",
        Float(Unity, |x| receiver::signal_to_noise(x[0])),
    ),
    (
        "thermal-noise",
        Float(Unity, |x| receiver::thermal_noise(x[0])),
    ),
    (
        "noise-figure",
        Float(Unity, |x| receiver::noise_figure(x[0], x[1], x[2])),
    ),
    ("image", Float(Relative, |x| receiver::image(x[0], x[1]))),
    (
        "half-if",
        Float(Relative, |x| receiver::half_if(x[0], x[1])),
    ),
    (
        "level-of-s-units",
        Float(Unity, |x| {
            receiver::level_of_s_units(x[0], x[1], receiver::Band::Below30Megahertz)
        }),
    ),
    (
        "ppm-of-frequencies",
        Float(Relative, |x| frequency::ppm_of_frequencies(x[0], x[1])),
    ),
    (
        "hertz-of-ppm",
        Float(Relative, |x| frequency::hertz_of_ppm(x[0], x[1])),
    ),
    (
        "current-of-drop",
        Float(Relative, |x| stages::current_of_drop(x[0], x[1])),
    ),
    (
        "pass-dissipation",
        Float(Relative, |x| stages::pass_dissipation(x[0], x[1], x[2])),
    ),
    (
        "junction-temperature",
        Float(Unity, |x| stages::junction_temperature(x[0], x[1], &x[2..])),
    ),
    (
        "heatsink-needed",
        Float(Unity, |x| {
            stages::heatsink_needed(x[0], x[1], x[2], x[3], x[4])
        }),
    ),
    (
        "resonance",
        Float(Relative, |x| stages::resonance(x[0], x[1])),
    ),
    (
        "resonating-capacitance",
        Float(Relative, |x| stages::resonating_capacitance(x[0], x[1])),
    ),
    (
        "resonating-inductance",
        Float(Relative, |x| stages::resonating_inductance(x[0], x[1])),
    ),
    (
        "probe-shift",
        Float(Relative, |x| stages::probe_shift(x[0], x[1], x[2])),
    ),
    ("charge", Float(Relative, |x| discharge::charge(x[0], x[1]))),
    ("energy", Float(Relative, |x| discharge::energy(x[0], x[1]))),
    (
        "voltage-after",
        Float(Relative, |x| {
            discharge::voltage_after(x[0], x[1], x[2], x[3])
        }),
    ),
    (
        "time-to-bleed",
        Float(Relative, |x| {
            discharge::time_to_bleed(x[0], x[1], x[2], x[3])
        }),
    ),
    (
        "preferred-e24",
        Float(Relative, |x| Ok(Series::E24.around(x[0])?.nearest)),
    ),
    (
        "preferred-e96",
        Float(Relative, |x| Ok(Series::E96.around(x[0])?.nearest)),
    ),
    (
        "pair-parallel-e12",
        Float(Unity, |x| best_pair(x[0], Joint::ReciprocalSum)),
    ),
    (
        "pair-series-e12",
        Float(Unity, |x| best_pair(x[0], Joint::Sum)),
    ),
    ("normal-cdf", Float(Relative, |x| Ok(normal::cdf(x[0])))),
    (
        "normal-quantile-low",
        Float(Quantile, |x| normal::quantile(x[0])),
    ),
    (
        "normal-quantile-high",
        Float(Quantile, |x| normal::quantile(x[0])),
    ),
    ("student-cdf", Float(Quantile, |x| student::cdf(x[0], x[1]))),
    (
        "student-quantile-low",
        Float(Quantile, |x| student::quantile(x[0], x[1])),
    ),
    (
        "student-quantile-high",
        Float(Quantile, |x| student::quantile(x[0], x[1])),
    ),
    (
        "student-quantile-whole",
        Float(Quantile, |x| student::quantile(x[0], x[1])),
    ),
    (
        "coverage-factor",
        Float(Quantile, |x| student::coverage_factor(x[0], x[1])),
    ),
    (
        "false-accept-risk",
        Float(Relative, |x| Ok(decision::false_accept_risk(x[0]))),
    ),
    (
        "conformance-one-sided",
        Float(Relative, |x| {
            decision::conformance_probability(x[0], None, Some(x[1]), x[2])
        }),
    ),
    (
        "conformance-two-sided",
        Float(Unity, |x| {
            decision::conformance_probability(x[0], Some(x[2]), Some(x[1]), x[3])
        }),
    ),
    ("model-value", Float(Unity, |x| Ok(model(x)?.value))),
    (
        "model-combined",
        Float(Relative, |x| Ok(model(x)?.combined)),
    ),
    (
        "budget-combined",
        Float(Relative, |x| Ok(budget(x)?.combined)),
    ),
    (
        "budget-freedom",
        Float(Relative, |x| Ok(budget(x)?.freedom)),
    ),
    (
        "budget-expanded",
        Float(Quantile, |x| Ok(budget(x)?.expanded)),
    ),
    (
        "resolution",
        Float(Relative, |x| {
            Evaluation::Resolution { step: x[0] }.standard()
        }),
    ),
    (
        "rectangular",
        Float(Relative, |x| limits(x[0], Shape::Rectangular)),
    ),
    (
        "triangular",
        Float(Relative, |x| limits(x[0], Shape::Triangular)),
    ),
    (
        "u-shaped",
        Float(Relative, |x| limits(x[0], Shape::UShaped)),
    ),
    (
        "time-base-ppm",
        Float(Relative, |x| instrument::time_base_ppm(x[0], x[1])),
    ),
    (
        "time-base-corrected",
        Float(Relative, |x| instrument::time_base_corrected(x[0], x[1])),
    ),
    ("statistics-mean", FloatOfText(|x| statistics(x).mean)),
    (
        "statistics-deviation",
        FloatOfText(|x| statistics(x).deviation),
    ),
    (
        "plan-on-air",
        Text(|x| {
            let mode = mode(&[("a", x[1]), ("b", x[3]), ("c", x[5])]);
            let readings = readings(&[("a", x[0]), ("b", x[2]), ("c", x[4])]);
            plain(&mode.on_air(&readings).unwrap())
        }),
    ),
    (
        "plan-last-target",
        Text(|x| {
            let mode = mode(&[("a", x[2]), ("b", x[4]), ("c", x[5])]);
            let readings = readings(&[("a", x[1]), ("b", x[3])]);
            let channel = Channel {
                name: String::new(),
                frequency: megahertz(x[0]),
            };
            plain(&mode.last_target("c", &channel, &readings).unwrap())
        }),
    ),
];

/// By how much the best pair misses, as the logarithm of the ratio.
fn best_pair(target: f64, joint: Joint) -> Result<f64, Fault> {
    let best = pairs(target, Series::E12, joint, 1)?;
    Ok((best[0].together / target).ln().abs())
}

fn limits(half_width: f64, shape: Shape) -> Result<f64, Fault> {
    Evaluation::Limits { half_width, shape }.standard()
}

/// A formula of five quantities: values, uncertainties, then the correlations of a with b and of
/// c with d.
fn model(x: &[f64]) -> Result<Propagated, Fault> {
    let text = "a ÷ b × cos c + √(d × e) − ln d × sin a";
    let formula = halfturn::quantity::formula::Formula::read(text, DecimalSign::Point).unwrap();
    let input = |at: usize| Input {
        value: x[at],
        standard: x[at + 5],
        limits: 0.0,
        freedom: f64::INFINITY,
    };
    let correlations = [((0, 1), x[10]), ((2, 3), x[11])];
    let correlation = |(between, coefficient)| Correlation {
        between,
        coefficient,
    };
    Model::new(
        formula,
        (0..5).map(input).collect(),
        correlations.map(correlation).to_vec(),
    )?
    .propagate()
}

/// Three contributions: uncertainties, then sensitivities, then degrees of freedom.
fn budget(x: &[f64]) -> Result<Budget, Fault> {
    let contribution = |i: usize| {
        Contribution::new("", Evaluation::Standard { uncertainty: x[i] })
            .sensitivity(x[i + 3])
            .freedom(x[i + 6])
    };
    Budget::of((0..3).map(contribution).collect())
}

fn statistics(texts: &[&str]) -> Statistics {
    let readings: Vec<Number> = texts.iter().map(|text| text.parse().unwrap()).collect();
    Statistics::of(&readings).unwrap()
}

fn mode(factors: &[(&str, &str)]) -> Mode {
    let term = |&(oscillator, factor): &(&str, &str)| Term {
        oscillator: oscillator.to_owned(),
        factor: factor.parse().unwrap(),
        target: Target::FollowsChannel,
        adjuster: String::new(),
    };
    Mode {
        name: String::new(),
        terms: factors.iter().map(term).collect(),
        injection: Vec::new(),
    }
}

fn readings(megahertzes: &[(&str, &str)]) -> Readings {
    let reading = |&(name, text): &(&str, &str)| (name.to_owned(), megahertz(text));
    megahertzes.iter().map(reading).collect()
}

fn megahertz(text: &str) -> Quantity {
    Quantity::new(text.parse().unwrap(), Scale::new(Prefix::Mega, Unit::Hertz))
}

fn plain(decimal: &BigDecimal) -> String {
    decimal.normalized().to_plain_string()
}

fn vectors() -> PathBuf {
    match std::env::var_os("HALFTURN_VECTORS") {
        Some(folder) => folder.into(),
        None => concat!(env!("CARGO_MANIFEST_DIR"), "/tests/oracle/vectors").into(),
    }
}

/// The rows of a CSV without its remark.
fn rows(csv: &str) -> Vec<Vec<&str>> {
    csv.lines()
        .filter(|line| !line.starts_with('#'))
        .map(|line| line.split(',').collect())
        .collect()
}

/// The worst miss of a formula as a multiple of what is allowed, with its row.
fn worst(formula: &Formula, rows: &[Vec<&str>]) -> (f64, f64, String) {
    let mut worst = (0.0, 0.0, String::new());
    for row in rows {
        let (inputs, expected) = (&row[..row.len() - 1], row[row.len() - 1]);
        let floats = || {
            inputs
                .iter()
                .map(|text| text.parse().unwrap())
                .collect::<Vec<f64>>()
        };
        let (miss, limit) = match formula {
            Float(close, function) => match function(&floats()) {
                Ok(got) => (close.miss(got, expected.parse().unwrap()), close.limit()),
                Err(fault) => panic!("{inputs:?}: {fault}"),
            },
            FloatOfText(function) => (
                Relative.miss(function(inputs), expected.parse().unwrap()),
                Relative.limit(),
            ),
            Text(function) => (f64::from(function(inputs) != expected), 1e-12),
        };
        if miss.is_nan() || miss > worst.0 {
            worst = (miss, limit, row.join(", "));
        }
    }
    worst
}

// Check: every formula, within 1e-12, and t and normal quantiles within 1e-9
// Source: vectors made with scipy, mpmath, scikit-rf and GTC
// Known by: computed
#[test]
fn every_formula_agrees_with_the_libraries() {
    let mut failures = Vec::new();
    let mut compared = 0;
    for (name, formula) in FORMULAS {
        let path = vectors().join(format!("{name}.csv"));
        let csv = fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
        let rows = rows(&csv);
        assert!(!rows.is_empty(), "{name} has no rows");
        let (miss, limit, row) = worst(formula, &rows);
        compared += rows.len();
        println!("{name:26} {:6} rows, worst {miss:.1e}", rows.len());
        if miss.is_nan() || miss > limit {
            failures.push(format!("{name}: off by {miss:.1e} at {row}"));
        }
    }
    println!("{compared} rows compared");
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}

#[test]
fn every_vector_file_is_compared() {
    for entry in fs::read_dir(vectors()).unwrap() {
        let path = entry.unwrap().path();
        let stem = path.file_stem().unwrap().to_string_lossy().into_owned();
        assert!(FORMULAS.iter().any(|(name, _)| *name == stem), "{stem}");
    }
}
