//! What the journal promises: what it had is here again, however much a killed browser had not
//! yet put into its storage, and whatever befell the journal's own writing.

mod support;

use halfturn::authoring::Draft;
use halfturn::job::{Job, Phase, Preferences};
use halfturn::metrology::instrument::Instrument;
use halfturn::store::{Due, Entry, MemoryStorage, Rejoined, Storage, StorageError, Store};
use proptest::prelude::*;
use std::collections::BTreeMap;
use support::*;

/// The browser's database as far as the journal is in it.
#[derive(Clone, Default)]
struct Database(BTreeMap<String, Option<String>>);

impl Database {
    fn write(&mut self, due: &Due) {
        self.0.extend(due.entries.iter().cloned());
        due.outdated.iter().for_each(|key| drop(self.0.remove(key)));
    }

    fn entries(&self) -> Vec<Entry> {
        self.0.clone().into_iter().collect()
    }

    /// The entries about a key of the storage.
    fn about(&self, key: &str) -> Vec<&str> {
        let keys = self.0.keys().map(String::as_str);
        keys.filter(|name| name.ends_with(key)).collect()
    }
}

const JOB: &str = "halfturn:job:job-17";

/// A page that has looked into the journal.
fn page<'a>(
    memory: &'a MemoryStorage,
    database: &Database,
    name: &str,
) -> Store<&'a MemoryStorage> {
    let store = open(memory);
    assert_eq!(store.rejoin(name, &database.entries()).failed, 0);
    store
}

fn open(memory: &MemoryStorage) -> Store<&MemoryStorage> {
    let (store, opened) = Store::open(memory);
    assert_eq!(opened, Ok(()));
    store
}

/// Writes all that is due.
fn keep(store: &Store<&MemoryStorage>, database: &mut Database) -> Due {
    let Some(due) = store.due().expect("a readable storage") else {
        return Due::default();
    };
    database.write(&due);
    store.settle(true);
    assert!(store.is_all_kept());
    due
}

/// What was due could not be written.
fn fail(store: &Store<&MemoryStorage>) {
    assert_ne!(store.due(), Ok(None));
    store.settle(false);
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

fn named(technician: &str) -> Preferences {
    Preferences {
        technician: technician.to_owned(),
        ..Preferences::default()
    }
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
        let mut database = Database::default();
        let store = page(&memory, &database, "a");
        // What the disk would hold after each saving, had the browser written it then.
        let mut disks = vec![copy(&memory)];
        let mut jobs = vec![fresh_job()];
        store.save_job(&jobs[0]).expect("room for it");
        keep(&store, &mut database);
        let mut databases = vec![database.clone()];
        for draft in &drafts {
            disks.push(copy(&memory));
            let log = written(&jobs[jobs.len() - 1].log, "a", std::slice::from_ref(draft));
            jobs.push(Job { log, ..fresh_job() });
            store.save_job(&jobs[jobs.len() - 1]).expect("room for it");
            keep(&store, &mut database);
            databases.push(database.clone());
        }
        let killed = killed.index(jobs.len());
        let disk = &disks[on_disk.index(killed + 1)];
        let entries = databases[killed].entries();
        let store = open(disk);
        let rejoined = store.rejoin("b", &entries);
        prop_assert_eq!(rejoined.failed, 0);
        prop_assert_eq!(store.job(&id("job-17")), Ok(Some(jobs[killed].clone())));
        prop_assert_eq!(open(disk).rejoin("c", &entries), Rejoined::default());
    }
}

#[test]
fn the_first_saving_on_a_page_holds_the_whole_job_and_each_further_one_what_is_new() {
    let memory = MemoryStorage::default();
    let mut database = Database::default();
    let store = page(&memory, &database, "a");
    let mut job = worked_job();
    store.save_job(&job).expect("room for it");
    let first = keep(&store, &mut database);
    assert_eq!(first.entries.len(), 2, "the job and its procedure");
    let event = does(&mut job, reading("osc", Phase::Try, "10.24003 MHz"));
    store.save_job(&job).expect("room for it");
    assert!(!store.is_event_kept(&job.id, &event));
    let second = keep(&store, &mut database);
    assert!(store.is_event_kept(&job.id, &event));
    let [(_, Some(text))] = second.entries.as_slice() else {
        panic!("{second:?}");
    };
    assert!(text.len() < 400, "{text}");
    assert_eq!(store.due(), Ok(None));
}

