//! A file read thing by thing, so that a long one holds nothing up.
//!
//! What is long is a backup as the app writes it. Its frame is walked through here, each thing
//! in it is read by itself. Any other file, and one whose frame is odd or broken, is read as a
//! whole in `document.rs`, which also says what is wrong with it.

use super::document::{
    Attempt, Attempts, BACKUP, BackupParts, InFile, MAX_BYTES, VERSION, open_whole, short_name,
};
use super::{Backup, DocumentError, Faulty, File, Part, Picture};
use crate::exchange::{BackupJob, Document};
use crate::procedure::{Id, Procedure, faults};
use serde::Deserialize;
use serde_json::Deserializer;
use std::collections::{HashMap, HashSet};
use std::iter::Enumerate;
use std::vec::IntoIter;

/// Reads a file of any version up to ours, as far as it can be taken.
pub fn open(text: &str) -> Result<File, DocumentError> {
    let mut reading = Reading::of(text);
    reading.by_ref().for_each(drop);
    reading.end()
}

/// A file that is being read. Each item is a further thing that was read or checked, and says
/// how many bytes of the text lie behind. Once there are no more, `end` gives the file.
pub struct Reading<'t> {
    text: &'t str,
    at: usize,
    stage: Stage,
}

enum Stage {
    Walking(Box<Walk>),
    Checking(Box<Checking>),
    /// There is nothing to go through.
    Whole,
}

/// What was read so far, and what is read now.
#[derive(Default)]
struct Walk {
    place: Place,
    /// Whether nothing stands before this in the object or the list.
    is_first: bool,
    /// The keys that were met.
    keys: Vec<Key>,
    parts: BackupParts,
    pictures: Attempts<Picture>,
}

/// The keys of a backup's frame.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Key {
    Type,
    Version,
    Backup,
    Preferences,
    Kit,
    Channels,
    Procedures,
    Jobs,
    Unread,
    Pictures,
}

#[derive(Clone, Copy, Default)]
enum Place {
    /// Before all.
    #[default]
    Start,
    /// In the object that is the whole file.
    File,
    /// In the object under `backup`.
    Backup,
    /// In the list under this key.
    List(Key),
    /// Behind all.
    End,
}

/// The file is not a backup as the app writes it.
struct Odd;

impl<'t> Reading<'t> {
    /// Begins to read a text.
    pub fn of(text: &'t str) -> Self {
        let stage = match text.len() > MAX_BYTES {
            true => Stage::Whole,
            false => Stage::Walking(Box::default()),
        };
        let start = text.trim_start_matches('\u{feff}');
        Reading {
            text,
            at: text.len() - start.len(),
            stage,
        }
    }

    /// The file, of which what was not gone through yet is read now.
    pub fn end(mut self) -> Result<File, DocumentError> {
        self.by_ref().for_each(drop);
        match self.stage {
            Stage::Checking(checking) => Ok(checking.end()),
            _ => open_whole(self.text),
        }
    }

    /// Goes on by one thing; false behind the last one.
    fn walk(&mut self, walk: &mut Walk) -> Result<bool, Odd> {
        self.skip_blanks();
        match walk.place {
            Place::Start => {
                self.expect(b'{')?;
                walk.enter(Place::File);
            }
            Place::File => match self.has_more(walk, b'}')? {
                true => self.file_entry(walk)?,
                false => walk.place = Place::End,
            },
            Place::Backup => match self.has_more(walk, b'}')? {
                true => self.backup_entry(walk)?,
                false => walk.leave(Place::File),
            },
            Place::List(key) => match self.has_more(walk, b']')? {
                true => self.list_entry(walk, key)?,
                false => walk.leave(key.place()),
            },
            Place::End => {
                let needed = [Key::Type, Key::Version, Key::Backup];
                let has_all = needed.iter().all(|key| walk.keys.contains(key));
                return match has_all && self.at == self.text.len() {
                    true => Ok(false),
                    false => Err(Odd),
                };
            }
        }
        Ok(true)
    }

