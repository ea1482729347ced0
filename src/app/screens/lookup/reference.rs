//! Tables to look things up in: channels and published limits.

use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::open_step::WayBack;
use crate::app::shell::route::Route;
use crate::app::ui::field_text;
use crate::app::words::lookup::reference as words;
use crate::app::words::shared;
use crate::app::words::spelling::spelt;
use crate::exchange::report;
use crate::quantity::DecimalSign;
use crate::radio::channels::ChannelTable;
use crate::radio::limits::{self, Bound, Known, Limit, LimitSet};
use leptos::prelude::*;

/// The channel tables, one at a time.
pub fn channels() -> impl IntoView {
    let bench = use_bench();
    let built_in = ChannelTable::built_in().len();
    let tables = Memo::new(move |_| {
        let own = bench.channel_tables();
        ChannelTable::built_in()
            .into_iter()
            .chain(own)
            .collect::<Vec<_>>()
    });
    let chosen = RwSignal::new(0);
    let key = move |index: usize, name: String| {
        let pressed = move || (chosen.get() == index).to_string();
        view! {
            <button type="button" aria-pressed=pressed on:click=move |_| chosen.set(index)>{name}</button>
        }
    };
    let keys = move || {
        let names = tables.with(|all| all.iter().map(|t| t.name.clone()).collect::<Vec<_>>());
        let keys = names.into_iter().enumerate();
        keys.map(|(index, name)| key(index, name)).collect_view()
    };
    let shown = move || {
        let table = tables.with(|all| all.get(chosen.get()).cloned())?;
        let remove = (chosen.get() >= built_in).then(|| {
            let name = table.name.clone();
            let remove = move |_| {
                if remove_table(bench, &name) {
                    chosen.set(0);
                }
            };
            view! { <button type="button" class="plain" on:click=remove>{words::REMOVE_TABLE}</button> }
        });
        Some(view! { {channel_table(table, bench.sign())}{remove} })
    };
    view! {
        <section class="page">
            <p class="crumbs"><a href=Route::Sums.address()>{shared::ALL_SUMS}</a><WayBack/></p>
            <h1>{shared::CHANNEL_TABLES}</h1>
            <div class="row" role="group" aria-label=words::TABLE>{keys}</div>
            {shown}
            {own_table(bench, move || chosen.set(tables.with_untracked(Vec::len) - 1))}
        </section>
    }
}

fn remove_table(bench: Bench, name: &str) -> bool {
    let kept = bench.with_store(|store| {
        let mut tables = store.channel_tables();
        tables.retain(|table| table.name != name);
        store.save_channel_tables(&tables)
    });
    kept.is_some()
}

/// A form for a table of one's own; `made` follows when one was kept.
fn own_table(bench: Bench, made: impl Fn() + Copy + Send + Sync + 'static) -> impl IntoView {
    let name = RwSignal::new(String::new());
    let source = RwSignal::new(String::new());
    let lines = RwSignal::new(String::new());
    let keep = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let sign = bench.preferences.with_untracked(|p| p.decimal_sign);
        let read = ChannelTable::read(
            &name.get_untracked(),
            &source.get_untracked(),
            &lines.get_untracked(),
            sign,
        );
        match read {
            Ok(table) if keep_table(bench, &table) => {
                for field in [name, source, lines] {
                    field.set(String::new());
                }
                made();
            }
            Ok(_) => {}
            Err(sentence) => bench.refuse(sentence),
        }
    };
    view! {
        <h2>{words::OWN_TABLE}</h2>
        <form on:submit=keep>
            <div class="fields">
                <div class="field">
                    <label for="table-name">{words::TABLE_NAME}</label>
                    <input id="table-name" type="text" autocomplete="off" prop:value=move || field_text(name.get())
                        on:input=move |e| name.set(event_target_value(&e))/>
                </div>
                <div class="field">
                    <label for="table-source">{words::TABLE_SOURCE}</label>
                    <input id="table-source" type="text" autocomplete="off" prop:value=move || field_text(source.get())
                        on:input=move |e| source.set(event_target_value(&e))/>
                </div>
                <div class="field field-long">
                    <label for="table-lines">{words::CHANNELS}</label>
                    <span class="hint">{words::CHANNELS_HINT}</span>
                    <textarea id="table-lines" rows="6" prop:value=move || field_text(lines.get())
                        on:input=move |e| lines.set(event_target_value(&e))></textarea>
                </div>
            </div>
            <button type="submit" class="large">{words::KEEP_TABLE}</button>
        </form>
    }
}

fn keep_table(bench: Bench, table: &ChannelTable) -> bool {
    let own = untrack(|| bench.channel_tables());
    let taken = ChannelTable::built_in().into_iter().chain(own);
    if taken.into_iter().any(|other| other.name == table.name) {
        bench.refuse(words::NAME_TAKEN);
        return false;
    }
    let kept = bench.with_store(|store| {
        let mut tables = store.channel_tables();
        tables.push(table.clone());
        store.save_channel_tables(&tables)
    });
    kept.is_some()
}

fn channel_table(table: ChannelTable, sign: DecimalSign) -> impl IntoView {
    let rows = table.channels.iter().map(|channel| {
        view! {
            <li><span class="channel">{channel.name.clone()}</span>{channel.frequency.typeset(sign)}</li>
        }
    });
    view! {
        <p class="hint">{words::source(&table.source)}</p>
        <ol class="channels" aria-label=table.name.clone()>{rows.collect_view()}</ol>
    }
}

/// The published limits, set by set, with the notice before all.
pub fn limits() -> impl IntoView {
    let bench = use_bench();
    let sets = limits::built_in();
    view! {
        <section class="page">
            <p class="crumbs"><a href=Route::Sums.address()>{shared::ALL_SUMS}</a><WayBack/></p>
            <h1>{shared::LIMITS}</h1>
            <aside class="caution"><strong>{words::BEFORE_YOU_RELY}</strong><p>{spelt(limits::NOTICE)}</p></aside>
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
                    <th scope="col">{words::WHAT}</th>
                    <th scope="col">{words::LIMIT}</th>
                    <th scope="col">{words::CLAUSE}</th>
                    <th scope="col">{words::HOW_KNOWN}</th>
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
            <th scope="row">{spelt(&limit.what)}</th>
            <td class="limit">{bound(&limit.bound, sign)}</td>
            <td>{limit.clause.clone()}</td>
            <td class:doubtful=doubtful>{report::words::known(limit.known)}</td>
        </tr>
    }
}

fn bound(bound: &Bound, sign: DecimalSign) -> String {
    match bound {
        Bound::WithinPpm(ppm) => words::within_ppm(&ppm.typeset(sign)),
        Bound::Within(distance) => words::within(&distance.typeset(sign)),
        Bound::AtMost(most) => words::at_most(&most.typeset(sign)),
        Bound::Between(low, high) => words::between(&low.typeset(sign), &high.typeset(sign)),
        by_power @ (Bound::BelowPower(_) | Bound::BelowPowerUpTo(..)) => {
            by_power.by_power(sign).unwrap_or_default()
        }
    }
}
