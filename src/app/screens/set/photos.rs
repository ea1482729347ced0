//! The photos of a job: the set as found and as left.

use crate::app::platform::{device, imaging};
use crate::app::screens::set::sounds;
use crate::app::screens::work::put_back::step_in_hand;
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::open_step::ways_back;
use crate::app::shell::route::Route;
use crate::app::ui::{Photograph, PictureInput, Removal, field_text};
use crate::app::words::set::photos as words;
use crate::app::words::shared;
use crate::job::{Deed, Job, Moment, Photo};
use crate::procedure::{Id, PictureDigest};
use crate::store::Pictures;
use leptos::prelude::*;
use leptos::task::spawn_local;
use std::collections::{BTreeMap, BTreeSet};

/// The screen: how to take one, and all that were taken.
pub fn screen() -> impl IntoView {
    let bench = use_bench();
    let job = bench.job.get_untracked()?.id;
    let is_open = move || bench.is_open();
    Some(view! {
        <section class="page">
            {ways_back(&job)}
            <h1>{words::TITLE}</h1>
            <p class="lead">{words::LEAD}</p>
            <Show when=is_open fallback=|| view! { <p class="closed">{words::FINISHED}</p> }>
                {take_one(bench)}
            </Show>
            {gallery(bench, is_open)}
            {sounds::list(bench, is_open)}
        </section>
    })
}

/// What will stand with the next photo.
#[derive(Clone, Copy)]
struct Next {
    when: RwSignal<Moment>,
    note: RwSignal<String>,
    at_step: RwSignal<bool>,
    /// Whether a photo is being kept right now.
    busy: RwSignal<bool>,
}

fn take_one(bench: Bench) -> impl IntoView {
    let step = step_in_hand(bench);
    let next = Next {
        when: RwSignal::new(last_moment(bench)),
        note: RwSignal::new(String::new()),
        at_step: RwSignal::new(step.is_some()),
        busy: RwSignal::new(false),
    };
    let moment = move |moment: Moment, label: &'static str| {
        view! {
            <label class="option">
                <input type="radio" name="photo-when" prop:checked=move || next.when.get() == moment
                    on:change=move |_| next.when.set(moment)/>
                <span>{label}</span>
            </label>
        }
    };
    let place = step.clone().and_then(|step| {
        let number = bench.number_of(&step)?;
        let title = bench.course()?.procedure.step(&step)?.title.clone();
        Some(view! {
            <label class="option">
                <input type="checkbox" prop:checked=next.at_step
                    on:change=move |e| next.at_step.set(event_target_checked(&e))/>
                <span>{words::at_step(number, &title)}</span>
            </label>
        })
    });
    let step = StoredValue::new(step);
    view! {
        <fieldset>
            <legend>{words::SHOWS}</legend>
            <div class="row">
                {moment(Moment::Found, words::AS_FOUND)}
                {moment(Moment::Left, words::AS_LEFT)}
            </div>
        </fieldset>
        <div class="field">
            <label for="photo-note">{words::NOTE}</label>
            <span class="hint">{words::NOTE_HINT}</span>
            <input id="photo-note" type="text" autocomplete="off" prop:value=move || field_text(next.note.get())
                on:input=move |e| next.note.set(event_target_value(&e))/>
        </div>
        {place}
        <PictureInput id="photo" busy=next.busy on_file=move |file| keep(bench, next, step.get_value(), file)/>
    }
}

/// What the last photo shows, for the next one mostly shows the same.
fn last_moment(bench: Bench) -> Moment {
    bench.progress.with_untracked(|progress| {
        let last = progress
            .as_ref()
            .and_then(|progress| progress.photos.last());
        last.map_or(Moment::Found, |photo| photo.when)
    })
}

/// Scales a photo down, stores it, and only then writes it into the log.
fn keep(bench: Bench, next: Next, step: Option<Id>, file: web_sys::File) {
    let Some(job) = bench
        .job
        .with_untracked(|job| job.as_ref().map(|job| job.id.clone()))
    else {
        return;
    };
    next.busy.set(true);
    let (when, note) = (next.when.get_untracked(), next.note.get_untracked());
    let step = step.filter(|_| next.at_step.get_untracked());
    spawn_local(async move {
        let stored = match imaging::scaled(&file, imaging::KEPT).await {
            Ok(scaled) => {
                let stored = Pictures.put(&scaled.picture).await;
                stored.map_err(|error| error.to_string())
            }
            Err(error) => Err(error.to_string()),
        };
        next.busy.try_set(false);
        // Another job may be in hand by now.
        let in_hand = bench
            .job
            .with_untracked(|j| j.as_ref().is_some_and(|j| j.id == job));
        match stored {
            Ok(picture) if in_hand => {
                let deed = Deed::Photographed {
                    picture,
                    when,
                    note: note.trim().to_owned(),
                    step,
                };
                if bench.record(deed) {
                    next.note.try_set(String::new());
                    bench.say_when_kept(words::KEPT);
                }
            }
            Ok(_) => {}
            Err(error) => bench.refuse(error),
        }
    });
}

