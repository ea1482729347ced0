//! Tables pasted from spreadsheets and CSV files, as steps of a draft.

mod support;

use halfturn::authoring::draft::{
    ConfirmedBy, Draft, DraftInstrument, DraftStep, DraftTarget, UntilKind, read_tolerance,
    typed_tolerance,
};
use halfturn::authoring::edit::List;
use halfturn::authoring::table::{
    Answers, Line, Meaning, Preview, Why, preview, preview_with, take,
};
use halfturn::authoring::{Gravity, Kind, TargetKind, remarks};
use halfturn::exchange::demo;
use halfturn::procedure::{Field, Signal};
use halfturn::quantity::DecimalSign::{self, Comma, Point};
use halfturn::quantity::Scale;
use proptest::prelude::*;
use support::{cases, id};

fn blank() -> Draft {
    Draft::blank(id("p"))
}

/// Rows below the usual headings.
fn headed(rows: &str) -> String {
    format!("Step\tTP\tCore\tTarget\tTol\tNote\n{rows}")
}

fn pasted(text: &str) -> Preview {
    preview(text, &blank(), Point)
}

/// The one step of a table with one row.
fn step(text: &str) -> DraftStep {
    let preview = pasted(text);
    assert_eq!(preview.rows.len(), 1, "{text}");
    assert_eq!(preview.rows[0].unclear, [], "{text}");
    preview.rows[0].steps[0].clone()
}

fn too_much(text: &str) -> String {
    let preview = pasted(text);
    assert_eq!((preview.rows.len(), preview.columns.len()), (0, 0));
    let too_much = preview.too_much.expect("too much");
    too_much.to_string()
}

#[test]
fn more_than_can_be_looked_at_while_typing_is_said_and_not_looked_at() {
    let rows = "Check\tTP1\n".repeat(20_000);
    assert_eq!(
        too_much(&rows),
        "The table has 20000 rows, and 1000 can be taken in at once: take it in in parts"
    );
    let columns = "a\t".repeat(49_999) + "a";
    assert_eq!(
        too_much(&columns),
        "The table has 50000 columns, and 40 can be taken in: leave out what says nothing of the steps"
    );
    let digits = format!("Step\tTarget\nSet\t{} V", "1".repeat(1_000_000));
    assert_eq!(
        too_much(&digits),
        "The cell in row 2, column 2 has 1000002 characters, and a cell may have 10000: shorten it"
    );
    let text = "ab\n".repeat(1 << 19);
    assert_eq!(
        too_much(&text),
        "The text has 2 MB, and a table may have 1 MB: take it in in parts"
    );
}

#[test]
fn what_is_just_within_the_limits_is_taken() {
    let rows = pasted(&"Check\tTP1\n".repeat(1000));
    assert_eq!((rows.rows.len(), rows.too_much), (1000, None));
    let digits = pasted(&format!("Step\tTarget\nSet\t{} V", "1".repeat(9_998)));
    assert_eq!(
        digits.rows[0].unclear.len(),
        1,
        "no number has so many digits"
    );
}

/// A target as it would be typed.
fn target(step: &DraftStep) -> String {
    let t = &step.target;
    let margin = match t.below.as_str() {
        "" => format!("± {}", t.margin),
        below => format!("+ {} - {below}", t.margin),
    };
    let stated = match t.kind {
        TargetKind::None => String::new(),
        TargetKind::Around => format!("{} {margin}", t.value),
        TargetKind::AtLeast => format!("at least {}", t.value),
        TargetKind::AtMost => format!("at most {}", t.value),
        TargetKind::Between => format!("{} to {}", t.value, t.high),
        kind => panic!("no table states {kind:?}"),
    };
    format!("{}: {stated}", step.kind.name())
}

#[test]
fn targets_and_tolerances_are_understood_as_tables_spell_them() {
    for (cell, tolerance, meant) in [
        ("9.0015 MHz", "20 Hz", "Set to target: 9.0015 MHz ± 20 Hz"),
        ("9.0015 MHz", "±20Hz", "Set to target: 9.0015 MHz ± 20 Hz"),
        (
            "9.0015 MHz",
            "+/- 10 ppm",
            "Set to target: 9.0015 MHz ± 10 ppm",
        ),
        (
            "9.0015 MHz ± 20 Hz",
            "",
            "Set to target: 9.0015 MHz ± 20 Hz",
        ),
        ("2.5 V ± 0.1", "", "Set to target: 2.5 V ± 0.1 V"),
        ("2.5 ± 0.1 V", "", "Set to target: 2.5 V ± 0.1 V"),
        ("2.5 V", "0.1", "Set to target: 2.5 V ± 0.1 V"),
        ("2.50 V", "5 %", "Set to target: 2.50 V ± 5 %"),
        (
            "12.8000 MHz",
            "0.0001",
            "Set to target: 12.8000 MHz ± 0.0001 MHz",
        ),
        ("50 mA", "+2/-10 mA", "Set to target: 50 mA + 2 mA - 10 mA"),
        (
            "50 mA",
            "+2 mA −10 mA",
            "Set to target: 50 mA + 2 mA - 10 mA",
        ),
        ("50 mA", "-10/+5 %", "Set to target: 50 mA + 5 % - 10 %"),
        ("50 mA +2 -10", "", "Set to target: 50 mA + 2 mA - 10 mA"),
        ("-20 dBm", "1", "Set to target: -20 dBm ± 1 dB"),
        ("30 %", "2 %", "Set to target: 30 % ± 2 %"),
        ("4…5 W", "", "Set to target: 4 W to 5 W"),
        ("4...5 W", "", "Set to target: 4 W to 5 W"),
        ("4 – 5 W", "", "Set to target: 4 W to 5 W"),
        ("4-5 W", "", "Set to target: 4 W to 5 W"),
        ("800 mV to 1.2 V", "", "Set to target: 800 mV to 1.2 V"),
        ("-60 - -50 dBm", "", "Set to target: -60 dBm to -50 dBm"),
        ("> 4 W", "", "Set to target: at least 4 W"),
        ("≥4 W", "", "Set to target: at least 4 W"),
        ("at least 4 W", "", "Set to target: at least 4 W"),
        ("min. 4 W", "", "Set to target: at least 4 W"),
        ("4 W", "min", "Set to target: at least 4 W"),
        ("4 W min.", "", "Set to target: at least 4 W"),
        ("< -40 dBc", "", "Set to target: at most -40 dBc"),
        ("max 260 mA", "", "Set to target: at most 260 mA"),
        ("260 mA", "max.", "Set to target: at most 260 mA"),
        ("", "at most 260 mA", "Set to target: at most 260 mA"),
        ("2.0 Vpp ± 0.2", "", "Set to target: 2.0 V p-p ± 0.2 V p-p"),
        ("peak, > 4 W", "", "Peak: at least 4 W"),
        ("Dip < 8 mV p-p", "", "Dip: at most 8 mV p-p"),
    ] {
        let row = format!("Title\tTP1\tL1\t{cell}\t{tolerance}\t");
        assert_eq!(target(&step(&headed(&row))), meant, "{cell} | {tolerance}");
    }
}

