//! Looking for a fault along the path of a signal.

use crate::job::Showed;
use crate::metrology::inference::suspects::Reach;
use crate::procedure::{Chance, Effort};

pub const TITLE: &str = "Find the fault";
pub const LEAD: &str = "Choose the way that the signal takes. After each look it says which stages are still suspect, and where the next look tells most.";
pub const PATHS: &str = "Paths to start from";
pub const PATHS_FROM: &str = "What sets of a kind have in common, common practice, no source. Fill in your set's points and figures as you go.";
pub const OWN_PATH: &str = "A path of your own";
pub const MET: &str = "Paths of such sets before";
pub const EARLIER: &str = "Paths of this job";
pub const ANOTHER: &str = "Another path";
pub const CONFIRM_FIRST: &str = "First confirm";
pub const NEXT: &str = "Look next";
pub const CHOSEN: &str = "Look here";
pub const BACK_TO_ADVICE: &str = "Back to the advised look";
pub const READ_IT: &str = "Read it";
pub const CANT_REACH: &str = "Out of reach";
pub const NO_LOOK_LEFT: &str = "No look is left that tells more.";
pub const RECORD: &str = "Write it into the fault record";
pub const STAGES: &str = "The path";
pub const CHANGE_STAGE: &str = "Edit";
pub const ADD_STAGE: &str = "Add a stage";
pub const AT_FAULT: &str = "Suspect";
pub const MENDED: &str =
    "Since then a part was changed or a cure recorded: looks from before don't count any more.";
pub const HOW_SURE: &str = "Counted with one fault as the rule, two now and then, and one look in fifty wrong. It says where to look, and proves nothing.";
pub const NONE_AT_FAULT: &str =
    "As it looks, no stage of this path is at fault: it comes and goes, or lies elsewhere.";

pub const STAGE: &str = "Stage";
pub const NAME: &str = "Name";
pub const CHANCE: &str = "Fails";
pub const WHAT: &str = "What is looked at";
pub const EXPECT: &str = "What is expected";
pub const EFFORT: &str = "Effort";
pub const PLACE: &str = "It stands";
pub const KEEP: &str = "Save the stage";
pub const LEAVE: &str = "Discard changes";
pub const TAKE_OUT: &str = "Remove the stage";
pub const PATH: &str = "The path as a whole";
pub const PATH_TITLE: &str = "Name of the path";
pub const KEEP_PATH: &str = "Save the path";
pub const FIRST: &str = "First of all";

/// A path with how long it is.
pub fn path(title: &str, stages: usize) -> String {
    format!("{title}: {stages} stages")
}

/// How many looks were taken along a path.
pub fn looks(count: usize) -> String {
    match count {
        1 => "1 look".to_owned(),
        count => format!("{count} looks"),
    }
}

/// Looks that speak against the stage that is most likely.
pub fn against(places: &[String]) -> String {
    let places = places.join(", ");
    format!(
        "Against the most likely stage speaks: {places}. A look may be wrong: check there again."
    )
}

/// Behind which stage another stands.
pub fn behind(stage: &str) -> String {
    format!("after {stage}")
}

/// A place to look, with the point where it is.
pub fn place(what: &str, at: &str) -> String {
    match at.trim() {
        "" => what.to_owned(),
        at => format!("{at}: {what}"),
    }
}

/// What is expected there.
pub fn expected(expect: &str) -> String {
    format!("Expected: {expect}")
}

/// How a look divides the suspicion, in percent.
pub fn divides(percent: u32) -> String {
    let rest = 100 - percent;
    format!("About {percent} of 100 speak for a fault that shows there, {rest} against it.")
}

/// A stage that is as good as found.
pub fn named(stage: &str, percent: u32) -> String {
    format!("{stage}: about {percent} of 100")
}

/// That two faults are likely.
pub fn two(percent: u32) -> String {
    format!("Two faults at once: about {percent} of 100.")
}

/// How often it was at fault before.
pub fn before(sets: usize) -> String {
    match sets {
        1 => "Found once in such a set".to_owned(),
        sets => format!("Found {sets} times in such sets"),
    }
}

/// What a look showed, as a key.
pub const fn key(showed: Showed) -> &'static str {
    match showed {
        Showed::Expected => "As expected",
        Showed::Otherwise => "Not as expected",
    }
}

/// What a look showed, in the list.
pub const fn showed(showed: Showed) -> &'static str {
    match showed {
        Showed::Expected => "good",
        Showed::Otherwise => "bad",
    }
}

/// What a look that no longer counts showed.
pub const fn showed_before(showed: Showed) -> &'static str {
    match showed {
        Showed::Expected => "was good",
        Showed::Otherwise => "was bad",
    }
}

/// What a place shows.
pub const fn reach(reach: Reach) -> &'static str {
    match reach {
        Reach::Through => "What comes out of it",
        Reach::Alone => "What it makes by itself",
        Reach::Bias => "How it is fed and biased",
    }
}

/// How often a stage fails.
pub const fn chance(chance: Chance) -> &'static str {
    match chance {
        Chance::Seldom => "Seldom",
        Chance::Usual => "As most do",
        Chance::Often => "Often",
    }
}

/// What it takes to look.
pub const fn effort(effort: Effort) -> &'static str {
    match effort {
        Effort::Little => "At once",
        Effort::Some => "Some",
        Effort::Much => "Much",
        Effort::OutOfReach => "Out of reach",
    }
}

/// What a stage of an own path is called before it has a name.
pub fn nth(number: usize) -> String {
    format!("Stage {number}")
}

/// What is looked at behind it.
pub fn out_of_nth(number: usize) -> String {
    format!("Signal after stage {number}")
}
