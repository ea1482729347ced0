//! What files promise: the same bytes for the same content, a sentence for every bad one, and
//! an import that says first what it will do.

mod support;

use halfturn::exchange::{
    Backup, Choice, Document, DocumentError, Here, Item, MAX_BYTES, Outcome, Part, Picture,
    Subject, file_name, open, parts, preview, read, write, write_with,
};
use halfturn::job::{Event, Job, Log, Phase, Preferences};
use halfturn::metrology::instrument::Instrument;
use halfturn::procedure::Procedure;
use halfturn::quantity::DecimalSign;
use halfturn::radio::channels::ChannelTable;
use halfturn::store::{MemoryStorage, Store};
use proptest::prelude::*;
use support::*;

fn kit() -> Vec<Instrument> {
    let counter = serde_json::json!({
        "role": "counter",
        "name": "Bench counter",
        "asset": "A-1",
        "calibrated": "2030-03-01",
        "due": "2031-03-01",
        "ranges": [{
            "full-scale": "100 MHz",
            "resolution": "1 Hz",
            "accuracy": {"ppm": "1.0", "counts": 1}
        }],
        "corrections": [{"time-base": {"reference": "10.000000 MHz", "reading": "10.000012 MHz"}}]
    });
    vec![serde_json::from_value(counter).expect("an instrument")]
}

fn preferences() -> Preferences {
    Preferences {
        decimal_sign: DecimalSign::Comma,
        technician: "Quillmere bench".to_owned(),
        ..Preferences::default()
    }
}

fn backup(jobs: Vec<Job>) -> Document {
    Document::Backup(Backup::of(preferences(), kit(), vec![procedure()], jobs))
}

fn job_text() -> String {
    write(&Document::Job(eventful_job()))
}

fn backup_text() -> String {
    write(&backup(vec![eventful_job(), job_named("job-18")]))
}

fn job_named(name: &str) -> Job {
    Job {
        id: id(name),
        ..worked_job()
    }
}

/// A job by a procedure of one section, so that its file is short.
fn small_job() -> Job {
    let mut procedure = procedure();
    procedure.sections.truncate(1);
    let mut job = Job::open(id("job-9"), procedure, header(), stamp(1));
    does(&mut job, answer("look"));
    does(&mut job, note(None, "10 µF, dry"));
    job
}

fn revision(number: u32) -> Procedure {
    Procedure {
        revision: number,
        ..procedure()
    }
}

fn sentence(text: &str) -> String {
    match read(text) {
        Err(error) => error.to_string(),
        Ok(_) => "The file is good".to_owned(),
    }
}

/// The text with one occurrence of a part replaced; the part must be there.
fn with(text: &str, part: &str, other: &str) -> String {
    assert!(text.contains(part), "{part}");
    text.replacen(part, other, 1)
}

/// The text without the checks of its events, as whoever changes them by hand has to leave it.
fn unchecked(text: &str) -> String {
    let mut lines: Vec<&str> = Vec::new();
    for line in text.lines() {
        match line.trim_start().starts_with("\"check\": ") {
            true => {
                let before = lines.pop().unwrap_or_default();
                lines.push(before.trim_end_matches(','));
            }
            false => lines.push(line),
        }
    }
    lines.join("\n") + "\n"
}

// The same bytes

fn any_job() -> impl Strategy<Value = Job> {
    drafts(16).prop_map(|drafts| {
        let job = fresh_job();
        let log = written(&job.log, "a", &drafts);
        Job { log, ..job }
    })
}

fn any_procedure() -> impl Strategy<Value = Procedure> {
    (
        ".{1,20}",
        1u32..,
        ".{0,20}",
        prop::collection::vec(".{0,20}", 0..3),
    )
        .prop_filter("a title", |(title, ..)| !title.trim().is_empty())
        .prop_map(|(title, revision, covers, cautions)| Procedure {
            title,
            revision,
            covers,
            cautions,
            ..procedure()
        })
}

fn any_document() -> impl Strategy<Value = Document> {
    let job_with_its_procedure = || {
        (any_job(), any_procedure()).prop_map(|(job, procedure)| Job {
            procedure: procedure.into(),
            ..job
        })
    };
    let backup = (job_with_its_procedure(), any_procedure()).prop_map(|(job, procedure)| {
        let jobs = vec![job, job_named("job-2"), job_named("job-1")];
        Document::Backup(Backup::of(preferences(), kit(), vec![procedure], jobs))
    });
    prop_oneof![
        any_procedure().prop_map(Document::Procedure),
        job_with_its_procedure().prop_map(Document::Job),
        backup,
    ]
}

/// A backup without the parts whose bits are set; nothing else changes.
fn with_parts_left_out(document: Document, bits: u8) -> Document {
    let Document::Backup(mut backup) = document else {
        return document;
    };
    let is_out = |bit: u8| bits & 1 << bit != 0;
    if is_out(0) {
        backup.preferences = None;
    }
    if is_out(1) {
        backup.kit.clear();
    }
    if !is_out(2) {
        backup.channels = vec![ChannelTable::uk_27_81()];
    }
    if is_out(3) {
        backup.procedures.clear();
    }
    if is_out(4) {
        backup.jobs.clear();
    }
    Document::Backup(backup)
}

