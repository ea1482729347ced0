//! Everything that follows from a procedure and a log.

use crate::job::entries::remains::remains;
use crate::job::fold::judging::known::Readings;
use crate::job::fold::judging::put_back;
use crate::job::fold::standing::group::Read;
use crate::job::fold::standing::noted::{Answer, Changed, Note, SignOff};
use crate::job::fold::standing::pins::PinTaken;
use crate::job::fold::standing::second::CrossReading;
use crate::job::fold::standing::status::Status;
use crate::job::fold::standing::step::StepProgress;
use crate::job::fold::standing::taken::{Struck, Taken};
use crate::job::fold::standing::whole::Progress;
use crate::job::records::heard::sounds;
use crate::job::records::{papers, photos};
use crate::job::{
    Change, Course, Dealings, Deed, Event, Fault, FaultRecord, Header, InForce, Log, Outcome,
    Trace, UsedInstrument,
};
use crate::procedure::{Id, Procedure, Step};
use std::collections::HashMap;
use std::sync::Arc;

impl Progress {
    /// Folds the log over the procedure that the job was started with.
    pub fn of(procedure: &Arc<Procedure>, log: &Log) -> Self {
        Progress::fold(procedure, log, None)
    }

    /// The same, where it is known what followed from the log before something was added: what is
    /// still so of its readings is not worked out again.
    pub fn after(&self, procedure: &Arc<Procedure>, log: &Log) -> Self {
        Progress::fold(procedure, log, Some(self))
    }

    fn fold(started: &Arc<Procedure>, log: &Log, before: Option<&Progress>) -> Self {
        let undone = log.undone();
        let counting = || {
            let all = log.events().enumerate();
            all.filter(|(_, event)| !undone.contains(&event.id))
        };
        let adds = || {
            counting()
                .map(|(_, event)| event)
                .filter(|it| it.did.adds_steps())
        };
        let course = before
            .map(|before| &before.course)
            .filter(|known| known.is_of(started, adds().map(|event| &event.id)))
            .cloned();
        let course = course.unwrap_or_else(|| Course::from_events(started, adds()));
        let procedure = &course.procedure.clone();
        let mut progress = Progress::blank(course);
        let places: HashMap<Id, usize> = progress
            .steps
            .iter()
            .enumerate()
            .map(|(index, step)| (step.id.clone(), index))
            .collect();
        let mut known: Vec<Readings> = (0..progress.steps.len())
            .map(|place| Readings::of(before, place))
            .collect();
        for (order, event) in counting() {
            progress.take(order, event);
            let index = event.did.step().and_then(|id| places.get(id));
            if let Some(&index) = index {
                progress.steps[index].take(order, event, &mut known[index]);
            }
        }
        progress.instruments.settle();
        if let Some(before) = before {
            progress.instruments.keep(&before.instruments);
        }
        progress.damaged = remains(log);
        progress.span = log
            .events()
            .next()
            .zip(log.events().next_back())
            .map(|(first, last)| (first.at, last.at));
        progress.judge(procedure, before);
        progress
    }

    fn blank(course: Course) -> Self {
        let steps = course
            .procedure
            .steps()
            .enumerate()
            .map(|(index, step)| StepProgress::blank(step, index + 1))
            .collect();
        Progress {
            header: Header::default(),
            instruments: InForce::default(),
            papers: course.procedure.papers.clone(),
            course,
            steps,
            notes: Vec::new(),
            signed_off: None,
            ended_before: Vec::new(),
            reopened: Vec::new(),
            span: None,
            off: Vec::new(),
            changes: Vec::new(),
            dealings: Dealings::default(),
            faults: Vec::new(),
            traces: Vec::new(),
            mended: None,
            photos: Vec::new(),
            sounds: Vec::new(),
            damaged: Vec::new(),
            paused: Vec::new(),
        }
    }

    fn take(&mut self, order: usize, event: &Event) {
        let was_away = self.collected().is_some();
        self.dealings.take(event);
        match &event.did {
            Deed::Opened(header) | Deed::Amended(header) => {
                self.instruments.state(header, order);
                self.header = Header::clone(header);
            }
            Deed::MeasuredWith { instrument } => {
                self.instruments.take_up(order, instrument);
                self.header
                    .use_instrument(UsedInstrument::clone(instrument));
            }
            Deed::Reading {
                step,
                value,
                heard: Some(heard),
                ..
            } => {
                let step = self.course.procedure.step(step);
                if let Some(gauge) = step.and_then(|step| step.work.gauge()) {
                    self.instruments.hear(order, &gauge.with, heard, value);
                }
            }
            Deed::Noted { step: None, text } => self.notes.push(Note {
                text: text.clone(),
                at: event.at,
                order,
            }),
            Deed::Paused => self.paused.push((order, event.at)),
            Deed::PathNoted { .. } | Deed::Looked { .. } => {
                Trace::take(&mut self.traces, order, event);
            }
            Deed::Changed {
                first,
                step,
                change,
            } => {
                // One that is put right was made then.
                if first.is_none() {
                    self.mended = Some(order);
                }
                let name = first.as_ref().unwrap_or(&event.id);
                let known = self.changes.iter_mut().find(|it| it.name == *name);
                let change = Change::clone(change);
                match known {
                    // When it was done, and in which step, stays.
                    Some(known) => known.change = change,
                    None => self.changes.push(Changed {
                        name: name.clone(),
                        step: step.clone(),
                        change,
                        at: event.at,
                    }),
                }
            }
            Deed::FaultNoted { first, record } => {
                if record.outcome == Outcome::Cured {
                    self.mended = Some(order);
                }
                let name = first.as_ref().unwrap_or(&event.id);
                let known = self.faults.iter_mut().find(|fault| fault.name == *name);
                let now = Fault {
                    name: name.clone(),
                    record: FaultRecord::clone(record),
                    at: event.at,
                };
                match known {
                    Some(known) => *known = now,
                    None => self.faults.push(now),
                }
            }
            Deed::TakenOff { .. } | Deed::PutBack { .. } | Deed::StaysOff { .. } => {
                put_back::take(&mut self.off, order, event);
            }
            Deed::Photographed { .. } | Deed::PhotoRemoved { .. } => {
                photos::take(&mut self.photos, event);
            }
            Deed::SoundKept { .. } | Deed::SoundRemoved { .. } => {
                sounds::take(&mut self.sounds, event);
            }
            Deed::PaperKept { .. } | Deed::PaperChanged { .. } => {
                papers::take(&mut self.papers, event);
            }
            Deed::SignedOff { by, remarks } => {
                self.signed_off = Some(SignOff {
                    by: by.clone(),
                    remarks: remarks.clone(),
                    at: event.at,
                    order,
                });
            }
            Deed::Reopened { reason } => {
                // The set was away: nobody knows what became of what a stop had confirmed.
                if was_away {
                    self.paused.push((order, event.at));
                }
                self.ended_before.extend(self.signed_off.take());
                self.reopened.push(Note {
                    text: reason.clone(),
                    at: event.at,
                    order,
                });
            }
            _ => {}
        }
    }
}