    fn file_entry(&mut self, walk: &mut Walk) -> Result<(), Odd> {
        match self.key(walk)? {
            Key::Type if self.plain::<String>()? == BACKUP => {}
            Key::Version if (1..=VERSION).contains(&self.plain::<u32>()?) => {}
            Key::Backup => {
                self.expect(b'{')?;
                walk.enter(Place::Backup);
            }
            Key::Pictures => self.enter_list(walk, Key::Pictures)?,
            _ => return Err(Odd),
        }
        Ok(())
    }

    fn backup_entry(&mut self, walk: &mut Walk) -> Result<(), Odd> {
        match self.key(walk)? {
            Key::Preferences => walk.parts.preferences = self.plain()?,
            key if matches!(key.place(), Place::Backup) => self.enter_list(walk, key)?,
            _ => return Err(Odd),
        }
        Ok(())
    }

    fn enter_list(&mut self, walk: &mut Walk, key: Key) -> Result<(), Odd> {
        self.expect(b'[')?;
        walk.enter(Place::List(key));
        Ok(())
    }

    fn list_entry(&mut self, walk: &mut Walk, list: Key) -> Result<(), Odd> {
        let parts = &mut walk.parts;
        let pushed = match list {
            Key::Kit => parts.kit.push(self.attempt()?),
            Key::Channels => parts.channels.push(self.attempt()?),
            Key::Procedures => parts.procedures.push(self.attempt()?),
            Key::Jobs => parts.jobs.push(self.attempt()?),
            Key::Unread => parts.unread.push(self.attempt()?),
            Key::Pictures => walk.pictures.push(self.attempt()?),
            _ => return Err(Odd),
        };
        // What is one too many is told by whoever reads the file as a whole.
        pushed.map_err(|_| Odd)
    }

    /// Whether another entry follows before the end of the object or the list, which is passed.
    fn has_more(&mut self, walk: &mut Walk, end: u8) -> Result<bool, Odd> {
        if self.eats(end) {
            return Ok(false);
        }
        if !std::mem::take(&mut walk.is_first) {
            self.expect(b',')?;
            self.skip_blanks();
        }
        Ok(true)
    }

    /// A key that was not there before, and its colon.
    fn key(&mut self, walk: &mut Walk) -> Result<Key, Odd> {
        let key = Key::of(&self.plain::<String>()?).ok_or(Odd)?;
        if walk.keys.contains(&key) {
            return Err(Odd);
        }
        walk.keys.push(key);
        self.skip_blanks();
        self.expect(b':')?;
        self.skip_blanks();
        Ok(key)
    }

    /// Something that says itself what is wrong with it.
    fn plain<T: for<'de> Deserialize<'de>>(&mut self) -> Result<T, Odd> {
        let mut things = Deserializer::from_str(&self.text[self.at..]).into_iter();
        let thing = things.next().and_then(Result::ok).ok_or(Odd)?;
        self.at += things.byte_offset();
        Ok(thing)
    }

    /// Something that may be faulty. Where nothing is wrong with it, it is not set apart as a text
    /// first.
    fn attempt<T: InFile>(&mut self) -> Result<Attempt<T>, Odd> {
        match self.plain::<T::Parts>() {
            Ok(parts) => Ok(Attempt::of(parts)),
            Err(Odd) => self.plain(),
        }
    }

    fn skip_blanks(&mut self) {
        let rest = &self.text.as_bytes()[self.at..];
        let blanks = rest
            .iter()
            .take_while(|b| matches!(b, b' ' | b'\n' | b'\r' | b'\t'));
        self.at += blanks.count();
    }

    fn eats(&mut self, byte: u8) -> bool {
        let is_there = self.text.as_bytes().get(self.at) == Some(&byte);
        self.at += usize::from(is_there);
        is_there
    }

    fn expect(&mut self, byte: u8) -> Result<(), Odd> {
        self.eats(byte).then_some(()).ok_or(Odd)
    }
}

