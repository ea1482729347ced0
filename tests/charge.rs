//! What the work comes to: minutes and money of the sheet agree, whatever they are worked out from.

mod support;

use halfturn::exchange::report::{self, Look, Part, Report, cost, words};
use halfturn::job::{Change, Charge, Deed, Header, Job, Stamp};
use halfturn::procedure::Procedure;
use halfturn::quantity::{DecimalSign, Number};
use proptest::prelude::*;
use support::{header, id, look, note};

const MINUTE: i64 = 60_000;

fn number(text: &str) -> Option<Number> {
    text.parse().ok()
}

/// A job with entries at these milliseconds, and changes of these prices at the last of them.
fn job(charge: Charge, times: &[i64], prices: &[Option<&str>]) -> Job {
    let header = Header { charge, ..header() };
    let mut count = 0;
    let mut at = |at: i64| {
        count += 1;
        Stamp {
            id: id(&format!("e{count}")),
            at,
        }
    };
    let mut job = Job::open(id("job"), Procedure::none(), header, at(0));
    for time in times {
        job.record(at(*time), note(None, "Looked on"))
            .expect("a note");
    }
    let last = times.last().copied().unwrap_or(0);
    for price in prices {
        let change = Change {
            fitted: "Capacitor".to_owned(),
            price: price.and_then(number),
            ..Change::default()
        };
        let change = Box::new(change);
        let did = Deed::Changed {
            first: None,
            step: None,
            change,
        };
        job.record(at(last), did).expect("a change");
    }
    job
}

fn asked(sign: DecimalSign, time: bool) -> Look<'static> {
    Look {
        time,
        currency: "EUR",
        sign,
        ..look()
    }
}

/// The rows of the tables of time and money, each table by itself.
fn sums(job: &Job, look: &Look) -> Vec<Vec<Vec<String>>> {
    let report = Report::of(job, &[], look);
    let section = report.sections.iter().find(|it| it.title == words::COST);
    let Some(section) = section else {
        return Vec::new();
    };
    let tables = section.parts.iter().filter_map(|part| match part {
        Part::Table(table) => Some(table),
        _ => None,
    });
    let plain = |text: &str| text.replace('\u{a0}', " ");
    tables
        .map(|table| {
            let rows = table.rows.iter();
            rows.map(|row| row.iter().map(|cell| plain(&cell.text)).collect())
                .collect()
        })
        .collect()
}

fn strings(rows: &[[&str; 2]]) -> Vec<Vec<String>> {
    let row = |row: &[&str; 2]| row.iter().map(|text| (*text).to_owned()).collect();
    rows.iter().map(row).collect()
}

// Check: 75 min at 48.00 an hour are 60.00, 50 min at 45 are 37.5, 7 min at 0.05 are 0.01 to the hundredth
// Source: proportion, rounded half up to the hundredth
// Known by: closed form
#[test]
fn the_sheet_says_what_its_total_is_made_of() {
    let charge = |rate: &str, minutes, agreed: &str| Charge {
        rate: number(rate),
        minutes,
        agreed: number(agreed),
    };
    let quarter = &[15 * MINUTE, 25 * MINUTE, 50 * MINUTE];
    let whole = [Some("12.20"), Some("0.35")];
    type Prices<'a> = &'a [Option<&'a str>];
    type Rows<'a> = &'a [[&'a str; 2]];
    let cases: [(Charge, Prices, Rows); 6] = [
        (
            charge("48.00", Some(75), ""),
            &whole,
            &[
                [
                    "Work: 1 h 15 min as stated, at 48.00 EUR an hour",
                    "60.00 EUR",
                ],
                ["All parts", "12.55 EUR"],
                ["Total", "72.55 EUR"],
            ],
        ),
        (
            charge("45", None, "50"),
            &[],
            &[
                ["Work: 50 min by the log, at 45 EUR an hour", "37.5 EUR"],
                ["Price agreed with the owner", "50 EUR"],
            ],
        ),
        (
            charge("0.05", Some(7), ""),
            &[Some("1"), None],
            &[
                ["Work: 7 min as stated, at 0.05 EUR an hour", "0.01 EUR"],
                ["All parts", "1 EUR"],
                ["Total of what has a price", "1.01 EUR"],
            ],
        ),
        // What an hour costs is not known: nothing is worked out.
        (charge("", Some(75), ""), &whole, &[]),
        (
            charge("", None, "50"),
            &[],
            &[["Price agreed with the owner", "50 EUR"]],
        ),
        (charge("", None, ""), &[], &[]),
    ];
    for (charge, prices, expected) in cases {
        let job = job(charge, quarter, prices);
        let tables = sums(&job, &asked(DecimalSign::Point, false));
        let of_work = tables.last().filter(|_| !expected.is_empty());
        let priced = usize::from(!prices.is_empty());
        assert_eq!(tables.len(), priced + usize::from(!expected.is_empty()));
        assert_eq!(of_work.cloned().unwrap_or_default(), strings(expected));
    }
}

#[test]
fn no_money_is_stated_where_no_currency_is_set() {
    let charge = Charge {
        rate: number("48"),
        minutes: Some(75),
        agreed: number("50"),
    };
    let job = job(charge, &[MINUTE], &[Some("1")]);
    assert_eq!(sums(&job, &look()), Vec::<Vec<Vec<String>>>::new());
}

#[test]
fn a_part_without_a_price_is_no_part_of_a_total() {
    let job = job(Charge::default(), &[MINUTE], &[Some("1.5"), None]);
    let tables = sums(&job, &asked(DecimalSign::Comma, false));
    let last = tables.last().and_then(|table| table.last());
    let expected = ["Total of what has a price", "1,5 EUR"].map(str::to_owned);
    assert_eq!(last, Some(&expected.to_vec()));
}

#[test]
fn the_time_is_counted_once_where_the_sheet_has_both() {
    let charge = Charge {
        rate: number("60"),
        ..Charge::default()
    };
    let job = job(charge, &[20_000, 50_000, 29 * MINUTE], &[]);
    let tables = sums(&job, &asked(DecimalSign::Point, true));
    let ends: Vec<_> = tables.iter().filter_map(|table| table.last()).collect();
    assert_eq!(ends[0][1], "29 min");
    assert_eq!(
        ends[1][..],
        ["Work: 29 min by the log, at 60 EUR an hour", "29 EUR"]
    );
    assert!(report::words::TIME_KEY.contains("log"));
}

proptest! {
    #![proptest_config(support::cases(200))]

    #[test]
    fn minutes_come_to_those_of_all_of_it(spent in prop::collection::vec(0_i64..5_000_000, 1..8)) {
        let minutes = cost::minutes(&spent);
        let all: i64 = spent.iter().sum();
        prop_assert_eq!(minutes.iter().sum::<i64>(), (all + MINUTE / 2) / MINUTE);
        for (whole, exact) in minutes.iter().zip(&spent) {
            prop_assert!((whole * MINUTE - exact).abs() < MINUTE);
        }
    }

    #[test]
    fn the_price_of_the_work_is_within_half_a_hundredth(minutes in 0_u32..100_000, cents in 0_u32..100_000) {
        let rate = f64::from(cents) / 100.0;
        let charge = Charge {
            rate: number(&format!("{rate:.2}")),
            minutes: Some(minutes),
            agreed: None,
        };
        let job = job(charge, &[], &[]);
        let labour = cost::labour(&job, &job.progress()).expect("a rate");
        let exact = rate * f64::from(minutes) / 60.0;
        prop_assert!((labour.price.to_f64() - exact).abs() <= 0.005 + 1e-9);
        prop_assert_eq!(labour.price.decimals(), 2);
    }
}
