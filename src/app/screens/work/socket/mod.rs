//! A socket's wiring sheet: what each pin carries, what is due on it, and what was measured.

mod face;

use crate::app::platform::device;
use crate::app::screens::work::step::{At, Lead, Shown, closed};
use crate::app::ui::{Keypad, NumberField, capitalised};
use crate::app::words::shared;
use crate::app::words::work::socket as words;
use crate::exchange::report;
use crate::job::{Deed, PinReading, Progress, SocketFault, StepProgress};
use crate::metrology::Tolerance;
use crate::procedure::{Id, Pin, Socket, Work};
use crate::quantity::{self, DecimalSign, Scale, Unit};
use leptos::html::Input;
use leptos::prelude::*;

/// A pin in a state of the set.
type Cell = (Id, Id);

/// The sheet with the entry of its readings.
#[derive(Clone, Copy)]
struct Desk {
    at: At,
    socket: StoredValue<Socket>,
    /// The cell that is measured next.
    cell: RwSignal<Option<Cell>>,
    scale: RwSignal<Scale>,
    error: RwSignal<Option<String>>,
    field: NodeRef<Input>,
}

impl Desk {
    /// Something of where the step stands.
    fn standing<T>(self, find: impl FnOnce(&StepProgress) -> T) -> Option<T> {
        self.at
            .standing
            .with(|standing| standing.as_ref().map(find))
    }

    fn expected(self, cell: &Cell) -> Option<Tolerance> {
        self.socket
            .with_value(|socket| socket.expected(&cell.0, &cell.1).cloned())
    }

    fn choose(self, cell: Option<Cell>) {
        if let Some(tolerance) = cell.as_ref().and_then(|cell| self.expected(cell)) {
            self.scale.set(scale_of(&tolerance));
        }
        self.error.set(None);
        self.cell.set(cell);
    }

    /// The first cell from here on, and around, that has no reading.
    fn next_cell(self, from: Option<&Cell>) -> Option<Cell> {
        let is_read = |cell: &Cell| {
            let read = self.standing(|standing| standing.pin(&cell.0, &cell.1).is_some());
            read.unwrap_or(false)
        };
        let cells = self.socket.with_value(cells);
        let start = from
            .and_then(|from| cells.iter().position(|cell| cell == from))
            .unwrap_or(0);
        let (before, after) = cells.split_at(start);
        let mut all = after.iter().chain(before);
        untrack(|| all.find(|cell| !is_read(cell)).cloned())
    }

    fn enter(self) {
        let Some(cell) = self.cell.get_untracked() else {
            return;
        };
        let sign = untrack(|| self.at.bench.sign());
        let text = self.at.typed.get_untracked();
        match quantity::read(&text, self.scale.get_untracked(), sign) {
            Ok(value) => {
                let (pin, state) = cell.clone();
                let taken = self.at.record(|step| Deed::PinRead {
                    step,
                    pin,
                    state,
                    value,
                });
                if taken {
                    self.at.typed.set(String::new());
                    self.choose(self.next_cell(Some(&cell)).or(Some(cell)));
                }
            }
            Err(error) => self.error.set(Some(error.to_string())),
        }
    }
}

/// All cells, state by state: the set is brought into a state once.
fn cells(socket: &Socket) -> Vec<Cell> {
    let mut all = Vec::new();
    for state in socket.states() {
        let due = |pin: &&Pin| pin.expects.iter().any(|e| e.state == *state);
        for pin in socket.pins.iter().filter(due) {
            all.push((pin.pin.clone(), state.clone()));
        }
    }
    all
}

/// The scale in which a reading is most likely typed: that of its target.
fn scale_of(tolerance: &Tolerance) -> Scale {
    match tolerance {
        Tolerance::Around { nominal, .. } => nominal.scale,
        Tolerance::AtLeast(limit) | Tolerance::AtMost(limit) => limit.scale,
        Tolerance::Between { high, .. } => high.scale,
    }
}

