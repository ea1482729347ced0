//! Match: one reflection coefficient, however it was found.

use super::levels::IMPEDANCE;
use super::scales::*;
use crate::quantity::sum::{Group, Input, Outcome, Output, Picture, Sum};
use crate::quantity::{Fault, Unit};
use crate::radio::mismatch::*;

const SOURCE: &str = "IEC 60050-726, transmission lines (from memory)";

pub(super) const SUMS: &[Sum] = &[
    Sum {
        id: "match-swr",
        group: Group::Match,
        title: "SWR converter",
        inputs: &[Input::measured("swr", "SWR", RATIO)],
        formula: "|Γ| = (SWR − 1)/(SWR + 1); return loss = −20·log₁₀|Γ|; \
                  mismatch loss = −10·log₁₀(1 − |Γ|²)",
        source: SOURCE,
        compute: |given| outputs_of(reflection_of_swr(given.value("swr")?)?),
    },
    Sum {
        id: "match-return-loss",
        group: Group::Match,
        title: "From the return loss",
        inputs: &[Input::measured("return-loss", "Return loss", DECIBELS)],
        formula: "|Γ| = 10^(−return loss/20); SWR = (1 + |Γ|)/(1 − |Γ|)",
        source: SOURCE,
        compute: |given| outputs_of(reflection_of_return_loss(given.value("return-loss")?)?),
    },
    Sum {
        id: "match-reflection",
        group: Group::Match,
        title: "From the reflection coefficient",
        inputs: &[Input::measured("reflection", "|Γ| in percent", PERCENT)],
        formula: "SWR = (1 + |Γ|)/(1 − |Γ|); return loss = −20·log₁₀|Γ|",
        source: SOURCE,
        compute: |given| outputs_of(given.share("reflection")?),
    },
    Sum {
        id: "match-powers",
        group: Group::Match,
        title: "From forward and reflected power",
        inputs: &[
            Input::measured("forward", "Forward power", WATTS),
            Input::measured("reflected", "Reflected power", WATTS),
            Input::nominal(
                "loss",
                "Cable loss from the meter to the load",
                DECIBELS,
                "0",
            ),
        ],
        formula: "|Γ| = √(Pr/Pf) at the meter; at the load |Γ|·10^(cable loss/10); \
                  net power = Pf − Pr",
        source: "NCVEC question pool E4B06; IEC 60050-726 (from memory)",
        compute: |given| {
            let (forward, reflected) = (given.value("forward")?, given.value("reflected")?);
            let measured = reflection_of_powers(forward, reflected)?;
            let net = Output::amount("Net power at the meter", forward - reflected, Unit::Watt);
            let behind = behind_cable(measured, given.value("loss")?)?;
            Ok(Outcome {
                outputs: [vec![net], behind.outputs].concat(),
                ..behind
            })
        },
    },
    Sum {
        id: "match-load",
        group: Group::Match,
        title: "From a resistive load",
        inputs: &[Input::measured("load", "Load", OHMS), IMPEDANCE],
        formula: "|Γ| = |R − Z₀|/(R + Z₀)",
        source: "NCVEC question pool G9A09; IEC 60050-726 (from memory)",
        compute: |given| {
            outputs_of(reflection_of_load(
                given.value("load")?,
                given.value("impedance")?,
            )?)
        },
    },
    Sum {
        id: "match-cable",
        group: Group::Match,
        title: "SWR through cable loss",
        inputs: &[
            Input::measured("swr", "SWR at the near end", RATIO),
            Input::measured("loss", "Cable loss one way", DECIBELS),
        ],
        formula: "|Γ| at the load = |Γ| at the near end · 10^(cable loss/10)",
        source: "attenuated there and back, closed form",
        compute: |given| {
            let measured = reflection_of_swr(given.value("swr")?)?;
            behind_cable(measured, given.value("loss")?)
        },
    },
    Sum {
        id: "match-error",
        group: Group::Match,
        title: "Power error from mismatch",
        inputs: &[
            Input::measured("source", "SWR of the source", RATIO),
            Input::measured("sensor", "SWR of the sensor", RATIO),
        ],
        formula: "worst case 2·|Γs|·|Γd|; standard uncertainty √2·|Γs|·|Γd|",
        source: "power sensor service guide of an instrument maker, U-shaped distribution",
        compute: |given| {
            let source = reflection_of_swr(given.value("source")?)?;
            let sensor = reflection_of_swr(given.value("sensor")?)?;
            let worst = mismatch_error(source, sensor)?;
            Ok(Outcome::new([
                Output::percent("Worst case", worst),
                Output::percent("Standard uncertainty", worst / 2f64.sqrt()),
            ]))
        },
    },
];

fn behind_cable(measured: f64, loss: f64) -> Result<Outcome, Fault> {
    let outcome = outputs_of(reflection_behind_cable(measured, loss)?)?;
    let near = Output::amount(
        "SWR at the near end",
        swr_of_reflection(measured)?,
        Unit::Ratio,
    );
    Ok(Outcome {
        outputs: [outcome.outputs, vec![near]].concat(),
        ..outcome
    })
}

/// A reflection coefficient in every form.
fn outputs_of(reflection: f64) -> Result<Outcome, Fault> {
    let return_loss = match reflection {
        0.0 => f64::INFINITY,
        _ => return_loss_of_reflection(reflection)?,
    };
    Ok(Outcome::new([
        Output::amount("SWR", swr_of_reflection(reflection)?, Unit::Ratio),
        Output::amount("Return loss", return_loss, Unit::Decibel),
        Output::plain("Reflection coefficient |Γ|", reflection),
        Output::amount("Mismatch loss", mismatch_loss(reflection)?, Unit::Decibel),
        Output::percent("Reflected power", reflected_share(reflection)?),
    ])
    .with(Picture::ReflectionLine { reflection }))
}
