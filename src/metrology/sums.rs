//! Uncertainty and decisions in the catalogue of calculations.

use super::decision::{
    Rule, conformance_probability, guard_for, managed_guard_band, risk_beyond_a_limit,
};
use super::instrument::{
    Accuracy, Correction, Instrument, Range, prove, time_base_corrected, time_base_ppm,
};
use super::model::{self, Correlation, Model, Propagated};
use super::uncertainty::{Budget, Contribution, Evaluation, Stated, stated};
use super::{Limits, Statistics};
use crate::quantity::fault::not_negative;
use crate::quantity::sum::{Given, Group, Input, Outcome, Output, Picture, Sum};
use crate::quantity::{Fault, Number, Phrase, Prefix, Quantity, Scale, Unit, to_f64};
use bigdecimal::BigDecimal;

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

/// More decimals than any mean of readings has that is worth its digits.
const MEAN_DECIMALS: u8 = 15;

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

fn counter(reference: &Quantity, reading: &Quantity) -> Instrument {
    Instrument {
        role: String::new(),
        name: String::new(),
        asset: String::new(),
        calibrated: None,
        due: None,
        ranges: Vec::new(),
        corrections: vec![Correction::TimeBase {
            reference: reference.clone(),
            reading: reading.clone(),
        }],
        further: Vec::new(),
        loss: None,
    }
}

fn reading_uncertainty(given: &Given) -> Result<Outcome, Fault> {
    let reading = given.quantity("reading")?;
    let instrument = meter(given, reading);
    let readings = given.numbers("repeated");
    let statistics = match readings {
        [] => None,
        _ => {
            let scale = reading.scale.prefix;
            let sizes: Vec<_> = readings.iter().map(|n| scale.apply(n.decimal())).collect();
            Some(Statistics::of_decimals(&sizes)?)
        }
    };
    let place = reading.resolution();
    let stated_parts = stated_parts(given, reading)?;
    let range = match stated_parts.is_empty() {
        true => instrument.stated_range(reading, &place)?,
        false => instrument.range_of(reading, &place)?,
    };
    let budget = instrument.budget_in(
        range,
        reading,
        &place,
        statistics.as_ref().map(Contribution::of_repeats),
    )?;
    let of_range = budget.lines.into_iter().map(|line| line.contribution);
    let budget = Budget::of(of_range.chain(stated_parts).collect())?;
    let unit = reading.unit().of_difference();
    let mut outputs = vec![
        Output::amount("Combined standard uncertainty", budget.combined, unit).at_most(2),
        Output::plain("Coverage factor k", budget.coverage).at_most(3),
        Output::words("Effective degrees of freedom", whole(budget.freedom)),
    ];
    // Without any uncertainty there is nothing to round to.
    let stated = stated(&reading.base(), budget.expanded)?;
    let expanded = match &stated {
        Some(stated) => Quantity::natural(stated.expanded.decimal().clone(), unit),
        None => Quantity::natural(0.into(), unit),
    };
    outputs.insert(0, Output::exact("Expanded uncertainty U, 95 %", expanded));
    if let Some(stated) = stated {
        outputs.insert(0, Output::phrase("Result", result(stated, reading.scale)));
    }
    Ok(Outcome::new(outputs).with(picture(&budget)))
}

/// What others state of the reading: the uncertainty of its mean, and that of a certificate.
fn stated_parts(given: &Given, reading: &Quantity) -> Result<Vec<Contribution>, Fault> {
    let base = |id| {
        let number = given.number(id).ok()?;
        Some(to_f64(&reading.scale.prefix.apply(number.decimal())))
    };
    let mut parts = Vec::new();
    if let Some(uncertainty) = base("of-mean") {
        let part = Contribution::new("Mean, as stated", Evaluation::Standard { uncertainty });
        parts.push(match given.maybe("of-mean-freedom") {
            Some(freedom) => part.freedom(freedom),
            None => part,
        });
    }
    if let Some(uncertainty) = base("certificate") {
        let coverage = given.value("certificate-k")?;
        let stated = Evaluation::Expanded {
            uncertainty,
            coverage,
        };
        parts.push(Contribution::new("Certificate", stated));
    }
    Ok(parts)
}

/// A result with its uncertainty, both in the scale of the reading.
fn result(stated: Stated, scale: Scale) -> Phrase {
    let difference = Scale::new(scale.prefix, scale.unit.of_difference());
    let (value, expanded) = (scale.symbol(), difference.symbol());
    let in_scale = |number: Number| {
        Number::from_decimal(scale.prefix.remove(number.decimal())).without_exponent()
    };
    Phrase::new(
        format!("{{}}\u{a0}{value} ± {{}}\u{a0}{expanded}"),
        [in_scale(stated.value), in_scale(stated.expanded)],
    )
}

