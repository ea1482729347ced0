//! Whether what is stated of a figure's uncertainty holds, by many trials with chance from a seed.
//!
//! `HALFTURN_TRIALS=2000 cargo test --test signal_statistics -- --nocapture` makes the whole
//! number and prints the shares; without it a shorter form runs with wider bounds.

mod sound;

use halfturn::metrology::distribution::student::coverage_factor;
use halfturn::signal::carrier::{Beat, Clock, Sideband};
use halfturn::signal::figure::{decibels, power_of};
use halfturn::signal::measure::{HARMONICS, signal_and_noise};
use halfturn::signal::search::{Next, Point, Search};
use halfturn::signal::tone::Range;
use halfturn::signal::volts::FullScale;
use halfturn::signal::{Figure, Record, Settings, Weighting, fit, measure};
use sound::{Chance, band_noise, noise, sum, tone, trials};
use std::f64::consts::TAU;

const RATE: f64 = 8_000.0;
const COUNT: usize = 8_000;

/// How often 95 % intervals held what they are about.
#[derive(Default)]
struct Held {
    held: usize,
    of: usize,
}

impl Held {
    fn look(&mut self, figure: Figure, truth: f64) {
        let factor = coverage_factor(0.95, figure.freedom).expect("a factor");
        self.of += 1;
        self.held += usize::from((figure.value - truth).abs() <= factor * figure.standard);
    }

    /// 93 to 97 % of two thousand; of fewer, what three and a half standard deviations allow.
    #[track_caller]
    fn holds(&self, what: &str) {
        let share = self.held as f64 / self.of as f64;
        println!("{what}: {:.1} % of {}", 100.0 * share, self.of);
        let allowed = (3.5 * (0.95 * 0.05 / self.of as f64).sqrt()).max(0.02);
        assert!(
            (share - 0.95).abs() <= allowed,
            "{what}: {share} of {}",
            self.of
        );
    }
}

#[test]
fn the_sine_fit_reaches_the_bound_of_cramer_and_rao() {
    // Check: the frequency of a sine fit scatters by no more than 1.1 times the bound of Cramér and Rao
    // Source: var(f) ≥ 12·fs²/((2π)²·η·N·(N² − 1)), η = A²/2σ², a real sine of unknown amplitude and
    // phase, as in a public function that works it out
    // Known by: read
    let (count, peak) = (1000usize, 0.5);
    let mut chance = Chance::of(21);
    for ratio in [6.0, 20.0, 40.0] {
        let effective = peak / 2f64.sqrt() / power_of(ratio).sqrt();
        let length = count as f64;
        let bound =
            12.0 * RATE * RATE / (TAU * TAU * power_of(ratio) * length * (length * length - 1.0));
        let trials = trials(1500);
        let mut variance = 0.0;
        for _ in 0..trials {
            let (hertz, phase) = (chance.between(900.0, 1100.0), chance.between(0.0, TAU));
            let samples = sum(&[
                tone(RATE, count, hertz, peak, phase),
                noise(count, effective, &mut chance),
            ]);
            let near = hertz + chance.between(-0.4, 0.4) * RATE / length;
            let found = fit::four(&samples, RATE, near)
                .expect("a sine")
                .line
                .frequency;
            variance += (found - hertz).powi(2) / trials as f64;
        }
        println!("{ratio} dB: variance {:.3} of the bound", variance / bound);
        assert!(variance <= 1.1 * bound, "{ratio} dB: {}", variance / bound);
    }
}

/// What a receiver gives: a tone, harmonics, hum, noise of its band.
fn receiver(ratio: f64, chance: &mut Chance) -> (Vec<f64>, f64) {
    let (hertz, peak) = (chance.between(980.0, 1020.0), 0.3);
    let phase = |chance: &mut Chance| chance.between(0.0, TAU);
    let power = peak * peak / 2.0 / power_of(ratio);
    // Half the residue is noise, the rest second and third harmonic.
    let samples = sum(&[
        tone(RATE, COUNT, hertz, peak, phase(chance)),
        tone(
            RATE,
            COUNT,
            2.0 * hertz,
            (power * 0.6).sqrt(),
            phase(chance),
        ),
        tone(
            RATE,
            COUNT,
            3.0 * hertz,
            (power * 0.4).sqrt(),
            phase(chance),
        ),
        band_noise(RATE, COUNT, (power / 2.0).sqrt(), chance),
    ]);
    (samples, hertz)
}

