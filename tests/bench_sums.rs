//! The sums that steps of the starters and the demo rest on, worked out with the app's own
//! functions from the figures that the steps state: a step that says another figure fails here.

mod bundled;
mod support;

use bundled::procedures;
use halfturn::procedure::{Id, Procedure, Step, Target, Work};
use halfturn::quantity::{Quantity, Unit};
use halfturn::radio::components::discharge::{
    SAFE_VOLTAGES, bleeder_power, energy, time_constant, time_to_bleed,
};
use halfturn::radio::conversion::convert;
use halfturn::radio::levels::{
    dbm_of_watts, decibels_of_power_ratio, level_after, peak_to_peak_of_rms, volts_of_watts,
    watts_of_dbm, watts_of_volts,
};
use halfturn::radio::modulation::{mean_of_two_tones, peak_envelope_power, pep_of_crest};
use support::id;

/// The figures with their units that a text states, in order.
fn figures(text: &str) -> Vec<Quantity> {
    let text = text.replace('−', "-");
    let words: Vec<&str> = text.split_whitespace().map(bare).collect();
    let pairs = words
        .windows(2)
        .filter(|pair| pair[0].starts_with(is_figure));
    let typed = pairs.map(|pair| format!("{} {}", pair[0], pair[1]));
    typed.filter_map(|typed| typed.parse().ok()).collect()
}

fn bare(word: &str) -> &str {
    word.trim_matches(|c: char| ",.;:()".contains(c))
}

fn is_figure(c: char) -> bool {
    c.is_ascii_digit() || c == '-'
}

/// The only figure of a unit that a text states, in the unit without prefix.
fn figure(text: &str, unit: Unit) -> f64 {
    let mut found = figures(text);
    found.retain(|figure| figure.unit() == unit);
    let sizes: Vec<f64> = found.iter().map(Quantity::base_f64).collect();
    match sizes[..] {
        [size] => size,
        _ => panic!("{unit:?}: {sizes:?} in {text}"),
    }
}

fn named(part: &str) -> Procedure {
    let mut all = procedures().into_iter();
    let found = all.find(|it| it.id.as_str().contains(part));
    found.unwrap_or_else(|| panic!("no procedure {part}"))
}

fn step<'a>(procedure: &'a Procedure, name: &str) -> &'a Step {
    let step = procedure.step(&id(name));
    step.unwrap_or_else(|| panic!("no step {name}"))
}

/// The ends that a step states, in the unit without prefix: far off where it has none.
fn ends(procedure: &Procedure, step: &Step) -> (f64, f64) {
    let tolerance = procedure.tolerance(step, |_| None);
    let Some(Ok(tolerance)) = tolerance else {
        panic!("{}: {tolerance:?}", step.id)
    };
    let limits = tolerance.limits();
    let end = |end: Option<bigdecimal::BigDecimal>, none| {
        end.map_or(none, |end| {
            Quantity::natural(end, tolerance.unit()).base_f64()
        })
    };
    (
        end(limits.low, f64::NEG_INFINITY),
        end(limits.high, f64::INFINITY),
    )
}

fn most(procedure: &Procedure, name: &str) -> f64 {
    ends(procedure, step(procedure, name)).1
}

/// By how much a step may lie below the one that it is counted from.
fn most_below(procedure: &Procedure, name: &str) -> f64 {
    match step(procedure, name).work.target() {
        Some(Target::Relative { below, .. }) => match below {
            halfturn::metrology::Margin::Absolute(below) => below.base_f64(),
            other => panic!("{other:?}"),
        },
        other => panic!("{other:?}"),
    }
}

/// What a role has to be able to do.
fn needs<'a>(procedure: &'a Procedure, role: &str) -> &'a str {
    let mut roles = procedure.instruments.iter();
    let role = roles.find(|it| it.role.as_str() == role);
    &role
        .unwrap_or_else(|| panic!("no role in {}", procedure.title))
        .needs
}