#[test]
fn a_tolerance_in_one_cell_is_read_as_a_draft_reads_it() {
    for text in [
        "9.0015 MHz ± 20 Hz",
        "50 mA + 2 mA - 10 mA",
        "7.5 V ± 5 %",
        "at least 4 W",
        "at most -40 dBc",
        "3 V to 5.5 V",
    ] {
        let step = step(&headed(&format!("Title\tTP1\tL1\t{text}\t\t")));
        let read = read_tolerance(text, step.scale, Point).expect(text);
        let said = format!("Set to target: {}", typed_tolerance(&read, Point));
        assert_eq!(target(&step), said);
    }
}

#[test]
fn what_a_step_does_follows_from_what_its_row_says() {
    for (row, kind) in [
        ("Filter\tTP1\tL1\tmax\t\t\tV", Kind::Peak),
        ("Filter\tTP1\tL1\tPeak\t\t\tV", Kind::Peak),
        ("Balance\tTP1\tL1\tmin.\t\t\tV", Kind::Dip),
        ("Balance\tTP1\tL1\tnull\t\t\tV", Kind::Dip),
        ("Rail\tTP1\t\t5 V\t0.1 V\t\t", Kind::Read),
        ("Rail\tTP1\t\t\t\t\tV", Kind::Read),
        ("Rail\tTP1\tL1\t5 V\t0.1 V\t\t", Kind::Set),
        ("Put the cover on\t\t\t\t\t\t", Kind::Tick),
        ("Turn fully anticlockwise\t\tL1\t\t\t\t", Kind::Tick),
    ] {
        let headed = format!("Step\tTP\tCore\tTarget\tTol.\tRemark\tUnit\n{row}");
        assert_eq!(step(&headed).kind, kind, "{row}");
    }
}

#[test]
fn columns_are_known_by_their_headings_in_any_order() {
    let text = "Remark\tRX/TX\tCH\tMode\tTest equipment\tLimit (MHz)\tTol\tCore\tTP\tWhat\tWarning\n\
                Slowly\ttx\t20\tUSB\tcounter\t27.2050\t50 ppm\tC3\tTP9\tCarrier\tHot";
    let step = step(text);
    let is = DraftStep {
        title: "Carrier".to_owned(),
        text: "Slowly".to_owned(),
        cautions: "Hot".to_owned(),
        mode: "USB".to_owned(),
        channel: "20".to_owned(),
        signal: Some(Signal::Tx),
        kind: Kind::Set,
        at: "TP9".to_owned(),
        with: "counter".to_owned(),
        adjuster: "C3".to_owned(),
        target: DraftTarget {
            kind: TargetKind::Around,
            value: "27.2050 MHz".to_owned(),
            margin: "50 ppm".to_owned(),
            ..DraftTarget::default()
        },
        ..DraftStep::blank(step.id.clone())
    };
    assert_eq!(step, is);
}

#[test]
fn a_title_above_the_headings_begins_a_section() {
    let preview = pasted("Trainer\t\t\nStep\tTP\tTarget\nRail\tTP1\t> 5 V");
    let titles: Vec<&str> = preview.steps().map(|step| step.title.as_str()).collect();
    assert_eq!(titles, ["Rail"]);
    assert_eq!(preview.rows[0].section.as_deref(), Some("Trainer"));
    let mut draft = blank();
    take(&mut draft, 0, &preview);
    let sections: Vec<&str> = draft.sections.iter().map(|s| s.title.as_str()).collect();
    assert_eq!(sections, ["Alignment", "Trainer"]);
}

#[test]
fn every_heading_is_known_however_it_is_written() {
    // A column to write in is known by having nothing in it.
    for meaning in Meaning::ALL.into_iter().filter(|m| *m != Meaning::Left) {
        for heading in meaning.headings() {
            for written in [heading.to_uppercase(), format!(" {heading}. ")] {
                let (cell, other) = match meaning {
                    Meaning::Title => ("x", "Remark"),
                    Meaning::Number | Meaning::Low | Meaning::High | Meaning::Nominal => {
                        ("1", "Step")
                    }
                    _ => ("x", "Step"),
                };
                let preview = pasted(&format!("{written}\t{other}\n{cell}\ty"));
                assert!(preview.has(meaning), "{written}");
                assert_eq!(preview.rows.len(), 1, "{written}");
            }
        }
    }
}

#[test]
fn the_headings_that_are_named_are_known() {
    let readme = include_str!("../docs/writing.md");
    let (_, rest) = readme.split_once("<!-- columns -->").expect("the table");
    let (table, _) = rest.split_once("<!-- /columns -->").expect("its end");
    let mut known = 0;
    for line in table.lines().skip(3) {
        let headings = line.split('|').nth(2).unwrap_or_default();
        for heading in headings.split('`').skip(1).step_by(2) {
            // Two further headings make a row of headings of it, whichever this one is.
            // Readings have figures below them, and instruments have none.
            let heads = |cell: &str| {
                let preview = pasted(&format!("{heading}\tWarning\tCH\n{cell}\ty\tz"));
                preview.columns[0].heading == heading && preview.columns[0].meaning.is_some()
            };
            assert!(heads("x") || heads("1"), "{heading}");
            known += 1;
        }
    }
    assert!(known > 20, "{known}");
}

