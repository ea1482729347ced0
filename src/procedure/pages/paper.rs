//! Papers of the set: circuit diagrams, layouts and service sheets, as pictures or PDF, and where
//! things are on their pages.
//!
//! A paper is named by the digest of its bytes, as a picture of the board is; the bytes are kept
//! and carried beside what names it.

use crate::procedure::{BoardPicture, BoardPin, Crop, Id, PictureDigest, Spot, WHOLE};
use serde::{Deserialize, Serialize};

/// The most pages of a paper that are shown: more than a service manual has.
pub const MAX_PAGES: u16 = 1_000;

/// A paper.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Paper {
    /// The name of its bytes.
    pub paper: PictureDigest,
    /// What it is, such as `Circuit diagram`.
    pub title: String,
    /// Where things are in it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pins: Vec<PaperPin>,
}

/// The place of something in a paper.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct PaperPin {
    /// What is there.
    pub of: PaperSpot,
    /// On which page, from 1.
    #[serde(default = "first_page", skip_serializing_if = "is_first_page")]
    pub page: u16,
    /// From the left edge, in ten-thousandths of the page's width.
    pub x: u16,
    /// From the upper edge, in ten-thousandths of the page's height.
    pub y: u16,
}

const fn first_page() -> u16 {
    1
}

fn is_first_page(page: &u16) -> bool {
    *page == first_page()
}

/// What a pin in a paper can point at.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PaperSpot {
    /// A place where a probe goes.
    TestPoint(Id),
    /// Something that is turned.
    Adjuster(Id),
    /// A socket, by what it is called.
    Socket(String),
}

impl From<Spot> for PaperSpot {
    fn from(spot: Spot) -> Self {
        match spot {
            Spot::TestPoint(id) => PaperSpot::TestPoint(id),
            Spot::Adjuster(id) => PaperSpot::Adjuster(id),
        }
    }
}

impl PaperSpot {
    /// The designator or name.
    pub fn name(&self) -> &str {
        match self {
            PaperSpot::TestPoint(id) | PaperSpot::Adjuster(id) => id.as_str(),
            PaperSpot::Socket(name) => name,
        }
    }

    /// The kind of thing in words.
    pub const fn kind(&self) -> &'static str {
        match self {
            PaperSpot::TestPoint(_) => "test point",
            PaperSpot::Adjuster(_) => "adjuster",
            PaperSpot::Socket(_) => "socket",
        }
    }
}

impl PaperPin {
    /// Whether it lies on a page that can be shown.
    pub fn is_sound(&self) -> bool {
        (1..=MAX_PAGES).contains(&self.page) && self.x <= WHOLE && self.y <= WHOLE
    }
}

impl Paper {
    /// The pin of something.
    pub fn pin(&self, of: &PaperSpot) -> Option<&PaperPin> {
        self.pins.iter().find(|pin| pin.of == *of)
    }

    /// Puts a pin, wherever that of the same thing was before.
    pub fn put(&mut self, pin: PaperPin) {
        match self.pins.iter_mut().find(|known| known.of == pin.of) {
            Some(known) => *known = pin,
            None => self.pins.push(pin),
        }
    }

    /// The pins that this paper has and another one of the same bytes lacks.
    fn lacked_by<'a>(&'a self, other: &'a Paper) -> impl Iterator<Item = &'a PaperPin> {
        self.pins.iter().filter(|pin| other.pin(&pin.of).is_none())
    }

    /// Takes over the pins of another one of the same bytes, where it has none of its own.
    pub fn join(&mut self, other: &Paper) {
        let new: Vec<_> = other.lacked_by(self).cloned().collect();
        self.pins.extend(new);
    }

    /// The page on which the most of some things is, the earliest of several, with their pins on
    /// it; nothing where none is pinned.
    pub fn page_of(&self, spots: &[PaperSpot]) -> Option<(u16, Vec<&PaperPin>)> {
        let pins = spots.iter().filter_map(|spot| self.pin(spot));
        let pins: Vec<&PaperPin> = pins.filter(|pin| pin.is_sound()).collect();
        let on = |page: u16| pins.iter().filter(|pin| pin.page == page).count();
        let page = pins
            .iter()
            .map(|pin| pin.page)
            .max_by_key(|page| (on(*page), std::cmp::Reverse(*page)))?;
        let here = pins.into_iter().filter(|pin| pin.page == page).collect();
        Some((page, here))
    }
}

/// The part of a page, so many wide and high, around some pins that fills a frame of this aspect;
/// the whole page where there are none.
pub fn part_of_page(size: (u32, u32), pins: &[&PaperPin], frame: f64) -> Crop {
    // The same arithmetic as for a picture of the board.
    let name = || PictureDigest::of(b"");
    let page = BoardPicture {
        picture: name(),
        title: String::new(),
        width: size.0,
        height: size.1,
        pins: Vec::new(),
    };
    let pins: Vec<BoardPin> = pins.iter().filter_map(|pin| on_board(pin)).collect();
    page.around(&pins.iter().collect::<Vec<_>>(), frame)
}

/// The same place as a pin of a board picture, whatever it points at.
fn on_board(pin: &PaperPin) -> Option<BoardPin> {
    Some(BoardPin {
        of: Spot::TestPoint("~".parse().ok()?),
        x: pin.x,
        y: pin.y,
    })
}
