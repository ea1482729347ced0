//! Lists that come from outside, read no further than any log is long.

use serde::de::{Error, SeqAccess, Visitor};
use serde::{Deserialize, Deserializer};
use std::fmt;
use std::marker::PhantomData;

/// The most entries that a log may have. The storage that browsers usually give holds fewer of
/// the shortest, before a job is finished and packed: 5 × 2²⁰ code units, some 90 for each.
pub const MAX_EVENTS: usize = 1 << 16;

/// A list that is given up as soon as it is longer than any log.
#[derive(Clone, Debug)]
pub struct Bounded<T>(pub Vec<T>);

impl<T> Default for Bounded<T> {
    fn default() -> Self {
        Bounded(Vec::new())
    }
}

/// What is said of more.
pub fn too_many() -> String {
    format!("it has more than {MAX_EVENTS} entries, which no job here has: fetch the file again")
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Bounded<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct List<T>(PhantomData<T>);
        impl<'de, T: Deserialize<'de>> Visitor<'de> for List<T> {
            type Value = Bounded<T>;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a sequence")
            }

            fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Self::Value, A::Error> {
                let mut all = Vec::new();
                while let Some(one) = list.next_element()? {
                    if all.len() == MAX_EVENTS {
                        return Err(A::Error::custom(too_many()));
                    }
                    all.push(one);
                }
                Ok(Bounded(all))
            }
        }
        deserializer.deserialize_seq(List(PhantomData))
    }
}
