//! What only some kinds of steps need, and the state that the set must be in.

use crate::app::screens::author::controls::fields::{OneOf, Sheet, anchor};
use crate::app::screens::author::controls::rows::{Columns, Rows};
use crate::app::screens::author::step_sheet::names::{INSTRUMENT, name_picker};
use crate::app::screens::author::step_sheet::repeat;
use crate::app::ui::fields::form::{Chips, Said, Text, TextField};
use crate::app::ui::fields::picker::{Adds, Choice, Picker};
use crate::app::words::author as words;
use crate::app::words::work::passes;
use crate::authoring::{ConfirmedBy, DraftStep, Kind, TargetKind};
use crate::procedure::{Field, Holds, Sets, Setting, Signal as State};
use leptos::prelude::*;

const PINS: Columns = Columns {
    separator: ';',
    names: &[
        (words::PIN, ""),
        (words::PIN_SIGNAL, ""),
        (words::PIN_FROM, ""),
        (words::PIN_COLOUR, ""),
        (words::PIN_EXPECTS, words::PIN_EXPECTS_HINT),
    ],
    row: words::PIN_ROW,
};

const CONTROLS: Columns = Columns {
    separator: ':',
    names: &[(words::CONTROL, ""), (words::CONTROL_TO, "")],
    row: words::CONTROL_ROW,
};

/// The part; nothing for a kind that needs nothing more.
pub fn part(sheet: Sheet) -> impl IntoView {
    let kind = Memo::new(move |_| sheet.with(|step| step.kind));
    move || match kind.get() {
        Kind::Stop => group(words::STOP, stop(sheet).into_any()).into_any(),
        Kind::Repeat => group(passes::REPEAT, repeat::fields(sheet).into_any()).into_any(),
        Kind::Fit => group(words::FIT, fit(sheet).into_any()).into_any(),
        Kind::Wire => group(words::WIRE, wire(sheet).into_any()).into_any(),
        Kind::Socket => group(words::SOCKET, socket(sheet).into_any()).into_any(),
        _ => ().into_any(),
    }
}

fn group(title: &'static str, fields: AnyView) -> impl IntoView {
    view! {
        <fieldset>
            <legend>{title}</legend>
            <div class="fields">{fields}</div>
        </fieldset>
    }
}

fn stop(sheet: Sheet) -> impl IntoView {
    view! {
        <TextField id=anchor(Field::Confirm) label=words::CONFIRM hint=words::CONFIRM_HINT rows=2
            text=sheet.text("confirm", |step| &mut step.confirm) said=sheet.said(Field::Confirm)/>
        {confirmed_by(sheet)}
        {holds(sheet)}
    }
}

/// What confirms a stop.
fn confirmed_by(sheet: Sheet) -> impl IntoView {
    let keys = OneOf {
        id: "author-confirmed-by",
        label: words::CONFIRMED_BY,
        all: &ConfirmedBy::ALL,
        name: ConfirmedBy::name,
        get: |step| step.confirmed_by,
        set: |step, by| {
            step.confirmed_by = by;
            // Most of what is waited for is to fall below a figure.
            if !by.is_hand() && step.target.kind == TargetKind::None {
                step.target.kind = TargetKind::AtMost;
            }
        },
    };
    view! {
        <div class="field-long">
            {keys.keys(sheet)}
            <span class="hint">{words::CONFIRMED_BY_HINT}</span>
        </div>
    }
}

/// How long a confirmed stop holds.
fn holds(sheet: Sheet) -> impl IntoView {
    let keys = OneOf {
        id: "author-holds",
        label: words::HOLDS,
        all: &Holds::ALL,
        name: Holds::name,
        get: |step| step.holds,
        set: |step, holds| step.holds = holds,
    };
    view! {
        <div class="field-long">
            {keys.keys(sheet)}
            <span class="hint">{words::HOLDS_HINT}</span>
        </div>
    }
}

fn fit(sheet: Sheet) -> impl IntoView {
    view! {
        <TextField id="author-out" label=words::OUT text=sheet.text("out", |step| &mut step.out)/>
        <TextField id=anchor(Field::Fitted) label=words::FITTED
            text=sheet.text("fitted", |step| &mut step.fitted) said=sheet.said(Field::Fitted)/>
        <TextField id="author-why" label=words::WHY text=sheet.text("why", |step| &mut step.why)/>
    }
}

fn wire(sheet: Sheet) -> impl IntoView {
    view! {
        <TextField id=anchor(Field::Ends) label=words::WIRE_FROM
            text=sheet.text("wire-from", |step| &mut step.wire_from) said=sheet.said(Field::Ends)/>
        <TextField id="author-wire-to" label=words::WIRE_TO
            text=sheet.text("wire-to", |step| &mut step.wire_to)/>
        <TextField id="author-colour" label=words::colour()
            text=sheet.text("colour", |step| &mut step.colour)/>
    }
}

fn socket(sheet: Sheet) -> impl IntoView {
    view! {
        <TextField id="author-socket" label=words::SOCKET_NAME
            text=sheet.text("socket", |step| &mut step.socket)/>
        {name_picker(sheet, INSTRUMENT)}
        <Rows id=anchor(Field::Pins) label=words::PINS columns=PINS
            text=sheet.text("pins", |step| &mut step.pins) said=sheet.said(Field::Pins)/>
    }
}

/// The state that the set must be in.
pub fn set_up(sheet: Sheet) -> impl IntoView {
    view! {
        <fieldset>
            <legend>{words::SET_UP}</legend>
            <p class="hint">{words::SET_UP_HINT}</p>
            <div class="fields">{stated(sheet)}</div>
        </fieldset>
    }
}