/// The most power that a procedure lets a set give, in W; where rules allow more than its power
/// meter reads, what that reads.
fn most_power(procedure: &Procedure) -> Option<f64> {
    let steps = procedure.steps().filter_map(|step| {
        let tolerance = procedure.tolerance(step, |_| None)?.ok()?;
        let is_power = matches!(tolerance.unit(), Unit::Watt | Unit::WattPep);
        let high = tolerance.limits().high.filter(|_| is_power)?;
        Some(Quantity::natural(high, tolerance.unit()).base_f64())
    });
    // What must not be sent is in nanowatts and microwatts.
    let allowed = steps.filter(|watts| *watts > 0.1).max_by(f64::total_cmp)?;
    let meter = figures(needs(procedure, "power-meter")).into_iter();
    let meter = meter.filter(|it| it.unit() == Unit::Watt);
    let read = meter.map(|it| it.base_f64()).max_by(f64::total_cmp);
    Some(read.map_or(allowed, |read| allowed.min(read)))
}

#[track_caller]
fn near(value: f64, expected: f64, part: f64) {
    let miss = (value - expected).abs() / expected.abs();
    assert!(miss <= part, "{value} is not {expected}");
}

#[test]
fn figures_are_found_in_a_sentence() {
    let found = figures("Let it stand at −73 dBm, which is 50 µV across 50 Ω: 3.3 Ω, not 8.");
    let found: Vec<String> = found.iter().map(Quantity::to_string).collect();
    assert_eq!(found, ["-73 dBm", "50 µV", "50 Ω", "3.3 Ω"]);
}

/// Steps that bleed a capacitor over a resistor, with its ohms and its watts.
fn bleeders() -> Vec<(String, String, f64, f64)> {
    let mut found = Vec::new();
    for procedure in procedures() {
        for step in procedure.steps() {
            let mut stated = figures(&step.text).into_iter();
            let ohms = stated.find(|it| it.unit() == Unit::Ohm);
            let watts = stated.find(|it| it.unit() == Unit::Watt);
            let is_reservoir =
                step.work.gauge().is_some() && step.set_up.supply.as_deref() == Some("off");
            if let (true, Some(ohms), Some(watts)) = (is_reservoir, ohms, watts) {
                let place = format!("{} of {}", step.id, procedure.title);
                found.push((place, step.text.clone(), ohms.base_f64(), watts.base_f64()));
            }
        }
    }
    found
}

// Check: the bleeder of the starters and the demo, 220 Ω and 5 W, at a reservoir of 20 000 µF and
// 25 V: 6.3 J, 2.8 W at first, τ 4.4 s, below 1 V within 14.2 s; at 320 V it would have to take
// 465 W
// Source: ½·C·V², V²/R, R·C and R·C·ln(V₀/V), closed forms; what reservoirs hold is common practice
// Known by: computed; figures by hand
#[test]
fn the_bleeder_suits_the_low_side_and_never_the_mains_side() {
    const RESERVOIR: f64 = 0.02;
    const FULL: f64 = 25.0;
    let found = bleeders();
    assert!(found.len() >= 4, "{found:?}");
    for (place, _, ohms, rated) in &found {
        near(energy(RESERVOIR, FULL).expect(place), 6.25, 1e-12);
        let first = bleeder_power(FULL, *ohms).expect(place);
        assert!(first < 0.6 * rated, "{place}: {first} W");
        near(time_constant(*ohms, RESERVOIR).expect(place), 4.4, 1e-12);
        // A switching supply's mains side.
        let mains = bleeder_power(320.0, *ohms).expect(place);
        assert!(mains > 90.0 * rated, "{place}: {mains} W");
        // Even what stands at it for good would not do: the highest voltage that the resistor bears.
        assert!((rated * ohms).sqrt() < SAFE_VOLTAGES[0].volts, "{place}");
    }
}

// Check: 15 s over 220 Ω empty two capacitors of 10 000 µF from 25 V to below the demo's limit of
// 1 V: 14.2 s
// Source: R·C·ln(V₀/V), closed form; what reservoirs hold is common practice
// Known by: computed; figures by hand
#[test]
fn the_time_that_the_demo_bleeds_for_is_enough() {
    let demo = named("qrc-trainer");
    let step = step(&demo, "reservoir");
    let (_, words) = step.text.split_once("for ").expect("a time");
    let seconds: f64 = words
        .split(' ')
        .next()
        .and_then(|it| it.parse().ok())
        .expect("seconds");
    assert!(words.contains(" seconds"), "{words}");
    let ohms = figure(&step.text, Unit::Ohm);
    let (_, safe) = ends(&demo, step);
    let due = time_to_bleed(25.0, safe, ohms, 0.02).expect("a time");
    near(due, 14.163, 1e-4);
    assert!(due <= seconds, "{due} of {seconds}");
}

