//! A draft as a whole: what it is called, what is to be said of it, its sections and steps.

use crate::app::platform::device;
use crate::app::screens::author::controls::address::address;
use crate::app::screens::author::controls::bar::bar;
use crate::app::screens::author::controls::drag::{Drag, row_id, section_id};
use crate::app::screens::author::controls::fields::anchor;
use crate::app::screens::author::controls::remarks;
use crate::app::screens::author::pen::Pen;
use crate::app::screens::author::several;
use crate::app::shell::desk::Desk;
use crate::app::shell::route::Route;
use crate::app::ui::field_text;
use crate::app::ui::fields::form::{Text, TextField, focus_soon};
use crate::app::words::author as words;
use crate::app::words::set::{board, papers};
use crate::app::words::work::several as several_words;
use crate::authoring::{Draft, Gravity, Remark, edit};
use crate::procedure::{Field, Id, Place};
use leptos::html::Dialog;
use leptos::prelude::*;

/// The screen.
pub fn screen(pen: Pen, field: Option<Field>) -> impl IntoView {
    if let Some(field) = field {
        focus_soon(anchor(field));
    }
    let id = pen.id();
    let title = move || pen.draft.with(|draft| words::draft_title(&draft.title));
    let about = move || {
        pen.draft
            .with(|draft| words::draft_about(draft.from, draft.steps().count()))
    };
    view! {
        <section class="page author">
            <p class="crumbs"><a href=Route::Procedures.address()>{words::ALL_PROCEDURES}</a></p>
            <div class="title-row">
                <h1>{title}</h1>
                <a class="button main" href=address(Desk::Publish(id.clone()))>{words::TO_PUBLISH}</a>
            </div>
            <p class="hint">{about}</p>
            <div class="row">
                <a class="button" href=address(Desk::Lists(id.clone(), None))>{words::TO_LISTS}</a>
                <a class="button" href=address(Desk::Pictures(id.clone()))>{board::TITLE}</a>
                <a class="button" href=address(Desk::Papers(id.clone()))>{papers::TITLE}</a>
                <a class="button" href=address(Desk::Plan(id.clone()))>{words::TO_PLAN}</a>
                <a class="button" href=address(Desk::Table(id))>{words::TO_TABLE}</a>
            </div>
            {remarks::list(pen, true)}
            {about_it(pen)}
            {sections(pen)}
            {end(pen)}
            {bar(pen, ())}
        </section>
    }
}

/// A text of the whole, to be looked at and to be changed.
type WholeText = (fn(&Draft) -> &String, fn(&mut Draft) -> &mut String);

/// A text of the whole.
fn whole(pen: Pen, key: &'static str, (read, part): WholeText) -> Text {
    Text {
        get: Signal::derive(move || pen.draft.with(|draft| read(draft).clone())),
        set: Callback::new(move |typed: String| {
            pen.write(key, |draft| *part(draft) = typed.clone())
        }),
    }
}

/// What is said of a field of the whole.
fn said_of_whole(pen: Pen, field: Field) -> Signal<Vec<Remark>> {
    Signal::derive(move || {
        let mut said = pen.said_of(&Place::Whole);
        said.retain(|remark| remark.field == field);
        said
    })
}

fn about_it(pen: Pen) -> impl IntoView {
    view! {
        <div class="fields">
            <TextField id=anchor(Field::Title) label=words::TITLE wide=true
                text=whole(pen, "title", (|d| &d.title, |d| &mut d.title)) said=said_of_whole(pen, Field::Title)/>
            <TextField id="author-covers" label=words::COVERS hint=words::COVERS_HINT rows=2
                text=whole(pen, "covers", (|d| &d.covers, |d| &mut d.covers))/>
            <TextField id="author-cautions" label=words::WHOLE_CAUTIONS hint=words::ONE_A_LINE rows=2
                text=whole(pen, "cautions", (|d| &d.cautions, |d| &mut d.cautions))/>
        </div>
    }
}

/// The outline in hand.
#[derive(Clone, Copy)]
struct Outline {
    pen: Pen,
    drag: Drag,
    /// The step whose keys are shown.
    opened: RwSignal<Option<Id>>,
}

