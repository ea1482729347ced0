//! What the steps of a draft refer to by name: adjusters, test points, instruments; and the
//! steps that pull each other.

use crate::app::screens::author::controls::address::address;
use crate::app::screens::author::controls::bar::bar;
use crate::app::screens::author::controls::fields::anchor;
use crate::app::screens::author::pen::Pen;
use crate::app::screens::author::step_sheet::names::name_of;
use crate::app::shell::desk::Desk;
use crate::app::ui::fields::form::{Chips, Said, Text, TextField, Toggle, focus_soon};
use crate::app::ui::fields::picker::{Choice, Picker};
use crate::app::ui::{field_text, whole_name};
use crate::app::words::{author as words, shared};
use crate::authoring::draft::{DraftAdjuster, DraftInstrument, DraftPoint};
use crate::authoring::edit::List;
use crate::authoring::{Draft, Kind, Remark, edit};
use crate::procedure::{AdjusterKind, Chase, Field, Id, Place, Sense};
use leptos::prelude::*;

/// The screen.
pub fn screen(pen: Pen, field: Option<Field>) -> impl IntoView {
    if let Some(field) = field {
        focus_soon(anchor(field));
    }
    view! {
        <section class="page author">
            <p class="crumbs"><a href=address(Desk::Whole(pen.id(), None))>{words::ALL_STEPS}</a></p>
            <h1>{words::LISTS}</h1>
            <p class="hint">{words::LISTS_HINT}</p>
            {part(pen, ADJUSTERS)}
            {part(pen, TEST_POINTS)}
            {part(pen, INSTRUMENTS)}
            {chases(pen)}
            {bar(pen, ())}
        </section>
    }
}

/// One of the lists.
#[derive(Clone, Copy)]
struct Part {
    list: List,
    field: Field,
    title: &'static str,
    /// What is typed for a new entry.
    fresh: &'static str,
    /// The fields of an entry beside its name.
    entry: fn(Pen, usize) -> AnyView,
}

const ADJUSTERS: Part = Part {
    list: List::Adjusters,
    field: Field::Adjusters,
    title: words::ADJUSTERS,
    fresh: words::NEW_ADJUSTER,
    entry: |pen, index| adjuster(pen, index).into_any(),
};

const TEST_POINTS: Part = Part {
    list: List::TestPoints,
    field: Field::TestPoints,
    title: words::TEST_POINTS,
    fresh: words::NEW_TEST_POINT,
    entry: |pen, index| test_point(pen, index).into_any(),
};

const INSTRUMENTS: Part = Part {
    list: List::Instruments,
    field: Field::Instruments,
    title: words::INSTRUMENTS,
    fresh: words::NEW_INSTRUMENT,
    entry: |pen, index| instrument(pen, index).into_any(),
};

fn said(pen: Pen, field: Field) -> Signal<Vec<Remark>> {
    Signal::derive(move || {
        let places = [Place::Parts, Place::Whole];
        let all = places.iter().flat_map(|place| pen.said_of(place));
        all.filter(|remark| remark.field == field).collect()
    })
}

fn part(pen: Pen, part: Part) -> impl IntoView {
    let count = Memo::new(move |_| pen.draft.with(|draft| part.list.names(draft).len()));
    let typed = RwSignal::new(String::new());
    let error = RwSignal::new(String::new());
    let add = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let name = typed.get_untracked();
        let added = pen.change(words::added(&name), |draft| {
            edit::add(draft, part.list, &name)
        });
        match added {
            Ok(_) => {
                typed.set(String::new());
                error.set(String::new());
            }
            Err(fault) => error.set(shared::sentence(fault)),
        }
    };
    let id = anchor(part.field);
    view! {
        <h2>{part.title}</h2>
        <Said id=format!("{id}-said") remarks=said(pen, part.field)/>
        <ul class="plain-list entries">
            <For each=move || 0..count.get() key=|index| *index let:index>{entry(pen, part, index)}</For>
        </ul>
        <form class="add-line" on:submit=add>
            <div class="field">
                <label for=id.clone()>{part.fresh}</label>
                <input id=id type="text" autocomplete="off" prop:value=move || field_text(typed.get())
                    on:input=move |event| { typed.set(event_target_value(&event)); error.set(String::new()) }/>
            </div>
            <button type="submit">{words::ADD}</button>
            <p class="error" role="alert">{move || error.get()}</p>
        </form>
    }
}

fn entry(pen: Pen, part: Part, index: usize) -> impl IntoView {
    let list = part.list;
    let name = Memo::new(move |_| {
        pen.draft
            .with(|draft| list.names(draft).get(index).cloned().unwrap_or_default())
    });
    let uses = move || {
        let uses = pen.draft.with(|draft| edit::uses(draft, list, &name.get()));
        words::uses(uses)
    };
    let error = RwSignal::new(String::new());
    let rename = move |typed: String| {
        let renamed = pen.change(words::renamed(&name.get_untracked(), &typed), |draft| {
            edit::rename(draft, list, index, &typed)
        });
        error.set(renamed.err().map_or(String::new(), shared::sentence));
    };
    let remove = move |_| {
        pen.change(words::off_list(&name.get_untracked()), |draft| {
            edit::take_off_list(draft, list, index)
        });
    };
    let id = format!("{}-{index}", anchor(part.field));
    view! {
        <li class="entry-card">
            <div class="field">
                <label for=id.clone()>{words::NAME}<span class="unseen">" "{move || name.get()}</span></label>
                {whole_name(id.clone(), name, rename)}
                <p class="error" role="alert">{move || error.get()}</p>
            </div>
            {(part.entry)(pen, index)}
            <div class="entry-end">
                <span class="hint">{uses}</span>
                <button type="button" class="plain" aria-label=move || words::remove_named(&name.get()) on:click=remove>{words::REMOVE}</button>
            </div>
        </li>
    }
}