// Check: every reservoir counts as empty far below the lowest published limit for direct voltage
// Source: IEC 60335-1, 8.1.4: 42.4 V
// Known by: read
#[test]
fn an_empty_reservoir_is_far_below_what_hurts() {
    let mut count = 0;
    for procedure in procedures() {
        for step in procedure.steps() {
            let at = step
                .work
                .gauge()
                .and_then(|it| procedure.test_point(&it.at));
            let place = at.map(|point| format!("{} {}", point.id, point.place).to_lowercase());
            if place.is_some_and(|place| place.contains("reservoir")) {
                let (_, high) = ends(&procedure, step);
                assert!(high <= SAFE_VOLTAGES[0].volts / 10.0, "{}: {high}", step.id);
                count += 1;
            }
        }
    }
    assert!(count >= 4, "{count}");
}

// Check: the load of the power starter: 13.8 V drive 4.2 A through 3.3 Ω, which turn 57.7 W into
// heat; from the least to the most that the steps allow, the current stays inside its limits and
// the heat inside the rating
// Source: Ohm's and Joule's law
// Known by: computed; figures by hand
#[test]
fn the_load_resistor_draws_and_bears_what_the_steps_say() {
    let power = named("starter-power");
    let load = step(&power, "load-resistor");
    let ohms = figure(&load.text, Unit::Ohm);
    let volts = figure(&load.text, Unit::VoltDc);
    near(volts / ohms, figure(&load.text, Unit::Ampere), 0.06);
    let heat = watts_of_volts(volts, ohms).expect("a power");
    let said = load
        .cautions
        .iter()
        .find(|said| said.contains(" W "))
        .expect("its heat");
    near(heat, figure(said, Unit::Watt), 0.01);
    let needs = needs(&power, "load-resistor");
    assert_eq!(figure(needs, Unit::Ohm), ohms);
    let (low, high) = ends(&power, step(&power, "open-volts"));
    let least = low - most_below(&power, "load-volts") - most_below(&power, "end-volts");
    let (fewest, mostly) = ends(&power, step(&power, "load-amps"));
    assert!(
        fewest <= least / ohms && high / ohms <= mostly,
        "{least} {high}"
    );
    let hottest = watts_of_volts(high, ohms).expect("a power");
    assert!(hottest < 0.8 * figure(needs, Unit::Watt), "{hottest}");
}

// Check: what two wires may have of resistance loses no more at 4.2 A than the end of the lead may,
// 0.46 V of 0.5 V; the supply's 0.3 V and the lead's 0.5 V are what transmitting may cost
// Source: Ohm's law
// Known by: computed; figures by hand
#[test]
fn the_limits_of_the_lead_and_of_its_end_say_the_same() {
    let power = named("starter-power");
    let load = step(&power, "load-resistor");
    let amps = figure(&load.text, Unit::VoltDc) / figure(&load.text, Unit::Ohm);
    let wires = most(&power, "ohms-plus") + most(&power, "ohms-minus");
    let (lead, supply) = (
        most_below(&power, "end-volts"),
        most_below(&power, "load-volts"),
    );
    let drop = wires * amps;
    assert!(drop <= lead, "{drop} of {lead}");
    // Nor is the end so generous that a bad wire passes there.
    assert!(drop > 0.8 * lead, "{drop} of {lead}");
    near(most_below(&power, "tx-volts"), supply + lead, 1e-12);
}

