//! What the app writes is what `public/schema` says, held by a general JSON Schema validator;
//! and what the schemas refuse, the app refuses too.

mod examples;

use examples::{backup, job, picture, trainer};
use halfturn::exchange::{Document, read, write_with};
use halfturn::job::Log;
use halfturn::metrology::date::Date;
use halfturn::metrology::decision::Rule;
use halfturn::metrology::instrument::{Correction, Instrument};
use halfturn::procedure::{Gauge, Id, Target};
use halfturn::quantity::{Number, Quantity, Scale, Unit};
use halfturn::radio::plan;
use jsonschema::Validator;
use serde_json::{Map, Value, json};
use std::collections::HashSet;

/// The kinds of documents, each with its schema.
const SCHEMAS: [(&str, &str); 3] = [
    (
        "procedure",
        include_str!("../public/schema/halfturn-procedure-3.json"),
    ),
    ("job", include_str!("../public/schema/halfturn-job-3.json")),
    (
        "backup",
        include_str!("../public/schema/halfturn-backup-3.json"),
    ),
];

fn schema(kind: &str) -> Value {
    let (_, text) = SCHEMAS.iter().find(|(name, _)| *name == kind).unwrap();
    serde_json::from_str(text).unwrap()
}

fn validator(kind: &str) -> Validator {
    jsonschema::validator_for(&schema(kind)).unwrap()
}

/// A validator for one definition alone.
fn definition(name: &str) -> Validator {
    let mut schema = schema("job");
    let root = schema.as_object_mut().unwrap();
    root.retain(|key, _| key.starts_with('$'));
    root.insert("$ref".to_owned(), json!(format!("#/$defs/{name}")));
    jsonschema::validator_for(&schema).unwrap()
}

fn exports() -> [(&'static str, Value); 3] {
    let value = |document: &Document| {
        let text = write_with(document, &[picture()]);
        serde_json::from_str(&text).unwrap()
    };
    [
        ("procedure", value(&Document::Procedure(trainer()))),
        ("job", value(&Document::Job(job()))),
        ("backup", value(&Document::Backup(backup()))),
    ]
}

/// Whether the app takes a document as it is meant. An entry that reads as none is kept beside
/// the log, as damaged.
fn app_takes(value: &Value) -> bool {
    let is_sound = |log: &Log| !log.damaged().any(|left| left.event().is_none());
    match read(&value.to_string()) {
        Ok(Document::Job(job)) => is_sound(&job.log),
        Ok(Document::Backup(backup)) => backup.jobs.iter().all(|job| is_sound(&job.log)),
        Ok(Document::Procedure(_)) => true,
        Err(_) => false,
    }
}

#[test]
fn the_schemas_are_schemas_with_one_set_of_definitions() {
    let shared = schema("procedure")["$defs"].as_object().unwrap().clone();
    for (kind, _) in SCHEMAS {
        let schema = schema(kind);
        assert!(jsonschema::draft202012::meta::is_valid(&schema), "{kind}");
        assert_eq!(schema["$id"], format!("urn:halfturn:schema:{kind}:3"));
        // Each file stands alone, so what they share must not drift apart.
        for (name, definition) in &shared {
            assert_eq!(schema["$defs"][name], *definition, "{kind}: {name}");
        }
    }
    for name in [
        "log",
        "event",
        "unread-event",
        "deed",
        "header",
        "kit-instrument",
        "range",
        "correction",
        "rule",
        "date",
        "number",
    ] {
        assert_eq!(
            schema("job")["$defs"][name],
            schema("backup")["$defs"][name]
        );
    }
}

#[test]
fn every_object_is_closed_and_every_property_is_explained() {
    fn visit(value: &Value, path: &str) {
        if let Some(object) = value.as_object() {
            if object.get("type") == Some(&json!("object")) {
                assert_eq!(object["additionalProperties"], json!(false), "{path}");
            }
            let properties = object.get("properties").and_then(Value::as_object);
            // A property that only points elsewhere may leave the words to its definition.
            for (name, property) in properties.into_iter().flatten() {
                let words = property.get("description").or(property.get("$ref"));
                let in_contains = path.ends_with("/contains");
                assert!(words.is_some() || in_contains, "{path}/{name}");
            }
            for (key, inner) in object {
                visit(inner, &format!("{path}/{key}"));
            }
        } else if let Some(list) = value.as_array() {
            for inner in list {
                visit(inner, path);
            }
        }
    }
    for (kind, _) in SCHEMAS {
        let schema = schema(kind);
        visit(&schema, kind);
        for (name, definition) in schema["$defs"].as_object().unwrap() {
            assert!(definition["description"].is_string(), "{kind}: {name}");
        }
    }
}

#[test]
fn what_the_app_writes_is_valid() {
    for (kind, value) in exports() {
        let errors: Vec<String> = validator(kind)
            .iter_errors(&value)
            .map(|error| format!("{}: {error}", error.instance_path()))
            .collect();
        assert_eq!(errors, Vec::<String>::new(), "{kind}");
        assert!(app_takes(&value), "{kind}");
    }
}

#[test]
fn a_document_of_one_kind_is_none_of_another() {
    for (kind, value) in exports() {
        for (other, _) in SCHEMAS {
            assert_eq!(validator(other).is_valid(&value), kind == other);
        }
    }
}

/// A pointer to every value in a document, one for each shape: of list items with the same
/// path of keys, only the first counts.
fn places(value: &Value) -> Vec<String> {
    fn visit(
        value: &Value,
        at: &str,
        shape: &str,
        seen: &mut HashSet<String>,
        out: &mut Vec<String>,
    ) {
        if seen.insert(shape.to_owned()) {
            out.push(at.to_owned());
        }
        match value {
            Value::Object(object) => {
                for (key, inner) in object {
                    visit(
                        inner,
                        &format!("{at}/{key}"),
                        &format!("{shape}/{key}"),
                        seen,
                        out,
                    );
                }
            }
            Value::Array(list) => {
                for (index, inner) in list.iter().enumerate() {
                    visit(
                        inner,
                        &format!("{at}/{index}"),
                        &format!("{shape}/*"),
                        seen,
                        out,
                    );
                }
            }
            _ => {}
        }
    }
    let mut out = Vec::new();
    visit(value, "", "", &mut HashSet::new(), &mut out);
    out
}

fn object<'a>(value: &'a mut Value, at: &str) -> Option<&'a mut Map<String, Value>> {
    value.pointer_mut(at).and_then(Value::as_object_mut)
}

