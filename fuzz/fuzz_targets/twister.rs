//! What all targets share.

use crate::entrances::twist::twisted;
use libfuzzer_sys::fuzzer_mutate;
use std::str::from_utf8;

/// Goes through an entrance with what is a text; the app is never handed anything else.
pub fn enter(data: &[u8], entrance: fn(&str)) {
    if let Ok(text) = from_utf8(data) {
        entrance(text);
    }
}

/// Changes the text at the beginning of `data` and gives its new length: by turns as what it is
/// and byte for byte.
pub fn twist(data: &mut [u8], size: usize, most: usize, seed: u32) -> usize {
    if seed % 2 == 0
        && let Ok(text) = from_utf8(&data[..size])
    {
        let new = twisted(text, u64::from(seed));
        if new.len() <= most {
            data[..new.len()].copy_from_slice(new.as_bytes());
            return new.len();
        }
    }
    fuzzer_mutate(data, size, most)
}
