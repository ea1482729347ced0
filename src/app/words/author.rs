//! What the screens for writing procedures say.

use crate::authoring::draft::DraftTarget;
use crate::authoring::table::Line;
use crate::authoring::{DraftStep, TargetKind};
use crate::procedure::{Place, Setting};
use crate::quantity::Scale;

// A draft as a whole.

pub const ALL_PROCEDURES: &str = "All procedures";
pub const NOT_HERE: &str = "Not on this device";
pub const NOT_HERE_WHY: &str = "What this address leads to is not here. It may have been published or discarded in another tab.";
pub const TO_PROCEDURES: &str = "To the procedures";
pub const DRAFTS: &str = "Drafts";
pub const TO_PUBLISH: &str = "Publish …";
pub const TO_LISTS: &str = "Adjusters, test points, instruments";
pub const TO_PLAN: &str = "Frequency plan";
pub const TO_TABLE: &str = "Steps from a table";
pub const TITLE: &str = "Title of the procedure";
pub const COVERS: &str = "Covers";
pub const COVERS_HINT: &str = "which sets it is for";
pub const WHOLE_CAUTIONS: &str = "Cautions before the set is opened";
pub const ONE_A_LINE: &str = "one a line";
pub const ADD_SECTION: &str = "Add a section";
pub const ADD_STEP: &str = "Add a step";
pub const REMOVE: &str = "Remove";
pub const THROW_AWAY: &str = "Discard draft";
pub const THROW_AWAY_HINT: &str = "All its text is lost. Published revisions stay.";
pub const NOT_NOW: &str = "Cancel";

/// The draft's title, or that it has none.
pub fn draft_title(title: &str) -> String {
    match title.trim() {
        "" => "A procedure without a title".to_owned(),
        title => title.to_owned(),
    }
}

/// What a draft goes on from, and how far it is.
pub fn draft_about(from: u32, steps: usize) -> String {
    match from {
        0 => format!("Draft of a new procedure, {}", steps_counted(steps)),
        from => format!(
            "Draft of revision {}, {}",
            from.saturating_add(1),
            steps_counted(steps)
        ),
    }
}

/// How sound a draft is and when it was saved.
pub fn draft_state(faults: usize, when: &str) -> String {
    match faults {
        0 => format!("No errors. Saved {when}"),
        1 => format!("1 error. Saved {when}"),
        faults => format!("{faults} errors. Saved {when}"),
    }
}

/// A revision and its length.
pub fn about(revision: u32, steps: usize) -> String {
    format!("Revision {revision}, {}", steps_counted(steps))
}

fn steps_counted(steps: usize) -> String {
    match steps {
        1 => "1 step".to_owned(),
        steps => format!("{steps} steps"),
    }
}

// Changes, and undoing them.

pub const BAR: &str = "What can be done here";
pub const UNDO: &str = "Undo";
pub const TYPING: &str = "typing";
pub const STEP_ADDED: &str = "a new step";
pub const STEP_MOVED: &str = "a step moved";
pub const STEP_DOUBLED: &str = "a step duplicated";
pub const SECTION_ADDED: &str = "a new section";
pub const SECTION_MOVED: &str = "a section moved";
pub const SECTION_REMOVED: &str = "a section removed";
pub const SECTION_SPLIT: &str = "a section split";
pub const GONE_ELSEWHERE: &str = "This draft was published or discarded in another tab, so what is typed here is not kept: copy what you need, then go to the procedures";
pub const OVERWRITTEN: &str = "Another tab changed this draft at the same moment, and the last change made here gave way: look it over and make it again";
pub const NOT_UNDONE: &str = "Another tab changed this draft meanwhile, so nothing was taken back";

/// What was taken back.
pub fn undone(what: &str) -> String {
    format!("Undone: {what}.")
}

/// A step is removed.
pub fn step_removed(number: usize) -> String {
    format!("step {number} removed")
}

/// A step is removed, and can come back.
pub fn can_be_undone(number: usize) -> String {
    format!("Step {number} is removed. Undo brings it back.")
}

/// Something chosen.
pub fn picked(what: &str, name: &str) -> String {
    format!("{what}: {name}")
}

/// A kind chosen.
pub fn kind_set(name: &str) -> String {
    picked(KIND, name)
}

/// Something put on a list.
pub fn added(name: &str) -> String {
    format!("“{name}” added")
}

/// Something given another name.
pub fn renamed(from: &str, to: &str) -> String {
    format!("“{from}” renamed to “{to}”")
}

/// Something taken off a list.
pub fn off_list(name: &str) -> String {
    format!("“{name}” taken off the list")
}

// Remarks.

