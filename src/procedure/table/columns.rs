//! What the columns of a pasted table mean, by their headings or by their order.

use super::cells::Record;
use crate::quantity::{Scale, Unit};

/// A column of a pasted table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column {
    /// The heading, as pasted; of a table without headings, what the column is taken for.
    pub heading: String,
    /// What its cells are; none where the heading isn't known, and then they go into the text.
    pub meaning: Option<Meaning>,
    /// The unit that the heading states, as in `Target (MHz)`.
    pub scale: Option<Scale>,
}

/// What a cell can be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Meaning {
    /// The row's number in the table that it comes from.
    Number,
    /// The step in a few words.
    Title,
    /// The test point.
    Point,
    /// What is turned.
    Adjuster,
    /// Where the reading must lie.
    Target,
    /// How far it may be off.
    Tolerance,
    /// What to do.
    Note,
    /// What can hurt or break.
    Caution,
    /// The unit of bare figures.
    Unit,
    /// The instrument's role.
    Instrument,
    /// The mode.
    Mode,
    /// The channel.
    Channel,
    /// Receiving or transmitting.
    Signal,
    /// The supply.
    Supply,
}

use Meaning::*;

/// The order of a table without headings.
const ORDER: [Meaning; 6] = [Title, Point, Adjuster, Target, Tolerance, Note];

impl Meaning {
    /// The meanings that a heading can state.
    pub const ALL: [Meaning; 14] = [
        Number, Title, Point, Adjuster, Target, Tolerance, Note, Caution, Unit, Instrument, Mode,
        Channel, Signal, Supply,
    ];

    /// The words that head such a column, in lower case, the plainest first.
    pub const fn headings(self) -> &'static [&'static str] {
        match self {
            Number => &[
                "number",
                "no",
                "nr",
                "#",
                "step no",
                "step number",
                "pos",
                "item",
            ],
            Title => &[
                "step",
                "title",
                "what",
                "operation",
                "action",
                "task",
                "check",
                "description",
                "stage",
                "circuit",
                "function",
            ],
            Point => &[
                "test point",
                "testpoint",
                "tp",
                "point",
                "test points",
                "measuring point",
                "measure at",
                "measured at",
                "probe",
                "probe at",
                "at",
                "where",
            ],
            Adjuster => &[
                "adjuster",
                "adjust",
                "adjustment",
                "adjusting point",
                "core",
                "trimmer",
                "pot",
                "preset",
                "coil",
                "turn",
                "control",
            ],
            Target => &[
                "target",
                "limit",
                "limits",
                "value",
                "nominal",
                "spec",
                "specification",
                "set to",
                "adjust to",
                "adjust for",
                "reading",
                "wanted",
                "required",
            ],
            Tolerance => &["tolerance", "tol", "±", "+/-", "margin"],
            Note => &[
                "note",
                "notes",
                "remark",
                "remarks",
                "comment",
                "comments",
                "text",
                "how",
                "instruction",
                "instructions",
                "details",
            ],
            Caution => &["caution", "cautions", "warning", "warnings", "danger"],
            Unit => &["unit", "units"],
            Instrument => &[
                "instrument",
                "instruments",
                "with",
                "measured with",
                "equipment",
                "test equipment",
                "meter",
                "using",
            ],
            Mode => &["mode"],
            Channel => &["channel", "ch", "chan"],
            Signal => &[
                "rx/tx",
                "tx/rx",
                "rx tx",
                "tx rx",
                "receive/transmit",
                "state",
            ],
            Supply => &["supply", "supply voltage", "power supply"],
        }
    }

    fn headed(heading: &str) -> Option<Meaning> {
        let heading = heading.to_lowercase();
        let words = match heading.contains(char::is_alphabetic) {
            true => heading.replace(['\n', '_', '-'], " "),
            false => heading,
        };
        let words = words.trim_matches(['.', ':', ' ']);
        let named = |meaning: &Meaning| meaning.headings().contains(&words);
        Meaning::ALL.into_iter().find(named)
    }
}

impl Column {
    fn headed(heading: &str) -> Column {
        let bracketed = heading
            .trim_end_matches([')', ']'])
            .split_once(['(', '['])
            .and_then(|(name, unit)| Some((name, read_scale(unit)?)));
        Column {
            heading: heading.to_owned(),
            meaning: Meaning::headed(bracketed.map_or(heading, |(name, _)| name)),
            scale: bracketed.map(|(_, scale)| scale),
        }
    }

