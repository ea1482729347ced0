//! What the store promises: what it called saved is there, what it can't read stays there.

mod support;

use halfturn::authoring::draft::Draft as Writing;
use halfturn::exchange::{Document, Here, Part, Subject, preview, read, write};
use halfturn::job::{Deed, Event, Job, Line, Log, Phase, Preferences, Standing};
use halfturn::procedure::Procedure;
use halfturn::quantity::DecimalSign;
use halfturn::store::{
    Authored, Contents, LAYOUT, MemoryStorage, Rescue, Saving, Storage, StorageError, Store,
    Survey, Surveying, TakenIn, Typed, TypedInputs, rescue,
};
use proptest::prelude::*;
use std::collections::BTreeMap;
use std::sync::Arc;
use support::*;

const LAYOUT_KEY: &str = "halfturn:layout";
const JOB_KEY: &str = "halfturn:job:job-17";

fn open(memory: &MemoryStorage) -> Store<&MemoryStorage> {
    let (store, opened) = Store::open(memory);
    assert_eq!(opened, Ok(()));
    store
}

fn procedure_key() -> String {
    format!("halfturn:procedure:{}", procedure().digest())
}

fn job_named(name: &str) -> Job {
    Job {
        id: id(name),
        ..worked_job()
    }
}

fn preferences() -> Preferences {
    Preferences {
        decimal_sign: DecimalSign::Comma,
        technician: "Quillmere bench".to_owned(),
        ..Preferences::default()
    }
}

/// A storage with three jobs and settings in it.
fn stocked() -> MemoryStorage {
    let memory = MemoryStorage::default();
    let store = open(&memory);
    for job in [fresh_job(), job_named("job-18"), job_named("job-19")] {
        store.save_job(&job).expect("room for it");
    }
    store.save_preferences(&preferences()).expect("room for it");
    memory
}

/// Everything in the storage as it is, but for the lines, which follow from the jobs.
fn texts(memory: &MemoryStorage) -> BTreeMap<String, String> {
    let keys = memory.keys().expect("keys").into_iter();
    keys.filter(|key| !key.starts_with("halfturn:line:"))
        .map(|key| (key.clone(), text(memory, &key).unwrap_or_default()))
        .collect()
}

fn text(memory: &MemoryStorage, key: &str) -> Option<String> {
    memory.get(key).expect("a readable storage")
}

fn put(memory: &MemoryStorage, key: &str, text: &str) {
    memory.set(key, text).expect("room for it");
}

fn contents(store: &Store<&MemoryStorage>) -> Contents {
    let all = store.contents().expect("a readable storage");
    assert_surveyed(store, &all);
    all
}

fn job_ids(contents: &Contents) -> Vec<&str> {
    contents.jobs.iter().map(|job| job.id.as_str()).collect()
}

/// What the store lists, by id, once it was told that another page may have written.
fn lines(store: &Store<&MemoryStorage>) -> Vec<Line> {
    store.look_anew();
    listed(store)
}

fn listed(store: &Store<&MemoryStorage>) -> Vec<Line> {
    let lines = store.lines().expect("a readable storage");
    let mut lines: Vec<Line> = lines.iter().map(|line| Line::clone(line)).collect();
    lines.sort_by(|a, b| a.id.cmp(&b.id));
    lines
}

fn lines_of(jobs: &[Job]) -> Vec<Line> {
    jobs.iter().map(Line::of).collect()
}

fn aside_keys(contents: &Contents) -> Vec<&str> {
    contents.asides.iter().map(|a| a.key.as_str()).collect()
}

/// What a look at everything finds, key by key.
fn survey(store: &Store<&MemoryStorage>) -> Survey {
    let mut surveying = Surveying::of(store).expect("a readable storage");
    while let Some(step) = surveying.step(store) {
        step.expect("a readable storage");
    }
    surveying.end()
}

/// A look key by key finds what reading everything at once does.
fn assert_surveyed(store: &Store<&MemoryStorage>, all: &Contents) {
    let found = survey(store);
    let jobs = all.jobs.iter().flat_map(Job::pictures);
    let boards = all.procedures.iter().flat_map(Procedure::picture_names);
    assert_eq!(found.jobs, all.jobs.len());
    assert_eq!(found.procedures, all.procedures.len());
    assert_eq!(found.asides, all.asides);
    assert_eq!(found.size, all.size);
    assert_eq!(found.pictures, jobs.chain(boards.cloned()).collect());
}

// Saving

proptest! {
    #![proptest_config(cases(32))]

    #[test]
    fn a_saved_job_is_read_back_the_same(drafts in drafts(16)) {
        let memory = MemoryStorage::default();
        let store = open(&memory);
        let log = written(&fresh_job().log, "a", &drafts);
        let job = Job { log, ..fresh_job() };
        prop_assert_eq!(store.save_job(&job), Ok(job.clone()));
        prop_assert_eq!(store.job(&job.id), Ok(Some(job.clone())));
        prop_assert_eq!(contents(&store).jobs, vec![job]);
        prop_assert_eq!(contents(&store).asides, vec![]);
    }

    #[test]
    fn pages_that_save_in_turn_lose_nothing(a in drafts(6), b in drafts(6)) {
        let memory = MemoryStorage::default();
        let (here, there) = (open(&memory), open(&memory));
        let common = fresh_job();
        here.save_job(&common).expect("room for it");
        let first = Job { log: written(&common.log, "a", &a), ..common.clone() };
        let second = Job { log: written(&common.log, "b", &b), ..common.clone() };
        here.save_job(&first).expect("room for it");
        let joined = there.save_job(&second).expect("room for it");
        prop_assert_eq!(&joined.log, &first.log.merge(&second.log));
        prop_assert_eq!(here.job(&common.id), Ok(Some(joined)));
    }
}

#[test]
fn everything_else_that_is_saved_is_read_back() {
    let memory = stocked();
    let store = open(&memory);
    let (job, step) = (id("job-17"), id("osc"));
    store.save_draft(&job, &step, "10.24").expect("room for it");
    store.save_place("#/job/job-17").expect("room for it");
    let store = open(&memory);
    assert_eq!(store.preferences(), preferences());
    assert_eq!(store.place(), Some("#/job/job-17".to_owned()));
    assert_eq!(store.draft(&job, &step), Some("10.24".to_owned()));
    assert_eq!(contents(&store).procedures, [procedure()]);
    assert_eq!(job_ids(&contents(&store)), ["job-17", "job-18", "job-19"]);
    store.save_draft(&job, &step, "").expect("no room needed");
    assert_eq!(store.draft(&job, &step), None);
    store.remove_job(&job).expect("no room needed");
    assert_eq!(job_ids(&contents(&store)), ["job-18", "job-19"]);
}

