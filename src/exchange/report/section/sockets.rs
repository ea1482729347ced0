//! What was measured on the pins of sockets.

use crate::exchange::report::section::readings::statement;
use crate::exchange::report::section::sections::steps;
use crate::exchange::report::sheet::Source;
use crate::exchange::report::text::typed;
use crate::exchange::report::{Cell, Part, Section, Table, words};
use crate::job::{Group, StepProgress};
use crate::procedure::{Socket, Work};

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

fn pins(source: &Source, socket: &Socket, standing: &StepProgress) -> Table {
    let sign = source.look.sign;
    let rows = socket.pins.iter().flat_map(|pin| {
        pin.expects.iter().map(move |expected| {
            let result = standing
                .pin(&pin.pin, &expected.state)
                .map(|read| &read.result);
            let verdict = match result {
                None => Cell::of(words::NONE),
                Some(result) => pin_verdict(source, result),
            };
            vec![
                Cell::of(typed(pin.pin.as_str())).with(typed(&pin.signal)),
                Cell::of(typed(expected.state.as_str())),
                Cell::of(expected.tolerance.typeset(sign)),
                Cell::of(result.map_or(words::NOT_READ.to_owned(), |r| r.value.typeset(sign)))
                    .strong_if(result.is_none()),
                verdict,
            ]
        })
    });
    let columns = [
        words::PIN,
        words::STATE,
        words::TARGET,
        words::LEFT,
        words::VERDICT,
    ];
    Table {
        caption: typed(&socket.name),
        ..Table::new("plain", &columns).with_rows(rows)
    }
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
