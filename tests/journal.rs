//! What the journal promises: what it had is in the jobs again, however much a killed browser
//! had not yet put into its storage.

mod support;

use halfturn::job::{Job, Phase};
use halfturn::store::{
    Due, Entry, Journal, MemoryStorage, Rejoined, Storage, StorageError, Store, journal_prefix,
};
use proptest::prelude::*;
use support::*;

const DAY: i64 = 24 * 60 * 60 * 1000;

/// A page that saves a job after each deed, and what its journal then holds.
#[derive(Default)]
struct Page {
    journal: Journal,
    entries: Vec<Entry>,
}

impl Page {
    fn save(&mut self, store: &Store<&MemoryStorage>, job: &Job, now: i64) -> Due {
        store.save_job(job).expect("room for it");
        let due = self.journal.due(job, &store.digest(&job.procedure), now);
        let replaced = |key: &str| due.entries.iter().any(|(new, _)| new == key);
        let outdated = |key: &String| due.outdated.contains(key);
        self.entries
            .retain(|(key, _)| !replaced(key) && !outdated(key));
        self.entries.extend(due.entries.clone());
        due
    }
}

fn open(memory: &MemoryStorage) -> Store<&MemoryStorage> {
    let (store, opened) = Store::open(memory);
    assert_eq!(opened, Ok(()));
    store
}

fn copy(memory: &MemoryStorage) -> MemoryStorage {
    let copy = MemoryStorage::default();
    for key in memory.keys().expect("keys") {
        let text = memory.get(&key).expect("a readable storage");
        (&copy)
            .set(&key, &text.unwrap_or_default())
            .expect("room for it");
    }
    copy
}

proptest! {
    #![proptest_config(cases(32))]

    #[test]
    fn whenever_the_browser_is_killed_every_saved_entry_comes_back(
        drafts in drafts(12),
        on_disk in any::<prop::sample::Index>(),
        killed in any::<prop::sample::Index>(),
    ) {
        let memory = MemoryStorage::default();
        let store = open(&memory);
        let mut page = Page::default();
        // What the disk would hold after each saving, had the browser written it then.
        let mut disks = vec![copy(&memory)];
        let mut jobs = vec![fresh_job()];
        page.save(&store, &jobs[0], 0);
        let mut journals = vec![page.entries.clone()];
        for draft in &drafts {
            disks.push(copy(&memory));
            let log = written(&jobs[jobs.len() - 1].log, "a", std::slice::from_ref(draft));
            jobs.push(Job { log, ..fresh_job() });
            page.save(&store, &jobs[jobs.len() - 1], 0);
            journals.push(page.entries.clone());
        }
        let killed = killed.index(jobs.len());
        let disk = &disks[on_disk.index(killed + 1)];
        let store = open(disk);
        let rejoined = store.rejoin(&journals[killed]);
        prop_assert_eq!(rejoined.failed, 0);
        prop_assert_eq!(store.job(&id("job-17")), Ok(Some(jobs[killed].clone())));
        prop_assert_eq!(store.rejoin(&journals[killed]), Rejoined::default());
    }
}

#[test]
fn the_first_saving_on_a_page_holds_the_whole_job_and_each_further_one_what_is_new() {
    let memory = MemoryStorage::default();
    let store = open(&memory);
    let mut page = Page::default();
    let mut job = worked_job();
    let first = page.save(&store, &job, 0);
    assert_eq!(first.events.len(), job.log.len());
    assert_eq!(first.entries.len(), 2, "the job and its procedure");
    let event = does(&mut job, reading("osc", Phase::Try, "10.24003 MHz"));
    let second = page.save(&store, &job, 0);
    assert_eq!(second.events, [event]);
    assert_eq!(second.entries.len(), 1);
    assert!(second.entries[0].1.len() < 400, "{}", second.entries[0].1);
    assert_eq!(page.save(&store, &job, 0), Due::default());
    for (key, _) in first.entries.iter().take(1).chain(&second.entries) {
        assert!(key.starts_with(&journal_prefix(&job.id)), "{key}");
    }
}

#[test]
fn what_could_not_be_written_is_due_again() {
    let mut journal = Journal::default();
    let job = worked_job();
    let digest = job.procedure.digest();
    let due = journal.due(&job, &digest, 0);
    journal.lost(&job.id);
    assert_eq!(journal.due(&job, &digest, 0), due);
}

#[test]
fn entries_stay_a_day_and_then_make_room() {
    let memory = MemoryStorage::default();
    let store = open(&memory);
    let mut page = Page::default();
    let mut job = worked_job();
    page.journal
        .found(&[("job:old:x".to_owned(), String::new())], 0);
    page.save(&store, &job, 10);
    does(&mut job, note(None, "The next morning"));
    assert_eq!(page.save(&store, &job, DAY).outdated, Vec::<String>::new());
    does(&mut job, note(None, "A little later"));
    assert_eq!(page.save(&store, &job, DAY + 1).outdated, ["job:old:x"]);
    does(&mut job, note(None, "Later still"));
    assert_eq!(page.save(&store, &job, DAY + 11).outdated.len(), 2);
    assert_eq!(page.entries.len(), 3, "of the three last savings");
}

#[test]
fn a_damaged_job_that_the_journal_has_whole_comes_back_and_the_damage_is_kept() {
    const KEY: &str = "halfturn:job:job-17";
    let memory = MemoryStorage::default();
    let store = open(&memory);
    let mut page = Page::default();
    page.save(&store, &worked_job(), 0);
    (&memory).set(KEY, "oops").expect("room for it");
    let rejoined = store.rejoin(&page.entries);
    assert_eq!(rejoined.jobs, [(id("job-17"), worked_job().log.len())]);
    assert_eq!(store.job(&id("job-17")), Ok(Some(worked_job())));
    let aside = (&memory).get("halfturn:aside:1:job:job-17");
    assert_eq!(aside, Ok(Some("oops".to_owned())));
}

#[test]
fn what_cannot_be_read_or_put_back_is_counted_and_harms_nothing() {
    let memory = MemoryStorage::default();
    let store = open(&memory);
    let mut page = Page::default();
    page.save(&store, &worked_job(), 0);
    let mut entries = page.entries.clone();
    entries.push(("job:other:x".to_owned(), "oops".to_owned()));
    entries.push(("something".to_owned(), "oops".to_owned()));
    let empty = MemoryStorage::default();
    let store = open(&empty);
    let rejoined = store.rejoin(&entries);
    assert_eq!(rejoined.failed, 1);
    assert_eq!(rejoined.jobs, [(id("job-17"), worked_job().log.len())]);
    assert_eq!(store.job(&id("job-17")), Ok(Some(worked_job())));
    // Without its procedure or without room a job can't be put back.
    let without: Vec<Entry> = page.entries[..1].to_vec();
    assert_eq!(open(&MemoryStorage::default()).rejoin(&without).failed, 1);
    let full = MemoryStorage::default();
    let store = open(&full);
    full.full_from_write(Some(1));
    assert_eq!(store.rejoin(&page.entries).failed, 1);
    assert_eq!(store.save_job(&worked_job()), Err(StorageError::Full));
}