#[test]
fn what_was_typed_in_a_calculation_is_read_back_until_it_is_cleared() {
    const KEY: &str = "halfturn:sum:level";
    let memory = stocked();
    let store = open(&memory);
    let typed: TypedInputs = [("level", "6,0", Some("dBW")), ("impedance", "", None)]
        .map(|(input, text, scale)| {
            let scale = scale.map(|symbol| symbol.parse().expect("a scale"));
            let text = text.to_owned();
            (input.to_owned(), Typed { text, scale })
        })
        .into();
    store.save_sum("level", &typed).expect("room for it");
    store.save_last_step("#/job/job-17/step/osc").expect("room");
    let store = open(&memory);
    assert_eq!(store.sum("level"), typed);
    assert_eq!(store.sum("pep"), TypedInputs::new());
    assert_eq!(store.last_step(), Some("#/job/job-17/step/osc".to_owned()));
    assert_eq!(contents(&store).asides, vec![]);
    // What can't be read is shown, and kept when a good value takes its place.
    put(&memory, KEY, "{garbled");
    assert_eq!(store.sum("level"), TypedInputs::new());
    assert_eq!(aside_keys(&contents(&store)), [KEY]);
    store.save_sum("level", &typed).expect("room for it");
    let kept = text(&memory, "halfturn:aside:1:sum:level");
    assert_eq!(kept.as_deref(), Some("{garbled"));
    let none = TypedInputs::new();
    store.save_sum("level", &none).expect("no room needed");
    assert_eq!(text(&memory, KEY), None);
}

#[test]
fn one_reading_costs_one_write_of_its_own_job_and_one_of_its_line() {
    let memory = stocked();
    let store = open(&memory);
    let before = texts(&memory);
    memory.full_from_write(None);
    let mut job = job_named("job-18");
    does(&mut job, reading("osc", Phase::Try, "10.24003 MHz"));
    store.save_job(&job).expect("room for it");
    assert_eq!(memory.writes(), 2);
    let after = texts(&memory);
    let changed: Vec<_> = after
        .iter()
        .filter(|(key, text)| before.get(*key) != Some(*text))
        .map(|(key, _)| key.as_str())
        .collect();
    assert_eq!(changed, ["halfturn:job:job-18"]);
    let grown = after[changed[0]].len() - before[changed[0]].len();
    assert!(grown < 200, "one event adds {grown} bytes");
}

#[test]
fn the_procedure_is_held_once_for_all_its_jobs() {
    let memory = stocked();
    let texts = texts(&memory);
    let held = texts
        .keys()
        .filter(|key| key.starts_with("halfturn:procedure:"));
    assert_eq!(held.count(), 1);
    assert!(!texts[JOB_KEY].contains("sections"));
}

#[test]
fn another_job_under_the_same_id_is_moved_aside_not_overwritten() {
    let memory = stocked();
    let store = open(&memory);
    let stored = text(&memory, JOB_KEY);
    let other = Job {
        procedure: Arc::new(Procedure {
            revision: 9,
            ..procedure()
        }),
        ..fresh_job()
    };
    assert_eq!(store.save_job(&other), Ok(other));
    assert_eq!(text(&memory, "halfturn:aside:1:job:job-17"), stored);
}

// The lines

const LINE_KEY: &str = "halfturn:line:job-17";

proptest! {
    #![proptest_config(cases(32))]

    #[test]
    fn the_lines_say_what_the_jobs_say_whoever_saved_last(a in drafts(6), b in drafts(6)) {
        let memory = MemoryStorage::default();
        let (here, there) = (open(&memory), open(&memory));
        let common = fresh_job();
        for (store, author, drafts) in [(&here, "a", &a), (&there, "b", &b)] {
            let log = written(&common.log, author, drafts);
            store.save_job(&Job { log, ..common.clone() }).expect("room for it");
            prop_assert_eq!(lines(&here), lines_of(&contents(&here).jobs));
        }
    }
}

#[test]
fn a_line_says_where_its_job_stands() {
    let in_hand = Line::of(&job_with([answer("look"), tick("lead")]));
    let Standing::InHand(step) = &in_hand.standing else {
        panic!("{in_hand:?}");
    };
    assert_eq!((step.id.as_str(), step.number), ("part", 3));
    assert_eq!((in_hand.settled, in_hand.steps), (2, 12));
    assert_eq!(in_hand.number, header().number);
    assert_eq!(in_hand.procedure.title, procedure().title);
    assert_eq!(Line::of(&worked_job()).standing, Standing::Settled);
    let finished = Line::of(&finished_job());
    assert!(
        matches!(&finished.standing, Standing::Finished { by, .. } if by == "Quillmere bench"),
        "{finished:?}"
    );
}

#[test]
fn listing_reads_the_lines_and_not_the_jobs() {
    let memory = stocked();
    let store = open(&memory);
    let before = memory.reads();
    assert_eq!(lines(&store).len(), 3);
    assert_eq!(memory.reads() - before, 3);
    assert_eq!(lines(&store).len(), 3);
    assert_eq!(memory.reads() - before, 3, "none is read twice");
}

#[test]
fn while_no_other_page_writes_listing_again_asks_the_storage_for_nothing() {
    let memory = stocked();
    let store = open(&memory);
    let before = listed(&store);
    memory.deny(true);
    assert_eq!(listed(&store), before);
    memory.deny(false);
    let mut job = job_named("job-18");
    does(&mut job, reading("osc", Phase::Try, "10.24003 MHz"));
    store.save_job(&job).expect("room for it");
    store.remove_job(&id("job-19")).expect("no room needed");
    assert_eq!(listed(&store), lines_of(&contents(&store).jobs));
    assert_eq!(listed(&store), lines(&store));
}

#[test]
fn a_line_that_is_missing_damaged_foreign_or_left_behind_is_made_again() {
    let memory = stocked();
    let foreign = text(&memory, "halfturn:line:job-18").expect("its line");
    let left_behind = text(&memory, LINE_KEY).expect("its line");
    let store = open(&memory);
    store.save_job(&finished_job()).expect("room for it");
    let expected = lines_of(&contents(&store).jobs);
    for damage in ["missing", "", "oops", "{}", &foreign, &left_behind] {
        match damage {
            "missing" => (&memory).remove(LINE_KEY).expect("no room needed"),
            _ => put(&memory, LINE_KEY, damage),
        }
        assert_eq!(aside_keys(&contents(&store)), Vec::<&str>::new());
        memory.full_from_write(Some(1));
        assert_eq!(lines(&open(&memory)), expected, "no room: {damage}");
        memory.full_from_write(None);
        assert_eq!(lines(&open(&memory)), expected, "{damage}");
        let store = open(&memory);
        let before = memory.reads();
        assert_eq!(lines(&store), expected, "{damage}");
        assert_eq!(memory.reads() - before, 3, "it was written, too: {damage}");
    }
}

