//! Channel tables with their source.

use crate::quantity::{DecimalSign, Number, Prefix, Quantity, Scale, Unit, read};
use bigdecimal::BigDecimal;
use serde::{Deserialize, Serialize};

/// A channel: its name on the dial and its centre frequency.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Channel {
    /// What the dial shows, such as `19`.
    pub name: String,
    /// The centre frequency.
    pub frequency: Quantity,
}

/// A named table of channels, built in or made by the user.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct ChannelTable {
    /// The table's name.
    pub name: String,
    /// Where it is published.
    pub source: String,
    /// The channels in the order of the dial.
    pub channels: Vec<Channel>,
}

/// Centre frequencies in kHz of 47 CFR 95.963, with the odd order from 22 to 26.
const FORTY_KILOHERTZ: [u32; 40] = [
    26_965, 26_975, 26_985, 27_005, 27_015, 27_025, 27_035, 27_055, 27_065, 27_075, 27_085, 27_105,
    27_115, 27_125, 27_135, 27_155, 27_165, 27_175, 27_185, 27_205, 27_215, 27_225, 27_255, 27_235,
    27_245, 27_265, 27_275, 27_285, 27_295, 27_305, 27_315, 27_325, 27_335, 27_345, 27_355, 27_365,
    27_375, 27_385, 27_395, 27_405,
];

impl Channel {
    /// A channel from its line: name, space, frequency.
    fn read(line: &str, sign: DecimalSign) -> Result<Channel, String> {
        const MEGAHERTZ: Scale = Scale::new(Prefix::Mega, Unit::Hertz);
        let (name, frequency) = line
            .trim()
            .split_once(char::is_whitespace)
            .ok_or("type a name, a space and a frequency")?;
        let frequency = read(frequency, MEGAHERTZ, sign).map_err(|error| error.to_string())?;
        Ok(Channel {
            name: name.to_owned(),
            frequency,
        })
    }
}

impl ChannelTable {
    /// A table as a person types it, one channel to a line: its name, a space, and its
    /// frequency, in MHz where no unit is given. Gives a sentence for what can't be read.
    pub fn read(
        name: &str,
        source: &str,
        lines: &str,
        sign: DecimalSign,
    ) -> Result<ChannelTable, String> {
        if name.trim().is_empty() {
            return Err("The table has no name: give it one".to_owned());
        }
        let mut channels: Vec<Channel> = Vec::new();
        for (index, line) in lines.lines().enumerate() {
            if line.trim().is_empty() {
                continue;
            }
            let place = |what: String| format!("Line {}: {what}", index + 1);
            let channel = Channel::read(line, sign).map_err(place)?;
            if channels.iter().any(|other| other.name == channel.name) {
                let what = format!("there are two channels “{}”: rename one", channel.name);
                return Err(place(what));
            }
            channels.push(channel);
        }
        if channels.is_empty() {
            return Err("The table has no channels: type at least one".to_owned());
        }
        Ok(ChannelTable {
            name: name.trim().to_owned(),
            source: source.trim().to_owned(),
            channels,
        })
    }

    /// The tables that come with the app.
    pub fn built_in() -> Vec<ChannelTable> {
        vec![
            ChannelTable::us_27_megahertz(),
            ChannelTable::european_27_megahertz(),
            ChannelTable::uk_27_81(),
            ChannelTable::marine(),
        ]
    }

    /// Source: 47 CFR 95.963 (read as former 95.407, 40 rows identical in 2014 and 2016).
    pub fn us_27_megahertz() -> ChannelTable {
        ChannelTable {
            name: "US 27 MHz, 40 channels".into(),
            source: "47 CFR 95.963".into(),
            channels: numbered(FORTY_KILOHERTZ.map(|khz| megahertz(khz, 3))),
        }
    }

    /// Source: ECC/DEC/(11)03 for band, raster and excluded centres; the numbering of EN 300 433
    /// from memory, the same as 47 CFR 95.963.
    pub fn european_27_megahertz() -> ChannelTable {
        ChannelTable {
            name: "European 27 MHz, 40 channels".into(),
            source: "ECC/DEC/(11)03; numbering of EN 300 433 from memory".into(),
            ..ChannelTable::us_27_megahertz()
        }
    }

    /// 27.60125 MHz + 10 kHz·(n−1). Source: the published 27/81 band plan (MPT 1320), 40 rows.
    pub fn uk_27_81() -> ChannelTable {
        ChannelTable {
            name: "UK 27/81, 40 channels".into(),
            source: "27/81 band plan (MPT 1320)".into(),
            channels: numbered((0..40).map(|step| megahertz(2_760_125 + 1_000 * step, 5))),
        }
    }

    /// The frequencies on which a ship sends: 156.050 MHz + 50 kHz·(n−1) for channels 1 to 28,
    /// 156.025 MHz + 50 kHz·(n−60) for 60 to 88. Source: ITU Radio Regulations, Appendix 18 (from
    /// memory); the four that 47 CFR 80.215(g) names are among them.
    pub fn marine() -> ChannelTable {
        let first = (1..=28).map(|channel| (channel, 156_050 + 50 * (channel - 1)));
        let second = (60..=88).map(|channel| (channel, 156_025 + 50 * (channel - 60)));
        ChannelTable {
            name: "Marine VHF, where a ship sends".into(),
            source: "ITU Radio Regulations, Appendix 18, from memory".into(),
            channels: named(first.chain(second)),
        }
    }

