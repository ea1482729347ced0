//! Pieces that sentences are made of.

use crate::exchange::report::text::typed;
use crate::quantity::ended;

/// How many things a sentence names.
const NAMED: usize = 5;

/// Things in a row, the first few by name.
pub fn listed(things: &[String]) -> String {
    let named = &things[..things.len().min(NAMED)];
    match (things.len() - named.len(), named) {
        (0, [first @ .., last]) if !first.is_empty() => {
            format!("{} and {last}", first.join(", "))
        }
        (0, named) => named.join(", "),
        (1, named) => format!("{} and one more", named.join(", ")),
        (more, named) => format!("{} and {more} more", named.join(", ")),
    }
}

/// A typed text that ends as a sentence does.
pub(super) fn sentence(text: &str) -> String {
    ended(typed(text.trim()))
}
