//! What several stretches of sound say together: a response by a sweep, where a squelch opens and
//! closes, what a gain control leaves. Each claim is tried with noise and with what it does not
//! assume, such as drift, by chance from a seed.
//!
//! `HALFTURN_TRIALS=2000 cargo test --test signal_series -- --nocapture` makes the whole number and
//! prints the shares.

mod sound;

use halfturn::metrology::distribution::student::coverage_factor;
use halfturn::signal::agc::{self, Control};
use halfturn::signal::figure::decibels;
use halfturn::signal::squelch::{self, Audio, Between, Floor, Way, edge, hysteresis};
use halfturn::signal::sweep::{OCTAVES_A_SECOND, SPOT, Spot, Sweep, spot};
use halfturn::signal::tone::Range;
use halfturn::signal::{Figure, Unfit};
use sound::{Chance, band_noise, noise, sum, tone, trials};
use std::f64::consts::TAU;

const RATE: f64 = 8_000.0;
const COUNT: usize = 8_000;

/// Where the sweep goes, in hertz, and how fast, in octaves a second.
const LOW: f64 = 250.0;
const HIGH: f64 = 3_600.0;
const SPEED: f64 = OCTAVES_A_SECOND;

const BAND: Range = Range {
    low: 100.0,
    high: 3_800.0,
};

/// The frequency at a time: up, then down, over and over.
fn swept(time: f64) -> f64 {
    let octaves = (HIGH / LOW).log2();
    let way = (time * SPEED) % (2.0 * octaves);
    LOW * way.min(2.0 * octaves - way).exp2()
}

/// How long the way up and down takes.
fn round() -> f64 {
    2.0 * (HIGH / LOW).log2() / SPEED
}

/// A receiver's audio: one pole of high pass at 400 Hz and one of low pass at 2.5 kHz.
fn response(hertz: f64) -> f64 {
    -decibels(1.0 + (400.0 / hertz).powi(2)) - decibels(1.0 + (hertz / 2_500.0).powi(2))
}

fn held(figure: Figure, truth: f64) -> bool {
    let factor = coverage_factor(0.95, figure.freedom).expect("a factor");
    (figure.value - truth).abs() <= factor * figure.standard
}

fn close(found: f64, due: f64, within: f64) {
    assert!((found - due).abs() <= within, "{found} is not {due}");
}

#[test]
fn a_sweep_is_followed_and_gives_the_response_of_what_it_went_through() {
    // Check: two poles, at 400 Hz and 2.5 kHz, against the level at 1 kHz: −3.21 dB at 300 Hz,
    // −2.66 dB at 3 kHz
    // Source: 10·log₁₀(1 + (f/f₀)²) for each
    // Known by: closed form
    let mut chance = Chance::of(31);
    let (mut phase, mut sweep) = (0.0, Sweep::default());
    let count = (SPOT * RATE) as usize;
    for at in 0..(2.0 * round() / SPOT) as usize {
        let hiss = noise(count, 0.001, &mut chance);
        let samples: Vec<f64> = (0..count)
            .map(|sample| {
                let hertz = swept(at as f64 * SPOT + sample as f64 / RATE);
                phase += TAU * hertz / RATE;
                0.2 * 10f64.powf(response(hertz) / 20.0) * f64::cos(phase) + hiss[sample]
            })
            .collect();
        let found = spot(&samples, RATE, BAND, at as f64 * SPOT).expect("a tone");
        close(found.frequency / swept((at as f64 + 0.5) * SPOT), 1.0, 0.01);
        sweep.push(found);
    }
    for hertz in [300.0, 400.0, 500.0, 2_000.0, 2_500.0, 3_000.0] {
        let found = sweep.at(hertz, 1_000.0).expect("a level");
        close(found.level.value, response(hertz) - response(1_000.0), 0.03);
        assert_eq!(found.passes, 4, "{hertz}");
    }
    close(response(300.0) - response(1_000.0), -3.21, 0.005);
    close(response(3_000.0) - response(1_000.0), -2.66, 0.005);
    let curve = sweep.curve(1_000.0);
    assert!(curve.len() > 25, "{}", curve.len());
    for point in curve {
        close(
            point.level.value,
            response(point.frequency) - response(1_000.0),
            0.3,
        );
    }
    // What was not passed, what is the zero itself, and a reference that was not passed.
    assert_eq!(sweep.at(5_000.0, 1_000.0), None);
    assert_eq!(sweep.at(1_000.0, 1_000.0), None);
    assert_eq!(sweep.at(300.0, 5_000.0), None);
}

