//! Good texts for every entrance, to begin with.

use halfturn::exchange::{Backup, Document, Picture, demo, write_with};
use halfturn::job::{Job, Preferences};
use halfturn::procedure::Id;
use halfturn::radio::channels::ChannelTable;
use halfturn::radio::sums;
use halfturn::store::{MemoryStorage, Storage, Store};
use std::collections::BTreeMap;

/// The seeds of the entrance of this name.
pub fn of(entrance: &str) -> Vec<String> {
    match entrance {
        "document" => documents(),
        "number" => texts(&[
            "10.6920 MHz",
            "-12,5",
            "1 234.567 89 kHz",
            "50m",
            "2026-03-31",
            "EBC",
            "halfturn 17 0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef job-17",
        ]),
        "tolerance" => texts(&[
            "7.5 V ± 0.2 V",
            "10.24 MHz + 20 Hz - 10 Hz",
            "at least 4 W",
            "at most 20 mV p-p",
            "3 V to 5 V",
            "5 %",
            "± 10 ppm",
            "3.5 % of it",
        ]),
        "channels" => texts(&["1 26.965\n2 26.975 MHz\n\n19 27185 kHz"]),
        "table" => texts(&[include_str!("../forty_rows.tsv")]),
        "draft" => texts(&[
            "1; TX; C4; red; RX = 7.5 V ± 0.2 V; TX = at most 0.1 V",
            "10.6920 MHz",
        ]),
        "sum" => sums::all()
            .map(|sum| format!("{}\n12\n50 Ω\n3;4\n1\n2\n5", sum.id))
            .collect(),
        "store" => vec![stored()],
        "rescue" => vec![saved_after_a_crash()],
        _ => Vec::new(),
    }
}

fn texts(all: &[&str]) -> Vec<String> {
    all.iter().map(|&text| text.to_owned()).collect()
}

/// The demo's half-done job.
fn job() -> Option<Job> {
    let mut count = 0;
    let fresh = move || {
        count += 1;
        format!("e{count}").parse::<Id>().expect("an id")
    };
    demo::half_done(1_767_225_600_000, fresh).ok()
}

fn documents() -> Vec<String> {
    let procedure = demo::procedure().ok();
    let backup = job().map(|job| Backup {
        channels: ChannelTable::built_in(),
        ..Backup::of(
            Preferences::default(),
            demo::kit().unwrap_or_default(),
            vec![(*job.procedure).clone()],
            vec![job],
        )
    });
    let all = [
        procedure.map(Document::Procedure),
        job().map(Document::Job),
        backup.map(Document::Backup),
    ];
    // Eight bytes make a picture as far as the type goes (PNG: ISO/IEC 15948, 5.2).
    let pictures = [Picture::of(b"\x89PNG\r\n\x1a\n".to_vec())];
    let pictures: Vec<Picture> = pictures.into_iter().flatten().collect();
    let documents = all.into_iter().flatten();
    documents.map(|each| write_with(&each, &pictures)).collect()
}

/// What the demo leaves in the storage, as lines of key and text.
fn stored() -> String {
    let line =
        |(key, text): &(String, String)| format!("{}\t{text}", key.trim_start_matches("halfturn:"));
    kept().iter().map(line).collect::<Vec<_>>().join("\n")
}

/// The same as `public/crash.js` writes it.
fn saved_after_a_crash() -> String {
    let all: BTreeMap<String, String> = kept().into_iter().collect();
    serde_json::to_string_pretty(&all).unwrap_or_default()
}

/// What the demo leaves in the storage: keys and texts.
fn kept() -> Vec<(String, String)> {
    let memory = &MemoryStorage::default();
    let (store, _) = Store::open(memory);
    if let Some(job) = job() {
        let _ = store.save_job(&job);
    }
    let _ = store.save_kit(&demo::kit().unwrap_or_default());
    let _ = store.save_channel_tables(&ChannelTable::built_in());
    let _ = store.save_preferences(&Preferences::default());
    let keys = memory.keys().unwrap_or_default();
    let text = |key: &str| memory.get(key).ok().flatten().unwrap_or_default();
    keys.into_iter()
        .map(|key| (key.clone(), text(&key)))
        .collect()
}
