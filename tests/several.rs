//! Several readings in rows and columns: what is wrong with a table, how it is written, and what
//! differs between two.

mod support;

use halfturn::authoring::draft::{Draft, DraftTable};
use halfturn::authoring::edit::List;
use halfturn::authoring::{Gravity, differences, edit, remarks};
use halfturn::exchange::report::{Report, csv, html};
use halfturn::job::{Deed, Header, Job, Log, Phase, Status, UsedInstrument};
use halfturn::metrology::instrument::Instrument;
use halfturn::procedure::{
    Field, Id, Place, Procedure, Sets, Setting, Signal, Target, faults, spoken,
};
use halfturn::quantity::DecimalSign::{self, Comma, Point};
use std::sync::Arc;
use support::{id, look, q, stamp};

/// A draft with one empty section, an instrument and a test point.
fn blank() -> Draft {
    let mut draft = Draft::blank(id("p"));
    draft.title = "Quillmere trainer, proof".to_owned();
    edit::add(&mut draft, List::TestPoints, "SK1").expect("a point");
    edit::add(&mut draft, List::Instruments, "meter").expect("an instrument");
    draft
}

fn write(draft: &mut Draft, act: impl FnOnce(&mut DraftTable)) {
    edit::write_table(draft, 0, Point, act);
}

/// A table written as its form has it.
fn with_table(unit: &str, act: impl FnOnce(&mut DraftTable)) -> Draft {
    let mut draft = blank();
    assert_eq!(edit::add_table(&mut draft, 0), Some(0));
    edit::change_cells(&mut draft, 0, |step| {
        step.at = "SK1".to_owned();
        step.with = "meter".to_owned();
    });
    edit::read_cells_in(&mut draft, 0, unit.parse().expect("a unit"), Point);
    write(&mut draft, act);
    draft
}

fn power() -> Draft {
    with_table("W", |table| {
        table.title = "Carrier power".to_owned();
        table.rows.headings = "1\n20\n40".to_owned();
        table.columns.headings = "AM, FM, CW".to_owned();
        table.limit = "at least 3.5 W".to_owned();
    })
}

fn response() -> Draft {
    let mut draft = with_table("dB", |table| {
        table.title = "Audio response".to_owned();
        table.rows.sets = Sets::Control("Generator frequency".to_owned());
        table.rows.headings = "300 Hz\n500 Hz\n1000 Hz\n2000 Hz\n3000 Hz".to_owned();
        table.columns.sets = Sets::Reading;
    });
    let origin = draft.tables[0].cells[2][0].clone();
    write(&mut draft, |table| {
        table.from = origin;
        table.limit = "-3 dB to 1 dB".to_owned();
    });
    draft
}

fn sound(draft: &Draft) -> Procedure {
    let (procedure, unread) = draft.read(Point);
    assert_eq!(unread, []);
    assert_eq!(faults(&procedure), []);
    procedure
}

fn titles(draft: &Draft) -> Vec<&str> {
    draft.steps().map(|step| step.title.as_str()).collect()
}

#[test]
fn headings_make_a_step_for_each_cell_row_by_row() {
    let procedure = sound(&power());
    let said: Vec<_> = procedure
        .steps()
        .map(|step| {
            let set_up = &step.set_up;
            (
                step.title.clone(),
                set_up.channel.clone(),
                set_up.mode.clone(),
            )
        })
        .collect();
    let cell = |title: &str, channel: &str, mode: &str| {
        (
            title.to_owned(),
            Some(channel.to_owned()),
            Some(mode.to_owned()),
        )
    };
    assert_eq!(said.len(), 9);
    assert_eq!(said[0], cell("Carrier power: channel 1, AM", "1", "AM"));
    assert_eq!(said[5], cell("Carrier power: channel 20, CW", "20", "CW"));
    assert_eq!(said[8], cell("Carrier power: channel 40, CW", "40", "CW"));
    let table = &procedure.tables[0];
    assert_eq!(
        table.place_of(&procedure.steps().nth(5).unwrap().id),
        Some((1, 2))
    );
}

#[test]
fn a_limit_is_for_all_per_row_per_column_or_from_a_cell() {
    let print = |draft: &Draft| {
        let procedure = sound(draft);
        let target = |step: &halfturn::procedure::Step| {
            let target = step
                .work
                .target()
                .map(|target| target.typeset(Point, |id| procedure.number_of(id)));
            target.unwrap_or_default().replace('\u{a0}', " ")
        };
        procedure.steps().map(target).collect::<Vec<_>>()
    };
    assert!(
        print(&power())
            .iter()
            .all(|limit| limit == "at least 3.5 W"),
        "{:?}",
        print(&power())
    );
    let mut rows = power();
    write(&mut rows, |table| {
        table.rows.headings = "1\n20 = 3 W to 5 W\n40".to_owned();
    });
    let all = print(&rows);
    assert!(
        all[3..6].iter().all(|limit| limit == "3 W to 5 W"),
        "{all:?}"
    );
    assert!(
        all[..3].iter().all(|limit| limit == "at least 3.5 W"),
        "{all:?}"
    );
    let mut columns = power();
    write(&mut columns, |table| {
        table.columns.headings = "AM, FM = not more than 4 watts, CW".to_owned();
    });
    assert_eq!(
        print(&columns)[0..3],
        ["at least 3.5 W", "at most 4 W", "at least 3.5 W"].map(|s| s.to_owned())
    );
    let from = print(&response());
    let counted = "the reading of step 3 + 1 dB − 3 dB";
    assert_eq!(from, [counted, counted, "", counted, counted]);
}

