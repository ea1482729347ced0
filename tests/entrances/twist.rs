//! Texts made from good ones by changes large and small, the same ones for the same seed.
//!
//! Files are changed as what they are, values of JSON, since bytes changed at random hardly ever
//! get past the first look at them.

use serde_json::Value;

/// Texts that were trouble for somebody, somewhere.
const ODD: [&str; 26] = [
    "",
    " ",
    "0",
    "-0",
    "1e400",
    "00.10",
    "-",
    ".",
    "9999999999999999999999999999999999999999999999999999999999999999999999",
    "1 234 567.890 MHz",
    "∞",
    "NaN",
    "0.000000000000000000000000000001 Hz",
    "−5,5 V",
    "10.6920 MHz ± 20 Hz",
    "at least -1 V",
    "3 V to 2 V",
    "\u{202e}abc\u{2066}",
    "a\u{0}b",
    "<script>alert(1)</script>",
    "=1+1",
    "2026-02-30",
    "\u{feff}",
    "𝟙𝟚 Ω",
    "12 µV\u{a0}rms",
    "e\u{301}\u{1f9ea}",
];

/// Numbers at the edge of something.
const EDGES: [i64; 12] = [
    0,
    1,
    -1,
    2,
    127,
    65_536,
    4_294_967_296,
    8_640_000_000_000_001,
    9_007_199_254_740_993,
    253_402_300_800_000,
    i64::MAX,
    i64::MIN,
];

/// A source of numbers: the same ones for the same seed.
///
/// Source (from memory): the generator `splitmix64`.
pub struct Dice(u64);

impl Dice {
    /// Dice that fall the same way for the same seed.
    pub fn new(seed: u64) -> Self {
        Dice(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mixed = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// A number below `end`; 0 where that is 0.
    fn below(&mut self, end: usize) -> usize {
        (self.next() % end.max(1) as u64) as usize
    }

    fn one_of<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.below(all.len())]
    }
}

/// A text that differs from this one in up to four places. Of lines of key, tab and value, one
/// line's value is twisted, mostly.
pub fn twisted(text: &str, seed: u64) -> String {
    let dice = &mut Dice::new(seed);
    let mut lines: Vec<&str> = text.split('\n').collect();
    let place = dice.below(lines.len());
    match lines[place].split_once('\t') {
        Some((key, value)) if dice.below(8) > 0 => {
            let line = format!("{key}\t{}", twisted_whole(value, dice));
            lines[place] = &line;
            lines.join("\n")
        }
        _ => twisted_whole(text, dice),
    }
}

fn twisted_whole(text: &str, dice: &mut Dice) -> String {
    let times = 1 + dice.below(4);
    let file = serde_json::from_str::<Value>(text).ok();
    match file.filter(|value| value.is_object() && dice.below(8) > 0) {
        Some(mut value) => {
            (0..times).for_each(|_| twist_value(&mut value, dice));
            value.to_string()
        }
        None => (0..times).fold(text.to_owned(), |text, _| twist_text(&text, dice)),
    }
}

/// Changes one place of a value: whole parts are taken out, doubled, swapped for others of the
/// same document, and texts and numbers changed.
fn twist_value(root: &mut Value, dice: &mut Dice) {
    let all = count(root);
    let (place, other) = (dice.below(all), dice.below(all));
    let transplant = nth(root, &mut { other }).cloned().unwrap_or_default();
    let Some(node) = nth(root, &mut { place }) else {
        return;
    };
    match node {
        Value::Array(items) if !items.is_empty() && dice.below(3) > 0 => {
            let (from, to) = (dice.below(items.len()), dice.below(items.len()));
            match dice.below(4) {
                0 => drop(items.remove(from)),
                1 => items.swap(from, to),
                2 => items.insert(to, items[from].clone()),
                _ => items.push(transplant),
            }
        }
        Value::Object(fields) if !fields.is_empty() && dice.below(3) > 0 => {
            let keys: Vec<String> = fields.keys().cloned().collect();
            let key = &keys[dice.below(keys.len())];
            match dice.below(3) {
                0 => drop(fields.remove(key)),
                1 => drop(fields.insert(key.clone(), transplant)),
                _ => drop(fields.insert(dice.one_of(&ODD).to_owned(), transplant)),
            }
        }
        // It may hold a document itself.
        Value::String(text) if dice.below(3) > 0 => *text = twisted_whole(text, dice),
        Value::Number(_) if dice.below(3) > 0 => *node = dice.one_of(&EDGES).into(),
        Value::Bool(flag) => *flag = !*flag,
        _ => {
            *node = match dice.below(6) {
                0 => Value::Null,
                1 => dice.one_of(&EDGES).into(),
                2 => dice.one_of(&ODD).into(),
                _ => transplant,
            }
        }
    }
}

/// How many values there are in a value, itself included.
fn count(value: &Value) -> usize {
    1 + match value {
        Value::Array(items) => items.iter().map(count).sum(),
        Value::Object(fields) => fields.values().map(count).sum(),
        _ => 0,
    }
}

/// The value with this number, the whole being number 0.
fn nth<'a>(value: &'a mut Value, left: &mut usize) -> Option<&'a mut Value> {
    if *left == 0 {
        return Some(value);
    }
    *left -= 1;
    match value {
        Value::Array(items) => items.iter_mut().find_map(|item| nth(item, left)),
        Value::Object(fields) => fields.values_mut().find_map(|field| nth(field, left)),
        _ => None,
    }
}

/// Changes a text in one place.
fn twist_text(text: &str, dice: &mut Dice) -> String {
    let letters: Vec<char> = text.chars().collect();
    let (from, to) = (dice.below(letters.len() + 1), dice.below(letters.len() + 1));
    let (from, to) = (from.min(to), from.max(to));
    let join = |middle: &str| {
        let before: String = letters[..from].iter().collect();
        let after: String = letters[to..].iter().collect();
        format!("{before}{middle}{after}")
    };
    let inside: String = letters[from..to].iter().collect();
    match dice.below(7) {
        0 => join(""),
        1 => join(&inside.repeat(2)),
        2 => join(&inside.chars().rev().collect::<String>()),
        3 => dice.one_of(&ODD).to_owned(),
        4 => join(&inside.replace(['.', ' '], ",")),
        5 => join(&format!("{inside}{}", dice.one_of(&ODD))),
        _ => {
            let letter = char::from_u32(dice.below(0x300) as u32).unwrap_or('\u{fffd}');
            join(&format!("{letter}{inside}"))
        }
    }
}
