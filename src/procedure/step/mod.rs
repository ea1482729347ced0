//! One step: the state the set must be in, where to probe, what to turn and what must come of it.

use super::{CrossCheck, Id, Removable, Settling, Socket, Target};
use crate::quantity::{DecimalSign, Quantity, Scale};
use crate::radio::limits::Known;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::fmt;

/// One thing to do.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Step {
    /// Its name within the procedure.
    pub id: Id,
    /// A few words.
    pub title: String,
    /// What to do, in sentences.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub text: String,
    /// What can hurt or break here.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<String>,
    /// The state that the set must be in.
    #[serde(default, skip_serializing_if = "SetUp::is_empty")]
    pub set_up: SetUp,
    /// Stops that must hold here, wherever they stand.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub needs: Vec<Id>,
    /// What comes off or is fitted for a while in this step.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub takes_off: Vec<Removable>,
    /// What of that goes back in this step, by its name.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub puts_back: Vec<String>,
    /// Minutes to wait, such as for a warm-up; other steps can be done meanwhile.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wait: Option<u32>,
    /// When the reading counts as settled.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub settles: Option<Settling>,
    /// The other step of a null that one adjuster makes in two modes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shares_null_with: Option<Id>,
    /// The same thing found by another route.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cross_check: Option<CrossCheck>,
    /// What the limit that the step states itself rests on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub basis: Option<Basis>,
    /// What kind of step it is, with what only that kind needs.
    pub work: Work,
}

/// What a limit rests on, so that who reads it a year later knows what it is worth.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Basis {
    /// How its figures are known.
    pub known: Known,
    /// The document with its clause, or what it was worked out from; empty where nothing is to be
    /// named.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub source: String,
}

/// The kinds of steps.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Work {
    /// Look for what earlier hands or years did: sound, altered, worn or damaged.
    Inspect,
    /// Read an instrument.
    Read {
        /// Where, with what, in which unit.
        gauge: Gauge,
        /// Where the reading must lie; a reading for the record has none.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        target: Option<Target>,
    },
    /// Turn an adjuster until the reading meets its target.
    Set {
        /// Where, with what, in which unit.
        gauge: Gauge,
        /// What is turned.
        adjuster: Id,
        /// Where the reading must lie.
        target: Target,
    },
    /// Turn an adjuster until the reading is as large as it gets.
    Peak {
        /// Where, with what, in which unit.
        gauge: Gauge,
        /// What is turned.
        adjuster: Id,
        /// Where the peak must lie, if that is known.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bound: Option<Target>,
    },
    /// Turn an adjuster until the reading is as small as it gets.
    Dip {
        /// Where, with what, in which unit.
        gauge: Gauge,
        /// What is turned.
        adjuster: Id,
        /// Where the dip must lie, if that is known.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bound: Option<Target>,
    },
    /// Fit a part or make a change.
    Fit(Alteration),
    /// Wire a lead.
    Wire(Lead),
    /// Wire a socket and measure its pins.
    Socket(Socket),
    /// Do it and tick it.
    Tick,
    /// Go through earlier steps again until their readings hold.
    Repeat(Repeat),
    /// A safety gate: nothing after it opens until it is confirmed.
    Stop {
        /// What the technician confirms, in the first person.
        confirm: String,
        /// How long the confirmation holds.
        #[serde(default, skip_serializing_if = "Holds::is_until_a_break")]
        holds: Holds,
        /// The reading that alone confirms it, where a hand doesn't.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        reads: Option<HoldPoint>,
    },
}

/// Steps that are gone through again until their readings hold.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Repeat {
    /// The first of them.
    pub from: Id,
    /// The last of them.
    pub to: Id,
    /// What ends it.
    #[serde(default, skip_serializing_if = "Until::is_inside")]
    pub until: Until,
    /// The most passes, the first one among them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub passes: Option<u32>,
}

/// What ends the passes over some steps.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Until {
    /// All of them are inside their limits in one pass.
    #[default]
    Inside,
    /// No reading changes by more than this from one pass to the next.
    Steady(Quantity),
}

impl Until {
    /// Whether all have to be inside.
    pub fn is_inside(&self) -> bool {
        *self == Until::Inside
    }

    /// In words.
    pub fn words(&self, sign: DecimalSign) -> String {
        match self {
            Until::Inside => "all of them are inside in one pass".to_owned(),
            Until::Steady(most) => format!(
                "no reading changes by more than {} from one pass to the next",
                most.typeset(sign)
            ),
        }
    }
}

impl Repeat {
    /// What is repeated, in words: what a step without a title of its own is called.
    pub fn title(&self, number: impl Fn(&Id) -> Option<usize>) -> String {
        let name = |id| number(id).map_or(id.to_string(), |number| number.to_string());
        match self.from == self.to {
            true => format!("Repeat step {}", name(&self.from)),
            false => format!("Repeat steps {} to {}", name(&self.from), name(&self.to)),
        }
    }

    /// What is repeated and until when, in words; the steps by their numbers.
    pub fn words(&self, sign: DecimalSign, number: impl Fn(&Id) -> Option<usize>) -> String {
        format!("{} {}", self.title(number), self.end(sign))
    }

    /// Until when, in words.
    pub fn end(&self, sign: DecimalSign) -> String {
        let until = self.until.words(sign);
        let most = self
            .passes
            .map(|most| format!(", in {most} passes at most"));
        format!("until {until}{}", most.unwrap_or_default())
    }
}

/// The reading that a stop waits for, such as below 10 V at TP1.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct HoldPoint {
    /// Where, with what, in which unit.
    pub gauge: Gauge,
    /// Where the reading must lie: a figure of its own, since nothing else may keep a stop closed.
    pub target: Target,
}

