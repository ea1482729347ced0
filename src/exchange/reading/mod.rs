//! A file read thing by thing, so that a long one holds nothing up.
//!
//! What is long is a backup as the app writes it. Its frame is walked through here, each thing
//! in it is read by itself. Any other file, and one whose frame is odd or broken, is read as a
//! whole in `document.rs`, which also says what is wrong with it.

mod checking;

pub(super) use self::checking::{Checking, take};

use super::document::{
    Attempt, Attempts, BACKUP, BackupParts, InFile, MAX_BYTES, VERSION, open_whole,
};
use super::{DocumentError, File, Picture};
use serde::Deserialize;
use serde_json::Deserializer;

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

#[cfg(test)]
mod tests;