#[test]
fn nothing_is_called_kept_before_the_page_has_looked_into_the_journal() {
    let memory = MemoryStorage::default();
    let store = open(&memory);
    assert!(!store.is_all_kept());
    store.save_job(&worked_job()).expect("room for it");
    assert_eq!(store.due(), Ok(None));
    assert!(!store.is_event_kept(&id("job-17"), &id("e1")));
    store.rejoin("a", &[]);
    let mut database = Database::default();
    keep(&store, &mut database);
    assert!(store.is_event_kept(&id("job-17"), &id("e1")));
}

#[test]
fn what_could_not_be_written_stays_due_though_something_else_succeeds() {
    let memory = MemoryStorage::default();
    let mut database = Database::default();
    let store = page(&memory, &database, "a");
    store.save_job(&worked_job()).expect("room for it");
    fail(&store);
    assert!(!store.is_all_kept());
    assert!(!store.is_event_kept(&id("job-17"), &id("e1")));
    store
        .save_preferences(&named("Bench"))
        .expect("room for it");
    let due = keep(&store, &mut database);
    assert_eq!(
        due.entries.len(),
        3,
        "the job, its procedure and the settings"
    );
    let lost = MemoryStorage::default();
    let store = page(&lost, &database, "b");
    assert_eq!(store.job(&id("job-17")), Ok(Some(worked_job())));
    assert_eq!(store.preferences(), named("Bench"));
}

#[test]
fn settings_and_whatever_else_is_saved_come_back_as_they_were_last() {
    let memory = MemoryStorage::default();
    let mut database = Database::default();
    let store = page(&memory, &database, "a");
    store
        .save_preferences(&named("First"))
        .expect("room for it");
    keep(&store, &mut database);
    let disk = copy(&memory);
    store.save_preferences(&named("Last")).expect("room for it");
    store.save_procedure(&procedure()).expect("room for it");
    keep(&store, &mut database);
    for disk in [disk, MemoryStorage::default()] {
        let store = open(&disk);
        assert_eq!(store.rejoin("b", &database.entries()).others, 2);
        assert_eq!(store.preferences(), named("Last"));
        assert_eq!(store.procedures(), Ok(vec![procedure()]));
    }
    // What another page changed since, and the storage has, is not put back.
    open(&memory)
        .save_preferences(&named("Later"))
        .expect("room");
    assert_eq!(page(&memory, &database, "c").preferences(), named("Later"));
}

#[test]
fn the_place_where_one_was_comes_back_and_a_start_that_goes_on_there_does_not_outdo_it() {
    let (memory, mut database) = (MemoryStorage::default(), Database::default());
    let first = page(&memory, &database, "a");
    first.save_place("#/job/1/finish").unwrap();
    keep(&first, &mut database);
    let on_disk = copy(&memory);
    first.save_place("#/job/1/step/rail").unwrap();
    keep(&first, &mut database);
    // The browser is killed, and its next start shows what reached the disk.
    let next = open(&on_disk);
    next.save_place(&next.place().unwrap()).unwrap();
    let rejoined = next.rejoin("b", &database.entries());
    assert_eq!((rejoined.place, rejoined.others), (true, 0));
    assert_eq!(next.place().unwrap(), "#/job/1/step/rail");
    // Whoever has gone elsewhere before the look stays there.
    let other = open(&on_disk);
    other.save_place("#/kit").unwrap();
    assert!(!other.rejoin("c", &database.entries()).place);
    assert_eq!(other.place().unwrap(), "#/kit");
}

#[test]
fn what_is_changed_before_the_page_has_looked_stays_changed() {
    let memory = MemoryStorage::default();
    let mut database = Database::default();
    let store = page(&memory, &database, "a");
    for technician in ["First", "Second", "Third"] {
        store
            .save_preferences(&named(technician))
            .expect("room for it");
    }
    keep(&store, &mut database);
    let disk = MemoryStorage::default();
    let store = open(&disk);
    store.save_preferences(&named("Now")).expect("room for it");
    store.rejoin("b", &database.entries());
    keep(&store, &mut database);
    assert_eq!(store.preferences(), named("Now"));
    assert_eq!(
        page(&MemoryStorage::default(), &database, "c").preferences(),
        named("Now")
    );
}

