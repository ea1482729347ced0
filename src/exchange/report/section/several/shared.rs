//! What all readings of a section have in common: it stands once above them, and each row says
//! what is its own.

use crate::exchange::report::words;
use crate::job::{Read, StepProgress};
use crate::procedure::{Gauge, Id, Step};
use crate::quantity::DecimalSign;

/// What the set-up states: the name of a line and what it is set to.
pub(in crate::exchange::report) type Condition = (String, String);

/// The conditions of a step.
pub(in crate::exchange::report) fn conditions_of(step: &Step) -> Vec<Condition> {
    let lines = step.set_up.lines().into_iter();
    lines.map(|(name, to)| (name.to_owned(), to)).collect()
}

/// Of fewer rows than this, one that differs is no exception.
const FEW: usize = 4;

/// What is said once above the rows of a table.
pub(in crate::exchange::report) struct Shared {
    /// The conditions that all rows state.
    all: Vec<Condition>,
    /// Those that all rows state but this step's, which shares most with the others.
    but: Option<(usize, Vec<Condition>)>,
    /// Why what an instrument indicated was corrected, where that is one thing in all rows.
    corrections: Vec<(Id, String)>,
}

impl Shared {
    /// Of the readings that have a row each.
    pub(in crate::exchange::report) fn of(
        read: &[(&Step, &Gauge, &StepProgress)],
        sign: DecimalSign,
    ) -> Self {
        let stated: Vec<(usize, Vec<Condition>)> = read
            .iter()
            .map(|(step, _, standing)| (standing.number, conditions_of(step)))
            .collect();
        let all = match stated.as_slice() {
            // It states its own.
            [] | [_] => Vec::new(),
            [(_, first), ..] => first
                .iter()
                .filter(|line| lacking(&stated, line).next().is_none())
                .cloned()
                .collect(),
        };
        Shared {
            all,
            but: all_but_one(&stated),
            corrections: corrections(read, sign),
        }
    }

    /// All of it in words, behind the title of the table.
    pub(in crate::exchange::report) fn words(&self) -> String {
        let all = (!self.all.is_empty()).then(|| words::all_with(&words::conditions(&self.all)));
        let but = self.but.as_ref();
        let but = but.map(|(step, lines)| words::all_but(*step, &words::conditions(lines)));
        let corrected = self.corrections.iter();
        let corrected = corrected.map(|(role, why)| words::corrected(role.as_str(), why));
        let said: Vec<String> = all.into_iter().chain(but).chain(corrected).collect();
        match said.is_empty() {
            true => String::new(),
            false => words::table_of_readings(&said),
        }
    }

    /// The conditions that are left for the row of a step to say.
    pub(in crate::exchange::report) fn left_to(
        &self,
        number: usize,
        step: &Step,
    ) -> Vec<Condition> {
        let but = self.but.as_ref().filter(|(except, _)| *except != number);
        let but = but.map_or(&[][..], |(_, lines)| lines);
        let own = conditions_of(step).into_iter();
        own.filter(|line| !self.all.contains(line) && !but.contains(line))
            .collect()
    }

    /// Why what the instrument in a role indicated was corrected, where that is said above.
    pub(in crate::exchange::report) fn correction_of(&self, role: &Id) -> Option<&str> {
        let mut known = self.corrections.iter();
        let known = known.find(|(of, _)| of == role);
        known.map(|(_, why)| why.as_str())
    }
}

/// The steps that don't state a condition.
fn lacking<'a>(
    stated: &'a [(usize, Vec<Condition>)],
    line: &'a Condition,
) -> impl Iterator<Item = usize> {
    let lacks = move |(_, lines): &&(usize, Vec<Condition>)| !lines.contains(line);
    stated.iter().filter(lacks).map(|(number, _)| *number)
}

/// The one step without which the others have most conditions more in common, and these.
fn all_but_one(stated: &[(usize, Vec<Condition>)]) -> Option<(usize, Vec<Condition>)> {
    if stated.len() < FEW {
        return None;
    }
    let lines_without = |except: usize| -> Vec<Condition> {
        let others = stated.iter().find(|(number, _)| *number != except);
        let lines = others.map_or(&[][..], |(_, lines)| lines);
        let is_of_all_others = |line: &&Condition| lacking(stated, line).eq([except]);
        lines.iter().filter(is_of_all_others).cloned().collect()
    };
    let each = stated
        .iter()
        .map(|(number, _)| (*number, lines_without(*number)));
    let most = each.rev().max_by_key(|(_, lines)| lines.len())?;
    Some(most).filter(|(_, lines)| !lines.is_empty())
}

/// Why results were corrected, by the instrument's role, where that is one and the same in
/// several rows.
fn corrections(read: &[(&Step, &Gauge, &StepProgress)], sign: DecimalSign) -> Vec<(Id, String)> {
    let mut roles: Vec<&Id> = Vec::new();
    for (_, gauge, _) in read {
        if !roles.contains(&&gauge.with) {
            roles.push(&gauge.with);
        }
    }
    let in_role = |role: &Id| {
        let of_role = read.iter().filter(|(_, gauge, _)| gauge.with == *role);
        let whys = of_role.flat_map(|(.., standing)| {
            let groups = [&standing.found, &standing.left].into_iter().flatten();
            let whys = groups.filter_map(|group| Read::indicated_and_why(&group.readings, sign));
            whys.map(|(_, why)| (standing.number, why))
        });
        let whys: Vec<(usize, String)> = whys.collect();
        let ((number, why), others) = whys.split_first()?;
        let is_one = others.iter().all(|(_, other)| other == why);
        let is_of_several = others.iter().any(|(other, _)| other != number);
        (is_one && is_of_several && !why.is_empty()).then(|| (role.clone(), why.clone()))
    };
    roles.into_iter().filter_map(in_role).collect()
}