/// A meter with one range that has the accuracy entered.
fn meter(given: &Given, reading: &Quantity) -> Instrument {
    let number = |id| given.number(id).ok().cloned();
    let full_scale = number("range").unwrap_or_else(|| reading.number.clone());
    let one_count = Number::from_decimal(reading.number.last_place());
    let accuracy = Accuracy {
        percent_of_reading: number("percent-reading"),
        percent_of_range: number("percent-range"),
        counts: given.maybe("counts").map(|counts| counts as u32),
        ppm: number("ppm"),
        absolute: None,
    };
    Instrument {
        role: String::new(),
        name: "this reading".to_owned(),
        asset: String::new(),
        calibrated: None,
        due: None,
        ranges: vec![Range {
            full_scale: Quantity::new(full_scale, reading.scale),
            resolution: Quantity::new(one_count, reading.scale),
            accuracy,
        }],
        corrections: Vec::new(),
        further: Vec::new(),
        loss: None,
    }
}

fn picture(budget: &Budget) -> Picture {
    let shares = budget.lines.iter();
    Picture::ErrorBudget(
        shares
            .map(|line| (line.contribution.name.clone(), line.share))
            .collect(),
    )
}

fn whole(freedom: f64) -> String {
    match freedom.is_finite() {
        true => format!("{:.0}", freedom.floor()),
        false => "∞".to_owned(),
    }
}

fn decision(given: &Given) -> Result<Outcome, Fault> {
    let rule = rule(given.choice("rule")?);
    let value = given.number("value")?;
    let expanded = given.number("expanded")?;
    not_negative("The expanded uncertainty", expanded.to_f64())?;
    let limits = limits(given)?;
    let statement = rule.state(value.decimal(), &limits, expanded.decimal());
    let (low, high) = (given.maybe("low"), given.maybe("high"));
    let mut outputs = vec![
        Output::words("Statement", statement.to_string()),
        Output::phrase("Rule", rule.sentence()),
    ];
    let standard = expanded.to_f64() / 2.0;
    if standard > 0.0 {
        let probability = conformance_probability(value.to_f64(), low, high, standard)?;
        outputs.push(Output::percent("Probability of conformance", probability));
    }
    let acceptance = rule.acceptance(&limits, expanded.decimal());
    outputs.push(Output::phrase("Acceptance limits", interval(&acceptance)));
    if let Rule::GuardBand { ratio } = &rule {
        let risk = risk_beyond_a_limit(ratio.to_f64());
        outputs.push(Output::percent(
            "Risk beyond a limit, at the acceptance limit",
            risk,
        ));
    }
    Ok(Outcome::new(outputs).with(Picture::Tolerance {
        low,
        high,
        value: value.to_f64(),
        expanded: expanded.to_f64(),
        guard: to_f64(&rule.guard(expanded.decimal())),
    }))
}

fn rule(choice: usize) -> Rule {
    match choice {
        0 => Rule::guard_band(),
        1 => Rule::GuardBand {
            ratio: Number::from_decimal(BigDecimal::new(83.into(), 2)),
        },
        2 => Rule::SimpleAcceptance,
        _ => Rule::FourWay,
    }
}

/// Limits in words; none where a guard band leaves nothing between them.
fn interval(limits: &Limits) -> Phrase {
    let number = |limit: &BigDecimal| Number::from_decimal(limit.normalized()).without_exponent();
    match (&limits.low, &limits.high) {
        (Some(low), Some(high)) if low > high => {
            Phrase::new("none: nothing is left between them", [])
        }
        (Some(low), Some(high)) => Phrase::new("{} to {}", [number(low), number(high)]),
        (Some(low), None) => Phrase::new("at least {}", [number(low)]),
        (None, Some(high)) => Phrase::new("at most {}", [number(high)]),
        (None, None) => Phrase::new("none", []),
    }
}