proptest! {
    #![proptest_config(cases(48))]

    #[test]
    fn a_file_read_and_written_again_is_the_same_to_the_byte(document in any_document()) {
        let first = write(&document);
        let again = read(&first);
        prop_assert_eq!(again.as_ref(), Ok(&document));
        prop_assert_eq!(again.map(|document| write(&document)), Ok(first));
    }

    #[test]
    fn the_parts_of_a_file_are_together_the_same_to_the_byte(
        document in any_document(),
        parts_left_out in 0u8..32,
        with_pictures in any::<bool>(),
    ) {
        let document = with_parts_left_out(document, parts_left_out);
        let pictures = if with_pictures { pictures().to_vec() } else { vec![] };
        let parts: Vec<String> = parts(&document, &pictures).collect();
        prop_assert_eq!(parts.concat(), write_with(&document, &pictures));
        if let Document::Backup(backup) = &document {
            prop_assert!(parts.len() >= backup.things() + pictures.len());
        }
    }

    #[test]
    fn events_in_any_order_in_a_file_are_written_in_their_own(
        events in Just(eventful_job().log.events().cloned().collect::<Vec<_>>()).prop_shuffle(),
    ) {
        let log = Log::from_events(events).expect("a log");
        let job = Job { log, ..eventful_job() };
        prop_assert_eq!(write(&Document::Job(job)), job_text());
    }
}

#[test]
fn keys_keep_one_order() {
    let text = job_text();
    let places: Vec<_> = [
        "{\n  \"type\": \"halfturn-job\",\n  \"version\": 3,\n  \"job\": {\n    \"id\": \"job-17\",\n    \"procedure\": {\n      \"id\": \"trainer-short\",\n      \"title\"",
        "\"revision\": 3",
        "\"covers\"",
        "\"cautions\"",
        "\"adjusters\"",
        "\"test-points\"",
        "\"instruments\"",
        "\"sections\"",
        "\"log\"",
        "\"id\": \"e1\",\n        \"seq\": 1,\n        \"at\": 1700000000001,\n        \"did\": {",
        "\"id\": \"e2\"",
    ]
    .into_iter()
    .map(|part| text.find(part))
    .collect();
    assert!(places.iter().all(Option::is_some), "{places:?}");
    assert!(places.is_sorted(), "{places:?}");
    assert!(text.ends_with("}\n"));
}

#[test]
fn a_backup_is_the_same_in_whatever_order_its_things_were_found() {
    let jobs = || vec![job_named("a"), job_named("b")];
    let procedures = || vec![revision(1), revision(2), procedure()];
    let forward = Backup::of(preferences(), kit(), procedures(), jobs());
    let backward = Backup::of(
        preferences(),
        kit(),
        procedures().into_iter().rev().collect(),
        jobs().into_iter().rev().collect(),
    );
    assert_eq!(forward, backward);
    assert_eq!(forward.procedures.len(), 3);
    assert_eq!(forward.whole_jobs(), jobs());
}

#[test]
fn a_job_in_a_file_brings_its_procedure_along() {
    assert_eq!(read(&job_text()), Ok(Document::Job(eventful_job())));
}

#[test]
fn a_byte_order_mark_and_blanks_around_a_file_are_let_pass() {
    let text = format!("\u{feff}\r\n {} \n\n", job_text());
    assert_eq!(read(&text), Ok(Document::Job(eventful_job())));
}

#[test]
fn script_in_a_text_is_kept_as_a_text() {
    let script = "<script>alert('Quillmere')</script>\u{0}\u{202e}&amp;";
    let job = job_with([note(None, script)]);
    let text = write(&Document::Job(job.clone()));
    assert_eq!(read(&text), Ok(Document::Job(job.clone())));
    assert_eq!(job.progress().notes[0].text, script);
}

// Bad files

#[test]
fn a_file_cut_short_anywhere_says_so() {
    let all_bytes = (write(&Document::Job(small_job())), 1);
    for (text, stride) in [all_bytes, (job_text(), 97), (backup_text(), 97)] {
        let whole = text.trim_end();
        for (cut, _) in whole.char_indices().skip(1).step_by(stride) {
            let beginning = &whole[..cut];
            assert_eq!(read(beginning), Err(DocumentError::CutShort), "at {cut}");
        }
    }
}

#[test]
fn a_file_over_the_limit_is_refused_before_it_is_read() {
    let over = " ".repeat(MAX_BYTES + 1);
    assert_eq!(read(&over), Err(DocumentError::TooLarge(MAX_BYTES + 1)));
    let said = sentence(&over);
    assert!(
        said.contains("65 MB") && said.contains("at most 64 MB"),
        "{said}"
    );
}

#[test]
fn what_is_no_file_of_ours_gets_a_sentence_that_says_so() {
    let deep = |open: &str, close: &str| open.repeat(10_000) + "1" + &close.repeat(10_000);
    let table = [
        ("", "is empty"),
        (" \n\t", "is empty"),
        ("\u{feff}", "is empty"),
        ("not JSON", "not JSON from line 1, column 2 on"),
        ("{\n  oops", "not JSON from line 2, column 3 on"),
        ("<html></html>", "not JSON from line 1, column 1 on"),
        (
            "{\"type\": \"halfturn-job\", \"version\": 2}\n{}",
            "not JSON from line 2, column 1 on",
        ),
        (
            "null",
            "does not say that it is a procedure, a job or a backup",
        ),
        ("[1, 2]", "does not say that it is"),
        ("{}", "does not say that it is"),
        ("{\"type\": \"halfturn-job\"}", "does not say that it is"),
        ("{\"type\": 1, \"version\": 2}", "does not say that it is"),
        (
            "{\"type\": \"drawing\", \"version\": 2}",
            "of the type “drawing”, which is not known here",
        ),
        (
            "{\"type\": \"halfturn-poem\", \"version\": 2}",
            "of the type “halfturn-poem”, which is not known here",
        ),
        (&deep("[", "]"), "does not say that it is"),
        (&deep("{\"a\":", "}"), "does not say that it is"),
        (&"[".repeat(10_000), "does not say that it is"),
        (&"{\"a\":".repeat(10_000), "stops in the middle"),
    ];
    for (text, part) in table {
        let said = sentence(text);
        let beginning: String = text.chars().take(40).collect();
        assert!(said.contains(part), "{beginning}: {said}");
    }
}

