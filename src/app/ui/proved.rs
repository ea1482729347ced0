//! What the reading that a step stands by proves.

use crate::app::ui::{TermKey, Wide, capitalised};
use crate::app::words::shared;
use crate::app::words::shell::parts as words;
use crate::app::words::work::terms::Term;
use crate::job::{Group, Proof};
use crate::metrology::decision::Rule;
use crate::metrology::uncertainty::Line;
use crate::quantity::sum::Output;
use crate::quantity::{DecimalSign, Unit};
use leptos::prelude::*;

/// Repeats, uncertainty and the rule's statement, with the budget to unfold.
#[component]
pub fn Proved(
    /// What the step stands by.
    left: Group,
    /// The job's rule.
    rule: Rule,
    /// The decimal sign in use.
    sign: DecimalSign,
) -> impl IntoView {
    let unit = left.value.unit().of_difference();
    let repeats = left.repeats.as_ref().map(|repeats| {
        let spread = Output::amount("", repeats.deviation, unit).typeset(2, sign);
        let text = words::mean(repeats.count, &left.value.typeset(sign), &spread);
        view! { <p>{text}</p> }
    });
    let decides = left.verdict.as_ref().filter(|_| left.judged != left.value);
    let decides = decides.map(|verdict| {
        let margin = verdict.margin_words(sign);
        let text = words::one_decides(&left.judged.typeset(sign), &margin);
        view! { <p><strong>{text}</strong></p> }
    });
    let proof = match left.proof {
        Ok(proof) => Some(proved(&proof, &rule, unit, sign).into_any()),
        Err(_) if left.verdict.is_none() => None,
        Err(reason) => Some(view! { <p class="hint">{shared::sentence(reason)}</p> }.into_any()),
    };
    view! { <section class="proved">{repeats}{decides}{proof}</section> }
}

fn proved(proof: &Proof, rule: &Rule, unit: Unit, sign: DecimalSign) -> impl IntoView + use<> {
    let coverage = Output::plain("", proof.budget.coverage).typeset(3, sign);
    let expanded = words::expanded(&proof.expanded.typeset(sign), &coverage);
    let likely = proof
        .probability
        .map(|p| words::likely(&likelihood(p, sign)));
    let rows = proof
        .budget
        .lines
        .iter()
        .map(|line| budget_row(line, unit, sign))
        .collect_view();
    view! {
        <p>
            <span><strong>{capitalised(&proof.words())}</strong>{expanded}{likely}</span>
            <TermKey term=Term::Conformity/>
            <TermKey term=Term::Uncertainty/>
        </p>
        <details>
            <summary>{words::WHERE_FROM}</summary>
            <Wide name=words::WHERE_FROM>
                <table class="budget">
                    <thead>
                        <tr>
                            <th scope="col">{words::FROM}</th>
                            <th scope="col">{words::STATED}</th>
                            <th scope="col">{words::DIVISOR}</th>
                            <th scope="col">{words::STANDARD}</th>
                            <th scope="col">{words::SHARE}</th>
                        </tr>
                    </thead>
                    <tbody>{rows}</tbody>
                </table>
            </Wide>
            <p class="hint">{rule.sentence().typeset(sign)}</p>
        </details>
    }
}

fn budget_row(line: &Line, unit: Unit, sign: DecimalSign) -> impl IntoView + use<> {
    let amount = |value: f64| Output::amount("", value, unit).typeset(2, sign);
    let evaluation = line.contribution.evaluation;
    view! {
        <tr>
            <th scope="row">{line.contribution.name.clone()}</th>
            <td>{amount(evaluation.stated())}</td>
            <td>{Output::plain("", evaluation.divisor()).typeset(3, sign)}</td>
            <td>{amount(line.effect)}</td>
            <td>{percent(line.share, sign)}</td>
        </tr>
    }
}

/// A probability in percent; near certainty is not rounded up to it.
fn likelihood(probability: f64, sign: DecimalSign) -> String {
    match probability > 0.9995 {
        true => words::over(&percent(0.999, sign)),
        false => percent(probability, sign),
    }
}

fn percent(share: f64, sign: DecimalSign) -> String {
    format!("{:.1} %", share * 100.0).replace('.', sign.symbol())
}
