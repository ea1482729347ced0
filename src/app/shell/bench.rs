//! What all screens share: the store, the job in hand, and what is to be told to the user.

use crate::app::platform::device;
use crate::app::shell::carry;
use crate::app::shell::carry::Outgoing;
use crate::app::shell::route::Route;
use crate::app::shell::safekeeping::Safekeeping;
use crate::app::shell::slices::Slices;
use crate::app::words::shell::bench as words;
use crate::exchange::{Document, Here};
use crate::job::{
    self, Course, Deed, Job, Line, LookAt, PaperChange, Preferences, Progress, Status, is_break_due,
};
use crate::metrology::inference::kindred::Kindred;
use crate::metrology::instrument::Instrument;
use crate::procedure::{Chase, Id, PictureDigest, Procedure};
use crate::quantity::DecimalSign;
use crate::radio::channels::ChannelTable;
use crate::store::{self, AtRisk, BrowserStorage, StorageError, Store, TypedInputs};
use leptos::prelude::*;
use std::sync::Arc;

/// Something to be told, until it is put away or the screen changes.
#[derive(Clone)]
pub struct Notice {
    /// What happened, in a sentence.
    pub text: String,
    /// How much it matters.
    pub weight: Weight,
    /// What can be done about it with one press.
    pub offer: Option<Offer>,
}

/// Something that one press does.
#[derive(Clone)]
pub struct Offer {
    /// The word on its button.
    pub word: String,
    /// What it does. It is the notice's own, for the screen that it came from may be gone.
    pub act: Arc<dyn Fn() + Send + Sync>,
}

/// How much a notice matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// Good to know.
    Plain,
    /// Something was not done.
    Refused,
}

/// The shared state, handed to every screen as context.
#[derive(Clone, Copy)]
pub struct Bench {
    pub(in crate::app) store: StoredValue<Store<BrowserStorage>>,
    /// Whether the page was started without an address, to go on where the last one ended.
    pub(in crate::app) resumes: bool,
    /// What is on its way to the disk.
    pub safekeeping: Safekeeping,
    /// Long work that may be going on.
    pub slices: Slices,
    /// The screen shown.
    pub route: RwSignal<Route>,
    /// The step last looked at, which other screens lead back to.
    pub last_step: RwSignal<Option<Route>>,
    /// The job that the screen is about, if it is about one.
    pub job: RwSignal<Option<Job>>,
    /// What follows from that job's log.
    pub progress: Memo<Option<Progress>>,
    /// The technician's settings.
    pub preferences: RwSignal<Preferences>,
    /// The cell of a table that was read on the screen before this one.
    pub walked: RwSignal<Option<Id>>,
    /// What is to be told.
    pub notice: RwSignal<Option<Notice>>,
    /// Why the storage can't be used, if it can't.
    pub trouble: RwSignal<Option<StorageError>>,
    /// A job that could not be stored, as it should be.
    pub unsaved: RwSignal<Option<Job>>,
    /// Counts the changes of the storage, so that lists are read anew.
    pub changes: RwSignal<u32>,
    /// All jobs in short, the latest touched first.
    pub lines: Memo<Vec<Arc<Line>>>,
    /// What of the work here is in no saved file.
    pub at_risk: Memo<Option<AtRisk>>,
    /// The paper that stays beside the steps on a wide screen.
    pub beside: RwSignal<Option<PictureDigest>>,
    /// The visits before that were read last, by the jobs that they were.
    visits: StoredValue<Visits>,
    /// What earlier jobs told last.
    kindred: StoredValue<Option<Told>>,
}

/// What earlier jobs told of a chase, and which these were.
#[derive(Clone)]
struct Told {
    steps: Vec<Id>,
    /// The job that asked, and the earlier ones as they were.
    job: Id,
    by: Vec<AsItWas>,
    kindred: Option<Arc<Kindred>>,
}

/// A job when it was read: which, when it was touched last, and how many entries it had.
type AsItWas = (Id, i64, usize);

fn as_it_is(line: &Line) -> AsItWas {
    (line.id.clone(), line.touched, line.entries)
}

