//! Ways out for a file: into the downloads, to another app, into a file of one's choice.

pub const SHARE: &str = "Share…";
pub const CHOOSE: &str = "Save to a file you choose…";
pub const NO_WAYS: &str = "This browser neither hands files to other apps nor writes into a file you choose: what you save goes into its downloads.";
pub const NO_SHARE: &str =
    "This browser doesn’t hand files to other apps: save the file and send it from there.";
pub const NO_CHOICE: &str =
    "This browser doesn’t write into a file you choose: what you save goes into its downloads.";
pub const NOT_SHARED: &str =
    "The file was not shared: save it, and send it with the app that you wanted";

/// Writes once more into the same file.
pub fn save_back(name: &str) -> String {
    format!("Save back to {name}")
}

/// The chosen file holds it now, but for some pictures.
pub fn saved_to(name: &str, left_out: usize) -> String {
    match left_out {
        0 => format!("Saved to {name}."),
        n => format!("Saved to {name}. {}", without(n)),
    }
}

/// It was shared, but for some pictures.
pub fn shared_without(left_out: usize) -> String {
    format!("Shared. {}", without(left_out))
}

fn without(pictures: usize) -> String {
    match pictures {
        1 => "One picture is missing here or had no room in the file.".to_owned(),
        n => format!("{n} pictures are missing here or had no room in the file."),
    }
}

/// The chosen file could not be written.
pub fn not_saved_to(name: &str) -> String {
    format!(
        "{name} was not written: it may have been moved, or writing was not allowed. Choose a file again"
    )
}
