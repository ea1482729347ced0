//! One step.

use crate::app::words::spelling::either;
use crate::procedure::Setting;

pub const ALL_STEPS: &str = "All steps of the draft";
pub const PREVIOUS: &str = "Previous step";
pub const NEXT: &str = "Next step";
pub const STEP_TITLE: &str = "Title";
pub const STEP_TITLE_HINT: &str = "a few words";
pub const KIND: &str = "Step type";
pub const TEXT: &str = "What to do";
pub const TEXT_HINT: &str = "in sentences";
pub const READING: &str = "Reading";
pub const ADJUSTER: &str = "Adjuster";
pub const TEST_POINT: &str = "Test point";
pub const INSTRUMENT: &str = "Instrument";
pub const UNIT: &str = "Unit";
pub const TARGET: &str = "Target";
pub const TARGET_KIND: &str = "Limit type";
pub const FIGURE: &str = "Figure";
pub const LOWEST: &str = "Lowest figure";
pub const HIGHEST: &str = "Highest figure";
pub const LOWER: &str = "Lower figure";
pub const UPPER: &str = "Upper figure";
pub const OFFSET: &str = "Offset";
pub const OFFSET_HINT: &str = "with its unit, such as 1.5\u{a0}kHz or -3\u{a0}dB";
pub const TOLERANCE: &str = "Tolerance ±";
pub const KNOWN: &str = "How its figures are known";
pub const NOT_SAID: &str = "not said";
pub const BASIS: &str = "Basis of the limit";
pub const BASIS_HINT: &str = "the document and its clause, such as 47\u{a0}CFR 2.1046; another figure rests on something else";
pub const IMPEDANCE: &str = "Impedance";
pub const IMPEDANCE_HINT: &str = "such as 50\u{a0}Ω, where volts are read as dBm or watts";
pub const PATH: &str = "In the path";
pub const PATH_HINT: &str = "pad, coupler or probe, named as on the list of instruments";
pub const DIRECTION: &str = "The signal goes";
pub const TOLERANCE_HINT: &str = "such as 20\u{a0}Hz, 5\u{a0}%, 10\u{a0}ppm or 1\u{a0}dB";
pub const BELOW: &str = "Minus tolerance";
pub const BELOW_HINT: &str = "only where it differs";
pub const OTHER_STEP: &str = "Counted from step";
/// The step that reads the power by which a limit goes.
pub const POWER_STEP: &str = "Goes by the power of step";
pub const OSCILLATOR: &str = "Oscillator";
pub const MODE_FIRST: &str = "State the mode of this step first: an oscillator belongs to a mode.";
pub const LIMIT: &str = "Published limit";
pub const STOP: &str = "Hold point";
pub const CONFIRM: &str = "To be confirmed";
pub const CONFIRM_HINT: &str =
    "in the first person, such as “The dummy load is on the aerial socket; I have looked.”";
/// What is set at the bench for a step.
pub fn settings() -> &'static str {
    either(
        "Load, generator and analyser",
        "Load, generator and analyzer",
    )
}

/// How a setting is written.
pub const fn setting_hint(setting: Setting) -> &'static str {
    match setting {
        Setting::Load => "such as 50\u{a0}Ω",
        Setting::GeneratorFrequency | Setting::AnalyserCentre => "such as 28.400\u{a0}MHz",
        Setting::GeneratorLevel => "such as -107\u{a0}dBm",
        Setting::Modulation => "such as AM, FM or none",
        Setting::ModulationDepth => "such as 30\u{a0}% or 1.5\u{a0}kHz",
        Setting::ModulationTone => "such as 1\u{a0}kHz",
        Setting::AnalyserSpan => "such as 100\u{a0}kHz",
        Setting::AnalyserBandwidth => "such as 3\u{a0}kHz",
    }
}

pub const CONFIRMED_BY: &str = "What confirms it";
pub const CONFIRMED_BY_HINT: &str =
    "By a reading, it opens once that is inside, and by nothing else.";
