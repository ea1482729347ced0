//! Conditions as fields: the load, the generator and the analyser of a step, beside its mode,
//! channel and supply.

mod support;

use halfturn::authoring::differences;
use halfturn::authoring::draft::Draft;
use halfturn::authoring::table::{preview, take};
use halfturn::exchange::report::{Report, csv, html};
use halfturn::job::{Job, Phase};
use halfturn::procedure::{
    Gauge, Instrument, Procedure, Section, SetUp, SetUpChange, Setting, Step, TestPoint, Work,
    spoken,
};
use halfturn::quantity::DecimalSign::Point;
use std::collections::BTreeMap;
use support::{does, header, id, look, reading, stamp};

fn settings(all: &[(Setting, &str)]) -> BTreeMap<Setting, String> {
    let all = all.iter();
    all.map(|(setting, text)| (*setting, (*text).to_owned()))
        .collect()
}

fn read(name: &str, all: &[(Setting, &str)]) -> Step {
    let work = Work::Read {
        gauge: Gauge::new(id("SK2"), id("meter"), "V".parse().unwrap()),
        target: None,
    };
    Step {
        set_up: SetUp {
            mode: Some("FM".to_owned()),
            settings: settings(all),
            ..SetUp::default()
        },
        ..Step::new(id(name), format!("Audio {name}"), work)
    }
}

fn procedure() -> Procedure {
    use Setting::{GeneratorFrequency, GeneratorLevel, Load, Modulation, ModulationDepth};
    let common = [
        (Load, "8 Ω"),
        (GeneratorFrequency, "28.400 MHz"),
        (Modulation, "FM"),
        (ModulationDepth, "1.5 kHz"),
    ];
    let at = |level| [&common[..], &[(GeneratorLevel, level)]].concat();
    Procedure {
        covers: "Trainers".to_owned(),
        test_points: vec![TestPoint {
            id: id("SK2"),
            place: String::new(),
            also: Vec::new(),
        }],
        instruments: vec![Instrument {
            role: id("meter"),
            needs: String::new(),
        }],
        sections: vec![Section {
            title: "All".to_owned(),
            steps: vec![
                read("strong", &at("-47 dBm")),
                read("weak", &at("-107 dBm")),
            ],
        }],
        ..Procedure::new(id("audio"), "Audio")
    }
}

#[test]
fn what_changed_since_the_step_before_is_known_of_each_setting() {
    let procedure = procedure();
    let steps: Vec<&Step> = procedure.steps().collect();
    let items = steps[1].set_up.compared_with(Some(&steps[0].set_up));
    let said: Vec<(&str, &str)> = items
        .iter()
        .map(|item| (item.name.as_str(), item.value.as_str()))
        .collect();
    assert_eq!(
        said,
        [
            ("Mode", "FM"),
            ("Load", "8 Ω"),
            ("Generator frequency", "28.400 MHz"),
            ("Generator level", "-107 dBm"),
            ("Modulation", "FM"),
            ("Depth or deviation", "1.5 kHz"),
        ]
    );
    let changed: Vec<&SetUpChange> = items
        .iter()
        .map(|item| &item.change)
        .filter(|change| **change != SetUpChange::Same)
        .collect();
    assert_eq!(changed, [&SetUpChange::From("-47 dBm".to_owned())]);
    assert!(spoken(&procedure, steps[1], None).contains("Generator level: -107 dBm."));
    assert!(
        !steps[0].reads_as(steps[1]),
        "another level is another reading"
    );
}

#[test]
fn each_reading_stands_beside_its_settings_on_the_sheet_and_in_the_table() {
    let mut job = Job::open(id("job-1"), procedure(), header(), stamp(1));
    does(&mut job, reading("strong", Phase::AsFound, "2.0 V"));
    does(&mut job, reading("weak", Phase::AsFound, "1.6 V"));
    let sheet = html::fragment(&Report::of(&job, &[], &look()));
    let sheet = sheet
        .replace('\u{a0}', " ")
        .replace(['\u{2068}', '\u{2069}'], "");
    for said in [
        "Generator level -107 dBm",
        "Load 8 Ω",
        "Depth or deviation 1.5 kHz",
    ] {
        assert!(sheet.contains(said), "{said}: {sheet}");
    }
    let table = csv::readings(&job, &look());
    let rows: Vec<Vec<&str>> = table
        .trim_end()
        .lines()
        .map(|row| row.split(',').collect())
        .collect();
    let column = |name: &str| {
        let place = rows[0].iter().position(|it| *it == name).unwrap();
        rows[1..].iter().map(|row| row[place]).collect::<Vec<_>>()
    };
    // What looks like a formula is no formula in any spreadsheet.
    assert_eq!(column("generator level"), ["'-47 dBm", "'-107 dBm"]);
    assert_eq!(column("load"), ["8 Ω", "8 Ω"]);
    assert_eq!(column("modulation"), ["FM", "FM"]);
    assert_eq!(column("depth or deviation"), ["1.5 kHz", "1.5 kHz"]);
    assert_eq!(column("analyser span"), ["", ""]);
}

#[test]
fn they_are_written_compared_and_left_out_where_nothing_is_stated() {
    let was = procedure();
    let (read, unread) = Draft::of(&was, Point).read(Point);
    assert_eq!((unread, &read.sections), (Vec::new(), &was.sections));
    let mut draft = Draft::of(&was, Point);
    for step in draft.steps_mut() {
        step.settings.insert(Setting::Modulation, "  ".to_owned());
    }
    let (is, _) = draft.read(Point);
    let step = is.steps().next().unwrap();
    assert!(!step.set_up.settings.contains_key(&Setting::Modulation));
    let said: Vec<String> = differences(&was, &is, Point)
        .into_iter()
        .map(|it| it.what)
        .collect();
    assert_eq!(said, ["Set-up of step 1", "Set-up of step 2"]);
    let plain = r#"{"mode":"FM"}"#;
    let set_up: SetUp = serde_json::from_str(plain).unwrap();
    assert_eq!(serde_json::to_string(&set_up).unwrap(), plain);
    let odd = r#"{"settings":{"generator-colour":"blue"}}"#;
    assert!(serde_json::from_str::<SetUp>(odd).is_err());
}

#[test]
fn columns_of_a_pasted_table_fill_them_with_the_unit_of_their_heading() {
    let text = "Step\tTP\tTarget\tGenerator level (dBm)\tModulation\tDepth or deviation\tTone\tLoad\n\
                Weak signal\tSK2\t> 1.5 V\t-107\tFM\t1.5 kHz\t1 kHz\t8 Ω";
    let mut draft = Draft::blank(id("p"));
    let preview = preview(text, &draft, Point);
    assert_eq!(preview.rows[0].unclear, []);
    let ids = take(&mut draft, 0, &preview);
    let step = draft.step(&ids[0]).unwrap();
    let due = settings(&[
        (Setting::Load, "8 Ω"),
        (Setting::GeneratorLevel, "-107 dBm"),
        (Setting::Modulation, "FM"),
        (Setting::ModulationDepth, "1.5 kHz"),
        (Setting::ModulationTone, "1 kHz"),
    ]);
    assert_eq!(step.settings, due);
    assert_eq!((step.controls.as_str(), step.open.as_str()), ("", ""));
}
