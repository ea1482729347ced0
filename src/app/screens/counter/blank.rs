//! The details of a job before it is begun.

use crate::app::platform::device;
use crate::app::shell::bench::Bench;
use crate::job::{Charge, Header, Preferences, UsedInstrument};
use crate::metrology::instrument::Instrument;
use crate::procedure::{Id, Procedure};
use crate::quantity::Number;
use leptos::prelude::*;
use std::collections::HashSet;

/// Where the form keeps what was typed until the job is started.
pub(super) const FORM: &str = "new:header";

/// Whether something of a set was typed.
pub(super) fn is_begun(header: &Header) -> bool {
    let typed = [&header.owner, &header.fault, &header.condition];
    !header.set.title().is_empty() || typed.iter().any(|text| !text.is_empty())
}

/// Begins an intake with a serial number, unless another one is half typed.
pub fn with_serial(bench: Bench, serial: &str) -> bool {
    let kept = serde_json::from_str::<Header>(&bench.form(FORM)).ok();
    if kept.as_ref().is_some_and(is_begun) {
        return false;
    }
    let mut header = blank(bench, &Procedure::none());
    header.set.serial = serial.to_owned();
    let text = serde_json::to_string(&header);
    bench.keep_form(FORM, &text.unwrap_or_default());
    true
}

/// A header with what is known already: who works here, a number that is free, and the
/// instruments of the kit that play a role alone.
pub(super) fn blank(bench: Bench, procedure: &Procedure) -> Header {
    let date = device::iso_date();
    let number = bench.lines.with_untracked(|lines| {
        let taken: HashSet<&str> = lines.iter().map(|line| line.number.as_str()).collect();
        (1..)
            .map(|n| format!("{date}-{n}"))
            .find(|number| !taken.contains(number.as_str()))
    });
    let roles = procedure.instruments.iter().map(|wanted| &wanted.role);
    let instruments = alone(&bench.kit(), roles);
    Header {
        number: number.unwrap_or(date),
        instruments,
        technician: bench.preferences.with_untracked(|p| p.technician.clone()),
        charge: Charge {
            rate: bench.preferences.with_untracked(rate),
            ..Charge::default()
        },
        ..Header::default()
    }
}

/// What an hour costs here, where money is spoken of at all.
fn rate(preferences: &Preferences) -> Option<Number> {
    let is_asked = !preferences.currency.is_empty();
    preferences.rate.clone().filter(|_| is_asked)
}

/// The instruments of the kit that play one of the roles alone.
pub fn alone<'a>(kit: &[Instrument], roles: impl Iterator<Item = &'a Id>) -> Vec<UsedInstrument> {
    let of = |role: &Id| {
        let mut fitting = kit.iter().filter(|i| i.role == role.as_str());
        let first = fitting.next();
        first.filter(|_| fitting.next().is_none())
    };
    let used = roles.filter_map(|role| {
        let record = of(role)?;
        Some(UsedInstrument {
            role: role.clone(),
            name: record.name.clone(),
            record: Some(record.clone()),
        })
    });
    used.collect()
}
