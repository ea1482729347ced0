//! The step in front of you: what to do, the state the set must be in, where to probe, what
//! to turn, and the reading.

mod answers;
mod at;
mod bar;
mod closed;
mod focus;
mod hands;
mod head;
mod keys;
mod leaving;
mod questions;
mod shown;
mod telling;

pub use at::{At, Lead};
pub use closed::closed;
pub use focus::{focus_next, focus_when_shown};
pub use shown::Shown;

use crate::app::screens::counter::care;
use crate::app::screens::set::changes;
use crate::app::screens::work::speech::Speech;
use crate::app::screens::work::{first_use, passes, reading, several, socket, tone, wait};
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::route::Route;
use crate::app::shell::strip::{Floor, Strip};
use crate::app::ui::boards::board;
use crate::app::ui::damage;
use crate::app::words::shared;
use crate::app::words::work::step as words;
use crate::procedure::{Id, Procedure, Step, Work};
use answers::{confirmation, hold_point, inspection};
use bar::bar;
use hands::hands;
use head::{head, panes};
use keys::{follow_keys, keep_awake};
use leptos::prelude::*;
use std::sync::Arc;
use telling::{cautions, changed_line, instruction, notes};

/// The screen of a step; of the one that is due where none is named.
pub fn screen(job: Id, step: Option<Id>) -> impl IntoView {
    let bench = use_bench();
    let at_job = job.clone();
    let due = move || {
        let progress = bench.progress.get_untracked()?;
        let step = progress.current().or(progress.steps.last())?;
        Some(Route::Step {
            job: job.clone(),
            step: Some(step.id.clone()),
        })
    };
    let Some(id) = step else {
        // The address of a job alone leads on to its step.
        match (due(), bench.progress.with_untracked(Option::is_some)) {
            (Some(route), _) => bench.go(&route),
            // It has none yet.
            (None, true) => bench.go(&Route::Steps(at_job)),
            (None, false) => return missing().into_any(),
        }
        return ().into_any();
    };
    let found = bench.job.with_untracked(|job| {
        let (job, course) = (job.as_ref()?, bench.course()?);
        let step = course.procedure.step(&id)?.clone();
        Some((job.id.clone(), course.procedure, step))
    });
    match found {
        Some((job, procedure, step)) => bench_view(bench, job, procedure, step).into_any(),
        None => missing().into_any(),
    }
}

/// What stands in the place of a job or step that is not on this device.
pub fn missing() -> impl IntoView {
    let bench = use_bench();
    view! {
        <section class="page">
            <h1>{shared::NOT_HERE}</h1>
            <p>{words::NOT_HERE_LEAD}</p>
            <a class="button" href=Route::Jobs.address()>{words::TO_THE_JOBS}</a>
        </section>
        // Every other screen has it from the app; a step has its own.
        {move || bench.route.with(Route::is_step).then(|| view! { <Floor/> })}
    }
}

fn bench_view(bench: Bench, job: Id, procedure: Arc<Procedure>, step: Step) -> impl IntoView {
    let at = At::open(bench, job, procedure, step);
    let speech = expect_context::<Speech>();
    keep_awake();
    tone::follow(at);
    follow_keys(at, speech);
    // The next step is not what is being read.
    on_cleanup(move || speech.stop());
    let Shown {
        verdict,
        sheet,
        dock,
    } = work(at);
    let has_dock = dock.is_some();
    let damaged = move || {
        bench.progress.track();
        let sign = bench.sign();
        bench.job.with_untracked(|job| damage(job.as_ref()?, sign))
    };
    let act = act(at, verdict);
    let is_open = Signal::derive(move || at.is_open());
    let first_use = at
        .step
        .with_value(|step| first_use::line(bench, &step.work, is_open));
    let left = view! { <div class="sheet-left">{damaged}{instruction(at, first_use)}{notes(at)}{care::ways(at)}</div> };
    let right =
        view! { <div class="sheet-right">{wait::panel(at)}{sheet}{several::pictures(at)}</div> };
    let board = board_picture(at).map(|board| view! { <div class="sheet-board">{board}</div> });
    let table = several::table(at);
    let has_table = table.is_some();
    let has_board = board.is_some();
    // A reading comes before what is told of it, and what a stop wants confirmed before all else.
    let (first, second) = match has_dock || at.is_stop() {
        true => (right.into_any(), left.into_any()),
        false => (left.into_any(), right.into_any()),
    };
    let has_keys = move || has_dock && at.is_open();
    view! {
        <article class="bench" class:docked=has_keys
            data-pane=move || has_keys().then(|| at.pane.get().name())>
            {head(at, speech)}
            <Show when=has_keys>{panes(at)}</Show>
            {wait::line(at)}
            <div class="sheet" class:sheet-stop=at.is_stop() class:sheet-several=has_table class:sheet-pictured=has_board>
                {act}{table}{first}{second}{board}
            </div>
            <div class="deck">
                <Strip/>
                {dock}
                {bar(at)}
            </div>
            {questions::panel(at)}
        </article>
    }
}

/// What the hand acts on: what it must mind, where it goes, and what the reading is to be.
fn act(at: At, verdict: Option<AnyView>) -> Option<impl IntoView> {
    let step = at.step.get_value();
    let target = step.work.gauge().map(|_| reading::target_line(at));
    let acts = target.is_some() || matches!(step.work, Work::Fit(_) | Work::Wire(_));
    let hands = acts.then(|| hands(at, &step));
    // A table leaves no room for more where there is one column.
    let is_cell = |procedure: &Arc<Procedure>| procedure.table_of(&step.id).is_some();
    let changed = at.procedure.with_value(is_cell).then(|| changed_line(at));
    (acts || !step.cautions.is_empty()).then(|| {
        view! { <div class="sheet-act">{cautions(&step.cautions)}{hands}{changed}<div class="result-line">{target}{verdict}</div></div> }
    })
}

fn board_picture(at: At) -> Option<impl IntoView> {
    let step = at.step.get_value();
    at.procedure
        .with_value(|procedure| board::at_step(procedure, &step))
}

fn work(at: At) -> Shown {
    let kind = at.step.with_value(|step| step.work.clone());
    let tick = |class, text: &str, button| confirmation(at, class, Some(text.to_owned()), button);
    match kind {
        Work::Read { .. } | Work::Set { .. } | Work::Peak { .. } | Work::Dip { .. } => {
            reading::reading(at)
        }
        Work::Socket(socket) => {
            let done = tick("wired", words::SOCKET_DONE, words::DONE);
            socket::sheet(at, socket, done)
        }
        Work::Inspect => Shown::alone(inspection(at)),
        Work::Stop {
            confirm,
            reads: Some(_),
            ..
        } => hold_point(at, confirm),
        Work::Stop { confirm, .. } => Shown::alone(tick("stop", &confirm, words::CONFIRM)),
        Work::Fit(alteration) => Shown::alone(changes::fitting(at, alteration)),
        Work::Wire(_) => Shown::alone(confirmation(at, "tick", None, words::WIRED)),
        Work::Repeat(repeat) => Shown::alone(passes::panel(at, repeat)),
        Work::Tick => Shown::alone(confirmation(at, "tick", None, words::DONE)),
    }
}
