//! A frequency plan as typed.

use crate::authoring::draft::written::{DraftMode, DraftPlan, DraftTerm};
use crate::authoring::draft::{lines, typed};
use crate::quantity::{DecimalSign, Prefix, Quantity, Scale, Unit, read};
use crate::radio::plan::{Factor, Mode, Plan, Target, Term};
use std::collections::BTreeMap;

impl DraftTerm {
    /// An oscillator that counts once and follows the channel.
    pub fn named(oscillator: &str) -> Self {
        DraftTerm {
            oscillator: oscillator.to_owned(),
            factor: "1".to_owned(),
            ..DraftTerm::default()
        }
    }

    fn of(term: &Term, mode: &Mode, sign: DecimalSign) -> Self {
        let injection = mode
            .injection
            .iter()
            .find(|part| part.oscillator == term.oscillator);
        DraftTerm {
            oscillator: term.oscillator.clone(),
            factor: term.factor.to_string(),
            frequency: match &term.target {
                Target::Fixed(quantity) => typed(quantity, sign),
                Target::FollowsChannel => String::new(),
                Target::PerChannel(table) => {
                    let line = |(channel, quantity): (&String, &Quantity)| {
                        format!("{channel}: {}", typed(quantity, sign))
                    };
                    table.iter().map(line).collect::<Vec<_>>().join("\n")
                }
            },
            adjuster: term.adjuster.clone(),
            injection: injection.map_or(String::new(), |part| part.factor.to_string()),
        }
    }

    fn target(&self, sign: DecimalSign) -> Result<Target, String> {
        const MEGAHERTZ: Scale = Scale::new(Prefix::Mega, Unit::Hertz);
        let frequency = |text: &str| {
            read(text, MEGAHERTZ, sign).map_err(|error| format!("{}: {error}", self.oscillator))
        };
        let text = self.frequency.trim();
        if text.is_empty() {
            return Ok(Target::FollowsChannel);
        }
        if !text.contains(':') {
            return frequency(text).map(Target::Fixed);
        }
        let mut table = BTreeMap::new();
        for line in lines(text) {
            let (channel, quantity) = line.split_once(':').ok_or_else(|| {
                format!(
                    "{}: “{line}” should read like “19: 11.2 MHz”",
                    self.oscillator
                )
            })?;
            table.insert(channel.trim().to_owned(), frequency(quantity)?);
        }
        Ok(Target::PerChannel(table))
    }

    fn whole(&self, text: &str, what: &str) -> Result<i32, String> {
        // A minus as keyboards on tablets offer it counts too.
        let plain = text.trim().replace('\u{2212}', "-");
        plain.parse().map_err(|_| {
            format!(
                "{}: the {what} “{text}” is no whole number",
                self.oscillator
            )
        })
    }

    fn read(&self, sign: DecimalSign) -> Result<Term, String> {
        if self.oscillator.trim().is_empty() {
            return Err("an oscillator has no name: give it one".to_owned());
        }
        let factor = self.whole(&self.factor, "factor")?;
        if factor == 0 {
            return Err(format!("{}: a factor of 0 adds nothing", self.oscillator));
        }
        Ok(Term {
            oscillator: self.oscillator.trim().to_owned(),
            factor,
            target: self.target(sign)?,
            adjuster: self.adjuster.trim().to_owned(),
        })
    }

    fn part_of_injection(&self) -> Result<Option<Factor>, String> {
        if self.injection.trim().is_empty() {
            return Ok(None);
        }
        let factor = self.whole(&self.injection, "factor in the injection")?;
        Ok(Some(Factor {
            oscillator: self.oscillator.trim().to_owned(),
            factor,
        }))
    }
}

impl DraftMode {
    fn read(&self, sign: DecimalSign) -> Result<Mode, String> {
        let place = |error: String| format!("In the plan’s {}, {error}", self.name.trim());
        if self.name.trim().is_empty() {
            return Err("A mode of the plan has no name: give it one".to_owned());
        }
        let terms = self.terms.iter().map(|term| term.read(sign));
        let terms: Vec<Term> = terms.collect::<Result<_, _>>().map_err(place)?;
        let parts = self.terms.iter().map(DraftTerm::part_of_injection);
        let parts: Vec<Option<Factor>> = parts.collect::<Result<_, _>>().map_err(place)?;
        let others = self.other_injection.iter().cloned();
        Ok(Mode {
            name: self.name.trim().to_owned(),
            terms,
            injection: parts.into_iter().flatten().chain(others).collect(),
        })
    }
}

impl DraftPlan {
    /// A plan as it would be typed.
    pub fn of(plan: &Plan, sign: DecimalSign) -> Self {
        let mode = |mode: &Mode| DraftMode {
            name: mode.name.clone(),
            terms: mode
                .terms
                .iter()
                .map(|term| DraftTerm::of(term, mode, sign))
                .collect(),
            other_injection: mode
                .injection
                .iter()
                .filter(|part| mode.terms.iter().all(|t| t.oscillator != part.oscillator))
                .cloned()
                .collect(),
        };
        DraftPlan {
            name: plan.name.clone(),
            modes: plan.modes.iter().map(mode).collect(),
        }
    }

    /// The plan with the modes that can be read, and what can't be read of it.
    pub fn read(&self, sign: DecimalSign) -> (Plan, Vec<String>) {
        let (mut modes, mut unread) = (Vec::new(), Vec::new());
        for mode in &self.modes {
            match mode.read(sign) {
                Ok(mode) => modes.push(mode),
                Err(sentence) => unread.push(sentence),
            }
        }
        let name = self.name.trim().to_owned();
        (Plan { name, modes }, unread)
    }

    /// The names of the oscillators, each once, in order.
    pub fn oscillators(&self) -> Vec<String> {
        let mut names = Vec::new();
        for term in self.modes.iter().flat_map(|mode| &mode.terms) {
            let name = term.oscillator.trim();
            if !name.is_empty() && !names.iter().any(|known| known == name) {
                names.push(name.to_owned());
            }
        }
        names
    }
}