/// One of the lists, to be looked at and to be changed.
type Entries<T> = (fn(&Draft) -> &Vec<T>, fn(&mut Draft) -> &mut Vec<T>);

/// A text of an entry of one of the lists.
fn text<T: Clone + 'static>(
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

fn test_point(pen: Pen, index: usize) -> impl IntoView {
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

fn instrument(pen: Pen, index: usize) -> impl IntoView {
    let part: fn(&mut DraftInstrument) -> &mut String = |entry| &mut entry.needs;
    let list: Entries<DraftInstrument> = (|d| &d.instruments, |d| &mut d.instruments);
    let text = text(pen, "needs", index, list, part);
    view! { <TextField id=format!("instrument-needs-{index}") label=words::NEEDS_ABILITY text/> }
}

fn adjuster(pen: Pen, index: usize) -> impl IntoView {
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

/// Puts an id in, or takes it out where it is in.
fn turn_over(ids: &mut Vec<Id>, id: &Id) {
    match ids.contains(id) {
        true => ids.retain(|other| other != id),
        false => ids.push(id.clone()),
    }
}

/// Some of the draft's steps: those chosen, to be taken out again, and a list to add from.
fn steps_of(
    pen: Pen,
    id: String,
    label: &'static str,
    chosen: Signal<Vec<Id>>,
    flip: Callback<Id>,
    fits: fn(Kind) -> bool,
) -> impl IntoView {
    let name = move |id: &Id| {
        pen.draft
            .with(|draft| match draft.number_of(id).zip(draft.step(id)) {
                Some((number, step)) => name_of(number, &draft.title_of(step)),
                None => words::gone(id.as_str()),
            })
    };
    let choices = Signal::derive(move || {
        let taken = chosen.get();
        pen.draft.with(|draft| {
            let steps = draft.steps().enumerate();
            let free = steps.filter(|(_, step)| fits(step.kind) && !taken.contains(&step.id));
            free.map(|(index, step)| Choice {
                key: step.id.to_string(),
                name: name_of(index + 1, &draft.title_of(step)),
                ..Choice::default()
            })
            .collect()
        })
    });
    let pick = Callback::new(move |key: String| {
        if let Ok(id) = key.parse() {
            flip.run(id);
        }
    });
    let toggle = move |id: Id| {
        let label = name(&id);
        let flip = Callback::new(move |()| flip.run(id.clone()));
        view! { <Toggle label on=Signal::derive(|| true) flip/> }
    };
    view! {
        <div class="field field-long">
            <Picker id label shown=Signal::derive(String::new) choices pick/>
            <div class="chip-keys">{move || chosen.get().into_iter().map(toggle).collect_view()}</div>
        </div>
    }
}

/// The groups of steps that pull each other.
fn chases(pen: Pen) -> impl IntoView {
    let count = Memo::new(move |_| pen.draft.with(|draft| draft.chases.len()));
    let add = move |_| {
        pen.change(words::CHASE_ADDED, |draft| {
            draft.chases.push(Chase {
                title: String::new(),
                steps: Vec::new(),
            });
        });
    };
    view! {
        <h2>{words::CHASES}</h2>
        <p class="hint">{words::CHASES_HINT}</p>
        <Said id="author-chases-said".to_owned() remarks=said(pen, Field::Chases)/>
        <ul class="plain-list entries">
            <For each=move || 0..count.get() key=|index| *index let:index>{chase(pen, index)}</For>
        </ul>
        <button type="button" id=anchor(Field::Chases) on:click=add>{words::ADD_CHASE}</button>
    }
}

fn chase(pen: Pen, index: usize) -> impl IntoView {
    let part: fn(&mut Chase) -> &mut String = |chase| &mut chase.title;
    let list: Entries<Chase> = (|d| &d.chases, |d| &mut d.chases);
    let title = text(pen, "chase", index, list, part);
    let steps = Signal::derive(move || {
        pen.draft.with(|d| {
            d.chases
                .get(index)
                .map_or(Vec::new(), |chase| chase.steps.clone())
        })
    });
    let flip = Callback::new(move |step: Id| {
        pen.change(words::CHASE_STEPS, |draft| {
            if let Some(chase) = draft.chases.get_mut(index) {
                turn_over(&mut chase.steps, &step);
            }
        });
    });
    let remove = move |_| {
        pen.change(words::CHASE_REMOVED, |draft| {
            if index < draft.chases.len() {
                draft.chases.remove(index);
            }
        });
    };
    view! {
        <li class="entry-card">
            <TextField id=format!("chase-title-{index}") label=words::CHASE_TITLE text=title/>
            <p class="hint field-long">{words::CHASE_KINDS}</p>
            {steps_of(pen, format!("chase-steps-{index}"), words::CHASE_STEPS, steps, flip, |kind| kind == Kind::Set)}
            <div class="entry-end">
                <button type="button" class="plain" on:click=remove>{words::remove_chase(index + 1)}</button>
            </div>
        </li>
    }
}