impl Iterator for Reading<'_> {
    type Item = usize;

    fn next(&mut self) -> Option<usize> {
        match std::mem::replace(&mut self.stage, Stage::Whole) {
            Stage::Walking(mut walk) => match self.walk(&mut walk) {
                Ok(true) => self.stage = Stage::Walking(walk),
                Ok(false) => {
                    let checking = Checking::of(walk.parts, walk.pictures);
                    self.stage = Stage::Checking(Box::new(checking));
                }
                Err(Odd) => return None,
            },
            Stage::Checking(mut checking) => {
                let went_on = checking.step();
                self.stage = Stage::Checking(checking);
                went_on?;
            }
            Stage::Whole => return None,
        }
        Some(self.at)
    }
}

impl Walk {
    fn enter(&mut self, place: Place) {
        self.place = place;
        self.is_first = true;
    }

    fn leave(&mut self, back_to: Place) {
        self.place = back_to;
        self.is_first = false;
    }
}

impl Key {
    fn of(text: &str) -> Option<Key> {
        Some(match text {
            "type" => Key::Type,
            "version" => Key::Version,
            "backup" => Key::Backup,
            "preferences" => Key::Preferences,
            "kit" => Key::Kit,
            "channels" => Key::Channels,
            "procedures" => Key::Procedures,
            "jobs" => Key::Jobs,
            "unread" => Key::Unread,
            "pictures" => Key::Pictures,
            _ => return None,
        })
    }

    /// Where it stands.
    fn place(self) -> Place {
        match self {
            Key::Type | Key::Version | Key::Backup | Key::Pictures => Place::File,
            _ => Place::Backup,
        }
    }
}

/// What was read of a backup, while it is looked through for what is not sound.
pub(super) struct Checking {
    backup: Backup,
    faulty: Vec<Faulty>,
    procedures: Enumerate<IntoIter<Attempt<Procedure>>>,
    /// Where each sound procedure is in the backup, by its digest.
    places: HashMap<String, usize>,
    jobs: Enumerate<IntoIter<Attempt<BackupJob>>>,
    ids: HashSet<Id>,
    pictures: Attempts<Picture>,
}

