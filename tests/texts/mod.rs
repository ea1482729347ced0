//! The texts of a Rust source, as far as tests read them.
#![allow(dead_code)]

use std::fs;
use std::path::{Path, PathBuf};

/// A file, or all files in a folder and in the folders in it, in the order of their names.
pub fn files_in(path: &Path) -> Vec<PathBuf> {
    let Ok(entries) = fs::read_dir(path) else {
        return vec![path.to_owned()];
    };
    let paths = entries.map(|entry| entry.expect("a folder can be listed").path());
    let mut files: Vec<PathBuf> = paths.flat_map(|path| files_in(&path)).collect();
    files.sort();
    files
}

/// A text in the source with what stands directly before and behind it, blanks left out.
pub struct Literal<'a> {
    /// The text as it stands between its quotes.
    pub text: &'a str,
    /// What is before it.
    pub before: &'a str,
    /// What is behind it.
    pub behind: &'a str,
}

/// The text with a figure for each value that is put in.
pub fn without_values(text: &str) -> String {
    let mut out = String::new();
    let mut depth = 0;
    for c in text.replace("\\u{a0}", " ").replace("\\n", " ").chars() {
        match c {
            '{' => {
                depth += 1;
                out.push('0');
            }
            '}' => depth -= 1,
            _ if depth == 0 => out.push(c),
            _ => {}
        }
    }
    out
}

/// All texts of a source; comments and what follows the first test are none of it.
pub fn literals(code: &str) -> Vec<Literal<'_>> {
    let code = code.split("#[cfg(test)]").next().unwrap_or_default();
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(next) = code[at..].find(['"', '/', '\'']) {
        let start = at + next;
        let rest = &code[start..];
        at = start
            + match rest.as_bytes() {
                [b'/', b'/', ..] => rest.find('\n').unwrap_or(rest.len()),
                [b'\'', b'\\', _, b'\'', ..] => 4,
                [b'\'', b'"', b'\'', ..] => 3,
                [b'"', ..] => {
                    let length = text_length(rest);
                    found.push(Literal {
                        text: &rest[1..length - 1],
                        before: code[..start].trim_end(),
                        behind: rest[length..].trim_start(),
                    });
                    length
                }
                _ => 1,
            };
    }
    found
}

/// How long a text is with both its quotes.
fn text_length(rest: &str) -> usize {
    let mut escaped = false;
    let end = rest.char_indices().skip(1).find(|(_, c)| {
        let is_end = *c == '"' && !escaped;
        escaped = *c == '\\' && !escaped;
        is_end
    });
    end.map_or(rest.len(), |(at, _)| at + 1)
}
