//! A fault is looked for along the path of a signal, and the log keeps what was seen.

mod support;

use halfturn::exchange::paths::paths;
use halfturn::exchange::report::{self, Report};
use halfturn::exchange::{Document, read, write};
use halfturn::job::{
    Change, Deed, FaultRecord, Job, Look, LookAt, Outcome, Phase, Refusal, Showed, begins,
    paths_of, reading_step,
};
use halfturn::metrology::Tolerance;
use halfturn::metrology::inference::suspects::Reach;
use halfturn::procedure::{CheckName, Effort, Id, PathFault, Procedure, SignalPath, Stage, Work};
use support::{does, header, id, look, reading, stamp, undo};

fn booked_in() -> Job {
    Job::open(id("job-21"), Procedure::none(), header(), stamp(1))
}

fn path(title: &str) -> SignalPath {
    let mut all = paths().into_iter();
    all.find(|path| path.title == title).expect("a path")
}

fn starts(job: &mut Job, path: SignalPath) -> Id {
    does(job, begins(path, id("stop-1")))
}

fn confirms(job: &mut Job) {
    let progress = job.progress();
    let trace = progress.trace().expect("a path");
    for deed in progress.confirms(trace) {
        does(job, deed);
    }
}

fn at(path: &SignalPath, stage: &str, shows: Reach) -> CheckName {
    let found = path.stages.iter().find(|it| it.name == stage);
    CheckName {
        stage: found.expect("a stage").id.clone(),
        shows,
    }
}

fn looked(path: &Id, check: CheckName, showed: Showed) -> Deed {
    Deed::Looked {
        look: Box::new(Look {
            at: LookAt {
                path: path.clone(),
                check,
            },
            showed,
            note: String::new(),
        }),
    }
}

fn named(job: &Job) -> Option<String> {
    let progress = job.progress();
    let trace = progress.trace().expect("a path");
    let tracing = trace.tracing(|_| 0);
    let last = tracing
        .suspects
        .leading()
        .filter(|_| tracing.next.is_none());
    let place = tracing.suspects.named().or(last)?;
    Some(trace.path.stages[place].name.clone())
}

fn refused(job: &mut Job, deed: Deed) -> Refusal {
    let next = stamp(job.log.len() + 1);
    job.record(next, deed).expect_err("a refusal")
}

/// Does what is advised, with a fault in a stage, until it is named.
fn traced(job: &mut Job, name: &Id, fault: &str) -> usize {
    for taken in 0..40 {
        if named(job).is_some() {
            return taken;
        }
        let progress = job.progress();
        let trace = progress.trace().expect("a path");
        let check = trace.tracing(|_| 0).next.expect("a look");
        let stages = &trace.path.stages;
        let place = |id: &Id| stages.iter().position(|stage| stage.id == *id);
        let fault = stages.iter().position(|stage| stage.name == fault);
        let bad = match check.shows {
            Reach::Through => fault <= place(&check.stage),
            Reach::Alone | Reach::Bias => fault == place(&check.stage),
        };
        let showed = if bad {
            Showed::Otherwise
        } else {
            Showed::Expected
        };
        does(job, looked(name, check, showed));
    }
    panic!("it is never named")
}

#[test]
fn each_stage_of_each_shipped_path_is_found_where_looks_are_right() {
    for path in paths() {
        assert_eq!(path.fault(), None, "{}", path.title);
        for stage in &path.stages {
            let mut job = booked_in();
            let name = starts(&mut job, path.clone());
            if !path.confirm.is_empty() {
                confirms(&mut job);
            }
            let taken = traced(&mut job, &name, &stage.name);
            assert_eq!(named(&job), Some(stage.name.clone()), "{}", path.title);
            assert!(taken <= 14, "{}, {}: {taken}", path.title, stage.name);
        }
    }
}

#[test]
fn nothing_is_looked_at_along_a_keyed_path_before_its_load_is_confirmed() {
    let mut job = booked_in();
    let path = path("Transmitter");
    let name = starts(&mut job, path.clone());
    let look = || looked(&name, at(&path, "Driver", Reach::Through), Showed::Expected);
    assert_eq!(refused(&mut job, look()), Refusal::PathNotConfirmed);
    // A path that was only chosen owes nothing.
    assert_eq!(job.progress().steps.len(), 0);
    confirms(&mut job);
    does(&mut job, look());
    does(&mut job, Deed::Paused);
    assert_eq!(refused(&mut job, look()), Refusal::BehindLapsed(1));
    // What has nothing to do with it stays open.
    let added = halfturn::job::TypedStep {
        title: "Rail".to_owned(),
        at: "R47".to_owned(),
        scale: "V".parse().ok(),
        ..Default::default()
    };
    let sign = halfturn::quantity::DecimalSign::Point;
    let added = Box::new(added.read(id("own-1"), Vec::new(), sign).expect("a step"));
    does(&mut job, Deed::AddedStep { added });
    does(&mut job, reading("own-1", Phase::AsFound, "9.0 V"));
    confirms(&mut job);
    does(&mut job, look());
}

