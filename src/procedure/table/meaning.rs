//! What a column can hold, and the words that head it.

use crate::procedure::Setting;
use serde::{Deserialize, Serialize};

/// What a cell can be.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Meaning {
    /// The row's number in the table that it comes from.
    Number,
    /// The step in a few words.
    Title,
    /// The test point.
    Point,
    /// What is turned.
    Adjuster,
    /// Where the reading must lie.
    Target,
    /// How far it may be off.
    Tolerance,
    /// The smallest reading that passes.
    Low,
    /// The largest reading that passes.
    High,
    /// The figure that is aimed at, or usual.
    Nominal,
    /// A reading of its own, named by the heading.
    Reading,
    /// How the set and the generator stand.
    Condition,
    /// What to do.
    Note,
    /// What can hurt or break.
    Caution,
    /// The unit of bare figures.
    Unit,
    /// The instrument's role.
    Instrument,
    /// The mode.
    Mode,
    /// The channel.
    Channel,
    /// Receiving or transmitting.
    Signal,
    /// The supply.
    Supply,
    /// What is set around the set.
    Set(Setting),
    /// The section.
    Section,
    /// The kind of step.
    Kind,
    /// Nothing that is taken in, such as a place for the reading.
    Left,
}

use Meaning::*;

impl Meaning {
    /// All meanings, in the order in which they are offered.
    pub const ALL: [Meaning; 31] = [
        Title,
        Point,
        Adjuster,
        Target,
        Tolerance,
        Low,
        High,
        Nominal,
        Reading,
        Condition,
        Note,
        Caution,
        Unit,
        Instrument,
        Mode,
        Channel,
        Signal,
        Supply,
        Set(Setting::Load),
        Set(Setting::GeneratorFrequency),
        Set(Setting::GeneratorLevel),
        Set(Setting::Modulation),
        Set(Setting::ModulationDepth),
        Set(Setting::ModulationTone),
        Set(Setting::AnalyserCentre),
        Set(Setting::AnalyserSpan),
        Set(Setting::AnalyserBandwidth),
        Section,
        Kind,
        Number,
        Left,
    ];

    /// The words that head such a column, in lower case, the plainest first.
    pub const fn headings(self) -> &'static [&'static str] {
        match self {
            Number => &[
                "number",
                "no",
                "nr",
                "#",
                "step no",
                "step number",
                "pos",
                "item",
                "item no",
                "para",
                "seq",
            ],
            Title => &[
                "step",
                "title",
                "what",
                "operation",
                "action",
                "task",
                "check",
                "description",
                "stage",
                "circuit",
                "function",
                "parameter",
                "characteristic",
                "test",
                "test name",
                "test description",
                "criterion",
                "procedure",
                "test procedure",
                "name",
                "measurement",
                "emission",
                "test step",
                "test item",
                "transistor",
                "tube",
                "valve",
                "device",
                "part",
                "component",
                "rail",
                "harmonic",
                "ref",
                "ref no",
                "ref. no",
                "reference",
                "symbol",
                "winding",
                "diode",
                "ic",
            ],
            Point => &[
                "test point",
                "testpoint",
                "tp",
                "point",
                "test points",
                "measuring point",
                "measure at",
                "measured at",
                "probe",
                "probe at",
                "at",
                "where",
                "connect to",
                "terminal",
                "pin",
                "pin no",
                "electrode",
                "point of measurement",
                "measurement point",
                "test location",
                "measure between",
                "measured between",
                "between",
                "terminals",
            ],
            Adjuster => &[
                "adjuster",
                "adjust",
                "adjustment",
                "adjusting point",
                "core",
                "trimmer",
                "pot",
                "preset",
                "coil",
                "turn",
                "control",
            ],
            Target => &[
                "target",
                "limit",
                "limits",
                "value",
                "spec",
                "specification",
                "set to",
                "adjust to",
                "adjust for",
                "reading",
                "wanted",
                "required",
                "indication",
                "normal indication",
                "requirement",
                "requirements",
                "expected",
                "expected result",
                "expected value",
                "expected reading",
                "standard",
                "performance standard",
                "for",
                "result wanted",
                "should be",
                "must be",
                "shall be",
                "acceptable",
                "correct reading",
                "normal reading",
                "desired",
                "desired result",
                "test limits",
                "criteria",
                "pass criteria",
                "acceptance criteria",
                "acceptance limits",
                "resistance",
                "voltage",
                "dc resistance",
                "dc voltage",
            ],
            Tolerance => &["tolerance", "tol", "±", "+/-", "margin"],
            Low => &[
                "min",
                "minimum",
                "lower limit",
                "low limit",
                "minimum limit",
                "min limit",
                "limit lower",
                "limit min",
                "lower",
                "not less than",
                "at least",
            ],
            High => &[
                "max",
                "maximum",
                "upper limit",
                "high limit",
                "maximum limit",
                "max limit",
                "limit upper",
                "limit max",
                "upper",
                "not more than",
                "at most",
            ],
            Nominal => &["nominal", "typ", "typical", "nom", "normal"],
            Reading => &[],
            Condition => &[
                "condition",
                "conditions",
                "set up",
                "setup",
                "input",
                "control settings",
                "setting",
                "settings",
                "equipment under test",
                "test connections",
                "signal generator",
                "signal generator setting",
                "generator",
                "input signal",
                "signal input",
                "test signal",
                "preset to",
                "set controls to",
                "connections",
                "control position",
                "switch position",
                "switch positions",
            ],
            Note => &[
                "note",
                "notes",
                "remark",
                "remarks",
                "comment",
                "comments",
                "text",
                "how",
                "instruction",
                "instructions",
                "details",
                "method",
                "indicates",
                "corrective action",
                "fail action",
                "probable cause",
                "probable trouble",
                "isolating procedure",
                "if abnormal",
            ],
            Caution => &["caution", "cautions", "warning", "warnings", "danger"],
            Unit => &["unit", "units"],
            Instrument => &[
                "instrument",
                "instruments",
                "with",
                "measured with",
                "equipment",
                "test equipment",
                "meter",
                "using",
            ],
            Mode => &["mode"],
            Channel => &["channel", "ch", "chan"],
            Signal => &[
                "rx/tx",
                "tx/rx",
                "rx tx",
                "tx rx",
                "receive/transmit",
                "state",
            ],
            Supply => &["supply", "supply voltage", "power supply"],
            Set(setting) => settings_headed(setting),
            Section => &["section", "group", "chapter"],
            Kind => &["kind", "kind of step", "type", "type of step"],
            Left => &[
                "p/f",
                "pass/fail",
                "pass",
                "fail",
                "actual",
                "measured",
                "ok",
                "found",
                "as found",
                "as left",
                "result",
                "results",
                "observed",
                "initials",
                "date",
            ],
        }
    }
}

