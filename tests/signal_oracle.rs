//! What is measured in sound against numpy and scipy on the same samples.
//!
//! `tests/oracle/make_signals.py` draws signals and measures them; `tests/oracle/run` compares
//! 1,000. Without `HALFTURN_SIGNALS` the first of them, beside that script, are compared.

mod sound;

use halfturn::signal::figure::decibels;
use halfturn::signal::measure::HARMONICS;
use halfturn::signal::tone::Range;
use halfturn::signal::{Record, Settings, Weighting, measure};
use sound::Chance;
use std::collections::HashMap;
use std::f64::consts::TAU;
use std::path::PathBuf;

type Row = HashMap<String, String>;

fn rows() -> Vec<Row> {
    let here = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/oracle");
    let folder = std::env::var("HALFTURN_SIGNALS").unwrap_or(here.to_owned());
    let path = PathBuf::from(folder).join("signals.csv");
    let mut table = csv::Reader::from_path(&path).expect("a table");
    table.deserialize().map(|row| row.expect("a row")).collect()
}

fn number(row: &Row, name: &str) -> f64 {
    row[name].parse().expect("a number")
}

/// The samples of a signal, made again.
fn samples(row: &Row) -> Vec<f64> {
    let value = |name: &str| number(row, name);
    let (rate, hertz, mains) = (value("rate"), value("hertz"), value("mains"));
    let (second, third, hum) = (value("second"), value("third"), value("hum"));
    let mut chance = Chance::of(row["seed"].parse().expect("a seed"));
    let steps = 2f64.powf(value("bits") - 1.0);
    let sample = |at: usize| {
        let turn = TAU * (at as f64 / rate);
        let tone = value("peak") * (turn * hertz + value("phase")).cos();
        let harmonics =
            second * (turn * 2.0 * hertz + 1.0).cos() + third * (turn * 3.0 * hertz + 2.0).cos();
        let hum = hum * (0.8 * (turn * mains).cos() + 0.6 * (turn * 2.0 * mains).cos());
        let noise = value("noise") * chance.normal();
        ((value("offset") + tone + harmonics + hum + noise) * steps + 0.5).floor() / steps
    };
    (0..value("count") as usize).map(sample).collect()
}

/// The greatest difference of each kind, with the signal that has it.
#[derive(Default)]
struct Worst(HashMap<&'static str, (f64, usize)>);

impl Worst {
    fn look(&mut self, what: &'static str, at: usize, miss: f64) {
        let worst = self.0.entry(what).or_default();
        // Not a number is the worst of all.
        if miss.is_nan() || miss > worst.0 {
            *worst = (miss, at);
        }
    }

    #[track_caller]
    fn within(&self, what: &'static str, most: f64) {
        let (miss, at) = self.0[what];
        println!("{what}: at most {miss:.2e} (allowed {most:.0e}), signal {at}");
        assert!(miss <= most, "{what}: {miss} in signal {at}");
    }
}

#[test]
fn figures_are_those_of_numpy_and_scipy() {
    let rows = rows();
    let mut worst = Worst::default();
    for (at, row) in rows.iter().enumerate() {
        let weighting = match row["weighting"].as_str() {
            "whole" => Weighting::Whole,
            "speech" => Weighting::Speech,
            "psophometric" => Weighting::Psophometric,
            "c-message" => Weighting::CMessage,
            other => panic!("{other}"),
        };
        let settings = Settings {
            range: Range::around(number(row, "hertz")),
            weighting,
            harmonics: HARMONICS,
        };
        let samples = samples(row);
        let found = Record::of(&samples, number(row, "rate"))
            .and_then(|record| measure(&record, &settings))
            .unwrap_or_else(|error| panic!("signal {at}: {error:?}, {row:?}"));
        let due = |name: &str| number(row, name);
        let hertz = due("found_hertz");
        worst.look(
            "frequency, relative",
            at,
            (found.frequency.value - hertz).abs() / hertz,
        );
        worst.look(
            "level, dB",
            at,
            (found.level.value - due("found_dbfs")).abs(),
        );
        worst.look(
            "SINAD, dB",
            at,
            (found.sinad.value - due("found_sinad")).abs(),
        );
        let thd_n = decibels((found.thd_n.value / due("found_thd_n")).powi(2)).abs();
        worst.look("THD+N, dB", at, thd_n);
        match found.distortion {
            Some(distortion) => {
                let ratio = distortion.thd.value / due("found_thd");
                worst.look("THD, dB", at, decibels(ratio * ratio).abs());
            }
            None => assert!(due("found_thd").is_nan(), "signal {at} has harmonics"),
        }
    }
    println!("{} signals", rows.len());
    worst.within("frequency, relative", 1e-6);
    worst.within("level, dB", 1e-3);
    worst.within("SINAD, dB", 1e-2);
    worst.within("THD+N, dB", 1e-2);
    worst.within("THD, dB", 1e-2);
}