#[test]
fn what_is_changed_before_the_look_hides_nothing_else_that_was_lost() {
    let memory = MemoryStorage::default();
    let mut database = Database::default();
    let store = page(&memory, &database, "a");
    store.save_preferences(&named("Kept")).expect("room for it");
    keep(&store, &mut database);
    let disk = MemoryStorage::default();
    let store = open(&disk);
    for _ in 0..9 {
        store.save_kit(&[]).expect("room for it");
    }
    assert_eq!(store.rejoin("b", &database.entries()).others, 1);
    assert_eq!(store.preferences(), named("Kept"));
}

#[test]
fn no_page_overwrites_or_takes_away_what_another_has_just_written() {
    let memory = MemoryStorage::default();
    let mut database = Database::default();
    let stale = page(&memory, &database, "a");
    let mut job = fresh_job();
    stale.save_job(&job).expect("room for it");
    keep(&stale, &mut database);
    // Another page starts and writes the whole job; then the first one goes on.
    let other = page(&memory, &database, "b");
    does(&mut job, answer("look"));
    other.save_job(&job).expect("room for it");
    keep(&other, &mut database);
    does(&mut job, tick("lead"));
    stale.save_job(&job).expect("room for it");
    keep(&stale, &mut database);
    let lost = MemoryStorage::default();
    assert_eq!(page(&lost, &database, "d").job(&job.id), Ok(Some(job)));
}

#[test]
fn each_start_leaves_one_entry_for_each_key_however_short_the_pages_live() {
    let memory = MemoryStorage::default();
    let mut database = Database::default();
    let mut job = fresh_job();
    for start in 0..20 {
        let store = page(&memory, &database, &format!("page-{start}"));
        for _ in 0..5 {
            does(&mut job, note(None, "Once more"));
            store.save_job(&job).expect("room for it");
            store
                .save_preferences(&named(&start.to_string()))
                .expect("room");
            keep(&store, &mut database);
        }
    }
    let store = page(&memory, &database, "last");
    keep(&store, &mut database);
    assert_eq!(
        database.0.len(),
        3,
        "the job, its procedure and the settings"
    );
    // Nor does it grow on a page that lives long.
    for _ in 0..200 {
        does(&mut job, note(None, "Once more"));
        store.save_job(&job).expect("room for it");
        keep(&store, &mut database);
    }
    assert!(
        database.about(JOB).len() <= 65,
        "{}",
        database.about(JOB).len()
    );
    assert_eq!(
        page(&MemoryStorage::default(), &database, "z").job(&job.id),
        Ok(Some(job))
    );
}

#[test]
fn ids_with_colons_make_no_second_job() {
    let memory = MemoryStorage::default();
    let mut database = Database::default();
    let store = page(&memory, &database, "a");
    let mut job = Job {
        id: id("a:b"),
        ..fresh_job()
    };
    job.record(
        halfturn::job::Stamp {
            id: id("x:y"),
            at: 0,
        },
        answer("look"),
    )
    .expect("an answer");
    store.save_job(&job).expect("room for it");
    keep(&store, &mut database);
    let lost = MemoryStorage::default();
    let store = page(&lost, &database, "b");
    assert_eq!(store.job_ids(), Ok(vec![id("a:b")]));
    assert_eq!(store.job(&job.id), Ok(Some(job)));
}

#[test]
fn entries_of_an_earlier_version_are_put_back_with_their_colons() {
    let mut job = Job {
        id: id("a:b"),
        ..fresh_job()
    };
    job.record(
        halfturn::job::Stamp {
            id: id("x:y"),
            at: 0,
        },
        answer("look"),
    )
    .expect("an answer");
    let digest = job.procedure.digest();
    let record = |events: Vec<&halfturn::job::Event>| {
        Some(serde_json::json!({"procedure": digest, "log": events}).to_string())
    };
    let events: Vec<_> = job.log.events().collect();
    let procedure = serde_json::to_string(&*job.procedure).expect("JSON");
    let entries = [
        ("job:a:b:e1".to_owned(), record(events[..1].to_vec())),
        ("job:a:b:x:y".to_owned(), record(events[1..].to_vec())),
        (format!("procedure:{digest}"), Some(procedure)),
    ];
    let memory = MemoryStorage::default();
    let store = open(&memory);
    let rejoined = store.rejoin("a", &entries);
    assert_eq!(rejoined.jobs, [(id("a:b"), 2)]);
    assert_eq!(rejoined.failed, 0);
    assert_eq!(store.job_ids(), Ok(vec![id("a:b")]));
    // From now on they are in one entry of the present form.
    let mut database = Database(entries.into_iter().collect());
    keep(&store, &mut database);
    assert_eq!(database.about("halfturn:job:a:b").len(), 1);
    assert!(!database.0.contains_key("job:a:b:e1"));
}

