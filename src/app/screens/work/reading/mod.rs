//! The reading of a step: target, drawn scale, verdict, entry and the readings so far.

mod aim;
mod before;
mod instrument;
mod second;
mod settling;
mod slip;
mod waits_for;

use crate::app::platform::device;
use crate::app::screens::audio;
use crate::app::screens::work::several;
use crate::app::screens::work::step::{At, Lead, Shown, closed, focus_next};
use crate::app::ui::{
    Drawing, Keypad, Mark, MarkKind, NumberField, Proved, TargetScale, TermKey, Turn, TurnMark,
    capitalised,
};
use crate::app::words::work::reading as words;
use crate::app::words::work::terms::Term;
use crate::exchange::report::words as said;
use crate::job::guidance::advice;
use crate::job::{
    Deed, Header, Phase, Read, Struck, Taken, Tool, Unproved, Way, good_to_leave, takes,
};
use crate::metrology::{Place, Tolerance, Verdict};
use crate::procedure::{Id, Sense, Step, Target, TargetFault, Work};
use crate::quantity::{self, DecimalSign, Quantity, ReadError, Scale, ended};
use crate::radio::conversion;
use crate::radio::limits::Known;
use leptos::html::Input;
use leptos::prelude::*;
use num_traits::{Signed, Zero};
use std::sync::Arc;

/// The state of the entry field.
#[derive(Clone, Copy)]
pub struct Entry {
    /// The step.
    pub at: At,
    scale: RwSignal<Scale>,
    /// The number as typed so far, if it can be read.
    typed: Memo<Option<Quantity>>,
    tolerance: Memo<Option<Tolerance>>,
    phase: RwSignal<Option<Phase>>,
    tool: RwSignal<Option<Tool>>,
    again: RwSignal<bool>,
    error: RwSignal<Option<String>>,
}

/// A reading as it is about to be entered.
#[derive(Clone, Copy)]
struct Manner {
    phase: Phase,
    tool: Option<Tool>,
    repeat: bool,
}

/// How long after an entry an empty one counts as a bounce of the same press, in milliseconds.
const BOUNCE: i64 = 600;

impl Entry {
    /// The phase of the next reading: as chosen, or the likely one.
    fn next_phase(self) -> Phase {
        let likely = || {
            let work = self.at.step.with_value(|step| step.work.clone());
            self.at
                .standing
                .now()
                .with(|s| s.as_ref().map_or(Phase::AsFound, |s| s.next_phase(&work)))
        };
        self.phase.get().unwrap_or_else(likely)
    }

    /// Where the tool is: as chosen, or where it likely is. A reading as found or as left is
    /// taken with the hand away; tries go in and out by turns.
    fn next_tool(self) -> Option<Tool> {
        let step = self.at.step.get_value();
        if !self.at.procedure.with_value(|p| advice::has_tool(p, &step)) {
            return None;
        }
        let last = self
            .at
            .standing
            .now()
            .with(|s| s.as_ref()?.readings.last()?.tool);
        let likely = match (self.next_phase(), last) {
            (Phase::AsFound | Phase::AsLeft, _) | (Phase::Try, Some(Tool::In)) => Tool::Out,
            (Phase::Try, _) => Tool::In,
        };
        Some(self.tool.get().unwrap_or(likely))
    }

    /// How the next reading is taken.
    fn manner(self) -> Manner {
        let last = self.at.standing.now().with(|s| {
            let last = s.as_ref()?.readings.last()?;
            Some((last.phase, last.tool))
        });
        match (self.again.get(), last) {
            (true, Some((phase, tool))) => Manner {
                phase,
                tool,
                repeat: true,
            },
            _ => Manner {
                phase: self.next_phase(),
                tool: self.next_tool(),
                repeat: false,
            },
        }
    }

