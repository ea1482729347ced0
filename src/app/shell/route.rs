//! The addresses of the screens. All are behind the `#`, so that any static host serves
//! them, under any path, with no rule of its own.

pub mod parts;

use crate::app::shell::desk::Desk;
use crate::procedure::{Id, PictureDigest};

/// A screen and what it shows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Route {
    /// Jobs in hand and finished.
    Jobs,
    /// Start a job, with the procedure of this digest if one was picked.
    Start(Option<String>),
    /// Book a set in without a procedure.
    BookIn,
    /// Read a label or a serial number with the camera.
    Scan,
    /// Take a reading that belongs to no job yet.
    OneReading,
    /// What becomes of such readings.
    Loose(Id),
    /// One step of a job.
    Step {
        /// The job.
        job: Id,
        /// The step; the one that is due where none is named.
        step: Option<Id>,
    },
    /// The instrument that a step of a job is read with.
    StepInstrument {
        /// The job.
        job: Id,
        /// The step.
        step: Id,
    },
    /// A step that no procedure foresaw, to be added to a job.
    AddStep(Id),
    /// A step of a job's own, to be put right.
    ChangeStep {
        /// The job.
        job: Id,
        /// The step.
        step: Id,
    },
    /// Another procedure for a job: the one of this digest, if one was picked.
    TakeOn {
        /// The job.
        job: Id,
        /// The procedure.
        digest: Option<String>,
    },
    /// What was wrong with the set of a job.
    Faults(Id),
    /// The path of a signal along which a job looks for its fault.
    Trace(Id),
    /// Parts that a job wants, and what its owner is asked.
    Dealings(Id),
    /// What is to be ordered over all jobs.
    ToOrder,
    /// All steps of a job at a glance.
    Steps(Id),
    /// The set and the work as a whole.
    Details(Id),
    /// What is open, who signs off, save the file.
    Finish(Id),
    /// All procedures.
    Procedures,
    /// The procedure with this digest.
    Procedure(String),
    /// The same as a sheet.
    ProcedureSheet(String),
    /// A screen for writing procedures.
    Author(Desk),
    /// The sound input as an instrument.
    Audio,
    /// All calculations.
    Sums,
    /// The calculation with this id.
    Sum(String),
    /// The channel tables.
    Channels,
    /// The published limits.
    Limits,
    /// The instruments on the shelf.
    Kit,
    /// The instrument of this name; a new one where none is named.
    Instrument(Option<String>),
    /// The frequency plan of a job, with what was read.
    Plan(Id),
    /// What is off in a job and has to go back.
    Off(Id),
    /// Parts and changes of a job.
    Changes {
        /// The job.
        job: Id,
        /// Whether the next change takes the substitution check along.
        check: bool,
    },
    /// The photos of a job.
    Photos(Id),
    /// The papers of a job's set.
    Papers(Id),
    /// One of them.
    Paper {
        /// The job.
        job: Id,
        /// The paper.
        paper: PictureDigest,
        /// The step that led here, to whose place it opens.
        step: Option<Id>,
    },
    /// One device in place of another.
    Substitution,
    /// The report of a job.
    Report(Id),
    /// The label of a job.
    Label(Id),
    /// The visits of the sets with a serial number.
    Set(String),
    /// Whether a sheet and a file belong together.
    Verify,
    /// Backup, import, settings.
    Data,
    /// Settings of this device.
    Settings,
    /// The terms of the trade that the app uses.
    Glossary,
    /// What goes into a file.
    Export,
}

impl Route {
    /// Whether it is the screen of a step.
    pub fn is_step(&self) -> bool {
        matches!(self, Route::Step { .. })
    }

    /// The job that the screen is about, where it is about one alone.
    pub fn job(&self) -> Option<&Id> {
        match self {
            Route::Step { job, .. } | Route::Changes { job, .. } => Some(job),
            Route::StepInstrument { job, .. } | Route::TakeOn { job, .. } => Some(job),
            Route::ChangeStep { job, .. } => Some(job),
            Route::AddStep(job) | Route::Faults(job) | Route::Dealings(job) => Some(job),
            Route::Trace(job) => Some(job),
            Route::Steps(job) | Route::Details(job) | Route::Finish(job) => Some(job),
            Route::Plan(job) | Route::Off(job) | Route::Photos(job) => Some(job),
            Route::Report(job) | Route::Label(job) | Route::Loose(job) => Some(job),
            Route::Papers(job) | Route::Paper { job, .. } => Some(job),
            _ => None,
        }
    }

