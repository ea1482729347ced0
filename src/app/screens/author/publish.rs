//! What publishing a draft would change, and the key that does it.

use crate::app::screens::author::controls::address::address;
use crate::app::screens::author::controls::bar::bar;
use crate::app::screens::author::controls::remarks;
use crate::app::screens::author::pen::Pen;
use crate::app::shell::desk::Desk;
use crate::app::shell::route::Route;
use crate::app::words::author as words;
use crate::authoring::draft::revision_behind;
use crate::authoring::{Difference, differences_of_draft};
use crate::procedure::Procedure;
use crate::quantity::DecimalSign;
use leptos::prelude::*;

/// The screen.
pub fn screen(pen: Pen) -> impl IntoView {
    let bench = pen.bench;
    let id = pen.id();
    let draft = id.clone();
    // Another tab may publish one meanwhile.
    let latest = Memo::new(move |_| latest_of(bench.procedures(), &draft));
    let sign = pen.sign();
    let procedure = Memo::new(move |_| {
        let latest = latest.with(|latest| latest.as_ref().map_or(0, |p| p.revision));
        pen.draft.with(|draft| next(draft, latest, sign))
    });
    let changes = Memo::new(move |_| {
        latest.with(|latest| {
            let latest = latest.as_ref()?;
            pen.draft
                .with(|draft| Some(differences_of_draft(latest, draft, sign)))
        })
    });
    let faults = Memo::new(move |_| pen.remarks.with(|all| remarks::counts(all).0));
    // A file may have brought the last revision that there can be since the draft was begun.
    let ended = move || latest.with(|latest| revision_behind(latest.as_ref()?.revision).err());
    let same = move || changes.with(|changes| changes.as_ref().is_some_and(Vec::is_empty));
    let publish = move |_| {
        let new = procedure.get_untracked();
        match bench.read_store(|store| store.authored(&new.id)) {
            Some(Some(_)) => {}
            Some(None) => return bench.refuse(words::GONE_ELSEWHERE),
            None => return,
        }
        let saved = bench.with_store(|store| {
            let digest = store.save_procedure(&new)?;
            store.remove_authored(&new.id)?;
            Ok(digest)
        });
        if let Some(digest) = saved {
            pen.put_away();
            bench.go_and_say_when_kept(&Route::Procedure(digest), words::published(new.revision));
        }
    };
    let meanwhile = move || {
        let latest = latest.with(|latest| latest.as_ref().map_or(0, |p| p.revision));
        let from = pen.draft.with(|draft| draft.from);
        (latest > from)
            .then(|| view! { <p class="said-fault">{words::meanwhile(from, latest)}</p> })
    };
    view! {
        <section class="page author">
            <p class="crumbs"><a href=address(Desk::Whole(id, None))>{words::ALL_STEPS}</a></p>
            <h1>{move || procedure.with(|p| words::publish_title(&p.title, p.revision))}</h1>
            <p class="lead">{words::PUBLISH_LEAD}</p>
            {meanwhile}
            <div class="row">
                <button type="button" class="main large" disabled=move || { faults.get() > 0 || same() || ended().is_some() } on:click=publish>
                    {move || procedure.with(|p| words::publish(p.revision))}
                </button>
                <span role="status">{move || match (faults.get(), same()) {
                    (0, true) => words::SAME.to_owned(),
                    (0, false) => ended().unwrap_or_default(),
                    (faults, _) => words::not_yet(faults),
                }}</span>
            </div>
            {remarks::list(pen, true)}
            <h2>{words::CHANGES}</h2>
            {move || match changes.get() {
                None => view! { <p>{words::FIRST}</p> }.into_any(),
                Some(changes) => difference_list(&changes).into_any(),
            }}
            {bar(pen, ())}
        </section>
    }
}

/// The latest revision of a procedure here.
fn latest_of(procedures: Vec<Procedure>, id: &crate::procedure::Id) -> Option<Procedure> {
    let same = procedures.into_iter().filter(|p| p.id == *id);
    same.max_by_key(|p| p.revision)
}

/// The revision that a draft would become, behind the latest one here.
fn next(draft: &crate::authoring::Draft, latest: u32, sign: DecimalSign) -> Procedure {
    let (procedure, _) = draft.read(sign);
    Procedure {
        revision: procedure.revision.max(latest.saturating_add(1)),
        ..procedure
    }
}

/// What differs, one line each.
pub fn difference_list(changes: &[Difference]) -> impl IntoView + use<> {
    let rows: Vec<_> = changes
        .iter()
        .map(|change| view! { <li>{change.line()}</li> })
        .collect();
    let none = rows.is_empty();
    view! {
        <ul class="differences">{rows}</ul>
        {none.then(|| view! { <p>{words::NO_DIFFERENCE}</p> })}
    }
}
