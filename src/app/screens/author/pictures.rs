//! The pictures of the board in a draft: taken or loaded, named, and pinned.

use crate::app::platform::imaging;
use crate::app::screens::author::controls::address::address;
use crate::app::screens::author::controls::bar::bar;
use crate::app::screens::author::controls::fields::anchor;
use crate::app::screens::author::pen::Pen;
use crate::app::shell::desk::Desk;
use crate::app::ui::fields::form::{Said, Text, TextField, focus_soon};
use crate::app::ui::{
    FRAME, Frame, Look, PictureInput, PinGroup, PinKey, PinPalette, Removal, Seen, Spotted, fetch,
    instead,
};
use crate::app::words::author as shared;
use crate::app::words::set::board as words;
use crate::authoring::Draft;
use crate::authoring::edit::List;
use crate::procedure::{BoardPicture, Field, Id, PictureDigest, Place, Spot};
use crate::store::Pictures;
use leptos::prelude::*;
use leptos::task::spawn_local;

/// The screen.
pub fn screen(pen: Pen) -> impl IntoView {
    let names = Memo::new(move |_| {
        pen.draft.with(|draft| {
            let pictures = draft.pictures.iter();
            pictures.map(|p| p.picture.clone()).collect::<Vec<_>>()
        })
    });
    let busy = RwSignal::new(false);
    let said = Signal::derive(move || {
        let all = pen.said_of(&Place::Whole).into_iter();
        all.filter(|remark| remark.field == Field::Pictures)
            .collect()
    });
    view! {
        <section class="page author">
            <p class="crumbs"><a href=address(Desk::Whole(pen.id(), None))>{shared::ALL_STEPS}</a></p>
            <h1>{words::TITLE}</h1>
            <p class="hint">{words::HINT}</p>
            <Said id=anchor(Field::Pictures) remarks=said/>
            <For each=move || names.get() key=PictureDigest::clone let:name>{one(pen, name)}</For>
            <h2>{words::ADD}</h2>
            <PictureInput id="board" busy on_file=move |file| add(pen, busy, file)/>
            {bar(pen, ())}
        </section>
    }
}

/// Scales a picture down, stores it, and only then puts it into the draft.
fn add(pen: Pen, busy: RwSignal<bool>, file: web_sys::File) {
    busy.set(true);
    let bench = pen.bench;
    spawn_local(async move {
        let kept = match imaging::scaled(&file, imaging::KEPT).await {
            Ok(scaled) => match Pictures.put(&scaled.picture).await {
                Ok(picture) => Ok((picture, scaled.width, scaled.height)),
                Err(error) => Err(error.to_string()),
            },
            Err(error) => Err(error.to_string()),
        };
        busy.try_set(false);
        match kept {
            Err(error) => bench.refuse(error),
            // The draft may have been left meanwhile.
            Ok(_) if pen.draft.is_disposed() => {}
            Ok((picture, width, height)) => pen.change(words::ADDED, |draft| {
                if draft.pictures.iter().any(|p| p.picture == picture) {
                    return;
                }
                let title = words::title(draft.pictures.len());
                draft.pictures.push(BoardPicture {
                    picture: picture.clone(),
                    title,
                    width,
                    height,
                    pins: Vec::new(),
                });
            }),
        }
    });
}

/// A picture in hand, found again by its name.
#[derive(Clone, Copy)]
struct Sheet {
    pen: Pen,
    name: StoredValue<PictureDigest>,
    /// What the next tap puts on the picture.
    chosen: RwSignal<Option<Spot>>,
    look: Look,
}

impl Sheet {
    fn with<T: Default>(self, part: impl Fn(&BoardPicture) -> T) -> T {
        let name = self.name.get_value();
        self.pen.draft.with(|draft| {
            let found = draft.pictures.iter().find(|p| p.picture == name);
            found.map(part).unwrap_or_default()
        })
    }

    /// Something to be done to the picture of a draft.
    fn doing(self, act: impl Fn(&mut BoardPicture)) -> impl Fn(&mut Draft) {
        let name = self.name.get_value();
        move |draft| {
            let pictures = draft.pictures.iter_mut();
            pictures.filter(|p| p.picture == name).for_each(&act);
        }
    }

    fn is_pinned(self, spot: &Spot) -> bool {
        self.with(|picture| picture.pin(spot).is_some())
    }

    fn put(self, spot: &Spot, place: Spotted) {
        let what = words::pinned(spot.id().as_str());
        let act = self.doing(|picture| picture.put(spot.clone(), place.x, place.y));
        self.pen.change(what, act);
    }

    fn take_off(self, spot: &Spot) {
        let what = words::unpinned(spot.id().as_str());
        let act = self.doing(|picture| picture.pins.retain(|pin| pin.of != *spot));
        self.pen.change(what, act);
    }

    /// Moves a pin by a part of what is shown; many small moves are one change.
    fn nudge(self, spot: &Spot, right: f64, down: f64) {
        let crop = self.look.crop.get_untracked();
        let place = format!("pin-{}-{}", self.name.get_value(), spot.id());
        let act = self.doing(|picture| {
            if let Some(pin) = picture.pin(spot) {
                let x = f64::from(pin.x) + right * crop.width;
                let y = f64::from(pin.y) + down * crop.height;
                let to = Spotted::at(x, y);
                picture.put(spot.clone(), to.x, to.y);
            }
        });
        self.pen
            .adjust(words::pinned(spot.id().as_str()), place, act);
    }
}

