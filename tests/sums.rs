//! The catalogue of calculations, used as the screen uses it: text in, text out.

mod common;

use halfturn::metrology;
use halfturn::quantity::DecimalSign;
use halfturn::quantity::sum::{Answer, Kind, Role, Sum};
use halfturn::radio;
use std::collections::BTreeSet;

fn catalogue() -> Vec<&'static Sum> {
    radio::sums::all().chain(metrology::sums::SUMS).collect()
}

fn sum(id: &str) -> &'static Sum {
    catalogue().into_iter().find(|sum| sum.id == id).unwrap()
}

/// What a sum says of texts in the order of its inputs; an empty one takes the start.
fn answer(id: &str, texts: &[&str]) -> Result<Answer, String> {
    let sum = sum(id);
    let entries: Vec<_> = sum
        .inputs
        .iter()
        .enumerate()
        .map(|(index, input)| {
            let typed = texts.get(index).filter(|text| !text.is_empty());
            let text = typed.unwrap_or(&input.start);
            input.read(text, None, DecimalSign::Point).unwrap()
        })
        .collect();
    sum.answer(&entries).map_err(|fault| fault.to_string())
}

/// The results as a page shows them, with plain spaces.
fn shown(id: &str, texts: &[&str]) -> Vec<String> {
    match answer(id, texts) {
        Ok(Answer::Worked { outcome, digits }) => outcome
            .outputs
            .iter()
            .map(|output| output.typeset(digits, DecimalSign::Point))
            .map(|text| text.replace('\u{a0}', " "))
            .collect(),
        other => panic!("{id}: {other:?}"),
    }
}

