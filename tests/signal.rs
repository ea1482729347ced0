//! What is measured in sound, against what the sound was made of.

mod common;
mod sound;

use common::{facts, floats};
use halfturn::signal::figure::{decibels, power_of};
use halfturn::signal::hum::{Mains, hum};
use halfturn::signal::measure::{HARMONICS, signal_and_noise};
use halfturn::signal::power::Left;
use halfturn::signal::response::{Point, Response};
use halfturn::signal::send;
use halfturn::signal::tone::{Range, SPEECH};
use halfturn::signal::two_tones::{PEAK_ABOVE_ONE, two_tones};
use halfturn::signal::volts::{FullScale, across, milliwatts};
use halfturn::signal::weighting::{C_MESSAGE, PSOPHOMETRIC};
use halfturn::signal::{Figure, Measured, Record, Settings, Unfit, Weighting, fit, measure};
use sound::{Chance, band_noise, noise, sum, tone};
use std::f64::consts::SQRT_2;

const RATE: f64 = 48_000.0;
const COUNT: usize = 48_000;

fn settings(weighting: Weighting) -> Settings {
    Settings {
        range: Range::around(1000.0),
        weighting,
        harmonics: HARMONICS,
    }
}

fn measured(samples: &[f64], weighting: Weighting) -> Result<Measured, Unfit> {
    measure(&Record::of(samples, RATE)?, &settings(weighting))
}

fn close(found: f64, due: f64, within: f64) {
    assert!((found - due).abs() <= within, "{found} is not {due}");
}

#[test]
fn a_sine_is_found_with_all_its_parameters() {
    let mut samples = tone(RATE, 4800, 1003.7, 0.3, 1.0);
    samples.iter_mut().for_each(|each| *each += 0.05);
    let sine = fit::four(&samples, RATE, 1000.0).expect("there is one");
    close(sine.line.frequency, 1003.7, 1e-9);
    close(sine.line.amplitude(), 0.3, 1e-12);
    close(sine.offset, 0.05, 1e-12);
    let known = fit::three(&samples, RATE, 1003.7).expect("there is one");
    close(known.line.amplitude(), 0.3, 1e-12);
}

#[test]
fn sinad_is_signal_noise_and_distortion_over_noise_and_distortion() {
    // Check: a SINAD of 12 dB goes with 25.119 % of noise and distortion over all, 25.951 % over the
    // fundamental, and S/(N+D) of 11.7170 dB
    // Source: 10·log₁₀((S+N+D)/(N+D)), a receiver's SINAD; IEEE Std 1057 for S/(N+D)
    // Known by: closed form
    let distortion = 0.2 / (power_of(12.0) - 1.0).sqrt();
    let samples = sum(&[
        tone(RATE, COUNT, 1000.0, 0.2, 0.3),
        tone(RATE, COUNT, 2000.0, distortion, 0.9),
    ]);
    for weighting in [Weighting::Whole, Weighting::Speech] {
        let found = measured(&samples, weighting).expect("there is a tone");
        close(found.sinad.value, 12.0, 1e-3);
        close(found.fit_sinad.value, 11.7170, 1e-3);
        close(found.thd_n.value, 0.25119, 1e-4);
        close(found.level.value, 20.0 * 0.2f64.log10(), 1e-6);
        let distortion = found.distortion.expect("there is a harmonic");
        // Over the fundamental.
        close(distortion.thd.value, 0.25951, 1e-4);
    }
}

#[test]
fn tone_and_residue_go_through_one_filter() {
    // Check: through psophometric weighting a residue at 2 kHz counts 4.0 dB less than a tone at
    // 1 kHz, through C-message weighting 1.1 dB
    // Source: ITU-T O.41 (10/94) and IEEE Std 743-1995 as quoted by a ballot draft of
    // ANSI/TIA-470.120-C
    // Known by: read; the standards themselves not seen
    let samples = sum(&[
        tone(RATE, COUNT, 1000.0, 0.2, 0.3),
        tone(RATE, COUNT, 2000.0, 0.02, 0.9),
    ]);
    for (weighting, due) in [
        (Weighting::Speech, 20.0),
        (Weighting::Psophometric, 24.0),
        (Weighting::CMessage, 21.1),
    ] {
        let found = measured(&samples, weighting).expect("there is a tone");
        close(found.fit_sinad.value, due, 0.02);
    }
}

