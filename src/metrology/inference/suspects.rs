//! Which stage of a path is at fault, from what looks along it showed, and where to look next.
//!
//! Bayes over single faults, with pairs and "none of these" kept in the running, and the look that
//! divides them best for what it costs: expected information, C. E. Shannon, "A Mathematical Theory
//! of Communication" (1948), for a choice one step ahead, as J. de Kleer and B. C. Williams,
//! "Diagnosing multiple faults", Artificial Intelligence 32 (1987), from memory.

use serde::{Deserialize, Serialize};

/// A path, as far as its suspects go.
#[derive(Clone, Debug, PartialEq)]
pub struct Path {
    /// How likely each stage is to fail, in the order of the signal, against the others; above 0.
    pub weights: Vec<f64>,
    /// Where can be looked.
    pub probes: Vec<Probe>,
}

/// A place where can be looked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Probe {
    /// The stage, counted from 0.
    pub stage: usize,
    /// What it shows.
    pub reach: Reach,
    /// What a look costs against the others, above 0.
    pub cost: f64,
}

/// What a look shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Reach {
    /// What comes out of the stage, through all before it.
    Through,
    /// What the stage makes by itself, as an oscillator does.
    Alone,
    /// How it is supplied and biased; many faults leave that as it should be.
    Bias,
}

impl Reach {
    /// The share of a stage's faults that show there. That bias shows three of five is an
    /// assumption, from memory; `docs/benchmarks.md` tries others.
    const fn catches(self) -> f64 {
        match self {
            Reach::Through | Reach::Alone => 1.0,
            Reach::Bias => 0.6,
        }
    }
}

/// What a look showed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    /// At which probe.
    pub probe: usize,
    /// Whether it was as it should be.
    pub is_good: bool,
}

/// What is to be thought of a path.
#[derive(Clone, Debug, PartialEq)]
pub struct Suspects {
    /// The probability that a stage is the first one at fault, for each of them.
    pub first: Vec<f64>,
    /// The probability that none is.
    pub none: f64,
    /// The probability that two are.
    pub two: f64,
}

/// A look that was worked out to be worth taking.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Next {
    /// At which probe.
    pub probe: usize,
    /// What it is expected to tell, in bits.
    pub bits: f64,
}

/// From this probability on a stage is named.
pub const NAMED: f64 = 0.975;

/// A look is wrong once in so many, each by itself: a slip of the probe, a line read twice.
const SLIP: f64 = 0.015;

/// At a place all looks are wrong once in so many: the wrong pin, a probe that loads the stage.
const WRONG_PLACE: f64 = 0.005;

/// How likely it is that a path that seems faulty is not, or that what is faulty is not on it.
const NONE: f64 = 0.02;

/// How likely two faults are against one.
const TWO: f64 = 0.05;

/// A look that tells less, in bits, isn't worth taking.
const LEAST: f64 = 0.002;

/// What may be the case: the stages at fault, and how likely that is.
struct Case {
    first: Option<usize>,
    second: Option<usize>,
    weight: f64,
}

impl Case {
    fn has(&self, stage: usize) -> bool {
        self.first == Some(stage) || self.second == Some(stage)
    }

    /// Whether what is at fault shows at a probe, if it shows at all.
    fn can_show(&self, probe: &Probe) -> bool {
        match probe.reach {
            Reach::Through => self.first.is_some_and(|first| first <= probe.stage),
            Reach::Alone | Reach::Bias => self.has(probe.stage),
        }
    }
}

/// The looks at one probe.
#[derive(Clone, Copy, Default)]
struct Count {
    good: i32,
    bad: i32,
}

impl Count {
    const fn is_none(self) -> bool {
        self.good == 0 && self.bad == 0
    }

    fn and(self, is_good: bool) -> Self {
        let Count { good, bad } = self;
        match is_good {
            true => Count {
                good: good + 1,
                bad,
            },
            false => Count { good, bad: bad + 1 },
        }
    }

    /// How likely it is where each look should be good, or bad.
    fn if_should_be(self, is_good: bool) -> f64 {
        let (right, wrong) = match is_good {
            true => (self.good, self.bad),
            false => (self.bad, self.good),
        };
        let slips = |right: i32, wrong: i32| (1.0 - SLIP).powi(right) * SLIP.powi(wrong);
        (1.0 - WRONG_PLACE) * slips(right, wrong) + WRONG_PLACE * slips(wrong, right)
    }

    /// How likely it is where the fault can't show, and where it can.
    fn likelihoods(self, reach: Reach) -> [f64; 2] {
        let (good, bad) = (self.if_should_be(true), self.if_should_be(false));
        let catches = reach.catches();
        [good, catches * bad + (1.0 - catches) * good]
    }
}