// Check: 2 m there and back of 1.5 mm² have 27 mΩ a wire, so that the limits of the wires leave some
// 20 mΩ to fuse and plugs; the same length of 0.5 mm² passes neither limit
// Source: ρ·l/A with 0.0172 Ω·mm²/m for annealed copper, IEC 60028, from memory
// Known by: memory; figures by hand
#[test]
fn the_limits_of_the_wires_tell_a_thin_one() {
    let power = named("starter-power");
    let wire = |area: f64| 0.0172 * 2.0 / area;
    near(wire(1.5), 0.0229, 0.01);
    for name in ["ohms-plus", "ohms-minus"] {
        let limit = most(&power, name);
        assert!(limit - wire(1.5) > 0.02, "{name}: {limit}");
        assert!(wire(0.5) > limit, "{name}: {limit}");
    }
    assert!(
        most(&power, "ohms-plus") > most(&power, "ohms-minus"),
        "the fuse"
    );
}

/// Steps that read the set with an analyser through what stands in the path, and by how many
/// decibels that takes away where its role says.
fn padded(procedure: &Procedure) -> Vec<(&Step, f64, Option<f64>)> {
    let analysed = procedure.steps().filter(|step| {
        let gauge = step.work.gauge();
        // Also where the set receives: a relay that sticks keys it.
        gauge.is_some_and(|it| it.with.as_str() == "analyser" && !it.through().is_empty())
    });
    let said = |step: &Step, unit: Unit| -> Vec<f64> {
        let through = step.work.gauge().map(|it| it.through().to_vec());
        let roles = through.into_iter().flatten();
        // What comes behind says how well the loss is known.
        let able = |role: &Id| needs(procedure, role.as_str()).split("within").next();
        let said = roles.filter_map(|role| able(&role).map(figures)).flatten();
        said.filter(|it| it.unit() == unit)
            .map(|it| it.base_f64().abs())
            .collect()
    };
    let padded = analysed.filter_map(|step| {
        let loss = said(step, Unit::Decibel).first().copied()?;
        Some((step, loss, said(step, Unit::Watt).first().copied()))
    });
    padded.collect()
}

// Check: through the pad or tap that its step names an analyser gets no more than 1 W, +30 dBm,
// which inputs of analysers bear; the pad bears what the set gives. In the demo 11 W PEP behind
// −40 dB are +0.4 dBm
// Source: dBm less dB; what inputs bear is common practice
// Known by: computed; figures by hand
#[test]
fn an_analyser_gets_less_through_its_pad_than_it_bears() {
    let mut count = 0;
    for procedure in procedures() {
        let Some(watts) = most_power(&procedure) else {
            continue;
        };
        for (step, loss, rated) in padded(&procedure) {
            let level = level_after(dbm_of_watts(watts).expect("a level"), &[-loss]);
            assert!(level <= 30.0, "{} of {}: {level}", step.id, procedure.title);
            assert!(
                rated.is_none_or(|rated| rated >= watts),
                "{} of {}",
                step.id,
                procedure.title
            );
            count += 1;
        }
    }
    assert!(count > 0);
    let demo = named("qrc-trainer");
    assert_eq!(most_power(&demo), Some(11.0));
    let (_, loss, _) = padded(&demo)[0];
    near(
        level_after(dbm_of_watts(11.0).expect("a level"), &[-loss]),
        0.414,
        1e-3,
    );
}

// Check: every dummy load is rated for more than the most that a set may give into it
// Source: Joule's law
// Known by: computed
#[test]
fn every_load_bears_what_the_set_may_give() {
    let mut count = 0;
    for procedure in procedures() {
        let mut roles = procedure.instruments.iter();
        let load = roles.find(|it| it.role.as_str() == "dummy-load");
        if let Some((load, watts)) = load.zip(most_power(&procedure)) {
            assert_eq!(figure(&load.needs, Unit::Ohm), 50.0, "{}", procedure.title);
            // One may be rated by the power of the set in hand.
            let mut rated = figures(&load.needs).into_iter();
            let rated = rated.find(|it| it.unit() == Unit::Watt);
            let Some(rated) = rated.map(|it| it.base_f64()) else {
                continue;
            };
            assert!(rated >= watts, "{}: {rated} for {watts}", procedure.title);
            count += 1;
        }
    }
    assert!(count >= 4, "{count}");
}

