//! Finding the stage at fault along a path, against going from front to back.
//!
//! `HALFTURN_TRIALS=1000 cargo test --release --no-default-features --test suspects -- --nocapture`
//! prints the table of `docs/benchmarks.md`; without the variable, fewer trials of the same.

mod chance;

use chance::Chance;
use halfturn::exchange::paths::paths;
use halfturn::metrology::inference::suspects::{Look, Path, Reach};
use halfturn::procedure::SignalPath;

fn trials() -> usize {
    let given = std::env::var("HALFTURN_TRIALS").ok();
    given.and_then(|text| text.parse().ok()).unwrap_or(60)
}

/// A bench, which need not be as the path's weights and the formulas have it.
#[derive(Clone, Copy)]
struct Bench {
    name: &'static str,
    /// How a stage that the path gives this weight really fails.
    fails: fn(f64) -> f64,
    /// A look is wrong once in so many.
    slip: f64,
    /// At a place all looks are wrong once in so many.
    wrong_place: f64,
    /// The share of a stage's faults that its bias shows.
    bias: f64,
    /// The share of sets with two faults.
    two: f64,
}

const AS_BELIEVED: Bench = Bench {
    name: "as believed",
    fails: |weight| weight,
    slip: 0.015,
    wrong_place: 0.005,
    bias: 0.6,
    two: 0.05,
};

const BENCHES: [Bench; 7] = [
    AS_BELIEVED,
    Bench {
        name: "stages fail alike",
        fails: |_| 1.0,
        ..AS_BELIEVED
    },
    Bench {
        name: "stages fail the other way round",
        fails: |weight| 1.0 / weight,
        ..AS_BELIEVED
    },
    Bench {
        name: "bias shows 3 in 10",
        bias: 0.3,
        ..AS_BELIEVED
    },
    Bench {
        name: "two faults in 2 of 10",
        two: 0.2,
        ..AS_BELIEVED
    },
    Bench {
        name: "looks are wrong half as often",
        slip: 0.0075,
        wrong_place: 0.0025,
        ..AS_BELIEVED
    },
    Bench {
        name: "no look is wrong",
        slip: 0.0,
        wrong_place: 0.0,
        ..AS_BELIEVED
    },
];

/// A set with its fault.
struct Set<'a> {
    path: &'a Path,
    faults: Vec<usize>,
    /// For each probe, whether the fault shows there at all, and whether it is the wrong place.
    shows: Vec<bool>,
    wrong: Vec<bool>,
    slip: f64,
}

fn drawn(weights: &[f64], chance: &mut Chance) -> usize {
    let whole: f64 = weights.iter().sum();
    let mut at = chance.between(0.0, whole);
    for (stage, weight) in weights.iter().enumerate() {
        at -= weight;
        if at < 0.0 {
            return stage;
        }
    }
    weights.len() - 1
}

impl<'a> Set<'a> {
    fn drawn(path: &'a Path, bench: Bench, chance: &mut Chance) -> Self {
        let weights: Vec<f64> = path.weights.iter().map(|it| (bench.fails)(*it)).collect();
        let mut faults = vec![drawn(&weights, chance)];
        if chance.between(0.0, 1.0) < bench.two {
            faults.push(drawn(&weights, chance));
        }
        let mut is = |share: f64| chance.between(0.0, 1.0) < share;
        let shows = path.probes.iter();
        let shows = shows.map(|it| it.reach != Reach::Bias || is(bench.bias));
        let shows = shows.collect();
        let wrong = path.probes.iter().map(|_| is(bench.wrong_place)).collect();
        Set {
            path,
            faults,
            shows,
            wrong,
            slip: bench.slip,
        }
    }

    fn look(&self, probe: usize, chance: &mut Chance) -> Look {
        let it = &self.path.probes[probe];
        let is_bad = self.faults.iter().any(|fault| match it.reach {
            Reach::Through => *fault <= it.stage,
            Reach::Alone | Reach::Bias => *fault == it.stage,
        });
        let is_bad = is_bad && self.shows[probe];
        let is_wrong = self.wrong[probe] != (chance.between(0.0, 1.0) < self.slip);
        Look {
            probe,
            is_good: is_bad == is_wrong,
        }
    }
}

/// How a search went.
#[derive(Default)]
struct Went {
    looks: usize,
    cost: f64,
    /// The stage that was named, if one was.
    named: Option<usize>,
}

/// More looks are not taken in any search.
const MOST: usize = 60;

fn go_on(set: &Set, mut looks: Vec<Look>, chance: &mut Chance) -> Went {
    loop {
        let weighed = set.path.weigh(&looks);
        let (suspects, next) = (weighed.suspects(), weighed.next());
        let is_over = suspects.named().is_some() || suspects.is_none();
        match next.filter(|_| !is_over && looks.len() < MOST) {
            Some(next) => looks.push(set.look(next.probe, chance)),
            None => {
                return Went {
                    looks: looks.len(),
                    cost: looks.iter().map(|it| set.path.probes[it.probe].cost).sum(),
                    named: suspects.named(),
                };
            }
        }
    }
}

