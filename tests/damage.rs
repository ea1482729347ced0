//! A stored or carried entry that an accident changed is shown as damaged, goes along, counts for
//! nothing, and is sound again as soon as a sound copy of it is found.

mod support;

use halfturn::exchange::report::{Check, Report, fingerprint};
use halfturn::exchange::{Choice, Document, Here, Outcome, Subject, preview, read, write};
use halfturn::job::{Damaged, Deed, Event, Job, Log, Phase, check_of};
use halfturn::store::{Entry, MemoryStorage, Storage, Store};
use proptest::prelude::*;
use support::*;

const KEY: &str = "halfturn:job:job-17";

fn open(memory: &MemoryStorage) -> Store<&MemoryStorage> {
    let (store, opened) = Store::open(memory);
    assert_eq!(opened, Ok(()));
    store
}

fn kept(job: &Job) -> MemoryStorage {
    let memory = MemoryStorage::default();
    open(&memory).save_job(job).expect("room for it");
    memory
}

fn text(memory: &MemoryStorage) -> String {
    memory.get(KEY).expect("a storage").expect("the job")
}

fn put(memory: &MemoryStorage, text: &str) {
    memory.set(KEY, text).expect("room for it");
}

/// As if an earlier version had written the storage.
fn put_layout(memory: &MemoryStorage) {
    memory.set("halfturn:layout", "2").expect("room for it");
}

/// Turns what stands once in the stored job into something else.
fn turn(memory: &MemoryStorage, was: &str, is: &str) {
    let stored = text(memory);
    assert_eq!(stored.matches(was).count(), 1, "{was} in {stored}");
    put(memory, &stored.replace(was, is));
}

fn job_in(memory: &MemoryStorage) -> Job {
    let job = open(memory).job(&id("job-17"));
    job.expect("readable").expect("the job")
}

const AS_FOUND: Phase = Phase::AsFound;

/// A job with a reading of 2.5 mA and one of 7.25 mA in it, which nothing else says.
fn two_readings() -> Job {
    let mut job = fresh_job();
    for value in ["2.5 mA", "7.25 mA"] {
        adds(&mut job, reading("current", AS_FOUND, value));
    }
    job
}

fn adds(job: &mut Job, deed: Deed) {
    job.log.append(stamp(100 + job.log.len()), deed);
}

fn readings(job: &Job) -> Vec<String> {
    let progress = job.progress();
    let readings = progress.steps.iter().flat_map(|step| &step.readings);
    readings.map(|taken| taken.value.to_string()).collect()
}

fn events(log: &Log) -> Vec<Event> {
    log.events().cloned().collect()
}

#[test]
fn a_digit_that_turned_in_a_stored_reading_is_not_believed_but_shown() {
    let memory = kept(&two_readings());
    turn(&memory, "7.25 mA", "7.35 mA");
    let job = job_in(&memory);
    assert_eq!(readings(&job), ["2.5 mA"]);
    let damaged: Vec<&Damaged> = job.log.damaged().collect();
    assert_eq!(damaged.len(), 1);
    let reads = damaged[0].event().map(|event| &event.did);
    assert_eq!(reads, Some(&reading("current", AS_FOUND, "7.35 mA")));
}

/// What is said of a stored text in which something was changed: nothing that was not entered.
fn holds_nothing_else(changed: &str, job: &Job, place: usize) {
    let memory = kept(job);
    put(&memory, changed);
    let store = open(&memory);
    match store.job(&job.id) {
        // It is named, and its text goes along.
        Err(_) => {
            let found = store.contents().expect("a storage");
            assert_eq!(found.asides.len(), 1, "at {place}");
            assert_eq!(found.asides[0].text, changed);
        }
        Ok(found) => {
            let found = found.expect("the job");
            let entered = events(&job.log);
            let sound = events(&found.log);
            assert!(sound.iter().all(|e| entered.contains(e)), "at {place}");
            let left = found.log.damaged().len();
            assert_eq!(sound.len() + left, entered.len(), "at {place}");
        }
    }
}

/// The text with a bit turned at each of its places in turn, where that leaves a text.
fn turned(text: &str) -> impl Iterator<Item = (usize, String)> {
    (0..text.len()).filter_map(|place| {
        let mut bytes = text.as_bytes().to_vec();
        bytes[place] ^= 1 << (place % 7);
        Some((place, String::from_utf8(bytes).ok()?))
    })
}

#[test]
fn whatever_bit_turns_in_a_stored_job_nothing_is_believed_that_was_not_entered() {
    for job in [worked_job(), finished_job()] {
        let stored = text(&kept(&job));
        turned(&stored).for_each(|(place, changed)| holds_nothing_else(&changed, &job, place));
    }
}