#[test]
fn a_copy_that_took_the_beginning_of_a_path_back_does_not_open_it() {
    let mut job = booked_in();
    let transmitter = path("Transmitter");
    let name = starts(&mut job, transmitter.clone());
    let again = job.progress().traces[0].taken_up();
    does(&mut job, again);
    does(&mut job, undo(&name));
    let check = at(&transmitter, "Driver", Reach::Through);
    let look = || looked(&name, check.clone(), Showed::Expected);
    assert_eq!(refused(&mut job, look()), Refusal::PathNotConfirmed);
    confirms(&mut job);
    does(&mut job, look());
}

#[test]
fn a_path_is_taken_up_again_with_its_looks() {
    let mut job = booked_in();
    let audio = path("Audio");
    let first = starts(&mut job, audio.clone());
    does(
        &mut job,
        looked(
            &first,
            at(&audio, "Loudspeaker", Reach::Through),
            Showed::Otherwise,
        ),
    );
    let second = starts(&mut job, path("Supply"));
    assert_eq!(
        job.progress().trace().map(|it| it.name.clone()),
        Some(second)
    );
    let again = job.progress().traces[0].taken_up();
    does(&mut job, again);
    let progress = job.progress();
    let trace = progress.trace().expect("a path");
    assert_eq!((&trace.name, trace.looks.len()), (&first, 1));
    assert_eq!(progress.traces.len(), 2);
}

#[test]
fn looks_that_contradict_each_other_are_told() {
    let mut job = booked_in();
    let audio = path("Audio");
    let name = starts(&mut job, audio.clone());
    let early = at(&audio, "Volume control", Reach::Through);
    let late = at(&audio, "Loudspeaker", Reach::Through);
    let against = |job: &Job| job.progress().traces[0].tracing(|_| 0).against;
    does(&mut job, looked(&name, early.clone(), Showed::Otherwise));
    assert_eq!(against(&job), []);
    does(&mut job, looked(&name, late.clone(), Showed::Expected));
    assert_eq!(against(&job), [late]);
}

#[test]
fn a_reading_older_than_the_cure_is_told_on_the_sheet() {
    let mut job = read_outside();
    let told = |job: &Job| {
        let html = report::html::fragment(&Report::of(job, &[], &look()));
        html.contains("Not read since a part was changed or a cure recorded")
    };
    assert!(!told(&job));
    let cure = FaultRecord {
        cure: "C47 renewed".to_owned(),
        outcome: Outcome::Cured,
        ..FaultRecord::default()
    };
    let record = Box::new(cure);
    does(
        &mut job,
        Deed::FaultNoted {
            first: None,
            record,
        },
    );
    assert!(told(&job));
    does(&mut job, reading("look-1", Phase::AsLeft, "2.0 V rms"));
    assert!(!told(&job));
}

/// The audio path with a figure at its output.
fn with_a_figure() -> SignalPath {
    let mut path = path("Audio");
    let stage = path
        .stages
        .iter_mut()
        .find(|it| it.name == "Audio output stage");
    let check = &mut stage.expect("a stage").checks[0];
    check.at = "TP9".to_owned();
    check.limit = Some(Tolerance::AtLeast("1.5 V rms".parse().expect("volts")));
    path
}

/// A job whose audio was read at its output, and was too little.
fn read_outside() -> Job {
    let mut job = booked_in();
    let path = with_a_figure();
    starts(&mut job, path.clone());
    let check = at(&path, "Audio output stage", Reach::Through);
    let added = reading_step(&job.progress().traces[0], &check, id("look-1"));
    let added = Box::new(added.expect("a step"));
    does(&mut job, Deed::AddedStep { added });
    does(&mut job, reading("look-1", Phase::AsFound, "0.1 V rms"));
    job
}