fn one(pen: Pen, name: PictureDigest) -> Option<impl IntoView> {
    let whole = pen.draft.with_untracked(|draft| {
        let found = draft.pictures.iter().find(|p| p.picture == name);
        found.map(|picture| picture.around(&[], FRAME))
    })?;
    let short = name.as_str().chars().take(8).collect::<String>();
    let sheet = Sheet {
        pen,
        name: StoredValue::new(name.clone()),
        chosen: RwSignal::new(None),
        look: Look::new(whole),
    };
    let title = Text {
        get: Signal::derive(move || sheet.with(|picture| picture.title.clone())),
        set: Callback::new(move |typed: String| {
            let place = format!("picture-{}", sheet.name.get_value());
            pen.write(place, sheet.doing(|picture| picture.title = typed.clone()));
        }),
    };
    let remove = Callback::new(move |()| {
        let name = sheet.name.get_value();
        pen.change(words::REMOVED, |draft| {
            draft.pictures.retain(|picture| picture.picture != name);
        });
    });
    let legend = move || sheet.with(|picture| picture.title.clone());
    Some(view! {
        <fieldset class="board-sheet">
            <legend>{legend}</legend>
            <div class="fields">
                <TextField id=format!("title-{short}") label=words::SHOWS text=title/>
            </div>
            {palette(sheet)}
            {frame(sheet, name)}
            <div class="board-keys">
                <button type="button" on:click=move |_| sheet.look.closer()>{words::CLOSER}</button>
                <button type="button" on:click=move |_| sheet.look.further()>{words::FURTHER}</button>
                <button type="button" on:click=move |_| sheet.look.back()>{words::WHOLE}</button>
            </div>
            <div class="row">
                <Removal ask=words::REMOVE remove=words::REMOVE_NOW keep=words::KEEP on_remove=remove/>
            </div>
        </fieldset>
    })
}

/// Everything of the lists that has a place on the board.
pub fn spots(draft: &Draft) -> Vec<Spot> {
    let names = |list: List, of: fn(Id) -> Spot| {
        let names = list.names(draft).into_iter();
        names
            .filter_map(|name| Some(of(name.trim().parse().ok()?)))
            .collect::<Vec<_>>()
    };
    let mut all = names(List::TestPoints, Spot::TestPoint);
    all.extend(names(List::Adjusters, Spot::Adjuster));
    all
}

/// What can be pinned, and what is to be done with the chosen one.
fn palette(sheet: Sheet) -> impl IntoView {
    let all = Memo::new(move |_| sheet.pen.draft.with(spots));
    let middle = Callback::new(move |spot: Spot| {
        let (x, y) = sheet.look.crop.get_untracked().middle();
        sheet.put(&spot, Spotted::at(x, y));
        focus_soon(pin_id(sheet, &spot));
    });
    let pinned = Callback::new(move |spot: Spot| {
        sheet.is_pinned(&spot).then(|| words::IS_PINNED.to_owned())
    });
    let now = move || match sheet.chosen.get() {
        None => words::CHOOSE.to_owned(),
        Some(spot) => words::now_tap(spot.id().as_str(), sheet.is_pinned(&spot)),
    };
    let groups: Vec<PinGroup<Spot>> = vec![
        (shared::TEST_POINTS, |spot| {
            matches!(spot, Spot::TestPoint(_))
        }),
        (shared::ADJUSTERS, |spot| matches!(spot, Spot::Adjuster(_))),
    ];
    view! {
        <PinPalette choices=all.into() groups none=words::NOTHING_TO_PIN name=|spot| spot.id().to_string() pinned chosen=sheet.chosen
            now=Signal::derive(now) middle off=Callback::new(move |spot: Spot| sheet.take_off(&spot))/>
    }
}

fn pin_id(sheet: Sheet, spot: &Spot) -> String {
    let kind = match spot {
        Spot::TestPoint(_) => "point",
        Spot::Adjuster(_) => "adjuster",
    };
    format!("pin-{}-{kind}-{}", sheet.name.get_value(), spot.id())
}

fn frame(sheet: Sheet, name: PictureDigest) -> impl IntoView {
    let seen = fetch(name);
    let tap = Callback::new(move |place: Spotted| {
        if let Some(spot) = sheet.chosen.get_untracked() {
            sheet.put(&spot, place);
        }
    });
    let pinned = Memo::new(move |_| {
        sheet.with(|picture| {
            let pins = picture.pins.iter();
            pins.map(|pin| pin.of.clone()).collect::<Vec<_>>()
        })
    });
    move || match seen.get() {
        Seen::Here(address) => {
            let title = untrack(|| sheet.with(|picture| picture.title.clone()));
            view! {
                <Frame look=sheet.look address label=words::frame(&title, &[]) on_tap=tap>
                    <For each=move || pinned.get() key=Spot::clone let:spot>{pin(sheet, spot)}</For>
                </Frame>
            }
            .into_any()
        }
        other => instead(&other).into_any(),
    }
}

/// A pin that is chosen by a tap and moved by keys.
fn pin(sheet: Sheet, spot: Spot) -> impl IntoView {
    let class = match spot {
        Spot::TestPoint(_) => "pin-point",
        Spot::Adjuster(_) => "pin-adjuster",
    };
    let (id, name) = (pin_id(sheet, &spot), spot.id().to_string());
    let spot = StoredValue::new(spot);
    let place = Memo::new(move |_| {
        spot.with_value(|spot| sheet.with(|picture| picture.pin(spot).map(|pin| (pin.x, pin.y))))
            .unwrap_or_default()
    });
    let is_chosen = move || spot.with_value(|spot| sheet.chosen.with(|c| c.as_ref() == Some(spot)));
    view! {
        <PinKey id class name place crop=sheet.look.crop is_chosen=Signal::derive(is_chosen)
            choose=Callback::new(move |()| sheet.chosen.set(Some(spot.get_value())))
            nudge=Callback::new(move |(right, down)| sheet.nudge(&spot.get_value(), right, down))
            off=Callback::new(move |()| sheet.take_off(&spot.get_value()))/>
    }
}
