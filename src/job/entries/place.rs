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
        _ => {
            let reached = Reached::by(text, start + error.column());
            // What an object lacks shows at its end. A fault of the text in an object's last field
            // is told there too, but is one of that field.
            let is_of_all = error.to_string().starts_with("missing field");
            reached.path(!is_of_all)
        }
    };
    path.chars().take(LONGEST).collect()
}

/// A list or an object.
enum Level {
    /// Which entry of the list is read.
    List(usize),
    /// What key of the object is read, once there is one, and whether its value is due.
    Object(Option<String>, bool),
}

/// What a reader has come to.
#[derive(Default)]
struct Reached {
    /// What is not closed yet, the outermost first.
    open: Vec<Level>,
    /// What was closed by the last byte.
    closed: Option<Level>,
}

impl Reached {
    /// What the first so many bytes of a text of JSON end with.
    fn by(text: &str, end: usize) -> Self {
        let bytes = text.as_bytes()[..end.min(text.len())].trim_ascii_end();
        // One that ends a list's entry is passed before a fault of that entry is told.
        let bytes = bytes.strip_suffix(b",").unwrap_or(bytes);
        let mut reached = Reached::default();
        let mut at = 0;
        while let Some(&byte) = bytes.get(at) {
            at += 1;
            match byte {
                b'"' => at += reached.string(&bytes[at..]),
                _ => reached.sign(byte),
            }
        }
        reached
    }

    fn sign(&mut self, byte: u8) {
        self.closed = None;
        match (byte, self.open.last_mut()) {
            (b'{', _) => self.open.push(Level::Object(None, false)),
            (b'[', _) => self.open.push(Level::List(0)),
            (b'}' | b']', _) => self.closed = self.open.pop(),
            (b',', Some(Level::List(index))) => *index += 1,
            (b',', Some(Level::Object(key, due))) => (*key, *due) = (None, false),
            (b':', Some(Level::Object(_, due))) => *due = true,
            _ => {}
        }
    }

    /// Takes in a string and gives its length, both without the opening quote.
    fn string(&mut self, bytes: &[u8]) -> usize {
        self.closed = None;
        let length = length_of_string(bytes);
        if let Some(Level::Object(key, false)) = self.open.last_mut() {
            let string = bytes.get(..length).map(|rest| [b"\"", rest].concat());
            *key = string.and_then(|string| serde_json::from_slice(&string).ok());
        }
        length
    }

    /// The path; of an object that was just closed, that of its last field if so wanted.
    fn path(&self, into_closed: bool) -> String {
        let closed = self.closed.iter().filter(|_| into_closed);
        let closed = closed.filter(|level| matches!(level, Level::Object(..)));
        let levels = self.open.iter().chain(closed);
        levels.fold(String::new(), |path, level| match level {
            Level::List(index) => format!("{path}[{index}]"),
            Level::Object(None, _) => path,
            Level::Object(Some(key), _) if path.is_empty() => key.clone(),
            Level::Object(Some(key), _) => format!("{path}.{key}"),
        })
    }
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
            ("{\"a\": 17,", "a"),
            ("[{\"a\": 17}, ", "[0]"),
            ("{\"a\": 17, \"b\": [", "b[0]"),
            ("{\"a\": 17, \"b\": [\"x,]}\", {}", "b[1]"),
            ("{\"a\": 17, \"b\": [\"\\\"{\", {\"c\": null}", "b[1]"),
            ("{\"a\": 17, \"b\": [[1, 2], {\"c\": {\"d\": tr", "b[1].c.d"),
            ("{\"a\": 17, \"b\": []", "b"),
            ("{\"a\\u0062\": 1", "ab"),
            ("{\"a\": {\"b\": 1}}", ""),
            ("[[1], [2, {\"a", "[1][1]"),
        ] {
            let reached = Reached::by(text, text.len());
            assert_eq!(reached.path(false), path, "{text}");
        }
    }

    #[test]
    fn an_error_is_found_by_line_and_column() {
        #[derive(serde::Deserialize)]
        struct Thing {
            #[serde(rename = "size")]
            _size: u8,
            #[serde(default, rename = "unit")]
            _unit: Unit,
        }
        // Its fault is told by what was read, not while it is.
        #[derive(Default, serde::Deserialize)]
        #[serde(try_from = "String")]
        struct Unit;
        impl TryFrom<String> for Unit {
            type Error = &'static str;
            fn try_from(_: String) -> Result<Self, Self::Error> {
                Err("no unit")
            }
        }
        for (text, place) in [
            ("[{\"size\": 1},\n {\"size\": 256}]", "[1].size"),
            ("[\n\n{\"size\": \"1\"}]", "[0].size"),
            ("[{\"size\": 1}, {\"weight\": 1}]", "[1]"),
            ("[{\"size\": 1}, 5]", "[1]"),
            ("[{\"size\": 1, \"unit\": \"\"}]", "[0].unit"),
            ("[{\"unit\": \"\", \"size\": 1}]", "[0].unit"),
        ] {
            let error = serde_json::from_str::<Vec<Thing>>(text).err();
            let error = error.expect("something wrong");
            assert_eq!(of_error(text, &error), place, "{text}: {error}");
        }
    }

    proptest! {
        #[test]
        fn any_text_has_a_place(text in "[\\[\\]{},:\"\\\\ a0ü]{0,40}", end in 0..60_usize) {
            let _ = Reached::by(&text, end).path(true);
        }
    }
}