    /// Writes the typed reading to the log; what can't be read stays in the field.
    fn enter(self) {
        let text = self.at.typed.get_untracked();
        if text.trim().is_empty() && self.was_just_taken() {
            return;
        }
        let sign = self.at.bench.preferences.with_untracked(|p| p.decimal_sign);
        match understood(&text, self.scale.get_untracked(), sign) {
            Ok(value) => {
                let manner = untrack(|| self.manner());
                if self.at.bench.verdict_first(|| self.record(value, manner)) {
                    self.at.clear_typed();
                    if !manner.repeat {
                        several::walk_on(self.at);
                    }
                }
            }
            Err(error) => self.error.set(Some(error.to_string())),
        }
    }

    /// Whether a reading was entered a moment ago: the same press of Enter may bounce.
    fn was_just_taken(self) -> bool {
        let last = self
            .at
            .standing
            .with_untracked(|s| Some(s.as_ref()?.readings.last()?.at));
        last.is_some_and(|at| (0..BOUNCE).contains(&(device::now() - at)))
    }

    fn record(self, value: Quantity, manner: Manner) -> bool {
        let taken = self.at.record(|step| Deed::Reading {
            step,
            phase: manner.phase,
            value,
            tool: manner.tool,
            repeat: manner.repeat,
            heard: None,
        });
        if taken {
            self.phase.set(None);
            self.tool.set(None);
            self.error.set(None);
        }
        taken
    }

    /// What is typed as a reading: as it stands, and corrected by what is known of the instrument.
    fn read(self, indicated: Quantity) -> Read {
        let gauge = self.at.step.with_value(|step| step.work.gauge().cloned());
        let Some(gauge) = gauge else {
            return Read::with(None, indicated);
        };
        let progress = self.at.bench.progress;
        progress.with(|progress| {
            let header = progress.as_ref().map(|progress| &progress.header);
            let used = |role: &Id| header?.used_as(role).cloned().map(Arc::new);
            Read::by(&gauge, used(&gauge.with), Way::of(&gauge, used), indicated)
        })
    }
}

impl At {
    /// Something of the instrument that the step is read with.
    fn of_instrument<T>(self, find: impl FnOnce(&Header, &Id) -> Option<T>) -> Option<T> {
        let role = |step: &Step| step.work.gauge().map(|gauge| gauge.with.clone());
        let role = self.step.with_value(role)?;
        let progress = self.bench.progress;
        progress.with(|progress| find(&progress.as_ref()?.header, &role))
    }
}

/// The reading of a step: its target, what was read, and the keys to enter the next.
pub fn reading(at: At) -> Shown {
    let step = at.step.get_value();
    let scale = step
        .work
        .gauge()
        .map_or(Scale::plain(quantity::Unit::Ratio), |gauge| gauge.scale);
    let chosen = RwSignal::new(untrack(|| indicated_in(at, scale)));
    let gauge = step.work.gauge().cloned();
    // What the step does not take is no reading yet; why, is said where it is entered.
    let is_taken = move |value: &Quantity| gauge.as_ref().is_none_or(|it| takes(it, value).is_ok());
    let read = move |text: &String| {
        let value = understood(text, chosen.get(), at.bench.sign()).ok();
        value.filter(&is_taken)
    };
    let entry = Entry {
        at,
        scale: chosen,
        typed: Memo::new(move |_| at.typed.with(&read)),
        tolerance: Memo::new(move |_| {
            at.standing
                .now()
                .with(|s| s.as_ref()?.tolerance.clone()?.ok())
        }),
        phase: RwSignal::new(None),
        tool: RwSignal::new(None),
        again: RwSignal::new(false),
        error: RwSignal::new(None),
    };
    // A new number takes an old complaint away.
    Effect::new(move |_| {
        at.typed.track();
        if entry.error.with_untracked(Option::is_some) {
            entry.error.set(None);
        }
    });
    at.entered_by(move || entry.enter());
    keep_verdict_in_sight(entry);
    let sheet = view! {
        <section class="answer reading">
            {before::line(at)}
            {drawn(entry, scale)}
            <p class="unseen" role="status">{said(at)}</p>
            {slip::offer(at)}
            // Where nothing is entered any more, there is nothing to aim at.
            <Show when=move || at.is_open()>{aim::aim_off(at)}{aim::shared_null(at)}</Show>
            {proved(at)}
            {basis(at)}
            {instrument::choice(at)}
            {closed(at)}
            {settling::settling(at)}
            {second::second_route(at)}
            <Show when=move || at.is_open()>{at.step.with_value(audio::way_here)}</Show>
            {aim::rounds(at)}
            {taken(entry)}
        </section>
    };
    let dock = view! { <Show when=move || at.is_open()>{entry_form(entry)}</Show> };
    let verdict = view! { <div class="verdict-place">{verdict_line(entry)}</div> };
    Shown::with_dock(sheet, dock).judged(verdict)
}