// Check: a minute of 4 W of carrier puts 240 J into the load, of 12 W PEP of two tones 360 J, of
// the same carrier with 100 % of modulation 360 J, 16 W at the crest; a load of 25 W bears 1500 J
// Source: P·t; mean of two equal tones is half of the crest; 1 + m²/2 and (1 + m)² of the carrier
// Known by: computed; figures by hand
#[test]
fn a_keyed_minute_leaves_a_load_cool_enough() {
    let align = named("starter-align");
    let rated = figure(needs(&align, "dummy-load"), Unit::Watt);
    let carrier = most(&align, "power-am");
    let mean = mean_of_two_tones(most(&align, "power-ssb")).expect("a mean");
    let full = halfturn::radio::modulation::mean_power(carrier, 1.0).expect("a mean");
    for (watts, joules) in [(carrier, 240.0), (mean, 360.0), (full, 360.0)] {
        near(watts * 60.0, joules, 1e-12);
        assert!(watts * 60.0 < rated * 60.0 / 4.0, "{watts}");
    }
    near(
        peak_envelope_power(carrier, 1.0).expect("a crest"),
        16.0,
        1e-12,
    );
    assert!(rated > 16.0);
}

// Check: 12 W PEP stand at 69 V peak to peak across 50 Ω, 10 W PEP at 63 V; the cautions say some
// 70 and some 60 V
// Source: P = U²/R of a sine at the crest
// Known by: computed; figures by hand
#[test]
fn the_volts_that_burn_are_those_of_the_power() {
    let mut count = 0;
    for procedure in procedures() {
        for step in procedure.steps() {
            let said = step
                .cautions
                .iter()
                .find(|said| said.contains("V peak to peak"));
            let Some(said) = said else {
                continue;
            };
            let volts = figures(said).first().expect("its volts").base_f64();
            let (low, high) = ends(&procedure, step);
            let across = |watts| peak_to_peak_of_rms(volts_of_watts(watts, 50.0).expect("volts"));
            let inside = across(low) - 1.0..across(high) + 1.0;
            assert!(
                inside.contains(&volts),
                "{}: {volts} of {inside:?}",
                step.id
            );
            near(
                pep_of_crest(across(high), 50.0).expect("a power"),
                high,
                1e-12,
            );
            count += 1;
        }
    }
    assert!(count >= 2, "{count}");
}

// Check: each of two equal tones lies 6.02 dB below their crest, and their mean 3.01 dB
// Source: P = U²/R, the voltages of two tones add at the crest
// Known by: closed form
#[test]
fn the_crest_of_two_tones_is_six_decibels_above_each() {
    let mean = mean_of_two_tones(12.0).expect("a mean");
    near(
        decibels_of_power_ratio(12.0 / mean).expect("a ratio"),
        3.0103,
        1e-5,
    );
    near(
        decibels_of_power_ratio(12.0 / (mean / 2.0)).expect("a ratio"),
        6.0206,
        1e-5,
    );
    let mut count = 0;
    for procedure in procedures() {
        let mut steps: Vec<&Step> = procedure.steps().collect();
        steps.retain(|step| step.text.contains("stronger tone plus"));
        for step in steps {
            let (_, words) = step.text.split_once("stronger tone plus").expect("it");
            near(figures(words)[0].base_f64(), 6.0206, 0.01);
            count += 1;
        }
    }
    assert!(count >= 4, "{count}");
}

// Check: 4.0 V across 8 Ω are 2.0 W
// Source: Joule's law
// Known by: computed; figures by hand
#[test]
fn the_audio_power_of_the_proofs_is_that_of_its_volts() {
    for part in ["proof-47", "proof-en", "proof-mpt"] {
        let proof = named(part);
        let step = step(&proof, "audio");
        let (least, _) = ends(&proof, step);
        let ohms = figure(&step.text, Unit::Ohm);
        let watts = watts_of_volts(least, ohms).expect("a power");
        near(watts, figure(&step.text, Unit::Watt), 1e-12);
        let source = step.basis.as_ref().map_or("", |basis| &basis.source);
        near(watts, figure(source, Unit::Watt), 1e-12);
        assert_eq!(figure(source, Unit::Ohm), ohms);
        let across = figures(&step.text)
            .into_iter()
            .filter(|it| it.unit() == Unit::VoltDc);
        assert_eq!(across.map(|it| it.base_f64()).next_back(), Some(least));
    }
}

