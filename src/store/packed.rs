//! Logs packed small: years of finished jobs have to fit into what a browser gives.
//!
//! The events are taken apart into columns, since what stands in a column is alike: ids, then
//! for each event how far its number and its time are behind those before it, and what was
//! done. Each part is deflated (RFC 1951) and written with 15 bits in a letter: browsers count
//! UTF-16 code units, or two bytes for each, so this holds more than base64 in all of them.
//!
//! One check stands for the whole: a damaged letter spoils all that is packed behind it, so checks
//! of single events would take room and save nothing.

use crate::job::{
    Bounded, Damaged, Deed, Event, Log, LogFault, MAX_EVENTS, ReadEvent, check_of, too_many,
};
use crate::procedure::Id;
use miniz_oxide::deflate;
use miniz_oxide::inflate::{self, TINFLStatus};
use serde::{Deserialize, Serialize};
use std::collections::HashSet;

/// How hard to try: more than this takes longer and gains nothing.
const LEVEL: u8 = 9;
/// No honest log is longer when unpacked. A forged one must not fill the memory, nor take long.
const MAX_BYTES: usize = 8 << 20;
/// The first of the 2¹⁵ letters. Up to the last, U+BFFF, there is no surrogate, so a browser
/// that passes the text on in another encoding keeps it as it is.
const FIRST_LETTER: u32 = 0x4000;
const BITS: u32 = 15;
/// Between ids, which hold no control characters, and between the two parts and the check.
const BETWEEN_IDS: char = '\n';
const BETWEEN_PARTS: char = '.';

/// All of the events but their ids, and what is left of damaged ones.
#[derive(Serialize)]
struct Columns<'a> {
    seq: Vec<i64>,
    at: Vec<i64>,
    did: Vec<&'a Deed>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    damaged: Vec<&'a Damaged>,
}

/// The same as it is read, each part no further than any log is long.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ReadColumns {
    seq: Bounded<i64>,
    at: Bounded<i64>,
    did: Bounded<Deed>,
    #[serde(default)]
    damaged: Bounded<ReadEvent>,
}

/// The log as a text.
pub(super) fn pack(log: &Log) -> String {
    let ids: Vec<&str> = log.events().map(|event| event.id.as_str()).collect();
    let columns = Columns {
        seq: steps(log.events().map(|event| event.seq as i64)),
        at: steps(log.events().map(|event| event.at)),
        did: log.events().map(|event| &event.did).collect(),
        damaged: log.damaged().collect(),
    };
    let ids = ids.join(&BETWEEN_IDS.to_string());
    let rest = super::records::json(&columns);
    let parts = format!("{}{BETWEEN_PARTS}{}", squeeze(&ids), squeeze(&rest));
    let check = check_of(&parts);
    format!("{parts}{BETWEEN_PARTS}{check}")
}

/// The log in such a text, or why there is none.
pub(super) fn unpack(text: &str) -> Result<Log, String> {
    let (ids, rest) = text
        .split_once(BETWEEN_PARTS)
        .ok_or("the packed log has no second part")?;
    // Until there were checks, none stood behind the parts.
    let (rest, is_checked) = match rest.split_once(BETWEEN_PARTS) {
        None => (rest, false),
        Some((rest, check)) if check_of(&text[..text.len() - check.len() - 1]) == check => {
            (rest, true)
        }
        Some(_) => return Err("the packed log is not what its check says".to_owned()),
    };
    let ids = ids_in(ids)?;
    let ReadColumns {
        seq: Bounded(seq),
        at: Bounded(at),
        did: Bounded(did),
        damaged: Bounded(damaged),
    } = serde_json::from_str(&expand(rest)?).map_err(|error| {
        let why = error.to_string();
        // Nothing happened to it, so this version does not know it yet.
        match is_checked && why.starts_with("unknown") {
            true => LogFault::Newer.to_string(),
            false => why,
        }
    })?;
    let counts = [seq.len(), at.len(), did.len()];
    if counts.iter().any(|count| *count != ids.len()) {
        return Err("the columns of the packed log differ in length".to_owned());
    }
    let numbers = sums(&seq).zip(sums(&at));
    let events: Result<Vec<Event>, String> = ids
        .into_iter()
        .zip(numbers)
        .zip(did)
        .map(|((id, (seq, at)), did)| {
            Ok(Event {
                id,
                seq: u64::try_from(seq).map_err(|error| error.to_string())?,
                at,
                did,
            })
        })
        .collect();
    let log = Log::from_events(events?).map_err(|fault| fault.to_string())?;
    let damaged = Log::from_checked(damaged).map_err(|fault| fault.to_string())?;
    Ok(log.merge(&damaged))
}

/// The ids in the first part, each once. Looked at before the second part is expanded, so that
/// little is done for a log that none can be.
fn ids_in(text: &str) -> Result<Vec<Id>, String> {
    let text = expand(text)?;
    if text.split_terminator(BETWEEN_IDS).count() > MAX_EVENTS {
        return Err(too_many());
    }
    let ids = text.split_terminator(BETWEEN_IDS).map(str::parse);
    let ids: Result<Vec<Id>, _> = ids.collect();
    let ids = ids.map_err(|error| error.to_string())?;
    let mut seen = HashSet::with_capacity(ids.len());
    match ids.iter().find(|id| !seen.insert(*id)) {
        Some(twice) => Err(LogFault::Twice(twice.clone()).to_string()),
        None => Ok(ids),
    }
}

