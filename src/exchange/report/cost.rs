//! Time and parts, for who wants them on the sheet: off until they are switched on.

use super::text::balanced;
use crate::exchange::report::sheet::Source;
use crate::exchange::report::{Cell, Part, Section, Table, words};
use crate::job::{BREAK_AFTER, Deed, Job, Progress};
use crate::quantity::Number;
use bigdecimal::{BigDecimal, RoundingMode};

const MINUTE: i64 = 60_000;

/// Time by section, parts with prices and what both come to, as far as they are asked for and
/// there are any.
pub(super) fn section(source: &Source) -> Option<Section> {
    let time = source.look.time.then(|| time(source));
    let prices = !source.look.currency.trim().is_empty();
    let parts = prices.then(|| parts(source));
    let sums = prices.then(|| sums(source)).flatten();
    let is_of_some = |table: &Table| table.rows.len() > 1;
    let tables: Vec<Part> = [time, parts]
        .into_iter()
        .flatten()
        .filter(is_of_some)
        .chain(sums)
        .map(Part::Table)
        .collect();
    let by_the_log = |labour: Labour| !labour.is_typed;
    let labour = labour(source.job, source.progress).filter(|_| prices);
    let timed = source.look.time || labour.is_some_and(by_the_log);
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

/// The same in whole minutes, so shared out that they come to the whole minutes of all of it.
pub fn minutes(spent: &[i64]) -> Vec<i64> {
    let total = rounded(spent.iter().sum());
    let mut minutes: Vec<i64> = spent.iter().map(|time| time / MINUTE).collect();
    let short = total - minutes.iter().sum::<i64>();
    let mut rest: Vec<usize> = (0..spent.len()).collect();
    rest.sort_by_key(|&index| std::cmp::Reverse(spent[index] % MINUTE));
    for index in rest.into_iter().take(usize::try_from(short).unwrap_or(0)) {
        minutes[index] += 1;
    }
    minutes
}

const fn rounded(time: i64) -> i64 {
    (time + MINUTE / 2) / MINUTE
}

fn time(source: &Source) -> Table {
    let spent = minutes(&worked(source.job));
    let total: i64 = spent.iter().sum();
    let sections = source.progress.course.procedure.sections.iter();
    let titles = sections.map(|section| source.title_of(section));
    let titles = titles.chain([words::NO_SECTION.to_owned()]);
    let shown = |title: String, time: i64| vec![Cell::of(title), Cell::of(words::minutes(time))];
    let rows = titles
        .zip(spent)
        .filter(|(_, time)| *time > 0)
        .map(|(title, time)| shown(title, time));
    let sum = shown(words::ALL_TIME.to_owned(), total);
    let sum = sum.into_iter().map(|cell| cell.strong_if(true)).collect();
    let columns = [words::SECTION, words::MINUTES];
    Table::new("sums", &columns).with_rows(rows.chain([sum]))
}

/// The sum of all prices, exact.
pub fn total(job: &Job) -> Number {
    sum_of_parts(&job.progress())
}

fn sum_of_parts(progress: &Progress) -> Number {
    let prices = progress
        .changes
        .iter()
        .filter_map(|c| c.change.price.as_ref());
    let sum = prices.map(Number::decimal).sum::<BigDecimal>();
    Number::from_decimal(sum)
}

/// What the work comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Labour {
    /// How long it took.
    pub minutes: i64,
    /// Whether that was typed, and not counted from the log.
    pub is_typed: bool,
    /// What an hour costs.
    pub rate: Number,
    /// What that comes to.
    pub price: Number,
}

/// What the work comes to, where it is known what an hour costs: the minutes that the sheet
/// states, so that a reader comes to the same. No fraction of a hundredth is asked for.
pub fn labour(job: &Job, progress: &Progress) -> Option<Labour> {
    let charge = &progress.header.charge;
    let rate = charge.rate.clone()?;
    let minutes = charge
        .minutes
        .map_or_else(|| rounded(worked(job).iter().sum()), i64::from);
    let exact = rate.decimal() * BigDecimal::from(minutes) / BigDecimal::from(60);
    let price = exact.with_scale_round(2, RoundingMode::HalfUp);
    let places = rate.decimals().clamp(0, 2);
    let price = shortest(price, places);
    Some(Labour {
        minutes,
        is_typed: charge.minutes.is_some(),
        rate,
        price,
    })
}

/// Without the zeros at the end, but for so many places.
fn shortest(price: BigDecimal, places: i64) -> Number {
    let kept = price.normalized().fractional_digit_count().max(places);
    Number::from_decimal(price.with_scale(kept))
}

/// What parts and work come to, what that is made of, and what was agreed.
fn sums(source: &Source) -> Option<Table> {
    let progress = source.progress;
    let charge = &progress.header.charge;
    let labour = labour(source.job, progress);
    let amount = amount(source);
    let parts = sum_of_parts(progress);
    let has_priced = progress.changes.iter().any(|it| it.change.price.is_some());
    let row = |what: String, price: &Number| vec![Cell::of(what), Cell::of(amount(price))];
    let mut rows = Vec::new();
    if let Some(labour) = &labour {
        let said = words::labour(labour.minutes, labour.is_typed, &amount(&labour.rate));
        rows.push(row(said, &labour.price));
        if has_priced {
            rows.push(row(words::ALL_PARTS.to_owned(), &parts));
            let sum = parts.decimal() + labour.price.decimal();
            let name = match has_unpriced(progress) {
                true => words::TOTAL_PRICED,
                false => words::TOTAL,
            };
            let sum = row(name.to_owned(), &Number::from_decimal(sum));
            rows.push(sum.into_iter().map(|cell| cell.strong_if(true)).collect());
        }
    }
    if let Some(agreed) = &charge.agreed {
        rows.push(row(words::AGREED_PRICE.to_owned(), agreed));
    }
    let columns = [words::WHAT, words::PRICE];
    let table = Table::new("sums", &columns).with_rows(rows);
    (!table.rows.is_empty()).then_some(table)
}

fn has_unpriced(progress: &Progress) -> bool {
    progress.changes.iter().any(|it| it.change.price.is_none())
}

fn amount<'a>(source: &Source<'a>) -> impl Fn(&Number) -> String + use<'a> {
    let sign = source.look.sign;
    let currency = balanced(source.look.currency.trim());
    move |number: &Number| format!("{}\u{a0}{currency}", number.typeset(sign))
}

fn parts(source: &Source) -> Table {
    let amount = amount(source);
    let changes = &source.progress.changes;
    let rows = changes.iter().map(|changed| {
        let price = changed.change.price.as_ref().map(&amount);
        vec![
            Cell::of(words::swapped(&changed.change.out, &changed.change.fitted)),
            Cell::of(price.unwrap_or_else(|| words::NO_PRICE.to_owned())),
        ]
    });
    let name = match has_unpriced(source.progress) {
        true => words::TOTAL_PRICED,
        false => words::ALL_PARTS,
    };
    let sum = vec![
        Cell::of(name).strong_if(true),
        Cell::of(amount(&sum_of_parts(source.progress))).strong_if(true),
    ];
    let columns = [words::WHAT, words::PRICE];
    Table::new("sums", &columns).with_rows(rows.chain([sum]))
}
