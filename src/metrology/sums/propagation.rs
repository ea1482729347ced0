//! The uncertainty of what is worked out from several readings.

use crate::metrology::Statistics;
use crate::metrology::model;
use crate::metrology::model::{Correlation, Model, Propagated};
use crate::metrology::sums::said::MEAN_DECIMALS;
use crate::metrology::sums::said::whole;
use crate::metrology::uncertainty::stated;
use crate::quantity::sum::{Given, Outcome, Output, Picture};
use crate::quantity::{Fault, Number, Phrase};

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
pub(super) fn propagated(given: &Given) -> Result<Outcome, Fault> {
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
pub(super) fn by_trials(given: &Given) -> Result<Outcome, Fault> {
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
pub(super) fn paired(given: &Given) -> Result<Outcome, Fault> {
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
