//! Pictures of the board, and where its test points and adjusters are on them.
//!
//! A procedure holds a picture's name, size and pins only; the bytes are kept and carried
//! beside it, under the same name.

use crate::procedure::{Id, digest_of};
use serde::{Deserialize, Deserializer, Serialize};
use std::fmt;
use std::str::FromStr;

/// The name of a picture: SHA-256 (FIPS 180-4) of its bytes in lower-case hexadecimal.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
pub struct PictureDigest(String);

/// How many hexadecimal digits a SHA-256 has.
const DIGEST_LENGTH: usize = 64;

/// A text that is no SHA-256 in lower-case hexadecimal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NoDigest;

impl fmt::Display for NoDigest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "A picture is named by {DIGEST_LENGTH} lower-case hexadecimal digits: this is something else"
        )
    }
}

impl std::error::Error for NoDigest {}

impl PictureDigest {
    /// The name of these bytes.
    pub fn of(bytes: &[u8]) -> Self {
        PictureDigest(digest_of(bytes))
    }

    /// The digits.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl FromStr for PictureDigest {
    type Err = NoDigest;

    fn from_str(text: &str) -> Result<Self, NoDigest> {
        let is_digit = |byte: u8| matches!(byte, b'0'..=b'9' | b'a'..=b'f');
        match text.len() == DIGEST_LENGTH && text.bytes().all(is_digit) {
            true => Ok(PictureDigest(text.to_owned())),
            false => Err(NoDigest),
        }
    }
}

impl fmt::Display for PictureDigest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl<'de> Deserialize<'de> for PictureDigest {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = <std::borrow::Cow<'de, str>>::deserialize(deserializer)?;
        text.parse().map_err(serde::de::Error::custom)
    }
}

/// The whole width or height of a picture, in the units in which pins are placed.
pub const WHOLE: u16 = 10_000;

/// The most pixels to a side that a picture may say it has.
pub(in crate::procedure) const MAX_SIDE: u32 = 20_000;

/// A picture of one side of the board.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct BoardPicture {
    /// The name of its bytes.
    pub picture: PictureDigest,
    /// What it shows, such as `Top` or `Track side`.
    pub title: String,
    /// Pixels from left to right.
    pub width: u32,
    /// Pixels from top to bottom.
    pub height: u32,
    /// Where things are on it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pins: Vec<BoardPin>,
}

/// The place of something on a picture.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct BoardPin {
    /// What is there.
    pub of: Spot,
    /// From the left edge, in ten-thousandths of the width.
    pub x: u16,
    /// From the upper edge, in ten-thousandths of the height.
    pub y: u16,
}

/// What a pin can point at.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Spot {
    /// A place where a probe goes.
    TestPoint(Id),
    /// Something that is turned.
    Adjuster(Id),
}

impl Spot {
    /// The designator.
    pub const fn id(&self) -> &Id {
        match self {
            Spot::TestPoint(id) | Spot::Adjuster(id) => id,
        }
    }

    /// The kind of thing in words.
    pub(in crate::procedure) const fn kind(&self) -> &'static str {
        match self {
            Spot::TestPoint(_) => "test point",
            Spot::Adjuster(_) => "adjuster",
        }
    }
}

/// A part of a picture, in ten-thousandths of its width and height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crop {
    /// The left edge.
    pub x: f64,
    /// The upper edge.
    pub y: f64,
    /// From left to right.
    pub width: f64,
    /// From top to bottom.
    pub height: f64,
}

/// The smallest part of a picture's longer side that is shown around a pin: enough to tell
/// where on the board it is.
const CLOSEST: f64 = 0.3;

/// How much further than the pins the crop reaches, on each side, as a part of the longer side.
const MARGIN: f64 = 0.1;

impl Crop {
    /// The whole picture.
    pub const ALL: Crop = Crop {
        x: 0.0,
        y: 0.0,
        width: WHOLE as f64,
        height: WHOLE as f64,
    };

