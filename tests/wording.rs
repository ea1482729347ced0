//! All that the app says stands in `src/app/words`: no other file of the app holds a text for
//! people, so that another language is another copy of that folder.
//!
//! What is taken for such a text: words with a space beside them, a single word with a capital
//! letter, any word between two tags, and the value of an attribute that is read out. Names of
//! classes, addresses, keys and files are none of these.

mod texts;

use halfturn::exchange::report::Spelling;
use halfturn::quantity::Scale;
use std::fs;
use std::path::{Path, PathBuf};
use texts::{Literal, files_in, literals, without_values};

/// Attributes whose value is shown or read out.
const SPOKEN: [&str; 4] = ["aria-label=", "title=", "placeholder=", "alt="];

/// What holds words of no language: classes, what only a developer gets to see, and names that
/// the browser's own things have.
const UNSPOKEN: [&str; 5] = [
    "class=",
    "class=format!(",
    "expect(",
    "unreachable!(",
    "Reflect::get(&window(), &",
];

impl Literal<'_> {
    /// Whether it is a text for people.
    fn is_wording(&self) -> bool {
        let text = without_values(self.text);
        if !text.split_whitespace().any(is_word) {
            return false;
        }
        let holds = |marks: &[&str]| marks.iter().any(|mark| self.before.ends_with(mark));
        // What a value is compared with is not shown.
        let compared = self.before.ends_with("==") || self.behind.starts_with("=>");
        if compared || self.behind.starts_with("| ") || holds(&UNSPOKEN) {
            return false;
        }
        let opened = self.before.ends_with('>') && !self.before.ends_with("=>");
        let is_child = opened || self.behind.starts_with('<');
        holds(&SPOKEN) || is_child || text.contains(' ') || is_capitalised(&text)
    }
}

/// At least two letters and nothing else, but for what stands around words in a sentence.
fn is_word(token: &str) -> bool {
    let word = token.trim_matches(|c: char| !c.is_alphanumeric());
    let within = |c: char| c.is_alphabetic() || "’'".contains(c);
    word.chars().count() >= 2 && word.chars().all(within)
}

fn is_capitalised(text: &str) -> bool {
    let mut letters = text.trim_end_matches(['.', '…', ':', '?', '!']).chars();
    letters.next().is_some_and(char::is_uppercase) && letters.all(char::is_lowercase)
}

fn wordings(code: &str) -> Vec<&str> {
    let all = literals(code).into_iter();
    all.filter(Literal::is_wording).map(|l| l.text).collect()
}

/// The sources of the app, but for the folder of its words.
fn sources(app: &Path) -> Vec<PathBuf> {
    let mut files = files_in(app);
    files.retain(|path| !path.starts_with(app.join("words")));
    files
}

#[test]
fn no_screen_holds_words_of_its_own() {
    let app = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/app");
    let sources = sources(&app);
    assert!(sources.len() > 30, "found {}", sources.len());
    let mut found = Vec::new();
    for path in &sources {
        let code = fs::read_to_string(path).expect("sources are text");
        let name = path.strip_prefix(&app).expect("it is below").display();
        found.extend(wordings(&code).iter().map(|text| format!("{name}: {text}")));
    }
    assert!(
        found.is_empty(),
        "move these into src/app/words:\n{}",
        found.join("\n")
    );
}

/// Texts that are spelt on their way to the page: in a list, or in the spelling of tables that are read.
const SPELT_LATER: [&str; 2] = ["Load, generator or analyser", "Colour"];

#[test]
fn what_is_spelt_otherwise_in_the_united_states_says_so() {
    let words = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/app/words");
    let mut found = Vec::new();
    for path in files_in(&words) {
        let code = fs::read_to_string(&path).expect("sources are text");
        let texts = literals(&code).into_iter().filter(|text| {
            let is_spelt = ["spelt(", "spelt(&format!(", "either("];
            let is_spelt = is_spelt.iter().any(|mark| text.before.ends_with(mark));
            let differs = Spelling::American.write(text.text) != text.text;
            differs && !is_spelt && !SPELT_LATER.contains(&text.text)
        });
        let name = path.strip_prefix(&words).expect("it is below").display();
        found.extend(texts.map(|text| format!("{name}: {}", text.text)));
    }
    assert!(found.is_empty(), "spell these:\n{}", found.join("\n"));
}