#[test]
fn the_tables_are_the_published_ones() {
    // Check: the tables of psophometric and C-message weighting
    // Source: ITU-T O.41 (10/94) and IEEE Std 743-1995 as quoted by a ballot draft of
    // ANSI/TIA-470.120-C, tables A.1 and A.2
    // Known by: read; the standards themselves not seen
    for (name, table) in [("psophometric", PSOPHOMETRIC), ("c_message", C_MESSAGE)] {
        let rows = facts(name);
        assert_eq!(rows.len(), table.len());
        for (row, (hertz, level)) in rows.iter().zip(table) {
            assert_eq!(floats(&row[..2]), [*hertz, *level]);
        }
    }
}

#[test]
fn weighting_follows_its_table() {
    let mut worst = 0.0f64;
    for (weighting, table) in [
        (Weighting::Psophometric, PSOPHOMETRIC),
        (Weighting::CMessage, C_MESSAGE),
    ] {
        for (hertz, due) in table
            .iter()
            .filter(|(hertz, _)| (100.0..4600.0).contains(hertz))
        {
            for rate in [8_000.0, 44_100.0, 48_000.0, 96_000.0] {
                if *hertz > rate * 0.475 {
                    continue;
                }
                let left = Left::of(tone(rate, rate as usize, *hertz, 0.1, 0.4), rate);
                let found = decibels(left.power(weighting).value / 0.005);
                worst = worst.max((found - due).abs());
                close(found, *due, 0.1);
            }
        }
    }
    println!("weighting: at most {worst:.3} dB from the tables, 100 to 4500 Hz");
}

#[test]
fn white_noise_through_a_weighting_has_its_equivalent_bandwidth() {
    // Check: white noise has an equivalent bandwidth of 1801.7 Hz through psophometric weighting, of
    // 2076.0 Hz through C-message weighting
    // Source: the tables of ITU-T O.41 and IEEE Std 743, decibels straight over log f
    // Known by: computed; with numpy
    let mut chance = Chance::of(3);
    let left = Left::of(noise(20 * COUNT, 0.1, &mut chance), RATE);
    for (weighting, due) in [
        (Weighting::Speech, 3100.0),
        (Weighting::Psophometric, 1801.7),
        (Weighting::CMessage, 2076.0),
    ] {
        let bandwidth = left.power(weighting).value / 0.01 * RATE / 2.0;
        close(decibels(bandwidth / due), 0.0, 0.1);
    }
}

#[test]
fn signal_and_noise_is_measured_by_switching() {
    let mut chance = Chance::of(5);
    let off = band_noise(RATE, COUNT, 0.02, &mut chance);
    let tone = tone(RATE, COUNT, 400.0, 0.02 * SQRT_2 * 3.0, 0.0);
    let on = sum(&[tone, band_noise(RATE, COUNT, 0.02, &mut chance)]);
    let records = [Record::of(&on, RATE), Record::of(&off, RATE)].map(|each| each.expect("sound"));
    let found = signal_and_noise(&records[0], &records[1], Weighting::Whole).expect("a ratio");
    close(found.value, 10.0, 3.0 * found.standard);
    assert!(found.standard < 0.3);
}

#[test]
fn hum_is_found_beside_a_tone() {
    let samples = sum(&[
        tone(RATE, COUNT, 1000.0, 0.2, 0.0),
        tone(RATE, COUNT, 50.1, 0.002, 1.0),
        tone(RATE, COUNT, 100.2, 0.004, 2.0),
        noise(COUNT, 1e-4, &mut Chance::of(6)),
    ]);
    let record = Record::of(&samples, RATE).expect("sound");
    let found = hum(&record, SPEECH, Mains::Fifty).expect("hum");
    close(found.mains, 50.1, 0.03);
    close(found.multiples[0], decibels(0.002f64.powi(2)), 0.1);
    close(found.multiples[1], decibels(0.004f64.powi(2)), 0.1);
    close(
        found.below_tone.expect("a tone"),
        decibels(0.04 / 20e-6),
        0.1,
    );
}

#[test]
fn beside_a_tone_that_fades_or_wanders_no_hum_is_told() {
    let hum_in = |tone: &dyn Fn(f64) -> f64| {
        let samples: Vec<f64> = (0..COUNT)
            .map(|at| {
                let time = at as f64 / RATE;
                tone(time) + 0.002 * (std::f64::consts::TAU * 50.0 * time).cos()
            })
            .collect();
        let hiss = noise(COUNT, 1e-4, &mut Chance::of(16));
        let samples = sum(&[samples, hiss]);
        let record = Record::of(&samples, RATE).expect("sound");
        hum(&record, SPEECH, Mains::Fifty)
    };
    let turn = |hertz: f64| (std::f64::consts::TAU * hertz).cos();
    let fading = hum_in(&|time| 0.2 * (1.0 + 0.5 * time) * turn(1000.0 * time));
    assert!(
        matches!(fading, Err(Unfit::LevelWanders { .. })),
        "{fading:?}"
    );
    let wandering = hum_in(&|time| 0.2 * turn(1000.0 * time + 2.0 * time * time));
    assert!(
        matches!(wandering, Err(Unfit::ToneWanders { .. })),
        "{wandering:?}"
    );
    // Without any tone there is hum, below nothing.
    let alone = hum_in(&|_| 0.0).expect("hum");
    assert_eq!(alone.below_tone, None);
}

