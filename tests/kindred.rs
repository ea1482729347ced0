//! What earlier jobs of one procedure tell of one more set: which of them count, where its first
//! round may be left from its readings as found, and what speaks against that.

use halfturn::job::guidance::advice;
use halfturn::job::guidance::advice::{KnownFrom, NextAims, Rounds};
use halfturn::job::{Header, Job, Line, Log, MOST_JOBS, Stamp, kindred, may_teach, torn};
use halfturn::metrology::inference::coupling::Unsupported;
use halfturn::procedure::{Id, Procedure};
use halfturn::quantity::to_f64;
use serde_json::{Value, json};

fn id(text: &str) -> Id {
    text.parse().unwrap()
}

/// Two bias pots that pull each other, each to 100.0 mA ± 1 mA, in the second revision.
fn procedure() -> Value {
    let step = |id: &str, adjuster: &str| {
        let margin = json!({"absolute": "1 mA"});
        let target = json!({"fixed": {"around": {
            "nominal": "100.0 mA", "below": margin, "above": margin}}});
        json!({"id": id, "title": id, "work": {"set": {
            "gauge": {"at": "TP1", "with": "meter", "in": "mA"},
            "adjuster": adjuster, "target": target}}})
    };
    json!({
        "id": "bias", "title": "Bias of two", "revision": 2, "covers": "Trainers",
        "adjusters": [
            {"ref": "R1", "kind": "pot", "disturbs": ["second"]},
            {"ref": "R2", "kind": "pot", "disturbs": ["first"]}],
        "test-points": [{"ref": "TP1", "where": "Somewhere"}],
        "instruments": [{"role": "meter", "needs": "To read current"}],
        "chases": [{"title": "Both", "steps": ["first", "second"]}],
        "sections": [{"title": "All", "steps": [step("first", "R1"), step("second", "R2")]}]
    })
}

/// A set on the bench, with the job by which it is worked.
struct Bench {
    job: Job,
    levels: [f64; 2],
    /// What each does to the other, per unit of its own change.
    pulls: [f64; 2],
}

impl Bench {
    fn new(procedure: &Value, name: &str, serial: &str, pulls: [f64; 2], levels: [f64; 2]) -> Self {
        let procedure: Procedure = serde_json::from_value(procedure.clone()).unwrap();
        let mut header = Header::default();
        header.set.serial = serial.to_owned();
        let stamp = Stamp {
            id: id("opened"),
            at: 0,
        };
        Bench {
            job: Job::open(id(name), procedure, header, stamp),
            levels,
            pulls,
        }
    }

    fn enter(&mut self, at: usize, phase: &str, value: f64) {
        let number = self.job.log.len();
        let stamp = Stamp {
            id: id(&format!("e{number}")),
            at: number as i64,
        };
        let step = ["first", "second"][at];
        let reading = json!({"reading": {
            "step": step, "phase": phase, "value": format!("{value:.1} mA")}});
        let deed = serde_json::from_value(reading).unwrap();
        self.job.record(stamp, deed).unwrap();
    }

    fn look(&mut self) {
        for at in [0, 1] {
            self.enter(at, "as-found", self.levels[at]);
        }
    }

    fn turn(&mut self, at: usize, to: f64) {
        self.enter(at, "as-found", self.levels[at]);
        self.levels[1 - at] += self.pulls[at] * (to - self.levels[at]);
        self.levels[at] = to;
        self.enter(at, "try", to);
    }

    fn rounds(&self, earlier: &[&Job]) -> Rounds {
        let procedure = &self.job.procedure;
        let chase = &procedure.chases[0];
        let earlier = earlier.iter().copied().cloned();
        let progress = self.job.progress();
        let kindred = kindred(&progress.course, chase, earlier);
        advice::rounds(procedure, &progress, chase, kindred.as_ref()).unwrap()
    }

    fn aims(&self, earlier: &[&Job]) -> Result<NextAims, Unsupported> {
        self.rounds(earlier).aims
    }
}

/// A job of which all was read after each turn of its first round.
fn worked(procedure: &Value, name: &str, serial: &str, pulls: [f64; 2]) -> Job {
    let mut bench = Bench::new(procedure, name, serial, pulls, [40.0, 170.0]);
    bench.look();
    for at in [0, 1] {
        bench.turn(at, 100.0);
        bench.look();
    }
    bench.turn(0, 90.0);
    bench.look();
    bench.job
}