#[test]
fn a_job_file_with_one_thing_wrong_gets_a_sentence_that_says_what_and_where() {
    let job = unchecked(&job_text());
    let deep = format!("\"job\": {}1{},", "[".repeat(10_000), "]".repeat(10_000));
    let forty = "1".repeat(40);
    let table = [
        (
            "a later format",
            with(&job, "\"version\": 3", "\"version\": 4"),
            ["format 4, from a later version", "update the app first"],
        ),
        (
            "format nought",
            with(&job, "\"version\": 3", "\"version\": 0"),
            ["at version", "count from 1"],
        ),
        (
            "another type than its content",
            with(&job, "halfturn-job", "halfturn-procedure"),
            ["at job", "unknown field `job`"],
        ),
        (
            "a missing field",
            with(&job, "\"title\": \"Quillmere trainer, short check\",", ""),
            ["at job.procedure", "missing field `title`"],
        ),
        (
            "a missing content",
            "{\"type\": \"halfturn-job\", \"version\": 2}".to_owned(),
            ["Something in the file is not right", "missing field `job`"],
        ),
        (
            "an unknown field",
            with(&job, "\"revision\"", "\"mood\": 1, \"revision\""),
            ["at job.procedure", "unknown field `mood`"],
        ),
        (
            "a key that is there twice",
            with(&job, "\"revision\": 3", "\"revision\": 3, \"revision\": 3"),
            ["at job.procedure", "duplicate field `revision`"],
        ),
        (
            "a content that is there twice",
            with(&job, "\"job\": {", "\"job\": {}, \"job\": {"),
            ["at job", "missing field `id`"],
        ),
        (
            "two steps of one name",
            with(&job, "\"id\": \"part\"", "\"id\": \"lead\""),
            ["at job.procedure", "Two steps are called “lead”"],
        ),
        (
            "two events of one id",
            with(&job, "\"id\": \"e3\"", "\"id\": \"e2\""),
            ["at job.log", "two events have the id “e2”"],
        ),
        (
            "a number for a text",
            with(&job, "\"title\": \"Before power\"", "\"title\": 5"),
            ["at job.procedure.sections[0].title", "expected a string"],
        ),
        (
            "a number for a quantity",
            with(&job, "\"10.24001 MHz\"", "10.24001"),
            [
                "at job.log[5]: event “e6” at did.reading.value",
                "expected a string",
            ],
        ),
        (
            "a number of 40 digits",
            with(&job, "\"10.24001 MHz\"", &format!("\"{forty} MHz\"")),
            [
                "at job.log[5]: event “e6” at did.reading.value",
                "has 40 digits",
            ],
        ),
        (
            "a unit that is not known",
            with(&job, "\"10.24001 MHz\"", "\"10.24001 furlong\""),
            [
                "at job.log[5]: event “e6” at did.reading.value",
                "“furlong” is not a unit",
            ],
        ),
        (
            "a sequence number of 40 digits",
            with(&job, "\"seq\": 2,", &format!("\"seq\": {forty},")),
            ["at job.log[1]: event “e2” at seq", "invalid type"],
        ),
        (
            "a sequence number beyond what JSON keeps exact",
            with(&job, "\"seq\": 2,", "\"seq\": 9007199254740992,"),
            ["at job.log", "event “e2” has an impossible sequence number"],
        ),
        (
            "a number beyond all bounds",
            with(&job, "\"seq\": 2,", "\"seq\": 1e999,"),
            ["at job.log[1]", "out of range"],
        ),
        (
            "an event of an unknown kind",
            with(&job, "\"answered\"", "\"admired\""),
            ["at job.log[1]", "unknown variant `admired`"],
        ),
        (
            "an event of two kinds",
            with(
                &job,
                "\"did\": {",
                "\"did\": {\"ticked\": {\"step\": \"lead\"}, ",
            ),
            ["at job.log[0]", "expected"],
        ),
        (
            "an event about an unknown step",
            with(&job, "\"step\": \"close\"", "\"step\": \"polish\""),
            ["at job.log", "event “e13” is about a step “polish”"],
        ),
        (
            "a job that nothing opens",
            with(&job, "\"opened\"", "\"amended\""),
            ["at job.log", "no event opens the job"],
        ),
        (
            "an id that is empty",
            with(&job, "\"id\": \"job-17\"", "\"id\": \" \""),
            ["at job.id", "A name is empty"],
        ),
        (
            "an id with a line break",
            with(&job, "\"id\": \"job-17\"", "\"id\": \"a\\nb\""),
            ["at job.id", "a line break"],
        ),
        (
            "half a character",
            with(&job, "\"id\": \"job-17\"", "\"id\": \"\\ud83d\""),
            ["at job.id", "hex escape"],
        ),
        (
            "a content nested 10,000 deep",
            with(&job, "\"job\": {", &format!("{deep} \"x\": {{")),
            ["at job", "invalid type: sequence"],
        ),
        (
            "a target without its test point",
            with(&job, "\"ref\": \"TP2\"", "\"ref\": \"TP9\""),
            ["at job.procedure", "Step 6: there is no test point “TP2”"],
        ),
    ];
    for (what, text, parts) in table {
        let said = sentence(&text);
        for part in parts {
            assert!(said.contains(part), "{what}: {said}");
        }
    }
}

#[test]
fn a_backup_with_one_thing_wrong_says_what_and_where() {
    let good = backup_text();
    let digest = procedure().digest();
    let other = "0".repeat(64);
    for (text, parts) in [
        (
            with(
                &good,
                &format!("\"procedure\": \"{digest}\""),
                &format!("\"procedure\": \"{other}\""),
            ),
            ["at backup.jobs[0]", "its procedure is not in the file"],
        ),
        (
            with(&good, "\"id\": \"job-18\"", "\"id\": \"job-17\""),
            ["at backup.jobs[1]", "two jobs have the id “job-17”"],
        ),
        (
            with(&good, "\"revision\": 3", "\"revision\": 0"),
            ["at backup.procedures[0]", "The revision is 0"],
        ),
        (
            with(&good, "\"comma\"", "\"apostrophe\""),
            [
                "at backup.preferences.decimal-sign",
                "unknown variant `apostrophe`",
            ],
        ),
    ] {
        let said = sentence(&text);
        for part in parts {
            assert!(said.contains(part), "{said}");
        }
    }
}

