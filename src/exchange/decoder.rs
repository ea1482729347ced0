//! The text of a file whose bytes come in pieces.

/// Takes up a file piece by piece. What is not UTF-8 becomes replacement characters (Unicode,
/// chapter 3.9), as when a browser reads a file as a text.
#[derive(Default)]
pub struct Decoder {
    text: String,
    /// The bytes of a character of which the rest is still to come: three at most.
    begun: Vec<u8>,
}

impl Decoder {
    /// Makes room for so many bytes at once.
    pub fn with_capacity(bytes: usize) -> Self {
        Decoder {
            text: String::with_capacity(bytes),
            begun: Vec::new(),
        }
    }

    /// Takes up the next piece.
    pub fn push(&mut self, piece: &[u8]) {
        let mut rest = piece;
        while !self.begun.is_empty()
            && let Some((first, others)) = rest.split_first()
        {
            self.begun.push(*first);
            rest = others;
            let begun = std::mem::take(&mut self.begun);
            self.take_up(&begun);
        }
        self.take_up(rest);
    }

    /// The text, once all pieces are in.
    pub fn end(mut self) -> String {
        if !self.begun.is_empty() {
            self.text.push(char::REPLACEMENT_CHARACTER);
        }
        self.text
    }

    fn take_up(&mut self, bytes: &[u8]) {
        let mut rest = bytes;
        for chunk in bytes.utf8_chunks() {
            self.text.push_str(chunk.valid());
            rest = &rest[chunk.valid().len() + chunk.invalid().len()..];
            let is_begun = rest.is_empty() && is_beginning(chunk.invalid());
            match chunk.invalid() {
                [] => {}
                begun if is_begun => self.begun = begun.to_vec(),
                _ => self.text.push(char::REPLACEMENT_CHARACTER),
            }
        }
    }
}

/// Whether more bytes could make a character of these.
fn is_beginning(bytes: &[u8]) -> bool {
    std::str::from_utf8(bytes).is_err_and(|error| error.error_len().is_none())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Bytes that are text for the most part, with characters of every length.
    fn bytes() -> impl Strategy<Value = Vec<u8>> {
        let good = "[a\u{e4}\u{3a9}\u{20ac}\u{fffd}\u{1f4fb}]{0,4}".prop_map(String::into_bytes);
        let any = prop::collection::vec(any::<u8>(), 0..4);
        prop::collection::vec(prop_oneof![3 => good, 1 => any], 0..8).prop_map(|all| all.concat())
    }

    proptest! {
        #[test]
        fn pieces_give_the_text_of_the_whole(bytes in bytes(), size in 1usize..7) {
            let mut decoder = Decoder::with_capacity(bytes.len());
            bytes.chunks(size).for_each(|piece| decoder.push(piece));
            prop_assert_eq!(decoder.end(), String::from_utf8_lossy(&bytes));
        }
    }
}
