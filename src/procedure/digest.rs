//! The fingerprint that names a content.

use sha2::{Digest, Sha256};

/// SHA-256 (FIPS 180-4) of some bytes, in hexadecimal.
pub fn digest_of(bytes: &[u8]) -> String {
    hexadecimal(&Sha256::digest(bytes))
}

/// Bytes in hexadecimal.
pub fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}
