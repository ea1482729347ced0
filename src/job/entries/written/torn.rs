//! A log whose text is no JSON any more, read event by event.

use crate::job::entries::written::{CHECK, Read, ReadEvent, START};
use serde_json::value::RawValue;

/// The events in the text of a log that is broken somewhere, from the first of them on. What can't
/// be read goes on to where the next one begins: nothing in an event begins as it does itself.
pub fn torn(text: &str) -> Vec<ReadEvent> {
    let mut events = Vec::new();
    let mut rest = text;
    while !is_end(rest) {
        let piece = &rest[..next_start(rest).unwrap_or(rest.len())];
        match first_event(piece) {
            Some((event, length)) => {
                events.push(event);
                rest = behind_comma(&rest[length..]);
            }
            None => {
                let is_last = piece.len() == rest.len();
                let left = piece.strip_suffix(if is_last { END } else { "," });
                let is_cut = is_last && left.is_none();
                let left = left.unwrap_or(piece);
                // Signs alone were never an entry.
                if is_cut || left.contains(char::is_alphanumeric) {
                    events.push(ReadEvent(Err(left.to_owned())));
                }
                if is_last {
                    break;
                }
                rest = &rest[piece.len()..];
            }
        }
    }
    events
}

/// The event that a piece of a log begins with, or what is left of one, and where it ends. What has
/// no check must be whole by what follows, for it may end too early.
fn first_event(piece: &str) -> Option<(ReadEvent, usize)> {
    let mut values = serde_json::Deserializer::from_str(piece).into_iter::<&RawValue>();
    let value = values.next()?.ok()?;
    let event = ReadEvent::of(value.get()).ok()?;
    let length = values.byte_offset();
    let behind = &piece[length..];
    let stands_alone = match &event.0 {
        Ok(Read { check: Some(_), .. }) => true,
        Ok(Read { check: None, .. }) => !behind.contains(CHECK),
        Err(_) => behind.starts_with(',') || is_end(behind),
    };
    stands_alone.then_some((event, length))
}

/// How a stored log and what it stands in end.
const END: &str = "]}";

/// Whether nothing but the end is left, of which a letter may be damaged or missing.
fn is_end(rest: &str) -> bool {
    let is_short = rest.chars().count() == 2 && rest.ends_with('}');
    is_short || rest.starts_with(']') && rest.chars().count() <= 2
}

/// Where the next event begins, behind the first letter.
fn next_start(rest: &str) -> Option<usize> {
    let first = rest.chars().next()?.len_utf8();
    rest[first..].find(START).map(|place| first + place)
}

/// What follows the one letter between two events, whatever that was turned into.
fn behind_comma(rest: &str) -> &str {
    let mut letters = rest.chars();
    let comma = letters.next();
    let behind = letters.as_str();
    let begins = behind.starts_with(START) || behind.starts_with('"');
    match comma {
        Some(',') => behind,
        Some('{' | '"') | None => rest,
        Some(_) if begins => behind,
        Some(_) => rest,
    }
}
