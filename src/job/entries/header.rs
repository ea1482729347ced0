//! What differs between the details of a job, and how those of now take a change.

use crate::job::{Header, UsedInstrument};
use crate::metrology::instrument::Instrument;
use crate::procedure::Id;

/// A part of a header.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HeaderPart {
    /// The job's number.
    Number,
    /// Make, model or serial number of the set.
    Set,
    /// The owner.
    Owner,
    /// The fault as reported.
    Fault,
    /// The state in which it came.
    Condition,
    /// What came with it.
    Accessories,
    /// Who works on it.
    Technician,
    /// What it is measured with.
    Instruments,
    /// How readings are judged.
    Rule,
    /// The day of the next check.
    NextCheck,
    /// What the work costs.
    Charge,
}

impl Header {
    /// The parts in which two headers differ.
    pub fn differs(&self, other: &Header) -> Vec<HeaderPart> {
        let parts = [
            (HeaderPart::Number, self.number != other.number),
            (HeaderPart::Set, self.set != other.set),
            (HeaderPart::Owner, self.owner != other.owner),
            (HeaderPart::Fault, self.fault != other.fault),
            (HeaderPart::Condition, self.condition != other.condition),
            (
                HeaderPart::Accessories,
                self.accessories != other.accessories,
            ),
            (HeaderPart::Technician, self.technician != other.technician),
            (
                HeaderPart::Instruments,
                self.instruments != other.instruments,
            ),
            (HeaderPart::Rule, self.rule != other.rule),
            (HeaderPart::NextCheck, self.next_check != other.next_check),
            (HeaderPart::Charge, self.charge != other.charge),
        ];
        let differs = parts.into_iter().filter(|(_, differs)| *differs);
        differs.map(|(part, _)| part).collect()
    }
}

impl Header {
    /// This header with what was changed from one to another: what was changed meanwhile, as by
    /// another page, stays.
    pub fn with_changes(&self, from: &Header, to: &Header) -> Header {
        let mut header = self.clone();
        for part in from.differs(to) {
            match part {
                HeaderPart::Number => header.number.clone_from(&to.number),
                HeaderPart::Set => header.set = to.set.clone(),
                HeaderPart::Owner => header.owner.clone_from(&to.owner),
                HeaderPart::Fault => header.fault.clone_from(&to.fault),
                HeaderPart::Condition => header.condition.clone_from(&to.condition),
                HeaderPart::Accessories => header.accessories.clone_from(&to.accessories),
                HeaderPart::Technician => header.technician.clone_from(&to.technician),
                HeaderPart::Instruments => header.take_instruments(from, to),
                HeaderPart::Rule => header.rule = to.rule.clone(),
                HeaderPart::NextCheck => header.next_check = to.next_check,
                HeaderPart::Charge => header.charge = to.charge.clone(),
            }
        }
        header
    }

    /// Fills in what is blank and stays the same from visit to visit: whose set it is, what its plate
    /// says, and what mostly comes along.
    pub fn fill_in(&mut self, last: &Header) {
        let parts = [
            (&mut self.set.make, &last.set.make),
            (&mut self.set.model, &last.set.model),
            (&mut self.set.serial, &last.set.serial),
            (&mut self.owner, &last.owner),
            (&mut self.accessories, &last.accessories),
        ];
        for (now, last) in parts {
            if now.trim().is_empty() {
                now.clone_from(last);
            }
        }
    }

    fn take_instruments(&mut self, from: &Header, to: &Header) {
        let named = from.instruments.iter().chain(&to.instruments);
        for role in named.map(|used| &used.role) {
            if from.used_as(role) != to.used_as(role) {
                let used = to.used_as(role).cloned();
                self.use_instrument(used.unwrap_or_else(|| UsedInstrument::nobody(role.clone())));
            }
        }
    }
}

impl Header {
    /// The instrument of the kit that is used in a role.
    pub fn kit_instrument(&self, role: &Id) -> Option<&Instrument> {
        self.used_as(role)?.record.as_ref()
    }

    /// The instrument that is used in a role, of the kit or not.
    pub fn used_as(&self, role: &Id) -> Option<&UsedInstrument> {
        self.instruments.iter().find(|used| used.role == *role)
    }

    /// Takes an instrument by its name into a role, with the figures of the kit where it is one of
    /// those. No name leaves the role empty.
    pub fn use_instrument(&mut self, used: UsedInstrument) {
        self.instruments.retain(|other| other.role != used.role);
        if !used.name.is_empty() {
            self.instruments.push(used);
            self.instruments.sort_by(|a, b| a.role.cmp(&b.role));
        }
    }

    /// The same header without the names of instruments that have no letter in them.
    pub fn without_blank_names(mut self) -> Self {
        self.instruments.retain(|used| !used.name.trim().is_empty());
        self
    }

    /// Takes the instruments as the kit has them now, for a job that is not started yet.
    pub fn renew_instruments(&mut self, kit: &[Instrument]) {
        for used in &mut self.instruments {
            used.record = kit.iter().find(|one| one.name == used.name).cloned();
        }
    }
}
