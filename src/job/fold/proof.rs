//! What the reading that a step stands by proves, with the instrument it was taken with.

use crate::job::fold::way;
use crate::job::fold::way::Way;
use crate::job::{Header, Taken, UsedInstrument};
use crate::metrology::decision::{Rule, Statement};
use crate::metrology::instrument::{AsRead, Instrument, Proof as Ability};
use crate::metrology::uncertainty::{Budget, Contribution, stated};
use crate::metrology::{Limits, Statistics, Tolerance, Verdict};
use crate::procedure::{Id, Procedure, Work};
use crate::quantity::{DecimalSign, Fault, Number, Quantity, Scale, to_f64};
use bigdecimal::{BigDecimal, RoundingMode};
use std::sync::Arc;

/// A reading with those that repeat it, as one result.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// The corrected result; the mean of several.
    pub value: Quantity,
    /// What one count of the last digit is worth in the coarsest of them, as typed.
    pub place: BigDecimal,
    /// When the last of them was taken, by the device's clock.
    pub at: i64,
    /// Its place in the log.
    pub last: usize,
    /// Each of them in order.
    pub readings: Vec<Read>,
    /// Mean and spread, where the reading was repeated.
    pub repeats: Option<Statistics>,
    /// How a reading scatters, where that was seen.
    pub scatter: Option<Contribution>,
    /// What the verdict is of: the result or, where a repeat lies outside, the one that lies
    /// furthest outside, for no mean makes good what was seen.
    pub judged: Quantity,
    /// The same unrounded, in the unit without prefix.
    pub judged_right: BigDecimal,
    /// What the tolerance says of it.
    pub verdict: Option<Verdict>,
    /// What it proves under the job's rule, or why that can't be said.
    pub proof: Result<Proof, Unproved>,
}

/// One reading: as the instrument indicated it, and corrected.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Read {
    /// What the instrument indicated.
    pub indicated: Quantity,
    /// The corrected result.
    pub corrected: Quantity,
    /// The same unrounded, in the unit without prefix: what is judged.
    pub right: BigDecimal,
    /// The instrument that it was read with, where one was named.
    pub with: Option<Arc<UsedInstrument>>,
    /// How it came to be in the unit and at the place that are judged, where it wasn't.
    pub way: Option<Arc<Way>>,
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
    /// How likely the true value is inside, if nothing was known of it before; `None` where the
    /// uncertainty is zero or rests on too few readings.
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
    /// What plays this role in the path takes away nobody knows how much.
    NoLoss(Id),
    /// How well that is known, of what plays this role in the path, is not stated.
    NoTolerance(Id),
}

impl std::fmt::Display for Unproved {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Unproved::NoTarget => write!(f, "There is no target to judge it by"),
            Unproved::NoInstrument(role) => write!(
                f,
                "Conformity not shown: the accuracy of the {role} is not known. Choose an \
                 instrument for it"
            ),
            Unproved::NoAccuracy(fault) => {
                write!(f, "Conformity not shown: accuracy unknown. {fault}")
            }
            Unproved::NoTolerance(role) => write!(
                f,
                "Conformity not shown: accuracy unknown. How well the loss of the {role} is known \
                 is not stated. Enter it under Instruments, or choose another {role}"
            ),
            Unproved::NoLoss(role) => write!(f, "Not judged: {}", way::not_known(role)),
        }
    }
}

impl Proof {
    /// The least probability that goes with a pass, to the digits that are shown: an even chance.
    const EVEN_CHANCE: f64 = 0.4995;

    /// Whether the rule accepts the reading although the true value is likelier outside than in.
    /// Simple acceptance does, where the limits are closer together than the instrument can tell:
    /// its risk stays below 50 % only for an uncertainty that is small against the tolerance.
    ///
    /// Source: JCGM 106:2012, 8.2 (from memory).
    pub fn is_beyond_the_instrument(&self) -> bool {
        let likelier_outside = self.probability.is_some_and(|p| p < Self::EVEN_CHANCE);
        likelier_outside && self.statement == Statement::Pass
    }

    /// What the rule states, in words.
    pub fn words(&self) -> String {
        match self.is_beyond_the_instrument() {
            true => "inside; the uncertainty is too large to show it".to_owned(),
            false => self.statement.to_string(),
        }
    }
}

impl Header {
    /// The instrument of the kit that is used in a role.
    pub fn kit_instrument(&self, role: &Id) -> Option<&Instrument> {
        self.used_as(role)?.record.as_ref()
    }

    /// The instrument that is used in a role, of the kit or not.
    pub fn used_as(&self, role: &Id) -> Option<&UsedInstrument> {
        self.instruments.iter().find(|used| used.role == *role)
    }

    /// Takes an instrument by its name into a role, with the figures of the kit where it is one of
    /// those. No name leaves the role empty.
    pub fn use_instrument(&mut self, used: UsedInstrument) {
        self.instruments.retain(|other| other.role != used.role);
        if !used.name.is_empty() {
            self.instruments.push(used);
            self.instruments.sort_by(|a, b| a.role.cmp(&b.role));
        }
    }

    /// The same header without the names of instruments that have no letter in them.
    pub fn without_blank_names(mut self) -> Self {
        self.instruments.retain(|used| !used.name.trim().is_empty());
        self
    }

    /// Takes the instruments as the kit has them now, for a job that is not started yet.
    pub fn renew_instruments(&mut self, kit: &[Instrument]) {
        for used in &mut self.instruments {
            used.record = kit.iter().find(|one| one.name == used.name).cloned();
        }
    }
}

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
        Some(_) => mean(&right, last),
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