// Check: every sum works with values from the bench and shows sensible digits
// Source: the checks of each formula
// Known by: closed form
#[test]
fn every_sum_shows_what_the_bench_expects() {
    for (id, texts, expected) in [
        (
            "level",
            &["4 W"][..],
            &["36.02 dBm", "4.00 W", "6.02 dBW", "14.1 V rms"][..],
        ),
        ("level", &["-107"], &["−107.00 dBm", "0.0200 pW"]),
        ("level", &["2 µV EMF"], &["−106.99 dBm"]),
        ("level-chain", &["0", "10; -3\n2"], &["9.00 dBm"]),
        ("level-behind", &["6.0", "30"], &["36.00 dBm", "3.98 W"]),
        ("power-ratio", &["5", "10"], &["3.01 dB", "2.00"]),
        (
            "match-swr",
            &["1.5"],
            &["1.50 :1", "13.98 dB", "0.200", "0.18 dB", "4.00 %"],
        ),
        (
            "match-swr",
            &["1.0"],
            &["1.00 :1", "∞", "0", "0.00 dB", "0 %"],
        ),
        ("match-return-loss", &["20.0"], &["1.22 :1"]),
        ("match-reflection", &["20"], &["1.50 :1"]),
        ("match-powers", &["100", "25"], &["75.0 W", "3.00 :1"]),
        ("match-load", &["200"], &["4.00 :1"]),
        ("match-cable", &["1.5", "3.0"], &["2.33 :1"]),
        ("match-error", &["1.05", "1.05"], &["0.119 %", "0.0841 %"]),
        ("am-envelope", &["21", "3"], &["75.0 %"]),
        ("am-trapezoid", &["4.0", "1.0"], &["60.0 %"]),
        (
            "am-powers",
            &["4", "100"],
            &["16.0 W PEP", "6.00 W", "1.00 W"],
        ),
        ("am-carrier", &["5 kW", "80"], &["3.79 kW"]),
        ("pep", &["200"], &["100 W PEP", "50.0 W", "25.0 W"]),
        ("two-tone", &["50"], &["100 W PEP"]),
        (
            "suppression",
            &["10.0", "-35.0", "-41.0"],
            &["−45.00 dBc", "−51.00 dBc"],
        ),
        ("suppression", &["10.0", "-35.0"], &["−45.00 dBc"]),
        ("fm-index", &["5", "3"], &["1.67", "16.0 kHz"]),
        ("fm-null", &["2 kHz"], &["832 Hz"]),
        ("am-sidebands", &["10.0", "3.5"], &["94.6 %"]),
        ("fm-deviation", &["831.66 Hz"], &["2.0000 kHz"]),
        ("fm-null", &["2 kHz", "first sidebands"], &["522 Hz"]),
        (
            "fm-deviation",
            &["521.96 Hz", "first sidebands"],
            &["2.0000 kHz"],
        ),
        ("am-depth-powers", &["4.00", "5.28"], &["80.0 %"]),
        ("am-depth-powers", &["4.00", "9.00", "PEP"], &["50.0 %"]),
        (
            "am-envelope-of",
            &["12.0", "75.0"],
            &["21.0 V p-p", "3.00 V p-p"],
        ),
        (
            "suppression",
            &["10.0", "-35.0", "-41.0", "two equal tones"],
            &["−45.00 dBc", "−51.02 dB", "−51.00 dBc", "−57.02 dB"],
        ),
        (
            "two-tone-products",
            &["10.0", "-20.0"],
            &["−30.00 dBc", "−36.02 dB"],
        ),
        (
            "bandwidth-ratio",
            &["0.001", "400 Hz", "-174"],
            &["26.02 dB", "400", "−147.98 dBm"],
        ),
        (
            "link-margin",
            &["4 W", "-107", "27.185", "10"],
            &["61.89 dB", "−45.11 dBm", "81.13 dB"],
        ),
        (
            "resistor-dissipation",
            &["0.50", "10.0"],
            &["2.50 W", "5.00 V"],
        ),
        (
            "ripple",
            &["13.8", "138 mV"],
            &["1.00 %", "39.8 mV rms", "0.289 %", "−50.79 dB"],
        ),
        ("reservoir-ripple", &["1.00", "4700"], &["2.13 V p-p"]),
        (
            "noise-figure",
            &["-107.0", "10", "6.0", "", "30"],
            &["8.74 dB"],
        ),
        (
            "display-offset",
            &[
                "28.300000; 28.301500; 28.298500",
                "19.300000; 19.301500; 19.298500",
                "28.400000",
                "19.400010",
            ],
            &[
                "9 MHz",
                "9 MHz",
                "9 MHz",
                "Adds the tap to the offset",
                "28.40001 MHz",
                "10 Hz",
            ],
        ),
        (
            "display-offset",
            &["27.185", "10.695", "27.195", "10.685"],
            &[
                "37.88 MHz",
                "Takes the tap from the offset",
                "27.195 MHz",
                "0 Hz",
            ],
        ),
        (
            "display-offset",
            &["27.185", "10.695", "27.195", "10.695"],
            &["The tap does not move as far as the channel: no offset shows every channel"],
        ),
        ("unwanted", &["4"], &["59.02 dB", "−23.00 dBm"]),
        ("sinad-voltages", &["1000", "251.19"], &["12.000 dB"]),
        ("sinad-distortion", &["25.119"], &["12.0000 dB"]),
        (
            "signal-plus-noise",
            &["316.2", "100.0"],
            &["9.999 dB", "9.542 dB"],
        ),
        ("sensitivity", &["-107"], &["999 nV rms", "2.00 µV EMF"]),
        ("noise-figure", &["-123.0", "10", "2.4"], &["7.17 dB"]),
        (
            "image",
            &["27.185", "16.490"],
            &["5.7950 MHz", "21.838 MHz", "10.695 MHz"],
        ),
        ("s-meter-level", &["7"], &["−85.00 dBm", "12.6 µV rms"]),
        ("s-meter-reading", &["-85"], &["7.00", "0.00 dB"]),
        (
            "ppm-error",
            &["27.185", "27.186359"],
            &["1.359 kHz", "49.991 ppm"],
        ),
        ("ppm-hertz", &["27.185", "50"], &["1.36 kHz"]),
        ("counter-error", &["27.18500", "1.000"], &["28.18 Hz"]),
        (
            "on-air",
            &["27.185", "16.49012", "10.69495"],
            &["27.18507 MHz", "70 Hz", "10.69488 MHz"],
        ),
        ("quiescent", &["500 mV", "10"], &["50.0 mA"]),
        ("stage-sum", &["50; 100"], &["150 mA"]),
        (
            "base-voltage",
            &["0.7"],
            &["Plausible for a conducting silicon transistor"],
        ),
        ("pass-dissipation", &["13.5", "8.5", "0.5"], &["2.50 W"]),
        (
            "output-dissipation",
            &["13.8", "1.0", "4.0"],
            &["9.80 W", "29.0 %"],
        ),
        (
            "junction",
            &["5", "3", "1", "8"],
            &["85.0 °C", "70.0 °C", "65.0 °C"],
        ),
        ("heatsink", &["5", "85", "3", "1"], &["8.00 °C/W"]),
        ("resonance", &["1.000", "25.33"], &["31.62 MHz"]),
        (
            "resonating-capacitance",
            &["27.185", "1.0000"],
            &["34.275 pF"],
        ),
        (
            "resonating-inductance",
            &["27.185", "34.275"],
            &["1.0000 µH"],
        ),
        ("stored", &["1000", "24"], &["288 mJ", "24000.0 µC"]),
        (
            "bleed",
            &["1000", "100", "42.4", "1 kΩ"],
            &["858 ms", "10.0 W", "5.00 J", "1.00 s"],
        ),
        ("left-after", &["1000", "100", "1 kΩ", "1"], &["36.8 V"]),
        (
            "preferred",
            &["950 Ω", "E12"],
            &["1.00 kΩ", "820 Ω", "1.00 kΩ", "5.26 %"],
        ),
        (
            "pair",
            &["50.3 Ω", "in series", "E12"],
            &["47 Ω and 3.3 Ω, off by +0.00 %"],
        ),
        (
            "colour-read",
            &["yellow", "violet", "none", "red", "gold"],
            &["4.70 kΩ", "5.00 %"],
        ),
        ("colour-of", &["4.7 kΩ"], &["yellow, violet, red"]),
        (
            "time-base",
            &["10 MHz", "10.000005 MHz", "27.185000 MHz"],
            &["0.500 ppm", "27.185000 MHz", "27.184986 MHz"],
        ),
        (
            "repeated",
            &["8.001; 8.003; 8.002"],
            &["8.00200", "0.0010", "0.00058"],
        ),
        ("decision", &["9.6", "", "10", "0.5"], &["fail"]),
        (
            "decision",
            &["9.6", "", "10", "0.5", "four-way statement"],
            &["conditional pass"],
        ),
        (
            "acceptance-limits",
            &["-10.0", "10.0", "2.5"],
            &[
                "−10 to 10",
                "−7.5 to 7.5",
                "−7.925 to 7.925",
                "−7.5 to 7.5",
                "−10 to 10",
                "−12.5 to 12.5",
                "−7.94 to 7.94",
                "−9.86 to 9.86",
                "4.00",
                "0.0531",
            ],
        ),
        (
            "acceptance-limits",
            &["", "10.0", "2.5"],
            &["at most 10", "at most 7.5", "at most 7.925"],
        ),
        (
            "acceptance-limits",
            &["9", "10", "2.5"],
            &["9 to 10", "none: nothing is left between them"],
        ),
        (
            "dominant-rectangle",
            &["17.3205", "1.73205"],
            &["1.67", "17"],
        ),
        ("dominant-rectangle", &["1"], &["1.65", "0.95"]),
        (
            "correlation",
            &[
                "5.007; 4.994; 5.005; 4.990; 4.999",
                "19.663; 19.639; 19.640; 19.685; 19.678",
            ],
            &["−0.355", "4.9990 ± 0.0032", "19.6610 ± 0.0095", "−0.000011"],
        ),
        (
            "model",
            &[
                "a ÷ b × cos c",
                "4.999; 0.0196610; 1.04446",
                "0.0032094; 0.0000094710; 0.00075206",
                "",
                "",
                "ab -0.355; ac 0.858; bc -0.645",
            ],
            &[
                "127.73 ± 0.14",
                "0.071",
                "1.96",
                "∞",
                "25.6",
                "−6500",
                "−220",
            ],
        ),
        (
            "model",
            &["a × a ÷ b", "10.00; 50", "0.1; 0", "0; 1", "9; 9"],
            &["2.000 ± 0.098", "0.046", "2.12", "16"],
        ),
        (
            "model-monte-carlo",
            &[
                "a + b + c + d",
                "0;0;0;0",
                "0;0;0;0",
                "1.7320508;1.7320508;1.7320508;17.320508",
            ],
            &["−17 to 17", "−17 to 17", "0", "10", "−20 to 20"],
        ),
        (
            "can-prove",
            &["400", "24", "1"],
            &["Yes: the tolerance is at least four times the uncertainty"],
        ),
    ] {
        let got = shown(id, texts);
        assert_eq!(got[..expected.len()], *expected, "{id} {texts:?}");
    }
}

