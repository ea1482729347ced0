//! The things in a file one by one, faulty ones among them.

use crate::exchange::document::content::short_name;
use crate::exchange::document::content::without_position;
use crate::exchange::document::content::{
    BackupJob, Faulty, MAX_FAULTY, MAX_THINGS, Part, Unread, unsound,
};
use crate::exchange::images::picture::Picture;
use crate::job::entries::place;
use crate::job::{Bounded, Log, Preferences, ReadEvent};
use crate::metrology::instrument::Instrument;
use crate::procedure::{Id, Procedure};
use crate::radio::channels::ChannelTable;
use serde::de::{DeserializeOwned, SeqAccess, Visitor};
use serde::{Deserialize, Deserializer, de};
use serde_json::value::RawValue;
use std::fmt;
use std::marker::PhantomData;

/// The things of a list, faulty ones among them, as many as a file may hold.
pub(in crate::exchange) struct Attempts<T> {
    list: Vec<Attempt<T>>,
    pub(super) faulty: usize,
}

impl<T> Default for Attempts<T> {
    fn default() -> Self {
        Attempts {
            list: Vec::new(),
            faulty: 0,
        }
    }
}

impl<T> Attempts<T> {
    /// Takes another one, or says why it is one too many.
    pub fn push(&mut self, attempt: Attempt<T>) -> Result<(), String> {
        self.faulty += usize::from(attempt.read.is_err());
        if self.faulty > MAX_FAULTY {
            return Err(format!(
                "more than {MAX_FAULTY} things of this list can’t be read: fetch the file again"
            ));
        }
        if self.list.len() == MAX_THINGS {
            return Err(format!(
                "a file may hold {MAX_THINGS} things of a kind: split it"
            ));
        }
        self.list.push(attempt);
        Ok(())
    }
}

impl<T> IntoIterator for Attempts<T> {
    type Item = Attempt<T>;
    type IntoIter = std::vec::IntoIter<Attempt<T>>;

    fn into_iter(self) -> Self::IntoIter {
        self.list.into_iter()
    }
}

impl<'de, T: InFile> Deserialize<'de> for Attempts<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct List<T>(PhantomData<T>);
        impl<'de, T: InFile> Visitor<'de> for List<T> {
            type Value = Attempts<T>;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, "a sequence")
            }

            fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Self::Value, A::Error> {
                let mut attempts = Attempts::default();
                while let Some(attempt) = list.next_element()? {
                    attempts.push(attempt).map_err(de::Error::custom)?;
                }
                Ok(attempts)
            }
        }
        deserializer.deserialize_seq(List(PhantomData))
    }
}

/// A thing in a file, or what keeps it from being one.
pub(in crate::exchange) struct Attempt<T> {
    /// What it calls itself.
    pub(super) name: Option<String>,
    pub(super) read: Result<T, Flaw>,
}

/// What is wrong with a thing.
pub(in crate::exchange) struct Flaw {
    /// Where in the thing, as a path of keys; empty for the whole.
    pub(super) place: String,
    pub(super) what: String,
}

impl<'de, T: InFile> Deserialize<'de> for Attempt<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let raw = Box::<RawValue>::deserialize(deserializer)?;
        let text = raw.get();
        let flaw = match serde_json::from_str(text) {
            Ok(parts) => return Ok(Attempt::of(parts)),
            Err(error) => Flaw {
                place: place::of_error(text, &error),
                what: without_position(&error.to_string()),
            },
        };
        Ok(Attempt {
            name: name_in(text),
            read: Err(flaw),
        })
    }
}

impl<T> Attempt<T> {
    /// What these parts make. A thing whose parts could be read goes by its place.
    pub fn of(parts: T::Parts) -> Self
    where
        T: InFile,
    {
        let read = T::of(parts);
        Attempt { name: None, read }
    }

    /// The thing, if it could be read and is sound.
    pub fn checked(
        self,
        part: Part,
        place: &str,
        sound: impl FnOnce(&T) -> Result<(), String>,
    ) -> Result<T, Faulty> {
        let checked = self.read.and_then(|thing| match sound(&thing) {
            Ok(()) => Ok(thing),
            Err(what) => {
                let place = String::new();
                Err(Flaw { place, what })
            }
        });
        checked.map_err(|flaw| {
            let dot = if flaw.place.is_empty() { "" } else { "." };
            Faulty {
                part,
                name: self.name,
                why: unsound(format!("{place}{dot}{}", flaw.place), flaw.what),
            }
        })
    }
}

/// What a thing calls itself, whatever else is wrong with it.
fn name_in(text: &str) -> Option<String> {
    /// All else is passed over, for it may be long.
    #[derive(Deserialize)]
    struct Named {
        title: Option<String>,
        name: Option<String>,
    }
    let thing: Named = serde_json::from_str(text).ok()?;
    thing.title.or(thing.name).map(|name| short_name(&name))
}

/// The events of a log, each as its text: what is wrong in one has its place there.
pub(super) type RawLog = Bounded<Box<RawValue>>;

/// The log in the texts of its events, which stand at this place.
pub(super) fn log_of(place: &str, events: RawLog) -> Result<Log, Flaw> {
    let read = |(index, event): (usize, Box<RawValue>)| {
        ReadEvent::read(event.get()).map_err(|fault| Flaw {
            place: format!("{place}[{index}]"),
            what: without_position(&fault.to_string()),
        })
    };
    let events = events.0.into_iter().enumerate().map(read);
    let events: Vec<ReadEvent> = events.collect::<Result<_, _>>()?;
    Log::from_file(events).map_err(|fault| Flaw {
        place: place.to_owned(),
        what: fault.to_string(),
    })
}

/// Something that can be in a file among others.
pub(in crate::exchange) trait InFile: Sized {
    /// What is read of it.
    type Parts: DeserializeOwned;

    /// The thing that its parts make.
    fn of(parts: Self::Parts) -> Result<Self, Flaw>;
}

macro_rules! in_file {
    ($($thing:ty),*) => {
        $(impl InFile for $thing {
            type Parts = Self;

            fn of(parts: Self) -> Result<Self, Flaw> {
                Ok(parts)
            }
        })*
    };
}

in_file!(
    Preferences,
    Instrument,
    ChannelTable,
    Procedure,
    Unread,
    Picture
);

/// A job in a backup as it is read.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::exchange) struct BackupJobParts {
    pub(super) id: Id,
    pub(super) procedure: String,
    pub(super) log: RawLog,
}

impl InFile for BackupJob {
    type Parts = BackupJobParts;

    fn of(BackupJobParts { id, procedure, log }: BackupJobParts) -> Result<Self, Flaw> {
        let log = log_of("log", log)?;
        Ok(BackupJob { id, procedure, log })
    }
}

/// The content of a backup as it is read.
#[derive(Default, Deserialize)]
#[serde(default, rename_all = "kebab-case", deny_unknown_fields)]
pub(in crate::exchange) struct BackupParts {
    pub preferences: Option<Attempt<Preferences>>,
    pub kit: Attempts<Instrument>,
    pub channels: Attempts<ChannelTable>,
    pub procedures: Attempts<Procedure>,
    pub jobs: Attempts<BackupJob>,
    pub unread: Attempts<Unread>,
}
