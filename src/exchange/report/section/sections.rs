//! The smaller parts of the sheet: what was inspected, changed, put back, waived, noted, and
//! what it was measured with and held against.

use crate::exchange::of_damaged;
use crate::exchange::report::sheet::{Source, dated};
use crate::exchange::report::text::{balanced, typed};
use crate::exchange::report::{Cell, Part, Section, Table, plot, words};
use crate::job::{Break, Ended, Status, StepProgress, UsedInstrument};
use crate::procedure::{Id, Step, Work};
use crate::quantity::ended;

pub(in crate::exchange::report) fn steps<'a>(
    source: &'a Source,
) -> impl Iterator<Item = (&'a Step, &'a StepProgress)> {
    source
        .progress
        .course
        .procedure
        .steps()
        .zip(&source.progress.steps)
}

/// A step by its number and title.
pub(in crate::exchange::report) fn step_cell(step: &Step, standing: &StepProgress) -> Cell {
    Cell::of(format!("{} · {}", standing.number, typed(&step.title)))
}

/// Drifting readings over time.
pub fn drifts(source: &Source) -> Option<Section> {
    let sign = source.look.sign;
    let parts: Vec<Part> = steps(source)
        .filter_map(|(step, standing)| {
            let settled = standing.settling.as_ref()?.as_ref().ok()?;
            let per_minute = &step.settles.as_ref()?.per_minute;
            let limit = per_minute.typeset(sign);
            let drifting = plot::Drifting {
                settled,
                per_minute,
                tolerance: standing.known_tolerance(),
                scale: step.work.gauge()?.scale,
            };
            let judged = words::drift(
                settled.steadiness,
                &settled.slope.typeset(sign),
                &settled.expanded.typeset(sign),
                &limit,
            );
            Some(Part::Picture {
                svg: plot::drift(&drifting, sign),
                caption: words::off_by(&step.title, &judged),
            })
        })
        .collect();
    (!parts.is_empty()).then(|| Section {
        lead: vec![words::DRIFT_KEY.to_owned()],
        parts,
        ..Section::new(words::DRIFT)
    })
}

/// Steps that give no reading: what was seen and done.
pub fn inspected(source: &Source) -> Option<Section> {
    let rows = steps(source).filter_map(|(step, standing)| {
        let (result, at, strong) = match (&standing.answer, standing.ticked) {
            (Some(answer), _) => {
                let strong = answer.finding != crate::job::Finding::Sound;
                (
                    words::answer(answer.finding, &answer.note),
                    answer.at,
                    strong,
                )
            }
            (None, Some(at)) if matches!(standing.status, Status::Lapsed | Status::WaitAgain) => {
                (words::LAPSED.to_owned(), at, true)
            }
            (None, Some(at)) => match standing.status {
                Status::Done | Status::Waived => {
                    let done = done(source, standing);
                    match standing.unwaited(step) {
                        Some(minutes) => (words::without_its_wait(&done, minutes), at, true),
                        None => (done, at, false),
                    }
                }
                status => (words::ticked_but(status), at, true),
            },
            (None, None) => return None,
        };
        let cells = vec![
            step_cell(step, standing),
            Cell::of(result).strong_if(strong),
        ];
        Some((cells, at))
    });
    let table = dated(source, "when", &[words::STEP, words::RESULT], rows);
    Section::of_table(words::INSPECTED, table)
}

/// That a step is done; of a stop with a reading, by which.
fn done(source: &Source, standing: &StepProgress) -> String {
    match &standing.left {
        Some(left) => words::confirmed_by(&left.judged.typeset(source.look.sign)),
        None => words::DONE.to_owned(),
    }
}

/// Parts that went in and came out, by the procedure and beside it.
pub fn changes(source: &Source) -> Option<Section> {
    let fitted = steps(source).filter_map(|(step, standing)| match &step.work {
        Work::Fit(part) if source.is_fitted_unlisted(standing) => Some(vec![
            step_cell(step, standing),
            Cell::of(balanced(&part.out)),
            Cell::of(balanced(&part.fitted)),
            Cell::of(balanced(&part.why)),
        ]),
        _ => None,
    });
    let noted = source.progress.changes.iter().map(|changed| {
        let change = &changed.change;
        let check = change.substitution.as_ref();
        let check = check.map(|check| words::checked(&balanced(&check.verdict(source.look.sign))));
        let found = changed.step.as_ref().and_then(|id| {
            let standing = source.progress.step(id)?;
            Some(step_cell(
                source.progress.course.procedure.step(id)?,
                standing,
            ))
        });
        vec![
            found.unwrap_or_else(|| Cell::of((source.look.when)(changed.at))),
            Cell::of(balanced(&change.out)),
            Cell::of(balanced(&change.fitted)).with(check.unwrap_or_default()),
            Cell::of(balanced(&change.why)).with(words::change_replies(change)),
        ]
    });
    let rows = fitted.chain(noted);
    let columns = [words::STEP, words::OUT, words::IN, words::WHY];
    Section::of_table(
        words::CHANGES,
        Table::new("plain", &columns).with_rows(rows),
    )
}