#[test]
fn the_separator_is_found_and_a_decimal_comma_is_not_one() {
    for (text, sign) in [
        ("VCO\tTP1\tL2\t2.5 V\t0.1 V\tslowly", Point),
        ("VCO;TP1;L2;2.5 V;0.1 V;slowly", Point),
        ("VCO,TP1,L2,2.5 V,0.1 V,slowly", Point),
        ("VCO\tTP1\tL2\t2,5 V\t0,1 V\tslowly", Comma),
        ("VCO;TP1;L2;2,5 V;0,1 V;slowly", Comma),
        ("VCO,TP1,L2,\"2,5 V\",\"0,1 V\",slowly", Comma),
        (
            "Step;TP;Core;Target;Tol;Note\nVCO;TP1;L2;2,5 V;0,1 V;slowly",
            Comma,
        ),
        (
            "\u{feff}Step,TP,Core,Target,Tol,Note\r\nVCO,TP1,L2,2.5 V,0.1 V,slowly\r\n",
            Point,
        ),
    ] {
        let separator = text
            .chars()
            .find(|c| "\t;,".contains(*c))
            .expect("a separator");
        let headings = "Step?TP?Core?Target?Tol?Note".replace('?', &separator.to_string());
        let text = match text.contains("Step") {
            true => text.to_owned(),
            false => format!("{headings}\n{text}"),
        };
        let preview = preview(&text, &blank(), sign);
        let step = &preview.rows[0].steps[0];
        assert_eq!(preview.rows[0].unclear, [], "{text}");
        let point = |text: &str| text.replace(',', ".");
        assert_eq!(
            (
                step.title.as_str(),
                step.at.as_str(),
                step.adjuster.as_str(),
                step.text.as_str()
            ),
            ("VCO", "TP1", "L2", "slowly"),
            "{text}"
        );
        assert_eq!(point(&step.target.value), "2.5 V", "{text}");
        assert_eq!(point(&step.target.margin), "0.1 V", "{text}");
    }
}

#[test]
fn a_list_without_columns_is_a_list_of_titles() {
    let preview = pasted("Take the cover off\nLook for burnt parts, and note them\n\n1.5 A fuse?");
    let titles: Vec<&str> = preview.steps().map(|step| step.title.as_str()).collect();
    let pasted = [
        "Take the cover off",
        "Look for burnt parts, and note them",
        "1.5 A fuse?",
    ];
    assert_eq!(titles, pasted);
}

#[test]
fn a_stage_that_is_named_once_above_its_points_is_the_stage_of_each() {
    let rows = [
        ("Q1\tE\t1.0 to 1.4 V", "Q1, E", "Q1 E"),
        ("\tB\t1.6 to 2.0 V", "Q1, B", "Q1 B"),
        ("Q2\tE\tat most 0.5 V", "Q2, E", "Q2 E"),
        ("\t3\tat most 0.7 V", "Q2, 3", "Q2 3"),
        ("\tTP4\tat most 0.9 V", "Q2", "TP4"),
    ];
    let text = rows.map(|(row, ..)| row).join("\n");
    let preview = pasted(&format!("Stage\tElectrode\tLimit\n{text}"));
    for (row, (text, title, at)) in preview.rows.iter().zip(rows) {
        assert_eq!(row.unclear, [], "{text}");
        let steps: Vec<(&str, &str)> = row.steps.iter().map(|s| (&*s.title, &*s.at)).collect();
        assert_eq!(steps, [(title, at)], "{text}");
    }
}

#[test]
fn what_is_not_understood_is_told_and_stands_in_the_text() {
    for (column, cell, part) in [
        ("Target", "to taste", "no target that is known here"),
        ("Target", "9.0015", "9.0015 of what?"),
        ("Target", "50m", "no target that is known here"),
        ("Target", "5 furlongs", "no target that is known here"),
        ("Target", "1,5 V", "decimal sign is a point"),
        ("Target", "5…4 W", "lower limit"),
        ("Tolerance", "a bit", "no tolerance that is known"),
        ("RX/TX", "both", "neither RX nor TX"),
        ("Unit", "furlong", "not a unit"),
        ("TP", &"T".repeat(65), "longer than 64"),
    ] {
        let target = match column {
            "Target" => String::new(),
            _ => "\t2.5 V".to_owned(),
        };
        let target_heading = target.replace("2.5 V", "Target");
        let text = format!("Step\tNote\t{column}{target_heading}\nA\tnote\t{cell}{target}");
        let preview = pasted(&text);
        let unclear = &preview.rows[0].unclear;
        let told = unclear.iter().find(|u| u.column == column).expect(cell);
        assert_eq!(told.cell, cell);
        assert!(told.why.to_string().contains(part), "{cell}: {}", told.why);
        let step = &preview.rows[0].steps[0];
        let line = format!("{column}: {cell}");
        assert!(
            step.text.starts_with("note\n") && step.text.contains(&line),
            "{}",
            step.text
        );
        assert!(step.open.contains(&line), "{}", step.open);
    }
}

#[test]
fn a_limit_that_is_said_another_way_stays_open_and_is_no_figure_to_be_noted() {
    for cell in [
        "S9 ± 6 dB",
        "60 dB (-6 dB)",
        "4 W (3.5 to 4.5 MHz)",
        "12 db SINAD at 0.5 uv or less",
        "Frequency tolerance .005%",
    ] {
        let preview = pasted(&format!("Step\tTP\tRequirement\nOne\tTP1\t{cell}"));
        let told = &preview.rows[0].unclear;
        assert!(
            told.iter().any(|unclear| unclear.cell == cell),
            "{cell}: {told:?}"
        );
    }
}

#[test]
fn a_role_that_begins_with_a_capital_is_the_one_that_the_kit_and_the_draft_name() {
    let table = "Step\tTP\tInstrument\tTarget\nIdle\tTP1\tAmmeter\tat most 50 mA";
    let with = |draft: &Draft| preview(table, draft, Point).rows[0].steps[0].with.clone();
    assert_eq!(with(&blank()), "ammeter");
    let mut draft = blank();
    draft.instruments.push(DraftInstrument {
        name: "AMMETER".to_owned(),
        needs: String::new(),
    });
    assert_eq!(with(&draft), "AMMETER");
}

#[test]
fn a_cell_that_two_readings_stumble_over_is_told_once() {
    let preview = pasted(
        "Step\tPoint of test\tMeter indication (V)\t\n\t\tMin\tMax\nLow end\tTP1\t1.2\t1.6\n\
         High end\tTP2\tto taste\t",
    );
    let told = &preview.rows[1].unclear;
    let cells: Vec<_> = told.iter().map(|unclear| unclear.cell.as_str()).collect();
    assert_eq!(cells, ["to taste"]);
    assert_eq!(preview.rows[1].steps[0].open.lines().count(), 1);
}

#[test]
fn a_figure_keeps_its_place_while_its_tolerance_is_missing() {
    let preview = pasted(&headed("VCO\tTP1\tL2\t2.5 V\t\t"));
    let row = &preview.rows[0];
    assert_eq!(row.unclear.len(), 1);
    assert_eq!(row.unclear[0].why, Why::NoTolerance);
    assert_eq!(row.steps[0].target.value, "2.5 V");
    assert_eq!(row.steps[0].target.kind, TargetKind::Around);
}

