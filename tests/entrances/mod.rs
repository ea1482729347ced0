//! Every way by which a text from outside comes in, each with what follows once it is in.
//!
//! An entrance takes any text whatever and must neither panic nor hang. The properties in
//! `tests/incoming.rs` and the fuzz targets in `fuzz` go through the same ones.
#![allow(dead_code)] // A fuzz target uses one of them.

pub mod seeds;
pub mod twist;

use halfturn::authoring::difference::differences;
use halfturn::authoring::draft::{read_margin, read_tolerance};
use halfturn::authoring::{Draft, check, table};
use halfturn::exchange::report::{
    Check, Look, Report, csv, html,
    label::{Label, Scanned},
};
use halfturn::exchange::{Document, File, Here, demo, open, preview, read, write, write_with};
use halfturn::job::guidance::advice;
use halfturn::job::{Job, kit_check, plan_view};
use halfturn::metrology::date::Date;
use halfturn::metrology::sums as metrology_sums;
use halfturn::procedure::{Id, Procedure, faults, spoken};
use halfturn::quantity::sum::{Answer, Sum};
use halfturn::quantity::{
    self, DecimalSign, Number, Quantity, Scale, Unit, read_number, read_with_unit,
};
use halfturn::radio::channels::ChannelTable;
use halfturn::radio::components::substitution::PinOrder;
use halfturn::radio::sums as radio_sums;
use halfturn::store::{MemoryStorage, Storage, Store, rescue as rescued};