fn sections(pen: Pen) -> impl IntoView {
    let outline = Outline {
        pen,
        drag: Drag::new(pen),
        opened: RwSignal::new(None),
    };
    let count = Memo::new(move |_| pen.draft.with(|draft| draft.sections.len()));
    let add = move |_| {
        pen.change(words::SECTION_ADDED, |draft| edit::add_section(draft, ""));
        focus_soon(format!(
            "section-title-{}",
            count.get_untracked().saturating_sub(1)
        ));
    };
    view! {
        <div class="draft-sections" id=anchor(Field::Steps) tabindex="-1">
            <For each=move || 0..count.get() key=|index| *index let:index>{section(outline, index)}</For>
        </div>
        <button type="button" on:click=add>{words::ADD_SECTION}</button>
    }
}

fn section(outline: Outline, index: usize) -> impl IntoView {
    let pen = outline.pen;
    let draft = pen.draft;
    let ids = Memo::new(move |_| {
        draft.with(|draft| {
            let section = draft.sections.get(index);
            let steps = section.map_or(&[][..], |section| &section.steps);
            steps.iter().map(|step| step.id.clone()).collect::<Vec<_>>()
        })
    });
    let title = move || {
        draft.with(|draft| {
            draft
                .sections
                .get(index)
                .map_or(String::new(), |s| s.title.clone())
        })
    };
    let name = move |text: String| {
        pen.write(format!("section-{index}"), |draft| {
            if let Some(section) = draft.sections.get_mut(index) {
                section.title = text.clone();
            }
        });
    };
    let nudge = move |down: bool| {
        pen.change(words::SECTION_MOVED, |draft| {
            edit::nudge_section(draft, index, down)
        });
    };
    let count = Memo::new(move |_| draft.with(|draft| draft.sections.len()));
    let is_last = move || index + 1 >= count.get();
    let remove = move |_| {
        pen.change(words::SECTION_REMOVED, |draft| {
            edit::remove_section(draft, index)
        })
    };
    let add = move |_| {
        if let Some(step) = pen.change(words::STEP_ADDED, |draft| edit::add_step(draft, index)) {
            pen.bench
                .go(&Route::Author(Desk::Step(pen.id(), step, None)));
        }
    };
    let field = format!("section-title-{index}");
    let last = move || {
        let held = outline.drag.held.get();
        let others = ids.with(|ids| {
            let is_other = |id: &&Id| held.as_ref().is_none_or(|held| held.step != **id);
            ids.iter().filter(is_other).count()
        });
        outline.drag.aims_at(index, others)
    };
    view! {
        <section class="draft-section" id=section_id(index) aria-label=move || words::section_name(index + 1, &title())>
            <div class="section-head">
                <div class="field">
                    <label for=field.clone()>{words::section_label(index + 1)}</label>
                    <input id=field type="text" autocomplete="off" prop:value=move || field_text(title())
                        on:input=move |event| name(event_target_value(&event))/>
                </div>
                <div class="section-keys">
                    <button type="button" aria-label=words::section_up(index + 1) disabled=index == 0
                        on:click=move |_| nudge(false)>"↑"</button>
                    <button type="button" aria-label=words::section_down(index + 1)
                        disabled=is_last on:click=move |_| nudge(true)>"↓"</button>
                    <button type="button" class="plain" disabled=move || count.get() < 2
                        aria-label=words::section_remove(index + 1) on:click=remove>{words::REMOVE}</button>
                </div>
            </div>
            <ol class="draft-rows" class:drop-last=last>
                <For each=move || ids.get() key=Id::clone let:id>{row(outline, index, id)}</For>
            </ol>
            <div class="row">
                <button type="button" on:click=add>{words::ADD_STEP}<span class="unseen">" "{words::section_label(index + 1)}</span></button>
                <button type="button" on:click=move |_| several::add(pen, index)>{several_words::ADD}<span class="unseen">" "{words::section_label(index + 1)}</span></button>
            </div>
        </section>
    }
}

