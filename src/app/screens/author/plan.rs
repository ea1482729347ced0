//! The frequency plan of a draft: modes, their oscillators, and the channels.

use crate::app::screens::author::controls::address::address;
use crate::app::screens::author::controls::bar::bar;
use crate::app::screens::author::controls::fields::anchor;
use crate::app::screens::author::pen::Pen;
use crate::app::screens::author::step_sheet::names::names;
use crate::app::shell::desk::Desk;
use crate::app::shell::route::Route;
use crate::app::ui::fields::form::{Said, Text, TextField, focus_soon};
use crate::app::ui::fields::picker::{Adds, Choice, Picker};
use crate::app::ui::whole_name;
use crate::app::words::author as words;
use crate::authoring::draft::{DraftMode, DraftPlan, DraftTerm};
use crate::authoring::edit::List;
use crate::authoring::{Draft, edit};
use crate::procedure::{Field, Place};
use crate::radio::channels::ChannelTable;
use leptos::prelude::*;

/// The screen.
pub fn screen(pen: Pen) -> impl IntoView {
    let modes = Memo::new(move |_| {
        pen.draft
            .with(|draft| draft.plan.as_ref().map_or(0, |plan| plan.modes.len()))
    });
    let add = move |_| {
        pen.change(words::MODE_ADDED, |draft| {
            let plan = draft.plan.get_or_insert_default();
            // Modes of one set are mostly made by the same oscillators.
            let fresh = DraftMode {
                name: String::new(),
                ..plan.modes.last().cloned().unwrap_or_default()
            };
            plan.modes.push(fresh);
        });
        focus_soon(format!("mode-{}", modes.get_untracked().saturating_sub(1)));
    };
    let drop = move |_| pen.change(words::PLAN_REMOVED, |draft| draft.plan = None);
    let there = Memo::new(move |_| pen.draft.with(|draft| draft.plan.is_some()));
    let said = Signal::derive(move || {
        let all = pen.said_of(&Place::Whole).into_iter();
        all.filter(|remark| remark.field == Field::Plan).collect()
    });
    view! {
        <section class="page author">
            <p class="crumbs"><a href=address(Desk::Whole(pen.id(), None))>{words::ALL_STEPS}</a></p>
            <h1>{words::PLAN}</h1>
            <p class="hint">{words::PLAN_HINT}</p>
            <Said id=anchor(Field::Plan) remarks=said/>
            <div class="fields">
                <TextField id="plan-name" label=words::PLAN_NAME text=name(pen)/>
                {channels(pen)}
            </div>
            {oscillators(pen)}
            <For each=move || 0..modes.get() key=|index| *index let:index>{mode(pen, index)}</For>
            <div class="row">
                <button type="button" on:click=add>{words::ADD_MODE}</button>
                <Show when=move || there.get()>
                    <button type="button" class="plain" on:click=drop>{words::REMOVE_PLAN}</button>
                </Show>
            </div>
            {bar(pen, ())}
        </section>
    }
}

fn name(pen: Pen) -> Text {
    Text {
        get: Signal::derive(move || {
            pen.draft.with(|d| {
                d.plan
                    .as_ref()
                    .map_or(String::new(), |plan| plan.name.clone())
            })
        }),
        set: Callback::new(move |typed: String| {
            pen.write("plan-name", |draft| {
                draft.plan.get_or_insert_with(DraftPlan::default).name = typed.clone();
            })
        }),
    }
}