#[test]
fn a_figure_is_read_in_a_step_and_counts_as_a_look() {
    let mut job = booked_in();
    let path = with_a_figure();
    let name = starts(&mut job, path.clone());
    let check = at(&path, "Audio output stage", Reach::Through);
    let progress = job.progress();
    let added = reading_step(progress.trace().expect("a path"), &check, id("look-1"));
    let added = Box::new(added.expect("a step"));
    assert!(matches!(added.step.work, Work::Read { .. }));
    does(&mut job, Deed::AddedStep { added });
    assert_eq!(job.progress().trace().expect("a path").looks, []);
    does(&mut job, reading("look-1", Phase::AsFound, "0.1 V rms"));
    let progress = job.progress();
    let [seen] = &progress.trace().expect("a path").looks[..] else {
        panic!("one look")
    };
    assert_eq!((&seen.check, seen.showed), (&check, Showed::Otherwise));
    assert_eq!(seen.step, Some(id("look-1")));
    assert!(seen.counts);
    assert_eq!(
        reading_step(
            progress.trace().expect("a path"),
            &at(&path, "Loudspeaker", Reach::Through),
            id("x")
        ),
        None
    );
    assert_eq!(name, progress.traces[0].name);
}

#[test]
fn what_was_seen_before_the_set_was_mended_does_not_count_any_more() {
    let change = Deed::Changed {
        first: None,
        step: None,
        change: Box::new(Change {
            fitted: "Transistor".to_owned(),
            ..Change::default()
        }),
    };
    let cure = Deed::FaultNoted {
        first: None,
        record: Box::new(FaultRecord {
            cure: "Joint resoldered".to_owned(),
            outcome: Outcome::Cured,
            ..FaultRecord::default()
        }),
    };
    let found = Deed::FaultNoted {
        first: None,
        record: Box::new(FaultRecord {
            cause: "Dry joint".to_owned(),
            outcome: Outcome::Found,
            ..FaultRecord::default()
        }),
    };
    for (deed, counts) in [(change, false), (cure, false), (found, true)] {
        let mut job = booked_in();
        let path = path("Audio");
        let name = starts(&mut job, path.clone());
        traced(&mut job, &name, "Audio output stage");
        does(&mut job, deed.clone());
        let progress = job.progress();
        let trace = progress.trace().expect("a path");
        assert!(
            trace.looks.iter().all(|look| look.counts == counts),
            "{deed:?}"
        );
        assert_eq!(named(&job).is_some(), counts, "{deed:?}");
        does(
            &mut job,
            looked(
                &name,
                at(&path, "Loudspeaker", Reach::Through),
                Showed::Expected,
            ),
        );
        assert!(
            job.progress().traces[0]
                .looks
                .last()
                .expect("a look")
                .counts
        );
    }
}

#[test]
fn the_reading_that_showed_the_fault_stays_what_was_seen_then() {
    let mut job = read_outside();
    let cure = FaultRecord {
        cure: "C47 renewed".to_owned(),
        outcome: Outcome::Cured,
        ..FaultRecord::default()
    };
    does(
        &mut job,
        Deed::FaultNoted {
            first: None,
            record: Box::new(cure),
        },
    );
    let seen = |job: &Job| {
        job.progress().traces[0]
            .looks
            .iter()
            .map(|look| (look.showed, look.counts))
            .collect::<Vec<_>>()
    };
    assert_eq!(seen(&job), [(Showed::Otherwise, false)]);
    does(&mut job, reading("look-1", Phase::AsLeft, "2.1 V rms"));
    assert_eq!(seen(&job), [(Showed::Expected, true)]);
}

#[test]
fn a_look_is_taken_back_like_any_entry() {
    let mut job = booked_in();
    let path = path("Audio");
    let name = starts(&mut job, path.clone());
    let look = does(
        &mut job,
        looked(
            &name,
            at(&path, "Loudspeaker", Reach::Through),
            Showed::Otherwise,
        ),
    );
    does(&mut job, undo(&look));
    assert_eq!(job.progress().traces[0].looks, []);
}

#[test]
fn earlier_faults_of_such_sets_make_a_stage_more_suspect_and_never_certain() {
    let path = path("Audio");
    let share = |seen: usize| {
        let before = |stage: &Stage| {
            if stage.name == "Volume control" {
                seen
            } else {
                0
            }
        };
        let (suspicion, _) = path.suspicion(before);
        let place = path
            .stages
            .iter()
            .position(|it| it.name == "Volume control");
        suspicion.weigh(&[]).suspects().first[place.expect("a stage")]
    };
    assert!(
        share(0) < share(1) && share(1) < share(5),
        "{} {} {}",
        share(0),
        share(1),
        share(5)
    );
    assert!(share(5) < 0.7, "{}", share(5));
}