// Check: an uncertainty budget of one reading is stated with its result
// Source: JCGM 100:2008, 7.2.6
// Known by: closed form
#[test]
fn a_reading_is_stated_with_its_uncertainty() {
    let got = shown("reading-uncertainty", &["27.185012 MHz", "", "", "", "1"]);
    assert_eq!(got[0], "27.185012 MHz ± 0.000031 MHz");
    let got = shown(
        "reading-uncertainty",
        &["8.002 V", "10", "0.3", "0.1", "", "2", "8.001;8.003;8.002"],
    );
    assert_eq!(got[0], "8.002 V ± 0.041 V");
    // A certificate's U = 30 mV with k = 2 and a stated mean of u = 20 mV: 1.96·√(15² + 20²).
    let stated = ["8.000 V", "", "", "", "", "", "", "0.020", "", "0.030", "2"];
    assert_eq!(
        shown("reading-uncertainty", &stated)[0],
        "8.000 V ± 0.049 V"
    );
    // With 4 degrees of freedom of the mean ν = 25⁴/(20⁴/4) = 9.8: k 2.26.
    let stated = [
        "8.000 V", "", "", "", "", "", "", "0.020", "4", "0.030", "2",
    ];
    assert_eq!(
        shown("reading-uncertainty", &stated)[0],
        "8.000 V ± 0.057 V"
    );
}

