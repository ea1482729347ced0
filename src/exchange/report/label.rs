//! A small sticker for the set: what it is, when it was checked, when it is due, and a code that
//! leads back to the job's file.

use super::fingerprint::LENGTH;
use super::head::set_title;
use super::text::{balanced, escape, shortened};
use super::{Look, fingerprint, words};
use crate::job::{Job, Line};
use crate::procedure::Id;
use qrcode::types::Color;
use qrcode::{EcLevel, QrCode};

/// What the label says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Label {
    /// The set.
    pub set: String,
    /// The job's number.
    pub number: String,
    /// When it was signed off, or that it was not.
    pub checked: String,
    /// When the next check is due, if that is known.
    pub due: Option<String>,
    /// What the code holds.
    pub code: String,
}

/// What a code says that was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Scanned {
    /// The label of a job.
    Label {
        /// The job's number in the workshop.
        number: String,
        /// The job, which early labels don't name.
        job: Option<Id>,
    },
    /// Anything else, such as a serial number.
    Text(String),
}

impl Scanned {
    /// Reads the text of a code. It comes from outside, and may be anything.
    pub fn of(text: &str) -> Self {
        let is_fingerprint =
            |word: &&str| word.len() == LENGTH && word.bytes().all(|b| b.is_ascii_hexdigit());
        let parts: Vec<&str> = text.split(' ').collect();
        let place = parts.iter().position(is_fingerprint);
        match (parts.first(), place) {
            (Some(&words::CODE_BEGINS), Some(place)) => Scanned::Label {
                number: parts[1..place].join(" "),
                job: parts[place + 1..].join(" ").parse().ok(),
            },
            _ => {
                let plain = text.chars().filter(|c| !c.is_control());
                let plain: String = plain.take(MOST_LETTERS).collect();
                Scanned::Text(plain.trim().to_owned())
            }
        }
    }

    /// The job among these: the one that is named, or on an early label the one of that number.
    pub fn job<'a>(&self, lines: impl Iterator<Item = &'a Line> + Clone) -> Option<&'a Line> {
        let Scanned::Label { number, job } = self else {
            return None;
        };
        let mut lines = lines;
        match job {
            Some(job) => lines.find(|line| line.id == *job),
            // Not one of several.
            None => {
                let mut found = lines.filter(|line| line.number == *number);
                found.next().filter(|_| found.next().is_none())
            }
        }
    }
}

/// How much of a text that is no label may be a serial number.
const MOST_LETTERS: usize = 100;

impl Label {
    /// The label of a job.
    pub fn of(job: &Job, look: &Look) -> Self {
        let progress = job.progress();
        let header = &progress.header;
        let set = match set_title(&header.set) {
            title if title.is_empty() => words::NAMELESS.to_owned(),
            title => shortened(&title, 66),
        };
        let checked = match &progress.signed_off {
            None => words::NOT_SIGNED.to_owned(),
            Some(_) if !progress.is_closed() => words::OPEN_AGAIN.to_owned(),
            Some(end) => match look.day_of(end.at) {
                Some(day) => (look.day)(day),
                None => (look.when)(end.at),
            },
        };
        // A code has room for so much; the fingerprint alone is what counts.
        let number: String = header.number.chars().take(60).collect();
        Label {
            set,
            number: shortened(&header.number, 30),
            checked,
            due: header.next_check.map(look.day),
            code: words::code(&number, &fingerprint(job), job.id.as_str()),
        }
    }

    /// The label inside a page.
    pub fn fragment(&self) -> String {
        let line = |label: &str, text: &str| {
            format!(
                "<div><dt>{}</dt><dd><bdi>{}</bdi></dd></div>",
                escape(label),
                escape(text)
            )
        };
        let due = self.due.as_deref();
        let due = due.map_or(String::new(), |due| line(words::NEXT_CHECK, due));
        format!(
            r#"<article class="label"><div class="label-text"><h2><bdi>{}</bdi></h2><dl>{}{}{due}</dl></div>{}</article>"#,
            escape(&balanced(&self.set)),
            line(words::NUMBER, &self.number),
            line(words::CHECKED, &self.checked),
            self.picture().unwrap_or_default(),
        )
    }

    /// The code (ISO/IEC 18004, level M) with its quiet zone of four modules.
    fn picture(&self) -> Option<String> {
        const QUIET: usize = 4;
        let code = QrCode::with_error_correction_level(self.code.as_bytes(), EcLevel::M).ok()?;
        let width = code.width();
        let mut path = String::new();
        for (index, color) in code.to_colors().into_iter().enumerate() {
            if color == Color::Dark {
                let (x, y) = (index % width + QUIET, index / width + QUIET);
                path.push_str(&format!("M{x} {y}h1v1h-1z"));
            }
        }
        let side = width + 2 * QUIET;
        Some(format!(
            r#"<svg class="label-code" viewBox="0 0 {side} {side}" role="img" aria-label="{}" shape-rendering="crispEdges"><rect class="label-paper" width="{side}" height="{side}"/><path class="label-ink" d="{path}"/></svg>"#,
            escape(words::CODE)
        ))
    }
}
