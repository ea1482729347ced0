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

/// Why a day that was typed is not taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NotTaken {
    /// It is no day.
    NotADate,
    /// Its year is none of an instrument or a job.
    Year(String),
}

impl fmt::Display for NotTaken {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NotTaken::NotADate => NotADate.fmt(f),
            NotTaken::Year(year) => write!(
                f,
                "The year {year} is not between {FIRST_YEAR} and {LAST_YEAR}; correct it."
            ),
        }
    }
}

/// The years that a day may be of where it is typed: none of an instrument or a job is earlier,
/// and a year has four figures.
const FIRST_YEAR: u16 = 1900;
const LAST_YEAR: u16 = 9999;

impl Date {
    /// The day, if the calendar has it.
    pub fn new(year: u16, month: u8, day: u8) -> Option<Self> {
        let exists = (1..=days_in(year, month)?).contains(&day);
        exists.then_some(Date { year, month, day })
    }

    /// A day as someone typed it, which must be one that can be meant; none where nothing is
    /// typed.
    pub fn typed(text: &str) -> Result<Option<Self>, NotTaken> {
        let text = text.trim();
        if text.is_empty() {
            return Ok(None);
        }
        let (year, rest) = text.split_once('-').ok_or(NotTaken::NotADate)?;
        let is_number = !year.is_empty() && year.bytes().all(|b| b.is_ascii_digit());
        let is_meant = |year: &u16| (FIRST_YEAR..=LAST_YEAR).contains(year);
        match year.parse::<u16>().ok().filter(is_meant) {
            Some(year) => format!("{year:04}-{rest}")
                .parse()
                .map(Some)
                .map_err(|NotADate| NotTaken::NotADate),
            None if is_number => Err(NotTaken::Year(year.to_owned())),
            None => Err(NotTaken::NotADate),
        }
    }
}

impl Date {
    /// How many days from this day to another; below zero to an earlier one.
    pub fn days_until(self, other: Date) -> i64 {
        other.number() - self.number()
    }

    /// The days before it since the year 0, by the rule of leap years.
    fn number(self) -> i64 {
        let before =
            |year: i64| 365 * year + (year + 3) / 4 - (year + 99) / 100 + (year + 399) / 400;
        let months = (1..self.month).filter_map(|month| days_in(self.year, month));
        before(i64::from(self.year)) + months.map(i64::from).sum::<i64>() + i64::from(self.day)
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

#[cfg(test)]
mod tests {
    use super::*;

    // Check: days between two days
    // Source: the modified Julian day of 2000-01-01, 51544, counted from 1858-11-17; leap years of the Gregorian calendar
    // Known by: memory
    #[test]
    fn days_between_days_go_by_the_calendar() {
        let day = |text: &str| text.parse::<Date>().unwrap();
        for (from, to, days) in [
            ("1858-11-17", "2000-01-01", 51544),
            ("2024-02-28", "2024-03-01", 2),
            ("2023-02-28", "2023-03-01", 1),
            ("1900-02-28", "1900-03-01", 1),
            ("2000-02-28", "2000-03-01", 2),
            ("2026-11-30", "2026-11-30", 0),
            ("2027-01-01", "2026-12-31", -1),
        ] {
            assert_eq!(day(from).days_until(day(to)), days, "{from} {to}");
        }
    }

    #[test]
    fn a_typed_day_is_one_that_can_be_meant() {
        assert_eq!(Date::typed(" "), Ok(None));
        for day in ["1900-01-01", "2027-03-31", "9999-12-31"] {
            let typed = Date::typed(day).unwrap().unwrap();
            assert_eq!(typed.to_string(), day);
        }
        for (day, year) in [
            ("131971-03-31", "131971"),
            ("10000-01-01", "10000"),
            ("1899-12-31", "1899"),
            ("0027-03-31", "0027"),
        ] {
            let refused = Date::typed(day).unwrap_err().to_string();
            let sentence = format!("The year {year} is not between 1900 and 9999; correct it.");
            assert_eq!(refused, sentence);
        }
        for text in ["today", "2027", "2027-02-30", "2027-3-31", "-2027-03-31"] {
            assert_eq!(Date::typed(text), Err(NotTaken::NotADate), "{text}");
        }
        // A file may hold one: what was kept once is read as it was.
        assert!("0027-03-31".parse::<Date>().is_ok());
    }
}