/// The scale in which the instrument of the step shows its reading: the step's own, unless it is
/// one of the kit that is known in another unit of such a level alone.
fn indicated_in(at: At, due: Scale) -> Scale {
    let with_impedance = has_impedance(at);
    let record = at.of_instrument(|header, role| header.kit_instrument(role).cloned());
    let reads = |scale: &Scale| {
        record
            .as_ref()
            .is_some_and(|it| it.reads(scale.unit).is_ok())
    };
    match record.is_none() || reads(&due) {
        true => due,
        false => {
            let mut offered = conversion::offered(due, with_impedance).into_iter();
            offered.find(reads).unwrap_or(due)
        }
    }
}

fn has_impedance(at: At) -> bool {
    let into = |step: &Step| step.work.gauge().is_some_and(|gauge| gauge.into.is_some());
    at.step.with_value(into)
}

/// What is typed as a reading: a bare number in the scale in hand, or with any unit of such a
/// level, which the step then takes or refuses.
fn understood(text: &str, scale: Scale, sign: DecimalSign) -> Result<Quantity, ReadError> {
    quantity::read_in_any(text, scale, &conversion::spelled(scale.unit), sign)
}

/// The target of a step, as its procedure states it and as it is worked out.
pub fn target_line(at: At) -> impl IntoView {
    let work = at.step.with_value(|step| step.work.clone());
    let aim = aim_words(&work);
    let printed = move || {
        let sign = at.bench.sign();
        let target = work.target()?;
        let relative = target.typeset(sign, |id| at.procedure.with_value(|p| p.number_of(id)));
        let fault = at.standing.with(|s| s.as_ref()?.tolerance.clone()?.err());
        let worked_out = at
            .standing
            .with(|s| s.as_ref()?.tolerance.clone()?.ok())
            .map(|tolerance| tolerance.typeset(sign))
            .filter(|text| *text != relative);
        let class = match worked_out {
            Some(_) => "target-from",
            None => "target",
        };
        let long = is_long(&relative);
        Some(view! {
            <span class=class class:target-long=long>{relative}</span>
            {worked_out.map(|text| {
                let long = is_long(&text);
                view! { <span class="target worked-out" class:target-long=long>{text}</span> }
            })}
            {fault.map(|fault| view! { <span class="hint waits-for">{waiting(at, &fault)}</span> })}
        })
    };
    view! {
        <p class="target-line">
            <span class="term">{words::TARGET}</span>
            <TermKey term=Term::Limits/>
            {aim.map(|aim| view! { <span class="target">{aim}</span> })}
            {printed}
        </p>
    }
}

/// More letters than stand in a line of a phone at the size of a target.
const LONG_TARGET: usize = 24;

/// A long one is smaller where there is little room.
fn is_long(text: &str) -> bool {
    text.chars().count() > LONG_TARGET
}

/// What the target rests on.
fn basis(at: At) -> Option<impl IntoView> {
    let basis = at.step.with_value(basis_words)?;
    Some(view! { <p class="hint basis">{basis}</p> })
}

/// What the limit rests on. A limit that is cited says its document already.
fn basis_words(step: &Step) -> Option<String> {
    let basis = step.basis()?;
    let cited = matches!(step.work.target(), Some(Target::Limit { .. }));
    let words = match (cited, basis.known) {
        (true, Known::Read) => return None,
        (true, known) => said::known(known).to_owned(),
        (false, _) => said::basis(&basis),
    };
    Some(said::limit_rests_on(&words))
}