/// The wiring sheet of the step in front.
pub fn sheet(at: At, socket: Socket, done: impl IntoView + 'static) -> Shown {
    let desk = Desk {
        at,
        socket: StoredValue::new(socket),
        cell: RwSignal::new(None),
        scale: RwSignal::new(Scale::plain(Unit::VoltDc)),
        error: RwSignal::new(None),
        field: NodeRef::new(),
    };
    let first = desk
        .socket
        .with_value(|socket| cells(socket).first().cloned());
    desk.choose(desk.next_cell(None).or(first));
    Effect::new(move |_| {
        at.typed.track();
        desk.error.set(None);
    });
    // Also when it comes back after a stop was confirmed again.
    Effect::new(move |_| {
        if let Some(field) = desk.field.get() {
            device::focus_in_place(&field);
        }
    });
    at.entered_by(move || desk.enter());
    let sheet = view! {
        <section class="answer reading socket">
            {move || desk.at.standing.with(|it| desk.socket.with_value(|socket| face::face(socket, it.as_ref())))}
            {move || table(desk)}
            {move || said(desk)}
            {closed(at)}
        </section>
        {done}
    };
    let dock = view! { <Show when=move || at.is_open()>{entry(desk)}</Show> };
    Shown::with_dock(sheet, dock)
}

fn table(desk: Desk) -> impl IntoView {
    let standing = desk.at.standing.get();
    let sign = desk.at.bench.sign();
    let is_open = desk.at.is_open();
    desk.socket.with_value(|socket| {
        let faults = standing.as_ref().map(|s| s.wiring.clone()).unwrap_or_default();
        let states: Vec<Id> = socket.states().into_iter().cloned().collect();
        let heads = states
            .iter()
            .map(|state| view! { <th scope="col">{state.to_string()}</th> })
            .collect_view();
        let rows = socket
            .pins
            .iter()
            .map(|pin| {
                let cells = states
                    .iter()
                    .map(|state| {
                        let cell = (pin.pin.clone(), state.clone());
                        let read = standing.as_ref().and_then(|s| s.pin(&cell.0, &cell.1).cloned());
                        let due = socket.expected(&cell.0, &cell.1).cloned();
                        view! { <td>{due.map(|due| key(desk, cell, due, read, sign, is_open))}</td> }
                    })
                    .collect_view();
                let details = [pin.from.as_str(), pin.colour.as_str()];
                let details: Vec<&str> = details.into_iter().filter(|t| !t.is_empty()).collect();
                view! {
                    <tr>
                        <th scope="row">
                            <span class="socket-pin">{pin.pin.to_string()}</span>
                        </th>
                        <td>
                            <strong>{pin.signal.clone()}</strong>
                            <span class="hint">{shared::list(&details)}</span>
                            {suspicion(&faults, &pin.pin)}
                        </td>
                        {cells}
                    </tr>
                }
            })
            .collect_view();
        view! {
            <div class="wiring">
                <table>
                    <caption>{words::caption(&socket.name)}</caption>
                    <thead><tr><th scope="col">{words::PIN}</th><th scope="col">{words::LINE}</th>{heads}</tr></thead>
                    <tbody>{rows}</tbody>
                </table>
            </div>
        }
    })
}

/// A word beside a pin whose line looks wrong.
fn suspicion(faults: &[SocketFault], pin: &Id) -> Option<impl IntoView + use<>> {
    let word = faults.iter().find_map(|fault| match fault {
        SocketFault::Swapped(a, b) if a == pin || b == pin => Some(words::SWAPPED),
        SocketFault::Missing(other) if other == pin => Some(words::MISSING),
        _ => None,
    });
    word.map(|word| view! { <strong class="suspect">{word}</strong> })
}