    fn of_order(meaning: Option<Meaning>, index: usize) -> Column {
        Column {
            heading: match meaning {
                Some(meaning) => capitalised(meaning.headings()[0]),
                None => format!("Column {}", index + 1),
            },
            meaning,
            scale: None,
        }
    }
}

pub(super) fn capitalised(word: &str) -> String {
    let mut chars = word.chars();
    let first = chars.next().map(|c| c.to_uppercase().to_string());
    first.unwrap_or_default() + chars.as_str()
}

/// A unit with its prefix as a person writes it, such as `MHz`, `mhz` or `Vpp`.
pub(super) fn read_scale(text: &str) -> Option<Scale> {
    let text = text.trim();
    let by_symbol = text.parse().ok();
    by_symbol.or_else(|| {
        let read =
            |unit: &crate::quantity::Unit| super::aim::with_unit(&format!("1 {text}"), *unit);
        Unit::ALL
            .iter()
            .find_map(read)
            .map(|quantity| quantity.scale)
    })
}

/// How many different things a record heads.
fn heads(record: &Record) -> usize {
    let mut known: Vec<Meaning> = Vec::new();
    for meaning in record
        .iter()
        .filter_map(|cell| Column::headed(cell).meaning)
    {
        if !known.contains(&meaning) {
            known.push(meaning);
        }
    }
    known.len()
}

/// Where the headings stand, if there are any; a table may have a title or two above them.
pub(super) fn heading_of(records: &[Record]) -> Option<usize> {
    let list = records
        .first()
        .is_some_and(|first| first.len() == 1 && heads(first) == 1);
    let table = || records.iter().take(3).position(|record| heads(record) >= 2);
    list.then_some(0).or_else(table)
}

/// Takes the headings off the records, if there are any, and says what each column is.
pub(super) fn columns(records: &mut Vec<Record>) -> Vec<Column> {
    let widest = |records: &[Record]| records.iter().map(Vec::len).max().unwrap_or(0);
    let mut columns: Vec<Column> = match heading_of(records) {
        Some(index) => records
            .remove(index)
            .iter()
            .map(|c| Column::headed(c))
            .collect(),
        None => {
            let numbered = widest(records) > 1 && counts(records, 0);
            let order = numbered.then_some(Number).into_iter().chain(ORDER);
            order
                .take(widest(records))
                .enumerate()
                .map(|(index, meaning)| Column::of_order(Some(meaning), index))
                .collect()
        }
    };
    for index in columns.len()..widest(records) {
        columns.push(Column::of_order(None, index));
    }
    number_the_steps(&mut columns, records);
    once_each(&mut columns);
    columns
}

/// A column of steps that holds nothing but numbers numbers them, where another says more.
fn number_the_steps(columns: &mut [Column], records: &[Record]) {
    let telling = |c: &Column| matches!(c.meaning, Some(Title | Note));
    if columns.iter().filter(|c| telling(c)).count() < 2 {
        return;
    }
    let is_number = |(i, c): &(usize, &mut Column)| c.meaning == Some(Title) && counts(records, *i);
    if let Some((_, column)) = columns.iter_mut().enumerate().find(is_number) {
        column.meaning = Some(Number);
    }
}

/// Whether every cell of a column is a short number, such as `3`, `3.1` or `3a`.
fn counts(records: &[Record], column: usize) -> bool {
    records.iter().all(|record| {
        let cell = record.get(column).map_or("", String::as_str);
        let short = cell.chars().count() <= 5 && cell.starts_with(|c: char| c.is_ascii_digit());
        short
            && cell
                .chars()
                .all(|c| c.is_ascii_alphanumeric() || matches!(c, '.' | ')'))
    })
}

/// A second column of the same meaning says more of the step: another title is a note, and
/// anything else goes into the text under its own heading.
fn once_each(columns: &mut [Column]) {
    for index in 0..columns.len() {
        let meaning = columns[index].meaning;
        let seen = columns[..index].iter().any(|c| c.meaning == meaning);
        if seen && !matches!(meaning, None | Some(Note | Caution)) {
            columns[index].meaning = (meaning == Some(Title)).then_some(Note);
        }
    }
}
