//! What screens share that find things as one types.

use crate::app::platform::device;
use crate::app::shell::bench::Bench;
use crate::app::shell::route::Route;
use crate::app::ui::field_text;
use crate::app::words::shell::find as words;
use crate::job::{Header, Line, Search, SetIdentity, SetKey, is_same_set, set_key};
use crate::procedure::Id;
use leptos::prelude::*;
use std::collections::{HashMap, HashSet};
use std::sync::Arc;

/// How many entries a list shows at first, and how many more each time.
pub const AT_ONCE: usize = 20;

/// How many letters of a serial number say enough to look for the set.
const TELLING: usize = 2;

/// The field for the words that are looked for.
pub fn field(id: &'static str, typed: RwSignal<String>, hint: &'static str) -> impl IntoView {
    view! {
        <div class="field find">
            <label for=id>{words::FIND}</label>
            <span class="hint">{hint}</span>
            <input id=id type="search" autocomplete="off" autocapitalize="off" spellcheck="false" prop:value=move || field_text(typed.get())
                on:input=move |e| typed.set(event_target_value(&e))/>
        </div>
    }
}

/// The button for the rest of a list of which so many are shown.
pub fn more(most: RwSignal<usize>, all: usize) -> Option<impl IntoView> {
    let shown = most.get();
    (all > shown).then(|| {
        view! {
            <div class="row">
                <button type="button" on:click=move |_| most.update(|most| *most += AT_ONCE)>{words::MORE}</button>
                <span class="hint">{words::part_of(shown, all)}</span>
            </div>
        }
    })
}

/// How often each set with a serial number was here.
pub fn visits(lines: &[Arc<Line>]) -> HashMap<SetKey, usize> {
    let mut visits = HashMap::new();
    for key in lines.iter().filter_map(|line| set_key(&line.set)) {
        *visits.entry(key).or_default() += 1;
    }
    visits
}

/// The first sets with a serial number among the jobs found, each with how often it was here.
pub fn sets<'a>(
    found: &'a [Arc<Line>],
    visits: &HashMap<SetKey, usize>,
) -> Vec<(&'a SetIdentity, usize)> {
    let mut seen = HashSet::new();
    let keyed = found.iter().filter_map(|line| {
        let key = set_key(&line.set)?;
        let count = visits.get(&key).copied().unwrap_or_default();
        seen.insert(key).then_some((&line.set, count))
    });
    keyed.take(AT_ONCE).collect()
}

/// Whether a plate, as far as it is typed, may be that of a set.
fn may_be(typed: &SetIdentity, set: &SetIdentity) -> bool {
    let parts = [
        (&typed.make, &set.make),
        (&typed.model, &set.model),
        (&typed.serial, &set.serial),
    ];
    let is_same = |(typed, set): &(&String, &String)| {
        typed.trim().is_empty() || typed.trim().eq_ignore_ascii_case(set.trim())
    };
    parts.iter().all(is_same)
}

/// Earlier jobs of the sets with the serial number that is being typed, but for one job. `take_over`
/// takes the details of the latest that may be of this set.
pub fn earlier(
    bench: Bench,
    set: impl Fn() -> SetIdentity + Send + Sync + 'static,
    but: Option<Id>,
    take_over: Option<Callback<Header>>,
) -> impl IntoView {
    let lines = bench.lines;
    let set = Memo::new(move |_| set());
    move || {
        let typed = set.get();
        let telling = typed.serial.chars().filter(|c| c.is_alphanumeric()).count() >= TELLING;
        let search = Search::of(&typed.serial);
        let found: Vec<Arc<Line>> = match telling {
            true => lines.with(|lines| {
                let others = lines.iter().filter(|line| Some(&line.id) != but.as_ref());
                let same = others.filter(|line| search.finds(&[&line.set.serial]));
                same.take(AT_ONCE).cloned().collect()
            }),
            false => Vec::new(),
        };
        // A serial number that is like it, or the same on another plate, is another set's.
        let is_it = found.iter().all(|line| is_same_set(&line.set, &typed));
        let title = match is_it {
            true => words::EARLIER,
            false => words::ALIKE,
        };
        let rows = found.iter().map(|line| visit(line)).collect_view();
        let plates: Vec<String> = {
            let mut serials: Vec<&String> = found.iter().map(|line| &line.set.serial).collect();
            serials.sort();
            serials.dedup();
            serials.into_iter().cloned().collect()
        };
        let latest = found.iter().find(|line| may_be(&typed, &line.set));
        let latest = latest.map(|line| (line.id.clone(), words::take_over(&line.set.title())));
        let take_over = take_over.zip(latest);
        let take_over = take_over.map(|(take_over, (latest, name))| {
            let take = move |_| {
                if let Some(job) = untrack(|| bench.stored_job(&latest)) {
                    take_over.run(job.progress().header);
                }
            };
            view! { <button type="button" on:click=take>{name}</button> }
        });
        // Only where it is one plate does a page of its visits help.
        let page = match plates.as_slice() {
            [serial] => Some(Route::Set(serial.clone()).address()),
            _ => None,
        };
        (!found.is_empty()).then(|| {
            view! {
                <aside class="earlier" aria-label=title>
                    <strong>{title}</strong>
                    <ul class="plain-list">{rows}</ul>
                    {take_over}
                    {page.map(|page| view! { <a class="button plain" href=page>{words::ALL_VISITS}</a> })}
                </aside>
            }
        })
    }
}

fn visit(line: &Line) -> impl IntoView + use<> {
    let when = device::date_and_time(line.touched);
    let about = words::earlier_job(&when, &line.number, &line.fault);
    view! {
        <li>
            <a class="earlier-job" href=Route::Report(line.id.clone()).address()>
                <strong>{line.set.title()}</strong>
                <span class="hint">{about}</span>
            </a>
        </li>
    }
}
