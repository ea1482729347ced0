//! The kit: the instruments on the shelf, what their makers promise, and what is known to be off.

mod due;
mod fields;
mod typed;

use self::fields::{Wrong, further, loss, plate, ranges, time_base};
use self::typed::{Misread, NAME, Typed, TypedRange};
use crate::app::platform::device;
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::kept::KeptForm;
use crate::app::shell::open_step::WayBack;
use crate::app::shell::route::Route;
use crate::app::ui::counts;
use crate::app::ui::fields::form::focus_soon;
use crate::app::words::device::kit as words;
use crate::app::words::shared;
use crate::job::{self, Counts, Header, Present, Progress, UsedInstrument};
use crate::metrology::date::Date;
use crate::metrology::instrument::{Correction, Instrument};
use crate::procedure::{Gauge, Id, Procedure};
use crate::quantity::{DecimalSign, Number, Quantity, Scale, Unit};
use leptos::prelude::*;

/// All instruments.
pub fn list() -> impl IntoView {
    let bench = use_bench();
    move || {
        let kit = bench.kit();
        let none = kit.is_empty();
        let has_due = kit.iter().any(|instrument| instrument.due.is_some());
        let cards = kit.into_iter().map(|instrument| card(bench, &instrument));
        view! {
            <section class="page">
                <div class="title-row">
                    <h1>{words::TITLE}</h1>
                    <a class="button main" href=Route::Instrument(None).address()>{words::ADD}</a>
                </div>
                <p class="lead">{words::LEAD}</p>
                {has_due.then(|| view! { <p class="hint">{words::STRIP_KEY}</p> })}
                <ul class="cards">{cards.collect_view()}</ul>
                {none.then(|| view! { <p>{words::NONE}</p> })}
            </section>
        }
    }
}

fn card(bench: Bench, instrument: &Instrument) -> impl IntoView + use<> {
    let sign = bench.sign();
    let today: Option<Date> = device::iso_date().parse().ok();
    let overdue = today.is_some_and(|today| instrument.is_overdue(today));
    let due = instrument
        .due
        .map(|due| words::calibration(&device::day(due), overdue));
    let strip = today.zip(instrument.due);
    let strip = strip.map(|(today, due)| due::strip(today, due));
    let ranges = instrument.ranges.len();
    let ppm = instrument
        .corrections
        .iter()
        .find_map(|c| ppm_words(c, sign));
    view! {
        <li>
            <a class="card" href=Route::Instrument(Some(instrument.name.clone())).address()>
                <strong>{instrument.name.clone()}</strong>
                <span>{instrument.role.clone()}</span>
                <span class="hint">{words::ranges(ranges)}</span>
                <span class=if overdue { "card-state" } else { "hint" }>{due}</span>
                {strip}
                <span class="hint">{ppm}</span>
            </a>
        </li>
    }
}

/// A time base's error in words.
fn ppm_words(correction: &Correction, sign: DecimalSign) -> Option<String> {
    let ppm = correction.ppm()?;
    let number = Number::from_decimal(ppm.round(4).normalized());
    let text = Quantity::new(number, Scale::plain(Unit::PartsPerMillion)).typeset(sign);
    Some(words::time_base(&text))
}

/// One instrument, to be changed or added.
pub fn one(name: Option<String>) -> impl IntoView {
    let bench = use_bench();
    let known = name.as_ref().and_then(|name| of_kit(bench, name));
    let old_name = known.as_ref().map(|known| known.name.clone());
    let end = move |new: Option<Instrument>, old: Option<String>| {
        let said = match new {
            Some(new) => words::on_the_shelf(&new.name),
            None => words::off_the_shelf(&old.unwrap_or_default()),
        };
        bench.go_and_say_when_kept(&Route::Kit, said);
    };
    let way_back = view! { <a href=Route::Kit.address()>{words::ALL_INSTRUMENTS}</a> };
    form(Form {
        title: name.clone().unwrap_or_else(|| words::ADD.to_owned()),
        first: ().into_any(),
        draft: draft_place(name.as_deref().unwrap_or_default()),
        start: known.map_or_else(Typed::default, |known| Typed::of(&known, bench.sign_now())),
        old_name,
        way_back: way_back.into_any(),
        leave_to: Route::Kit,
        end: Callback::new(move |(new, old)| end(new, old)),
    })
}

/// An instrument of the kit that a step could be read with too.
struct Other {
    instrument: Instrument,
    /// Why it does not fit, where it doesn't.
    why: Vec<String>,
}

