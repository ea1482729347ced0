//! What taking a thing from a file would change, line by line.

use super::report;
use crate::authoring::Difference;
use crate::job::{Clash, Damaged, Deed, Event, Header, Job, PaperChange, Preferences};
use crate::metrology::date::Date;
use crate::metrology::instrument::Instrument;
use crate::procedure::Id;
use crate::quantity::DecimalSign;
use crate::radio::channels::ChannelTable;
use std::collections::HashSet;

/// What differs between an instrument on the shelf and one in a file.
pub fn instruments(was: &Instrument, is: &Instrument) -> Vec<Difference> {
    let day = |day: Option<Date>| day.map(|day| day.to_string());
    let scales = |i: &Instrument| {
        let scales = i.ranges.iter().map(|range| range.full_scale.to_string());
        scales.collect::<Vec<_>>().join(", ")
    };
    let texts = [
        ("Role", some(&was.role), some(&is.role)),
        ("Asset number", some(&was.asset), some(&is.asset)),
        ("Calibrated", day(was.calibrated), day(is.calibrated)),
        ("Calibration due", day(was.due), day(is.due)),
        ("Ranges", some(&scales(was)), some(&scales(is))),
    ];
    let mut found: Vec<Difference> = texts.into_iter().filter_map(changed).collect();
    for range in &is.ranges {
        let old = was.ranges.iter();
        let mut old = old.filter(|old| old.full_scale == range.full_scale);
        let Some(old) = old.next() else { continue };
        let of = format!("of the range {}", range.full_scale);
        let (then, now) = (old.resolution.to_string(), range.resolution.to_string());
        let resolution = format!("Resolution {of}");
        found.extend(changed((&resolution, Some(then), Some(now))));
        if old.accuracy != range.accuracy {
            found.push(whole(format!("Accuracy {of} changed")));
        }
    }
    if was.corrections != is.corrections {
        found.push(whole("Corrections changed".to_owned()));
    }
    if was.further != is.further {
        found.push(whole(
            "What else its readings are uncertain by changed".to_owned(),
        ));
    }
    found
}

/// What differs between two channel tables of one name.
pub fn channels(was: &ChannelTable, is: &ChannelTable) -> Vec<Difference> {
    let source = ("Source", some(&was.source), some(&is.source));
    let mut found: Vec<Difference> = changed(source).into_iter().collect();
    for channel in &is.channels {
        let old = was.channel(&channel.name).map(|c| c.frequency.to_string());
        let what = format!("Channel {}", channel.name);
        found.extend(changed((&what, old, Some(channel.frequency.to_string()))));
    }
    let gone = was.channels.iter();
    let gone = gone.filter(|old| is.channel(&old.name).is_none());
    found.extend(gone.map(|old| whole(format!("Channel {} removed", old.name))));
    found
}

/// What differs between two settings.
pub fn preferences(was: &Preferences, is: &Preferences) -> Vec<Difference> {
    let sign = |p: &Preferences| match p.decimal_sign {
        DecimalSign::Point => Some("point".to_owned()),
        DecimalSign::Comma => Some("comma".to_owned()),
    };
    let switch = |on: bool| Some(if on { "on" } else { "off" }.to_owned());
    let time = "Labour time, on the report";
    [
        ("Decimal sign", sign(was), sign(is)),
        ("Technician", some(&was.technician), some(&is.technician)),
        ("Tone", switch(was.tone), switch(is.tone)),
        (time, switch(was.show_time), switch(is.show_time)),
        ("Currency", some(&was.currency), some(&is.currency)),
    ]
    .into_iter()
    .filter_map(changed)
    .collect()
}

/// What a copy of a job adds to the one here: the readings of each step, and how many entries
/// besides.
pub fn additions(here: &Job, copy: &Job, sign: DecimalSign) -> Vec<Difference> {
    let known: HashSet<&Id> = here.log.events().map(|event| &event.id).collect();
    let added = copy.log.events().filter(|event| !known.contains(&event.id));
    let mut groups: Vec<(Option<&Id>, Vec<&Event>)> = Vec::new();
    for event in added {
        let step = event.did.step();
        match groups.iter_mut().find(|(of, _)| *of == step) {
            Some((_, events)) => events.push(event),
            None => groups.push((step, vec![event])),
        }
    }
    let line = |(step, events): (Option<&Id>, Vec<&Event>)| Difference {
        what: place(copy, step),
        was: None,
        is: Some(summary(&events, sign)),
    };
    // What counts for nothing comes first: a long list is cut.
    let groups = groups.into_iter().map(line);
    odd(copy).into_iter().chain(groups).collect()
}