#[test]
fn one_faulty_thing_in_a_file_leaves_the_others_to_be_taken() {
    let Document::Backup(whole) = backup(vec![eventful_job(), job_named("job-18")]) else {
        panic!("no backup")
    };
    let all = Backup {
        channels: vec![ChannelTable::uk_27_81()],
        ..whole
    };
    let good = unchecked(&write_with(&Document::Backup(all.clone()), &pictures()));
    for (what, spoil, part, name, why) in [
        (
            "settings",
            ("\"comma\"", "\"apostrophe\""),
            Part::Preferences,
            None,
            "at backup.preferences.decimal-sign: unknown variant",
        ),
        (
            "an instrument",
            ("\"asset\": \"A-1\"", "\"asset\": 1"),
            Part::Instrument(1),
            Some("Bench counter"),
            "at backup.kit[0].asset: invalid type",
        ),
        (
            "a channel table",
            (
                "\"channels\": [\n      {\n        \"name\"",
                "\"channels\": [\n      {\n        \"title\"",
            ),
            Part::Channels(1),
            Some("UK 27/81, 40 channels"),
            "at backup.channels[0]",
        ),
        (
            "a job of an unknown step",
            ("\"step\": \"close\"", "\"step\": \"polish\""),
            Part::Job(1),
            None,
            "at backup.jobs[0]: event “e13” is about a step “polish”",
        ),
        (
            "a job whose id is there already",
            ("\"id\": \"job-18\"", "\"id\": \"job-17\""),
            Part::Job(2),
            None,
            "at backup.jobs[1]: two jobs have the id “job-17”",
        ),
        (
            "a picture",
            ("image/png", "image/webp"),
            Part::Picture(2),
            None,
            "at pictures[1]",
        ),
    ] {
        let file = open(&with(&good, spoil.0, spoil.1)).expect(what);
        let [faulty] = file.faulty.as_slice() else {
            panic!("{what}: {:?}", file.faulty)
        };
        assert_eq!(
            (faulty.part, faulty.name.as_deref()),
            (part, name),
            "{what}"
        );
        assert!(
            faulty.why.to_string().contains(why),
            "{what}: {}",
            faulty.why
        );
        let Document::Backup(rest) = file.document else {
            panic!("{what}: no backup")
        };
        let left = |b: &Backup| {
            let settings = usize::from(b.preferences.is_some());
            settings + b.kit.len() + b.channels.len() + b.procedures.len() + b.jobs.len()
        };
        let all_left = left(&all) + pictures().len();
        assert_eq!(left(&rest) + file.pictures.len(), all_left - 1, "{what}");
    }
}

#[test]
fn a_faulty_procedure_takes_the_jobs_along_that_follow_it() {
    let file = open(&with(&backup_text(), "\"revision\": 3", "\"revision\": 0")).expect("a file");
    let parts: Vec<Part> = file.faulty.iter().map(|faulty| faulty.part).collect();
    assert_eq!(parts, [Part::Procedure(1), Part::Job(1), Part::Job(2)]);
    assert_eq!(
        file.faulty[0].name.as_deref(),
        Some("Quillmere trainer, short check")
    );
}

#[test]
fn a_file_holds_what_was_picked_for_it_and_nothing_else() {
    let picked = Document::Backup(Backup {
        kit: kit(),
        ..Backup::default()
    });
    let text = write(&picked);
    assert_eq!(read(&text), Ok(picked.clone()));
    assert!(
        !text.contains("preferences") && !text.contains("jobs"),
        "{text}"
    );
    assert_eq!(
        file_name(&picked, "2031-05-04"),
        "halfturn-several-2031-05-04.json"
    );
    let nothing = Document::Backup(Backup::default());
    assert_eq!(read(&write(&nothing)), Ok(nothing));
}

#[test]
fn a_sentence_stays_short_however_long_the_odd_thing_is() {
    let long = "x".repeat(100_000);
    let job = job_text();
    for text in [
        with(
            &job,
            "\"revision\"",
            &format!("\"{long}\": 1, \"revision\""),
        ),
        with(&job, "\"halfturn-job\"", &format!("\"{long}\"")),
        with(&job, "\"answered\"", &format!("\"{long}\"")),
        with(&job, "\"10.24001 MHz\"", &format!("\"{long}\"")),
        with(&job, "\"job-17\"", &format!("\"{long}\"")),
    ] {
        let said = sentence(&text);
        assert!(said.chars().count() < 700, "{}", said.len());
    }
}

// Pictures

/// The bytes with which each format begins, and a few more.
fn pictures() -> [Picture; 3] {
    let beginnings: [&[u8]; 3] = [
        b"\xff\xd8\xff\xe0 and so on",
        b"\x89PNG\r\n\x1a\n and so on",
        b"RIFF\x10\0\0\0WEBP and so on",
    ];
    beginnings.map(|bytes| Picture::of(bytes.to_vec()).expect("a picture"))
}

#[test]
fn a_file_brings_its_pictures_along() {
    for document in [
        Document::Procedure(procedure()),
        Document::Job(fresh_job()),
        backup(vec![fresh_job()]),
    ] {
        let text = write_with(&document, &pictures());
        let file = open(&text).expect("a file");
        assert_eq!(file.document, document);
        assert_eq!(file.pictures, pictures());
        assert_eq!(write_with(&file.document, &file.pictures), text);
    }
}

