//! What is left of damaged entries, and who set them aside.

use crate::job::{Damaged, Deed, Log};
use std::collections::HashMap;

/// What is left of a damaged entry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Remains {
    /// How it reads now.
    pub left: Damaged,
    /// Who set it aside, if someone did.
    pub set_aside: Option<SetAside>,
}

/// That a damaged entry keeps nothing from being finished.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetAside {
    /// Who answers for that.
    pub by: String,
    /// Why.
    pub reason: String,
    /// When, by the device's clock.
    pub at: i64,
}

/// All that is left of damaged entries.
pub fn remains(log: &Log) -> Vec<Remains> {
    // Seldom is there any, and then this costs nothing.
    if log.damaged().len() == 0 {
        return Vec::new();
    }
    let undone = log.undone();
    let counting = log.events().filter(|event| !undone.contains(&event.id));
    let set_aside: HashMap<&str, SetAside> = counting
        .filter_map(|event| match &event.did {
            Deed::SetAside { entry, by, reason } => {
                let (by, reason, at) = (by.clone(), reason.clone(), event.at);
                Some((entry.as_str(), SetAside { by, reason, at }))
            }
            _ => None,
        })
        .collect();
    let found = log.damaged().map(|left| Remains {
        set_aside: set_aside.get(left.text().as_str()).cloned(),
        left: left.clone(),
    });
    found.collect()
}
