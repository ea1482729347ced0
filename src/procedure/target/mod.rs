//! Where a reading must lie: stated, or worked out from another reading, the frequency plan,
//! the channel or a published limit.

use super::{Basis, Gauge, Id, Procedure, Step};
use crate::metrology::{Margin, Tolerance};
use crate::quantity::{DecimalSign, Number, Quantity, Scale, Unit};
use crate::radio::channels::Channel;
use crate::radio::levels::watts_of_power;
use crate::radio::limits::{self, Bound, Limit, attenuation_required};
use bigdecimal::BigDecimal;
use num_traits::{ToPrimitive, Zero};
use serde::{Deserialize, Serialize};
use std::fmt;

/// Where a reading must lie.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Target {
    /// Known beforehand.
    Fixed(Tolerance),
    /// Another step's reading as left, plus an offset.
    Relative {
        /// The other step.
        to: Id,
        /// What is added to its reading. Decibels on a linear reading multiply it.
        offset: Quantity,
        /// The margin below.
        below: Margin,
        /// The margin above.
        above: Margin,
    },
    /// What the frequency plan asks of an oscillator in the step's mode and channel.
    Oscillator {
        /// The oscillator's name in the plan.
        name: String,
        /// The margin below.
        below: Margin,
        /// The margin above.
        above: Margin,
    },
    /// The frequency of the step's channel.
    Channel {
        /// The margin below.
        below: Margin,
        /// The margin above.
        above: Margin,
    },
    /// A published limit. One that is a distance is counted from the step's channel.
    Limit {
        /// The set of limits, such as `us-95d`.
        set: String,
        /// The limit in that set.
        limit: String,
        /// The step that reads the power by which the limit goes, where it goes by one.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        power: Option<Id>,
    },
}

/// Why a target gives no tolerance.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TargetFault {
    /// The other step has no reading yet.
    Waiting(Id),
    /// The other step's reading and the offset don't go together.
    Units {
        /// The unit of the other step's reading.
        reading: Unit,
        /// The unit of the offset.
        offset: Unit,
    },
    /// Something that the target refers to isn't in the procedure; a sentence.
    Missing(String),
}

impl fmt::Display for TargetFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            TargetFault::Waiting(id) => {
                write!(f, "its target is known when step “{id}” has its reading")
            }
            TargetFault::Units { reading, offset } => write!(
                f,
                "the offset of its target is in {} and can't be added to a reading in {}: give it in {} or in dB",
                offset.symbol(),
                reading.symbol(),
                reading.of_difference().symbol()
            ),
            TargetFault::Missing(sentence) => f.write_str(sentence),
        }
    }
}

fn missing<T>(sentence: impl Into<String>) -> Result<T, TargetFault> {
    Err(TargetFault::Missing(sentence.into()))
}

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

