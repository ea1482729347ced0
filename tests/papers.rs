//! Papers of the set: kept in a procedure and in a job, pinned, merged, taken back, carried.

mod examples;
mod support;

use examples::{id, paper, pdf, picture, pinned, trainer};
use halfturn::authoring::edit::{List, rename, take_off_list};
use halfturn::authoring::{Draft, differences};
use halfturn::exchange::{
    Backup, Document, MAX_PDF, Picture, PictureError, PictureType, open, parcels, write_with,
};
use halfturn::job::{Deed, Job, PaperChange, Refusal, Stamp};
use halfturn::procedure::{
    Field, Paper, PaperPin, PaperSpot, Procedure, WHOLE, faults, part_of_page,
};
use halfturn::quantity::DecimalSign::Point;
use halfturn::store::{MemoryStorage, Store, Surveying};
use std::collections::BTreeSet;
use support::fresh_job;

fn point(name: &str) -> PaperSpot {
    PaperSpot::TestPoint(id(name))
}

fn pin(of: PaperSpot, page: u16, x: u16, y: u16) -> PaperPin {
    PaperPin { of, page, x, y }
}

fn bare() -> Paper {
    Paper {
        pins: Vec::new(),
        ..paper()
    }
}

fn kept(paper: Paper) -> Deed {
    Deed::PaperKept {
        paper: Box::new(paper),
    }
}

fn changed(change: PaperChange) -> Deed {
    let paper = pdf().digest().clone();
    Deed::PaperChanged { paper, change }
}

fn record(job: &mut Job, name: &str, deed: Deed) {
    let stamp = Stamp {
        id: id(name),
        at: 1_767_225_600_000,
    };
    job.record(stamp, deed)
        .unwrap_or_else(|e| panic!("{name}: {e}"));
}

fn titles(job: &Job) -> Vec<String> {
    let papers = job.progress().papers;
    assert_eq!(papers, job.papers());
    papers.into_iter().map(|paper| paper.title).collect()
}

fn with_papers(papers: Vec<Paper>) -> Procedure {
    let mut procedure = trainer();
    procedure.papers = papers;
    procedure
}

/// Designators of the trainer.
fn names() -> (PaperSpot, PaperSpot) {
    let trainer = trainer();
    (
        PaperSpot::TestPoint(trainer.test_points[0].id.clone()),
        PaperSpot::Adjuster(trainer.adjusters[0].id.clone()),
    )
}

#[test]
fn a_pdf_is_told_by_its_mark_and_has_a_limit_of_its_own() {
    assert_eq!(pdf().kind(), PictureType::Pdf);
    assert_eq!(pdf().kind().name(), "application/pdf");
    // As readers take it: behind whatever a mailer put in front.
    let behind = [&[b'\n'; 1000], b"%PDF-1.7".as_slice()].concat();
    assert_eq!(
        Picture::of(behind).map(|it| it.kind()),
        Ok(PictureType::Pdf)
    );
    let too_far = [&[b'\n'; 1020], b"%PDF-1.7".as_slice()].concat();
    assert_eq!(Picture::of(too_far), Err(PictureError::NoPicture));
    let of = |bytes: usize| {
        let mut data = vec![b' '; bytes];
        data[..5].copy_from_slice(b"%PDF-");
        Picture::of(data)
    };
    assert!(of(MAX_PDF).is_ok());
    let said = of(MAX_PDF + 1).unwrap_err().to_string();
    assert_eq!(said, "it has 33 MB, and a PDF may have 32 MB: split it");
    // The largest one fits into a file of its own.
    let name = pdf().digest().clone();
    assert_eq!(parcels(4096, &[(name.clone(), MAX_PDF)]), [[name]]);
}

