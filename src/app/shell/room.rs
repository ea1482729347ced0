//! The room that pictures take on this device, and those that nothing uses any more.

use crate::app::shell::bench::Bench;
use crate::app::shell::slices::{Stopped, in_slices};
use crate::app::words::shared;
use crate::app::words::shell::carry as words;
use crate::procedure::PictureDigest;
use crate::store::{Pictures, StorageError, Survey, Surveying};
use leptos::prelude::*;
use leptos::task::spawn_local;
use std::collections::BTreeSet;

/// Pictures with their sizes in bytes.
type Sizes = Vec<(PictureDigest, usize)>;

/// What a look at everything found, once it has ended.
pub type Found = RwSignal<Option<Result<Survey, StorageError>>>;

/// Looks at everything in slices, again whenever the storage changes.
pub fn survey(bench: Bench) -> Found {
    let found = Found::new(None);
    let round = RwSignal::new(0);
    Effect::new(move |_| {
        bench.changes.track();
        let this = round.get_untracked() + 1;
        round.set(this);
        spawn_local(async move {
            // Another look has begun, or the screen is gone.
            let is_of_use = move || round.try_get_untracked() == Some(this);
            if let Ok(looked) = look(bench, is_of_use).await {
                found.try_set(Some(looked));
            }
        });
    });
    found
}

/// Looks at everything in slices, for as long as that is of use.
async fn look(
    bench: Bench,
    is_of_use: impl Fn() -> bool,
) -> Result<Result<Survey, StorageError>, Stopped> {
    let mut surveying = match bench.store.with_value(Surveying::of) {
        Ok(surveying) => surveying,
        Err(error) => return Ok(Err(error)),
    };
    let mut trouble = None;
    let steps = std::iter::from_fn(|| bench.store.with_value(|store| surveying.step(store)));
    let note = |step: Result<(), StorageError>| {
        trouble = step.err().or(trouble.take());
        0
    };
    in_slices(steps, note, |_| is_of_use()).await?;
    Ok(match trouble {
        None => Ok(surveying.end()),
        Some(error) => Err(error),
    })
}

/// The part of the data screen.
pub fn section(bench: Bench, survey: Found) -> impl IntoView {
    let sizes = RwSignal::new(None::<Result<Sizes, String>>);
    Effect::new(move |_| {
        bench.changes.track();
        spawn_local(async move {
            let read = Pictures.sizes().await;
            sizes.try_set(Some(read.map_err(|error| error.to_string())));
        });
    });
    let body = move || match sizes.get() {
        None => view! { <p class="hint">{words::COUNTING}</p> }.into_any(),
        Some(Err(why)) => view! { <p class="hint">{shared::sentence(why)}</p> }.into_any(),
        Some(Ok(sizes)) if sizes.is_empty() => {
            view! { <p class="hint">{words::NONE}</p> }.into_any()
        }
        Some(Ok(sizes)) => survey.with(|found| match found {
            Some(Ok(found)) => counted(bench, found, sizes).into_any(),
            _ => view! { <p class="hint">{words::COUNTING}</p> }.into_any(),
        }),
    };
    view! {
        <h2>{words::PICTURES}</h2>
        {body}
    }
}

fn counted(bench: Bench, found: &Survey, sizes: Sizes) -> impl IntoView + use<> {
    let sign = bench.sign();
    let together = |sizes: &Sizes| {
        let bytes = sizes.iter().map(|(_, size)| size).sum();
        words::size(bytes, sign)
    };
    let all = words::count(sizes.len(), &together(&sizes));
    let Some(used) = in_use(bench, found) else {
        return view! { <p class="hint">{all}" "{words::NOT_SURE}</p> }.into_any();
    };
    let unused: Sizes = sizes
        .into_iter()
        .filter(|(digest, _)| !used.contains(digest))
        .collect();
    let count = unused.len();
    let rest = words::unused(count, &together(&unused));
    let armed = RwSignal::new(false);
    let remove = move |_| {
        spawn_local(async move {
            // Another page may have taken one into use meanwhile.
            let found = look(bench, || true).await;
            let used = found.ok().and_then(|found| in_use(bench, &found.ok()?));
            let removed = remove_all(used).await;
            match removed {
                Ok(count) => bench.say(words::removed(count)),
                Err(why) => bench.refuse(why),
            }
            bench.changes.update(|count| *count += 1);
        });
    };
    view! {
        <p class="hint">{all}" "{rest}</p>
        {(count > 0).then(|| view! {
            <p class="hint">{words::UNUSED_HINT}</p>
            <div class="row">
                <Show when=move || armed.get() fallback=move || view! {
                    <button type="button" on:click=move |_| armed.set(true)>{words::REMOVE}</button>
                }>
                    <button type="button" on:click=remove>{words::remove_now(count)}</button>
                    <button type="button" class="plain" on:click=move |_| armed.set(false)>{words::KEEP}</button>
                </Show>
            </div>
        })}
    }
    .into_any()
}

async fn remove_all(used: Option<BTreeSet<PictureDigest>>) -> Result<usize, String> {
    let Some(used) = used else {
        return Ok(0);
    };
    let mut count = 0;
    let sizes = Pictures.sizes().await.map_err(|error| error.to_string())?;
    for (digest, _) in sizes {
        if !used.contains(&digest) {
            let removed = Pictures.remove(&digest).await;
            removed.map_err(|error| error.to_string())?;
            count += 1;
        }
    }
    Ok(count)
}

/// The pictures that something on this device names; nothing where not all could be read.
fn in_use(bench: Bench, found: &Survey) -> Option<BTreeSet<PictureDigest>> {
    if !found.asides.is_empty() {
        return None;
    }
    let authored = bench.read_store(|store| store.all_authored())?;
    let drafts = authored.into_iter().flat_map(|it| it.draft.picture_names());
    Some(found.pictures.iter().cloned().chain(drafts).collect())
}
