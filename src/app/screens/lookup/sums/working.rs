//! A calculation as it is typed, and what comes of it.

use crate::app::shell::bench::Bench;
use crate::app::words::lookup::sums as words;
use crate::app::words::shared;
use crate::quantity::formula::NAMES;
use crate::quantity::sum::{Answer, Entry, Input, Kind, Sum};
use crate::quantity::{DecimalSign, Number, ReadError, Scale};
use crate::store::TypedInputs;
use leptos::prelude::*;

/// A calculation with what was typed in it and what comes of that.
#[derive(Clone, Copy)]
pub(super) struct Desk {
    pub(super) bench: Bench,
    pub(super) sum: &'static Sum,
    pub(super) typed: RwSignal<TypedInputs>,
    pub(super) working: Memo<Working>,
}

impl Desk {
    pub(super) fn change(self, change: impl FnOnce(&mut TypedInputs)) {
        self.typed.update(change);
        let typed = self.typed.get_untracked();
        self.bench.keep_sum(self.sum.id, &typed);
    }

    pub(super) fn text(self, input: &Input) -> String {
        self.typed.with(|typed| text_of(input, typed).to_owned())
    }

    /// Keeps a text and, with it, the scale chosen before.
    pub(super) fn type_in(self, input: &Input, text: String) {
        self.change(|typed| {
            let scale = typed.get(input.id).and_then(|typed| typed.scale);
            typed.insert(input.id.to_owned(), crate::store::Typed { text, scale });
        });
    }

    pub(super) fn scale(self, input: &Input) -> Option<Scale> {
        let chosen = self.typed.with(|typed| typed.get(input.id)?.scale);
        chosen.or(input.scale())
    }

    pub(super) fn choose_scale(self, input: &Input, scale: Scale) {
        self.change(|typed| {
            let text = text_of(input, typed).to_owned();
            let scale = Some(scale);
            typed.insert(input.id.to_owned(), crate::store::Typed { text, scale });
        });
    }

    pub(super) fn complaint(self, input: &Input) -> Option<String> {
        self.working.with(|working| {
            let index = self.sum.inputs.iter().position(|i| i.id == input.id)?;
            working.complaints.get(index)?.clone()
        })
    }
}

/// What stands in a field: what was typed, or what it starts with.
fn text_of<'a>(input: &Input, typed: &'a TypedInputs) -> &'a str {
    typed
        .get(input.id)
        .map_or(input.start, |typed| typed.text.as_str())
}

/// Everything that follows from what was typed.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Working {
    /// Why a field can't be read, in the order of the inputs.
    pub(super) complaints: Vec<Option<String>>,
    /// The inputs in words.
    pub(super) inputs: Vec<String>,
    /// What came of it; nothing while a field can't be read.
    pub(super) answer: Option<Result<Answer, String>>,
}

pub(super) fn working(sum: &Sum, typed: &TypedInputs, sign: DecimalSign) -> Working {
    let read = |input: &Input| {
        let chosen = typed.get(input.id).and_then(|typed| typed.scale);
        input.read(text_of(input, typed), chosen, sign)
    };
    let entries: Vec<Result<Option<Entry>, ReadError>> = sum.inputs.iter().map(read).collect();
    let both = || sum.inputs.iter().zip(&entries);
    let complaints = both()
        .map(|(input, entry)| Some(complaint(input, entry.as_ref().err()?)))
        .collect();
    let inputs = both()
        .filter_map(|(input, entry)| {
            let entry = entry.as_ref().ok()?.as_ref()?;
            Some(words::named(input.label, &in_words(input, entry, sign)))
        })
        .collect();
    let entries: Result<Vec<_>, ReadError> = entries.into_iter().collect();
    let answer = entries.ok().map(|entries| {
        let answer = sum.answer(&entries);
        answer.map_err(|fault| fault.to_string())
    });
    Working {
        complaints,
        inputs,
        answer,
    }
}

/// Why a text is not what a field takes. The reader speaks of steps, which are elsewhere.
pub(super) fn complaint(input: &Input, error: &ReadError) -> String {
    match (error, input.kind) {
        (ReadError::WrongUnit { typed, .. }, Kind::Amount(scales)) => {
            let fitting: Vec<String> = scales.iter().map(|scale| scale.symbol()).collect();
            words::wrong_unit_of(typed.symbol(), &fitting)
        }
        (ReadError::WrongUnit { typed, due }, _) => words::wrong_unit(typed.symbol(), due.symbol()),
        (ReadError::UnknownUnit(text), Kind::Plain | Kind::Plains) => words::no_unit(text),
        (other, _) => shared::sentence(other),
    }
}

fn in_words(input: &Input, entry: &Entry, sign: DecimalSign) -> String {
    let list = |texts: Vec<String>| texts.join("; ");
    match (entry, input.kind) {
        (Entry::Amount(quantity), _) => quantity.typeset(sign),
        (Entry::Plain(number), _) => number.typeset(sign),
        (Entry::Amounts(all), _) => list(all.iter().map(|one| one.typeset(sign)).collect()),
        (Entry::Plains(all), _) => list(all.iter().map(|one| one.typeset(sign)).collect()),
        (Entry::Formula(formula), _) => formula.text().to_owned(),
        (Entry::Pairs(pairs), _) => {
            let pair = |(a, b, number): &(usize, usize, Number)| {
                let [a, b] = [a, b].map(|at| NAMES.get(*at).copied().unwrap_or_default());
                words::named(&format!("{a}{b}"), &number.typeset(sign))
            };
            list(pairs.iter().map(pair).collect())
        }
        (Entry::Choice(index), Kind::Choice(choices)) => {
            choices.get(*index).copied().unwrap_or_default().to_owned()
        }
        (Entry::Choice(_), _) => String::new(),
    }
}
