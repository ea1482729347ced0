//! The kinds of steps, of what confirms a stop, of what ends a repeat, and of targets, as they are chosen.

use serde::{Deserialize, Serialize};

/// The kinds of steps to choose from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// Turn an adjuster until the reading meets its target.
    Set,
    /// Read an instrument.
    Read,
    /// Turn an adjuster to the largest reading.
    Peak,
    /// Turn an adjuster to the smallest reading.
    Dip,
    /// Look for what earlier hands or years did.
    Inspect,
    /// Do it and tick it.
    #[default]
    Tick,
    /// A safety gate.
    Stop,
    /// Go through earlier steps again until they hold.
    Repeat,
    /// Fit a part.
    Fit,
    /// Wire a lead.
    Wire,
    /// Wire a socket and measure its pins.
    Socket,
}

impl Kind {
    /// All kinds, in the order in which they are offered.
    pub const ALL: [Kind; 11] = [
        Kind::Set,
        Kind::Read,
        Kind::Peak,
        Kind::Dip,
        Kind::Inspect,
        Kind::Tick,
        Kind::Stop,
        Kind::Repeat,
        Kind::Fit,
        Kind::Wire,
        Kind::Socket,
    ];

    /// The kind in a few words.
    pub const fn name(self) -> &'static str {
        match self {
            Kind::Set => "Set to target",
            Kind::Read => "Read",
            Kind::Peak => "Peak",
            Kind::Dip => "Dip",
            Kind::Inspect => "Inspect",
            Kind::Tick => "Action",
            Kind::Stop => "Hold point",
            Kind::Repeat => "Repeat",
            Kind::Fit => "Replace part",
            Kind::Wire => "Wire",
            Kind::Socket => "Socket",
        }
    }

    /// Whether an instrument is read.
    pub const fn reads(self) -> bool {
        matches!(self, Kind::Set | Kind::Read | Kind::Peak | Kind::Dip)
    }

    /// Whether something is turned.
    pub const fn turns(self) -> bool {
        matches!(self, Kind::Set | Kind::Peak | Kind::Dip)
    }
}

/// What confirms a stop.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ConfirmedBy {
    /// The technician, by a key.
    #[default]
    Hand,
    /// A reading inside its target, and nothing else.
    Reading,
}

impl ConfirmedBy {
    /// Both, in the order in which they are offered.
    pub const ALL: [ConfirmedBy; 2] = [ConfirmedBy::Hand, ConfirmedBy::Reading];

    /// Whether it is the technician.
    pub fn is_hand(&self) -> bool {
        *self == ConfirmedBy::Hand
    }

    /// In words.
    pub const fn name(self) -> &'static str {
        match self {
            ConfirmedBy::Hand => "by hand",
            ConfirmedBy::Reading => "by a reading inside",
        }
    }
}

/// What ends the passes over some steps.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum UntilKind {
    /// All are inside in one pass.
    #[default]
    Inside,
    /// No reading changes by more than so much.
    Steady,
}

impl UntilKind {
    /// Both, in the order in which they are offered.
    pub const ALL: [UntilKind; 2] = [UntilKind::Inside, UntilKind::Steady];

    /// In words.
    pub const fn name(self) -> &'static str {
        match self {
            UntilKind::Inside => "all are inside in one pass",
            UntilKind::Steady => "no reading changes by more than",
        }
    }
}

/// The ways to state where a reading must lie.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum TargetKind {
    /// Not at all.
    #[default]
    None,
    /// A figure with a tolerance.
    Around,
    /// At least a figure.
    AtLeast,
    /// At most a figure.
    AtMost,
    /// Between two figures.
    Between,
    /// From another step's reading.
    Relative,
    /// By the frequency plan.
    Oscillator,
    /// The channel's frequency.
    Channel,
    /// A published limit.
    Limit,
}

impl TargetKind {
    /// All ways, in the order in which they are offered.
    pub const ALL: [TargetKind; 9] = [
        TargetKind::Around,
        TargetKind::AtLeast,
        TargetKind::AtMost,
        TargetKind::Between,
        TargetKind::Relative,
        TargetKind::Oscillator,
        TargetKind::Channel,
        TargetKind::Limit,
        TargetKind::None,
    ];

    /// The way in a few words.
    pub const fn name(self) -> &'static str {
        match self {
            TargetKind::None => "No target",
            TargetKind::Around => "Nominal ±",
            TargetKind::AtLeast => "At least",
            TargetKind::AtMost => "At most",
            TargetKind::Between => "Between",
            TargetKind::Relative => "From another step",
            TargetKind::Oscillator => "Frequency plan",
            TargetKind::Channel => "The channel",
            TargetKind::Limit => "A published limit",
        }
    }

    /// Whether it has a tolerance to type.
    pub const fn has_margin(self) -> bool {
        matches!(
            self,
            TargetKind::Around
                | TargetKind::Relative
                | TargetKind::Oscillator
                | TargetKind::Channel
        )
    }
}
