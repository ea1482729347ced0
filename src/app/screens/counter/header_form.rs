//! The set and the work as a whole, as fields.

use crate::app::screens::counter::price;
use crate::app::screens::set::scan;
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::ui::{capitalised, counts, field_text, find};
use crate::app::words::counter::details as words;
use crate::app::words::shared;
use crate::job::{Counts, Header, KitLine, Progress, UsedInstrument, kit_check};
use crate::metrology::date::Date;
use crate::metrology::decision::Rule;
use crate::metrology::instrument::{Ability, Instrument as KitInstrument};
use crate::procedure::{Id, Instrument, Procedure};
use crate::quantity::{DecimalSign, Unit, sum::Output};
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

/// What an intake asks for, beside what says which set it is; all else can wait, or is known already.
const ASKED: &[Field] = &[
    field("owner", words::OWNER, words::OWNER_HINT, |h| &mut h.owner),
    field("technician", words::TECHNICIAN, "", |h| &mut h.technician),
    long(field("fault", words::FAULT, words::FAULT_HINT, |h| {
        &mut h.fault
    })),
];

/// What says which set it is: one of these has to be there.
const PLATE: &[Field] = &[
    field("make", words::MAKE, words::MAKE_HINT, |h| &mut h.set.make),
    field("model", words::MODEL, "", |h| &mut h.set.model),
    field("serial", words::SERIAL, "", |h| &mut h.set.serial),
];

const INTAKE: &[Field] = &[
    long(field(
        "condition",
        words::CONDITION,
        words::CONDITION_HINT,
        |h| &mut h.condition,
    )),
    field(
        "accessories",
        words::ACCESSORIES,
        words::ACCESSORIES_HINT,
        |h| &mut h.accessories,
    ),
];

const WORK: &[Field] = &[field("number", words::NUMBER, "", |h| &mut h.number)];

/// The field of what says which set it is that is asked for first.
pub const FIRST: &str = "make";

/// The header as fields: what an intake asks for, and the rest below, which is folded until there is
/// a job.
#[component]
pub fn HeaderForm(
    /// The header that the fields change.
    header: RwSignal<Header>,
    /// The procedure, which says what instruments are needed.
    procedure: Procedure,
    /// The field in which something is wrong, if there is one: then the header is not what stands
    /// there.
    wrong: RwSignal<Option<&'static str>>,
    /// Whether it is to be said that nothing tells which set it is.
    #[prop(into, default = Signal::stored(false))]
    nameless: Signal<bool>,
    /// The job that the header is of, if it is of one already, and what other instruments in it
    /// count for.
    #[prop(default = None)]
    of: Option<(Id, RwSignal<Option<Counts>>)>,
) -> impl IntoView {
    let bench = use_bench();
    let (job, chosen) = of.unzip();
    let is_begun = job.is_some();
    let (odd_day, odd_charge) = (RwSignal::new(false), RwSignal::new(None));
    Effect::new(move |_| {
        let odd_day = odd_day.get().then_some(NEXT_CHECK);
        wrong.set(odd_day.or(odd_charge.get()));
    });
    // Only at intake: what is there already was said of this visit.
    let take_over = Callback::new(move |last: Header| header.update(|now| now.fill_in(&last)));
    let take_over = job.is_none().then_some(take_over);
    let replaced = {
        let procedure = StoredValue::new(procedure.clone());
        move || {
            let now = bench.progress.get();
            let header = header.get().without_blank_names();
            let replaced =
                |now: &Progress| procedure.with_value(|procedure| now.replaced(procedure, &header));
            (now.as_ref().map(replaced).unwrap_or_default(), header)
        }
    };
    view! {
        <fieldset>
            <legend>{shared::THE_SET}</legend>
            <div class="fields">{fields(header, PLATE)}{scan::serial(bench, header)}</div>
            <p class="error" role="alert">{move || nameless.get().then_some(words::NAMELESS)}</p>
            <div class="fields">{fields(header, ASKED)}</div>
            {find::earlier(bench, move || header.with(|header| header.set.clone()), job, take_over)}
        </fieldset>
        <details class="more" open=is_begun>
            <summary>{the_rest(header, &procedure)}</summary>
            <fieldset>
                <legend>{words::INTAKE}</legend>
                <div class="fields">{fields(header, INTAKE)}</div>
            </fieldset>
            <fieldset>
                <legend>{words::THE_WORK}</legend>
                <div class="fields">{fields(header, WORK)}{next_check(header, odd_day)}</div>
            </fieldset>
            {price::charge(bench, header, odd_charge)}
            {instruments(bench, header, &procedure)}
            {chosen.map(|chosen| counts(replaced, chosen))}
            {rule(bench, header)}
        </details>
        {check(bench, header, procedure)}
    }
}