/// How much a remark matters.
pub fn gravity(fault: bool) -> &'static str {
    match fault {
        true => "Error",
        false => "Warning",
    }
}

/// How many remarks there are.
pub fn remarks(faults: usize, advice: usize) -> String {
    let faults = match faults {
        0 => "No errors".to_owned(),
        1 => "1 error".to_owned(),
        n => format!("{n} errors"),
    };
    match advice {
        0 => faults,
        1 => format!("{faults}, 1 warning"),
        n => format!("{faults}, {n} warnings"),
    }
}

/// Where a remark belongs, before its sentence.
pub fn place(place: &Place) -> String {
    match place {
        Place::Step(number) => format!("Step {number}: "),
        Place::Table(number) => format!("Table {number}: "),
        Place::Whole | Place::Parts => String::new(),
    }
}

// Sections and steps in their list.

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

// One step.

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
pub const SETTINGS: &str = "Load, generator and analyser";

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
pub const COLOUR: &str = "Colour";
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

// Picking.

pub const CHOOSE: &str = "Choose";
pub const FIND: &str = "Find";
pub const FIND_OR_ADD: &str = "Find, or name a new one";
pub const OTHERS_BY_NAME: &str = "Type for others.";
pub const NONE_THERE: &str = "There is nothing to choose from yet.";
pub const NONE_FITS: &str = "Nothing in the list fits.";
pub const NONE: &str = "None";

/// The key of a picker, as it is read out.
pub fn picker(label: &str, shown: &str) -> String {
    match shown {
        "" => format!("{label}: choose"),
        shown => format!("{label}: {shown}"),
    }
}

/// The list of a picker.
pub fn choose(label: &str) -> String {
    format!("{label}, to choose from")
}

/// Adds something under a new name.
pub fn add_named(name: &str) -> String {
    format!("Add “{name}”")
}

/// Adds a row.
pub fn add_row(row: &str) -> String {
    format!("Add a {row}")
}

/// Takes a row away.
pub fn take_row(row: &str, number: usize) -> String {
    format!("Remove {row} {number}")
}

// The lists.

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

// Beginning one.

pub const WRITE: &str = "Write a procedure";
pub const WRITE_LEAD: &str = "It is kept on this device from the first letter on. Jobs can start with it once it is published.";
pub const FROM_NOTHING: &str = "Blank";
pub const FROM_ANOTHER: &str = "From an existing one";
pub const FROM_ANOTHER_HINT: &str =
    "A change becomes its next revision. A copy becomes a procedure of its own.";
pub const FROM_STARTER: &str = "From a template";
pub const FROM_STARTER_HINT: &str =
    "For sets in general. Board-specific values are blank and flagged as errors.";
pub const START_FROM: &str = "Use template";
pub const CHANGE: &str = "Edit";
pub const COPY: &str = "Duplicate";
pub const REVISIONS: &str = "Revisions";
pub const GOES_ON: &str = "A draft of this procedure was begun already; here it is.";

/// Starts from a starter.
pub fn start_from_named(name: &str) -> String {
    format!("{START_FROM}: {name}")
}

/// Changes a procedure.
pub fn change_named(title: &str) -> String {
    format!("Edit {title}")
}

/// Copies a procedure.
pub fn copy_named(title: &str) -> String {
    format!("Duplicate {title}")
}

/// The title of a copy.
pub fn copy_of(title: &str) -> String {
    format!("{title}, copy")
}

// Publishing and revisions.

pub const PUBLISH_LEAD: &str =
    "A revision never changes once it is published. Jobs that run keep theirs.";
pub const CHANGES: &str = "What changes";
pub const FIRST: &str = "This is the first revision.";
pub const SAME: &str = "Nothing differs from the latest revision.";
pub const NO_DIFFERENCE: &str = "Nothing differs.";
pub const LATEST: &str = "The latest";
pub const COMPARE: &str = "Compare two";
pub const COMPARE_FROM: &str = "From";
pub const COMPARE_TO: &str = "To";
pub const DRAFT_IN_THE_WAY: &str =
    "A draft of this procedure is being written: publish or discard it first";

/// The heading before publishing.
pub fn publish_title(title: &str, revision: u32) -> String {
    format!("{}, revision {revision}", draft_title(title))
}

/// The key that publishes.
pub fn publish(revision: u32) -> String {
    format!("Publish revision {revision}")
}

/// What was done once it is on the disk.
pub fn published(revision: u32) -> String {
    format!("Revision {revision} is published.")
}

/// Why it can't be published.
pub fn not_yet(faults: usize) -> String {
    match faults {
        1 => "Fix 1 error to publish.".to_owned(),
        n => format!("Fix {n} errors to publish."),
    }
}