#[test]
fn a_value_of_another_type_is_refused_everywhere() {
    for (kind, whole) in exports() {
        let validator = validator(kind);
        let places = places(&whole);
        assert!(places.len() > 90, "{kind}: {}", places.len());
        for at in places {
            let mut spoiled = whole.clone();
            let value = spoiled.pointer_mut(&at).unwrap();
            *value = match value {
                Value::Number(number) => json!(number.to_string()),
                Value::String(_) => json!(12.8),
                Value::Array(_) => json!("a list"),
                _ => json!("not an object"),
            };
            assert!(!validator.is_valid(&spoiled), "{kind}{at}");
            assert!(!app_takes(&spoiled), "{kind}{at}");
        }
    }
}

#[test]
fn an_unknown_or_misspelt_key_is_refused_everywhere() {
    for (kind, whole) in exports() {
        let validator = validator(kind);
        for at in places(&whole) {
            let mut stranger = whole.clone();
            let Some(fields) = object(&mut stranger, &at) else {
                continue;
            };
            fields.insert("surprise".to_owned(), json!(true));
            assert!(!validator.is_valid(&stranger), "{kind}{at}");
            assert!(!app_takes(&stranger), "{kind}{at}");
            let keys: Vec<String> = whole
                .pointer(&at)
                .unwrap()
                .as_object()
                .unwrap()
                .keys()
                .cloned()
                .collect();
            for key in keys {
                let mut misspelt = whole.clone();
                let fields = object(&mut misspelt, &at).unwrap();
                let value = fields.remove(&key).unwrap();
                fields.insert(format!("{key}s"), value);
                assert!(!validator.is_valid(&misspelt), "{kind}{at}/{key}");
                assert!(!app_takes(&misspelt), "{kind}{at}/{key}");
            }
        }
    }
}

#[test]
fn what_may_be_left_out_is_the_same_for_app_and_schema() {
    for (kind, whole) in exports() {
        let validator = validator(kind);
        for at in places(&whole) {
            let Some((parent, key)) = at.rsplit_once('/') else {
                continue;
            };
            let mut shorter = whole.clone();
            let Some(fields) = object(&mut shorter, parent) else {
                continue;
            };
            fields.remove(key);
            // The app checks more than shapes, such as references; never less.
            if app_takes(&shorter) {
                assert!(validator.is_valid(&shorter), "{kind}{at}");
            }
        }
    }
}