// Check: S9 is −73 dBm, 50 µV across 50 Ω, wherever a step says so
// Source: IARU Region 1 recommendation R.1, from memory; P = U²/R
// Known by: memory; figures by hand
#[test]
fn nine_on_the_meter_is_one_level_in_every_unit() {
    let mut count = 0;
    for procedure in procedures() {
        let meters = procedure
            .steps()
            .filter(|step| step.id.as_str() == "s-meter" && step.text.contains("−73 dBm"));
        for step in meters {
            let level = figure(&step.text, Unit::DecibelMilliwatt);
            assert_eq!(level, -73.0, "{}", procedure.title);
            let volts = volts_of_watts(watts_of_dbm(level).expect("a power"), 50.0);
            near(volts.expect("volts"), 50e-6, 2e-3);
            let stated = figures(&step.text).into_iter();
            let stated: Vec<f64> = stated
                .filter(|it| it.unit() == Unit::VoltDc)
                .map(|it| it.base_f64())
                .collect();
            assert_eq!(stated, [50e-6], "{}", procedure.title);
            let (low, high) = ends(&procedure, step);
            near((low + high) / 2.0, level, 1e-12);
            count += 1;
        }
    }
    assert!(count >= 5, "{count}");
}

/// What a text says is the same as something else, as in `2 nW are −57 dBm`.
fn sames(text: &str) -> Vec<(Quantity, Quantity)> {
    let text = text.replace('−', "-").replace(", which is", " are");
    let words: Vec<&str> = text.split_whitespace().collect();
    let same = words
        .windows(5)
        .filter(|five| five[2] == "are" || five[2] == "is");
    let read = |number: &str, unit: &str| format!("{number} {}", bare(unit)).parse().ok();
    same.filter_map(|five| read(five[0], five[1]).zip(read(five[3], five[4])))
        .collect()
}

// Check: wherever a text gives a level in two units, both say the same: watts beside dBm, volts
// beside both
// Source: 10·log₁₀(P/1 mW), P = U²/R
// Known by: computed
#[test]
fn a_level_in_two_units_is_one_level() {
    let mut count = 0;
    for procedure in procedures() {
        for step in procedure.steps() {
            let texts = [&step.text].into_iter().chain(&step.cautions);
            for (one, other) in texts.flat_map(|text| sames(text)) {
                let is_level = other.unit() == Unit::DecibelMilliwatt;
                if !is_level || one.unit() == other.unit() {
                    continue;
                }
                let level = convert(&one.base(), one.unit(), other.unit(), Some(&50.into()));
                let level = Quantity::natural(level.expect("a level"), other.unit()).base_f64();
                let miss = (level - other.base_f64()).abs();
                assert!(
                    miss <= 0.5,
                    "{} of {}: {one} is {level} dBm",
                    step.id,
                    procedure.title
                );
                count += 1;
            }
        }
    }
    assert!(count >= 2, "{count}");
}

// Check: the demo's sense resistor of 0.22 Ω drops 57 mV at the most current at rest, which leaves
// the supply pin of its socket inside, and takes 2 W at the 3 A of the last limit
// Source: Ohm's and Joule's law
// Known by: computed; figures by hand
#[test]
fn the_demos_sense_resistor_costs_little() {
    let demo = named("qrc-trainer");
    let idle = step(&demo, "idle");
    let check = idle.cross_check.as_ref().expect("its cross-check");
    let ohms = figure(&check.text, Unit::Ohm);
    let drop = most(&demo, "idle") * ohms;
    near(drop, 0.0572, 1e-9);
    let Work::Socket(socket) = &step(&demo, "acc-socket").work else {
        panic!("a socket")
    };
    let fed = &socket.pins[1].expects[0].tolerance;
    let low = fed
        .limits()
        .low
        .map(|low| Quantity::natural(low, fed.unit()).base_f64());
    assert!(13.8 - drop > low.expect("a lower limit"));
    near(
        watts_of_volts(3.0 * ohms, ohms).expect("a power"),
        1.98,
        1e-9,
    );
}
