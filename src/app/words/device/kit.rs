//! The instruments on the shelf.

pub const TITLE: &str = "Instruments";
pub const ADD: &str = "Add an instrument";
pub const LEAD: &str = "The test equipment. From the figures in the maker’s data sheet the app works out what a reading proves.";
pub const NONE: &str = "No instruments yet.";
pub const ALL_INSTRUMENTS: &str = "All instruments";
pub const LEAVE: &str = "Discard changes";
pub const REMOVE: &str = "Delete instrument";
/// What was done once it is on the disk.
pub fn on_the_shelf(name: &str) -> String {
    format!("{name} is saved.")
}
/// The same of one that was taken away.
pub fn off_the_shelf(name: &str) -> String {
    format!("{name} is deleted.")
}
/// The instrument that a step is read with.
pub fn with_which(role: &str) -> String {
    format!("What is the {role} here?")
}
/// The instruments on the shelf, offered for a step.
pub const OF_THE_KIT: &str = "From the list";
/// The way to describe one that is not on the shelf, or to put right what is said of it.
pub const OR_DESCRIBE: &str = "Or describe it";
/// An instrument that fits a step.
pub const FITS: &str = "It fits.";
/// Takes an instrument.
pub const USE: &str = "Use";
/// The same, named.
pub fn use_named(name: &str) -> String {
    format!("Use {name}")
}
/// The instrument has another role.
pub fn is_for(role: &str) -> String {
    match role.trim() {
        "" => "It has no role in the list.".to_owned(),
        role => format!("In the list it is the {role}."),
    }
}
/// An instrument that a job now uses.
pub fn in_use(name: &str, role: &str) -> String {
    format!("{name} is saved and is this job’s {role}.")
}
pub const NAME_TAKEN: &str = "Another instrument has this name: give this one a name of its own";

pub const LOSS: &str = "Loss in the path";
pub const LOSS_HINT: &str = "Of a pad, a coupler or a probe that stands between the set and an instrument: what it takes away. A meter has none.";
pub const LOSS_BY: &str = "Loss or ratio";
pub const LOSS_BY_HINT: &str = "such as 10\u{a0}dB, or ×10 of a probe";
pub const LOSS_WITHIN: &str = "Known within ±";
pub const LOSS_WITHIN_HINT: &str = "such as 0.3\u{a0}dB or 2\u{a0}%; empty where nobody knows: readings are corrected then, and their accuracy is not known";
pub const LOSS_UNREADABLE: &str = "The loss is no figure above zero: type it like 10\u{a0}dB, or like ×10 for a ratio of voltages";
pub const LOSS_WITHIN_UNREADABLE: &str =
    "How well the loss is known is no figure above zero: type it like 0.3\u{a0}dB or 2\u{a0}%";
pub const THE_INSTRUMENT: &str = "The instrument";
pub const NAME: &str = "Name";
pub const NAME_HINT: &str = "what you call it";
pub const NAME_MISSING: &str = "Type what you call the instrument";
pub const ROLE: &str = "Role";
pub const ROLE_HINT: &str = "as procedures name it: counter, meter, scope";
pub const ASSET: &str = "Asset number";
pub const CALIBRATED: &str = "Calibrated";
pub const NEXT_DUE: &str = "Next calibration due";

pub const RANGES: &str = "Ranges and accuracy";
pub const RANGES_HINT: &str =
    "As the maker prints it. What the data sheet does not name stays empty.";
pub const ADD_RANGE: &str = "Add a range";
pub const UNIT: &str = "Unit";
pub const UNIT_HINT: &str = "of the reading";
pub const FULL_SCALE: &str = "Full scale";
pub const FULL_SCALE_HINT: &str = "such as 100\u{a0}MHz";
pub const RESOLUTION: &str = "Resolution";
pub const RESOLUTION_HINT: &str = "one count of the last digit";
pub const WITHIN_PERCENT_OF_READING: &str = "± % of reading";
pub const WITHIN_PERCENT_OF_RANGE: &str = "± % of range";
pub const WITHIN_COUNTS: &str = "± counts";
pub const WITHIN_PPM: &str = "± ppm";
pub const WITHIN_AMOUNT: &str = "± fixed";
pub const AMOUNT_HINT: &str = "such as 2\u{a0}dB";
pub const COUNTS_UNREADABLE: &str = "Type a whole number, or leave it empty";

pub const FURTHER: &str = "What else its readings are uncertain by";
pub const FURTHER_HINT: &str = "What no data sheet of the instrument states: its certificate, and what stands between the test point and it. Each goes into the uncertainty of every reading in its unit, and the largest error to one side is what to type.";
pub const ADD_FURTHER: &str = "Add an uncertainty";
pub const FROM: &str = "It comes from";
pub const FROM_HINT: &str = "one thing a line";
pub const FROM_CERTIFICATE: &str = "the certificate";
pub const FROM_LOAD: &str = "the load’s tolerance";
pub const FROM_TAP: &str = "a tap or attenuator";
pub const FROM_LEADS: &str = "leads and connectors";
pub const FROM_MISMATCH: &str = "mismatch";
pub const WITHIN: &str = "Within ±";
pub const WITHIN_HINT: &str = "such as 5\u{a0}%; of a level in dB; or U";
pub const COVERAGE: &str = "Coverage factor k";
pub const COVERAGE_HINT: &str = "as the certificate states it, usually 2";
pub const COVERAGE_UNREADABLE: &str = "Type the certificate’s k, a number above zero, usually 2";
pub const PERCENT_OF_A_LEVEL: &str =
    "A percentage of decibels says nothing. Type decibels: 5\u{a0}% of the power is 0.2\u{a0}dB";

pub const TIME_BASE: &str = "Time base of a counter";
pub const TIME_BASE_HINT: &str = "Read a reference of known frequency, such as a standard-frequency broadcast or a house standard. Every later reading of this counter is corrected; indicated and corrected are both shown.";
pub const REFERENCE: &str = "Reference";
pub const SHOWN: &str = "Indicated";
pub const MEGAHERTZ_HINT: &str = "in MHz unless you type another unit";
pub const TIME_BASE_ODD: &str =
    "The indication is more than 1000\u{a0}ppm off the reference: check both figures";

/// How the calibration stands.
pub fn calibration(due: &str, overdue: bool) -> String {
    match overdue {
        true => format!("Calibration overdue since {due}"),
        false => format!("Calibration due {due}"),
    }
}

/// What the strips of the instruments show.
pub const STRIP_KEY: &str =
    "Bar: from today to the next calibration, a year at most. Hatched: overdue.";

/// How long until an instrument is due, as its strip shows it.
pub fn due_in(days: i64) -> String {
    let count = match days.unsigned_abs() {
        1 => "1 day".to_owned(),
        days => format!("{days} days"),
    };
    match days {
        0 => "Due today".to_owned(),
        1.. => format!("Due in {count}"),
        _ => format!("Overdue by {count}"),
    }
}

/// How many ranges the record of an instrument has.
pub fn ranges(count: usize) -> String {
    format!("Ranges: {count}")
}

/// What is known of a counter's time base.
pub fn time_base(ppm: &str) -> String {
    format!("Time base {ppm}; readings corrected")
}

/// Takes a range away.
pub fn remove_range(number: usize) -> String {
    format!("Remove range {number}")
}

/// Takes a further uncertainty away.
pub fn remove_further(number: usize) -> String {
    format!("Remove uncertainty {number}")
}

/// How much an uncertainty is can't be read, or is nothing.
pub fn within_unreadable(unit: &str) -> String {
    format!("Type a size above zero, in % of the reading or in {unit}")
}