/// The acceptance limits under each rule.
fn acceptance_limits(given: &Given) -> Result<Outcome, Fault> {
    let expanded = given.number("expanded")?;
    let size = not_negative("The expanded uncertainty", expanded.to_f64())?;
    let limits = limits(given)?;
    let moved = |label, by: &BigDecimal| {
        let limits = limits.moved_inward(by);
        Output::phrase(label, interval(&limits))
    };
    let by_rule = |label, rule: Rule| moved(label, &rule.guard(expanded.decimal()));
    let mut outputs = vec![
        by_rule("Simple acceptance", Rule::SimpleAcceptance),
        by_rule("Guard band w = U", rule(0)),
        by_rule("Guard band w = 0.83 U", rule(1)),
        by_rule("Four-way: pass", Rule::FourWay),
        by_rule("Four-way: conditional pass", Rule::SimpleAcceptance),
        moved("Four-way: conditional fail", &-expanded.decimal()),
    ];
    // A guard band that was worked out is rounded up to where it still matters.
    let rounded_up =
        |guard: f64| Number::from_f64(guard, MEAN_DECIMALS).map(|n| up(n.decimal(), size));
    let probability = given.share("probability")?;
    let ends = limits.to_f64();
    if size > 0.0 {
        let guard = guard_for(probability, ends, size / 2.0)?;
        outputs.push(match guard.and_then(rounded_up) {
            Some(guard) => moved("For the required probability", &guard),
            None => Output::words(
                "For the required probability",
                "none: no value conforms so surely",
            ),
        });
    }
    if let (Some(low), Some(high), true) = (ends.0, ends.1, size > 0.0) {
        let ratio = (high - low) / 2.0 / size;
        let multiple = managed_guard_band(ratio)?;
        outputs.extend(rounded_up(multiple * size).map(|guard| moved("Z540.3 Method 6", &guard)));
        outputs.push(Output::plain("Test uncertainty ratio", ratio));
        outputs.push(Output::plain("Guard band of Method 6, in U", multiple));
    }
    Ok(Outcome::new(outputs))
}

/// Rounded up to a hundredth of the uncertainty's leading place.
fn up(guard: &BigDecimal, expanded: f64) -> BigDecimal {
    let decimals = 2 - expanded.log10().floor() as i64;
    guard.with_scale_round(decimals.max(0), bigdecimal::RoundingMode::Ceiling)
}

fn limits(given: &Given) -> Result<Limits, Fault> {
    let decimal = |id| given.number(id).ok().map(|number| number.decimal().clone());
    let limits = Limits {
        low: decimal("low"),
        high: decimal("high"),
    };
    match (&limits.low, &limits.high) {
        (None, None) => Err(Fault::TooFew {
            what: "limits",
            count: 0,
            least: 1,
        }),
        _ => Ok(limits),
    }
}

/// The coverage factor where one even error outweighs the rest.
fn dominant_rectangle(given: &Given) -> Result<Outcome, Fault> {
    let limits = |id, name: &str| Some(Contribution::even(name, given.maybe(id)?));
    let rest = Evaluation::Standard {
        uncertainty: given.value("rest")?,
    };
    let rest = Contribution::new("Rest", rest);
    let rest = match given.maybe("freedom") {
        Some(freedom) => rest.freedom(freedom),
        None => rest,
    };
    let parts = [
        limits("half-width", "Limits"),
        limits("second", "Second limits"),
        Some(rest),
    ];
    let budget = Budget::of(parts.into_iter().flatten().collect())?;
    let mut outputs = vec![
        Output::plain("Combined standard uncertainty", budget.combined).at_most(2),
        Output::plain("Coverage factor of Student's t", budget.coverage).at_most(3),
    ];
    if let Some(factor) = budget.factor_of_its_law()? {
        let expanded = factor * budget.combined;
        outputs.insert(
            0,
            Output::plain("Expanded uncertainty U, 95 %", expanded).at_most(2),
        );
        outputs.insert(0, Output::plain("Coverage factor k", factor).at_most(3));
    }
    Ok(Outcome::new(outputs).with(picture(&budget)))
}

/// What a model is made of, as typed.
fn model(given: &Given) -> Result<Model, Fault> {
    let (values, standards) = (given.numbers("values"), given.numbers("standards"));
    let (limits, freedoms) = (given.numbers("limits"), given.numbers("freedoms"));
    let least = values.len();
    for (what, list, may_be_empty) in [
        (
            "standard uncertainties: one for each value",
            standards,
            false,
        ),
        (
            "limits: one for each value, 0 where there are none",
            limits,
            true,
        ),
        ("degrees of freedom: one for each value", freedoms, true),
    ] {
        let count = list.len();
        if count != least && !(may_be_empty && list.is_empty()) {
            return Err(Fault::Uneven {
                what,
                count,
                due: least,
            });
        }
    }
    let at = |list: &[Number], index: usize, or| list.get(index).map_or(or, Number::to_f64);
    let inputs = values
        .iter()
        .enumerate()
        .map(|(index, value)| model::Input {
            value: value.to_f64(),
            standard: at(standards, index, 0.0),
            limits: at(limits, index, 0.0),
            freedom: at(freedoms, index, f64::INFINITY),
        });
    let pairs = given.pairs("correlations").iter();
    let correlations = pairs.map(|(a, b, coefficient)| Correlation {
        between: (*a, *b),
        coefficient: coefficient.to_f64(),
    });
    Model::new(
        given.formula("formula")?.clone(),
        inputs.collect(),
        correlations.collect(),
    )
}

