//! Jobs in hand and finished.

use crate::app::platform::device;
use crate::app::screens::counter::loose;
use crate::app::screens::procedures;
use crate::app::shell::at_risk;
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::desk::Desk;
use crate::app::shell::route::Route;
use crate::app::ui::{LineMap, find};
use crate::app::words::counter::{dealings, jobs as words, loose as loose_words};
use crate::app::words::set::scan as scan_words;
use crate::app::words::shell::find as find_words;
use crate::app::words::{author as writing, frame, shared};
use crate::exchange::demo;
use crate::job::{Line, Search, SetKey, Shown, Standing};
use crate::metrology::instrument::Instrument;
use crate::procedure::{Listed, Procedure, latest};
use leptos::prelude::*;
use leptos::task::spawn_local;
use std::collections::HashMap;
use std::sync::Arc;
use wasm_split_helpers::{SplitLoaderError, wasm_split};

/// How many jobs of a kind are shown before more are asked for. Of a thousand, a search finds
/// one sooner than a long list does.
const AT_FIRST: usize = 10;

/// The screen.
pub fn screen() -> impl IntoView {
    let bench = use_bench();
    let empty = Memo::new(move |_| bench.lines.with(Vec::is_empty));
    move || match empty.get() {
        true => {
            view! { {unread(bench)} {welcome(bench, bench.procedures().is_empty())} }.into_any()
        }
        false => list(bench).into_any(),
    }
}

/// What is in no list, since it can't be read.
fn unread(bench: Bench) -> impl Fn() -> Option<AnyView> {
    move || {
        let read = |lines: &Vec<Arc<Line>>| {
            bench.read_store(|store| store.unread_jobs(lines).map(|jobs| jobs.len()))
        };
        let count = bench.lines.with(read).filter(|count| *count > 0)?;
        let text = words::unread(count);
        Some(
            view! {
                <p class="hint" role="status">{text}" "<a href=Route::Data.address()>{words::UNREAD_WAY}</a></p>
            }
            .into_any(),
        )
    }
}

/// The jobs that are looked for.
fn list(bench: Bench) -> impl IntoView {
    let typed = RwSignal::new(String::new());
    let which = RwSignal::new(Shown::All);
    let stock = Stock::of(bench);
    let several = move || bench.lines.with(|lines| lines.len() > 1);
    let is_due = |line: &Arc<Line>| !line.parts_due.is_empty() && !line.is_finished();
    let orders = move || bench.lines.with(|lines| lines.iter().any(is_due));
    view! {
        <section class="page">
            <div class="title-row">
                <h1>{words::TITLE}</h1>
                <span class="row">
                    <a class="button main" href=Route::Start(None).address()>{shared::START_A_JOB}</a>
                    <a class="button" href=Route::BookIn.address()>{shared::BOOK_IN}</a>
                    <a class="button" href=Route::OneReading.address()>{loose_words::TAKE_ONE}</a>
                    <a class="button" href=Route::Scan.address()>{scan_words::SCAN}</a>
                    <Show when=orders>
                        <a class="button" href=Route::ToOrder.address()>{dealings::TO_ORDER}</a>
                    </Show>
                </span>
            </div>
            {at_risk::reminder(bench)}
            {unread(bench)}
            <Show when=several>
                <div class="finder" role="search">
                    {find::field("find", typed, find_words::FIND_HINT)}
                    {choices(which)}
                </div>
            </Show>
            {move || found(bench, stock, &typed.get(), which.get())}
        </section>
    }
}

/// Finished, in hand, waiting.
fn choices(which: RwSignal<Shown>) -> impl IntoView {
    let choice = move |shown: Shown| {
        view! {
            <label class="option">
                <input type="radio" name="which" prop:checked=move || which.get() == shown
                    on:change=move |_| which.set(shown)/>
                <span>{find_words::shown(shown)}</span>
            </label>
        }
    };
    view! {
        <fieldset class="filters">
            <legend>{find_words::WHICH}</legend>
            <div class="row">{Shown::CHOICES.map(choice).collect_view()}</div>
        </fieldset>
    }
}