#[test]
fn a_text_for_people_is_told_from_a_name() {
    for wording in [
        r#"view! { <h1>"Sums"</h1> }"#,
        r#"view! { <p>"in short"</p> }"#,
        r#"view! { <dd>{count}" left"</dd> }"#,
        r#"view! { <td>"open"</td> }"#,
        r#"view! { <svg aria-label="scale"></svg> }"#,
        r#"bench.say("It is done.")"#,
        r#"bench.refuse(format!("{name}: type a number"))"#,
        r#"title: "Waive","#,
        r#"format!("{n} readings")"#,
        r#"format!("± {}\u{a0}ppm", ppm)"#,
        r#"true => "Time’s up.","#,
        r#"const STAYS: &str = "Remove…";"#,
    ] {
        assert_eq!(wordings(wording).len(), 1, "{wording}");
    }
    for name in [
        r#"view! { <p class="soft no-print">{words::LEAD}</p> }"#,
        r#"view! { <p class=format!("answer {class}")></p> }"#,
        r#"view! { <input id="reading" type="text" aria-describedby="reading-error"/> }"#,
        r#"view! { <button>"±"</button><small>"\u{a0}"</small> }"#,
        r#"view! { <path d="M9 5h11v14H9l-6-7zM12 9.5l5 5"/> }"#,
        r#"format!("M{x:.1} {BOTTOM}V{top:.1}")"#,
        r#"format!("job/{}/step/{}", job, step)"#,
        r#"match key { "PageDown" | "Escape" => {} "Enter" => {} _ => {} }"#,
        r#"event.key() == "Escape""#,
        r#"// It says "All of it" here."#,
        r#"let name = name.replacen("halfturn-job", what, 1);"#,
        r#"unreachable!("the letters make a sound id")"#,
        r##"let quote = '"'; let hash = "#f0cd21";"##,
    ] {
        assert_eq!(wordings(name), Vec::<&str>::new(), "{name}");
    }
}

#[test]
fn texts_are_found_whole() {
    let code = r#"let a = '\''; say("He said \"no\" twice"); // "not this"
        let b: &'static str = "x";"#;
    let texts: Vec<&str> = literals(code).into_iter().map(|l| l.text).collect();
    assert_eq!(texts, [r#"He said \"no\" twice"#, "x"]);
}

/// A figure and its unit, or a sign and its figure, with a blank between them at which a line may
/// end.
fn parted(text: &str) -> Option<String> {
    let words: Vec<&str> = text.split(' ').collect();
    let is_figure = |word: &str| word.ends_with(|c: char| c.is_ascii_digit() || c == '}');
    let begins_figure = |word: &str| word.starts_with(|c: char| c.is_ascii_digit() || c == '{');
    words.windows(2).find_map(|pair| {
        let (first, second) = (pair[0], pair[1]);
        let unit = second.trim_end_matches(['.', ',', ';', ':', ')', '”']);
        let is_parted =
            is_figure(first) && is_unit(unit) || first.ends_with('±') && begins_figure(second);
        is_parted.then(|| format!("{first} {second}"))
    })
}

fn is_unit(word: &str) -> bool {
    word == "%" || word == "°C" || word.parse::<Scale>().is_ok()
}

#[test]
fn a_figure_and_its_unit_stay_on_one_line_in_every_text() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let words = files_in(&root.join("src/app/words")).into_iter();
    let all = words.chain(files_in(&root.join("src/exchange/report/words")));
    let mut found = Vec::new();
    for path in all {
        let code = fs::read_to_string(&path).expect("sources are text");
        let texts = literals(&code).into_iter();
        found.extend(texts.filter_map(|literal| parted(literal.text)));
    }
    assert_eq!(found, Vec::<String>::new(), "write \\u{{a0}} there");
    for text in [
        "such as 20 Hz",
        "U is at 95 %.",
        "{figure} ppm",
        "± {margin}",
    ] {
        assert!(parted(text).is_some(), "{text}");
    }
    for text in ["{steps} steps", "at 95 of 100", "20\\u{a0}Hz inside"] {
        assert_eq!(parted(text), None, "{text}");
    }
}
