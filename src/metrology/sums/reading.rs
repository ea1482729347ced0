//! The uncertainty of one reading.

use crate::metrology::Statistics;
use crate::metrology::instrument::{Accuracy, Correction, Instrument, Range};
use crate::metrology::sums::said::{picture, result, whole};
use crate::metrology::uncertainty::{Budget, Contribution, Evaluation, stated};
use crate::quantity::sum::{Given, Outcome, Output};
use crate::quantity::{Fault, Number, Quantity, to_f64};

pub(super) fn counter(reference: &Quantity, reading: &Quantity) -> Instrument {
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

pub(super) fn reading_uncertainty(given: &Given) -> Result<Outcome, Fault> {
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

/// The coverage factor where one even error outweighs the rest.
pub(super) fn dominant_rectangle(given: &Given) -> Result<Outcome, Fault> {
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