#[test]
fn a_line_without_a_job_that_can_be_read_is_no_line() {
    let memory = stocked();
    let store = open(&memory);
    (&memory).remove(JOB_KEY).expect("no room needed");
    assert_eq!(lines(&store).len(), 2);
    assert_eq!(text(&memory, LINE_KEY), None);
    put(&memory, "halfturn:job:job-18", "oops");
    assert_eq!(lines(&store).len(), 1);
    // Damage that leaves the size as it was shows when the job is opened.
    let key = "halfturn:job:job-19";
    let same_size = text(&memory, key).map_or(0, |text| text.len());
    put(&memory, key, &"x".repeat(same_size));
    assert_eq!(lines(&store).len(), 1);
    assert!(store.job(&id("job-19")).is_err());
    assert_eq!(lines(&store).len(), 0);
}

#[test]
fn a_removed_job_takes_its_line_and_its_drafts_along() {
    let memory = stocked();
    let store = open(&memory);
    for job in ["job-17", "job-18"] {
        store
            .save_draft(&id(job), &id("osc"), "10.2")
            .expect("room for it");
    }
    store.remove_job(&id("job-17")).expect("no room needed");
    let mut left: Vec<String> = (&memory).keys().expect("keys");
    left.retain(|key| key.contains("job-17"));
    assert_eq!(left, ["halfturn:removed:job-17"]);
    assert_eq!(
        store.draft(&id("job-18"), &id("osc")).as_deref(),
        Some("10.2")
    );
}

// Forms

#[test]
fn what_is_typed_in_a_form_is_there_until_it_is_sent_and_goes_with_its_job() {
    let memory = stocked();
    let store = open(&memory);
    let places = ["new:header", "job-17:look~note", "job-18:look~note"];
    for place in places {
        store.save_form(place, place).expect("room for it");
    }
    let forms = |store: &Store<&MemoryStorage>| places.map(|place| store.form(place));
    let all = places.map(|place| Some(place.to_owned()));
    assert_eq!(forms(&open(&memory)), all);
    store.save_form("new:header", "").expect("room for it");
    store.remove_job(&id("job-17")).expect("no room needed");
    assert_eq!(forms(&store), [None, None, all[2].clone()]);
}

#[test]
fn what_an_earlier_version_kept_of_a_form_is_found_and_dropped_once_it_is_sent() {
    let memory = stocked();
    put(&memory, "halfturn:draft:new:header", "{}");
    let store = open(&memory);
    assert_eq!(store.form("new:header").as_deref(), Some("{}"));
    store.save_form("new:header", "").expect("room for it");
    assert_eq!(store.form("new:header"), None);
}

#[test]
fn forms_that_can_not_be_read_are_set_aside_before_their_place_is_needed() {
    let memory = stocked();
    put(&memory, "halfturn:forms", "{\"new");
    let store = open(&memory);
    assert_eq!(store.form("new:header"), None);
    store.save_form("new:header", "x").expect("room for it");
    assert_eq!(
        text(&memory, "halfturn:aside:1:forms").as_deref(),
        Some("{\"new")
    );
    assert_eq!(store.form("new:header").as_deref(), Some("x"));
}

// Saved files

#[test]
fn what_is_at_risk_is_what_no_file_has() {
    let memory = stocked();
    let store = open(&memory);
    let risk = |store: &Store<_>| store.filed().at_risk(&lines(store));
    let all = contents(&store).jobs;
    let entries: usize = all.iter().map(|job| job.log.len()).sum();
    let first = lines(&store).iter().map(|line| line.started).min();
    let before = risk(&store).expect("nothing is in a file");
    assert_eq!((before.jobs, before.entries), (3, entries));
    assert_eq!(Some(before.since), first);

    let in_files = || all.iter().map(|job| (&job.id, &job.log));
    store.note_filed(in_files()).expect("room for it");
    assert_eq!(risk(&store), None);

    let mut job = job_named("job-18");
    does(&mut job, note(None, "One more thing"));
    store.save_job(&job).expect("room for it");
    let after = risk(&store).expect("the note is in no file");
    assert_eq!((after.jobs, after.entries), (1, 1));

    // An older copy of the job in another file makes nothing safer, and nothing less safe.
    let job = [(&job.id, &job.log)];
    store.note_filed(job).expect("room for it");
    store.note_filed(in_files()).expect("room for it");
    assert_eq!(risk(&store), None);
    put(&memory, "halfturn:filed", "oops");
    assert_eq!(risk(&store).map(|risk| risk.jobs), Some(3));
    assert_eq!(aside_keys(&contents(&store)), ["halfturn:filed"]);
    store.note_filed(job).expect("room for it");
    assert_eq!(aside_keys(&contents(&store)), ["halfturn:aside:1:filed"]);
}

/// Takes a copy of a job out of a file, as the app does.
fn take_in(store: &Store<&MemoryStorage>, copy: &Job) {
    let jobs: Vec<Job> = store.job(&copy.id).expect("readable").into_iter().collect();
    let here = Here {
        jobs,
        ..Here::default()
    };
    let item = preview(Document::Job(copy.clone()), &here).remove(0);
    let Subject::Job(merged) = item.subject else {
        panic!("a job");
    };
    let joined = store.bring_job(&merged).expect("room for it");
    let taken = TakenIn::of(&merged, &item.outcome, joined);
    store.note_taken_in(&[taken]).expect("room for it");
}

#[test]
fn what_came_out_of_a_file_is_in_a_file() {
    let memory = MemoryStorage::default();
    let store = open(&memory);
    let risk = || {
        store
            .filed()
            .at_risk(&lines(&store))
            .map(|risk| risk.entries)
    };
    let mut there = job_named("job-17");
    does(&mut there, note(None, "On the other device"));
    take_in(&store, &there);
    assert_eq!(risk(), None);

    // Two entries here, and two more there: the file has the others alone.
    let mut here = there.clone();
    does(&mut here, note(None, "Here"));
    does(&mut here, note(None, "Here again"));
    store.save_job(&here).expect("room for it");
    assert_eq!(risk(), Some(2));
    for (number, text) in [(51, "There"), (52, "There again")] {
        there
            .record(stamp(number), note(None, text))
            .expect("a note");
    }
    take_in(&store, &there);
    assert_eq!(risk(), Some(2));

    // A copy that has everything leaves nothing at risk.
    let mut all = store.job(&here.id).expect("readable").expect("here");
    all.record(stamp(60), note(None, "And all of it"))
        .expect("a note");
    take_in(&store, &all);
    assert_eq!(risk(), None);
}

