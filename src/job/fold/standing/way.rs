//! What a reading passes between the set and the instrument.

use crate::job::fold::standing::unproved::Unproved;
use crate::job::fold::standing::unproved::not_known;
use crate::job::{InForce, UsedInstrument};
use crate::metrology::instrument::Loss;
use crate::metrology::uncertainty::Contribution;
use crate::procedure::{Direction, Gauge, Id};
use crate::quantity::{DecimalSign, Quantity, Unit, to_f64};
use bigdecimal::BigDecimal;
use std::sync::Arc;

/// How a reading comes to be in the unit and at the place that the step judges.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Way {
    /// The impedance that the step states.
    pub(in crate::job::fold) into: Option<Quantity>,
    /// Which way the signal goes.
    direction: Direction,
    /// What it passes.
    pub(in crate::job::fold) passed: Vec<Passed>,
}

/// Something in the path: its role, and what played it, where that was named.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::job::fold) struct Passed {
    pub(super) role: Id,
    pub(super) used: Option<Arc<UsedInstrument>>,
}

impl Passed {
    fn loss(&self) -> Option<&Loss> {
        self.used.as_ref()?.record.as_ref()?.loss.as_ref()
    }
}

/// By how much a result moves for one decibel of something in the path.
struct Moves<'a> {
    pub(super) passed: &'a Passed,
    loss: &'a Loss,
    pub(super) by: f64,
    /// Whether another reading passed it too.
    is_shared: bool,
}

impl Moves<'_> {
    pub(super) fn contribution(self) -> Result<Contribution, Unproved> {
        let within = self.loss.within_decibels();
        let within = within.ok_or_else(|| Unproved::NoTolerance(self.passed.role.clone()))?;
        let name = self.passed.used.as_ref();
        let name = name.map_or("", |used| used.name.as_str());
        let name = match self.is_shared {
            true => format!("{name}, not shared"),
            false => name.to_owned(),
        };
        Ok(Contribution::even(name, self.by.abs() * within))
    }
}

impl Way {
    /// The way of a reading at a place in the log.
    pub(in crate::job) fn at(gauge: &Gauge, instruments: &InForce, order: usize) -> Self {
        Way::of(gauge, |role| instruments.at(role, order).cloned())
    }

    /// The way of a reading, with what plays each role.
    pub fn of(gauge: &Gauge, used: impl Fn(&Id) -> Option<Arc<UsedInstrument>>) -> Self {
        let path = gauge.path.as_ref();
        // What a pad takes away says nothing of a frequency or of a ratio.
        let path = path.filter(|_| Loss::changes(gauge.scale.unit));
        Way {
            into: gauge.into.clone(),
            direction: path.map_or(Direction::default(), |path| path.direction),
            passed: path.map_or(Vec::new(), |path| {
                let passed = |role: &Id| Passed {
                    role: role.clone(),
                    used: used(role),
                };
                path.through.iter().map(passed).collect()
            }),
        }
    }

    /// What stands in the path and whose loss nobody knows: nothing can be judged then.
    pub fn unknown(&self) -> Option<&Id> {
        let unknown = self.passed.iter().find(|passed| passed.loss().is_none());
        unknown.map(|passed| &passed.role)
    }

    pub(in crate::job::fold) fn ohms(&self) -> Option<BigDecimal> {
        self.into.as_ref().map(Quantity::base)
    }

    fn losses(&self) -> impl Iterator<Item = (&Passed, &Loss)> {
        let known = self.passed.iter();
        known.filter_map(|passed| Some((passed, passed.loss()?)))
    }

    /// A level at the instrument as it is at the set, or the other way round.
    pub(in crate::job::fold) fn along(
        &self,
        level: BigDecimal,
        unit: Unit,
        to_the_set: bool,
    ) -> BigDecimal {
        let raises = (self.direction == Direction::FromSet) == to_the_set;
        self.losses()
            .fold(level, |level, (_, loss)| loss.applied(level, unit, raises))
    }

    /// By how much a level at the set moves for one unit at the instrument.
    pub(in crate::job::fold) fn gain(&self, unit: Unit) -> f64 {
        match unit.decibels_of_ten() {
            Some(_) => to_f64(&self.along(BigDecimal::from(1), unit, true)),
            None => 1.0,
        }
    }

    /// What the tolerances of what it passes contribute to a level at the set, less `slope` times
    /// one that came by another way: what both passed is off by as much for both.
    ///
    /// Source: JCGM 100:2008, 5.2.2, for fully correlated errors.
    pub(in crate::job::fold) fn contributions(
        &self,
        (level, unit): (f64, Unit),
        other: Option<(&Way, f64, Unit, f64)>,
    ) -> Result<Vec<Contribution>, Unproved> {
        let mut moves: Vec<Moves> = Vec::new();
        for (passed, loss, raises) in self.used() {
            moves.push(Moves {
                passed,
                loss,
                by: raises * Loss::moves(level, unit),
                is_shared: false,
            });
        }
        if let Some((way, level, unit, slope)) = other {
            for (passed, loss, raises) in way.used() {
                let by = -slope * raises * Loss::moves(level, unit);
                match moves.iter_mut().find(|it| it.passed.used == passed.used) {
                    Some(both) => (both.by, both.is_shared) = (both.by + by, true),
                    None => moves.push(Moves {
                        passed,
                        loss,
                        by,
                        is_shared: false,
                    }),
                }
            }
        }
        let moves = moves.into_iter().filter(|it| it.by != 0.0);
        moves.map(Moves::contribution).collect()
    }

    /// What it passes that is known, and which way its loss moves a result.
    fn used(&self) -> impl Iterator<Item = (&Passed, &Loss, f64)> {
        let sign = match self.direction {
            Direction::FromSet => 1.0,
            Direction::IntoSet => -1.0,
        };
        self.losses()
            .map(move |(passed, loss)| (passed, loss, sign))
    }

    /// What it passes, each with what that adds or takes away, in words.
    pub(in crate::job::fold) fn words(&self, sign: DecimalSign) -> impl Iterator<Item = String> {
        let raises = self.direction == Direction::FromSet;
        self.passed.iter().map(move |passed| match passed.loss() {
            Some(loss) => {
                let name = passed.used.as_ref().map_or("", |used| used.name.as_str());
                format!("{name} {}", loss.words(raises, sign))
            }
            None => not_known(&passed.role),
        })
    }
}
