//! What was measured on the pins of sockets.

use crate::exchange::report::section::readings::{named_instrument, statement};
use crate::exchange::report::section::sections::steps;
use crate::exchange::report::sheet::Source;
use crate::exchange::report::text::typed;
use crate::exchange::report::{Cell, Part, Section, Table, words};
use crate::job::{Group, StepProgress};
use crate::procedure::{Expectation, Id, Pin, Socket, Work};

/// What was measured on the pins of sockets.
pub fn sockets(source: &Source) -> Option<Section> {
    let tables: Vec<Part> = steps(source)
        .filter_map(|(step, standing)| match &step.work {
            Work::Socket(socket) if !standing.pins.is_empty() || standing.ticked.is_some() => {
                Some(Part::Table(pins(source, socket, standing)))
            }
            _ => None,
        })
        .collect();
    (!tables.is_empty()).then(|| Section {
        parts: tables,
        ..Section::new(words::SOCKETS)
    })
}

/// A row for each pin and a column for each state of the set.
fn pins(source: &Source, socket: &Socket, standing: &StepProgress) -> Table {
    let mut states: Vec<&Id> = Vec::new();
    for expected in socket.pins.iter().flat_map(|pin| &pin.expects) {
        if !states.contains(&&expected.state) {
            states.push(&expected.state);
        }
    }
    let rows = socket.pins.iter().filter(|pin| !pin.expects.is_empty());
    let rows = rows.map(|pin| {
        let name = Cell::of(typed(pin.pin.as_str())).with(typed(&pin.signal));
        let read = states.iter().map(|state| {
            let expected = pin.expects.iter().find(|it| it.state == **state);
            expected.map_or_else(Cell::default, |expected| {
                pin_in_state(source, (socket, standing), pin, expected)
            })
        });
        std::iter::once(name).chain(read).collect()
    });
    let columns = std::iter::once(words::PIN.to_owned());
    let columns = columns.chain(states.iter().map(|state| typed(state.as_str())));
    Table {
        caption: typed(&socket.name),
        lead: words::pins_left(
            &words::steps(standing.number, standing.number),
            socket.with.as_str(),
        ),
        columns: columns.collect(),
        ..Table::new("plain", &[]).with_rows(rows)
    }
}

/// What a pin was left at in a state, and below it what is due, what the rule says, and what was found
/// where that is another reading.
fn pin_in_state(
    source: &Source,
    (socket, standing): (&Socket, &StepProgress),
    pin: &Pin,
    due: &Expectation,
) -> Cell {
    let sign = source.look.sign;
    let limits = due.tolerance.typeset(sign);
    let Some(left) = standing.pin(&pin.pin, &due.state) else {
        return Cell::of(words::NOT_READ).with(limits).strong_if(true);
    };
    let result = &left.result;
    let verdict = pin_verdict(source, result);
    let found = standing.pin_found(&pin.pin, &due.state);
    let found = found.filter(|found| found.event != left.event);
    let found = found.map(|found| found_on(source, &found.result));
    let with = named_instrument(source, &socket.with, result);
    let said = [limits, verdict.text, verdict.below].into_iter();
    let said = said.chain(found).chain(with);
    let said: Vec<String> = said.filter(|text| !text.is_empty()).collect();
    Cell::of(result.value.typeset(sign))
        .with(said.join("; "))
        .strong_if(verdict.strong)
}

/// What was read on a pin before, and how far inside or outside that was.
fn found_on(source: &Source, found: &Group) -> String {
    let sign = source.look.sign;
    let margin = found.verdict.as_ref().map(|it| it.margin_words(sign));
    words::found_at(&found.value.typeset(sign), &margin.unwrap_or_default())
}

/// What the rule says of a pin's reading, with its uncertainty.
fn pin_verdict(source: &Source, result: &Group) -> Cell {
    if result.verdict.is_none() {
        return Cell::of(words::OTHER_UNIT).strong_if(true);
    }
    let (word, strong) = statement(result);
    let expanded = result.proof.as_ref().ok();
    let expanded = expanded.map(|proof| words::with_u(&proof.expanded.typeset(source.look.sign)));
    Cell::of(word)
        .with(expanded.unwrap_or_default())
        .strong_if(strong)
}