#[test]
fn a_job_that_was_removed_counts_as_new_when_it_comes_back_shorter() {
    let memory = MemoryStorage::default();
    let store = open(&memory);
    let risk = || {
        store
            .filed()
            .at_risk(&lines(&store))
            .map(|risk| risk.entries)
    };
    let short = job_named("job-17");
    let mut long = short.clone();
    does(&mut long, note(None, "One"));
    does(&mut long, note(None, "Two"));
    take_in(&store, &long);
    store.remove_job(&long.id).expect("no room needed");
    take_in(&store, &short);
    let mut on = short;
    does(&mut on, note(None, "Another"));
    store.save_job(&on).expect("room for it");
    assert_eq!(risk(), Some(1));
}

// No room

/// Works a whole job, saving after each deed as the screens do, and gives the job as last
/// saved and the number of the first deed that found no room.
fn work_until_full(store: &Store<&MemoryStorage>) -> (Option<Job>, Option<usize>) {
    let mut job = fresh_job();
    if store.save_job(&job).is_err() {
        return (None, Some(0));
    }
    for (index, deed) in good_deeds().into_iter().enumerate() {
        let mut next = job.clone();
        does(&mut next, deed);
        match store.save_job(&next) {
            Ok(saved) => job = saved,
            Err(error) => {
                assert_eq!(error, StorageError::Full);
                return (Some(job), Some(index + 1));
            }
        }
    }
    (Some(job), None)
}

#[test]
fn whichever_write_finds_no_room_all_that_was_saved_before_is_there() {
    let enough = MemoryStorage::default();
    let (store, _) = Store::open(&enough);
    assert_eq!(work_until_full(&store), (Some(worked_job()), None));
    let writes = enough.writes();
    let with_lines = 2 * (1 + 12);
    assert_eq!(
        writes,
        LAYOUT as usize + 1 + with_lines,
        "layouts, procedure, job and deeds"
    );
    for full_from in 1..=writes {
        let memory = MemoryStorage::default();
        memory.full_from_write(Some(full_from));
        let (store, _) = Store::open(&memory);
        let (saved, stopped) = work_until_full(&store);
        // Only the last line may be missing without anyone noticing.
        assert_eq!(stopped.is_none(), full_from == writes, "write {full_from}");

        let found = contents(&store);
        let expected: Vec<Job> = saved.into_iter().collect();
        assert_eq!(found.jobs, expected, "write {full_from}");
        assert_eq!(lines(&store), lines_of(&expected), "write {full_from}");
        assert_eq!(found.asides, [], "write {full_from}");

        memory.full_from_write(None);
        let (_, opened) = Store::open(&memory);
        assert_eq!(opened, Ok(()));
        assert_eq!(store.save_job(&worked_job()), Ok(worked_job()));
        assert_eq!(contents(&store).jobs, [worked_job()], "write {full_from}");
    }
}

#[test]
fn a_storage_that_is_full_from_the_start_says_so_and_can_be_freed() {
    let memory = stocked();
    let store = open(&memory);
    memory.full_from_write(Some(1));
    let before = texts(&memory);
    assert_eq!(store.save_place("#/"), Err(StorageError::Full));
    assert_eq!(store.save_job(&worked_job()), Err(StorageError::Full));
    assert_eq!(texts(&memory), before);
    assert_eq!(store.remove_job(&id("job-18")), Ok(()));
    let sentence = StorageError::Full.to_string();
    assert!(
        sentence.contains("full, so this was not saved"),
        "{sentence}"
    );
}

// What can't be read

const GARBAGE: [&str; 6] = [
    "",
    "oops",
    "{\"procedure\":\"gone\",\"log\":[]}",
    "{\"procedure\":",
    "[[[[",
    "\u{0}<script>",
];

#[test]
fn garbage_under_any_key_hides_nothing_else_and_stays_as_it_is() {
    for garbage in GARBAGE {
        for (key, jobs) in [
            (JOB_KEY.to_owned(), vec!["job-18", "job-19"]),
            (procedure_key(), vec![]),
            (
                "halfturn:job:".to_owned(),
                vec!["job-17", "job-18", "job-19"],
            ),
            (
                "halfturn:preferences".to_owned(),
                vec!["job-17", "job-18", "job-19"],
            ),
            (
                "halfturn:something".to_owned(),
                vec!["job-17", "job-18", "job-19"],
            ),
        ] {
            let memory = stocked();
            put(&memory, &key, garbage);
            let before = texts(&memory);
            let store = open(&memory);
            let found = contents(&store);
            assert_eq!(job_ids(&found), jobs, "{key}: {garbage}");
            let listed = found.asides.iter().find(|aside| aside.key == key);
            assert_eq!(
                listed.map(|aside| aside.text.as_str()),
                Some(garbage),
                "{key}"
            );
            assert_eq!(texts(&memory), before, "{key}: {garbage}");
        }
    }
}

#[test]
fn what_is_not_of_this_app_is_neither_listed_nor_touched() {
    let memory = stocked();
    put(&memory, "someone-else:job:1", "oops");
    let store = open(&memory);
    assert_eq!(contents(&store).asides, []);
    assert_eq!(text(&memory, "someone-else:job:1"), Some("oops".to_owned()));
}

#[test]
fn garbage_is_moved_aside_when_its_place_is_needed() {
    let settings = "halfturn:preferences".to_owned();
    for (key, aside) in [
        (JOB_KEY.to_owned(), "halfturn:aside:1:job:job-17".to_owned()),
        (settings, "halfturn:aside:1:preferences".to_owned()),
        (
            procedure_key(),
            format!("halfturn:aside:1:procedure:{}", procedure().digest()),
        ),
    ] {
        for garbage in GARBAGE {
            let memory = stocked();
            put(&memory, &key, garbage);
            let store = open(&memory);
            assert_eq!(store.save_job(&worked_job()), Ok(worked_job()), "{key}");
            assert_eq!(store.save_preferences(&preferences()), Ok(()));
            assert_eq!(text(&memory, &aside).as_deref(), Some(garbage));
            let found = contents(&store);
            assert_eq!(job_ids(&found), ["job-17", "job-18", "job-19"], "{key}");
            assert_eq!(aside_keys(&found), [aside.as_str()]);
        }
    }
}

