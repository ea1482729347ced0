//! A model of the store: several pages, one of an earlier version among them, kills of the
//! browser, failing writings of the journal, clocks that jump, files that come in and jobs that go,
//! against what was called saved. However these are mixed, what was called saved is here after the
//! next start, as it was, and nothing else is: ids with colons make no job that nobody made.
//!
//! `HALFTURN_STEPS=1000000 cargo test --release --no-default-features --test keeping` takes so
//! many steps; without it, it takes a few thousand.

mod support;

use halfturn::job::{Deed, Event, Job, Log, Preferences, Stamp};
use halfturn::procedure::Id;
use halfturn::store::{Due, Entry, MemoryStorage, Storage, StorageError, Store};
use proptest::prelude::*;
use std::collections::BTreeMap;
use std::mem::take;
use support::*;

const PAGES: usize = 3;
const JOBS: usize = 3;
const STEPS: usize = 80;

/// What happens.
#[derive(Clone, Copy, Debug)]
enum Step {
    /// A page starts, in the place of the one that was there.
    Start(usize),
    /// It reads the journal and puts back what is lost.
    Look(usize),
    /// A note goes into a job as the page has it in hand, which may be long ago.
    Enter(usize, usize),
    /// The page takes a job into hand as it is now.
    Reread(usize, usize),
    /// The settings are changed.
    Set(usize),
    /// A job is removed.
    Remove(usize, usize),
    /// A file brings a job, as it was when it was saved last.
    Bring(usize, usize),
    /// A file brings a job with other words under its ids, and a note.
    Forge(usize, usize),
    /// A job is saved as a file.
    Export(usize),
    /// The page begins to write what is due.
    Begin(usize),
    /// That is on the disk, and the page hears of it.
    Done(usize),
    /// It failed.
    Failed(usize),
    /// It is on the disk, but the page hears that it failed.
    DoneUnheard(usize),
    /// The browser writes its storage to the disk.
    Flush,
    /// The browser is killed. What was being written may have arrived.
    Kill(bool),
    /// The storage is full, or has room again.
    Full(bool),
    /// The clock jumps by so many days.
    Jump(i32),
    /// A page of an earlier version of the app writes a job into the journal, by the name that it
    /// gave to it: the ids of the job and of its first event, with a colon between.
    Earlier(usize),
}

/// Steps that are told in one line.
#[derive(Clone)]
struct Steps(Vec<Step>);

impl std::fmt::Debug for Steps {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.0.iter().try_for_each(|step| write!(f, "{step:?} "))
    }
}

fn step() -> impl Strategy<Value = Step> {
    let page = || 0..PAGES;
    let both = || (0..PAGES, 0..JOBS);
    prop_oneof![
        1 => page().prop_map(Step::Start),
        5 => page().prop_map(Step::Look),
        16 => both().prop_map(|(page, job)| Step::Enter(page, job)),
        2 => both().prop_map(|(page, job)| Step::Reread(page, job)),
        3 => page().prop_map(Step::Set),
        1 => both().prop_map(|(page, job)| Step::Remove(page, job)),
        2 => both().prop_map(|(page, job)| Step::Bring(page, job)),
        2 => both().prop_map(|(page, job)| Step::Forge(page, job)),
        1 => (0..JOBS).prop_map(Step::Export),
        12 => page().prop_map(Step::Begin),
        12 => page().prop_map(Step::Done),
        2 => page().prop_map(Step::Failed),
        1 => page().prop_map(Step::DoneUnheard),
        2 => Just(Step::Flush),
        1 => any::<bool>().prop_map(Step::Kill),
        1 => any::<bool>().prop_map(Step::Full),
        3 => (-3..=3i32).prop_map(Step::Jump),
        1 => (0..JOBS).prop_map(Step::Earlier),
    ]
}

/// Something that a page wrote and that counts once it is kept.
#[derive(Clone)]
enum Fact {
    Written(usize, Vec<Event>),
    Set(u32),
    Removed(usize),
}

struct Page<'a> {
    store: Store<&'a MemoryStorage>,
    has_looked: bool,
    hand: BTreeMap<usize, Job>,
    /// What it wrote since, with how often the job had been removed or brought by then.
    wrote: Vec<(Fact, usize)>,
    /// What it is writing into the journal, and what will count by that.
    writing: Option<(Due, Vec<(Fact, usize)>)>,
}

/// What is known of a job by what was called saved.
#[derive(Default)]
struct Known {
    events: BTreeMap<Id, Event>,
    /// How often it was removed or brought.
    turns: usize,
    must_be_here: bool,
    must_be_gone: bool,
}

