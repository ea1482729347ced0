//! Files with pictures, and the room that pictures take.

use crate::quantity::DecimalSign;

/// A file that went without its pictures, and why.
pub fn without_pictures(name: &str, why: impl std::fmt::Display) -> String {
    format!("{name} was handed to this browser’s downloads without its pictures. {why}")
}

/// The name of a file that goes on from another.
pub fn further(name: &str, part: usize) -> String {
    match name.strip_suffix(".json") {
        Some(stem) => format!("{stem}-pictures-{part}.json"),
        None => format!("{name}-pictures-{part}"),
    }
}

/// A file was handed over: how many more belong to it, and how many pictures are in none of them.
pub fn saved(first: &str, further: usize, missing: usize) -> String {
    let further = match further {
        0 => String::new(),
        1 => " More pictures are in a second file: keep both.".to_owned(),
        n => format!(" More pictures are in {n} more files: keep all of them."),
    };
    let missing = match missing {
        0 => String::new(),
        1 => " One picture is not on this device, so it is not in the file.".to_owned(),
        n => format!(" {n} pictures are not on this device, so they are not in the file."),
    };
    format!("{first}{further}{missing}")
}

/// What goes along as it is, since it can't be read; nothing where all can.
pub fn unread(count: usize) -> String {
    match count {
        0 => String::new(),
        1 => " 1 job or other thing could not be read: its raw text goes along.".to_owned(),
        n => format!(" {n} jobs or other items could not be read: their raw texts go along."),
    }
}

/// It was stopped when this many of the files were handed over.
pub fn stopped_after(files: usize) -> String {
    match files {
        1 => "Stopped. The first file was handed over; its pictures are not all in it.".to_owned(),
        n => format!("Stopped. {n} files were handed over; they don’t have all pictures."),
    }
}

/// Pictures, papers as PDF and sound recordings that a file brings.
pub fn pictures_in_file(counts: [usize; 3], size: &str) -> String {
    let named = ["pictures", "papers as PDF", "sound recordings"].into_iter();
    let there = named.zip(counts).filter(|(_, count)| *count > 0);
    let parts: Vec<String> = there
        .map(|(name, count)| format!("{name}: {count}"))
        .collect();
    let text = format!("{}, {size}", parts.join(", "));
    match text.split_at_checked(1) {
        Some((first, rest)) => first.to_uppercase() + rest,
        None => text,
    }
}

/// What taking them does.
pub const PICTURES_HINT: &str =
    "Those that are here already stay as they are. Left out, a sentence stands in their place.";

// The room that they take.

pub const PICTURES: &str = "Pictures";
/// No pictures.
pub const NONE: &str = "There are no pictures on this device.";
/// While they are counted.
pub const COUNTING: &str = "The pictures are being counted …";
/// Asks once more.
pub const REMOVE: &str = "Remove the unused ones…";
/// Does it not.
pub const KEEP: &str = "Cancel";
/// Why nothing is offered for removal.
pub const NOT_SURE: &str =
    "Something in the storage can’t be read, so it is not known which pictures are unused.";
/// What unused means.
pub const UNUSED_HINT: &str = "Papers of the sets and sound recordings count as pictures here. Unused are photos and recordings that were removed from their jobs, and pictures whose procedures and jobs are no longer on this device. A removed one can’t be brought back but from a file.";

/// How many there are and how much room they take.
pub fn count(count: usize, size: &str) -> String {
    format!("Pictures: {count}, together {size}.")
}

/// How many of them nothing uses.
pub fn unused(count: usize, size: &str) -> String {
    match count {
        0 => "All of them are in use.".to_owned(),
        1 => format!("One of them, {size}, is used by no procedure or job here."),
        n => format!("{n} of them, {size}, are used by no procedure or job here."),
    }
}

/// Removes them.
pub fn remove_now(count: usize) -> String {
    match count {
        1 => "Delete one picture permanently".to_owned(),
        n => format!("Delete {n} pictures permanently"),
    }
}

/// They are removed.
pub fn removed(count: usize) -> String {
    match count {
        1 => "One picture was removed.".to_owned(),
        n => format!("{n} pictures were removed."),
    }
}

/// An amount of storage.
pub fn size(bytes: usize, sign: DecimalSign) -> String {
    let tenths = (bytes * 10).div_ceil(1 << 20);
    match bytes < 1 << 20 {
        true => format!("{} KiB", bytes.div_ceil(1024)),
        false => format!("{}{}{} MiB", tenths / 10, sign.symbol(), tenths % 10),
    }
}
