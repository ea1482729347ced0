//! The order of the pins of a device.

use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;
use std::str::FromStr;

/// Letters of legs, two to six and each once.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PinOrder(pub(super) String);

/// A text that is not an order of legs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotAnOrder;

impl fmt::Display for NotAnOrder {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(
            "This is not an order of legs; write a capital for each from left to right, as in ECB.",
        )
    }
}

impl std::error::Error for NotAnOrder {}

impl FromStr for PinOrder {
    type Err = NotAnOrder;

    fn from_str(text: &str) -> Result<Self, NotAnOrder> {
        let capitals = text.bytes().all(|byte| byte.is_ascii_uppercase());
        let different = text
            .char_indices()
            .all(|(at, leg)| !text[..at].contains(leg));
        match (2..=6).contains(&text.len()) && capitals && different {
            true => Ok(PinOrder(text.to_owned())),
            false => Err(NotAnOrder),
        }
    }
}

impl fmt::Display for PinOrder {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl Serialize for PinOrder {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for PinOrder {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = <std::borrow::Cow<'de, str>>::deserialize(deserializer)?;
        text.parse().map_err(serde::de::Error::custom)
    }
}
