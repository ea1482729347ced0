//! Where the hands go: probe, instrument, tool, parts and leads.

use super::at::At;
use crate::app::screens::work::reading;
use crate::app::shell::bench::Bench;
use crate::app::words::shared;
use crate::app::words::work::step as words;
use crate::procedure::{Adjuster, Id, Sense, Step, Work};
use leptos::prelude::*;

/// Where the hands go: probe, instrument, tool.
pub fn hands(at: At, step: &Step) -> impl IntoView + use<> {
    let procedure = at.procedure.get_value();
    let probe = step.work.gauge().map(|gauge| {
        let point = procedure.test_point(&gauge.at);
        let place = point.map(|p| p.place.clone()).unwrap_or_default();
        let also = point.map(|p| shared::list(&p.also)).unwrap_or_default();
        let also = (!also.is_empty()).then(|| words::also_called(&also));
        let place = view! { {place}{also} };
        hand("hand-point", words::PROBE, gauge.at.to_string(), place)
    });
    let turn = step.work.adjuster().map(|id| {
        let adjuster = procedure.adjuster(id);
        let line = adjuster.map(adjuster_line);
        let sign = move || reading::turning(at).map(|turn| turn.sign());
        view! {
            <div class="hand-adjuster">
                <dt>{words::TURN}</dt>
                <dd><strong>{id.to_string()}<span class="turn-sign" aria-hidden="true">{sign}</span></strong><span>{line}</span></dd>
            </div>
        }
    });
    let with = step.work.gauge().map(|gauge| {
        let needs = procedure.instrument(&gauge.with).map(|i| i.needs.clone());
        let role = gauge.with.clone();
        let with = move || {
            let used = instrument_used(at.bench, &role);
            used.or_else(|| needs.clone()).unwrap_or_default()
        };
        let through = gauge.through().iter().map(|role| passed(at, role));
        let through = through.collect_view();
        view! {
            {hand("hand-instrument", words::WITH, gauge.with.to_string(), with)}
            {through}
        }
    });
    let alteration = match &step.work {
        Work::Fit(alteration) => Some(view! {
            {hand("hand-out", words::TAKE_OUT, or_nothing(&alteration.out), ())}
            {hand("hand-fit", words::FIT, alteration.fitted.clone(), ())}
            <div class="hand-why"><dt>{shared::WHY}</dt><dd><span>{or_nothing(&alteration.why)}</span></dd></div>
        }),
        _ => None,
    };
    let lead = match &step.work {
        Work::Wire(lead) => Some(view! {
            {hand("hand-from", words::FROM, lead.from.clone(), ())}
            {hand("hand-to", words::TO, lead.to.clone(), ())}
            {hand("hand-colour", words::colour(), or_nothing(&lead.colour), ())}
        }),
        _ => None,
    };
    view! { <dl class="hands">{probe}{turn}{with}{alteration}{lead}</dl> }
}

/// One of the things that the hand acts on: what it is to it, its name, and what else is known.
fn hand(
    class: &'static str,
    term: &'static str,
    name: String,
    more: impl IntoView + 'static,
) -> impl IntoView {
    view! {
        <div class=class>
            <dt>{term}</dt>
            <dd><strong>{name}</strong><span>{more}</span></dd>
        </div>
    }
}

/// Something in the path, with what it takes away where that is known.
fn passed(at: At, role: &Id) -> impl IntoView + use<> {
    let (name, role) = (role.to_string(), role.clone());
    let used = move || {
        let sign = at.bench.sign();
        at.bench.progress.with(|progress| {
            let header = progress.as_ref().map(|progress| &progress.header);
            let used = header.and_then(|header| header.used_as(&role));
            let loss = used.and_then(|used| used.record.as_ref()?.loss.as_ref());
            match (used, loss) {
                (Some(used), Some(loss)) => words::with_loss(&used.name, &loss.typeset(sign)),
                (used, _) => words::loss_unknown(used.map(|used| used.name.as_str())),
            }
        })
    };
    hand("hand-through", words::THROUGH, name, used)
}

fn instrument_used(bench: Bench, role: &Id) -> Option<String> {
    bench.progress.with(|progress| {
        let used = progress.as_ref()?.header.used_as(role)?;
        Some(used.name.clone())
    })
}

fn adjuster_line(adjuster: &Adjuster) -> String {
    let mut parts = vec![adjuster.kind.name().to_owned()];
    if !adjuster.note.is_empty() {
        parts.push(adjuster.note.clone());
    }
    if !adjuster.tool.is_empty() {
        parts.push(words::with_tool(&adjuster.tool));
    }
    parts.extend(adjuster.clockwise.map(|sense| match sense {
        Sense::Raises => words::CLOCKWISE_RAISES.to_owned(),
        Sense::Lowers => words::CLOCKWISE_LOWERS.to_owned(),
    }));
    shared::list(&parts)
}

fn or_nothing(text: &str) -> String {
    match text.is_empty() {
        true => words::NOTHING.to_owned(),
        false => text.to_owned(),
    }
}