/// What is due and what was measured, as the key that leads to the entry.
fn key(
    desk: Desk,
    cell: Cell,
    due: Tolerance,
    read: Option<PinReading>,
    sign: DecimalSign,
    is_open: bool,
) -> impl IntoView + use<> {
    let place = words::place(cell.0.as_str(), cell.1.as_str());
    let due_words = words::due(&due.typeset(sign));
    let (measured, verdict, inside) = match &read {
        None => (words::NOT_YET.to_owned(), None, true),
        Some(read) => {
            let (said, inside) = judged(read, sign);
            (read.result.value.typeset(sign), Some(said), inside)
        }
    };
    let this = cell.clone();
    let chosen = move || desk.cell.with(|at| at.as_ref() == Some(&this));
    let choose = move |_| {
        desk.choose(Some(cell.clone()));
        if let Some(field) = desk.field.get_untracked() {
            let _ = field.focus();
        }
    };
    view! {
        <button type="button" class="socket-key" class:socket-outside=!inside disabled=!is_open
            aria-pressed=move || chosen().to_string() on:click=choose>
            <span><span class="unseen">{place}</span>{due_words}</span>
            <strong>{measured}</strong>
            <span>{verdict}</span>
        </button>
    }
}

/// The verdict in words, and whether it is inside.
fn judged(read: &PinReading, sign: DecimalSign) -> (String, bool) {
    match &read.result.verdict {
        None => (words::OTHER_UNIT.to_owned(), false),
        Some(verdict) => (verdict.words(sign), verdict.is_inside()),
    }
}

/// What the readings say of the wiring.
fn said(desk: Desk) -> impl IntoView {
    let faults = desk.standing(|s| s.wiring.clone()).unwrap_or_default();
    let wrong: Vec<String> = faults
        .iter()
        .filter(|fault| fault.is_wrong())
        .map(SocketFault::sentence)
        .collect();
    let rest = words::still_to_read(faults.len() - wrong.len(), wrong.is_empty());
    view! {
        <div class="wiring-said" role="status">
            {wrong.into_iter().map(|text| view! { <p class="wiring-fault">{text}</p> }).collect_view()}
            <p>{rest}</p>
        </div>
    }
}

fn entry(desk: Desk) -> impl IntoView {
    let at = desk.at;
    let field = desk.field;
    let place = move || {
        let cell = desk.cell.get();
        cell.map_or(String::new(), |(pin, state)| {
            words::place_in_hand(pin.as_str(), state.as_str())
        })
    };
    let due = move || {
        let cell = desk.cell.get()?;
        Some(desk.expected(&cell)?.typeset(at.bench.sign()))
    };
    let label = move || {
        let unit = desk.scale.get().spoken();
        words::reading(&unit, &place(), &due().unwrap_or_default())
    };
    let unit = Memo::new(move |_| desk.scale.get().unit);
    view! {
        <form class="dock" on:submit=move |event| { event.prevent_default(); desk.enter() }>
            <div class="dock-field">
                <p><strong>{move || capitalised(&place())}</strong>{move || words::and_due(&due().unwrap_or_default())}</p>
                <NumberField text=at.typed scale=desk.scale error=desk.error field label/>
            </div>
            {move || {
                unit.track();
                view! { <Keypad text=at.typed scale=desk.scale sign=at.bench.sign()
                    quiet=Signal::derive(move || at.leads() != Lead::Enter) on_enter=move || desk.enter()/> }
            }}
        </form>
    }
}

/// What was found on the sockets of a job, each in a line or two.
pub fn summary(progress: &Progress) -> Option<impl IntoView + use<>> {
    let procedure = &progress.course.procedure;
    let rows: Vec<_> = procedure
        .steps()
        .zip(&progress.steps)
        .filter_map(|(step, standing)| {
            let Work::Socket(socket) = &step.work else {
                return None;
            };
            let is_open = |fault: &&SocketFault| !fault.is_wrong();
            let unread = standing.wiring.iter().filter(is_open).count();
            let taken = standing.pins.len();
            let open = report::words::open_on_socket(&standing.wiring);
            let found = words::found(taken, taken + unread, &open);
            Some(view! {
                <li>
                    <span><strong>{socket.name.clone()}</strong>{words::in_step(standing.number)}</span>
                    <span class="soft">{found}</span>
                </li>
            })
        })
        .collect();
    (!rows.is_empty()).then(|| {
        view! {
            <h2>{words::SOCKETS}</h2>
            <ul class="pairs">{rows.into_iter().collect_view()}</ul>
        }
    })
}