#[test]
fn a_picture_that_is_not_what_the_file_says_is_refused() {
    let [jpeg, ..] = pictures();
    // SHA-256 by coreutils' sha256sum.
    let digest = "2cc120decca91eb8543669c40acb006aa05aedf3d918370ffed80f416f485f50";
    assert_eq!(jpeg.digest().as_str(), digest);
    let good = write_with(&Document::Job(fresh_job()), &[jpeg]);
    let data = "/9j/4CBhbmQgc28gb24=";
    for (what, text, part) in [
        (
            "other bytes",
            with(&good, data, "/9j/4CBhbmQgc28gb28="),
            "changed since its digest",
        ),
        (
            "another digest",
            with(&good, digest, &"0".repeat(64)),
            "changed since its digest",
        ),
        (
            "another type",
            with(&good, "image/jpeg", "image/png"),
            "is image/jpeg",
        ),
        (
            "no such type",
            with(&good, "image/jpeg", "image/svg+xml"),
            "unknown variant",
        ),
        (
            "no picture",
            with(&good, data, "PHN2Zz48L3N2Zz4="),
            "no JPEG, PNG or WebP picture, no PDF and no sound",
        ),
        (
            "no base64",
            with(&good, data, "/9j/4CBhbmQ!c28gb24="),
            "not base64",
        ),
        (
            "base64 cut short",
            with(&good, data, "/9j/4CBhbmQgc28gb24"),
            "not base64",
        ),
        (
            "a number",
            with(&good, &format!("\"{data}\""), "5"),
            "expected a text in base64",
        ),
    ] {
        let said = sentence(&text);
        assert!(
            said.contains(part) && said.contains("at pictures[0]"),
            "{what}: {said}"
        );
    }
}

proptest! {
    #![proptest_config(cases(150))]

    #[test]
    fn a_damaged_file_is_read_or_refused_but_never_brings_the_app_down(
        changes in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..4),
    ) {
        let mut bytes = job_text().into_bytes();
        for (place, byte) in changes {
            let place = place.index(bytes.len());
            bytes[place] = byte;
        }
        let text = String::from_utf8_lossy(&bytes);
        match read(&text) {
            Ok(document) => prop_assert!(read(&write(&document)).is_ok()),
            Err(error) => prop_assert!(!error.to_string().is_empty()),
        }
    }
}

// File names

#[test]
fn a_file_is_named_by_what_it_is_and_whose() {
    let unnamed = Job::open(id("job-1"), procedure(), Default::default(), stamp(1));
    for (document, name) in [
        (
            Document::Procedure(procedure()),
            "halfturn-procedure-quillmere-trainer-short-check-rev-3.json",
        ),
        (
            Document::Job(fresh_job()),
            "halfturn-job-17-quillmere-radio-club-trainer-004.json",
        ),
        (Document::Job(unnamed), "halfturn-job.json"),
        (backup(vec![]), "halfturn-backup-2031-05-04.json"),
    ] {
        assert_eq!(file_name(&document, "2031-05-04"), name);
    }
}

// Imports

/// What an import makes of what is here.
trait Imports {
    fn outcomes(&self, document: &Document) -> Vec<Outcome>;
    /// Takes everything that is offered.
    fn take(&mut self, document: &Document);
}

impl Imports for Here {
    fn outcomes(&self, document: &Document) -> Vec<Outcome> {
        let items = preview(document.clone(), self).into_iter();
        items.map(|item| item.outcome).collect()
    }

    fn take(&mut self, document: &Document) {
        for item in preview(document.clone(), self) {
            match (item.outcome.choice(), item.subject) {
                (Choice::Offered, Subject::Procedure(procedure)) => {
                    self.procedures.push(*procedure)
                }
                (Choice::Offered, Subject::Preferences(settings)) => self.preferences = settings,
                (Choice::Offered, Subject::Channels(table)) => {
                    self.channels.retain(|other| other.name != table.name);
                    self.channels.push(table);
                }
                (Choice::Offered, Subject::Instrument(instrument)) => {
                    self.kit.retain(|other| other.name != instrument.name);
                    self.kit.push(instrument);
                }
                (Choice::Offered, Subject::Job(job)) => {
                    self.jobs.retain(|other| other.id != job.id);
                    self.jobs.push(job);
                }
                (_, Subject::Corrections { .. })
                | (Choice::Asked | Choice::Needless | Choice::Refused, _) => {}
            }
        }
    }
}

#[test]
fn a_procedure_is_new_the_same_newer_older_or_clashes() {
    let here = Here {
        procedures: vec![revision(2), revision(4)],
        ..Here::default()
    };
    let retitled = Procedure {
        title: "Another".to_owned(),
        ..revision(4)
    };
    let elsewhere = Procedure {
        id: id("other"),
        ..revision(4)
    };
    for (procedure, outcome, choice) in [
        (elsewhere, Outcome::New, Choice::Offered),
        (revision(4), Outcome::Same, Choice::Needless),
        (revision(2), Outcome::Same, Choice::Needless),
        (revision(5), Outcome::Newer { than: 4 }, Choice::Offered),
        (revision(3), Outcome::Older { than: 4 }, Choice::Offered),
        (retitled, Outcome::Beside, Choice::Asked),
    ] {
        let outcomes = here.outcomes(&Document::Procedure(procedure));
        assert_eq!(outcomes, std::slice::from_ref(&outcome));
        assert_eq!(outcome.choice(), choice);
    }
}

