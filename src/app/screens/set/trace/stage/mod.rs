//! The forms for a stage of a path and for the path as a whole.

mod typed;

pub use self::typed::blank_path;

use crate::app::platform::device;
use crate::app::screens::set::trace::stage::typed::{Part, REACHES, Typed};
use crate::app::screens::work::own::scales;
use crate::app::shell::bench::Bench;
use crate::app::shell::kept;
use crate::app::shell::kept::KeptForm;
use crate::app::ui::fields::form::{Text, TextField, focus_soon, one_of};
use crate::app::ui::fields::picker::{Choice, Picker};
use crate::app::words::set::trace as words;
use crate::app::words::shared;
use crate::app::words::work::own as own_words;
use crate::authoring::usual_instrument;
use crate::job::Progress;
use crate::procedure::{Chance, Effort, Id, SignalPath, Stage};
use crate::quantity::Scale;
use leptos::prelude::*;

/// The form.
#[derive(Clone, Copy)]
pub struct Form {
    kept: KeptForm<Typed>,
    bench: Bench,
}

impl Form {
    /// The form of a job.
    pub fn of(bench: Bench, job: &Id) -> Self {
        let kept = KeptForm::of(bench, kept::of_job(job, kept::TRACE), Typed::default());
        Form { kept, bench }
    }

    /// Fills it in with a stage.
    pub fn begin(self, path: &SignalPath, stage: &Id) {
        let is_here = |typed: &Typed| typed.part == Some(Part::Stage(stage.clone()));
        if self.kept.typed.with_untracked(is_here) {
            return focus_soon("trace-name");
        }
        let place = path.stages.iter().position(|known| known.id == *stage);
        let Some(place) = place else {
            return;
        };
        self.kept
            .typed
            .set(Typed::of_stage(path, place, self.bench.sign_now()));
        focus_soon("trace-name");
    }

    /// Makes it ready for a new stage, the last one.
    pub fn begin_new(self) {
        let path = self.path();
        let last = path.as_ref().and_then(|path| path.stages.last());
        self.kept.typed.set(Typed {
            part: Some(Part::New),
            after: last.map(|stage| stage.id.clone()),
            was: path,
            ..Typed::default()
        });
        focus_soon("trace-name");
    }

    /// Fills it in with the path as a whole.
    pub fn begin_path(self) {
        let path = self.path();
        self.kept.typed.set(Typed {
            part: Some(Part::Whole),
            whole: path.clone().unwrap_or_default(),
            was: path,
            ..Typed::default()
        });
        focus_soon("trace-title");
    }

    fn path(self) -> Option<SignalPath> {
        self.bench.progress.with_untracked(|progress| {
            let trace = progress.as_ref()?.trace()?;
            Some(trace.path.clone())
        })
    }

    fn leave(self) {
        self.kept.typed.set(Typed::default());
        self.kept.forget();
    }

    /// Writes the path as it is typed, unless another page wrote something else meanwhile.
    fn keep(self) {
        if kept::is_overtaken(self.kept.typed, |typed| &mut typed.was, self.path()) {
            return self.bench.refuse(shared::OVERTAKEN);
        }
        let path = self.kept.typed.with_untracked(|typed| {
            let known = typed.was.clone().unwrap_or_default();
            typed.path(&known, device::fresh_id(), self.bench.sign_now())
        });
        match path {
            Err(fault) => self.bench.refuse(own_words::fault(fault)),
            Ok(path) => self.write(path),
        }
    }

    fn take_out(self, stage: &Id) {
        if let Some(mut path) = self.path() {
            path.stages.retain(|known| known.id != *stage);
            self.write(path);
        }
    }

    fn write(self, path: SignalPath) {
        let noted = |progress: &Option<Progress>| Some(progress.as_ref()?.trace()?.noted(path));
        let Some(deed) = self.bench.progress.with_untracked(noted) else {
            return;
        };
        if self.bench.record(deed) {
            self.leave();
        }
    }
}

/// The form, while something is written in it.
pub fn form(bench: Bench, form: Form) -> impl IntoView {
    let typed = form.kept.typed;
    let part = Memo::new(move |_| typed.with(|typed| typed.part.clone()));
    let keep = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        form.keep();
    };
    move || {
        let part = part.get()?;
        let (title, fields, word) = match &part {
            Part::Whole => (words::PATH, whole(typed).into_any(), words::KEEP_PATH),
            Part::New | Part::Stage(_) => {
                let fields = stage(bench, form).into_any();
                (words::STAGE, fields, words::KEEP)
            }
        };
        let take_out = match part {
            Part::Stage(id) => Some(view! {
                <button type="button" class="plain" on:click=move |_| form.take_out(&id)>{words::TAKE_OUT}</button>
            }),
            Part::New | Part::Whole => None,
        };
        Some(view! {
            <form on:submit=keep>
                <h2>{title}</h2>
                {fields}
                <div class="row">
                    <button type="submit" class="main large">{word}</button>
                    <button type="button" class="plain" on:click=move |_| form.leave()>{words::LEAVE}</button>
                    {take_out}
                </div>
            </form>
        })
    }
}

