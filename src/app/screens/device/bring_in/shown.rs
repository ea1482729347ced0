//! What a file would bring, as it is shown.

use crate::app::screens::device::bring_in::incoming::{Incoming, Offer, Preview};
use crate::app::screens::device::bring_in::taking::take_in;
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::ui::find::{AT_ONCE, more};
use crate::app::words::device::{bring_in as words, data};
use crate::app::words::frame;
use crate::app::words::shared;
use crate::app::words::shell::carry;
use crate::authoring::Difference;
use crate::exchange::{Choice, Faulty, Item, Outcome, PictureType, Subject};
use crate::job::stops_brought;
use leptos::prelude::*;
use std::sync::Arc;

/// How many lines of a comparison are shown.
const MOST_LINES: usize = 30;

pub(super) fn shown(incoming: Incoming, preview: Preview) -> impl IntoView {
    let all = StoredValue::new(preview.clone());
    let none = move || all.with_value(Preview::is_nothing_wanted);
    let pictures = pictures(incoming.bench, &preview);
    let most_faults = RwSignal::new(AT_ONCE);
    let (faulty, faults) = (preview.faulty.len(), preview.faulty.clone());
    let faults = move || {
        let shown = faults.iter().take(most_faults.get());
        shown.map(fault).collect_view()
    };
    let faulty = (faulty > 0).then(|| {
        view! {
            <h4>{words::FAULTY}</h4>
            <ul class="plain-list faulty">{faults}</ul>
            {move || more(most_faults, faulty)}
        }
    });
    let take = move |_| take_in(incoming, all.get_value());
    let is_off = move || none() || incoming.bench.slices.is_busy();
    let most = RwSignal::new(AT_ONCE);
    let count = preview.offers.len();
    let whole = (count > AT_ONCE).then(|| whole(preview.offers.clone()));
    let offers = preview.offers.clone();
    let rows = move || {
        let shown = offers.iter().take(most.get()).cloned();
        shown.map(offer).collect_view()
    };
    view! {
        <div class="preview">
            <h3>{data::WHAT_IT_HOLDS}</h3>
            <p class="hint">{preview.name}</p>
            {whole}
            <ul class="offers">{rows}{pictures}</ul>
            {move || more(most, count)}
            {faulty}
            <div class="row row-end">
                <button type="button" class="plain" on:click=move |_| incoming.shown.set(None)>{data::LEAVE_IT}</button>
                <button type="button" class="main" on:click=take disabled=is_off>{data::TAKE_IT}</button>
            </div>
        </div>
    }
}

/// What many things in a file come to, and the ways to tick all of them or none.
fn whole(offers: Arc<Vec<Offer>>) -> impl IntoView {
    let of = |choice: Choice| {
        let alike = offers.iter().filter(|o| o.item.outcome.choice() == choice);
        alike.count()
    };
    let is_new = offers.iter().filter(|o| o.item.outcome == Outcome::New);
    let counts = words::Counts {
        all: offers.len(),
        new: is_new.count(),
        offered: of(Choice::Offered),
        asked: of(Choice::Asked),
        needless: of(Choice::Needless),
        refused: of(Choice::Refused),
    };
    let tick = move |wanted: bool| {
        // What takes back entries is ticked one by one.
        let all = |offer: &&Offer| !wanted || offer.item.outcome.choice() == Choice::Offered;
        let offers = offers.iter().filter(all);
        offers.for_each(|offer| offer.wanted.set(wanted));
    };
    let none = tick.clone();
    view! {
        <p>{words::counted(counts)}</p>
        <div class="row">
            <button type="button" on:click=move |_| tick(true)>{words::TICK_ALL}</button>
            <button type="button" class="plain" on:click=move |_| none(false)>{words::TICK_NONE}</button>
        </div>
    }
}