#[test]
fn spoiled_values_are_refused() {
    let cases: [(&str, &str, Value); 30] = [
        ("procedure", "/type", json!("halfturn-job")),
        ("procedure", "/version", json!(4)),
        ("procedure", "/procedure/id", json!(" trainer")),
        ("procedure", "/procedure/id", json!("two\nlines")),
        ("procedure", "/procedure/id", json!("x".repeat(65))),
        ("procedure", "/procedure/title", json!("  ")),
        ("procedure", "/procedure/revision", json!(0)),
        ("procedure", "/procedure/revision", json!(1.5)),
        ("procedure", "/procedure/sections", json!([])),
        ("procedure", "/procedure/adjusters/0/kind", json!("screw")),
        ("procedure", "/procedure/adjusters/2/clockwise", json!("up")),
        (
            "procedure",
            "/procedure/sections/0/steps/2/work",
            json!("inspekt"),
        ),
        (
            "procedure",
            "/procedure/plan/modes/0/terms/0/factor",
            json!(1.5),
        ),
        (
            "procedure",
            "/procedure/plan/modes/0/terms/0/factor",
            json!(2_147_483_648_u32),
        ),
        (
            "procedure",
            "/procedure/plan/modes/0/terms/0/target",
            json!("follows"),
        ),
        (
            "procedure",
            "/procedure/channels/channels/0/frequency",
            json!("28.300"),
        ),
        ("job", "/job/log", json!([])),
        ("job", "/job/log/1/did/amended/rule", json!("strict")),
        ("job", "/job/log/1/did/amended/rule", json!("guard-band")),
        (
            "job",
            "/job/log/1/did/amended/rule/guard-band/ratio",
            json!("1 %"),
        ),
        ("job", "/job/log/0/seq", json!(-1)),
        ("job", "/job/log/2/did/reading/phase", json!("before")),
        ("job", "/job/log/2/did/reading/value", json!("12.8 Mhz")),
        ("job", "/job/log/6/did/answered/answer", json!("fine")),
        (
            "backup",
            "/backup/preferences/decimal-sign",
            json!("semicolon"),
        ),
        ("backup", "/backup/jobs/0/procedure", json!("0123")),
        ("backup", "/backup/kit/0/calibrated", json!("2026-02-29")),
        (
            "backup",
            "/backup/kit/0/ranges/0/accuracy/counts",
            json!(-1),
        ),
        (
            "backup",
            "/backup/kit/0/ranges/0/accuracy/percent-of-reading",
            json!("0.3 %"),
        ),
        ("backup", "/backup/kit/1/corrections/0", json!({})),
    ];
    let exports = exports();
    for (kind, at, value) in cases {
        let mut spoiled = exports.iter().find(|(k, _)| *k == kind).unwrap().1.clone();
        *spoiled.pointer_mut(at).unwrap() = value.clone();
        assert!(!validator(kind).is_valid(&spoiled), "{kind}{at}: {value}");
        assert!(!app_takes(&spoiled), "{kind}{at}: {value}");
    }
}

