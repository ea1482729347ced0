//! The bytes of pictures in the browser's database, each under the digest of its bytes.

use super::database::{Bytes, Database, DatabaseError};
use crate::exchange::{Picture, PictureType};
use crate::procedure::PictureDigest;
use std::fmt;

/// The pictures on this device.
#[derive(Clone, Copy)]
pub struct Pictures;

/// Why a picture can't be shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoPicture {
    /// It is not on this device.
    Missing,
    /// What is kept under its name is something else.
    Damaged,
    /// It is a paper as PDF, and no picture.
    Pdf,
    /// It is a sound, and no picture.
    Sound,
    /// The database did not give it.
    Database(DatabaseError),
}

impl fmt::Display for NoPicture {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NoPicture::Missing => write!(
                f,
                "This picture is not on this device: bring in the file that it came with"
            ),
            NoPicture::Damaged => write!(
                f,
                "This picture is damaged on this device: bring in the file that it came with"
            ),
            NoPicture::Pdf => write!(
                f,
                "This is no picture but a PDF: bring in the file that it came with, or take the picture anew"
            ),
            NoPicture::Sound => write!(
                f,
                "This is no picture but a sound: bring in the file that it came with"
            ),
            NoPicture::Database(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for NoPicture {}

impl Pictures {
    /// Keeps a picture and gives its name. When this returns, it is on the disk.
    pub async fn put(&self, picture: &Picture) -> Result<PictureDigest, DatabaseError> {
        let digest = picture.digest().clone();
        let bytes = Bytes {
            kind: picture.kind().name().to_owned(),
            bytes: picture.data().to_vec(),
        };
        Database.put_picture(digest.as_str(), &bytes).await?;
        Ok(digest)
    }

    /// The picture of this name.
    pub async fn get(&self, digest: &PictureDigest) -> Result<Picture, NoPicture> {
        let picture = self.get_paper(digest).await?;
        match picture.kind() {
            PictureType::Pdf => Err(NoPicture::Pdf),
            PictureType::Wave => Err(NoPicture::Sound),
            PictureType::Jpeg | PictureType::Png | PictureType::Webp => Ok(picture),
        }
    }

    /// Whatever has this name: a picture, a paper or a sound.
    pub async fn get_paper(&self, digest: &PictureDigest) -> Result<Picture, NoPicture> {
        let found = Database.picture(digest.as_str()).await;
        let found = found.map_err(NoPicture::Database)?;
        let bytes = found.ok_or(NoPicture::Missing)?.bytes;
        let picture = Picture::of(bytes).map_err(|_| NoPicture::Damaged)?;
        match picture.digest() == digest {
            true => Ok(picture),
            false => Err(NoPicture::Damaged),
        }
    }

    /// Every picture with its size in bytes.
    pub async fn sizes(&self) -> Result<Vec<(PictureDigest, usize)>, DatabaseError> {
        let sizes = Database.picture_sizes().await?.into_iter();
        Ok(sizes
            .filter_map(|(key, size)| Some((key.parse().ok()?, size)))
            .collect())
    }

    /// Takes a picture off this device.
    pub async fn remove(&self, digest: &PictureDigest) -> Result<(), DatabaseError> {
        Database.remove_picture(digest.as_str()).await
    }
}