/// What the rest is, and how much of the test equipment is chosen.
fn the_rest(header: RwSignal<Header>, procedure: &Procedure) -> impl Fn() -> String + use<> {
    let roles: Vec<Id> = procedure
        .instruments
        .iter()
        .map(|it| it.role.clone())
        .collect();
    move || {
        let is_named = |role: &&Id| {
            header.with(|header| {
                header
                    .used_as(role)
                    .is_some_and(|it| !it.name.trim().is_empty())
            })
        };
        words::the_rest(roles.iter().filter(is_named).count(), roles.len())
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
                    <textarea id=field.id rows="2" prop:value=move || field_text(value())
                        on:input=move |e| take(event_target_value(&e))></textarea>
                }
                .into_any(),
                false => view! {
                    <input id=field.id type="text" autocomplete="off" prop:value=move || field_text(value())
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

/// The id of the field for the day of the next check.
const NEXT_CHECK: &str = "next-check";

/// The day of the next check, for report and label.
fn next_check(header: RwSignal<Header>, is_odd: RwSignal<bool>) -> impl IntoView {
    let wrong = RwSignal::new(None::<String>);
    let day = header.with_untracked(|header| header.next_check);
    // A day that is typed is not always one yet.
    let typed = RwSignal::new(day.map_or(String::new(), |day| day.to_string()));
    let take = move |text: String| {
        let day = Date::typed(&text);
        wrong.set(day.as_ref().err().map(shared::sentence));
        is_odd.set(day.is_err());
        header.update(|header| header.next_check = day.ok().flatten());
        typed.set(text);
    };
    view! {
        <div class="field">
            <label for=NEXT_CHECK>{words::NEXT_CHECK}</label>
            <span class="hint">{words::NEXT_CHECK_HINT}</span>
            <input id=NEXT_CHECK type="date" max="9999-12-31" prop:value=move || field_text(typed.get())
                aria-invalid=move || wrong.with(Option::is_some).to_string() aria-describedby="next-check-error"
                on:input=move |e| take(event_target_value(&e))/>
            <p id="next-check-error" class="error" role="alert">{move || wrong.get()}</p>
        </div>
    }
}

fn instruments(
    bench: Bench,
    header: RwSignal<Header>,
    procedure: &Procedure,
) -> Option<impl IntoView + use<>> {
    if procedure.instruments.is_empty() {
        return None;
    }
    let kit = StoredValue::new(untrack(|| bench.kit()));
    let rows = procedure
        .instruments
        .iter()
        .map(|wanted| instrument(kit, header, wanted))
        .collect_view();
    Some(view! {
        <fieldset>
            <legend>{words::INSTRUMENTS}</legend>
            <div class="fields">{rows}</div>
        </fieldset>
    })
}

/// The instrument in one role: one of the kit by a tap, or any other by name.
fn instrument(
    kit: StoredValue<Vec<KitInstrument>>,
    header: RwSignal<Header>,
    wanted: &Instrument,
) -> impl IntoView + use<> {
    let role = StoredValue::new(wanted.role.clone());
    let id = format!("instrument-{}", wanted.role);
    let value = move || {
        header.with(|header| {
            let used = role.with_value(|role| header.used_as(role));
            used.map(|used| used.name.clone()).unwrap_or_default()
        })
    };
    let take = move |name: String| {
        let is_it = |one: &&KitInstrument| one.name == name.trim();
        let record = kit.with_value(|kit| kit.iter().find(is_it).cloned());
        let role = role.get_value();
        header.update(|header| header.use_instrument(UsedInstrument { role, name, record }));
    };
    let fitting: Vec<String> = kit.with_value(|kit| {
        let fits = kit.iter().filter(|i| i.role == wanted.role.as_str());
        fits.map(|i| i.name.clone()).collect()
    });
    let taps = fitting
        .into_iter()
        .map(|name| {
            let this = name.clone();
            let pressed = move || (value() == this).to_string();
            let chosen = name.clone();
            view! {
                <button type="button" class="chip" aria-pressed=pressed on:click=move |_| take(chosen.clone())>
                    {name}
                </button>
            }
        })
        .collect_view();
    // What a job was begun with stays, unless the kit's newer figures are taken.
    let renewed = Memo::new(move |_| {
        header.with(|header| {
            let used = role.with_value(|role| header.used_as(role))?;
            let now = kit.with_value(|kit| kit.iter().find(|i| i.name == used.name).cloned())?;
            (used.record.as_ref() != Some(&now)).then_some(now.name)
        })
    });
    let renew = move || {
        renewed.get().map(|name| {
            view! {
                <p class="hint">{words::KIT_DIFFERS}</p>
                <button type="button" on:click=move |_| take(name.clone())>{words::TAKE_KIT}</button>
            }
        })
    };
    view! {
        <div class="field">
            <label for=id.clone()>{capitalised(wanted.role.as_str())}</label>
            <span class="hint">{wanted.needs.clone()}</span>
            <div class="row">{taps}</div>
            {renew}
            <input id=id type="text" autocomplete="off" prop:value=move || field_text(value())
                on:input=move |e| take(event_target_value(&e))/>
        </div>
    }
}

/// How readings near a limit are judged.
fn rule(bench: Bench, header: RwSignal<Header>) -> impl IntoView {
    let option = move |rule: Rule, name: &'static str| {
        let this = rule.clone();
        let chosen = move || header.with(|header| header.rule == this);
        let sentence = rule.sentence();
        let said = move || sentence.typeset(bench.sign());
        view! {
            <label class="offer">
                <input type="radio" name="rule" prop:checked=chosen
                    on:change=move |_| header.update(|header| header.rule = rule.clone())/>
                <span><strong>{name}</strong><span class="hint">{said}</span></span>
            </label>
        }
    };
    view! {
        <fieldset>
            <legend>{words::RULES}</legend>
            {option(Rule::SimpleAcceptance, words::SIMPLE)}
            {option(Rule::guard_band(), words::GUARD_BAND)}
            {option(Rule::FourWay, words::FOUR_WAY)}
        </fieldset>
    }
}

/// What the chosen instruments can't prove, before it is too late to fetch others.
fn check(bench: Bench, header: RwSignal<Header>, procedure: Procedure) -> impl IntoView {
    let lines = Memo::new(move |_| header.with(|header| kit_check(&procedure, header)));
    let is_weak = |line: &KitLine| !matches!(&line.ability, Ok(proof) if matches!(proof.ability, Ability::Comfortable | Ability::OneSided));
    let said = move || {
        lines.with(|lines| {
            let weak = lines.iter().filter(|line| is_weak(line)).count();
            words::kit_check(lines.len() - weak, lines.len())
        })
    };
    let rows = move || {
        let sign = bench.sign();
        lines.with(|lines| {
            lines
                .iter()
                .filter(|line| is_weak(line))
                .map(|line| {
                    let target = line.tolerance.typeset(sign);
                    let unit = line.tolerance.unit().of_difference();
                    let (finding, needed) = match &line.ability {
                        Ok(proof) => (
                            proof.ability.words().to_owned(),
                            proof
                                .accuracy_needed
                                .map(|needed| accuracy_needed(needed, unit, sign)),
                        ),
                        Err(reason) => (reason.to_string(), None),
                    };
                    view! {
                        <li>
                            <strong>{words::step(line.number, &line.title)}</strong>
                            <span class="hint">{target}</span>
                            <span>{words::finding(&finding, needed.as_deref())}</span>
                        </li>
                    }
                })
                .collect_view()
        })
    };
    view! {
        <details class="kit-check" hidden=move || lines.with(Vec::is_empty)>
            <summary>{said}</summary>
            <ul class="plain-list">{rows}</ul>
        </details>
    }
}

fn accuracy_needed(needed: f64, unit: Unit, sign: DecimalSign) -> String {
    Output::amount("", needed, unit).typeset(2, sign)
}
