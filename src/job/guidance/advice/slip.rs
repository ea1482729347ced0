//! Readings that look like slips.

use crate::job::fold::standing::figures::resolution;
use crate::job::{Deed, Progress, StepProgress, Taken};
use crate::metrology::distribution::outlier;
use crate::metrology::inference::slip;
use crate::metrology::inference::slip::{Neighbour, Slip};
use crate::procedure::{Id, Procedure, Step};
use crate::quantity::{Quantity, Scale};

/// The one repeated reading that looks like a slip, if one does. Among readings that drift none
/// stands out.
pub fn odd_one_out(standing: &StepProgress) -> Option<&Taken> {
    if standing.settling.is_some() {
        return None;
    }
    let group = standing.last_group();
    let values: Vec<f64> = group.iter().map(|t| t.corrected.base_f64()).collect();
    let suspect = outlier::suspect(&values, resolution(standing)).ok()??;
    group.get(suspect.index).map(|taken| &**taken)
}

/// What the latest reading of a step was most likely meant to be, where it looks like a slip.
pub fn slips(procedure: &Procedure, progress: &Progress, step: &Step) -> Vec<Slip<Id>> {
    let Some((standing, gauge)) = progress.step(&step.id).zip(step.work.gauge()) else {
        return Vec::new();
    };
    let known = standing.tolerance.as_ref().and_then(|t| t.as_ref().ok());
    let (Some(tolerance), Some(last)) = (known, standing.readings.last()) else {
        return Vec::new();
    };
    let scales: Vec<Scale> = gauge
        .scale
        .unit
        .prefixes()
        .iter()
        .map(|&prefix| Scale::new(prefix, gauge.scale.unit))
        .collect();
    let section = procedure.section_of(&step.id);
    let neighbours: Vec<Neighbour<'_, Id>> = section
        .iter()
        .flat_map(|section| &section.steps)
        .filter(|other| other.id != step.id)
        .filter_map(|other| {
            let standing = progress.step(&other.id)?;
            Some(Neighbour {
                step: other.id.clone(),
                tolerance: standing.tolerance.as_ref()?.as_ref().ok()?,
                reading: standing.readings.last().map(|taken| &taken.value),
            })
        })
        .collect();
    slip::suspect(&last.value, tolerance, &scales, &neighbours)
}

/// The deeds that put a step's latest reading right, in their order: struck out with the reason
/// are it and what it was swapped with, and then everything is entered where it belongs. `None`
/// where one of the readings is not there any more.
pub fn corrections(
    progress: &Progress,
    step: &Id,
    slip: &Slip<Id>,
    reason: &str,
) -> Option<Vec<Deed>> {
    let taken = |step: &Id| progress.step(step)?.readings.last();
    let strike = |step: &Id, taken: &Taken| Deed::Struck {
        step: step.clone(),
        reading: taken.event.clone(),
        reason: reason.to_owned(),
    };
    // What was meant was read in the manner of the slip.
    let enter = |step: &Id, taken: &Taken, value: &Quantity| Deed::Reading {
        step: step.clone(),
        phase: taken.phase,
        value: value.clone(),
        tool: taken.tool,
        repeat: taken.repeat,
        heard: taken.heard.clone(),
    };
    let last = taken(step)?;
    Some(match slip {
        Slip::Swapped { with, corrected } => {
            let other = taken(with)?;
            vec![
                strike(step, last),
                strike(with, other),
                enter(with, other, &last.value),
                enter(step, last, corrected),
            ]
        }
        Slip::Neighbour { step: other } => vec![
            strike(step, last),
            Deed::Reading {
                step: other.clone(),
                phase: last.phase,
                value: last.value.clone(),
                tool: None,
                repeat: false,
                heard: None,
            },
        ],
        Slip::Sign { corrected } | Slip::Prefix { corrected } | Slip::Decade { corrected, .. } => {
            vec![strike(step, last), enter(step, last, corrected)]
        }
    })
}
