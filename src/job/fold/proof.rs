//! What the reading that a step stands by proves, with the instrument it was taken with.

use crate::job::fold::standing::group::{Group, Proof, Read, Reference};
use crate::job::fold::standing::unproved::{Unproved, of_kit};
use crate::job::fold::way;
use crate::job::{Header, Taken};
use crate::metrology::decision::{Rule, Statement};
use crate::metrology::instrument::{Instrument, Proof as Ability};
use crate::metrology::uncertainty::{Budget, Contribution, stated};
use crate::metrology::{Limits, Statistics, Tolerance, Verdict};
use crate::procedure::{Id, Procedure};
use crate::quantity::{Number, Quantity, Scale, to_f64};
use bigdecimal::{BigDecimal, RoundingMode};
use num_traits::Zero;
use std::sync::Arc;

/// The readings as one, not judged yet.
pub(in crate::job) fn group(readings: &[Arc<Taken>]) -> Option<Group> {
    let last = readings.last()?;
    let rights: Vec<BigDecimal> = readings.iter().map(|taken| taken.right.clone()).collect();
    let repeats = match readings.len() {
        1 => None,
        _ => Some(Statistics::of_decimals(&rights).ok()?),
    };
    let right = rights.iter().sum::<BigDecimal>() / BigDecimal::from(readings.len() as u64);
    let value = match repeats {
        None => last.corrected.clone(),
        // A digit more than is shown in the end, for what is worked out with it.
        Some(_) => mean(
            &right,
            last.corrected.scale,
            last.corrected.number.decimals() + 1,
        ),
    };
    Some(Group {
        judged: value.clone(),
        judged_right: right,
        value,
        place: readings.iter().map(|taken| Read::of(taken).place()).max()?,
        at: last.at,
        last: last.order,
        readings: readings.iter().map(|taken| Read::of(taken)).collect(),
        scatter: repeats.as_ref().map(Contribution::of_repeats),
        repeats,
        verdict: None,
        proof: Err(Unproved::NoTarget),
    })
}

/// A mean with so many decimals in the scale of its readings.
fn mean(exact: &BigDecimal, scale: Scale, decimals: i64) -> Quantity {
    let figure = scale.prefix.remove(exact);
    let shown = figure.with_scale_round(decimals, RoundingMode::HalfEven);
    Quantity::new(Number::from_decimal(shown), scale)
}

/// How many decimals a mean of such readings is worth: as many as its expanded uncertainty has, and
/// where that is not known as many as were read. It never has fewer than were read, since a reading
/// keeps its digits, nor more than one more, which is all that a mean of a few adds.
///
/// Source: JCGM 100:2008, 7.2.6: an estimate is rounded to be consistent with its uncertainty.
fn decimals_of_mean(read: i64, scale: Scale, expanded: Option<&Quantity>) -> i64 {
    let of_expanded = expanded.filter(|it| !it.number.decimal().is_zero());
    let of_expanded = of_expanded.map(|it| scale.prefix.remove(&it.resolution()));
    let places = of_expanded.map(|place| place.normalized().fractional_digit_count());
    places.map_or(read, |places| places.clamp(read, read + 1))
}

impl Group {
    /// Judges the result, and each reading in it.
    pub(in crate::job) fn judge(
        &mut self,
        tolerance: Option<&Tolerance>,
        role: &Id,
        reference: Option<&Reference>,
        rule: &Rule,
    ) {
        if let Some(role) = self.lacks() {
            self.proof = Err(Unproved::NoLoss(role.clone()));
            return;
        }
        let known = tolerance.filter(|tolerance| tolerance.unit() == self.value.unit());
        if let Some(tolerance) = known {
            let verdict = self.worst(tolerance);
            self.verdict = Some(verdict);
        }
        self.proof = prove(self, known, role, reference, rule);
        self.state(known);
    }

    /// Gives a mean the digits that it is worth, and a verdict of it the same.
    fn state(&mut self, tolerance: Option<&Tolerance>) {
        let (Some(_), Some(last)) = (&self.repeats, self.readings.last()) else {
            return;
        };
        let scale = last.corrected.scale;
        let expanded = self.proof.as_ref().ok().map(|proof| &proof.expanded);
        let decimals = decimals_of_mean(last.corrected.number.decimals(), scale, expanded);
        let is_of_mean = self.judged == self.value;
        self.value = mean(&self.exact(), scale, decimals);
        if is_of_mean {
            self.judged = self.value.clone();
            let judged = tolerance.map(|it| it.judge_unrounded(&self.judged, &self.judged_right));
            self.verdict = judged;
        }
    }