#[test]
fn a_limit_counted_from_a_cell_is_typed_as_it_is_said() {
    for (typed, print) in [
        ("± 2 dB", "the reading of step 3 ± 2 dB"),
        ("-6 dB ± 1 dB", "6 dB below the reading of step 3 ± 1 dB"),
        ("-8 dB to -4 dB", "6 dB below the reading of step 3 ± 2 dB"),
        ("within 2 dB", "the reading of step 3 ± 2 dB"),
    ] {
        let mut draft = response();
        write(&mut draft, |table| table.limit = typed.to_owned());
        let procedure = sound(&draft);
        let first = procedure.steps().next().and_then(|step| step.work.target());
        let said = first.map(|target| target.typeset(Point, |id| procedure.number_of(id)));
        assert_eq!(
            said.map(|said| said.replace('\u{a0}', " ")).as_deref(),
            Some(print),
            "{typed}"
        );
    }
}

#[test]
fn what_is_typed_of_a_table_is_made_sign_by_sign_and_leaves_no_step_behind() {
    for sign in [Point, Comma] {
        let mut draft = with_table("W", |_| {});
        let mut text = String::new();
        for letter in "AM, FM\nUSB".chars() {
            text.push(letter);
            edit::write_table(&mut draft, 0, sign, |table| {
                table.columns.headings = text.clone()
            });
        }
        assert_eq!(titles(&draft), ["AM", "FM", "USB"]);
        for _ in 0..4 {
            text.pop();
            edit::write_table(&mut draft, 0, sign, |table| {
                table.columns.headings = text.clone()
            });
        }
        assert_eq!(titles(&draft), ["AM", "FM"]);
        assert_eq!(draft.tables[0].cells[0].len(), 2);
    }
}

#[test]
fn what_only_the_headings_of_a_table_set_does_not_go_on_behind_it() {
    let mut draft = response();
    edit::change_cells(&mut draft, 0, |step| {
        step.mode = "AM".to_owned();
        step.controls.push_str("\nGain: full");
    });
    let last = draft.steps().last().expect("a step").id.clone();
    let behind = edit::add_step(&mut draft, 0).expect("a step");
    let below = edit::add_step_below(&mut draft, &last).expect("a step");
    let table = edit::add_table(&mut draft, 0).expect("a table");
    let first = draft.tables[table].cells[0][0].clone().expect("a cell");
    for id in [behind, below, first] {
        let step = draft.step(&id).expect("a step");
        assert_eq!((&*step.mode, &*step.controls), ("AM", "Gain: full"), "{id}");
    }
}

#[test]
fn a_limit_of_one_heading_is_given_to_no_other_however_it_is_typed() {
    let whole = "300 Hz = -8 dB to 1 dB, 500 Hz, 1000 Hz = -9 dB to 1 dB";
    let mut draft = with_table("dB", |table| {
        table.title = "Audio response".to_owned();
        table.rows.sets = Sets::Control("Generator frequency".to_owned());
        table.columns.sets = Sets::Reading;
    });
    for (end, sign) in whole.char_indices() {
        let typed = whole[..end + sign.len_utf8()].to_owned();
        write(&mut draft, |table| table.rows.headings = typed);
    }
    let procedure = sound(&draft);
    let limits: Vec<bool> = procedure
        .steps()
        .map(|step| step.work.target().is_some())
        .collect();
    assert_eq!(limits, [true, false, true]);
}

#[test]
fn limits_of_rows_and_columns_at_once_are_told() {
    let mut draft = power();
    write(&mut draft, |table| {
        table.rows.headings = "1 = at most 1 W, 20".to_owned();
        table.columns.headings = "AM = at least 3 W, FM".to_owned();
    });
    let told = remarks(&draft, &[], Point);
    let is_it = |remark: &&halfturn::authoring::Remark| remark.field == Field::Columns;
    let told: Vec<_> = told.iter().filter(is_it).collect();
    assert!(
        told.iter()
            .any(|it| it.sentence.contains("at the rows or at the columns")),
        "{told:?}"
    );
}

