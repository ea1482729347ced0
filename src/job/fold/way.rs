//! The way from what an instrument indicates to what is judged: its corrections, then the unit of
//! the step, then what stands in the path between the instrument and the set.

use crate::job::fold::standing::group::{Group, Read};
use crate::job::fold::standing::unproved::{Unproved, of_kit};
use crate::job::fold::standing::way::Way;
use crate::job::{Header, Refusal, UsedInstrument};
use crate::metrology::Tolerance;
use crate::metrology::instrument;
use crate::metrology::instrument::{AsRead, Instrument, Proof as Ability};
use crate::metrology::uncertainty::{Budget, Contribution};
use crate::procedure::{Gauge, Id};
use crate::quantity::decibel::rounded;
use crate::quantity::{DecimalSign, Number, Quantity, Scale, Unit, to_f64};
use crate::radio::conversion::{NoConversion, convert, others, slope};
use bigdecimal::{BigDecimal, RoundingMode};
use std::sync::Arc;

/// The unit in which an instrument reads what a step judges: the step's own, or one that states its
/// level; `None` where it has a range in neither.
pub fn unit_read(gauge: &Gauge, instrument: &Instrument) -> Option<Unit> {
    let due = gauge.scale.unit;
    let mut units = std::iter::once(due).chain(others(due, gauge.into.is_some()));
    units.find(|unit| instrument.reads(*unit).is_ok())
}

/// Whether a reading can be judged in the step's unit, or why not.
pub fn takes(gauge: &Gauge, value: &Quantity) -> Result<(), Refusal> {
    let (typed, due) = (value.unit(), gauge.scale.unit);
    let ohms = gauge.into.as_ref().map(Quantity::base);
    match convert(&value.base(), typed, due, ohms.as_ref()) {
        Ok(_) => Ok(()),
        Err(NoConversion::Unlike) => Err(Refusal::Unit { typed, due }),
        Err(why) => Err(Refusal::NoLevel { typed, due, why }),
    }
}

impl Read {
    /// What an instrument indicated at a step, as it is judged there. One that can't be given in
    /// the step's unit, which only a file can bring, stays in its own.
    pub fn by(
        gauge: &Gauge,
        with: Option<Arc<UsedInstrument>>,
        way: Way,
        indicated: Quantity,
    ) -> Self {
        let read = Read::with(with, indicated);
        let (is, due) = (read.indicated.unit(), gauge.scale.unit);
        if is == due && way.passed.is_empty() {
            return read;
        }
        let ohms = way.ohms();
        let Ok(there) = convert(&read.right, is, due, ohms.as_ref()) else {
            return read;
        };
        let steep = slope(&read.right, is, due, ohms.as_ref()).unwrap_or(1.0) * way.gain(due);
        let right = way.along(there, due, true);
        let right = if right == read.right {
            right
        } else {
            rounded(right)
        };
        let place = to_f64(&read.corrected.resolution()) * steep.abs();
        Read {
            corrected: shown(&right, place, gauge.scale),
            right,
            way: Some(Arc::new(way)),
            ..read
        }
    }

    /// What of its path nobody knows the loss of.
    pub fn lacks(&self) -> Option<&Id> {
        self.way.as_ref()?.unknown()
    }

    /// What one count of the last digit typed is worth, in the unit of the result.
    pub(in crate::job) fn place(&self) -> BigDecimal {
        match self.way {
            None => self.indicated.resolution(),
            Some(_) => self.corrected.resolution(),
        }
    }

    /// What its way corrects it by, in words, what the instrument is corrected by first.
    pub fn correction(&self, sign: DecimalSign) -> String {
        let unit = self.indicated.unit();
        let own = self.record().map(|it| it.correction_words(unit, sign));
        let way = self.way.as_ref();
        let one = BigDecimal::from(1);
        let goes_without = convert(&one, unit, self.corrected.unit(), None).is_ok();
        let into = way.filter(|_| !goes_without);
        let into = into.and_then(|way| way.into.as_ref());
        let into = into.map(|into| format!("into {}", into.typeset(sign)));
        let passed = way.into_iter().flat_map(|way| way.words(sign));
        let parts = own.into_iter().chain(into).chain(passed);
        let parts: Vec<String> = parts.filter(|part| !part.is_empty()).collect();
        parts.join(", ")
    }
}

