//! The photos of a job.

/// The screen, and the way to it.
pub const TITLE: &str = "Photos";
/// The way to it from a step.
pub const TAKE_PHOTO: &str = "Take a photo";
/// What they are for.
pub const LEAD: &str = "The set as it came and as it goes. Photos stay on this device, travel with the job’s file and are printed on the report.";
/// Nothing yet.
pub const NONE: &str = "There are no photos in this job yet.";
/// What the photo shows.
pub const SHOWS: &str = "The next photo shows the set";
/// As it came.
pub const AS_FOUND: &str = "As found";
/// As it goes home.
pub const AS_LEFT: &str = "As left";
/// The field for a note.
pub const NOTE: &str = "Note";
/// What becomes of it.
pub const NOTE_HINT: &str = "type it first: it stands beside the next photo";
/// Opens the camera.
pub const CAMERA: &str = "Take a photo";
/// Opens a file.
pub const LOAD: &str = "Choose a picture";
/// While a photo is scaled down and stored.
pub const WORKING: &str = "Saving the photo …";
/// Takes a photo off, asked about once more.
pub const REMOVE: &str = "Remove…";
/// Does it.
pub const REMOVE_NOW: &str = "Remove the photo";
/// Does it not.
pub const KEEP: &str = "Cancel";
/// A photo was kept.
pub const KEPT: &str = "Photo saved.";
/// A photo was removed.
pub const REMOVED: &str =
    "The photo is no longer shown. That it was taken and removed stays in the log.";
/// The job is signed off.
pub const FINISHED: &str = "Signed off. Reopen under Sign off.";

/// Puts the photo to a step.
pub fn at_step(number: usize, title: &str) -> String {
    format!("At step {number}, {title}")
}

/// How many there are, on the way to them.
pub fn count(photos: usize, sounds: usize) -> String {
    match (photos, sounds) {
        (0, 0) => TITLE.to_owned(),
        (n, 0) => format!("{TITLE} ({n})"),
        (n, more) => format!("Photos and recordings ({})", n + more),
    }
}

/// A photo, for who does not see it.
pub fn alt(when: &str, note: &str) -> String {
    match note.trim() {
        "" => format!("Photo of the set {when}"),
        note => format!("Photo of the set {when}: {note}"),
    }
}

// Files that are not taken as pictures

/// The file is too large to be unpacked.
pub const TOO_LARGE: &str =
    "The file is larger than 64 MB: choose a smaller picture or take a photo anew";
/// The picture has too many pixels.
pub const TOO_MANY_PIXELS: &str = "The picture has more than 64 million pixels: choose a smaller one, or take the photo anew at a lower setting";
/// The browser sees no picture in it.
pub const NO_PICTURE: &str =
    "This browser sees no picture in the file: choose a JPEG, PNG or WebP picture";
/// The browser could not draw or write it.
pub const NOT_DRAWN: &str =
    "This browser could not scale the picture down: close other pages and try again";