#[test]
fn garbage_upon_garbage_is_all_kept_and_the_same_only_once() {
    let memory = stocked();
    let store = open(&memory);
    for garbage in ["one", "two", "one"] {
        put(&memory, JOB_KEY, garbage);
        store.save_job(&fresh_job()).expect("room for it");
    }
    assert_eq!(
        aside_keys(&contents(&store)),
        ["halfturn:aside:1:job:job-17", "halfturn:aside:2:job:job-17"]
    );
}

#[test]
fn garbage_is_kept_even_when_there_is_no_room_to_move_it() {
    for full_from in 1..=2 {
        let memory = stocked();
        put(&memory, JOB_KEY, "oops");
        let store = open(&memory);
        memory.full_from_write(Some(full_from));
        for _ in 0..3 {
            assert_eq!(store.save_job(&worked_job()), Err(StorageError::Full));
        }
        assert_eq!(text(&memory, JOB_KEY), Some("oops".to_owned()));
        assert_eq!(job_ids(&contents(&store)), ["job-18", "job-19"]);
        memory.full_from_write(None);
        assert_eq!(store.save_job(&worked_job()), Ok(worked_job()));
        let aside = text(&memory, "halfturn:aside:1:job:job-17");
        assert_eq!(aside, Some("oops".to_owned()));
        assert_eq!(contents(&store).asides.len(), 1);
    }
}

#[test]
fn a_job_whose_procedure_is_garbage_is_whole_again_when_it_is_saved() {
    for garbage in ["oops", ""] {
        let memory = stocked();
        let store = open(&memory);
        let mut elsewhere = fresh_job();
        does(&mut elsewhere, answer("look"));
        store.save_job(&elsewhere).expect("room for it");
        put(&memory, &procedure_key(), garbage);
        let mut here = fresh_job();
        here.record(stamp(50), note(None, "Only here"))
            .expect("a note");
        let joined = store.save_job(&here).expect("room for it");
        assert_eq!(joined.log, elsewhere.log.merge(&here.log));
        assert_eq!(store.job(&here.id), Ok(Some(joined)));
    }
}

#[test]
fn a_job_without_its_procedure_is_listed_and_says_what_is_missing() {
    let memory = stocked();
    let store = open(&memory);
    (&memory).remove(&procedure_key()).expect("no room needed");
    let found = contents(&store);
    assert_eq!(job_ids(&found), Vec::<&str>::new());
    assert_eq!(found.asides.len(), 3);
    let error = store.job(&id("job-17")).expect_err("no procedure");
    assert!(error.to_string().contains("is missing"), "{error}");
}

#[test]
fn what_was_moved_aside_can_be_taken_away_once_it_is_saved_elsewhere() {
    let memory = stocked();
    put(&memory, JOB_KEY, "oops");
    let store = open(&memory);
    assert_eq!(store.remove_aside(JOB_KEY), Ok(()));
    assert_eq!(contents(&store).asides, []);
}

/// One odd record must not make the backup of all the others unreadable.
#[test]
fn a_backup_of_whatever_is_here_can_be_read_again() {
    let digest = procedure().digest();
    let odd_step = "[{\"id\":\"x\",\"seq\":1,\"at\":0,\"did\":{\"opened\":{\"set\":{}}}},\
        {\"id\":\"y\",\"seq\":2,\"at\":0,\"did\":{\"ticked\":{\"step\":\"polish\"}}}]";
    for (log, part) in [
        ("[]", "no event opens the job"),
        (odd_step, "event “y” is about a step “polish”"),
    ] {
        let memory = stocked();
        let record = format!("{{\"procedure\":\"{digest}\",\"log\":{log}}}");
        put(&memory, "halfturn:job:odd", &record);
        let store = open(&memory);
        let backup = Document::Backup(store.backup().expect("a readable storage"));
        assert_eq!(read(&write(&backup)), Ok(backup));
        let found = contents(&store);
        assert_eq!(aside_keys(&found), ["halfturn:job:odd"]);
        assert!(found.asides[0].why.contains(part), "{:?}", found.asides);
    }
}

proptest! {
    #![proptest_config(cases(100))]

    #[test]
    fn a_damaged_value_is_read_or_listed_and_everything_else_is_there(
        which in any::<prop::sample::Index>(),
        place in any::<prop::sample::Index>(),
        byte in any::<u8>(),
    ) {
        let memory = stocked_with_everything();
        let mut keys = (&memory).keys().expect("keys");
        keys.sort();
        let key = &keys[which.index(keys.len())];
        let mut bytes = text(&memory, key).unwrap_or_default().into_bytes();
        let place = place.index(bytes.len());
        bytes[place] = byte;
        put(&memory, key, &String::from_utf8_lossy(&bytes));
        let (store, _) = Store::open(&memory);
        let found = contents(&store);
        let jobs_listed = found.asides.iter().filter(|a| a.key.starts_with("halfturn:job:"));
        prop_assert_eq!(found.jobs.len() + jobs_listed.count(), 3);
        store.save_job(&job_named("job-18")).map(drop).or_else(newer_is_left_alone)?;
    }

    #[test]
    fn whatever_is_missing_every_job_that_is_left_is_listed_and_read(
        gone in prop::collection::vec(any::<prop::sample::Index>(), 1..6),
    ) {
        let memory = stocked_with_everything();
        for which in gone {
            let mut keys = (&memory).keys().expect("keys");
            keys.sort();
            (&memory).remove(&keys[which.index(keys.len())]).expect("no room needed");
        }
        let store = open(&memory);
        let has_procedure = text(&memory, &procedure_key()).is_some();
        let left = ["job-17", "job-18", "job-19"]
            .into_iter()
            .filter(|name| text(&memory, &format!("halfturn:job:{name}")).is_some());
        let left: Vec<&str> = left.filter(|_| has_procedure).collect();
        let found = contents(&store);
        prop_assert_eq!(job_ids(&found), left);
        // A line may outlive the procedure until its job is looked at.
        found.jobs.iter().for_each(|job| drop(store.job(&job.id)));
        prop_assert!(lines(&store).len() >= found.jobs.len());
        prop_assert_eq!(store.save_job(&worked_job()), Ok(worked_job()));
    }
}

/// Three jobs, one of them finished, and something under every other kind of key.
fn stocked_with_everything() -> MemoryStorage {
    let memory = stocked();
    let store = open(&memory);
    let finished = Job {
        id: id("job-19"),
        ..finished_job()
    };
    store.save_job(&finished).expect("room for it");
    store.save_place("#/").expect("room for it");
    store.save_kit(&[]).expect("room for it");
    store
        .note_filed([(&finished.id, &finished.log)])
        .expect("room for it");
    store
        .save_draft(&finished.id, &id("osc"), "10.2")
        .expect("room for it");
    memory
}

