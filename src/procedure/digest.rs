//! The fingerprint that names a content.

use sha2::{Digest, Sha256};

/// SHA-256 (FIPS 180-4) of some bytes, in hexadecimal.
pub fn digest_of(bytes: &[u8]) -> String {
    let digest = Sha256::digest(bytes);
    digest.iter().map(|byte| format!("{byte:02x}")).collect()
}