    /// The screen of an address; the jobs for one that leads nowhere.
    pub fn read(hash: &str) -> Route {
        let path = hash.trim_start_matches('#').trim_matches('/');
        let parts: Option<Vec<String>> = path.split('/').map(decode).collect();
        let parts = parts.unwrap_or_default();
        let parts: Vec<&str> = parts.iter().map(String::as_str).collect();
        let id = |text: &str| text.parse::<Id>().ok();
        let route = match parts.as_slice() {
            ["start"] => Some(Route::Start(None)),
            ["start", digest] => Some(Route::Start(Some((*digest).to_owned()))),
            ["book-in"] => Some(Route::BookIn),
            ["scan"] => Some(Route::Scan),
            ["reading"] => Some(Route::OneReading),
            ["job", job, "keep"] => id(job).map(Route::Loose),
            ["procedures"] => Some(Route::Procedures),
            ["procedures", digest, "sheet"] => Some(Route::ProcedureSheet((*digest).to_owned())),
            ["procedures", digest] => Some(Route::Procedure((*digest).to_owned())),
            ["audio"] => Some(Route::Audio),
            ["sums"] => Some(Route::Sums),
            ["sums", id] => Some(Route::Sum((*id).to_owned())),
            ["channels"] => Some(Route::Channels),
            ["limits"] => Some(Route::Limits),
            ["kit"] => Some(Route::Kit),
            ["kit", "new"] => Some(Route::Instrument(None)),
            ["kit", "named", name] => Some(Route::Instrument(Some((*name).to_owned()))),
            ["data"] => Some(Route::Data),
            ["settings"] => Some(Route::Settings),
            ["glossary"] => Some(Route::Glossary),
            ["export"] => Some(Route::Export),
            ["job", job] => id(job).map(|job| Route::Step { job, step: None }),
            ["job", job, "steps"] => id(job).map(Route::Steps),
            ["to-order"] => Some(Route::ToOrder),
            ["job", job, "parts"] => id(job).map(Route::Dealings),
            ["job", job, "faults"] => id(job).map(Route::Faults),
            ["job", job, "trace"] => id(job).map(Route::Trace),
            ["job", job, "add"] => id(job).map(Route::AddStep),
            ["job", job, "take-on"] => id(job).map(|job| Route::TakeOn { job, digest: None }),
            ["job", job, "take-on", digest] => id(job).map(|job| Route::TakeOn {
                job,
                digest: Some((*digest).to_owned()),
            }),
            ["job", job, "plan"] => id(job).map(Route::Plan),
            ["job", job, "off"] => id(job).map(Route::Off),
            ["job", job, "photos"] => id(job).map(Route::Photos),
            ["job", job, "papers"] => id(job).map(Route::Papers),
            ["job", job, "papers", paper] => {
                id(job)
                    .zip(paper.parse().ok())
                    .map(|(job, paper)| Route::Paper {
                        job,
                        paper,
                        step: None,
                    })
            }
            ["job", job, "papers", paper, "at", step] => id(job)
                .zip(paper.parse().ok())
                .zip(id(step))
                .map(|((job, paper), step)| Route::Paper {
                    job,
                    paper,
                    step: Some(step),
                }),
            ["job", job, "changes"] => id(job).map(|job| Route::Changes { job, check: false }),
            ["job", job, "changes", "check"] => {
                id(job).map(|job| Route::Changes { job, check: true })
            }
            ["substitution"] => Some(Route::Substitution),
            ["job", job, "report"] => id(job).map(Route::Report),
            ["job", job, "label"] => id(job).map(Route::Label),
            ["set", serial] => Some(Route::Set((*serial).to_owned())),
            ["verify"] => Some(Route::Verify),
            ["job", job, "details"] => id(job).map(Route::Details),
            ["job", job, "finish"] => id(job).map(Route::Finish),
            ["job", job, "step", step] => id(job).zip(id(step)).map(|(job, step)| Route::Step {
                job,
                step: Some(step),
            }),
            ["job", job, "step", step, "instrument"] => id(job)
                .zip(id(step))
                .map(|(job, step)| Route::StepInstrument { job, step }),
            ["job", job, "step", step, "change"] => id(job)
                .zip(id(step))
                .map(|(job, step)| Route::ChangeStep { job, step }),
            parts => Desk::read(parts).map(Route::Author),
        };
        route.unwrap_or(Route::Jobs)
    }