/// A result in the step's scale where that suits it, with the digits that a last place of so much
/// carries.
fn shown(right: &BigDecimal, place: f64, scale: Scale) -> Quantity {
    let scale = Quantity::handy(right.clone(), scale).scale;
    let place = place / 10f64.powi(scale.prefix.exponent() as i32);
    let figure = scale.prefix.remove(right);
    let figure = figure.with_scale_round(carried(place), RoundingMode::HalfEven);
    Quantity::new(Number::from_decimal(figure), scale)
}

/// The decimals of the first power of ten that is not above a last place of so much.
fn carried(place: f64) -> i64 {
    /// A place of a thousand is one of a thousand, though its logarithm may fall short of three.
    const SLACK: f64 = 1e-9;
    match place > 0.0 && place.is_finite() {
        true => (-(place.log10() + SLACK).floor()).clamp(0.0, 15.0) as i64,
        false => 0,
    }
}

/// A result as its instrument showed it, and by how much the result moves with that.
struct Shown<'a> {
    instrument: &'a Instrument,
    value: Quantity,
    place: BigDecimal,
    steep: f64,
    way: Way,
    level: f64,
}

impl Shown<'_> {
    fn as_read(&self) -> AsRead<'_> {
        AsRead {
            value: &self.value,
            place: &self.place,
            scatter: None,
        }
    }
}

fn shown_by<'a>(group: &'a Group, role: &Id) -> Result<Shown<'a>, Unproved> {
    let instrument = of_kit(group.record(), role)?;
    let due = group.value.unit();
    let Some(last) = group.readings.last() else {
        return Err(Unproved::NoInstrument(role.clone()));
    };
    let way = last.way.as_deref().cloned().unwrap_or_default();
    // A meter that is known in watts alone is taken at its watts, whatever was typed.
    let is = [last.indicated.unit(), due];
    let is = is.into_iter().find(|unit| instrument.reads(*unit).is_ok());
    let is = is.unwrap_or(last.indicated.unit());
    let ohms = way.ohms();
    let level = match group.readings.as_slice() {
        [one] => one.right.clone(),
        _ => group.value.base(),
    };
    let before = way.along(level.clone(), due, false);
    let unlike = |_| Unproved::NoInstrument(role.clone());
    let there = convert(&before, due, is, ohms.as_ref()).map_err(unlike)?;
    let steep = slope(&there, is, due, ohms.as_ref()).unwrap_or(1.0) * way.gain(due);
    let of_its_unit = group.readings.iter().map(|read| &read.indicated);
    let places = of_its_unit.filter(|it| it.unit() == is);
    let place = places.map(Quantity::resolution).max();
    Ok(Shown {
        place: place.unwrap_or_else(|| resolution_of(instrument, is)),
        value: Quantity::in_scale(rounded(there), Scale::plain(is)),
        level: to_f64(&level),
        instrument,
        steep,
        way,
    })
}

/// The lines of a budget of what an instrument showed, as they move the result.
fn moved(own: Budget, steep: f64) -> impl Iterator<Item = Contribution> {
    own.lines.into_iter().map(move |line| {
        let part = line.contribution;
        let sensitivity = part.sensitivity * steep;
        part.sensitivity(sensitivity)
    })
}

/// What the uncertainty of a result comes from: that of what the instrument indicated, as much as
/// the result moves with it, and that of what stands in the path.
///
/// Source: JCGM 100:2008, 5.1.2 and 5.1.3, the sensitivity being the derivative.
pub(in crate::job) fn budget(group: &Group, role: &Id) -> Result<Budget, Unproved> {
    let shown = shown_by(group, role)?;
    let own = shown
        .instrument
        .budget_at(&shown.value, &shown.place, None)
        .map_err(Unproved::NoAccuracy)?;
    let at = (shown.level, group.value.unit());
    let path = shown.way.contributions(at, None)?;
    let parts = moved(own, shown.steep)
        .chain(group.scatter.clone())
        .chain(path);
    Budget::of(parts.collect()).map_err(Unproved::NoAccuracy)
}