#[test]
fn two_tones_are_judged_below_one_of_them_and_below_the_peak() {
    // Check: the third-order products of 700 and 1900 Hz are heard at 500 and 3100 Hz; below the peak
    // envelope power they are 6.02 dB more than below one tone
    // Source: 2f₁ − f₂ and 2f₂ − f₁; PEP of two equal tones is four times one of them
    // Known by: closed form
    let product = 0.2 * power_of(-30.0).sqrt();
    let samples = sum(&[
        tone(RATE, COUNT, 700.3, 0.2, 0.0),
        tone(RATE, COUNT, 1900.4, 0.2, 1.0),
        tone(RATE, COUNT, 1900.4 - 2.0 * 700.3, product, 2.0),
        noise(COUNT, 1e-4, &mut Chance::of(7)),
    ]);
    let record = Record::of(&samples, RATE).expect("sound");
    let found = two_tones(&record, 700.0, 1900.0).expect("two tones");
    close(found.tones[0], 700.3, 1e-3);
    close(found.tones[1], 1900.4, 1e-3);
    let worst = found.strongest(3).expect("a product");
    close(worst.frequency, 499.8, 0.01);
    close(worst.below_one.value, 30.0, 0.05);
    close(worst.below_peak.value, 36.0206, 0.05);
    close(PEAK_ABOVE_ONE, decibels(4.0), 1e-12);
    // With one tone alone there is nothing to be said.
    let one = tone(RATE, COUNT, 700.0, 0.2, 0.0);
    let alone = sum(&[one, noise(COUNT, 1e-3, &mut Chance::of(8))]);
    let record = Record::of(&alone, RATE).expect("sound");
    assert!(matches!(
        two_tones(&record, 700.0, 1900.0),
        Err(Unfit::ToneAbsent { .. })
    ));
}

#[test]
fn a_response_is_given_against_its_reference() {
    // Check: one pole of 750 µs has its corner at 212.21 Hz, where it is 3.01 dB down
    // Source: 1/(2π·RC)
    // Known by: closed form
    let levels: Vec<Point> = [100.0, 150.0, 212.21, 300.0, 500.0, 1000.0, 3000.0]
        .map(|hertz: f64| Point {
            frequency: hertz,
            level: Figure::new(-20.0 - decibels(1.0 + (212.21 / hertz).powi(2)), 0.01),
        })
        .to_vec();
    let found = Response::of(&levels, 3000.0).expect("a response");
    close(found.points[2].level.value, -3.0103 + 0.0217, 1e-3);
    let (low, high) = found.corners(3.0);
    close(low.expect("a corner"), 211.5, 1.0);
    assert_eq!(high, None);
    let (least, most) = found.within(300.0, 3000.0).expect("points");
    assert_eq!((least.frequency, most.frequency), (300.0, 3000.0));
    assert_eq!(Response::of(&levels, 900.0), Err(Unfit::NoSense));
}

