//! British and American spelling of our own texts. What a person typed is never spelt anew.

/// How English is spelt.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Spelling {
    /// As our texts are written.
    #[default]
    British,
    /// As in the United States.
    American,
}

/// What of our texts is spelt otherwise in the United States; what is longer stands first.
const AMERICAN: [(&str, &str); 9] = [
    ("analyser", "analyzer"),
    ("centred", "centered"),
    ("centre", "center"),
    ("colour", "color"),
    ("favour", "favor"),
    ("grey", "gray"),
    ("labour", "labor"),
    ("licence", "license"),
    ("metre", "meter"),
];

impl Spelling {
    /// That of a language tag (BCP 47): American where it names the United States.
    pub fn of(language: &str) -> Self {
        let mut parts = language.split('-');
        let is_english = parts.next().is_some_and(|it| it.eq_ignore_ascii_case("en"));
        match is_english && parts.any(|it| it.eq_ignore_ascii_case("us")) {
            true => Spelling::American,
            false => Spelling::British,
        }
    }

    /// A text of ours in this spelling.
    pub fn write(self, text: &str) -> String {
        match self {
            Spelling::British => text.to_owned(),
            Spelling::American => AMERICAN.iter().fold(text.to_owned(), |text, (uk, us)| {
                let text = text.replace(uk, us);
                text.replace(&capitalised(uk), &capitalised(us))
            }),
        }
    }
}

fn capitalised(word: &str) -> String {
    let (first, rest) = word.split_at(word.len().min(1));
    first.to_uppercase() + rest
}

#[cfg(test)]
mod tests {
    use super::Spelling;

    // Check: words that differ, each in both spellings
    // Source: from memory; both spellings stand in general dictionaries of English
    #[test]
    fn our_texts_are_spelt_as_the_language_of_the_device_asks() {
        for (uk, us) in [
            ("Colour bands to value", "Color bands to value"),
            ("Place at centre", "Place at center"),
            ("centred on each harmonic", "centered on each harmonic"),
            ("Labour time", "Labor time"),
            ("Show the licences", "Show the licenses"),
            (
                "Load, generator and analyser",
                "Load, generator and analyzer",
            ),
            ("grey", "gray"),
            ("Step 5 is worse: favour it.", "Step 5 is worse: favor it."),
            ("Test point", "Test point"),
        ] {
            assert_eq!(Spelling::American.write(uk), us);
            assert_eq!(Spelling::British.write(uk), uk);
        }
    }

    #[test]
    fn a_language_that_does_not_name_the_united_states_is_spelt_as_it_is_written_here() {
        for language in ["en-US", "en-us", "EN-Latn-US"] {
            assert_eq!(Spelling::of(language), Spelling::American, "{language}");
        }
        for language in ["en", "en-GB", "en-AU", "de-DE", "es-US", ""] {
            assert_eq!(Spelling::of(language), Spelling::British, "{language}");
        }
    }
}