struct World<'a> {
    memory: &'a MemoryStorage,
    /// The storage as it is on the disk.
    disk: BTreeMap<String, String>,
    database: BTreeMap<String, Option<String>>,
    pages: [Option<Page<'a>>; PAGES],
    files: [Option<Job>; JOBS],
    known: [Known; JOBS],
    /// The last settings that were called saved, and the last that were written.
    settings: (u32, u32),
    named: usize,
    clock: i64,
    is_full: bool,
}

fn job_id(job: usize) -> Id {
    id(&format!("job:{job}"))
}

fn settings(number: u32) -> Preferences {
    Preferences {
        technician: number.to_string(),
        ..Preferences::default()
    }
}

impl<'a> World<'a> {
    fn new(memory: &'a MemoryStorage) -> Self {
        World {
            memory,
            disk: BTreeMap::new(),
            database: BTreeMap::new(),
            pages: Default::default(),
            files: Default::default(),
            known: Default::default(),
            settings: (0, 0),
            named: 0,
            clock: 0,
            is_full: false,
        }
    }

    fn stamp(&mut self) -> Stamp {
        self.named += 1;
        self.clock += 1;
        Stamp {
            id: id(&format!("e:{}", self.named)),
            at: self.clock,
        }
    }

    fn take(&mut self, step: Step) {
        match step {
            Step::Start(page) => self.start(page),
            Step::Look(page) => self.look(page),
            Step::Enter(page, job) => self.enter(page, job),
            Step::Reread(page, job) => {
                if let Some(page) = &mut self.pages[page] {
                    page.hand.remove(&job);
                }
            }
            Step::Set(page) => self.set(page),
            Step::Remove(page, job) => self.remove(page, job),
            Step::Bring(page, job) => {
                if let Some(file) = self.files[job].clone() {
                    self.bring(page, job, file);
                }
            }
            Step::Forge(page, job) => self.forge(page, job),
            Step::Export(job) => {
                let store = self.pages.iter().flatten().map(|page| &page.store).next();
                if let Some(Ok(Some(file))) = store.map(|store| store.job(&job_id(job))) {
                    self.files[job] = Some(file);
                }
            }
            Step::Begin(page) => self.begin(page),
            Step::Done(page) => self.end(page, true, true),
            Step::Failed(page) => self.end(page, false, false),
            Step::DoneUnheard(page) => self.end(page, true, false),
            Step::Flush => self.disk = texts(self.memory),
            Step::Kill(has_arrived) => self.kill(has_arrived),
            Step::Full(is_full) => {
                self.is_full = is_full;
                self.memory.full_from_write(is_full.then_some(1));
            }
            Step::Jump(days) => self.clock += i64::from(days) * 86_400_000,
            Step::Earlier(job) => self.earlier(job),
        }
    }

    fn start(&mut self, page: usize) {
        let (store, _) = Store::open(self.memory);
        self.pages[page] = Some(Page {
            store,
            has_looked: false,
            hand: BTreeMap::new(),
            wrote: Vec::new(),
            writing: None,
        });
    }

    fn earlier(&mut self, job: usize) {
        let key = format!("halfturn:job:{}", job_id(job));
        if let Some(text) = self.memory.get(&key).expect("a readable storage") {
            let name = format!("job:{}:open:{job}", job_id(job));
            self.database.insert(name, Some(text));
            // With the procedure that it needs.
            let digest = procedure().digest();
            let key = format!("halfturn:procedure:{digest}");
            let text = self.memory.get(&key).expect("a readable storage");
            self.database.insert(format!("procedure:{digest}"), text);
        }
    }

    fn look(&mut self, page: usize) {
        let entries: Vec<Entry> = self.database.clone().into_iter().collect();
        self.named += 1;
        let name = format!("page-{}", self.named);
        let Some(Page {
            store,
            has_looked,
            writing: None,
            ..
        }) = &mut self.pages[page]
        else {
            return;
        };
        *has_looked = true;
        let rejoined = store.rejoin(&name, &entries);
        if !self.is_full {
            assert_eq!(rejoined.failed, 0);
            self.check(page);
        }
    }

    /// What was called saved is in the storage of a page that has looked.
    fn check(&self, page: usize) {
        let Some(Page { store, .. }) = &self.pages[page] else {
            return;
        };
        let ours: Vec<Id> = (0..JOBS).map(job_id).collect();
        let here = store.job_ids().expect("a readable storage");
        assert!(here.iter().all(|id| ours.contains(id)), "{here:?}");
        for (job, known) in self.known.iter().enumerate() {
            let stored = store.job(&job_id(job)).expect("a readable job");
            assert!(stored.is_some() || !known.must_be_here, "job {job} is gone");
            assert!(stored.is_none() || !known.must_be_gone, "job {job} is back");
            let Some(stored) = stored else { continue };
            let events: BTreeMap<&Id, &Event> = stored.log.events().map(|e| (&e.id, e)).collect();
            for (id, event) in &known.events {
                assert_eq!(events.get(id), Some(&event), "in job {job}");
            }
        }
        let number = store.preferences().technician.parse().unwrap_or(0);
        let (kept, written) = self.settings;
        assert!(
            number >= kept && number <= written,
            "{number} of {kept} to {written}"
        );
    }

