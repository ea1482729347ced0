//! Which instrument played which role when.

use crate::job::{Header, Heard, UsedInstrument};
use crate::procedure::Id;
use crate::quantity::Quantity;
use std::sync::Arc;

/// The instruments of a job, each from the place in the log on where it took up its role.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct InForce {
    /// In the order of the log; the first of each role is from its beginning.
    spells: Vec<Spell>,
    /// What was said anew of a spell.
    pub(in crate::job::fold) restated: Vec<Restated>,
    /// The device itself, for the one reading that it took at each place in the log.
    heard: Vec<(usize, Arc<UsedInstrument>)>,
    /// The same as the log has it.
    told: Vec<(usize, Id, Heard, Quantity)>,
}

/// Of what was read with an instrument it was said afterwards that it had been another, or that its
/// figures were others.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Restated {
    /// The role.
    pub role: Id,
    /// What the instrument was called before, if anything.
    pub was: Option<String>,
    /// What it is called since, if anything.
    pub is: Option<String>,
    /// Where in the log that was said.
    pub said: usize,
    /// From where in the log on it tells of readings.
    pub(in crate::job::fold) from: usize,
}

/// How long a role is played by one instrument: until the next spell of the same role.
#[derive(Clone, Debug, PartialEq)]
struct Spell {
    pub(super) role: Id,
    /// The place in the log where it begins.
    pub(super) from: usize,
    /// The instrument, or none that was named.
    pub(super) used: Option<Arc<UsedInstrument>>,
}

impl InForce {
    /// The instrument that played a role at a place in the log; `None` where nobody named one.
    pub fn at(&self, role: &Id, order: usize) -> Option<&Arc<UsedInstrument>> {
        let heard = self.heard.binary_search_by_key(&order, |(place, _)| *place);
        let heard = heard.ok().map(|at| &self.heard[at].1);
        if let Some(used) = heard.filter(|used| used.role == *role) {
            return Some(used);
        }
        self.played(role, order)
    }

    /// The instrument that played a role at a place in the log, whether or not the device took what
    /// was read there.
    pub fn played(&self, role: &Id, order: usize) -> Option<&Arc<UsedInstrument>> {
        let mut spells = self.spells.iter().rev();
        let spell = spells.find(|spell| spell.role == *role && spell.from <= order)?;
        spell.used.as_ref()
    }

    /// The place in the log since which the role is played by the instrument of now; 0 where it
    /// has been from the beginning.
    pub fn since(&self, role: &Id) -> usize {
        let mut spells = self.spells.iter().rev();
        let spell = spells.find(|spell| spell.role == *role);
        spell.map_or(0, |spell| spell.from)
    }

    /// Takes what a header says. It tells with what the work is done since each instrument took up
    /// its role, so that what was said of it before is put right.
    pub(in crate::job) fn state(&mut self, header: &Header, order: usize) {
        let named = header.instruments.iter().map(|used| &used.role);
        let known = self.spells.iter().map(|spell| &spell.role);
        let mut roles: Vec<Id> = named.chain(known).cloned().collect();
        roles.sort();
        roles.dedup();
        for role in roles {
            let said = header.used_as(&role);
            let spell = self.present_mut(&role);
            if spell.used.as_deref() == said {
                continue;
            }
            let before = std::mem::replace(&mut spell.used, said.cloned().map(Arc::new));
            let from = spell.from;
            self.restated.push(Restated {
                role,
                was: before.map(|used| used.name.clone()),
                is: said.map(|used| used.name.clone()),
                said: order,
                from,
            });
        }
    }

    /// The spell of now of a role; one from the beginning on where there is none yet.
    fn present_mut(&mut self, role: &Id) -> &mut Spell {
        let known = self.spells.iter().rposition(|spell| spell.role == *role);
        let place = known.unwrap_or(self.spells.len());
        if known.is_none() {
            self.spells.push(Spell {
                role: role.clone(),
                from: 0,
                used: None,
            });
        }
        &mut self.spells[place]
    }

    /// Another instrument takes up its role; one without a name leaves the role to nobody.
    pub(in crate::job) fn take_up(&mut self, order: usize, used: &UsedInstrument) {
        let is_named = !used.name.trim().is_empty();
        self.spells.push(Spell {
            role: used.role.clone(),
            from: order,
            used: is_named.then(|| Arc::new(used.clone())),
        });
    }

    /// The device took a reading itself, in this role. Places come in the order of the log.
    pub(in crate::job) fn hear(
        &mut self,
        order: usize,
        role: &Id,
        heard: &Heard,
        value: &Quantity,
    ) {
        self.told
            .push((order, role.clone(), heard.clone(), value.clone()));
    }

    /// Works out what took those readings, once it is known what played each role.
    pub(in crate::job) fn settle(&mut self) {
        let told = std::mem::take(&mut self.told);
        let used = told.iter().map(|(order, role, heard, value)| {
            let with = self.at(role, *order).map(Arc::as_ref);
            (*order, Arc::new(heard.as_used(role, value, with)))
        });
        self.heard = used.collect();
        self.told = told;
    }

    /// Takes over from what was known before what is the same, so that comparing is quick.
    pub(in crate::job) fn keep(&mut self, before: &InForce) {
        for (spell, known) in self.spells.iter_mut().zip(&before.spells) {
            if spell.used == known.used {
                spell.used.clone_from(&known.used);
            }
        }
        for (one, known) in self.heard.iter_mut().zip(&before.heard) {
            if one == known {
                one.1.clone_from(&known.1);
            }
        }
    }
}
