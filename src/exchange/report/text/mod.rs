//! Text that people typed, made safe for the place where it is shown.

mod spelling;

pub use self::spelling::Spelling;

/// The text with every character that means something in HTML or SVG written as a reference,
/// in text and in quoted attributes alike. Control characters show as what they are: damage.
pub fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\n' | '\t' => out.push(c),
            '\r' => {}
            c if c.is_control() => out.push('\u{fffd}'),
            c => out.push(c),
        }
    }
    out
}

const POP_EMBEDDING: char = '\u{202c}';
const FIRST_STRONG_ISOLATE: char = '\u{2068}';
const POP_ISOLATE: char = '\u{2069}';

/// A typed text inside a sentence of ours: whichever way it is written, it can't turn the words
/// around it (Unicode Standard Annex 9, isolates).
pub fn typed(text: &str) -> String {
    format!("{FIRST_STRONG_ISOLATE}{}{POP_ISOLATE}", balanced(text))
}

/// The text with its directional controls closed where it ends, and without those that close
/// what it did not open; marks, which only lean on their neighbours, stay.
pub fn balanced(text: &str) -> String {
    let mut open = Vec::new();
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\u{202a}' | '\u{202b}' | '\u{202d}' | '\u{202e}' => open.push(POP_EMBEDDING),
            '\u{2066}'..=FIRST_STRONG_ISOLATE => open.push(POP_ISOLATE),
            POP_EMBEDDING | POP_ISOLATE => match open.last() {
                Some(due) if *due == c => drop(open.pop()),
                _ => continue,
            },
            _ => {}
        }
        out.push(c);
    }
    out.extend(open.into_iter().rev());
    out
}

/// The first so many characters, with a mark where more followed.
pub fn shortened(text: &str, most: usize) -> String {
    let line: String = text.split_whitespace().collect::<Vec<_>>().join(" ");
    match line.chars().count() > most {
        true => balanced(&line.chars().take(most).chain(['…']).collect::<String>()),
        false => balanced(&line),
    }
}

/// A CSS string: everything but letters and digits as a code, so that nothing can end it, nor
/// the style element around it (CSS Syntax Level 3, 4.3.7).
pub fn css_string(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars().filter(|c| !c.is_control()) {
        match c.is_ascii_alphanumeric() || c == ' ' {
            true => out.push(c),
            false => out.push_str(&format!("\\{:x} ", u32::from(c))),
        }
    }
    out.push('"');
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_typed_can_open_a_tag_or_leave_an_attribute() {
        assert_eq!(
            escape("<b a=\"1\" b='2'>&amp;\u{0}\u{1b}</b>\r\n"),
            "&lt;b a=&quot;1&quot; b=&#39;2&#39;&gt;&amp;amp;\u{fffd}\u{fffd}&lt;/b&gt;\n"
        );
    }

    #[test]
    fn directional_controls_end_with_the_text_they_are_in() {
        for (text, kept) in [
            ("plain", "plain"),
            ("\u{202e}abc", "\u{202e}abc\u{202c}"),
            ("abc\u{2069}\u{202c}", "abc"),
            ("\u{2067}\u{202e}x", "\u{2067}\u{202e}x\u{202c}\u{2069}"),
            ("\u{200f}שלום\u{200e}", "\u{200f}שלום\u{200e}"),
        ] {
            assert_eq!(balanced(text), kept, "{text:?}");
        }
    }

    #[test]
    fn a_css_string_can_not_be_left() {
        let text = css_string("a\"; } </style><script>\\");
        assert!(!text[1..text.len() - 1].contains(['"', '<', '>', ';', '}']));
    }
}