pub const HOLDS: &str = "How long it holds";
pub const HOLDS_HINT: &str = "After a pause all below it is locked until it is re-confirmed, unless what it confirms stays so for the whole job.";
pub const FIT: &str = "Part or change";
pub const OUT: &str = "Removed";
pub const FITTED: &str = "Fitted";
pub const WHY: &str = "Why";
pub const WIRE: &str = "Lead";
pub const WIRE_FROM: &str = "From";
pub const WIRE_TO: &str = "To";
/// A column of the pins, in the spelling of tables that are read.
pub const PIN_COLOUR: &str = "Colour";
/// The colour of a wire.
pub fn colour() -> &'static str {
    either("Colour", "Color")
}
pub const SOCKET: &str = "Socket";
pub const SOCKET_NAME: &str = "Name of the socket";
pub const PINS: &str = "Pins";
pub const PIN: &str = "Pin";
pub const PIN_SIGNAL: &str = "Signal";
pub const PIN_FROM: &str = "Taken from";
pub const PIN_EXPECTS: &str = "Expected voltage";
pub const PIN_EXPECTS_HINT: &str = "RX = 8\u{a0}V ±\u{a0}0.2\u{a0}V; TX = …";
pub const PIN_ROW: &str = "pin";
pub const SET_UP: &str = "Set-up";
pub const SET_UP_HINT: &str =
    "The state that the set must be in. A new step takes it over from the one above.";
pub const STATE: &str = "State";
pub const NOT_STATED: &str = "Not stated";
pub const MODE: &str = "Mode";
pub const CHANNEL: &str = "Channel";
pub const SUPPLY: &str = "Supply";
pub const SUPPLY_OFF: &str = "off";
pub const CONTROLS: &str = "Controls and what is connected";
pub const CONTROL: &str = "Control";
pub const CONTROL_TO: &str = "Setting";
pub const CONTROL_ROW: &str = "control";
pub const MORE: &str = "More: cautions, hold points, waits, removed parts, cross-check";
pub const CAUTIONS: &str = "Cautions";
pub const NEEDS: &str = "Requires hold point";
pub const NO_STOPS: &str = "There is no hold point above this step.";
pub const WAIT: &str = "Wait";
pub const WAIT_HINT: &str = "whole minutes";
pub const SETTLES: &str = "Max. drift per minute";
pub const SETTLES_HINT: &str = "per minute, such as 10\u{a0}Hz";
pub const SHARED_NULL: &str = "Shares its null with";
pub const TAKES_OFF: &str = "Parts to remove";
pub const OFF_WHAT: &str = "What";
pub const OFF_WHERE: &str = "Where it belongs";
pub const OFF_WAY: &str = "Which way round";
pub const OFF_NOTE: &str = "Note";
pub const OFF_ROW: &str = "thing";
pub const PUTS_BACK: &str = "Parts to refit";
pub const NOTHING_OFF: &str = "Nothing is off up to this step.";
pub const CROSS_CHECK: &str = "Cross-check";
pub const ADD_CROSS_CHECK: &str = "Add a cross-check";
pub const CROSS_CHECK_GONE: &str = "the cross-check removed";
pub const CROSS_CHECK_REMOVE: &str = "Remove the cross-check";
pub const CROSS_TEXT: &str = "What to do for it";
pub const COMPARES: &str = "Compared as";
pub const LOAD: &str = "Load";
pub const RESISTOR: &str = "Resistor";
pub const OHMS: &str = "in Ω";
pub const PLAUSIBLE: &str = "Plausible is";
pub const PLAUSIBLE_HINT: &str = "such as 7.5\u{a0}V ±\u{a0}0.2\u{a0}V or 3\u{a0}V to 5\u{a0}V";

/// Where the step is.
pub fn step_of(number: usize, total: usize, section: &str) -> String {
    match section.trim() {
        "" => format!("Step {number} of {total}"),
        section => format!("Step {number} of {total}, {section}"),
    }
}

/// The unit of a bare number.
pub fn in_unless(unit: &str) -> String {
    format!("in {unit} unless you type another unit")
}
