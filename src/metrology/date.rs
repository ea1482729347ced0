//! A day in the calendar, as calibration stickers carry it.

use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;
use std::str::FromStr;

/// A day of the Gregorian calendar, written `2025-03-31`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Date {
    year: u16,
    month: u8,
    day: u8,
}

/// A text that is not a day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotADate;

impl fmt::Display for NotADate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("This is not a day; write year, month and day, as in 2025-03-31.")
    }
}

impl std::error::Error for NotADate {}

impl Date {
    /// The day, if the calendar has it.
    pub fn new(year: u16, month: u8, day: u8) -> Option<Self> {
        let exists = (1..=days_in(year, month)?).contains(&day);
        exists.then_some(Date { year, month, day })
    }
}

fn days_in(year: u16, month: u8) -> Option<u8> {
    let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    match month {
        2 if leap => Some(29),
        2 => Some(28),
        4 | 6 | 9 | 11 => Some(30),
        1..=12 => Some(31),
        _ => None,
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

impl FromStr for Date {
    type Err = NotADate;

    fn from_str(text: &str) -> Result<Self, NotADate> {
        let all_digits = |part: &&str| part.bytes().all(|b| b.is_ascii_digit());
        let parts: Vec<&str> = text.split('-').collect();
        match parts[..] {
            [year, month, day]
                if parts.iter().all(all_digits)
                    && (year.len(), month.len(), day.len()) == (4, 2, 2) =>
            {
                let number = |part: &str| part.parse::<u16>().map_err(|_| NotADate);
                Date::new(number(year)?, number(month)? as u8, number(day)? as u8).ok_or(NotADate)
            }
            _ => Err(NotADate),
        }
    }
}

impl Serialize for Date {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Date {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = <std::borrow::Cow<'de, str>>::deserialize(deserializer)?;
        text.parse().map_err(serde::de::Error::custom)
    }
}