#[test]
fn a_procedure_says_what_is_wrong_with_its_papers() {
    let (tp, adjuster) = names();
    let said = |papers: Vec<Paper>| {
        let found = faults(&with_papers(papers)).into_iter();
        let found = found.filter(|fault| fault.field == Field::Papers);
        found.map(|fault| fault.sentence).collect::<Vec<_>>()
    };
    let of = |pins: Vec<PaperPin>| Paper { pins, ..paper() };
    let good = vec![pin(tp.clone(), 1, 0, WHOLE), pin(adjuster, 12, 5, 5)];
    assert_eq!(said(vec![of(good)]), [""; 0]);
    let socket = PaperSpot::Socket("No such socket".to_owned());
    for (papers, sentence) in [
        (
            vec![Paper {
                title: " ".to_owned(),
                ..bare()
            }],
            "Paper 1 has no name: say what it is",
        ),
        (
            vec![bare(), bare()],
            "Paper 2 is there twice: remove one of the two",
        ),
        (
            vec![of(vec![pin(point("TP99"), 1, 1, 1)])],
            "Paper 1 has a pin for the test point “TP99”, which isn't there: remove the pin or add the test point",
        ),
        (
            vec![of(vec![pin(socket, 1, 1, 1)])],
            "Paper 1 has a pin for the socket “No such socket”, which isn't there: remove the pin or add the socket",
        ),
    ] {
        assert_eq!(said(papers), [sentence]);
    }
    let twice = vec![pin(tp.clone(), 1, 1, 1), pin(tp.clone(), 2, 1, 1)];
    let twice = said(vec![of(twice)]);
    assert!(
        twice[0].contains("has two pins for the test point"),
        "{twice:?}"
    );
    for lost in [
        pin(tp.clone(), 0, 1, 1),
        pin(tp.clone(), 1_001, 1, 1),
        pin(tp.clone(), 1, WHOLE + 1, 1),
        pin(tp.clone(), 1, 1, WHOLE + 1),
    ] {
        let lost = said(vec![of(vec![lost])]);
        assert!(
            lost[0].contains("lies on no page that is shown"),
            "{lost:?}"
        );
    }
}

#[test]
fn a_draft_keeps_papers_and_renaming_or_removing_carries_their_pins() {
    let (tp, adjuster) = names();
    let pins = vec![pin(tp, 2, 10, 20), pin(adjuster, 1, 30, 40)];
    let procedure = with_papers(vec![Paper { pins, ..paper() }]);
    let mut draft = Draft::of(&procedure, Point);
    assert_eq!(draft.read(Point).0.papers, procedure.papers);
    rename(&mut draft, List::TestPoints, 0, "TP77").unwrap();
    assert_eq!(draft.papers[0].pins[0].of, point("TP77"));
    take_off_list(&mut draft, List::TestPoints, 0);
    assert_eq!(draft.papers[0].pins, procedure.papers[0].pins[1..]);
    take_off_list(&mut draft, List::Adjusters, 0);
    assert_eq!(draft.papers[0].pins, []);
}

