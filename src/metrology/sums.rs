//! Uncertainty and decisions in the catalogue of calculations.

use super::decision::{Rule, conformance_probability, risk_beyond_a_limit};
use super::instrument::{
    Accuracy, Correction, Instrument, Range, prove, time_base_corrected, time_base_ppm,
};
use super::uncertainty::{Budget, Stated, stated};
use super::{Limits, Statistics};
use crate::quantity::fault::not_negative;
use crate::quantity::sum::{Given, Group, Input, Outcome, Output, Picture, Sum};
use crate::quantity::{Fault, Number, Phrase, Prefix, Quantity, Scale, Unit, to_f64};

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
        ],
        formula: "u = √(a²/3 + δ²/12 + s²/n); U = k·u with k of Student's t at 95 %",
        source: "JCGM 100:2008, 4.2.3, 4.3.7, 5.1.2, F.2.2.1 and G.4",
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
            let coverage = super::student::coverage_factor(0.95, f64::INFINITY)?;
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
    let budget = instrument.budget(reading, statistics.as_ref())?;
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
    let decimal = |id| given.number(id).ok().map(|number| number.decimal().clone());
    let limits = Limits {
        low: decimal("low"),
        high: decimal("high"),
    };
    if limits.low.is_none() && limits.high.is_none() {
        return Err(Fault::TooFew {
            what: "limits",
            count: 0,
            least: 1,
        });
    }
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
            ratio: Number::from_decimal(bigdecimal::BigDecimal::new(83.into(), 2)),
        },
        2 => Rule::SimpleAcceptance,
        _ => Rule::FourWay,
    }
}
