//! The pictures that a file brings along.

use crate::procedure::digest_of;
use base64::display::Base64Display;
use base64::prelude::{BASE64_STANDARD, Engine};
use serde::de::{self, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;

/// A picture whose bytes are what its type and its digest say.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "Claim")]
pub struct Picture {
    digest: String,
    #[serde(rename = "type")]
    kind: PictureType,
    #[serde(serialize_with = "to_base64")]
    data: Vec<u8>,
}

/// What the bytes of a picture are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum PictureType {
    /// JPEG (ITU-T T.81).
    #[serde(rename = "image/jpeg")]
    Jpeg,
    /// PNG (ISO/IEC 15948).
    #[serde(rename = "image/png")]
    Png,
    /// WebP (RFC 9649).
    #[serde(rename = "image/webp")]
    Webp,
}

impl PictureType {
    /// The media type (RFC 6838).
    pub fn name(self) -> &'static str {
        match self {
            PictureType::Jpeg => "image/jpeg",
            PictureType::Png => "image/png",
            PictureType::Webp => "image/webp",
        }
    }

    /// The type that the first bytes name, which each format lays down for itself.
    pub fn of(bytes: &[u8]) -> Option<PictureType> {
        match bytes {
            [0xff, 0xd8, 0xff, ..] => Some(PictureType::Jpeg),
            [0x89, b'P', b'N', b'G', b'\r', b'\n', 0x1a, b'\n', ..] => Some(PictureType::Png),
            [
                b'R',
                b'I',
                b'F',
                b'F',
                _,
                _,
                _,
                _,
                b'W',
                b'E',
                b'B',
                b'P',
                ..,
            ] => Some(PictureType::Webp),
            _ => None,
        }
    }
}

/// Why something is not taken for a picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PictureError {
    /// The bytes begin like none of the formats.
    NoPicture,
    /// The bytes are of another format than stated.
    OtherType {
        /// As stated.
        says: PictureType,
        /// As the bytes say.
        is: PictureType,
    },
    /// The bytes have another digest than stated.
    OtherBytes,
}

impl fmt::Display for PictureError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            PictureError::NoPicture => {
                write!(f, "it is no JPEG, PNG or WebP picture")
            }
            PictureError::OtherType { says, is } => {
                write!(
                    f,
                    "it says that it is {}, but is {}",
                    says.name(),
                    is.name()
                )
            }
            PictureError::OtherBytes => {
                write!(
                    f,
                    "it was changed since its digest was taken: fetch the file again"
                )
            }
        }
    }
}

impl std::error::Error for PictureError {}

impl Picture {
    /// The picture in these bytes.
    pub fn of(data: Vec<u8>) -> Result<Picture, PictureError> {
        let kind = PictureType::of(&data).ok_or(PictureError::NoPicture)?;
        let digest = digest_of(&data);
        Ok(Picture { digest, kind, data })
    }

    /// The SHA-256 digest (FIPS 180-4) of the bytes, in hexadecimal, by which documents name it.
    pub fn digest(&self) -> &str {
        &self.digest
    }

    /// What the bytes are.
    pub fn kind(&self) -> PictureType {
        self.kind
    }

    /// The bytes.
    pub fn data(&self) -> &[u8] {
        &self.data
    }
}

/// A picture as a file states it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Claim {
    digest: String,
    #[serde(rename = "type")]
    kind: PictureType,
    #[serde(deserialize_with = "from_base64")]
    data: Vec<u8>,
}

impl TryFrom<Claim> for Picture {
    type Error = PictureError;

    fn try_from(claim: Claim) -> Result<Picture, PictureError> {
        let picture = Picture::of(claim.data)?;
        if picture.kind != claim.kind {
            let (says, is) = (claim.kind, picture.kind);
            return Err(PictureError::OtherType { says, is });
        }
        match picture.digest == claim.digest {
            true => Ok(picture),
            false => Err(PictureError::OtherBytes),
        }
    }
}

// Base64 goes piece by piece into the file's text, and comes from the text as it stands there:
// pictures are large, and their text is not to be in memory a second time.

fn to_base64<S: Serializer>(data: &[u8], serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_str(&Base64Display::new(data, &BASE64_STANDARD))
}

fn from_base64<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Vec<u8>, D::Error> {
    struct Base64;
    impl Visitor<'_> for Base64 {
        type Value = Vec<u8>;

        fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
            write!(f, "a text in base64")
        }

        fn visit_str<E: de::Error>(self, text: &str) -> Result<Vec<u8>, E> {
            let bytes = BASE64_STANDARD.decode(text);
            bytes
                .map_err(|_| E::custom("the data of a picture is not base64: fetch the file again"))
        }
    }
    deserializer.deserialize_str(Base64)
}
