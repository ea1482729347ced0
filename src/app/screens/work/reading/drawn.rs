//! The readings on a drawn scale.

use super::entry::Entry;
use super::taken::SHOWN;
use crate::app::ui::{Drawing, Mark, MarkKind, TargetScale};
use crate::job::{Phase, Read, Taken};
use crate::quantity::Scale;
use leptos::prelude::*;
use std::sync::Arc;

pub fn drawn(entry: Entry, scale: Scale) -> impl IntoView {
    let at = entry.at;
    let earlier = move || {
        at.standing.now().with(|standing| {
            let readings = &standing.as_ref()?.readings;
            let latest = entry.typed.with(Option::is_none);
            let latest = latest.then(|| readings.len().checked_sub(1)).flatten();
            let mark = |(index, taken): (usize, &Arc<Taken>)| Mark {
                value: taken.corrected.clone(),
                kind: match taken.phase {
                    _ if Some(index) == latest => MarkKind::Latest,
                    Phase::AsFound => MarkKind::Found,
                    _ => MarkKind::Earlier,
                },
            };
            // How it was found stays in sight, however many came since.
            let last = readings.len().saturating_sub(SHOWN);
            let numbered = readings.iter().enumerate();
            let shown = numbered
                .clone()
                .take(1.min(last))
                .chain(numbered.skip(last));
            // What nobody knows the place of has none on the scale.
            let has_place = |taken: &Taken| Read::of(taken).lacks().is_none();
            let placed = shown.filter(|(_, taken)| has_place(taken));
            let work = at.step.with_value(|step| step.work.clone());
            let best = standing.as_ref()?.best(&work);
            let best = best.filter(|taken| has_place(taken)).map(|taken| Mark {
                value: taken.corrected.clone(),
                kind: MarkKind::Best,
            });
            Some(
                best.into_iter()
                    .chain(placed.map(mark))
                    .collect::<Vec<Mark>>(),
            )
        })
    };
    let drawing = Signal::derive(move || {
        let mut marks = earlier()?;
        let typed = entry.typed.get().map(|value| entry.read(value));
        let typed = typed.filter(|read| read.lacks().is_none());
        marks.extend(typed.map(|read| Mark {
            value: read.corrected,
            kind: MarkKind::Typed,
        }));
        Some(Drawing {
            tolerance: entry.tolerance.get(),
            acceptance: None,
            marks,
            scale,
            sign: at.bench.sign(),
        })
    });
    view! { <TargetScale drawing/> }
}