fn waiting(at: At, fault: &TargetFault) -> AnyView {
    match fault {
        TargetFault::Waiting(id) => {
            let number = at.procedure.with_value(|p| p.number_of(id));
            waits_for::line(at.bench, at.job.get_value(), id, number)
        }
        other => words::no_target(other).into_any(),
    }
}

/// How many readings of a step are shown unasked. With more, an entry would cost what all of
/// them cost, and the eye takes in no more.
const SHOWN: usize = 20;

fn drawn(entry: Entry, scale: Scale) -> impl IntoView {
    let at = entry.at;
    let earlier = move || {
        at.standing.now().with(|standing| {
            let readings = &standing.as_ref()?.readings;
            let latest = entry.typed.with(Option::is_none);
            let latest = latest.then(|| readings.len().checked_sub(1)).flatten();
            let mark = |(index, taken): (usize, &Arc<Taken>)| Mark {
                value: taken.corrected.clone(),
                kind: match taken.phase {
                    _ if Some(index) == latest => MarkKind::Latest,
                    Phase::AsFound => MarkKind::Found,
                    _ => MarkKind::Earlier,
                },
            };
            // How it was found stays in sight, however many came since.
            let last = readings.len().saturating_sub(SHOWN);
            let numbered = readings.iter().enumerate();
            let shown = numbered
                .clone()
                .take(1.min(last))
                .chain(numbered.skip(last));
            // What nobody knows the place of has none on the scale.
            let placed = shown.filter(|(_, taken)| Read::of(taken).lacks().is_none());
            Some(placed.map(mark).collect::<Vec<Mark>>())
        })
    };
    let drawing = Signal::derive(move || {
        let mut marks = earlier()?;
        let typed = entry.typed.get().map(|value| entry.read(value));
        let typed = typed.filter(|read| read.lacks().is_none());
        marks.extend(typed.map(|read| Mark {
            value: read.corrected,
            kind: MarkKind::Typed,
        }));
        Some(Drawing {
            tolerance: entry.tolerance.get(),
            acceptance: None,
            marks,
            scale,
            sign: at.bench.sign(),
        })
    });
    view! { <TargetScale drawing/> }
}

/// Where one column holds all, what is typed or entered brings its verdict out from under the
/// keys.
fn keep_verdict_in_sight(entry: Entry) {
    Effect::new(move |before: Option<(bool, usize)>| {
        let readings = entry
            .at
            .standing
            .with(|s| s.as_ref().map_or(0, |s| s.readings.len()));
        let now = (entry.typed.with(Option::is_some), readings);
        if before.is_some_and(|before| before != now) {
            device::after_paint(|| device::into_view(".word"));
        }
        now
    });
}

/// The number that counts now, what it proves, and which way it must go.
fn verdict_line(entry: Entry) -> impl IntoView {
    let at = entry.at;
    move || {
        let sign = at.bench.sign();
        let typed = entry.typed.get();
        let pending = typed.is_some();
        // What is entered is judged already; what is only typed is judged alike.
        let (read, verdict) = match typed {
            Some(indicated) => {
                let read = entry.read(indicated);
                let judge = |tolerance: &Option<Tolerance>| {
                    let tolerance = tolerance.as_ref()?;
                    let fits = read.lacks().is_none() && read.corrected.unit() == tolerance.unit();
                    if !fits {
                        return None;
                    }
                    Some(tolerance.judge_unrounded(&read.corrected, &read.right))
                };
                let verdict = entry.tolerance.with(judge);
                (read, verdict)
            }
            None => at.standing.now().with(|standing| {
                let last = standing.as_ref()?.readings.last()?;
                Some((Read::of(last), last.verdict.clone()))
            })?,
        };
        let value = &read.corrected;
        let way = verdict.as_ref().filter(|_| at.is_open());
        let turn = way.and_then(|verdict| turn(at, verdict));
        let way = way.and_then(|v| way_to_go(at, v.place));
        let best = best_so_far(at, value);
        let mark = match verdict.as_ref().map(Verdict::is_inside) {
            None => "read",
            Some(true) => "inside",
            Some(false) => "outside",
        };
        let (word, off) = match (&verdict, read.lacks()) {
            (None, Some(role)) => (ended(Unproved::NoLoss(role.clone())), None),
            (None, None) => (words::READ.to_owned(), None),
            (Some(verdict), _) => (
                capitalised(&verdict.margin_words(sign)),
                verdict.deviation_words(sign),
            ),
        };
        let shape = verdict.as_ref().map(|verdict| band_shape(verdict.place));
        let indicated = Read::indicated(std::slice::from_ref(&read), sign);
        Some(view! {
            <div class="verdict" data-place=mark class:verdict-typed=pending>
                <div class="figure-line">
                    <p class="figure">
                        {value.number.typeset(sign)}
                        <small>"\u{a0}"{value.scale.symbol()}</small>
                    </p>
                    {turn.map(|turn| view! { <TurnMark turn/> })}
                </div>
                {indicated.map(|text| view! { <p class="indicated">{text}</p> })}
                <p class="word">
                    {shape.map(|shape| view! { <svg viewBox="0 0 20 20" aria-hidden="true"><path d=shape/></svg> })}
                    <span>
                        <strong>{word}</strong>
                        {off.map(words::then)}
                        {pending.then_some(words::NOT_ENTERED)}
                    </span>
                </p>
                {way.map(|way| view! { <p class="way">{way}</p> })}
                {best.map(|best| view! { <p class="way">{best}</p> })}
            </div>
        })
    }
}

