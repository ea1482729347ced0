//! The sheet in a few sentences: what was wrong, what was changed, what was set, and what is
//! outside and why.

pub(in crate::exchange::report) mod result;

use crate::exchange::report::section::faults;
use crate::exchange::report::sheet::Source;
use crate::exchange::report::words;
use crate::job::{Finding, Group, Off, OffState, PinReading, Status, StepProgress};
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

/// A reading that was judged: that of a step, or one on a pin of its socket.
pub struct Judged<'a> {
    pub step: &'a Step,
    pub standing: &'a StepProgress,
    pub pin: Option<&'a PinReading>,
    pub verdict: &'a Verdict,
}

impl<'a> Judged<'a> {
    fn of(
        (step, standing): (&'a Step, &'a StepProgress),
        pin: Option<&'a PinReading>,
        result: &'a Group,
    ) -> Option<Self> {
        Some(Judged {
            step,
            standing,
            pin,
            verdict: result.verdict.as_ref()?,
        })
    }

    /// What was read.
    fn title(&self) -> String {
        match (self.pin, &self.step.work) {
            (Some(it), Work::Socket(socket)) => {
                words::on_pin(&socket.name, it.pin.as_str(), it.state.as_str())
            }
            _ => self.step.title.clone(),
        }
    }

    /// Whether it is inside and the rule does not accept it for all that.
    pub fn is_not_shown(&self, source: &Source) -> bool {
        match self.pin {
            Some(pin) => {
                let accepted = pin.result.is_accepted_by(&source.progress.header.rule);
                self.verdict.is_inside() && !accepted
            }
            None => self.standing.status == Status::Unproved,
        }
    }
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
    let of_steps = measured(source).filter_map(|(step, standing)| {
        let found = standing.found.as_ref()?.verdict.as_ref()?;
        let outside = standing.found_outside();
        Some((step.title.clone(), outside.or(Some(found))?))
    });
    let of_pins = measured(source).flat_map(|(step, standing)| {
        let pins = standing.pins.iter();
        pins.filter_map(move |pin| {
            let first = standing.pin_found(&pin.pin, &pin.state)?;
            let found = Judged::of((step, standing), Some(first), &first.result)?;
            Some((found.title(), found.verdict))
        })
    });
    let judged: Vec<(String, &Verdict)> = of_steps.chain(of_pins).collect();
    let outside = judged.iter().filter(|(_, verdict)| !verdict.is_inside());
    let outside: Vec<String> = outside
        .map(|(title, verdict)| words::off_by(title, &verdict.margin_words(sign)))
        .collect();
    let count = judged.len();
    (count > 0).then(|| words::found_outside(outside.len(), count, &outside))
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
pub fn left<'a>(source: &'a Source) -> impl Iterator<Item = Judged<'a>> {
    measured(source).flat_map(|(step, standing)| {
        let of_step = standing.as_left();
        let of_step = of_step.and_then(|left| Judged::of((step, standing), None, left));
        let of_pins = standing.pins.iter();
        let of_pins =
            of_pins.filter_map(move |pin| Judged::of((step, standing), Some(pin), &pin.result));
        of_step.into_iter().chain(of_pins)
    })
}

/// The steps that were read outside and are not left so. One of a socket is told by its pins.
pub fn open_outside<'a>(source: &'a Source) -> impl Iterator<Item = (&'a Step, &'a StepProgress)> {
    let is_told = |standing: &StepProgress| {
        let mut left = left(source).filter(|it| it.standing.id == standing.id);
        left.any(|it| it.pin.is_none() || !it.verdict.is_inside())
    };
    let steps = steps(source).filter(|(_, it)| it.status == Status::Outside);
    steps.filter(move |(_, it)| !is_told(it))
}

fn as_left(source: &Source) -> Vec<String> {
    let sign = source.look.sign;
    let judged: Vec<Judged> = left(source).collect();
    let outside = || judged.iter().filter(|it| !it.verdict.is_inside());
    // What is wrong on a pin is said of its socket.
    let of_steps = outside().filter(|it| it.pin.is_none());
    let mut said: Vec<String> = of_steps
        .map(|it| {
            let why = it.standing.waived.as_ref().map(|note| note.text.as_str());
            words::left_outside(&it.step.title, &it.verdict.margin_words(sign), why)
        })
        .collect();
    let open: Vec<String> = open_outside(source)
        .filter_map(|(step, standing)| {
            let verdict = standing.found_outside().or(standing
                .left
                .as_ref()
                .and_then(|left| left.verdict.as_ref()));
            Some(words::off_by(&step.title, &verdict?.margin_words(sign)))
        })
        .collect();
    if outside().next().is_none() && !judged.is_empty() {
        said.push(words::left_inside(judged.len(), open.is_empty()));
    }
    said.extend((!open.is_empty()).then(|| words::outside_and_open(&open)));
    let not_shown = judged.iter().filter(|it| it.is_not_shown(source));
    let not_shown: Vec<String> = not_shown
        .map(|it| crate::exchange::report::typed(&it.title()))
        .collect();
    if !not_shown.is_empty() {
        said.push(words::left_unproved(&not_shown));
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
