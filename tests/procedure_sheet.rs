//! The sheet of a procedure says all that a procedure says, in its order, whatever was typed.

use halfturn::exchange::report::{Part, Section, html, procedure::Sheet, words};
use halfturn::exchange::{Starter, demo, starters};
use halfturn::procedure::{Procedure, Work};
use halfturn::quantity::DecimalSign::{Comma, Point};

/// The demo and every starter.
fn all() -> Vec<Procedure> {
    let starters = starters(Point).into_iter();
    let starters = starters.map(|Starter { draft, .. }| draft.read(Point).0);
    starters.chain([demo::procedure().unwrap()]).collect()
}

/// Figures as one reads them: what keeps a column's decimal signs under each other and a figure with
/// its unit on one line is only how they are set.
fn in_one_piece(text: &str) -> String {
    without(&without(text, "whole"), "unbroken")
}

fn without(text: &str, class: &str) -> String {
    let tag = format!("<span class=\"{class}");
    let mut parts = text.split(&tag);
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |read, part| {
        let (_, inside) = part.split_once('>').expect("a tag ends");
        read + &inside.replacen("</span>", "", 1)
    })
}

/// What stands on a page, without what only the page's order needs.
fn shown(sheet: &Sheet) -> String {
    let text = in_one_piece(&html::procedure(sheet));
    let text = text.replace(['\u{2068}', '\u{2069}', '\u{2060}'], "");
    text.replace('\u{a0}', " ")
}

fn escaped(text: &str) -> String {
    let text = text
        .replace('\u{a0}', " ")
        .replace('&', "&amp;")
        .replace('<', "&lt;");
    text.replace('>', "&gt;")
        .replace('"', "&quot;")
        .replace('\'', "&#39;")
}

#[test]
fn everything_that_a_step_says_stands_on_its_sheet() {
    for procedure in all() {
        let sheet = shown(&Sheet::of(&procedure, Point));
        let holds = |text: &str, what: &str| {
            assert!(
                sheet.contains(&escaped(text)),
                "{}: {what}: {text}",
                procedure.title
            );
        };
        procedure
            .cautions
            .iter()
            .for_each(|text| holds(text, "caution"));
        for step in procedure.steps() {
            holds(&step.title, "title");
            holds(&step.text, "text");
            step.cautions
                .iter()
                .for_each(|text| holds(text, "caution of a step"));
            for (name, value) in step.set_up.lines() {
                holds(&format!("{name} {value}"), "set-up");
            }
            if let Some(gauge) = step.work.gauge() {
                holds(gauge.at.as_str(), "test point");
                holds(gauge.with.as_str(), "instrument");
            }
            if let Some(adjuster) = step.work.adjuster() {
                holds(&format!("Adjust {adjuster}"), "adjuster");
            }
            if let Some(target) = step.work.target() {
                holds(
                    &target.typeset(Point, |id| procedure.number_of(id)),
                    "limits",
                );
            }
            let off = step.takes_off.iter();
            off.for_each(|item| {
                holds(&item.what, "what comes off");
                holds(&item.place, "where it belongs");
                holds(&item.orientation, "which way round it sits");
            });
            if let Some(check) = &step.cross_check {
                holds(&check.text, "the cross-check");
            }
            // A stop asks for the size of its figure, which is said as it is stated.
            let known = procedure.tolerance(step, |_| None);
            if let Some(Ok(known)) = known.filter(|_| !step.work.is_stop()) {
                holds(&known.typeset(Point), "the figure that is asked");
            }
            match &step.work {
                Work::Stop { confirm, .. } => {
                    holds(confirm, "what is confirmed");
                    holds("Nothing below before this is confirmed", "what it closes");
                }
                Work::Fit(change) => holds(&change.fitted, "part"),
                Work::Wire(lead) => holds(&lead.to, "lead"),
                Work::Socket(socket) => {
                    for expected in socket.pins.iter().flat_map(|pin| &pin.expects) {
                        holds(&expected.tolerance.typeset(Point), "pin");
                    }
                }
                _ => {}
            }
        }
    }
}

#[test]
fn the_steps_stand_in_their_order_with_room_for_what_is_read() {
    let procedure = demo::procedure().unwrap();
    let sheet = Sheet::of(&procedure, Point);
    let steps: Vec<&Section> = sheet
        .sections
        .iter()
        .filter(|it| it.title == words::STEPS)
        .collect();
    let [Section { parts, .. }] = steps[..] else {
        panic!("one section of steps")
    };
    let rows: Vec<_> = parts
        .iter()
        .flat_map(|part| match part {
            Part::Table(table) => table.rows.clone(),
            _ => Vec::new(),
        })
        .collect();
    assert_eq!(rows.len(), procedure.steps().count());
    for (number, row) in (1..).zip(&rows) {
        assert!(row[0].text.starts_with(&number.to_string()), "{:?}", row[0]);
        let room: Vec<&str> = row[3..].iter().map(|cell| cell.text.as_str()).collect();
        assert_eq!(room, ["", ""]);
    }
}

#[test]
fn what_was_typed_is_text_and_numbers_have_the_sign_in_use() {
    let mut procedure = demo::procedure().unwrap();
    procedure.title = "<b>Trainer</b> & \"club\"".to_owned();
    let sheet = shown(&Sheet::of(&procedure, Comma));
    assert!(
        sheet.contains("<h1><bdi>&lt;b&gt;Trainer"),
        "{}",
        &sheet[..300]
    );
    assert!(!sheet.contains("<b>Trainer"));
    let rule = procedure
        .steps()
        .find_map(|step| step.work.target())
        .unwrap();
    assert!(sheet.contains(&escaped(&rule.typeset(Comma, |id| procedure.number_of(id)))));
}

#[test]
fn a_sheet_names_the_very_revision_that_it_shows() {
    let procedure = demo::procedure().unwrap();
    let other = Procedure {
        covers: "others".to_owned(),
        ..procedure.clone()
    };
    let sheets = [&procedure, &other].map(|it| Sheet::of(it, Point));
    assert_eq!(sheets[0].digest, procedure.digest());
    assert_ne!(sheets[0].digest, sheets[1].digest);
}
