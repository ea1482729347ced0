//! The reader of PDFs: `public/papers.js` brings it when one is opened, in a worker of its own.

use crate::app::words::set::papers as words;
use crate::procedure::{Crop, PictureDigest};
use js_sys::{Reflect, Uint8Array};
use std::cell::RefCell;
use std::fmt;
use std::rc::Rc;
use wasm_bindgen::prelude::*;
use web_sys::{Blob, HtmlCanvasElement, Url};

/// A PDF that is open. Its worker ends with it.
pub struct Pdf {
    open: JsPaper,
}

/// A whole page as a picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drawn {
    /// Its address within this page, to be given back.
    pub address: String,
    /// Pixels from left to right.
    pub width: u32,
    /// Pixels from top to bottom.
    pub height: u32,
}

/// Why a PDF is not shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PdfError {
    /// The reader itself could not be had.
    Reader,
    /// It asks for a password.
    Locked,
    /// It has too many pages.
    Pages,
    /// It takes too long.
    Slow,
    /// A page has more lines than can be drawn.
    Heavy,
    /// It can't be read.
    Broken,
}

impl fmt::Display for PdfError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            PdfError::Reader => words::NO_READER,
            PdfError::Locked => words::LOCKED,
            PdfError::Pages => words::TOO_MANY_PAGES,
            PdfError::Slow => words::TOO_SLOW,
            PdfError::Heavy => words::TOO_HEAVY,
            PdfError::Broken => words::BROKEN,
        })
    }
}

impl std::error::Error for PdfError {}

/// How many stay open; each holds its bytes and a worker.
const MOST_OPEN: usize = 2;

thread_local! {
    /// Those that were opened last, so that the way from a step and back costs nothing.
    static OPEN: RefCell<Vec<(PictureDigest, Rc<Pdf>)>> = const { RefCell::new(Vec::new()) };
}

#[wasm_bindgen]
extern "C" {
    type JsPaper;

    #[wasm_bindgen(catch, js_namespace = halfturnPapers, js_name = open)]
    async fn open_paper(bytes: Uint8Array) -> Result<JsValue, JsValue>;

    #[wasm_bindgen(method, getter)]
    fn pages(this: &JsPaper) -> u16;

    #[wasm_bindgen(method, catch)]
    async fn draw(this: &JsPaper, page: u16) -> Result<JsValue, JsValue>;

    #[allow(clippy::too_many_arguments)] // A part of a page and a size, as the script takes them.
    #[wasm_bindgen(method, catch)]
    async fn sharpen(
        this: &JsPaper,
        canvas: &HtmlCanvasElement,
        page: u16,
        x: f64,
        y: f64,
        width: f64,
        height: f64,
        across: f64,
        down: f64,
    ) -> Result<JsValue, JsValue>;

    #[wasm_bindgen(method)]
    fn close(this: &JsPaper);
}

impl Pdf {
    /// Opens one, or says why not.
    pub async fn open(bytes: &[u8]) -> Result<Pdf, PdfError> {
        let open = open_paper(Uint8Array::from(bytes)).await;
        let open = open.map_err(|error| why(&error))?.unchecked_into();
        Ok(Pdf { open })
    }

    /// The one of this name, where it is open still.
    pub fn open_still(name: &PictureDigest) -> Option<Rc<Pdf>> {
        OPEN.with_borrow(|open| {
            let found = open.iter().find(|(known, _)| known == name);
            found.map(|(_, pdf)| pdf.clone())
        })
    }

    /// Leaves one open; the one that was opened first makes room.
    pub fn leave_open(name: PictureDigest, pdf: Pdf) {
        OPEN.with_borrow_mut(|open| {
            open.retain(|(known, _)| *known != name);
            open.push((name, Rc::new(pdf)));
            if open.len() > MOST_OPEN {
                open.remove(0);
            }
        });
    }

    /// Ends one, unless something is under way in it.
    pub fn let_go(name: &PictureDigest) {
        OPEN.with_borrow_mut(|open| open.retain(|(known, _)| known != name));
    }

    /// How many pages it has.
    pub fn pages(&self) -> u16 {
        self.open.pages()
    }

    /// A whole page.
    pub async fn draw(&self, page: u16) -> Result<Drawn, PdfError> {
        let drawn = self.open.draw(page).await.map_err(|error| why(&error))?;
        let side = |name: &str| {
            let side = Reflect::get(&drawn, &name.into()).ok()?.as_f64()?;
            Some(side as u32)
        };
        let blob = Reflect::get(&drawn, &"blob".into()).ok();
        let blob = blob.and_then(|blob| blob.dyn_into::<Blob>().ok());
        let address = blob.and_then(|blob| Url::create_object_url_with_blob(&blob).ok());
        match (address, side("width"), side("height")) {
            (Some(address), Some(width), Some(height)) => Ok(Drawn {
                address,
                width,
                height,
            }),
            _ => Err(PdfError::Broken),
        }
    }

    /// Draws a part of a page onto a canvas of so many pixels; whether it did, and no later wish
    /// came in between.
    pub async fn sharpen(
        &self,
        canvas: &HtmlCanvasElement,
        page: u16,
        part: Crop,
        (across, down): (f64, f64),
    ) -> bool {
        let drawn = self.open.sharpen(
            canvas,
            page,
            part.x,
            part.y,
            part.width,
            part.height,
            across,
            down,
        );
        drawn.await.is_ok_and(|drawn| drawn.is_truthy())
    }
}

impl Drop for Pdf {
    fn drop(&mut self) {
        self.open.close();
    }
}

/// What the script's refusals mean.
fn why(error: &JsValue) -> PdfError {
    let said = error.dyn_ref::<js_sys::Error>().map(js_sys::Error::message);
    match said.map(String::from).as_deref() {
        Some("locked") => PdfError::Locked,
        Some("pages") => PdfError::Pages,
        Some("slow") => PdfError::Slow,
        Some("heavy") => PdfError::Heavy,
        Some("broken") => PdfError::Broken,
        // The script itself may be what is missing.
        _ => PdfError::Reader,
    }
}
