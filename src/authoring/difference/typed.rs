//! The lines of a step as it is typed, for a draft of which something can't be read yet.

use crate::authoring::difference::step::{Lines, TARGET, known_beside};
use crate::authoring::draft::{Draft, DraftRepeat, DraftStep, DraftTarget};
use crate::authoring::{Kind, TargetKind};
use crate::procedure::Id;

pub(super) fn lines_of(draft: &Draft, step: &DraftStep) -> Lines {
    let kind = step.kind;
    let where_it = |holds: bool, text: &str| match holds {
        true => text.trim().to_owned(),
        false => String::new(),
    };
    vec![
        ("Title", step.title.trim().to_owned()),
        ("Kind", kind.name().to_lowercase()),
        (
            "To be confirmed",
            where_it(kind == Kind::Stop, &step.confirm),
        ),
        (
            "How long it holds",
            where_it(kind == Kind::Stop, step.holds.name()),
        ),
        (
            "Confirmed",
            where_it(kind == Kind::Stop, step.confirmed_by.name()),
        ),
        (
            "Repeats",
            where_it(kind == Kind::Repeat, &repeats(draft, &step.repeat)),
        ),
        ("Adjuster", where_it(kind.turns(), &step.adjuster)),
        ("Test point", where_it(step.reads(), &step.at)),
        (
            "Instrument",
            where_it(step.reads() || kind == Kind::Socket, &step.with),
        ),
        ("Unit", where_it(step.reads(), &step.scale.symbol())),
        (TARGET, where_it(step.reads(), &target(draft, &step.target))),
        ("Basis of the limit", known_beside(step.known, &step.source)),
        ("Set-up", set_up(step)),
        ("Text", step.text.trim().to_owned()),
        ("Cautions", on_one_line(&step.cautions, " / ")),
        ("Wait", step.wait.trim().to_owned()),
    ]
}

fn target(draft: &Draft, target: &DraftTarget) -> String {
    let [value, high, margin, below] =
        [&target.value, &target.high, &target.margin, &target.below].map(|text| text.trim());
    let other = target.other.as_ref().and_then(|id| draft.number_of(id));
    let of = match target.kind {
        TargetKind::None => return String::new(),
        TargetKind::Around => value.to_owned(),
        TargetKind::AtLeast => format!("at least {value}"),
        TargetKind::AtMost => format!("at most {value}"),
        TargetKind::Between => format!("{value} to {high}"),
        TargetKind::Relative => {
            let other = other.map_or(String::new(), |number| number.to_string());
            format!("{value} from the reading of step {other}")
        }
        TargetKind::Oscillator => format!("{} by the plan", target.oscillator),
        TargetKind::Channel => "the channel".to_owned(),
        TargetKind::Limit => {
            let by = other.map_or(String::new(), |step| {
                format!(" by the power of step {step}")
            });
            format!("{}, {}{by}", target.set, target.limit)
        }
    };
    match (target.kind.has_margin(), below.is_empty()) {
        (false, _) => of,
        (true, true) => format!("{of} ± {margin}"),
        (true, false) => format!("{of} + {margin} − {below}"),
    }
}

fn repeats(draft: &Draft, repeat: &DraftRepeat) -> String {
    let number = |id: &Option<Id>| {
        let number = id.as_ref().and_then(|id| draft.number_of(id));
        number.map_or(String::new(), |number| number.to_string())
    };
    let parts = [
        &number(&repeat.from),
        &number(&repeat.to),
        repeat.until.name(),
        repeat.change.trim(),
        repeat.passes.trim(),
    ];
    let stated: Vec<&str> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    stated.join(", ")
}

fn set_up(step: &DraftStep) -> String {
    let state = step
        .signal
        .map_or(String::new(), |signal| signal.to_string());
    let settings = step
        .settings
        .iter()
        .filter(|(_, text)| !text.trim().is_empty());
    let settings = settings.map(|(setting, text)| format!("{} {}", setting.name(), text.trim()));
    let settings = settings.collect::<Vec<_>>().join(", ");
    let controls = on_one_line(&step.controls, ", ");
    let parts = [
        step.mode.trim(),
        step.channel.trim(),
        &state,
        step.supply.trim(),
        &settings,
        &controls,
    ];
    let stated: Vec<&str> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    stated.join(", ")
}

fn on_one_line(text: &str, between: &str) -> String {
    let lines = text.lines().map(str::trim).filter(|line| !line.is_empty());
    lines.collect::<Vec<_>>().join(between)
}