#[test]
fn a_stale_page_does_not_bring_a_removed_job_back_nor_does_the_journal() {
    let memory = MemoryStorage::default();
    let mut database = Database::default();
    let stale = page(&memory, &database, "a");
    let mut job = worked_job();
    stale.save_job(&job).expect("room for it");
    keep(&stale, &mut database);
    let other = page(&memory, &database, "b");
    let disk = copy(&memory);
    other.remove_job(&job.id).expect("it is there");
    keep(&other, &mut database);
    does(&mut job, note(None, "Still here?"));
    assert_eq!(stale.save_job(&job), Err(StorageError::Removed));
    for memory in [&memory, &disk] {
        assert_eq!(page(memory, &database, "c").job(&job.id), Ok(None));
    }
    // A file brings it back, whole, and then it stays.
    other.bring_job(&job).expect("room for it");
    keep(&other, &mut database);
    does(&mut job, note(None, "Back"));
    stale.save_job(&job).expect("it is here again");
    keep(&stale, &mut database);
    for memory in [&memory, &disk, &MemoryStorage::default()] {
        assert_eq!(
            page(memory, &database, "d").job(&job.id),
            Ok(Some(job.clone()))
        );
    }
}

#[test]
fn what_a_page_knew_of_a_job_before_it_came_back_is_written_once_more() {
    let memory = MemoryStorage::default();
    let mut database = Database::default();
    let stale = page(&memory, &database, "a");
    let mut job = worked_job();
    stale.save_job(&job).expect("room for it");
    keep(&stale, &mut database);
    let other = page(&memory, &database, "b");
    other.remove_job(&job.id).expect("it is there");
    keep(&other, &mut database);
    // What came back is never written into the journal, for the page ends before.
    other.bring_job(&job).expect("room for it");
    does(&mut job, note(None, "Back"));
    stale.save_job(&job).expect("it is here again");
    keep(&stale, &mut database);
    let lost = MemoryStorage::default();
    assert_eq!(page(&lost, &database, "c").job(&job.id), Ok(Some(job)));
}

#[test]
fn a_damaged_job_that_the_journal_has_whole_comes_back_and_the_damage_is_kept() {
    let memory = MemoryStorage::default();
    let mut database = Database::default();
    let store = page(&memory, &database, "a");
    store.save_job(&worked_job()).expect("room for it");
    keep(&store, &mut database);
    (&memory).set(JOB, "oops").expect("room for it");
    let store = open(&memory);
    let rejoined = store.rejoin("b", &database.entries());
    assert_eq!(rejoined.jobs, [(id("job-17"), worked_job().log.len())]);
    assert_eq!(store.job(&id("job-17")), Ok(Some(worked_job())));
    let aside = (&memory).get("halfturn:aside:1:job:job-17");
    assert_eq!(aside, Ok(Some("oops".to_owned())));
}

#[test]
fn what_cannot_be_read_or_put_back_is_counted_and_harms_nothing() {
    let memory = MemoryStorage::default();
    let mut database = Database::default();
    let store = page(&memory, &database, "a");
    store.save_job(&worked_job()).expect("room for it");
    keep(&store, &mut database);
    let text = || Some("oops".to_owned());
    let mut entries = database.entries();
    entries.push(("1.x.1.halfturn:job:other".to_owned(), text()));
    entries.push((format!("1.x.1.{JOB}"), text()));
    entries.push(("something".to_owned(), text()));
    let empty = MemoryStorage::default();
    let store = open(&empty);
    let rejoined = store.rejoin("b", &entries);
    assert_eq!(rejoined.failed, 3);
    assert_eq!(rejoined.jobs, [(id("job-17"), worked_job().log.len())]);
    assert_eq!(store.job(&id("job-17")), Ok(Some(worked_job())));
    // What could not be put back stays in the journal.
    let due = store.due().expect("a readable storage").expect("something");
    assert_eq!(due.outdated, Vec::<String>::new());
    // Without its procedure or without room a job can't be put back.
    let without = database.entries().into_iter();
    let without: Vec<Entry> = without.filter(|(key, _)| key.ends_with(JOB)).collect();
    let empty = MemoryStorage::default();
    assert_eq!(open(&empty).rejoin("c", &without).failed, 1);
    let full = MemoryStorage::default();
    let store = open(&full);
    full.full_from_write(Some(1));
    assert_eq!(store.rejoin("d", &database.entries()).failed, 2);
    assert_eq!(store.save_job(&worked_job()), Err(StorageError::Full));
}

