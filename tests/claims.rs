//! Every sentence of the app that claims something happened or is so, with the test that holds
//! it against the log, the storage or the device.
//!
//! What is taken for a claim: a text of two words or more with one of `VERBS` among them. A new
//! one goes into the table below with its test; a label, a hint or something to be done is none,
//! and is listed as such.

mod texts;

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use texts::{files_in, literals, without_values};

const VERBS: [&str; 30] = [
    "added",
    "backed",
    "changed",
    "confirmed",
    "device",
    "disk",
    "finished",
    "handed",
    "imported",
    "kept",
    "log",
    "logged",
    "lost",
    "match",
    "discarded",
    "merged",
    "published",
    "paused",
    "recovered",
    "removed",
    "renamed",
    "saved",
    "shared",
    "signed",
    "stored",
    "struck",
    "taken",
    "undone",
    "void",
    "written",
];

/// Where the app's sentences stand.
const SOURCES: [&str; 7] = [
    "src/app/words",
    "src/exchange/report/words",
    "src/exchange/import",
    "src/store/storage.rs",
    "src/store/kept",
    "src/store/database.rs",
    "src/job/entries/refusal.rs",
];

/// Claims by how they begin, below the test that holds them: its file and how its name begins.
const HELD: &[(&str, &str, &[&str])] = &[
    (
        "hand-under.test.mjs",
        "where the accuracy is unknown, the instrument is chosen or described",
        &["0 is saved.", "0 is saved and is this job’s 0."],
    ),
    (
        "loose.test.mjs",
        "a reading without a job is thrown away after a question",
        &["The reading was discarded."],
    ),
    (
        "trace.rs",
        "what_was_seen_before_the_set_was_mended",
        &["Since then a part was changed or a cure recorded"],
    ),
    (
        "trace.rs",
        "a_reading_older_than_the_cure_is_told_on_the_sheet",
        &["Not read since a part was changed or a cure recorded"],
    ),
    (
        "trace.rs",
        "what_was_left_before_a_change_is_named_in_the_result",
        &["0 0 0 not read since a part was changed or a cure recorded."],
    ),
    (
        "audio.test.mjs",
        "SINAD is measured, taken by itself once it is steady, and named on sheet and table, offline",
        &["The sound stays on this device."],
    ),
    (
        "audio.test.mjs",
        "the last seconds of sound are kept with a reading: played, in the job’s file, and removed",
        &[
            "Sound recording saved.",
            "The recording is no longer listed. That it was kept and removed stays in the log.",
        ],
    ),
    (
        "heard.rs",
        "a_sound_is_kept_with_a_reading_of_the_device_and_removing_it_is_an_entry_too",
        &["That sound is not in this job, or was removed already"],
    ),
    (
        "signal_series.rs",
        "a_squelch_that_gets_quieter_than_closed_was_not_closed",
        &["It is quieter than what was taken as closed: take it again."],
    ),
    (
        "scan.test.mjs",
        "a label of a job that is not here is told with its number",
        &[
            "This label is of a job that is not on this device: type the serial number.",
            "This label is of job 0, which is not on this device: bring in its file.",
        ],
    ),
    (
        "hold_point.rs",
        "the_stops_that_a_copy_brings_confirmed_are_named",
        &["0 0 in it: confirmed where the file comes from."],
    ),
    (
        "charge.rs",
        "the_sheet_says_what_its_total_is_made_of",
        &["by the log"],
    ),
    (
        "course.rs",
        "the_sheet_names_each_procedure_with_its_revision_and_what_was_added",
        &["0, taken on 0", "Added at the bench"],
    ),
    (
        "course.rs",
        "what_was_taken_on_is_taken_back_by_an_undo_and_its_readings_count_for_nothing_then",
        &["“0” taken on"],
    ),
    (
        "course.rs",
        "what_two_copies_took_on_is_in_the_job_once_and_its_file_opens",
        &["Left out, though a copy of the job took it on: 0, for 0."],
    ),
    (
        "course.rs",
        "what_does_not_go_together_is_refused",
        &["This job is worked by every procedure on this device already."],
    ),
    (
        "visit.test.mjs",
        "a set is booked in without a procedure, and its fault is traced, cured and handed over",
        &[
            "It stands in the log, on the report and in the set's history like any other.",
            "No fault is in the log yet.",
        ],
    ),
    (
        "dealings.rs",
        "a_later_entry_takes_the_place_of_what_was_said_of_a_part",
        &["What this goes on from is not in the job, or was taken back: write it anew"],
    ),
    (
        "visit.test.mjs",
        "what two tabs write into one record is told, not written over",
        &["Another page changed this meanwhile"],
    ),
    (
        "fault_record.rs",
        "a_later_entry_takes_the_place_of_the_record_and_an_undo_brings_it_back",
        &["That fault is not in this job, or was taken back: record it anew"],
    ),
    (
        "published.test.mjs",
        "a stop with a reading: written, closed while it is outside",
        &["Confirmed by 0, 0."],
    ),
    (
        "passes.rs",
        "no_further_change_counts_from_where_the_pass_before_left_each",
        &["Not yet: step 0 changed by 0 from the pass before."],
    ),
    (
        "hold_point.rs",
        "its_reading_is_on_the_sheet",
        &["confirmed by 0"],
    ),
    (
        "storage.test.mjs",
        "a job that can’t be read is set aside as it is",
        &[
            "1 job on this device can’t be read",
            "0 jobs on this device can’t be read",
        ],
    ),
    (
        "care.test.mjs",
        "a break ends a stop, and what needs it says so",
        &["This hold point is not re-confirmed since the pause."],
    ),
    (
        "hand-under.test.mjs",
        "Next does not walk past a stop in silence",
        &["This hold point is not confirmed."],
    ),
    (
        "storage.test.mjs",
        "with the storage full, a reading stays in the field",
        &[
            "Last entry of 0 not saved.",
            "This device's storage for the app is full, so this was not saved",
        ],
    ),
    (
        "storage.test.mjs",
        "a killed browser loses no reading that the screen had called saved",
        &["Recovered after an unexpected close"],
    ),
    (
        "storage.test.mjs",
        "a job that can’t be read is set aside as it is",
        &["What is kept under “0” can't be read"],
    ),
    (
        "storage.test.mjs",
        "a removed job does not come back out of the journal",
        &["0 was removed from this device."],
    ),
    (
        "storage.test.mjs",
        "without a database all goes on",
        &["What you enter is stored, but if the browser is killed"],
    ),
    (
        "store.rs",
        "two_copies_that_would_be_longer_than_any_log_are_not_joined",
        &["Joined with what is here this job would have more than"],
    ),
    (
        "damage.rs",
        "a_stored_log_that_was_cut_off_opens_as_far_as_it_goes_and_says_that_it_stops",
        &["nothing: the log stops there"],
    ),
    (
        "damage.rs",
        "a_number_that_no_entry_has_is_told",
        &["The entries are numbered, and "],
    ),
    (
        "damage.rs",
        "a_copy_whose_damaged_entry_is_not_here_is_not_said_to_change_nothing",
        &["Damaged in the file: 0; not here, kept beside the log and shown as damaged: 0."],
    ),
    (
        "one_judgement.rs",
        "a_shared_null_is_not_made_while_the_worse_side_is_outside",
        &["shared null: the worse side is outside"],
    ),
    (
        "journal.rs",
        "what_cannot_be_read_or_put_back_is_counted_and_harms_nothing",
        &["0 may lack the last entries: after an unexpected close they could not be recovered"],
    ),
    (
        "claims.test.mjs",
        "what is in a file, and what is in none",
        &[
            "0 was handed to this browser’s downloads: see there",
            "Not backed up: 0, 0",
        ],
    ),
    (
        "claims.test.mjs",
        "of a file that finds the storage full",
        &["0 of 0 items imported, each of them whole; the next one was not. 0"],
    ),
    (
        "claims.test.mjs",
        "what differs from what is here is not ticked",
        &["1 item imported.", "0 items imported."],
    ),
    (
        "claims.test.mjs",
        "a draft thrown away in another tab is not called kept",
        &[
            "This draft was published or discarded in another tab, so what is typed here is not",
            "What this address leads to is not here. It may have been published",
        ],
    ),
    (
        "claims.test.mjs",
        "a change of a draft that finds no room is not called taken back",
        &["It is kept on this device from the first letter on."],
    ),
    (
        "two.test.mjs",
        "a break taken in one tab holds in the other",
        &[
            "Pause logged.",
            "Confirmed 0. Paused since",
            "Done 0. Paused since",
            "Paused: re-confirm",
        ],
    ),
    (
        "two.test.mjs",
        "an undo in one tab takes back what the other entered last",
        &["Undone: 0 at step 0."],
    ),
    (
        "two.test.mjs",
        "a job removed in one tab is gone from the other",
        &[
            "Not on this device",
            "The job or step of this address is not here.",
        ],
    ),
    (
        "two.test.mjs",
        "a job finished in one tab takes nothing in the other",
        &["Signed off. Reopen under", "Finished by 0, 0"],
    ),
    (
        "two.test.mjs",
        "a look into a file that another tab overtook takes nothing in",
        &["What is here was changed since the file was looked into, so nothing was imported"],
    ),
    (
        "two.test.mjs",
        "a draft published in one tab is not published once more",
        &[
            "Revision 0 came to this device while this draft went on",
            "Revision 0 is published.",
        ],
    ),
    (
        "two.test.mjs",
        "two devices that exchange a job’s files show the same log",
        &[
            "Here already: 0 will be added to its log.",
            "Here already, and worked on in both places: 0 will be added",
        ],
    ),
    (
        "two.test.mjs",
        "signed off on one device and worked on at the other",
        &[
            "Signed off, but 0: a copy of this job that was merged",
            "Signed off",
        ],
    ),
    (
        "care.test.mjs",
        "a job left for more than half an hour had a break",
        &["No entry for more than half an hour: pause logged."],
    ),
    (
        "care.test.mjs",
        "a part fitted is a change with what was agreed",
        &["Nothing was changed so far."],
    ),
    (
        "care.rs",
        "what_became_of_a_stop_after_a_break_is_what_the_log_holds",
        &[
            "Hold point 0 was confirmed again, 0, 0.",
            "Hold point 0 was not confirmed again",
            "Locked until hold point 0 is confirmed",
            "is confirmed.",
        ],
    ),
    (
        "care.rs",
        "nothing_is_signed_off_while_something_is_off",
        &["The reason stands with the finished job."],
    ),
    (
        "exchange.test.mjs",
        "long work says how far it is and can be stopped anywhere",
        &[
            "Stopped. Nothing was changed.",
            "Stopped. No file was saved.",
            "Stopped. 0 of 0 items imported, each of them whole",
        ],
    ),
    (
        "exchange.test.mjs",
        "saving goes straight back into the file that was chosen",
        &["Saved to 0.", "0 was not written: it may have been moved"],
    ),
    (
        "exchange.rs",
        "a_procedure_is_new_the_same_newer_older_or_clashes",
        &[
            "New here: it will be added.",
            "A later revision than the one here (0): it will be added",
            "An earlier revision than the one here (0): it will be added",
            "Something else is here under the same name and revision",
        ],
    ),
    (
        "bad-input.test.mjs",
        "a file that can’t be used changes nothing",
        &["0: 0. Nothing was changed"],
    ),
    (
        "author.test.mjs",
        "a draft is there after a reload and after a crash, and in another tab",
        &[
            "No errors. Saved 0",
            "1 error. Saved 0",
            "0 errors. Saved 0",
        ],
    ),
    (
        "author.test.mjs",
        "steps are dragged by touch, moved, split off, duplicated, removed and brought back",
        &["Step 0 is removed. Undo brings it back."],
    ),
    (
        "author.test.mjs",
        "a procedure of forty steps by touch",
        &[
            "A revision never changes once it is published.",
            "All its text is lost.",
        ],
    ),
    (
        "store.rs",
        "two_pages_that_write_one_procedure_do_not_overwrite_each_other",
        &[
            "Another tab changed this draft at the same moment",
            "Another tab changed this draft meanwhile, so nothing was taken back",
        ],
    ),
    (
        "offline.test.mjs",
        "after one visit the app starts at any address with the server gone",
        &["The app is on this device and starts offline."],
    ),
    (
        "offline.test.mjs",
        "a browser killed while an update downloads starts the old version offline",
        &["Whether the app is wholly on this device is being checked"],
    ),
    (
        "offline.test.mjs",
        "while a file can’t be mended the page says so",
        &["The app is not wholly on this device, so it may not start offline."],
    ),
    (
        "papers.test.mjs",
        "a PDF is kept and opened, and a step leads to the very place",
        &["Paper saved."],
    ),
    (
        "papers.test.mjs",
        "a picture is a paper too: its name is typed, it is pinned, and taken out",
        &["The paper is no longer in this job. Its entry stays in the log."],
    ),
    (
        "papers.test.mjs",
        "what can’t be shown is refused with a sentence",
        &["This PDF was not kept: 0"],
    ),
    (
        "papers.rs",
        "a_paper_that_is_not_there_or_has_no_name_is_refused",
        &["That paper is not in this job, or was taken out already"],
    ),
    (
        "pictures.test.mjs",
        "photos as found and as left stand in the job",
        &["Photo saved."],
    ),
    (
        "pictures.test.mjs",
        "a removed photo is gone from the job, stays in the log",
        &["The photo is no longer shown. That it was taken and removed stays in the log."],
    ),
    (
        "pictures.test.mjs",
        "the data screen says what pictures take",
        &[
            "There are no pictures on this device.",
            "Papers of the sets and sound recordings count as pictures here. Unused are photos and recordings that were removed from their jobs",
            "One picture was removed.",
            "0 pictures were removed.",
        ],
    ),
    (
        "parts.test.mjs",
        "a screen that is not here yet is not shown",
        &["This screen is not on the device yet."],
    ),
    (
        "pictures.test.mjs",
        "a picture that is not here leaves a sentence in its place",
        &["This photo is not on the device that made the report."],
    ),
    (
        "report.rs",
        "an_unfinished_job_says_that_it_is_a_draft_and_what_is_owed",
        &["Draft: ", "not signed off", "signed off, 0"],
    ),
    (
        "report.rs",
        "a_sheet_is_matched_with_its_file_and_with_no_other",
        &[
            "They match: the report was made from this file.",
            "They don’t match",
        ],
    ),
    (
        "sheet.rs",
        "every_state_that_a_log_went_through_is_known_by_its_fingerprint",
        &[
            "They match up to entry 0 of the job",
            "1 entry was added since",
            "0 entries were added since",
        ],
    ),
    (
        "report.rs",
        "breaks_and_long_gaps_take_no_time",
        &["Counted from entry to entry in the log"],
    ),
    (
        "claims.test.mjs",
        "a file whose pictures can’t be had says so",
        &[
            "One picture is not on this device, so it is not in the file.",
            "0 pictures are not on this device, so they are not in the file.",
            "0 was handed to this browser’s downloads without its pictures.",
        ],
    ),
    (
        "claims.test.mjs",
        "what another app did not take is not called shared",
        &["The file was not shared: save it"],
    ),
    (
        "claims.test.mjs",
        "of a file that finds the storage full",
        &["There is no procedure on this device yet."],
    ),
    (
        "pictures.rs",
        "photos_follow_from_the_log_and_removing_and_undoing_are_entries_too",
        &["That photo is not in this job, or was removed already"],
    ),
    (
        "report.test.mjs",
        "a sheet is matched with its file, and with no other",
        &["Each report carries the fingerprint of the job’s file"],
    ),
    (
        "report.rs",
        "visits_of_one_set_are_found_by_plate_and_put_in_order",
        &["No job on this device is of this set."],
    ),
    (
        "handover.rs",
        "what_was_seen_done_changed_put_back_and_waived_is_that_of_the_log",
        &["0 is void, entry error: 0"],
    ),
    (
        "exchange.rs",
        "taking_the_value_of_a_file_takes_back_the_one_here_and_both_stay_in_the_log",
        &["0 here and in the file under one name, but not the same. What is here stays, unless"],
    ),
    (
        "exchange.rs",
        "a_finished_job_takes_no_corrections_until_it_is_reopened",
        &["0 here and in the file under one name, but not the same. The job is finished"],
    ),
    (
        "job.rs",
        "a_log_whose_numbers_have_come_to_their_end_takes_no_entry_and_can_be_read_back",
        &["This job's log takes no more entries"],
    ),
    (
        "journal.rs",
        "a_stale_page_does_not_bring_a_removed_job_back_nor_does_the_journal",
        &["This job was removed from this device on another page"],
    ),
    (
        "journal.rs",
        "what_could_not_be_written_stays_due_though_something_else_succeeds",
        &[
            "0 Not yet surely on the disk",
            "; not yet surely on the disk",
        ],
    ),
];

