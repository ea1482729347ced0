//! The substitution check.

pub const LEAD: &str = "A transistor in place of another, by what their data sheets say. Fill in what you know of both; the rest is left open.";
pub const COMES_OUT: &str = "Comes out";
pub const GOES_IN: &str = "Goes in";
pub const NEW_ONE_IS: &str = "The new one is";
pub const OF_THE_OLD: &str = "of the one that comes out";
pub const OF_THE_NEW: &str = "of the one that goes in";
/// Stands for a device that has no name.
pub const OLD: &str = "the old one";
/// Stands for a device that has no name.
pub const NEW: &str = "the new one";

pub const NAME: &str = "Type number";
pub const KIND: &str = "Kind";
pub const KIND_OPEN: &str = "not said";
pub const NPN: &str = "NPN";
pub const PNP: &str = "PNP";
pub const N_CHANNEL: &str = "N channel";
pub const P_CHANNEL: &str = "P channel";
pub const LEGS: &str = "Pin-out, left to right";
pub const LEGS_HINT: &str = "such as ECB";
pub const SEEN: &str = "Seen";
pub const PRINTED_SIDE: &str = "printed side";
pub const BACK_SIDE: &str = "back";
pub const FROM_BELOW: &str = "below, printed side up";

pub const BREAKDOWN: &str = "Breakdown voltage";
pub const CURRENT: &str = "Max. current";
pub const DISSIPATION: &str = "P at case 25\u{a0}°C";
pub const JUNCTION: &str = "Tj max";
pub const PATH: &str = "θJC";
pub const GAIN: &str = "hFE min";
pub const TRANSITION: &str = "Transition frequency";
pub const CASE: &str = "Case temperature in the set";
pub const CASE_HINT: &str = "°C, 25 unless you say";
pub const CASE_SPOKEN: &str = "Case temperature in the set, °C";

pub const NOTHING_KNOWN: &str =
    "Nothing to say yet: fill in the same rating of both, or the pin-out of both.";
pub const NO_RATING_KNOWN: &str = "No rating is known of both.";
pub const NAME_BOTH: &str = "To attach this to a change, fill in the type number of both.";
pub const UNKNOWN: &str = "not known of both";
pub const WEAKEST: &str = ", limiting";
pub const RATINGS_ARE_LIMITS: &str = "Ratings are limits, not what the circuit needs: a weaker one may still do where the set never comes near it. Look the figures up for the very make in hand.";
pub const KEEP_WITH_CHANGE: &str = "Attach to the change";

/// The pin-out of a device, as it is drawn.
pub fn legs(device: &str, order: &str) -> String {
    format!("{device}: {order} from the printed side")
}

/// A device whose pin-out is not typed.
pub fn legs_unknown(device: &str) -> String {
    format!("{device}: pin-out not known")
}

/// A unit was typed that the field does not take.
pub fn wrong_unit(typed: &str, due: &str) -> String {
    format!("{typed} does not belong here: use {due}")
}

/// The name of a field: which figure, of which device, and a hint where there is one.
pub fn field(label: &str, device: &str, hint: &str) -> String {
    match hint.is_empty() {
        true => format!("{label}, {device}"),
        false => format!("{label}, {device}, {hint}"),
    }
}