/// Looks at each stage in turn, until one is bad. The last needs no look: something is at fault.
fn front_to_back(set: &Set, chance: &mut Chance) -> (Vec<Look>, usize) {
    let last = set.path.weights.len() - 1;
    let mut looks = Vec::new();
    for stage in 0..last {
        let mut probes = 0..set.path.probes.len();
        let shows = |probe: &usize| {
            let it = &set.path.probes[*probe];
            it.stage == stage && it.reach != Reach::Bias
        };
        let Some(probe) = probes.find(shows) else {
            continue;
        };
        looks.push(set.look(probe, chance));
        if !looks[looks.len() - 1].is_good {
            return (looks, stage);
        }
    }
    (looks, last)
}

#[derive(Default)]
struct Tally {
    looks: f64,
    cost: f64,
    wrong: f64,
    open: f64,
}

impl Tally {
    fn add(&mut self, other: &Tally) {
        self.looks += other.looks;
        self.cost += other.cost;
        self.wrong += other.wrong;
        self.open += other.open;
    }

    fn take(&mut self, went: &Went, set: &Set) {
        self.looks += went.looks as f64;
        self.cost += went.cost;
        match went.named {
            Some(stage) => self.wrong += f64::from(u8::from(!set.faults.contains(&stage))),
            None => self.open += 1.0,
        }
    }
}

fn run(shipped: &SignalPath, bench: Bench) -> [Tally; 3] {
    let (path, _) = shipped.suspicion(|_| 0);
    let mut chance = Chance(17);
    let mut tallies = [Tally::default(), Tally::default(), Tally::default()];
    for _ in 0..trials() {
        let set = Set::drawn(&path, bench, &mut chance);
        tallies[0].take(&go_on(&set, Vec::new(), &mut chance), &set);
        let (looks, named) = front_to_back(&set, &mut chance);
        let plain = Went {
            looks: looks.len(),
            cost: looks.iter().map(|it| path.probes[it.probe].cost).sum(),
            named: Some(named),
        };
        tallies[1].take(&plain, &set);
        tallies[2].take(&go_on(&set, looks, &mut chance), &set);
    }
    tallies
}

/// A row of the table: how each way of searching went in so many sets.
fn print(path: &str, bench: &Bench, [advised, plain, sure]: &[Tally; 3], n: f64) {
    let looks = advised.looks / sure.looks;
    println!(
        "| {path} | {} | {:.1}, {:.1} %, {:.1} % | {:.1}, {:.1} % | {:.2} | {:.1}, {:.1} %, {:.1} % | {} | {:.2} |",
        bench.name,
        advised.looks / n,
        100.0 * advised.wrong / n,
        100.0 * advised.open / n,
        plain.looks / n,
        100.0 * plain.wrong / n,
        advised.looks / plain.looks,
        sure.looks / n,
        100.0 * sure.wrong / n,
        100.0 * sure.open / n,
        marked(looks, looks <= 0.605),
        advised.cost / sure.cost,
    );
}

/// A ratio, in bold where it is beyond what is aimed at.
fn marked(ratio: f64, is_kept: bool) -> String {
    match is_kept {
        true => format!("{ratio:.2}"),
        false => format!("**{ratio:.2}**"),
    }
}

#[test]
fn advice_needs_fewer_looks_than_going_from_front_to_back() {
    let n = trials() as f64;
    println!(
        "| path, stages | bench | advised: looks, wrong, not named | front to back until the first bad look: looks, wrong | ratio | front to back until it is as sure: looks, wrong, not named | ratio | effort |\n| --- | --- | --- | --- | --- | --- | --- | --- |"
    );
    let mut together = BENCHES.map(|_| [Tally::default(), Tally::default(), Tally::default()]);
    for shipped in paths() {
        assert_eq!(shipped.fault(), None, "{}", shipped.title);
        let mut over_all = [Tally::default(), Tally::default()];
        for (bench, together) in BENCHES.iter().zip(&mut together) {
            let tallies = run(&shipped, *bench);
            let name = format!("{}, {}", shipped.title, shipped.stages.len());
            print(&name, bench, &tallies, n);
            over_all[0].add(&tallies[0]);
            over_all[1].add(&tallies[2]);
            for (sum, tally) in together.iter_mut().zip(&tallies) {
                sum.add(tally);
            }
        }
        // Few trials tell a share roughly, so the benches stand together.
        let [advised, sure] = over_all;
        let all = n * BENCHES.len() as f64;
        let wrong = advised.wrong / all;
        assert!(advised.looks < 0.9 * sure.looks, "{}", shipped.title);
        assert!(advised.cost < 0.9 * sure.cost, "{}", shipped.title);
        assert!(
            wrong <= 0.02 + 2.0 * (0.02 / all).sqrt(),
            "{}: {wrong}",
            shipped.title
        );
    }
    let all = n * paths().len() as f64;
    for (bench, tallies) in BENCHES.iter().zip(&together) {
        print("all of them", bench, tallies, all);
    }
    let [advised, _, sure] = &together[0];
    assert!(advised.looks <= 0.6 * sure.looks);
    assert!(advised.wrong / all <= 0.02);
}
