//! The frequency plan of a job: what each oscillator should be, what was read, and what that
//! makes on the air.

mod bars;

use self::bars::{bar, largest_error};
use crate::app::shell::bench::use_bench;
use crate::app::shell::route::Route;
use crate::app::ui::Wide;
use crate::app::words::shared;
use crate::app::words::work::plan as words;
use crate::job::{
    ChannelView, LastTarget, Measured, ModeView, OscillatorView, Predicted, plan_view,
};
use crate::procedure::Id;
use crate::quantity::{DecimalSign, Quantity, Unit};
use leptos::prelude::*;

/// The screen.
pub fn screen() -> impl IntoView {
    let bench = use_bench();
    move || {
        let job = bench.job.get()?;
        let progress = bench.progress.get()?;
        let sign = bench.sign();
        let views = plan_view(&progress.course.procedure, &progress);
        let none = views.is_empty();
        let channels = views
            .iter()
            .map(|view| channel(&job.id, view, sign))
            .collect_view();
        Some(view! {
            <section class="page">
                <p class="crumbs">
                    <span>{shared::job(&progress.header.number, &progress.header.set.title())}</span>
                    <a href=Route::Steps(job.id.clone()).address()>{shared::ALL_STEPS}</a>
                </p>
                <h1>{shared::FREQUENCY_PLAN}</h1>
                <p class="lead">{words::LEAD}</p>
                {channels}
                {none.then(|| view! { <p>{words::NONE}</p> })}
            </section>
        })
    }
}

fn channel(job: &Id, view: &ChannelView, sign: DecimalSign) -> impl IntoView + use<> {
    let title = words::channel(&view.channel.name, &view.channel.frequency.typeset(sign));
    let spread = view.spread.as_ref().map(|spread| {
        view! { <p>{words::spread(&spread.typeset(sign))}</p> }
    });
    let largest = largest_error(&view.modes);
    let bars = view.modes.iter().filter_map(|mode| {
        let bar = bar(mode, &view.channel.frequency, largest, sign)?;
        Some(view! { <li><strong>{mode.mode.clone()}</strong>{bar}</li> })
    });
    let bars = bars.collect_view();
    let modes = view.modes.iter().map(|m| mode(job, m, sign)).collect_view();
    view! {
        <h2>{title}</h2>
        <ul class="plain-list plan-sums">{bars}</ul>
        {spread}
        {modes}
    }
}

fn mode(job: &Id, view: &ModeView, sign: DecimalSign) -> impl IntoView + use<> {
    let rows = view
        .oscillators
        .iter()
        .map(|oscillator| row(job, oscillator, sign))
        .collect_view();
    let responses = view.responses.as_ref().map(|responses| {
        let hertz = |value: &bigdecimal::BigDecimal| {
            Quantity::natural(value.clone(), Unit::Hertz).typeset(sign)
        };
        let text = words::responses(
            &hertz(&responses.intermediate),
            &hertz(&responses.image),
            &hertz(&responses.half_if),
        );
        view! { <p class="hint">{text}</p> }
    });
    view! {
        <section class="mode">
            <h3>{view.mode.clone()}</h3>
            <Wide name=words::OSCILLATORS>
                <table class="budget">
                    <thead>
                        <tr>
                            <th scope="col">{words::OSCILLATOR}</th>
                            <th scope="col">{words::TARGET}</th>
                            <th scope="col">{words::LEFT_AT}</th>
                            <th scope="col">{words::OFF_BY}</th>
                            <th scope="col">{words::STEP}</th>
                        </tr>
                    </thead>
                    <tbody>{rows}</tbody>
                </table>
            </Wide>
            {view.predicted.as_ref().map(|p| predicted(p, sign))}
            {view.measured.as_ref().map(|m| measured(m, sign))}
            {view.last.as_ref().map(|l| last(l, sign))}
            {responses}
        </section>
    }
}

fn row(job: &Id, oscillator: &OscillatorView, sign: DecimalSign) -> impl IntoView + use<> {
    let print = |quantity: &Quantity| quantity.typeset(sign);
    let target = match &oscillator.target {
        Ok(target) => print(target),
        Err(fault) => fault.to_string(),
    };
    let factor = match oscillator.factor {
        1 => String::new(),
        factor => words::factor(&factor.to_string().replace('-', "\u{2212}")),
    };
    let step = oscillator.step.as_ref().map(|step| {
        let route = Route::Step {
            job: job.clone(),
            step: Some(step.id.clone()),
        };
        view! { <a href=route.address()>{words::step(step.number, step.status.name())}</a> }
    });
    let adjuster = (!oscillator.adjuster.is_empty()).then(|| words::adjuster(&oscillator.adjuster));
    view! {
        <tr>
            <th scope="row">{oscillator.name.clone()}{factor}{adjuster}</th>
            <td>{target}</td>
            <td>{oscillator.reading.as_ref().map(print)}</td>
            <td>{oscillator.error.as_ref().map(print)}</td>
            <td>{step}</td>
        </tr>
    }
}

/// A deviation in parts per million, to two decimals.
fn ppm(value: f64, sign: DecimalSign) -> String {
    let rounded = crate::quantity::Number::from_f64(value, 2);
    rounded.map_or(String::new(), |number| words::ppm(&number.typeset(sign)))
}

fn predicted(view: &Predicted, sign: DecimalSign) -> impl IntoView + use<> {
    let uncertainty = match (&view.expanded, &view.uncertainty) {
        (Some(expanded), _) => shared::expanded(&expanded.typeset(sign)),
        (None, Err(reason)) => shared::sentence(reason),
        (None, Ok(_)) => String::new(),
    };
    let text = words::predicted(
        &view.frequency.typeset(sign),
        &view.error.typeset(sign),
        &ppm(view.ppm, sign),
        &uncertainty,
    );
    view! { <p class="aim">{text}</p> }
}

fn measured(view: &Measured, sign: DecimalSign) -> impl IntoView + use<> {
    let expanded = view.expanded.as_ref().ok();
    let text = words::measured(
        view.step.number,
        &view.frequency.typeset(sign),
        &view.error.typeset(sign),
        &ppm(view.ppm, sign),
        expanded.map(|expanded| shared::expanded(&expanded.typeset(sign))),
    );
    view! { <p class="aim">{text}</p> }
}

fn last(view: &LastTarget, sign: DecimalSign) -> impl IntoView + use<> {
    let outside = view.inside == Some(false);
    let text = words::last(&view.oscillator, &view.target.typeset(sign), outside);
    view! { <p class="aim"><strong>{text}</strong></p> }
}
