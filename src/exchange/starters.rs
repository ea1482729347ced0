//! Procedures to start from: for sets in general, without any maker's data.
//!
//! Where the board in hand has to say more, a starter is open: a designator that isn't known
//! yet begins with [`OPEN`], and a figure that the set's papers have is empty. Both are faults
//! until they are filled in. Where each figure comes from stands in `starters/SOURCES.md`.
//!
//! [`OPEN`]: crate::procedure::OPEN

use crate::authoring::Draft;
use crate::procedure::{Id, Procedure, ReadingTable, SetUp, Setting, Signal, Step, Target, Work};
use crate::quantity::DecimalSign;
use crate::radio::channels::ChannelTable;
use crate::radio::limits::{NOTICE, built_in, offers};
use serde::Deserialize;
use std::collections::{BTreeMap, HashSet};

const INTAKE: &str = include_str!("starters/intake.json");
const LAND_MOBILE: &str = include_str!("starters/land-mobile.json");
const MARINE: &str = include_str!("starters/marine.json");
const POWER: &str = include_str!("starters/power.json");
const ALIGN: &str = include_str!("starters/align.json");
const FM_PART: &str = include_str!("starters/fm-part.json");
const FUNCTIONS: &str = include_str!("starters/functions.json");
const PROOF: &str = include_str!("starters/proof.json");
const AIRBAND: &str = include_str!("starters/airband.json");
const HF: &str = include_str!("starters/hf.json");

/// A procedure to start from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Starter {
    /// What it is called.
    pub name: String,
    /// What it is for, in a sentence or two.
    pub about: String,
    /// What it starts with; a procedure made of it needs an id of its own.
    pub draft: Draft,
}

/// A starter as it is written in its file.
#[derive(Clone, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct Written {
    name: String,
    about: String,
    /// The steps whose nominal figure is open; what stands there only gives its unit.
    #[serde(default)]
    open: Vec<Id>,
    /// Steps that stand only in the proofs against one of these sets of limits.
    #[serde(default)]
    only: BTreeMap<Id, Vec<String>>,
    /// Steps whose own limit judges only in the proofs against one of these sets; in the others
    /// they are read for the record.
    #[serde(default)]
    judged: BTreeMap<Id, Vec<String>>,
    /// What it says of itself by one set of rules, where that is not what it says by the others.
    #[serde(default)]
    by: BTreeMap<String, ByRules>,
    procedure: Procedure,
}

/// What a proof says of itself by one set of rules.
#[derive(Clone, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct ByRules {
    about: String,
    /// What it adds to what the procedure covers.
    covers: String,
}

/// Rules that a set is proved against.
struct Rules {
    /// The sets of limits, the first that has a limit being the one to cite.
    sets: &'static [&'static str],
    /// The modes that the rules are for.
    modes: &'static [&'static str],
    /// The channels that they are for, where these are the same for every set.
    channels: Option<fn() -> ChannelTable>,
    /// The deviation that a receiver is read with: 60 % of what the rules permit. Where
    /// it is stated, what a reading leaves open is read in the first of the modes.
    ///
    /// Source: TIA-603-E 1.3.3.5, read second-hand.
    test_deviation: Option<&'static str>,
}

impl Rules {
    /// Rules by which every step states itself how a receiver is read.
    const fn of(
        sets: &'static [&'static str],
        modes: &'static [&'static str],
        channels: Option<fn() -> ChannelTable>,
    ) -> Rules {
        Rules {
            sets,
            modes,
            channels,
            test_deviation: None,
        }
    }
}

const RULES: [Rules; 3] = [
    Rules {
        sets: &["47-cfr-95-d"],
        modes: &["AM", "FM", "USB", "LSB"],
        channels: Some(ChannelTable::us_27_megahertz),
        test_deviation: Some("1.2 kHz"),
    },
    Rules {
        sets: &["en-300-433", "en-300-135"],
        modes: &["AM", "FM", "USB", "LSB"],
        channels: Some(ChannelTable::european_27_megahertz),
        test_deviation: Some("1.2 kHz"),
    },
    Rules {
        sets: &["mpt-1320"],
        modes: &["FM"],
        channels: Some(ChannelTable::uk_27_81),
        test_deviation: Some("1.5 kHz"),
    },
];

/// Land mobile sets have the channels of their licence.
const LAND_MOBILE_RULES: [Rules; 3] = [
    Rules::of(&["47-cfr-90-150", "47-cfr-90"], &["FM"], None),
    Rules::of(&["47-cfr-90-421", "47-cfr-90"], &["FM"], None),
    Rules::of(&["en-300-086"], &["FM"], None),
];

