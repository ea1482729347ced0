//! What a row does: reads, sets, looks, waits, stops or sends back.

use crate::authoring::Kind;
use crate::authoring::draft::{DraftStep, UntilKind};
use crate::authoring::table::aim::Extreme;
use crate::authoring::table::layout::{
    has_two_steps, is_action, is_doing, promises, puts_control, without_letter,
};
use crate::authoring::table::lex::begins;
use crate::authoring::table::meaning::Meaning;
use crate::authoring::table::orders::hold::says_to_hold;
use crate::authoring::table::orders::instruct::asks_for_more;
use crate::authoring::table::orders::repeat::{Again, again_in};
use crate::authoring::table::orders::timer::{minutes_before, minutes_in};
use crate::authoring::table::phrases::{APPLIES, KINDS, LOOKS, MEASURES, PUT, REFERS, STOPS};
use crate::authoring::table::row::said::among;
use crate::authoring::table::row::{Measured, Reader};
use crate::authoring::table::why::Why;

impl<'a> Reader<'a> {
    pub(super) fn stated_kind(&mut self) -> Option<Kind> {
        self.known(Meaning::Kind, Why::Kind, |cell| among(KINDS, cell))
    }

    /// What the step does, from what the row states; what it leaves out is told.
    pub(super) fn kind(&mut self, step: &DraftStep, one: &Measured, stated: Option<Kind>) -> Kind {
        let aim = &one.aim;
        let (turns, probes) = (!step.adjuster.is_empty(), !step.at.is_empty());
        let limited = aim.tolerance.is_some() || aim.nominal.is_some();
        let title = without_letter(self.cell(Meaning::Title));
        // A kind that reads nothing states no limit.
        if let Some(kind) = stated
            && (kind.reads() || kind == Kind::Stop || !limited)
        {
            return kind;
        }
        // A peak beside its limit is a reading where no column says what is turned.
        let read = !turns && aim.tolerance.is_some() && self.find(Meaning::Adjuster).is_none();
        let extreme = aim.extreme.filter(|_| !read);
        match extreme {
            Some(_) if !turns => self.miss(Meaning::Adjuster, Why::NoAdjuster),
            _ => {}
        }
        match extreme {
            Some(Extreme::Peak) => return Kind::Peak,
            Some(Extreme::Dip) => return Kind::Dip,
            None => {}
        }
        if begins(title, STOPS) && !limited {
            return Kind::Stop;
        }
        if !turns && aim.tolerance.is_some() && (self.held || self.holds()) {
            return Kind::Stop;
        }
        // A cell that wasn't understood is told already.
        if aim.unclear.is_some() && !aim.words {
            return match (turns, probes || limited) {
                (true, _) => Kind::Set,
                (false, _) => Kind::Read,
            };
        }
        match (turns, limited) {
            (true, true) => {
                if let (None, Some(index)) = (&aim.tolerance, one.column)
                    && aim.unclear.is_none()
                {
                    self.puzzle(index, Why::NoTolerance);
                }
                Kind::Set
            }
            (false, true) => {
                self.tell_of_a_setting(title, one, probes);
                Kind::Read
            }
            _ if aim.words => self.kind_of_words(title, one),
            (true, false) if probes => {
                self.miss(Meaning::Target, Why::NothingToSet);
                Kind::Set
            }
            (false, false) if probes => Kind::Read,
            _ => self.kind_of_words(title, one),
        }
    }

    /// Tells of a bare figure beside words that ask for something to be set or fed in and don't say
    /// to what.
    fn tell_of_a_setting(&mut self, title: &str, one: &Measured, probes: bool) {
        let figured = title.contains(|c: char| c.is_ascii_digit());
        let bare = one.aim.tolerance.is_none() && one.aim.unclear.is_none() && !figured;
        let asks = is_action(title) && (begins(title, &["set"]) || begins(title, APPLIES));
        if let Some(index) = one.column.filter(|_| bare && asks && !probes) {
            self.puzzle(index, Why::NoTolerance);
        }
    }

