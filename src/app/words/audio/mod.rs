//! The audio instrument.

mod fault;

pub use self::fault::{trouble, unfit};

pub const TITLE: &str = "Audio";
pub const MEASURE_BY_AUDIO: &str = "Measure by audio";
pub const INPUT: &str = "Input";
pub const USUAL_INPUT: &str = "Usual input";
pub const OPENING: &str = "Waiting for the sound input.";
pub const LISTENING: &str = "Listening: one second of sound is needed.";
pub const TRY_AGAIN: &str = "Try again";
pub const LEVEL: &str = "Input level";
pub const CLIPPING: &str = "Clipping";
pub const WHAT: &str = "Measurement";
pub const FIGURE: &str = "Figure for the step";
pub const WEIGHTING: &str = "Weighting";
pub const TONE: &str = "Test tone in Hz";
pub const LOWER_TONE: &str = "Lower tone in Hz";
pub const UPPER_TONE: &str = "Upper tone in Hz";
pub const MAINS: &str = "Mains";
pub const HOLD: &str = "Hold when steady";
pub const KEEP_SOUND: &str = "Save the last 5\u{a0}s of sound with the reading";
pub const SOUND_KEPT: &str = "Sound recording saved.";
pub const NOT_STEADY: &str = "Not steady yet";
pub const TARGET: &str = "Target";
pub const WAVE: &str = "Wave: the last 10 milliseconds";
pub const SPECTRUM: &str = "Spectrum, 50\u{a0}Hz to 10\u{a0}kHz, in dBFS";
pub const MARK_TONE: &str = "Tone";
pub const MARK_FLOOR: &str = "Noise floor";
pub const OTHERS: &str = "Other figures";
pub const UNSAID: &str = "The browser does not state whether it processes the sound: compare with a known signal before relying on a figure.";
pub const PRIVATE: &str = "The sound stays on this device.";
pub const BEFORE_CONNECTING: &str = "Before connecting";
pub const CAUTIONS: [&str; 4] = [
    "Pad and isolating transformer between the set and the input: a loudspeaker line carries volts, the input takes millivolts.",
    "No output of a bridged amplifier directly to a grounded input: neither side of it is ground.",
    "DC on the line: block it, and measure before plugging in.",
    "No mains-powered set without isolating transformer on a wired input.",
];
pub const MODULATION_ON: &str = "Take this as: modulation on";
pub const KEPT_ON: &str = "Switch the modulation off, carrier on: the ratio follows.";
pub const FIRST_ON: &str = "Modulation on, carrier on: take it, then switch the modulation off.";
pub const KNOWN_INPUT: &str = "RF input in Hz";
pub const KNOWN_WITHIN: &str = "Known within ±\u{a0}Hz";
pub const DUE_CARRIER: &str = "Carrier due in Hz";
pub const SIDEBAND: &str = "Sideband";
pub const UPPER: &str = "Upper";
pub const LOWER: &str = "Lower";
pub const KNOWN_TONE: &str = "Known tone in Hz, for the sound clock";
pub const COMPARE_CLOCK: &str = "Compare the clock with it";
pub const CLOCK_NOT_COMPARED: &str =
    "Sound clock not compared: ±\u{a0}100\u{a0}ppm are in the budget.";
pub const TYPE_INPUT: &str = "RF input missing: enter its frequency and how well it is known.";
pub const KNOWN_VOLTS: &str = "Known voltage in V\u{a0}rms";
pub const VOLTS_WITHIN: &str = "Known within ±\u{a0}V";
pub const COMPARE_VOLTS: &str = "The tone now is this voltage";
pub const LOAD: &str = "Load in Ω";
pub const NO_VOLTS: &str = "Volts not known: put a known voltage in, enter it with its ±, compare.";
pub const FIRST_LEVEL: &str = "First level in dBm";
pub const HIGHEST_LEVEL: &str = "Highest level in dBm";
pub const TAKE_POINT: &str = "Take this level";
pub const START_AGAIN: &str = "Start again";
pub const POINTS: &str = "Levels";
pub const RESPONSE_POINT: &str = "Take this frequency";
pub const REFERENCE: &str = "Reference in Hz";
pub const RESPONSE: &str = "Response";
pub const NO_REFERENCE: &str = "Reference missing: take its frequency too.";
pub const FOLLOW: &str = "Follow a sweep";
pub const FOLLOW_HOW: &str = "Sweep up and down twice, an octave in 3\u{a0}s or slower, past the reference and past each frequency by an octave’s fourth.";
pub const IS_REFERENCE: &str = "Reference";
pub const RESPONSE_DRAWN: &str = "Response against the reference, 100\u{a0}Hz to 8\u{a0}kHz";
pub const FIRST_CLOSED: &str =
    "Generator off or at its lowest, squelch closed: listen, then take it as closed.";