const MARINE_RULES: [Rules; 2] = [
    Rules::of(&["47-cfr-80"], &["FM", "DSC"], Some(ChannelTable::marine)),
    Rules::of(&["en-300-162"], &["FM", "DSC"], Some(ChannelTable::marine)),
];

const AIRBAND_RULES: [Rules; 2] = [
    Rules::of(
        &["47-cfr-87-aircraft", "annex-10-airborne"],
        &["AM"],
        Some(ChannelTable::airband),
    ),
    Rules::of(
        &["47-cfr-87-ground", "annex-10-ground"],
        &["AM"],
        Some(ChannelTable::airband),
    ),
];

const HF_RULES: [Rules; 2] = [
    Rules::of(
        &["47-cfr-97"],
        &["CW", "USB", "LSB"],
        Some(ChannelTable::amateur),
    ),
    Rules::of(
        &["itu-rr-3"],
        &["CW", "USB", "LSB"],
        Some(ChannelTable::amateur),
    ),
];

/// What every proof reads, for the record where the rules say nothing of it. Other steps of
/// the proof fall away with their limit.
const ALWAYS_READ: [&str; 5] = ["carrier-power", "pep", "depth", "deviation", "frequency"];

/// All starters, their figures typed with this decimal sign. A test reads every file.
pub fn starters(sign: DecimalSign) -> Vec<Starter> {
    let written = |text| serde_json::from_str::<Written>(text).ok();
    let of_40_channels = |text| {
        written(text).map(|mut starter| {
            starter.procedure.channels = Some(ChannelTable {
                name: "27 MHz, 40 channels".to_owned(),
                ..ChannelTable::us_27_megahertz()
            });
            starter
        })
    };
    let bench = [ALIGN, FM_PART, FUNCTIONS].map(of_40_channels);
    let proved = |text, rules: &'static [Rules]| {
        let proof = written(text);
        proof.into_iter().flat_map(move |proof| {
            let by = move |rules: &Rules| rules.proof(proof.clone());
            rules.iter().map(by)
        })
    };
    [written(INTAKE)]
        .into_iter()
        .chain(bench)
        .flatten()
        .chain(proved(PROOF, &RULES))
        .chain(proved(LAND_MOBILE, &LAND_MOBILE_RULES))
        .chain(proved(MARINE, &MARINE_RULES))
        .chain(proved(AIRBAND, &AIRBAND_RULES))
        .chain(proved(HF, &HF_RULES))
        .chain(written(POWER))
        .map(|written| written.warned().typed(sign))
        .collect()
}

impl Written {
    /// With what is to be known before a published limit is relied on, where one is cited.
    fn warned(mut self) -> Written {
        let cites = |step: &Step| matches!(step.work.target(), Some(Target::Limit { .. }));
        if self.procedure.steps().any(cites) {
            self.procedure.cautions.push(NOTICE.to_owned());
        }
        self
    }

    fn typed(self, sign: DecimalSign) -> Starter {
        let mut draft = Draft::of(&self.procedure, sign);
        draft.from = 0;
        for step in draft.steps_mut().filter(|s| self.open.contains(&s.id)) {
            step.target.value.clear();
        }
        Starter {
            name: self.name,
            about: self.about,
            draft,
        }
    }
}

impl Rules {
    /// The proof against these rules.
    fn proof(&self, mut proof: Written) -> Written {
        let procedure = &mut proof.procedure;
        let all_read_with = read_with(procedure);
        for section in &mut procedure.sections {
            let steps = std::mem::take(&mut section.steps).into_iter();
            let kept = steps.filter(|step| self.has(proof.only.get(&step.id)));
            section.steps = kept.filter_map(|step| self.step(step)).collect();
            let recorded = section.steps.iter_mut();
            for step in recorded.filter(|step| !self.has(proof.judged.get(&step.id))) {
                step.basis = None;
                if let Work::Read { target, .. } = &mut step.work {
                    *target = None;
                }
            }
        }
        procedure
            .sections
            .retain(|section| !section.steps.is_empty());
        let steps: HashSet<Id> = procedure.steps().map(|step| step.id.clone()).collect();
        let tables = std::mem::take(&mut procedure.tables).into_iter();
        procedure.tables = tables.filter_map(|table| left_of(table, &steps)).collect();
        // What no step reads with any more falls away; what only feeds or loads stays.
        let still = read_with(procedure);
        procedure
            .instruments
            .retain(|i| still.contains(&i.role) || !all_read_with.contains(&i.role));
        let rules = self.title();
        let id = format!("{}-{}", procedure.id, self.sets.join("-"));
        procedure.id = id.parse().unwrap_or(procedure.id.clone());
        procedure.title = format!("{}, {rules}", procedure.title);
        if let Some(channels) = self.channels.map(|table| table()) {
            if procedure.covers.is_empty() {
                procedure.covers = format!("Sets for these channels: {}.", channels.name);
            }
            procedure.channels = Some(channels);
        }
        proof.name = format!("{}, {rules}", proof.name);
        let first = self.sets.first().copied().unwrap_or_default();
        proof.about = match proof.by.remove(first) {
            Some(by) => {
                procedure.covers = format!("{} {}", procedure.covers, by.covers);
                by.about
            }
            None => format!("{} {rules}.", proof.about),
        };
        proof
    }