/// What no test gets at, and why.
const UNTESTED: &[(&str, &str)] = &[
    (
        "Stopped. 0 files were handed over",
        "it takes more pictures than one file may hold",
    ),
    (
        "Stopped. The first file was handed over",
        "it takes more pictures than one file may hold",
    ),
    (
        "This device has no room left for the app, so this was not saved",
        "a database of gigabytes",
    ),
];

/// What has such a verb in it and claims nothing: labels, hints, what can or has to be done, what
/// is called something where it is offered or told as taken back, and what the browser lacks.
const NO_CLAIM: &[&str] = &[
    "For when there is no job yet.",
    "0 off, removed parts",
    "Add a removed part",
    "More: cautions, hold points, waits, removed parts, cross-check",
    "No match. Try fewer words.",
    "Removed parts",
    "That is not among the removed parts",
    "To the removed parts",
    "not taken",
    "Blank: as the log has it",
    "Confirmed by a reading alone: 0.",
    "are taken only if you tick them one by one",
    "is taken only if you tick it",
    "A draft of this procedure is being written: publish or",
    "A file is still being read or written",
    "A procedure, a job, several things or a backup saved from here",
    "A reading as left is taken with the tool away",
    "Can’t be taken",
    "can’t be taken",
    "Everything is kept in this browser on this device only.",
    "Halfturn leads you through inspecting",
    "After a pause all below it is locked until it is re-confirmed, unless",
    "The app is made with the work of others.",
    "What another app handed over holds no file",
    "It holds the whole job with its procedure",
    "It stands in the log and on the report.",
    "Jobs on this device",
    "Nothing below before this is confirmed",
    "One reading is still to be taken.",
    "0 readings are still to be taken.",
    "Published limit",
    "Reason. The reading stays visible, marked void.",
    "Say why. The sign-off stays in the log.",
    "Steps can be read aloud",
    "Steps can’t be read aloud here",
    "Void",
    "Taken from",
    "The day of the next check is not known.",
    "The job can be signed off when",
    "Circuit diagrams, layouts and service sheets, as PDF or pictures. They stay on this device",
    "The reader of PDFs is not on this device yet",
    "This paper is not on this device: bring in",
    "The set as it came and as it goes.",
    "This browser can’t keep the app on the device here",
    "This browser has no voice of its own on this device",
    "This job is finished: reopen it",
    "Locked until hold point 0 is confirmed: go there first",
    "To be confirmed",
    "What is ticked goes into one file",
    "When the reading is taken",
    "Whether a printed or saved report",
    "While a step is shown, the device is asked",
    "a group of steps added",
    "a group of steps removed",
    "a mode removed",
    "a published limit",
    "a section removed",
    "an oscillator removed",
    "step 0 removed",
    "“0” renamed to “0”",
    "“0” taken off the list",
    "taken back",
    "the plan removed",
    "the procedure being written in it can't be read",
    "the cross-check removed",
    "what is in saved files can't be read from it",
    "what is set for this device can't be read from it",
    "As the device",
    "A step for safety that has to be confirmed before the steps behind it",
    "An adjuster that this reading depends on was turned since",
];

