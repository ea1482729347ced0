//! The revisions of a procedure: what differs between two, and an earlier one taken up again.

use crate::app::platform::device;
use crate::app::screens::author::controls::address::missing;
use crate::app::screens::author::publish::difference_list;
use crate::app::shell::bench::use_bench;
use crate::app::shell::desk::Desk;
use crate::app::shell::route::Route;
use crate::app::ui::fields::form::Chips;
use crate::app::words::author as words;
use crate::authoring::{Draft, differences};
use crate::procedure::{Id, Procedure};
use crate::store::Saving;
use leptos::prelude::*;

/// The screen.
pub fn screen(id: Id) -> impl IntoView {
    let bench = use_bench();
    let mut revisions: Vec<Procedure> = untrack(|| bench.procedures());
    revisions.retain(|procedure| procedure.id == id);
    revisions.sort_by_key(|procedure| procedure.revision);
    let Some(latest) = revisions.last().cloned() else {
        return missing().into_any();
    };
    let title = latest.title.clone();
    let count = revisions.len();
    let rows: Vec<_> = revisions.iter().rev().map(|p| row(p, &latest)).collect();
    let all = StoredValue::new(revisions);
    view! {
        <section class="page author">
            <p class="crumbs"><a href=Route::Procedure(latest.digest()).address()>{title.clone()}</a></p>
            <h1>{words::revisions_of(&title)}</h1>
            <ul class="plain-list">{rows}</ul>
            {(count > 1).then(|| compare(all))}
        </section>
    }
    .into_any()
}

fn row(procedure: &Procedure, latest: &Procedure) -> impl IntoView + use<> {
    let bench = use_bench();
    let is_latest = procedure == latest;
    let revision = procedure.revision;
    let about = words::about(revision, procedure.steps().count());
    let digest = procedure.digest();
    let (procedure, from) = (StoredValue::new(procedure.clone()), latest.revision);
    let take_up = move |_| {
        let draft = procedure.with_value(|old| Draft {
            from,
            ..Draft::of(old, bench.sign_now())
        });
        let saved = bench.with_store(|store| store.save_authored(&draft, 0, device::now()));
        match saved {
            Some(Saving::Saved(_)) => bench.go(&Route::Author(Desk::Publish(draft.id))),
            Some(_) => bench.refuse(words::DRAFT_IN_THE_WAY),
            None => {}
        }
    };
    view! {
        <li class="removable">
            <a href=Route::Procedure(digest).address()>{about}</a>
            {match is_latest {
                true => view! { <span class="hint">{words::LATEST}</span> }.into_any(),
                false => view! { <button type="button" on:click=take_up>{words::take_up(revision)}</button> }.into_any(),
            }}
        </li>
    }
}

fn compare(revisions: StoredValue<Vec<Procedure>>) -> impl IntoView {
    let bench = use_bench();
    let count = revisions.with_value(Vec::len);
    let was = RwSignal::new(count - 2);
    let is = RwSignal::new(count - 1);
    let name = move |index: usize| {
        revisions.with_value(|all| {
            all.get(index)
                .map_or(String::new(), |p| p.revision.to_string())
        })
    };
    let choices = move || {
        (0..count)
            .map(|i| (i.to_string(), words::revision(&name(i))))
            .collect()
    };
    let keys = move |id: &'static str, label: &'static str, which: RwSignal<usize>| {
        let pick = Callback::new(move |key: String| which.set(key.parse().unwrap_or_default()));
        view! { <Chips id label choices=choices() chosen=Signal::derive(move || which.get().to_string()) pick/> }
    };
    let list = move || {
        let (was, is) = (was.get(), is.get());
        revisions.with_value(|all| {
            let both = all.get(was).zip(all.get(is));
            both.map(|(was, is)| difference_list(&differences(was, is, bench.sign())))
        })
    };
    view! {
        <h2>{words::COMPARE}</h2>
        <div class="fields">
            {keys("compare-was", words::COMPARE_FROM, was)}
            {keys("compare-is", words::COMPARE_TO, is)}
        </div>
        <h3>{move || words::between(&name(was.get()), &name(is.get()))}</h3>
        {list}
    }
}