#[test]
fn stated_intervals_of_a_receiver_hold() {
    let mut chance = Chance::of(22);
    for ratio in [3.0, 12.0, 30.0] {
        let (mut sinad, mut frequency, mut level) = <(Held, Held, Held)>::default();
        let mut thd = Held::default();
        for _ in 0..trials(300) {
            let (samples, hertz) = receiver(ratio, &mut chance);
            let record = Record::of(&samples, RATE).expect("sound");
            let settings = Settings {
                range: Range::around(1000.0),
                weighting: Weighting::Whole,
                harmonics: HARMONICS,
            };
            let found = measure(&record, &settings).expect("figures");
            sinad.look(found.fit_sinad, ratio);
            frequency.look(found.frequency, hertz);
            level.look(found.level, 20.0 * 0.3f64.log10());
            let harmonics = 1.0 / power_of(ratio) / 2.0;
            if ratio > 20.0 {
                thd.look(found.distortion.expect("harmonics").thd, harmonics.sqrt());
            }
        }
        sinad.holds(&format!("S/(N+D) at {ratio} dB"));
        frequency.holds(&format!("frequency at {ratio} dB"));
        level.holds(&format!("level at {ratio} dB"));
        if thd.of > 0 {
            thd.holds(&format!("THD at {ratio} dB"));
        }
    }
}

#[test]
fn stated_intervals_of_weighted_sinad_hold_in_white_noise() {
    let mut chance = Chance::of(23);
    let (mut speech, mut frequency) = <(Held, Held)>::default();
    let (peak, effective) = (0.3f64, 0.03);
    let truth = decibels(peak * peak / 2.0 / (effective * effective * 3100.0 / (RATE / 2.0)));
    for _ in 0..trials(300) {
        let samples = sum(&[
            tone(RATE, COUNT, 1001.3, peak, chance.between(0.0, TAU)),
            noise(COUNT, effective, &mut chance),
        ]);
        let record = Record::of(&samples, RATE).expect("sound");
        let settings = Settings {
            range: Range::around(1000.0),
            weighting: Weighting::Speech,
            harmonics: HARMONICS,
        };
        let found = measure(&record, &settings).expect("figures");
        speech.look(found.fit_sinad, truth);
        frequency.look(found.frequency, 1001.3);
    }
    speech.holds("S/(N+D) from 300 to 3400 Hz, white noise");
    frequency.holds("frequency, white noise");
}

#[test]
fn stated_intervals_of_signal_and_noise_hold() {
    let mut chance = Chance::of(24);
    let mut held = Held::default();
    for _ in 0..trials(300) {
        let off = band_noise(RATE, COUNT, 1e-2, &mut chance);
        let on = sum(&[
            tone(RATE, COUNT, 400.0, 0.03 * 2f64.sqrt(), 0.0),
            band_noise(RATE, COUNT, 1e-2, &mut chance),
        ]);
        let [on, off] = [&on, &off].map(|each| Record::of(each, RATE).expect("sound"));
        held.look(
            signal_and_noise(&on, &off, Weighting::Whole).expect("a ratio"),
            10.0,
        );
    }
    held.holds("(S+N)/N at 10 dB");
}

/// The carrier of a receiver whose sound device runs wrong: by the input, by the clock's tone.
#[test]
fn stated_intervals_of_a_carrier_by_pitch_hold() {
    let mut chance = Chance::of(25);
    let mut held = Held::default();
    for _ in 0..trials(2000) {
        let wrong = 1.0 + 40e-6 * chance.normal();
        let carrier = 28_499_000.0 + chance.between(-50.0, 50.0);
        let (of_input, of_pitch, of_known) = (0.3, 0.02, 0.01);
        let input = Figure::new(28_500_000.0 + of_input * chance.normal(), of_input);
        let heard = |hertz: f64, standard: f64, chance: &mut Chance| {
            Figure::new(hertz / wrong + standard * chance.normal(), standard)
        };
        let known = Figure::new(1000.0, 1e-4);
        let clock = Clock::of(known, heard(1000.0, of_known, &mut chance)).expect("a clock");
        let pitch = clock.right(heard(28_500_000.0 - carrier, of_pitch, &mut chance));
        let beat = Beat {
            input,
            pitch,
            sideband: Sideband::Upper,
        };
        held.look(beat.error(28_499_000.0), carrier - 28_499_000.0);
    }
    held.holds("carrier by pitch");
}

#[test]
fn a_beat_says_where_the_carrier_is() {
    let beat = |sideband| Beat {
        input: Figure::new(28_500_000.0, 1.0),
        pitch: Figure::new(1003.0, 0.1),
        sideband,
    };
    // Check: on the upper sideband the pitch is the input less the carrier, on the lower one the
    // carrier less the input
    // Source: the product of a mixer
    // Known by: closed form
    assert_eq!(beat(Sideband::Upper).error(28_499_000.0).value, -3.0);
    assert_eq!(beat(Sideband::Lower).error(28_501_000.0).value, 3.0);
    // A clock that is 50 millionths fast takes more samples in a second, and each tone for lower.
    let heard = Figure::new(1000.0 / 1.000_05, 1e-5);
    let clock = Clock::of(Figure::new(1000.0, 1e-5), heard).expect("a clock");
    assert!((clock.fast_by().value - 50.0).abs() < 0.01);
    assert!((clock.right(heard).value - 1000.0).abs() < 1e-9);
    assert!(Clock::of(Figure::new(0.0, 1.0), heard).is_err());
}

