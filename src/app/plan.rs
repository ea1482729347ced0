//! The frequency plan of a job: what each oscillator should be, what was read, and what that
//! makes on the air.

use super::bench::use_bench;
use super::route::Route;
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
        let views = plan_view(&job.procedure, &progress);
        let none = views.is_empty();
        let channels = views
            .iter()
            .map(|view| channel(&job.id, view, sign))
            .collect_view();
        Some(view! {
            <section class="page">
                <p class="crumbs">
                    <span>{format!("{} · {}", progress.header.number, progress.header.set.title())}</span>
                    <a href=Route::Steps(job.id.clone()).address()>"All steps"</a>
                </p>
                <h1>"Frequency plan"</h1>
                <p class="lead">"What the oscillators were left at, and what they add up to on the air."</p>
                {channels}
                {none.then(|| view! { <p>"This procedure has no frequency plan, or no step that reads one of its oscillators."</p> })}
            </section>
        })
    }
}

fn channel(job: &Id, view: &ChannelView, sign: DecimalSign) -> impl IntoView + use<> {
    let title = format!(
        "Channel {}, {}",
        view.channel.name,
        view.channel.frequency.typeset(sign)
    );
    let spread = view.spread.as_ref().map(|spread| {
        view! { <p>{format!("The modes agree within {}.", spread.typeset(sign))}</p> }
    });
    let modes = view.modes.iter().map(|m| mode(job, m, sign)).collect_view();
    view! {
        <h2>{title}</h2>
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
        let text = format!(
            "IF {}; image at {}; half-IF response at {}.",
            hertz(&responses.intermediate),
            hertz(&responses.image),
            hertz(&responses.half_if)
        );
        view! { <p class="hint">{text}</p> }
    });
    view! {
        <section class="mode">
            <h3>{view.mode.clone()}</h3>
            <table class="budget">
                <thead>
                    <tr>
                        <th scope="col">"Oscillator"</th>
                        <th scope="col">"Target"</th>
                        <th scope="col">"Left at"</th>
                        <th scope="col">"Off by"</th>
                        <th scope="col">"Step"</th>
                    </tr>
                </thead>
                <tbody>{rows}</tbody>
            </table>
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
        factor => format!(" × {factor}").replace('-', "\u{2212}"),
    };
    let step = oscillator.step.as_ref().map(|step| {
        let route = Route::Step {
            job: job.clone(),
            step: Some(step.id.clone()),
        };
        view! { <a href=route.address()>{format!("{}, {}", step.number, step.status.name())}</a> }
    });
    let adjuster = (!oscillator.adjuster.is_empty()).then(|| format!(" ({})", oscillator.adjuster));
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
    rounded.map_or(String::new(), |number| {
        format!("{} ppm", number.typeset(sign))
    })
}

fn predicted(view: &Predicted, sign: DecimalSign) -> impl IntoView + use<> {
    let uncertainty = match (&view.expanded, &view.uncertainty) {
        (Some(expanded), _) => format!("U = {} at 95 %.", expanded.typeset(sign)),
        (None, Err(reason)) => format!("{reason}."),
        (None, Ok(_)) => String::new(),
    };
    let text = format!(
        "On the air by the sum: {}, {} off ({}). {uncertainty}",
        view.frequency.typeset(sign),
        view.error.typeset(sign),
        ppm(view.ppm, sign)
    );
    view! { <p class="aim">{text}</p> }
}

fn measured(view: &Measured, sign: DecimalSign) -> impl IntoView + use<> {
    let uncertainty = match &view.expanded {
        Ok(expanded) => format!(" U = {} at 95 %.", expanded.typeset(sign)),
        Err(_) => String::new(),
    };
    let text = format!(
        "Measured on the air in step {}: {}, {} off ({}).{uncertainty}",
        view.step.number,
        view.frequency.typeset(sign),
        view.error.typeset(sign),
        ppm(view.ppm, sign)
    );
    view! { <p class="aim">{text}</p> }
}

fn last(view: &LastTarget, sign: DecimalSign) -> impl IntoView + use<> {
    let warning = match view.inside {
        Some(false) => " That lies outside its own tolerance: look at the others first.",
        _ => "",
    };
    let text = format!(
        "With the others where they are, {} at {} lands the sum on the channel.{warning}",
        view.oscillator,
        view.target.typeset(sign)
    );
    view! { <p class="aim"><strong>{text}</strong></p> }
}
