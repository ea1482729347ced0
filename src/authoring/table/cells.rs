//! Pasted text as records of cells.

/// One record: the cells, without the space around them.
pub(super) type Record = Vec<String>;

/// The records of a pasted text that have something in them: separated by tabs as a
/// spreadsheet copies them, or by semicolons or commas. A list without any separator is one
/// column. `has_heading` knows a row of headings when it sees one.
pub(super) fn records(text: &str, has_heading: impl Fn(&[Record]) -> bool) -> Vec<Record> {
    let text = text.trim_start_matches('\u{feff}');
    let tabbed = split(text, '\t');
    if tabbed.iter().any(|record| record.len() > 1) {
        return tabbed;
    }
    // A semicolon in every record comes first: with it, a comma is a decimal sign.
    let (semicolons, commas) = (split(text, ';'), split(text, ','));
    if has_heading(&semicolons) || is_even(&semicolons, 2) {
        return semicolons;
    }
    if has_heading(&commas) || is_even(&commas, 3) {
        return commas;
    }
    tabbed
}

/// Whether all records have the same number of cells, and at least so many.
fn is_even(records: &[Record], least: usize) -> bool {
    let count = records.first().map_or(0, Vec::len);
    count >= least && records.iter().all(|record| record.len() == count)
}

/// Splits by RFC 4180, section 2, with any separator and any line end. A quote that no other
/// one closes stands for itself, so that a stray one swallows no rows.
fn split(text: &str, separator: char) -> Vec<Record> {
    let mut reader = Reader {
        rest: text,
        separator,
        closes: true,
    };
    let mut records = Vec::new();
    while !reader.rest.is_empty() {
        let record = reader.record();
        if record.iter().any(|cell| !cell.is_empty()) {
            records.push(record);
        }
    }
    records
}

struct Reader<'a> {
    rest: &'a str,
    separator: char,
    /// Whether a closing quote may still lie ahead.
    closes: bool,
}

impl Reader<'_> {
    fn record(&mut self) -> Record {
        let mut record = Vec::new();
        loop {
            record.push(self.cell().trim().to_owned());
            if let Some(rest) = self.rest.strip_prefix(self.separator) {
                self.rest = rest;
                continue;
            }
            let line_end = ["\r\n", "\n", "\r"];
            let after = line_end.iter().find_map(|end| self.rest.strip_prefix(end));
            self.rest = after.unwrap_or(self.rest);
            return record;
        }
    }

    fn cell(&mut self) -> String {
        if let Some(quoted) = self.quoted() {
            return quoted;
        }
        let ends = |c| c == self.separator || c == '\n' || c == '\r';
        let (cell, rest) = self
            .rest
            .split_at(self.rest.find(ends).unwrap_or(self.rest.len()));
        self.rest = rest;
        cell.to_owned()
    }

    /// The cell here, if it is a quoted one.
    fn quoted(&mut self) -> Option<String> {
        let inner = self.rest.strip_prefix('"').filter(|_| self.closes)?;
        // Between tabs a lone quote is a ditto mark, as printed tables have them.
        if self.separator == '\t'
            && inner
                .trim_start_matches(' ')
                .starts_with(['\t', '\n', '\r'])
        {
            return None;
        }
        let mut from = 0;
        while let Some(found) = inner[from..].find('"') {
            let at = from + found;
            let after = &inner[at + 1..];
            match after.chars().next() {
                Some('"') => from = at + 2,
                Some(c) if c != self.separator && c != '\n' && c != '\r' => from = at + 1,
                _ => {
                    self.rest = after;
                    return Some(inner[..at].replace("\"\"", "\""));
                }
            }
        }
        self.closes = false;
        None
    }
}