// Check: U and u have two significant digits, however many the reading has; so has the spread, and the mean goes to the place of its uncertainty
// Source: JCGM 100:2008, 7.2.6
// Known by: memory; figures by hand
#[test]
fn uncertainties_promise_no_more_than_two_digits() {
    // 1 ppm + 1 count: u = √(28.185012²/3 + 1/12) = 16.275 Hz, U = 1.96 u = 31.90 Hz.
    let got = shown(
        "reading-uncertainty",
        &["27.185012 MHz", "", "", "", "1", "1"],
    );
    assert_eq!(
        got,
        [
            "27.185012 MHz ± 0.000032 MHz",
            "32 Hz",
            "16 Hz",
            "1.96",
            "∞"
        ]
    );
    // s = √(Σ(x − mean)²/9) = 0.302765 mV, over √10 0.0957 mV.
    let ten = "8.0021;8.0022;8.0023;8.0024;8.0025;8.0026;8.0027;8.0028;8.0029;8.0030";
    let got = shown("repeated", &[ten]);
    assert_eq!(got, ["8.002550", "0.00030", "0.000096"]);
    let got = shown("repeated", &["8.01;8.01;8.01"]);
    assert_eq!(got, ["8.01", "0", "0"]);
    let got = shown("can-prove", &["400", "24", "1"]);
    assert_eq!(got[1], "27");
}