#[test]
fn sound_that_gives_no_figure_says_why() {
    let sine = tone(RATE, COUNT, 1000.0, 0.2, 0.0);
    let hiss = band_noise(RATE, COUNT, 0.05, &mut Chance::of(9));
    let loud: Vec<f64> = sine
        .iter()
        .map(|each| (6.0 * each).clamp(-1.0, 1.0))
        .collect();
    let wandering: Vec<f64> = (0..COUNT)
        .map(|at| {
            let time = at as f64 / RATE;
            0.2 * (std::f64::consts::TAU * (1000.0 * time + 2.0 * time * time)).cos()
        })
        .collect();
    let fading: Vec<f64> = (0..COUNT)
        .map(|at| {
            let time = at as f64 / RATE;
            let level = 1.0 + 0.5 * (std::f64::consts::PI * time).sin();
            0.2 * level * (std::f64::consts::TAU * 1000.0 * time).cos()
        })
        .collect();
    let due = |samples: &[f64], due: fn(&Unfit) -> bool| {
        let found = measured(samples, Weighting::Speech).expect_err("no figure");
        assert!(due(&found), "{found:?}");
    };
    due(&vec![0.0; COUNT], |e| matches!(e, Unfit::Silent { .. }));
    due(&vec![0.3; COUNT], |e| matches!(e, Unfit::Silent { .. }));
    due(&loud, |e| matches!(e, Unfit::Clipped { .. }));
    let mut holed = sine.clone();
    holed[20_000..20_128].fill(0.0);
    due(&holed, |e| *e == Unfit::Gap);
    due(&hiss, |e| matches!(e, Unfit::ToneAbsent { .. }));
    due(&tone(RATE, COUNT, 1500.0, 0.2, 0.0), |e| {
        matches!(e, Unfit::ToneAbsent { .. })
    });
    due(
        &wandering,
        |e| matches!(e, Unfit::ToneWanders { hertz } if (2.0..5.0).contains(hertz)),
    );
    due(
        &fading,
        |e| matches!(e, Unfit::LevelWanders { decibels } if (1.0..4.0).contains(decibels)),
    );
    due(&sine[..100], |e| matches!(e, Unfit::TooShort { .. }));
    due(&[f64::NAN; COUNT], |e| *e == Unfit::NotFinite);
    for rate in [0.0, f64::NAN, 4_000.0, 1e6] {
        assert!(matches!(Record::of(&sine, rate), Err(Unfit::Rate { .. })));
    }
}

#[test]
fn noise_alone_is_hardly_ever_taken_for_a_tone() {
    let mut chance = Chance::of(10);
    let found = (0..100).filter(|_| {
        let samples = band_noise(8000.0, 8000, 0.05, &mut chance);
        let record = Record::of(&samples, 8000.0).expect("sound");
        let settings = Settings {
            range: SPEECH,
            ..settings(Weighting::Speech)
        };
        measure(&record, &settings).is_ok()
    });
    assert_eq!(found.count(), 0);
}

#[test]
fn noise_to_send_has_a_level_and_a_band() {
    let sent = send::noise(48_000, 7);
    let power = sent.iter().map(|each| each * each).sum::<f64>() / 48_000.0;
    close(power, 0.5, 1e-6);
    let left = Left::of(sent.clone(), RATE);
    close(
        decibels(left.power(Weighting::Speech).value / 0.5),
        0.0,
        0.05,
    );
    let peak = halfturn::signal::record::peak(&sent);
    assert!(peak < send::CREST, "{peak}");
    close(send::amplitude(-60), 0.501187, 1e-6);
    close(send::each_of_two(-60) * SQRT_2, send::amplitude(-60), 1e-12);
}

#[test]
fn a_known_voltage_says_what_a_level_is_worth() {
    // Check: half the voltage is 6.0206 dB less; 0.774597 V across 600 Ω and 0.223607 V across 50 Ω
    // are 0 dBm
    // Source: the definitions of decibel and dBm, IEC 60027-3
    // Known by: closed form
    let known = Figure::new(1.0, 0.01);
    let full = FullScale::of(known, Figure::new(-20.0, 0.0), 1000.0).expect("a voltage");
    let half = full
        .volts(Figure::new(-26.020_600, 0.0), 1000.0)
        .expect("the same tone");
    close(half.value, 0.5, 1e-8);
    close(half.standard, 0.005, 1e-9);
    // A level that is uncertain by 0.1 dB is so by 1.1513 % of a voltage.
    let wide = full
        .volts(Figure::new(-20.0, 0.1), 1000.0)
        .expect("the same tone");
    close(wide.standard, 0.01f64.hypot(0.011_512_925), 1e-8);
    for (volts, ohms) in [(0.774_596_669, 600.0), (0.223_606_798, 50.0)] {
        let level = milliwatts(Figure::new(volts, 0.01 * volts), ohms);
        close(level.value, 0.0, 1e-8);
        close(level.standard, 0.086_858_9, 1e-6);
        let back = across(level, ohms);
        close(back.value, volts, 1e-8);
        close(back.standard, 0.01 * volts, 1e-8);
    }
}

#[test]
fn a_voltage_is_known_only_of_the_tone_that_was_compared() {
    let full = FullScale::of(Figure::new(1.0, 0.01), Figure::new(-20.0, 0.0), 1000.0);
    let full = full.expect("a voltage");
    let level = Figure::new(-20.0, 0.0);
    assert!(full.volts(level, 1004.0).is_some());
    assert_eq!(full.volts(level, 400.0), None);
    for volts in [0.0, -1.0] {
        let known = Figure::new(volts, 0.01);
        assert_eq!(FullScale::of(known, level, 1000.0), Err(Unfit::NoSense));
    }
}
