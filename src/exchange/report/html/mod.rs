//! The sheet as HTML: a fragment that the app shows, and one file that holds everything, runs
//! nothing and asks nobody.

mod figures;
mod table;

use super::procedure::Sheet;
use super::sheet::Place;
use super::text::{css_string, escape};
use super::{Fact, Part, Report, Section, SheetPhoto, grouped, words};
use base64::prelude::{BASE64_STANDARD, Engine};
use sha2::{Digest, Sha256};

/// How the sheet looks, on a screen and on paper; the app loads the same file.
const STYLE: &str = include_str!("../../../../style/report.css");
/// What the app's own style sheet gives otherwise.
const PAGE_STYLE: &str = include_str!("../../../../style/report-file.css");

/// More characters than fit well into a third of a page's width.
const LONG: usize = 160;

/// The sheet inside a page.
pub fn fragment(report: &Report) -> String {
    let mut out = String::from(r#"<article class="report">"#);
    head(&mut out, report);
    // What is to be seen at a glance comes before what is to be read.
    let (first, rest): (Vec<&Section>, Vec<&Section>) = report
        .sections
        .iter()
        .partition(|part| part.place == Place::Front);
    out.push_str(r#"<div class="report-front">"#);
    first.into_iter().for_each(|part| section(&mut out, part));
    summary(&mut out, report);
    out.push_str("</div>");
    set_and_job(&mut out, report);
    let (wide, narrow): (Vec<&Section>, Vec<&Section>) =
        rest.into_iter().partition(|part| is_wide(part));
    wide.into_iter().for_each(|part| section(&mut out, part));
    out.push_str(r#"<div class="report-columns">"#);
    narrow.into_iter().for_each(|part| section(&mut out, part));
    out.push_str("</div>");
    foot(&mut out, report);
    out.push_str("</article>");
    out
}

/// Whether a section needs the whole width of a page; the others stand two beside each other on
/// paper.
fn is_wide(part: &Section) -> bool {
    let is_wide = |part: &Part| match part {
        Part::Table(of) => table::is_wide(of),
        Part::Photos { .. } => true,
        Part::Picture { .. } => false,
    };
    part.parts.iter().any(is_wide)
}

/// A section by itself inside a page.
pub fn section_fragment(part: &Section) -> String {
    let mut out = String::from(r#"<article class="report">"#);
    section(&mut out, part);
    out.push_str("</article>");
    out
}

/// The sheet of a procedure inside a page.
pub fn procedure(sheet: &Sheet) -> String {
    let mut out = format!(
        r#"<article class="report"><header class="report-head"><p class="report-kind">{}</p><h1>{}</h1>"#,
        escape(words::A_PROCEDURE),
        isolated(&sheet.title)
    );
    facts(&mut out, &sheet.facts);
    out.push_str("</header>");
    for part in &sheet.sections {
        section(&mut out, part);
    }
    out.push_str(&format!(
        r#"<footer class="report-foot"><h2>{}</h2><p class="report-fingerprint">{}</p><p class="report-key">{}</p></footer></article>"#,
        escape(words::THIS_REVISION),
        escape(&grouped(&sheet.digest)),
        escape(words::THIS_REVISION_KEY),
    ));
    out
}

/// What the head of every printed page says, as the CSS value of `--running`.
pub fn running(text: &str) -> String {
    css_string(text)
}

/// The sheet as a file of its own. Its policy allows its one style sheet, the photos that it
/// holds itself, and nothing else.
pub fn file(report: &Report) -> String {
    let style = format!(
        "{PAGE_STYLE}\n{STYLE}\n:root{{--running:{}}}",
        running(&report.running)
    );
    let title = escape(&format!("{}: {}", words::REPORT, report.running));
    format!(
        "<!doctype html>\n<html lang=\"{}\">\n<head>\n<meta charset=\"utf-8\">\n<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; style-src 'sha256-{}'\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<meta name=\"referrer\" content=\"no-referrer\">\n<title>{title}</title>\n<style>{style}</style>\n</head>\n<body>\n<main>{}</main>\n</body>\n</html>\n",
        words::LANGUAGE,
        BASE64_STANDARD.encode(Sha256::digest(style.as_bytes())),
        fragment(report),
    )
}

fn head(out: &mut String, report: &Report) {
    out.push_str(&format!(
        r#"<header class="report-head"><p class="report-kind">{}</p><h1>{}</h1>"#,
        escape(words::REPORT),
        isolated(&report.title)
    ));
    if let Some(draft) = &report.draft {
        out.push_str(&format!(
            r#"<p class="report-draft"><strong>{}</strong></p>"#,
            escape(draft)
        ));
    }
    facts(out, &report.facts);
    if !report.result.is_empty() {
        out.push_str(r#"<div class="report-result">"#);
        for line in &report.result {
            out.push_str(&format!("<p>{}</p>", isolated(line)));
        }
        out.push_str("</div>");
    }
    out.push_str("</header>");
}

/// The sentences of the summary.
fn summary(out: &mut String, report: &Report) {
    if !report.summary.is_empty() {
        out.push_str(&format!(
            r#"<section class="report-summary"><h2>{}</h2>"#,
            escape(words::SUMMARY)
        ));
        for sentence in &report.summary {
            out.push_str(&format!("<p>{}</p>", escape(sentence)));
        }
        out.push_str("</section>");
    }
}

/// What else is known of set and job.
fn set_and_job(out: &mut String, report: &Report) {
    if !report.details.is_empty() {
        out.push_str(&format!("<section><h2>{}</h2>", escape(words::SET_AND_JOB)));
        facts(out, &report.details);
        out.push_str("</section>");
    }
}

fn facts(out: &mut String, facts: &[Fact]) {
    out.push_str(r#"<dl class="report-facts">"#);
    for Fact { label, text } in facts {
        // A long text gets the whole width.
        let class = match text.chars().count() > LONG {
            true => " class=\"report-long\"",
            false => "",
        };
        out.push_str(&format!(
            "<div{class}><dt>{}</dt><dd>{}</dd></div>",
            escape(label),
            isolated(text)
        ));
    }
    out.push_str("</dl>");
}

fn section(out: &mut String, part: &Section) {
    out.push_str(&format!("<section><h2>{}</h2>", escape(part.title)));
    for sentence in &part.lead {
        out.push_str(&format!(
            r#"<p class="report-key">{}</p>"#,
            escape(sentence)
        ));
    }
    for run in part.parts.chunk_by(table::goes_on) {
        match &run[0] {
            Part::Picture { svg, caption } if caption.is_empty() => {
                out.push_str(&format!("<figure>{svg}</figure>"));
            }
            Part::Picture { svg, caption } => out.push_str(&format!(
                "<figure tabindex=\"0\">{svg}<figcaption>{}</figcaption></figure>",
                escape(caption)
            )),
            Part::Table(first) => {
                let all = run.iter().filter_map(|part| match part {
                    Part::Table(table) => Some(table),
                    Part::Picture { .. } | Part::Photos { .. } => None,
                });
                table::tables(out, first, &all.collect::<Vec<_>>());
            }
            Part::Photos { heading, photos } => photo_rows(out, heading, photos),
        }
    }
    out.push_str("</section>");
}

/// Photos two by two: a row is never torn apart by the end of a page.
fn photo_rows(out: &mut String, heading: &str, photos: &[SheetPhoto]) {
    out.push_str(&format!("<h3>{}</h3>", escape(heading)));
    for row in photos.chunks(2) {
        out.push_str(r#"<div class="report-photos">"#);
        for photo in row {
            out.push_str(&format!(
                r#"<figure>{}<figcaption>{}<span class="report-below">{}</span></figcaption></figure>"#,
                image(photo),
                isolated(&photo.note),
                escape(&photo.below)
            ));
        }
        out.push_str("</div>");
    }
}

fn image(photo: &SheetPhoto) -> String {
    match &photo.address {
        Some(address) => format!(
            r#"<img src="{}" alt="{}">"#,
            escape(address),
            escape(&photo.alt)
        ),
        None => format!(
            r#"<p class="report-no-photo">{}</p>"#,
            escape(words::NO_PHOTO)
        ),
    }
}

/// A text in whichever direction it is written, kept from turning what is around it. No line
/// ends within “p-p”.
fn isolated(text: &str) -> String {
    match text.is_empty() {
        true => String::new(),
        false => {
            format!("<bdi>{}</bdi>", whole_words(text))
        }
    }
}

fn whole_words(text: &str) -> String {
    escape(text).replace("p-p", "p-\u{2060}p")
}

fn foot(out: &mut String, report: &Report) {
    // What is no result is not signed.
    let signature = match report.draft.is_none() {
        true => format!(
            r#"<p class="report-signature"><span>{}</span><span>{}</span></p>"#,
            escape(words::SIGNATURE),
            escape(words::DATE)
        ),
        false => String::new(),
    };
    out.push_str(&format!(
        r#"<footer class="report-foot">{signature}<div><h2>{}</h2><p class="report-fingerprint">{}</p><p class="report-key">{}</p><p class="report-key">{}</p></div></footer>"#,
        escape(words::FINGERPRINT),
        escape(&grouped(&report.fingerprint)),
        escape(words::FINGERPRINT_KEY),
        escape(&report.notice),
    ));
}
