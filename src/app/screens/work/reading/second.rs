//! A second opinion: the same thing by another route.

use crate::app::screens::work::step::At;
use crate::app::ui::TermKey;
use crate::app::ui::field_text;
use crate::app::words::shared;
use crate::app::words::work::reading as words;
use crate::app::words::work::terms::Term;
use crate::job::Deed;
use crate::job::guidance::advice::{Opinion, SecondOpinion};
use crate::metrology::inference::agreement::Agreement;
use crate::procedure::CrossCheck;
use crate::quantity::{DecimalSign, read};
use leptos::prelude::*;

/// The second route of a step, where it has one: what to do, the entry, and what it says.
pub fn second_route(at: At) -> impl IntoView {
    let check = at.step.with_value(|step| step.cross_check.clone());
    check.map(|check| {
        let said = move || {
            let opinion = at
                .standing
                .with(|s| s.as_ref()?.cross.as_ref()?.opinion.clone())?;
            Some(opinion_line(&opinion, at.bench.sign()))
        };
        view! {
            <section class="second">
                <h2>{words::SECOND_ROUTE}<TermKey term=Term::CrossCheck/></h2>
                <p>{check.text.clone()}</p>
                <Show when=move || at.is_open()>{entry(at, check.clone())}</Show>
                {said}
            </section>
        }
    })
}

fn entry(at: At, check: CrossCheck) -> impl IntoView {
    let text = RwSignal::new(String::new());
    let error = RwSignal::new(None::<String>);
    let scale = check.gauge.scale;
    let label = words::by_another_route(check.gauge.at.as_str(), check.gauge.with.as_str());
    let enter = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let sign = at.bench.preferences.with_untracked(|p| p.decimal_sign);
        match read(&text.get_untracked(), scale, sign) {
            Ok(value) => {
                error.set(None);
                if at.record(|step| Deed::CrossRead { step, value }) {
                    text.set(String::new());
                }
            }
            Err(why) => error.set(Some(shared::sentence(why))),
        }
    };
    view! {
        <form class="second-entry" on:submit=enter>
            <label for="second-reading">{label}</label>
            <div class="second-line">
                <input id="second-reading" type="text" inputmode="decimal" autocomplete="off"
                    aria-invalid=move || error.with(Option::is_some).to_string() aria-describedby="second-error"
                    prop:value=move || field_text(text.get()) on:input=move |e| text.set(event_target_value(&e))/>
                <span class="unit">{scale.symbol()}</span>
                <button type="submit">{words::COMPARE}</button>
            </div>
            <p id="second-error" class="error" role="alert">{move || error.get()}</p>
        </form>
    }
}

fn opinion_line(opinion: &SecondOpinion, sign: DecimalSign) -> impl IntoView + use<> {
    let figure = opinion.figure.typeset(sign);
    let apart = opinion
        .difference
        .as_ref()
        .map(|difference| difference.typeset(sign));
    let normalised = |error: f64, within| {
        let figure = format!("{error:.2}").replace('-', "\u{2212}");
        words::normalised_error(&figure.replace('.', sign.symbol()), within)
    };
    let (word, rest) = match &opinion.opinion {
        Opinion::Judged(error, Agreement::Agree) => (words::AGREE, normalised(*error, true)),
        Opinion::Judged(error, Agreement::Disagree) => (words::DISAGREE, normalised(*error, false)),
        Opinion::Plausible(verdict) if verdict.is_inside() => (words::PLAUSIBLE, String::new()),
        Opinion::Plausible(_) => (words::NOT_PLAUSIBLE, String::new()),
        Opinion::SameInstrument => (words::COMPARE_YOURSELF, words::SAME_INSTRUMENT.to_owned()),
        Opinion::Unjudged => (
            words::COMPARE_YOURSELF,
            words::UNCERTAINTY_UNKNOWN.to_owned(),
        ),
    };
    let said = words::by_this_route(&figure, apart.as_deref(), &rest);
    view! {
        <p class="aim" role="status"><strong>{word}</strong>{said}</p>
    }
}