/// Visits of a set, and the jobs that they were when they were read.
type Visits = (Vec<AsItWas>, Arc<Vec<Progress>>);

/// How many visits are looked through for what was left at a step.
const VISITS_BEFORE: usize = 3;

/// The shared state.
pub fn use_bench() -> Bench {
    expect_context()
}

impl Bench {
    /// Opens the storage, finds the screen to show, and listens for changes of both.
    pub fn open() -> Self {
        let (store, opened) = Store::open(BrowserStorage);
        store::ask_to_persist();
        let preferences = store.preferences();
        let resumes = resume(&store);
        let last_step = store.last_step().map(|address| Route::read(&address));
        let job = RwSignal::new(None::<Job>);
        let store = StoredValue::new(store);
        let trouble = RwSignal::new(opened.err());
        let changes = RwSignal::new(0);
        let lines = Memo::new(move |_| {
            changes.track();
            store.with_value(lines_of).unwrap_or_else(|error| {
                trouble.set(Some(error));
                Vec::new()
            })
        });
        let bench = Bench {
            store,
            resumes,
            safekeeping: Safekeeping::open(),
            slices: Slices::open(),
            route: RwSignal::new(Route::read(&device::hash())),
            last_step: RwSignal::new(last_step),
            job,
            progress: Memo::new(move |before: Option<&Option<Progress>>| {
                let before = before.and_then(Option::as_ref);
                job.with(|job| Some(job.as_ref()?.progress_after(before)))
            }),
            preferences: RwSignal::new(preferences),
            walked: RwSignal::new(None),
            notice: RwSignal::new(None),
            trouble,
            unsaved: RwSignal::new(None),
            changes,
            lines,
            at_risk: Memo::new(move |_| {
                changes.track();
                let filed = store.with_value(Store::filed);
                lines.with(|lines| filed.at_risk(lines.iter().map(Arc::as_ref)))
            }),
            beside: RwSignal::new(None),
            visits: StoredValue::new(Visits::default()),
            kindred: StoredValue::new(None),
        };
        bench.remember_step(&bench.route.get_untracked());
        bench.load_job(&bench.route.get_untracked());
        device::on_window("hashchange", move |_| bench.moved());
        device::on_window("visibilitychange", move |_| bench.came_back());
        store::on_change_elsewhere(move |_| bench.changed_elsewhere());
        bench.begin_keeping();
        bench
    }

    fn moved(self) {
        // The address of a job alone leads on to its step; what was told stays.
        let leads_on = |route: &Route| matches!(route, Route::Step { step: None, .. });
        let address = device::hash();
        // A full storage does not keep anyone from moving about.
        let _ = self.store.with_value(|store| store.save_place(&address));
        let route = Route::read(&address);
        if self.route.with_untracked(|old| *old != route) {
            if !self.route.with_untracked(leads_on) {
                self.notice.set(None);
            }
            self.remember_step(&route);
            self.load_job(&route);
            self.route.set(route);
            device::to_top();
        }
    }

    /// The page is seen again, perhaps after long.
    fn came_back(self) {
        if device::is_seen() {
            self.store.with_value(Store::look_anew);
            self.load_job(&self.route.get_untracked());
        }
    }

    /// Remembers a step that is shown, so that other screens lead back to it.
    fn remember_step(self, route: &Route) {
        if matches!(route, Route::Step { step: Some(_), .. }) {
            let address = route.address();
            let _ = self
                .store
                .with_value(|store| store.save_last_step(&address));
            self.last_step.set(Some(route.clone()));
        }
    }

    fn changed_elsewhere(self) {
        self.store.with_value(Store::look_anew);
        self.changes.update(|count| *count += 1);
        match self.job.get_untracked() {
            Some(shown) => self.follow(shown),
            None => self.load_job(&self.route.get_untracked()),
        }
        let preferences = self.store.with_value(Store::preferences);
        if self.preferences.with_untracked(|old| *old != preferences) {
            self.preferences.set(preferences);
        }
    }

