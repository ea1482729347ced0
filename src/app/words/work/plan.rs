//! The frequency plan of a job.

pub const LEAD: &str = "What the oscillators were left at, and what they add up to on the air.";
pub const NONE: &str =
    "This procedure has no frequency plan, or no step that reads one of its oscillators.";
pub const OSCILLATORS: &str = "Oscillators";
pub const OSCILLATOR: &str = "Oscillator";
pub const TARGET: &str = "Target";
pub const LEFT_AT: &str = "As left";
pub const OFF_BY: &str = "Error";
pub const STEP: &str = "Step";

/// A channel of the plan.
pub fn channel(name: &str, frequency: &str) -> String {
    format!("Channel {name}, {frequency}")
}

/// How far the modes are apart.
pub fn spread(difference: &str) -> String {
    format!("The modes agree within {difference}.")
}

/// What else the receiver hears.
pub fn responses(intermediate: &str, image: &str, half_if: &str) -> String {
    format!("IF {intermediate}; image at {image}; half-IF response at {half_if}.")
}

/// An oscillator in the picture of a sum, with its frequency as left or, before that, as it should
/// be.
pub fn part(name: &str, factor: i32, frequency: &str, is_left: bool) -> String {
    let factor = match factor {
        1 => String::new(),
        factor => format!("{factor} × ").replace('-', "\u{2212}"),
    };
    let due = if is_left { "" } else { " (due)" };
    format!("{factor}{name} {frequency}{due}")
}

/// The picture of a sum in words.
pub fn sum(mode: &str, parts: &[String], channel: &str, error: Option<&str>) -> String {
    let error = error.map_or(String::new(), |error| format!(", error {error}"));
    format!("{mode}: {} against {channel}{error}", parts.join(" + "))
}

/// How far a sum misses the channel, beside its picture.
pub fn misses(error: &str) -> String {
    format!("Error {error}")
}

/// How often an oscillator counts in the sum.
pub fn factor(factor: &str) -> String {
    format!(" × {factor}")
}

/// The step that reads an oscillator, and how it stands.
pub fn step(number: usize, state: &str) -> String {
    format!("{number}, {state}")
}

/// Follows the name of an oscillator.
pub fn adjuster(name: &str) -> String {
    format!(" ({name})")
}

/// A relative error.
pub fn ppm(figure: &str) -> String {
    format!("{figure}\u{a0}ppm")
}

/// What the readings add up to. The uncertainty is a sentence, or nothing.
pub fn predicted(frequency: &str, error: &str, ppm: &str, uncertainty: &str) -> String {
    format!("Calculated carrier {frequency}, error {error} ({ppm}). {uncertainty}")
}

/// What was read on the air. The uncertainty is a sentence, or nothing.
pub fn measured(
    step: usize,
    frequency: &str,
    error: &str,
    ppm: &str,
    uncertainty: Option<String>,
) -> String {
    let uncertainty = uncertainty.map_or(String::new(), |text| format!(" {text}"));
    format!("Measured carrier, step {step}: {frequency}, error {error} ({ppm}).{uncertainty}")
}

/// Where the last oscillator puts the sum right; with a warning where it must not go there.
pub fn last(oscillator: &str, target: &str, outside: bool) -> String {
    let warning = match outside {
        true => " That lies outside its own tolerance: look at the others first.",
        false => "",
    };
    format!(
        "With the others as they are, {oscillator} at {target} puts the carrier on the channel.{warning}"
    )
}