#[test]
fn a_job_is_new_the_same_merges_or_clashes() {
    let mut there = fresh_job();
    does(&mut there, answer("look"));
    does(&mut there, tick("lead"));
    let mut forked = fresh_job();
    forked
        .record(stamp(50), note(None, "Only here"))
        .expect("a note");
    let otherwise = Job {
        procedure: revision(9).into(),
        ..fresh_job()
    };
    let merges = |adds, keeps| Outcome::Merges {
        adds,
        keeps,
        clashes: 0,
        damaged: 0,
        left: 0,
    };
    for (here, outcome, choice) in [
        (vec![], Outcome::New, Choice::Offered),
        (vec![there.clone()], Outcome::Same, Choice::Needless),
        (vec![fresh_job()], merges(2, 0), Choice::Offered),
        (vec![forked], merges(2, 1), Choice::Offered),
        (vec![worked_job()], merges(0, 10), Choice::Needless),
        (vec![otherwise], Outcome::Clashes, Choice::Refused),
    ] {
        let here = Here {
            jobs: here,
            ..Here::default()
        };
        let outcomes = here.outcomes(&Document::Job(there.clone()));
        assert_eq!(outcomes, std::slice::from_ref(&outcome));
        assert_eq!(outcome.choice(), choice);
    }
}

#[test]
fn a_job_brings_another_procedure_under_the_name_and_revision_of_one_that_is_here_only_if_asked_to()
{
    let job = fresh_job();
    let own = Procedure::clone(&job.procedure);
    let altered = Procedure {
        title: "Under another title".to_owned(),
        ..own.clone()
    };
    let other_revision = Procedure {
        revision: own.revision + 1,
        ..altered.clone()
    };
    for (procedures, outcome, choice) in [
        (
            vec![altered.clone()],
            Outcome::OtherProcedure,
            Choice::Asked,
        ),
        (vec![altered, own.clone()], Outcome::New, Choice::Offered),
        (vec![other_revision], Outcome::New, Choice::Offered),
        (vec![own], Outcome::New, Choice::Offered),
    ] {
        let here = Here {
            procedures,
            ..Here::default()
        };
        let outcomes = here.outcomes(&Document::Job(job.clone()));
        assert_eq!(outcomes, std::slice::from_ref(&outcome));
        assert_eq!(outcome.choice(), choice);
    }
}

#[test]
fn a_backup_with_two_procedures_of_one_name_and_revision_is_restored_whole_beside_one_of_them() {
    let own = Procedure::clone(&fresh_job().procedure);
    let other = Procedure {
        title: "With other limits".to_owned(),
        ..own.clone()
    };
    let by = |name: &str, procedure: &Procedure| {
        Job::open(id(name), procedure.clone(), header(), stamp(1))
    };
    let jobs = vec![by("job-1", &own), by("job-2", &other)];
    let backup = Backup::of(None, Vec::new(), Vec::new(), jobs.clone());
    let memory = MemoryStorage::default();
    let (store, _) = Store::open(&memory);
    store.save_procedure(&own).expect("room for it");
    let here = Here {
        procedures: store.procedures().expect("a storage"),
        ..Here::default()
    };
    let items = preview(Document::Backup(backup), &here);
    // What is the other's is told side by side, and taken by hand.
    let asked = items
        .iter()
        .filter(|it| it.outcome.choice() == Choice::Asked);
    assert_eq!(asked.clone().count(), 2);
    for item in asked {
        let title = item.differences.iter().find(|line| line.is.is_some());
        let title = title.and_then(|line| line.is.clone()).unwrap_or_default();
        assert!(
            title.contains("With other limits"),
            "{:?}",
            item.differences
        );
    }
    for item in items {
        if let Subject::Job(job) = item.subject {
            store.bring_job(&job).expect("room for it");
        }
    }
    for job in jobs {
        assert_eq!(store.job(&job.id), Ok(Some(job)));
    }
    let all = store.procedures().expect("a storage");
    assert!(all.contains(&own) && all.contains(&other) && all.len() == 2);
}

#[test]
fn settings_in_a_backup_are_offered_only_where_they_differ() {
    let mut here = Here::default();
    assert_eq!(here.outcomes(&backup(vec![]))[0], Outcome::New);
    here.preferences.technician = "Bench 2".to_owned();
    assert_eq!(here.outcomes(&backup(vec![]))[0], Outcome::Replaces);
    here.preferences = preferences();
    here.kit = kit();
    assert_eq!(
        here.outcomes(&backup(vec![])),
        [Outcome::Same, Outcome::New]
    );
}

#[test]
fn a_channel_table_in_a_backup_is_new_the_same_or_replaces_its_namesake() {
    let table = ChannelTable::uk_27_81();
    let shorter = ChannelTable {
        channels: table.channels[..3].to_vec(),
        ..table.clone()
    };
    let file = Document::Backup(Backup {
        channels: vec![table.clone()],
        ..Backup::default()
    });
    for (here, outcome) in [
        (vec![], Outcome::New),
        (vec![table], Outcome::Same),
        (vec![shorter], Outcome::Replaces),
    ] {
        let here = Here {
            channels: here,
            ..Here::default()
        };
        assert_eq!(here.outcomes(&file), [outcome]);
    }
}

#[test]
fn an_instrument_in_a_backup_is_new_the_same_or_replaces_its_namesake() {
    let with = |kit| Here {
        preferences: preferences(),
        kit,
        ..Here::default()
    };
    let mut calibrated = kit();
    calibrated[0].asset = "A-2".to_owned();
    for (here, outcome) in [
        (vec![], Outcome::New),
        (kit(), Outcome::Same),
        (calibrated, Outcome::Replaces),
    ] {
        assert_eq!(with(here).outcomes(&backup(vec![]))[0], outcome);
    }
}