#[test]
fn what_is_no_tone_alone_gives_no_spot() {
    let count = (SPOT * RATE) as usize;
    let absent = |samples: &[f64]| {
        let found = spot(samples, RATE, BAND, 0.0);
        assert!(matches!(found, Err(Unfit::ToneAbsent { .. })), "{found:?}");
    };
    absent(&band_noise(RATE, count, 0.05, &mut Chance::of(32)));
    // A step from one tone to the next, and a harmonic that is as strong.
    let mut step = tone(RATE, count, 400.0, 0.2, 0.0);
    step[count / 2..].copy_from_slice(&tone(RATE, count / 2, 1_000.0, 0.2, 0.0));
    absent(&step);
    absent(&sum(&[
        tone(RATE, count, 400.0, 0.2, 0.0),
        tone(RATE, count, 800.0, 0.15, 0.0),
    ]));
    let loud = tone(RATE, count, 400.0, 1.0, 0.0);
    assert!(matches!(
        spot(&loud, RATE, BAND, 0.0),
        Err(Unfit::Clipped { .. })
    ));
}

#[test]
fn too_few_passes_and_hasty_ones_give_no_level() {
    let go = |speed: f64, until: f64| {
        let mut sweep = Sweep::default();
        for at in 0..(until / SPOT) as usize {
            let time = at as f64 * SPOT;
            let frequency = swept(time * speed);
            let level = response(frequency);
            sweep.push(Spot {
                time,
                frequency,
                level,
            });
        }
        sweep.at(2_000.0, 1_000.0)
    };
    assert!(go(1.0, 2.0 * round()).is_some());
    assert_eq!(go(1.0, round()), None);
    assert_eq!(go(4.0, 2.0 * round()), None);
}

#[test]
fn what_is_no_sweep_is_told() {
    let after = |seconds: f64, sound: &mut dyn FnMut(f64) -> Vec<f64>| {
        let mut sweep = Sweep::default();
        for at in 0..(seconds / SPOT).round() as usize {
            let time = at as f64 * SPOT;
            if let Ok(found) = spot(&sound(time), RATE, BAND, time) {
                sweep.push(found);
            }
        }
        sweep.goes(BAND, seconds)
    };
    let count = (SPOT * RATE) as usize;
    let mut chance = Chance::of(37);
    let mut steady = |_| {
        sum(&[
            tone(RATE, count, 1_000.0, 0.2, 0.0),
            noise(count, 0.002, &mut chance),
        ])
    };
    assert_eq!(after(5.0, &mut steady), Err(Unfit::NoSweep));
    // It may stand for a moment, as where it is stepped.
    assert_eq!(after(1.0, &mut steady), Ok(()));
    let mut chance = Chance::of(38);
    let mut hiss = |_| band_noise(RATE, count, 0.05, &mut chance);
    assert!(matches!(
        after(5.0, &mut hiss),
        Err(Unfit::ToneAbsent { .. })
    ));
    assert!(matches!(
        after(5.0, &mut |_| vec![0.0; count]),
        Err(Unfit::ToneAbsent { .. })
    ));
    let mut phase = 0.0;
    let mut at_speed = |speed: f64, seconds: f64| {
        after(seconds, &mut |time| {
            (0..count)
                .map(|sample| {
                    phase += TAU * swept((time + sample as f64 / RATE) * speed) / RATE;
                    0.2 * f64::cos(phase)
                })
                .collect()
        })
    };
    // As fast as it is sent, at its turn too, and ten times slower.
    for (speed, seconds) in [(1.0, 5.0), (1.0, 0.5 * round() + 1.5), (0.1, 8.0)] {
        assert_eq!(at_speed(speed, seconds), Ok(()), "{speed} for {seconds} s");
    }
    assert_eq!(at_speed(3.0, 5.0), Err(Unfit::SweepTooFast));
}