/// The shape of a verdict: a tick, or a triangle that points to where the reading lies.
const fn band_shape(place: Place) -> &'static str {
    match place {
        Place::Inside => "M3 10.5l5 5 9-11",
        Place::High => "M10 3l8 14h-16z",
        Place::Low => "M10 17l8-14h-16z",
    }
}

/// The latest reading with its verdict, for a screen reader to say once it is entered. What is
/// only typed is not said, or every digit would be.
fn said(at: At) -> impl Fn() -> Option<String> {
    move || {
        let taken = at.standing.with(|s| s.as_ref()?.readings.last().cloned())?;
        let sign = at.bench.sign();
        let number = taken.corrected.number.typeset(sign);
        let reading = words::spoken_reading(
            &capitalised(taken.phase.name()),
            &number,
            &taken.corrected.scale.spoken(),
        );
        let lacks = Read::of(&taken).lacks().cloned();
        let not_judged = lacks.map(|role| Unproved::NoLoss(role).to_string());
        let Some(verdict) = &taken.verdict else {
            return Some(words::spoken(&reading, not_judged.as_deref(), None));
        };
        let place = verdict.words(sign);
        let way = at.is_open().then(|| way_to_go(at, verdict.place));
        let way = way.flatten();
        Some(words::spoken(&reading, Some(&place), way.as_deref()))
    }
}

/// What the reading that the step stands by proves.
fn proved(at: At) -> impl IntoView {
    move || {
        let left = at.standing.get()?.left?;
        let rule = at
            .bench
            .progress
            .with(|p| Some(p.as_ref()?.header.rule.clone()))?;
        Some(view! { <Proved left rule sign=at.bench.sign()/> })
    }
}

/// Whether the reading must rise, and which way that is to turn, where known.
fn direction(at: At, place: Place) -> Option<(Id, bool, Option<bool>)> {
    let adjuster = at.step.with_value(|step| step.work.adjuster().cloned())?;
    let sense = at
        .procedure
        .with_value(|p| p.adjuster(&adjuster).and_then(|a| a.clockwise));
    let up = match place {
        Place::Inside => return None,
        Place::Low => true,
        Place::High => false,
    };
    let clockwise = sense.map(|sense| (sense == Sense::Raises) == up);
    Some((adjuster, up, clockwise))
}

/// Which way the reading must go and, where known, which way to turn.
fn way_to_go(at: At, place: Place) -> Option<String> {
    let (adjuster, up, clockwise) = direction(at, place)?;
    Some(words::way_to_go(up, adjuster.as_str(), clockwise))
}