#[test]
fn a_damaged_entry_stays_as_it_was_found_through_savings_files_and_backups() {
    let memory = kept(&two_readings());
    turn(&memory, "7.25 mA", "7.35 mA");
    let mut job = job_in(&memory);
    let found: Vec<Damaged> = job.log.damaged().cloned().collect();
    let is_there = |log: &Log| log.damaged().eq(&found);

    // A page that has the job in hand goes on, and one that knew nothing of it.
    adds(&mut job, note(None, "Went on"));
    let store = open(&memory);
    store.save_job(&job).expect("room for it");
    assert!(is_there(&job_in(&memory).log));
    let mut blind = fresh_job();
    adds(&mut blind, note(None, "Elsewhere"));
    store.save_job(&blind).expect("room for it");
    assert!(is_there(&job_in(&memory).log));

    let carried = read(&write(&Document::Job(job.clone())));
    assert_eq!(carried, Ok(Document::Job(job.clone())));
    let backup = store.backup().expect("readable");
    let Ok(Document::Backup(backup)) = read(&write(&Document::Backup(backup))) else {
        panic!("a backup")
    };
    assert!(is_there(&backup.jobs[0].log));

    // Packed it goes along too.
    job.log.append(stamp(900), sign_off("Quillmere bench"));
    store.save_job(&job).expect("room for it");
    assert!(!text(&memory).contains("signed-off"), "it is packed");
    assert!(is_there(&job_in(&memory).log));
}

#[test]
fn a_damaged_entry_is_restored_from_the_journal_at_the_next_start() {
    for finished in [false, true] {
        let mut job = two_readings();
        if finished {
            job.log.append(stamp(900), sign_off("Quillmere bench"));
        }
        let memory = MemoryStorage::default();
        let store = open(&memory);
        store.rejoin("a", &[]);
        store.save_job(&job).expect("room for it");
        let journal: Vec<Entry> = store.due().expect("readable").expect("due").entries;
        let stored = text(&memory);
        let (place, changed) = turned(&stored)
            .find(|(place, changed)| {
                put(&memory, changed);
                let read = open(&memory).job(&job.id);
                *place > 120 && !matches!(read, Ok(Some(read)) if read == job)
            })
            .expect("a place where it matters");
        put(&memory, &changed);
        let store = open(&memory);
        assert_eq!(store.rejoin("b", &journal).failed, 0, "at {place}");
        assert_eq!(store.job(&job.id), Ok(Some(job)), "at {place}");
    }
}

#[test]
fn entries_written_after_damage_come_behind_what_is_restored() {
    let whole = two_readings();
    let memory = kept(&whole);
    turn(&memory, "7.25 mA", "7.35 mA");
    let mut job = job_in(&memory);
    let step = job
        .log
        .damaged()
        .next()
        .and_then(|left| left.event()?.did.step());
    assert_eq!(step, Some(&id("current")));
    job.log
        .append(stamp(500), reading("current", AS_FOUND, "8.5 mA"));
    let healed = Job {
        log: job.log.merge(&whole.log),
        ..job
    };
    assert_eq!(healed.log.damaged().len(), 0);
    assert_eq!(readings(&healed), ["2.5 mA", "7.25 mA", "8.5 mA"]);
}

#[test]
fn an_entry_whose_id_was_damaged_is_known_by_its_check() {
    let whole = two_readings();
    let last = whole.log.events().next_back().expect("an event");
    let memory = kept(&whole);
    turn(&memory, &format!("\"{}\"", last.id), "\"x\"");
    let job = job_in(&memory);
    assert_eq!(job.log.damaged().len(), 1);
    assert_eq!(job.log.merge(&whole.log), whole.log);
    assert_eq!(whole.log.merge(&job.log), whole.log);
}

#[test]
fn a_list_does_not_say_what_a_damaged_entry_said() {
    let mut job = two_readings();
    adds(&mut job, sign_off("Quillmere bench"));
    adds(&mut job, reopen("One screw found"));
    let memory = kept(&job);
    let entries = |store: &Store<_>| store.line(&job.id).expect("the job").entries;
    assert_eq!(entries(&open(&memory)), job.log.len());
    turn(&memory, "7.25 mA", "7.35 mA");
    let store = open(&memory);
    store.job(&job.id).expect("readable");
    assert_eq!(entries(&store), job.log.len() - 1);
}

// Entries that do not read as entries