/// What moves the level beside noise, in decibels.
#[derive(Clone, Copy)]
enum Moves {
    Not,
    /// Evenly, by so much a minute.
    Evenly(f64),
    /// By chance, by so much in the root of a second.
    ByChance(f64),
}

fn spots(moves: Moves, rounds: f64, noise: f64, chance: &mut Chance) -> Sweep {
    let mut sweep = Sweep::default();
    let mut moved = 0.0;
    for at in 0..(rounds * round() / SPOT) as usize {
        let time = at as f64 * SPOT;
        moved += match moves {
            Moves::Not => 0.0,
            Moves::Evenly(a_minute) => a_minute / 60.0 * SPOT,
            Moves::ByChance(size) => size * SPOT.sqrt() * chance.normal(),
        };
        let frequency = swept(time);
        let level = response(frequency) + moved + noise * chance.normal();
        sweep.push(Spot {
            time,
            frequency,
            level,
        });
    }
    sweep
}

#[test]
fn stated_intervals_of_a_swept_response_hold() {
    let mut chance = Chance::of(33);
    for (what, moves, rounds, least, most) in [
        ("noise, 4 passes", Moves::Not, 2.0, 0.92, 0.98),
        ("noise, 8 passes", Moves::Not, 4.0, 0.92, 0.98),
        (
            "and 0.5 dB a minute, 4 passes",
            Moves::Evenly(0.5),
            2.0,
            0.93,
            1.0,
        ),
        (
            "and a walk, 4 passes",
            Moves::ByChance(0.02),
            2.0,
            0.93,
            1.0,
        ),
        (
            "and a walk, 8 passes",
            Moves::ByChance(0.02),
            4.0,
            0.93,
            1.0,
        ),
    ] {
        let trials = trials(300);
        let (mut holds, mut of, mut wide) = (0, 0, 0.0);
        for _ in 0..trials {
            let sweep = spots(moves, rounds, 0.05, &mut chance);
            for hertz in [300.0, 2_000.0, 3_000.0] {
                let found = sweep.at(hertz, 1_000.0).expect("a level").level;
                of += 1;
                holds += usize::from(held(found, response(hertz) - response(1_000.0)));
                wide += coverage_factor(0.95, found.freedom).expect("one") * found.standard;
            }
        }
        let share = f64::from(u32::try_from(holds).unwrap()) / f64::from(of);
        println!(
            "swept, {what}: {:.1} % of {of}, ±{:.3} dB",
            100.0 * share,
            wide / f64::from(of)
        );
        assert!((least..=most).contains(&share), "{what}: {share}");
    }
}

#[test]
fn open_and_closed_are_told_by_ear() {
    let trials = trials(200);
    let mut chance = Chance::of(34);
    let (mut wrong, mut neither) = (0, 0);
    for _ in 0..trials {
        let closed = |chance: &mut Chance, more: f64| {
            let hum = tone(RATE, COUNT, 100.0, 0.003, chance.between(0.0, TAU));
            sum(&[hum, noise(COUNT, 3e-4 * more, chance)])
        };
        let quiet = closed(&mut chance, 1.0);
        let floor = Floor::of(&quiet, RATE).expect("a floor");
        // It is a decibel louder by now, as by warming up.
        let still = floor.hear(&closed(&mut chance, 1.12), RATE).expect("heard");
        wrong += usize::from(still == Audio::Open);
        neither += usize::from(still == Audio::Neither);
        let hiss = sum(&[
            closed(&mut chance, 1.0),
            band_noise(RATE, COUNT, 0.003, &mut chance),
        ]);
        let open = floor.hear(&hiss, RATE).expect("heard");
        wrong += usize::from(open == Audio::Closed);
        neither += usize::from(open == Audio::Neither);
        // Open for a part of the second.
        let mut flutters = quiet.clone();
        let from = chance.between(1_000.0, 6_000.0) as usize;
        for at in from..from + 800 {
            flutters[at] += hiss[at];
        }
        let found = floor.hear(&flutters, RATE).expect("heard");
        wrong += usize::from(found != Audio::Neither);
    }
    println!(
        "squelch: {wrong} wrong, {neither} not told, of {}",
        3 * trials
    );
    assert_eq!((wrong, neither), (0, 0));
}