impl Meaning {
    /// Whether a text is one of its headings by the letter.
    pub(super) fn is_headed_by(self, text: &str) -> bool {
        let lower = text.to_lowercase();
        self.headings()
            .contains(&lower.trim_matches(['.', ':', ' ']))
    }
}

/// The words that head a column of a setting.
const fn settings_headed(setting: Setting) -> &'static [&'static str] {
    match setting {
        Setting::Load => &["load", "dummy load", "load resistance", "termination"],
        Setting::GeneratorFrequency => &[
            "generator frequency",
            "signal generator frequency",
            "generator freq",
            "input frequency",
        ],
        Setting::GeneratorLevel => &[
            "generator level",
            "signal generator level",
            "generator output",
            "signal generator output",
            "input level",
            "rf level",
            "rf input level",
        ],
        Setting::Modulation => &["modulation", "mod", "type of modulation", "modulation type"],
        Setting::ModulationDepth => &[
            "modulation depth",
            "depth or deviation",
            "generator deviation",
            "generator depth",
        ],
        Setting::ModulationTone => &[
            "modulation tone",
            "modulating frequency",
            "modulation frequency",
            "tone frequency",
            "tone",
        ],
        Setting::AnalyserCentre => &[
            "analyser centre",
            "analyzer center",
            "centre frequency",
            "center frequency",
        ],
        Setting::AnalyserSpan => &["analyser span", "analyzer span", "span"],
        Setting::AnalyserBandwidth => &[
            "analyser bandwidth",
            "analyzer bandwidth",
            "resolution bandwidth",
            "rbw",
        ],
    }
}

impl Meaning {
    /// In a few words.
    pub const fn name(self) -> &'static str {
        match self {
            Meaning::Number => "Number",
            Meaning::Title => "Step",
            Meaning::Point => "Test point",
            Meaning::Adjuster => "Adjuster",
            Meaning::Target => "Target",
            Meaning::Tolerance => "Tolerance",
            Meaning::Low => "Lower limit",
            Meaning::High => "Upper limit",
            Meaning::Nominal => "Nominal",
            Meaning::Reading => "A reading of its own",
            Meaning::Condition => "Condition",
            Meaning::Note => "Note",
            Meaning::Caution => "Caution",
            Meaning::Unit => "Unit",
            Meaning::Instrument => "Instrument",
            Meaning::Mode => "Mode",
            Meaning::Channel => "Channel",
            Meaning::Signal => "RX or TX",
            Meaning::Supply => "Supply",
            Meaning::Set(setting) => setting.name(),
            Meaning::Section => "Section",
            Meaning::Kind => "Kind of step",
            Meaning::Left => "Leave out",
        }
    }
}