    /// Shows what another page made of the job in hand.
    fn follow(self, shown: Job) {
        match self.store.with_value(|store| store.job(&shown.id)) {
            Ok(Some(stored)) if stored == shown => {}
            // The two wrote at the same moment, and what was entered here got overwritten.
            Ok(Some(stored)) if stored.log.lacks(&shown.log) > 0 => drop(self.save(shown)),
            Ok(Some(stored)) => {
                self.job.set(Some(stored));
                // What was said of the log, such as what was taken back, may not hold any more.
                self.notice.update(|notice| {
                    notice.take_if(|notice| notice.weight == Weight::Plain);
                });
            }
            Ok(None) if self.unsaved.with_untracked(Option::is_none) => self.job.set(None),
            Ok(None) | Err(_) => {}
        }
    }

    /// Shows what has come into the storage by another way than this screen.
    pub(in crate::app) fn read_anew(self) {
        self.changed_elsewhere();
        self.load_job(&self.route.get_untracked());
        self.route.notify();
    }

    /// Brings the job of the present address into hand.
    fn load_job(self, route: &Route) {
        let last_step = self.last_step.get_untracked();
        // What helps with a step is shown beside its job.
        let beside = match route {
            Route::Audio | Route::Substitution | Route::Sums | Route::Sum(_) => last_step.as_ref(),
            Route::Channels | Route::Limits => last_step.as_ref(),
            _ => None,
        };
        let Some(id) = route.job().or_else(|| beside?.job()) else {
            return;
        };
        let in_hand = self
            .job
            .with_untracked(|job| job.as_ref().is_some_and(|job| job.id == *id));
        if in_hand {
            self.note_break();
            return;
        }
        match self.store.with_value(|store| store.job(id)) {
            Ok(job) => {
                self.job.set(job);
                self.note_break();
            }
            Err(error) => {
                self.job.set(None);
                self.refuse(error.to_string());
            }
        }
    }

    /// Puts a break into the log where the job rested for long, and says so.
    pub(in crate::app) fn note_break(self) {
        let progress = self.progress.get_untracked();
        let due = self.job.with_untracked(|job| {
            let both = job.as_ref().zip(progress.as_ref());
            both.is_some_and(|(job, progress)| is_break_due(job, progress, device::now()))
        });
        if due {
            self.pause(words::LEFT_FOR_LONG);
        }
    }

    /// Puts a break into the log and says which stops and warm-ups it ended.
    pub fn pause(self, why: &str) {
        if self.record(Deed::Paused) {
            let progress = self.progress.get_untracked();
            let lapsed = progress.iter().flat_map(Progress::lapsed);
            let stops: Vec<usize> = lapsed.map(|stop| stop.number).collect();
            let steps = progress.iter().flat_map(|progress| &progress.steps);
            let cold = steps.filter(|step| step.status == Status::WaitAgain);
            let cold: Vec<usize> = cold.map(|step| step.number).collect();
            self.say_when_kept(words::after_a_break(why, &stops, &cold));
        }
    }

    /// Shows another screen.
    pub fn go(self, route: &Route) {
        device::go(&route.address());
    }

    /// Says something that is good to know.
    pub fn say(self, text: impl Into<String>) {
        self.notify(text, Weight::Plain, None);
    }

    /// Says that something was not done, and why.
    pub fn refuse(self, text: impl Into<String>) {
        self.notify(text, Weight::Refused, None);
    }

    /// Says something that waits for a word, and what one press can do about it.
    pub fn ask(self, text: impl Into<String>, offer: Option<Offer>) {
        self.notify(text, Weight::Refused, offer);
    }

    fn notify(self, text: impl Into<String>, weight: Weight, offer: Option<Offer>) {
        let text = text.into();
        self.notice.set(Some(Notice {
            text,
            weight,
            offer,
        }));
    }

    /// Whether the job in hand takes entries: there is one, and it is not signed off.
    pub fn is_open(self) -> bool {
        self.progress
            .with(|p| p.as_ref().is_some_and(|p| p.signed_off.is_none()))
    }

    /// The decimal sign in use.
    pub fn sign(self) -> DecimalSign {
        self.preferences
            .with(|preferences| preferences.decimal_sign)
    }

