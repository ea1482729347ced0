//! The papers in a draft: loaded, named, opened and pinned.

use crate::app::screens::author::controls::address::address;
use crate::app::screens::author::controls::bar::bar;
use crate::app::screens::author::controls::fields::anchor;
use crate::app::screens::author::pen::Pen;
use crate::app::screens::author::pictures;
use crate::app::screens::set::papers::{ACCEPT, kept, names_of, short, title_of};
use crate::app::shell::desk::Desk;
use crate::app::ui::fields::form::{Said, Text, TextField};
use crate::app::ui::{PaperView, PictureInput, Pinning, Removal};
use crate::app::words::author as shared;
use crate::app::words::set::{board, papers as words};
use crate::authoring::Draft;
use crate::procedure::{Field, Paper, PaperPin, PaperSpot, PictureDigest, Place};
use leptos::prelude::*;
use leptos::task::spawn_local;

/// The screen with all of them.
pub fn screen(pen: Pen) -> impl IntoView {
    let names = Memo::new(move |_| pen.draft.with(|draft| names_of(&draft.papers)));
    let busy = RwSignal::new(false);
    let said = Signal::derive(move || {
        let all = pen.said_of(&Place::Whole).into_iter();
        all.filter(|remark| remark.field == Field::Papers).collect()
    });
    view! {
        <section class="page author">
            <p class="crumbs"><a href=address(Desk::Whole(pen.id(), None))>{shared::ALL_STEPS}</a></p>
            <h1>{words::TITLE}</h1>
            <p class="hint">{words::LEAD_WRITING}</p>
            <Said id=anchor(Field::Papers) remarks=said/>
            <ul class="papers">
                <For each=move || names.get() key=PictureDigest::clone let:name>{one(pen, name)}</For>
            </ul>
            <h2>{words::ADD}</h2>
            <PictureInput id="paper" busy accept=ACCEPT load=words::LOAD working=words::WORKING
                on_file=move |file| add(pen, busy, file)/>
            {bar(pen, ())}
        </section>
    }
}

/// Looks at a file, stores it, and only then puts it into the draft.
fn add(pen: Pen, busy: RwSignal<bool>, file: web_sys::File) {
    busy.set(true);
    let bench = pen.bench;
    spawn_local(async move {
        let kept = kept(&file).await;
        busy.try_set(false);
        match kept {
            Err(why) => bench.refuse(why),
            // The draft may have been left meanwhile.
            Ok(_) if pen.draft.is_disposed() => {}
            Ok(paper) => pen.change(words::DRAFT_ADDED, |draft| {
                if draft.papers.iter().any(|it| it.paper == paper) {
                    return;
                }
                let title = title_of(&file.name(), draft.papers.len());
                draft.papers.push(Paper {
                    paper: paper.clone(),
                    title,
                    pins: Vec::new(),
                });
            }),
        }
    });
}

/// A paper in hand, found again by its name.
#[derive(Clone, Copy)]
struct Sheet {
    pen: Pen,
    name: StoredValue<PictureDigest>,
}

impl Sheet {
    fn of(pen: Pen, name: PictureDigest) -> Self {
        let name = StoredValue::new(name);
        Sheet { pen, name }
    }

    fn paper(self) -> Option<Paper> {
        let name = self.name.get_value();
        self.pen.draft.with(|draft| {
            let mut papers = draft.papers.iter();
            papers.find(|it| it.paper == name).cloned()
        })
    }

    fn title(self) -> String {
        self.paper().map(|paper| paper.title).unwrap_or_default()
    }

    /// Something to be done to the paper of a draft.
    fn doing(self, act: impl Fn(&mut Paper)) -> impl Fn(&mut Draft) {
        let name = self.name.get_value();
        move |draft| {
            let papers = draft.papers.iter_mut();
            papers.filter(|it| it.paper == name).for_each(&act);
        }
    }

    /// Many small moves of a pin are one change.
    fn put(self, pin: PaperPin) {
        let what = board::pinned(pin.of.name());
        let place = format!("paper-pin-{}-{}", self.name.get_value(), pin.of.name());
        let act = self.doing(|paper| paper.put(pin.clone()));
        self.pen.adjust(what, place, act);
    }

    fn take_off(self, spot: &PaperSpot) {
        let what = board::unpinned(spot.name());
        let act = self.doing(|paper| paper.pins.retain(|pin| pin.of != *spot));
        self.pen.change(what, act);
    }
}

fn one(pen: Pen, name: PictureDigest) -> impl IntoView {
    let id = format!("paper-{}", short(&name));
    let open = address(Desk::Paper(pen.id(), name.clone()));
    let sheet = Sheet::of(pen, name);
    let title = Text {
        get: Signal::derive(move || sheet.title()),
        set: Callback::new(move |typed: String| {
            let place = format!("paper-{}", sheet.name.get_value());
            pen.write(place, sheet.doing(|paper| paper.title = typed.clone()));
        }),
    };
    let remove = Callback::new(move |()| {
        let name = sheet.name.get_value();
        pen.change(words::DRAFT_REMOVED, |draft| {
            draft.papers.retain(|paper| paper.paper != name);
        });
    });
    let pins = move || sheet.paper().map_or(0, |paper| paper.pins.len());
    view! {
        <li>
            <div class="fields"><TextField id label=words::NAME text=title/></div>
            <p class="hint">{move || words::pins(pins())}</p>
            <div class="row">
                <a class="button main" href=open aria-label=move || words::open(&sheet.title())>{words::OPEN}</a>
                <Removal ask=words::REMOVE remove=words::REMOVE_NOW keep=words::LEAVE on_remove=remove/>
            </div>
        </li>
    }
}

/// The screen of one of them.
pub fn one_paper(pen: Pen, name: PictureDigest) -> impl IntoView {
    let sheet = Sheet::of(pen, name);
    let all = address(Desk::Papers(pen.id()));
    let known = untrack(|| sheet.paper());
    let shown = known.map(|known| {
        let paper = Signal::derive(move || sheet.paper().unwrap_or_else(|| known.clone()));
        let pinning = Pinning {
            choices: Signal::derive(move || pen.draft.with(spots)),
            put: Callback::new(move |pin| sheet.put(pin)),
            take_off: Callback::new(move |spot| sheet.take_off(&spot)),
        };
        view! { <PaperView paper=paper pinning=Some(pinning)/> }
    });
    let missing = shown.is_none().then(|| view! { <p>{words::NONE}</p> });
    view! {
        <section class="page author paper-page">
            <p class="crumbs"><a href=all>{words::ALL_PAPERS}</a></p>
            <h1>{move || sheet.title()}</h1>
            {missing}
            {shown}
            {bar(pen, ())}
        </section>
    }
}

/// Everything of a draft that has a place in a paper: what has one on the board, and the sockets.
fn spots(draft: &Draft) -> Vec<PaperSpot> {
    let on_the_board = pictures::spots(draft).into_iter();
    let sockets = draft.sockets().into_iter().map(PaperSpot::Socket);
    on_the_board.map(PaperSpot::from).chain(sockets).collect()
}