#[test]
fn what_is_left_of_an_entry_that_reads_as_none_is_in_the_schema() {
    for (kind, log) in [("job", "/job/log"), ("backup", "/backup/jobs/0/log")] {
        let exports = exports();
        let mut whole = exports.iter().find(|(k, _)| *k == kind).unwrap().1.clone();
        let log = whole.pointer_mut(log).unwrap().as_array_mut().unwrap();
        log.push(json!("{\"id\":\"lost\","));
        let deed = json!({ "set-aside": { "entry": "{\"id\":\"lost\",", "by": "Bench", "reason": "Read again" } });
        log.push(json!({ "id": "aside-1", "seq": 9000, "at": 1, "did": deed }));
        let read = read(&whole.to_string()).expect("it goes along");
        let again: Value = serde_json::from_str(&write_with(&read, &[])).unwrap();
        assert!(
            again.to_string().contains(r#""{\"id\":\"lost\",""#),
            "{kind}"
        );
        assert!(validator(kind).is_valid(&again), "{kind}");
    }
}

#[test]
fn a_job_that_nothing_opened_is_refused() {
    let [_, (_, mut value), _] = exports();
    value["job"]["log"].as_array_mut().unwrap().remove(0);
    assert!(!validator("job").is_valid(&value));
    assert!(!app_takes(&value));
}

#[test]
fn the_schema_knows_every_scale_and_no_other() {
    let all: Vec<Value> = Unit::ALL
        .iter()
        .flat_map(|&unit| unit.prefixes().iter().map(move |&p| Scale::new(p, unit)))
        .map(|scale| json!(scale.symbol()))
        .collect();
    assert_eq!(schema("procedure")["$defs"]["scale"]["enum"], json!(all));
    let quantity = definition("quantity");
    for scale in &all {
        let text = format!("1.50 {}", scale.as_str().unwrap());
        assert!(quantity.is_valid(&json!(text)), "{text}");
        // Any prefix before any scale makes another scale of ours, or none.
        for prefix in ["p", "n", "µ", "μ", "m", "k", "M", "G", "T"] {
            let text = format!("1.50 {prefix}{}", scale.as_str().unwrap());
            let known = text.parse::<Quantity>().is_ok();
            assert_eq!(quantity.is_valid(&json!(text)), known, "{text}");
        }
    }
}

#[test]
fn app_and_schema_agree_on_texts() {
    let quantity = definition("quantity");
    let eighteen = "123456789.012345678";
    for text in [
        "0 V",
        "-0.50 dBm",
        "007.5 kHz",
        "9.0015MHz",
        "9.0015  MHz",
        "9.0015",
        "9,0015 MHz",
        ".5 V",
        "5. V",
        "+5 V",
        "1e6 Hz",
        "--1 V",
        "٣ V",
        "1 V\n",
        " 1 V",
        "1 V ",
        "1 v",
        "",
        &format!("{eighteen} Hz"),
        &format!("-{eighteen} Hz"),
        &format!("{eighteen}9 Hz"),
        &format!("{} Hz", "1".repeat(40)),
    ] {
        let taken = text.parse::<Quantity>().is_ok();
        assert_eq!(quantity.is_valid(&json!(text)), taken, "{text:?}");
    }
    let name = definition("id");
    for text in [
        "a",
        "ref-osc",
        "two words",
        "Übergang 3",
        "é".repeat(64).as_str(),
        "é".repeat(65).as_str(),
        "",
        " ",
        " a",
        "a ",
        "a\tb",
        "a\u{85}",
        "a\u{a0}",
        "a\u{7f}b",
        "a\n",
    ] {
        let taken = text.parse::<Id>().is_ok();
        assert_eq!(name.is_valid(&json!(text)), taken, "{text:?}");
    }
    let margin = definition("margin");
    for (value, taken) in [
        (json!({"absolute": "20 Hz"}), true),
        (json!({"absolute": "-20 Hz"}), false),
        (json!({"percent": "5"}), true),
        (json!({"percent": "5 %"}), false),
        (json!({"percent": 5}), false),
        (json!({"ppm": "-50"}), false),
        (json!({"ppm": "50", "percent": "5"}), false),
        (json!({}), false),
    ] {
        assert_eq!(margin.is_valid(&value), taken, "{value}");
    }
}

/// Whether the app takes a value where the schema has this definition.
fn agrees<T: serde::de::DeserializeOwned>(name: &str, values: impl IntoIterator<Item = Value>) {
    let definition = definition(name);
    let mut verdicts = HashSet::new();
    for value in values {
        let taken = serde_json::from_value::<T>(value.clone()).is_ok();
        assert_eq!(definition.is_valid(&value), taken, "{name}: {value}");
        verdicts.insert(taken);
    }
    assert_eq!(verdicts.len(), 2, "{name}: good ones and bad ones");
}

#[test]
fn app_and_schema_agree_on_the_plan() {
    let term = |target: Value| json!({"oscillator": "loop", "factor": -3, "target": target});
    agrees::<plan::Term>(
        "term",
        [
            term(json!("follows-channel")),
            term(json!({"fixed": "9.0 MHz"})),
            term(json!({"per-channel": {}})),
            term(json!({"per-channel": {"1": "9.0 MHz", "2a": "9.01 MHz"}})),
            term(json!({"per-channel": {"1": "9.0"}})),
            term(json!({"per-channel": {"1": 9}})),
            term(json!({"fixed": "9.0 MHz", "per-channel": {}})),
            term(json!({"follows-channel": "9.0 MHz"})),
            term(json!({})),
            term(json!(null)),
            json!({"oscillator": "loop", "factor": 1}),
            json!({"oscillator": "loop", "factor": "1", "target": "follows-channel"}),
        ],
    );
    let margin = json!({"ppm": "2"});
    agrees::<Target>(
        "target",
        [
            json!({"oscillator": {"name": "loop", "below": margin, "above": margin}}),
            json!({"oscillator": {"below": margin, "above": margin}}),
            json!({"channel": {"below": margin, "above": margin}}),
            json!({"channel": {"below": margin}}),
            json!({"channel": {"name": "1", "below": margin, "above": margin}}),
            json!({"limit": {"set": "47-cfr-95-d", "limit": "pep"}}),
            json!({"limit": {"set": "47-cfr-95-d"}}),
            json!({"limit": "47-cfr-95-d"}),
        ],
    );
}

#[test]
fn app_and_schema_agree_on_the_kit() {
    let days = [
        "2026-02-14",
        "2026-02-28",
        "2026-02-29",
        "2024-02-29",
        "2024-02-30",
        "1900-02-29",
        "2000-02-29",
        "0000-02-29",
        "2026-04-31",
        "2026-12-31",
        "2026-13-01",
        "2026-00-10",
        "2026-01-00",
        "2026-1-1",
        "26-01-01",
        "2026-01-01T00:00",
        "2026-x-01-01",
        "2026-01-01-x",
        "2026-01-01\n",
        "+026-01-01",
        "",
    ];
    agrees::<Date>("date", days.map(|day| json!(day)));
    let numbers = ["0.3", "-2", "007", "", "+1", "1e3", ".5", "5.", "0.3 %"];
    agrees::<Number>("number", numbers.map(|number| json!(number)));
    agrees::<Rule>(
        "rule",
        [
            json!("simple-acceptance"),
            json!("four-way"),
            json!({"guard-band": {"ratio": "0.83"}}),
            json!({"guard-band": {"ratio": 1}}),
            json!({"guard-band": {}}),
            json!({"guard-band": {"ratio": "1", "k": "2"}}),
            json!("guard-band"),
            json!({}),
        ],
    );
    agrees::<Correction>(
        "correction",
        [
            json!({"offset": "-0.5 Hz"}),
            json!({"time-base": {"reference": "10 MHz", "reading": "10.000012 MHz"}}),
            json!({"time-base": {"reference": "10 MHz"}}),
            json!({"offset": "0.5 Hz", "time-base": {"reference": "10 MHz", "reading": "10 MHz"}}),
            json!({}),
            json!("offset"),
        ],
    );
    let gauge = json!({"at": "SK1", "with": "meter", "in": "W"});
    let with = |key: &str, value: Value| {
        let mut gauge = gauge.clone();
        gauge[key] = value;
        gauge
    };
    agrees::<Gauge>(
        "gauge",
        [
            gauge.clone(),
            with("in", json!("dBµV EMF")),
            with("into", json!("50 Ω")),
            with("into", json!("fifty")),
            with("path", json!({"through": ["pad", "coupler"]})),
            with("path", json!({"through": ["pad"], "direction": "into-set"})),
            with("path", json!({"through": ["pad"], "direction": "sideways"})),
            with("path", json!({})),
            with("path", json!("pad")),
        ],
    );
    let range = json!({"full-scale": "4.000 V", "resolution": "1 mV"});
    agrees::<Instrument>(
        "kit-instrument",
        [
            json!({"role": "meter", "name": "M3"}),
            json!({"role": "meter", "name": "M3", "ranges": [range], "corrections": []}),
            json!({"role": "meter", "name": "M3", "ranges": range}),
            json!({"role": "meter", "name": "M3", "ranges": [{"full-scale": "4 V"}]}),
            json!({"role": "meter", "name": "M3", "further": [
                {"from": "load", "of": "W", "within": {"percent": "5"}},
                {"from": "mismatch", "of": "dBm", "within": {"amount": "0.2 dB"}},
                {"from": {"certificate": {"coverage": "2"}}, "of": "V", "within": {"amount": "1 mV"}},
            ]}),
            json!({"role": "meter", "name": "M3", "further": [{"from": "load", "of": "W"}]}),
            json!({"role": "meter", "name": "M3", "further": [
                {"from": "wind", "of": "W", "within": {"percent": "5"}},
            ]}),
            json!({"role": "meter", "name": "M3", "further": [
                {"from": "certificate", "of": "W", "within": {"percent": "5"}},
            ]}),
            json!({"role": "meter", "name": "M3", "further": [
                {"from": "load", "of": "W", "within": {"percent": "5", "amount": "1 W"}},
            ]}),
            json!({"role": "pad", "name": "P1", "loss": {"by": "10 dB", "within": {"amount": "0.3 dB"}}}),
            json!({"role": "probe", "name": "P2", "loss": {"by": "10 :1", "within": {"percent": "2"}}}),
            json!({"role": "pad", "name": "P1", "loss": {"by": "10 dB"}}),
            json!({"role": "pad", "name": "P1", "loss": "10 dB"}),
            json!({"role": "meter", "name": "M3", "model": "X"}),
            json!({"role": "meter"}),
            json!({"name": "M3"}),
        ],
    );
}