    /// The decimal sign in use, for what is done once.
    pub fn sign_now(self) -> DecimalSign {
        self.preferences
            .with_untracked(|preferences| preferences.decimal_sign)
    }

    /// All procedures, by id and revision, read anew whenever the storage changes.
    pub fn procedures(self) -> Vec<Procedure> {
        let mut all = self.read_all(Store::procedures);
        all.retain(|procedure| !procedure.is_none());
        all
    }

    /// The procedure with this digest.
    pub fn procedure(self, digest: &str) -> Option<Procedure> {
        self.read_all(|store| store.procedure(digest))
    }

    /// The jobs whose lines are wanted, read anew whenever the storage changes.
    pub fn jobs_where(self, wanted: impl Fn(&Line) -> bool) -> Vec<Job> {
        self.read_all(|store| store.jobs_where(wanted))
    }

    /// All that the job in hand is worked by.
    pub fn course(self) -> Option<Course> {
        self.progress
            .with_untracked(|progress| Some(progress.as_ref()?.course.clone()))
    }

    /// The number of a step of the job in hand.
    pub fn number_of(self, step: &Id) -> Option<usize> {
        self.progress
            .with_untracked(|progress| Some(progress.as_ref()?.step(step)?.number))
    }

    /// The visits that the set in hand made before this one: the latest few, the latest first. They
    /// are read anew only when one of them has changed.
    pub fn visits_before(self) -> Arc<Vec<Progress>> {
        let wanted = self.progress.with_untracked(|progress| {
            let progress = progress.as_ref()?;
            let started = progress.span?.0;
            let set = job::set_key(&progress.header.set)?;
            let lines = self.lines.get_untracked();
            let same = lines.iter().filter(|line| {
                line.started < started && job::set_key(&line.set).as_ref() == Some(&set)
            });
            let latest = same.take(VISITS_BEFORE).map(|line| as_it_is(line));
            Some(latest.collect::<Vec<_>>())
        });
        let wanted = wanted.unwrap_or_default();
        let known = self.visits.with_value(Clone::clone);
        if known.0 == wanted {
            return known.1;
        }
        let read = |(id, ..): &AsItWas| {
            let job = self.store.with_value(|store| store.job(id)).ok()??;
            Some(job.progress())
        };
        let visits = Arc::new(wanted.iter().filter_map(read).collect::<Vec<_>>());
        self.visits.set_value((wanted, visits.clone()));
        visits
    }

    /// What earlier jobs tell of a chase of a job. They are read once, and again only when one of
    /// them has changed.
    pub fn kindred(self, job: &Id, chase: &Chase) -> Option<Arc<Kindred>> {
        let lines = self.lines.get_untracked();
        let earlier = job::may_teach(lines.iter().map(Arc::as_ref), job);
        let by: Vec<_> = earlier.into_iter().map(as_it_is).collect();
        let is_known = |told: &Told| told.job == *job && told.steps == chase.steps && told.by == by;
        let known = self.kindred.with_value(Option::clone).filter(is_known);
        if let Some(known) = known {
            return known.kindred;
        }
        let kindred = self.store.with_value(|store| {
            let jobs = by
                .iter()
                .filter_map(|(id, ..)| store.job(id).ok().flatten());
            let course = self.course()?;
            job::kindred(&course, chase, jobs).map(Arc::new)
        });
        self.kindred.set_value(Some(Told {
            job: job.clone(),
            steps: chase.steps.clone(),
            by,
            kindred: kindred.clone(),
        }));
        kindred
    }

    /// The job with this id, which need not be the one in hand.
    pub fn stored_job(self, id: &Id) -> Option<Job> {
        self.read_all(|store| store.job(id))
    }

    /// Reads from the storage, again whenever it changes. Where that can't be done, it is told.
    fn read_all<T: Default>(
        self,
        read: impl FnOnce(&Store<BrowserStorage>) -> Result<T, StorageError>,
    ) -> T {
        self.changes.track();
        self.store.with_value(read).unwrap_or_else(|error| {
            match error {
                StorageError::Unreadable { .. } => self.refuse(error.to_string()),
                _ => self.trouble.set(Some(error)),
            }
            T::default()
        })
    }