/// The channels, as one of the tables that the app knows.
fn channels(pen: Pen) -> impl IntoView {
    let tables = StoredValue::new(untrack(|| {
        let mut tables = pen.bench.channel_tables();
        tables.extend(ChannelTable::built_in());
        tables
    }));
    let choices = move || {
        let mut choices: Vec<Choice> = tables.with_value(|tables| {
            let choice = |table: &ChannelTable| Choice {
                note: words::channels(table.channels.len(), &table.source),
                ..Choice::named(table.name.clone())
            };
            tables.iter().map(choice).collect()
        });
        choices.push(Choice {
            key: String::new(),
            ..Choice::named(words::NONE)
        });
        choices
    };
    let pick = Callback::new(move |name: String| {
        let table = tables.with_value(|all| all.iter().find(|table| table.name == name).cloned());
        pen.change(words::picked(words::CHANNELS, &name), |draft| {
            draft.channels = table.clone()
        });
    });
    let shown = move || {
        pen.draft.with(|d| {
            d.channels
                .as_ref()
                .map_or(String::new(), |table| table.name.clone())
        })
    };
    view! {
        <Picker id="plan-channels" label=words::CHANNELS shown=Signal::derive(shown)
            choices=Signal::derive(choices) pick/>
        <p class="field-long"><a href=Route::Channels.address()>{words::OWN_CHANNELS}</a></p>
    }
}

/// The oscillators by name, to be renamed everywhere at once; nothing where there are none.
fn oscillators(pen: Pen) -> impl IntoView {
    let names = Memo::new(move |_| {
        let names = pen
            .draft
            .with(|d| d.plan.as_ref().map(DraftPlan::oscillators));
        names.unwrap_or_default()
    });
    let count = Memo::new(move |_| names.with(Vec::len));
    let field = move |index: usize| {
        let id = format!("oscillator-{index}");
        let name =
            Memo::new(move |_| names.with(|names| names.get(index).cloned().unwrap_or_default()));
        let rename = move |typed: String| {
            let old = name.get_untracked();
            if !typed.trim().is_empty() {
                pen.change(words::renamed(&old, &typed), |draft| {
                    edit::rename_oscillator(draft, &old, typed.trim());
                });
            }
        };
        view! {
            <div class="field">
                <label for=id.clone()>{words::NAME}<span class="unseen">" "{name}</span></label>
                {whole_name(id.clone(), name, rename)}
            </div>
        }
    };
    view! {
        <Show when=move || { count.get() > 0 }>
            <fieldset>
                <legend>{words::OSCILLATORS}</legend>
                <p class="hint">{words::EVERYWHERE}</p>
                <div class="fields">
                    <For each=move || 0..count.get() key=|index| *index let:index>{field(index)}</For>
                </div>
            </fieldset>
        </Show>
    }
}

fn mode_of(draft: &mut Draft, index: usize) -> Option<&mut DraftMode> {
    draft.plan.as_mut()?.modes.get_mut(index)
}

fn mode(pen: Pen, index: usize) -> impl IntoView {
    let with = move |part: fn(&DraftMode) -> String| {
        pen.draft.with(|draft| {
            let mode = draft.plan.as_ref().and_then(|plan| plan.modes.get(index));
            mode.map_or(String::new(), part)
        })
    };
    let count = Memo::new(move |_| {
        pen.draft.with(|draft| {
            let mode = draft.plan.as_ref().and_then(|plan| plan.modes.get(index));
            mode.map_or(0, |mode| mode.terms.len())
        })
    });
    let name = Text {
        get: Signal::derive(move || with(|mode| mode.name.clone())),
        set: Callback::new(move |typed: String| {
            pen.write(format!("mode-{index}"), |draft| {
                if let Some(mode) = mode_of(draft, index) {
                    mode.name = typed.clone();
                }
            })
        }),
    };
    let add = move |_| {
        pen.change(words::OSCILLATOR_ADDED, |draft| {
            if let Some(mode) = mode_of(draft, index) {
                mode.terms.push(DraftTerm::named(""));
            }
        });
    };
    let remove = move |_| {
        pen.change(words::MODE_REMOVED, |draft| {
            if let Some(plan) = &mut draft.plan
                && index < plan.modes.len()
            {
                plan.modes.remove(index);
            }
        });
    };
    view! {
        <fieldset>
            <legend>{words::mode_label(index + 1)}</legend>
            <div class="fields">
                <TextField id=format!("mode-{index}") label=words::MODE_NAME text=name/>
            </div>
            <ul class="plain-list entries">
                <For each=move || 0..count.get() key=|term| *term let:term>{self::term(pen, index, term)}</For>
            </ul>
            <div class="row">
                <button type="button" on:click=add>{words::ADD_OSCILLATOR}</button>
                <button type="button" class="plain" on:click=remove>{words::remove_mode(index + 1)}</button>
            </div>
        </fieldset>
    }
}

