//! A file that becomes a paper.

use crate::app::platform::imaging;
use crate::app::platform::imaging::ImagingError;
use crate::app::platform::pdf::Pdf;
use crate::app::words::set::papers as words;
use crate::exchange::{MAX_PDF, Picture, PictureError, PictureType};
use crate::procedure::PictureDigest;
use crate::store::Pictures;
use js_sys::Uint8Array;
use wasm_bindgen_futures::JsFuture;
use web_sys::Blob;

/// What the file dialog offers.
pub const ACCEPT: &str = "application/pdf,image/*";

/// How far into a file it is looked for what it is, in bytes.
const HEAD: f64 = 1024.0;

/// Stores the paper in a file and gives its name, or says why it is none that can be shown.
pub async fn kept(file: &Blob) -> Result<PictureDigest, String> {
    let picture = match is_pdf(file).await {
        true => pdf(file).await?,
        false => picture(file).await?,
    };
    let stored = Pictures.put(&picture).await;
    stored.map_err(|error| error.to_string())
}

async fn is_pdf(file: &Blob) -> bool {
    let head = match file.slice_with_f64_and_f64(0.0, HEAD) {
        Ok(head) => bytes_of(&head).await,
        Err(_) => None,
    };
    head.is_some_and(|head| PictureType::of(&head) == Some(PictureType::Pdf))
}

/// A PDF that the reader can open.
async fn pdf(file: &Blob) -> Result<Picture, String> {
    let (bytes, most) = (file.size() as usize, MAX_PDF);
    let refused = |error: PictureError| words::not_kept(&error.to_string());
    if bytes > most {
        return Err(refused(PictureError::TooLarge { bytes, most }));
    }
    let bytes = bytes_of(file).await;
    let bytes = bytes.ok_or_else(|| words::BROKEN.to_owned())?;
    let opened = Pdf::open(&bytes).await;
    opened.map_err(|error| error.to_string())?;
    Picture::of(bytes).map_err(refused)
}

async fn picture(file: &Blob) -> Result<Picture, String> {
    let scaled = match imaging::scaled(file, imaging::PAPER).await {
        // With so much in it, it may be more than a picture may have.
        Err(ImagingError::NotDrawn) => imaging::scaled(file, imaging::KEPT).await,
        other => other,
    };
    scaled.map(|it| it.picture).map_err(|error| match error {
        ImagingError::NoPicture => words::NEITHER.to_owned(),
        other => other.to_string(),
    })
}

async fn bytes_of(blob: &Blob) -> Option<Vec<u8>> {
    let buffer = JsFuture::from(blob.array_buffer()).await.ok()?;
    Some(Uint8Array::new(&buffer).to_vec())
}

/// What a paper is called by its file, but for names that only a camera gives.
pub fn title_of(file: &str, others: usize) -> String {
    let stem = file.rsplit_once('.').map_or(file, |(stem, _)| stem);
    let stem = stem.replace('_', " ");
    let stem = stem.trim();
    let is_counted = stem
        .trim_end_matches(|sign: char| sign.is_ascii_digit() || " -".contains(sign))
        .len()
        < 5;
    match is_counted || stem.eq_ignore_ascii_case("image") {
        true => words::title(others),
        false => stem.chars().take(80).collect(),
    }
}
