//! Tables to look things up in: channels and published limits.

use super::bench::use_bench;
use super::open_step::WayBack;
use super::route::Route;
use crate::quantity::DecimalSign;
use crate::radio::channels::ChannelTable;
use crate::radio::limits::{self, Bound, Known, Limit, LimitSet};
use leptos::prelude::*;

/// The channel tables, one at a time.
pub fn channels() -> impl IntoView {
    let bench = use_bench();
    let tables = StoredValue::new(ChannelTable::built_in());
    let chosen = RwSignal::new(0);
    let names: Vec<String> = tables.with_value(|all| all.iter().map(|t| t.name.clone()).collect());
    let keys = names.into_iter().enumerate().map(|(index, name)| {
        let pressed = move || (chosen.get() == index).to_string();
        view! {
            <button type="button" aria-pressed=pressed on:click=move |_| chosen.set(index)>{name}</button>
        }
    });
    let shown = move || {
        let table = tables.with_value(|all| all.get(chosen.get()).cloned())?;
        Some(channel_table(table, bench.sign()))
    };
    view! {
        <section class="page">
            <p class="crumbs"><a href=Route::Sums.address()>"All sums"</a><WayBack/></p>
            <h1>"Channel tables"</h1>
            <div class="row" role="group" aria-label="Table">{keys.collect_view()}</div>
            {shown}
        </section>
    }
}

fn channel_table(table: ChannelTable, sign: DecimalSign) -> impl IntoView {
    let rows = table.channels.iter().map(|channel| {
        view! {
            <li><span class="channel">{channel.name.clone()}</span>{channel.frequency.typeset(sign)}</li>
        }
    });
    view! {
        <p class="hint">"Source: "{table.source.clone()}</p>
        <ol class="channels" aria-label=table.name.clone()>{rows.collect_view()}</ol>
    }
}

/// The published limits, set by set, with the notice before all.
pub fn limits() -> impl IntoView {
    let bench = use_bench();
    let sets = limits::built_in();
    view! {
        <section class="page">
            <p class="crumbs"><a href=Route::Sums.address()>"All sums"</a><WayBack/></p>
            <h1>"Limits"</h1>
            <aside class="caution"><strong>"Before you rely on one"</strong><p>{limits::NOTICE}</p></aside>
            {move || sets.iter().map(|set| limit_set(set, bench.sign())).collect_view()}
        </section>
    }
}

fn limit_set(set: &LimitSet, sign: DecimalSign) -> impl IntoView + use<> {
    let rows = set.limits.iter().map(|limit| limit_row(limit, sign));
    view! {
        <h2>{set.title.clone()}</h2>
        <table class="limits">
            <thead>
                <tr>
                    <th scope="col">"What"</th>
                    <th scope="col">"Limit"</th>
                    <th scope="col">"Clause"</th>
                    <th scope="col">"How it is known"</th>
                </tr>
            </thead>
            <tbody>{rows.collect_view()}</tbody>
        </table>
    }
}

fn limit_row(limit: &Limit, sign: DecimalSign) -> impl IntoView + use<> {
    let doubtful = limit.known == Known::FromMemory;
    view! {
        <tr>
            <th scope="row">{limit.what.clone()}</th>
            <td class="limit">{bound(&limit.bound, sign)}</td>
            <td>{limit.clause.clone()}</td>
            <td class:doubtful=doubtful>{known(limit.known)}</td>
        </tr>
    }
}

fn bound(bound: &Bound, sign: DecimalSign) -> String {
    match bound {
        Bound::WithinPpm(ppm) => format!("± {}\u{a0}ppm", ppm.typeset(sign)),
        Bound::Within(distance) => format!("± {}", distance.typeset(sign)),
        Bound::AtMost(most) => format!("at most {}", most.typeset(sign)),
        Bound::Between(low, high) => format!("{} to {}", low.typeset(sign), high.typeset(sign)),
    }
}

const fn known(known: Known) -> &'static str {
    match known {
        Known::Read => "read in the document",
        Known::ReadSecondHand => "read where another document quotes it",
        Known::FromMemory => "from memory: look it up before you rely on it",
    }
}