/// Sets that pull alike but for a few percent.
fn four() -> Vec<Job> {
    let pulls = [[0.50, 0.40], [0.51, 0.41], [0.49, 0.40], [0.50, 0.39]];
    let job = |(at, pulls)| {
        worked(
            &procedure(),
            &format!("job{at}"),
            &format!("QRC-{at}"),
            pulls,
        )
    };
    pulls.into_iter().enumerate().map(job).collect()
}

fn one_more(pulls: [f64; 2]) -> Bench {
    Bench::new(&procedure(), "new", "QRC-9", pulls, [40.0, 170.0])
}

fn all(jobs: &[Job]) -> Vec<&Job> {
    jobs.iter().collect()
}

#[test]
fn the_first_round_has_aims_from_four_earlier_jobs_and_brings_the_set_home() {
    let known = four();
    let mut bench = one_more([0.5, 0.4]);
    bench.look();
    let aims = bench.aims(&all(&known)).unwrap();
    assert_eq!(aims.from, KnownFrom::EarlierJobs(4));
    for aim in &aims.each {
        assert!(aim.half_width.is_some());
        bench.turn(aim.member, aim.leave_at.base_f64() * 1e3);
        // The aims stand until the round is over.
        if aim.member == 0 {
            assert_eq!(bench.aims(&all(&known)).unwrap(), aims);
        }
    }
    for (level, aim) in bench.levels.iter().zip(&aims.each) {
        let half = 1e3 * to_f64(&aim.half_width.as_ref().unwrap().base());
        assert!((level - 100.0).abs() <= half.min(2.0), "{level}, ± {half}");
    }
}

#[test]
fn three_earlier_jobs_are_too_few() {
    let known = four();
    let mut bench = one_more([0.5, 0.4]);
    bench.look();
    let told = bench.aims(&all(&known[..3]));
    assert!(
        matches!(told, Err(Unsupported::TooFewLooks { .. })),
        "{told:?}"
    );
}

#[test]
fn two_are_not_said_to_do_the_same_before_both_were_turned_or_where_one_has_no_target() {
    // One is turned again and again, and moves the other as much as itself.
    let mut bench = one_more([1.0, 1.0]);
    bench.look();
    for to in [60.0, 80.0, 95.0, 102.0, 100.0] {
        bench.turn(0, to);
        bench.look();
        let told = bench.aims(&[]).unwrap_err();
        assert_ne!(told, Unsupported::Alike);
    }
    // A limit to one side is nothing to aim at.
    let mut one_sided = procedure();
    one_sided["sections"][0]["steps"][1]["work"]["set"]["target"] =
        json!({"fixed": {"at-most": "100.0 mA"}});
    let mut bench = Bench::new(&one_sided, "new", "QRC-9", [0.5, 0.4], [40.0, 170.0]);
    bench.look();
    bench.turn(0, 100.0);
    assert_eq!(bench.aims(&[]), Err(Unsupported::NoTargets));
    // Once both were turned and do the same, that is said.
    let mut bench = one_more([1.0, 1.0]);
    bench.look();
    for (at, to) in [
        (0, 60.0),
        (1, 150.0),
        (0, 70.0),
        (1, 120.0),
        (0, 90.0),
        (1, 100.0),
    ] {
        bench.turn(at, to);
        bench.look();
    }
    assert_eq!(bench.aims(&[]), Err(Unsupported::Alike));
}

#[test]
fn all_must_be_looked_at_before_any_is_turned() {
    let known = four();
    let mut bench = one_more([0.5, 0.4]);
    bench.enter(0, "as-found", 40.0);
    let told = bench.aims(&all(&known)).unwrap_err();
    assert_eq!(
        told,
        Unsupported::NotSeen {
            reading: 1,
            sets: 4
        }
    );
    let said =
        "Look at reading 2 before any is turned: 4 earlier jobs then tell where to leave each.";
    assert_eq!(told.to_string(), said);
}

#[test]
fn a_set_that_pulls_the_other_way_is_told_as_soon_as_it_shows() {
    let known = four();
    let mut bench = one_more([-0.5, -0.4]);
    bench.look();
    let aims = bench.aims(&all(&known)).unwrap();
    bench.turn(0, aims.each[0].leave_at.base_f64() * 1e3);
    bench.enter(1, "as-found", bench.levels[1]);
    let told = bench.aims(&all(&known)).unwrap_err();
    assert_eq!(
        told,
        Unsupported::Contradicted {
            reading: 1,
            sets: 4
        }
    );
}