/// A later revision came while the draft was written.
pub fn meanwhile(from: u32, latest: u32) -> String {
    format!(
        "Revision {latest} came to this device while this draft went on from revision {from}. What {latest} changed is lost where the list below says so."
    )
}

/// The revisions of a procedure.
pub fn revisions_of(title: &str) -> String {
    format!("Revisions of {title}")
}

/// A revision by its number.
pub fn revision(number: &str) -> String {
    format!("Revision {number}")
}

/// Takes an earlier revision up again.
pub fn take_up(revision: u32) -> String {
    format!("Restore revision {revision}")
}

/// What is compared.
pub fn between(was: &str, is: &str) -> String {
    format!("From revision {was} to {is}")
}

// Steps from a table.

pub const TABLE: &str = "Steps from a table";
pub const TABLE_LEAD: &str = "Copy an alignment table from a spreadsheet and paste it here, or open it as a CSV file. Each reading of a row becomes a step.";
pub const TABLE_TEXT: &str = "The table";
pub const TABLE_HINT: &str = "in its own words and headings; whatever isn’t understood goes into the step’s text and stays open until you settle it";
pub const OPEN_FILE: &str = "Open a CSV file";
pub const TABLE_PREVIEW: &str = "Preview";
pub const TABLE_SECTION: &str = "Add to section";
pub const TABLE_COLUMNS: &str = "What the columns are";
pub const TABLE_COLUMNS_HINT: &str = "Tap a column to say what it is.";
pub const TABLE_UNIT: &str = "The unit of readings that state none";
/// The units that tables mostly leave unsaid, by their symbols.
/// Which volts a level of a signal may be in.
pub const UNSAID_VOLTS: [&str; 4] = ["V EMF", "V PD", "V rms", "V p-p"];
pub const TABLE_VOLTS: &str = "The volts of levels that don’t say which";

pub const UNSAID_UNITS: [&str; 10] = [
    "V", "V rms", "V p-p", "mV", "mA", "W", "dBm", "dB", "Ω", "MHz",
];
pub const ASKED_SIGN: &str = "? ";
pub const NOT_UNDERSTOOD: &str = "Open";
pub const STILL_OPEN: &str = "Still open of its table";
pub const STILL_OPEN_HINT: &str = "take a line off once the step says what it means";

/// What a column is taken for.
pub fn column_is(meaning: Option<&str>, figures: &str) -> String {
    let is = meaning.unwrap_or("say what it is");
    match figures {
        "" => is.to_owned(),
        figures => format!("{is}, {figures}"),
    }
}

/// Asks what a column is.
pub fn column_is_what(heading: &str) -> String {
    format!("“{heading}” is")
}

/// Why nothing can be taken in yet.
pub fn columns_asked(count: usize) -> String {
    match count {
        1 => "One column is not known: tap it and say what it is.".to_owned(),
        count => format!("{count} columns are not known: tap them and say what they are."),
    }
}

/// How many lines there are, and how many stay open.
pub fn understood(lines: usize, open: usize) -> String {
    let lines = match lines {
        1 => "1 line".to_owned(),
        lines => format!("{lines} lines"),
    };
    match open {
        0 => format!("{lines}, all of them understood."),
        open => format!("{lines}, {open} with something open, marked “◆”."),
    }
}

/// What a line is that becomes no step.
pub const fn line_is(line: Line) -> &'static str {
    match line {
        Line::Row => "Step",
        Line::Headings => "New headings",
        Line::Section => "Section",
        Line::Note => "Note",
        Line::Caution => "Caution",
    }
}

/// A row that begins a section.
pub fn begins_section(title: &str) -> String {
    format!("Section: {title}")
}

/// Takes the steps in.
pub fn take_in(count: usize) -> String {
    format!("Add {}", steps_counted(count))
}

/// The steps were taken in.
pub fn table_taken(count: usize) -> String {
    format!("{} from a table", steps_counted(count))
}

/// Names that come onto the lists.
pub fn new_names(names: &[String]) -> String {
    format!("New on the lists: {}.", names.join(", "))
}

/// How much of a cell is quoted, in characters.
const LONGEST_CELL: usize = 120;

/// A cell that was not understood.
pub fn unclear(column: &str, cell: &str) -> String {
    match cell {
        "" if column.is_empty() => String::new(),
        "" => format!("{column}:"),
        cell if column.is_empty() => format!("“{cell}”:"),
        cell if cell.chars().count() <= LONGEST_CELL => format!("{column} “{cell}”:"),
        cell => {
            let beginning: String = cell.chars().take(LONGEST_CELL).collect();
            format!("{column} “{beginning}…”:")
        }
    }
}
