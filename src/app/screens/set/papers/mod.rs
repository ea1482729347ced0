//! The papers of a set: circuit diagrams, layouts, service sheets.

mod file;

pub use self::file::{ACCEPT, kept, title_of};

use crate::app::platform::device;
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::open_step::ways_back;
use crate::app::shell::route::Route;
use crate::app::ui::{PaperView, PictureInput, Pinning, Removal, field_text};
use crate::app::words::set::{papers as words, photos};
use crate::job::{Deed, Job, PaperChange};
use crate::procedure::{Id, Paper, PaperPin, PaperSpot, PictureDigest, Step};
use leptos::prelude::*;
use leptos::task::spawn_local;
use web_sys::File;

/// The screen: all papers, and how to add one.
pub fn screen() -> impl IntoView {
    let bench = use_bench();
    let job = bench.job.get_untracked()?.id;
    let is_open = move || bench.is_open();
    let own = of_job(bench);
    let names = Memo::new(move |_| own.with(|papers| names_of(papers)));
    let before = before(bench, own);
    let busy = RwSignal::new(false);
    let id = StoredValue::new(job.clone());
    Some(view! {
        <section class="page">
            {ways_back(&job)}
            <h1>{words::TITLE}</h1>
            <p class="lead">{words::LEAD}</p>
            <Show when=move || names.with(Vec::is_empty)><p>{words::NONE}</p></Show>
            <ul class="papers">
                <For each=move || names.get() key=PictureDigest::clone let:name>{one(bench, id.get_value(), own, name)}</For>
            </ul>
            <Show when=move || !before.with(Vec::is_empty)>
                <h2>{words::FROM_BEFORE}</h2>
                <ul class="papers">
                    <For each=move || before.get() key=|paper| paper.paper.clone() let:paper>{earlier(bench, id.get_value(), paper)}</For>
                </ul>
            </Show>
            <Show when=is_open fallback=|| view! { <p class="closed">{photos::FINISHED}</p> }>
                <h2>{words::ADD}</h2>
                <PictureInput id="paper" busy accept=ACCEPT load=words::LOAD working=words::WORKING
                    on_file=move |file| add(bench, id.get_value(), busy, file)/>
            </Show>
        </section>
    })
}

/// The papers of the job in hand.
fn of_job(bench: Bench) -> Memo<Vec<Paper>> {
    Memo::new(move |_| {
        let papers = bench.progress.with(|it| Some(it.as_ref()?.papers.clone()));
        papers.unwrap_or_default()
    })
}

/// Those of earlier visits that the job in hand has not.
fn before(bench: Bench, own: Memo<Vec<Paper>>) -> Memo<Vec<Paper>> {
    Memo::new(move |_| {
        let known = own.with(|papers| names_of(papers));
        not_among(&known, bench)
    })
}

fn not_among(known: &[PictureDigest], bench: Bench) -> Vec<Paper> {
    let mut found: Vec<Paper> = Vec::new();
    let visits = bench.visits_before();
    for paper in visits.iter().flat_map(|visit| &visit.papers) {
        let is_new = !known.contains(&paper.paper);
        if is_new && !found.iter().any(|it| it.paper == paper.paper) {
            found.push(paper.clone());
        }
    }
    found
}

/// The papers at hand in a job: its own, and then those of earlier visits of the set.
fn at_hand(bench: Bench) -> Vec<Paper> {
    let papers = bench
        .progress
        .with(|it| it.as_ref().map(|it| it.papers.clone()));
    let mut papers = papers.unwrap_or_default();
    let known = names_of(&papers);
    papers.extend(not_among(&known, bench));
    papers
}

/// The names of papers.
pub fn names_of(papers: &[Paper]) -> Vec<PictureDigest> {
    papers.iter().map(|paper| paper.paper.clone()).collect()
}

/// The beginning of a paper's name.
pub fn short(name: &PictureDigest) -> String {
    name.as_str().chars().take(8).collect()
}

/// Looks at a file, stores it, and only then writes it into the log.
fn add(bench: Bench, job: Id, busy: RwSignal<bool>, file: File) {
    busy.set(true);
    spawn_local(async move {
        let kept = kept(&file).await;
        busy.try_set(false);
        // Another job may be in hand by now.
        let in_hand = bench
            .job
            .with_untracked(|it| it.as_ref().is_some_and(|it| it.id == job));
        match kept {
            Err(why) => bench.refuse(why),
            Ok(_) if !in_hand => {}
            Ok(paper) => {
                let others = bench.progress.with_untracked(|it| {
                    let papers = it.as_ref().map(|it| it.papers.len());
                    papers.unwrap_or_default()
                });
                let paper = Box::new(Paper {
                    paper,
                    title: title_of(&file.name(), others),
                    pins: Vec::new(),
                });
                if bench.record(Deed::PaperKept { paper }) {
                    bench.say_when_kept(words::KEPT);
                }
            }
        }
    });
}