fn text(
    typed: RwSignal<Typed>,
    id: impl Into<String>,
    label: &'static str,
    part: impl Fn(&mut Typed) -> &mut String + Copy + Send + Sync + 'static,
) -> impl IntoView {
    let text = Text {
        get: Signal::derive(move || typed.with(|it| part(&mut it.clone()).clone())),
        set: Callback::new(move |text| typed.update(|it| *part(it) = text)),
    };
    view! { <TextField id label text/> }
}

fn whole(typed: RwSignal<Typed>) -> impl IntoView {
    view! {
        <div class="fields">
            {text(typed, "trace-title", words::PATH_TITLE, |it| &mut it.whole.title)}
            {text(typed, "trace-lead", own_words::NOTE, |it| &mut it.whole.lead)}
            {text(typed, "trace-caution", shared::CAUTION, |it| &mut it.whole.caution)}
            {text(typed, "trace-mode", own_words::MODE, |it| &mut it.whole.mode)}
            {text(typed, "trace-channel", own_words::CHANNEL, |it| &mut it.whole.channel)}
        </div>
    }
}

fn stage(bench: Bench, form: Form) -> impl IntoView {
    let typed = form.kept.typed;
    let others = move || {
        let part = typed.with(|typed| typed.part.clone());
        let path = form.path().unwrap_or_default();
        let mut others = path.stages;
        others.retain(|stage| part != Some(Part::Stage(stage.id.clone())));
        let choice = |stage: Stage| Choice {
            key: stage.id.to_string(),
            name: words::behind(&stage.name),
            ..Default::default()
        };
        let first = Choice {
            key: String::new(),
            name: words::FIRST.to_owned(),
            ..Default::default()
        };
        [first]
            .into_iter()
            .chain(others.into_iter().map(choice))
            .collect::<Vec<_>>()
    };
    let place = Callback::new(move |key: String| typed.update(|it| it.after = key.parse().ok()));
    let shown = move || {
        let after = typed.with(|typed| typed.after.clone());
        let key = after.map_or(String::new(), |after| after.to_string());
        let choice = others().into_iter().find(|choice| choice.key == key);
        choice.map_or(String::new(), |choice| choice.name)
    };
    let checks = (0..REACHES.len()).map(|place| check(bench, typed, place));
    view! {
        <div class="fields">
            {text(typed, "trace-name", words::NAME, |it| &mut it.name)}
            <Picker id="trace-after" label=words::PLACE shown=Signal::derive(shown)
                choices=Signal::derive(others) pick=place/>
            {one_of(
                ("trace-chance", words::CHANCE),
                &Chance::ALL,
                |chance| words::chance(chance).to_owned(),
                Signal::derive(move || typed.with(|it| it.chance)),
                Callback::new(move |chance| typed.update(|it| it.chance = chance)),
            )}
        </div>
        {checks.collect_view()}
    }
}

/// The fields of a place to look.
fn check(bench: Bench, typed: RwSignal<Typed>, place: usize) -> impl IntoView {
    const EFFORTS: [&str; 3] = ["trace-effort-0", "trace-effort-1", "trace-effort-2"];
    let id = move |name: &str| format!("trace-{name}-{place}");
    let shown = move || {
        let scale = typed.with(|it| it.checks[place].scale);
        scale.map_or(String::new(), Scale::symbol)
    };
    let choices = move || {
        let role = typed.with(|it| {
            it.checks[place]
                .scale
                .map(|scale| usual_instrument(scale.unit))
        });
        scales(role.unwrap_or_default())
    };
    let pick = Callback::new(move |symbol: String| {
        typed.update(|it| it.checks[place].scale = symbol.parse().ok());
    });
    let said = move || {
        let sign = bench.sign();
        let read = typed.with(|it| it.checks[place].tolerance(sign));
        match read {
            Ok(Some(limit)) => Some(own_words::understood(&limit.typeset(sign))),
            Ok(None) => None,
            Err(fault) => Some(own_words::fault(fault)),
        }
    };
    view! {
        <fieldset>
            <legend>{words::reach(REACHES[place])}</legend>
            <div class="fields">
                {text(typed, id("what"), words::WHAT, move |it| &mut it.checks[place].what)}
                {text(typed, id("at"), own_words::AT, move |it| &mut it.checks[place].at)}
                {text(typed, id("expect"), words::EXPECT, move |it| &mut it.checks[place].expect)}
                <Picker id=id("unit") label=own_words::UNIT shown=Signal::derive(shown)
                    choices=Signal::derive(choices) pick/>
                {text(typed, id("limit"), own_words::LIMIT, move |it| &mut it.checks[place].limit)}
                <p class="said" role="status">{said}</p>
                {one_of(
                    (EFFORTS[place], words::EFFORT),
                    &Effort::ALL,
                    |effort| words::effort(effort).to_owned(),
                    Signal::derive(move || typed.with(|it| it.checks[place].effort)),
                    Callback::new(move |effort| typed.update(|it| it.checks[place].effort = effort)),
                )}
            </div>
        </fieldset>
    }
}