#[test]
fn a_bare_tolerance_that_can_hardly_be_meant_is_asked_about() {
    for (target, tolerance) in [("9.0015 MHz", "20"), ("27.185 MHz", "5"), ("7.5 V", "5")] {
        let preview = pasted(&headed(&format!("A\tTP1\tL2\t{target}\t{tolerance}\t")));
        let why = preview.rows[0].unclear[0].why.to_string();
        assert!(why.contains("without a unit would be"), "{target}: {why}");
    }
}

#[test]
fn a_column_that_nobody_knows_is_asked_for_before_anything_becomes_a_step() {
    let text = "Step\tPage\tTP\tUnit\nRail\t12\tTP1\tV";
    let asking = pasted(text);
    let asked: Vec<&str> = asking
        .asked()
        .map(|column| column.heading.as_str())
        .collect();
    assert_eq!(asked, ["Page"]);
    assert_eq!(asking.rows[0].unclear[0].why, Why::Column);
    let mut draft = blank();
    assert_eq!(take(&mut draft, 0, &asking), []);
    for (meaning, text_of, controls) in [
        (Meaning::Note, "12", ""),
        (Meaning::Condition, "", "Page: 12"),
        (Meaning::Left, "", ""),
    ] {
        let answers = Answers {
            columns: vec![("Page".to_owned(), meaning)],
            ..Answers::default()
        };
        let answered = preview_with(text, &answers, &blank(), Point);
        assert_eq!(
            (answered.asked().count(), &answered.rows[0].unclear[..]),
            (0, &[][..])
        );
        let step = &answered.rows[0].steps[0];
        assert_eq!(
            (step.text.as_str(), step.controls.as_str()),
            (text_of, controls)
        );
        assert_eq!(take(&mut draft, 0, &answered).len(), 1);
    }
}

fn titled(preview: &Preview) -> Vec<String> {
    let said = |step: &DraftStep| {
        let signal = step.signal.map_or(String::new(), |s| format!("{s} "));
        let figure = step.text.rsplit_once(": ").map_or("", |(_, figure)| figure);
        format!(
            "{} [{signal}{}{}] {} {figure}",
            step.title,
            step.mode,
            step.at,
            step.scale.symbol()
        )
    };
    preview.steps().map(said).collect()
}

#[test]
fn several_readings_in_a_row_become_a_step_each() {
    let text = "Stage\tTP\tRX AM (V)\tTX SSB (V)\nBuffer\tTP3\t1.2\t0.4\n\"\tTP4\t-\t0.6";
    let preview = pasted(text);
    let all: Vec<_> = preview.rows.iter().flat_map(|row| &row.unclear).collect();
    assert_eq!(all, Vec::<&_>::new());
    assert_eq!(
        titled(&preview),
        [
            "Buffer: RX AM (V) [RX AMTP3] V 0.4",
            "Buffer: TX SSB (V) [TX SSBTP3] V 0.4",
            "Buffer: TX SSB (V) [TX SSBTP4] V 0.6",
        ]
    );
}

/// A connector's pins, receiving and transmitting.
const PINS: &str = "Pin\tFunction\tRX (V)\tTX (V)\tTolerance\n";

#[test]
fn a_reading_alone_in_its_row_keeps_the_state_that_its_heading_names() {
    let preview = pasted(&format!("{PINS}5\tAGC\t1.2 - 3.5\t-\t"));
    assert_eq!(preview.rows[0].unclear, []);
    let [step] = &preview.rows[0].steps[..] else {
        panic!("{:?}", preview.rows[0].steps);
    };
    assert_eq!(step.title, "AGC, 5: RX (V)");
    assert_eq!(step.signal, Some(Signal::Rx));
}

#[test]
fn a_tolerance_beside_several_readings_is_that_of_each() {
    let preview = pasted(&format!("{PINS}1\tVcc\t8.0\t8.1\t±0.2"));
    assert_eq!(preview.rows[0].unclear, []);
    let all: Vec<(&str, String)> = preview
        .steps()
        .map(|step| (step.title.as_str(), target(step)))
        .collect();
    let due = [
        ("Vcc, 1: RX (V)", "Read: 8.0 V ± 0.2 V".to_owned()),
        ("Vcc, 1: TX (V)", "Read: 8.1 V ± 0.2 V".to_owned()),
    ];
    assert_eq!(all, due);
}

#[test]
fn a_figure_beside_a_blank_in_the_column_of_tolerances_is_told() {
    for figure in ["0", "8.0"] {
        let preview = pasted(&format!("{PINS}2\tMute\t{figure}\t{figure}\t"));
        let row = &preview.rows[0];
        let told: Vec<_> = row.unclear.iter().map(|told| &told.why).collect();
        assert_eq!(told, [&Why::NoTolerance, &Why::NoTolerance], "{figure}");
        assert_eq!(row.steps.len(), 2);
    }
    // A dash says that there is none.
    let preview = pasted(&format!("{PINS}2\tMute\t0\t0\t-"));
    assert_eq!(preview.rows[0].unclear, []);
}

#[test]
fn a_tolerance_that_belongs_to_no_reading_is_told_and_is_no_step() {
    let mixed = "TP\tStep\tRX (V)\tTX (mA)\tTolerance\nTP1\tVcc\t8.0\t8.0\t±0.2";
    let limited = "Step\tMin (V)\tMax (V)\tTolerance\nVcc\t7\t9\t±0.2";
    for (text, steps) in [(mixed, 2), (limited, 1)] {
        let preview = pasted(text);
        let row = &preview.rows[0];
        assert_eq!(row.steps.len(), steps, "{text}");
        assert_eq!(row.unclear.len(), 1, "{text}");
        assert_eq!(row.unclear[0].cell, "±0.2");
        assert!(row.steps.iter().all(|step| step.open == "Tolerance: ±0.2"));
    }
}

#[test]
fn electrodes_are_read_at_their_part_once_their_unit_is_said() {
    let text = "Terminal\tE\tB\tC\nQ1\t0.0\t0.7\t8.1";
    let asking = pasted(text);
    assert!(asking.asks_unit());
    let answers = Answers {
        unit: Some("V".parse().expect("volts")),
        ..Answers::default()
    };
    let answered = preview_with(text, &answers, &blank(), Point);
    assert_eq!(answered.rows[0].unclear, []);
    let at: Vec<&str> = answered.steps().map(|step| step.at.as_str()).collect();
    assert_eq!(at, ["Q1 e", "Q1 b", "Q1 c"]);
}