    fn enter(&mut self, page: usize, job: usize) {
        if self.pages[page].is_none() {
            self.start(page);
        }
        let stamp = self.stamp();
        let turns = self.known[job].turns;
        let Some(page) = &mut self.pages[page] else {
            return;
        };
        // The storage may have lost that it was removed. Then it goes when the page looks, with
        // what was entered in the moment before, which was called saved by nobody.
        if !page.has_looked && turns > 1 {
            return;
        }
        let stored = || page.store.job(&job_id(job)).ok().flatten();
        let in_hand = page.hand.get(&job).cloned().or_else(stored);
        let mut new = match in_hand {
            Some(job) => job,
            // It is started once; from then on only a file makes it anew.
            None if turns > 1 => return,
            None => {
                self.known[job].turns = 1;
                Job::open(
                    job_id(job),
                    procedure(),
                    header(),
                    Stamp {
                        id: id(&format!("open:{job}")),
                        at: 0,
                    },
                )
            }
        };
        new.log.append(stamp, note(None, "As it was entered"));
        match page.store.save_job(&new) {
            Ok(joined) => {
                let event = new.log.events().next_back().cloned().expect("an event");
                page.wrote
                    .push((Fact::Written(job, vec![event]), self.known[job].turns));
                page.hand.insert(job, joined);
            }
            Err(StorageError::Removed) => drop(page.hand.remove(&job)),
            Err(_) => {}
        }
    }

    fn set(&mut self, page: usize) {
        let Some(page) = &mut self.pages[page] else {
            return;
        };
        let number = self.settings.1 + 1;
        if page.store.save_preferences(&settings(number)).is_ok() {
            self.settings.1 = number;
            page.wrote.push((Fact::Set(number), 0));
        }
    }

    fn remove(&mut self, page: usize, job: usize) {
        let Some(page) = &mut self.pages[page] else {
            return;
        };
        let is_here = page.store.job(&job_id(job)).is_ok_and(|job| job.is_some());
        // Without room the mark of it may be missing, which is a promise of its own.
        if is_here && !self.is_full && page.store.remove_job(&job_id(job)).is_ok() {
            let known = &mut self.known[job];
            known.turns += 1;
            known.must_be_here = false;
            page.hand.remove(&job);
            page.wrote.push((Fact::Removed(job), known.turns));
        }
    }

    fn bring(&mut self, page: usize, job: usize, brought: Job) {
        let Some(page) = &mut self.pages[page] else {
            return;
        };
        let was_here = page.store.job(&job_id(job)).is_ok_and(|job| job.is_some());
        if self.is_full {
            return;
        }
        if let Ok(joined) = page.store.bring_job(&brought) {
            let known = &mut self.known[job];
            if !was_here {
                if !known.must_be_here {
                    known.events.clear();
                }
                known.turns += 1;
                known.must_be_gone = false;
            }
            let whole = joined.log.events().cloned().collect();
            page.hand.insert(job, joined);
            page.wrote.push((Fact::Written(job, whole), known.turns));
        }
    }

    /// As an import does it: what is here is joined with what the file says.
    fn forge(&mut self, page: usize, job: usize) {
        let stamp = self.stamp();
        let store = self.pages[page].as_ref().map(|page| &page.store);
        let Some(Ok(Some(here))) = store.map(|store| store.job(&job_id(job))) else {
            return;
        };
        let events = here.log.events().cloned().map(|event| match event.did {
            Deed::Noted { step, .. } => {
                let text = "Zzz, as a file would have it".to_owned();
                let did = Deed::Noted { step, text };
                Event { did, ..event }
            }
            _ => event,
        });
        let mut forged = Log::from_events(events.collect::<Vec<_>>()).expect("a log");
        forged.append(stamp, note(None, "Only a note"));
        let log = here.log.merge(&forged);
        self.bring(page, job, Job { log, ..here });
    }

    fn begin(&mut self, page: usize) {
        let Some(page) = &mut self.pages[page] else {
            return;
        };
        if page.writing.is_none()
            && let Some(due) = page.store.due().expect("a readable storage")
        {
            page.writing = Some((due, take(&mut page.wrote)));
        }
    }

    fn write(database: &mut BTreeMap<String, Option<String>>, due: &Due) {
        database.extend(due.entries.iter().cloned());
        due.outdated
            .iter()
            .for_each(|key| drop(database.remove(key)));
    }