#[test]
fn what_would_replace_something_is_ticked_by_nobody_but_the_user() {
    let merges = |adds, keeps| Outcome::Merges {
        adds,
        keeps,
        clashes: 0,
        damaged: 0,
        left: 0,
    };
    for (outcome, ticked) in [
        (Outcome::New, true),
        (Outcome::Newer { than: 2 }, true),
        (Outcome::Older { than: 4 }, true),
        (merges(2, 1), true),
        (Outcome::Replaces, false),
        (Outcome::Same, false),
        (merges(0, 3), false),
        (Outcome::Clashes, false),
        (Outcome::Beside, false),
        (Outcome::OtherProcedure, false),
    ] {
        assert_eq!(outcome.is_ticked(), ticked, "{outcome:?}");
    }
}

/// The lines that say what taking the only thing in the document changes.
fn lines(document: Document, here: &Here) -> Vec<String> {
    let items = preview(document, here);
    let [item] = items.as_slice() else {
        panic!("{items:?}")
    };
    item.differences.iter().map(|d| d.line()).collect()
}

#[test]
fn a_preview_says_what_differs() {
    let here = Here {
        procedures: vec![procedure()],
        jobs: vec![fresh_job()],
        kit: kit(),
        channels: vec![ChannelTable::uk_27_81()],
        preferences: preferences(),
    };
    let retitled = Procedure {
        title: "Longer check".to_owned(),
        revision: 4,
        ..procedure()
    };
    assert_eq!(
        lines(Document::Procedure(retitled), &here),
        ["Title: Quillmere trainer, short check → Longer check"]
    );

    let remarks = [note(Some("osc"), "Drifts"), note(None, "Called the owner")];
    let job = job_with(good_deeds().into_iter().take(7).chain(remarks));
    assert_eq!(
        lines(Document::Job(job), &here),
        [
            "Step 1, Do look: 1 entry",
            "Step 2, Do lead: 1 entry",
            "Step 3, Do part: 1 entry",
            "Step 4, Do load: 1 entry",
            "Step 5, Do osc: as left 10,24001\u{a0}MHz, 1 other entry",
            "Step 6, Do mixed: as left 1,24001\u{a0}MHz",
            "Step 7, Do drive: as left 2,40\u{a0}V\u{a0}p-p",
            "The job as a whole: 1 entry",
        ]
    );

    let mut calibrated = kit();
    calibrated[0].due = "2032-03-01".parse().ok();
    calibrated[0].ranges[0].resolution = q("10 Hz");
    calibrated[0].ranges[0].accuracy.counts = Some(2);
    calibrated[0].corrections.clear();
    let only = |parts: Backup| Document::Backup(parts);
    assert_eq!(
        lines(
            only(Backup {
                kit: calibrated,
                ..Backup::default()
            }),
            &here
        ),
        [
            "Calibration due: 2031-03-01 → 2032-03-01",
            "Resolution of the range 100 MHz: 1 Hz → 10 Hz",
            "Accuracy of the range 100 MHz changed",
            "Corrections changed",
        ]
    );

    let mut table = ChannelTable::uk_27_81();
    table.channels.truncate(39);
    table.channels[0].frequency = q("27.60 MHz");
    assert_eq!(
        lines(
            only(Backup {
                channels: vec![table],
                ..Backup::default()
            }),
            &here
        ),
        ["Channel 1: 27.60125 MHz → 27.60 MHz", "Channel 40 removed"]
    );

    let settings = Preferences {
        tone: true,
        technician: String::new(),
        ..preferences()
    };
    assert_eq!(
        lines(
            only(Backup {
                preferences: Some(settings),
                ..Backup::default()
            }),
            &here
        ),
        ["Technician: Quillmere bench", "Tone: off → on"]
    );
}

#[test]
fn a_procedure_that_is_here_beside_another_of_its_revision_is_the_same() {
    let retitled = Procedure {
        title: "Another".to_owned(),
        ..procedure()
    };
    let here = Here {
        procedures: vec![procedure(), retitled.clone()],
        ..Here::default()
    };
    for procedure in [procedure(), retitled] {
        let outcomes = here.outcomes(&Document::Procedure(procedure));
        assert_eq!(outcomes, [Outcome::Same]);
    }
}

#[test]
fn every_outcome_is_said_in_a_sentence() {
    let merges = |adds, keeps, clashes| Outcome::Merges {
        adds,
        keeps,
        clashes,
        damaged: 0,
        left: 0,
    };
    for (outcome, part) in [
        (Outcome::New, "will be added"),
        (Outcome::Same, "nothing changes"),
        (Outcome::Newer { than: 2 }, "than the one here (2)"),
        (Outcome::Older { than: 4 }, "the later one stays in use"),
        (merges(0, 3, 0), "nothing changes"),
        (merges(1, 0, 0), "1 entry will be added"),
        (
            merges(2, 1, 0),
            "2 entries will be added, 1 entry of this device",
        ),
        (
            merges(1, 0, 2),
            "2 entries of it read otherwise in the file: what is here stays",
        ),
        (
            Outcome::Corrects(2),
            "What is here stays, unless you tick this",
        ),
        (Outcome::Finished(1), "reopen it"),
        (Outcome::Replaces, "replace that"),
        (Outcome::Clashes, "can't be taken"),
        (Outcome::Beside, "both are here, and lists tell them apart"),
        (
            Outcome::OtherProcedure,
            "it comes with its own, by which its readings are judged as they were",
        ),
    ] {
        let said = outcome.sentence();
        assert!(said.contains(part), "{said}");
    }
}

proptest! {
    #![proptest_config(cases(32))]

    #[test]
    fn taking_a_file_twice_changes_nothing_the_second_time(
        document in any_document(), here in any_job(),
    ) {
        let mut here = Here {
            procedures: vec![procedure()],
            jobs: vec![here],
            ..Here::default()
        };
        here.take(&document);
        let once = here.clone();
        for outcome in here.outcomes(&document) {
            prop_assert_ne!(outcome.choice(), Choice::Offered);
        }
        here.take(&document);
        prop_assert_eq!(here, once);
    }
}

// A file that says otherwise what is here already