#[test]
fn notes_and_cautions_go_to_the_steps_that_they_stand_above() {
    let text = headed(
        "RECEIVER\t\t\t\t\t\nCAUTION: high voltage\t\t\t\t\t\nRail\tTP1\t\t5 V\t0.1 V\t\n\
         NOTE: let it warm up\t\t\t\t\t\nClock\tTP2\t\t4 MHz\t20 Hz\t\n* by counter\t\t\t\t\t",
    );
    let preview = pasted(&text);
    let lines: Vec<Line> = preview.rows.iter().map(|row| row.line).collect();
    use Line::{Caution, Note, Row, Section};
    assert_eq!(lines, [Section, Caution, Row, Note, Row, Note]);
    let steps: Vec<(&str, &str)> = preview
        .steps()
        .map(|s| (s.cautions.as_str(), s.text.as_str()))
        .collect();
    assert_eq!(
        steps,
        [
            ("CAUTION: high voltage", ""),
            ("", "* by counter\nNOTE: let it warm up")
        ]
    );
    let mut draft = blank();
    take(&mut draft, 0, &preview);
    assert_eq!(draft.sections[1].title, "RECEIVER");
    assert_eq!(draft.sections[1].steps.len(), 2);
}

#[test]
fn what_stays_open_keeps_a_procedure_from_being_published() {
    let mut draft = blank();
    draft.title = "Pasted".to_owned();
    take(&mut draft, 0, &pasted(&headed("Rail\tTP1\t\tto taste\t\t")));
    let open = |draft: &Draft| {
        let all = remarks(draft, &[], Point);
        all.into_iter()
            .find(|r| r.field == Field::Open && r.gravity == Gravity::Fault)
    };
    let told = open(&draft).expect("it is told");
    assert!(
        told.sentence.contains("Target: to taste"),
        "{}",
        told.sentence
    );
    draft.steps_mut().for_each(|step| step.open.clear());
    assert_eq!(open(&draft), None);
}

#[test]
fn rows_below_a_line_that_may_be_headings_are_not_taken_for_sure() {
    let preview = pasted(
        "Test\tMin (V)\tMax (V)\nRail\t4.5\t5.5\nWhat is seen\tColour\tShape\nLevel\t1\t2\nClock\t3\t4",
    );
    let told: Vec<bool> = preview
        .rows
        .iter()
        .map(|row| !row.unclear.is_empty())
        .collect();
    assert_eq!(told, [false, true, true, true]);
}

#[test]
fn a_mode_beside_a_maximum_is_a_row_and_no_heading() {
    let preview =
        pasted("Step\tCore\tTarget\tUnit\nInput\tL1\tmax\tV\nAM\tL2\tmax\tV\nUSB\t\tmin\t");
    assert!(
        preview.rows.iter().all(|row| row.line == Line::Row),
        "{:?}",
        preview.rows
    );
    let kinds: Vec<Kind> = preview.steps().map(|step| step.kind).collect();
    assert_eq!(kinds, [Kind::Peak, Kind::Peak, Kind::Dip]);
    assert_eq!(
        preview.rows[2].unclear.len(),
        2,
        "it turns nothing and has no unit"
    );
}

#[test]
fn a_sign_behind_a_negative_figure_is_read() {
    let step = step(&headed("Response\tTP1\t\t-3 dB ±1 dB\t\t"));
    assert_eq!(target(&step), "Read: -3 dB ± 1 dB");
}

#[test]
fn a_row_that_asks_for_a_reading_is_no_tick() {
    for (title, kind, told) in [
        ("Set VR1 for 13.8 V", Kind::Set, true),
        ("Turn L1 for maximum output", Kind::Peak, true),
        ("Set the band to 13.8 V", Kind::Tick, false),
        ("Measure the supply current", Kind::Tick, true),
        ("Battery", Kind::Tick, true),
        ("Key the transmitter for 10 s", Kind::Tick, false),
        ("Connect the meter to the load", Kind::Tick, false),
        ("Look for burnt parts", Kind::Inspect, false),
        ("STOP: aerial off", Kind::Stop, false),
    ] {
        let preview = pasted(&format!("Step\tTarget\tRemark\n{title}\t\tsee there"));
        let row = &preview.rows[0];
        assert_eq!(
            (row.steps[0].kind, !row.unclear.is_empty()),
            (kind, told),
            "{title}"
        );
    }
}

#[test]
fn a_row_that_lets_work_go_on_only_once_a_reading_is_inside_is_a_stop_with_that_reading() {
    for row in [
        // Where the row states its limit in columns.
        "Discharge C12, then go on\tTP1\t\t< 10 V\t\t",
        "Reservoir voltage\tTP1\t\tbelow 10 V\t\tDo not proceed until it is.",
        "Check the reservoir before proceeding\tTP1\t\t10 V max\t\t",
        // And where it says it in words alone.
        "Discharge C12 until below 10 V at TP1, then go on\t\t\t\t\t",
        "Discharge until the voltage on TP1 is less than 10 V, then proceed\t\t\t\t\t",
        "Discharge C12\t\t\t\t\tDo not go on until the meter reads below 10 V at TP1.",
    ] {
        let step = step(&headed(row));
        assert_eq!(
            (step.kind, step.confirmed_by, step.at.as_str()),
            (Kind::Stop, ConfirmedBy::Reading, "TP1"),
            "{row}"
        );
        assert_eq!(
            (step.target.kind, step.target.value.as_str()),
            (TargetKind::AtMost, "10 V"),
            "{row}"
        );
        assert!(!step.confirm.is_empty(), "{row}");
    }
    let by_kind = step("Step\tTP\tKind\tTarget\nReservoir empty\tTP1\tStop\t< 10 V");
    assert_eq!(
        (by_kind.kind, by_kind.confirmed_by),
        (Kind::Stop, ConfirmedBy::Reading)
    );
    // An adjustment that others follow is one all the same, and so is what can't be read.
    let set = step(&headed("Set, then go on\tTP1\tL1\t9 MHz\t20 Hz\t"));
    assert_eq!(set.kind, Kind::Set);
    let vague = pasted(&headed("Discharge until it is empty, then go on\t\t\t\t\t"));
    assert!(vague.rows[0].steps[0].confirmed_by.is_hand());
}

