//! How much room years of work take: 5 × 1024 × 1024 UTF-16 code units are what browsers give
//! (Storage, WHATWG, leaves it to them; 5 MiB is the usual figure).

use halfturn::exchange::demo;
use halfturn::job::{Deed, Finding, Job, Phase, Stamp};
use halfturn::procedure::{Id, Work};
use halfturn::store::{MemoryStorage, Storage, Store};
use sha2::{Digest, Sha256};

const ROOM: usize = 5 * 1024 * 1024;
const JOBS: usize = 1000;
/// Few enough for a check; all alike but for ids, times, digits and words.
const MADE: usize = 20;
const STEPS: usize = 40;
const SECOND: i64 = 1000;

/// Numbers that don't repeat, so that nothing packs better than it would at a bench.
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> u64 {
        self.0 += 1;
        let bytes = Sha256::digest(self.0.to_le_bytes());
        u64::from_le_bytes(bytes[..8].try_into().expect("eight bytes"))
    }

    fn below(&mut self, limit: u64) -> u64 {
        self.next() % limit
    }

    /// Like the app's own: 80 random bits as 16 letters.
    fn id(&mut self) -> Id {
        const LETTERS: &[u8; 32] = b"0123456789abcdefghjkmnpqrstvwxyz";
        let letters = (0..16).map(|_| LETTERS[self.below(32) as usize] as char);
        letters.collect::<String>().parse().expect("an id")
    }
}

/// A finished job of 40 steps, two readings a step, with notes, a part changed and a slip.
fn made(chance: &mut Chance, number: usize) -> Job {
    let mut at = 1_790_000_000_000 + number as i64 * 3 * 3_600 * SECOND;
    let half_done = demo::half_done(at, || chance.id()).expect("the demo");
    let mut header = half_done.progress().header;
    header.number = format!("2026-{number:04}");
    header.set.serial = format!("QRC-{}", chance.below(10_000));
    header.owner = format!("Member {}", chance.below(500));
    header.fault = format!("Deaf on channel {}", chance.below(40));
    let procedure = half_done.procedure;
    let stamp = |chance: &mut Chance, at: i64| Stamp {
        id: chance.id(),
        at,
    };
    let first = stamp(chance, at);
    let mut job = Job::open(chance.id(), procedure, header, first);
    let steps: Vec<_> = job.procedure.steps().take(STEPS).cloned().collect();
    for (index, step) in steps.iter().enumerate() {
        let id = step.id.clone();
        for deed in deeds(chance, &id, &step.work, index) {
            at += (5 + chance.below(90) as i64) * SECOND + chance.below(1000) as i64;
            job.log.append(stamp(chance, at), deed);
        }
    }
    let by = "Bench 1".to_owned();
    let remarks = "Left with the owner’s lead.".to_owned();
    job.log
        .append(stamp(chance, at), Deed::SignedOff { by, remarks });
    job
}

fn deeds(chance: &mut Chance, step: &Id, work: &Work, index: usize) -> Vec<Deed> {
    let scale = work
        .gauge()
        .map_or("V".to_owned(), |g| g.scale.symbol().to_string());
    let mut reading = |phase| Deed::Reading {
        step: step.clone(),
        phase,
        value: format!("{}.{:04} {scale}", chance.below(30), chance.below(10_000))
            .parse()
            .expect("a quantity"),
        tool: None,
        repeat: false,
        heard: None,
    };
    let mut deeds = vec![reading(Phase::AsFound), reading(Phase::AsLeft)];
    match work {
        Work::Inspect => deeds.push(Deed::Answered {
            step: step.clone(),
            answer: Finding::Sound,
            note: String::new(),
        }),
        _ if work.gauge().is_none() => deeds.push(Deed::Ticked { step: step.clone() }),
        _ => {}
    }
    if index % 8 == 3 {
        let place = chance.below(900);
        deeds.push(Deed::Noted {
            step: Some(step.clone()),
            text: format!("Joint at R{place} was dry; made anew and pulled at, it holds."),
        });
    }
    deeds
}

#[test]
fn a_thousand_finished_jobs_of_forty_steps_fit_into_what_browsers_give() {
    let memory = MemoryStorage::default();
    let (store, _) = Store::open(&memory);
    let mut chance = Chance(0);
    let taken = || -> usize {
        let keys = (&memory).keys().expect("keys").into_iter();
        keys.map(|key| {
            let text = (&memory).size(&key).expect("a readable storage");
            key.len() + text.unwrap_or_default()
        })
        .sum()
    };
    store.save_job(&made(&mut chance, 0)).expect("room for it");
    let first = taken();
    for number in 1..=MADE {
        let job = made(&mut chance, number);
        assert!(job.log.len() > 2 * STEPS, "{}", job.log.len());
        store.save_job(&job).expect("room for it");
    }
    let each = (taken() - first) as f64 / MADE as f64;
    let all = first as f64 + each * (JOBS - 1) as f64;
    println!("{each:.0} code units a job, {all:.0} for {JOBS}");
    assert!(all < ROOM as f64, "{each} code units a job");
}