/// How long a confirmed stop holds. Breaks are counted, not minutes: a log says in which order
/// things happened, but a device's clock may be wrong.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Holds {
    /// Until the bench is left: who comes back confirms it again.
    #[default]
    UntilABreak,
    /// For the whole job: what it confirms stays so, as a lead that was cut off does.
    WholeJob,
}

impl Holds {
    /// Both, in the order in which they are offered.
    pub const ALL: [Holds; 2] = [Holds::UntilABreak, Holds::WholeJob];

    /// Whether a break ends it.
    pub fn is_until_a_break(&self) -> bool {
        *self == Holds::UntilABreak
    }

    /// In words.
    pub const fn name(self) -> &'static str {
        match self {
            Holds::UntilABreak => "until a break",
            Holds::WholeJob => "for the whole job",
        }
    }
}

/// How a reading is taken.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Gauge {
    /// The test point.
    pub at: Id,
    /// The instrument's role.
    pub with: Id,
    /// The unit and prefix in which a bare number is taken.
    #[serde(rename = "in")]
    pub scale: Scale,
    /// The impedance in which a voltage is a power.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub into: Option<Quantity>,
    /// What stands between the set and the instrument.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub path: Option<Path>,
}

impl Gauge {
    /// The roles that a reading is taken with: that of the instrument, and of what the signal
    /// passes on its way.
    pub fn roles(&self) -> impl Iterator<Item = &Id> {
        let passed = self.path.iter().flat_map(|path| &path.through);
        [&self.with].into_iter().chain(passed)
    }
}

/// What a signal passes between the set and the instrument.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Path {
    /// The roles of pads, couplers and probes, from the set on.
    pub through: Vec<Id>,
    /// Which way the signal goes.
    #[serde(default, skip_serializing_if = "Direction::is_from_set")]
    pub direction: Direction,
}

/// Which way a signal goes: what a pad takes away is added to a reading of the set, and taken from
/// what a generator gives.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Direction {
    /// From the set to the instrument, which reads it.
    #[default]
    FromSet,
    /// From the instrument, such as a generator, into the set.
    IntoSet,
}

impl Direction {
    /// Both, in the order in which they are offered.
    pub const ALL: [Direction; 2] = [Direction::FromSet, Direction::IntoSet];

    /// Whether the instrument reads what the set gives.
    pub fn is_from_set(&self) -> bool {
        *self == Direction::FromSet
    }

    /// In words.
    pub const fn name(self) -> &'static str {
        match self {
            Direction::FromSet => "From the set",
            Direction::IntoSet => "Into the set",
        }
    }
}

impl Gauge {
    /// An instrument straight at the test point.
    pub fn new(at: Id, with: Id, scale: Scale) -> Self {
        Gauge {
            at,
            with,
            scale,
            into: None,
            path: None,
        }
    }

    /// The roles of what stands in the path.
    pub fn through(&self) -> &[Id] {
        self.path.as_ref().map_or(&[], |path| &path.through)
    }
}

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

impl Step {
    /// A step with nothing but its work.
    pub fn new(id: Id, title: impl Into<String>, work: Work) -> Self {
        Step {
            id,
            title: title.into(),
            text: String::new(),
            cautions: Vec::new(),
            set_up: SetUp::default(),
            needs: Vec::new(),
            takes_off: Vec::new(),
            puts_back: Vec::new(),
            wait: None,
            settles: None,
            shares_null_with: None,
            cross_check: None,
            basis: None,
            work,
        }
    }
}

impl Step {
    /// Whether another step, such as that of an earlier revision, reads the same thing in the same
    /// state of the set: only then can their readings be compared.
    pub fn reads_as(&self, other: &Step) -> bool {
        self.work.gauge() == other.work.gauge() && self.set_up == other.set_up
    }
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

impl Work {
    /// The kind in a word.
    pub const fn kind(&self) -> &'static str {
        match self {
            Work::Inspect => "inspect",
            Work::Read { .. } => "read",
            Work::Set { .. } => "set to target",
            Work::Peak { .. } => "peak",
            Work::Dip { .. } => "dip",
            Work::Fit(_) => "fit",
            Work::Wire(_) => "wire",
            Work::Socket(_) => "socket",
            Work::Tick => "tick",
            Work::Repeat(_) => "repeat",
            Work::Stop { .. } => "stop",
        }
    }

    /// How the reading is taken, where the step takes one.
    pub fn gauge(&self) -> Option<&Gauge> {
        match self {
            Work::Read { gauge, .. }
            | Work::Set { gauge, .. }
            | Work::Peak { gauge, .. }
            | Work::Dip { gauge, .. } => Some(gauge),
            Work::Stop { reads, .. } => reads.as_ref().map(|reads| &reads.gauge),
            _ => None,
        }
    }

    /// Whether it is a safety gate.
    pub const fn is_stop(&self) -> bool {
        matches!(self, Work::Stop { .. })
    }

    /// Whether its reading says something of the set. That of a stop says that work may go on.
    pub fn measures(&self) -> bool {
        self.gauge().is_some() && !self.is_stop()
    }

    /// What is turned, where something is.
    pub fn adjuster(&self) -> Option<&Id> {
        match self {
            Work::Set { adjuster, .. }
            | Work::Peak { adjuster, .. }
            | Work::Dip { adjuster, .. } => Some(adjuster),
            _ => None,
        }
    }

    /// Where the reading must lie, where that is stated.
    pub fn target(&self) -> Option<&Target> {
        match self {
            Work::Set { target, .. } => Some(target),
            Work::Read { target, .. } => target.as_ref(),
            Work::Peak { bound, .. } | Work::Dip { bound, .. } => bound.as_ref(),
            Work::Stop { reads, .. } => reads.as_ref().map(|reads| &reads.target),
            _ => None,
        }
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