#[test]
fn a_procedure_without_papers_is_written_as_before_there_were_any() {
    let text = serde_json::to_string(&trainer()).unwrap();
    assert!(!text.contains("papers"));
    let draft = serde_json::to_string(&Draft::of(&trainer(), Point)).unwrap();
    assert!(!draft.contains("papers"));
    // The first page is left out as well.
    let first = serde_json::to_string(&pin(point("TP1"), 1, 2, 3)).unwrap();
    assert_eq!(first, r#"{"of":{"test-point":"TP1"},"x":2,"y":3}"#);
}

#[test]
fn two_revisions_tell_which_papers_and_pins_differ() {
    let (tp, _) = names();
    let was = with_papers(vec![bare()]);
    let pins = vec![pin(tp.clone(), 2, 2_500, 7_500)];
    let other = Paper {
        paper: picture().digest().clone(),
        title: "Layout".to_owned(),
        pins: Vec::new(),
    };
    let is = with_papers(vec![Paper { pins, ..bare() }, other]);
    let told: Vec<_> = differences(&was, &is, Point)
        .into_iter()
        .map(|it| (it.what, it.is.unwrap_or_default()))
        .collect();
    let place = format!("{} on page 2 at 25 % across, 75 % down", tp.name());
    assert_eq!(
        told,
        [
            ("Pins in paper “Circuit diagram”".to_owned(), place),
            ("Paper “Layout” added".to_owned(), String::new()),
        ]
    );
}

#[test]
fn papers_follow_from_the_log_and_each_entry_can_be_taken_back() {
    let mut job = fresh_job();
    record(&mut job, "a", kept(bare()));
    record(
        &mut job,
        "b",
        changed(PaperChange::Titled("Sheet 2".to_owned())),
    );
    record(
        &mut job,
        "c",
        changed(PaperChange::Pinned(pin(point("TP1"), 1, 1, 1))),
    );
    record(
        &mut job,
        "d",
        changed(PaperChange::Pinned(pin(point("TP1"), 3, 2, 2))),
    );
    assert_eq!(titles(&job), ["Sheet 2"]);
    assert_eq!(job.papers()[0].pins, [pin(point("TP1"), 3, 2, 2)]);
    assert!(job.pictures().contains(pdf().digest()));
    record(&mut job, "e", Deed::Undone { event: id("d") });
    assert_eq!(job.papers()[0].pins, [pin(point("TP1"), 1, 1, 1)]);
    record(&mut job, "f", changed(PaperChange::Unpinned(point("TP1"))));
    assert_eq!(job.papers()[0].pins, []);
    record(&mut job, "g", changed(PaperChange::Removed));
    assert_eq!(titles(&job), [""; 0]);
    assert!(!job.pictures().contains(pdf().digest()));
    record(&mut job, "h", Deed::Undone { event: id("g") });
    assert_eq!(titles(&job), ["Sheet 2"]);
    record(&mut job, "i", Deed::Undone { event: id("a") });
    assert_eq!(titles(&job), [""; 0]);
}

#[test]
fn a_paper_that_is_not_there_or_has_no_name_is_refused() {
    let mut job = fresh_job();
    let stamp = || Stamp { id: id("x"), at: 0 };
    let refused = job.record(stamp(), changed(PaperChange::Removed));
    assert_eq!(refused, Err(Refusal::NoPaper));
    let title = String::new();
    let refused = job.record(stamp(), kept(Paper { title, ..bare() }));
    assert_eq!(refused, Err(Refusal::Blank("what the paper is")));
    record(&mut job, "a", kept(bare()));
    let refused = job.record(stamp(), changed(PaperChange::Titled(" ".to_owned())));
    assert_eq!(refused, Err(Refusal::Blank("what the paper is")));
}

#[test]
fn a_job_pins_the_papers_of_its_procedures_without_changing_these() {
    let (tp, adjuster) = names();
    let procedure = with_papers(vec![Paper {
        pins: vec![pin(tp.clone(), 1, 1, 1)],
        ..paper()
    }]);
    let opened = Stamp { id: id("o"), at: 0 };
    let mut job = Job::open(id("j"), procedure.clone(), Default::default(), opened);
    record(
        &mut job,
        "a",
        changed(PaperChange::Pinned(pin(adjuster.clone(), 2, 5, 5))),
    );
    let papers = job.progress().papers;
    assert_eq!(papers[0].pin(&adjuster).map(|pin| pin.page), Some(2));
    assert_eq!(papers[0].pin(&tp).map(|pin| pin.page), Some(1));
    assert_eq!(*job.procedure, procedure);

    // One that is taken on brings its papers along, joined with those of the same bytes.
    let mut other = examples::taken_on();
    other.papers = vec![
        Paper {
            paper: picture().digest().clone(),
            title: "Layout".to_owned(),
            pins: Vec::new(),
        },
        bare(),
    ];
    let taken = Deed::TookOn {
        procedure: Box::new(other),
    };
    record(&mut job, "b", taken);
    assert_eq!(titles(&job), ["Circuit diagram", "Layout"]);
    let needed = job.pictures();
    assert!(needed.contains(picture().digest()) && needed.contains(pdf().digest()));
}

#[test]
fn two_copies_of_a_job_merge_their_papers_and_pins_in_any_order() {
    let mut one = fresh_job();
    record(&mut one, "a", kept(bare()));
    let mut other = one.clone();
    record(
        &mut one,
        "b1",
        changed(PaperChange::Pinned(pin(point("TP1"), 1, 1, 1))),
    );
    record(
        &mut other,
        "b2",
        changed(PaperChange::Pinned(pin(point("TP2"), 2, 2, 2))),
    );
    record(
        &mut other,
        "c2",
        changed(PaperChange::Titled("Sheet 2".to_owned())),
    );
    let merged = |mine: &Job, theirs: &Job| {
        let mut job = mine.clone();
        job.log = job.log.merge(&theirs.log);
        job
    };
    let (here, there) = (merged(&one, &other), merged(&other, &one));
    assert_eq!(here.papers(), there.papers());
    let paper = &here.papers()[0];
    assert_eq!((paper.title.as_str(), paper.pins.len()), ("Sheet 2", 2));

    // The same file kept by both is one paper.
    let (mut one, mut other) = (fresh_job(), fresh_job());
    record(&mut one, "p1", kept(bare()));
    record(&mut other, "p2", kept(paper.clone()));
    let both = merged(&one, &other);
    assert_eq!(titles(&both).len(), 1);
    assert_eq!(both.papers()[0].pins.len(), 2);
}

#[test]
fn a_step_is_led_to_the_page_that_shows_the_most_of_it() {
    let spots = [point("TP1"), point("TP2"), point("TP3")];
    let of = |pins: Vec<PaperPin>| Paper { pins, ..paper() };
    let page = |pins: Vec<PaperPin>| {
        of(pins)
            .page_of(&spots)
            .map(|(page, pins)| (page, pins.len()))
    };
    for (pins, expected) in [
        (vec![], None),
        (vec![pin(point("TP9"), 1, 1, 1)], None),
        (vec![pin(point("TP1"), 4, 1, 1)], Some((4, 1))),
        (
            vec![pin(point("TP1"), 4, 1, 1), pin(point("TP2"), 2, 1, 1)],
            Some((2, 1)),
        ),
        (
            vec![
                pin(point("TP1"), 1, 1, 1),
                pin(point("TP2"), 3, 1, 1),
                pin(point("TP3"), 3, 1, 1),
            ],
            Some((3, 2)),
        ),
        // A forged one leads nowhere.
        (vec![pin(point("TP1"), 0, 1, 1)], None),
    ] {
        assert_eq!(page(pins.clone()), expected, "{pins:?}");
    }
    let step = trainer();
    let step = step
        .steps()
        .find(|step| step.id == id("acc-socket"))
        .unwrap();
    assert!(matches!(
        step.paper_spots().as_slice(),
        [.., PaperSpot::Socket(_)]
    ));
}

#[test]
fn the_part_of_a_page_around_a_pin_has_it_in_the_middle_and_shows_less_than_the_page() {
    let at = pin(point("TP1"), 1, 5_000, 4_000);
    for size in [(595, 842), (842, 595), (1_190, 1_684)] {
        for frame in [0.6, 0.75, 4.0 / 3.0] {
            let crop = part_of_page(size, &[&at], frame);
            let (x, y) = crop.middle();
            assert!(
                (x - 5_000.0).abs() < 1.0 && (y - 4_000.0).abs() < 1.0,
                "{crop:?}"
            );
            assert!(crop.width.min(crop.height) < 6_000.0, "{crop:?}");
            let whole = part_of_page(size, &[], frame);
            assert!(
                whole.width >= 9_999.0 && whole.height >= 9_999.0,
                "{whole:?}"
            );
        }
    }
}

#[test]
fn papers_go_along_in_files_and_come_back() {
    let mut job = fresh_job();
    record(&mut job, "a", kept(paper()));
    let names = BTreeSet::from([pdf().digest().clone()]);
    let jobs = vec![job.clone()];
    let backup = Backup::of(None, Vec::new(), Vec::new(), jobs);
    let procedure = with_papers(vec![bare()]);
    for document in [
        Document::Job(job),
        Document::Backup(backup),
        Document::Procedure(procedure),
    ] {
        let board = picture().digest().clone();
        let named = document.pictures().into_iter().filter(|it| *it != board);
        assert_eq!(named.collect::<BTreeSet<_>>(), names);
        let text = write_with(&document, &[pdf()]);
        let file = open(&text).unwrap();
        assert_eq!(
            (&file.document, file.pictures.as_slice()),
            (&document, [pdf()].as_slice())
        );
        assert!(file.faulty.is_empty());
        // One whose bytes are another than its name says is set apart, and the rest is taken.
        let other = text.replace("application/pdf", "image/png");
        let file = open(&other).unwrap();
        assert_eq!((file.document, file.pictures.len()), (document, 0));
        assert!(file.faulty[0].why.to_string().contains("application/pdf"));
    }
}

#[test]
fn a_file_with_a_paper_of_no_name_or_a_pin_beside_its_page_is_refused() {
    let mut job = fresh_job();
    record(&mut job, "a", kept(paper()));
    record(
        &mut job,
        "b",
        changed(PaperChange::Pinned(pinned(point("TP1")))),
    );
    let text = write_with(&Document::Job(job), &[]);
    // Without their checks, entries are read as they stand.
    let bare: Vec<&str> = text
        .lines()
        .filter(|line| !line.contains("\"check\""))
        .collect();
    let bare = bare.join("\n").replace(",\n        }\n", "\n        }\n");
    for (from, to) in [
        ("\"Circuit diagram\"", "\" \""),
        ("\"x\": 2500", "\"x\": 10001"),
        ("\"page\": 2", "\"page\": 0"),
    ] {
        let spoiled = bare.replacen(from, to, 1);
        assert_ne!(spoiled, bare, "{from}");
        assert!(open(&spoiled).is_err(), "{to}");
    }
}

#[test]
fn what_a_job_names_is_no_orphan() {
    let memory = MemoryStorage::default();
    let (store, opened) = Store::open(&memory);
    opened.unwrap();
    let mut job = fresh_job();
    record(&mut job, "a", kept(paper()));
    let mut other = examples::taken_on();
    other.papers = vec![Paper {
        paper: picture().digest().clone(),
        ..bare()
    }];
    let taken = Deed::TookOn {
        procedure: Box::new(other),
    };
    record(&mut job, "b", taken);
    store.save_job(&job).unwrap();
    let mut surveying = Surveying::of(&store).unwrap();
    while surveying.step(&store).transpose().unwrap().is_some() {}
    let named = surveying.end().pictures;
    assert!(named.contains(pdf().digest()) && named.contains(picture().digest()));
}