    /// What an import is compared with, but for the jobs.
    pub fn here(self) -> Here {
        Here {
            procedures: self.read_all(Store::procedures),
            jobs: Vec::new(),
            kit: self.kit(),
            channels: self.channel_tables(),
            preferences: self.preferences.get_untracked(),
        }
    }

    /// The technician's own channel tables, read anew whenever the storage changes.
    pub fn channel_tables(self) -> Vec<ChannelTable> {
        self.changes.track();
        self.store.with_value(Store::channel_tables)
    }

    /// The instruments on the shelf, read anew whenever the storage changes.
    pub fn kit(self) -> Vec<Instrument> {
        self.changes.track();
        self.store.with_value(Store::kit)
    }

    /// Lets something be done with the store, and says so when it fails.
    pub fn with_store<T>(
        self,
        act: impl FnOnce(&Store<BrowserStorage>) -> Result<T, StorageError>,
    ) -> Option<T> {
        let outcome = self.store.with_value(act);
        self.changes.update(|count| *count += 1);
        match outcome {
            Ok(value) => Some(value),
            Err(error) => {
                self.refuse(error.to_string());
                None
            }
        }
    }

    /// The same for what no list on any screen shows, so that none is read anew.
    pub fn read_store<T>(
        self,
        act: impl FnOnce(&Store<BrowserStorage>) -> Result<T, StorageError>,
    ) -> Option<T> {
        let refused = |error: StorageError| self.refuse(error.to_string());
        self.store.with_value(act).map_err(refused).ok()
    }

    /// Writes a job to the storage. Only when this gives true may the screen show it as taken,
    /// and only when `safekeeping` has nothing of it on its way may it call it saved.
    pub fn save(self, job: Job) -> bool {
        self.told(self.try_save(job))
    }

    /// Where something could not be done, the reason is on the screen.
    fn told(self, outcome: Result<(), String>) -> bool {
        outcome.map_err(|why| self.refuse(why)).is_ok()
    }

    fn try_save(self, job: Job) -> Result<(), String> {
        match self.store.with_value(|store| store.save_entries(&job)) {
            Ok(joined) => {
                if self
                    .unsaved
                    .with_untracked(|other| is_made_good(other, &joined))
                {
                    self.unsaved.set(None);
                }
                self.changes.update(|count| *count += 1);
                self.job.set(Some(joined));
                // The lists can wait until the screen says what became of the reading.
                device::after_paint(move || self.renew_line());
                Ok(())
            }
            Err(error) => {
                self.unsaved.set(Some(job));
                Err(error.to_string())
            }
        }
    }

    fn renew_line(self) {
        self.job.with_untracked(|job| {
            self.progress.with_untracked(|progress| {
                if let (Some(job), Some(progress)) = (job, progress) {
                    self.store
                        .with_value(|store| store.renew_line(job, progress));
                }
            });
        });
    }

    /// Writes a deed to the log of the job in hand. False when it was refused or could not
    /// be stored; the reason is then on the screen.
    pub fn record(self, deed: Deed) -> bool {
        self.record_all([deed])
    }

    /// The same with several deeds: all of them are written, or none.
    pub fn record_all(self, deeds: impl IntoIterator<Item = Deed>) -> bool {
        self.told(self.try_record(deeds))
    }

    /// The same for who says the reason in a place of its own, as a question that is open does.
    pub fn try_record(self, deeds: impl IntoIterator<Item = Deed>) -> Result<(), String> {
        let Some(mut job) = self.job.get_untracked() else {
            return Err(words::NO_JOB.to_owned());
        };
        let deeds = deeds.into_iter().map(|deed| (device::stamp(), deed));
        let recorded = self.progress.with_untracked(|progress| match progress {
            Some(progress) => job.record_all(progress, deeds),
            None => job.record_all(&job.progress(), deeds),
        });
        recorded.map_err(|refusal| refusal.to_string())?;
        if self.notice.with_untracked(Option::is_some) {
            self.notice.set(None);
        }
        self.try_save(job)
    }