    /// Where an airband set is proved: the ends and the middle, by their names for 25 kHz and, of
    /// the same frequencies, for 8.33 kHz.
    ///
    /// Source (from memory): the pairing of channel names with frequencies in ICAO Annex 10,
    /// Volume V.
    pub fn airband() -> ChannelTable {
        ChannelTable {
            name: "airband, 25 and 8.33 kHz".into(),
            source: "ICAO Annex 10, from memory".into(),
            channels: named([
                ("118.000", 118_000),
                ("127.000", 127_000),
                ("136.975", 136_975),
                ("118.005", 118_000),
                ("127.005", 127_000),
                ("136.980", 136_975),
            ]),
        }
    }

    /// One frequency in each amateur band in which HF sets usually change their filters.
    ///
    /// Source: inside the bands of 47 CFR 97.301 (from memory).
    pub fn amateur() -> ChannelTable {
        ChannelTable {
            name: "amateur bands, 160 to 10 m".into(),
            source: "inside the bands of 47 CFR 97.301, from memory".into(),
            channels: named([
                ("160 m", 1_900),
                ("80 m", 3_700),
                ("40 m", 7_100),
                ("30 m", 10_120),
                ("20 m", 14_200),
                ("17 m", 18_120),
                ("15 m", 21_250),
                ("12 m", 24_940),
                ("10 m", 28_500),
            ]),
        }
    }

    /// The channel of a name.
    pub fn channel(&self, name: &str) -> Option<&Channel> {
        self.channels.iter().find(|channel| channel.name == name)
    }
}

fn numbered(frequencies: impl IntoIterator<Item = Quantity>) -> Vec<Channel> {
    let number = |(index, frequency): (usize, Quantity)| Channel {
        name: (index + 1).to_string(),
        frequency,
    };
    frequencies.into_iter().enumerate().map(number).collect()
}

/// Channels by name, their frequencies in kHz.
fn named<N: ToString>(rows: impl IntoIterator<Item = (N, u32)>) -> Vec<Channel> {
    let row = |(name, khz): (N, u32)| Channel {
        name: name.to_string(),
        frequency: megahertz(khz, 3),
    };
    rows.into_iter().map(row).collect()
}

/// A frequency in MHz of digits with so many of them behind the point.
fn megahertz(digits: u32, decimals: i64) -> Quantity {
    let number = Number::from_decimal(BigDecimal::new(digits.into(), decimals));
    Quantity::new(number, Scale::new(Prefix::Mega, Unit::Hertz))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(name: &str, lines: &str) -> Result<ChannelTable, String> {
        ChannelTable::read(name, "the club", lines, DecimalSign::Point)
    }

    // Check: ship frequencies of channels 6, 13, 16, 67, 70, 72, 75, 76 and 88
    // Source: ITU Radio Regulations, Appendix 18; 156.375, 156.650, 156.775 and 156.825 MHz stand
    // in 47 CFR 80.215(g)(2) and (3) without their channels
    // Known by: memory; the four read
    #[test]
    fn marine_channels_are_where_ships_send() {
        let table = ChannelTable::marine();
        assert_eq!(table.channels.len(), 57);
        for (name, megahertz) in [
            ("6", "156.300 MHz"),
            ("13", "156.650 MHz"),
            ("16", "156.800 MHz"),
            ("67", "156.375 MHz"),
            ("70", "156.525 MHz"),
            ("72", "156.625 MHz"),
            ("75", "156.775 MHz"),
            ("76", "156.825 MHz"),
            ("88", "157.425 MHz"),
        ] {
            let channel = table.channel(name).expect(name);
            assert_eq!(channel.frequency.to_string(), megahertz, "{name}");
        }
    }

    #[test]
    fn a_table_is_read_line_by_line() {
        let table = typed("Club", "1 28.300\n\n A  28310 kHz \n").unwrap();
        let shown: Vec<String> = table
            .channels
            .iter()
            .map(|channel| format!("{} {}", channel.name, channel.frequency))
            .collect();
        assert_eq!(shown, ["1 28.300 MHz", "A 28310 kHz"]);
    }

    #[test]
    fn what_is_wrong_in_a_table_is_said_with_its_line() {
        for (name, lines, part) in [
            ("", "1 28.3", "no name"),
            ("Club", " \n", "no channels"),
            ("Club", "1 28.3\n28.4", "Line 2: type a name"),
            ("Club", "1 28.3\n2 x", "Line 2: “x”"),
            ("Club", "1 28.3 V", "Line 1: This is in V"),
            (
                "Club",
                "1 28.3\n1 28.4",
                "Line 2: there are two channels “1”",
            ),
        ] {
            let said = typed(name, lines).unwrap_err();
            assert!(said.contains(part), "{said}");
        }
    }
}