/// All of the kit but the one in use, those that fit first, each with why it doesn't.
fn others(bench: Bench, gauge: &Gauge, in_use: Option<&Instrument>) -> Vec<Other> {
    let kit = untrack(|| bench.kit()).into_iter();
    let others = kit.filter(|one| Some(one) != in_use).map(|instrument| {
        let is_for = instrument.role == gauge.with.as_str();
        let role = (!is_for).then(|| words::is_for(&instrument.role));
        let reads = job::unit_read(gauge, &instrument).is_some();
        let range = instrument.reads(gauge.scale.unit).err();
        let range = range.filter(|_| !reads);
        let range = range.map(shared::sentence);
        let why = role.into_iter().chain(range).collect();
        Other { instrument, why }
    });
    let mut others: Vec<Other> = others.collect();
    others.sort_by_key(|other| other.why.len());
    others
}

/// Those, to be put to use as they are.
fn others_view(others: Vec<Other>, take: Callback<Instrument>) -> Option<impl IntoView> {
    let is_any = !others.is_empty();
    let rows = others.into_iter().map(move |Other { instrument, why }| {
        let name = instrument.name.clone();
        let why = match why.is_empty() {
            true => words::FITS.to_owned(),
            false => why.join(" "),
        };
        view! {
            <li class="removable">
                <span><strong>{name.clone()}</strong>" "<span class="hint">{why}</span></span>
                <button type="button" aria-label=words::use_named(&name)
                    on:click=move |_| take.run(instrument.clone())>{words::USE}</button>
            </li>
        }
    });
    is_any.then(|| {
        view! {
            <h2>{words::OF_THE_KIT}</h2>
            <ul class="plain-list">{rows.collect_view()}</ul>
            <h2>{words::OR_DESCRIBE}</h2>
        }
    })
}

/// The instrument that a step is read with, to be chosen or described from there and put to use at
/// once.
pub fn for_step(job: Id, step: Id) -> Option<impl IntoView> {
    let bench = use_bench();
    let course = bench.course()?;
    let gauge = course.procedure.step(&step)?.work.gauge().cloned()?;
    let used = bench
        .progress
        .with_untracked(|progress| progress.as_ref()?.header.used_as(&gauge.with).cloned());
    let name = used.as_ref().map(|used| used.name.clone());
    let on_shelf = name.as_ref().and_then(|name| of_kit(bench, name));
    let old_name = on_shelf.as_ref().map(|known| known.name.clone());
    let known = on_shelf
        .clone()
        .or_else(|| used.and_then(|used| used.record));
    let start = match known {
        Some(known) => Typed::of(&known, bench.sign_now()),
        None => Typed {
            role: gauge.with.to_string(),
            name: name.unwrap_or_default(),
            ranges: vec![TypedRange::blank(gauge.scale.unit)],
            ..Typed::default()
        },
    };
    let back = Route::Step {
        job,
        step: Some(step),
    };
    let (role, to_step) = (gauge.with.clone(), back.clone());
    let in_kit = others(bench, &gauge, on_shelf.as_ref());
    let present = StoredValue::new(bench.present(&gauge.with));
    let chosen = RwSignal::new(None);
    let end = move |new: Option<Instrument>| {
        let Some(new) = new else {
            return bench.go(&to_step);
        };
        let name = new.name.clone();
        if bench.use_instrument(&role, new, chosen.get_untracked()) {
            let said = words::in_use(&name, role.as_str());
            bench.go_and_say_when_kept(&to_step, said);
        }
    };
    let end = Callback::new(end);
    Some(form(Form {
        first: view! {
            {counts(move || (present.get_value(), Header::default()), chosen)}
            {others_view(in_kit, Callback::new(move |it| end.run(Some(it))))}
        }
        .into_any(),
        title: words::with_which(gauge.with.as_str()),
        draft: draft_for_role(&gauge.with),
        start,
        old_name,
        way_back: WayBack().into_any(),
        leave_to: back,
        end: Callback::new(move |(new, _)| end.run(new)),
    }))
}

impl Bench {
    /// Takes an instrument of the kit into a role of the job in hand, for what was chosen or, where
    /// nothing was, for what is usually meant.
    pub fn use_instrument(self, role: &Id, instrument: Instrument, counts: Option<Counts>) -> bool {
        let header = self.progress.with_untracked(|progress| {
            let mut header = progress.as_ref()?.header.clone();
            header.use_instrument(UsedInstrument {
                role: role.clone(),
                name: instrument.name.clone(),
                record: Some(instrument),
            });
            Some(header)
        });
        header.is_some_and(|header| self.amend(header, counts))
    }