/// What in a file counts for nothing, so that nobody wonders.
pub fn odd(copy: &Job) -> Vec<Difference> {
    let damaged = copy.log.damaged().len();
    let damaged = (damaged > 0).then(|| whole(report::words::damaged_in_file(damaged)));
    let (bare, missing) = (copy.log.bare(), copy.log.missing());
    let bare = (bare > 0).then(|| whole(report::words::bare_in_file(bare)));
    let missing = (missing > 0).then(|| whole(report::words::missing(missing)));
    let of_log = damaged.into_iter().chain(bare).chain(missing);
    of_log.chain(void_undos(copy)).collect()
}

/// The undos in a file that a hand could not have made.
fn void_undos(copy: &Job) -> Vec<Difference> {
    let said = match copy.log.void_undos() {
        0 => return Vec::new(),
        1 => "1 entry would take back what can’t be taken back: it counts for nothing".to_owned(),
        n => {
            format!("{n} entries would take back what can’t be taken back: they count for nothing")
        }
    };
    vec![whole(said)]
}

/// What reads otherwise in a copy of a job: as it is here, and as it is there.
pub fn side_by_side(job: &Job, clashes: &[Clash], sign: DecimalSign) -> Vec<Difference> {
    let line = |(here, there): &Clash| {
        let (was, is) = both(here, there, sign);
        Difference {
            what: place(job, here.did.step()),
            was: Some(was),
            is: Some(is),
        }
    };
    clashes.iter().map(line).collect()
}

/// What a note says of an entry that was taken from a file.
pub fn correction(here: &Event, there: &Event, sign: DecimalSign) -> String {
    let (was, is) = both(here, there, sign);
    format!("Correction taken from a file: {is} instead of {was}")
}

/// Both in words. Where these are the same, the rest of the entry says what differs.
fn both(here: &Event, there: &Event, sign: DecimalSign) -> (String, String) {
    let (was, is) = (spoken(&here.did, sign), spoken(&there.did, sign));
    let more = |text: &str, event: &Event| {
        let (seq, at) = (event.seq, event.at);
        let did = serde_json::to_string(&event.did).unwrap_or_default();
        format!("{text} (entry {seq} at {at}: {did})")
    };
    match was == is {
        true => (more(&was, here), more(&is, there)),
        false => (was, is),
    }
}

/// What is left of a damaged entry: where it says that it belongs, and what it says. None of that
/// need be what was entered.
pub fn of_damaged(job: &Job, left: &Damaged, sign: DecimalSign) -> (String, String) {
    match left {
        Damaged::Altered { event, check } => {
            let said = spoken(&event.did, sign);
            let said = match check {
                Some(_) => said,
                None => report::words::without_check(&said),
            };
            (place(job, event.did.step()), said)
        }
        Damaged::Unread(text) => (
            report::words::NO_PLACE.to_owned(),
            report::words::unread(&report::shortened(text, LONGEST_TEXT)),
        ),
    }
}

/// How much is shown of the text of an entry that can't be read.
const LONGEST_TEXT: usize = 300;

