//! What all steps of a row have in common: how the set and the generator stand, where it is read,
//! with what, and what is turned.

use crate::authoring::draft::DraftStep;
use crate::authoring::table::meaning::Meaning;
use crate::authoring::table::phrases::{SIGNALS, VERIFIES};
use crate::authoring::table::row::said::among;
use crate::authoring::table::row::said::is_part_of_a_stage;
use crate::authoring::table::row::{Reader, one_line};
use crate::authoring::table::why::Why;
use crate::procedure::{Id, Setting, Signal};

impl<'a> Reader<'a> {
    /// What all steps of the row have in common.
    pub(super) fn set_up(&mut self, blank: &DraftStep) -> DraftStep {
        let conditions = self
            .columns_of(Meaning::Condition)
            .filter(|(.., cell)| !cell.is_empty());
        let controls: Vec<String> = conditions
            .map(|(_, column, cell)| {
                format!("{}: {}", column.heading.replace(':', " "), one_line(cell))
            })
            .map(|line| one_line(&line))
            .collect();
        DraftStep {
            at: self.point(),
            with: self.name(Meaning::Instrument),
            mode: one_line(self.cell(Meaning::Mode)),
            channel: one_line(self.cell(Meaning::Channel)),
            supply: one_line(self.cell(Meaning::Supply)),
            settings: Setting::ALL
                .into_iter()
                .filter_map(|setting| Some((setting, self.setting(setting)?)))
                .collect(),
            signal: self.signal(),
            cautions: self.all(Meaning::Caution).join("\n"),
            controls: controls.join("\n"),
            ..blank.clone()
        }
    }

    /// What a column of its own says of a setting, with the unit of its heading.
    pub(super) fn setting(&self, setting: Setting) -> Option<String> {
        let index = self.find(Meaning::Set(setting));
        let cell = one_line(self.said(index));
        (!cell.is_empty()).then(|| self.with_unit_of(index, &cell))
    }

    /// The test point. An electrode or a pin has its name from the stage that it belongs to.
    pub(super) fn point(&mut self) -> String {
        let point = self.name(Meaning::Point);
        let stage = one_line(self.cell(Meaning::Title));
        let whole = format!("{stage} {point}");
        match is_part_of_a_stage(&point) && !stage.is_empty() && whole.parse::<Id>().is_ok() {
            true => whole,
            false => point,
        }
    }

    /// The point that a heading names, at what the row's own cells name.
    pub(super) fn point_of_heading(&self, own: &str, point: &str) -> String {
        let stage = one_line(self.cell(Meaning::Title));
        let part = if own.is_empty() { stage.as_str() } else { own };
        let whole = format!("{part} {point}");
        match whole.trim().parse::<Id>() {
            Ok(_) => whole.trim().to_owned(),
            Err(_) => point.to_owned(),
        }
    }

    pub(super) fn name(&mut self, meaning: Meaning) -> String {
        let index = self.find(meaning);
        let name = one_line(self.said(index));
        match (name.parse::<Id>(), index) {
            (Err(error), Some(index)) if !name.is_empty() => {
                self.puzzle(index, Why::Name(error));
                String::new()
            }
            _ => name,
        }
    }

    /// The adjusters that the row's words name; one alone where they can't be turned one by one.
    pub(super) fn one_unless(&mut self, extreme: bool, mut names: Vec<String>) -> Vec<String> {
        if names.len() > 1 && !extreme {
            self.miss(Meaning::Adjuster, Why::OneAdjuster(names[0].clone()));
            names.truncate(1);
        }
        names
    }

    pub(super) fn signal(&mut self) -> Option<Signal> {
        self.known(Meaning::Signal, Why::Signal, |cell| among(SIGNALS, cell))
    }

    /// The adjusters of the row. Only for a peak or a dip can they be turned one by one.
    pub(super) fn adjusters(&mut self, extreme: bool) -> Vec<String> {
        let index = self.find(Meaning::Adjuster);
        // Where others turn something, this row only looks.
        if VERIFIES.contains(&self.said(index).to_lowercase().as_str()) {
            return Vec::new();
        }
        let mut names = designators(self.said(index));
        if names.len() < 2 {
            let name = self.name(Meaning::Adjuster);
            return Vec::from_iter(Some(name).filter(|name| !name.is_empty()));
        }
        if let Some(index) = index
            && !extreme
        {
            self.puzzle(index, Why::OneAdjuster(names[0].clone()));
            names.truncate(1);
        }
        names
    }
}

/// The designators in a cell that holds nothing else, such as `L4, L5` or `T1/T2`.
pub fn designators(cell: &str) -> Vec<String> {
    let apart = |c: char| c.is_whitespace() || matches!(c, ',' | ';' | '/' | '&' | '+');
    let parts = cell
        .split(apart)
        .filter(|part| !part.is_empty() && *part != "and");
    let is_one = |part: &&str| {
        let digits = part.trim_start_matches(|c: char| c.is_ascii_uppercase());
        digits.len() < part.len()
            && (1..=4).contains(&digits.len())
            && digits.starts_with(|c: char| c.is_ascii_digit())
            && digits.chars().all(|c| c.is_ascii_alphanumeric())
    };
    let parts: Vec<&str> = parts.collect();
    match parts.iter().all(is_one) {
        true => parts.into_iter().map(str::to_owned).collect(),
        false => Vec::new(),
    }
}
