//! The fields of an entry, and what its row says of it.

use super::steps_of::{steps_of, turn_over};
use crate::app::screens::author::pen::Pen;
use crate::app::ui::fields::form::{Chips, Text, TextField};
use crate::app::words::work::step as step_words;
use crate::app::words::{author as words, shared};
use crate::authoring::Draft;
use crate::authoring::draft::{DraftAdjuster, DraftInstrument, DraftPoint};
use crate::procedure::{AdjusterKind, Id, Sense};
use leptos::prelude::*;

/// One of the lists, to be looked at and to be changed.
pub(super) type Entries<T> = (fn(&Draft) -> &Vec<T>, fn(&mut Draft) -> &mut Vec<T>);

/// A text of an entry of one of the lists.
pub(super) fn text<T: Clone + 'static>(
    pen: Pen,
    key: &'static str,
    index: usize,
    (list, list_mut): Entries<T>,
    part: fn(&mut T) -> &mut String,
) -> Text {
    Text {
        get: Signal::derive(move || {
            let entry = pen.draft.with(|draft| list(draft).get(index).cloned());
            entry.map_or(String::new(), |mut entry| part(&mut entry).clone())
        }),
        set: Callback::new(move |typed: String| {
            pen.write(format!("{key}-{index}"), |draft| {
                if let Some(entry) = list_mut(draft).get_mut(index) {
                    *part(entry) = typed.clone();
                }
            })
        }),
    }
}

/// The fields of a test point.
pub(super) fn test_point(pen: Pen, index: usize) -> impl IntoView {
    let text = move |key, part: fn(&mut DraftPoint) -> &mut String| {
        text(
            pen,
            key,
            index,
            (|d| &d.test_points, |d| &mut d.test_points),
            part,
        )
    };
    view! {
        <TextField id=format!("point-place-{index}") label=words::PLACE text=text("point-place", |p| &mut p.place)/>
        <TextField id=format!("point-also-{index}") label=words::ALSO hint=words::ONE_A_LINE rows=2 text=text("point-also", |p| &mut p.also)/>
    }
}

/// The fields of an instrument.
pub(super) fn instrument(pen: Pen, index: usize) -> impl IntoView {
    let part: fn(&mut DraftInstrument) -> &mut String = |entry| &mut entry.needs;
    let list: Entries<DraftInstrument> = (|d| &d.instruments, |d| &mut d.instruments);
    let text = text(pen, "needs", index, list, part);
    view! { <TextField id=format!("instrument-needs-{index}") label=words::NEEDS_ABILITY text/> }
}

/// The fields of an adjuster.
pub(super) fn adjuster(pen: Pen, index: usize) -> impl IntoView {
    const KINDS: [AdjusterKind; 4] = [
        AdjusterKind::Core,
        AdjusterKind::Trimmer,
        AdjusterKind::Pot,
        AdjusterKind::Link,
    ];
    const SENSES: [(Option<Sense>, &str); 3] = [
        (Some(Sense::Raises), words::RAISES),
        (Some(Sense::Lowers), words::LOWERS),
        (None, words::NOT_KNOWN),
    ];
    let change = move |what: String, act: &dyn Fn(&mut DraftAdjuster)| {
        pen.change(what, |draft| {
            if let Some(adjuster) = draft.adjusters.get_mut(index) {
                act(adjuster);
            }
        });
    };
    let with = move |part: fn(&DraftAdjuster) -> String| {
        Signal::derive(move || {
            pen.draft
                .with(|d| d.adjusters.get(index).map_or(String::new(), part))
        })
    };
    let text = move |key, part: fn(&mut DraftAdjuster) -> &mut String| {
        text(
            pen,
            key,
            index,
            (|d| &d.adjusters, |d| &mut d.adjusters),
            part,
        )
    };
    let kind = Callback::new(move |name: String| {
        if let Some(kind) = KINDS.into_iter().find(|kind| kind.name() == name) {
            change(words::picked(words::ADJUSTER_KIND, &name), &|adjuster| {
                adjuster.kind = kind
            });
        }
    });
    let sense = Callback::new(move |name: String| {
        if let Some((sense, _)) = SENSES.iter().find(|(_, other)| *other == name) {
            change(words::picked(words::CLOCKWISE, &name), &|adjuster| {
                adjuster.clockwise = *sense
            });
        }
    });
    let name_of_sense = |adjuster: &DraftAdjuster| {
        let found = SENSES
            .iter()
            .find(|(sense, _)| *sense == adjuster.clockwise);
        found.map_or(String::new(), |(_, name)| (*name).to_owned())
    };
    let both = |name: &str| (name.to_owned(), name.to_owned());
    let disturbs = Signal::derive(move || {
        pen.draft.with(|d| {
            d.adjusters
                .get(index)
                .map_or(Vec::new(), |a| a.disturbs.clone())
        })
    });
    let flip = Callback::new(move |step: Id| {
        change(words::DISTURBS.to_owned(), &|adjuster| {
            turn_over(&mut adjuster.disturbs, &step)
        });
    });
    view! {
        <Chips id=format!("adjuster-kind-{index}") label=words::ADJUSTER_KIND
            choices=KINDS.iter().map(|kind| both(kind.name())).collect()
            chosen=with(|a| a.kind.name().to_owned()) pick=kind/>
        <Chips id=format!("adjuster-sense-{index}") label=words::CLOCKWISE
            choices=SENSES.iter().map(|(_, name)| both(name)).collect()
            chosen=with(name_of_sense) pick=sense/>
        <TextField id=format!("adjuster-note-{index}") label=words::ADJUSTER_NOTE text=text("adjuster-note", |a| &mut a.note)/>
        <TextField id=format!("adjuster-tool-{index}") label=words::TOOL text=text("adjuster-tool", |a| &mut a.tool)/>
        {steps_of(pen, format!("adjuster-disturbs-{index}"), words::DISTURBS, disturbs, flip, |kind| kind.reads())}
    }
}

/// What is known of a test point, in a line.
pub(super) fn test_point_in_words(draft: &Draft, index: usize) -> String {
    let point = draft.test_points.get(index);
    point.map_or(String::new(), |point| {
        listed(&[&point.place, &point.also.replace('\n', " ")])
    })
}

/// What an instrument must be able to do.
pub(super) fn instrument_in_words(draft: &Draft, index: usize) -> String {
    let instrument = draft.instruments.get(index);
    instrument.map_or(String::new(), |instrument| instrument.needs.clone())
}

/// What is known of an adjuster, in a line; its tool is in its form.
pub(super) fn adjuster_in_words(draft: &Draft, index: usize) -> String {
    draft.adjusters.get(index).map_or(String::new(), |it| {
        let sense = it.clockwise.map_or("", |sense| match sense {
            Sense::Raises => step_words::CLOCKWISE_RAISES,
            Sense::Lowers => step_words::CLOCKWISE_LOWERS,
        });
        listed(&[it.kind.name(), &it.note, sense])
    })
}

/// What is known of several things, one behind the other.
fn listed(parts: &[&str]) -> String {
    let known = parts.iter().map(|part| part.trim());
    let known: Vec<&str> = known.filter(|part| !part.is_empty()).collect();
    shared::list(&known)
}