/// Which way to turn and how far off the reading is, where both are known.
fn turn(at: At, verdict: &Verdict) -> Option<Turn> {
    let (_, _, clockwise) = direction(at, verdict.place)?;
    let beyond = verdict.margin.base_f64();
    // From the target to the limit; with no target, a tenth of nothing known is shown as little.
    let allowed = verdict
        .deviation
        .as_ref()
        .map(|deviation| deviation.base_f64().abs() - beyond)
        .filter(|allowed| *allowed > 0.0);
    Some(Turn {
        clockwise: clockwise?,
        off: allowed.map_or(1.0, |allowed| 1.0 + beyond / allowed),
    })
}

/// The same of the latest reading, while there is something to turn for.
pub fn turning(at: At) -> Option<Turn> {
    if !at.is_open() {
        return None;
    }
    let verdict = at
        .standing
        .with(|s| s.as_ref()?.readings.last()?.verdict.clone())?;
    turn(at, &verdict)
}

/// For a peak or a dip: how far the reading is from the best so far.
fn best_so_far(at: At, value: &Quantity) -> Option<String> {
    let work = at.step.with_value(|step| step.work.clone());
    let best = at
        .standing
        .now()
        .with(|s| s.as_ref()?.best(&work).cloned())?;
    let sign = at.bench.sign();
    let distance = value.base() - best.corrected.base();
    let better = matches!(work, Work::Peak { .. }) == distance.is_positive();
    let size = Quantity::natural(distance.abs(), value.unit().of_difference()).typeset(sign);
    Some(match (distance.is_zero(), better) {
        (true, _) => words::THE_BEST.to_owned(),
        (_, true) => words::better(&size),
        (_, false) => words::off_the_best(&size, &best.corrected.typeset(sign)),
    })
}

fn entry_form(entry: Entry) -> impl IntoView {
    let at = entry.at;
    let (adjusts, is_stop) = at
        .step
        .with_value(|step| (step.work.adjuster().is_some(), step.work.is_stop()));
    let phases: &[Phase] = match adjusts {
        true => &[Phase::AsFound, Phase::Try, Phase::AsLeft],
        false => &[Phase::AsFound, Phase::AsLeft],
    };
    let field = NodeRef::<Input>::new();
    field.on_load(|field| device::focus_in_place(&field));
    let label = move || words::field(&entry.scale.get().spoken(), aim_of(entry).as_deref());
    let offer = move || leave_as_it_is(entry).into_any();
    view! {
        <form class="dock" on:submit=move |event| { event.prevent_default(); entry.enter() }>
            <div class="dock-field">
                // A stop asks where the reading stands now, and no more.
                {(!is_stop).then(|| view! {
                    <div class="phases" role="group" aria-label=words::WHEN>
                        {phases.iter().map(|&phase| phase_key(entry, phase)).collect_view()}
                        {again_key(entry)}
                        <TermKey term=Term::FoundAndLeft/>
                    </div>
                })}
                {tool_keys(entry)}
                <NumberField text=at.typed scale=entry.scale error=entry.error field label offer/>
            </div>
            {move || view! {
                <Keypad text=at.typed scale=entry.scale scales=offered(at) sign=at.bench.sign()
                    quiet=Signal::derive(move || at.leads() != Lead::Enter)
                    on_enter=move || entry.enter()/>
            }}
        </form>
    }
}

/// The scales in which a reading of the step can be typed.
fn offered(at: At) -> Vec<Scale> {
    let due = at
        .step
        .with_value(|step| step.work.gauge().map(|gauge| gauge.scale));
    due.map_or(Vec::new(), |due| {
        conversion::offered(due, has_impedance(at))
    })
}

/// What the reading should be: the limits themselves where they are known, else where they
/// come from; for a peak or a dip, that it is one.
fn aim_of(entry: Entry) -> Option<String> {
    let at = entry.at;
    let (target, aim) = at
        .step
        .with_value(|step| (step.work.target().cloned(), aim_words(&step.work)));
    let sign = at.bench.sign();
    let number_of = |id: &Id| at.procedure.with_value(|p| p.number_of(id));
    let limits = match entry.tolerance.get() {
        Some(tolerance) => Some(tolerance.typeset(sign)),
        None => target.map(|target| target.typeset(sign, number_of)),
    };
    match (aim, limits) {
        (Some(aim), limits) => Some(words::extreme(aim, limits.as_deref())),
        (None, limits) => limits,
    }
}

