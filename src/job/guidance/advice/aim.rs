//! Where to stop with the tool in, as earlier tries teach.

use crate::job::fold::standing::figures::{in_scale, resolution, rounded, stated_in};
use crate::job::{Progress, StepProgress, Tool};
use crate::metrology::Tolerance;
use crate::metrology::inference::pull::{Origin, Pull, Try};
use crate::procedure::{Procedure, Step};
use crate::quantity::{Quantity, Unit};

/// Whose tries a pull is known from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KnownBy {
    /// So many of the adjuster itself.
    Own(usize),
    /// A first guess from others of its kind.
    Similar,
    /// The same, from such as set another frequency: how far it is off here nobody knows.
    SimilarElsewhere,
}

/// Where to stop with the tool in.
#[derive(Clone, Debug, PartialEq)]
pub struct AimOff {
    /// By how much the reading moves when the tool leaves, on average.
    pub pull: Quantity,
    /// The reading to stop at with the tool in, put right as those are that it is learnt from.
    pub stop_at: Quantity,
    /// What is aimed at: where the reading at that stop is expected once the tool is out.
    pub target: Quantity,
    /// The latest reading, where that is with the tool in, and where it is expected without.
    pub now: Option<(Quantity, Quantity)>,
    /// Whether that stop is another figure than the instrument shows there.
    pub is_corrected: bool,
    /// Half-width of the range around what is expected in which it settles with 95 %, where the
    /// spread of the pull is known.
    pub half_width: Option<Quantity>,
    /// How likely it settles inside the tolerance.
    pub chance: Option<f64>,
    /// Whether this is the adjuster's own habit or a first guess from others of its kind.
    pub known_by: KnownBy,
}

/// Learns the pull of the step's adjuster and works out where to stop; `None` where nothing is
/// known yet or nothing is aimed at.
pub fn aim_off(procedure: &Procedure, progress: &Progress, step: &Step) -> Option<AimOff> {
    let standing = progress.step(&step.id)?;
    let tolerance = standing.tolerance.as_ref()?.as_ref().ok()?;
    let target = target_of(tolerance)?;
    let gauge = step.work.gauge()?;
    let own = tries(standing);
    let learnt = sisters(procedure, step)
        .filter_map(|sister| progress.step(&sister.id))
        .map(|sister| (is_alike(gauge.scale.unit, target, sister), tries(sister)))
        .filter(|(_, tries)| !tries.is_empty());
    let (alike, elsewhere): (Vec<_>, Vec<_>) = learnt.partition(|(alike, _)| *alike);
    // What others do at another frequency is a guess where nothing nearer is known.
    let is_guess = own.is_empty() && alike.is_empty();
    let sisters = if is_guess { elsewhere } else { alike };
    let sisters: Vec<Vec<Try>> = sisters.into_iter().map(|(_, tries)| tries).collect();
    let display = resolution(standing);
    let pull = Pull::learn(&own, &sisters, display).ok()?;
    // How they differ from each other there doesn't tell how far they are off here.
    let pull = match is_guess {
        true => Pull {
            spread: None,
            ..pull
        },
        false => pull,
    };
    let aim = pull.aim(target).ok()?;
    let unit = gauge.scale.unit.of_difference();
    let (mean, half_width) = match aim.half_width {
        Some(half) => {
            let (mean, half) = stated_in(unit, pull.mean, half)?;
            (mean, Some(half))
        }
        None => (rounded(pull.mean, step, 2)?, None),
    };
    let (low, high) = tolerance.limits().to_f64();
    let decimals = standing.readings.last().map(|t| t.value.number.decimals());
    Some(AimOff {
        pull: mean,
        stop_at: in_scale(aim.stop_at, gauge.scale, decimals)?,
        target: in_scale(target, gauge.scale, decimals)?,
        now: standing.readings.last().and_then(|taken| {
            let tool_in = (taken.tool == Some(Tool::In)).then(|| taken.corrected.clone())?;
            let without = in_scale(tool_in.base_f64() + pull.mean, gauge.scale, decimals)?;
            Some((tool_in, without))
        }),
        is_corrected: standing
            .readings
            .last()
            .is_some_and(|taken| taken.way.is_some() || taken.value != taken.corrected),
        half_width,
        chance: pull.chance(aim.stop_at, low, high).ok().flatten(),
        known_by: match pull.origin {
            Origin::Own => KnownBy::Own(pull.count),
            Origin::Sisters if is_guess => KnownBy::SimilarElsewhere,
            Origin::Sisters => KnownBy::Similar,
        },
    })
}

/// Whether a tool pulls another reading as this one. A frequency goes with the coil and its capacitor, and what a
/// tool adds to these moves it by a share of itself: only about the same frequency is alike.
///
/// Δf ≈ −f·ΔC/2C. Source: differentiated Thomson formula; the hundredth is common practice, no
/// source.
fn is_alike(unit: Unit, target: f64, other: &StepProgress) -> bool {
    const SHARE: f64 = 0.01;
    let known = other.known_tolerance().and_then(target_of);
    unit != Unit::Hertz || known.is_some_and(|it| (it - target).abs() <= SHARE * target.abs())
}

/// The value to aim at: the nominal one, or the middle between two limits that are not alike.
pub(super) fn target_of(tolerance: &Tolerance) -> Option<f64> {
    match tolerance {
        Tolerance::Around {
            nominal,
            below,
            above,
        } if below == above => return Some(nominal.base_f64()),
        _ => {}
    }
    let (low, high) = tolerance.limits().to_f64();
    Some((low? + high?) / 2.0)
}

/// Readings with the tool in that are followed by one with the tool out.
fn tries(standing: &StepProgress) -> Vec<Try> {
    standing
        .readings
        .windows(2)
        .filter(|pair| pair[0].tool == Some(Tool::In) && pair[1].tool == Some(Tool::Out))
        .map(|pair| Try {
            tool_in: pair[0].corrected.base_f64(),
            tool_out: pair[1].corrected.base_f64(),
        })
        .collect()
}

/// Steps that read the same unit with another adjuster of the same kind.
fn sisters<'a>(procedure: &'a Procedure, step: &'a Step) -> impl Iterator<Item = &'a Step> {
    let kind_of = |step: &Step| {
        let adjuster = step.work.adjuster()?;
        procedure.adjuster(adjuster).map(|adjuster| adjuster.kind)
    };
    let unit_of = |step: &Step| step.work.gauge().map(|gauge| gauge.scale.unit);
    let kind = kind_of(step);
    procedure.steps().filter(move |other| {
        other.id != step.id
            && other.work.adjuster() != step.work.adjuster()
            && kind.is_some()
            && kind_of(other) == kind
            && unit_of(other) == unit_of(step)
    })
}
