//! A 27 MHz set whose loop and carrier add up to the channel, as is common practice (no source),
//! worked with instruments whose accuracy is known.
#![allow(dead_code)] // Each test file uses its own part.

use halfturn::job::{Deed, Header, Job, Stamp, Status, StepProgress, UsedInstrument};
use halfturn::metrology::decision::Rule;
use halfturn::metrology::instrument::Instrument;
use halfturn::procedure::{Id, Procedure, faults};
use halfturn::quantity::Quantity;
use halfturn::radio::channels::ChannelTable;
use serde_json::{Value, json};

pub fn id(text: &str) -> Id {
    text.parse().unwrap()
}

pub fn q(text: &str) -> Quantity {
    text.parse().unwrap()
}

/// A step that only reads: its name, mode, channel, role, scale and target.
pub fn reads(
    name: &str,
    mode: &str,
    channel: &str,
    with: &str,
    scale: &str,
    target: Value,
) -> Value {
    step(
        name,
        mode,
        channel,
        json!({"read": {
        "gauge": {"at": "TP1", "with": with, "in": scale}, "target": target}}),
    )
}

/// A step that sets an oscillator to the plan within ± 20 Hz.
pub fn sets(name: &str, mode: &str, channel: &str, oscillator: &str) -> Value {
    let margin = json!({"absolute": "20 Hz"});
    step(
        name,
        mode,
        channel,
        json!({"set": {
        "gauge": {"at": "TP1", "with": "counter", "in": "MHz"}, "adjuster": "L1",
        "target": {"oscillator": {"name": oscillator, "below": margin, "above": margin}}}}),
    )
}

fn step(name: &str, mode: &str, channel: &str, work: Value) -> Value {
    json!({"id": name, "title": name, "set-up": {"mode": mode, "channel": channel}, "work": work})
}

/// The target of a step on the air: the channel within so many ppm.
pub fn channel_within(ppm: &str) -> Value {
    let margin = json!({"ppm": ppm});
    json!({"channel": {"below": margin, "above": margin}})
}

fn mode(name: &str, carrier: &str) -> Value {
    json!({"name": name, "terms": [
        {"oscillator": "loop", "factor": 1, "target": "follows-channel", "adjuster": "L1"},
        {"oscillator": "carrier", "factor": 1, "target": {"fixed": carrier}, "adjuster": "L2"}]})
}

/// A procedure of these steps.
pub fn procedure(steps: Vec<Value>) -> Procedure {
    let mut modes = vec![
        mode("AM", "10.6950 MHz"),
        mode("USB", "10.6925 MHz"),
        mode("LSB", "10.6975 MHz"),
    ];
    // The same with the carrier taken off a loop above it.
    let mut high = mode("AM high", "10.6950 MHz");
    high["terms"][1]["factor"] = json!(-1);
    high["injection"] = json!([{"oscillator": "loop", "factor": 1}]);
    modes.push(high);
    let roles = ["counter", "second", "meter", "wattmeter"];
    let procedure = serde_json::from_value(json!({
        "id": "two", "title": "Two oscillators", "revision": 1, "covers": "",
        "adjusters": [{"ref": "L1", "kind": "core"}, {"ref": "L2", "kind": "core"}],
        "test-points": [{"ref": "TP1", "where": ""}],
        "instruments": roles.map(|role| json!({"role": role, "needs": ""})),
        "plan": {"name": "Loop and carrier", "modes": modes},
        "channels": ChannelTable::us_27_megahertz(),
        "sections": [{"title": "All", "steps": steps}],
    }));
    let procedure: Procedure = procedure.unwrap();
    assert_eq!(faults(&procedure), []);
    procedure
}

/// An instrument of one range, in the form of documents.
pub fn instrument(name: &str, full_scale: &str, resolution: &str, accuracy: Value) -> Instrument {
    let range = json!({"full-scale": full_scale, "resolution": resolution, "accuracy": accuracy});
    let value = json!({"role": "any", "name": name, "ranges": [range]});
    serde_json::from_value(value).unwrap()
}

/// The same, put right by its reading of a reference.
pub fn checked(mut counter: Instrument, reference: &str, reading: &str) -> Instrument {
    let correction = json!({"time-base": {"reference": reference, "reading": reading}});
    counter.corrections = vec![serde_json::from_value(correction).unwrap()];
    counter
}

/// A header with these instruments in their roles.
pub fn header(rule: Rule, instruments: &[(&str, &Instrument)]) -> Header {
    let used = |(role, instrument): &(&str, &Instrument)| UsedInstrument {
        role: id(role),
        name: instrument.name.clone(),
        record: Some((*instrument).clone()),
    };
    Header {
        instruments: instruments.iter().map(used).collect(),
        rule,
        ..Header::default()
    }
}

/// A job with these readings as left; one of the step before repeats it.
pub fn job(procedure: Procedure, header: Header, readings: &[(&str, &str)]) -> Job {
    let stamp = |number: usize| Stamp {
        id: id(&format!("e{number}")),
        at: number as i64,
    };
    let mut job = Job::open(id("job"), procedure, header, stamp(0));
    let mut before = "";
    for (number, (step, value)) in readings.iter().enumerate() {
        let reading = json!({
            "step": step, "phase": "as-left", "value": value, "repeat": *step == before});
        let deed: Deed = serde_json::from_value(json!({"reading": reading})).unwrap();
        job.record(stamp(number + 1), deed).unwrap();
        before = step;
    }
    job
}

pub fn standing(job: &Job, step: &str) -> StepProgress {
    job.progress().step(&id(step)).unwrap().clone()
}

pub fn status(job: &Job, step: &str) -> Status {
    standing(job, step).status
}