#[test]
fn points_of_a_strength_meter_and_divisions_of_a_scale_are_units() {
    for (limit, kind, value, scale) in [
        (
            "at least 8 S-units",
            TargetKind::AtLeast,
            "8 S-points",
            "S-points",
        ),
        (
            "not more than 3 divisions",
            TargetKind::AtMost,
            "3 div",
            "div",
        ),
    ] {
        let step = step(&headed(&format!("Reading\tTP1\t\t{limit}\t\t")));
        let found = (
            step.target.kind,
            step.target.value.as_str(),
            step.scale.symbol(),
        );
        assert_eq!(found, (kind, value, scale.to_owned()), "{limit}");
    }
}

#[test]
fn what_to_do_if_a_reading_is_wrong_is_told_and_is_no_limit() {
    let table =
        "Operation\tNormal indication\tIf not normal\nMeasure the rail\t5 V ± 0.2 V\tCheck Q4";
    let preview = pasted(table);
    assert_eq!(preview.rows.len(), 1);
    let step = &preview.rows[0].steps[0];
    assert_eq!(
        (step.target.kind, step.target.value.as_str()),
        (TargetKind::Around, "5 V")
    );
    assert!(step.text.contains("Check Q4"), "{}", step.text);
}

#[test]
fn a_second_column_of_test_points_is_not_lost() {
    let table = "Step\tTP\tTest point\tTarget\nMeasure\tV1\t3\t5 V ± 0.2 V";
    let preview = pasted(table);
    let step = &preview.rows[0].steps[0];
    let (at, other) = match step.at.as_str() {
        "V1" => ("V1", "3"),
        _ => ("3", "V1"),
    };
    assert_eq!(step.at, at);
    assert!(step.text.contains(other), "{}", step.text);
}

#[test]
fn a_time_to_wait_that_a_row_states_is_the_wait_of_its_step() {
    for (title, minutes) in [
        ("Allow 15 minutes to warm up", "15"),
        ("Warm-up: 30 min", "30"),
        ("Leave the set on for one hour", "60"),
        ("Wait five minutes", "5"),
        ("Switch on and wait for 90 seconds", "2"),
        ("Leave it on for 2 h at full power", "120"),
        // What is timed is not waited for, and what names no time is no timer.
        ("Transmit for 5 minutes", ""),
        ("Wait until the reading is steady", ""),
        ("Warm-up drift", ""),
        ("Allow 10 Hz for the counter", ""),
    ] {
        let preview = pasted(&headed(&format!(
            "Volts\tTP1\t\t5 V\t\t\n{title}\t\t\t\t\t"
        )));
        let steps = preview.rows.iter().flat_map(|row| &row.steps);
        let waits: Vec<&str> = steps.map(|step| step.wait.as_str()).collect();
        assert_eq!(
            waits.get(1).copied().unwrap_or_default(),
            minutes,
            "{title}"
        );
    }
}

#[test]
fn a_row_that_sends_back_to_rows_above_repeats_their_steps() {
    let rows = |last: &str| {
        let table = format!(
            "No\tStep\tTP\tCore\tTarget\n3\tLow end\tTP1\tL1\t5 V ± 0.2 V\n4\tHigh end\tTP2\tC1\t5 V ± 0.2 V\n{last}"
        );
        let preview = pasted(&table);
        let mut draft = blank();
        let ids = take(&mut draft, 0, &preview);
        let last = draft.step(ids.last().unwrap()).unwrap().clone();
        let whys: Vec<Why> = preview.rows[2]
            .unclear
            .iter()
            .map(|it| it.why.clone())
            .collect();
        (ids, last, whys)
    };
    for (row, until, change) in [
        (
            "5\tRepeat steps 3 and 4 until both are within limits.\t\t\t",
            UntilKind::Inside,
            "",
        ),
        (
            "5.\tRepeat (3) to (4) until no further adjustment is required\t\t\t",
            UntilKind::Inside,
            "",
        ),
        (
            "5\tRepeat steps 3-4 until no reading changes by more than 20 mV\t\t\t",
            UntilKind::Steady,
            "20 mV",
        ),
    ] {
        let (ids, step, whys) = rows(row);
        assert_eq!(
            (step.kind, whys),
            (Kind::Repeat, Vec::new()),
            "{row} {}",
            step.open
        );
        let ends = (step.repeat.from.as_ref(), step.repeat.to.as_ref());
        assert_eq!(ends, (Some(&ids[0]), Some(&ids[1])), "{row}");
        assert_eq!(
            (step.repeat.until, step.repeat.change.as_str()),
            (until, change),
            "{row}"
        );
    }
    // What is not said stays open.
    for (row, why) in [
        (
            "5\tRepeat steps 3 and 4 until no further change\t\t\t",
            Why::NoChange,
        ),
        ("5\tRepeat steps 3 and 4 as necessary\t\t\t", Why::NoEnd),
        (
            "5\tRepeat steps 3 and 9 until both are within limits\t\t\t",
            Why::NoSuchRows,
        ),
    ] {
        let (_, step, whys) = rows(row);
        assert_eq!((step.kind, whys), (Kind::Repeat, vec![why]), "{row}");
        assert!(!step.open.is_empty(), "{row}");
    }
}

#[test]
fn without_headings_nothing_is_guessed_by_order() {
    let preview = pasted("VCO\tTP1\tL2\t2.5 V\t0.1 V\tslowly");
    let asked: Vec<&str> = preview
        .asked()
        .map(|column| column.heading.as_str())
        .collect();
    assert_eq!(
        asked,
        ["Column 1", "Column 3", "Column 4", "Column 5", "Column 6"]
    );
    assert!(preview.has(Meaning::Point));
}

#[test]
fn the_numbers_of_the_rows_are_kept_where_the_order_does_not_say_them() {
    let preview = pasted("No\tStep\tTP\tUnit\n1\tA\tTP1\tV\n2.1\tB\tTP1\tV");
    let texts: Vec<&str> = preview.steps().map(|step| step.text.as_str()).collect();
    assert_eq!(texts, ["", "No: 2.1"]);
    let preview = pasted("Step\tDescription\tTP\tUnit\n1\tA\tTP1\tV\n2\tB\tTP1\tV");
    let titles: Vec<&str> = preview.steps().map(|step| step.title.as_str()).collect();
    assert_eq!(titles, ["A", "B"]);
}

#[test]
fn a_row_without_a_title_gets_one_that_says_what_is_done() {
    for (row, title) in [
        ("\tTP3\tL4\tmax\t\t", "Peak L4 at TP3"),
        ("\tTP3\tL4\t2.5 V\t5 %\t", "Set L4 at TP3"),
        ("\tTP3\t\t2.5 V\t5 %\t", "Read at TP3"),
        ("\t\t\t\t\tPut the cover on", "Put the cover on"),
    ] {
        let preview = pasted(&headed(row));
        assert_eq!(preview.rows[0].steps[0].title, title, "{row:?}");
    }
}

