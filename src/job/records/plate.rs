//! Which set is which, by its plate.

use crate::job::SetIdentity;

/// What tells one set from another: serial number, make and type, however they are capitalised
/// and spaced.
pub type SetKey = [String; 3];

/// The key of the set with this plate. Without a serial number nothing is known.
pub fn set_key(set: &SetIdentity) -> Option<SetKey> {
    let plain = |text: &String| -> String {
        let letters = text.chars().filter(|c| c.is_alphanumeric());
        letters.flat_map(char::to_lowercase).collect()
    };
    let key = [&set.serial, &set.make, &set.model].map(plain);
    (!key[0].is_empty()).then_some(key)
}

/// Whether two plates are of one set.
pub fn is_same_set(a: &SetIdentity, b: &SetIdentity) -> bool {
    set_key(a).is_some_and(|key| set_key(b) == Some(key))
}