/// Something that a technician does, which is then called done.
type Act = fn(&Store<&MemoryStorage>) -> Result<(), StorageError>;

/// A day at the bench, each thing that is called done once.
const DAY: [Act; 14] = [
    |store| store.save_preferences(&named("Bench 1")),
    |store| store.save_kit(&[meter("Club meter")]),
    |store| store.save_procedure(&procedure()).map(drop),
    |store| store.save_job(&fresh_job()).map(drop),
    |store| store.save_job(&worked_job()).map(drop),
    |store| {
        store
            .save_authored(&Draft::blank(id("own")), 0, 0)
            .map(drop)
    },
    |store| store.save_form("job-17:~remarks", "Aerial socket is worn"),
    // What it became and that it is one no more are written in one go.
    |store| {
        store.save_job(&finished_job()).map(drop)?;
        store.save_form("job-17:~remarks", "")
    },
    |store| store.save_form("kit:instrument-", "Counter"),
    |store| store.remove_authored(&id("own")),
    |store| store.note_filed([(&id("job-17"), &finished_job().log)]),
    |store| store.remove_job(&id("job-17")),
    |store| store.bring_job(&worked_job()).map(drop),
    |store| store.save_preferences(&named("Bench 2")),
];

fn meter(name: &str) -> Instrument {
    let text = format!("{{\"role\":\"meter\",\"name\":\"{name}\"}}");
    serde_json::from_str(&text).expect("an instrument")
}

/// What becomes of a writing of the journal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Fate {
    Written,
    Failed,
    /// It arrived, and the page was told that it had not.
    Unheard,
}

/// All that a store holds and a technician would miss.
fn all(store: &Store<&MemoryStorage>) -> impl PartialEq + std::fmt::Debug + use<> {
    let contents = store.contents().expect("a readable storage");
    let shelf = (store.preferences(), store.kit(), store.filed());
    (
        contents.jobs,
        contents.procedures,
        shelf,
        store.all_authored(),
        ["job-17:~remarks", "kit:instrument-"].map(|place| store.form(place)),
    )
}

/// Works a day at which the writings of the journal meet their fates, and kills the browser
/// after each. What is there then is what the journal had, and whatever was called kept.
fn work(fates: impl Fn(usize) -> Fate) {
    let memory = MemoryStorage::default();
    let mut database = Database::default();
    let store = page(&memory, &database, "a");
    let mut there = all(&store);
    // The last turn is a day later, when the journal takes everything.
    for (number, act) in DAY.iter().map(Some).chain([None]).enumerate() {
        let disk = copy(&memory);
        if let Some(act) = act {
            act(&store).expect("room for it");
        }
        let fate = act.map_or(Fate::Written, |_| fates(number));
        if let Some(due) = store.due().expect("a readable storage") {
            if fate != Fate::Failed {
                database.write(&due);
                there = all(&store);
            }
            store.settle(fate == Fate::Written);
        }
        assert_eq!(store.is_all_kept(), fate == Fate::Written, "{number}");
        let is_there = |disk: &MemoryStorage| all(&page(disk, &database, "b")) == there;
        assert!(is_there(&MemoryStorage::default()), "{fate:?} {number}");
        // With what the browser had put on the disk by then.
        if fate == Fate::Written {
            assert!(is_there(&disk) && is_there(&memory), "{fate:?} {number}");
        }
    }
}

#[test]
fn wherever_the_journal_cannot_be_written_nothing_that_was_called_kept_is_lost() {
    work(|_| Fate::Written);
    for bad in [Fate::Failed, Fate::Unheard] {
        for (first, count) in (0..DAY.len()).flat_map(|first| [(first, 1), (first, 3)]) {
            work(|number| match (first..first + count).contains(&number) {
                true => bad,
                false => Fate::Written,
            });
        }
    }
}
