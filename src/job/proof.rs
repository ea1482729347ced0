//! What the reading that a step stands by proves, with the instrument it was taken with.

use super::{Header, Taken};
use crate::metrology::decision::{Rule, Statement, conformance_probability};
use crate::metrology::instrument::{Instrument, Proof as Ability};
use crate::metrology::uncertainty::{Budget, stated};
use crate::metrology::{Limits, Statistics, Tolerance, Verdict};
use crate::procedure::{Id, Procedure, Work};
use crate::quantity::{Fault, Number, Quantity, Scale};
use bigdecimal::{BigDecimal, RoundingMode};

/// The reading that a step stands by.
#[derive(Clone, Debug, PartialEq)]
pub struct Left {
    /// The reading put right by the instrument's corrections; the mean of several.
    pub value: Quantity,
    /// When the last of them was taken, by the device's clock.
    pub at: i64,
    /// Mean and spread, where the reading was repeated.
    pub repeats: Option<Statistics>,
    /// What the tolerance says of it.
    pub verdict: Option<Verdict>,
    /// What it proves under the job's rule, or why that can't be said.
    pub proof: Result<Proof, Unproved>,
}

/// What a reading proves.
#[derive(Clone, Debug, PartialEq)]
pub struct Proof {
    /// What its uncertainty comes from.
    pub budget: Budget,
    /// The expanded uncertainty at 95 %, rounded as the GUM asks; the rule works with this.
    pub expanded: Quantity,
    /// What the job's rule says.
    pub statement: Statement,
    /// How likely the true value is inside; unknown where the uncertainty is zero.
    pub probability: Option<f64>,
}

/// Why nothing can be said of what a reading proves.
#[derive(Clone, Debug, PartialEq)]
pub enum Unproved {
    /// There is nothing to judge it by.
    NoTarget,
    /// The instrument in this role is not one of the kit.
    NoInstrument(Id),
    /// The instrument's figures don't cover the reading.
    NoAccuracy(Fault),
}

impl std::fmt::Display for Unproved {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Unproved::NoTarget => write!(f, "There is no target to judge it by"),
            Unproved::NoInstrument(role) => write!(
                f,
                "The accuracy of the {role} is not known: choose an instrument of the kit for it"
            ),
            Unproved::NoAccuracy(fault) => fault.fmt(f),
        }
    }
}

impl Header {
    /// The instrument of the kit that is used in a role.
    pub fn kit_instrument(&self, role: &Id) -> Option<&Instrument> {
        let used = self.instruments.iter().find(|used| used.role == *role)?;
        used.record.as_ref()
    }

    /// Takes the instruments as the kit has them now, for a job that is not started yet.
    pub fn renew_instruments(&mut self, kit: &[Instrument]) {
        for used in &mut self.instruments {
            used.record = kit.iter().find(|one| one.name == used.name).cloned();
        }
    }
}

/// The value that readings stand for: the reading itself, or the exact mean of several with
/// one more digit.
pub(super) fn mean(group: &[Taken]) -> Option<(Quantity, Option<Statistics>)> {
    let last = group.last()?;
    if group.len() == 1 {
        return Some((last.corrected.clone(), None));
    }
    let bases: Vec<BigDecimal> = group.iter().map(|taken| taken.corrected.base()).collect();
    let statistics = Statistics::of_decimals(&bases).ok()?;
    let sum: BigDecimal = bases.iter().sum();
    let exact = sum / BigDecimal::from(group.len() as u64);
    let scale: Scale = last.corrected.scale;
    let decimals = last.corrected.number.decimals() + 1;
    let shown = scale
        .prefix
        .remove(&exact)
        .with_scale_round(decimals, RoundingMode::HalfEven);
    let value = Quantity::new(Number::from_decimal(shown), scale);
    Some((value, Some(statistics)))
}

/// What a value proves, taken with the instrument in this role.
pub(super) fn prove(
    value: &Quantity,
    repeats: Option<&Statistics>,
    tolerance: Option<&Tolerance>,
    role: &Id,
    header: &Header,
) -> Result<Proof, Unproved> {
    let tolerance = tolerance.ok_or(Unproved::NoTarget)?;
    let instrument = header
        .kit_instrument(role)
        .ok_or_else(|| Unproved::NoInstrument(role.clone()))?;
    let budget = instrument
        .budget(value, repeats)
        .map_err(Unproved::NoAccuracy)?;
    let limits = tolerance.limits();
    let stated = stated(&value.base(), budget.expanded).map_err(Unproved::NoAccuracy)?;
    let expanded = stated.map_or(BigDecimal::from(0), |stated| {
        stated.expanded.decimal().clone()
    });
    Ok(Proof {
        statement: header.rule.state(&value.base(), &limits, &expanded),
        expanded: Quantity::natural(expanded, value.unit().of_difference()),
        probability: probability(value, &limits, budget.combined),
        budget,
    })
}

fn probability(value: &Quantity, limits: &Limits, standard: f64) -> Option<f64> {
    let (low, high) = limits.to_f64();
    conformance_probability(value.base_f64(), low, high, standard).ok()
}

/// Whether the statement lets a step count as done. Simple acceptance needs no uncertainty.
pub(super) fn accepts(rule: &Rule, left: &Left) -> bool {
    let inside = left.verdict.as_ref().is_some_and(Verdict::is_inside);
    match (rule, &left.proof) {
        (Rule::SimpleAcceptance, _) => inside,
        (_, Ok(proof)) => proof.statement >= Statement::ConditionalPass,
        (_, Err(_)) => false,
    }
}

/// One line of the kit check: whether a step's target can be proved with what is chosen.
#[derive(Clone, Debug, PartialEq)]
pub struct KitLine {
    /// The step.
    pub step: Id,
    /// Its number.
    pub number: usize,
    /// Its title.
    pub title: String,
    /// The tolerance in question.
    pub tolerance: Tolerance,
    /// The instrument's name, where one of the kit is chosen.
    pub instrument: Option<String>,
    /// What it can do there.
    pub ability: Result<Ability, Unproved>,
}

/// Checks, before a job starts, which steps the chosen instruments can prove. Steps whose
/// target waits for another reading are left out.
pub fn kit_check(procedure: &Procedure, header: &Header) -> Vec<KitLine> {
    procedure
        .steps()
        .enumerate()
        .filter_map(|(index, step)| {
            let role = &step.work.gauge()?.with;
            let tolerance = procedure.tolerance(step, |_| None)?.ok()?;
            let instrument = header.kit_instrument(role);
            let ability = match instrument {
                Some(instrument) => instrument
                    .can_prove(&tolerance)
                    .map_err(Unproved::NoAccuracy),
                None => Err(Unproved::NoInstrument(role.clone())),
            };
            Some(KitLine {
                step: step.id.clone(),
                number: index + 1,
                title: step.title.clone(),
                tolerance,
                instrument: instrument.map(|instrument| instrument.name.clone()),
                ability,
            })
        })
        .collect()
}

/// Whether a step adjusts something, so that only a reading as left settles it.
pub(super) fn adjusts(work: &Work) -> bool {
    work.adjuster().is_some()
}
