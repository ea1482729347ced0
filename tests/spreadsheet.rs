//! The table of readings in a spreadsheet that people use: numbers arrive as numbers, texts as
//! they were typed, and nothing is run. Skipped where LibreOffice Calc is not installed.

use halfturn::exchange::report::{Look, csv};
use halfturn::job::{Deed, Header, Job, Phase, SetIdentity, Stamp};
use halfturn::procedure::{Gauge, Id, Procedure, Section, Step, Target, Work};
use halfturn::quantity::DecimalSign;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// What a spreadsheet would run, fold or put right if it took it for anything but a text.
const HOSTILE: [&str; 12] = [
    "=1+1",
    "=HYPERLINK(\"http://example.invalid/\";\"x\")",
    "@SUM(1;1)",
    "-2+3",
    "'0123",
    "QRC \"07\", blue; 3/4",
    "00712",
    "1E5",
    "1.10",
    "3/4",
    "2026-03-31",
    "12345678901234567890",
];

fn id(text: &str) -> Id {
    text.parse().unwrap()
}

/// A job with one step that is read, and a hostile text in every place that a person types in.
fn job(hostile: &str) -> Job {
    let target: Target = serde_json::from_value(serde_json::json!({"fixed": {"around": {
        "nominal": "8.00 V", "below": {"absolute": "200 mV"}, "above": {"absolute": "200 mV"}}}}))
    .unwrap();
    let rail = Work::Read {
        gauge: Gauge::new(id("TP1"), id("meter"), "V".parse().unwrap()),
        target: Some(target),
    };
    let procedure = Procedure {
        sections: vec![Section {
            title: hostile.to_owned(),
            steps: vec![Step::new(id("rail"), hostile, rail)],
        }],
        ..Procedure::new(id("p"), "A check")
    };
    let header = Header {
        number: hostile.to_owned(),
        set: SetIdentity {
            make: hostile.to_owned(),
            model: hostile.to_owned(),
            serial: hostile.to_owned(),
        },
        ..Header::default()
    };
    let mut count = 0;
    let mut stamp = || {
        count += 1;
        Stamp {
            id: id(&format!("e{count}")),
            at: count * 60_000,
        }
    };
    let mut job = Job::open(id("a"), procedure, header, stamp());
    for (phase, value) in [(Phase::AsFound, "7.41 V"), (Phase::AsLeft, "-0.050 V")] {
        let deed = Deed::Reading {
            step: id("rail"),
            phase,
            value: value.parse().unwrap(),
            tool: None,
            repeat: false,
            heard: None,
        };
        job.record(stamp(), deed).unwrap();
    }
    job
}

fn table(job: &Job, sign: DecimalSign) -> String {
    let look = Look {
        sign,
        when: &|at| at.to_string(),
        stamp: &|at| format!("2026-03-31 14:{:02}:00", at / 60_000),
        day: &|day| day.to_string(),
        picture: &|_| None,
        time: false,
        currency: "",
        spelling: Default::default(),
    };
    csv::readings(job, &look)
}

/// The readings of a job with each hostile text, in one table.
fn tables(sign: DecimalSign) -> String {
    let all = HOSTILE.iter().map(|hostile| table(&job(hostile), sign));
    let all: Vec<String> = all.collect();
    let (heading, _) = all[0].split_once("\r\n").unwrap();
    let rows = all.iter().map(|text| &text[heading.len()..]);
    let rows = rows
        .map(|rows| rows.trim_end().to_owned())
        .collect::<String>();
    format!("{heading}{rows}\r\n")
}

/// The program, where it is installed.
fn calc() -> Option<PathBuf> {
    let paths = std::env::var_os("PATH")?;
    let found = std::env::split_paths(&paths).map(|folder| folder.join("soffice"));
    found.into_iter().find(|path| path.exists())
}

/// A cell as the program keeps it.
#[derive(Debug, PartialEq)]
struct Cell {
    kind: String,
    formula: bool,
    number: String,
    text: String,
}