impl Path {
    fn cases(&self) -> Vec<Case> {
        let whole: f64 = self.weights.iter().sum();
        let share = |stage: usize| self.weights[stage] / whole;
        let all = 0..self.weights.len();
        let one = all.clone().map(|first| Case {
            first: Some(first),
            second: None,
            weight: (1.0 - NONE) * (1.0 - TWO) * share(first),
        });
        let pairs = all.clone().flat_map(|first| {
            let later = first + 1..self.weights.len();
            later.map(move |second| (first, second))
        });
        let pairs_whole: f64 = pairs.clone().map(|(a, b)| share(a) * share(b)).sum();
        let two = pairs.map(|(first, second)| Case {
            first: Some(first),
            second: Some(second),
            weight: (1.0 - NONE) * TWO * share(first) * share(second) / pairs_whole,
        });
        let none = Case {
            first: None,
            second: None,
            weight: NONE,
        };
        one.chain(two).chain([none]).collect()
    }

    fn counts(&self, looks: &[Look]) -> Vec<Count> {
        let mut counts = vec![Count::default(); self.probes.len()];
        for look in looks {
            if let Some(count) = counts.get_mut(look.probe) {
                *count = count.and(look.is_good);
            }
        }
        counts
    }

    /// What is to be thought of it after some looks.
    pub fn weigh(&self, looks: &[Look]) -> Weighed<'_> {
        let counts = self.counts(looks);
        let mut cases = self.cases();
        let looked = counts.iter().zip(&self.probes);
        for (count, probe) in looked.filter(|(count, _)| !count.is_none()) {
            let likelihoods = count.likelihoods(probe.reach);
            for case in &mut cases {
                case.weight *= likelihoods[usize::from(case.can_show(probe))];
            }
        }
        let whole: f64 = cases.iter().map(|case| case.weight).sum();
        for case in &mut cases {
            case.weight /= whole;
        }
        Weighed {
            path: self,
            counts,
            cases,
        }
    }
}

/// A path after some looks: what may be the case, and how likely that is.
pub struct Weighed<'a> {
    path: &'a Path,
    counts: Vec<Count>,
    cases: Vec<Case>,
}

impl Weighed<'_> {
    /// What the looks leave to be suspected. A path without stages has no suspects.
    pub fn suspects(&self) -> Suspects {
        let mut first = self.shares(|case| case.weight);
        let none = first.pop().unwrap_or_default();
        let two = self.cases.iter().filter(|case| case.second.is_some());
        Suspects {
            none,
            two: two.map(|case| case.weight).sum(),
            first,
        }
    }

    /// The look that tells most for its cost, if any still tells something.
    pub fn next(&self) -> Option<Next> {
        let now = entropy(&self.shares(|case| case.weight));
        let probes = &self.path.probes;
        let worth = (0..probes.len()).map(|probe| Next {
            probe,
            bits: now - self.left_after(self.counts[probe], &probes[probe]),
        });
        let rate = |next: &Next| next.bits / probes[next.probe].cost;
        worth
            .filter(|next| next.bits > LEAST)
            .max_by(|a, b| rate(a).total_cmp(&rate(b)))
    }

    /// Adds up weights by the first stage at fault; that of none comes last.
    fn shares(&self, weight: impl Fn(&Case) -> f64) -> Vec<f64> {
        let stages = self.path.weights.len();
        let mut shares = vec![0.0; stages + 1];
        for case in &self.cases {
            shares[case.first.unwrap_or(stages)] += weight(case);
        }
        shares
    }

    /// What stays unknown after a look, in bits, as is to be expected.
    fn left_after(&self, count: Count, probe: &Probe) -> f64 {
        let now = count.likelihoods(probe.reach);
        let then = count.and(false).likelihoods(probe.reach);
        // How likely it is to be bad where the fault can't show there, and where it can.
        let bad = [then[0] / now[0], then[1] / now[1]];
        let either = [true, false].map(|is_good| {
            let chance = bad.map(|bad| if is_good { 1.0 - bad } else { bad });
            let shares =
                self.shares(|case| case.weight * chance[usize::from(case.can_show(probe))]);
            let whole: f64 = shares.iter().sum();
            whole * entropy(&shares.iter().map(|share| share / whole).collect::<Vec<_>>())
        });
        either.iter().sum()
    }
}

impl Suspects {
    /// The stage that is at fault first, where that is as good as known.
    pub fn named(&self) -> Option<usize> {
        self.first.iter().position(|share| *share >= NAMED)
    }

    /// The stage that is most likely at fault first, where one is.
    pub fn leading(&self) -> Option<usize> {
        let all = self.first.iter().enumerate();
        let most = all.max_by(|(_, one), (_, other)| one.total_cmp(other));
        most.filter(|(_, share)| **share > self.none)
            .map(|(stage, _)| stage)
    }

    /// How likely it is that a look at a probe speaks of the first stage at fault.
    pub fn behind(&self, probe: &Probe) -> f64 {
        match probe.reach {
            Reach::Through => self.first.iter().take(probe.stage + 1).sum(),
            Reach::Alone | Reach::Bias => self.first.get(probe.stage).copied().unwrap_or(0.0),
        }
    }

    /// Whether it is as good as known that none of the stages is at fault.
    pub fn is_none(&self) -> bool {
        self.none >= NAMED
    }
}

fn entropy(shares: &[f64]) -> f64 {
    let some = shares.iter().filter(|share| **share > 0.0);
    -some.map(|share| share * share.log2()).sum::<f64>()
}