    /// A crop magnified by a factor around a point inside, which keeps its place in it, held
    /// inside the picture. Factors below 1 show more.
    pub fn zoomed(self, factor: f64, x: f64, y: f64) -> Crop {
        let whole = f64::from(WHOLE);
        // Both sides by the same factor, so that nothing is distorted.
        let most = (whole / self.width).max(whole / self.height);
        let least = MAX_ZOOM_SIDE / self.width.max(self.height);
        let scale = (1.0 / factor).clamp(least.min(1.0), most.max(1.0));
        Crop {
            x: x - (x - self.x) * scale,
            y: y - (y - self.y) * scale,
            width: self.width * scale,
            height: self.height * scale,
        }
        .held()
    }

    /// The crop moved by a part of its own width and height, held inside the picture.
    pub fn moved(self, right: f64, down: f64) -> Crop {
        Crop {
            x: self.x + right * self.width,
            y: self.y + down * self.height,
            ..self
        }
        .held()
    }

    /// The middle.
    pub fn middle(self) -> (f64, f64) {
        (self.x + self.width / 2.0, self.y + self.height / 2.0)
    }

    /// Moved so that it shows nothing beside the picture. A side that is longer than the
    /// picture's lies in the middle.
    fn held(self) -> Crop {
        let hold = |at: f64, length: f64| {
            let room = f64::from(WHOLE) - length;
            match room >= 0.0 {
                true => at.clamp(0.0, room),
                false => room / 2.0,
            }
        };
        Crop {
            x: hold(self.x, self.width),
            y: hold(self.y, self.height),
            ..self
        }
    }
}

/// The longer side of the closest look, in ten-thousandths.
const MAX_ZOOM_SIDE: f64 = 400.0;

impl BoardPicture {
    /// The pin of something.
    pub fn pin(&self, of: &Spot) -> Option<&BoardPin> {
        self.pins.iter().find(|pin| pin.of == *of)
    }

    /// Puts the pin of something here, wherever it was before.
    pub fn put(&mut self, of: Spot, x: u16, y: u16) {
        let (x, y) = (x.min(WHOLE), y.min(WHOLE));
        match self.pins.iter_mut().find(|pin| pin.of == of) {
            Some(pin) => (pin.x, pin.y) = (x, y),
            None => self.pins.push(BoardPin { of, x, y }),
        }
    }

    /// Width by height of the whole picture.
    pub fn aspect(&self) -> f64 {
        f64::from(self.width.max(1)) / f64::from(self.height.max(1))
    }

    /// The part around some pins that fills a frame of this aspect (width by height): all of
    /// them with a margin, and never so little that nobody could tell where it is. The whole
    /// picture, with what is beside it, where there are no pins.
    pub fn around(&self, pins: &[&BoardPin], frame: f64) -> Crop {
        // In units of the picture's height, so that both directions measure alike.
        let aspect = self.aspect();
        let whole = f64::from(WHOLE);
        let longer = aspect.max(1.0);
        let span = |of: &dyn Fn(&BoardPin) -> f64| {
            let low = pins.iter().map(|pin| of(pin)).fold(f64::INFINITY, f64::min);
            let high = pins.iter().map(|pin| of(pin)).fold(0.0, f64::max);
            (low, high)
        };
        let (left, right, top, bottom) = match pins.is_empty() {
            true => (0.0, aspect, 0.0, 1.0),
            false => {
                let (left, right) = span(&|pin| f64::from(pin.x) / whole * aspect);
                let (top, bottom) = span(&|pin| f64::from(pin.y) / whole);
                let margin = MARGIN * longer;
                (left - margin, right + margin, top - margin, bottom + margin)
            }
        };
        let least = if pins.is_empty() {
            0.0
        } else {
            CLOSEST * longer
        };
        let height = (bottom - top).max((right - left) / frame);
        let height = height.max(least / frame.max(1.0));
        // No more than what shows the whole picture.
        let height = height.min((1.0_f64).max(aspect / frame));
        let width = height * frame;
        let (middle_x, middle_y) = ((left + right) / 2.0, (top + bottom) / 2.0);
        Crop {
            x: (middle_x - width / 2.0) / aspect * whole,
            y: (middle_y - height / 2.0) * whole,
            width: width / aspect * whole,
            height: height * whole,
        }
        .held()
    }
}
