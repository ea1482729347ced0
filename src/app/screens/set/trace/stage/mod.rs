//! The forms for a stage of a path and for the path as a whole.

use crate::app::platform::device;
use crate::app::screens::work::own::scales;
use crate::app::shell::bench::Bench;
use crate::app::shell::kept;
use crate::app::shell::kept::KeptForm;
use crate::app::ui::fields::form::{Text, TextField, focus_soon, one_of};
use crate::app::ui::fields::picker::{Choice, Picker};
use crate::app::words::set::trace as words;
use crate::app::words::shared;
use crate::app::words::work::own as own_words;
use crate::authoring::draft::typed_tolerance;
use crate::authoring::usual_instrument;
use crate::job::{OwnFault, OwnField, Progress, typed_limit};
use crate::metrology::Tolerance;
use crate::metrology::inference::suspects::Reach;
use crate::procedure::{Chance, CheckPoint, Effort, Id, SignalPath, Stage};
use crate::quantity::{DecimalSign, Scale};
use leptos::prelude::*;
use serde::{Deserialize, Serialize};

/// What is typed.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
struct Typed {
    /// What is written, if anything is.
    part: Option<Part>,
    /// The path that the form was filled in from.
    was: Option<SignalPath>,
    /// The stage after which it stands; none where it is the first.
    after: Option<Id>,
    name: String,
    chance: Chance,
    checks: [TypedCheck; 3],
    /// The path as a whole, but for its stages.
    whole: SignalPath,
}

/// What of a path is written.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
enum Part {
    /// A new stage.
    New,
    /// This stage.
    Stage(Id),
    /// Its name and the state of the set.
    Whole,
}

/// A place to look, as typed.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
struct TypedCheck {
    what: String,
    at: String,
    expect: String,
    scale: Option<Scale>,
    limit: String,
    effort: Effort,
}

/// What a place can show, in the order of the form.
const REACHES: [Reach; 3] = [Reach::Through, Reach::Alone, Reach::Bias];

/// The form.
#[derive(Clone, Copy)]
pub struct Form {
    kept: KeptForm<Typed>,
    bench: Bench,
}

/// A path that says nothing yet.
pub fn blank_path() -> SignalPath {
    let stage = |number: usize| {
        let id: Id = format!("stage-{number}").parse().ok()?;
        Some(Stage {
            id,
            name: words::nth(number),
            chance: Chance::default(),
            checks: vec![CheckPoint {
                shows: Reach::Through,
                what: words::out_of_nth(number),
                at: String::new(),
                expect: String::new(),
                limit: None,
                effort: Effort::default(),
            }],
        })
    };
    SignalPath {
        title: words::OWN_PATH.to_owned(),
        stages: (1..=2).filter_map(stage).collect(),
        ..SignalPath::default()
    }
}

impl TypedCheck {
    fn of(check: &CheckPoint, sign: DecimalSign) -> Self {
        let limit = check.limit.as_ref();
        TypedCheck {
            what: check.what.clone(),
            at: check.at.clone(),
            expect: check.expect.clone(),
            scale: limit.map(Tolerance::scale),
            limit: limit.map_or(String::new(), |limit| typed_tolerance(limit, sign)),
            effort: check.effort,
        }
    }

    /// The limit, as far as it can be read; `None` where there is none.
    fn tolerance(&self, sign: DecimalSign) -> Result<Option<Tolerance>, OwnFault> {
        if self.limit.trim().is_empty() {
            return Ok(None);
        }
        let scale = self.scale.ok_or(OwnFault::Blank(OwnField::Scale))?;
        typed_limit(&self.limit, scale, sign).map(Some)
    }

    fn is_blank(&self) -> bool {
        let texts = [&self.what, &self.at, &self.expect, &self.limit];
        texts.iter().all(|text| text.trim().is_empty())
    }

    fn read(&self, shows: Reach, sign: DecimalSign) -> Result<Option<CheckPoint>, OwnFault> {
        if self.is_blank() {
            return Ok(None);
        }
        Ok(Some(CheckPoint {
            shows,
            what: self.what.trim().to_owned(),
            at: self.at.trim().to_owned(),
            expect: self.expect.trim().to_owned(),
            limit: self.tolerance(sign)?,
            effort: self.effort,
        }))
    }
}

impl Typed {
    fn of_stage(path: &SignalPath, place: usize, sign: DecimalSign) -> Self {
        let Some(stage) = path.stages.get(place) else {
            return Typed::default();
        };
        let check = |shows: Reach| {
            let check = stage.checks.iter().find(|check| check.shows == shows);
            check.map_or(TypedCheck::default(), |check| TypedCheck::of(check, sign))
        };
        let before = place
            .checked_sub(1)
            .and_then(|before| path.stages.get(before));
        Typed {
            part: Some(Part::Stage(stage.id.clone())),
            was: Some(path.clone()),
            after: before.map(|stage| stage.id.clone()),
            name: stage.name.clone(),
            chance: stage.chance,
            checks: REACHES.map(check),
            whole: SignalPath::default(),
        }
    }

    /// The path with what was typed.
    fn path(
        &self,
        path: &SignalPath,
        fresh: Id,
        sign: DecimalSign,
    ) -> Result<SignalPath, OwnFault> {
        let mut path = path.clone();
        let id = match &self.part {
            Some(Part::Stage(id)) => id.clone(),
            Some(Part::New) => fresh,
            Some(Part::Whole) | None => {
                let stages = std::mem::take(&mut path.stages);
                return Ok(SignalPath {
                    stages,
                    ..self.whole.clone()
                });
            }
        };
        let checks = REACHES.iter().zip(&self.checks);
        let checks = checks.map(|(shows, typed)| typed.read(*shows, sign));
        let checks: Result<Vec<_>, _> = checks.collect();
        let stage = Stage {
            id: id.clone(),
            name: self.name.trim().to_owned(),
            chance: self.chance,
            checks: checks?.into_iter().flatten().collect(),
        };
        path.stages.retain(|known| known.id != id);
        let mut stages = path.stages.iter();
        let before = stages.position(|known| Some(&known.id) == self.after.as_ref());
        path.stages
            .insert(before.map_or(0, |before| before + 1), stage);
        Ok(path)
    }
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
