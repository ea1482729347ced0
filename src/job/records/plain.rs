//! Texts without their capitals and accents, as they are looked for.

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

/// Whether two texts are the same but for capitals, accents, spaces and punctuation.
pub(in crate::job) fn is_alike(one: &str, other: &str) -> bool {
    let letters = |text: &str| plain(text).replace(' ', "");
    letters(one) == letters(other)
}

pub(super) fn plain(text: &str) -> String {
    let mut out = String::new();
    add_plain(&mut out, text);
    out
}

/// Adds a text without capitals, accents and punctuation: decomposed for compatibility (Unicode
/// Standard Annex #15), its combining marks dropped, with the letters that don't come apart
/// spelled out.
pub(super) fn add_plain(out: &mut String, text: &str) {
    if text.is_ascii() {
        // Most texts are, and come to the same by far less work.
        let letters = text
            .chars()
            .filter(|c| c.is_ascii_alphanumeric() || *c == ' ');
        out.extend(letters.map(|c| c.to_ascii_lowercase()));
        return;
    }
    for letter in text.nfkd().filter(|c| !is_combining_mark(*c)) {
        for letter in letter.to_lowercase() {
            match letter {
                'ß' => out.push_str("ss"),
                'æ' => out.push_str("ae"),
                'œ' => out.push_str("oe"),
                'ø' => out.push('o'),
                'ł' => out.push('l'),
                'đ' | 'ð' => out.push('d'),
                'ı' => out.push('i'),
                _ if letter.is_alphanumeric() || letter == ' ' => out.push(letter),
                _ => {}
            }
        }
    }
}
