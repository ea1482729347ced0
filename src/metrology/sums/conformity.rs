//! Whether a reading is in tolerance, and where it has to lie for that.

use crate::metrology::Limits;
use crate::metrology::decision::{
    Rule, conformance_probability, guard_for, managed_guard_band, risk_beyond_a_limit,
};
use crate::metrology::sums::said::MEAN_DECIMALS;
use crate::quantity::fault::not_negative;
use crate::quantity::sum::{Given, Outcome, Output, Picture};
use crate::quantity::{Fault, Number, Phrase, to_f64};
use bigdecimal::BigDecimal;

pub(super) fn decision(given: &Given) -> Result<Outcome, Fault> {
    let rule = rule(given.choice("rule")?);
    let value = given.number("value")?;
    let expanded = given.number("expanded")?;
    not_negative("The expanded uncertainty", expanded.to_f64())?;
    let limits = limits(given)?;
    let statement = rule.state(value.decimal(), &limits, expanded.decimal());
    let (low, high) = (given.maybe("low"), given.maybe("high"));
    let mut outputs = vec![
        Output::words("Statement", statement.to_string()),
        Output::phrase("Rule", rule.sentence()),
    ];
    let standard = expanded.to_f64() / 2.0;
    if standard > 0.0 {
        let probability = conformance_probability(value.to_f64(), low, high, standard)?;
        outputs.push(Output::percent("Probability of conformance", probability));
    }
    let acceptance = rule.acceptance(&limits, expanded.decimal());
    outputs.push(Output::phrase("Acceptance limits", interval(&acceptance)));
    if let Rule::GuardBand { ratio } = &rule {
        let risk = risk_beyond_a_limit(ratio.to_f64());
        outputs.push(Output::percent(
            "Risk beyond a limit, at the acceptance limit",
            risk,
        ));
    }
    Ok(Outcome::new(outputs).with(Picture::Tolerance {
        low,
        high,
        value: value.to_f64(),
        expanded: expanded.to_f64(),
        guard: to_f64(&rule.guard(expanded.decimal())),
    }))
}

fn rule(choice: usize) -> Rule {
    match choice {
        0 => Rule::guard_band(),
        1 => Rule::GuardBand {
            ratio: Number::from_decimal(BigDecimal::new(83.into(), 2)),
        },
        2 => Rule::SimpleAcceptance,
        _ => Rule::FourWay,
    }
}

/// Limits in words; none where a guard band leaves nothing between them.
fn interval(limits: &Limits) -> Phrase {
    let number = |limit: &BigDecimal| Number::from_decimal(limit.normalized()).without_exponent();
    match (&limits.low, &limits.high) {
        (Some(low), Some(high)) if low > high => {
            Phrase::new("none: nothing is left between them", [])
        }
        (Some(low), Some(high)) => Phrase::new("{} to {}", [number(low), number(high)]),
        (Some(low), None) => Phrase::new("at least {}", [number(low)]),
        (None, Some(high)) => Phrase::new("at most {}", [number(high)]),
        (None, None) => Phrase::new("none", []),
    }
}

/// The acceptance limits under each rule.
pub(super) fn acceptance_limits(given: &Given) -> Result<Outcome, Fault> {
    let expanded = given.number("expanded")?;
    let size = not_negative("The expanded uncertainty", expanded.to_f64())?;
    let limits = limits(given)?;
    let moved = |label, by: &BigDecimal| {
        let limits = limits.moved_inward(by);
        Output::phrase(label, interval(&limits))
    };
    let by_rule = |label, rule: Rule| moved(label, &rule.guard(expanded.decimal()));
    let mut outputs = vec![
        by_rule("Simple acceptance", Rule::SimpleAcceptance),
        by_rule("Guard band w = U", rule(0)),
        by_rule("Guard band w = 0.83 U", rule(1)),
        by_rule("Four-way: pass", Rule::FourWay),
        by_rule("Four-way: conditional pass", Rule::SimpleAcceptance),
        moved("Four-way: conditional fail", &-expanded.decimal()),
    ];
    // A guard band that was worked out is rounded up to where it still matters.
    let rounded_up =
        |guard: f64| Number::from_f64(guard, MEAN_DECIMALS).map(|n| up(n.decimal(), size));
    let probability = given.share("probability")?;
    let ends = limits.to_f64();
    if size > 0.0 {
        let guard = guard_for(probability, ends, size / 2.0)?;
        outputs.push(match guard.and_then(rounded_up) {
            Some(guard) => moved("For the required probability", &guard),
            None => Output::words(
                "For the required probability",
                "none: no value conforms so surely",
            ),
        });
    }
    if let (Some(low), Some(high), true) = (ends.0, ends.1, size > 0.0) {
        let ratio = (high - low) / 2.0 / size;
        let multiple = managed_guard_band(ratio)?;
        outputs.extend(rounded_up(multiple * size).map(|guard| moved("Z540.3 Method 6", &guard)));
        outputs.push(Output::plain("Test uncertainty ratio", ratio));
        outputs.push(Output::plain("Guard band of Method 6, in U", multiple));
    }
    Ok(Outcome::new(outputs))
}

/// Rounded up to a hundredth of the uncertainty's leading place.
fn up(guard: &BigDecimal, expanded: f64) -> BigDecimal {
    let decimals = 2 - expanded.log10().floor() as i64;
    guard.with_scale_round(decimals.max(0), bigdecimal::RoundingMode::Ceiling)
}

pub(super) fn limits(given: &Given) -> Result<Limits, Fault> {
    let decimal = |id| given.number(id).ok().map(|number| number.decimal().clone());
    let limits = Limits {
        low: decimal("low"),
        high: decimal("high"),
    };
    match (&limits.low, &limits.high) {
        (None, None) => Err(Fault::TooFew {
            what: "limits",
            count: 0,
            least: 1,
        }),
        _ => Ok(limits),
    }
}
