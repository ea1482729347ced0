//! The parts to order, for all jobs.

use crate::app::platform::device;
use crate::app::shell::bench::use_bench;
use crate::app::shell::route::Route;
use crate::app::words::counter::{dealings as words, jobs};
use crate::app::words::shared;
use crate::exchange::report::csv;
use crate::job::{Line, ordered_together};
use leptos::prelude::*;

/// What is to be ordered over all jobs.
pub fn to_order() -> impl IntoView {
    let bench = use_bench();
    let due = Memo::new(move |_| {
        bench.lines.with(|lines| {
            let due = lines
                .iter()
                .filter(|line| !line.parts_due.is_empty() && !line.is_finished());
            due.map(|line| Line::clone(line)).collect::<Vec<_>>()
        })
    });
    let save = move |_| {
        let text = due.with_untracked(|lines| csv::to_order(lines));
        let name = format!("halfturn-parts-{}.csv", device::iso_date());
        match device::save_file_as(&name, &device::Parts::of(&text), "text/csv") {
            Ok(()) => bench.say(shared::handed_over(&name)),
            Err(_) => bench.refuse(shared::NOT_SAVED),
        }
    };
    let rows = move || {
        due.with(|lines| {
            let all = lines
                .iter()
                .flat_map(|line| line.parts_due.iter().map(move |part| (line, part)));
            all.map(|(line, part)| {
                let said = words::line(
                    &part.what,
                    &part.number,
                    part.count,
                    words::due(part.ordered),
                );
                let to = Route::Dealings(line.id.clone()).address();
                view! { <li><strong>{said}</strong><a class="button plain" href=to>{line.title()}</a></li> }
            })
            .collect_view()
        })
    };
    let together = move || {
        let sums =
            due.with(|lines| ordered_together(lines.iter().flat_map(|line| &line.parts_due)));
        (!sums.is_empty()).then(|| {
            let rows = sums.into_iter().map(|it| {
                let said = words::together(&it.number, it.count, it.rows);
                view! { <li>{said}</li> }
            });
            view! {
                <h2>{words::TOGETHER}</h2>
                <ul class="plain-list">{rows.collect_view()}</ul>
            }
        })
    };
    let none = move || due.with(Vec::is_empty);
    view! {
        <section class="page">
            <p class="crumbs"><a href=Route::Jobs.address()>{jobs::TITLE}</a></p>
            <h1>{words::TO_ORDER}</h1>
            <p class="lead">{words::TO_ORDER_LEAD}</p>
            <Show when=none><p>{words::NOTHING}</p></Show>
            <ul class="changes">{rows}</ul>
            {together}
            <Show when=move || !none()>
                <button type="button" class="large" on:click=save>{words::SAVE}</button>
            </Show>
        </section>
    }
}