pub const IS_CLOSED: &str = "Take this as: closed";
pub const HEARD_CLOSED: &str = "closed";
pub const HEARD_OPEN: &str = "open";
pub const HEARD_NEITHER: &str = "neither open nor closed all the time";
pub const TAKE_HEARD: &str = "Take what is heard";
pub const SQUELCH_HOW: &str = "From closed upward until it opens, then downward until it closes. Enter the level that is set, wait a second, take it.";
pub const SQUELCH_AGAINST: &str =
    "It was closed above where it opened, or open below where it closed: start again.";
pub const EDGE_MOVED: &str =
    " The edge moved: one time it was at levels that another time excludes. All are within.";
pub const AGC_HOW: &str =
    "Set a level, enter it, take it: up through all of them and down again, volume untouched.";
pub const AGC_ONCE: &str =
    "From one reading of an end a drift can’t be told: in a step, conformity is not shown.";
pub const LEVEL_MISSING: &str = "Level missing: enter what the generator is set to.";
pub const ENDS_MISSING: &str = "Still to take: both ends of the change.";
pub const REFERENCE_MISSING: &str = "Still to take: the step’s own level and the reference level.";
pub const OUTPUT: &str = "Output";
pub const SWEEP: &str = "Sweep";
pub const SWEEP_FROM: &str = "Sweep from Hz";
pub const SWEEP_TO: &str = "Sweep to Hz";
pub const SEND: &str = "Send";
pub const SEND_CAUTION: &str = "Before the output goes to a transmitter: dummy load on, level at the lowest, pad and isolating transformer in the line. The tone stops when this screen is left.";
pub const TONE_SENT: &str = "Tone sent in Hz";
pub const ONE_TONE: &str = "One tone";
pub const TWO_TONES: &str = "Two tones";
pub const NOISE: &str = "Noise 300–3400\u{a0}Hz";
pub const SEND_LEVEL: &str = "Level in dBFS";
pub const LOUDER: &str = "+0.1\u{a0}dB";
pub const QUIETER: &str = "−0.1\u{a0}dB";
pub const MUCH_LOUDER: &str = "+1\u{a0}dB";
pub const MUCH_QUIETER: &str = "−1\u{a0}dB";
pub const CONNECTED_RIGHT: &str = "Dummy load on, line checked";
pub const TYPE_TONE: &str = "Tone missing: enter 20\u{a0}Hz to 20\u{a0}kHz.";
pub const START: &str = "Start sending";
pub const STOP: &str = "Stop sending";
pub const SENDING: &str = "Sending";
pub const NOT_SENT: &str = "No sound output from the browser: check volume and output.";
pub const STEP_TAKES_NONE: &str = "The step takes no reading: open another one.";
pub const LEVEL_STANDS: &str = "The step states the generator’s level: choose another figure.";
pub const VOLTS_FIRST: &str = "The step reads dBm: compare the input with a known voltage first.";
pub const OF_FULL_SCALE: &str = "dBFS";
pub const NO_STEP: &str = "No step of a job is open: open one to take a figure into it.";

/// What is measured, as keys name it.
pub const TASK_TONE: &str = "SINAD and tone";
pub const TASK_SN: &str = "(S+N)/N";
pub const TASK_HUM: &str = "Hum";
pub const TASK_TWO: &str = "Two-tone products";
pub const TASK_RESPONSE: &str = "Response";
pub const TASK_CARRIER: &str = "Carrier by pitch";
pub const TASK_SENSITIVITY: &str = "Sensitivity";
pub const TASK_SQUELCH: &str = "Squelch";
pub const TASK_AGC: &str = "AGC";

/// Fills the cells of the step's table.
pub fn fill(count: usize) -> String {
    match count {
        1 => "Enter 1 reading into the table".to_owned(),
        count => format!("Enter {count} readings into the table"),
    }
}

/// What a level by a sweep is uncertain by, and what that rests on.
pub fn swept_within(expanded: &str, spots: usize) -> String {
    format!("±\u{a0}{expanded} (95\u{a0}%), by how the passes scatter, from {spots} spots")
}

/// How many passes of a sweep there are.
pub fn passes(have: usize, due: usize) -> String {
    format!("{have} of {due} passes")
}

/// How quiet it is when it is closed.
pub fn floor(level: &str) -> String {
    format!("Closed: at most {level} from 300 to 3400\u{a0}Hz.")
}

/// The level that the generator has.
pub fn generator_level(unit: &str) -> String {
    format!("Generator level in {unit}")
}

/// A level with what was heard at it.
pub fn heard_at(level: &str, heard: &str) -> String {
    format!("{level}: {heard}")
}

/// Between which levels something is.
pub fn between(low: &str, high: &str) -> String {
    format!("between {low} and {high}")
}

/// Where a squelch opens.
pub fn opens_between(low: &str, high: &str) -> String {
    format!("Rising: closed at {low}, open at {high}.")
}

/// Where it closes.
pub fn closes_between(low: &str, high: &str) -> String {
    format!("Falling: open at {high}, closed at {low}.")
}

/// By how much it closes below where it opens.
pub fn hysteresis(by: &str, within: &str) -> String {
    format!(
        "Closes {by}\u{a0}dB ±\u{a0}{within}\u{a0}dB below where it opens; the attenuator is not in it."
    )
}