fn route_of(job: &Id, paper: &PictureDigest, step: Option<Id>) -> Route {
    Route::Paper {
        job: job.clone(),
        paper: paper.clone(),
        step,
    }
}

/// A paper in the list.
fn one(bench: Bench, job: Id, own: Memo<Vec<Paper>>, name: PictureDigest) -> impl IntoView {
    let found = Memo::new({
        let name = name.clone();
        move |_| own.with(|papers| papers.iter().find(|it| it.paper == name).cloned())
    });
    let title = move || found.with(|it| it.as_ref().map(|it| it.title.clone()));
    let title = move || title().unwrap_or_default();
    let pins = move || found.with(|it| it.as_ref().map_or(0, |it| it.pins.len()));
    let typed = RwSignal::new(untrack(title));
    Effect::new(move |_| typed.set(title()));
    let digest = StoredValue::new(name.clone());
    let change = move |change: PaperChange| {
        let paper = digest.get_value();
        bench.record(Deed::PaperChanged { paper, change })
    };
    let renamed = move |_| {
        let now = typed.with_untracked(|typed| typed.trim().to_owned());
        if now != untrack(title) && !change(PaperChange::Titled(now)) {
            typed.set(untrack(title));
        }
    };
    let remove = Callback::new(move |()| {
        if change(PaperChange::Removed) {
            bench.say_when_kept(words::REMOVED);
        }
    });
    let id = format!("paper-{}", short(&name));
    let address = route_of(&job, &name, None).address();
    view! {
        <li>
            <div class="paper-line">
                <a class="button main" href=address aria-label=move || words::open(&title())>{words::OPEN}</a>
                <div class="field">
                    <label for=id.clone()>{words::NAME}</label>
                    <input id=id type="text" autocomplete="off" disabled=move || !bench.is_open()
                        prop:value=move || field_text(typed.get())
                        on:input=move |e| typed.set(event_target_value(&e)) on:change=renamed/>
                </div>
            </div>
            <p class="hint">{move || words::pins(pins())}</p>
            <Show when=move || bench.is_open()>
                <div class="row">
                    <Removal ask=words::REMOVE remove=words::REMOVE_NOW keep=words::LEAVE on_remove=remove/>
                </div>
            </Show>
        </li>
    }
}

/// A paper of an earlier visit.
fn earlier(bench: Bench, job: Id, paper: Paper) -> impl IntoView {
    let address = route_of(&job, &paper.paper, None).address();
    let (title, pins) = (paper.title.clone(), words::pins(paper.pins.len()));
    let take = move |_| {
        let paper = Box::new(paper.clone());
        if bench.record(Deed::PaperKept { paper }) {
            bench.say_when_kept(words::KEPT);
        }
    };
    view! {
        <li>
            <div class="row">
                <a class="button" href=address>{words::open(&title)}</a>
                <Show when=move || bench.is_open()>
                    <button type="button" on:click=take.clone()>{words::TAKE_OVER}</button>
                </Show>
            </div>
            <p class="hint">{pins}</p>
        </li>
    }
}

/// The screen of one paper, at the place of what a step is about where one led here.
pub fn one_paper(name: PictureDigest, step: Option<Id>) -> impl IntoView {
    let bench = use_bench();
    let job = bench.job.get_untracked()?.id;
    let found = paper_of(bench, name);
    let all = Route::Papers(job.clone()).address();
    let Some(paper) = found.get_untracked() else {
        return Some(
            view! {
                <section class="page">
                    {ways_back(&job)}
                    <h1>{words::TITLE}</h1>
                    <p>{words::NOT_HERE}</p>
                    <a class="button" href=all>{words::ALL_PAPERS}</a>
                </section>
            }
            .into_any(),
        );
    };
    let about = step.as_ref().and_then(|step| {
        let course = bench.course()?;
        Some(course.procedure.step(step)?.paper_spots())
    });
    let back = step.and_then(|step| {
        let number = bench.number_of(&step)?;
        let step = Some(step);
        let job = job.clone();
        let address = Route::Step { job, step }.address();
        Some(view! { <a class="button main" href=address>{words::back_to_step(number)}</a> })
    });
    let beside = beside_key(bench, paper.paper.clone());
    let title = move || found.with(|it| it.as_ref().map(|it| it.title.clone()));
    let shown = Signal::derive(move || found.get().unwrap_or_else(|| paper.clone()));
    let pinning = bench.is_open().then(|| pinning(bench, shown));
    Some(
        view! {
            <section class="page paper-page">
                {ways_back(&job)}
                <div class="paper-head">
                    <h1>{title}</h1>
                    {back}
                    <a class="button" href=all>{words::ALL_PAPERS}</a>
                    {beside}
                </div>
                <PaperView paper=shown about=about.unwrap_or_default() pinning=pinning/>
            </section>
        }
        .into_any(),
    )
}