/// A deed in a few words.
fn spoken(deed: &Deed, sign: DecimalSign) -> String {
    let header = |header: &Header| format!("details of {} {}", header.number, header.set.title());
    match deed {
        Deed::Opened(of) | Deed::Amended(of) => header(of),
        Deed::MeasuredWith { instrument } => match instrument.name.trim() {
            "" => format!("{} not named", instrument.role),
            name => format!("{} is {name}", instrument.role),
        },
        Deed::TookOn { procedure } => {
            format!(
                "“{}”, revision {}, taken on",
                procedure.title, procedure.revision
            )
        }
        Deed::PathNoted { path, .. } => format!("the path “{}”", path.title),
        Deed::Looked { look } => report::words::showed(look.showed).to_owned(),
        Deed::PartNoted { part, .. } => format!("{} wanted", part.what),
        Deed::OwnerAsked { question } => format!("the owner asked “{question}”"),
        Deed::OwnerAnswered { answer, .. } => format!("the owner answered “{answer}”"),
        Deed::Collected { by } => format!("collected by {by}"),
        Deed::FaultNoted { record, .. } => report::words::fault_noted(record.outcome).to_owned(),
        Deed::AddedStep { added } => format!("a step “{}” added", added.step.title),
        Deed::Reading { phase, value, .. } => format!("{} {}", phase.name(), value.typeset(sign)),
        Deed::CrossRead { value, .. } => format!("cross-check {}", value.typeset(sign)),
        Deed::PinRead { pin, value, .. } => format!("pin {pin} {}", value.typeset(sign)),
        Deed::Struck { reason, .. } => format!("a reading struck, {reason}"),
        Deed::WaitBegun { .. } => "a wait begun".to_owned(),
        Deed::PassBegun { .. } => "another pass begun".to_owned(),
        Deed::Paused => "a break".to_owned(),
        Deed::TakenOff { item, .. } => format!("{} taken off", item.what),
        Deed::PutBack { item } => format!("{item} put back"),
        Deed::StaysOff { item, reason } => format!("{item} stays off, {reason}"),
        Deed::Changed { change, .. } => format!("{} fitted", change.fitted),
        Deed::Ticked { .. } => "ticked".to_owned(),
        Deed::Answered { answer, .. } => answer.name().to_owned(),
        Deed::Noted { text, .. } => format!("note “{text}”"),
        Deed::PaperKept { paper } => format!("paper “{}”", paper.title),
        Deed::PaperChanged { change, .. } => match change {
            PaperChange::Titled(title) => format!("a paper called “{title}”"),
            PaperChange::Pinned(pin) => format!("{} pinned in a paper", pin.of.name()),
            PaperChange::Unpinned(spot) => format!("the pin of {} taken off a paper", spot.name()),
            PaperChange::Removed => "a paper taken out".to_owned(),
        },
        Deed::Photographed { .. } => "a photo".to_owned(),
        Deed::PhotoRemoved { .. } => "a photo removed".to_owned(),
        Deed::SoundKept { .. } => "a sound".to_owned(),
        Deed::SoundRemoved { .. } => "a sound removed".to_owned(),
        Deed::Waived { reason, .. } => format!("waived, {reason}"),
        Deed::Undone { .. } => "an entry taken back".to_owned(),
        Deed::SetAside { reason, .. } => format!("a damaged entry set aside, {reason}"),
        Deed::SignedOff { by, .. } => format!("signed off by {by}"),
        Deed::Reopened { reason } => format!("reopened, {reason}"),
    }
}

fn place(job: &Job, step: Option<&Id>) -> String {
    let procedure = job.course().procedure;
    let found = step.and_then(|id| Some((procedure.number_of(id)?, procedure.step(id)?)));
    match found {
        Some((number, step)) => format!("Step {number}, {}", step.title),
        None => "The job as a whole".to_owned(),
    }
}

fn summary(events: &[&Event], sign: DecimalSign) -> String {
    let is_told = |event: &&Event| {
        use Deed::{Reading, Reopened, SignedOff, Undone};
        matches!(
            event.did,
            Reading { .. } | SignedOff { .. } | Reopened { .. } | Undone { .. }
        )
    };
    let said = |event: &&Event| is_told(event).then(|| spoken(&event.did, sign));
    let mut parts: Vec<String> = events.iter().filter_map(said).collect();
    let others = events.len() - parts.len();
    match (others, parts.is_empty()) {
        (0, _) => {}
        (1, true) => parts.push("1 entry".to_owned()),
        (n, true) => parts.push(format!("{n} entries")),
        (1, false) => parts.push("1 other entry".to_owned()),
        (n, false) => parts.push(format!("{n} other entries")),
    }
    parts.join(", ")
}

fn some(text: &str) -> Option<String> {
    Some(text.to_owned()).filter(|text| !text.is_empty())
}

fn changed((what, was, is): (&str, Option<String>, Option<String>)) -> Option<Difference> {
    (was != is).then(|| Difference {
        what: what.to_owned(),
        was,
        is,
    })
}

fn whole(what: String) -> Difference {
    Difference {
        what,
        was: None,
        is: None,
    }
}