/// An entrance and its name.
pub type Entrance = (&'static str, fn(&str));

/// All of them.
pub const ALL: [Entrance; 9] = [
    ("document", document),
    ("number", number),
    ("tolerance", tolerance),
    ("channels", channels),
    ("table", table),
    ("draft", draft),
    ("sum", sum),
    ("store", store),
    ("rescue", rescue),
];

const SIGNS: [DecimalSign; 2] = [DecimalSign::Point, DecimalSign::Comma];

/// A file that is brought in: procedure, job or backup. What was read is written and read back
/// as the same, compared with what is here, and shown on every screen there is for it.
pub fn document(text: &str) {
    let file = match open(text) {
        Ok(file) => file,
        Err(error) => {
            let said = error.to_string();
            assert!(said.len() < 3000, "a sentence, not the file: {said}");
            return;
        }
    };
    let written = write_with(&file.document, &file.pictures);
    // What could not be taken is not written either.
    let sound = File {
        faulty: Vec::new(),
        ..file
    };
    assert_eq!(open(&written).as_ref(), Ok(&sound), "read back the same");
    let document = sound.document;
    import(&document);
    match &document {
        Document::Procedure(procedure) => show_procedure(procedure),
        Document::Job(job) => show_job(job, &[]),
        Document::Backup(backup) => {
            let jobs = backup.whole_jobs();
            backup.procedures.iter().for_each(show_procedure);
            jobs.iter().for_each(|job| show_job(job, &jobs));
        }
    }
    let _ = Check::of(text, &"0".repeat(64));
}

/// What a device without anything, and one with the very same, say to the file.
fn import(document: &Document) {
    let mut here = Here::default();
    match document.clone() {
        Document::Procedure(procedure) => here.procedures.push(procedure),
        Document::Job(job) => here.jobs.push(job),
        Document::Backup(backup) => {
            here.jobs = backup.whole_jobs();
            here.procedures = backup.procedures;
            here.kit = backup.kit;
            here.channels = backup.channels;
            here.preferences = backup.preferences.unwrap_or_default();
        }
    }
    for here in [Here::default(), here] {
        for item in preview(document.clone(), &here) {
            assert!(!item.outcome.sentence().is_empty());
        }
    }
}

fn show_procedure(procedure: &Procedure) {
    assert_eq!(faults(procedure), [], "what was read is sound");
    for sign in SIGNS {
        let draft = Draft::of(procedure, sign);
        let (again, _) = draft.read(sign);
        let _ = differences(procedure, &again, sign);
        let _ = check::remarks(&draft, &[], sign);
    }
    let _ = check::advice(procedure, &[]);
    for step in procedure.steps() {
        assert!(!spoken(procedure, step, None).is_empty());
    }
}

fn show_job(job: &Job, others: &[Job]) {
    show_procedure(&job.procedure);
    let progress = job.progress();
    let _ = plan_view(&job.procedure, &progress);
    let _ = kit_check(&job.procedure, &progress.header);
    for (step, standing) in job.procedure.steps().zip(&progress.steps) {
        let _ = advice::aim_off(&job.procedure, &progress, step);
        let _ = advice::shared_null(&job.procedure, &progress, step);
        let _ = advice::odd_one_out(standing);
        let _ = advice::slips(&job.procedure, &progress, step);
    }
    for chase in &job.procedure.chases {
        let _ = advice::rounds(&job.procedure, &progress, chase, None);
    }
    hand_over(job, others);
    assert_eq!(
        job.log.merge(&job.log),
        job.log,
        "merging with itself adds nothing"
    );
}

/// The sheet and the label hold no element that the report did not write itself.
fn hand_over(job: &Job, others: &[Job]) {
    for sign in SIGNS {
        let look = Look {
            sign,
            when: &|at| format!("moment {at}"),
            stamp: &|_| "2026-03-31 14:05:09".to_owned(),
            day: &|day: Date| format!("day {day}"),
            picture: &|_| None,
            time: true,
            currency: "EUR",
            spelling: Default::default(),
        };
        let sheet = html::file(&Report::of(job, others, &look));
        let label = Label::of(job, &look).fragment();
        for page in [&sheet, &label] {
            let lower = page.to_lowercase();
            for tag in [
                "<script", "<img", "<iframe", "<a ", "<form", "<object", "<embed",
            ] {
                assert!(!lower.contains(tag), "{tag} in the sheet");
            }
        }
        let _ = csv::readings(job, &look);
    }
}

/// A number as typed or as in a file, with or without its unit, and the other short texts.
pub fn number(text: &str) {
    for sign in SIGNS {
        for &unit in Unit::ALL {
            let Ok(quantity) = quantity::read(text, Scale::plain(unit), sign) else {
                continue;
            };
            let shown = quantity.typeset(sign);
            let again = quantity::read(&shown, quantity.scale, sign);
            assert_eq!(
                again.as_ref(),
                Ok(&quantity),
                "typed as it is shown: {shown}"
            );
            written_back(&quantity);
        }
        if let Ok(number) = read_number(text, sign) {
            let shown = number.typeset(sign);
            assert_eq!(read_number(&shown, sign).as_ref(), Ok(&number), "{shown}");
        }
    }
    if let Ok(quantity) = text.parse::<Quantity>() {
        written_back(&quantity);
    }
    if let Ok(number) = text.parse::<Number>() {
        let _ = (number.to_f64(), number.last_place());
    }
    let _ = text.parse::<Id>();
    if let Scanned::Text(read) = Scanned::of(text) {
        let is_short = read.chars().count() <= 100;
        assert!(is_short && !read.contains(char::is_control), "{read:?}");
    }
    let _ = text.parse::<PinOrder>();
    if let Ok(date) = text.parse::<Date>() {
        assert_eq!(date.to_string().parse(), Ok(date));
    }
}

/// What a file keeps is what comes out of it.
fn written_back(quantity: &Quantity) {
    let written = quantity.to_string();
    assert_eq!(written.parse().as_ref(), Ok(quantity), "{written}");
    let _ = (quantity.base(), quantity.base_f64(), quantity.resolution());
    let _ = Quantity::natural(quantity.base(), quantity.unit()).typeset(DecimalSign::Point);
}

/// A target, a margin, a quantity with a unit of its own, as an author types them.
pub fn tolerance(text: &str) {
    for sign in SIGNS {
        for scale in ["MHz", "V p-p", "dBm", "%", "ppm", "mA"] {
            let scale: Scale = scale.parse().expect("a scale");
            let _ = read_margin(text, scale, sign);
            if let Ok(tolerance) = read_tolerance(text, scale, sign) {
                let _ = (tolerance.typeset(sign), tolerance.limits());
            }
        }
        if let Some(quantity) = read_with_unit(text, sign) {
            written_back(&quantity);
        }
    }
}

/// A channel table of one's own, a channel a line.
pub fn channels(text: &str) {
    for sign in SIGNS {
        match ChannelTable::read("Club", "typed", text, sign) {
            Ok(table) => assert!(!table.channels.is_empty()),
            Err(sentence) => assert!(sentence.len() < 2000, "{sentence}"),
        }
    }
}

/// A table pasted from a spreadsheet, as steps of a procedure that is being written.
pub fn table(text: &str) {
    let Ok(procedure) = demo::procedure() else {
        return;
    };
    for sign in SIGNS {
        let mut draft = Draft::of(&procedure, sign);
        let before = draft.steps().count();
        let preview = table::preview(text, &draft, sign);
        let taken = table::take(&mut draft, 0, &preview);
        assert_eq!(draft.steps().count(), before + taken.len());
        let _ = (draft.read(sign), check::remarks(&draft, &[], sign));
    }
}

/// One text in every field of a procedure that is being written.
pub fn draft(text: &str) {
    let Ok(procedure) = demo::procedure() else {
        return;
    };
    for sign in SIGNS {
        let mut draft = Draft::of(&procedure, sign);
        let text = || text.to_owned();
        draft.title = text();
        draft.cautions = text();
        for step in draft.steps_mut() {
            for field in [
                &mut step.title,
                &mut step.controls,
                &mut step.pins,
                &mut step.wait,
                &mut step.settles,
                &mut step.takes_off,
                &mut step.puts_back,
                &mut step.target.value,
                &mut step.target.high,
                &mut step.target.margin,
                &mut step.target.below,
            ] {
                *field = text();
            }
        }
        let (read, _) = draft.read(sign);
        let _ = (faults(&read), check::remarks(&draft, &[], sign));
        let _ = differences(&procedure, &read, sign);
    }
}

/// A calculation: the first line picks it, the others are its inputs.
pub fn sum(text: &str) {
    let mut lines = text.split('\n');
    let all: Vec<&Sum> = radio_sums::all().chain(metrology_sums::SUMS).collect();
    let pick = lines.next().unwrap_or_default();
    let named = all.iter().find(|sum| sum.id == pick);
    let counted = pick.bytes().map(usize::from).sum::<usize>() % all.len();
    let sum = named.unwrap_or(&all[counted]);
    let typed: Vec<&str> = lines.collect();
    for sign in SIGNS {
        let inputs = sum.inputs.iter().enumerate();
        let entries: Vec<_> = inputs
            .map(|(index, input)| {
                // Several values in one field stand apart by semicolons as well as by lines.
                let text = typed.get(index).copied().unwrap_or_default();
                input.read(text, None, sign).ok().flatten()
            })
            .collect();
        if let Ok(Answer::Worked { outcome, digits }) = sum.answer(&entries) {
            for output in &outcome.outputs {
                assert!(!output.typeset(digits, sign).is_empty());
            }
        }
    }
}

/// A storage that somebody else wrote: lines of a key, a tab and a text. Nothing in it gets
/// lost, whatever it is: each value is understood, or listed as one that isn't.
pub fn store(text: &str) {
    let memory = MemoryStorage::default();
    for line in text.split('\n').take(40) {
        let (key, value) = line.split_once('\t').unwrap_or((line, ""));
        (&memory)
            .set(&format!("halfturn:{key}"), value)
            .expect("room");
    }
    let before = texts(&memory);
    let (store, opened) = Store::open(&memory);
    let Ok(contents) = store.contents() else {
        panic!("a storage in memory can always be read");
    };
    for job in &contents.jobs {
        assert_eq!(store.job(&job.id).as_ref(), Ok(&Some(job.clone())));
        if opened.is_ok() {
            let saved = store.save_job(job).expect("what was read can be saved");
            assert_eq!(saved, *job);
        }
    }
    for sum in radio_sums::all() {
        let _ = store.sum(sum.id);
    }
    let _ = (
        store.preferences(),
        store.kit(),
        store.channel_tables(),
        store.place(),
    );
    let backup = store
        .backup()
        .expect("a storage in memory can always be read");
    let file = write(&Document::Backup(backup));
    assert!(
        read(&file).is_ok(),
        "a backup can be brought in: {:?}",
        read(&file)
    );
    if let Err(refused) = opened {
        assert_eq!(texts(&memory), before, "left alone: {refused}");
    }
    let after: Vec<String> = texts(&memory).into_iter().map(|(_, value)| value).collect();
    // What follows from other values is written anew: a job that is merged, its line, the layout.
    let derived = ["halfturn:job:", "halfturn:line:", "halfturn:layout"];
    let lost = before.iter().find(|(key, value)| {
        !after.contains(value) && !derived.iter().any(|prefix| key.starts_with(prefix))
    });
    assert_eq!(lost, None, "every value is still there");
}

/// A file that was saved when the app had stopped. What can be read of it comes in like any backup,
/// and what can't is named.
pub fn rescue(text: &str) {
    let Some(file) = rescued(text) else {
        return;
    };
    let written = write(&file.document);
    assert_eq!(
        read(&written).as_ref(),
        Ok(&file.document),
        "a sound backup"
    );
    import(&file.document);
    for faulty in &file.faulty {
        assert!(faulty.name.is_some());
        assert!(!faulty.why.to_string().is_empty());
    }
}

fn texts(mut storage: &MemoryStorage) -> Vec<(String, String)> {
    let storage = &mut storage;
    let keys = storage.keys().expect("keys");
    let value = |key: &String| storage.get(key).expect("readable").unwrap_or_default();
    let mut all: Vec<_> = keys.iter().map(|key| (key.clone(), value(key))).collect();
    all.sort();
    all
}
