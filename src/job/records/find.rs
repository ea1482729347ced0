//! Finding by words, in any order, however they are accented, capitalised and punctuated.

use crate::job::records::plain::{add_plain, plain};
use crate::job::{FaultRecord, Line, Standing};

/// The words that are looked for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Search(Vec<String>);

impl Search {
    /// The words of what was typed. Nothing typed finds everything.
    pub fn of(typed: &str) -> Search {
        let words = typed.split_whitespace().map(plain);
        Search(words.filter(|word| !word.is_empty()).collect())
    }

    /// Whether there is nothing to look for.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Whether each word is somewhere in the texts.
    pub fn finds(&self, texts: &[&str]) -> bool {
        if self.is_empty() {
            return true;
        }
        let mut all = String::new();
        for text in texts {
            add_plain(&mut all, text);
            // Stands in no word, so that none reaches from one text into the next.
            all.push('\n');
        }
        self.0.iter().all(|word| all.contains(word.as_str()))
    }

    /// Whether they are in what a list says of a job.
    pub fn finds_job(&self, line: &Line) -> bool {
        let mut said: Vec<&str> = vec![
            &line.number,
            &line.set.make,
            &line.set.model,
            &line.set.serial,
            &line.owner,
            &line.fault,
        ];
        said.extend(line.procedures().map(|name| name.title.as_str()));
        said.extend(line.faults.iter().flat_map(FaultRecord::texts));
        self.finds(&said)
    }
}

/// Which jobs a list shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Shown {
    /// All of them.
    #[default]
    All,
    /// Those with something to be done, waiting ones included.
    InHand,
    /// Those in which a wait that was begun is not settled yet.
    Waiting,
    /// Those that are signed off.
    Finished,
}

impl Shown {
    /// All choices, in the order in which they are offered.
    pub const CHOICES: [Shown; 4] = [Shown::All, Shown::InHand, Shown::Waiting, Shown::Finished];

    /// Whether a job is among them.
    pub fn has(self, line: &Line) -> bool {
        match self {
            Shown::All => true,
            Shown::InHand => !line.is_finished(),
            Shown::Waiting => matches!(line.standing, Standing::Waiting { .. }),
            Shown::Finished => line.is_finished(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_found_in_any_order_however_they_are_written() {
        let texts = [
            "Quillmere Radio Club",
            "28 MHz trainer",
            "QRC-07",
            "Frau Größe-Łuczak",
            "ﬁne",
        ];
        for (typed, found) in [
            ("", true),
            ("  ", true),
            ("...", true),
            ("quill", true),
            ("TRAINER quillmere", true),
            ("qrc07", true),
            ("QRC 07", true),
            ("qrc-7", false),
            ("07 club", true),
            ("grosse", true),
            ("GRÖSSE", true),
            ("gro\u{308}ße", true),
            ("luczak", true),
            ("größe-lu", true),
            ("fine", true),
            ("trainer mast", false),
        ] {
            assert_eq!(Search::of(typed).finds(&texts), found, "{typed}");
        }
    }

    #[test]
    fn a_word_does_not_reach_from_one_text_into_the_next() {
        assert!(!Search::of("ab").finds(&["a", "b"]));
    }

    #[test]
    fn letters_of_other_scripts_are_found_too() {
        for (text, typed) in [
            ("Ёлка", "елка"),
            ("ΆΝΩ", "ανω"),
            ("Ｑ７", "q7"),
            ("無線", "無線"),
        ] {
            assert!(Search::of(typed).finds(&[text]), "{text}");
        }
    }
}