#[test]
fn decibels_of_a_reading_in_volts_never_become_volts() {
    let mut draft = response();
    edit::read_cells_in(&mut draft, 0, "mV rms".parse().expect("a unit"), Point);
    write(&mut draft, |table| table.limit = "± 2 dB".to_owned());
    let told = remarks(&draft, &[], Point);
    let faults: Vec<_> = told
        .iter()
        .filter(|it| it.gravity == Gravity::Fault)
        .collect();
    assert!(faults.is_empty(), "{faults:?}");
    let (procedure, _) = draft.read(Point);
    let cell = procedure.steps().next().expect("a cell");
    let tolerance = procedure.tolerance(cell, |_| Some(q("100 mV rms")));
    let tolerance = tolerance.expect("a target").expect("it is worked out");
    assert_eq!(
        tolerance.typeset(Point).replace('\u{a0}', " "),
        "100.00 mV rms ± 2 dB (79.4329 mV rms to 125.8925 mV rms)"
    );
    let zero = draft.steps().any(|step| {
        step.target
            .margin
            .trim_start_matches('±')
            .trim()
            .starts_with('0')
    });
    assert!(!zero, "no margin of nothing");
}

#[test]
fn a_comma_is_decimal_before_a_digit_where_numbers_are_written_so() {
    let mut draft = with_table("dB", |_| {});
    edit::write_table(&mut draft, 0, Comma, |table| {
        table.columns.sets = Sets::Control("Generator".to_owned());
        table.columns.headings = "300 Hz, 2,5 kHz".to_owned();
    });
    let (procedure, _) = draft.read(Comma);
    assert_eq!(procedure.tables[0].columns.names, ["300 Hz", "2,5 kHz"]);
    assert!(procedure.tables[0].columns.numbers().is_some());
}

#[test]
fn a_heading_that_is_renamed_keeps_its_step_and_what_was_changed_there() {
    let mut draft = power();
    let second = draft.tables[0].cells[0][1].clone().expect("a step");
    for step in draft.steps_mut().filter(|step| step.id == second) {
        step.text = "Key for two seconds.".to_owned();
        step.target.value = "2 W".to_owned();
    }
    write(&mut draft, |table| {
        table.columns.headings = "AM, USB, CW".to_owned()
    });
    let step = draft.step(&second).expect("it stays");
    assert_eq!(
        (step.mode.as_str(), step.title.as_str()),
        ("USB", "Carrier power: channel 1, USB")
    );
    assert_eq!(
        (step.text.as_str(), step.target.value.as_str()),
        ("Key for two seconds.", "2 W")
    );
}

#[test]
fn a_row_that_comes_or_goes_takes_its_steps_along_in_their_order() {
    let mut draft = power();
    let ids = |draft: &Draft| {
        draft
            .steps()
            .map(|step| step.id.clone())
            .collect::<Vec<Id>>()
    };
    let before = ids(&draft);
    write(&mut draft, |table| {
        table.rows.headings = "1\n19\n20\n40".to_owned()
    });
    let now = ids(&draft);
    assert_eq!((&now[..3], &now[6..]), (&before[..3], &before[3..]));
    assert_eq!(
        draft.steps().nth(4).unwrap().title,
        "Carrier power: channel 19, FM"
    );
    sound(&draft);
    write(&mut draft, |table| {
        table.rows.headings = "1\n20\n40".to_owned()
    });
    assert_eq!(ids(&draft), before);
    sound(&draft);
}

#[test]
fn headings_of_what_is_read_bring_their_units() {
    let draft = with_table("dBc", |table| {
        table.title = "Harmonics".to_owned();
        table.rows.sets = Sets::Control("Analyser frequency".to_owned());
        table.rows.headings = "54.37 MHz, 81.555 MHz".to_owned();
        table.columns.sets = Sets::Reading;
        table.columns.headings = "Frequency (MHz)\nLevel (dBc) = at most -60 dBc".to_owned();
    });
    let procedure = sound(&draft);
    let read: Vec<_> = procedure
        .steps()
        .map(|step| {
            (
                step.title.clone(),
                step.work.gauge().unwrap().scale.symbol(),
                step.work.target().is_some(),
            )
        })
        .collect();
    let cell = |title: &str, unit: &str, limited| {
        (format!("Harmonics: {title}"), unit.to_owned(), limited)
    };
    assert_eq!(read[0], cell("54.37 MHz, Frequency", "MHz", false));
    assert_eq!(read[3], cell("81.555 MHz, Level", "dBc", true));
    assert_eq!(
        procedure.steps().next().unwrap().set_up.controls[0].to,
        "54.37 MHz"
    );
}

