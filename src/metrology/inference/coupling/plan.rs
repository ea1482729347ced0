//! Where to leave each reading so that a round ends with all on target.

use crate::metrology::inference::coupling::unsupported::Unsupported;

/// What the corrections of all readings together must be of their doubt.
const WORTH_A_ROUND: f64 = 2.0;

/// Where to leave an adjuster in the next round.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Aim {
    /// Which adjuster, from 0.
    pub adjuster: usize,
    /// The reading at which to leave it, so that those turned after it bring it home.
    pub stop_at: f64,
    /// Half-width around its target in which its reading lies when the round is over, at 95 %.
    pub half_width: f64,
}

/// Refuses plans whose corrections together are not worth their doubt, or one of which goes far
/// out for too little. `missing` is what each reading is off its target.
pub(in crate::metrology) fn worth_a_round(
    plans: &[Plan],
    missing: &[f64],
) -> Result<(), Unsupported> {
    let weigh = |part: fn(&Plan) -> f64| plans.iter().map(part).sum::<f64>();
    let certain = weigh(|plan| plan.weight(plan.correction));
    let doubtful = weigh(|plan| plan.weight(plan.doubt));
    let off = plans.iter().map(|plan| plan.weight(missing[plan.reading]));
    let worst = off.fold(0.0, f64::max);
    let detour = |plan: &Plan| {
        plan.weight(plan.correction) > worst && plan.correction.abs() < WORTH_A_DETOUR * plan.doubt
    };
    match WORTH_A_ROUND.powi(2) * doubtful > certain || certain == 0.0 || plans.iter().any(detour) {
        true => Err(Unsupported::Scatter),
        false => Ok(()),
    }
}

pub(in crate::metrology) fn aims_of(targets: &[f64], order: &[usize], plans: &[Plan]) -> Vec<Aim> {
    let aim = |(&adjuster, plan): (&usize, &Plan)| Aim {
        adjuster,
        stop_at: targets[adjuster] - plan.correction,
        half_width: plan.miss,
    };
    order.iter().zip(plans).map(aim).collect()
}

/// Factors for the readings that make what each does to the others about as large as what
/// the others do to it.
///
/// Source: balancing of a matrix, E. E. Osborne, 1960 (from memory).
pub(super) fn sizes(effects: &[Vec<f64>]) -> Vec<f64> {
    const SWEEPS: usize = 4;
    let count = effects.len();
    let mut sizes = vec![1.0; count];
    let others = |i: usize| (0..count).filter(move |&j| j != i);
    for reading in (0..SWEEPS).flat_map(|_| 0..count) {
        let effect = |i: usize, j: usize| effects[i][j].abs();
        let suffers: f64 = others(reading).map(|j| effect(reading, j) * sizes[j]).sum();
        let does: f64 = others(reading).map(|j| effect(j, reading) / sizes[j]).sum();
        if suffers > 0.0 && does > 0.0 {
            sizes[reading] = (suffers / does).sqrt();
        }
    }
    sizes
}

/// What one adjuster's aim is made of.
pub(in crate::metrology) struct Plan {
    /// Which adjuster, from 0.
    pub reading: usize,
    /// What the adjusters turned later and the drift will do to the reading.
    pub correction: f64,
    /// How far that may be wrong, at 95 %.
    pub doubt: f64,
    /// How far off its target the reading may end, at 95 %.
    pub miss: f64,
    /// Stated standard deviation of one reading.
    pub noise: f64,
}

impl Plan {
    /// A square in units of the noise, so that readings in different units compare.
    fn weight(&self, value: f64) -> f64 {
        match self.noise > 0.0 {
            true => (value / self.noise).powi(2),
            false => value.powi(2),
        }
    }
}

/// A stop farther out than the worst reading is now must gain so many times its doubt.
const WORTH_A_DETOUR: f64 = 3.0;