    /// The exact mean, in the unit without prefix.
    fn exact(&self) -> BigDecimal {
        let sum: BigDecimal = self.readings.iter().map(|read| &read.right).sum();
        sum / BigDecimal::from(self.readings.len().max(1) as u64)
    }

    /// The result for what is worked out with it: of a mean a digit more than was read.
    pub(in crate::job) fn worked_with(&self) -> Quantity {
        match (&self.repeats, self.readings.last()) {
            (Some(_), Some(last)) => {
                let decimals = last.corrected.number.decimals() + 1;
                mean(&self.exact(), last.corrected.scale, decimals)
            }
            _ => self.value.clone(),
        }
    }

    /// Whether the job's rule lets it count as done.
    pub fn is_accepted_by(&self, rule: &Rule) -> bool {
        accepts(rule, self)
    }
}

/// What a result proves; the role says which instrument is wanting where none is known.
fn prove(
    group: &Group,
    tolerance: Option<&Tolerance>,
    role: &Id,
    reference: Option<&Reference>,
    rule: &Rule,
) -> Result<Proof, Unproved> {
    let tolerance = tolerance.ok_or(Unproved::NoTarget)?;
    let budget = match reference {
        None if !group.is_straight() => way::budget(group, role)?,
        Some(reference) if !(group.is_straight() && reference.left.is_straight()) => {
            way::budget_against(
                group,
                role,
                &reference.left,
                &reference.role,
                reference.slope,
            )?
        }
        None => {
            let scatter = group.scatter.clone();
            budget(group.record(), role, &group.value, &group.place, scatter)?
        }
        Some(reference) => {
            let own = of_kit(group.record(), role)?;
            let other = of_kit(reference.left.record(), &reference.role)?;
            own.budget_against(
                group.as_read(),
                reference.left.as_read(),
                reference.slope,
                other,
            )
            .map_err(Unproved::NoAccuracy)?
        }
    };
    let limits = tolerance.limits();
    let stated = stated(&group.judged_right, budget.expanded).map_err(Unproved::NoAccuracy)?;
    let expanded = stated.map_or(BigDecimal::from(0), |stated| {
        stated.expanded.decimal().clone()
    });
    let right = &group.judged_right;
    // In the unit of the margin beside which it stands.
    let margin = group.verdict.as_ref().map(|verdict| verdict.margin.scale);
    let scale = margin.unwrap_or(Scale::plain(group.judged.unit().of_difference()));
    Ok(Proof {
        statement: rule.state(right, &limits, &expanded),
        expanded: Quantity::stated(expanded, scale),
        probability: probability(right, &limits, &budget),
        budget,
    })
}

/// What the uncertainty of a reading comes from, taken with an instrument in this role.
pub(in crate::job) fn budget(
    instrument: Option<&Instrument>,
    role: &Id,
    value: &Quantity,
    place: &BigDecimal,
    scatter: Option<Contribution>,
) -> Result<Budget, Unproved> {
    of_kit(instrument, role)?
        .budget_at(value, place, scatter)
        .map_err(Unproved::NoAccuracy)
}

/// How likely the true value is inside; `None` where it rests on too few readings to say.
pub(super) fn probability(right: &BigDecimal, limits: &Limits, budget: &Budget) -> Option<f64> {
    let (low, high) = limits.to_f64();
    budget.probability_within(to_f64(right), low, high).ok()?
}

/// Whether the statement lets a step count as done. Simple acceptance needs no uncertainty.
pub(in crate::job) fn accepts(rule: &Rule, left: &Group) -> bool {
    let inside = left.verdict.as_ref().is_some_and(Verdict::is_inside);
    match (rule, &left.proof) {
        (Rule::SimpleAcceptance, _) => inside,
        (_, Ok(proof)) => proof.statement >= Statement::ConditionalPass,
        (_, Err(_)) => false,
    }
}

/// Whether a reading opens a stop: it is inside, and the rule says nothing else. Where the accuracy
/// is not known the rule says nothing.
pub(in crate::job) fn opens(rule: &Rule, reading: &Group) -> bool {
    let inside = reading.verdict.as_ref().is_some_and(Verdict::is_inside);
    inside && (reading.proof.is_err() || accepts(rule, reading))
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
            let ability = way::ability(step.work.gauge()?, header, &tolerance);
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