#[test]
fn a_published_table_is_typed_again_as_it_is() {
    for draft in [power(), response()] {
        let procedure = sound(&draft);
        for sign in [Point, Comma] {
            let again = Draft::of(&procedure, sign);
            let (read, unread) = again.read(sign);
            assert_eq!(unread, []);
            assert_eq!(
                (&read.tables, &read.sections),
                (&procedure.tables, &procedure.sections)
            );
        }
        let again = Draft::of(&procedure, Point);
        assert_eq!(again.tables[0].from, draft.tables[0].from);
        let mut more = again.clone();
        write(&mut more, |table| table.rows.headings.push_str("\nlast"));
        let fresh = more.steps().last().expect("a new row");
        assert_eq!(fresh.target.kind, again.steps().last().unwrap().target.kind);
        assert_eq!(
            fresh.target.value.is_empty(),
            again.steps().last().unwrap().target.value.is_empty()
        );
    }
    let text = serde_json::to_string(&power()).expect("JSON");
    assert_eq!(serde_json::from_str::<Draft>(&text).expect("JSON"), power());
}

#[test]
fn a_procedure_without_tables_says_nothing_of_them() {
    let text = serde_json::to_string(&support::procedure()).expect("JSON");
    assert!(!text.contains("tables"));
}

type Change = fn(&mut Procedure);

#[test]
fn what_is_wrong_with_a_table_is_said_at_its_field() {
    let whole = sound(&power());
    let changes: [(Change, Field, &str); 9] = [
        (|p| p.tables[0].title.clear(), Field::Title, "no title"),
        (
            |p| p.tables[0].rows.names[1] = "1".to_owned(),
            Field::Rows,
            "two rows are called “1”",
        ),
        (
            |p| p.tables[0].columns.names[1].clear(),
            Field::Columns,
            "has no heading",
        ),
        (
            |p| p.tables[0].columns.sets = Sets::State,
            Field::Columns,
            "“AM” is no state",
        ),
        (
            |p| drop(p.tables[0].cells.pop()),
            Field::Cells,
            "don't fit its 3 rows and 3 columns",
        ),
        (
            |p| p.tables[0].cells[0][0] = Some(id("nowhere")),
            Field::Cells,
            "isn't there",
        ),
        (
            |p| p.tables[0].cells[0][0] = p.tables[0].cells[1][1].clone(),
            Field::Cells,
            "two of its cells",
        ),
        (
            |p| p.sections[0].steps.swap(0, 4),
            Field::Cells,
            "put them in order",
        ),
        (
            |p| p.sections[0].steps[2].work = halfturn::procedure::Work::Tick,
            Field::Cells,
            "step 3, which takes no plain reading",
        ),
    ];
    for (change, field, part) in changes {
        let mut changed = whole.clone();
        change(&mut changed);
        let found = faults(&changed);
        let here = found
            .iter()
            .find(|fault| (fault.place.clone(), fault.field) == (Place::Table(1), field));
        assert!(
            here.is_some_and(|fault| fault.sentence.contains(part)),
            "{part}: {found:?}"
        );
    }
}

#[test]
fn a_limit_that_cant_be_read_is_said_beside_it() {
    let mut draft = power();
    write(&mut draft, |table| table.limit = "plenty".to_owned());
    let said = remarks(&draft, &[], Point);
    let here = said
        .iter()
        .find(|r| (r.place.clone(), r.field) == (Place::Table(1), Field::Limit));
    assert!(
        here.is_some_and(|remark| remark.gravity == Gravity::Fault),
        "{said:?}"
    );
    let mut one_end = response();
    write(&mut one_end, |table| {
        table.limit = "at least -3 dB".to_owned()
    });
    let said = remarks(&one_end, &[], Point);
    assert!(
        said.iter().any(|r| r.sentence.contains("has one end only")),
        "{said:?}"
    );
}

#[test]
fn only_cells_of_one_table_may_be_counted_from_a_later_reading() {
    let procedure = sound(&response());
    let mut apart = procedure.clone();
    apart.tables.clear();
    assert!(
        faults(&apart)
            .iter()
            .all(|fault| fault.sentence.contains("does not come before it"))
    );
    assert_eq!(faults(&apart).len(), 2);
    let mut round = procedure.clone();
    let target = |to: &str| match round.sections[0].steps[0].work.target().unwrap().clone() {
        Target::Relative {
            offset,
            below,
            above,
            ..
        } => Target::Relative {
            to: id(to),
            offset,
            below,
            above,
        },
        other => other,
    };
    let (first, third) = (procedure.steps().next().unwrap().id.clone(), 2);
    let new = target(first.as_str());
    if let halfturn::procedure::Work::Read { target, .. } = &mut round.sections[0].steps[third].work
    {
        *target = Some(new);
    }
    assert!(!faults(&round).is_empty(), "two that wait for each other");
}