    /// Takes the last deed back. One that is not of the step in front is named first, and
    /// taken back by a press on that.
    pub fn undo(self, in_front: Option<&Id>) {
        let last = self.job.with_untracked(|job| {
            let event = job.as_ref()?.last_undoable()?;
            Some((event.id.clone(), event.did.clone()))
        });
        let Some((event, did)) = last else {
            return self.refuse(crate::job::Refusal::NothingToUndo.to_string());
        };
        if in_front.is_some() && did.step() == in_front {
            return self.take_back(event, &did);
        }
        let (what, step) = self.named(&event, &did);
        let act = Arc::new(move || self.take_back(event.clone(), &did));
        let word = words::UNDO_IT.to_owned();
        self.ask(
            words::not_of_this_step(&what, step),
            Some(Offer { word, act }),
        );
    }

    fn take_back(self, event: Id, did: &Deed) {
        let (what, step) = self.named(&event, did);
        let job = self
            .job
            .with_untracked(|job| Some(job.as_ref()?.id.clone()));
        if self.record(Deed::Undone { event }) {
            // The step in front may be gone.
            if let Some(job) = job.filter(|_| did.adds_steps()) {
                self.go(&Route::Step { job, step: None });
            }
            self.say_when_kept(words::taken_back(&what, step));
        }
    }

    /// What a deed that is taken back is called, and the number of its step.
    fn named(self, event: &Id, deed: &Deed) -> (String, Option<usize>) {
        let step = deed.step().and_then(|step| self.number_of(step));
        let what = match deed {
            Deed::Reading { value, phase, .. } => {
                let sign = self.preferences.with_untracked(|p| p.decimal_sign);
                words::reading(phase.name(), &value.typeset(sign))
            }
            Deed::Ticked { .. } => words::TICK.to_owned(),
            Deed::Answered { answer, .. } => words::answer(answer.name()),
            Deed::Noted { .. } => words::NOTE.to_owned(),
            Deed::Waived { .. } => words::WAIVER.to_owned(),
            Deed::SetAside { .. } => words::SET_ASIDE.to_owned(),
            Deed::SignedOff { .. } => words::SIGN_OFF.to_owned(),
            Deed::Reopened { .. } => words::REOPENING.to_owned(),
            Deed::Opened(_) | Deed::Amended(_) => {
                let parts = self
                    .job
                    .with_untracked(|job| Some(job.as_ref()?.details_without(event)));
                words::details(&parts.unwrap_or_default())
            }
            Deed::TookOn { procedure } => words::taken_on(&procedure.title),
            Deed::FaultNoted { .. } => words::FAULT.to_owned(),
            Deed::PathNoted { path, .. } => words::path(&path.title),
            Deed::Looked { look } => words::look(&self.place_of(&look.at), look.showed),
            Deed::PartNoted { part, .. } => words::part(&part.what),
            Deed::OwnerAsked { .. } => words::ASKED.to_owned(),
            Deed::OwnerAnswered { .. } => words::ANSWERED.to_owned(),
            Deed::Collected { .. } => words::COLLECTED.to_owned(),
            Deed::AddedStep { added } => words::added(&added.step.title),
            Deed::MeasuredWith { instrument } => words::another(instrument.role.as_str()),
            Deed::Undone { .. } => words::UNDO.to_owned(),
            Deed::Struck { .. } => words::STRUCK.to_owned(),
            Deed::CrossRead { value, .. } | Deed::PinRead { value, .. } => {
                let sign = self.preferences.with_untracked(|p| p.decimal_sign);
                words::plain_reading(&value.typeset(sign))
            }
            Deed::WaitBegun { .. } => words::WAIT.to_owned(),
            Deed::PassBegun { .. } => words::PASS.to_owned(),
            Deed::Paused => words::BREAK.to_owned(),
            Deed::TakenOff { item, .. } => words::taken_off(&item.what),
            Deed::PutBack { .. } => words::PUT_BACK.to_owned(),
            Deed::StaysOff { .. } => words::STAYS_OFF.to_owned(),
            Deed::Changed { change, .. } => words::change(&change.fitted),
            Deed::PaperKept { paper } => words::paper(&paper.title),
            Deed::PaperChanged { change, .. } => match change {
                PaperChange::Titled(_) => words::PAPER_TITLED.to_owned(),
                PaperChange::Pinned(pin) => words::pin(pin.of.name()),
                PaperChange::Unpinned(spot) => words::unpinned(spot.name()),
                PaperChange::Removed => words::PAPER_REMOVED.to_owned(),
            },
            Deed::Photographed { .. } => words::PHOTO.to_owned(),
            Deed::PhotoRemoved { .. } => words::PHOTO_REMOVED.to_owned(),
        };
        (what, step)
    }

