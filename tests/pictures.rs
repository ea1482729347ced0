//! Pictures: of the board with its pins, as photos on a job, and as bytes in files.

mod support;

use halfturn::authoring::draft::Draft;
use halfturn::authoring::edit::List;
use halfturn::authoring::{differences, edit};
use halfturn::exchange::report::{Look, Part, Report, html, words};
use halfturn::exchange::{
    Backup, Document, MAX_BYTES, MAX_PICTURE, Picture, PictureError, PictureType, demo, open,
    parcels, write_with,
};
use halfturn::job::{Deed, Job, Moment, Preferences, Refusal};
use halfturn::procedure::{BoardPicture, BoardPin, PictureDigest, Procedure, Spot, WHOLE, faults};
use halfturn::quantity::DecimalSign::Point;
use proptest::prelude::*;
use std::collections::BTreeSet;
use support::{fresh_job, id, stamp};

/// Bytes that begin like a JPEG; what follows is of no interest here.
fn jpeg(inside: &[u8]) -> Picture {
    Picture::of([b"\xff\xd8\xff\xe0", inside].concat()).unwrap()
}

fn point(name: &str) -> Spot {
    Spot::TestPoint(id(name))
}

fn adjuster(name: &str) -> Spot {
    Spot::Adjuster(id(name))
}

fn pin(of: Spot, x: u16, y: u16) -> BoardPin {
    BoardPin { of, x, y }
}

fn board(title: &str, pins: Vec<BoardPin>) -> BoardPicture {
    BoardPicture {
        picture: jpeg(title.as_bytes()).digest().clone(),
        title: title.to_owned(),
        width: 2000,
        height: 1500,
        pins,
    }
}

fn with_pictures(pictures: Vec<BoardPicture>) -> Procedure {
    Procedure {
        pictures,
        ..demo::procedure().unwrap()
    }
}

/// The names of the first test point and the first adjuster of the demo.
fn names() -> (String, String) {
    let procedure = demo::procedure().unwrap();
    (
        procedure.test_points[0].id.to_string(),
        procedure.adjusters[0].id.to_string(),
    )
}

// The name of a picture