/// A mean as it is shown: with one more digit than the last of its readings.
fn mean(exact: &BigDecimal, last: &Taken) -> Quantity {
    let scale: Scale = last.corrected.scale;
    let decimals = last.corrected.number.decimals() + 1;
    let shown = scale
        .prefix
        .remove(exact)
        .with_scale_round(decimals, RoundingMode::HalfEven);
    Quantity::new(Number::from_decimal(shown), scale)
}

impl Read {
    /// What an instrument indicated, put right by what is known of it.
    pub fn with(with: Option<Arc<UsedInstrument>>, indicated: Quantity) -> Self {
        let record = with.as_ref().and_then(|used| used.record.as_ref());
        let corrected = record.map(|it| (it.corrected(&indicated), it.right(&indicated)));
        let (corrected, right) = corrected.unwrap_or_else(|| (indicated.clone(), indicated.base()));
        Read {
            indicated,
            corrected,
            right,
            with,
            way: None,
        }
    }

    /// A reading that was taken.
    pub fn of(taken: &Taken) -> Self {
        Read {
            indicated: taken.value.clone(),
            corrected: taken.corrected.clone(),
            right: taken.right.clone(),
            with: taken.with.clone(),
            way: taken.way.clone(),
        }
    }

    /// What is known of the instrument that it was read with.
    pub fn record(&self) -> Option<&Instrument> {
        self.with.as_ref()?.record.as_ref()
    }

    /// What was indicated and why that was corrected, in words; nothing where the corrected
    /// results are the same and nothing is wanting.
    pub fn indicated(reads: &[Read], sign: DecimalSign) -> Option<String> {
        let differs = |read: &&Read| read.indicated != read.corrected || read.lacks().is_some();
        let first = reads.iter().find(differs)?;
        let why = first.correction(sign);
        let indicated = reads.iter().map(|read| read.indicated.typeset(sign));
        let indicated: Vec<String> = indicated.collect();
        let indicated = format!("indicated {}", indicated.join(", "));
        Some(match why.is_empty() {
            true => indicated,
            false => format!("{indicated}, {why}"),
        })
    }
}

/// The reading that a target is relative to.
#[derive(Clone, Debug)]
pub(in crate::job) struct Reference {
    /// The reading as its step was left.
    pub left: Group,
    /// The instrument's role there.
    pub role: Id,
    /// By how much the target moves for one unit of it.
    pub slope: f64,
}

impl Group {
    /// A reading that stands for itself, not judged yet.
    pub(in crate::job) fn single(read: Read, at: i64, order: usize) -> Self {
        Group {
            value: read.corrected.clone(),
            place: read.place(),
            at,
            last: order,
            judged: read.corrected.clone(),
            judged_right: read.right.clone(),
            readings: vec![read],
            repeats: None,
            scatter: None,
            verdict: None,
            proof: Err(Unproved::NoTarget),
        }
    }

    /// What is known of the instrument that it was read with.
    pub fn record(&self) -> Option<&Instrument> {
        self.readings.last()?.record()
    }

    /// What of its path nobody knows the loss of.
    pub fn lacks(&self) -> Option<&Id> {
        self.readings.iter().find_map(Read::lacks)
    }

    /// Whether the instrument showed what is judged, but for its own corrections.
    fn is_straight(&self) -> bool {
        self.readings.iter().all(|read| read.way.is_none())
    }

    /// What a tolerance says of the result; nothing where it is in another unit.
    pub(in crate::job) fn against(&self, tolerance: &Tolerance) -> Option<Verdict> {
        (tolerance.unit() == self.judged.unit())
            .then(|| tolerance.judge_unrounded(&self.judged, &self.judged_right))
    }

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
    }

    /// The result as its budget takes it.
    fn as_read(&self) -> AsRead<'_> {
        AsRead {
            value: &self.value,
            place: &self.place,
            scatter: self.scatter.as_ref(),
        }
    }

    /// The verdict of the result or of the reading that lies furthest outside, which then counts
    /// as what is judged.
    fn worst(&mut self, tolerance: &Tolerance) -> Verdict {
        let judge = |read: &Read| tolerance.judge_unrounded(&read.corrected, &read.right);
        let outside = self
            .readings
            .iter()
            .map(|read| (read, judge(read)))
            .filter(|(_, verdict)| !verdict.is_inside())
            .max_by_key(|(_, verdict)| verdict.margin.base());
        if let (Some((read, verdict)), Some(_)) = (outside, &self.repeats) {
            self.judged = read.corrected.clone();
            self.judged_right = read.right.clone();
            return verdict;
        }
        tolerance.judge_unrounded(&self.judged, &self.judged_right)
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
        expanded: Quantity::handy(expanded, scale),
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

pub(in crate::job) fn of_kit<'a>(
    known: Option<&'a Instrument>,
    role: &Id,
) -> Result<&'a Instrument, Unproved> {
    known.ok_or_else(|| Unproved::NoInstrument(role.clone()))
}

/// How likely the true value is inside; `None` where it rests on too few readings to say.
fn probability(right: &BigDecimal, limits: &Limits, budget: &Budget) -> Option<f64> {
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

/// Whether a step adjusts something, so that only a reading as left settles it.
pub(in crate::job) fn adjusts(work: &Work) -> bool {
    work.adjuster().is_some()
}
