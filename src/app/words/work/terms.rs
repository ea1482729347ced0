//! The terms of the trade on the step sheet, each in one sentence with where it comes from.

/// A term that a step sheet uses.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Term {
    /// The phases of a reading.
    FoundAndLeft,
    /// A stop.
    HoldPoint,
    /// What a reading is judged by.
    Limits,
    /// What the rule says of a reading.
    Conformity,
    /// What a reading is known to, and where that comes from.
    Uncertainty,
    /// A step that something else has moved since.
    Recheck,
    /// A reading that has come to rest.
    Settled,
    /// What a tool does to the reading.
    ToolPull,
    /// A second way to the same figure.
    CrossCheck,
}

/// Where a term comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// A document that defines it or uses it in this sense.
    Document(&'static str),
    /// The trade, and no document that we know of.
    Practice,
}

/// What is said of a term.
#[derive(Clone, Copy, Debug)]
pub struct Said {
    /// Its name within the document of a page.
    pub id: &'static str,
    /// What it is called.
    pub name: &'static str,
    /// The sentence.
    pub sentence: &'static str,
    /// Where it comes from.
    pub source: Source,
}

/// All of them on one page.
pub const GLOSSARY: &str = "Glossary";
/// The way there from one of them.
pub const ALL_TERMS: &str = "All terms";

impl Term {
    /// All of them.
    pub const ALL: [Term; 9] = [
        Term::FoundAndLeft,
        Term::HoldPoint,
        Term::Limits,
        Term::Conformity,
        Term::Uncertainty,
        Term::Recheck,
        Term::Settled,
        Term::ToolPull,
        Term::CrossCheck,
    ];

    /// What is said of it.
    pub const fn said(self) -> Said {
        match self {
            Term::FoundAndLeft => Said {
                id: "term-found-and-left",
                name: "As found, as left",
                sentence: "As found is the reading before anything is adjusted, as left the one that the set goes out with.",
                source: Source::Document(
                    "ISO/IEC 17025:2017, 7.8.4.1: results before and after any adjustment",
                ),
            },
            Term::HoldPoint => Said {
                id: "term-hold-point",
                name: "Hold point",
                sentence: "A step for safety that has to be confirmed before the steps behind it can be done.",
                source: Source::Practice,
            },
            Term::Limits => Said {
                id: "term-limits",
                name: "Limits and guard band",
                sentence: "The limits bound what the set may do; the guard band is a margin within them that a decision rule keeps free for the uncertainty.",
                source: Source::Document("JCGM 106:2012; ILAC-G8:09/2019"),
            },
            Term::Conformity => Said {
                id: "term-conformity",
                name: "Conformity",
                sentence: "A reading conforms when it is within its limits by the decision rule of the job, uncertainty included where that rule says so.",
                source: Source::Document("JCGM 106:2012; ILAC-G8:09/2019"),
            },
            Term::Uncertainty => Said {
                id: "term-uncertainty",
                name: "U and its budget",
                sentence: "U is the half width around the reading that holds the true value in about 95 of 100 cases; the budget lists what it is made of.",
                source: Source::Document("JCGM 100:2008 (GUM)"),
            },
            Term::Recheck => Said {
                id: "term-recheck",
                name: "Recheck",
                sentence: "An adjuster that this reading depends on was turned since, so the reading is taken again before it counts.",
                source: Source::Practice,
            },
            Term::Settled => Said {
                id: "term-settled",
                name: "Settled",
                sentence: "A reading has settled when its drift per minute, with the uncertainty of that, is within the limit of the step.",
                source: Source::Practice,
            },
            Term::ToolPull => Said {
                id: "term-tool-pull",
                name: "Tool pull",
                sentence: "How far a reading moves when the tool leaves the adjuster, for which the aim makes room.",
                source: Source::Practice,
            },
            Term::CrossCheck => Said {
                id: "term-cross-check",
                name: "Cross-check",
                sentence: "The same quantity measured by another route, to see whether both agree within their uncertainties.",
                source: Source::Document("ISO/IEC 17043: the normalised error Eₙ"),
            },
        }
    }
}

/// The button that says what a term is, for who hears it.
pub fn what_is(name: &str) -> String {
    format!("{name}: what is that?")
}

/// The button itself.
pub const SIGN: &str = "?";

/// Below the sentence: where it comes from.
pub fn source(source: Source) -> String {
    match source {
        Source::Document(document) => format!("Source: {document}."),
        Source::Practice => "Source: common practice, no source.".to_owned(),
    }
}