#[test]
fn a_step_taken_away_leaves_its_cell_free_and_the_last_one_takes_the_table_along() {
    let mut draft = power();
    let first = draft.tables[0].cells[0][0].clone().expect("a step");
    edit::remove_step(&mut draft, &first);
    assert_eq!(draft.tables[0].cells[0][0], None);
    sound(&draft);
    for id in draft
        .steps()
        .map(|step| step.id.clone())
        .collect::<Vec<_>>()
    {
        edit::remove_step(&mut draft, &id);
    }
    assert_eq!(draft.tables, []);
}

#[test]
fn a_table_that_is_let_go_leaves_its_steps_and_one_taken_away_does_not() {
    let mut draft = power();
    edit::dissolve_table(&mut draft, 0);
    assert_eq!((draft.tables.len(), draft.steps().count()), (0, 9));
    let mut draft = power();
    edit::remove_table(&mut draft, 0);
    assert_eq!((draft.tables.len(), draft.steps().count()), (0, 0));
}

#[test]
fn steps_that_were_moved_apart_are_put_in_order_again() {
    let mut draft = power();
    let last = draft.steps().last().unwrap().id.clone();
    edit::add_section(&mut draft, "Further");
    edit::move_step(&mut draft, &last, 0, 0);
    let (procedure, _) = draft.read(Point);
    assert!(
        faults(&procedure)
            .iter()
            .any(|fault| fault.field == Field::Cells)
    );
    edit::gather_table(&mut draft, 0);
    sound(&draft);
}

#[test]
fn differences_name_the_table_and_its_headings() {
    let was = sound(&power());
    let lines = |is: &Procedure| {
        let all = differences(&was, is, DecimalSign::Point);
        all.iter()
            .map(|difference| difference.line())
            .collect::<Vec<_>>()
    };
    let mut draft = power();
    write(&mut draft, |table| {
        table.columns.headings = "AM, FM".to_owned()
    });
    let said = lines(&sound(&draft));
    assert!(
        said.contains(&"Table “Carrier power”: Channel 1, 20, 40 by Mode AM, FM, CW → Channel 1, 20, 40 by Mode AM, FM".to_owned()),
        "{said:?}"
    );
    let mut gone = was.clone();
    gone.tables.clear();
    assert_eq!(lines(&gone), ["Table “Carrier power” removed"]);
    assert_eq!(
        differences(&gone, &was, Point)[0].line(),
        "Table “Carrier power” added: Channel 1, 20, 40 by Mode AM, FM, CW"
    );
}

#[test]
fn a_cell_is_spoken_by_its_row_and_column() {
    let procedure = sound(&power());
    let step = procedure.steps().nth(4).unwrap();
    let said = spoken(&procedure, step, None);
    assert!(
        said.starts_with("Step 5. Carrier power: channel 20, FM. Mode: FM."),
        "{said}"
    );
}

// At the bench.

fn at(number: usize, procedure: &Procedure) -> Id {
    procedure
        .steps()
        .nth(number - 1)
        .expect("a step")
        .id
        .clone()
}

/// A job on a procedure in which the steps of these numbers were read.
fn worked(procedure: &Procedure, readings: &[(usize, Phase, &str)]) -> Job {
    let readings = readings.iter().map(|(number, phase, value)| Deed::Reading {
        step: at(*number, procedure),
        phase: *phase,
        value: q(value),
        tool: None,
        repeat: false,
        heard: None,
    });
    let deeds = std::iter::once(Deed::Opened(Box::default())).chain(readings);
    let mut log = Log::default();
    for (number, deed) in deeds.enumerate() {
        log.append(stamp(number), deed);
    }
    Job {
        id: id("job"),
        procedure: Arc::new(procedure.clone()),
        log,
    }
}

fn next(job: &Job, after: usize) -> Option<usize> {
    let progress = job.progress();
    let next = progress.next_cell(&job.procedure.tables[0], &at(after, &job.procedure))?;
    job.procedure.number_of(&next)
}

const FOUND: Phase = Phase::AsFound;
const LEFT: Phase = Phase::AsLeft;

#[test]
fn an_inside_reading_leads_to_the_next_open_cell_and_an_outside_one_holds() {
    let procedure = sound(&power());
    assert_eq!(next(&worked(&procedure, &[(1, FOUND, "4 W")]), 1), Some(2));
    assert_eq!(next(&worked(&procedure, &[(1, FOUND, "3 W")]), 1), None);
    let skips = worked(&procedure, &[(2, FOUND, "4 W"), (1, FOUND, "4 W")]);
    assert_eq!(next(&skips, 1), Some(3));
    let mended = worked(&procedure, &[(1, FOUND, "3 W"), (1, LEFT, "4 W")]);
    assert_eq!(next(&mended, 1), Some(2));
    let wraps = worked(&procedure, &[(1, FOUND, "3 W"), (9, FOUND, "4 W")]);
    assert_eq!(next(&wraps, 9), Some(1));
    let all: Vec<_> = (1..=9).map(|number| (number, FOUND, "4 W")).collect();
    assert_eq!(next(&worked(&procedure, &all), 9), None);
}

