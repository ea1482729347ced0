//! The pictures and papers that a file brings along.

use crate::exchange::Document;
use crate::exchange::{pixels, wav};
use crate::procedure::{PictureDigest, Procedure};
use base64::display::Base64Display;
use base64::prelude::{BASE64_STANDARD, Engine};
use serde::de::{self, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::collections::BTreeSet;
use std::fmt;

/// The most bytes that one picture may have: 4 MiB. The app scales its own down to a tenth of
/// that.
pub const MAX_PICTURE: usize = 4 << 20;

/// The most bytes that a paper as PDF may have: 32 MiB, a service manual with its scanned diagrams.
pub const MAX_PDF: usize = 32 << 20;

/// How far into a PDF its mark may stand (ISO 32000-1, note to 7.5.2, as readers take it).
const PDF_HEAD: usize = 1024;

/// The most pixels that one picture may have: 8 million, twice as many as the app leaves its own.
/// Shown, each of them takes four bytes.
pub const MAX_PIXELS: u64 = 8_000_000;

/// A picture, a paper as PDF or a sound, whose bytes are what its type and its digest say.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "Claim")]
pub struct Picture {
    digest: PictureDigest,
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
    /// PDF (ISO 32000), for papers alone.
    #[serde(rename = "application/pdf")]
    Pdf,
    /// Sound of one channel of 16 bits as RIFF WAVE, for what was heard.
    #[serde(rename = "audio/wave")]
    Wave,
}

impl PictureType {
    /// The media type (RFC 6838).
    pub fn name(self) -> &'static str {
        match self {
            PictureType::Jpeg => "image/jpeg",
            PictureType::Png => "image/png",
            PictureType::Webp => "image/webp",
            PictureType::Pdf => "application/pdf",
            PictureType::Wave => "audio/wave",
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
            [b'R', b'I', b'F', b'F', ..] => wav::seconds(bytes).map(|_| PictureType::Wave),
            _ => {
                let head = &bytes[..bytes.len().min(PDF_HEAD)];
                let is_pdf = head.windows(PDF_MARK.len()).any(|at| at == PDF_MARK);
                is_pdf.then_some(PictureType::Pdf)
            }
        }
    }

    /// The most bytes that one of this type may have.
    pub const fn most(self) -> usize {
        match self {
            PictureType::Pdf => MAX_PDF,
            PictureType::Jpeg | PictureType::Png | PictureType::Webp | PictureType::Wave => {
                MAX_PICTURE
            }
        }
    }
}

/// How a PDF begins (ISO 32000-1, 7.5.2).
const PDF_MARK: &[u8] = b"%PDF-";

/// Why something is not taken for a picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PictureError {
    /// More bytes than a picture may have.
    TooLarge {
        /// How many it has.
        bytes: usize,
        /// How many it may have.
        most: usize,
    },
    /// More pixels than a picture may have.
    TooManyPixels {
        /// From left to right.
        width: u32,
        /// From top to bottom.
        height: u32,
    },
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
            PictureError::TooLarge { bytes, most } => {
                let (what, instead) = match *most == MAX_PDF {
                    true => ("PDF", "split it"),
                    false => ("picture", "scale it down"),
                };
                write!(
                    f,
                    "it has {} MB, and a {what} may have {} MB: {instead}",
                    bytes.div_ceil(1 << 20),
                    most >> 20
                )
            }
            PictureError::TooManyPixels { width, height } => write!(
                f,
                "it has {width} × {height} pixels, and a picture may have {} million in all: scale it down",
                MAX_PIXELS / 1_000_000
            ),
            PictureError::NoPicture => {
                write!(f, "it is no JPEG, PNG or WebP picture, no PDF and no sound")
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
        let (bytes, kind) = (data.len(), PictureType::of(&data));
        let most = kind.map_or(MAX_PICTURE, PictureType::most);
        if bytes > most {
            return Err(PictureError::TooLarge { bytes, most });
        }
        let kind = kind.ok_or(PictureError::NoPicture)?;
        if let Some((width, height)) = pixels(&data)
            && u64::from(width) * u64::from(height) > MAX_PIXELS
        {
            return Err(PictureError::TooManyPixels { width, height });
        }
        let digest = PictureDigest::of(&data);
        Ok(Picture { digest, kind, data })
    }

    /// The SHA-256 digest (FIPS 180-4) of the bytes, in hexadecimal, by which documents name it.
    pub fn digest(&self) -> &PictureDigest {
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

    /// The picture as an address that holds it whole (RFC 2397).
    pub fn data_address(&self) -> String {
        let bytes = Base64Display::new(&self.data, &BASE64_STANDARD);
        format!("data:{};base64,{bytes}", self.kind.name())
    }
}

impl Document {
    /// The pictures that belong to what the document holds.
    pub fn pictures(&self) -> BTreeSet<PictureDigest> {
        match self {
            Document::Procedure(procedure) => procedure.picture_names().cloned().collect(),
            Document::Job(job) => job.pictures(),
            Document::Backup(backup) => {
                let boards = backup.procedures.iter().flat_map(Procedure::picture_names);
                let logs = backup.jobs.iter().flat_map(|job| job.log.pictures());
                boards.cloned().chain(logs).collect()
            }
        }
    }
}

/// A picture as a file states it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Claim {
    digest: PictureDigest,
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