/// Opens a table in the program, as it does when its file is opened in a country that writes
/// numbers so, and gives what it makes of each row.
fn opened(calc: &Path, folder: &Path, text: &str, language: u16) -> Vec<Vec<Cell>> {
    fs::write(folder.join("table.csv"), text).unwrap();
    // Comma, quote, UTF-8, from line 1; the language; quoted fields are no texts of themselves,
    // numbers are detected: what the program offers for such a file.
    let filter =
        format!("--infilter=Text - txt - csv (StarCalc):44,34,76,1,,{language},false,true,false");
    let done = Command::new(calc)
        .arg(format!(
            "-env:UserInstallation=file://{}/profile",
            folder.display()
        ))
        .args(["--headless", &filter, "--convert-to", "fods", "--outdir"])
        .arg(folder)
        .arg(folder.join("table.csv"))
        .output()
        .unwrap();
    let page = fs::read_to_string(folder.join("table.fods"))
        .unwrap_or_else(|_| panic!("{}", String::from_utf8_lossy(&done.stderr)));
    let rows = page.split("<table:table-row").skip(1);
    rows.map(|row| {
        row.split("<table:table-cell")
            .skip(1)
            .flat_map(cells)
            .collect()
    })
    .collect()
}

/// The cell at the start of a piece of the page, as often as it is repeated.
fn cells(piece: &str) -> Vec<Cell> {
    let attribute = |name: &str| {
        let (_, rest) = piece.split('>').next()?.split_once(&format!("{name}=\""))?;
        Some(rest.split('"').next()?.to_owned())
    };
    let text = piece.split_once("<text:p>").map_or("", |(_, rest)| {
        rest.split_once("</text:p>").map_or("", |(text, _)| text)
    });
    let text = [
        ("&quot;", "\""),
        ("&apos;", "'"),
        ("&lt;", "<"),
        ("&amp;", "&"),
    ]
    .iter()
    .fold(text.to_owned(), |text, (from, to)| text.replace(from, to));
    let count: usize = attribute("table:number-columns-repeated")
        .and_then(|count| count.parse().ok())
        .unwrap_or(1);
    let cell = || Cell {
        kind: attribute("office:value-type").unwrap_or_default(),
        formula: attribute("table:formula").is_some(),
        number: attribute("office:value").unwrap_or_default(),
        text: text.clone(),
    };
    (0..count.min(25)).map(|_| cell()).collect()
}

#[test]
fn a_spreadsheet_shows_numbers_as_numbers_and_runs_nothing() {
    let Some(calc) = calc() else {
        eprintln!("skipped: LibreOffice Calc is not installed");
        return;
    };
    let folder = std::env::temp_dir().join(format!("halfturn-spreadsheet-{}", std::process::id()));
    fs::create_dir_all(&folder).unwrap();
    const ENGLISH: u16 = 1033;
    const GERMAN: u16 = 1031;
    // A text that was let through as it is would be run, and seen here.
    let rows = opened(&calc, &folder, "a,b\r\n=1+1,2\r\n", ENGLISH);
    assert!(rows[1][0].formula && !rows[1][1].formula, "{rows:?}");
    for (sign, language) in [(DecimalSign::Point, ENGLISH), (DecimalSign::Comma, GERMAN)] {
        let rows = opened(&calc, &folder, &tables(sign), language);
        assert!(rows.iter().flatten().all(|cell| !cell.formula));
        let column = |name: &str| rows[0].iter().position(|cell| cell.text == name).unwrap();
        // Two readings of each job.
        let hostile = HOSTILE.iter().flat_map(|text| [text, text]);
        for (row, hostile) in rows[1..].iter().zip(hostile) {
            for name in [
                "value",
                "corrected value",
                "lower limit",
                "upper limit",
                "step",
            ] {
                let cell = &row[column(name)];
                assert_eq!(
                    cell.kind, "float",
                    "{name} of {hostile}, {sign:?}: {cell:?}"
                );
            }
            assert_eq!(row[column("when")].kind, "date", "{hostile}");
            for name in ["job", "make", "model", "serial number", "section", "title"] {
                let cell = &row[column(name)];
                let typed = cell.text.strip_prefix('\'').unwrap_or(&cell.text);
                assert_eq!(cell.kind, "string", "{name} of {hostile}");
                assert!([typed, &cell.text].contains(hostile), "{cell:?}");
            }
        }
        assert_eq!(rows[1][column("value")].number, "7.41");
    }
    fs::remove_dir_all(&folder).unwrap();
}