#[test]
fn its_own_readings_come_first_once_they_tell_it() {
    let known = four();
    let bench = Bench {
        job: worked(&procedure(), "new", "QRC-9", [-0.5, -0.4]),
        ..one_more([-0.5, -0.4])
    };
    let rounds = bench.rounds(&all(&known));
    assert_eq!(rounds.aims.unwrap().from, KnownFrom::ThisSet);
}

#[test]
fn one_set_counts_once() {
    let known = four();
    let again = worked(&procedure(), "again", "qrc 0", [0.5, 0.4]);
    let mut bench = one_more([0.5, 0.4]);
    bench.look();
    let jobs = [&known[0], &known[1], &known[2], &again];
    assert!(bench.aims(&jobs).is_err());
    // Sets without a serial number can't be told apart.
    let unknown = worked(&procedure(), "unknown", "", [0.5, 0.4]);
    let jobs = [&known[0], &known[1], &known[2], &unknown];
    assert!(bench.aims(&jobs).is_ok());
}

#[test]
fn a_job_counts_only_where_the_chase_is_the_same_work() {
    let mut bench = one_more([0.5, 0.4]);
    bench.look();
    let with = |change: &dyn Fn(&mut Value)| {
        let mut other = procedure();
        change(&mut other);
        let mut known = four();
        known[3] = worked(&other, "other", "QRC-3", [0.5, 0.39]);
        bench.aims(&all(&known)).is_ok()
    };
    let steps = |other: &mut Value| other["sections"][0]["steps"][1].take();
    assert!(with(&|other| {
        other["revision"] = json!(1);
        other["title"] = json!("Bias");
        other["sections"][0]["steps"][1]["title"] = json!("Second one");
    }));
    assert!(!with(&|other| {
        let target = "/work/set/target/fixed/around/nominal";
        let mut step = steps(other);
        *step.pointer_mut(target).unwrap() = json!("101.0 mA");
        other["sections"][0]["steps"][1] = step;
    }));
    assert!(!with(&|other| {
        let mut step = steps(other);
        step["work"]["set"]["adjuster"] = json!("R1");
        other["sections"][0]["steps"][1] = step;
    }));
    assert!(!with(
        &|other| other["chases"][0]["steps"] = json!(["second", "first"])
    ));
    assert!(!with(&|other| other["chases"] = json!([])));
}

#[test]
fn a_job_with_a_damaged_entry_tells_nothing() {
    let mut bench = one_more([0.5, 0.4]);
    bench.look();
    let mut known = four();
    assert!(bench.aims(&all(&known)).is_ok());
    let text = known[3].log.text().replacen("170.0 mA", "170.1 mA", 1);
    known[3].log = Log::from_checked(torn(&text)).unwrap();
    assert_eq!(known[3].log.damaged().len(), 1);
    assert!(bench.aims(&all(&known)).is_err());
}

#[test]
fn a_job_without_enough_looks_tells_nothing() {
    let mut bench = one_more([0.5, 0.4]);
    bench.look();
    let mut known = four();
    let mut plain = Bench::new(&procedure(), "plain", "QRC-3", [0.5, 0.4], [40.0, 170.0]);
    plain.turn(0, 100.0);
    plain.turn(1, 100.0);
    known[3] = plain.job;
    assert!(bench.aims(&all(&known)).is_err());
}

#[test]
fn only_jobs_begun_before_by_the_same_procedure_are_read_the_latest_first() {
    let line = |name: &str, procedure: &str, started: i64| {
        let mut line = Line::of(&one_more([0.5, 0.4]).job);
        line.id = id(name);
        line.procedure.id = id(procedure);
        line.procedure.revision = started as u32;
        line.started = started;
        line
    };
    let lines = [
        line("old", "bias", 1),
        line("new", "bias", 5),
        line("later", "bias", 6),
        line("other", "power", 2),
        line("recent", "bias", 4),
    ];
    let read = |lines: &[Line], job: &str| -> Vec<String> {
        let may = may_teach(lines, &id(job)).into_iter();
        may.map(|line| line.id.to_string()).collect()
    };
    assert_eq!(read(&lines, "new"), ["recent", "old"]);
    assert_eq!(read(&lines, "gone"), Vec::<String>::new());
    let many: Vec<Line> = (0..100)
        .map(|at| line(&format!("j{at}"), "bias", at))
        .collect();
    let latest = read(&many, "j99");
    assert_eq!((latest.len(), latest[0].as_str()), (MOST_JOBS, "j98"));
}