/// What is looked through, as far as it needn't be worked out anew for every letter.
#[derive(Clone, Copy)]
struct Stock {
    lines: Memo<Vec<Arc<Line>>>,
    /// How often each set was here.
    visits: Memo<HashMap<SetKey, usize>>,
    /// The latest revisions, with their digests.
    procedures: Memo<Vec<(Listed, String)>>,
}

impl Stock {
    fn of(bench: Bench) -> Self {
        let with_digest = |listed: Listed| {
            let digest = listed.procedure.digest();
            (listed, digest)
        };
        Stock {
            lines: bench.lines,
            visits: Memo::new(move |_| bench.lines.with(|lines| find::visits(lines))),
            procedures: Memo::new(move |_| {
                let all = latest(bench.procedures()).into_iter();
                all.map(with_digest).collect()
            }),
        }
    }
}

fn found(bench: Bench, stock: Stock, typed: &str, which: Shown) -> impl IntoView + use<> {
    let search = Search::of(typed);
    let found: Vec<Arc<Line>> = stock.lines.with(|lines| {
        let found = lines.iter();
        let found = found.filter(|line| which.has(line) && search.finds_job(line));
        found.cloned().collect()
    });
    let nothing = found.is_empty().then(|| {
        let why = match search.is_empty() {
            true => find_words::NONE_OF_THESE,
            false => find_words::NOTHING,
        };
        view! { <p class="lead" role="status">{why}</p> }
    });
    let sets = (!search.is_empty()).then(|| stock.visits.with(|visits| sets(&found, visits)));
    let procedures = (!search.is_empty()).then(|| procedures(stock, &search));
    let (loose, jobs): (Vec<_>, Vec<_>) = found.into_iter().partition(|line| line.is_loose());
    let (finished, in_hand): (Vec<_>, Vec<_>) =
        jobs.into_iter().partition(|line| line.is_finished());
    view! {
        {nothing}
        {group(words::IN_HAND, in_hand, card)}
        {group(loose_words::ALL, loose, move |line| loose::card(bench, line))}
        {group(words::FINISHED, finished, card)}
        {sets}
        {procedures}
    }
}

/// The way to each set that was found.
fn sets(found: &[Arc<Line>], visits: &HashMap<SetKey, usize>) -> Option<impl IntoView + use<>> {
    let sets = find::sets(found, visits);
    let rows = sets.iter().map(|(set, visits)| {
        let name = find_words::set(&set.title(), *visits);
        let address = Route::Set(set.serial.clone()).address();
        view! { <li><a class="button plain" href=address>{name}</a></li> }
    });
    (!sets.is_empty()).then(|| {
        view! {
            <h2>{find_words::SETS}</h2>
            <ul class="plain-list">{rows.collect_view()}</ul>
        }
    })
}

/// The procedures that were found.
fn procedures(stock: Stock, search: &Search) -> Option<impl IntoView + use<>> {
    let cards: Vec<_> = stock.procedures.with(|all| {
        let found = all.iter();
        let found = found.filter(|(it, _)| {
            let Procedure { title, covers, .. } = &it.procedure;
            search.finds(&[title, covers])
        });
        found
            .map(|(it, digest)| procedures::card(it, &Route::Procedure(digest.clone())))
            .collect()
    });
    (!cards.is_empty()).then(|| {
        view! {
            <h2>{find_words::PROCEDURES}</h2>
            <ul class="cards">{cards}</ul>
        }
    })
}

fn welcome(bench: Bench, no_procedures: bool) -> impl IntoView {
    let load = move |_| {
        spawn_local(async move {
            match load_demo(bench).await {
                Ok(Some(route)) => bench.go(&route),
                Ok(None) => {}
                Err(_) => bench.refuse(frame::PART_MISSING),
            }
        });
    };
    view! {
        <section class="page welcome">
            <h1>{words::WELCOME}</h1>
            <p class="lead">
                {words::WELCOME_LEAD}
            </p>
            <div class="row">
                <button type="button" class="main large" on:click=load>{words::LOAD_DEMO}</button>
                <Show when=move || !no_procedures>
                    <a class="button large" href=Route::Start(None).address()>{shared::START_A_JOB}</a>
                </Show>
                <a class="button large" href=Route::BookIn.address()>{shared::BOOK_IN}</a>
                <a class="button large" href=Route::OneReading.address()>{loose_words::TAKE_ONE}</a>
                <a class="button large" href=Route::Author(Desk::New).address()>{writing::WRITE}</a>
                <a class="button large" href=Route::Data.address()>{shared::BRING_IN_FILE}</a>
            </div>
            <p class="hint">{words::DEMO_HINT}</p>
        </section>
    }
}

