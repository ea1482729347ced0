//! Sections and steps in their list.

use crate::authoring::DraftStep;
use crate::authoring::TargetKind;
use crate::authoring::draft::DraftTarget;
use crate::quantity::Scale;

pub const STEP_KEYS: &str = "What can be done with this step";
pub const MOVE_UP: &str = "Up";
pub const MOVE_DOWN: &str = "Down";
pub const ADD_BELOW: &str = "New step below";
pub const DUPLICATE: &str = "Duplicate";
pub const SPLIT: &str = "Split section here";
pub const REMOVE_STEP: &str = "Remove";

/// The label of a section's title.
pub fn section_label(number: usize) -> String {
    format!("Section {number}")
}

/// A section by number and title.
pub fn section_name(number: usize, title: &str) -> String {
    match title.trim() {
        "" => section_label(number),
        title => format!("Section {number}, {title}"),
    }
}

/// Moves a section up.
pub fn section_up(number: usize) -> String {
    format!("Move section {number} up")
}

/// Moves a section down.
pub fn section_down(number: usize) -> String {
    format!("Move section {number} down")
}

/// Removes a section.
pub fn section_remove(number: usize) -> String {
    format!("Remove section {number}; its steps join the section beside it")
}

/// Moves a step to another section.
pub fn to_section(number: usize, title: &str) -> String {
    match title.trim() {
        "" => format!("To section {number}"),
        title => format!("To “{title}”"),
    }
}

/// The handle of a step.
pub fn handle(number: usize, title: &str) -> String {
    format!("Move step {number}, {title}: drag it, or use the arrow keys")
}

/// The key that shows what can be done with a step.
pub fn more_of(number: usize) -> String {
    format!("More for step {number}")
}

/// A step's title, or that it has none.
pub fn step_heading(title: &str) -> String {
    match title.trim() {
        "" => "A step without a title".to_owned(),
        title => title.to_owned(),
    }
}

/// What a step does, in one line of a list.
pub fn summary(step: &DraftStep) -> String {
    let aim = aim(&step.target, step.scale);
    let parts: [&str; 4] = match (step.kind.turns(), step.reads()) {
        (true, _) => [step.kind.name(), &step.adjuster, &step.at, &aim],
        (_, true) => [step.kind.name(), &step.at, &aim, ""],
        _ => [step.kind.name(), "", "", ""],
    };
    let said = parts.into_iter().filter(|part| !part.trim().is_empty());
    said.collect::<Vec<_>>().join(" · ")
}

/// Where a step's reading must lie, as typed.
pub fn aim_of(step: &DraftStep) -> String {
    aim(&step.target, step.scale)
}

/// Where a reading must lie, as typed; a figure without a unit is in that of the reading.
fn aim(target: &DraftTarget, scale: Scale) -> String {
    let of_reading = |text: &str| with_unit(text, Some(scale));
    let value = of_reading(&target.value);
    let stated = match target.kind {
        TargetKind::None => String::new(),
        TargetKind::Around => value,
        TargetKind::AtLeast => format!("at least {value}"),
        TargetKind::AtMost => format!("at most {value}"),
        TargetKind::Between => format!("{value} to {}", of_reading(&target.high)),
        TargetKind::Relative => format!("another step’s, {}", with_unit(&target.value, None)),
        TargetKind::Oscillator => format!("{} by the plan", target.oscillator),
        TargetKind::Channel => "the channel".to_owned(),
        TargetKind::Limit => "a published limit".to_owned(),
    };
    // A bare tolerance is taken only where its unit has no prefixes to choose from.
    let difference = scale.unit.of_difference();
    let of_margin = (difference.prefixes().len() == 1).then(|| Scale::plain(difference));
    let margin = |text: &str| with_unit(text.trim().trim_start_matches('±'), of_margin);
    match (margin(&target.margin), margin(&target.below)) {
        (above, _) if above.is_empty() || !target.kind.has_margin() => stated,
        (both, below) if below.is_empty() => format!("{stated} ±\u{a0}{both}"),
        (above, below) => format!("{stated} +\u{a0}{above} \u{2212}\u{a0}{below}"),
    }
}

/// A figure as typed, with its unit where none was typed, so that the two stay on one line.
fn with_unit(typed: &str, scale: Option<Scale>) -> String {
    let typed = typed.trim();
    let is_bare = |scale: &Scale| {
        typed.ends_with(|last: char| last.is_ascii_digit()) && !typed.ends_with(&scale.symbol())
    };
    let whole = match scale.filter(is_bare) {
        Some(scale) => format!("{typed} {}", scale.symbol()),
        None => typed.to_owned(),
    };
    whole.replace(' ', "\u{a0}")
}

/// What a line of a pasted table leaves with its step as text.
pub fn kept_as_text(text: &str) -> String {
    format!(
        "In the step’s text, judges nothing: {}",
        text.trim().replace('\n', "; ")
    )
}