/// Where each event stands in a stored text.
fn spans(text: &str) -> Vec<std::ops::Range<usize>> {
    let starts: Vec<usize> = text.match_indices(r#"{"id":""#).map(|(at, _)| at).collect();
    let ends = starts.iter().skip(1).map(|start| start - 1);
    let ends = ends.chain([text.len() - 2]);
    starts
        .iter()
        .zip(ends)
        .map(|(start, end)| *start..end)
        .collect()
}

/// What a stored text may become by an accident at a place: a letter turned into each of these,
/// one that came in between, and one that is gone.
fn broken(text: &str, place: usize) -> Vec<String> {
    let (before, rest) = text.split_at(place);
    let mut letters = rest.chars();
    let letter = letters.next();
    let after = letters.as_str();
    let others = ["{", "}", "[", "]", "\"", "\\", ",", "7", "\n", "\u{0}"];
    let turned = others.iter().filter(|other| other.chars().next() != letter);
    let turned = turned.map(|other| format!("{before}{other}{after}"));
    let doubled = others.iter().map(|other| format!("{before}{other}{rest}"));
    turned
        .chain(doubled)
        .chain([format!("{before}{after}")])
        .collect()
}

/// The places of a text at which a letter begins, every so many.
fn places(text: &str, every: usize) -> impl Iterator<Item = usize> {
    text.char_indices().map(|(at, _)| at).step_by(every)
}

#[test]
fn wherever_a_stored_log_is_broken_one_entry_at_most_is_lost_and_comes_back_with_a_sound_copy() {
    let job = worked_job();
    let stored = text(&kept(&job));
    let spans = spans(&stored);
    assert_eq!(spans.len(), job.log.len());
    let entered = events(&job.log);
    // The first opens the job, which is nothing without it.
    let log = spans[1].start..stored.len();
    for place in places(&stored, 11).filter(|place| log.contains(place)) {
        for changed in broken(&stored, place) {
            let memory = kept(&job);
            put(&memory, &changed);
            let found = open(&memory).job(&job.id);
            let found = found.unwrap_or_else(|error| panic!("{error} in {changed}"));
            let found = found.expect("the job");
            let sound = events(&found.log);
            assert!(sound.iter().all(|e| entered.contains(e)), "{changed}");
            assert!(sound.len() + 1 >= entered.len(), "{changed}");
            assert!(found.log.damaged().len() <= 2, "{changed}");
            let is_lost = sound.len() < entered.len();
            assert!(!is_lost || found.log.damaged().len() > 0, "{changed}");
            // What stays is what belongs to no entry.
            let healed = found.log.merge(&job.log);
            assert_eq!(events(&healed), entered, "{changed}");
            assert!(!is_lost || healed.damaged().all(is_a_scrap), "{changed}");
        }
    }
}

/// A few letters that were never an entry.
fn is_a_scrap(left: &Damaged) -> bool {
    left.text().len() <= 2
}

#[test]
fn a_stored_log_that_was_cut_off_opens_as_far_as_it_goes_and_says_that_it_stops() {
    let job = worked_job();
    let stored = text(&kept(&job));
    let spans = spans(&stored);
    for end in places(&stored, 1).filter(|end| *end >= spans[0].end) {
        let memory = kept(&job);
        put(&memory, &stored[..end]);
        let found = open(&memory)
            .job(&job.id)
            .expect("readable")
            .expect("the job");
        let whole = spans.iter().filter(|span| span.end <= end).count();
        assert_eq!(events(&found.log), events(&job.log)[..whole], "at {end}");
        let is_closed = end + 1 >= stored.len();
        assert_eq!(
            found.log.damaged().len(),
            usize::from(!is_closed),
            "at {end}"
        );
        let is_between = spans.iter().any(|span| span.end == end);
        if is_between && !is_closed {
            let shown = format!("{:?}", sheet(&found).sections);
            assert!(shown.contains("nothing: the log stops there"), "at {end}");
        }
    }
}

/// A stored job of which one event is another thing.
fn retyped(job: &Job, place: usize, change: impl Fn(&mut serde_json::Value)) -> MemoryStorage {
    let memory = kept(job);
    let mut record: serde_json::Value = serde_json::from_str(&text(&memory)).expect("JSON");
    change(&mut record["log"][place]);
    put(&memory, &record.to_string());
    memory
}

type Change = fn(&mut serde_json::Value);

/// What makes an event one that none can read.
const RETYPED: [Change; 9] = [
    |event| event["did"] = serde_json::json!({ "admired": { "step": "current" } }),
    |event| event["did"] = serde_json::json!(5),
    |event| event["seq"] = serde_json::json!("one"),
    |event| event["at"] = serde_json::json!(1.5),
    |event| event["id"] = serde_json::json!(""),
    |event| event["mood"] = serde_json::json!("good"),
    |event| event["check"] = serde_json::json!("short"),
    |event| *event = serde_json::json!({ "check": "AAAAAAAA" }),
    |event| {
        drop(
            event
                .as_object_mut()
                .and_then(|fields| fields.remove("seq")),
        )
    },
];

#[test]
fn an_entry_of_another_type_stands_beside_the_log_wherever_it_is() {
    let job = worked_job();
    for place in 1..job.log.len() {
        for change in RETYPED {
            let found = job_in(&retyped(&job, place, change));
            assert_eq!(found.log.len(), job.log.len() - 1, "{place}");
            let left: Vec<&Damaged> = found.log.damaged().collect();
            assert!(
                matches!(left[..], [Damaged::Unread(_)]),
                "{place}: {left:?}"
            );
        }
    }
}

#[test]
fn an_entry_that_can_not_be_read_goes_along_as_it_was_found_and_comes_back_sound() {
    let mut job = two_readings();
    adds(&mut job, note(None, "Last"));
    let memory = kept(&job);
    turn(&memory, "\"7.25 mA\"", "\"7.25 mA\\");
    let mut found = job_in(&memory);
    let left: Vec<Damaged> = found.log.damaged().cloned().collect();
    let Damaged::Unread(raw) = &left[0] else {
        panic!("{left:?}")
    };
    assert!(
        raw.starts_with("{\"id\":") && raw.contains("7.25 mA\\"),
        "{raw}"
    );
    assert_eq!(readings(&found), ["2.5 mA"]);
    let is_there = |log: &Log| log.damaged().eq(&left);

    found.log.append(stamp(800), note(None, "Went on"));
    let store = open(&memory);
    store.save_job(&found).expect("room for it");
    assert!(is_there(&job_in(&memory).log), "stored");
    let carried = read(&write(&Document::Job(found.clone())));
    assert_eq!(carried, Ok(Document::Job(found.clone())));
    let backup = store.backup().expect("readable");
    let Ok(Document::Backup(backup)) = read(&write(&Document::Backup(backup))) else {
        panic!("a backup")
    };
    assert!(is_there(&backup.jobs[0].log), "in a backup");
    found.log.append(stamp(900), sign_off("Quillmere bench"));
    store.save_job(&found).expect("room for it");
    assert!(!text(&memory).contains("signed-off"), "it is packed");
    assert!(is_there(&job_in(&memory).log), "packed");

    let item = preview(Document::Job(job.clone()), &here(&job_in(&memory))).remove(0);
    let Subject::Job(healed) = item.subject else {
        panic!("a job")
    };
    assert_eq!(healed.log.damaged().len(), 0);
    assert_eq!(readings(&healed), ["2.5 mA", "7.25 mA"]);
}

#[test]
fn an_entry_that_can_not_be_read_is_restored_from_the_journal_at_the_next_start() {
    let job = two_readings();
    let memory = MemoryStorage::default();
    let store = open(&memory);
    store.rejoin("a", &[]);
    store.save_job(&job).expect("room for it");
    let journal: Vec<Entry> = store.due().expect("readable").expect("due").entries;
    let stored = text(&memory);
    for changed in broken(&stored, spans(&stored)[2].start + 40) {
        put(&memory, &changed);
        let store = open(&memory);
        assert_eq!(store.rejoin("b", &journal).failed, 0);
        assert_eq!(store.job(&job.id), Ok(Some(job.clone())), "{changed}");
    }
}

#[test]
fn a_file_with_an_entry_that_reads_as_none_is_taken_with_the_rest() {
    let job = two_readings();
    let mut file: serde_json::Value =
        serde_json::from_str(&write(&Document::Job(job.clone()))).expect("JSON");
    file["job"]["log"][2]["did"] = serde_json::json!({ "admired": 5 });
    let Ok(Document::Job(taken)) = read(&serde_json::to_string_pretty(&file).expect("JSON")) else {
        panic!("a job")
    };
    assert_eq!(taken.log.len(), job.log.len() - 1);
    let left: Vec<String> = taken.log.damaged().map(Damaged::text).collect();
    assert!(left[0].contains(r#"{"admired":5}"#), "{left:?}");
    // Nor does it have to have its parts by their names, or any.
    let mut garbled = file.clone();
    let event = garbled["job"]["log"][2].as_object_mut().expect("an event");
    let check = event.remove("check").expect("a check");
    event.insert("chekc".to_owned(), check);
    let log = garbled["job"]["log"].as_array_mut().expect("a log");
    log.push(serde_json::Value::Null);
    let Ok(Document::Job(taken)) = read(&garbled.to_string()) else {
        panic!("a job")
    };
    assert_eq!(taken.log.damaged().len(), 2);
    // One that never had a check was not damaged: whoever wrote it is told where it is wrong.
    let event = file["job"]["log"][2].as_object_mut().expect("an event");
    event.remove("check");
    let refused = read(&file.to_string()).expect_err("no event").to_string();
    let told = "job.log[2]: event “e102” at did.admired: unknown variant `admired`";
    assert!(refused.contains(told), "{refused}");
}

#[test]
fn an_entry_of_a_later_version_is_told_as_such_and_its_job_is_left_as_it_is() {
    let job = two_readings();
    let memory = kept(&job);
    let last = r#"{"id":"n1","seq":9,"at":5,"did":{"admired":{"step":"current"}}}"#;
    let check = check_of(last);
    let later = last.replace("}}}", &format!("}}}},\"check\":\"{check}\"}}"));
    let stored = text(&memory).replace("]}", &format!(",{later}]}}"));
    // With and without damage beside it.
    for stored in [stored.clone(), stored.replace("7.25 mA", "7.25 mA\"")] {
        put(&memory, &stored);
        let store = open(&memory);
        let refused = store.job(&job.id).expect_err("a later version").to_string();
        assert!(refused.contains("later version of the app"), "{refused}");
        assert_eq!(text(&memory), stored);
        let backup = store.backup().expect("a storage");
        assert_eq!(backup.unread[0].text, stored);
    }
    let file = write(&Document::Job(job));
    let (start, end) = file.rsplit_once("\n    ]").expect("the end of the log");
    let wide = later.replace(':', " :\n ").replace(',', " ,\n");
    let text = format!("{start},{wide}]{end}");
    let refused = read(&text).expect_err("a later version").to_string();
    assert!(refused.contains("later version of the app"), "{refused}");
}

#[test]
fn an_entry_that_can_not_be_read_is_shown_by_its_text() {
    let memory = kept(&two_readings());
    turn(&memory, "7.25 mA\"", "7.25 mA");
    let report = sheet(&job_in(&memory));
    let shown = damaged_section(&report);
    assert!(shown.contains("7.25 mA"), "{shown}");
}

// Files

fn here(job: &Job) -> Here {
    Here {
        jobs: vec![job.clone()],
        ..Here::default()
    }
}

fn said(document: Document, here: &Here) -> (Outcome, Vec<String>) {
    let item = preview(document, here).remove(0);
    let lines = item.differences.into_iter().map(|line| line.what);
    (item.outcome, lines.collect())
}

#[test]
fn a_file_with_a_wrong_check_is_told_and_changes_nothing_that_is_here() {
    let job = two_readings();
    let file = write(&Document::Job(job.clone()));
    assert_eq!(file.matches("7.25 mA").count(), 1);
    let altered = read(&file.replace("7.25 mA", "7.35 mA")).expect("a job");
    let sentence = "1 entry in the file is damaged: it is not what its check says, or has none, and counts for nothing";

    let (outcome, lines) = said(altered.clone(), &Here::default());
    assert_eq!(outcome, Outcome::New);
    assert_eq!(lines, [sentence]);

    let (outcome, lines) = said(altered.clone(), &here(&job));
    let nothing = Outcome::Merges {
        adds: 0,
        keeps: 1,
        clashes: 0,
        damaged: 1,
        left: 0,
    };
    assert_eq!(outcome, nothing);
    assert_eq!(
        outcome.sentence(),
        "Already here, with all that is sound in the file: nothing changes. 1 entry of the file is damaged: it counts for nothing."
    );
    assert_eq!(lines, [sentence]);
    let item = preview(altered, &here(&job)).remove(0);
    assert_eq!(item.subject, Subject::Job(job));
}

#[test]
fn a_file_that_has_a_damaged_entry_sound_puts_it_right() {
    let job = two_readings();
    let memory = kept(&job);
    turn(&memory, "7.25 mA", "7.35 mA");
    let item = preview(Document::Job(job.clone()), &here(&job_in(&memory))).remove(0);
    assert_eq!(
        item.outcome.sentence(),
        "Here already: 1 entry will be added to its log."
    );
    assert_eq!(item.subject, Subject::Job(job));
}

#[test]
fn a_file_to_which_a_changed_copy_of_an_entry_was_added_is_refused_and_matches_no_sheet() {
    let job = two_readings();
    let mut file = json_of(&job);
    let log = file["job"]["log"].as_array_mut().expect("a log");
    let mut copy = log.last().expect("an event").clone();
    copy["did"]["reading"]["value"] = "9.99 mA".into();
    log.push(copy);
    let fault = read(&file.to_string()).expect_err("a fault").to_string();
    assert!(fault.contains("one entry is in it twice"), "{fault}");
    let check = Check::of(&file.to_string(), &sheet(&job).fingerprint);
    assert!(matches!(check, Check::Unreadable(_)), "{check:?}");
}

#[test]
fn a_file_without_checks_is_taken_as_it_is() {
    let job = two_readings();
    let mut file: serde_json::Value =
        serde_json::from_str(&write(&Document::Job(job.clone()))).expect("JSON");
    for event in file["job"]["log"].as_array_mut().expect("a log") {
        let check = event.as_object_mut().expect("an event").remove("check");
        assert!(check.is_some());
    }
    assert_eq!(read(&file.to_string()), Ok(Document::Job(job)));
}

#[test]
fn an_entry_that_lost_its_check_is_not_believed_beside_others_that_have_theirs() {
    let job = two_readings();
    let mut file = json_of(&job);
    let log = file["job"]["log"].as_array_mut().expect("a log");
    let last = log.last_mut().and_then(|event| event.as_object_mut());
    let last = last.expect("an event");
    assert!(last.remove("check").is_some());
    last["did"]["reading"]["value"] = "7.35 mA".into();
    let Ok(Document::Job(taken)) = read(&file.to_string()) else {
        panic!("a job");
    };
    assert_eq!(readings(&taken), ["2.5 mA"]);
    let sheet = damaged_section(&sheet(&taken));
    assert!(
        sheet.contains("7.35\\u{a0}mA, without its check"),
        "{sheet}"
    );
    // It stays so through all that is written of it, packed too, and gives way to a sound copy.
    let memory = kept(&taken);
    assert_eq!(job_in(&memory), taken);
    let again = read(&write(&Document::Job(taken.clone())));
    assert_eq!(again, Ok(Document::Job(taken.clone())));
    let mut finished = taken.clone();
    finished.log.append(stamp(800), sign_off("Quillmere bench"));
    assert_eq!(job_in(&kept(&finished)), finished);
    assert_eq!(taken.log.merge(&job.log), job.log);
}

/// The file of a job.
fn json_of(job: &Job) -> serde_json::Value {
    serde_json::from_str(&write(&Document::Job(job.clone()))).expect("JSON")
}

#[test]
fn a_file_whose_entries_carry_no_check_says_how_many() {
    let mut file = json_of(&two_readings());
    for event in file["job"]["log"].as_array_mut().expect("a log") {
        event.as_object_mut().expect("an event").remove("check");
    }
    let old = read(&file.to_string()).expect("a job");
    let sentence = "3 entries in the file carry no check, as before there were checks: nothing tells whether they are what was entered";
    assert_eq!(said(old.clone(), &Here::default()).1, [sentence]);
    // Where they add to what is here, that is told as well.
    let lines = said(old, &here(&fresh_job())).1;
    assert_eq!(lines.first().map(String::as_str), Some(sentence));
}

#[test]
fn a_number_that_no_entry_has_is_told() {
    let job = two_readings();
    let mut file = json_of(&job);
    let log = file["job"]["log"].as_array_mut().expect("a log");
    log.remove(1);
    let Ok(Document::Job(taken)) = read(&file.to_string()) else {
        panic!("a job");
    };
    let sentence = "The entries are numbered, and 1 number is missing: an entry was lost or taken out, or was damaged once";
    let document = Document::Job(taken.clone());
    assert_eq!(said(document, &Here::default()).1, [sentence]);
    assert!(damaged_section(&sheet(&taken)).contains(sentence));
    assert_eq!((job.log.missing(), taken.log.missing()), (0, 1));
    // A damaged entry is not missing: it is shown.
    let memory = kept(&job);
    turn(&memory, "2.5 mA", "3.5 mA");
    assert_eq!(job_in(&memory).log.missing(), 0);
}

#[test]
fn a_copy_whose_damaged_entry_is_not_here_is_not_said_to_change_nothing() {
    let job = two_readings();
    let file = write(&Document::Job(job.clone())).replace("7.25 mA", "7.35 mA");
    let damaged = read(&file).expect("a job");
    let mut without = fresh_job();
    adds(&mut without, reading("current", AS_FOUND, "2.5 mA"));
    let item = preview(damaged, &here(&without)).remove(0);
    assert_eq!(
        item.outcome.sentence(),
        "Already here, with all that is sound in the file. Damaged in the file: 1 entry; not here, kept beside the log and shown as damaged: 1."
    );
    assert_eq!(item.outcome.choice(), Choice::Offered);
    let Subject::Job(taken) = item.subject else {
        panic!("a job");
    };
    assert_eq!(taken.log.damaged().len(), 1);
}

#[test]
fn the_count_of_damaged_entries_is_that_of_those_shown() {
    let memory = kept(&two_readings());
    turn(&memory, "7.25 mA", "7.35 mA");
    turn(&memory, "2.5 mA", "3.5 mA");
    let mut job = job_in(&memory);
    let deed = set_aside(&job, "Slip of the disk");
    job.record(stamp(901), deed).expect("it is damaged");
    let draft = sheet(&job).draft.expect("no result");
    let begins = "2 entries of this job are damaged, 1 of them set aside: they";
    assert!(draft.starts_with(begins), "{draft}");
    assert_eq!(job.progress().damaged.len(), 2);
}

#[test]
fn what_was_stored_without_checks_gets_them() {
    let job = two_readings();
    let memory = kept(&job);
    let bare = serde_json::to_string(&events(&job.log)).expect("JSON");
    let digest = job.procedure.digest();
    put(
        &memory,
        &format!("{{\"procedure\":\"{digest}\",\"log\":{bare}}}"),
    );
    put_layout(&memory);
    assert_eq!(job_in(&memory), job);
    turn(&memory, "7.25 mA", "7.35 mA");
    assert_eq!(job_in(&memory).log.damaged().len(), 1);
}

#[test]
fn a_job_that_finds_no_room_for_its_checks_keeps_its_form_until_it_is_written_next() {
    let job = two_readings();
    let memory = kept(&job);
    let bare = serde_json::to_string(&events(&job.log)).expect("JSON");
    let digest = job.procedure.digest();
    let text_then = format!("{{\"procedure\":\"{digest}\",\"log\":{bare}}}");
    put(&memory, &text_then);
    put_layout(&memory);
    memory.full_from_write(Some(1));
    let (store, _) = Store::open(&memory);
    assert_eq!(store.job(&job.id), Ok(Some(job.clone())));
    assert_eq!(text(&memory), text_then);
    memory.full_from_write(None);
    store.save_job(&job).expect("room for it");
    assert!(text(&memory).contains("\"check\":"));
}

// The opening

#[test]
fn a_job_whose_opening_is_damaged_is_named_unless_its_details_were_given_again() {
    let mut job = two_readings();
    let model = &header().set.model;
    for amended in [false, true] {
        if amended {
            let mut again = header();
            again.set.model = "Amended".to_owned();
            adds(&mut job, Deed::Amended(again.into()));
        }
        let memory = kept(&job);
        turn(
            &memory,
            model,
            &model.replace(|c: char| c.is_alphabetic(), "?"),
        );
        let store = open(&memory);
        match amended {
            false => {
                let refused = store.job(&job.id).expect_err("no header");
                let sentence = refused.to_string();
                assert!(sentence.contains("which opens the job"), "{sentence}");
                assert_eq!(store.contents().expect("a storage").asides.len(), 1);
            }
            true => {
                let found = job_in(&memory);
                assert_eq!(found.progress().header.set.model, "Amended");
                assert_eq!(found.log.damaged().len(), 1);
            }
        }
    }
}

// The sheet

fn sheet(job: &Job) -> Report {
    Report::of(job, &[], &look())
}

/// What a sheet shows of damaged entries.
fn damaged_section(report: &Report) -> String {
    let mut sections = report.sections.iter();
    let section = sections.find(|section| section.title == "Damaged entries");
    format!("{:?}", section.expect("the section"))
}

#[test]
fn a_sheet_says_first_what_is_damaged_and_shows_it() {
    let memory = kept(&two_readings());
    assert!(
        !sheet(&job_in(&memory))
            .draft
            .unwrap_or_default()
            .contains("damaged")
    );
    turn(&memory, "7.25 mA", "7.35 mA");
    let report = sheet(&job_in(&memory));
    let draft = report.draft.as_deref().expect("no result");
    assert!(
        draft.starts_with("1 entry of this job is damaged"),
        "{draft}"
    );
    let shown = damaged_section(&report);
    assert!(shown.contains("as found 7.35\\u{a0}mA"), "{shown}");
}

#[test]
fn the_fingerprint_covers_every_event_and_what_is_damaged() {
    let job = worked_job();
    let whole = fingerprint(&job);
    let all = events(&job.log);
    for place in 0..all.len() {
        let mut changed = all.clone();
        changed[place].at += 1;
        let log = Log::from_events(changed).expect("a log");
        assert_ne!(fingerprint(&Job { log, ..job.clone() }), whole, "{place}");
    }
    let memory = kept(&two_readings());
    turn(&memory, "7.25 mA", "7.35 mA");
    let damaged = fingerprint(&job_in(&memory));
    turn(&memory, "7.35 mA", "7.45 mA");
    assert_ne!(fingerprint(&job_in(&memory)), damaged);
    assert_ne!(fingerprint(&two_readings()), damaged);
}

// Signing off

/// A finished job before its sign-off, of which a reading was damaged.
fn one_damaged() -> (Job, Job) {
    let whole = worked_job();
    let memory = kept(&whole);
    turn(&memory, "\"850 mA\"", "\"860 mA\"");
    (job_in(&memory), whole)
}

/// Of the step whose reading it was.
fn waiver() -> Deed {
    Deed::Waived {
        step: id("current"),
        reason: "Not asked for".to_owned(),
    }
}

fn set_aside(job: &Job, reason: &str) -> Deed {
    Deed::SetAside {
        entry: job.log.damaged().next().expect("a damaged entry").text(),
        by: "Quillmere bench".to_owned(),
        reason: reason.to_owned(),
    }
}

fn refused(job: &Job, deed: Deed) -> String {
    let refused = job.clone().record(stamp(950), deed);
    refused.expect_err("not now").to_string()
}

#[test]
fn a_job_with_a_damaged_entry_is_signed_off_only_when_that_is_set_aside_with_a_reason() {
    let (mut job, _) = one_damaged();
    job.record(stamp(900), waiver()).expect("a waiver");
    let said = refused(&job, sign_off("Quillmere bench"));
    let number = job.procedure.number_of(&id("current")).expect("a step");
    assert_eq!(
        said,
        format!(
            "An entry at step {number} is damaged: bring in a file that has it sound, or set it aside with a reason"
        )
    );

    assert_eq!(refused(&job, set_aside(&job, " ")), "Type the reason first");
    let other = Deed::SetAside {
        entry: "{}".to_owned(),
        by: "Quillmere bench".to_owned(),
        reason: "None such".to_owned(),
    };
    assert!(refused(&job, other).starts_with("That entry is not damaged"));

    let deed = set_aside(&job, "The step is waived");
    job.record(stamp(901), deed).expect("it is damaged");
    let again = set_aside(&job, "Once more");
    assert!(refused(&job, again).starts_with("That entry is not damaged"));
    job.record(stamp(902), sign_off("Quillmere bench"))
        .expect("nothing is open");

    let report = sheet(&job);
    assert_eq!(report.draft, None);
    let shown = damaged_section(&report);
    for part in ["860", "The step is waived (Quillmere bench, "] {
        assert!(shown.contains(part), "{part} in {shown}");
    }
    let carried = read(&write(&Document::Job(job.clone())));
    assert_eq!(carried, Ok(Document::Job(job.clone())));
    // Packed and read again too.
    assert_eq!(job_in(&kept(&job)), job);
}

#[test]
fn setting_aside_can_be_taken_back_and_then_the_entry_is_open_again_by_hand_and_by_file() {
    let (mut job, whole) = one_damaged();
    job.record(stamp(900), waiver()).expect("a waiver");
    let deed = set_aside(&job, "The step is waived");
    let event = job.record(stamp(901), deed).expect("it is damaged");
    assert_eq!(job.last_undoable().map(|e| &e.id), Some(&event));
    let mut elsewhere = job.clone();
    job.record(stamp(902), sign_off("Quillmere bench"))
        .expect("nothing is open");
    assert!(job.progress().is_closed());

    let undo = Deed::Undone { event };
    elsewhere.record(stamp(903), undo).expect("it counts");
    assert!(refused(&elsewhere, sign_off("Quillmere bench")).contains("is damaged"));
    // The sign-off did not know of what a file brings.
    let log = job.log.merge(&elsewhere.log);
    let joined = Job { log, ..job.clone() };
    assert!(!joined.progress().is_closed());
    assert!(
        sheet(&joined)
            .draft
            .unwrap_or_default()
            .contains("is damaged")
    );

    // A sound copy settles it, whatever was said before.
    let log = joined.log.merge(&whole.log);
    let healed = Job { log, ..job };
    assert!(healed.progress().is_closed());
    assert_eq!(sheet(&healed).draft, None);
}

#[test]
fn an_entry_that_reads_as_none_keeps_a_job_from_being_signed_off_too() {
    let memory = kept(&worked_job());
    turn(&memory, "\"close\"", "\"close");
    let mut job = job_in(&memory);
    job.record(stamp(900), Deed::Ticked { step: id("close") })
        .expect("it is open");
    let said = refused(&job, sign_off("Quillmere bench"));
    assert!(said.starts_with("An entry is damaged: bring in"), "{said}");
    let deed = set_aside(&job, "Done again");
    job.record(stamp(901), deed).expect("it is damaged");
    job.record(stamp(902), sign_off("Quillmere bench"))
        .expect("nothing is open");
    assert_eq!(sheet(&job).draft, None);
}

#[test]
fn a_job_that_was_signed_off_before_an_entry_was_damaged_stays_so_and_its_sheet_is_a_draft() {
    let mut job = worked_job();
    job.record(stamp(900), sign_off("Quillmere bench"))
        .expect("nothing is open");
    let file = write(&Document::Job(job.clone()));
    let Ok(Document::Job(damaged)) = read(&file.replace("850 mA", "860 mA")) else {
        panic!("a job")
    };
    let progress = damaged.progress();
    assert!(progress.signed_off.is_some() && !progress.is_closed());
    assert!(
        sheet(&damaged)
            .draft
            .unwrap_or_default()
            .contains("is damaged")
    );
    assert!(refused(&damaged, set_aside(&damaged, "Late")).contains("reopen it"));
}

// Merging

/// A copy of a log in which some events are missing and some are damaged.
fn copy(log: &Log, states: &[u8]) -> Log {
    let text = serde_json::to_value(log).expect("JSON");
    let list = text.as_array().expect("a list").clone();
    let some = list
        .into_iter()
        .zip(states)
        .filter(|(_, state)| **state > 0);
    let read = some.map(|(mut event, state)| {
        let at = event["at"].as_i64().unwrap_or_default();
        event["at"] = (at + i64::from(*state) - 1).into();
        event
    });
    let text = serde_json::Value::Array(read.collect());
    serde_json::from_value(text).expect("a log")
}

proptest! {
    #![proptest_config(cases(64))]

    #[test]
    fn copies_merge_in_any_order_and_an_event_is_sound_where_any_copy_has_it_so(
        drafts in drafts(12),
        states in proptest::array::uniform3(proptest::collection::vec(0u8..4, 16)),
    ) {
        let log = written(&fresh_job().log, "a", &drafts);
        let [a, b, c] = states.clone().map(|states| copy(&log, &states));
        let merged = a.merge(&b).merge(&c);
        prop_assert_eq!(&a.merge(&b.merge(&c)), &merged);
        prop_assert_eq!(&c.merge(&a).merge(&b), &merged);
        prop_assert_eq!(&merged.merge(&b), &merged);
        prop_assert!(merged.holds(&a) && merged.holds(&b) && merged.holds(&c));
        for (place, event) in log.events().enumerate().take(16) {
            let states = states.clone().map(|states| states[place]);
            let is_sound = merged.events().any(|e| e == event);
            let is_left = merged.damaged().any(|left| left.event().is_some_and(|e| e.id == event.id));
            prop_assert_eq!(is_sound, states.contains(&1));
            prop_assert_eq!(is_left, !is_sound && states.iter().any(|s| *s > 1));
        }
    }
}
