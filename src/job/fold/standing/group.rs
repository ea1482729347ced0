//! Readings of one thing, one after the other, as one result.

use crate::job::UsedInstrument;
use crate::job::fold::standing::unproved::Unproved;
use crate::job::fold::standing::way::Way;
use crate::metrology::decision::Statement;
use crate::metrology::inference::drift::{Drift, Steadiness};
use crate::metrology::instrument::{AsRead, Instrument};
use crate::metrology::uncertainty::{Budget, Contribution};
use crate::metrology::{Statistics, Tolerance, Verdict};
use crate::procedure::Id;
use crate::quantity::{DecimalSign, Quantity};
use bigdecimal::BigDecimal;
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

    /// What is known of the instrument that it was read with.
    pub fn record(&self) -> Option<&Instrument> {
        self.with.as_ref()?.record.as_ref()
    }

    /// What was indicated and why that was corrected, in words; nothing where the corrected
    /// results are the same and nothing is wanting.
    pub fn indicated(reads: &[Read], sign: DecimalSign) -> Option<String> {
        let (indicated, why) = Read::indicated_and_why(reads, sign)?;
        Some(match why.is_empty() {
            true => indicated,
            false => format!("{indicated}, {why}"),
        })
    }

    /// The same in two: what was indicated, and why that was corrected, which may be empty.
    pub fn indicated_and_why(reads: &[Read], sign: DecimalSign) -> Option<(String, String)> {
        let differs = |read: &&Read| read.indicated != read.corrected || read.lacks().is_some();
        let first = reads.iter().find(differs)?;
        let indicated = reads.iter().map(|read| read.indicated.typeset(sign));
        let indicated: Vec<String> = indicated.collect();
        let indicated = format!("indicated {}", indicated.join(", "));
        Some((indicated, first.correction(sign)))
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
    pub(in crate::job::fold) fn is_straight(&self) -> bool {
        self.readings.iter().all(|read| read.way.is_none())
    }

    /// What a tolerance says of the result; nothing where it is in another unit.
    pub(in crate::job) fn against(&self, tolerance: &Tolerance) -> Option<Verdict> {
        (tolerance.unit() == self.judged.unit())
            .then(|| tolerance.judge_unrounded(&self.judged, &self.judged_right))
    }

    /// The result as its budget takes it.
    pub(in crate::job::fold) fn as_read(&self) -> AsRead<'_> {
        AsRead {
            value: &self.value,
            place: &self.place,
            scatter: self.scatter.as_ref(),
        }
    }

    /// The verdict of the result or of the reading that lies furthest outside, which then counts
    /// as what is judged.
    pub(in crate::job::fold) fn worst(&mut self, tolerance: &Tolerance) -> Verdict {
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

/// What the readings say of the drift.
#[derive(Clone, Debug, PartialEq)]
pub struct Settled {
    /// Minutes since the first reading, and the readings in the unit without prefix.
    pub points: Vec<(f64, f64)>,
    /// How many of the latest of them the line goes through: those that tell the drift now.
    pub recent: usize,
    /// The line through those.
    pub drift: Drift,
    /// Change per minute.
    pub slope: Quantity,
    /// Its expanded uncertainty at 95 %.
    pub expanded: Quantity,
    /// What that says against the step's limit.
    pub steadiness: Steadiness,
}