/// The pictures of a file as one thing to take or to leave.
pub(super) fn pictures(bench: Bench, preview: &Preview) -> Option<impl IntoView + use<>> {
    let all = &preview.pictures;
    let bytes = all.iter().map(|picture| picture.data().len()).sum();
    let of = |kind: PictureType| all.iter().filter(|it| it.kind() == kind).count();
    let (papers, sounds) = (of(PictureType::Pdf), of(PictureType::Wave));
    let size = carry::size(bytes, bench.sign());
    let counts = [all.len() - papers - sounds, papers, sounds];
    let title = carry::pictures_in_file(counts, &size);
    let wanted = preview.with_pictures;
    (!all.is_empty()).then(|| {
        view! {
            <li>
                <label class="offer">
                    <input type="checkbox" prop:checked=wanted
                        on:change=move |e| wanted.set(event_target_checked(&e))/>
                    <span><strong>{title}</strong><span class="hint">{carry::PICTURES_HINT}</span></span>
                </label>
            </li>
        }
    })
}

fn fault(faulty: &Faulty) -> impl IntoView + use<> {
    view! {
        <li>
            <strong>{words::faulty(faulty.part, faulty.name.as_deref())}</strong>
            <span class="hint">{shared::sentence(&faulty.why)}</span>
        </li>
    }
}

pub(super) fn offer(offer: Offer) -> impl IntoView {
    let fixed = !offer.can_be_taken();
    let Offer { item, wanted } = offer;
    let ticked = wanted.clone();
    view! {
        <li>
            <label class="offer">
                <input type="checkbox" disabled=fixed prop:checked=move || ticked.get()
                    on:change=move |e| wanted.set(event_target_checked(&e))/>
                <span><strong>{title(&item.subject)}</strong><span class="hint">{item.outcome.sentence()}</span></span>
            </label>
            {stops(&item)}
            {differences(&item)}
        </li>
    }
}

/// The stops of a job in hand that come confirmed, which may have been at another bench.
fn stops(item: &Item) -> Option<impl IntoView + use<>> {
    let bench = use_bench();
    let Subject::Job(job) = &item.subject else {
        return None;
    };
    if job.log.is_signed_off() {
        return None;
    }
    let here = bench.store.with_value(|store| store.job(&job.id));
    let here = here.ok().flatten().map(|job| job.progress());
    let brought = stops_brought(here.as_ref(), &job.progress());
    (!brought.is_empty()).then(|| view! { <p class="hint">{words::stops_brought(&brought)}</p> })
}

fn title(subject: &Subject) -> String {
    match subject {
        Subject::Procedure(procedure) => data::procedure(&procedure.title, procedure.revision),
        Subject::Job(job) => {
            let header = job.log.header().cloned().unwrap_or_default();
            data::job(&header.number, &header.set.title())
        }
        Subject::Corrections { job, .. } => {
            let header = job.log.header().cloned().unwrap_or_default();
            data::corrections(&header.number, &header.set.title())
        }
        Subject::Channels(table) => data::channel_table(&table.name),
        Subject::Instrument(instrument) => data::instrument(&instrument.name),
        Subject::Preferences(_) => frame::SETTINGS.to_owned(),
    }
}

fn differences(item: &Item) -> Option<impl IntoView + use<>> {
    let heading = match (&item.outcome, &item.subject) {
        (Outcome::Merges { .. }, _) => words::ADDED,
        (Outcome::Corrects(_) | Outcome::Finished(_), _) => words::HERE_AND_THERE,
        // There is nothing here that it could differ from.
        (Outcome::New, Subject::Job(_)) => words::ODD,
        _ => words::DIFFERENCES,
    };
    let all = &item.differences;
    let more = all.len().saturating_sub(MOST_LINES);
    let more = (more > 0).then(|| view! { <li class="hint">{words::and_more(more)}</li> });
    let line = |difference: &Difference| view! { <li>{difference.line()}</li> };
    // What is damaged is said unasked.
    let is_open = matches!(&item.subject, Subject::Job(job) if job.log.damaged().next().is_some());
    (!all.is_empty()).then(|| {
        let lines = all.iter().take(MOST_LINES).map(line).collect_view();
        view! {
            <details class="differences" open=is_open>
                <summary>{heading}</summary>
                <ul>{lines}{more}</ul>
            </details>
        }
    })
}
