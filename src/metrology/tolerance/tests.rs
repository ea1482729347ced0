use super::*;

fn q(text: &str) -> Quantity {
    text.parse().unwrap()
}

fn around(nominal: &str, margin: Margin) -> Tolerance {
    Tolerance::plus_minus(q(nominal), margin)
}

#[test]
fn a_verdict_names_the_margin_and_the_deviation_from_a_nominal_value() {
    let hz = |text: &str| Margin::Absolute(q(text));
    let ppm = |text: &str| Margin::Ppm(text.parse().unwrap());
    let percent = |text: &str| Margin::Percent(text.parse().unwrap());
    let lopsided = Tolerance::Around {
        nominal: q("50 mA"),
        below: hz("10 mA"),
        above: hz("2 mA"),
    };
    let between = Tolerance::Between {
        low: q("3.6 W"),
        high: q("4.0 W"),
    };
    for (tolerance, reading, place, words) in [
        (
            around("9.0015 MHz", hz("20 Hz")),
            "9.0027 MHz",
            Place::High,
            "1180 Hz over the upper limit, 1200 Hz high",
        ),
        (
            around("9.0015 MHz", hz("20 Hz")),
            "9.001480 MHz",
            Place::Inside,
            "inside, on the lower limit, 20 Hz low",
        ),
        (
            around("9.0015 MHz", hz("20 Hz")),
            "9.001479 MHz",
            Place::Low,
            "1 Hz under the lower limit, 21 Hz low",
        ),
        (
            around("9.0015 MHz", hz("20 Hz")),
            "9001.50 kHz",
            Place::Inside,
            "20 Hz inside, on target",
        ),
        (
            around("27.185 MHz", ppm("50")),
            "27.18635925 MHz",
            Place::Inside,
            "inside, on the upper limit, 1.35925 kHz high",
        ),
        (
            around("27.185 MHz", ppm("50")),
            "27.186359250001 MHz",
            Place::High,
            "0.000000001 kHz over the upper limit, 1.359250001 kHz high",
        ),
        (
            around("8.0 V", percent("5")),
            "7.6 V",
            Place::Inside,
            "inside, on the lower limit, 0.4 V low",
        ),
        (
            around("8.0 V", percent("5")),
            "7.59 V",
            Place::Low,
            "0.01 V under the lower limit, 0.41 V low",
        ),
        (
            around("-8.0 V", percent("5")),
            "-8.41 V",
            Place::Low,
            "0.01 V under the lower limit, 0.41 V low",
        ),
        (
            around("-10 dBm", hz("1.5 dB")),
            "-8.5 dBm",
            Place::Inside,
            "inside, on the upper limit, 1.5 dB high",
        ),
        (
            lopsided.clone(),
            "40 mA",
            Place::Inside,
            "inside, on the lower limit, 10 mA low",
        ),
        (
            lopsided,
            "52.1 mA",
            Place::High,
            "0.1 mA over the upper limit, 2.1 mA high",
        ),
        (
            Tolerance::AtLeast(q("40 dB")),
            "38 dB",
            Place::Low,
            "2 dB under the lower limit",
        ),
        (
            Tolerance::AtLeast(q("40 dB")),
            "40.0 dB",
            Place::Inside,
            "inside, on the lower limit",
        ),
        (
            Tolerance::AtMost(q("0.5 µV EMF")),
            "0.35 µV EMF",
            Place::Inside,
            "0.15 µV EMF inside",
        ),
        (
            between.clone(),
            "4.1 W",
            Place::High,
            "0.1 W over the upper limit",
        ),
        (between.clone(), "3.7 W", Place::Inside, "0.1 W inside"),
        (
            around("1.30 V", hz("0.15 V")),
            "1.32 V",
            Place::Inside,
            "0.13 V inside, 0.02 V high",
        ),
        (between, "3.95 W", Place::Inside, "0.05 W inside"),
        (
            around("100 W", hz("10 dB")),
            "10 W",
            Place::Inside,
            "inside, on the lower limit, 90 W low",
        ),
        (
            around("0.5 V", hz("6 dB")),
            "0.25 V",
            Place::Low,
            "0.00059 V under the lower limit, 0.25 V low",
        ),
    ] {
        let verdict = tolerance.judge(&q(reading));
        assert_eq!(verdict.place, place, "{reading}");
        if let Some(deviation) = &verdict.deviation {
            assert_eq!(deviation.scale, verdict.margin.scale, "{reading}: one unit");
        }
        let said = verdict.words(DecimalSign::Point).replace('\u{a0}', " ");
        assert_eq!(said, words, "{reading}");
    }
}

// Check: 20 W ± 1 dB are 15.89 to 25.18 W, 0.5 V ± 3 dB 0.354 to 0.706 V
// Source: definition of the decibel, 10·log for powers and 20·log for voltages
// Known by: closed form
#[test]
fn decibels_of_a_power_or_a_voltage_make_limits_in_its_own_unit() {
    let decibels = |text: &str| Margin::Absolute(q(text));
    for (nominal, margin, low, high) in [
        ("20 W", "1 dB", "15.8865646945", "25.1785082359"),
        ("0.5 V", "3 dB", "0.353972892192", "0.706268772311"),
        ("500 mV rms", "3 dB", "0.353972892192", "0.706268772311"),
        ("100 W", "10 dB", "10", "1000"),
        ("2.0 A", "20 dB", "0.2", "20"),
    ] {
        let tolerance = around(nominal, decibels(margin));
        assert_eq!(tolerance.fault(tolerance.unit()), None, "{nominal}");
        let limits = tolerance.limits();
        assert_eq!(limits.low, Some(low.parse().unwrap()), "{nominal}");
        assert_eq!(limits.high, Some(high.parse().unwrap()), "{nominal}");
    }
    for (nominal, margin) in [
        ("0 W", "1 dB"),
        ("-5 V", "1 dB"),
        ("20 W", "-1 dB"),
        ("9 MHz", "1 dB"),
    ] {
        let tolerance = around(nominal, decibels(margin));
        assert!(
            tolerance.fault(tolerance.unit()).is_some(),
            "{nominal} ± {margin}"
        );
    }
}

#[test]
fn a_tolerance_reads_like_print() {
    let asymmetric = Tolerance::Around {
        nominal: q("50 mA"),
        below: Margin::Absolute(q("10 mA")),
        above: Margin::Absolute(q("2 mA")),
    };
    for (tolerance, print) in [
        (
            around("9.0015 MHz", Margin::Absolute(q("20 Hz"))),
            "9.0015 MHz ± 20 Hz",
        ),
        (
            around("28.000 MHz", Margin::Ppm(50.into())),
            "28.000 MHz ± 50 ppm",
        ),
        (asymmetric, "50 mA + 2 mA − 10 mA"),
        (Tolerance::AtMost(q("-40 dBc")), "at most −40 dBc"),
        (
            around("20 W", Margin::Absolute(q("1 dB"))),
            "20 W ± 1 dB (15.89 W to 25.17 W)",
        ),
    ] {
        let text = tolerance.typeset(DecimalSign::Point).replace('\u{a0}', " ");
        assert_eq!(text, print);
    }
}
