//! Where in a text of JSON a reader stopped.

use serde_json::Error;

/// How many characters of a place are worth showing.
const LONGEST: usize = 200;

/// The place of an error in the text that was read, as a path of keys: that of the value, or of
/// the key, which the reader was at last. Empty for the whole.
pub fn of_error(text: &str, error: &Error) -> String {
    let lines = error.line().saturating_sub(1);
    let start: usize = text.split_inclusive('\n').take(lines).map(str::len).sum();
    let path = match error.line() {
        // It says nothing of where.
        0 => String::new(),
        _ => path_at(text, start + error.column()),
    };
    path.chars().take(LONGEST).collect()
}

/// A list or an object that is not closed yet.
enum Level {
    /// Which entry of the list is read.
    List(usize),
    /// What key of the object is read, once there is one, and whether its value is due.
    Object(Option<String>, bool),
}

/// The path of what the first so many bytes of a text of JSON end with.
fn path_at(text: &str, end: usize) -> String {
    let bytes = &text.as_bytes()[..end.min(text.len())];
    let mut levels: Vec<Level> = Vec::new();
    let mut at = 0;
    while let Some(&byte) = bytes.get(at) {
        at += 1;
        match (byte, levels.last_mut()) {
            (b'{', _) => levels.push(Level::Object(None, false)),
            (b'[', _) => levels.push(Level::List(0)),
            (b'}' | b']', _) => drop(levels.pop()),
            (b',', Some(Level::List(index))) => *index += 1,
            (b',', Some(Level::Object(key, due))) => (*key, *due) = (None, false),
            (b':', Some(Level::Object(_, due))) => *due = true,
            (b'"', level) => {
                let length = length_of_string(&bytes[at..]);
                if let Some(Level::Object(key, false)) = level {
                    let string = bytes.get(at - 1..at + length);
                    *key = string.and_then(|string| serde_json::from_slice(string).ok());
                }
                at += length;
            }
            _ => {}
        }
    }
    levels
        .iter()
        .fold(String::new(), |path, level| match level {
            Level::List(index) => format!("{path}[{index}]"),
            Level::Object(None, _) => path,
            Level::Object(Some(key), _) if path.is_empty() => key.clone(),
            Level::Object(Some(key), _) => format!("{path}.{key}"),
        })
}

/// How many bytes a string has behind its opening quote, the closing one included.
fn length_of_string(bytes: &[u8]) -> usize {
    let mut at = 0;
    while let Some(byte) = bytes.get(at) {
        match byte {
            b'"' => return at + 1,
            b'\\' => at += 2,
            _ => at += 1,
        }
    }
    at
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn the_path_is_that_of_what_was_read_last() {
        for (text, path) in [
            ("", ""),
            ("{", ""),
            ("{\"a\"", "a"),
            ("{\"a\": ", "a"),
            ("{\"a\": 17", "a"),
            ("{\"a\": 17,", ""),
            ("{\"a\": 17, \"b\": [", "b[0]"),
            ("{\"a\": 17, \"b\": [\"x,]}\", {}", "b[1]"),
            ("{\"a\": 17, \"b\": [\"\\\"{\", {\"c\": null}", "b[1]"),
            ("{\"a\": 17, \"b\": [[1, 2], {\"c\": {\"d\": tr", "b[1].c.d"),
            ("{\"a\": 17, \"b\": []", "b"),
            ("{\"a\\u0062\": 1", "ab"),
            ("{\"a\": {\"b\": 1}}", ""),
            ("[[1], [2, {\"a", "[1][1]"),
        ] {
            assert_eq!(path_at(text, text.len()), path, "{text}");
        }
    }

    #[test]
    fn an_error_is_found_by_line_and_column() {
        #[derive(serde::Deserialize)]
        struct Thing {
            #[serde(rename = "size")]
            _size: u8,
        }
        for (text, place) in [
            ("[{\"size\": 1},\n {\"size\": 256}]", "[1].size"),
            ("[\n\n{\"size\": \"1\"}]", "[0].size"),
            ("[{\"size\": 1}, {\"weight\": 1}]", "[1]"),
            ("[{\"size\": 1}, 5]", "[1]"),
        ] {
            let error = serde_json::from_str::<Vec<Thing>>(text).err();
            let error = error.expect("something wrong");
            assert_eq!(of_error(text, &error), place, "{text}: {error}");
        }
    }

    proptest! {
        #[test]
        fn any_text_has_a_place(text in "[\\[\\]{},:\"\\\\ a0ü]{0,40}", end in 0..60_usize) {
            let _ = path_at(&text, end);
        }
    }
}