fn term_of(draft: &mut Draft, mode: usize, term: usize) -> Option<&mut DraftTerm> {
    mode_of(draft, mode)?.terms.get_mut(term)
}

fn term(pen: Pen, mode: usize, index: usize) -> impl IntoView {
    let get = move |part: fn(&mut DraftTerm) -> &mut String| {
        pen.draft.with(|draft| {
            let mode = draft.plan.as_ref().and_then(|plan| plan.modes.get(mode));
            let term = mode.and_then(|mode| mode.terms.get(index)).cloned();
            term.map_or(String::new(), |mut term| part(&mut term).clone())
        })
    };
    let text = move |key: &'static str, part: fn(&mut DraftTerm) -> &mut String| Text {
        get: Signal::derive(move || get(part)),
        set: Callback::new(move |typed: String| {
            pen.write(format!("term-{mode}-{index}-{key}"), |draft| {
                if let Some(term) = term_of(draft, mode, index) {
                    *part(term) = typed.clone();
                }
            })
        }),
    };
    let set = move |what: String, part: fn(&mut DraftTerm) -> &mut String, name: &str| {
        pen.change(what, |draft| {
            if let Some(term) = term_of(draft, mode, index) {
                *part(term) = name.to_owned();
            }
        });
    };
    let oscillators = Signal::derive(move || {
        let names = pen
            .draft
            .with(|d| d.plan.as_ref().map(DraftPlan::oscillators));
        names
            .unwrap_or_default()
            .into_iter()
            .map(Choice::named)
            .collect()
    });
    let pick = Callback::new(move |name: String| {
        set(
            words::picked(words::OSCILLATOR, &name),
            |term| &mut term.oscillator,
            &name,
        );
    });
    let add = Adds::new(move |name: String| {
        pick.run(name);
        Ok(())
    });
    let turns = Callback::new(move |name: String| {
        set(
            words::picked(words::ADJUSTER, &name),
            |term| &mut term.adjuster,
            &name,
        );
    });
    let new_adjuster = Adds::new(move |name: String| {
        let added = pen.change(words::added(&name), |draft| {
            edit::add(draft, List::Adjusters, &name)
        });
        added
            .map(|name| turns.run(name))
            .map_err(|fault| fault.to_string())
    });
    let remove = move |_| {
        pen.change(words::OSCILLATOR_REMOVED, |draft| {
            if let Some(mode) = mode_of(draft, mode)
                && index < mode.terms.len()
            {
                mode.terms.remove(index);
            }
        });
    };
    let id = move |key: &str| format!("term-{mode}-{index}-{key}");
    view! {
        <li class="entry-card">
            <div class="fields">
                <Picker id=id("oscillator") label=words::OSCILLATOR shown=Signal::derive(move || get(|t| &mut t.oscillator))
                    choices=oscillators pick add/>
                <TextField id=id("frequency") label=words::FREQUENCY hint=words::FREQUENCY_HINT rows=2
                    text=text("frequency", |t| &mut t.frequency)/>
                <TextField id=id("factor") label=words::FACTOR hint=words::FACTOR_HINT text=text("factor", |t| &mut t.factor)/>
                <TextField id=id("injection") label=words::INJECTION hint=words::INJECTION_HINT text=text("injection", |t| &mut t.injection)/>
                <Picker id=id("adjuster") label=words::ADJUSTER shown=Signal::derive(move || get(|t| &mut t.adjuster))
                    choices=Signal::derive(move || pen.draft.with(|d| names(d, List::Adjusters))) pick=turns add=new_adjuster/>
            </div>
            <div class="entry-end">
                <button type="button" class="plain" on:click=remove>{words::remove_oscillator(index + 1)}</button>
            </div>
        </li>
    }
}