    /// Whether one of these sets is among those of the rules; where none is named, it is.
    fn has(&self, sets: Option<&Vec<String>>) -> bool {
        sets.is_none_or(|sets| sets.iter().any(|set| self.sets.contains(&set.as_str())))
    }

    /// The documents by their titles; of a document and a part of it, the part.
    fn title(&self) -> String {
        let sets = built_in().into_iter();
        let cited = sets.filter(|set| self.sets.contains(&set.id.as_str()));
        let titles: Vec<String> = cited.map(|set| set.title).collect();
        let is_whole = |title: &String| {
            let mut others = titles.iter().filter(|other| *other != title);
            !others.any(|other| other.starts_with(title.as_str()))
        };
        let named: Vec<&str> = titles
            .iter()
            .filter(|it| is_whole(it))
            .map(|it| it.as_str())
            .collect();
        named.join(" and ")
    }

    /// A step of the proof with its limit cited; none if the rules don't have it.
    fn step(&self, mut step: Step) -> Option<Step> {
        self.settle(&mut step.set_up);
        let mode = step.set_up.mode.as_deref();
        if mode.is_some_and(|mode| !self.modes.contains(&mode)) {
            return None;
        }
        if let Work::Read { target, .. } = &mut step.work
            && let Some(Target::Limit { set, limit, .. }) = target
        {
            match self.set_with(limit) {
                Some(found) => *set = found.to_owned(),
                None if ALWAYS_READ.contains(&limit.as_str()) => *target = None,
                None => return None,
            }
        }
        Some(step)
    }

    /// What a reading leaves to the rules: the first of their modes where it states none, and in
    /// a reading of the receiver the modulation of that mode.
    fn settle(&self, set_up: &mut SetUp) {
        let (Some(first), Some(deviation)) = (self.modes.first(), self.test_deviation) else {
            return;
        };
        if set_up.channel.is_none() {
            return;
        }
        let mode = set_up.mode.get_or_insert_with(|| (*first).to_owned());
        let modulation = match mode.as_str() {
            "AM" => ("AM", "30 %"),
            "FM" => ("FM", deviation),
            _ => return,
        };
        let settings = &mut set_up.settings;
        if set_up.signal == Some(Signal::Rx)
            && settings.contains_key(&Setting::ModulationTone)
            && !settings.contains_key(&Setting::Modulation)
        {
            settings.insert(Setting::Modulation, modulation.0.to_owned());
            settings.insert(Setting::ModulationDepth, modulation.1.to_owned());
        }
    }

    /// The set of limits that has this one.
    fn set_with(&self, limit: &str) -> Option<&'static str> {
        self.sets.iter().copied().find(|set| offers(set, limit))
    }
}

/// The instruments that a procedure reads, and what they read through.
fn read_with(procedure: &Procedure) -> HashSet<Id> {
    let gauges = procedure.steps().flat_map(|step| {
        let check = step.cross_check.as_ref().map(|check| &check.gauge);
        step.work.gauge().into_iter().chain(check)
    });
    gauges
        .flat_map(|gauge| [&gauge.with].into_iter().chain(gauge.through()))
        .cloned()
        .collect()
}

/// A table without what is not read any more; none where nothing of it is left.
fn left_of(mut table: ReadingTable, steps: &HashSet<Id>) -> Option<ReadingTable> {
    for cell in table.cells.iter_mut().flatten() {
        *cell = cell.take().filter(|id| steps.contains(id));
    }
    let rows: Vec<bool> = table
        .cells
        .iter()
        .map(|row| row.iter().any(Option::is_some))
        .collect();
    let columns: Vec<bool> = (0..table.columns.names.len())
        .map(|column| {
            table
                .cells
                .iter()
                .any(|row| row.get(column).is_some_and(Option::is_some))
        })
        .collect();
    keep(&mut table.cells, &rows);
    keep(&mut table.rows.names, &rows);
    keep(&mut table.columns.names, &columns);
    table.cells.iter_mut().for_each(|row| keep(row, &columns));
    (!table.cells.is_empty()).then_some(table)
}

fn keep<T>(all: &mut Vec<T>, kept: &[bool]) {
    let mut kept = kept.iter();
    all.retain(|_| kept.next().copied().unwrap_or_default());
}