/// Everything that came off, and whether it is back.
pub fn put_back(source: &Source) -> Option<Section> {
    let rows = source.progress.off.iter().map(|off| {
        let details = [&off.item.place, &off.item.orientation, &off.item.note];
        let details: Vec<String> = details
            .into_iter()
            .filter(|text| !text.is_empty())
            .map(|text| typed(text))
            .collect();
        let open = off.state == crate::job::OffState::Off;
        vec![
            Cell::of(typed(&off.item.what)).with(details.join(", ")),
            Cell::of(words::off_state(&off.state)).strong_if(open),
        ]
    });
    let columns = [words::WHAT, words::STATE];
    Section::of_table(words::OFF, Table::new("off", &columns).with_rows(rows))
}

/// When the bench was left, and what became of the stops.
pub fn breaks(source: &Source) -> Option<Section> {
    let when = source.look.when;
    let breaks = crate::job::breaks(source.job, source.progress);
    let rows = breaks.iter().map(|pause| {
        let stops = words::sentences(&after_break(pause, when));
        vec![Cell::of(when(pause.at)), Cell::of(stops)]
    });
    let columns = [words::WHEN, words::WHAT];
    Section::of_table(words::BREAKS, Table::new("plain", &columns).with_rows(rows))
}

/// What became of the stops after a break, in sentences.
pub fn after_break(pause: &Break, when: impl Fn(i64) -> String) -> Vec<String> {
    if pause.ended.is_empty() {
        return vec![words::ENDED_NO_STOP.to_owned()];
    }
    let said = |ended: &Ended| {
        let again = ended.again.map(&when);
        words::stop_after_break(ended.stop, again.as_deref(), ended.worked)
    };
    pause.ended.iter().map(said).collect()
}

/// Steps left out or left outside on purpose.
pub fn waived(source: &Source) -> Option<Section> {
    let rows = steps(source)
        .filter(|(_, standing)| standing.status == Status::Waived)
        .filter_map(|(step, standing)| {
            let note = standing.waived.as_ref()?;
            let cells = vec![step_cell(step, standing), Cell::of(balanced(&note.text))];
            Some((cells, note.at))
        });
    let table = dated(source, "when", &[words::STEP, words::WHY], rows);
    Section::of_table(words::WAIVED, table)
}

/// What is left of entries that are not what their checks say, and how many are missing.
pub fn damaged(source: &Source) -> Option<Section> {
    let rows = source.progress.damaged.iter().map(|it| {
        let (place, said) = of_damaged(source.job, &it.left, source.look.sign);
        let set_aside = it.set_aside.as_ref().map(|set_aside| {
            let when = (source.look.when)(set_aside.at);
            words::set_aside(
                &balanced(&set_aside.by),
                &balanced(&set_aside.reason),
                &when,
            )
        });
        let set_aside = set_aside.unwrap_or_else(|| words::NONE.to_owned());
        vec![
            Cell::of(balanced(&place)),
            Cell::of(balanced(&said)),
            Cell::of(set_aside),
        ]
    });
    let columns = [words::STEP, words::READS_NOW, words::SET_ASIDE];
    let table = Table::new("plain", &columns).with_rows(rows);
    let missing = source.job.log.missing();
    let lead = (missing > 0).then(|| ended(words::missing(missing)));
    match (Section::of_table(words::DAMAGED, table), lead) {
        (section, None) => section,
        (section, Some(lead)) => Some(Section {
            lead: vec![lead],
            ..section.unwrap_or_else(|| Section::new(words::DAMAGED))
        }),
    }
}

/// What became of the job as a whole: instruments that were named afterwards, and its ends before
/// the last.
fn progress_notes(source: &Source) -> Vec<(i64, String)> {
    let progress = source.progress;
    let restated = progress.restated(&source.progress.course.procedure);
    let restated = restated.into_iter().map(|it| {
        let text = words::restated(it.role.as_str(), it.was.as_deref(), it.is.as_deref());
        let at = source.job.log.events().nth(it.said);
        (at.map_or(0, |event| event.at), text)
    });
    let ends = progress.ended_before.iter();
    let ends = ends.map(|end| (end.at, words::ended_before(&end.by, &end.remarks)));
    let reopened = progress.reopened.iter();
    let reopened = reopened.map(|note| (note.at, words::reopened(&note.text)));
    let home = progress.dealings.collected_before.iter();
    let home = home.map(|home| (home.at, words::collected_before(&home.by)));
    let left_out = progress.course.left_out.iter();
    let left_out = left_out.map(|it| (it.at, words::left_out(it)));
    let all = restated.chain(ends).chain(reopened).chain(home);
    let all = all.chain(left_out);
    let mut all: Vec<(i64, String)> = all.collect();
    all.sort_by_key(|(at, _)| *at);
    all
}

