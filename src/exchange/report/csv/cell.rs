//! One cell, as any spreadsheet takes it and none runs it.

use crate::quantity::DecimalSign;

/// Tells a spreadsheet that the text is UTF-8.
pub(super) const MARK: char = '\u{feff}';

pub(super) fn push_row(out: &mut String, cells: impl IntoIterator<Item = String>) {
    let cells: Vec<String> = cells.into_iter().map(|cell| quoted(&cell)).collect();
    out.push_str(&cells.join(","));
    out.push_str("\r\n");
}

/// A field as RFC 4180, 2.5 to 2.7 has it.
fn quoted(cell: &str) -> String {
    match cell.contains([',', '"', '\r', '\n']) {
        true => format!("\"{}\"", cell.replace('"', "\"\"")),
        false => cell.to_owned(),
    }
}

/// A typed text that no spreadsheet takes for a formula, or for a number or a day that it would
/// write in its own way: what looks like one gets an apostrophe in front, and so does what begins
/// with an apostrophe, so that taking one away always gives the text back.
pub fn harmless(text: &str) -> String {
    let first = text.trim_start().chars().next();
    let odd = text.starts_with(['\t', '\r', '\n', '\0']);
    // Full-width signs run as formulas as well where spreadsheets fold them.
    let formula = first.is_some_and(|c| "=+-@'|%＝＋－＠".contains(c));
    match odd || formula || is_rewritten(text) {
        true => format!("'{text}"),
        false => text.to_owned(),
    }
}

/// The same where a figure that a spreadsheet with this decimal sign gives back as it was typed
/// stays a figure: `12.6`.
pub(super) fn figure_or_harmless(text: &str, sign: DecimalSign) -> String {
    match is_kept_figure(text, sign) {
        true => text.to_owned(),
        false => harmless(text),
    }
}

/// A spreadsheet's numbers are floats, which keep so many digits of any number.
const KEPT_DIGITS: usize = 15;

/// Whether a text is a decimal that no zero at an end makes longer than a spreadsheet writes it.
fn is_kept_figure(text: &str, sign: DecimalSign) -> bool {
    let digits = |text: &str| text.bytes().all(|b| b.is_ascii_digit());
    let unsigned = text.strip_prefix('-').unwrap_or(text);
    let Some((whole, fraction)) = unsigned.split_once(sign.symbol()) else {
        return false;
    };
    let is_whole = whole == "0" || !(whole.is_empty() || whole.starts_with('0'));
    let is_fraction = !fraction.is_empty() && !fraction.ends_with('0');
    let is_short = whole.len() + fraction.len() <= KEPT_DIGITS;
    is_whole && is_fraction && is_short && digits(whole) && digits(fraction)
}

/// Whether a text is made like a number or a day that does not come out of a spreadsheet as it
/// went in: `00712`, `1.10`, `1E5`, `3/4`.
fn is_rewritten(text: &str) -> bool {
    let text = text.trim();
    let figure = |c: char| c.is_ascii_digit() || ".,:/-+eE%\u{a0} ".contains(c);
    let parts = text.split(['/', '-', ':', '.']).count();
    let made_like_one = text.starts_with(|c: char| c.is_ascii_digit() || ".,".contains(c))
        && text.chars().all(figure)
        && parts <= 3;
    let whole = text.bytes().all(|b| b.is_ascii_digit());
    let kept = whole && text.len() <= KEPT_DIGITS && !(text.len() > 1 && text.starts_with('0'));
    made_like_one && !kept
}
