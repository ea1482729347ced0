//! What goes into a file: one thing, several, or all there is.

use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::carry;
use crate::app::shell::carry::Outgoing;
use crate::app::shell::files::{SEVERAL, ways_out};
use crate::app::shell::route::Route;
use crate::app::ui::find;
use crate::app::ui::find::AT_ONCE;
use crate::app::words::device::{data, export as words};
use crate::app::words::shared;
use crate::app::words::shell::find as find_words;
use crate::exchange::{Backup, Document};
use crate::job::{Line, Search};
use crate::procedure::{Id, Procedure};
use leptos::prelude::*;
use std::collections::BTreeSet;
use std::sync::Arc;

/// Something that can be picked.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Pick {
    Settings,
    /// By its digest.
    Procedure(String),
    Job(Id),
    /// By its name.
    Instrument(String),
    /// By its name.
    Channels(String),
}

/// A thing to pick, with its name.
type Choice = (Pick, String);

type Picked = RwSignal<BTreeSet<Pick>>;

/// The screen.
pub fn screen() -> impl IntoView {
    let bench = use_bench();
    let picked = Picked::new(BTreeSet::new());
    let outgoing = move || outgoing(bench, &picked.get_untracked());
    let save = move |_| {
        if let Some(outgoing) = outgoing() {
            carry::save(bench, outgoing);
        }
    };
    let count = move || picked.with(BTreeSet::len);
    let none = move || count() == 0;
    let tell = move || match count() {
        0 => words::NOTHING.to_owned(),
        count => words::ticked(count),
    };
    view! {
        <section class="page">
            <p class="crumbs"><a href=Route::Data.address()>{data::TITLE}</a></p>
            <h1>{words::TITLE}</h1>
            <p class="lead">{words::LEAD}</p>
            {move || everything(bench, picked)}
            <div class="pick-end">
                <p role="status">{tell}</p>
                <button type="button" class="main" disabled=none on:click=save>{words::SAVE}</button>
                <Show when=move || !none()>{ways_out(SEVERAL.to_owned(), outgoing)}</Show>
            </div>
        </section>
    }
}

fn everything(bench: Bench, picked: Picked) -> impl IntoView {
    let procedures = bench.procedures().into_iter().map(|procedure| {
        let name = words::procedure(&procedure.title, procedure.revision);
        (Pick::Procedure(procedure.digest()), name)
    });
    let kit = bench.kit().into_iter();
    let kit = kit.map(|entry| (Pick::Instrument(entry.name.clone()), entry.name));
    let tables = bench.channel_tables().into_iter();
    let tables = tables.map(|table| (Pick::Channels(table.name.clone()), table.name));
    let settings = (Pick::Settings, words::SETTINGS.to_owned());
    view! {
        {jobs(bench.lines.get(), picked)}
        {group(words::PROCEDURES, procedures.collect(), picked)}
        {group(words::KIT, kit.collect(), picked)}
        {group(words::CHANNELS, tables.collect(), picked)}
        {group(words::SETTINGS, vec![settings], picked)}
    }
}

/// The jobs, of which there may be many: those that are looked for, the latest first.
fn jobs(lines: Vec<Arc<Line>>, picked: Picked) -> Option<impl IntoView> {
    let typed = RwSignal::new(String::new());
    let most = RwSignal::new(AT_ONCE);
    let none = lines.is_empty();
    let lines = StoredValue::new(lines);
    let found = move || {
        let search = Search::of(&typed.get());
        lines.with_value(|lines| {
            let found = lines.iter().filter(|line| search.finds_job(line));
            found
                .map(|line| (Pick::Job(line.id.clone()), shared::listed(&line.title())))
                .collect::<Vec<Choice>>()
        })
    };
    (!none).then(|| {
        view! {
            <fieldset class="picks">
                <legend>{words::JOBS}</legend>
                {find::field("find-job", typed, find_words::FIND_HINT)}
                {move || {
                    let found = found();
                    let all = found.len();
                    let shown = found[..all.min(most.get())].to_vec();
                    view! {
                        {whole_group(words::JOBS, &found, picked)}
                        {shown.into_iter().map(|choice| pick(choice, picked)).collect_view()}
                        {find::more(most, all)}
                    }
                }}
            </fieldset>
        }
    })
}

fn group(legend: &'static str, choices: Vec<Choice>, picked: Picked) -> Option<impl IntoView> {
    (!choices.is_empty()).then(|| {
        let whole = (choices.len() > 1).then(|| whole_group(legend, &choices, picked));
        view! {
            <fieldset class="picks">
                <legend>{legend}</legend>
                {whole}
                {choices.into_iter().map(|choice| pick(choice, picked)).collect_view()}
            </fieldset>
        }
    })
}

/// The buttons that tick all of a group, or none.
fn whole_group(group: &'static str, choices: &[Choice], picked: Picked) -> impl IntoView + use<> {
    let picks = choices.iter().map(|(pick, _)| pick.clone());
    let picks = StoredValue::new(picks.collect::<Vec<Pick>>());
    let all = move |_| picked.update(|picked| picked.extend(picks.get_value()));
    let none = move |_| {
        picked.update(|picked| picks.with_value(|picks| picked.retain(|p| !picks.contains(p))));
    };
    view! {
        <div class="row">
            <button type="button" aria-label=words::whole_group(words::ALL, group) on:click=all>{words::ALL}</button>
            <button type="button" class="plain" aria-label=words::whole_group(words::NONE, group) on:click=none>{words::NONE}</button>
        </div>
    }
}

fn pick((pick, name): Choice, picked: Picked) -> impl IntoView {
    let shown = pick.clone();
    let ticked = move || picked.with(|picked| picked.contains(&shown));
    let change = move |event: leptos::ev::Event| {
        let (pick, wanted) = (pick.clone(), event_target_checked(&event));
        picked.update(|picked| {
            match wanted {
                true => picked.insert(pick),
                false => picked.remove(&pick),
            };
        });
    };
    view! {
        <label class="option">
            <input type="checkbox" prop:checked=ticked on:change=change/>
            <span>{name}</span>
        </label>
    }
}

/// What was picked, for a file; nothing where it can't be read, which is then told.
fn outgoing(bench: Bench, picked: &BTreeSet<Pick>) -> Option<Outgoing> {
    let mut procedures: Vec<Procedure> = Vec::new();
    let mut jobs: Vec<Id> = Vec::new();
    let mut parts = Backup::default();
    for pick in picked {
        match pick {
            Pick::Settings => parts.preferences = Some(bench.preferences.get_untracked()),
            Pick::Procedure(digest) => {
                procedures.push(untrack(|| bench.procedure(digest))?);
            }
            Pick::Job(id) => jobs.push(id.clone()),
            Pick::Instrument(name) => {
                let kit = untrack(|| bench.kit()).into_iter();
                parts.kit.extend(kit.filter(|entry| entry.name == *name));
            }
            Pick::Channels(name) => {
                let tables = untrack(|| bench.channel_tables()).into_iter();
                parts
                    .channels
                    .extend(tables.filter(|table| table.name == *name));
            }
        }
    }
    // One thing alone has a kind of file of its own.
    match (picked.len(), procedures.as_slice(), jobs.as_slice()) {
        (1, [procedure], []) => {
            return Some(Outgoing::one(Document::Procedure(procedure.clone())));
        }
        (1, [], [job]) => {
            let job = untrack(|| bench.stored_job(job))?;
            return Some(Outgoing::one(Document::Job(job)));
        }
        _ => {}
    }
    let shelf = Box::new(Backup {
        procedures,
        ..parts
    });
    Some(Outgoing::Several { shelf, jobs })
}
