//! What limits rest on: published ones with their clauses, and those that steps state themselves.

use crate::exchange::report::section::sections::{step_cell, steps};
use crate::exchange::report::sheet::Source;
use crate::exchange::report::text::typed;
use crate::exchange::report::{Cell, Section, Table, words};
use crate::job::StepProgress;
use crate::procedure::{Basis, Step, Target, cited};
use crate::radio::limits::{Bound, NOTICE};

/// The steps that were read: no limit of another was applied to anything.
fn read<'a>(source: &'a Source) -> impl Iterator<Item = (&'a Step, &'a StepProgress)> {
    steps(source).filter(|(_, it)| !it.readings.is_empty() || !it.pins.is_empty())
}

/// What the limits that steps state themselves rest on, each basis once.
pub fn bases(source: &Source) -> Option<Section> {
    let mut found: Vec<(Basis, Vec<usize>)> = Vec::new();
    let mut silent: Vec<usize> = Vec::new();
    for (step, standing) in read(source) {
        if matches!(step.work.target(), Some(Target::Limit { .. })) {
            continue;
        }
        let number = standing.number;
        let Some(basis) = step.basis() else {
            if step.work.target().is_some() {
                silent.push(number);
            }
            continue;
        };
        match found.iter_mut().find(|(known, _)| *known == basis) {
            Some((_, numbers)) => numbers.push(number),
            None => found.push((basis, vec![number])),
        }
    }
    // Where no limit says it, the sheet has no word on it.
    let silent = Some(silent).filter(|numbers| !found.is_empty() && !numbers.is_empty());
    let silent = silent.map(|numbers| (words::NOT_STATED.to_owned(), numbers));
    let said = found.into_iter();
    let said = said.map(|(basis, numbers)| (typed(&words::basis(&basis)), numbers));
    let rows = said
        .chain(silent)
        .map(|(basis, numbers)| vec![Cell::of(basis), Cell::of(words::numbers(&numbers))]);
    let table = Table::new("plain", &[words::BASIS, words::STEPS]).with_rows(rows);
    Section::of_table(words::BASES, table)
}

/// Published limits that steps cite, with the notice about local rules.
pub fn limits(source: &Source) -> Option<Section> {
    let sign = source.look.sign;
    let rows = read(source).filter_map(|(step, standing)| {
        let Target::Limit { set, limit, .. } = step.work.target()? else {
            return None;
        };
        let (title, limit) = cited(set, limit).ok()?;
        let bound = match &limit.bound {
            Bound::WithinPpm(ppm) => format!("± {}\u{a0}ppm", ppm.typeset(sign)),
            Bound::Within(distance) => format!("± {}", distance.typeset(sign)),
            Bound::AtMost(most) => format!("≤ {}", most.typeset(sign)),
            Bound::Between(low, high) => {
                format!("{} – {}", low.typeset(sign), high.typeset(sign))
            }
            by_power @ (Bound::BelowPower(_) | Bound::BelowPowerUpTo(..)) => {
                by_power.by_power(sign).unwrap_or_default()
            }
        };
        Some(vec![
            step_cell(step, standing).with(source.look.spelling.write(&limit.what)),
            Cell::of(bound),
            Cell::of(format!("{title}, {}", limit.clause)),
            Cell::of(words::known(limit.known)),
        ])
    });
    let columns = [words::STEP, words::LIMIT, words::SOURCE, words::KNOWN];
    let table = Table::new("plain", &columns).with_rows(rows);
    Section::of_table(words::LIMITS, table).map(|section| Section {
        lead: vec![source.look.spelling.write(NOTICE)],
        ..section
    })
}