    /// What a row without any figure does: what its words leave no doubt of.
    pub(super) fn kind_of_words(&mut self, title: &str, one: &Measured) -> Kind {
        let notes = self.all(Meaning::Note);
        let text = match title.is_empty() {
            true => without_letter(self.in_words()),
            false => title,
        };
        if begins(text, LOOKS) && one.aim.tolerance.is_none() {
            return Kind::Inspect;
        }
        // A position alone is no instruction.
        let put = text
            .split_whitespace()
            .skip(1)
            .last()
            .is_some_and(|word| PUT.contains(&word.to_lowercase().as_str()));
        let doing = is_action(text) || puts_control(text) || (put && is_doing(text));
        let figures = |text: &&str| promises(text) && text.contains(|c: char| c.is_ascii_digit());
        let more =
            asks_for_more(&text.to_lowercase()) && text.contains(|c: char| c.is_ascii_digit());
        let asks = one.column.is_none() && (more || promises(text) || notes.iter().any(figures));
        // What is to be written down or looked up is no sign that all is well.
        let writes = one.column.is_some_and(|index| {
            begins(self.at(index), MEASURES) || begins(self.at(index), REFERS)
        });
        if doing && !asks && !writes {
            return Kind::Tick;
        }
        match (begins(text, MEASURES), one.column) {
            (_, Some(index)) => self.puzzle(index, Why::NoTarget),
            (measures, None) if measures || doing => self.miss(Meaning::Target, Why::NoReading),
            (_, None) => self.miss(Meaning::Title, Why::NothingToDo),
        }
        Kind::Tick
    }

    /// What the row repeats, where it says that and states nothing else; what it leaves out is told.
    pub(super) fn again(&mut self, one: &Measured) -> Option<Again> {
        if one.aim.tolerance.is_some() || one.aim.nominal.is_some() {
            return None;
        }
        let title = without_letter(self.cell(Meaning::Title));
        let notes = self.all(Meaning::Note).into_iter();
        let mut texts = [title].into_iter().chain(notes);
        let again = texts.find_map(|text| again_in(text, self.sign))?;
        if !again.ends {
            self.miss(Meaning::Title, Why::NoEnd);
        } else if again.repeat.until == UntilKind::Steady && again.repeat.change.is_empty() {
            self.miss(Meaning::Title, Why::NoChange);
        }
        self.repeats = Some(again.rows.clone());
        Some(again)
    }

    /// What a row without a title says instead: a note, or how to set things where that is an
    /// instruction.
    pub(super) fn in_words(&self) -> &'a str {
        let conditions = self.all(Meaning::Condition).into_iter();
        let mut texts = self
            .all(Meaning::Note)
            .into_iter()
            .chain(conditions.filter(|text| is_action(text) || puts_control(text)));
        texts.next().unwrap_or_default()
    }

    /// Tells of a second adjustment or reading in the words of a row that states its own limits.
    pub(super) fn tell_of_second_step(&mut self, measured: &[Measured]) {
        let limits = |one: &Measured| one.aim.tolerance.is_some() || one.aim.nominal.is_some();
        let (title, notes) = (self.find(Meaning::Title), self.all(Meaning::Note));
        if !self.held && measured.iter().any(limits) {
            let texts = [self.cell(Meaning::Title)].into_iter().chain(notes);
            if texts.into_iter().any(has_two_steps)
                && let Some(index) = title.or(self.find(Meaning::Note))
            {
                self.puzzle(index, Why::TwoSteps);
            }
        }
    }

    /// Whether work is to go on only when the row's reading is inside.
    pub(super) fn holds(&self) -> bool {
        let notes = self.all(Meaning::Note);
        let mut texts = [self.cell(Meaning::Title)].into_iter().chain(notes);
        texts.any(says_to_hold)
    }

    /// How many minutes the row waits, where its title or a note says so.
    pub(super) fn wait(&self) -> Option<u32> {
        let mut notes = self.all(Meaning::Note).into_iter();
        let words = match self.cell(Meaning::Title) {
            // Without a title a note is the step itself.
            "" => self.in_words(),
            title => title,
        };
        minutes_in(words).or_else(|| notes.find_map(minutes_before))
    }
}