    /// What is looked at at a place along a path.
    fn place_of(self, at: &LookAt) -> String {
        self.progress.with_untracked(|progress| {
            let mut traces = progress.iter().flat_map(|it| &it.traces);
            let trace = traces.find(|trace| trace.name == at.path);
            let check = trace.and_then(|trace| trace.path.check(&at.check));
            check.map_or(String::new(), |(_, check)| check.what.clone())
        })
    }

    /// Hands a document to the user as a file, together with its pictures.
    pub fn save_as_file(self, document: &Document) {
        carry::save(self, Outgoing::one(document.clone()));
    }

    /// What was typed in a step but not entered.
    pub fn draft(self, job: &Id, step: &Id) -> String {
        self.store
            .with_value(|store| store.draft(job, step))
            .unwrap_or_default()
    }

    /// Keeps what is being typed. It is a convenience: failing to keep it is not told.
    pub fn keep_draft(self, job: &Id, step: &Id, text: &str) {
        let _ = self
            .store
            .with_value(|store| store.save_draft(job, step, text));
    }

    /// What was typed in a form or dialog and not sent yet.
    pub fn form(self, place: &str) -> String {
        self.store
            .with_value(|store| store.form(place))
            .unwrap_or_default()
    }

    /// The places of a job's forms in which something was typed and not sent.
    pub fn unsent(self, job: &Id) -> Vec<String> {
        self.store.with_value(|store| store.unsent(job))
    }

    /// Keeps what is being typed in a form; an empty text is dropped. Failing to keep it is not
    /// told: it stands in the form.
    pub fn keep_form(self, place: &str, text: &str) {
        let _ = self.store.with_value(|store| store.save_form(place, text));
    }

    /// Keeps what is typed in a form as it changes; none is kept as it was. At first nothing is
    /// typed yet, and the journal may have what was.
    pub fn keep_form_as_typed(self, place: String, text: impl Fn() -> Option<String> + 'static) {
        Effect::new(move |before: Option<()>| {
            if let Some(text) = text().filter(|_| before.is_some()) {
                self.keep_form(&place, &text);
            }
        });
    }

    /// What was typed in a calculation.
    pub fn sum(self, id: &str) -> TypedInputs {
        self.store.with_value(|store| store.sum(id))
    }

    /// Keeps what is being typed in a calculation, as a convenience like a draft.
    pub fn keep_sum(self, id: &str, typed: &TypedInputs) {
        let _ = self.store.with_value(|store| store.save_sum(id, typed));
    }
}

/// Whether nothing is missing any more once a job is stored. What another job lacks it still
/// lacks, but for one that was to be opened: the next try makes a job of its own.
fn is_made_good(unsaved: &Option<Job>, stored: &Job) -> bool {
    let job = unsaved.as_ref();
    job.is_some_and(|job| job.id == stored.id || job.log.len() == 1)
}

fn lines_of(store: &Store<BrowserStorage>) -> Result<Vec<Arc<Line>>, StorageError> {
    let mut lines = store.lines()?;
    lines.sort_by(|a, b| (b.touched, &b.id).cmp(&(a.touched, &a.id)));
    Ok(lines)
}

/// A start without an address goes on where the last one ended. Whether it was one.
fn resume(store: &Store<BrowserStorage>) -> bool {
    let fresh = matches!(device::hash().as_str(), "" | "#");
    if fresh && let Some(place) = store.place() {
        device::go(&place);
    }
    fresh
}