/// The limit of this name, with the title of its document.
pub fn cited(set: &str, limit: &str) -> Result<(&'static str, Limit), TargetFault> {
    match limits::find(set, limit) {
        Some((title, Some(limit))) => Ok((title, limit)),
        Some((title, None)) => missing(format!("“{title}” has no limit “{limit}”")),
        None => missing(format!("there is no set of limits “{set}”")),
    }
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

/// Whether the limit of this name goes by a power that another step reads.
pub fn goes_by_power(set: &str, limit: &str) -> bool {
    cited(set, limit).is_ok_and(|(_, limit)| limit.bound.goes_by_power())
}

impl Target {
    /// The step from whose reading it is worked out.
    pub fn leans_on(&self) -> Option<&Id> {
        match self {
            Target::Relative { to, .. } => Some(to),
            Target::Limit { power, .. } => power.as_ref(),
            _ => None,
        }
    }

    /// By how much it moves for one unit of the reading that it is worked out from.
    pub fn slope(&self, reading: &Quantity) -> Option<f64> {
        let unit = reading.scale.unit;
        match self {
            Target::Relative { offset, .. } if offset.unit() == unit.of_difference() => Some(1.0),
            Target::Relative { offset, .. } => factor(unit, offset),
            Target::Limit { .. } if self.is_at_its_most(reading) => Some(0.0),
            // The derivative of −10 log₁₀ P.
            Target::Limit { .. } if matches!(unit, Unit::Watt | Unit::WattPep) => {
                Some(-10.0 / (10f64.ln() * reading.base_f64()))
            }
            Target::Limit { .. } => Some(-1.0),
            _ => None,
        }
    }

    /// Whether a limit that goes by a power asks for no more at a larger one.
    fn is_at_its_most(&self, power: &Quantity) -> bool {
        let Target::Limit { set, limit, .. } = self else {
            return false;
        };
        let (Ok((_, limit)), Some(Ok(watts))) = (cited(set, limit), watts_of_power(power)) else {
            return false;
        };
        let Bound::BelowPowerUpTo(base, most) = &limit.bound else {
            return false;
        };
        attenuation_required(base.to_f64(), watts).is_ok_and(|asked| asked >= most.to_f64())
    }

    /// The target in print as the procedure states it; a step is named by its number.
    pub fn typeset(&self, sign: DecimalSign, number_of: impl Fn(&Id) -> Option<usize>) -> String {
        match self {
            Target::Fixed(tolerance) => tolerance.typeset(sign),
            Target::Relative {
                to,
                offset,
                below,
                above,
            } => {
                let step = number_of(to).map_or_else(|| to.to_string(), |n| n.to_string());
                let size = Number::from_decimal(offset.number.decimal().abs());
                let size = Quantity::new(size, offset.scale).typeset(sign);
                let around = match (offset.number.is_negative(), offset.base().is_zero()) {
                    (_, true) => format!("the reading of step {step}"),
                    (true, _) => format!("{size} below the reading of step {step}"),
                    (false, _) => format!("{size} above the reading of step {step}"),
                };
                format!("{around} {}", Margin::typeset_pair(below, above, sign))
            }
            Target::Oscillator { name, below, above } => {
                format!(
                    "{name} by the plan {}",
                    Margin::typeset_pair(below, above, sign)
                )
            }
            Target::Channel { below, above } => {
                format!("the channel {}", Margin::typeset_pair(below, above, sign))
            }
            Target::Limit { set, limit, .. } => match cited(set, limit) {
                Ok((title, limit)) => {
                    let source = format!("{title}, {}", limit.clause);
                    match limit.bound.by_power(sign) {
                        Some(bound) => format!("{source}: {bound}"),
                        None => source,
                    }
                }
                Err(fault) => fault.to_string(),
            },
        }
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

/// What decibels multiply a linear reading by.
fn factor(unit: Unit, offset: &Quantity) -> Option<f64> {
    let of_ten = unit.decibels_of_ten()?;
    Some(10f64.powf(offset.base_f64() / f64::from(of_ten)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::procedure::{Section, SetUp, Work};
    use crate::radio::channels::ChannelTable;
    use crate::radio::plan::Plan;

    fn q(text: &str) -> Quantity {
        text.parse().unwrap()
    }

    fn id(text: &str) -> Id {
        text.parse().unwrap()
    }

    fn margin(text: &str) -> Margin {
        Margin::Absolute(q(text))
    }

    fn relative(offset: &str) -> Target {
        Target::Relative {
            to: id("s1"),
            offset: q(offset),
            below: margin("20 Hz"),
            above: margin("20 Hz"),
        }
    }

    fn step(target: Target, scale: &str, mode: &str, channel: &str) -> Step {
        let gauge = Gauge::new(id("TP1"), id("counter"), scale.parse().unwrap());
        let work = Work::Read {
            gauge,
            target: Some(target),
        };
        Step {
            set_up: SetUp {
                mode: Some(mode.to_owned()),
                channel: Some(channel.to_owned()),
                ..SetUp::default()
            },
            ..Step::new(id("s2"), "Read", work)
        }
    }

    /// A 27 MHz set as is common practice, no source: 16.49 MHz and 10.695 MHz added.
    fn procedure(step: Step) -> Procedure {
        let plan: Plan = serde_json::from_value(serde_json::json!({
            "name": "two oscillators",
            "modes": [
                {"name": "AM", "terms": [
                    {"oscillator": "loop", "factor": 1, "target": "follows-channel"},
                    {"oscillator": "carrier", "factor": 1, "target": {"fixed": "10.6950 MHz"}}]},
                {"name": "USB", "terms": [
                    {"oscillator": "loop", "factor": 1, "target": "follows-channel"},
                    {"oscillator": "carrier", "factor": 1, "target": {"fixed": "10.6925 MHz"}}]},
                {"name": "LSB", "terms": [
                    {"oscillator": "loop", "factor": 1, "target": "follows-channel"},
                    {"oscillator": "carrier", "factor": 1, "target": {"fixed": "10.6975 MHz"}}]}]
        }))
        .unwrap();
        Procedure {
            plan: Some(plan),
            channels: Some(ChannelTable::us_27_megahertz()),
            sections: vec![Section {
                title: String::new(),
                steps: vec![step],
            }],
            ..Procedure::new(id("p"), "p")
        }
    }

    fn worked_out(step: Step, reading: Option<&str>) -> Result<Tolerance, TargetFault> {
        let procedure = procedure(step);
        let step = procedure.steps().next().unwrap();
        procedure.tolerance(step, |_| reading.map(q)).unwrap()
    }

    #[test]
    fn a_relative_target_moves_with_the_other_reading() {
        for (reading, offset, nominal) in [
            ("9.001512 MHz", "-3 kHz", "8.998512 MHz"),
            ("-20.5 dBm", "-40 dB", "-60.5 dBm"),
            // 20 log 2 is 6.0206 dB, ARRL Handbook, from memory.
            ("2.00 V rms", "-6.0206 dB", "1.0000 V rms"),
            // 10 log 0.5 is −3.0103 dB.
            ("4.0 W", "-3.0103 dB", "2.000 W"),
        ] {
            let step = step(relative(offset), "MHz", "AM", "19");
            let tolerance = worked_out(step, Some(reading)).unwrap();
            assert_eq!(tolerance.nominal(), Some(&q(nominal)), "{reading}");
        }
    }

    #[test]
    fn a_relative_target_waits_for_its_reading_and_refuses_odd_units() {
        let step = || step(relative("-3 kHz"), "MHz", "AM", "19");
        assert!(matches!(
            worked_out(step(), None),
            Err(TargetFault::Waiting(_))
        ));
        let odd = worked_out(step(), Some("4 W"));
        assert!(matches!(odd, Err(TargetFault::Units { .. })));
    }

    #[test]
    fn a_target_by_the_plan_follows_mode_and_channel() {
        // Common practice, no source: 27.185 MHz = 16.4900 + 10.6950 (AM),
        // 16.4925 + 10.6925 (USB), 16.4875 + 10.6975 (LSB).
        for (mode, channel, oscillator, nominal) in [
            ("AM", "19", "loop", "16.490000 MHz"),
            ("USB", "19", "loop", "16.492500 MHz"),
            ("LSB", "19", "loop", "16.487500 MHz"),
            ("LSB", "19", "carrier", "10.697500 MHz"),
            // 47 CFR 95.963: channel 23 is 27.255 MHz, 24 is 27.235 MHz.
            ("AM", "23", "loop", "16.560000 MHz"),
            ("AM", "24", "loop", "16.540000 MHz"),
        ] {
            let target = Target::Oscillator {
                name: oscillator.to_owned(),
                below: margin("20 Hz"),
                above: margin("20 Hz"),
            };
            let tolerance = worked_out(step(target, "MHz", mode, channel), None).unwrap();
            assert_eq!(tolerance.nominal(), Some(&q(nominal)), "{mode} {channel}");
        }
    }

    #[test]
    fn a_limit_becomes_a_tolerance_around_the_channel() {
        let limit = |name: &str, scale: &str| {
            let target = Target::Limit {
                set: limits::built_in()[0].id.clone(),
                limit: name.to_owned(),
                power: None,
            };
            worked_out(step(target, scale, "AM", "19"), None).unwrap()
        };
        // 47 CFR 95.965: 50 ppm of 27.185 MHz is 1359.25 Hz.
        let frequency = limit("frequency", "MHz");
        assert!(frequency.judge(&q("27.18635925 MHz")).is_inside());
        assert!(!frequency.judge(&q("27.18635926 MHz")).is_inside());
        // 47 CFR 95.967(a): 4 W.
        assert_eq!(limit("carrier-power", "W"), Tolerance::AtMost(q("4 W")));
    }

    fn beyond(power: Option<&str>) -> Target {
        Target::Limit {
            set: limits::built_in()[0].id.clone(),
            limit: "unwanted-am-fm-beyond".to_owned(),
            power: power.map(id),
        }
    }

    #[test]
    fn a_limit_by_a_power_follows_what_was_read_and_is_never_stricter_than_the_rule() {
        // 53 + 10 log P: 59.0206 dB at 4 W and 63.7918 dB at 12 W, as in the published rule.
        for (power, most) in [
            ("4.00 W", "-59.02 dBc"),
            ("12.0 W", "-63.79 dBc"),
            ("3800 mW", "-58.79 dBc"),
            ("36.0 dBm", "-59.00 dBc"),
            ("1.0 W", "-53.00 dBc"),
            ("0.10 W", "-43.00 dBc"),
        ] {
            let step = step(beyond(Some("s1")), "dBc", "AM", "19");
            let tolerance = worked_out(step, Some(power)).unwrap();
            assert_eq!(tolerance, Tolerance::AtMost(q(most)), "{power}");
        }
    }

    #[test]
    fn a_limit_by_a_power_waits_for_it_and_takes_nothing_else() {
        let read = |target, scale, reading| worked_out(step(target, scale, "AM", "19"), reading);
        assert_eq!(
            read(beyond(Some("s1")), "dBc", None),
            Err(TargetFault::Waiting(id("s1")))
        );
        for (target, scale, reading) in [
            (beyond(None), "dBc", "4 W"),
            (beyond(Some("s1")), "dBc", "0 W"),
            (beyond(Some("s1")), "dBc", "4 V"),
            (beyond(Some("s1")), "MHz", "4 W"),
        ] {
            let fault = read(target, scale, Some(reading));
            assert!(matches!(fault, Err(TargetFault::Missing(_))), "{reading}");
        }
    }

    #[test]
    fn a_limit_by_a_power_moves_as_its_decibels_do() {
        let target = beyond(Some("s1"));
        // 10 log₁₀(4.04 / 4.00) is 0.0432 dB: one percent of a power, as a handbook has it.
        let slope = target.slope(&q("4.00 W")).unwrap();
        assert!((slope * 0.04 + 0.0432).abs() < 0.0003, "{slope}");
        assert_eq!(target.slope(&q("36.0 dBm")), Some(-1.0));
    }

    #[test]
    fn a_limit_by_a_power_may_have_an_end() {
        // ITU Radio Regulations, Appendix 3, from memory: 43 + 10 log PEP, or 50 dB if that is less.
        let target = Target::Limit {
            set: "itu-rr-3".to_owned(),
            limit: "unwanted".to_owned(),
            power: Some(id("s1")),
        };
        for (power, most, slope) in [
            ("1 W PEP", "-43.00 dBc", -4.342_944_819_032_518),
            ("5 W PEP", "-49.98 dBc", -0.868_588_963_806_503_6),
            ("5.1 W PEP", "-50.00 dBc", 0.0),
            ("100 W PEP", "-50.00 dBc", 0.0),
        ] {
            let asked = worked_out(step(target.clone(), "dBc", "AM", "19"), Some(power));
            assert_eq!(asked, Ok(Tolerance::AtMost(q(most))), "{power}");
            let found = target.slope(&q(power)).unwrap();
            assert!((found - slope).abs() < 1e-12, "{power}: {found}");
        }
    }

    #[test]
    fn limits_for_one_power_are_still_found_and_offered_no_more() {
        let us = &limits::built_in()[0];
        for (older, most) in [
            ("unwanted-4-w", "-59.02 dBc"),
            ("unwanted-12-w", "-63.79 dBc"),
        ] {
            let (_, limit) = cited(&us.id, older).unwrap();
            assert_eq!(limit.bound, Bound::AtMost(q(most)));
            assert!(us.limits.iter().all(|offered| offered.id != older));
            assert!(cited("en-300-433", older).is_err());
        }
    }

    #[test]
    fn what_a_target_needs_and_does_not_find_is_said() {
        let oscillator = |name: &str| Target::Oscillator {
            name: name.to_owned(),
            below: margin("20 Hz"),
            above: margin("20 Hz"),
        };
        let odd_limit = Target::Limit {
            set: "nowhere".to_owned(),
            limit: "x".to_owned(),
            power: None,
        };
        for (step, part) in [
            (step(oscillator("loop"), "MHz", "CW", "19"), "CW"),
            (step(oscillator("tank"), "MHz", "AM", "19"), "tank"),
            (
                step(oscillator("loop"), "MHz", "AM", "41"),
                "no channel “41”",
            ),
            (
                step(odd_limit, "MHz", "AM", "19"),
                "no set of limits “nowhere”",
            ),
        ] {
            let sentence = worked_out(step, None).unwrap_err().to_string();
            assert!(sentence.contains(part), "{sentence}");
        }
    }

    #[test]
    fn a_relative_target_is_said_in_words() {
        let said = |offset| {
            relative(offset)
                .typeset(DecimalSign::Point, |_| Some(7))
                .replace('\u{a0}', " ")
        };
        assert_eq!(said("-3 kHz"), "3 kHz below the reading of step 7 ± 20 Hz");
        assert_eq!(said("0 Hz"), "the reading of step 7 ± 20 Hz");
    }
}
