//! What pictures of results are labelled with, and what a screen reader says of them.

use crate::app::words::spelling::spelt;

pub const START: &str = "start";
pub const HIGHEST: &str = "max";
pub const LEAST: &str = "min";
pub const LOAD: &str = "load";
pub const FORWARD: &str = "forward";

/// A change or a level in decibels.
pub fn decibels(figure: &str) -> String {
    format!("{figure}\u{a0}dB")
}

/// A share.
pub fn percent(figure: &str) -> String {
    format!("{figure}\u{a0}%")
}

/// A figure with its name.
pub fn named(name: &str, figure: &str) -> String {
    format!("{name} {figure}")
}

/// The levels along a chain.
pub fn level_chain(levels: &[String]) -> String {
    format!("Level chain: {}", levels.join(", then "))
}

/// The parts of an uncertainty.
pub fn shares(shares: &[String]) -> String {
    format!("Shares of the uncertainty: {}", shares.join(", "))
}

/// A value with its uncertainty.
pub fn value(value: &str, expanded: &str) -> String {
    format!("{value} ±\u{a0}{expanded}")
}

/// The same with what it is compared with.
pub fn zone(
    value: &str,
    low: Option<String>,
    high: Option<String>,
    guard: Option<String>,
) -> String {
    let part = |name: &str, figure: Option<String>| {
        figure.map_or_else(String::new, |figure| format!(", {name} {figure}"))
    };
    let low = part("lower limit", low);
    let high = part("upper limit", high);
    let guard = part("guard band", guard);
    format!("{value}{low}{high}{guard}")
}

/// Temperatures from the junction outward.
pub fn temperatures(places: &[String]) -> String {
    format!("Temperatures: {}", places.join(", "))
}

/// The bands of a resistor.
pub fn bands(names: &[&str]) -> String {
    spelt(&format!("Colour bands: {}", names.join(", ")))
}

/// A modulated carrier.
pub fn envelope(depth: &str) -> String {
    format!("Envelope of a carrier modulated {depth}")
}

/// Lines of a spectrum.
pub fn spectrum(lines: &[String]) -> String {
    format!("Spectrum: {}", lines.join(", "))
}

/// A standing wave.
pub fn standing_wave(back: &str) -> String {
    format!("A line with a standing wave: of the forward power {back} comes back from the load")
}

/// The power that comes back.
pub fn back(power: &str) -> String {
    format!("back {power}")
}

/// A capacitor that is discharged.
pub fn discharge(from: &str, to: &str, time: &str) -> String {
    format!("The voltage falls from {from} to {to} in {time}")
}
