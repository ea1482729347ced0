//! A reading as a step.

use crate::authoring::draft::{ConfirmedBy, Draft, DraftStep, DraftTarget, typed, typed_target};
use crate::authoring::table::Unclear;
use crate::authoring::table::aim::Aim;
use crate::authoring::table::columns::says;
use crate::authoring::table::hints::only;
use crate::authoring::table::lex::has_word;
use crate::authoring::table::meaning::Meaning;
use crate::authoring::table::orders::hold::place_in;
use crate::authoring::table::phrases::{AC_METERS, EXTREMES, INSTRUMENTS};
use crate::authoring::table::row::roles::{instrument_for, role_of};
use crate::authoring::table::row::said::is_part_of_a_stage;
use crate::authoring::table::row::{Measured, Reader, one_line, shortened};
use crate::authoring::table::why::Why;
use crate::authoring::{Kind, TargetKind};
use crate::procedure::Target;
use crate::quantity::{Scale, Unit};

impl<'a> Reader<'a> {
    pub(super) fn target(&self, aim: &Aim) -> DraftTarget {
        match &aim.tolerance {
            Some(tolerance) => {
                let unit = aim.scale().map_or(Unit::VoltDc, |scale| scale.unit);
                typed_target(&Target::Fixed(tolerance.clone()), unit, self.sign)
            }
            None => DraftTarget::default(),
        }
    }

    pub(super) fn step(
        &mut self,
        set_up: &DraftStep,
        one: &Measured,
        adjusters: &[String],
        stated: Option<Kind>,
        draft: &Draft,
    ) -> DraftStep {
        let mut step = DraftStep {
            adjuster: adjusters.first().cloned().unwrap_or_default(),
            target: self.target(&one.aim),
            signal: one.set.signal.or(set_up.signal),
            ..set_up.clone()
        };
        for (of_heading, here) in [
            (&one.set.mode, &mut step.mode),
            (&one.set.channel, &mut step.channel),
        ] {
            if !of_heading.is_empty() {
                here.clone_from(of_heading);
            }
        }
        if step.at.is_empty() {
            step.at = self.place_beside(one);
        }
        if !one.set.point.is_empty() {
            step.at = self.point_of_heading(&step.at, &one.set.point);
        }
        if let Some(again) = self.again(one) {
            step.kind = Kind::Repeat;
            step.repeat = again.repeat;
            return step;
        }
        step.kind = self.kind(&step, one, stated);
        if step.kind == Kind::Stop && one.aim.tolerance.is_some() {
            step.confirmed_by = ConfirmedBy::Reading;
        }
        if step.kind == Kind::Set
            && step.target.kind == TargetKind::None
            && let Some(nominal) = &one.aim.nominal
        {
            step.target = DraftTarget {
                kind: TargetKind::Around,
                value: typed(nominal, self.sign),
                ..DraftTarget::default()
            };
        }
        if step.reads() {
            step.scale = self.scale(one);
            step.with = match step.with.is_empty() {
                true => instrument_for(draft, step.scale.unit),
                false => role_of(draft, &step.with),
            };
        }
        if step.kind == Kind::Stop {
            step.confirm = one_line(self.cell(Meaning::Title));
        }
        step
    }

    /// The test point that stands behind a limit, as in `3.3 V ±0.1 V at TP2`.
    fn place_beside(&self, one: &Measured) -> String {
        let cell = one.column.map_or("", |index| self.at(index));
        let place = place_in(cell).1.filter(|place| place.starts_with("TP"));
        place.unwrap_or_default()
    }

    /// The unit of the reading; where nothing states one, that is told.
    pub(super) fn scale(&mut self, one: &Measured) -> Scale {
        one.aim
            .scale()
            .or(one.due)
            .or(self.unstated)
            .or_else(|| self.unit_of_extreme(one))
            .unwrap_or_else(|| {
                let told = |told: &Unclear| matches!(told.why, Why::UnknownUnit | Why::NoUnit(_));
                if one.aim.unclear.is_none() && !self.unclear.iter().any(told) {
                    self.miss(Meaning::Unit, Why::NoUnitAtAll);
                }
                Scale::plain(Unit::VoltDc)
            })
    }