/// The lower end of a range.
pub fn agc_from(unit: &str) -> String {
    format!("Change from, in {unit}")
}

/// Its upper end.
pub fn agc_to(unit: &str) -> String {
    format!("Change to, in {unit}")
}

/// The level whose output is the zero.
pub fn agc_reference(unit: &str) -> String {
    format!("Reference level in {unit}")
}

/// The change over a range.
pub fn agc_change(change: &str, within: &str, low: &str, high: &str) -> String {
    format!(
        "From {low} to {high} the output changes by {change}\u{a0}dB ±\u{a0}{within}\u{a0}dB (95\u{a0}%)."
    )
}

/// How far it goes beyond its ends.
pub fn agc_beyond(by: &str) -> String {
    format!("In between it goes {by}\u{a0}dB beyond both ends.")
}

/// How often something was taken.
pub fn times(count: usize) -> String {
    match count {
        1 => "once".to_owned(),
        count => format!("{count} times"),
    }
}

/// Takes the figure into the step.
pub fn take(figure: &str, number: usize) -> String {
    format!("Take {figure} into step {number}")
}

/// Why a figure can't go into the step.
pub fn other_unit(figure: &str, due: &str) -> String {
    format!("This figure is in {figure}, the step reads {due}: choose another figure.")
}

/// The uncertainty beside a figure.
pub fn within(expanded: &str) -> String {
    format!("±\u{a0}{expanded} (95\u{a0}%)")
}

/// How it is measured.
pub fn settings(input: &str, rate: &str, window: &str, weighting: &str) -> String {
    format!("{input}, {rate}\u{a0}Hz, {window}\u{a0}s, {weighting}")
}

/// What the uncertainty of a figure that compares levels at several frequencies leaves out.
pub const RESPONSE_NOT_KNOWN: &str =
    "The response of the input is not in it: in a step, conformity is not shown.";

/// The sine fit's own ratio.
pub fn fit_ratio(figure: &str) -> String {
    format!(", S/(N+D) {figure}\u{a0}dB")
}

/// The frequencies of the mains.
pub const FIFTY: &str = "50\u{a0}Hz";
pub const SIXTY: &str = "60\u{a0}Hz";

/// A frequency.
pub fn hertz(digits: &str) -> String {
    format!("{digits}\u{a0}Hz")
}

/// A ratio.
pub fn decibels(digits: &str) -> String {
    format!("{digits}\u{a0}dB")
}

/// A voltage of an aerial.
pub fn microvolts(digits: &str) -> String {
    format!("{digits}\u{a0}µV")
}

/// A figure or an uncertainty with its unit.
pub fn with_unit(digits: &str, unit: &str) -> String {
    format!("{digits}\u{a0}{unit}")
}

/// How steady it is.
pub fn steady(have: usize, due: usize) -> String {
    format!("Steady for {have} of {due}\u{a0}s")
}

/// Level in dBFS.
pub fn dbfs(level: &str) -> String {
    format!("{level}\u{a0}dBFS")
}

/// What the generator is to be set to.
pub fn set_generator(level: &str) -> String {
    format!("Generator: {level}\u{a0}dBm")
}

/// A crossing that was found.
pub fn crossing(level: &str, expanded: &str, volts: &str, slope: &str, readings: usize) -> String {
    format!(
        "{level}\u{a0}dBm ±\u{a0}{expanded}\u{a0}dB (95\u{a0}%), {volts} in 50\u{a0}Ω, \
         {slope}\u{a0}dB per dB, from {readings} levels"
    )
}

/// A level with what was read at it.
pub fn point(level: &str, figure: &str) -> String {
    format!("{level}\u{a0}dBm: {figure}\u{a0}dB")
}

/// A clock that was compared.
pub fn clock(ppm: &str, within: &str) -> String {
    format!("Sound clock {ppm}\u{a0}ppm fast, ±\u{a0}{within}\u{a0}ppm")
}

/// The level across a load, by an input that was compared.
pub fn across(level: &str, ohms: &str, at: &str) -> String {
    format!("{level}\u{a0}dBm in {ohms}\u{a0}Ω; input compared at {at}")
}

/// Where an input was compared.
pub fn compared_at(at: &str) -> String {
    format!("Input compared at {at}")
}

/// Where an input was compared, at another tone.
pub fn compared_elsewhere(at: &str) -> String {
    format!("Input compared at {at} only: compare it at this tone too.")
}

/// The error of a carrier.
pub fn carrier_error(hertz: &str, within: &str) -> String {
    format!("Error {hertz}\u{a0}Hz ±\u{a0}{within}\u{a0}Hz")
}

/// A harmonic or a product.
pub fn part(frequency: &str, level: &str) -> String {
    format!("{frequency}\u{a0}Hz: {level}")
}

/// A product below one tone.
pub fn below(decibels: &str) -> String {
    format!("{decibels}\u{a0}dB below one tone")
}