/// A text that claims something.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Claim {
    place: String,
    text: String,
}

fn root(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

fn read(path: &Path) -> String {
    fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn files_of(source: &str) -> Vec<PathBuf> {
    files_in(&root(source))
}

fn claims_in(code: &str) -> impl Iterator<Item = String> {
    let texts = literals(code).into_iter();
    let texts = texts.map(|literal| without_values(literal.text).trim().to_owned());
    texts.filter(|text| {
        let letters = |c: char| !c.is_alphabetic() && c != '’' && c != '\'';
        let words: Vec<String> = text.split(letters).map(str::to_lowercase).collect();
        let count = words.iter().filter(|word| !word.is_empty()).count();
        text.contains(' ') && count > 1 && words.iter().any(|word| VERBS.contains(&word.as_str()))
    })
}

fn claims() -> BTreeSet<Claim> {
    let files = SOURCES.iter().flat_map(|source| files_of(source));
    let claims = files.flat_map(|path| {
        let place = path
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        let claim = |text| Claim {
            place: place.clone(),
            text,
        };
        claims_in(&read(&path)).map(claim).collect::<Vec<_>>()
    });
    claims.collect()
}

fn beginnings() -> impl Iterator<Item = &'static str> {
    let held = HELD.iter().flat_map(|(_, _, claims)| claims.iter());
    let untested = UNTESTED.iter().map(|(claim, _)| claim);
    held.chain(untested).chain(NO_CLAIM).copied()
}

#[test]
fn every_claim_is_listed_with_its_test_and_nothing_else_is() {
    let claims = claims();
    let unlisted = claims
        .iter()
        .filter(|claim| !beginnings().any(|b| claim.text.starts_with(b)));
    let unlisted: Vec<String> = unlisted
        .map(|c| format!("{}: {}", c.place, c.text))
        .collect();
    assert!(
        unlisted.is_empty(),
        "list these claims with the test that holds each:\n{}",
        unlisted.join("\n")
    );
    let gone = beginnings().filter(|b| !claims.iter().any(|claim| claim.text.starts_with(b)));
    let gone: Vec<&str> = gone.collect();
    assert!(
        gone.is_empty(),
        "nothing says this any more:\n{}",
        gone.join("\n")
    );
}

#[test]
fn the_tests_that_hold_claims_are_there() {
    for (file, name, _) in HELD {
        let (path, start) = match file.ends_with(".mjs") {
            true => (root("tests/browser").join(file), "test("),
            false => (root("tests").join(file), "fn "),
        };
        let is_it = |line: &str| {
            let named = line.trim_start().strip_prefix(start);
            named.is_some_and(|rest| rest.trim_start_matches(['\'', '`']).starts_with(name))
        };
        assert!(
            read(&path).lines().any(is_it),
            "{file} has no test “{name}”"
        );
    }
}