fn row(outline: Outline, section: usize, id: Id) -> impl IntoView {
    let Outline { pen, drag, opened } = outline;
    let draft = pen.draft;
    let step_id = StoredValue::new(id.clone());
    let number = Memo::new(move |_| {
        step_id
            .with_value(|id| draft.with(|draft| draft.number_of(id)))
            .unwrap_or(0)
    });
    let title = move || {
        let title = draft.with(|draft| {
            let step = step_id.with_value(|id| draft.step(id));
            step.map_or(String::new(), |step| draft.title_of(step))
        });
        words::step_heading(&title)
    };
    let summary = move || step_id.with_value(|id| pen.of_step(id, words::summary));
    let aimed = move || {
        let place = draft.with(|draft| {
            let steps = &draft.sections.get(section)?.steps;
            let others = steps.iter().filter(|step| !drag.holds(&step.id));
            others
                .map(|step| &step.id)
                .position(|id| step_id.with_value(|own| own == id))
        });
        place.is_some_and(|place| drag.aims_at(section, place))
    };
    let held = move || step_id.with_value(|id| drag.holds(id));
    let is_open =
        Memo::new(move |_| opened.with(|open| step_id.with_value(|id| open.as_ref() == Some(id))));
    let turn = move |_| {
        let now = (!is_open.get_untracked()).then(|| step_id.get_value());
        opened.set(now);
    };
    let handle = format!("draft-handle-{id}");
    let keys = {
        let handle = handle.clone();
        move |event: web_sys::KeyboardEvent| {
            let down = match event.key().as_str() {
                "ArrowUp" => false,
                "ArrowDown" => true,
                _ => return,
            };
            event.prevent_default();
            let id = step_id.get_value();
            pen.change(words::STEP_MOVED, |draft| {
                edit::nudge_step(draft, &id, down)
            });
            // The row moved in the page, which takes the focus away.
            focus_soon(handle.clone());
        }
    };
    view! {
        <li class="draft-row" id=row_id(&id) class:drop-before=aimed class:held=held>
            {several::way_above(pen, id.clone())}
            <div class="draft-line">
                <button type="button" class="handle" id=handle
                    aria-label=move || words::handle(number.get(), &title())
                    on:pointerdown=move |event| drag.start(&event, step_id.get_value())
                    on:pointermove=move |event| if held() { drag.moved(&event) }
                    on:pointerup=move |_| drag.drop()
                    on:pointercancel=move |_| drag.cancel()
                    on:keydown=keys>
                    <svg viewBox="0 0 20 20" aria-hidden="true"><path d="M4 6h12M4 10h12M4 14h12"/></svg>
                </button>
                <span class="step-number">{number}</span>
                <a class="draft-title" href=address(Desk::Step(pen.id(), id.clone(), None))>
                    <span class="step-title">{title}</span>
                    <span class="hint">{summary}</span>
                    {marks(pen, number)}
                </a>
                <button type="button" class="plain more-key" aria-expanded=move || is_open.get().to_string()
                    aria-label=move || words::more_of(number.get()) on:click=turn>
                    <svg viewBox="0 0 20 20" aria-hidden="true"><path d="M5 10h.01M10 10h.01M15 10h.01"/></svg>
                </button>
            </div>
            <Show when=move || is_open.get()>{step_keys(outline, section, step_id.get_value())}</Show>
        </li>
    }
}

/// That something is to be said of a step, in words.
fn marks(pen: Pen, number: Memo<usize>) -> impl IntoView {
    move || {
        let said = pen.said_of(&Place::Step(number.get()));
        let fault = said.iter().any(|remark| remark.gravity == Gravity::Fault);
        (!said.is_empty()).then(|| view! { <span class="draft-mark" class:said-fault=fault>{words::gravity(fault)}</span> })
    }
}

