//! How the set and the bench are arranged for a step.

use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::fmt;

/// A part or a change to be fitted.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Alteration {
    /// What comes out, if anything.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub out: String,
    /// What goes in.
    #[serde(rename = "in")]
    pub fitted: String,
    /// Why.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub why: String,
}

/// A lead from one place to another.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Lead {
    /// Where it starts.
    pub from: String,
    /// Where it ends.
    pub to: String,
    /// Its colour.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub colour: String,
}

/// Receiving or transmitting.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Signal {
    /// Receiving.
    Rx,
    /// Transmitting.
    Tx,
}

impl fmt::Display for Signal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Signal::Rx => "RX",
            Signal::Tx => "TX",
        })
    }
}

/// The state that a set must be in for a step.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct SetUp {
    /// AM, FM, USB and so on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mode: Option<String>,
    /// The channel as the set shows it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub channel: Option<String>,
    /// Receiving or transmitting.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub signal: Option<Signal>,
    /// The supply, such as `13.8 V`, or `off`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub supply: Option<String>,
    /// What hangs on the set, and how the instruments around it stand.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub settings: BTreeMap<Setting, String>,
    /// Controls and what is connected.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub controls: Vec<Control>,
}

impl SetUp {
    /// Whether the set is in the same state in both: mode, channel, receiving or transmitting.
    pub fn is_state_of(&self, other: &SetUp) -> bool {
        let state = |set_up: &SetUp| {
            let SetUp {
                mode,
                channel,
                signal,
                ..
            } = set_up.clone();
            (mode, channel, signal)
        };
        state(self) == state(other)
    }
}

/// What is set around a set for a step, each a field of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Setting {
    /// What the set works into, such as `50 Ω`.
    Load,
    /// The frequency of the generator.
    GeneratorFrequency,
    /// The level of the generator, such as `-107 dBm`.
    GeneratorLevel,
    /// The modulation of the generator, such as `FM`.
    Modulation,
    /// Its depth or deviation, such as `30 %` or `1.5 kHz`.
    ModulationDepth,
    /// The tone that it is modulated with.
    ModulationTone,
    /// The centre frequency of the analyser.
    AnalyserCentre,
    /// The span of the analyser.
    AnalyserSpan,
    /// The resolution bandwidth of the analyser.
    AnalyserBandwidth,
}

impl Setting {
    /// All of them, in the order in which they are shown.
    pub const ALL: [Setting; 9] = [
        Setting::Load,
        Setting::GeneratorFrequency,
        Setting::GeneratorLevel,
        Setting::Modulation,
        Setting::ModulationDepth,
        Setting::ModulationTone,
        Setting::AnalyserCentre,
        Setting::AnalyserSpan,
        Setting::AnalyserBandwidth,
    ];

    /// In a few words.
    pub const fn name(self) -> &'static str {
        match self {
            Setting::Load => "Load",
            Setting::GeneratorFrequency => "Generator frequency",
            Setting::GeneratorLevel => "Generator level",
            Setting::Modulation => "Modulation",
            Setting::ModulationDepth => "Depth or deviation",
            Setting::ModulationTone => "Modulation tone",
            Setting::AnalyserCentre => "Analyser centre",
            Setting::AnalyserSpan => "Analyser span",
            Setting::AnalyserBandwidth => "Analyser bandwidth",
        }
    }
}

/// A control and where it stands, or a socket and what hangs on it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Control {
    /// The control.
    pub name: String,
    /// Where it stands.
    pub to: String,
}

/// One line of a set-up as shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetUpItem {
    /// What it is, such as `Mode`.
    pub name: String,
    /// What it must be.
    pub value: String,
    /// How that differs from the step before.
    pub change: SetUpChange,
}

/// How a line of a set-up differs from the step before.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SetUpChange {
    /// As before.
    Same,
    /// It was something else before.
    From(String),
    /// Nothing was said of it before.
    New,
}

impl SetUp {
    /// Whether nothing is stated.
    pub fn is_empty(&self) -> bool {
        *self == SetUp::default()
    }

    /// Name and value of everything stated, in a fixed order.
    pub fn lines(&self) -> Vec<(&str, String)> {
        let mut lines = Vec::new();
        let mut push = |name, value: Option<String>| {
            if let Some(value) = value {
                lines.push((name, value));
            }
        };
        push("Mode", self.mode.clone());
        push("Channel", self.channel.clone());
        push("State", self.signal.map(|signal| signal.to_string()));
        push("Supply", self.supply.clone());
        for (setting, value) in &self.settings {
            lines.push((setting.name(), value.clone()));
        }
        for control in &self.controls {
            lines.push((&control.name, control.to.clone()));
        }
        lines
    }

    /// The lines, each with what it was in the step before.
    pub fn compared_with(&self, before: Option<&SetUp>) -> Vec<SetUpItem> {
        let earlier = before.map(SetUp::lines).unwrap_or_default();
        self.lines()
            .into_iter()
            .map(|(name, value)| {
                let change = match earlier.iter().find(|(n, _)| *n == name) {
                    Some((_, old)) if *old == value => SetUpChange::Same,
                    Some((_, old)) => SetUpChange::From(old.clone()),
                    None => SetUpChange::New,
                };
                SetUpItem {
                    name: name.to_owned(),
                    value,
                    change,
                }
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_changes_from_the_step_before_is_known() {
        let control = |to: &str| Control {
            name: "Clarifier".to_owned(),
            to: to.to_owned(),
        };
        let before = SetUp {
            mode: Some("AM".to_owned()),
            channel: Some("8".to_owned()),
            controls: vec![control("centre")],
            ..SetUp::default()
        };
        let now = SetUp {
            mode: Some("USB".to_owned()),
            channel: Some("8".to_owned()),
            signal: Some(Signal::Tx),
            controls: vec![control("centre")],
            ..SetUp::default()
        };
        let changes: Vec<_> = now
            .compared_with(Some(&before))
            .into_iter()
            .map(|item| (item.name, item.change))
            .collect();
        assert_eq!(
            changes,
            [
                ("Mode".to_owned(), SetUpChange::From("AM".to_owned())),
                ("Channel".to_owned(), SetUpChange::Same),
                ("State".to_owned(), SetUpChange::New),
                ("Clarifier".to_owned(), SetUpChange::Same),
            ]
        );
    }
}
