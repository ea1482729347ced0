//! How limits, drifts and errors are known and stated.

use crate::exchange::report::text::typed;
use crate::metrology::inference::drift::Steadiness;
use crate::procedure::Basis;
use crate::radio::limits::Known;

/// How a figure is known.
pub const fn known(known: Known) -> &'static str {
    match known {
        Known::FromMemory => "from memory: unverified",
        Known::CommonPractice => "common practice, no source",
        known => known.name(),
    }
}

/// How the figures of a limit are known, where that is worth a word beside it: what was read in its
/// document says nothing.
pub const fn known_beside(known: Known) -> Option<&'static str> {
    match known {
        Known::Read => None,
        Known::ReadSecondHand => Some("limit read where it is quoted"),
        Known::FromMemory => Some("limit from memory"),
        Known::CommonPractice => Some("limit by common practice"),
        Known::WorkedOut => Some("limit worked out"),
    }
}

/// What the limit of a step rests on, as a line of its own.
pub fn limit_rests_on(basis: &str) -> String {
    format!("Basis of the limit: {basis}")
}

/// What a limit rests on, in a line.
pub fn basis(basis: &Basis) -> String {
    match (basis.known, basis.source.as_str()) {
        (known, "") => self::known(known).to_owned(),
        (Known::Read, source) => source.to_owned(),
        (Known::CommonPractice, why) => format!("{}: {why}", basis.known.name()),
        (known, source) => format!("{}: {source}", self::known(known)),
    }
}

/// How a drift was judged.
pub fn drift(steadiness: Steadiness, slope: &str, expanded: &str, limit: &str) -> String {
    let word = match steadiness {
        Steadiness::Settled => "settled",
        Steadiness::Unsure => "not sure",
        Steadiness::Drifting => "still drifting",
    };
    format!("{word}: {slope}/min, U\u{a0}=\u{a0}{expanded}/min; limit {limit}/min")
}

/// An error in hertz with its share of the channel.
pub fn error(hertz: &str, ppm: &str) -> String {
    format!("{hertz} ({ppm}\u{a0}ppm)")
}

/// An uncertainty beside an error.
pub fn with_u(expanded: &str) -> String {
    format!("U\u{a0}=\u{a0}{expanded}")
}

/// How far apart the modes are.
pub fn spread(channel: &str, hertz: &str) -> String {
    format!("Channel {}: the modes lie {hertz} apart.", typed(channel))
}

/// Time at work.
pub fn minutes(minutes: i64) -> String {
    match (minutes / 60, minutes % 60) {
        (0, m) => format!("{m}\u{a0}min"),
        (h, m) => format!("{h}\u{a0}h {m:02}\u{a0}min"),
    }
}
