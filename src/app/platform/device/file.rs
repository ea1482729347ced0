//! Files of the device: written in parts, read in pieces.

use crate::exchange::Decoder;
use js_sys::{Array, Uint8Array};
use leptos::prelude::window;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::{Blob, BlobPropertyBag, File, HtmlAnchorElement, Url};

/// A text that is put together on the browser's side, so that a long one is nowhere in one
/// piece.
#[derive(Default)]
pub struct Parts {
    parts: Array,
    pub(super) bytes: usize,
}

impl Parts {
    /// A text of one part.
    pub fn of(text: &str) -> Self {
        let mut parts = Parts::default();
        parts.push(text);
        parts
    }

    /// Adds a part behind the others.
    pub fn push(&mut self, part: &str) {
        self.parts.push(&Uint8Array::from(part.as_bytes()));
        self.bytes += part.len();
    }

    /// How many bytes the text has.
    pub fn len(&self) -> usize {
        self.bytes
    }

    /// The text as the content of a file.
    pub fn blob(&self, kind: &str) -> Result<Blob, JsValue> {
        let options = BlobPropertyBag::new();
        options.set_type(kind);
        Blob::new_with_u8_array_sequence_and_options(&self.parts, &options)
    }
}

/// The media type of documents.
pub const DOCUMENT: &str = "application/json";

/// Hands a text of any media type to the user as a file.
pub fn save_file_as(name: &str, text: &Parts, kind: &str) -> Result<(), JsValue> {
    let address = Url::create_object_url_with_blob(&text.blob(kind)?)?;
    let document = window().document().ok_or(JsValue::NULL)?;
    let link: HtmlAnchorElement = document.create_element("a")?.dyn_into()?;
    link.set_href(&address);
    link.set_download(name);
    link.click();
    Ok(())
}

/// Reads a file that the user picked, then calls back with its text. Bytes that are not
/// UTF-8 become replacement characters, which the document reader then points out.
pub fn read_file(file: File, call: impl FnOnce(String) + 'static) {
    spawn_local(async move {
        let text = JsFuture::from(file.text()).await;
        call(text.ok().and_then(|t| t.as_string()).unwrap_or_default());
    });
}

/// How many bytes of a file are read at once.
const PIECE: f64 = (1 << 20) as f64;

/// Reads a long file piece by piece. Each time `goes_on` is told how many bytes were read, and
/// says whether to go on; nothing where it says no. What can't be read ends the text.
pub async fn read_in_pieces(file: &File, goes_on: impl Fn(usize) -> bool) -> Option<String> {
    let size = file.size();
    let mut decoder = Decoder::with_capacity(size as usize);
    let mut from = 0.0;
    while from < size {
        let piece = file.slice_with_f64_and_f64(from, (from + PIECE).min(size));
        let Ok(bytes) = piece.map(|piece| JsFuture::from(piece.array_buffer())) else {
            break;
        };
        let Ok(bytes) = bytes.await else {
            break;
        };
        decoder.push(&Uint8Array::new(&bytes).to_vec());
        from += PIECE;
        if from < size && !goes_on(from as usize) {
            return None;
        }
    }
    Some(decoder.end())
}