impl Checking {
    pub(super) fn of(parts: BackupParts, pictures: Attempts<Picture>) -> Self {
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
    fn step(&mut self) -> Option<()> {
        if let Some((index, procedure)) = self.procedures.next() {
            self.procedure(index, procedure);
        } else {
            let (index, job) = self.jobs.next()?;
            self.job(index, job);
        }
        Some(())
    }

    fn procedure(&mut self, index: usize, attempt: Attempt<Procedure>) {
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

    fn job(&mut self, index: usize, attempt: Attempt<BackupJob>) {
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
    pub(super) fn end(mut self) -> File {
        while self.step().is_some() {}
        File::of(Document::Backup(self.backup), self.faulty, self.pictures)
    }
}

/// The things of a list that could be read; the others join the faulty ones.
pub(super) fn take<T>(
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exchange::document::{MAX_FAULTY, MAX_THINGS};
    use crate::exchange::{demo, write_with};
    use crate::job::{Job, Preferences};
    use proptest::prelude::*;
    use proptest::sample::Index;

    fn text() -> String {
        let procedure = demo::procedure().expect("the demo's procedure");
        let job = |id: &str| {
            let stamp = crate::job::Stamp {
                id: "e1".parse().expect("an id"),
                at: 1,
            };
            let id = id.parse().expect("an id");
            Job::open(id, procedure.clone(), Default::default(), stamp)
        };
        let jobs = vec![job("a"), job("b"), job("c")];
        let backup = Backup::of(Preferences::default(), Vec::new(), Vec::new(), jobs);
        let picture = Picture::of(b"\xff\xd8\xff\xe0 and so on".to_vec()).expect("a picture");
        write_with(&Document::Backup(backup), &[picture])
    }

    /// The same with its keys in another order and no blanks: the jobs stand before their
    /// procedure.
    fn sorted(text: &str) -> String {
        let value: serde_json::Value = serde_json::from_str(text).expect("JSON");
        value.to_string()
    }

    fn walks(text: &str) -> bool {
        let mut reading = Reading::of(text);
        reading.by_ref().for_each(drop);
        matches!(reading.stage, Stage::Checking(_))
    }

    #[test]
    fn a_backup_is_read_thing_by_thing_in_whatever_order_its_keys_are() {
        for text in [text(), sorted(&text()), format!("\u{feff} {}", text())] {
            assert!(walks(&text));
            let things = Reading::of(&text).count();
            assert!(things >= 2 * 3 + 2, "{things}");
            assert_eq!(open(&text), open_whole(&text));
        }
    }

    #[test]
    fn an_odd_frame_is_left_to_whoever_says_what_is_wrong_with_it() {
        let good = text();
        for (part, other) in [
            ("\"version\": 3", "\"version\": 4"),
            ("\"version\": 3", "\"version\": 3, \"version\": 3"),
            ("\"backup\": {", "\"backup\": {}, \"backup\": {"),
            ("\"jobs\": [", "\"jobs\": [], \"jobs\": ["),
            ("\"jobs\": [", "\"mood\": 1, \"jobs\": ["),
            ("\"pictures\": [", "\"backup\": ["),
            ("halfturn-backup", "halfturn-job"),
            ("{\n  \"type\"", "{,\n  \"type\""),
            ("}\n", "},\n"),
        ] {
            assert!(good.contains(part), "{part}");
            let text = good.replacen(part, other, 1);
            assert!(!walks(&text), "{other}");
            assert_eq!(open(&text), open_whole(&text), "{other}");
        }
    }

    /// A backup with a list in it of so many things that have nothing in them.
    fn hollow(list: &str, count: usize) -> String {
        let things = vec!["{}"; count].join(",");
        let (before, after) = match list {
            "pictures" => (r#""backup":{},"#, ""),
            _ => (r#""backup":{"#, "}"),
        };
        format!(r#"{{"type":"{BACKUP}","version":2,{before}"{list}":[{things}]{after}}}"#)
    }

    #[test]
    fn a_list_of_nothing_but_faults_is_given_up_at_a_limit() {
        for list in ["kit", "channels", "procedures", "jobs", "pictures"] {
            let text = hollow(list, 20_000);
            let steps = Reading::of(&text).count();
            assert!(steps < MAX_FAULTY + 10, "{list}: {steps}");
            let place = if list == "pictures" { "" } else { "backup." };
            assert_eq!(
                open(&text).unwrap_err().to_string(),
                format!(
                    "Something in the file is not right at {place}{list}[10000]: more than 10000 things of this list can’t be read: fetch the file again"
                )
            );
            let file = open(&hollow(list, MAX_FAULTY)).expect("as many as are told");
            assert_eq!(file.faulty.len(), MAX_FAULTY);
        }
    }

    #[test]
    fn more_things_than_any_storage_holds_are_refused() {
        let mut list = Attempts::<Preferences>::default();
        for _ in 0..MAX_THINGS {
            assert_eq!(list.push(Attempt::of(Preferences::default())), Ok(()));
        }
        let refused = list.push(Attempt::of(Preferences::default())).unwrap_err();
        assert!(refused.contains("100000"), "{refused}");
        assert_eq!(list.into_iter().count(), MAX_THINGS);
    }

    proptest! {
        #[test]
        fn a_damaged_backup_is_read_as_it_is_as_a_whole(
            compact in any::<bool>(),
            changes in prop::collection::vec((any::<Index>(), "[\\[\\]{},:\"\\\\ a0n]{0,2}"), 1..3),
        ) {
            let mut text = if compact { sorted(&text()) } else { text() };
            for (place, other) in changes {
                let place = place.index(text.len());
                let start = (0..=place).rev().find(|at| text.is_char_boundary(*at));
                let start = start.unwrap_or_default();
                let end = (start + 1..=text.len()).find(|at| text.is_char_boundary(*at));
                text.replace_range(start..end.unwrap_or(start), &other);
            }
            prop_assert_eq!(open(&text), open_whole(&text));
        }
    }
}
