//! A target worked out: the tolerance that a reading is judged by.

use crate::metrology::{Margin, Tolerance};
use crate::procedure::Basis;
use crate::procedure::target::fault::{TargetFault, missing};
use crate::procedure::target::{Target, cited, factor};
use crate::procedure::{Gauge, Id, Procedure, Step};
use crate::quantity::{Number, Quantity, Scale, Unit};
use crate::radio::channels::Channel;
use crate::radio::levels::watts_of_power;
use crate::radio::limits::{Bound, attenuation_required};
use bigdecimal::BigDecimal;
use num_traits::ToPrimitive;

impl Procedure {
    /// Where the step's reading must lie, given the reading as left of any other step; `None`
    /// where the step states no target.
    pub fn tolerance(
        &self,
        step: &Step,
        reading_of: impl Fn(&Id) -> Option<Quantity>,
    ) -> Option<Result<Tolerance, TargetFault>> {
        let (gauge, target) = step.work.gauge().zip(step.work.target())?;
        let worked_out = self.work_out(step, gauge, target, reading_of);
        Some(match step.work.is_stop() {
            true => worked_out.map(Tolerance::in_size),
            false => worked_out,
        })
    }

    fn work_out(
        &self,
        step: &Step,
        gauge: &Gauge,
        target: &Target,
        reading_of: impl Fn(&Id) -> Option<Quantity>,
    ) -> Result<Tolerance, TargetFault> {
        // A nominal value that was worked out is exact, so it shows what its margins count in.
        let around = |nominal: Quantity, below: &Margin, above: &Margin| Tolerance::Around {
            nominal: [below, above].into_iter().fold(nominal, as_fine_as),
            below: below.clone(),
            above: above.clone(),
        };
        let reading = |of: &Id| reading_of(of).ok_or_else(|| TargetFault::Waiting(of.clone()));
        match target {
            Target::Fixed(tolerance) => Ok(tolerance.clone()),
            Target::Relative {
                to,
                offset,
                below,
                above,
            } => Ok(around(shifted(&reading(to)?, offset)?, below, above)),
            Target::Oscillator { name, below, above } => {
                let nominal = self.oscillator_target(step, gauge, name)?;
                Ok(around(nominal, below, above))
            }
            Target::Channel { below, above } => {
                let channel = self.channel_of(step)?;
                Ok(around(channel.frequency.clone(), below, above))
            }
            Target::Limit { set, limit, power } => {
                let (_, limit) = cited(set, limit)?;
                let power = power.as_ref().map(reading);
                self.limit_tolerance(step, gauge, &limit.bound, power)
            }
        }
    }

    /// The channel that the step's set-up names.
    pub fn channel_of(&self, step: &Step) -> Result<&Channel, TargetFault> {
        let Some(table) = &self.channels else {
            return missing(
                "its target needs a channel, but the procedure has no channel table: choose one with its frequency plan",
            );
        };
        let Some(name) = &step.set_up.channel else {
            return missing("its target needs a channel, but its set-up names none");
        };
        match table.channel(name) {
            Some(channel) => Ok(channel),
            None => missing(format!("the channel table has no channel “{name}”")),
        }
    }

    fn oscillator_target(
        &self,
        step: &Step,
        gauge: &Gauge,
        oscillator: &str,
    ) -> Result<Quantity, TargetFault> {
        let Some(plan) = &self.plan else {
            return missing("its target needs a frequency plan, but the procedure has none");
        };
        let Some(mode) = &step.set_up.mode else {
            return missing("its target needs a mode, but its set-up names none");
        };
        let channel = self.channel_of(step)?;
        let hertz = plan
            .mode(mode)
            .and_then(|mode| mode.target(oscillator, channel));
        match hertz {
            Ok(hertz) => Ok(Quantity::worked_out(hertz, gauge.scale)),
            Err(fault) => missing(format!("the frequency plan gives no target: {fault}")),
        }
    }