/// A damaged mark of the layout may be read as a later one.
fn newer_is_left_alone(error: StorageError) -> Result<(), TestCaseError> {
    match error {
        StorageError::Newer(_) => Ok(()),
        other => Err(TestCaseError::fail(other.to_string())),
    }
}

#[test]
fn while_everything_is_denied_nothing_breaks_and_afterwards_all_is_there() {
    let memory = stocked();
    let store = open(&memory);
    memory.deny(true);
    let (denied, opened) = Store::open(&memory);
    assert_eq!(opened, Err(StorageError::Denied));
    for store in [&store, &denied] {
        assert_eq!(store.save_job(&worked_job()), Err(StorageError::Denied));
        assert_eq!(store.job(&id("job-17")), Err(StorageError::Denied));
        assert_eq!(store.lines(), Err(StorageError::Denied));
        assert_eq!(store.contents(), Err(StorageError::Denied));
        assert_eq!(store.procedures(), Err(StorageError::Denied));
        assert_eq!(store.remove_job(&id("job-17")), Err(StorageError::Denied));
        assert_eq!(store.preferences(), Preferences::default());
    }
    memory.deny(false);
    for store in [&store, &denied] {
        assert_eq!(lines(store), lines_of(&contents(store).jobs));
        assert_eq!(job_ids(&contents(store)), ["job-17", "job-18", "job-19"]);
    }
}

// Layouts

#[test]
fn data_of_a_later_version_is_read_and_every_write_is_refused() {
    let memory = stocked();
    let later = LAYOUT + 1;
    put(&memory, LAYOUT_KEY, &later.to_string());
    put(&memory, "halfturn:job:garbled", "oops");
    let before = texts(&memory);
    let (store, opened) = Store::open(&memory);
    let refused = StorageError::Newer(later);
    assert_eq!(opened, Err(refused.clone()));
    let (job, step) = (id("job-17"), id("osc"));
    for outcome in [
        store.save_job(&worked_job()).map(drop),
        store.save_job(&job_named("garbled")).map(drop),
        store
            .save_procedure(&Procedure {
                revision: 9,
                ..procedure()
            })
            .map(drop),
        store.save_preferences(&Preferences::default()),
        store.save_place("#/"),
        store.save_draft(&job, &step, "1"),
        store.save_draft(&job, &step, ""),
        store.save_last_step("#/"),
        store.save_sum("level", &[("level".to_owned(), Typed::default())].into()),
        store.save_sum("level", &TypedInputs::new()),
        store.save_authored(&writing("A"), 0, 1).map(drop),
        store.remove_authored(&id("p")),
        store.remove_job(&job),
        store.note_filed([]),
        store.remove_aside("halfturn:job:garbled"),
    ] {
        assert_eq!(outcome, Err(refused.clone()));
    }
    assert_eq!(texts(&memory), before);
    assert_eq!(job_ids(&contents(&store)), ["job-17", "job-18", "job-19"]);
    assert_eq!(store.preferences(), preferences());
    let sentence = refused.to_string();
    assert!(
        sentence.contains("layout 4, from a later version of the app"),
        "{sentence}"
    );
}

#[test]
fn a_layout_mark_that_cannot_be_read_is_moved_aside_and_written_anew() {
    for mark in ["", "oops", "-1", "1.5", "99999999999999"] {
        let memory = stocked();
        put(&memory, LAYOUT_KEY, mark);
        let store = open(&memory);
        assert_eq!(text(&memory, LAYOUT_KEY), Some(LAYOUT.to_string()));
        let found = contents(&store);
        assert_eq!(job_ids(&found), ["job-17", "job-18", "job-19"]);
        assert_eq!(aside_keys(&found), ["halfturn:aside:1:layout"]);
        assert_eq!(found.asides[0].text, mark);
        assert_eq!(store.save_job(&worked_job()), Ok(worked_job()));
    }
}

#[test]
fn a_layout_mark_that_cannot_be_read_in_a_full_storage_locks_nobody_out() {
    let memory = stocked();
    put(&memory, LAYOUT_KEY, "oops");
    memory.full_from_write(Some(1));
    let (store, opened) = Store::open(&memory);
    assert_eq!(opened, Err(StorageError::Full));
    assert_eq!(text(&memory, LAYOUT_KEY), Some("oops".to_owned()));
    assert_eq!(aside_keys(&contents(&store)), [LAYOUT_KEY]);
    assert_eq!(store.remove_job(&id("job-18")), Ok(()));
    memory.full_from_write(None);
    assert_eq!(store.save_job(&worked_job()), Ok(worked_job()));
}

#[test]
fn a_change_of_layout_that_was_cut_off_is_taken_up_again() {
    let memory = stocked();
    (&memory).remove(LAYOUT_KEY).expect("no room needed");
    memory.full_from_write(Some(1));
    let (store, opened) = Store::open(&memory);
    assert_eq!(opened, Err(StorageError::Full));
    assert_eq!(job_ids(&contents(&store)), ["job-17", "job-18", "job-19"]);
    memory.full_from_write(None);
    let store = open(&memory);
    assert_eq!(text(&memory, LAYOUT_KEY), Some(LAYOUT.to_string()));
    assert_eq!(job_ids(&contents(&store)), ["job-17", "job-18", "job-19"]);
    assert_eq!(contents(&store).asides, []);
}

/// Three jobs as layout 1 had them, two of them finished and none packed. No event had a check.
fn layout_1() -> (MemoryStorage, Vec<Job>) {
    let memory = stocked();
    let finished = ["job-18", "job-19"].map(|name| Job {
        id: id(name),
        ..finished_job()
    });
    let jobs = [vec![fresh_job()], finished.to_vec()].concat();
    for job in &jobs {
        let events: Vec<&Event> = job.log.events().collect();
        let log = serde_json::to_string(&events).expect("a log");
        let digest = job.procedure.digest();
        let text = format!("{{\"procedure\":\"{digest}\",\"log\":{log}}}");
        put(&memory, &format!("halfturn:job:{}", job.id), &text);
        let line = format!("halfturn:line:{}", job.id);
        (&memory).remove(&line).expect("no room needed");
    }
    put(&memory, LAYOUT_KEY, "1");
    (memory, jobs)
}

fn is_packed(memory: &MemoryStorage, key: &str) -> bool {
    let text = text(memory, key).expect("the job");
    !text.contains("signed-off")
}