/// Remarks, and readings that were struck out.
pub fn notes(source: &Source) -> Option<Section> {
    let sign = source.look.sign;
    let of_job = source
        .progress
        .notes
        .iter()
        .map(|note| (note.at, Cell::of(words::NONE), balanced(&note.text)));
    let of_steps = steps(source).flat_map(|(step, standing)| {
        let notes = standing.notes.iter();
        let notes = notes.map(|note| (note.at, step_cell(step, standing), balanced(&note.text)));
        let struck = standing.struck.iter().map(move |it| {
            let text = words::struck(&it.taken.value.typeset(sign), &it.reason);
            (it.at, step_cell(step, standing), text)
        });
        notes.chain(struck)
    });
    let said = progress_notes(source);
    let of_job = of_job.chain(
        said.into_iter()
            .map(|(at, text)| (at, Cell::of(words::NONE), text)),
    );
    let rows = of_steps
        .chain(of_job)
        .map(|(at, step, text)| (vec![step, Cell::of(text)], at));
    let table = dated(source, "when", &[words::STEP, words::WHAT], rows);
    Section::of_table(words::NOTES, table)
}

/// What it was measured with, and how long that is good: what readings were taken with, and what
/// was named for a role in which none was.
pub fn instruments(source: &Source) -> Option<Section> {
    let measured = &source.measured_with;
    let is_read = |role: &Id| measured.iter().any(|it| it.role == *role);
    let read = measured.iter().map(|it| {
        let steps = source
            .is_shared(&it.role)
            .then(|| words::in_steps(&it.steps));
        let row = match &it.with {
            Some(used) => instrument(source, used, true, steps),
            None => not_named(&it.role, steps.unwrap_or_default()),
        };
        (&it.role, row)
    });
    let named = source.progress.header.instruments.iter();
    let named = named.filter(|used| !is_read(&used.role));
    let named = named.map(|used| (&used.role, instrument(source, used, false, None)));
    let mut rows: Vec<(&Id, Vec<Cell>)> = read.chain(named).collect();
    let places = &source.progress.header.instruments;
    let place = |role: &Id| places.iter().position(|used| used.role == *role);
    // Roles that nobody names now come last.
    rows.sort_by_key(|(role, _)| place(role).unwrap_or(places.len()));
    let rows = rows.into_iter().map(|(_, row)| row);
    let columns = [
        words::ROLE,
        words::INSTRUMENT,
        words::CALIBRATED,
        words::DUE,
    ];
    Section::of_table(
        words::INSTRUMENTS,
        Table::new("instruments", &columns).with_rows(rows),
    )
}

/// The instruments that were read with after their calibration had run out.
pub fn overdue<'a>(source: &'a Source) -> impl Iterator<Item = &'a UsedInstrument> {
    let read = source.measured_with.iter();
    let read = read.filter_map(|it| it.with.as_deref());
    read.filter(|used| is_overdue(source, used))
}

/// Whether the calibration had run out on the last day of the work.
fn is_overdue(source: &Source, used: &UsedInstrument) -> bool {
    let last = source.progress.span.map(|(_, last)| last);
    let last = last.and_then(|at| source.look.day_of(at));
    let record = used.record.as_ref();
    record
        .zip(last)
        .is_some_and(|(record, last)| record.is_overdue(last))
}

fn instrument(
    source: &Source,
    used: &UsedInstrument,
    is_read: bool,
    steps: Option<String>,
) -> Vec<Cell> {
    let record = used.record.as_ref();
    let day = source.look.day;
    let or_none = |text: Option<String>| text.unwrap_or_else(|| words::NONE.to_owned());
    let is_overdue = is_overdue(source, used);
    let due = record.and_then(|record| {
        let date = day(record.due?);
        Some(match is_overdue {
            true if is_read => words::overdue(&date),
            true => words::run_out(&date),
            false => date,
        })
    });
    let calibrated = record.and_then(|record| record.calibrated).map(day);
    let asset = record.map(|record| balanced(&record.asset));
    let unread = (!is_read).then(|| words::NOTHING_READ.to_owned());
    let below: Vec<String> = asset
        .into_iter()
        .chain(steps)
        .chain(unread)
        .filter(|it| !it.is_empty())
        .collect();
    vec![
        Cell::of(typed(used.role.as_str())),
        Cell::of(typed(&used.name)).with(below.join(", ")),
        Cell::of(or_none(calibrated)),
        Cell::of(or_none(due)).strong_if(is_overdue),
    ]
}

/// A role that nobody named an instrument for while these steps were read.
fn not_named(role: &Id, steps: String) -> Vec<Cell> {
    vec![
        Cell::of(typed(role.as_str())),
        Cell::of(words::NOT_NAMED).with(steps),
        Cell::of(words::NONE),
        Cell::of(words::NONE),
    ]
}