#[test]
fn a_long_title_is_cut_between_words_and_stands_whole_in_the_text() {
    let long = "Turn the core slowly and watch the reading ".repeat(4);
    let step = step(&format!("Step\tNote\n{long}\tthe end"));
    assert!(step.title.ends_with('…') && step.title.chars().count() <= 81);
    assert_eq!(step.text, format!("the end\n{}", long.trim()));
}

#[test]
fn several_adjusters_of_a_peak_become_a_step_each() {
    let preview = pasted("Step\tTP\tCore\tTarget\tUnit\nIF\tTP3\tT1, T2/T3\tmax\tV");
    let steps: Vec<(&str, &str)> = preview
        .steps()
        .map(|step| (step.title.as_str(), step.adjuster.as_str()))
        .collect();
    assert_eq!(
        steps,
        [("IF: T1", "T1"), ("IF: T2", "T2"), ("IF: T3", "T3")]
    );
    let preview = pasted("Step\tTP\tCore\tTarget\tTol\nIF\tTP3\tT1, T2\t2 V\t5 %");
    assert_eq!(
        preview.rows[0].unclear[0].why,
        Why::OneAdjuster("T1".to_owned())
    );
}

#[test]
fn an_instrument_that_the_draft_uses_for_a_unit_is_used_again() {
    let mut draft = blank();
    take(
        &mut draft,
        0,
        &pasted("Step\tTP\tTarget\tWith\nA\tTP1\t> 1 MHz\tgrid dip meter"),
    );
    let second = preview(&headed("B\tTP2\t\t> 2 MHz"), &draft, Point);
    assert_eq!(second.rows[0].steps[0].with, "grid dip meter");
    assert_eq!(
        pasted(&headed("B\tTP2\t\t> 2 MHz")).rows[0].steps[0].with,
        "counter"
    );
}

#[test]
fn taking_a_table_adds_what_its_steps_refer_to_once() {
    let text = headed("VCO\tTP1\tL2\t2.5 V\t5 %\t\nAgain\tTP1\tL2\t2.5 V\t5 %\t");
    let mut draft = blank();
    let first = take(&mut draft, 0, &pasted(&text));
    let again = preview(&text, &draft, Point);
    let second = take(&mut draft, 9, &again);
    let all: Vec<_> = draft.steps().map(|step| step.id.clone()).collect();
    assert_eq!(all, [first, second].concat());
    assert_eq!(List::Adjusters.names(&draft), ["L2"]);
    assert_eq!(List::TestPoints.names(&draft), ["TP1"]);
    assert_eq!(List::Instruments.names(&draft), ["meter"]);
}

#[test]
fn forty_pasted_rows_make_a_procedure_without_faults() {
    let text = include_str!("forty_rows.tsv");
    let preview = pasted(text);
    assert_eq!(preview.rows.len(), 40);
    let unclear: Vec<_> = preview.rows.iter().flat_map(|row| &row.unclear).collect();
    assert_eq!(unclear, Vec::<&_>::new());
    let mut draft = blank();
    draft.title = "Pasted".to_owned();
    take(&mut draft, 0, &preview);
    let all = remarks(&draft, &[], Point);
    let faults: Vec<_> = all.iter().filter(|r| r.gravity == Gravity::Fault).collect();
    assert_eq!(faults, Vec::<&_>::new());
    for kind in [Kind::Set, Kind::Read, Kind::Peak, Kind::Dip, Kind::Tick] {
        assert!(draft.steps().any(|step| step.kind == kind), "{kind:?}");
    }
}

const HEADINGS: [&str; 15] = [
    "Step",
    "Test point",
    "Adjuster",
    "Target",
    "Tolerance",
    "Note",
    "Unit",
    "Instrument",
    "Mode",
    "Channel",
    "RX/TX",
    "Supply",
    "Caution",
    "Colour of the lid",
    "Kind",
];

/// A step in the cells of a table.
fn cells(step: &DraftStep) -> [String; 15] {
    let stated = target(step);
    let (_, bound) = stated.split_once(": ").expect("a kind");
    let target = match step.kind {
        Kind::Peak => format!("peak {bound}"),
        Kind::Dip => format!("dip {bound}"),
        _ => bound.to_owned(),
    };
    let (target, tolerance) = match target.split_once(" ± ") {
        Some((target, tolerance)) => (target.to_owned(), tolerance.to_owned()),
        None => (target, String::new()),
    };
    let reads = step.kind.reads();
    [
        step.title.clone(),
        step.at.clone(),
        step.adjuster.clone(),
        target,
        tolerance,
        step.text.clone(),
        if reads {
            step.scale.symbol()
        } else {
            String::new()
        },
        step.with.clone(),
        step.mode.clone(),
        step.channel.clone(),
        step.signal
            .map_or(String::new(), |signal| signal.to_string()),
        step.supply.clone(),
        step.cautions.clone(),
        String::new(),
        step.kind.name().to_owned(),
    ]
}

/// Steps as a table, written by a program that knows nothing of ours.
fn written(steps: &[DraftStep], separator: u8) -> String {
    let mut writer = csv::WriterBuilder::new()
        .delimiter(separator)
        .from_writer(Vec::new());
    writer.write_record(HEADINGS).expect("headings");
    for step in steps {
        writer.write_record(cells(step)).expect("a row");
    }
    let bytes = writer.into_inner().expect("a table");
    String::from_utf8(bytes).expect("text")
}

/// Steps come back from a table as they were, but for their ids.
fn comes_back(steps: &[DraftStep], separator: u8, sign: DecimalSign) {
    let text = written(steps, separator);
    let preview = preview(&text, &blank(), sign);
    for (row, step) in preview.rows.iter().zip(steps) {
        assert_eq!(row.unclear, [], "{text}");
        let id = row.steps[0].id.clone();
        assert_eq!(row.steps, [DraftStep { id, ..step.clone() }], "{text}");
    }
    assert_eq!(preview.rows.len(), steps.len(), "{text}");
}

