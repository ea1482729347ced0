//! What was read, thing by thing, held against the rest of the file.

use crate::exchange::document::{Attempt, Attempts, BackupParts, short_name};
use crate::exchange::{Backup, BackupJob, Document, Faulty, File, Part, Picture};
use crate::procedure::{Id, Procedure, faults};
use std::collections::{HashMap, HashSet};
use std::iter::Enumerate;
use std::vec::IntoIter;

/// What was read of a backup, while it is looked through for what is not sound.
pub(in crate::exchange) struct Checking {
    pub(super) backup: Backup,
    pub(super) faulty: Vec<Faulty>,
    pub(super) procedures: Enumerate<IntoIter<Attempt<Procedure>>>,
    /// Where each sound procedure is in the backup, by its digest.
    places: HashMap<String, usize>,
    pub(super) jobs: Enumerate<IntoIter<Attempt<BackupJob>>>,
    ids: HashSet<Id>,
    pub(super) pictures: Attempts<Picture>,
}

impl Checking {
    pub(in crate::exchange) fn of(parts: BackupParts, pictures: Attempts<Picture>) -> Self {
        let mut faulty = Vec::new();
        let preferences = parts.preferences.and_then(|attempt| {
            let checked = attempt.checked(Part::Preferences, "backup.preferences", |_| Ok(()));
            checked.map_err(|fault| faulty.push(fault)).ok()
        });
        let (kit, channels) = ("backup.kit", "backup.channels");
        let kit = take(&mut faulty, kit, Part::Instrument, parts.kit);
        let channels = take(&mut faulty, channels, Part::Channels, parts.channels);
        let unread = take(&mut faulty, "backup.unread", |_| Part::Kept, parts.unread);
        let backup = Backup {
            preferences,
            kit,
            channels,
            unread,
            ..Backup::default()
        };
        Checking {
            backup,
            faulty,
            procedures: parts.procedures.into_iter().enumerate(),
            places: HashMap::new(),
            jobs: parts.jobs.into_iter().enumerate(),
            ids: HashSet::new(),
            pictures,
        }
    }

    /// Looks at one more thing, if there is one: at the procedures first, which the jobs need.
    pub(super) fn step(&mut self) -> Option<()> {
        if let Some((index, procedure)) = self.procedures.next() {
            self.procedure(index, procedure);
        } else {
            let (index, job) = self.jobs.next()?;
            self.job(index, job);
        }
        Some(())
    }

    pub(super) fn procedure(&mut self, index: usize, attempt: Attempt<Procedure>) {
        let place = format!("backup.procedures[{index}]");
        let mut title = None;
        let checked = attempt.checked(Part::Procedure(index + 1), &place, |procedure| {
            let first = faults(procedure).into_iter().next();
            title = Some(short_name(&procedure.title));
            first.map_or(Ok(()), |fault| Err(fault.to_string()))
        });
        match checked {
            Ok(procedure) => {
                let place = self.backup.procedures.len();
                self.places.insert(procedure.digest(), place);
                self.backup.procedures.push(procedure);
            }
            Err(fault) => self.faulty.push(Faulty {
                name: fault.name.or(title),
                ..fault
            }),
        }
    }

    pub(super) fn job(&mut self, index: usize, attempt: Attempt<BackupJob>) {
        let place = format!("backup.jobs[{index}]");
        let checked = attempt.checked(Part::Job(index + 1), &place, |job| {
            if !self.ids.insert(job.id.clone()) {
                return Err(format!("two jobs have the id “{}”", job.id));
            }
            let Some(procedure) = self.places.get(&job.procedure) else {
                return Err("its procedure is not in the file, or is faulty".to_owned());
            };
            let fault = job.log.fault(&self.backup.procedures[*procedure]);
            let fault = fault.or_else(|| job.log.file_fault());
            fault.map_or(Ok(()), |fault| Err(fault.to_string()))
        });
        match checked {
            Ok(job) => self.backup.jobs.push(job),
            Err(fault) => self.faulty.push(fault),
        }
    }

    /// The file, of which what was not looked at yet is now.
    pub(in crate::exchange) fn end(mut self) -> File {
        while self.step().is_some() {}
        File::of(Document::Backup(self.backup), self.faulty, self.pictures)
    }
}

/// The things of a list that could be read; the others join the faulty ones.
pub(in crate::exchange) fn take<T>(
    faulty: &mut Vec<Faulty>,
    list: &str,
    part: impl Fn(usize) -> Part,
    attempts: Attempts<T>,
) -> Vec<T> {
    let mut things = Vec::new();
    for (index, attempt) in attempts.into_iter().enumerate() {
        let place = format!("{list}[{index}]");
        match attempt.checked(part(index + 1), &place, |_| Ok(())) {
            Ok(thing) => things.push(thing),
            Err(fault) => faulty.push(fault),
        }
    }
    things
}