/// How far each number is behind the one before it, wrapping where a wrong clock jumped far.
fn steps(numbers: impl Iterator<Item = i64>) -> Vec<i64> {
    let mut before = 0i64;
    numbers
        .map(|number| {
            let step = number.wrapping_sub(before);
            before = number;
            step
        })
        .collect()
}

fn sums(steps: &[i64]) -> impl Iterator<Item = i64> {
    steps.iter().scan(0i64, |sum, step| {
        *sum = sum.wrapping_add(*step);
        Some(*sum)
    })
}

fn squeeze(text: &str) -> String {
    letters(&deflate::compress_to_vec(text.as_bytes(), LEVEL))
}

fn expand(text: &str) -> Result<String, String> {
    let bytes = bytes(text).ok_or("the packed log has a letter that none has")?;
    let bytes = inflate::decompress_to_vec_with_limit(&bytes, MAX_BYTES).map_err(|error| {
        match error.status {
            TINFLStatus::HasMoreOutput => {
                format!("the packed log is longer than {} MB", MAX_BYTES >> 20)
            }
            _ => error.to_string(),
        }
    })?;
    String::from_utf8(bytes).map_err(|error| error.to_string())
}

/// The bits of the bytes in letters, the last one filled up with noughts.
fn letters(bytes: &[u8]) -> String {
    let letter = |value: u32| char::from_u32(FIRST_LETTER + value).unwrap_or_default();
    let (mut held, mut count) = (0u32, 0u32);
    let mut text = String::new();
    for byte in bytes {
        held = held << 8 | u32::from(*byte);
        count += 8;
        if count >= BITS {
            count -= BITS;
            text.push(letter(held >> count));
            held &= (1 << count) - 1;
        }
    }
    if count > 0 {
        text.push(letter(held << (BITS - count)));
    }
    text
}

/// The bytes again. What the last letter was filled up with may give one more; a deflated text
/// says itself where it ends.
fn bytes(text: &str) -> Option<Vec<u8>> {
    let (mut held, mut count) = (0u32, 0u32);
    let mut bytes = Vec::new();
    for letter in text.chars() {
        let value = u32::from(letter).checked_sub(FIRST_LETTER)?;
        if value >> BITS != 0 {
            return None;
        }
        held = held << BITS | value;
        count += BITS;
        while count >= 8 {
            count -= 8;
            bytes.push((held >> count) as u8);
            held &= (1 << count) - 1;
        }
    }
    Some(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_that_unpacks_to_more_than_any_log_is_given_up() {
        let most = "a".repeat(MAX_BYTES);
        assert_eq!(expand(&squeeze(&most)), Ok(most));
        let bomb = squeeze(&"a".repeat(4 * MAX_BYTES));
        assert!(bomb.chars().count() < MAX_BYTES / 100, "a bomb is small");
        let refused = expand(&bomb).unwrap_err();
        assert_eq!(refused, "the packed log is longer than 8 MB");
    }

    fn of_parts(ids: &str, columns: &str) -> String {
        format!("{}{BETWEEN_PARTS}{}", squeeze(ids), squeeze(columns))
    }

    fn ids(count: usize) -> String {
        let ids: Vec<String> = (0..count).map(|number| number.to_string()).collect();
        ids.join("\n")
    }

    #[test]
    fn more_entries_than_any_log_has_are_given_up_before_what_they_say_is_expanded() {
        for text in ["a\n".repeat(4 * MAX_EVENTS), ids(MAX_EVENTS + 1)] {
            let refused = unpack(&of_parts(&text, "no columns")).unwrap_err();
            assert!(refused.contains("more than 65536 entries"), "{refused}");
        }
        let twice = unpack(&of_parts("a\nb\na", "no columns")).unwrap_err();
        assert_eq!(twice, "two events have the id “a”");
    }

    #[test]
    fn a_column_is_read_no_further_than_any_log_is_long() {
        let many = |one: &str| vec![one; MAX_EVENTS + 1].join(",");
        for (column, one) in [
            ("seq", "1"),
            ("at", "1"),
            ("did", "\"paused\""),
            ("damaged", r#"{"id":"a","seq":1,"at":1,"did":"paused"}"#),
        ] {
            // Nothing behind it is looked at.
            let columns = format!("{{\"{column}\":[{},!", many(one));
            let refused = unpack(&of_parts("a", &columns)).unwrap_err();
            assert!(refused.contains("more than 65536 entries"), "{refused}");
        }
    }

    #[test]
    fn a_log_as_long_as_any_is_read() {
        let numbers = vec!["1"; MAX_EVENTS].join(",");
        let deeds = vec!["\"paused\""; MAX_EVENTS].join(",");
        let columns = format!("{{\"seq\":[{numbers}],\"at\":[{numbers}],\"did\":[{deeds}]}}");
        let log = unpack(&of_parts(&ids(MAX_EVENTS), &columns)).expect("a log");
        assert!(log.is_readable() && !log.has_room());
    }
}
