use super::*;
use crate::exchange::Backup;
use crate::exchange::Document;
use crate::exchange::document::MAX_THINGS;
use crate::exchange::document::content::MAX_FAULTY;
use crate::exchange::{demo, write_with};
use crate::job::{Job, Preferences};
use proptest::prelude::*;
use proptest::sample::Index;

fn text() -> String {
    let procedure = demo::procedure().expect("the demo's procedure");
    let job = |id: &str| {
        let stamp = crate::job::Stamp {
            id: "e1".parse().expect("an id"),
            at: 1,
        };
        let id = id.parse().expect("an id");
        Job::open(id, procedure.clone(), Default::default(), stamp)
    };
    let jobs = vec![job("a"), job("b"), job("c")];
    let backup = Backup::of(Preferences::default(), Vec::new(), Vec::new(), jobs);
    let picture = Picture::of(b"\xff\xd8\xff\xe0 and so on".to_vec()).expect("a picture");
    write_with(&Document::Backup(backup), &[picture])
}

/// The same with its keys in another order and no blanks: the jobs stand before their
/// procedure.
fn sorted(text: &str) -> String {
    let value: serde_json::Value = serde_json::from_str(text).expect("JSON");
    value.to_string()
}

fn walks(text: &str) -> bool {
    let mut reading = Reading::of(text);
    reading.by_ref().for_each(drop);
    matches!(reading.stage, Stage::Checking(_))
}

#[test]
fn a_backup_is_read_thing_by_thing_in_whatever_order_its_keys_are() {
    for text in [text(), sorted(&text()), format!("\u{feff} {}", text())] {
        assert!(walks(&text));
        let things = Reading::of(&text).count();
        assert!(things >= 2 * 3 + 2, "{things}");
        assert_eq!(open(&text), open_whole(&text));
    }
}

#[test]
fn an_odd_frame_is_left_to_whoever_says_what_is_wrong_with_it() {
    let good = text();
    for (part, other) in [
        ("\"version\": 3", "\"version\": 4"),
        ("\"version\": 3", "\"version\": 3, \"version\": 3"),
        ("\"backup\": {", "\"backup\": {}, \"backup\": {"),
        ("\"jobs\": [", "\"jobs\": [], \"jobs\": ["),
        ("\"jobs\": [", "\"mood\": 1, \"jobs\": ["),
        ("\"pictures\": [", "\"backup\": ["),
        ("halfturn-backup", "halfturn-job"),
        ("{\n  \"type\"", "{,\n  \"type\""),
        ("}\n", "},\n"),
    ] {
        assert!(good.contains(part), "{part}");
        let text = good.replacen(part, other, 1);
        assert!(!walks(&text), "{other}");
        assert_eq!(open(&text), open_whole(&text), "{other}");
    }
}

/// A backup with a list in it of so many things that have nothing in them.
fn hollow(list: &str, count: usize) -> String {
    let things = vec!["{}"; count].join(",");
    let (before, after) = match list {
        "pictures" => (r#""backup":{},"#, ""),
        _ => (r#""backup":{"#, "}"),
    };
    format!(r#"{{"type":"{BACKUP}","version":2,{before}"{list}":[{things}]{after}}}"#)
}

#[test]
fn a_list_of_nothing_but_faults_is_given_up_at_a_limit() {
    for list in ["kit", "channels", "procedures", "jobs", "pictures"] {
        let text = hollow(list, 20_000);
        let steps = Reading::of(&text).count();
        assert!(steps < MAX_FAULTY + 10, "{list}: {steps}");
        let place = if list == "pictures" { "" } else { "backup." };
        assert_eq!(
            open(&text).unwrap_err().to_string(),
            format!(
                "Something in the file is not right at {place}{list}[10000]: more than 10000 things of this list can’t be read: fetch the file again"
            )
        );
        let file = open(&hollow(list, MAX_FAULTY)).expect("as many as are told");
        assert_eq!(file.faulty.len(), MAX_FAULTY);
    }
}

#[test]
fn more_things_than_any_storage_holds_are_refused() {
    let mut list = Attempts::<Preferences>::default();
    for _ in 0..MAX_THINGS {
        assert_eq!(list.push(Attempt::of(Preferences::default())), Ok(()));
    }
    let refused = list.push(Attempt::of(Preferences::default())).unwrap_err();
    assert!(refused.contains("100000"), "{refused}");
    assert_eq!(list.into_iter().count(), MAX_THINGS);
}

proptest! {
    #[test]
    fn a_damaged_backup_is_read_as_it_is_as_a_whole(
        compact in any::<bool>(),
        changes in prop::collection::vec((any::<Index>(), "[\\[\\]{},:\"\\\\ a0n]{0,2}"), 1..3),
    ) {
        let mut text = if compact { sorted(&text()) } else { text() };
        for (place, other) in changes {
            let place = place.index(text.len());
            let start = (0..=place).rev().find(|at| text.is_char_boundary(*at));
            let start = start.unwrap_or_default();
            let end = (start + 1..=text.len()).find(|at| text.is_char_boundary(*at));
            text.replace_range(start..end.unwrap_or(start), &other);
        }
        prop_assert_eq!(open(&text), open_whole(&text));
    }
}