#[test]
fn a_set_that_is_silent_when_closed_is_heard_too() {
    let floor = Floor::of(&vec![0.0; COUNT], RATE).expect("a floor");
    close(floor.level(), -90.0, 0.0);
    assert_eq!(floor.hear(&vec![0.0; COUNT], RATE), Ok(Audio::Closed));
    let hiss = band_noise(RATE, COUNT, 0.003, &mut Chance::of(35));
    assert_eq!(floor.hear(&hiss, RATE), Ok(Audio::Open));
    assert!(matches!(
        floor.hear(&hiss[..700], RATE),
        Err(Unfit::TooShort { .. })
    ));
    assert!(matches!(Floor::of(&hiss, 0.0), Err(Unfit::Rate { .. })));
    assert_eq!(Floor::of(&[f64::NAN; COUNT], RATE), Err(Unfit::NotFinite));
}

#[test]
fn that_a_squelch_is_closed_is_not_believed_where_a_tone_or_loud_sound_is_heard() {
    let mut chance = Chance::of(39);
    let quiet = noise(COUNT, 3e-4, &mut chance);
    for (what, sound) in [
        ("a tone in it", tone(RATE, COUNT, 1_000.0, 0.05, 0.0)),
        ("a weak tone", tone(RATE, COUNT, 1_000.0, 0.005, 0.0)),
        (
            "open, unmodulated",
            band_noise(RATE, COUNT, 0.02, &mut chance),
        ),
        ("open for a moment", {
            let hiss = band_noise(RATE, COUNT, 0.003, &mut chance);
            let open = 3_000..4_500;
            let heard = |(at, each): (usize, &f64)| if open.contains(&at) { *each } else { 0.0 };
            hiss.iter().enumerate().map(heard).collect()
        }),
    ] {
        let samples = sum(&[quiet.clone(), sound]);
        assert_eq!(Floor::of(&samples, RATE), Err(Unfit::NotClosed), "{what}");
    }
    // What hum and a converter leave is no tone that was sent.
    let rest = sum(&[
        quiet,
        tone(RATE, COUNT, 100.0, 0.01, 0.0),
        tone(RATE, COUNT, 300.0, 4e-4, 0.0),
    ]);
    assert!(Floor::of(&rest, RATE).is_ok());
}

#[test]
fn a_squelch_that_gets_quieter_than_closed_was_not_closed() {
    let mut chance = Chance::of(40);
    // Hiss of an open set, as weak as that of a noisy closed one.
    let hiss = band_noise(RATE, COUNT, 0.003, &mut chance);
    let floor = Floor::of(&hiss, RATE).expect("it may be");
    assert_eq!(
        floor.hear(&noise(COUNT, 1e-4, &mut chance), RATE),
        Err(Unfit::QuieterThanClosed)
    );
}

fn points(taken: &[(f64, Audio)]) -> Vec<squelch::Point> {
    let each = taken.iter();
    each.map(|(level, audio)| squelch::Point {
        level: *level,
        audio: *audio,
    })
    .collect()
}

#[test]
fn a_squelch_opens_and_closes_between_levels_that_were_heard() {
    use Audio::{Closed, Neither, Open};
    let taken = points(&[
        (-120.0, Closed),
        (-115.0, Closed),
        (-113.0, Neither),
        (-112.0, Open),
        (-114.0, Open),
        (-116.0, Closed),
    ]);
    let opens = edge(&taken, Way::Rising).expect("it opens");
    assert_eq!(
        opens.between,
        Between {
            low: -115.0,
            high: -112.0
        }
    );
    let closes = edge(&taken, Way::Falling).expect("it closes");
    assert_eq!(
        closes.between,
        Between {
            low: -116.0,
            high: -114.0
        }
    );
    assert!(!opens.moved && !closes.moved);
    let by = hysteresis(opens.between, closes.between);
    close(by.value, 1.5, 1e-9);
    close(
        by.standard,
        (1.5f64.powi(2) + 1.0).sqrt() / 3f64.sqrt(),
        1e-9,
    );
    // Finer the second time: the last counts.
    let finer = [&taken[..], &points(&[(-113.5, Closed), (-113.0, Open)])].concat();
    let opens = edge(&finer, Way::Rising).expect("it opens");
    assert_eq!(
        opens.between,
        Between {
            low: -113.5,
            high: -113.0
        }
    );
    assert_eq!((opens.times, opens.moved), (2, false));
    // At levels that exclude the first: both count.
    let moved = [&taken[..], &points(&[(-111.0, Closed), (-110.0, Open)])].concat();
    let opens = edge(&moved, Way::Rising).expect("it opens");
    assert_eq!(
        opens.between,
        Between {
            low: -115.0,
            high: -110.0
        }
    );
    assert!(opens.moved);
}

