//! What a row that states no limit of its own says in its words: what is waited for, what is
//! adjusted and what is to be read.

use crate::authoring::draft::DraftStep;
use crate::authoring::table::aim::{Aim, Cell, Due, read_aims};
use crate::authoring::table::columns::says;
use crate::authoring::table::hints::Hints;
use crate::authoring::table::lex::begins;
use crate::authoring::table::meaning::Meaning;
use crate::authoring::table::orders::hold::{Hold, hold_in, says_to_wait_until};
use crate::authoring::table::orders::instruct::{Instruction, instruction_in, statement_in};
use crate::authoring::table::phrases::TURNS;
use crate::authoring::table::row::{Measured, Reader};
use crate::authoring::table::why::Why;

impl<'a> Reader<'a> {
    /// Takes what is waited for out of the words of a row that states no limit of its own.
    pub(super) fn hold_on(&mut self, measured: &mut [Measured], set_up: &mut DraftStep) {
        let [one] = measured else {
            return;
        };
        let is_stated = one.aim != Aim::default() && !one.aim.words;
        let notes = self.all(Meaning::Note);
        let mut texts = [self.cell(Meaning::Title)].into_iter().chain(notes.clone());
        if is_stated || !(self.holds() || texts.any(says_to_wait_until)) {
            return;
        }
        let texts = [self.cell(Meaning::Title)].into_iter().chain(notes);
        let found = texts.filter_map(|text| hold_in(text, self.sign)).next();
        let Some(Hold { tolerance, at }) = found else {
            return;
        };
        one.aim = Aim {
            tolerance: Some(tolerance),
            ..Aim::default()
        };
        self.held = true;
        if set_up.at.is_empty() {
            set_up.at = at.unwrap_or_default();
        }
    }

    /// Takes an adjustment out of the words of a row that states no limit of its own: what it is
    /// for, and what is turned. Else takes what the words say will be read.
    pub(super) fn worded(
        &mut self,
        measured: &mut [Measured],
        set_up: &mut DraftStep,
    ) -> Vec<String> {
        let [one] = measured else {
            return Vec::new();
        };
        let texts = self.texts_of(one);
        for text in &texts {
            if let Some(said) = instruction_in(text)
                && let Some(aim) = self.aim_of(&said, text, one)
            {
                self.settle(one, aim);
                if set_up.at.is_empty() {
                    set_up.at = said.at.unwrap_or_default();
                }
                return said.adjusters;
            }
        }
        let turns = says(self.cell(Meaning::Adjuster));
        let said = texts.iter().filter(|_| !turns);
        for text in said {
            if let Some(said) = statement_in(text)
                && let Some(aim) = self.aim_of(&said, text, one)
                && aim.tolerance.is_some()
                && aim.extreme.is_none()
            {
                self.settle(one, aim);
                if set_up.at.is_empty() {
                    set_up.at = said.at.unwrap_or_default();
                }
                break;
            }
        }
        Vec::new()
    }

    /// The words that may say what a reading aims at: those of the row, or of its cell of targets
    /// where nothing else was made of it.
    fn texts_of(&self, one: &Measured) -> Vec<&'a str> {
        let not_understood = matches!(one.aim.unclear, Some((Cell::Target, Why::NoTarget)));
        match one.column {
            Some(index) if not_understood || begins(self.at(index), TURNS) => vec![self.at(index)],
            None if one.aim == Aim::default() => [self.cell(Meaning::Title)]
                .into_iter()
                .chain(self.all(Meaning::Note))
                .collect(),
            _ => Vec::new(),
        }
    }

    /// What the words aim at, where that is one thing and understood.
    fn aim_of(&self, said: &Instruction, text: &str, one: &Measured) -> Option<Aim> {
        let mut hints = Hints::of(text, "", self.section);
        hints.volts = hints.volts.or(self.volts);
        let due = Due {
            hints,
            ..Due::alone(one.due.or(self.unstated), self.sign)
        };
        let mut aims = read_aims(&said.target, "", due);
        let aim = aims.pop().filter(|_| aims.is_empty())?;
        let aims = aim.extreme.is_some() || aim.tolerance.is_some() || aim.nominal.is_some();
        let turns = says(self.cell(Meaning::Adjuster)) || !said.adjusters.is_empty();
        (aims && aim.unclear.is_none() && (turns || !said.turns)).then_some(aim)
    }

    /// Takes an aim for the reading, and tells what it leaves out.
    fn settle(&mut self, one: &mut Measured, aim: Aim) {
        if let Some(index) = one.column {
            let cell = self.at(index);
            self.unclear
                .retain(|told| told.cell != cell || told.why != Why::NoTarget);
        }
        if aim.volts_unsaid {
            self.miss(Meaning::Target, Why::WhichVolts);
        }
        if aim.tolerance.is_none() && aim.nominal.is_some() {
            self.miss(Meaning::Target, Why::NoTolerance);
        }
        one.aim = aim;
    }
}