fn aim_words(work: &Work) -> Option<&'static str> {
    match work {
        Work::Peak { .. } => Some(words::PEAK),
        Work::Dip { .. } => Some(words::DIP),
        _ => None,
    }
}

fn phase_key(entry: Entry, phase: Phase) -> impl IntoView {
    let pressed = move || (!entry.again.get() && entry.next_phase() == phase).to_string();
    let choose = move |_| {
        entry.again.set(false);
        entry.phase.set(Some(phase));
    };
    view! {
        <button type="button" aria-pressed=pressed on:click=choose>{capitalised(phase.name())}</button>
    }
}

/// The same reading once more, with nothing changed: the spread then counts. It has its place
/// before there is one to repeat, so that the keys beside it stay in theirs.
fn again_key(entry: Entry) -> impl IntoView {
    let any = move || {
        let standing = entry.at.standing;
        standing.with(|s| s.as_ref().is_some_and(|s| !s.readings.is_empty()))
    };
    let pressed = move || entry.again.get().to_string();
    view! {
        <button type="button" aria-pressed=pressed disabled=move || !any()
            on:click=move |_| entry.again.set(true)>
            {words::AGAIN}
        </button>
    }
}

/// Whether the tool is in the adjuster, where it may pull the reading.
fn tool_keys(entry: Entry) -> impl IntoView {
    move || {
        entry.next_tool()?;
        let key = move |tool: Tool, name: &'static str| {
            let pressed = move || (entry.manner().tool == Some(tool)).to_string();
            view! {
                <button type="button" aria-pressed=pressed on:click=move |_| entry.tool.set(Some(tool))>{name}</button>
            }
        };
        Some(view! {
            <div class="phases" role="group" aria-label=words::WHERE_THE_TOOL_IS>
                {key(Tool::In, words::TOOL_IN)}
                {key(Tool::Out, words::TOOL_OUT)}
            </div>
        })
    }
}

/// Makes the last reading the one that is left.
pub fn leave(at: At, last: &Taken) {
    let left = at.record(|step| Deed::Reading {
        step,
        phase: Phase::AsLeft,
        value: last.value.clone(),
        tool: last.tool,
        repeat: false,
        heard: last.heard.clone(),
    });
    if left {
        focus_next();
    }
}

/// One tap makes the last reading the one that is left, where it is good to leave.
fn leave_as_it_is(entry: Entry) -> impl IntoView {
    let at = entry.at;
    move || {
        if at.typed.with(|typed| !typed.is_empty()) {
            return None;
        }
        let work = at.step.with_value(|step| step.work.clone());
        let last = at
            .standing
            .now()
            .with(|s| good_to_leave(&work, s.as_ref()?).cloned())?;
        let text = words::leave_at(&last.corrected.typeset(at.bench.sign()));
        let leave = move |_| {
            entry.phase.set(None);
            entry.tool.set(None);
            leave(at, &last);
        };
        Some(view! { <button type="button" class="main leave" on:click=leave>{text}</button> })
    }
}

/// A reading in the table, in words. One that stays the same keeps its row.
#[derive(Clone, PartialEq, Eq, Hash)]
struct Row {
    event: Id,
    taken: String,
    value: String,
    below: Option<String>,
    said: String,
}

impl Row {
    fn of(at: At, taken: &Taken, odd: bool, sign: DecimalSign) -> Self {
        let said = taken.verdict.as_ref().map(|verdict| verdict.words(sign));
        let manner = match (taken.repeat, taken.tool) {
            (true, _) => words::AND_AGAIN,
            (false, Some(Tool::In)) => words::AND_TOOL_IN,
            (false, Some(Tool::Out)) => words::AND_TOOL_OUT,
            (false, None) => "",
        };
        Row {
            event: taken.event.clone(),
            taken: capitalised(taken.phase.name()) + manner,
            value: taken.corrected.typeset(sign),
            below: below(at, taken, sign),
            said: said.unwrap_or_default() + if odd { words::STANDS_OUT } else { "" },
        }
    }
}