/// The fields of the set-up, but for what the headings of a table set.
pub fn stated(sheet: Sheet) -> impl IntoView {
    let states = move |what: Sets| Memo::new(move |_| sheet.states(&what));
    let control = Sets::Control(String::new());
    let [state_is, mode_is, channel_is, supply_is, controls_are] = [
        Sets::State,
        Sets::Mode,
        Sets::Channel,
        Sets::Supply,
        control,
    ]
    .map(states);
    view! {
        {move || state_is.get().then(|| state(sheet))}
        {move || mode_is.get().then(|| used_picker(sheet, MODE))}
        {move || channel_is.get().then(|| used_picker(sheet, CHANNEL))}
        {move || supply_is.get().then(|| used_picker(sheet, SUPPLY))}
        {settings(sheet)}
        {move || controls_are.get().then(|| view! {
            <Rows id=anchor(Field::Controls) label=words::CONTROLS columns=CONTROLS
                text=sheet.text("controls", |step| &mut step.controls) said=sheet.said(Field::Controls)/>
        })}
    }
}

/// What is set around the set; open where any of it is stated.
fn settings(sheet: Sheet) -> impl IntoView {
    let used =
        untrack(|| sheet.with(|step| step.settings.values().any(|text| !text.trim().is_empty())));
    let field = move |setting: Setting| {
        let get =
            move || sheet.with(|step| step.settings.get(&setting).cloned().unwrap_or_default());
        let set = Callback::new(move |typed: String| {
            sheet.write(setting.name(), |step| {
                step.settings.insert(setting, typed.clone());
            })
        });
        let text = Text {
            get: Signal::derive(get),
            set,
        };
        let id = format!("author-{}", setting.name().to_lowercase().replace(' ', "-"));
        let is_here = Memo::new(move |_| sheet.states(&Sets::Setting(setting)));
        move || {
            let id = id.clone();
            is_here.get().then(|| {
                view! {
                    <TextField id label=setting.name() hint=words::setting_hint(setting) text/>
                }
            })
        }
    };
    view! {
        <details class="more field-long" open=used>
            <summary>{words::settings()}</summary>
            <div class="fields">{Setting::ALL.map(field).collect_view()}</div>
        </details>
    }
}

fn state(sheet: Sheet) -> impl IntoView {
    const STATES: [(Option<State>, &str); 3] = [
        (Some(State::Rx), "RX"),
        (Some(State::Tx), "TX"),
        (None, words::NOT_STATED),
    ];
    let choices = STATES
        .iter()
        .map(|(_, name)| ((*name).to_owned(), (*name).to_owned()))
        .collect();
    let chosen = move || {
        let state = sheet.with(|step| step.signal);
        let found = STATES.iter().find(|(other, _)| *other == state);
        found.map_or(String::new(), |(_, name)| (*name).to_owned())
    };
    let pick = Callback::new(move |name: String| {
        if let Some((state, _)) = STATES.iter().find(|(_, other)| *other == name) {
            sheet.change(&words::picked(words::STATE, &name), |step| {
                step.signal = *state
            });
        }
    });
    view! {
        <div class="field-long">
            <Chips id=anchor(Field::Signal) label=words::STATE choices chosen=Signal::derive(chosen) pick/>
            <Said id="author-signal-said".to_owned() remarks=sheet.said(Field::Signal)/>
        </div>
    }
}

/// A text of the set-up that is often the same: picked from what the draft uses, or typed anew.
#[derive(Clone, Copy)]
struct Used {
    id: &'static str,
    label: &'static str,
    part: fn(&mut DraftStep) -> &mut String,
    offered: fn(&crate::authoring::Draft) -> Vec<String>,
}

const MODE: Used = Used {
    id: "author-mode",
    label: words::MODE,
    part: |step| &mut step.mode,
    offered: |draft| {
        let plan = draft.plan.iter().flat_map(|plan| &plan.modes);
        let usual = ["AM", "FM", "USB", "LSB", "CW"].map(str::to_owned);
        plan.map(|mode| mode.name.clone()).chain(usual).collect()
    },
};

const CHANNEL: Used = Used {
    id: "author-channel",
    label: words::CHANNEL,
    part: |step| &mut step.channel,
    offered: |draft| {
        let table = draft.channels.iter().flat_map(|table| &table.channels);
        table.map(|channel| channel.name.clone()).collect()
    },
};

const SUPPLY: Used = Used {
    id: "author-supply",
    label: words::SUPPLY,
    part: |step| &mut step.supply,
    offered: |_| vec![words::SUPPLY_OFF.to_owned()],
};

fn used_picker(sheet: Sheet, what: Used) -> impl IntoView {
    let Used {
        id,
        label,
        part,
        offered,
    } = what;
    let draft = sheet.pen.draft;
    let choices = move || {
        draft.with(|draft| {
            let used = draft.steps().map(|step| part(&mut step.clone()).clone());
            let mut names: Vec<String> = Vec::new();
            for name in used.chain(offered(draft)) {
                if !name.trim().is_empty() && !names.contains(&name) {
                    names.push(name);
                }
            }
            let none = Choice {
                key: String::new(),
                name: words::NOT_STATED.to_owned(),
                ..Choice::default()
            };
            let named = names.into_iter().map(Choice::named);
            named.chain([none]).collect::<Vec<_>>()
        })
    };
    let set = move |name: &str| {
        sheet.change(&words::picked(label, name), |step| {
            *part(step) = name.to_owned()
        });
    };
    let add = Adds::new(move |name: String| {
        set(&name);
        Ok(())
    });
    view! {
        <Picker id label shown=Signal::derive(move || sheet.with(|step| part(&mut step.clone()).clone()))
            choices=Signal::derive(choices) pick=Callback::new(move |name: String| set(&name)) add/>
    }
}
