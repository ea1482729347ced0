//! Logs packed small: years of finished jobs have to fit into what a browser gives.
//!
//! The events are taken apart into columns, since what stands in a column is alike: ids, then
//! for each event how far its number and its time are behind those before it, and what was
//! done. Each part is deflated (RFC 1951) and written with 15 bits in a letter: browsers count
//! UTF-16 code units, or two bytes for each, so this holds more than base64 in all of them.
//!
//! One check stands for the whole: a damaged letter spoils all that is packed behind it, so checks
//! of single events would take room and save nothing.

use crate::job::{Damaged, Deed, Event, Log, ReadEvent, check_of};
use miniz_oxide::deflate;
use miniz_oxide::inflate::{self, TINFLStatus};
use serde::{Deserialize, Serialize};

/// How hard to try: more than this takes longer and gains nothing.
const LEVEL: u8 = 9;
/// No honest log is longer when unpacked: this holds some 30,000 readings. A forged one must not
/// fill the memory, nor take long.
const MAX_BYTES: usize = 8 << 20;
/// The first of the 2¹⁵ letters. Up to the last, U+BFFF, there is no surrogate, so a browser
/// that passes the text on in another encoding keeps it as it is.
const FIRST_LETTER: u32 = 0x4000;
const BITS: u32 = 15;
/// Between ids, which hold no control characters, and between the two parts and the check.
const BETWEEN_IDS: char = '\n';
const BETWEEN_PARTS: char = '.';

/// All of the events but their ids, and what is left of damaged ones.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Columns<D> {
    seq: Vec<i64>,
    at: Vec<i64>,
    did: Vec<Deed>,
    #[serde(default = "Vec::new", skip_serializing_if = "Vec::is_empty")]
    damaged: Vec<D>,
}

/// The log as a text.
pub(super) fn pack(log: &Log) -> String {
    let ids: Vec<&str> = log.events().map(|event| event.id.as_str()).collect();
    let columns: Columns<&Damaged> = Columns {
        seq: steps(log.events().map(|event| event.seq as i64)),
        at: steps(log.events().map(|event| event.at)),
        did: log.events().map(|event| event.did.clone()).collect(),
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
    let rest = match rest.split_once(BETWEEN_PARTS) {
        None => rest,
        Some((rest, check)) if check_of(&text[..text.len() - check.len() - 1]) == check => rest,
        Some(_) => return Err("the packed log is not what its check says".to_owned()),
    };
    let ids = expand(ids)?;
    let columns: Columns<ReadEvent> =
        serde_json::from_str(&expand(rest)?).map_err(|error| error.to_string())?;
    let ids: Vec<&str> = ids.split_terminator(BETWEEN_IDS).collect();
    let counts = [columns.seq.len(), columns.at.len(), columns.did.len()];
    if counts.iter().any(|count| *count != ids.len()) {
        return Err("the columns of the packed log differ in length".to_owned());
    }
    let numbers = sums(&columns.seq).zip(sums(&columns.at));
    let events: Result<Vec<Event>, String> = ids
        .iter()
        .zip(numbers)
        .zip(columns.did)
        .map(|((id, (seq, at)), did)| {
            Ok(Event {
                id: id.parse().map_err(|error| format!("{error}"))?,
                seq: u64::try_from(seq).map_err(|error| error.to_string())?,
                at,
                did,
            })
        })
        .collect();
    let log = Log::from_events(events?).map_err(|fault| fault.to_string())?;
    let damaged = Log::from_read(columns.damaged).map_err(|fault| fault.to_string())?;
    Ok(log.merge(&damaged))
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
}