    /// What a published bound asks of a reading, and of one that goes by a power, beside that.
    fn limit_tolerance(
        &self,
        step: &Step,
        gauge: &Gauge,
        bound: &Bound,
        power: Option<Result<Quantity, TargetFault>>,
    ) -> Result<Tolerance, TargetFault> {
        let centre = || Ok(self.channel_of(step)?.frequency.clone());
        Ok(match bound {
            Bound::WithinPpm(ppm) => Tolerance::plus_minus(centre()?, Margin::Ppm(ppm.clone())),
            Bound::Within(distance) => {
                Tolerance::plus_minus(centre()?, Margin::Absolute(distance.clone()))
            }
            Bound::AtMost(limit) => Tolerance::AtMost(as_read(limit, gauge)),
            Bound::Between(low, high) => Tolerance::Between {
                low: low.clone(),
                high: high.clone(),
            },
            Bound::BelowPower(decibels) | Bound::BelowPowerUpTo(decibels, _) => match power {
                Some(power) => below_power(gauge, decibels, bound.most_asked(), &power?)?,
                None => {
                    return missing("its limit goes by the power: choose the step that reads it");
                }
            },
        })
    }
}

/// A limit of a peak envelope power in watts where a step reads it in these, as all did before it
/// was a unit of its own.
fn as_read(limit: &Quantity, gauge: &Gauge) -> Quantity {
    let scale = match (limit.unit(), gauge.scale.unit) {
        (Unit::WattPep, Unit::Watt) => Scale::new(limit.scale.prefix, Unit::Watt),
        _ => limit.scale,
    };
    Quantity::new(limit.number.clone(), scale)
}

/// At most so many dB and 10 log₁₀ P below the power P, in hundredths of a decibel: the one that
/// asks no more than the rule does, so that no figure fails by the rounding.
fn below_power(
    gauge: &Gauge,
    decibels: &Number,
    most: Option<&Number>,
    power: &Quantity,
) -> Result<Tolerance, TargetFault> {
    let base = decibels.decimal().to_f64().unwrap_or_default();
    let watts = watts_of_power(power).and_then(Result::ok);
    let asked = watts.and_then(|watts| attenuation_required(base, watts).ok());
    let (Some(asked), Unit::DecibelCarrier) = (asked, gauge.scale.unit) else {
        return missing(
            "its limit goes by a power and is read in dBc: let it be read in dBc, beside a step \
             that reads a power above zero",
        );
    };
    let most = most.map_or(f64::INFINITY, Number::to_f64);
    let hundredths = -(asked.min(most) * 100.0 + 1e-9).floor();
    let most = Number::from_decimal(BigDecimal::new((hundredths as i64).into(), 2));
    Ok(Tolerance::AtMost(Quantity::new(most, gauge.scale)))
}

fn as_fine_as(nominal: Quantity, margin: &Margin) -> Quantity {
    match margin {
        Margin::Absolute(amount) if amount.unit() == nominal.unit().of_difference() => {
            nominal.as_fine_as(amount)
        }
        _ => nominal,
    }
}

/// A reading moved by an offset: exactly where the units add, by the decibel rule where a
/// linear reading is offset in decibels (20 log for voltages, 10 log for powers).
fn shifted(reading: &Quantity, offset: &Quantity) -> Result<Quantity, TargetFault> {
    let fault = TargetFault::Units {
        reading: reading.unit(),
        offset: offset.unit(),
    };
    if offset.unit() == reading.unit().of_difference() {
        return Ok(Quantity::worked_out(
            reading.base() + offset.base(),
            reading.scale,
        ));
    }
    if offset.unit() != Unit::Decibel {
        return Err(fault);
    }
    let Some(factor) = factor(reading.unit(), offset) else {
        return Err(fault);
    };
    let value = reading.number.to_f64() * factor;
    // Two places more than the reading shows, for the factor has no exact decimal, and as many as
    // the decades that it goes down.
    let decades = (-factor.log10()).floor().clamp(0.0, 15.0) as i64;
    let places = u8::try_from(reading.number.decimals() + 2 + decades).unwrap_or(u8::MAX);
    Number::from_f64(value, places)
        .map(|number| Quantity::new(number, reading.scale))
        .ok_or(fault)
}

impl Step {
    /// What its limit rests on: the document that it cites, else what is said beside it.
    pub fn basis(&self) -> Option<Basis> {
        match self.work.target()? {
            Target::Limit { set, limit, .. } => {
                let (title, limit) = cited(set, limit).ok()?;
                Some(Basis {
                    known: limit.known,
                    source: format!("{title}, {}", limit.clause),
                })
            }
            _ => self.basis.clone(),
        }
    }
}