    /// The unit of a largest or smallest reading that the words name, as `audio voltage maximum`.
    pub(super) fn unit_of_extreme(&self, one: &Measured) -> Option<Scale> {
        one.aim.extreme?;
        let hints = one
            .column
            .map(|index| self.hints(index))
            .unwrap_or_default();
        let words = match self.cell(Meaning::Title) {
            "" => self.in_words(),
            title => title,
        };
        let said = one.column.map_or(words, |index| self.at(index));
        let mut with = self.all(Meaning::Condition);
        with.extend(self.all(Meaning::Instrument));
        let with = with.join(" ").to_lowercase();
        let named = only(EXTREMES, &said.to_lowercase()).or_else(|| only(INSTRUMENTS, &with));
        let alternates = hints.alternates || AC_METERS.iter().any(|meter| has_word(&with, meter));
        let unit = match named? {
            Unit::VoltDc if alternates => hints.volts.unwrap_or(Unit::VoltRms),
            unit => unit,
        };
        Some(Scale::plain(unit))
    }

    /// Keeps in the text what has no place of its own in the step.
    pub(super) fn keep_the_rest(&mut self, steps: &[DraftStep]) {
        let number = self.find(Meaning::Number);
        if let Some(index) =
            number.filter(|_| self.cell(Meaning::Number) != self.number.to_string())
        {
            self.keep(index);
        }
        let reads = steps.iter().any(|step| step.reads());
        let turns = steps.iter().any(|step| step.kind.turns());
        for (meaning, placed) in [
            (Meaning::Instrument, reads),
            (Meaning::Point, reads),
            (Meaning::Adjuster, turns),
        ] {
            if let Some(index) = self.find(meaning).filter(|_| !placed) {
                self.keep(index);
            }
        }
        // A second column of what a step has one of.
        for index in 0..self.columns.len() {
            let meaning = self.columns[index].meaning;
            let is_second = meaning.is_some_and(|meaning| {
                let one = [Meaning::Point, Meaning::Instrument, Meaning::Adjuster];
                one.contains(&meaning) && self.find(meaning) != Some(index)
            });
            if is_second && says(self.at(index)) {
                self.keep(index);
            }
        }
        // Cells beyond those that limit something.
        let nominal = self.find(Meaning::Nominal);
        if let Some(index) = nominal.filter(|_| self.find(Meaning::Target).is_some()) {
            self.keep(index);
        }
    }

    /// The pasted title, or else one that says what is done.
    pub(super) fn named(&mut self, mut step: DraftStep, one: &Measured) -> DraftStep {
        let pasted = self.cell(Meaning::Title);
        let mut title = shortened(pasted);
        if title != one_line(pasted) && !self.kept.iter().any(|kept| kept == pasted) {
            self.kept.insert(0, pasted.to_owned());
        }
        if title.is_empty() {
            title = match self.in_words() {
                words if !words.is_empty() && !step.reads() => shortened(words),
                _ => described(&step),
            };
        }
        let point = one_line(self.cell(Meaning::Point));
        if is_part_of_a_stage(&point) && !pasted.is_empty() {
            title = shortened(&format!("{title}, {point}"));
        }
        // Another row may have another reading alone.
        if !one.name.is_empty() {
            title = shortened(&format!("{title}: {}", one.name));
        }
        step.title = title;
        step
    }
}

/// What a step does, in a few words.
fn described(step: &DraftStep) -> String {
    let named = |word: &str, name: &str| match name {
        "" => String::new(),
        name => format!(" {word}{name}"),
    };
    let turned = match step.kind.turns() {
        true => named("", &step.adjuster),
        false => String::new(),
    };
    let kind = match step.kind {
        Kind::Set => "Set",
        Kind::Tick => "To do",
        kind => kind.name(),
    };
    format!("{kind}{turned}{}", named("at ", &step.at))
}

/// A step for one of several adjusters.
pub(super) fn with_adjuster(step: &DraftStep, name: &str) -> DraftStep {
    DraftStep {
        title: match step.title.contains(name) {
            true => step.title.clone(),
            false => format!("{}: {name}", step.title),
        },
        adjuster: name.to_owned(),
        ..step.clone()
    }
}