#[test]
fn jobs_of_layout_1_are_packed_or_get_their_checks_and_say_the_same() {
    let (memory, jobs) = layout_1();
    let unpacked = texts(&memory);
    let store = open(&memory);
    assert_eq!(text(&memory, LAYOUT_KEY), Some(LAYOUT.to_string()));
    for (key, text) in texts(&memory) {
        let was = unpacked[&key].len();
        match key.as_str() {
            "halfturn:job:job-18" | "halfturn:job:job-19" => assert!(text.len() < was, "{key}"),
            "halfturn:job:job-17" => assert!(text.contains("\"check\":"), "{text}"),
            LAYOUT_KEY => {}
            _ => assert_eq!(text, unpacked[&key], "{key}"),
        }
    }
    assert_eq!(contents(&store).jobs, jobs);
    assert_eq!(lines(&store), lines_of(&jobs));
}

#[test]
fn wherever_the_packing_is_cut_off_all_is_there_and_it_is_taken_up_again() {
    for full_from in 1..=6 {
        let (memory, jobs) = layout_1();
        put(&memory, "halfturn:job:odd", "oops");
        memory.full_from_write(Some(full_from));
        let (store, _) = Store::open(&memory);
        let found = contents(&store);
        assert_eq!(found.jobs, jobs, "write {full_from}");
        assert_eq!(aside_keys(&found), ["halfturn:job:odd"]);
        assert_eq!(lines(&store), lines_of(&jobs), "write {full_from}");

        memory.full_from_write(None);
        let store = open(&memory);
        assert_eq!(text(&memory, LAYOUT_KEY), Some(LAYOUT.to_string()));
        assert_eq!(contents(&store).jobs, jobs, "write {full_from}");
        assert!(is_packed(&memory, "halfturn:job:job-18"));
        assert!(is_packed(&memory, "halfturn:job:job-19"));
    }
}

#[test]
fn a_job_is_packed_when_it_is_signed_off_and_open_again_when_it_is_reopened() {
    let memory = MemoryStorage::default();
    let store = open(&memory);
    let mut job = finished_job();
    store.save_job(&job).expect("room for it");
    assert!(is_packed(&memory, JOB_KEY));
    assert_eq!(store.job(&job.id), Ok(Some(job.clone())));
    does(&mut job, reopen("One screw found"));
    store.save_job(&job).expect("room for it");
    assert!(!is_packed(&memory, JOB_KEY));
    assert_eq!(store.job(&job.id), Ok(Some(job)));
}

proptest! {
    #![proptest_config(cases(64))]

    #[test]
    fn a_packed_job_is_read_back_the_same(drafts in drafts(24)) {
        let memory = MemoryStorage::default();
        let mut log = written(&fresh_job().log, "a", &drafts);
        log.append(stamp(9000), sign_off("Quillmere bench"));
        let job = Job { log, ..fresh_job() };
        open(&memory).save_job(&job).expect("room for it");
        prop_assert!(is_packed(&memory, JOB_KEY));
        prop_assert_eq!(open(&memory).job(&job.id), Ok(Some(job)));
    }

    #[test]
    fn a_packed_job_that_was_damaged_is_listed_or_sound(
        place in any::<prop::sample::Index>(),
        byte in any::<u8>(),
    ) {
        let memory = MemoryStorage::default();
        open(&memory).save_job(&finished_job()).expect("room for it");
        let mut bytes = text(&memory, JOB_KEY).unwrap_or_default().into_bytes();
        let place = place.index(bytes.len());
        bytes[place] = byte;
        put(&memory, JOB_KEY, &String::from_utf8_lossy(&bytes));
        let found = contents(&open(&memory));
        prop_assert_eq!(found.jobs.len() + found.asides.len(), 1);
    }
}

#[test]
fn opening_a_storage_in_the_present_layout_writes_nothing() {
    let memory = stocked();
    memory.full_from_write(None);
    open(&memory);
    assert_eq!(memory.writes(), 0);
}

#[test]
fn channel_tables_are_kept_and_go_into_the_backup() {
    let memory = MemoryStorage::default();
    let (store, opened) = Store::open(&memory);
    assert_eq!(opened, Ok(()));
    let tables = [halfturn::radio::channels::ChannelTable::uk_27_81()];
    assert_eq!(store.save_channel_tables(&tables), Ok(()));
    assert_eq!(store.channel_tables(), tables);
    assert_eq!(store.backup().map(|b| b.channels), Ok(tables.to_vec()));
}

// Procedures that are being written

const AUTHORING_KEY: &str = "halfturn:authoring:p";

fn writing(title: &str) -> Writing {
    Writing {
        title: title.to_owned(),
        ..Writing::blank(id("p"))
    }
}

#[test]
fn a_procedure_being_written_is_read_back_after_each_change_until_it_is_removed() {
    let memory = MemoryStorage::default();
    let store = open(&memory);
    for (seen, title) in ["", "T", "Trainer, receiver"].into_iter().enumerate() {
        let seen = seen as u64;
        let draft = writing(title);
        let saved = store.save_authored(&draft, seen, 17);
        assert_eq!(saved, Ok(Saving::Saved(seen + 1)));
        let stored = open(&memory).authored(&draft.id);
        let record = Authored {
            saved: seen + 1,
            at: 17,
            draft,
        };
        assert_eq!(stored, Ok(Some(record)));
    }
    assert_eq!(contents(&store).asides, []);
    store.remove_authored(&id("p")).expect("no room needed");
    assert_eq!(store.authored(&id("p")), Ok(None));
}

#[test]
fn the_procedure_saved_last_is_listed_first() {
    let memory = MemoryStorage::default();
    let store = open(&memory);
    for (name, at) in [("a", 2), ("b", 3), ("c", 1)] {
        let saved = store.save_authored(&Writing::blank(id(name)), 0, at);
        assert_eq!(saved, Ok(Saving::Saved(1)));
    }
    let all = store.all_authored().expect("a readable storage");
    let names: Vec<_> = all.iter().map(|a| a.draft.id.as_str()).collect();
    assert_eq!(names, ["b", "a", "c"]);
}

#[test]
fn two_pages_that_write_one_procedure_do_not_overwrite_each_other() {
    let memory = MemoryStorage::default();
    let (here, there) = (open(&memory), open(&memory));
    here.save_authored(&writing("A"), 0, 1)
        .expect("room for it");
    there
        .save_authored(&writing("B"), 1, 2)
        .expect("room for it");
    let refused = here.save_authored(&writing("C"), 1, 3);
    let theirs = Authored {
        saved: 2,
        at: 2,
        draft: writing("B"),
    };
    assert_eq!(refused, Ok(Saving::ChangedElsewhere(Box::new(theirs))));
    there.remove_authored(&id("p")).expect("no room needed");
    assert_eq!(here.save_authored(&writing("C"), 2, 4), Ok(Saving::Gone));
    assert_eq!(text(&memory, AUTHORING_KEY), None);
}

