//! Time and parts, for who wants them on the sheet: off until they are switched on.

use super::text::balanced;
use super::{Cell, Part, Section, Source, Table, words};
use crate::job::{BREAK_AFTER, Deed, Job};
use crate::quantity::Number;
use bigdecimal::BigDecimal;

const MINUTE: i64 = 60_000;

/// Time by section and parts with prices, as far as they are asked for and there are any.
pub(super) fn section(source: &Source) -> Option<Section> {
    let time = source.look.time.then(|| time(source));
    let prices = !source.look.currency.trim().is_empty();
    let parts = prices.then(|| parts(source));
    let tables: Vec<Part> = [time, parts]
        .into_iter()
        .flatten()
        .filter(|table| table.rows.len() > 1)
        .map(Part::Table)
        .collect();
    let timed = source.look.time;
    (!tables.is_empty()).then(|| Section {
        lead: timed
            .then(|| words::TIME_KEY.to_owned())
            .into_iter()
            .collect(),
        parts: tables,
        ..Section::new(words::COST)
    })
}

/// Milliseconds of work by section of the procedure; the last is for what belongs to no step.
/// The time up to an entry belongs to what it is about. What follows a break, and gaps so long
/// that they are one, don't count; nor does a clock that was set back.
pub fn worked(job: &Job) -> Vec<i64> {
    let course = job.course();
    let sections = &course.procedure.sections;
    let mut spent = vec![0; sections.len() + 1];
    let events: Vec<_> = job.log.events().collect();
    let mut latest = i64::MIN;
    for pair in events.windows(2) {
        latest = latest.max(pair[0].at);
        // What was read before there was the job stands behind what it was read before: time that
        // was counted is not counted once more.
        let since = match pair[1].at > latest {
            true => latest,
            false => pair[0].at,
        };
        let gap = pair[1].at.saturating_sub(since);
        let away = matches!(pair[0].did, Deed::Paused);
        if away || !(0..=BREAK_AFTER).contains(&gap) {
            continue;
        }
        let about = pair[1].did.step();
        let index = about.and_then(|id| {
            let holds = |section: &crate::procedure::Section| {
                section.steps.iter().any(|step| step.id == *id)
            };
            sections.iter().position(holds)
        });
        spent[index.unwrap_or(sections.len())] += gap;
    }
    spent
}

fn time(source: &Source) -> Table {
    let spent = worked(source.job);
    let total: i64 = spent.iter().sum();
    let sections = source.progress.course.procedure.sections.iter();
    let titles = sections.map(|section| source.title_of(section));
    let titles = titles.chain([words::NO_SECTION.to_owned()]);
    let shown = |title: String, time: i64| {
        vec![
            Cell::of(title),
            Cell::of(words::minutes((time + MINUTE / 2) / MINUTE)),
        ]
    };
    let rows = titles
        .zip(spent)
        .filter(|(_, time)| *time > 0)
        .map(|(title, time)| shown(title, time));
    let sum = shown(words::TOTAL.to_owned(), total);
    let sum = sum.into_iter().map(|cell| cell.strong_if(true)).collect();
    let columns = [words::SECTION, words::MINUTES];
    Table::new("sums", &columns).with_rows(rows.chain([sum]))
}

/// The sum of all prices, exact.
pub fn total(job: &Job) -> Number {
    let progress = job.progress();
    let prices = progress
        .changes
        .iter()
        .filter_map(|c| c.change.price.as_ref());
    let sum = prices.map(Number::decimal).sum::<BigDecimal>();
    Number::from_decimal(sum)
}

fn parts(source: &Source) -> Table {
    let sign = source.look.sign;
    let currency = balanced(source.look.currency.trim());
    let amount = |number: &Number| format!("{}\u{a0}{currency}", number.typeset(sign));
    let changes = &source.progress.changes;
    let rows = changes.iter().map(|changed| {
        let price = changed.change.price.as_ref().map(amount);
        vec![
            Cell::of(words::swapped(&changed.change.out, &changed.change.fitted)),
            Cell::of(price.unwrap_or_else(|| words::NO_PRICE.to_owned())),
        ]
    });
    let sum = vec![
        Cell::of(words::TOTAL).strong_if(true),
        Cell::of(amount(&total(source.job))).strong_if(true),
    ];
    let columns = [words::WHAT, words::PRICE];
    Table::new("sums", &columns).with_rows(rows.chain([sum]))
}