#[test]
fn the_demos_readings_come_back_from_a_table() {
    let trainer = demo::procedure().expect("the demo is sound");
    for sign in [Point, Comma] {
        let draft = Draft::of(&trainer, sign);
        let steps: Vec<DraftStep> = draft
            .steps()
            .filter(|step| step.kind.reads() || step.kind == Kind::Tick)
            .filter(|step| {
                !matches!(
                    step.target.kind,
                    TargetKind::Relative | TargetKind::Oscillator | TargetKind::Channel
                )
            })
            // What no column states.
            .map(|step| DraftStep {
                controls: String::new(),
                settings: Default::default(),
                path: String::new(),
                wait: String::new(),
                settles: String::new(),
                needs: Vec::new(),
                takes_off: String::new(),
                puts_back: String::new(),
                shares_null_with: None,
                cross_check: None,
                known: None,
                source: String::new(),
                scale: match step.kind {
                    Kind::Tick => DraftStep::blank(step.id.clone()).scale,
                    _ => step.scale,
                },
                ..step.clone()
            })
            .collect();
        assert!(steps.len() > 15, "{}", steps.len());
        for separator in *b"\t;," {
            comes_back(&steps, separator, sign);
        }
    }
}

fn a_target() -> impl Strategy<Value = (Scale, DraftTarget)> {
    let figure = (1..9_999_u32, 0..5_usize).prop_map(|(digits, decimals)| {
        let scale = 10_f64.powi(decimals as i32);
        format!("{:.decimals$}", f64::from(digits) / scale)
    });
    let unit = prop::sample::select(vec!["MHz", "kHz", "V", "mV p-p", "mA", "W", "dBm", "%"]);
    (unit, figure.clone(), figure, 0..5_usize).prop_map(|(unit, one, other, kind)| {
        let (one, other) = match one.parse::<f64>().unwrap_or(0.0) < other.parse().unwrap_or(0.0) {
            true => (one, other),
            false => (other, one),
        };
        let of = |text: &str| format!("{text} {unit}");
        let margin = match unit {
            "dBm" => format!("{one} dB"),
            _ => of(&one),
        };
        let target = |kind, value, high, margin| DraftTarget {
            kind,
            value,
            high,
            margin,
            ..DraftTarget::default()
        };
        let none = String::new;
        let target = match kind {
            0 => target(TargetKind::None, none(), none(), none()),
            1 => target(TargetKind::Around, of(&other), none(), margin),
            2 => target(TargetKind::AtLeast, of(&one), none(), none()),
            3 => target(TargetKind::AtMost, of(&one), none(), none()),
            // A range of no width is doubted.
            _ if one == other => target(TargetKind::AtMost, of(&one), none(), none()),
            _ => target(TargetKind::Between, of(&one), of(&other), none()),
        };
        (unit.parse().expect("a unit"), target)
    })
}

fn a_step() -> impl Strategy<Value = DraftStep> {
    let kind = prop::sample::select(vec![
        Kind::Set,
        Kind::Read,
        Kind::Peak,
        Kind::Dip,
        Kind::Tick,
    ]);
    // Without the letter of `pp` and `pd`, which by chance say of which kind the volts beside them
    // are, and with no word as short as `na`, which says nothing.
    let words = || "[A-OQ-Z][a-z]{2,6}( [a-oq-z\"',;.0-9]{1,6}){0,4}";
    let signal = prop::sample::select(vec![None, Some(Signal::Rx), Some(Signal::Tx)]);
    let names = ("TP[0-9]{1,3}", "[LTC][0-9]{1,3}", "counter|scope|meter 2");
    (kind, words(), words(), words(), names, a_target(), signal).prop_map(
        |(kind, title, text, caution, (at, adjuster, with), (scale, target), signal)| {
            let blank = DraftStep {
                title,
                text,
                cautions: caution,
                signal,
                mode: "USB".to_owned(),
                kind,
                ..DraftStep::blank(id("s"))
            };
            // A step that sets something needs a target to be known for one.
            let target = match (kind, target.kind) {
                (Kind::Set, TargetKind::None) => DraftTarget {
                    kind: TargetKind::AtLeast,
                    value: format!("1 {scale}"),
                    ..target
                },
                _ => target,
            };
            match kind {
                Kind::Tick => blank,
                _ => DraftStep {
                    at,
                    with,
                    scale,
                    target,
                    adjuster: if kind.turns() {
                        adjuster
                    } else {
                        String::new()
                    },
                    ..blank
                },
            }
        },
    )
}

proptest! {
    #![proptest_config(cases(200))]

    #[test]
    fn steps_written_as_a_table_come_back_the_same(
        steps in prop::collection::vec(a_step(), 1..8),
        separator in prop::sample::select(b"\t;,".to_vec()),
    ) {
        comes_back(&steps, separator, Point);
    }

    /// RFC 4180 as the csv crate reads it. No cell is a unit or a word that the table reads.
    #[test]
    fn cells_are_split_as_a_csv_reader_splits_them(
        rows in prop::collection::vec(prop::collection::vec("q[a-z\",\n]{0,5}", 4), 1..6),
    ) {
        let mut writer = csv::Writer::from_writer(Vec::new());
        for row in &rows {
            writer.write_record(row).expect("a row");
        }
        let text = String::from_utf8(writer.into_inner().expect("a table")).expect("text");
        let trimmed = |row: &Vec<String>| -> Vec<String> {
            row.iter().map(|cell| cell.trim().to_owned()).collect()
        };
        let mut rows: Vec<Vec<String>> = rows.iter().map(trimmed).collect();
        rows.retain(|row| row.iter().any(|cell| !cell.is_empty()));
        let read: Vec<Vec<String>> = pasted(&text).rows.into_iter().map(|row| row.cells).collect();
        prop_assert_eq!(read, rows);
    }

    #[test]
    fn any_text_is_previewed_and_taken_and_nothing_of_it_is_lost(text in "(.|[\t\n;,\"0-9±VHz])*", comma in any::<bool>()) {
        let sign = if comma { Comma } else { Point };
        let mut draft = blank();
        let preview = preview(&text, &draft, sign);
        let (clear, unclear): (Vec<_>, Vec<_>) =
            preview.rows.iter().partition(|row| row.unclear.is_empty());
        prop_assert_eq!(clear.len() + unclear.len(), preview.rows.len());
        for row in &preview.rows {
            let Some(step) = row.steps.first() else {
                prop_assert!(row.line != Line::Row);
                continue;
            };
            for told in row.unclear.iter().filter(|told| !told.cell.is_empty()) {
                prop_assert!(step.text.contains(&told.cell), "{} of {:?}", told.cell, step);
            }
            prop_assert_eq!(step.open.is_empty(), row.unclear.is_empty());
        }
        let taken = take(&mut draft, 0, &preview);
        prop_assert_eq!(taken.len(), draft.steps().count());
        let due = match preview.asked().next() {
            Some(_) => 0,
            None => preview.steps().count(),
        };
        prop_assert_eq!(taken.len(), due);
        let _ = remarks(&draft, &[], sign);
    }
}