/// What was indicated, where that was corrected, and with what it was read, where that is not the
/// instrument of now.
fn below(at: At, taken: &Taken, sign: DecimalSign) -> Option<String> {
    let read = Read::of(taken);
    let now = at.of_instrument(|header, role| Some(header.used_as(role)?.name.clone()));
    let name = taken.with.as_ref().map(|with| with.name.clone());
    let with = (name != now).then(|| words::read_with(name.as_deref()));
    let indicated = Read::indicated(&[read], sign);
    let parts: Vec<String> = indicated.into_iter().chain(with).collect();
    (!parts.is_empty()).then(|| parts.join("; "))
}

/// The readings so far, the latest first, and those that were struck out; the last so many,
/// unless all are asked for.
fn taken(entry: Entry) -> impl IntoView {
    let at = entry.at;
    let all = RwSignal::new(false);
    let rows = move || {
        let sign = at.bench.sign();
        at.standing.with(|standing| {
            let Some(standing) = standing else {
                return Vec::new();
            };
            let odd = advice::odd_one_out(standing).map(|taken| &taken.event);
            let latest_first = standing.readings.iter().rev();
            let most = if all.get() { usize::MAX } else { SHOWN };
            latest_first
                .take(most)
                .map(|taken| Row::of(at, taken, odd == Some(&taken.event), sign))
                .collect()
        })
    };
    let any = move || {
        at.standing.with(|standing| {
            let standing = standing.as_ref();
            standing.is_some_and(|s| !s.readings.is_empty() || !s.struck.is_empty())
        })
    };
    let hidden = Memo::new(move |_| {
        let count = at
            .standing
            .with(|s| s.as_ref().map_or(0, |s| s.readings.len()));
        (count > SHOWN && !all.get()).then_some(count)
    });
    view! {
        <Show when=any>
            <div class="taken-room">
                <table class="taken">
                    <caption>{words::SAVED}</caption>
                    <tbody>
                        <For each=rows key=Row::clone children=move |row| taken_row(at, row)/>
                        {struck(at)}
                    </tbody>
                </table>
            </div>
            {move || hidden.get().map(|count| view! {
                <button type="button" class="plain" on:click=move |_| all.set(true)>{words::show_all(count)}</button>
            })}
        </Show>
    }
}

fn taken_row(at: At, row: Row) -> impl IntoView {
    let event = StoredValue::new(row.event);
    let saving = move || event.with_value(|event| at.bench.is_on_its_way(event));
    let name = words::strike_out(&row.value);
    view! {
        <tr data-saved=move || (!saving()).to_string()>
            <th scope="row">{row.taken}</th>
            <td class="number">{row.value}</td>
            <td>
                {row.said}{move || saving().then(|| state(at.bench))}
                {row.below.map(|text| view! { <small class="indicated">{text}</small> })}
            </td>
            <td>
                <button type="button" class="plain strike" aria-label=name disabled=move || !at.is_open()
                    on:click=move |_| at.striking.set(Some(event.get_value()))>{words::STRIKE}</button>
            </td>
        </tr>
    }
}

/// What is said of a reading that is on its way to the disk.
fn state(bench: crate::app::shell::bench::Bench) -> &'static str {
    match bench.safekeeping.trouble.with(Option::is_some) {
        true => words::NOT_SURE,
        false => words::SAVING,
    }
}

fn struck(at: At) -> impl Fn() -> Vec<AnyView> {
    move || {
        let sign = at.bench.sign();
        let row = |Struck { taken, reason, .. }: &Struck| {
            view! {
                <tr class="struck">
                    <th scope="row">{words::STRUCK_OUT}</th>
                    <td class="number"><s>{taken.value.typeset(sign)}</s></td>
                    <td>{reason.clone()}</td>
                    <td></td>
                </tr>
            }
            .into_any()
        };
        at.standing.with(|standing| {
            let struck = standing.iter().flat_map(|s| &s.struck);
            struck.map(row).collect()
        })
    }
}
