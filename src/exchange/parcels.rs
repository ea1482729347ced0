//! Pictures spread over files, so that none gets too large to be read again.

use super::MAX_BYTES;
use crate::procedure::PictureDigest;

/// What a file needs for a picture beside its bytes, in characters, rounded up: digest, type,
/// names and spaces.
const AROUND: usize = 256;

/// What a further file needs beside its pictures, rounded up.
const FURTHER: usize = 4096;

/// Which pictures go along with a document whose text has so many bytes, and which into further
/// files. The first list is the document's own and may be empty.
/// Each picture comes with its size in bytes, of which Base64 makes a third more.
pub fn parcels(text: usize, pictures: &[(PictureDigest, usize)]) -> Vec<Vec<PictureDigest>> {
    let mut parcels = vec![Vec::new()];
    let mut filled = text;
    for (digest, size) in pictures {
        let needs = size.div_ceil(3) * 4 + AROUND;
        if filled + needs > MAX_BYTES {
            parcels.push(Vec::new());
            filled = FURTHER;
        }
        filled += needs;
        if let Some(last) = parcels.last_mut() {
            last.push(digest.clone());
        }
    }
    parcels
}