    /// Puts another header in force. Nothing is written where it is already.
    pub fn amend(self, header: Header, counts: Option<Counts>) -> bool {
        let deeds = self.with_both(|procedure, progress| {
            let usual = || Counts::usual(&progress.replaced(procedure, &header), &header);
            let counts = counts.unwrap_or_else(usual);
            progress.amended(procedure, header.clone(), counts)
        });
        deeds.is_some_and(|deeds| deeds.is_empty() || self.record_all(deeds))
    }

    /// What plays a role of the job in hand now, if something was read with it.
    fn present(self, role: &Id) -> Vec<Present> {
        let present = self.with_both(|procedure, progress| progress.present(procedure, role));
        present.flatten().into_iter().collect()
    }

    /// Something of the procedure and the progress of the job in hand.
    fn with_both<T>(self, of: impl FnOnce(&Procedure, &Progress) -> T) -> Option<T> {
        self.progress.with_untracked(|progress| {
            let progress = progress.as_ref()?;
            Some(of(&progress.course.procedure, progress))
        })
    }
}

fn of_kit(bench: Bench, name: &str) -> Option<Instrument> {
    let kit = untrack(|| bench.kit());
    kit.into_iter().find(|one| one.name == name)
}

/// What a form for an instrument begins and ends with.
struct Form {
    title: String,
    /// What stands above it.
    first: AnyView,
    /// Where what is typed and not kept yet stands in the store.
    draft: String,
    start: Typed,
    /// The name that the instrument has in the kit, if it is there.
    old_name: Option<String>,
    way_back: AnyView,
    leave_to: Route,
    /// Called with the instrument, or none that was taken off the shelf, and its old name.
    end: Callback<(Option<Instrument>, Option<String>)>,
}

fn form(form: Form) -> impl IntoView {
    let bench = use_bench();
    let sign = bench.sign_now();
    let Form { end, leave_to, .. } = form;
    let kept = KeptForm::of(bench, form.draft, form.start);
    let typed = kept.typed;
    let old_name = StoredValue::new(form.old_name);
    let wrong = RwSignal::new(None);
    provide_context(Wrong(wrong));
    // It is said at its field, and the focus goes there.
    let refuse = move |misread: Misread| {
        focus_soon(misread.field.clone());
        wrong.set(Some(misread));
    };
    let put = move |new: Option<Instrument>| match save(bench, old_name.get_value(), new.clone()) {
        Ok(true) => {
            kept.forget();
            end.run((new, old_name.get_value()));
        }
        Ok(false) => {}
        Err(misread) => refuse(misread),
    };
    let keep = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        match typed.with_untracked(|typed| typed.read(sign)) {
            Ok(instrument) => put(Some(instrument)),
            Err(misread) => refuse(misread),
        }
    };
    let remove = move |_| put(None);
    let leave = move |_| {
        kept.forget();
        bench.go(&leave_to);
    };
    view! {
        <section class="page">
            <p class="crumbs">{form.way_back}</p>
            <h1>{form.title}</h1>
            {form.first}
            <form on:submit=keep>
                {plate(typed)}
                {ranges(typed)}
                {further(typed)}
                {loss(typed)}
                {time_base(typed, sign)}
                <div class="row">
                    <button type="submit" class="main large">{shared::KEEP}</button>
                    <button type="button" class="plain" on:click=leave>{words::LEAVE}</button>
                    {old_name.with_value(Option::is_some).then(|| view! {
                        <button type="button" class="plain" on:click=remove>{words::REMOVE}</button>
                    })}
                </div>
            </form>
        </section>
    }
}

fn draft_for_role(role: &Id) -> String {
    format!("kit-role:{role}")
}

fn draft_place(name: &str) -> String {
    let short: String = name.trim().chars().take(50).collect();
    format!("kit:instrument-{short}").trim().to_owned()
}

/// Puts an instrument in the place of the old one; none takes that away. Whether it is stored.
fn save(bench: Bench, old: Option<String>, new: Option<Instrument>) -> Result<bool, Misread> {
    let mut kit = untrack(|| bench.kit());
    let renamed = new.as_ref().map(|i| &i.name) != old.as_ref();
    let clash = new
        .as_ref()
        .is_some_and(|new| renamed && kit.iter().any(|other| other.name == new.name));
    if clash {
        return Err(Misread::of(NAME, words::NAME_TAKEN));
    }
    let place = kit
        .iter()
        .position(|other| Some(&other.name) == old.as_ref());
    match (place, new) {
        (Some(index), Some(new)) => kit[index] = new,
        (Some(index), None) => {
            kit.remove(index);
        }
        (None, Some(new)) => kit.push(new),
        (None, None) => {}
    }
    Ok(bench.with_store(|store| store.save_kit(&kit)).is_some())
}
