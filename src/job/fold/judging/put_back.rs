//! The put-back list: everything that came off, was opened, unplugged or fitted for a while.

use crate::job::fold::standing::noted::{Off, OffState};
use crate::job::{Deed, Event, StepProgress};
use crate::procedure::{Procedure, Removable};

/// Follows one event of the log.
pub(in crate::job) fn take(list: &mut Vec<Off>, order: usize, event: &Event) {
    match &event.did {
        Deed::TakenOff { step, item } => list.push(Off {
            key: event.id.to_string(),
            item: item.clone(),
            state: OffState::Off,
            step: step.clone(),
            order,
        }),
        Deed::PutBack { item } => set(list, item, OffState::Back),
        Deed::StaysOff { item, reason } => set(list, item, OffState::StaysOff(reason.clone())),
        _ => {}
    }
}

/// Marks an item. One that a step takes off may be named before the step's own turn comes, so
/// an unknown name is remembered.
fn set(list: &mut Vec<Off>, key: &str, state: OffState) {
    match list.iter_mut().find(|off| off.key == key) {
        Some(off) => off.state = state,
        None => list.push(Off {
            key: key.to_owned(),
            item: Removable {
                what: String::new(),
                place: String::new(),
                orientation: String::new(),
                note: String::new(),
            },
            state,
            step: None,
            order: 0,
        }),
    }
}

/// Adds what the steps take off once they are done, and takes off the list what later steps
/// put back. What was marked by hand stays as it was marked. The list is in the order in which
/// things came off.
pub(in crate::job) fn follow(procedure: &Procedure, steps: &[StepProgress], list: &mut Vec<Off>) {
    let mut marked: Vec<Off> = std::mem::take(list);
    for (step, standing) in procedure.steps().zip(steps) {
        // The hands were at the step: then what it takes off is off.
        let Some(order) = standing.worked else {
            continue;
        };
        for item in &step.takes_off {
            let key = format!("{}/{}", step.id, item.what);
            let by_hand = marked.iter().position(|off| off.key == key);
            let state = by_hand.map_or(OffState::Off, |index| marked.remove(index).state);
            list.push(Off {
                key,
                item: item.clone(),
                state,
                step: Some(step.id.clone()),
                order,
            });
        }
        for name in &step.puts_back {
            let still_off = |off: &&mut Off| off.item.what == *name && off.state == OffState::Off;
            if let Some(off) = list.iter_mut().find(still_off) {
                off.state = OffState::Back;
            }
        }
    }
    // Marks for things that no step took off say nothing.
    marked.retain(|off| !off.item.what.is_empty());
    list.extend(marked);
    list.sort_by_key(|off| off.order);
}