#[test]
fn what_speaks_against_an_edge_leaves_none() {
    use Audio::{Closed, Open};
    use halfturn::signal::squelch::contradicts;
    let risen = points(&[(-118.0, Closed), (-116.0, Open)]);
    assert!(!contradicts(&risen, Way::Rising));
    let above = points(&[(-118.0, Closed), (-116.0, Open), (-90.0, Closed)]);
    assert!(contradicts(&above, Way::Rising));
    assert_eq!(edge(&above, Way::Rising), None);
    let below = points(&[(-118.0, Open), (-121.0, Closed), (-125.0, Open)]);
    assert!(contradicts(&below, Way::Falling));
    assert_eq!(edge(&below, Way::Falling), None);
}

#[test]
fn what_was_not_gone_through_is_no_edge() {
    use Audio::{Closed, Neither, Open};
    for taken in [
        &[][..],
        &[(-110.0, Open)],
        &[(-120.0, Closed)],
        // Only chatter.
        &[(-120.0, Closed), (-110.0, Neither)],
        // It opens while the level falls: nobody knows why.
        &[(-110.0, Closed), (-112.0, Open)],
        &[(-110.0, Closed), (-112.0, Neither), (-111.0, Open)],
        // The same level twice tells no direction.
        &[(-110.0, Closed), (-110.0, Open)],
    ] {
        assert_eq!(edge(&points(taken), Way::Rising), None, "{taken:?}");
    }
    assert_eq!(
        edge(&points(&[(-120.0, Closed), (-110.0, Open)]), Way::Falling),
        None
    );
}

/// A squelch that is steered by noise, and drifts: what a second at a level sounds like.
struct Set {
    opens: f64,
    closes: f64,
    flutter: f64,
    is_open: bool,
}

impl Set {
    fn at(&mut self, level: f64, chance: &mut Chance) -> Audio {
        let mut seen = [false; 2];
        for _ in 0..10 {
            let now = level + self.flutter * chance.normal();
            self.is_open = match self.is_open {
                true => now > self.closes,
                false => now >= self.opens,
            };
            seen[usize::from(self.is_open)] = true;
        }
        match seen {
            [true, true] => Audio::Neither,
            [true, false] => Audio::Closed,
            _ => Audio::Open,
        }
    }
}

#[test]
fn stated_edges_of_a_squelch_hold() {
    let mut chance = Chance::of(36);
    for (what, flutter, drift, least) in [
        ("as stated", 0.0, 0.0, 1.0),
        ("drifting 0.1 dB a level", 0.0, 0.1, 1.0),
        // It did open between these levels; its middle, where noise alone would not open it, may
        // lie beyond.
        ("fluttering by 0.3 dB", 0.3, 0.0, 0.85),
    ] {
        let trials = trials(2000);
        let (mut opened, mut closed) = (0, 0);
        for _ in 0..trials {
            let opens = chance.between(-115.0, -105.0);
            let mut set = Set {
                opens,
                closes: opens - chance.between(0.5, 5.0),
                flutter,
                is_open: false,
            };
            let mut taken = Vec::new();
            let (mut level, mut up) = (-125.0, true);
            // What was true when it was last closed, and since.
            let (mut opening, mut closing) = ((0.0, 0.0), (0.0, 0.0));
            while level > -126.0 {
                set.opens += drift;
                set.closes += drift;
                let audio = set.at(level, &mut chance);
                taken.push(squelch::Point { level, audio });
                match (audio, up) {
                    (Audio::Closed, true) => opening.0 = set.opens,
                    (Audio::Open, true) => {
                        opening.1 = set.opens;
                        closing.0 = set.closes;
                        up = false;
                    }
                    (Audio::Open, false) => closing.0 = set.closes,
                    (Audio::Closed, false) => {
                        closing.1 = set.closes;
                        break;
                    }
                    _ => {}
                }
                level += if up { 1.0 } else { -1.0 };
            }
            // Somewhere between it was at one of the levels at which it stood meanwhile.
            let holds = |way: Way, truth: (f64, f64)| {
                let found = edge(&taken, way).expect("an edge").between;
                let (low, high) = (truth.0.min(truth.1), truth.0.max(truth.1));
                low <= found.high && found.low <= high
            };
            opened += usize::from(holds(Way::Rising, opening));
            closed += usize::from(holds(Way::Falling, closing));
        }
        let share = |count: usize| count as f64 / trials as f64;
        println!(
            "squelch, {what}: opens {:.1} %, closes {:.1} % of {trials}",
            100.0 * share(opened),
            100.0 * share(closed)
        );
        assert!(share(opened) >= least && share(closed) >= least, "{what}");
    }
}