/// Whether the instrument of a header can prove a tolerance at a step, by the step's way.
pub(in crate::job) fn ability(
    gauge: &Gauge,
    header: &Header,
    tolerance: &Tolerance,
) -> Result<Ability, Unproved> {
    let used = |role: &Id| header.used_as(role).cloned().map(Arc::new);
    let with = used(&gauge.with);
    let record = with.as_ref().and_then(|used| used.record.as_ref());
    let instrument = of_kit(record, &gauge.with)?.clone();
    let way = Way::of(gauge, used);
    if let Some(role) = way.unknown() {
        return Err(Unproved::NoLoss(role.clone()));
    }
    let due = gauge.scale.unit;
    let is = unit_read(gauge, &instrument);
    let is = is.filter(|_| due == tolerance.unit()).unwrap_or(due);
    if is == due && way.passed.is_empty() {
        return instrument
            .can_prove(tolerance)
            .map_err(Unproved::NoAccuracy);
    }
    let at = match tolerance {
        Tolerance::Around { nominal, .. } => nominal,
        Tolerance::Between { high, .. } => high,
        Tolerance::AtLeast(limit) | Tolerance::AtMost(limit) => limit,
    };
    let before = way.along(at.base(), due, false);
    let unlike = |_| Unproved::NoInstrument(gauge.with.clone());
    let there = convert(&before, due, is, way.ohms().as_ref()).map_err(unlike)?;
    let there = Quantity::in_scale(rounded(there), Scale::plain(is));
    let range = instrument.range_for(&there).map_err(Unproved::NoAccuracy)?;
    let step = range.resolution.base().abs();
    let indicated = Quantity::worked_out(
        there.base().with_scale(step.fractional_digit_count()),
        there.scale,
    );
    let read = Read::by(gauge, with, way, indicated);
    let expanded = budget(&Group::single(read, 0, 0), &gauge.with)?.expanded;
    let limits = tolerance.limits();
    let Some((low, high)) = limits.low.zip(limits.high) else {
        return Ok(Ability {
            expanded,
            ratio: None,
            ability: instrument::Ability::OneSided,
            accuracy_needed: None,
        });
    };
    let ability = instrument::prove(to_f64(&(high - low).half()), expanded, 0.0);
    // What accuracy the meter itself would need, with a path before it, is another sum.
    let ability = ability.map_err(Unproved::NoAccuracy)?;
    Ok(Ability {
        accuracy_needed: None,
        ..ability
    })
}

/// The finest count that an instrument shows in a unit.
fn resolution_of(instrument: &Instrument, unit: Unit) -> BigDecimal {
    let ranges = instrument.ranges.iter();
    let in_unit = ranges.filter(|range| range.full_scale.unit() == unit);
    let finest = in_unit.map(|range| range.resolution.base()).min();
    finest.unwrap_or_default()
}

/// The budget of a result against `slope` times another one. What one instrument or one pad is off
/// by is the same for both, and only what the slope leaves of it counts.
///
/// The result moves with what its instrument shows, and the other with its own: their ratio is the
/// slope at the instruments.
/// Source: JCGM 100:2008, 5.2.2.
pub(in crate::job) fn budget_against(
    own: &Group,
    role: &Id,
    reference: &Group,
    reference_role: &Id,
    slope: f64,
) -> Result<Budget, Unproved> {
    let (shown, other) = (shown_by(own, role)?, shown_by(reference, reference_role)?);
    let of_instruments = shown
        .instrument
        .budget_against(
            shown.as_read(),
            other.as_read(),
            slope * other.steep / shown.steep,
            other.instrument,
        )
        .map_err(Unproved::NoAccuracy)?;
    let path = shown.way.contributions(
        (shown.level, own.value.unit()),
        Some((&other.way, other.level, reference.value.unit(), slope)),
    )?;
    let scatter = reference.scatter.clone().map(|part| Contribution {
        name: format!("{}, reference reading", part.name),
        sensitivity: part.sensitivity * slope,
        ..part
    });
    let parts = moved(of_instruments, shown.steep)
        .chain(own.scatter.clone())
        .chain(scatter)
        .chain(path);
    Budget::of(parts.collect()).map_err(Unproved::NoAccuracy)
}
