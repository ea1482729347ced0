//! A paper in hand: what of it is shown, and the way from its bytes to a page.

use crate::app::platform::pdf::{Drawn, Pdf};
use crate::app::platform::{device, imaging};
use crate::app::ui::frame::{Look, Spotted};
use crate::app::words::set::{board as board_words, papers as words};
use crate::app::words::shared;
use crate::exchange::PictureType;
use crate::procedure::{Crop, Paper, PaperPin, PaperSpot, PictureDigest, part_of_page};
use crate::store::{NoPicture, Pictures};
use leptos::prelude::*;
use leptos::task::spawn_local;
use std::rc::Rc;

/// Pins to be put and taken off.
#[derive(Clone, Copy)]
pub struct Pinning {
    /// What can be pinned.
    pub choices: Signal<Vec<PaperSpot>>,
    /// Puts a pin.
    pub put: Callback<PaperPin>,
    /// Takes the pin of something off.
    pub take_off: Callback<PaperSpot>,
}

/// A page as it stands in the frame.
#[derive(Clone)]
pub enum Page {
    Coming,
    Here(Drawn, Look),
    Not(String),
}

/// A paper in hand.
#[derive(Clone, Copy)]
pub struct View {
    pub paper: Signal<Paper>,
    /// What the step is about that led here.
    pub about: StoredValue<Vec<PaperSpot>>,
    pub page: RwSignal<u16>,
    pub pages: RwSignal<u16>,
    pub shown: RwSignal<Page>,
    pub name: StoredValue<PictureDigest>,
    pub is_pdf: RwSignal<bool>,
    /// Whether the page on its way was asked for by a key.
    pub by_key: StoredValue<bool>,
    pub aspect: RwSignal<f64>,
    pub chosen: RwSignal<Option<PaperSpot>>,
    /// Whether it is shown what can be pinned.
    pub pins: RwSignal<bool>,
    pub pinning: Option<Pinning>,
}

impl View {
    /// The PDF, while it is open.
    pub fn pdf(self) -> Option<Rc<Pdf>> {
        Pdf::open_still(&self.name.try_get_value()?)
    }

    fn fail(self, why: &str) {
        self.shown.try_set(Page::Not(shared::sentence(why)));
    }

    /// Shows what was opened.
    async fn take(self) {
        let Some(pdf) = self.pdf() else {
            return;
        };
        let pages = pdf.pages().max(1);
        // The screen may have changed meanwhile.
        if self.pages.try_set(pages).is_some() {
            return;
        }
        if self.page.get_untracked() > pages {
            self.page.set(pages);
        }
        self.is_pdf.try_set(true);
        self.draw().await;
    }

    /// Draws the page that is wanted now.
    async fn draw(self) {
        let Some(pdf) = self.pdf() else {
            return;
        };
        let Some(page) = self.page.try_get_untracked() else {
            return;
        };
        match pdf.draw(page).await {
            Err(error) => {
                // Its worker may be busy with it for ever.
                self.name.with_value(Pdf::let_go);
                self.fail(&error.to_string());
            }
            Ok(drawn) if self.page.try_get_untracked() == Some(page) => self.show(drawn),
            // Another one is wanted by now, or none any more.
            Ok(drawn) => imaging::give_back(&drawn.address),
        }
    }

    fn show(self, drawn: Drawn) {
        let Some(aspect) = self.aspect.try_get_untracked() else {
            return imaging::give_back(&drawn.address);
        };
        let size = (drawn.width, drawn.height);
        let look = Look::new(part_of_page(size, &[], aspect));
        if let Some(place) = self.place(size, aspect) {
            look.crop.set(place);
        }
        let before = self.shown.try_get_untracked();
        if let Some(Page::Here(before, _)) = before
            && before.address != drawn.address
        {
            imaging::give_back(&before.address);
        }
        self.shown.try_set(Page::Here(drawn, look));
        // Whoever turns pages by keys goes on turning.
        if self.by_key.try_get_value() == Some(true) {
            self.by_key.set_value(false);
            device::after_paint(|| device::focus_on(".paper-shown>.frame"));
        }
    }

    /// The same page in a frame of another form.
    pub fn look_anew(self) {
        if let Some(Page::Here(drawn, _)) = self.shown.try_get_untracked() {
            self.show(drawn);
        }
    }

    /// Where on this page that is what the step is about.
    pub fn place(self, size: (u32, u32), aspect: f64) -> Option<Crop> {
        let page = self.page.get_untracked();
        self.paper.with_untracked(|paper| {
            let about = self.about.get_value();
            let pins = about.iter().filter_map(|spot| paper.pin(spot));
            let pins: Vec<&PaperPin> = pins.filter(|pin| pin.page == page).collect();
            (!pins.is_empty()).then(|| part_of_page(size, &pins, aspect))
        })
    }

    pub fn turn(self, by: i32) {
        let page = i32::from(self.page.get_untracked()) + by;
        if let Ok(page) = u16::try_from(page) {
            self.go_to(page);
        }
    }

    pub fn turn_by_key(self, by: i32) {
        let before = self.page.get_untracked();
        self.turn(by);
        self.by_key.set_value(self.page.get_untracked() != before);
    }

    pub fn go_to(self, page: u16) {
        let is_there = (1..=self.pages.get_untracked()).contains(&page);
        if is_there && self.page.get_untracked() != page {
            self.page.set(page);
            // Where others were opened since, it is opened anew.
            spawn_local(open(self, self.name.get_value()));
        }
    }

    pub fn look(self) -> Option<Look> {
        match self.shown.get() {
            Page::Here(_, look) => Some(look),
            _ => None,
        }
    }

    pub fn with_look(self, act: impl Fn(Look)) {
        if let Some(look) = untrack(|| self.look()) {
            act(look);
        }
    }

    pub fn put(self, of: PaperSpot, at: Spotted) {
        if let Some(pinning) = self.pinning {
            let page = self.page.get_untracked();
            let (x, y) = (at.x, at.y);
            pinning.put.run(PaperPin { of, page, x, y });
        }
    }
}

/// Fetches the bytes and opens them; the PDF that was open last is still.
pub async fn open(view: View, name: PictureDigest) {
    if Pdf::open_still(&name).is_some() {
        return view.take().await;
    }
    let paper = match Pictures.get_paper(&name).await {
        Ok(paper) => paper,
        Err(NoPicture::Missing) => return view.fail(words::MISSING),
        Err(error) => return view.fail(&error.to_string()),
    };
    if paper.kind() != PictureType::Pdf {
        let Some(address) = imaging::lend_address(&paper) else {
            return view.fail(board_words::NOT_SHOWN);
        };
        return match imaging::size_at(&address).await {
            Some((width, height)) => view.show(Drawn {
                address,
                width,
                height,
            }),
            None => view.fail(board_words::NOT_SHOWN),
        };
    }
    match Pdf::open(paper.data()).await {
        Err(error) => view.fail(&error.to_string()),
        Ok(pdf) => {
            Pdf::leave_open(name, pdf);
            view.take().await;
        }
    }
}