#[test]
fn a_procedure_being_written_that_cannot_be_read_is_listed_and_moved_aside() {
    let other = serde_json::to_string(&Authored {
        saved: 1,
        at: 1,
        draft: Writing::blank(id("q")),
    });
    for garbage in ["{\"saved\":1", "", &other.expect("JSON")] {
        let memory = MemoryStorage::default();
        put(&memory, AUTHORING_KEY, garbage);
        let store = open(&memory);
        assert_eq!(aside_keys(&contents(&store)), [AUTHORING_KEY]);
        assert!(store.authored(&id("p")).is_err());
        assert_eq!(store.all_authored(), Ok(vec![]));
        let saved = store.save_authored(&writing("A"), 0, 1);
        assert_eq!(saved, Ok(Saving::Saved(1)));
        let aside = text(&memory, "halfturn:aside:1:authoring:p");
        assert_eq!(aside.as_deref(), Some(garbage));
    }
}

#[test]
fn a_change_that_finds_no_room_leaves_what_was_saved_before() {
    let memory = MemoryStorage::default();
    let store = open(&memory);
    store
        .save_authored(&writing("A"), 0, 1)
        .expect("room for it");
    memory.full_from_write(Some(1));
    let full = store.save_authored(&writing("AB"), 1, 2);
    assert_eq!(full, Err(StorageError::Full));
    let stored = store.authored(&id("p")).expect("readable").expect("there");
    assert_eq!((stored.saved, stored.draft), (1, writing("A")));
}

// What is saved when the app has stopped

/// The file that `public/crash.js` makes of a storage.
fn crash_file(memory: &MemoryStorage) -> String {
    let texts: BTreeMap<String, String> = memory
        .keys()
        .unwrap()
        .into_iter()
        .map(|key| (key.clone(), memory.get(&key).unwrap().unwrap()))
        .collect();
    serde_json::to_string_pretty(&texts).unwrap()
}

#[test]
fn the_file_saved_when_the_app_has_stopped_is_taken_in_like_a_backup() {
    let memory = MemoryStorage::default();
    let store = open(&memory);
    store.save_job(&worked_job()).unwrap();
    store.save_job(&finished_job()).unwrap();
    store
        .save_preferences(&Preferences {
            tone: true,
            ..Preferences::default()
        })
        .unwrap();
    let rescued = rescue(&crash_file(&memory)).expect("a file");
    assert_eq!(rescued.document, Document::Backup(store.backup().unwrap()));
    assert_eq!(rescued.faulty, []);
}

#[test]
fn what_is_damaged_in_it_is_named_and_leaves_the_rest_to_be_taken() {
    let memory = MemoryStorage::default();
    let store = open(&memory);
    store.save_job(&worked_job()).unwrap();
    (&memory).set("halfturn:job:broken", "{").unwrap();
    (&memory).set("halfturn:preferences", "5").unwrap();
    let rescued = rescue(&crash_file(&memory)).expect("a file");
    let Document::Backup(backup) = rescued.document else {
        panic!("no backup")
    };
    assert_eq!(backup.whole_jobs(), [worked_job()]);
    // Settings that can't be read are none, so that those here stay.
    assert_eq!(backup.preferences, None);
    let names: Vec<_> = rescued
        .faulty
        .iter()
        .filter_map(|f| f.name.as_deref())
        .collect();
    assert_eq!(names, ["halfturn:preferences", "halfturn:job:broken"]);
    assert!(
        rescued
            .faulty
            .iter()
            .all(|faulty| faulty.part == Part::Kept)
    );
}

#[test]
fn it_is_read_entry_by_entry_so_that_it_can_be_stopped_between_any_two() {
    let memory = MemoryStorage::default();
    let store = open(&memory);
    store.save_job(&finished_job()).unwrap();
    let text = crash_file(&memory);
    let mut rescue = Rescue::of(&text).expect("a file");
    let all = rescue.entries();
    assert_eq!(all, (&memory).keys().unwrap().len());
    let behind: Vec<usize> = rescue.by_ref().collect();
    assert_eq!(behind, (1..=all).collect::<Vec<_>>());
    let Document::Backup(backup) = rescue.end().document else {
        panic!("no backup")
    };
    assert_eq!(backup.jobs, store.backup().unwrap().jobs);
}

#[test]
fn no_other_file_is_taken_for_one() {
    let job = write(&Document::Job(worked_job()));
    for text in [
        "",
        "{",
        "{}",
        "[]",
        "{\"a\": \"b\"}",
        "{\"halfturn:kit\": 5}",
        &job,
    ] {
        assert_eq!(rescue(text), None, "{text}");
    }
}

#[test]
fn a_job_that_cannot_be_read_is_counted_and_goes_into_the_backup_as_it_is() {
    let memory = stocked();
    let store = open(&memory);
    put(&memory, JOB_KEY, "oops");
    put(&memory, "halfturn:kit", "no list");
    let listed = store.lines().expect("a readable storage");
    assert_eq!(store.unread_jobs(&listed), Ok(vec![id("job-17")]));
    let backup = store.backup().expect("a backup");
    assert_eq!(backup.jobs.len(), 2);
    let unread: Vec<(&str, &str)> = backup.unread.iter().map(|u| (&*u.key, &*u.text)).collect();
    assert_eq!(unread, [("halfturn:kit", "no list"), (JOB_KEY, "oops")]);
    // It comes through the file as it was, keeps nothing else out, and is told by its name.
    let told = backup.unread[1].faulty();
    assert_eq!(told.name.as_deref(), Some(JOB_KEY));
    let document = Document::Backup(backup);
    let text: String = halfturn::exchange::parts(&document, &[]).collect();
    let file = halfturn::exchange::open(&text).expect("a file");
    assert_eq!(file.document, document);
    assert_eq!(file.faulty, []);
}

#[test]
fn two_copies_that_would_be_longer_than_any_log_are_not_joined() {
    let memory = MemoryStorage::default();
    let store = open(&memory);
    let opened = fresh_job();
    let copy = |name: &str| {
        let paused = (2..40_000).map(|seq| Event {
            id: id(&format!("{name}{seq}")),
            seq,
            at: 0,
            did: Deed::Paused,
        });
        let log = Log::from_events(opened.log.events().cloned().chain(paused)).expect("a log");
        Job {
            log,
            ..opened.clone()
        }
    };
    let here = copy("a");
    store.save_job(&here).expect("room for it");
    let refused = store.bring_job(&copy("b")).expect_err("too long");
    let sentence = refused.to_string();
    assert!(
        sentence.contains("would have more than 65536 entries"),
        "{sentence}"
    );
    assert_eq!(store.job(&here.id), Ok(Some(here)));
}