/// All photos, those as found first.
fn gallery(
    bench: Bench,
    is_open: impl Fn() -> bool + Copy + Send + Sync + 'static,
) -> impl IntoView {
    let photos = Memo::new(move |_| {
        bench
            .progress
            .with(|progress| progress.as_ref().map(|p| p.photos.clone()))
            .unwrap_or_default()
    });
    let group = move |when: Moment, title: &'static str| {
        let here = Memo::new(move |_| {
            let mut here = photos.get();
            here.retain(|photo| photo.when == when);
            here
        });
        view! {
            <Show when=move || !here.with(Vec::is_empty)>
                <h2>{title}</h2>
                <ul class="photos">
                    <For each=move || here.get() key=|photo| photo.event.clone() children=move |photo| one(bench, photo, is_open)/>
                </ul>
            </Show>
        }
    };
    view! {
        <Show when=move || photos.with(Vec::is_empty)><p>{words::NONE}</p></Show>
        {group(Moment::Found, words::AS_FOUND)}
        {group(Moment::Left, words::AS_LEFT)}
    }
}

fn one(
    bench: Bench,
    photo: Photo,
    is_open: impl Fn() -> bool + Copy + Send + Sync + 'static,
) -> impl IntoView {
    let event = StoredValue::new(photo.event);
    let remove = Callback::new(move |()| {
        let photo = event.get_value();
        if bench.record(Deed::PhotoRemoved { photo }) {
            bench.say_when_kept(words::REMOVED);
        }
    });
    let place = photo.step.as_ref().and_then(|step| {
        let job = bench.job.get_untracked()?;
        let number = bench.number_of(step)?;
        let route = Route::Step {
            job: job.id,
            step: Some(step.clone()),
        };
        Some(view! { <a href=route.address()>{shared::step(number)}</a>", " })
    });
    let alt = words::alt(photo.when.name(), &photo.note);
    view! {
        <li>
            <Photograph digest=photo.picture alt=alt/>
            <p>{photo.note}</p>
            <p class="hint">{place}{device::date_and_time(photo.at)}</p>
            <Show when=is_open>
                <div class="row">
                    <Removal ask=words::REMOVE remove=words::REMOVE_NOW keep=words::KEEP on_remove=remove/>
                </div>
            </Show>
        </li>
    }
}

/// The photos of a sheet, each as an address that holds it whole.
pub type Album = BTreeMap<PictureDigest, String>;

/// The photos of the job in hand, small enough for a sheet; nothing until all are fetched.
/// Those that are not on this device are not among them.
pub fn album(bench: Bench) -> RwSignal<Option<Album>> {
    let album = RwSignal::new(None);
    let wanted = Memo::new(move |_| {
        let photos = bench
            .progress
            .with(|progress| progress.as_ref().map(|p| p.photos.clone()));
        let photos = photos.unwrap_or_default().into_iter();
        photos.map(|photo| photo.picture).collect::<BTreeSet<_>>()
    });
    Effect::new(move |_| {
        let wanted = wanted.get();
        let pictures = Pictures;
        album.set(wanted.is_empty().then(Album::new));
        spawn_local(async move {
            let mut fetched = Album::new();
            for digest in &wanted {
                if let Ok(picture) = pictures.get(digest).await {
                    let small = imaging::shrunk(picture, imaging::ON_SHEET).await;
                    fetched.insert(digest.clone(), small.data_address());
                }
            }
            album.try_set(Some(fetched));
        });
    });
    album
}

/// The way to the photos, and to the sounds where there are any, from all steps of a job.
pub fn way(job: &Job, photos: usize, sounds: usize) -> impl IntoView + use<> {
    let route = Route::Photos(job.id.clone());
    view! { <a class="button" href=route.address()>{words::count(photos, sounds)}</a> }
}