#[test]
fn a_table_is_walked_a_second_time_as_it_was_the_first() {
    let procedure = sound(&power());
    let all: Vec<_> = (1..=9).map(|number| (number, FOUND, "4 W")).collect();
    let then = |more: &[(usize, Phase, &'static str)]| {
        let readings: Vec<_> = all.iter().chain(more).copied().collect();
        worked(&procedure, &readings)
    };
    assert_eq!(next(&then(&[(1, LEFT, "4.1 W")]), 1), Some(2));
    assert_eq!(next(&then(&[(1, LEFT, "3 W")]), 1), None, "outside holds");
    assert_eq!(
        next(&then(&[(9, LEFT, "4.1 W")]), 9),
        None,
        "the last one ends it"
    );
    // The last that was owed, put right: it was none of a second walk.
    let mended = then(&[(5, LEFT, "3 W"), (5, LEFT, "4 W")]);
    assert_eq!(next(&mended, 5), None);
}

#[test]
fn a_table_is_done_when_each_of_its_cells_is() {
    let procedure = sound(&power());
    let standing = |readings: &[(usize, Phase, &str)]| {
        let job = worked(&procedure, readings);
        let standing = job.progress().table(&job.procedure.tables[0]);
        (
            standing.done + standing.waived,
            standing.cells,
            standing.status,
        )
    };
    assert_eq!(standing(&[(1, FOUND, "4 W")]), (1, 9, Status::Open));
    assert_eq!(
        standing(&[(1, FOUND, "4 W"), (5, FOUND, "1 W")]),
        (1, 9, Status::Outside)
    );
    let all: Vec<_> = (1..=9).map(|number| (number, FOUND, "4 W")).collect();
    assert_eq!(standing(&all), (9, 9, Status::Done));
}

#[test]
fn what_is_counted_from_a_cell_waits_for_it_and_is_judged_then() {
    let procedure = sound(&response());
    let before = worked(&procedure, &[(1, FOUND, "-5 dB")]);
    let first = &before.progress().steps[0];
    assert!(first.waits_for_its_target());
    assert_eq!(
        next(&before, 1),
        Some(2),
        "a reading that waits holds nobody"
    );
    let judged = worked(
        &procedure,
        &[
            (1, FOUND, "-5 dB"),
            (2, FOUND, "-1 dB"),
            (3, FOUND, "0 dB"),
            (4, FOUND, "0.5 dB"),
            (5, FOUND, "-2 dB"),
        ],
    );
    let states: Vec<_> = judged
        .progress()
        .steps
        .iter()
        .map(|step| step.status)
        .collect();
    assert_eq!(
        states,
        [
            Status::Outside,
            Status::Done,
            Status::Done,
            Status::Done,
            Status::Done
        ]
    );
    assert_eq!(next(&judged, 5), Some(1), "the one outside is left to do");
}

// On the sheet and in the table of readings.

fn sheet(job: &Job) -> String {
    let page = html::fragment(&Report::of(job, &[], &look()));
    page.replace('\u{a0}', " ")
        .replace(['\u{2068}', '\u{2069}'], "")
}

/// What is said, without what it is said in.
fn without_tags(html: &str) -> String {
    let said = html
        .split('<')
        .map(|piece| piece.split_once('>').map_or(piece, |(_, text)| text));
    said.collect()
}

#[test]
fn the_sheet_prints_a_table_with_its_conditions_once_and_found_and_left_each() {
    let mut draft = power();
    edit::change_cells(&mut draft, 0, |step| {
        step.supply = "13.8 V".to_owned();
        step.controls = "Squelch: open".to_owned();
    });
    let last = draft.tables[0].cells[2][2].clone().expect("a cell");
    for step in draft.steps_mut().filter(|step| step.id == last) {
        step.supply = "11.7 V".to_owned();
    }
    let procedure = sound(&draft);
    let job = worked(
        &procedure,
        &[
            (1, FOUND, "3.1 W"),
            (1, LEFT, "4.2 W"),
            (2, FOUND, "3.9 W"),
            (9, FOUND, "3.6 W"),
        ],
    );
    let sheet = sheet(&job);
    let from = sheet.find("report-matrix").expect("a table");
    let table = &sheet[from..from + sheet[from..].find("</table>").expect("its end")];
    assert!(
        without_tags(table).contains("Carrier power: steps 1 to 9; SK1 · meter; Supply 13.8 V, Squelch open, where a cell says nothing else; at least 3.5 W"),
        "{table}"
    );
    for heading in [
        "<th scope=\"col\">Channel</th>",
        "<th scope=\"col\">FM</th>",
        "<bdi>20</bdi>",
    ] {
        assert!(table.contains(heading), "{heading}: {table}");
    }
    assert!(
        table.contains("<strong><bdi>4.2 W</bdi></strong>") || table.contains("<bdi>4.2 W</bdi>"),
        "{table}"
    );
    assert!(table.contains("found 3.1 W"), "{table}");
    assert_eq!(table.matches("Supply 11.7 V").count(), 1, "{table}");
    assert_eq!(
        table.matches("not read").count() + table.matches("not taken").count(),
        6,
        "{table}"
    );
    assert!(
        !sheet.contains("class=\"report-readings\""),
        "the cells stand in no second table"
    );
    assert!(
        !sheet.contains("class=\"response\""),
        "channels are no numbers to draw over"
    );
}

#[test]
fn the_sheet_draws_a_table_whose_headings_are_numbers() {
    let procedure = sound(&response());
    let readings = [
        (1, FOUND, "-5 dB"),
        (2, FOUND, "-1 dB"),
        (3, FOUND, "0 dB"),
        (4, FOUND, "0.5 dB"),
        (5, FOUND, "-2 dB"),
    ];
    let job = worked(&procedure, &readings);
    let sheet = sheet(&job);
    assert!(
        sheet.contains("aria-label=\"Audio response in dB over generator frequency: 5 points, 1 outside; the figures are in the table\""),
        "{sheet}"
    );
    assert_eq!(sheet.matches("l9 16h-18z").count(), 1);
    assert!(sheet.contains(">300 Hz</text>") && sheet.contains(">3000 Hz</text>"));
}

#[test]
fn conditions_stand_beside_every_single_reading() {
    let mut draft = power();
    edit::dissolve_table(&mut draft, 0);
    let procedure = sound(&draft);
    let job = worked(&procedure, &[(5, FOUND, "4.0 W")]);
    let sheet = sheet(&job);
    assert!(
        sheet.contains("5 · SK1 · meter; Mode FM, Channel 20"),
        "{sheet}"
    );
}

#[test]
fn the_table_of_readings_names_the_conditions_and_the_place_of_each() {
    let mut draft = power();
    edit::change_cells(&mut draft, 0, |step| {
        step.supply = "13.8 V".to_owned();
        step.controls = "Squelch: open\nClarifier: centre".to_owned();
        step.signal = Some(Signal::Tx);
    });
    let job = worked(&sound(&draft), &[(5, FOUND, "4.0 W"), (5, LEFT, "4.1 W")]);
    let text = csv::readings(&job, &look());
    let mut reader = ::csv::Reader::from_reader(text.trim_start_matches('\u{feff}').as_bytes());
    let names = reader.headers().expect("headings").clone();
    let rows: Vec<_> = reader.records().map(|row| row.expect("a row")).collect();
    assert_eq!(rows.len(), 2);
    for row in &rows {
        let cell = |name: &str| &row[names.iter().position(|it| it == name).expect(name)];
        assert_eq!(
            [
                "mode", "channel", "state", "supply", "controls", "table", "row", "column"
            ]
            .map(cell),
            [
                "FM",
                "20",
                "TX",
                "13.8 V",
                "Squelch: open; Clarifier: centre",
                "Carrier power",
                "20",
                "FM"
            ]
        );
    }
}

// What is said once for a whole table.

fn kit(record: serde_json::Value) -> UsedInstrument {
    let record: Instrument = serde_json::from_value(record).expect("an instrument");
    UsedInstrument {
        role: id(&record.role),
        name: record.name.clone(),
        record: Some(record),
    }
}

/// Two modes on two channels behind a pad, its path and settings typed once for all.
fn behind_a_pad() -> Draft {
    let mut draft = with_table("W", |table| {
        table.title = "Power".to_owned();
        table.rows.headings = "1\n40".to_owned();
        table.columns.headings = "AM, FM".to_owned();
        table.limit = "20 W ± 1 dB".to_owned();
    });
    edit::add(&mut draft, List::Instruments, "pad").expect("an instrument");
    edit::change_cells(&mut draft, 0, |step| {
        step.path = "pad".to_owned();
        step.into = "50 Ω".to_owned();
        step.settings
            .insert(Setting::Load, "50 Ω, 100 W".to_owned());
    });
    draft
}

// Check: 13.0 dBm behind 30 dB are 20.0 W; U = 1.96·P·ln 10/10·√(0.5²/3 + 0.1²/12 + 0.3²/3) dB
// Source: product of power ratios; JCGM 100:2008, 5.1.2 and 5.1.3
// Known by: closed form
#[test]
fn the_path_and_the_settings_of_a_table_reach_each_reading_of_it() {
    let mut draft = behind_a_pad();
    // A row that comes later goes through it too.
    write(&mut draft, |table| {
        table.rows.headings = "1\n20\n40".to_owned()
    });
    let procedure = sound(&draft);
    assert_eq!(procedure.steps().count(), 6);
    assert!(procedure.steps().all(|step| {
        let gauge = step.work.gauge().expect("it reads");
        gauge.through() == [id("pad")] && gauge.into == Some(q("50 Ω"))
    }));
    let kit = vec![
        kit(serde_json::json!({
            "role": "meter", "name": "Club level meter",
            "ranges": [{"full-scale": "20 dBm", "resolution": "0.1 dB", "accuracy": {"absolute": "0.5 dB"}}],
        })),
        kit(serde_json::json!({
            "role": "pad", "name": "Club pad",
            "loss": {"by": "30 dB", "within": {"amount": "0.3 dB"}},
        })),
    ];
    let header = Header {
        instruments: kit,
        ..Header::default()
    };
    let mut log = Log::default();
    log.append(stamp(0), Deed::Opened(Box::new(header)));
    let mut job = Job {
        id: id("job"),
        procedure: Arc::new(procedure),
        log,
    };
    let steps: Vec<Id> = job.procedure.steps().map(|step| step.id.clone()).collect();
    for (number, step) in steps.into_iter().enumerate() {
        let deed = Deed::Reading {
            step,
            phase: Phase::AsFound,
            value: q("13.0 dBm"),
            tool: None,
            repeat: false,
            heard: None,
        };
        job.record(stamp(number + 1), deed).expect("it is taken");
    }
    let slope = 19.952_623_149_7 * 10f64.ln() / 10.0;
    let due = 1.96 * slope * ((0.25f64 + 0.09) / 3.0 + 0.01 / 12.0).sqrt();
    for standing in &job.progress().steps {
        let left = standing.left.as_ref().expect("a result");
        assert_eq!(left.judged.to_string(), "20.0 W");
        let proof = left.proof.as_ref().expect("it is proved");
        assert!(
            (proof.budget.expanded / due - 1.0).abs() < 1e-3,
            "{}",
            proof.budget.expanded
        );
    }
    let sheet = sheet(&job);
    assert!(
        without_tags(&sheet)
            .contains("Power: steps 1 to 6; SK1 · meter, through pad, into 50 Ω; Load 50 Ω, 100 W"),
        "{sheet}"
    );
    assert_eq!(
        sheet.matches("indicated 13.0 dBm, Club pad +30 dB").count(),
        6,
        "{sheet}"
    );
    let table = csv::readings(&job, &look());
    let mut reader = ::csv::Reader::from_reader(table.trim_start_matches('\u{feff}').as_bytes());
    let head = reader.headers().expect("headings").clone();
    let place = |name: &str| head.iter().position(|it| it == name).expect("a column");
    for row in reader.records() {
        let row = row.expect("a row");
        assert_eq!(
            row[place("correction")].replace('\u{a0}', " "),
            "Club pad +30 dB"
        );
        assert_eq!(&row[place("load")], "50 Ω, 100 W");
    }
}

#[test]
fn headings_can_set_generator_analyser_and_load() {
    let mut draft = response();
    let tone = Setting::ModulationTone;
    write(&mut draft, |table| table.rows.sets = Sets::Setting(tone));
    let procedure = sound(&draft);
    let set: Vec<_> = procedure
        .steps()
        .map(|step| step.set_up.settings.get(&tone).cloned())
        .collect();
    assert_eq!(set[0].as_deref(), Some("300 Hz"));
    assert_eq!(set[4].as_deref(), Some("3000 Hz"));
    assert!(
        procedure
            .steps()
            .all(|step| step.set_up.controls.is_empty())
    );
    assert!(!edit::is_left_to_all(
        &draft.tables[0],
        &Sets::Setting(tone)
    ));
    assert!(edit::is_left_to_all(
        &draft.tables[0],
        &Sets::Setting(Setting::Load)
    ));
    let text = serde_json::to_string(&procedure).expect("a text");
    assert_eq!(
        serde_json::from_str::<Procedure>(&text).expect("a procedure"),
        procedure
    );
    // What another heading sets later is not left behind, and what is typed for all stays.
    edit::change_cells(&mut draft, 0, |step| {
        step.settings.insert(Setting::Load, "8 Ω".to_owned());
    });
    write(&mut draft, |table| {
        table.rows.sets = Sets::Setting(Setting::GeneratorFrequency)
    });
    let procedure = sound(&draft);
    for step in procedure.steps() {
        assert_eq!(step.set_up.settings.len(), 2, "{:?}", step.set_up.settings);
        assert_eq!(step.set_up.settings[&Setting::Load], "8 Ω");
    }
    let plot = halfturn::exchange::report::Report::of(
        &worked(
            &procedure,
            &[(1, Phase::AsFound, "-1 dB"), (3, Phase::AsFound, "0 dB")],
        ),
        &[],
        &look(),
    );
    assert!(html::fragment(&plot).contains("over generator frequency"));
}