#[test]
fn a_picture_is_named_by_its_sha256() {
    // FIPS 180-4's example "abc" (NIST, SHA256.pdf; from memory).
    assert_eq!(
        PictureDigest::of(b"abc").as_str(),
        "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    );
}

#[test]
fn a_name_is_64_lower_case_hexadecimal_digits_and_nothing_else() {
    let good = "0a".repeat(32);
    assert!(good.parse::<PictureDigest>().is_ok());
    for bad in [
        String::new(),
        "0a".repeat(31),
        "0a".repeat(33),
        "0A".repeat(32),
        "0g".repeat(32),
        format!("{} ", &good[..63]),
        "ü".repeat(32),
    ] {
        assert!(bad.parse::<PictureDigest>().is_err(), "{bad}");
        let json = serde_json::to_string(&bad).unwrap();
        assert!(serde_json::from_str::<PictureDigest>(&json).is_err());
    }
}

// Pins

#[test]
fn a_procedure_says_what_is_wrong_with_its_pictures() {
    let (tp, adj) = names();
    let (tp, adj) = (tp.as_str(), adj.as_str());
    let blank = BoardPicture {
        title: " ".to_owned(),
        ..board("Top", vec![])
    };
    let flat = BoardPicture {
        height: 0,
        ..board("Top", vec![])
    };
    for (pictures, said) in [
        (vec![board("Top", vec![pin(point(tp), 0, WHOLE)])], None),
        // The same thing on two pictures is no fault: it may be seen from both sides.
        (
            vec![
                board("Top", vec![pin(adjuster(adj), 1, 1)]),
                board("Track side", vec![pin(adjuster(adj), 1, 1)]),
            ],
            None,
        ),
        (
            vec![board("Top", vec![pin(point("TP-none"), 1, 1)])],
            Some("a pin for the test point “TP-none”, which isn't there"),
        ),
        (
            vec![board("Top", vec![pin(adjuster("L-none"), 1, 1)])],
            Some("a pin for the adjuster “L-none”, which isn't there"),
        ),
        // A test point's name is no adjuster's.
        (
            vec![board("Top", vec![pin(adjuster(tp), 1, 1)])],
            Some("which isn't there"),
        ),
        (
            vec![board(
                "Top",
                vec![pin(point(tp), 1, 1), pin(point(tp), 2, 2)],
            )],
            Some("has two pins for the test point"),
        ),
        (
            vec![board("Top", vec![pin(point(tp), WHOLE + 1, 0)])],
            Some("lies outside"),
        ),
        (vec![blank], Some("has no title")),
        (
            vec![board("Top", vec![]), board("Top", vec![])],
            Some("is there twice"),
        ),
        (vec![flat], Some("2000 by 0 pixels")),
    ] {
        let found: Vec<String> = faults(&with_pictures(pictures))
            .iter()
            .map(ToString::to_string)
            .collect();
        match said {
            None => assert_eq!(found, Vec::<String>::new()),
            Some(said) => {
                assert_eq!(found.len(), 1, "{said}: {found:?}");
                assert!(found[0].contains(said), "{}", found[0]);
            }
        }
    }
}

#[test]
fn putting_a_pin_again_moves_it_and_keeps_it_on_the_picture() {
    let (tp, adj) = names();
    let mut picture = board("Top", vec![]);
    picture.put(point(&tp), 100, 200);
    picture.put(adjuster(&adj), 5, 5);
    picture.put(point(&tp), 300, u16::MAX);
    assert_eq!(
        picture.pins,
        [pin(point(&tp), 300, WHOLE), pin(adjuster(&adj), 5, 5)]
    );
}

#[test]
fn a_draft_keeps_pictures_and_renaming_or_removing_carries_their_pins() {
    let (tp, adj) = names();
    let pins = vec![pin(point(&tp), 1, 2), pin(adjuster(&adj), 3, 4)];
    let procedure = with_pictures(vec![board("Top", pins)]);
    let mut draft = Draft::of(&procedure, Point);
    let text = serde_json::to_string(&draft).unwrap();
    assert_eq!(serde_json::from_str::<Draft>(&text).unwrap(), draft);
    assert_eq!(draft.read(Point).0.pictures, procedure.pictures);

    edit::rename(&mut draft, List::Adjusters, 0, "L-new").unwrap();
    edit::rename(&mut draft, List::TestPoints, 0, "TP-new").unwrap();
    edit::rename(&mut draft, List::Instruments, 0, "other").unwrap();
    let renamed = [pin(point("TP-new"), 1, 2), pin(adjuster("L-new"), 3, 4)];
    assert_eq!(draft.pictures[0].pins, renamed);

    edit::take_off_list(&mut draft, List::Adjusters, 0);
    assert_eq!(draft.pictures[0].pins, renamed[..1]);
    edit::take_off_list(&mut draft, List::Instruments, 0);
    assert_eq!(draft.pictures[0].pins, renamed[..1]);
    edit::take_off_list(&mut draft, List::TestPoints, 0);
    assert_eq!(draft.pictures[0].pins, []);
}

#[test]
fn a_draft_written_before_there_were_pictures_still_opens() {
    let mut value = serde_json::to_value(Draft::of(&with_pictures(vec![]), Point)).unwrap();
    assert_eq!(value.as_object_mut().unwrap().remove("pictures"), None);
    assert!(serde_json::from_value::<Draft>(value).is_ok());
}

#[test]
fn two_revisions_tell_which_pictures_and_pins_differ() {
    let (tp, adj) = names();
    let was = with_pictures(vec![
        board(
            "Top",
            vec![pin(point(&tp), 1000, 2000), pin(adjuster(&adj), 1, 1)],
        ),
        board("Old", vec![]),
    ]);
    let mut is = with_pictures(vec![
        board(
            "Top",
            vec![pin(point(&tp), 5000, 2000), pin(adjuster(&adj), 1, 1)],
        ),
        board("Track side", vec![]),
    ]);
    is.pictures[0].title = "Part side".to_owned();
    let told: Vec<String> = differences(&was, &is, Point)
        .iter()
        .map(|difference| difference.line())
        .collect();
    assert_eq!(
        told,
        [
            "Title of a board picture: Top → Part side".to_owned(),
            format!(
                "Pins on board picture “Part side”: {tp} at 10 % across, 20 % down → {tp} at 50 % across, 20 % down"
            ),
            "Board picture “Track side” added".to_owned(),
            "Board picture “Old” removed".to_owned(),
        ]
    );
}

#[test]
fn a_step_finds_the_pictures_that_show_most_of_it_first() {
    let whole = demo::procedure().unwrap();
    let step = whole
        .steps()
        .find(|step| step.work.adjuster().is_some() && step.cross_check.is_none())
        .unwrap();
    let spots = step.spots();
    let [Spot::TestPoint(_), Spot::Adjuster(_)] = spots.as_slice() else {
        panic!("{spots:?}")
    };
    let procedure = with_pictures(vec![
        board("None", vec![]),
        board("One", vec![pin(spots[1].clone(), 1, 1)]),
        board(
            "Both",
            vec![pin(spots[0].clone(), 1, 1), pin(spots[1].clone(), 2, 2)],
        ),
    ]);
    let titles: Vec<&str> = procedure
        .pictures_of(step)
        .iter()
        .map(|p| p.title.as_str())
        .collect();
    assert_eq!(titles, ["Both", "One"]);
}

// What is shown around pins

proptest! {
    #![proptest_config(support::cases(256))]

    #[test]
    fn the_part_around_pins_shows_them_all_undistorted_and_little_beside_the_picture(
        places in proptest::collection::vec((0..=WHOLE, 0..=WHOLE), 0..4),
        width in 100..4000_u32, height in 100..4000_u32, frame in 0.5..2.5_f64,
    ) {
        let pins: Vec<BoardPin> = places.iter().map(|&(x, y)| pin(point("TP1"), x, y)).collect();
        let all: Vec<&BoardPin> = pins.iter().collect();
        let picture = BoardPicture { width, height, ..board("Top", vec![]) };
        let crop = picture.around(&all, frame);
        let slack = 1e-6;
        for pin in &pins {
            let (x, y) = (f64::from(pin.x), f64::from(pin.y));
            prop_assert!(crop.x - slack <= x && x <= crop.x + crop.width + slack, "{crop:?}");
            prop_assert!(crop.y - slack <= y && y <= crop.y + crop.height + slack, "{crop:?}");
        }
        let shown = crop.width / crop.height * picture.aspect();
        prop_assert!((shown / frame - 1.0).abs() < 1e-9, "{shown} in {frame}");
        // Beside the picture there is something to see in one direction only.
        let whole = f64::from(WHOLE);
        prop_assert!(crop.width <= whole + slack || crop.height <= whole + slack);
        prop_assert!(crop.width > whole || (crop.x >= -slack && crop.x + crop.width <= whole + slack));
        prop_assert!(crop.height > whole || (crop.y >= -slack && crop.y + crop.height <= whole + slack));
    }

    #[test]
    fn zooming_and_moving_keep_the_form_and_stay_on_the_picture(
        x in 0..=WHOLE, y in 0..=WHOLE, frame in 0.5..2.5_f64,
        moves in proptest::collection::vec((0.2..5.0_f64, -1.0..1.0_f64, -1.0..1.0_f64), 1..8),
    ) {
        let picture = board("Top", vec![]);
        let start = picture.around(&[&pin(point("TP1"), x, y)], frame);
        let mut crop = start;
        for (factor, right, down) in moves {
            let (mx, my) = crop.middle();
            crop = crop.zoomed(factor, mx, my).moved(right, down);
            let form = (crop.width / crop.height) / (start.width / start.height);
            prop_assert!((form - 1.0).abs() < 1e-9);
            let whole = f64::from(WHOLE);
            prop_assert!(crop.width.min(crop.height) <= whole + 1e-6);
            prop_assert!(crop.width.max(crop.height) >= 399.9);
            prop_assert!(crop.x < whole && crop.x + crop.width > 0.0);
            prop_assert!(crop.y < whole && crop.y + crop.height > 0.0);
        }
    }
}

#[test]
fn zooming_in_keeps_the_point_under_the_fingers_in_its_place() {
    let crop = board("Top", vec![]).around(&[], 4.0 / 3.0);
    let near = crop.zoomed(2.0, 4000.0, 6000.0);
    assert_eq!(near.width, crop.width / 2.0);
    assert!(((4000.0 - near.x) / near.width - (4000.0 - crop.x) / crop.width).abs() < 1e-9);
    assert!(((6000.0 - near.y) / near.height - (6000.0 - crop.y) / crop.height).abs() < 1e-9);
}

// Photos on a job

fn photographed(picture: &Picture, when: Moment, note: &str, step: Option<&str>) -> Deed {
    Deed::Photographed {
        picture: picture.digest().clone(),
        when,
        note: note.to_owned(),
        step: step.map(id),
    }
}

fn photos(job: &Job) -> Vec<(Moment, String)> {
    let all = job.progress().photos;
    assert_eq!(all, halfturn::job::photos(&job.log));
    let photos = all.into_iter();
    photos.map(|photo| (photo.when, photo.note)).collect()
}

#[test]
fn photos_follow_from_the_log_and_removing_and_undoing_are_entries_too() {
    let mut job = fresh_job();
    let picture = jpeg(b"one");
    let first = job
        .record(
            stamp(101),
            photographed(&picture, Moment::Found, "Burnt", None),
        )
        .unwrap();
    let left = photographed(&jpeg(b"two"), Moment::Left, "", None);
    job.record(stamp(102), left).unwrap();
    let found = (Moment::Found, "Burnt".to_owned());
    let left = (Moment::Left, String::new());
    assert_eq!(photos(&job), [found.clone(), left.clone()]);
    assert!(job.pictures().contains(picture.digest()));

    let entries = job.log.len();
    let removal = Deed::PhotoRemoved {
        photo: first.clone(),
    };
    let removed = job.record(stamp(103), removal.clone()).unwrap();
    assert_eq!(photos(&job), std::slice::from_ref(&left));
    assert_eq!(job.log.len(), entries + 1);
    assert!(!job.pictures().contains(picture.digest()));
    assert_eq!(job.record(stamp(104), removal), Err(Refusal::NoPhoto));

    job.record(stamp(105), Deed::Undone { event: removed })
        .unwrap();
    assert_eq!(photos(&job), [found, left.clone()]);
    job.record(stamp(106), Deed::Undone { event: first })
        .unwrap();
    assert_eq!(photos(&job), std::slice::from_ref(&left));
}

#[test]
fn a_photo_at_a_step_that_is_not_there_is_refused() {
    let mut job = fresh_job();
    let deed = photographed(&jpeg(b"one"), Moment::Found, "", Some("no-such-step"));
    assert_eq!(
        job.record(stamp(101), deed),
        Err(Refusal::NoStep(id("no-such-step")))
    );
}

#[test]
fn a_job_needs_the_pictures_of_its_procedure() {
    let top = board("Top", vec![]);
    let job = Job {
        procedure: with_pictures(vec![top.clone()]).into(),
        ..fresh_job()
    };
    assert_eq!(
        job.pictures().into_iter().collect::<Vec<_>>(),
        [top.picture]
    );
}

// On the sheet

fn sheet(job: &Job, picture: &dyn Fn(&PictureDigest) -> Option<String>) -> (Report, String) {
    let look = Look {
        sign: Point,
        when: &|at| format!("moment {at}"),
        stamp: &|_| "2026-03-31 14:05:09".to_owned(),
        day: &|day| day.to_string(),
        time: false,
        currency: "",
        spelling: Default::default(),
        picture,
    };
    let report = Report::of(job, &[], &look);
    let file = html::file(&report);
    (report, file)
}

#[test]
fn the_sheet_holds_the_photos_as_found_then_as_left_two_to_a_row() {
    let mut job = fresh_job();
    let step = job.procedure.steps().next().unwrap().id.to_string();
    let nasty = "\"><script>x</script>";
    let pictures: Vec<Picture> = (0..4_u8).map(|n| jpeg(&[n])).collect();
    for (n, (when, note, step)) in [
        (Moment::Left, "Clean", None),
        (Moment::Found, nasty, Some(step.as_str())),
        (Moment::Found, "Two", None),
        (Moment::Found, "Three", None),
    ]
    .into_iter()
    .enumerate()
    {
        let deed = photographed(&pictures[n], when, note, step);
        job.record(stamp(100 + n), deed).unwrap();
    }
    let missing = pictures[2].digest().clone();
    let (report, file) = sheet(&job, &|digest| {
        let found = pictures.iter().find(|p| p.digest() == digest)?;
        (*digest != missing).then(|| found.data_address())
    });
    let section = report
        .sections
        .iter()
        .find(|section| section.title == words::PHOTOS)
        .unwrap();
    let parts: Vec<(&str, usize)> = section
        .parts
        .iter()
        .map(|part| match part {
            Part::Photos { heading, photos } => (*heading, photos.len()),
            other => panic!("{other:?}"),
        })
        .collect();
    assert_eq!(parts, [("As found", 3), ("As left", 1)]);
    assert_eq!(file.matches(r#"<div class="report-photos">"#).count(), 3);
    assert_eq!(
        file.matches(r#"<img src="data:image/jpeg;base64,"#).count(),
        3
    );
    assert_eq!(file.matches(words::NO_PHOTO).count(), 1);
    assert!(file.contains("default-src 'none'; img-src data:; style-src 'sha256-"));
    assert!(!file.contains("<script") && file.contains("alt=\"Photo of the set as found, "));
}

#[test]
fn a_job_without_photos_has_no_such_section() {
    let (report, file) = sheet(&fresh_job(), &|_| None);
    assert!(report.sections.iter().all(|s| s.title != words::PHOTOS));
    assert!(!file.contains("<img"));
}

// In files

#[test]
fn a_document_names_the_pictures_that_belong_to_it() {
    let top = board("Top", vec![]);
    let procedure = with_pictures(vec![top.clone()]);
    let mut job = Job {
        procedure: procedure.clone().into(),
        ..fresh_job()
    };
    let photo = jpeg(b"photo");
    job.record(stamp(101), photographed(&photo, Moment::Left, "", None))
        .unwrap();
    let both = BTreeSet::from([top.picture.clone(), photo.digest().clone()]);
    let backup = Backup::of(
        Preferences::default(),
        vec![],
        vec![procedure.clone()],
        vec![job.clone()],
    );
    for (document, names) in [
        (
            Document::Procedure(procedure),
            BTreeSet::from([top.picture]),
        ),
        (Document::Job(job), both.clone()),
        (Document::Backup(backup), both),
    ] {
        assert_eq!(document.pictures(), names);
    }
}

#[test]
fn a_job_with_its_photos_comes_back_from_its_file() {
    let mut job = fresh_job();
    let photo = jpeg(b"photo");
    job.record(
        stamp(101),
        photographed(&photo, Moment::Found, "Burnt", None),
    )
    .unwrap();
    let document = Document::Job(job);
    let file = open(&write_with(&document, std::slice::from_ref(&photo))).unwrap();
    assert_eq!(file.document, document);
    assert_eq!(file.pictures, [photo]);
}

#[test]
fn pictures_are_spread_over_files_each_of_which_can_be_read_again() {
    let text = write_with(&Document::Job(fresh_job()), &[]);
    let whole: Vec<Picture> = (0..20_u8)
        .map(|n| jpeg(&vec![n; MAX_PICTURE - 4]))
        .collect();
    let sizes: Vec<_> = whole
        .iter()
        .map(|picture| (picture.digest().clone(), picture.data().len()))
        .collect();
    let files = parcels(text.len(), &sizes);
    assert!(files.len() > 1);
    let names: Vec<_> = sizes.iter().map(|(name, _)| name.clone()).collect();
    assert_eq!(files.concat(), names);
    for (index, parcel) in files.iter().enumerate() {
        let pictures: Vec<Picture> = whole
            .iter()
            .filter(|picture| parcel.contains(picture.digest()))
            .cloned()
            .collect();
        let document = match index {
            0 => Document::Job(fresh_job()),
            _ => Document::Backup(Backup::default()),
        };
        let file = write_with(&document, &pictures);
        assert!(file.len() <= MAX_BYTES, "file {index}: {}", file.len());
    }
    assert_eq!(parcels(text.len(), &[]), [vec![]]);
    // A document that leaves no room goes alone.
    assert_eq!(
        parcels(MAX_BYTES, &sizes[..1]),
        [vec![], vec![names[0].clone()]]
    );
}

#[test]
fn a_picture_over_the_limit_is_refused() {
    let at = Picture::of([b"\xff\xd8\xff".as_slice(), &vec![0; MAX_PICTURE - 3]].concat());
    assert_eq!(at.map(|picture| picture.kind()), Ok(PictureType::Jpeg));
    let over = MAX_PICTURE + 1;
    assert_eq!(
        Picture::of(vec![0xff; over]),
        Err(PictureError::TooLarge {
            bytes: over,
            most: MAX_PICTURE
        })
    );
    let text = write_with(&Document::Job(fresh_job()), &[jpeg(b"small")]);
    let data = base64_of(jpeg(b"small").data());
    let huge = text.replace(
        &data,
        &base64_of(&[b"\xff\xd8\xff".as_slice(), &vec![0; over]].concat()),
    );
    let said = only_fault(&huge);
    assert!(said.contains("it has 5 MB"), "{said}");
    // Whatever it is cut short to, it is refused, and the sentence says where.
    for cut in 1..data.len() {
        let text = text.replace(&data, &data[..data.len() - cut]);
        let said = only_fault(&text);
        assert!(said.contains("pictures[0]"), "{cut}: {said}");
    }
}

#[test]
fn a_picture_of_too_many_pixels_is_refused_by_its_header() {
    let png = |width: u32, height: u32| {
        let sides = [width.to_be_bytes(), height.to_be_bytes()].concat();
        Picture::of([b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR".as_slice(), &sides].concat())
    };
    let (width, height) = (19_000, 19_000);
    let refused = png(width, height).unwrap_err();
    assert_eq!(refused, PictureError::TooManyPixels { width, height });
    assert_eq!(
        refused.to_string(),
        "it has 19000 × 19000 pixels, and a picture may have 8 million in all: scale it down"
    );
    assert!(png(u32::MAX, u32::MAX).is_err());
    assert!(png(2000, 2000).is_ok(), "as many as the app leaves");
}

/// What is said of the one faulty thing in a file whose other content is taken.
fn only_fault(text: &str) -> String {
    let file = open(text).unwrap();
    assert!(file.pictures.is_empty());
    match file.faulty.as_slice() {
        [faulty] => faulty.why.to_string(),
        other => panic!("one fault: {other:?}"),
    }
}

fn base64_of(bytes: &[u8]) -> String {
    let address = match Picture::of(bytes.to_vec()) {
        Ok(picture) => picture.data_address(),
        // Only what is too large gets here; any bytes do.
        Err(_) => return "/9j/".to_owned() + &"AAAA".repeat(bytes.len() / 3),
    };
    let (_, data) = address.split_once(',').unwrap();
    data.to_owned()
}