impl StepProgress {
    fn blank(step: &Step, number: usize) -> Self {
        StepProgress {
            id: step.id.clone(),
            number,
            status: Status::Open,
            behind: None,
            tolerance: None,
            readings: Vec::new(),
            found: None,
            left: None,
            struck: Vec::new(),
            settling: None,
            cross: None,
            pins: Vec::new(),
            pins_before: Vec::new(),
            wiring: Vec::new(),
            pins_taken: Vec::new(),
            wait_begun: None,
            wait_order: None,
            holds: false,
            look_again: None,
            ticked: None,
            ticked_order: None,
            passes: None,
            passes_begun: Vec::new(),
            touched: None,
            worked: None,
            last_worked: None,
            answer: None,
            waived: None,
            notes: Vec::new(),
        }
    }

    fn take(&mut self, order: usize, event: &Event, known: &mut Readings) {
        let note = |text: &String| Note {
            text: text.clone(),
            at: event.at,
            order,
        };
        if matches!(
            event.did,
            Deed::Reading { .. }
                | Deed::Ticked { .. }
                | Deed::Answered { .. }
                | Deed::PinRead { .. }
        ) {
            self.worked.get_or_insert(order);
            self.last_worked = Some(order);
        }
        match &event.did {
            Deed::Reading {
                phase,
                value,
                tool,
                repeat,
                heard,
                ..
            } => {
                // A new reading speaks for itself: the reason was given for the old state.
                self.waived = None;
                self.touched = Some(order);
                let is_it = |taken: &&Arc<Taken>| {
                    let said = (&taken.event, taken.at, taken.phase, &taken.value);
                    said == (&event.id, event.at, *phase, value)
                        && (taken.tool, taken.repeat, &taken.heard) == (*tool, *repeat, heard)
                };
                let taken = known.at(order).filter(is_it).cloned();
                self.readings.push(taken.unwrap_or_else(|| {
                    Arc::new(Taken {
                        event: event.id.clone(),
                        at: event.at,
                        phase: *phase,
                        value: value.clone(),
                        corrected: value.clone(),
                        right: value.base(),
                        verdict: None,
                        tool: *tool,
                        repeat: *repeat,
                        heard: heard.clone(),
                        with: None,
                        way: None,
                        order,
                    })
                }));
            }
            Deed::Struck {
                reading, reason, ..
            } => self.strike(reading, reason, event.at),
            Deed::CrossRead { value, .. } => {
                self.cross = Some(CrossReading {
                    event: event.id.clone(),
                    read: Read::with(None, value.clone()),
                    order,
                    opinion: None,
                });
            }
            Deed::PinRead {
                pin, state, value, ..
            } => self.pins_taken.push(PinTaken {
                event: event.id.clone(),
                at: event.at,
                order,
                pin: pin.clone(),
                state: state.clone(),
                value: value.clone(),
            }),
            Deed::WaitBegun { .. } => {
                self.wait_begun = Some(event.at);
                self.wait_order = Some(order);
            }
            Deed::PassBegun { .. } => {
                // The reason was given for the passes before.
                self.waived = None;
                self.passes_begun.push((order, event.at));
            }
            Deed::Ticked { .. } => {
                self.ticked = Some(event.at);
                self.ticked_order = Some(order);
            }
            Deed::Answered {
                answer, note: text, ..
            } => {
                self.answer = Some(Answer {
                    finding: *answer,
                    note: text.clone(),
                    at: event.at,
                });
            }
            Deed::Noted { text, .. } => self.notes.push(note(text)),
            Deed::Waived { reason, .. } => {
                self.touched = Some(order);
                self.waived = Some(note(reason));
            }
            _ => {}
        }
    }

    /// Sets a reading apart as a slip. The first that repeats it then stands for itself.
    fn strike(&mut self, reading: &Id, reason: &str, at: i64) {
        if let Some(index) = self.readings.iter().position(|t| t.event == *reading) {
            let taken = self.readings.remove(index);
            if let Some(next) = self.readings.get_mut(index)
                && next.repeat
                && !taken.repeat
            {
                Arc::make_mut(next).repeat = false;
            }
            self.struck.push(Struck {
                taken: Arc::unwrap_or_clone(taken).unjudged(),
                reason: reason.to_owned(),
                at,
            });
        }
    }
}
