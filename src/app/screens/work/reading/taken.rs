//! The readings so far, and those that were struck out.

use super::entry::Entry;
use crate::app::screens::work::step::At;
use crate::app::shell::bench::Bench;
use crate::app::ui::capitalised;
use crate::app::words::work::reading as words;
use crate::job::guidance::advice;
use crate::job::{Read, Struck, Taken, Tool};
use crate::procedure::Id;
use crate::quantity::DecimalSign;
use leptos::prelude::*;

/// How many readings of a step are shown unasked. With more, an entry would cost what all of
/// them cost, and the eye takes in no more.
pub const SHOWN: usize = 20;

/// A reading in the table, in words. One that stays the same keeps its row.
#[derive(Clone, PartialEq, Eq, Hash)]
struct Row {
    event: Id,
    taken: String,
    value: String,
    below: Option<String>,
    said: String,
}

impl Row {
    fn of(at: At, taken: &Taken, odd: bool, sign: DecimalSign) -> Self {
        let said = taken.verdict.as_ref().map(|verdict| verdict.words(sign));
        let manner = match (taken.repeat, taken.tool) {
            (true, _) => words::AND_AGAIN,
            (false, Some(Tool::In)) => words::AND_TOOL_IN,
            (false, Some(Tool::Out)) => words::AND_TOOL_OUT,
            (false, None) => "",
        };
        Row {
            event: taken.event.clone(),
            taken: capitalised(taken.phase.name()) + manner,
            value: taken.corrected.typeset(sign),
            below: below(at, taken, sign),
            said: said.unwrap_or_default() + if odd { words::STANDS_OUT } else { "" },
        }
    }
}

/// What was indicated, where that was corrected, and with what it was read, where that is not the
/// instrument of now.
fn below(at: At, taken: &Taken, sign: DecimalSign) -> Option<String> {
    let read = Read::of(taken);
    let now = at.of_instrument(|header, role| Some(header.used_as(role)?.name.clone()));
    let name = taken.with.as_ref().map(|with| with.name.clone());
    let with = (name != now).then(|| words::read_with(name.as_deref()));
    let indicated = Read::indicated(&[read], sign);
    let parts: Vec<String> = indicated.into_iter().chain(with).collect();
    (!parts.is_empty()).then(|| parts.join("; "))
}

/// The readings so far, the latest first, and those that were struck out; the last so many,
/// unless all are asked for.
pub fn taken(entry: Entry) -> impl IntoView {
    let at = entry.at;
    let all = RwSignal::new(false);
    let rows = move || {
        let sign = at.bench.sign();
        at.standing.with(|standing| {
            let Some(standing) = standing else {
                return Vec::new();
            };
            let odd = advice::odd_one_out(standing).map(|taken| &taken.event);
            let latest_first = standing.readings.iter().rev();
            let most = if all.get() { usize::MAX } else { SHOWN };
            latest_first
                .take(most)
                .map(|taken| Row::of(at, taken, odd == Some(&taken.event), sign))
                .collect()
        })
    };
    let any = move || {
        at.standing.with(|standing| {
            let standing = standing.as_ref();
            standing.is_some_and(|s| !s.readings.is_empty() || !s.struck.is_empty())
        })
    };
    let hidden = Memo::new(move |_| {
        let count = at
            .standing
            .with(|s| s.as_ref().map_or(0, |s| s.readings.len()));
        (count > SHOWN && !all.get()).then_some(count)
    });
    view! {
        <Show when=any>
            <div class="taken-room">
                <table class="taken">
                    <caption>{words::SAVED}</caption>
                    <tbody>
                        <For each=rows key=Row::clone children=move |row| taken_row(at, row)/>
                        {struck(at)}
                    </tbody>
                </table>
            </div>
            {move || hidden.get().map(|count| view! {
                <button type="button" class="plain" on:click=move |_| all.set(true)>{words::show_all(count)}</button>
            })}
        </Show>
    }
}

fn taken_row(at: At, row: Row) -> impl IntoView {
    let event = StoredValue::new(row.event);
    let saving = move || event.with_value(|event| at.bench.is_on_its_way(event));
    let name = words::strike_out(&row.value);
    view! {
        <tr data-saved=move || (!saving()).to_string()>
            <th scope="row">{row.taken}</th>
            <td class="number">{row.value}</td>
            <td>
                {row.said}{move || saving().then(|| state(at.bench))}
                {row.below.map(|text| view! { <small class="indicated">{text}</small> })}
            </td>
            <td>
                <button type="button" class="plain strike" aria-label=name disabled=move || !at.is_open()
                    on:click=move |_| at.striking.set(Some(event.get_value()))>{words::STRIKE}</button>
            </td>
        </tr>
    }
}

/// What is said of a reading that is on its way to the disk.
fn state(bench: Bench) -> &'static str {
    match bench.safekeeping.trouble.with(Option::is_some) {
        true => words::NOT_SURE,
        false => words::SAVING,
    }
}

fn struck(at: At) -> impl Fn() -> Vec<AnyView> {
    move || {
        let sign = at.bench.sign();
        let row = |Struck { taken, reason, .. }: &Struck| {
            view! {
                <tr class="struck">
                    <th scope="row">{words::STRUCK_OUT}</th>
                    <td class="number"><s>{taken.value.typeset(sign)}</s></td>
                    <td>{reason.clone()}</td>
                    <td></td>
                </tr>
            }
            .into_any()
        };
        at.standing.with(|standing| {
            let struck = standing.iter().flat_map(|s| &s.struck);
            struck.map(row).collect()
        })
    }
}