#[test]
fn a_gain_control_is_told_by_the_change_of_its_output() {
    let point = |level: f64, audio: f64| agc::Point {
        level,
        audio: Figure::new(audio, 0.02),
    };
    let control = Control::of(&[
        point(-13.0, -19.0),
        point(-93.0, -25.0),
        point(-47.0, -20.0),
        point(-73.0, -21.0),
    ]);
    let found = control.change(-93.0, -13.0).expect("a change");
    close(found.change.figure.value, 6.0, 1e-9);
    assert_eq!(found.change.times, 1);
    close(found.change.figure.standard, 0.02 * 2f64.sqrt(), 1e-9);
    assert_eq!(found.beyond, None);
    close(
        control.at(-93.0, -47.0).expect("a level").figure.value,
        -5.0,
        1e-9,
    );
    assert_eq!(
        control.at(-47.0, -47.0).expect("the zero").figure,
        Figure::new(0.0, 0.0)
    );
    assert_eq!(control.at(-60.0, -47.0), None);
    for (low, high) in [(-13.0, -93.0), (-93.0, -93.0), (-90.0, -13.0)] {
        assert_eq!(control.change(low, high), Err(Unfit::NoSense));
    }
    // In between it is louder than at either end.
    let hump = Control::of(&[
        point(-93.0, -25.0),
        point(-47.0, -18.0),
        point(-13.0, -19.0),
    ]);
    close(
        hump.change(-93.0, -13.0)
            .expect("a change")
            .beyond
            .expect("so"),
        1.0,
        1e-9,
    );
    // Falling output has a change below zero.
    let falls = Control::of(&[point(-93.0, -20.0), point(-13.0, -21.0)]);
    close(
        falls
            .change(-93.0, -13.0)
            .expect("a change")
            .change
            .figure
            .value,
        -1.0,
        1e-9,
    );
}

#[test]
fn stated_intervals_of_a_gain_control_hold() {
    let mut chance = Chance::of(37);
    for (what, drift, least, most) in [
        ("noise", 0.0, 0.93, 0.99),
        (
            "and a walk of 0.1 dB from reading to reading",
            0.1,
            0.80,
            1.0,
        ),
    ] {
        for times in [1, 2, 3] {
            let trials = trials(2000);
            let mut holds = 0;
            for _ in 0..trials {
                let mut taken = Vec::new();
                let mut moved = 0.0;
                for _ in 0..times {
                    for (level, audio) in [(-93.0, -25.0), (-13.0, -19.0)] {
                        moved += drift * chance.normal();
                        let audio = Figure::new(audio + moved + 0.05 * chance.normal(), 0.05);
                        taken.push(agc::Point { level, audio });
                    }
                }
                let found = Control::of(&taken).change(-93.0, -13.0).expect("a change");
                holds += usize::from(held(found.change.figure, 6.0));
            }
            let share = holds as f64 / trials as f64;
            println!(
                "AGC, {what}, each taken {times} times: {:.1} %",
                100.0 * share
            );
            // One reading each can't know of a drift: the screen says so.
            let unknown = drift > 0.0 && times == 1;
            assert!(
                unknown || (least..=most).contains(&share),
                "{what}: {share}"
            );
        }
    }
}