/// A paper at hand in the job.
fn paper_of(bench: Bench, name: PictureDigest) -> Memo<Option<Paper>> {
    Memo::new(move |_| {
        let mut papers = at_hand(bench).into_iter();
        papers.find(|it| it.paper == name)
    })
}

/// Pins of the job in hand. A paper of an earlier visit comes into it with its first one.
fn pinning(bench: Bench, paper: Signal<Paper>) -> Pinning {
    let change = move |change: PaperChange| {
        let known = paper.get_untracked();
        let name = known.paper.clone();
        let is_own = bench.progress.with_untracked(|it| {
            let papers = it.as_ref().map(|it| names_of(&it.papers));
            papers.unwrap_or_default().contains(&name)
        });
        let keep = (!is_own).then(|| Deed::PaperKept {
            paper: Box::new(known),
        });
        let paper = name;
        let deeds = keep
            .into_iter()
            .chain([Deed::PaperChanged { paper, change }]);
        bench.record_all(deeds);
    };
    Pinning {
        choices: Signal::derive(move || {
            let spots = bench.progress.with(|it| {
                let course = &it.as_ref()?.course;
                Some(course.procedure.paper_spots())
            });
            spots.unwrap_or_default()
        }),
        put: Callback::new(move |pin: PaperPin| change(PaperChange::Pinned(pin))),
        take_off: Callback::new(move |spot: PaperSpot| change(PaperChange::Unpinned(spot))),
    }
}

/// Keeps a paper beside the steps, on a screen that is wide enough.
fn beside_key(bench: Bench, name: PictureDigest) -> impl IntoView {
    let name = StoredValue::new(name);
    let is_beside = move || {
        bench
            .beside
            .with(|it| it.as_ref() == Some(&name.get_value()))
    };
    let toggle = move |_| {
        let was = untrack(is_beside);
        bench.beside.set((!was).then(|| name.get_value()));
    };
    view! {
        <button type="button" class="paper-beside-key" aria-pressed=move || is_beside().to_string() on:click=toggle>{words::BESIDE}</button>
    }
}

/// At a step: a key for each paper in which something of it is pinned, and the paper that is kept
/// beside the steps.
pub fn at_step(bench: Bench, job: &Id, step: &Step) -> impl IntoView + use<> {
    let (job, step) = (job.clone(), StoredValue::new(step.clone()));
    let papers = Memo::new(move |_| at_hand(bench));
    let keys = move || {
        let spots = step.with_value(Step::paper_spots);
        let found = papers.with(|papers| {
            let found = papers.iter().filter_map(|paper| {
                let (_, pins) = paper.page_of(&spots)?;
                let names: Vec<&str> = pins.iter().map(|pin| pin.of.name()).collect();
                let id = step.with_value(|step| step.id.clone());
                let address = route_of(&job, &paper.paper, Some(id)).address();
                let said = words::see(&words::both(&names), &paper.title);
                Some(view! { <a class="button" href=address>{said}</a> })
            });
            found.collect_view()
        });
        (!found.is_empty()).then(|| view! { <div class="row papers-of-step">{found}</div> })
    };
    let beside = Memo::new(move |_| {
        let wanted = bench.beside.get()?;
        papers.with(|papers| papers.iter().find(|it| it.paper == wanted).cloned())
    });
    let is_beside = Memo::new(move |_| beside.with(Option::is_some) && device::is_wide());
    view! {
        {keys}
        <Show when=move || is_beside.get()>
            {move || untrack(|| beside.get()).map(|paper| {
                let title = paper.title.clone();
                let shown = Signal::derive({
                    let paper = paper.clone();
                    move || beside.get().unwrap_or_else(|| paper.clone())
                });
                view! {
                    <section class="paper-beside" aria-label=title>
                        <PaperView paper=shown about=step.with_value(Step::paper_spots) narrow=true/>
                        {beside_key(bench, paper.paper)}
                    </section>
                }
            })}
        </Show>
    }
}

/// The way to the papers, from all steps of a job.
pub fn way(job: &Job, papers: usize) -> impl IntoView + use<> {
    let route = Route::Papers(job.id.clone());
    view! { <a class="button" href=route.address()>{words::count(papers)}</a> }
}
