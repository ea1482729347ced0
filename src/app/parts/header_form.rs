//! The set and the work as a whole, as fields.

use crate::job::{Header, UsedInstrument};
use crate::procedure::Procedure;
use leptos::prelude::*;

/// One field of the header.
struct Field {
    id: &'static str,
    label: &'static str,
    hint: &'static str,
    long: bool,
    part: fn(&mut Header) -> &mut String,
}

const fn field(
    id: &'static str,
    label: &'static str,
    hint: &'static str,
    part: fn(&mut Header) -> &mut String,
) -> Field {
    Field {
        id,
        label,
        hint,
        long: false,
        part,
    }
}

const fn long(field: Field) -> Field {
    Field {
        long: true,
        ..field
    }
}

const SET: &[Field] = &[
    field("make", "Make", "as on the plate", |h| &mut h.set.make),
    field("model", "Model", "", |h| &mut h.set.model),
    field("serial", "Serial number", "", |h| &mut h.set.serial),
    field("owner", "Owner", "a name or your own reference", |h| {
        &mut h.owner
    }),
];

const INTAKE: &[Field] = &[
    long(field(
        "fault",
        "Fault reported",
        "in the owner’s words",
        |h| &mut h.fault,
    )),
    long(field(
        "condition",
        "Condition",
        "what you see before you open it",
        |h| &mut h.condition,
    )),
    field(
        "accessories",
        "Came with it",
        "microphone, leads, bracket",
        |h| &mut h.accessories,
    ),
];

const WORK: &[Field] = &[
    field("number", "Job number", "", |h| &mut h.number),
    field("technician", "Technician", "", |h| &mut h.technician),
];

/// The header as fields in three groups.
#[component]
pub fn HeaderForm(
    /// The header that the fields change.
    header: RwSignal<Header>,
    /// The procedure, which says what instruments are needed.
    procedure: Procedure,
) -> impl IntoView {
    view! {
        <fieldset>
            <legend>"The set"</legend>
            <div class="fields">{fields(header, SET)}</div>
        </fieldset>
        <fieldset>
            <legend>"As it came in"</legend>
            <div class="fields">{fields(header, INTAKE)}</div>
        </fieldset>
        <fieldset>
            <legend>"The work"</legend>
            <div class="fields">{fields(header, WORK)}</div>
        </fieldset>
        {instruments(header, &procedure)}
    }
}

fn fields(header: RwSignal<Header>, fields: &'static [Field]) -> impl IntoView {
    fields
        .iter()
        .map(|field| {
            let part = field.part;
            let value = move || header.with(|header| part(&mut header.clone()).clone());
            let take = move |text: String| header.update(|header| *part(header) = text);
            let input = match field.long {
                true => view! {
                    <textarea id=field.id rows="2" prop:value=value
                        on:input=move |e| take(event_target_value(&e))></textarea>
                }
                .into_any(),
                false => view! {
                    <input id=field.id type="text" autocomplete="off" prop:value=value
                        on:input=move |e| take(event_target_value(&e))/>
                }
                .into_any(),
            };
            view! {
                <div class="field" class:field-long=field.long>
                    <label for=field.id>{field.label}</label>
                    <span class="hint">{field.hint}</span>
                    {input}
                </div>
            }
        })
        .collect_view()
}

fn instruments(header: RwSignal<Header>, procedure: &Procedure) -> Option<impl IntoView + use<>> {
    if procedure.instruments.is_empty() {
        return None;
    }
    let rows = procedure
        .instruments
        .iter()
        .map(|instrument| {
            let role = instrument.role.clone();
            let id = format!("instrument-{role}");
            let wanted = role.clone();
            let value = move || {
                header.with(|header| {
                    let used = header.instruments.iter().find(|used| used.role == wanted);
                    used.map(|used| used.name.clone()).unwrap_or_default()
                })
            };
            let take =
                move |text: String| header.update(|header| name_instrument(header, &role, text));
            view! {
                <div class="field">
                    <label for=id.clone()>{super::capitalised(instrument.role.as_str())}</label>
                    <span class="hint">{instrument.needs.clone()}</span>
                    <input id=id type="text" autocomplete="off" prop:value=value
                        on:input=move |e| take(event_target_value(&e))/>
                </div>
            }
        })
        .collect_view();
    Some(view! {
        <fieldset>
            <legend>"What you measure with"</legend>
            <div class="fields">{rows}</div>
        </fieldset>
    })
}

fn name_instrument(header: &mut Header, role: &crate::procedure::Id, name: String) {
    header.instruments.retain(|used| used.role != *role);
    if !name.trim().is_empty() {
        header.instruments.push(UsedInstrument {
            role: role.clone(),
            name,
            record: None,
        });
        header.instruments.sort_by(|a, b| a.role.cmp(&b.role));
    }
}