/// What can be done with a step in its list.
fn step_keys(outline: Outline, section: usize, id: Id) -> impl IntoView {
    let Outline { pen, opened, .. } = outline;
    let step = StoredValue::new(id);
    let act = move |what: &'static str, act: fn(&mut Draft, &Id)| {
        step.with_value(|id| pen.change(what, |draft| act(draft, id)));
    };
    let open = move |made: Option<Id>| {
        if let Some(made) = made {
            pen.bench
                .go(&Route::Author(Desk::Step(pen.id(), made, None)));
        }
    };
    let below = move |_| {
        open(step.with_value(|id| pen.change(words::STEP_ADDED, |d| edit::add_step_below(d, id))))
    };
    let twice = move |_| {
        step.with_value(|id| pen.change(words::STEP_DOUBLED, |d| edit::duplicate_step(d, id)));
    };
    let split = move |_| {
        act(words::SECTION_SPLIT, |draft, id| {
            edit::split_section(draft, id, "")
        });
        focus_soon(format!("section-title-{}", section + 1));
    };
    let remove = move |_| {
        let number = step
            .with_value(|id| pen.draft.with_untracked(|d| d.number_of(id)))
            .unwrap_or(0);
        step.with_value(|id| pen.change(words::step_removed(number), |d| edit::remove_step(d, id)));
        opened.set(None);
        pen.bench.say_when_kept(words::can_be_undone(number));
    };
    let elsewhere = move || {
        let others: Vec<(usize, String)> = pen.draft.with(|draft| {
            let all = draft.sections.iter().map(|s| s.title.clone()).enumerate();
            all.filter(|(index, _)| *index != section).collect()
        });
        let key = move |(index, title): (usize, String)| {
            let go = move |_| {
                step.with_value(|id| {
                    pen.change(words::STEP_MOVED, |d| {
                        edit::move_step(d, id, index, usize::MAX)
                    });
                });
                opened.set(None);
            };
            view! { <button type="button" on:click=go>{words::to_section(index + 1, &title)}</button> }
        };
        others.into_iter().map(key).collect_view()
    };
    // In another section the row is made anew; the finger stays on the key that took it there.
    let key_id = |key: &str| step.with_value(|id| format!("draft-{key}-{id}"));
    view! {
        <div class="step-keys" role="group" aria-label=words::STEP_KEYS>
            <button type="button" id=key_id("up") on:click=move |_| act(words::STEP_MOVED, |d, id| edit::nudge_step(d, id, false))>{words::MOVE_UP}</button>
            <button type="button" id=key_id("down") on:click=move |_| act(words::STEP_MOVED, |d, id| edit::nudge_step(d, id, true))>{words::MOVE_DOWN}</button>
            <button type="button" on:click=below>{words::ADD_BELOW}</button>
            <button type="button" on:click=twice>{words::DUPLICATE}</button>
            <button type="button" on:click=split>{words::SPLIT}</button>
            {elsewhere}
            <button type="button" on:click=remove>{words::REMOVE_STEP}</button>
        </div>
    }
}

/// The way to be rid of the draft, after a question.
fn end(pen: Pen) -> impl IntoView {
    let dialog = NodeRef::<Dialog>::new();
    let show = move |_| {
        if let Some(dialog) = dialog.get_untracked() {
            let _ = dialog.show_modal();
        }
    };
    let hide = move || {
        if let Some(dialog) = dialog.get_untracked() {
            dialog.close();
        }
    };
    let throw = move |_| {
        hide();
        let id = pen.id();
        if pen
            .bench
            .with_store(|store| store.remove_authored(&id))
            .is_some()
        {
            pen.put_away();
            device::go(&Route::Procedures.address());
        }
    };
    view! {
        <p class="draft-end"><button type="button" class="plain" on:click=show>{words::THROW_AWAY}</button></p>
        <dialog class="ask" node_ref=dialog aria-labelledby="throw-title">
            <form on:submit=|event| event.prevent_default()>
                <h2 id="throw-title">{words::THROW_AWAY}</h2>
                <p>{words::THROW_AWAY_HINT}</p>
                <div class="row row-end">
                    <button type="button" class="plain" on:click=move |_| hide()>{words::NOT_NOW}</button>
                    <button type="button" class="main" on:click=throw>{words::THROW_AWAY}</button>
                </div>
            </form>
        </dialog>
    }
}
