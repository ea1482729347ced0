//! What the device does for pictures: it scales photos down and turns them upright, and lends
//! addresses under which the page can show bytes.

use crate::app::words::set::photos as words;
use crate::exchange;
use crate::exchange::Picture;
use crate::exchange::pixels;
use js_sys::{Array, Promise, Uint8Array};
use leptos::prelude::document;
use std::fmt;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    Blob, BlobPropertyBag, CanvasRenderingContext2d, HtmlCanvasElement, HtmlImageElement, Url,
};

/// The longest side of a picture that is kept, in pixels: enough to read a part's print on a
/// board of a hand's size.
pub const KEPT: u32 = 2000;

/// The longest side of a paper that is kept as a picture: a sheet of A3 has 200 to the inch.
pub const PAPER: u32 = 3300;

/// The longest side of a photo on a sheet, in pixels: 85 mm wide it has 300 to the inch.
pub const ON_SHEET: u32 = 1000;

/// The largest file that is unpacked, in bytes.
const MAX_FILE: f64 = 64.0 * 1024.0 * 1024.0;

/// The most pixels of a photo that is unpacked: the browser takes four bytes for each.
const MAX_PIXELS: u64 = 64_000_000;

/// How far into a file its size in pixels is looked for, in bytes: behind a preview and all else
/// that a camera notes.
const HEAD: f64 = 1024.0 * 1024.0;

/// How much a JPEG keeps, from 0 to 1; above, files grow much faster than what can be seen.
const QUALITY: f64 = 0.82;

/// A picture as it is kept.
pub struct Scaled {
    /// Its bytes.
    pub picture: Picture,
    /// Pixels from left to right.
    pub width: u32,
    /// Pixels from top to bottom.
    pub height: u32,
}

/// Why a file was not taken as a picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ImagingError {
    /// The file is too large to be unpacked.
    TooLarge,
    /// The picture has too many pixels to be unpacked.
    TooManyPixels,
    /// The browser sees no picture in it.
    NoPicture,
    /// The browser could not draw or write it.
    NotDrawn,
}

impl fmt::Display for ImagingError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            ImagingError::TooLarge => words::TOO_LARGE,
            ImagingError::TooManyPixels => words::TOO_MANY_PIXELS,
            ImagingError::NoPicture => words::NO_PICTURE,
            ImagingError::NotDrawn => words::NOT_DRAWN,
        })
    }
}

impl std::error::Error for ImagingError {}

/// A file as a JPEG whose longest side has at most so many pixels, upright and with nothing but
/// the picture in it: neither place nor camera.
pub async fn scaled(file: &Blob, longest: u32) -> Result<Scaled, ImagingError> {
    if file.size() > MAX_FILE {
        return Err(ImagingError::TooLarge);
    }
    let size = pixels(&head_of(file).await.unwrap_or_default());
    if size.is_some_and(|(width, height)| u64::from(width) * u64::from(height) > MAX_PIXELS) {
        return Err(ImagingError::TooManyPixels);
    }
    let address = Url::create_object_url_with_blob(file).map_err(|_| ImagingError::NoPicture)?;
    let image = decoded(&address).await;
    let _ = Url::revoke_object_url(&address);
    let image = image.map_err(|_| ImagingError::NoPicture)?;
    // Browsers give the size as it is to be seen, turned as the camera noted.
    let (width, height) = (image.natural_width(), image.natural_height());
    if width == 0 || height == 0 {
        return Err(ImagingError::NoPicture);
    }
    let all = f64::from(width) * f64::from(height);
    let most = (exchange::MAX_PIXELS as f64 / all).sqrt();
    let scale = (f64::from(longest) / f64::from(width.max(height)))
        .min(most)
        .min(1.0);
    let shrink = |side: u32| ((f64::from(side) * scale).floor() as u32).max(1);
    let (width, height) = (shrink(width), shrink(height));
    let canvas = drawn(&image, width, height).map_err(|_| ImagingError::NotDrawn)?;
    let bytes = jpeg(&canvas).await.map_err(|_| ImagingError::NotDrawn)?;
    let picture = Picture::of(bytes).map_err(|_| ImagingError::NotDrawn)?;
    Ok(Scaled {
        picture,
        width,
        height,
    })
}

/// A picture with at most so many pixels to its longest side, as it is where it has no more.
pub async fn shrunk(picture: Picture, longest: u32) -> Picture {
    let Ok(blob) = blob_of(&picture) else {
        return picture;
    };
    match scaled(&blob, longest).await {
        Ok(small) if small.picture.data().len() < picture.data().len() => small.picture,
        _ => picture,
    }
}

/// The first bytes of a file.
async fn head_of(file: &Blob) -> Result<Vec<u8>, JsValue> {
    let head = file.slice_with_f64_and_f64(0.0, HEAD)?;
    let buffer = JsFuture::from(head.array_buffer()).await?;
    Ok(Uint8Array::new(&buffer).to_vec())
}

async fn decoded(address: &str) -> Result<HtmlImageElement, JsValue> {
    let image = HtmlImageElement::new()?;
    image.set_src(address);
    JsFuture::from(image.decode()).await?;
    Ok(image)
}

fn drawn(image: &HtmlImageElement, width: u32, height: u32) -> Result<HtmlCanvasElement, JsValue> {
    let canvas: HtmlCanvasElement = document().create_element("canvas")?.dyn_into()?;
    canvas.set_width(width);
    canvas.set_height(height);
    let context = canvas.get_context("2d")?.ok_or(JsValue::NULL)?;
    let context: CanvasRenderingContext2d = context.dyn_into()?;
    let (width, height) = (f64::from(width), f64::from(height));
    // A JPEG has no transparent parts; paper is white.
    context.set_fill_style_str("#ffffff");
    context.fill_rect(0.0, 0.0, width, height);
    js_sys::Reflect::set(&context, &"imageSmoothingQuality".into(), &"high".into())?;
    context.draw_image_with_html_image_element_and_dw_and_dh(image, 0.0, 0.0, width, height)?;
    Ok(canvas)
}

async fn jpeg(canvas: &HtmlCanvasElement) -> Result<Vec<u8>, JsValue> {
    let written = Promise::new(&mut |resolve, reject| {
        let options = JsValue::from_f64(QUALITY);
        let asked = canvas.to_blob_with_type_and_encoder_options(&resolve, "image/jpeg", &options);
        if let Err(error) = asked {
            let _ = reject.call1(&JsValue::NULL, &error);
        }
    });
    let blob: Blob = JsFuture::from(written).await?.dyn_into()?;
    let buffer = JsFuture::from(blob.array_buffer()).await?;
    Ok(Uint8Array::new(&buffer).to_vec())
}

fn blob_of(picture: &Picture) -> Result<Blob, JsValue> {
    let parts = Array::of1(&Uint8Array::from(picture.data()));
    let options = BlobPropertyBag::new();
    options.set_type(picture.kind().name());
    Blob::new_with_u8_array_sequence_and_options(&parts, &options)
}

/// An address under which this page, and no other, shows the picture until it is given back.
pub fn lend_address(picture: &Picture) -> Option<String> {
    let blob = blob_of(picture).ok()?;
    Url::create_object_url_with_blob(&blob).ok()
}

/// How many pixels the picture at an address has, from left to right and from top to bottom.
pub async fn size_at(address: &str) -> Option<(u32, u32)> {
    let image = decoded(address).await.ok()?;
    Some((image.natural_width(), image.natural_height()))
}

/// Gives an address back, with the memory behind it.
pub fn give_back(address: &str) {
    let _ = Url::revoke_object_url(address);
}