    /// The address of a screen.
    pub fn address(&self) -> String {
        let path = match self {
            Route::Jobs => String::new(),
            Route::Start(None) => "start".to_owned(),
            Route::Start(Some(digest)) => format!("start/{}", encode(digest)),
            Route::Step { job, step: None } => format!("job/{}", encode(job.as_str())),
            Route::Step {
                job,
                step: Some(step),
            } => format!(
                "job/{}/step/{}",
                encode(job.as_str()),
                encode(step.as_str())
            ),
            Route::StepInstrument { job, step } => format!(
                "job/{}/step/{}/instrument",
                encode(job.as_str()),
                encode(step.as_str())
            ),
            Route::ChangeStep { job, step } => format!(
                "job/{}/step/{}/change",
                encode(job.as_str()),
                encode(step.as_str())
            ),
            Route::BookIn => "book-in".to_owned(),
            Route::Scan => "scan".to_owned(),
            Route::OneReading => "reading".to_owned(),
            Route::Loose(job) => format!("job/{}/keep", encode(job.as_str())),
            Route::ToOrder => "to-order".to_owned(),
            Route::Dealings(job) => format!("job/{}/parts", encode(job.as_str())),
            Route::Trace(job) => format!("job/{}/trace", encode(job.as_str())),
            Route::Faults(job) => format!("job/{}/faults", encode(job.as_str())),
            Route::AddStep(job) => format!("job/{}/add", encode(job.as_str())),
            Route::TakeOn { job, digest: None } => {
                format!("job/{}/take-on", encode(job.as_str()))
            }
            Route::TakeOn {
                job,
                digest: Some(digest),
            } => format!("job/{}/take-on/{}", encode(job.as_str()), encode(digest)),
            Route::Steps(job) => format!("job/{}/steps", encode(job.as_str())),
            Route::Details(job) => format!("job/{}/details", encode(job.as_str())),
            Route::Finish(job) => format!("job/{}/finish", encode(job.as_str())),
            Route::Procedures => "procedures".to_owned(),
            Route::Procedure(digest) => format!("procedures/{}", encode(digest)),
            Route::ProcedureSheet(digest) => format!("procedures/{}/sheet", encode(digest)),
            Route::Author(desk) => {
                let parts: Vec<_> = desk.parts().iter().map(|part| encode(part)).collect();
                parts.join("/")
            }
            Route::Audio => "audio".to_owned(),
            Route::Sums => "sums".to_owned(),
            Route::Sum(id) => format!("sums/{}", encode(id)),
            Route::Channels => "channels".to_owned(),
            Route::Limits => "limits".to_owned(),
            Route::Kit => "kit".to_owned(),
            Route::Instrument(None) => "kit/new".to_owned(),
            Route::Instrument(Some(name)) => format!("kit/named/{}", encode(name)),
            Route::Plan(job) => format!("job/{}/plan", encode(job.as_str())),
            Route::Off(job) => format!("job/{}/off", encode(job.as_str())),
            Route::Photos(job) => format!("job/{}/photos", encode(job.as_str())),
            Route::Papers(job) => format!("job/{}/papers", encode(job.as_str())),
            Route::Paper { job, paper, step } => {
                let at = step
                    .as_ref()
                    .map(|step| format!("/at/{}", encode(step.as_str())));
                let at = at.unwrap_or_default();
                format!("job/{}/papers/{paper}{at}", encode(job.as_str()))
            }
            Route::Changes { job, check: false } => {
                format!("job/{}/changes", encode(job.as_str()))
            }
            Route::Changes { job, check: true } => {
                format!("job/{}/changes/check", encode(job.as_str()))
            }
            Route::Substitution => "substitution".to_owned(),
            Route::Report(job) => format!("job/{}/report", encode(job.as_str())),
            Route::Label(job) => format!("job/{}/label", encode(job.as_str())),
            Route::Set(serial) => format!("set/{}", encode(serial)),
            Route::Verify => "verify".to_owned(),
            Route::Data => "data".to_owned(),
            Route::Settings => "settings".to_owned(),
            Route::Glossary => "glossary".to_owned(),
            Route::Export => "export".to_owned(),
        };
        format!("#/{path}")
    }
}

/// Percent-encoding (RFC 3986, 2.1) of everything but unreserved characters.
fn encode(text: &str) -> String {
    let mut out = String::new();
    for byte in text.bytes() {
        match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' => {
                out.push(char::from(byte));
            }
            _ => out.push_str(&format!("%{byte:02X}")),
        }
    }
    out
}

fn decode(text: &str) -> Option<String> {
    let mut bytes = Vec::new();
    let mut rest = text.as_bytes();
    while let Some((&first, tail)) = rest.split_first() {
        if first != b'%' {
            bytes.push(first);
            rest = tail;
            continue;
        }
        let digits = std::str::from_utf8(tail.get(..2)?).ok()?;
        bytes.push(u8::from_str_radix(digits, 16).ok()?);
        rest = &tail[2..];
    }
    String::from_utf8(bytes).ok()
}

#[cfg(test)]
mod tests;