    fn end(&mut self, page: usize, is_written: bool, is_heard: bool) {
        let Some(page) = &mut self.pages[page] else {
            return;
        };
        let Some((due, facts)) = page.writing.take() else {
            return;
        };
        if is_written {
            Self::write(&mut self.database, &due);
        }
        page.store.settle(is_heard);
        match is_heard {
            true => facts
                .into_iter()
                .for_each(|(fact, turns)| self.count(fact, turns)),
            false => page.wrote.splice(0..0, facts).for_each(drop),
        }
    }

    /// From now on it was called saved.
    fn count(&mut self, fact: Fact, turns: usize) {
        match fact {
            Fact::Set(number) => self.settings.0 = self.settings.0.max(number),
            Fact::Written(job, events) if self.known[job].turns == turns => {
                let known = &mut self.known[job];
                known.must_be_here = true;
                for event in events {
                    known.events.entry(event.id.clone()).or_insert(event);
                }
            }
            Fact::Removed(job) if self.known[job].turns == turns => {
                self.known[job].must_be_gone = true;
                self.known[job].events.clear();
            }
            // Removed or brought again since.
            _ => {}
        }
    }

    fn kill(&mut self, has_arrived: bool) {
        for page in &mut self.pages {
            if let Some((due, _)) = page.take().and_then(|page| page.writing)
                && has_arrived
            {
                Self::write(&mut self.database, &due);
            }
        }
        self.memory.full_from_write(None);
        self.is_full = false;
        for key in self.memory.keys().expect("keys") {
            self.memory.remove(&key).expect("allowed");
        }
        let memory = self.memory;
        for (key, text) in &self.disk {
            memory.set(key, text).expect("room for it");
        }
    }

    /// A start after all that finds what was called saved, and leaves one entry for each key.
    fn finish(&mut self) {
        self.kill(false);
        for _ in 0..2 {
            self.start(0);
            self.look(0);
            self.begin(0);
            self.end(0, true, true);
        }
        let most = 2 * JOBS + 3;
        assert!(self.database.len() <= most, "{:?}", self.database.keys());
    }
}

fn texts(memory: &MemoryStorage) -> BTreeMap<String, String> {
    let keys = memory.keys().expect("keys").into_iter();
    let both = keys.filter_map(|key| {
        let text = memory.get(&key).expect("a readable storage")?;
        Some((key, text))
    });
    both.collect()
}

fn cases_for_steps() -> u32 {
    let steps = std::env::var("HALFTURN_STEPS").ok();
    let steps = steps.and_then(|steps| steps.parse().ok()).unwrap_or(8_000);
    u32::try_from(steps / STEPS).unwrap_or(u32::MAX)
}

proptest! {
    #![proptest_config(cases(cases_for_steps()))]

    #[test]
    fn what_was_called_saved_is_here_after_the_next_start(
        steps in prop::collection::vec(step(), STEPS).prop_map(Steps),
    ) {
        let memory = MemoryStorage::default();
        let mut world = World::new(&memory);
        world.start(0);
        world.look(0);
        steps.0.into_iter().for_each(|step| world.take(step));
        world.finish();
    }
}

// An entry is added to what is stored

/// The text of a job as a page writes it that knows nothing of what is stored.
fn written_anew(job: &Job) -> Option<String> {
    let memory = MemoryStorage::default();
    let (store, opened) = Store::open(&memory);
    assert_eq!(opened, Ok(()));
    store.save_entries(job).expect("room for it");
    stored_text(&memory, job)
}

fn stored_text(memory: &MemoryStorage, job: &Job) -> Option<String> {
    memory
        .get(&format!("halfturn:job:{}", job.id))
        .expect("a storage")
}

proptest! {
    #![proptest_config(cases(128))]

    #[test]
    fn what_is_added_entry_by_entry_is_stored_as_if_it_were_written_at_once(
        here in drafts(30),
        there in drafts(6),
        joins in prop::collection::vec(0usize..30, 0..3),
    ) {
        let memory = MemoryStorage::default();
        let (store, opened) = Store::open(&memory);
        prop_assert_eq!(opened, Ok(()));
        let mut job = store.save_entries(&fresh_job()).expect("room for it");
        let mut copy = job.clone();
        for draft in &there {
            let deed = draft.deed(&copy.log);
            copy.log.append(draft.stamp("b", &copy.log), deed);
        }
        for (place, draft) in here.iter().enumerate() {
            if joins.contains(&place) {
                // Another page has the job in hand too.
                let (other, opened) = Store::open(&memory);
                prop_assert_eq!(opened, Ok(()));
                other.save_entries(&copy).expect("room for it");
            }
            let deed = draft.deed(&job.log);
            job.log.append(draft.stamp("a", &job.log), deed);
            job = store.save_entries(&job).expect("room for it");
            prop_assert_eq!(stored_text(&memory, &job), written_anew(&job));
            prop_assert_eq!(store.job(&job.id), Ok(Some(job.clone())));
        }
    }
}