/// Puts the demo's procedure and its half-done job into the store.
#[wasm_split(desk, fallible)]
fn load_demo(bench: Bench) -> Result<Option<Route>, SplitLoaderError> {
    Ok(demo_in(bench))
}

fn demo_in(bench: Bench) -> Option<Route> {
    const MINUTE: i64 = 60_000;
    let last = device::now() - 5 * MINUTE;
    let job = demo::half_done_until(last, device::fresh_id);
    let demo = job.and_then(|job| Ok((job, demo::kit()?)));
    match demo {
        Ok((job, kit)) => {
            add_to_kit(bench, kit)?;
            let saved = bench.with_store(|store| store.save_job(&job))?;
            Some(Route::Steps(saved.id))
        }
        Err(error) => {
            bench.refuse(error.to_string());
            None
        }
    }
}

/// Adds instruments to those on the shelf, which stay as they are.
fn add_to_kit(bench: Bench, instruments: Vec<Instrument>) -> Option<()> {
    bench.with_store(|store| {
        let mut kit = store.kit();
        let is_new = |i: &Instrument, kit: &[Instrument]| kit.iter().all(|k| k.name != i.name);
        for instrument in instruments {
            if is_new(&instrument, &kit) {
                kit.push(instrument);
            }
        }
        store.save_kit(&kit)
    })
}

fn group<V: IntoView + 'static>(
    title: &'static str,
    lines: Vec<Arc<Line>>,
    card: impl Fn(&Line) -> V + Copy + Send + Sync + 'static,
) -> Option<impl IntoView> {
    let most = RwSignal::new(AT_FIRST);
    let all = lines.len();
    let lines = StoredValue::new(lines);
    let cards = move || {
        lines.with_value(|lines| {
            lines
                .iter()
                .take(most.get())
                .map(|line| card(line))
                .collect_view()
        })
    };
    (all > 0).then(|| {
        view! {
            <h2>{title}</h2>
            <ul class="cards">{cards}</ul>
            {move || find::more(most, all)}
        }
    })
}

fn card(line: &Line) -> impl IntoView + use<> {
    let title = match line.set.title() {
        title if title.is_empty() => words::NAMELESS.to_owned(),
        title => title,
    };
    let (route, state) = match &line.standing {
        Standing::Finished { by, at } => (
            Route::Finish(line.id.clone()),
            match &line.collected {
                Some(home) => dealings::collected(&home.by, &device::date_and_time(home.at)),
                None => words::finished(by, &device::date_and_time(*at)),
            },
        ),
        Standing::Settled if line.steps == 0 => {
            (Route::Steps(line.id.clone()), words::NO_STEPS.to_owned())
        }
        Standing::InHand(step) | Standing::Waiting { step, .. } => (
            Route::Step {
                job: line.id.clone(),
                step: Some(step.id.clone()),
            },
            words::step(step.number, &step.title),
        ),
        Standing::Settled => (
            Route::Finish(line.id.clone()),
            words::ALL_SETTLED.to_owned(),
        ),
    };
    let awaits = words::awaits(&line.awaits);
    let (settled, steps) = (line.settled, line.steps);
    let here = match &line.standing {
        Standing::InHand(step) | Standing::Waiting { step, .. } => Some(step.number),
        Standing::Settled | Standing::Finished { .. } => None,
    };
    let about = [&line.number, &line.owner, &line.fault]
        .into_iter()
        .filter(|text| !text.is_empty())
        .cloned()
        .collect::<Vec<_>>();
    view! {
        <li>
            <a class="card" href=route.address()>
                <strong>{title}</strong>
                <span>{words::about(&about)}</span>
                <span class="card-state">{state}</span>
                {awaits.map(|awaits| view! { <span class="card-state">{awaits}</span> })}
                <LineMap map=line.map.clone() here/>
                <span class="hint">{words::settled(settled, steps)}</span>
            </a>
        </li>
    }
}