/// A job with two readings, and its file in which both were changed under their ids and a note
/// was added.
fn rewritten() -> (Job, Job) {
    let mut here = worked_job();
    does(&mut here, reading("osc", Phase::AsLeft, "10.24003 MHz"));
    does(&mut here, reading("power", Phase::AsFound, "0.80 W"));
    let text = unchecked(&write(&Document::Job(here.clone())));
    let forged = text
        .replace("0.80 W", "0.40 W")
        .replace("10.24003", "10.24009");
    assert_ne!(forged, text);
    let Ok(Document::Job(mut there)) = read(&forged) else {
        panic!("a job");
    };
    let stamp = stamp(600);
    there.log.append(stamp, note(None, "Only a note"));
    (here, there)
}

fn looked_into(here: &Job, there: &Job) -> Vec<Item> {
    let here = Here {
        jobs: vec![here.clone()],
        ..Here::default()
    };
    preview(Document::Job(there.clone()), &here)
}

#[test]
fn a_file_that_changes_values_under_their_ids_rewrites_nothing_here() {
    let (here, there) = rewritten();
    let items = looked_into(&here, &there);
    let [taken, differing] = items.as_slice() else {
        panic!("{items:?}");
    };
    let clashes = 2;
    let merges = Outcome::Merges {
        adds: 1,
        keeps: 0,
        clashes,
        damaged: 0,
        left: 0,
    };
    assert_eq!(taken.outcome, merges);
    assert_eq!(taken.outcome.choice(), Choice::Offered);
    let Subject::Job(merged) = &taken.subject else {
        panic!("{taken:?}");
    };
    let kept: Vec<&Event> = merged.log.events().take(here.log.len()).collect();
    assert_eq!(kept, here.log.events().collect::<Vec<_>>());
    assert_eq!(merged.log.len(), here.log.len() + 1);
    // Both are shown, and taking the other is asked for.
    assert_eq!(differing.outcome, Outcome::Corrects(2));
    assert_eq!(differing.outcome.choice(), Choice::Asked);
    let lines: Vec<String> = differing.differences.iter().map(|d| d.line()).collect();
    assert!(
        lines[0].ends_with("as left 10.24003\u{a0}MHz → as left 10.24009\u{a0}MHz"),
        "{lines:?}"
    );
    assert!(
        lines[1].ends_with("as found 0.80\u{a0}W → as found 0.40\u{a0}W"),
        "{lines:?}"
    );
}

#[test]
fn taking_the_value_of_a_file_takes_back_the_one_here_and_both_stay_in_the_log() {
    let (here, there) = rewritten();
    let items = looked_into(&here, &there);
    let Subject::Corrections { job, corrections } = &items[1].subject else {
        panic!("{items:?}");
    };
    let mut corrected = job.clone();
    let mut number = 800;
    let done = corrected.correct(corrections, || {
        number += 1;
        stamp(number)
    });
    assert_eq!(done, Ok(()));
    assert_eq!(corrected.log.lacks(&here.log), 0);
    assert_eq!(here.log.clashes(&corrected.log), vec![]);
    let progress = corrected.progress();
    let power = progress.step(&id("power")).expect("the step");
    let values: Vec<_> = power.readings.iter().map(|r| r.value.to_string()).collect();
    assert_eq!(values.last().map(String::as_str), Some("0.40 W"));
    assert!(!values.contains(&"0.80 W".to_owned()));
    let notes: Vec<&str> = power.notes.iter().map(|note| note.text.as_str()).collect();
    assert_eq!(
        notes,
        ["Correction taken from a file: as found 0.40\u{a0}W instead of as found 0.80\u{a0}W"]
    );
}

#[test]
fn a_finished_job_takes_no_corrections_until_it_is_reopened() {
    let here = finished_job();
    let text = unchecked(&write(&Document::Job(here.clone())));
    let forged = text.replace("4.0 W", "4.4 W");
    let Ok(Document::Job(there)) = read(&forged) else {
        panic!("a job");
    };
    let items = looked_into(&here, &there);
    let finished = items.last().expect("an item");
    assert!(
        matches!(finished.outcome, Outcome::Finished(_)),
        "{finished:?}"
    );
    assert_eq!(finished.outcome.choice(), Choice::Refused);
    let Subject::Corrections { job, corrections } = &finished.subject else {
        panic!("{finished:?}");
    };
    let mut job = job.clone();
    assert_eq!(
        job.correct(corrections, || stamp(900)),
        Err(halfturn::job::Refusal::SignedOff)
    );
}

#[test]
fn a_file_that_takes_back_what_no_button_may_is_told_so() {
    let here = worked_job();
    let mut there = here.clone();
    let opened = here.log.events().next().map(|event| event.id.clone());
    there
        .log
        .append(stamp(600), undo(&opened.expect("an event")));
    let items = looked_into(&here, &there);
    let lines: Vec<String> = items[0].differences.iter().map(|d| d.line()).collect();
    assert!(
        lines.iter().any(|line| line.contains("counts for nothing")),
        "{lines:?}"
    );
    let fresh = preview(Document::Job(there), &Here::default());
    assert_eq!(fresh[0].differences.len(), 1);
}

#[test]
fn a_file_whose_numbers_leave_no_room_is_refused_alone_or_in_a_backup() {
    for highest in [(1u64 << 53) - 1, u64::MAX] {
        let job = fresh_job();
        let backup = Backup::of(None, Vec::new(), Vec::new(), vec![job.clone()]);
        for document in [Document::Job(job), Document::Backup(backup)] {
            let text = unchecked(&write(&document));
            let forged = text.replace("\"seq\": 1,", &format!("\"seq\": {highest},"));
            assert_ne!(forged, text);
            let refused = read(&forged).expect_err("no room").to_string();
            assert!(refused.contains("sequence number"), "{refused}");
        }
    }
}