// Check: results that stand in words have the decimal sign in use
// Source: this project's own rule
// Known by: own rule
#[test]
fn no_result_keeps_the_point_where_a_comma_is_in_use() {
    for (id, texts, expected) in [
        ("pair", &["50.3 Ω"][..], "0,0"),
        ("stored", &["1000 µF", "24.5 V"], "42,4"),
        ("decision", &["9.6", "", "10", "0.5"], "2,5 %"),
        (
            "reading-uncertainty",
            &["8.002 V", "", "", "", "", "2"],
            "8,0020",
        ),
    ] {
        let Ok(Answer::Worked { outcome, digits }) = answer(id, texts) else {
            panic!("{id} is not worked out");
        };
        let said: Vec<String> = outcome
            .outputs
            .iter()
            .map(|output| output.typeset(digits, DecimalSign::Comma))
            .collect();
        assert!(said.iter().any(|text| text.contains(expected)), "{said:?}");
    }
}

// Check: what is not typed yet is named, not refused
// Source: this project's own rule
// Known by: own rule
#[test]
fn half_filled_sums_name_what_is_still_needed() {
    let needed = |id, texts: &[&str]| match answer(id, texts) {
        Ok(Answer::StillNeeded(labels)) => labels,
        other => panic!("{id}: {other:?}"),
    };
    assert_eq!(needed("match-powers", &["100"]), ["Reflected power"]);
    assert_eq!(needed("level", &[""]), ["Level"]);
    for sum in catalogue() {
        let entries = vec![None; sum.inputs.len()];
        assert!(
            matches!(sum.answer(&entries), Ok(Answer::StillNeeded(_))),
            "{}",
            sum.id
        );
    }
}

// Check: an impossible value is answered by a sentence
// Source: this project's own rule
// Known by: own rule
#[test]
fn impossible_inputs_are_sentences() {
    let said = |id, texts: &[&str]| answer(id, texts).unwrap_err();
    assert_eq!(
        said("match-swr", &["0.8"]),
        "The standing wave ratio is 0.8, which is too low; enter 1 or more."
    );
    assert!(said("am-powers", &["4", "120"]).contains("enter 100 or less"));
    assert!(said("power-ratio", &["0", "1"]).contains("The reference power"));
    assert_eq!(
        said("decision", &["1", "", "", "1"]),
        "Too few limits: 0 of at least 1; add more."
    );
}

// Check: every sum is complete, starts with what it accepts and gives its source
// Source: this project's own rule
// Known by: own rule
#[test]
fn the_catalogue_is_complete() {
    let mut ids = BTreeSet::new();
    for sum in catalogue() {
        assert!(ids.insert(sum.id), "{} is there twice", sum.id);
        let kebab = |id: &str| id.bytes().all(|b| b.is_ascii_lowercase() || b == b'-');
        assert!(kebab(sum.id) && !sum.title.is_empty(), "{}", sum.id);
        assert!(
            !sum.formula.is_empty() && !sum.source.is_empty(),
            "{}",
            sum.id
        );
        let mut inputs = BTreeSet::new();
        for input in sum.inputs {
            assert!(
                kebab(input.id) && inputs.insert(input.id),
                "{} {}",
                sum.id,
                input.id
            );
            let start = input.read(input.start, None, DecimalSign::Point);
            assert!(start.is_ok(), "{} {}: {start:?}", sum.id, input.id);
            if matches!(input.kind, Kind::Choice(_)) {
                assert_eq!(input.role, Role::Nominal, "{} {}", sum.id, input.id);
            }
        }
    }
}
