//! Tables inside a page.

use super::{figures, isolated, whole_words};
use crate::exchange::report::text::escape;
use crate::exchange::report::{Cell, Part, Table};

/// The kind of the tables of readings.
const READINGS: &str = "readings";
/// The kinds of tables that are always as wide as the page.
const WIDE: [&str; 2] = [READINGS, "matrix"];
/// The kinds of tables whose cells are short.
const NARROW: [&str; 2] = ["plan", "passes"];
/// As many lines as the heading of a row has without making it higher than its figures do.
const BESIDE: usize = 4;
/// About as many characters as fit into a line of it, of its title and of what is said below.
const IN_BOLD: usize = 22;
const IN_SMALL: usize = 27;

/// Whether a table needs the whole width of a page.
pub(super) fn is_wide(table: &Table) -> bool {
    let most = if NARROW.contains(&table.kind) { 4 } else { 3 };
    WIDE.contains(&table.kind) || table.columns.len() > most
}

/// Whether a table of readings follows one: these stand under one head, which each page repeats.
pub(super) fn goes_on(part: &Part, next: &Part) -> bool {
    match (part, next) {
        (Part::Table(one), Part::Table(other)) => {
            one.kind == READINGS && other.kind == READINGS && one.columns == other.columns
        }
        _ => false,
    }
}

/// Tables with the same head, each with its caption.
pub(super) fn tables(out: &mut String, first: &Table, all: &[&Table]) {
    out.push_str(&format!(r#"<table class="report-{}">"#, first.kind));
    let is_grouped = first.kind == READINGS;
    if !is_grouped && !first.caption.is_empty() {
        out.push_str(&format!("<caption>{}</caption>", caption(first)));
    }
    out.push_str("<thead><tr>");
    for column in &first.columns {
        out.push_str(&format!(r#"<th scope="col">{}</th>"#, escape(column)));
    }
    out.push_str("</tr></thead>");
    for table in all {
        out.push_str("<tbody>");
        if is_grouped {
            out.push_str(&format!(
                r#"<tr class="report-group"><th scope="rowgroup" colspan="{}">{}</th></tr>"#,
                table.columns.len(),
                caption(table)
            ));
        }
        rows(out, table);
        out.push_str("</tbody>");
    }
    out.push_str("</table>");
}

/// What a table is of, and what holds for all of its rows.
fn caption(table: &Table) -> String {
    let lead = match table.lead.is_empty() {
        true => String::new(),
        false => format!(
            r#"<span class="report-lead">{}</span>"#,
            escape(&table.lead)
        ),
    };
    escape(&table.caption) + &lead
}

fn rows(out: &mut String, table: &Table) {
    let wholes = figures::widest(table);
    for row in &table.rows {
        out.push_str("<tr>");
        for (index, of) in row.iter().enumerate() {
            let label = table.columns.get(index).map_or("", String::as_str);
            match index {
                0 => out.push_str(&row_heading(of)),
                _ => {
                    let room = wholes.get(index).copied().flatten();
                    out.push_str(&format!(
                        r#"<td data-label="{}">{}</td>"#,
                        escape(label),
                        cell(of, room)
                    ));
                }
            }
        }
        out.push_str("</tr>");
    }
}

/// The heading of a row. What is short stands beside the line below it, and what isn't has a line
/// of its own, on paper as wide as the row.
fn row_heading(of: &Cell) -> String {
    let lines = |text: usize, most: usize| text.div_ceil(most);
    let near = lines(seen(&of.below) + seen(&of.under) + 2, IN_SMALL);
    let is_short = !of.under.is_empty() && lines(seen(&of.text), IN_BOLD) + near <= BESIDE;
    let near = match is_short {
        true => Cell {
            below: format!("{}; {}", of.below, of.under),
            ..of.clone()
        },
        false => of.clone(),
    };
    let far = match is_short || of.under.is_empty() {
        true => String::new(),
        false => format!(
            r#"<span class="report-below report-far">{}</span>"#,
            isolated(&of.under)
        ),
    };
    format!(
        r#"<th scope="row"><span class="report-what">{}</span>{far}</th>"#,
        cell(&near, None)
    )
}

/// How many characters of a text are seen: what closes a typed text in is not.
fn seen(text: &str) -> usize {
    let is_seen = |c: &char| !('\u{2066}'..='\u{2069}').contains(c);
    text.chars().filter(is_seen).count()
}

/// What stands in a cell. A figure gets so much room before its decimal sign.
fn cell(cell: &Cell, room: Option<usize>) -> String {
    let figure = room.and_then(|room| Some((room, figures::split(&cell.text)?)));
    let text = match figure {
        Some((room, (whole, rest))) => {
            let ends = rest.find(' ').unwrap_or(rest.len());
            let (figure, behind) = rest.split_at(ends);
            format!(
                r#"<bdi><span class="unbroken"><span class="whole whole-{room}">{}</span>{}</span>{}</bdi>"#,
                escape(whole),
                whole_words(figure),
                whole_words(behind)
            )
        }
        None => isolated(&cell.text),
    };
    let text = match cell.strong {
        true => format!("<strong>{text}</strong>"),
        false => text,
    };
    let below = match cell.below.is_empty() {
        true => String::new(),
        false => format!(
            r#"<span class="report-below">{}</span>"#,
            isolated(&cell.below)
        ),
    };
    let picture = cell.picture.as_deref().unwrap_or_default();
    format!("{text}{below}{picture}")
}