/// A receiver: S/(N+D) rises so many decibels a decibel, up to what its distortion allows.
struct Set {
    /// Where noise alone would let it cross.
    crossing: f64,
    slope: f64,
    best: f64,
}

impl Set {
    /// Where it does cross, with its distortion.
    fn truth(&self, target: f64) -> f64 {
        let due = power_of(target) - 1.0;
        let of_noise = 1.0 / (1.0 / due - power_of(-self.best));
        self.crossing + decibels(of_noise / due) / self.slope
    }

    fn reading(&self, level: f64, target: f64, chance: &mut Chance) -> Point {
        let due = decibels(power_of(target) - 1.0);
        let seen = power_of(due + self.slope * (level - self.crossing));
        let limited = 1.0 / (1.0 / seen + power_of(-self.best));
        let sinad = decibels(1.0 + limited);
        let standard = 0.12 * limited / (1.0 + limited);
        Point {
            level,
            figure: Figure::new((sinad + standard * chance.normal()).max(0.01), standard),
        }
    }
}

#[test]
fn a_sensitivity_is_found_from_few_levels_with_an_interval_that_holds() {
    let mut chance = Chance::of(26);
    for (what, target, slope) in [
        ("AM, 12 dB SINAD", 12.0, 1.0),
        ("FM, 12 dB SINAD", 12.0, 2.0),
        ("SSB, 10 dB (S+N)/N", 10.0, 1.0),
    ] {
        let (mut held, mut readings, mut most) = (Held::default(), 0, 0);
        for _ in 0..trials(2000) {
            let set = Set {
                crossing: chance.between(-125.0, -105.0),
                slope,
                best: 35.0,
            };
            let search = Search {
                target,
                first: -100.0,
                lowest: -140.0,
                highest: -60.0,
                enough: 0.1,
            };
            let mut points = Vec::new();
            let found = loop {
                match search.next(&points).expect("it goes on") {
                    Next::Level(level) => points.push(set.reading(level, target, &mut chance)),
                    Next::Found(found) => break found,
                }
            };
            held.look(found.level, set.truth(target));
            readings += points.len();
            most = most.max(points.len());
        }
        println!(
            "{what}: {:.1} readings, at most {most}",
            readings as f64 / held.of as f64
        );
        held.holds(what);
        assert!(most <= 12);
    }
}

#[test]
fn a_search_that_can_t_end_says_so() {
    let search = Search {
        target: 12.0,
        first: -100.0,
        lowest: -120.0,
        highest: -90.0,
        enough: 0.1,
    };
    let all = |figure: f64| {
        let mut points = Vec::new();
        loop {
            match search.next(&points) {
                Ok(Next::Level(level)) if points.len() < 20 => points.push(Point {
                    level,
                    figure: Figure::new(figure, 0.1),
                }),
                other => return other,
            }
        }
    };
    // A deaf set, and one that hears below what the generator gives.
    assert!(all(1.0).is_err());
    assert!(all(30.0).is_err());
}

#[test]
fn stated_intervals_of_a_voltage_hold() {
    // The known voltage is anywhere within 0.1 %, compared once in noise and measured in noise.
    let mut chance = Chance::of(97);
    let mut held = Held::default();
    let settings = Settings {
        range: Range::around(1000.0),
        weighting: Weighting::Whole,
        harmonics: HARMONICS,
    };
    for _ in 0..trials(2000) {
        let worth = chance.between(0.5, 5.0);
        let heard = |peak: f64, chance: &mut Chance| {
            let samples = sum(&[
                tone(RATE, COUNT, 1000.0, peak, chance.between(0.0, TAU)),
                noise(COUNT, 0.05, chance),
            ]);
            measure(&Record::of(&samples, RATE).expect("a record"), &settings).expect("a tone")
        };
        let first = heard(0.3, &mut chance);
        let true_first = 0.3 / 2f64.sqrt() * worth;
        let typed = true_first * (1.0 + chance.between(-0.001, 0.001));
        let known = Figure::new(typed, 0.001 * typed / 3f64.sqrt());
        let full = FullScale::of(known, first.level, first.frequency.value).expect("a voltage");
        let peak = chance.between(0.1, 0.4);
        let now = heard(peak, &mut chance);
        let volts = full
            .volts(now.level, now.frequency.value)
            .expect("the same tone");
        held.look(volts, peak / 2f64.sqrt() * worth);
    }
    held.holds("voltage by a known one");
}
