//! The sheet in a few sentences: what was wrong, what was changed, what was set, and what is
//! outside and why.

pub(in crate::exchange::report) mod result;

use crate::exchange::report::section::faults;
use crate::exchange::report::sheet::Source;
use crate::exchange::report::words;
use crate::job::{Finding, Off, OffState, Status, StepProgress};
use crate::metrology::Verdict;
use crate::metrology::inference::drift::Steadiness;
use crate::procedure::{Step, Work};

/// The sentences, in that order.
pub fn sentences(source: &Source) -> Vec<String> {
    let fault = source.progress.header.fault.trim();
    let fault = (!fault.is_empty()).then(|| words::came_with(fault));
    fault
        .into_iter()
        .chain(faults::answer(source))
        .chain(by_eye(source))
        .chain(as_found(source))
        .chain(changed(source))
        .chain(set(source))
        .chain(as_left(source))
        .chain(doubted(source))
        .chain(unsettled(source))
        .chain(sockets(source))
        .chain(left_out(source))
        .collect()
}

fn steps<'a>(source: &'a Source) -> impl Iterator<Item = (&'a Step, &'a StepProgress)> {
    source
        .progress
        .course
        .procedure
        .steps()
        .zip(&source.progress.steps)
}

/// The steps whose readings say something of the set: what a stop waits for doesn't.
fn measured<'a>(source: &'a Source) -> impl Iterator<Item = (&'a Step, &'a StepProgress)> {
    steps(source).filter(|(step, _)| !step.work.is_stop())
}

fn by_eye(source: &Source) -> Option<String> {
    let things: Vec<String> = steps(source)
        .filter_map(|(step, standing)| {
            let answer = standing.answer.as_ref()?;
            (answer.finding != Finding::Sound).then(|| words::finding(&step.title, answer.finding))
        })
        .collect();
    (!things.is_empty()).then(|| words::found_by_eye(&things))
}

fn as_found(source: &Source) -> Option<String> {
    let sign = source.look.sign;
    let judged = measured(source).filter(|(_, standing)| {
        let found = standing.found.as_ref();
        found.is_some_and(|found| found.verdict.is_some())
    });
    let outside: Vec<String> = measured(source)
        .filter_map(|(step, standing)| Some((step, standing.found_outside()?)))
        .map(|(step, verdict)| words::off_by(&step.title, &verdict.margin_words(sign)))
        .collect();
    let judged = judged.count();
    (judged > 0).then(|| words::found_outside(outside.len(), judged, &outside))
}

/// What was fitted or changed, each with what it took the place of.
pub fn changes(source: &Source) -> Vec<String> {
    let fitted = steps(source).filter_map(|(step, standing)| match &step.work {
        Work::Fit(part) if source.is_fitted_unlisted(standing) => {
            Some(words::swapped(&part.out, &part.fitted))
        }
        _ => None,
    });
    let noted = source.progress.changes.iter();
    let noted = noted.map(|changed| words::swapped(&changed.change.out, &changed.change.fitted));
    fitted.chain(noted).collect()
}

fn changed(source: &Source) -> Option<String> {
    let things = changes(source);
    (!things.is_empty()).then(|| words::changed(&things))
}

/// Adjustments that moved a reading.
fn set(source: &Source) -> Option<String> {
    let sign = source.look.sign;
    let things: Vec<String> = steps(source)
        .filter(|(step, _)| step.work.adjuster().is_some())
        .filter_map(|(step, standing)| {
            let found = &standing.found.as_ref()?.value;
            let left = &standing.left.as_ref()?.value;
            (found.base() != left.base())
                .then(|| words::moved(&step.title, &found.typeset(sign), &left.typeset(sign)))
        })
        .collect();
    (!things.is_empty()).then(|| words::set(things.len(), &things))
}

/// The readings that were judged as left.
pub fn left<'a>(
    source: &'a Source,
) -> impl Iterator<Item = (&'a Step, &'a StepProgress, &'a Verdict)> {
    measured(source).filter_map(|(step, standing)| {
        Some((step, standing, standing.left.as_ref()?.verdict.as_ref()?))
    })
}

fn as_left(source: &Source) -> Vec<String> {
    let sign = source.look.sign;
    let judged: Vec<_> = left(source).collect();
    let outside = judged.iter().filter(|(_, _, verdict)| !verdict.is_inside());
    let mut said: Vec<String> = outside
        .map(|(step, standing, verdict)| {
            let why = standing.waived.as_ref().map(|note| note.text.as_str());
            words::left_outside(&step.title, &verdict.margin_words(sign), why)
        })
        .collect();
    if said.is_empty() && !judged.is_empty() {
        said.push(words::left_inside(judged.len()));
    }
    let unproved: Vec<String> = judged
        .iter()
        .filter(|(_, standing, _)| standing.status == Status::Unproved)
        .map(|(step, ..)| crate::exchange::report::typed(&step.title))
        .collect();
    if !unproved.is_empty() {
        said.push(words::left_unproved(&unproved));
    }
    said
}

/// Readings that their second route speaks against.
fn doubted(source: &Source) -> Option<String> {
    let said = |(step, standing): (&Step, &StepProgress)| {
        let opinion = standing.spoken_against()?;
        Some(words::doubted(&step.title, opinion))
    };
    let doubted: Vec<String> = steps(source).filter_map(said).collect();
    (!doubted.is_empty()).then(|| words::second_route_against(&doubted))
}

/// Readings whose drift is to be watched, and that did not settle or did not show it.
fn unsettled(source: &Source) -> Vec<String> {
    let said = |(step, standing): (&Step, &StepProgress)| {
        let settling = standing.settling.as_ref()?.as_ref().ok();
        match settling.map(|settled| settled.steadiness) {
            Some(Steadiness::Settled) => None,
            Some(Steadiness::Drifting) => Some(words::not_settled(&step.title)),
            Some(Steadiness::Unsure) | None => Some(words::settling_not_shown(&step.title)),
        }
    };
    steps(source).filter_map(said).collect()
}

/// What is wrong on the pins of sockets that were begun, and what was not measured.
fn sockets(source: &Source) -> Vec<String> {
    steps(source)
        .filter(|(_, standing)| !standing.pins.is_empty() || standing.ticked.is_some())
        .filter_map(|(step, standing)| match &step.work {
            Work::Socket(socket) if !standing.wiring.is_empty() => {
                let open = words::open_on_socket(&standing.wiring);
                Some(words::on_socket(&socket.name, &open))
            }
            _ => None,
        })
        .collect()
}

fn left_out(source: &Source) -> Vec<String> {
    let waived: Vec<String> = steps(source)
        .filter(|(_, standing)| standing.status == Status::Waived)
        .map(|(step, _)| crate::exchange::report::typed(&step.title))
        .collect();
    let off = |wanted: fn(&OffState) -> bool| -> Vec<String> {
        let listed = source.progress.off.iter().filter(|off| wanted(&off.state));
        listed
            .map(|off: &Off| crate::exchange::report::typed(&off.item.what))
            .collect()
    };
    let stays = off(|state| matches!(state, OffState::StaysOff(_)));
    let still = off(|state| matches!(state, OffState::Off));
    let owed = source.progress.owed().count();
    [
        (!waived.is_empty()).then(|| words::waived(&waived)),
        (!stays.is_empty()).then(|| words::stays_off(&stays)),
        (!still.is_empty()).then(|| words::still_off(&still)),
        (owed > 0).then(|| words::owed(owed)),
    ]
    .into_iter()
    .flatten()
    .collect()
}