/// A result with its expanded uncertainty, or alone where it has none.
fn with_uncertainty(value: f64, expanded: f64) -> Result<Phrase, Fault> {
    let value = Number::from_f64(value, MEAN_DECIMALS).unwrap_or(0.into());
    Ok(match stated(value.decimal(), expanded)? {
        Some(stated) => {
            let numbers = [stated.value, stated.expanded].map(Number::without_exponent);
            Phrase::new("{} ± {}", numbers)
        }
        None => Phrase::new("{}", [Number::from_decimal(value.decimal().normalized())]),
    })
}

/// A result and its uncertainty by the law of propagation.
fn propagated(given: &Given) -> Result<Outcome, Fault> {
    const SENSITIVITIES: [&str; model::MOST] = [
        "Sensitivity to a",
        "Sensitivity to b",
        "Sensitivity to c",
        "Sensitivity to d",
        "Sensitivity to e",
    ];
    let result = model(given)?.propagate()?;
    let mut outputs = Vec::new();
    match result.coverage {
        Some(coverage) => {
            let expanded = coverage.factor * result.combined;
            outputs.push(Output::phrase(
                "Result, 95 %",
                with_uncertainty(result.value, expanded)?,
            ));
        }
        None => {
            outputs.push(Output::phrase(
                "Result, standard uncertainty",
                with_uncertainty(result.value, result.combined)?,
            ));
            outputs.push(Output::words(
                "Expanded uncertainty",
                "not stated: degrees of freedom have no rule where quantities are correlated",
            ));
        }
    }
    outputs.push(Output::plain("Combined standard uncertainty", result.combined).at_most(2));
    if let Some(coverage) = result.coverage {
        outputs.push(Output::plain("Coverage factor k", coverage.factor).at_most(3));
        outputs.push(Output::words(
            "Effective degrees of freedom",
            whole(coverage.freedom),
        ));
    }
    let sensitivities = SENSITIVITIES.iter().zip(&result.sensitivities);
    outputs.extend(sensitivities.map(|(label, slope)| Output::plain(label, *slope)));
    let outcome = Outcome::new(outputs);
    Ok(match result.shares.is_empty() {
        true => outcome,
        false => outcome.with(Picture::ErrorBudget(result.shares)),
    })
}

/// A result and its uncertainty by trials, beside those of the law of propagation.
fn by_trials(given: &Given) -> Result<Outcome, Fault> {
    let model = model(given)?;
    let whole = |id| {
        given
            .number(id)
            .map(|number| number.to_f64().max(0.0).round())
    };
    let trials = model.trials(whole("trials")? as usize, whole("seed")? as u64)?;
    let deviation = trials.deviation();
    let number = |value: f64| {
        let value = Number::from_f64(value, MEAN_DECIMALS).unwrap_or(0.into());
        let stated = stated(value.decimal(), deviation)?;
        Ok::<_, Fault>(
            stated
                .map_or(value, |stated| stated.value)
                .without_exponent(),
        )
    };
    let ends = |(low, high): (f64, f64)| {
        Ok::<_, Fault>(Phrase::new("{} to {}", [number(low)?, number(high)?]))
    };
    let mut outputs = vec![
        Output::phrase(
            "95 % interval, symmetric in probability",
            ends(trials.symmetric())?,
        ),
        Output::phrase("95 % interval, shortest", ends(trials.shortest())?),
        Output::phrase("Mean", Phrase::new("{}", [number(trials.mean())?])),
        Output::plain("Standard uncertainty", deviation).at_most(2),
    ];
    // Beside it, where it can be had: a slope may be without end where the trials are not.
    if let Ok(Propagated {
        value,
        combined,
        coverage: Some(coverage),
        ..
    }) = model.propagate()
    {
        let expanded = coverage.factor * combined;
        outputs.push(Output::phrase(
            "95 % interval by the law of propagation",
            ends((value - expanded, value + expanded))?,
        ));
    }
    Ok(Outcome::new(outputs))
}

/// Correlation, means and spreads of paired readings.
fn paired(given: &Given) -> Result<Outcome, Fault> {
    let (first, second) = (given.numbers("first"), given.numbers("second"));
    let coefficient = model::correlation(first, second)?;
    let (a, b) = (Statistics::of(first)?, Statistics::of(second)?);
    Ok(Outcome::new([
        Output::plain("Correlation of the two, and of their means", coefficient),
        Output::phrase(
            "First mean, standard uncertainty",
            with_uncertainty(a.mean, a.of_mean())?,
        ),
        Output::phrase(
            "Second mean, standard uncertainty",
            with_uncertainty(b.mean, b.of_mean())?,
        ),
        Output::plain(
            "Covariance of the means",
            coefficient * a.of_mean() * b.of_mean(),
        )
        .at_most(2),
    ]))
}