#[test]
fn a_place_out_of_reach_is_never_advised() {
    let mut path = path("Audio");
    for check in path.stages.iter_mut().flat_map(|stage| &mut stage.checks) {
        if check.shows == Reach::Through {
            check.effort = Effort::OutOfReach;
        }
    }
    let (_, names) = path.suspicion(|_| 0);
    assert!(names.iter().all(|name| name.shows != Reach::Through));
    assert!(!names.is_empty());
}

#[test]
fn a_path_that_cannot_be_looked_along_is_refused_with_what_is_missing() {
    type Spoils = fn(&mut SignalPath);
    let spoil: [(Spoils, PathFault); 6] = [
        (|path| path.title.clear(), PathFault::Untitled),
        (|path| path.stages.truncate(1), PathFault::TooShort),
        (
            |path| path.stages[2].name = " ".to_owned(),
            PathFault::Nameless(3),
        ),
        (
            |path| path.stages[1].name = path.stages[0].name.clone(),
            PathFault::Twice(2),
        ),
        (
            |path| path.stages[3].checks[1].shows = path.stages[3].checks[0].shows,
            PathFault::SameCheck(4),
        ),
        (
            |path| {
                path.stages
                    .iter_mut()
                    .for_each(|stage| stage.checks.clear())
            },
            PathFault::NoCheck,
        ),
    ];
    for (spoil, fault) in spoil {
        let mut path = path("Audio");
        spoil(&mut path);
        let mut job = booked_in();
        let deed = begins(path, id("stop-1"));
        assert_eq!(refused(&mut job, deed), Refusal::Path(fault));
    }
}

#[test]
fn the_sheet_and_the_file_carry_what_was_looked_at() {
    let mut job = booked_in();
    let path = path("Audio");
    let name = starts(&mut job, path.clone());
    does(
        &mut job,
        looked(
            &name,
            at(&path, "Volume control", Reach::Through),
            Showed::Otherwise,
        ),
    );
    let html = report::html::fragment(&Report::of(&job, &[], &look()));
    let html = html.replace(['\u{2068}', '\u{2069}'], "");
    for said in [
        "Where the fault was looked for",
        "Volume control",
        "not as expected",
    ] {
        assert!(html.contains(said), "{said}");
    }
    let text = write(&Document::Job(job.clone()));
    let Ok(Document::Job(back)) = read(&text) else {
        panic!("it reads")
    };
    assert_eq!(back.progress().traces, job.progress().traces);
}

#[test]
fn a_path_that_was_filled_in_serves_the_next_set() {
    let mut first = booked_in();
    starts(&mut first, with_a_figure());
    let mut second = booked_in();
    starts(&mut second, with_a_figure());
    starts(&mut second, path("Supply"));
    let titles = |known: &[halfturn::job::Trace]| {
        let jobs = [first.clone(), second.clone()];
        let paths = paths_of(&jobs, known).into_iter();
        paths.map(|path| path.title).collect::<Vec<_>>()
    };
    assert_eq!(titles(&[]).len(), 2);
    assert_eq!(titles(&first.progress().traces), ["Supply"]);
}

#[test]
fn what_two_copies_saw_is_joined() {
    let mut here = booked_in();
    let path = path("Audio");
    let name = starts(&mut here, path.clone());
    let mut there = here.clone();
    does(
        &mut here,
        looked(
            &name,
            at(&path, "Loudspeaker", Reach::Through),
            Showed::Otherwise,
        ),
    );
    let stage = at(&path, "Volume control", Reach::Through);
    let other = halfturn::job::Stamp {
        id: id("theirs"),
        at: 9,
    };
    there
        .record(other, looked(&name, stage, Showed::Expected))
        .expect("it is taken");
    here.log = here.log.merge(&there.log);
    assert_eq!(here.progress().traces[0].looks.len(), 2);
}

#[test]
fn what_was_left_before_a_change_is_named_in_the_result() {
    let mut job = read_outside();
    does(&mut job, reading("look-1", Phase::AsLeft, "2.0 V rms"));
    let told = |job: &Job| {
        let html = report::html::fragment(&Report::of(job, &[], &look()));
        html.contains("was not read since a part was changed or a cure recorded.")
    };
    assert!(!told(&job));
    let record = Box::new(FaultRecord {
        cure: "C47 renewed".to_owned(),
        outcome: Outcome::Cured,
        ..FaultRecord::default()
    });
    let first = None;
    does(&mut job, Deed::FaultNoted { first, record });
    assert!(told(&job));
    does(&mut job, reading("look-1", Phase::AsLeft, "2.0 V rms"));
    assert!(!told(&job));
}
