//! Adjusters, test points, instruments, and the frequency plan.

pub const LISTS: &str = "Adjusters, test points, instruments";
pub const LISTS_HINT: &str = "A new name here is a new name in every step.";
pub const ADJUSTERS: &str = "Adjusters";
pub const TEST_POINTS: &str = "Test points";
pub const INSTRUMENTS: &str = "Instruments";
pub const NEW_ADJUSTER: &str = "New adjuster, such as L4";
pub const NEW_TEST_POINT: &str = "New test point, such as TP3";
pub const NEW_INSTRUMENT: &str = "New instrument by its role, such as counter";
pub const ADD: &str = "Add";
pub const NAME: &str = "Name";
pub const PLACE: &str = "Where it is found";
pub const ALSO: &str = "Other names for it";
pub const NEEDS_ABILITY: &str = "What it must be able to do";
pub const ADJUSTER_KIND: &str = "Kind";
pub const CLOCKWISE: &str = "Clockwise";
pub const RAISES: &str = "raises the reading";
pub const LOWERS: &str = "lowers the reading";
pub const NOT_KNOWN: &str = "not known";
pub const ADJUSTER_NOTE: &str = "What it does, or where it sits";
pub const TOOL: &str = "Tool";
pub const DISTURBS: &str = "Interacts with";
pub const CHASES: &str = "Interacting adjustments";
pub const CHASES_HINT: &str = "Steps whose adjusters move each other’s readings are worked in rounds, in the order in which they stand here.";
pub const ADD_CHASE: &str = "Add a group";
pub const CHASE_ADDED: &str = "a group of steps added";
pub const CHASE_REMOVED: &str = "a group of steps removed";
pub const CHASE_TITLE: &str = "What they are together";
pub const CHASE_STEPS: &str = "Its steps";
/// Why peaks and dips are not among the steps to choose from.
pub const CHASE_KINDS: &str = "Steps that set to a target, two to six: a peak or a dip has no figure to aim at. Two dips of one reading are known to pull each other without a group; a step of the kind Repeat goes through them until they hold.";

/// How many steps refer to an entry.
pub fn uses(count: usize) -> String {
    match count {
        0 => "In no step".to_owned(),
        1 => "In 1 step".to_owned(),
        count => format!("In {count} steps"),
    }
}

/// Takes an entry off its list.
pub fn remove_named(name: &str) -> String {
    format!("Remove {name}")
}

/// Takes a group away.
pub fn remove_chase(number: usize) -> String {
    format!("Remove group {number}")
}

/// A step that is gone.
pub fn gone(id: &str) -> String {
    format!("“{id}”, which is gone")
}

// The frequency plan.

pub const PLAN: &str = "Frequency plan";
pub const PLAN_HINT: &str = "In each mode the frequency on the air is a sum of oscillators. One without a frequency follows the channel.";
pub const PLAN_NAME: &str = "Name of the plan";
pub const CHANNELS: &str = "Channels";
pub const OWN_CHANNELS: &str = "Write a channel table of your own";
pub const MODE_NAME: &str = "Mode";
pub const ADD_MODE: &str = "Add a mode";
pub const MODE_ADDED: &str = "a new mode";
pub const MODE_REMOVED: &str = "a mode removed";
pub const REMOVE_PLAN: &str = "Remove the plan";
pub const PLAN_REMOVED: &str = "the plan removed";
pub const ADD_OSCILLATOR: &str = "Add an oscillator";
pub const OSCILLATOR_ADDED: &str = "a new oscillator";
pub const OSCILLATOR_REMOVED: &str = "an oscillator removed";
pub const FREQUENCY: &str = "Frequency";
pub const FREQUENCY_HINT: &str = "in MHz; nothing where it follows the channel; with a crystal a channel one a line, such as 19: 11.2";
pub const FACTOR: &str = "Multiplier";
pub const FACTOR_HINT: &str = "1 for a sum, -1 for a difference, 3 behind a tripler";
pub const INJECTION: &str = "Multiplier in the first injection";
pub const INJECTION_HINT: &str = "of the receiver; nothing where it isn’t part of it";
pub const OSCILLATORS: &str = "Oscillators";
pub const EVERYWHERE: &str = "A new name here is a new name in every mode and step.";

/// A mode by its number.
pub fn mode_label(number: usize) -> String {
    format!("Mode {number}")
}

/// Takes a mode away.
pub fn remove_mode(number: usize) -> String {
    format!("Remove mode {number}")
}

/// Takes an oscillator away.
pub fn remove_oscillator(number: usize) -> String {
    format!("Remove oscillator {number}")
}

/// A channel table's length and source.
pub fn channels(count: usize, source: &str) -> String {
    format!("{count} channels, {source}")
}
