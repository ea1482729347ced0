//! A paper to be looked at: its pages, zoomed and moved by touch, wheel and keys, with pins.

use crate::app::platform::pdf::{Drawn, Pdf};
use crate::app::platform::{device, imaging};
use crate::app::ui::boards::board::place_in;
use crate::app::ui::boards::pins::{PinGroup, PinKey, PinPalette};
use crate::app::ui::field_text;
use crate::app::ui::frame::{Frame, Look, Spotted};
use crate::app::words::set::{board as board_words, papers as words};
use crate::app::words::{author, shared};
use crate::exchange::PictureType;
use crate::procedure::{Crop, Paper, PaperPin, PaperSpot, PictureDigest, WHOLE, part_of_page};
use crate::store::{NoPicture, Pictures};
use leptos::html::Canvas;
use leptos::prelude::*;
use leptos::task::spawn_local;
use std::rc::Rc;
use std::time::Duration;
use web_sys::{HtmlCanvasElement, KeyboardEvent};

/// How long the look has to rest before a part is drawn sharp.
const REST: Duration = Duration::from_millis(160);

/// The most pixels of the part that is drawn sharp.
const SHARPEST: f64 = 4_000_000.0;

/// Pins to be put and taken off.
#[derive(Clone, Copy)]
pub struct Pinning {
    /// What can be pinned.
    pub choices: Signal<Vec<PaperSpot>>,
    /// Puts a pin.
    pub put: Callback<PaperPin>,
    /// Takes the pin of something off.
    pub take_off: Callback<PaperSpot>,
}

/// A page as it stands in the frame.
#[derive(Clone)]
enum Page {
    Coming,
    Here(Drawn, Look),
    Not(String),
}

/// A paper in hand.
#[derive(Clone, Copy)]
struct View {
    paper: Signal<Paper>,
    /// What the step is about that led here.
    about: StoredValue<Vec<PaperSpot>>,
    page: RwSignal<u16>,
    pages: RwSignal<u16>,
    shown: RwSignal<Page>,
    name: StoredValue<PictureDigest>,
    is_pdf: RwSignal<bool>,
    /// Whether the page on its way was asked for by a key.
    by_key: StoredValue<bool>,
    aspect: RwSignal<f64>,
    chosen: RwSignal<Option<PaperSpot>>,
    /// Whether it is shown what can be pinned.
    pins: RwSignal<bool>,
    pinning: Option<Pinning>,
}

/// The viewer.
#[component]
pub fn PaperView(
    /// The paper with its pins as they are now.
    #[prop(into)]
    paper: Signal<Paper>,
    /// What to show first: the page and the place of these.
    #[prop(optional)]
    about: Vec<PaperSpot>,
    /// Pins to be put, where that can be done.
    #[prop(optional_no_strip)]
    pinning: Option<Pinning>,
    /// Whether it stands in a column beside something else.
    #[prop(optional)]
    narrow: bool,
) -> impl IntoView {
    let first = paper.with_untracked(|paper| paper.page_of(&about).map(|(page, _)| page));
    let name = paper.with_untracked(|paper| paper.paper.clone());
    let view = View {
        paper,
        about: StoredValue::new(about),
        page: RwSignal::new(first.unwrap_or(1)),
        pages: RwSignal::new(1),
        shown: RwSignal::new(Page::Coming),
        name: StoredValue::new(name.clone()),
        is_pdf: RwSignal::new(false),
        by_key: StoredValue::new(false),
        aspect: RwSignal::new(aspect(narrow)),
        chosen: RwSignal::new(None),
        pins: RwSignal::new(false),
        pinning,
    };
    spawn_local(open(view, name));
    // A sheet of paper is upright or lies, and so does a tablet.
    let width = StoredValue::new(device::window_size().0);
    let turned = window_event_listener(leptos::ev::resize, move |_| {
        let now = device::window_size().0;
        if width.try_get_value().is_some_and(|was| was != now) {
            width.set_value(now);
            view.aspect.set(aspect(narrow));
            view.look_anew();
        }
    });
    on_cleanup(move || {
        turned.remove();
        if let Some(Page::Here(drawn, _)) = view.shown.try_get_untracked() {
            imaging::give_back(&drawn.address);
        }
    });
    let keys = move |event: KeyboardEvent| {
        let plain = !event.ctrl_key() && !event.alt_key() && !event.meta_key();
        match event.key().as_str() {
            "PageDown" if plain => view.turn_by_key(1),
            "PageUp" if plain => view.turn_by_key(-1),
            _ => return,
        }
        event.prevent_default();
        // The screen goes to another step by these otherwise.
        event.stop_propagation();
    };
    view! {
        <div class="paper" class:paper-pinning=view.pins on:keydown=keys>
            {pinning.map(|pinning| palette(view, pinning))}
            <div class="paper-shown">
                {frame(view)}
                {bar(view)}
            </div>
        </div>
    }
}

/// The form of the frame that fills the screen and leaves room for the keys.
fn aspect(narrow: bool) -> f64 {
    let (width, height) = device::window_size();
    if narrow {
        return 1.0;
    }
    ((width - 40.0) / (height - 230.0).max(200.0)).clamp(0.62, 2.2)
}

/// Fetches the bytes and opens them; the PDF that was open last is still.
async fn open(view: View, name: PictureDigest) {
    if Pdf::open_still(&name).is_some() {
        return view.take().await;
    }
    let paper = match Pictures.get_paper(&name).await {
        Ok(paper) => paper,
        Err(NoPicture::Missing) => return view.fail(words::MISSING),
        Err(error) => return view.fail(&error.to_string()),
    };
    if paper.kind() != PictureType::Pdf {
        let Some(address) = imaging::lend_address(&paper) else {
            return view.fail(board_words::NOT_SHOWN);
        };
        return match imaging::size_at(&address).await {
            Some((width, height)) => view.show(Drawn {
                address,
                width,
                height,
            }),
            None => view.fail(board_words::NOT_SHOWN),
        };
    }
    match Pdf::open(paper.data()).await {
        Err(error) => view.fail(&error.to_string()),
        Ok(pdf) => {
            Pdf::leave_open(name, pdf);
            view.take().await;
        }
    }
}

impl View {
    /// The PDF, while it is open.
    fn pdf(self) -> Option<Rc<Pdf>> {
        Pdf::open_still(&self.name.try_get_value()?)
    }

    fn fail(self, why: &str) {
        self.shown.try_set(Page::Not(shared::sentence(why)));
    }

    /// Shows what was opened.
    async fn take(self) {
        let Some(pdf) = self.pdf() else {
            return;
        };
        let pages = pdf.pages().max(1);
        // The screen may have changed meanwhile.
        if self.pages.try_set(pages).is_some() {
            return;
        }
        if self.page.get_untracked() > pages {
            self.page.set(pages);
        }
        self.is_pdf.try_set(true);
        self.draw().await;
    }

    /// Draws the page that is wanted now.
    async fn draw(self) {
        let Some(pdf) = self.pdf() else {
            return;
        };
        let Some(page) = self.page.try_get_untracked() else {
            return;
        };
        match pdf.draw(page).await {
            Err(error) => {
                // Its worker may be busy with it for ever.
                self.name.with_value(Pdf::let_go);
                self.fail(&error.to_string());
            }
            Ok(drawn) if self.page.try_get_untracked() == Some(page) => self.show(drawn),
            // Another one is wanted by now, or none any more.
            Ok(drawn) => imaging::give_back(&drawn.address),
        }
    }

    fn show(self, drawn: Drawn) {
        let Some(aspect) = self.aspect.try_get_untracked() else {
            return imaging::give_back(&drawn.address);
        };
        let size = (drawn.width, drawn.height);
        let look = Look::new(part_of_page(size, &[], aspect));
        if let Some(place) = self.place(size, aspect) {
            look.crop.set(place);
        }
        let before = self.shown.try_get_untracked();
        if let Some(Page::Here(before, _)) = before
            && before.address != drawn.address
        {
            imaging::give_back(&before.address);
        }
        self.shown.try_set(Page::Here(drawn, look));
        // Whoever turns pages by keys goes on turning.
        if self.by_key.try_get_value() == Some(true) {
            self.by_key.set_value(false);
            device::after_paint(|| device::focus_on(".paper-shown>.frame"));
        }
    }

    /// The same page in a frame of another form.
    fn look_anew(self) {
        if let Some(Page::Here(drawn, _)) = self.shown.try_get_untracked() {
            self.show(drawn);
        }
    }

    /// Where on this page that is what the step is about.
    fn place(self, size: (u32, u32), aspect: f64) -> Option<Crop> {
        let page = self.page.get_untracked();
        self.paper.with_untracked(|paper| {
            let about = self.about.get_value();
            let pins = about.iter().filter_map(|spot| paper.pin(spot));
            let pins: Vec<&PaperPin> = pins.filter(|pin| pin.page == page).collect();
            (!pins.is_empty()).then(|| part_of_page(size, &pins, aspect))
        })
    }

    fn turn(self, by: i32) {
        let page = i32::from(self.page.get_untracked()) + by;
        if let Ok(page) = u16::try_from(page) {
            self.go_to(page);
        }
    }

    fn turn_by_key(self, by: i32) {
        let before = self.page.get_untracked();
        self.turn(by);
        self.by_key.set_value(self.page.get_untracked() != before);
    }

    fn go_to(self, page: u16) {
        let is_there = (1..=self.pages.get_untracked()).contains(&page);
        if is_there && self.page.get_untracked() != page {
            self.page.set(page);
            // Where others were opened since, it is opened anew.
            spawn_local(open(self, self.name.get_value()));
        }
    }

    fn look(self) -> Option<Look> {
        match self.shown.get() {
            Page::Here(_, look) => Some(look),
            _ => None,
        }
    }

    fn with_look(self, act: impl Fn(Look)) {
        if let Some(look) = untrack(|| self.look()) {
            act(look);
        }
    }

    fn put(self, of: PaperSpot, at: Spotted) {
        if let Some(pinning) = self.pinning {
            let page = self.page.get_untracked();
            let (x, y) = (at.x, at.y);
            pinning.put.run(PaperPin { of, page, x, y });
        }
    }
}

fn frame(view: View) -> impl IntoView {
    let on_tap = Callback::new(move |at: Spotted| {
        if let Some(spot) = view.chosen.get_untracked() {
            view.put(spot, at);
        }
    });
    move || match view.shown.get() {
        Page::Coming => {
            view! { <p class="no-picture" role="status">{words::COMING}</p> }.into_any()
        }
        Page::Not(why) => view! { <p class="no-picture" role="status">{why}</p> }.into_any(),
        Page::Here(drawn, look) => {
            let aspect = view.aspect.get_untracked();
            let title = view.paper.with_untracked(|paper| paper.title.clone());
            let page = view.page.get_untracked();
            let pages = view.pages.get_untracked();
            // Until another page is drawn, this one stays with its own pins.
            let here = Memo::new(move |_| {
                view.paper.with(|paper| {
                    let pins = paper.pins.iter();
                    let here = pins.filter(|pin| pin.page == page && pin.is_sound());
                    here.map(|pin| pin.of.clone()).collect::<Vec<_>>()
                })
            });
            let title = match pages {
                1 => title,
                _ => shared::list(&[title, words::page_of(page, pages)]),
            };
            let is_pdf = view.is_pdf.get_untracked();
            view! {
                <Frame look address=drawn.address.clone() label=board_words::frame(&title, &[]) aspect wheel_zooms=true on_tap=on_tap>
                    {is_pdf.then(|| sharp(view, look, page))}
                    <For each=move || here.get() key=PaperSpot::clone let:spot>{pin(view, look, spot)}</For>
                </Frame>
            }
            .into_any()
        }
    }
}

/// The part that is looked at, drawn anew with all its lines once the look rests.
fn sharp(view: View, look: Look, page: u16) -> impl IntoView {
    let canvas = NodeRef::<Canvas>::new();
    let part = RwSignal::new(None::<Crop>);
    let round = StoredValue::new(0_u32);
    Effect::new(move |_| {
        let crop = look.crop.get();
        let this = round.get_value() + 1;
        round.set_value(this);
        set_timeout(
            move || {
                if round.try_get_value() != Some(this) {
                    return;
                }
                if let Some(canvas) = canvas.get_untracked() {
                    spawn_local(sharpen(view, canvas.clone(), page, crop, part));
                }
            },
            REST,
        );
    });
    let share = move |of: fn(Crop, Crop) -> f64| {
        move || match (part.get(), look.crop.get()) {
            (Some(part), crop) => format!("{:.4}%", of(part, crop) * 100.0),
            (None, _) => "0".to_owned(),
        }
    };
    view! {
        <canvas class="paper-sharp" node_ref=canvas
            style:left=share(|part, crop| (part.x - crop.x) / crop.width)
            style:top=share(|part, crop| (part.y - crop.y) / crop.height)
            style:width=share(|part, crop| part.width / crop.width)
            style:height=share(|part, crop| part.height / crop.height)></canvas>
    }
}

async fn sharpen(
    view: View,
    canvas: HtmlCanvasElement,
    page: u16,
    crop: Crop,
    part: RwSignal<Option<Crop>>,
) {
    let (Some(pdf), Some(frame)) = (view.pdf(), canvas.parent_element()) else {
        return;
    };
    let wanted = on_page(crop);
    let ratio = device::pixel_ratio();
    let across = f64::from(frame.client_width()) * ratio * wanted.width / crop.width;
    let down = f64::from(frame.client_height()) * ratio * wanted.height / crop.height;
    if across < 1.0 || down < 1.0 {
        return;
    }
    let scale = (SHARPEST / (across * down)).sqrt().min(1.0);
    let size = (across * scale, down * scale);
    if pdf.sharpen(&canvas, page, wanted, size).await {
        part.try_set(Some(wanted));
    }
}

/// What of a part lies on the page.
fn on_page(crop: Crop) -> Crop {
    let whole = f64::from(WHOLE);
    let (x, y) = (crop.x.max(0.0), crop.y.max(0.0));
    Crop {
        x,
        y,
        width: (crop.x + crop.width).min(whole) - x,
        height: (crop.y + crop.height).min(whole) - y,
    }
}

/// The keys below the frame.
fn bar(view: View) -> impl IntoView {
    let typed = RwSignal::new(view.page.get_untracked().to_string());
    Effect::new(move |_| typed.set(view.page.get().to_string()));
    let wrong = RwSignal::new(false);
    let go = move || {
        let page = typed.with_untracked(|typed| typed.trim().parse::<u16>());
        let pages = view.pages.get_untracked();
        match page {
            Ok(page) if (1..=pages).contains(&page) => {
                wrong.set(false);
                view.go_to(page);
            }
            _ => wrong.set(true),
        }
    };
    let enter = move |event: KeyboardEvent| {
        if event.key() == "Enter" {
            event.prevent_default();
            go();
        }
        // Digits go to the field, whatever else they mean on the screen.
        event.stop_propagation();
    };
    let has_pages = move || view.pages.get() > 1;
    let is_first = move || view.page.get() <= 1;
    let is_last = move || view.page.get() >= view.pages.get();
    let ready = move || matches!(view.shown.get(), Page::Here(..));
    let is_about = move || {
        let page = view.page.get();
        let about = view.about.get_value();
        view.paper.with(|paper| {
            let mut pins = about.iter().filter_map(|spot| paper.pin(spot));
            pins.any(|pin| pin.page == page)
        })
    };
    let to_the_place = move |_| {
        let aspect = view.aspect.get_untracked();
        if let Page::Here(drawn, look) = view.shown.get_untracked()
            && let Some(place) = view.place((drawn.width, drawn.height), aspect)
        {
            look.crop.set(place);
        }
    };
    let toggle = move |_| {
        view.pins.update(|open| *open = !*open);
        view.chosen.set(None);
    };
    let announced = move || {
        let pages = view.pages.get();
        (pages > 1).then(|| words::page_of(view.page.get(), pages))
    };
    view! {
        <div class="board-keys paper-keys">
            <button type="button" disabled=move || !ready() on:click=move |_| view.with_look(Look::closer)>{board_words::CLOSER}</button>
            <button type="button" disabled=move || !ready() on:click=move |_| view.with_look(Look::further)>{board_words::FURTHER}</button>
            <button type="button" disabled=move || !ready() on:click=move |_| view.with_look(Look::back)>{words::WHOLE}</button>
            <Show when=is_about>
                <button type="button" disabled=move || !ready() on:click=to_the_place>{words::TO_THE_PLACE}</button>
            </Show>
            {view.pinning.map(|_| view! {
                <button type="button" aria-expanded=move || view.pins.get().to_string() on:click=toggle>{words::PIN}</button>
            })}
            <Show when=has_pages>
                <button type="button" disabled=is_first on:click=move |_| view.turn(-1)>{words::BEFORE}</button>
                <button type="button" disabled=is_last on:click=move |_| view.turn(1)>{words::NEXT}</button>
                <label class="paper-number">
                    <span>{words::PAGE}</span>
                    <input type="text" inputmode="numeric" autocomplete="off" size="4"
                        aria-invalid=move || wrong.get().to_string()
                        prop:value=move || field_text(typed.get())
                        on:input=move |e| typed.set(event_target_value(&e))
                        on:change=move |_| go() on:keydown=enter/>
                    <span>{move || words::of(view.pages.get())}</span>
                </label>
            </Show>
        </div>
        <p class="hint paper-told" role="status">
            {move || match wrong.get() {
                true => Some(words::no_page(view.pages.get())),
                false => announced(),
            }}
        </p>
    }
}

/// What can be pinned, and what is to be done with the chosen one.
fn palette(view: View, pinning: Pinning) -> impl IntoView {
    let middle = Callback::new(move |spot: PaperSpot| {
        if let Some(look) = untrack(|| view.look()) {
            let (x, y) = look.crop.get_untracked().middle();
            view.put(spot, Spotted::at(x, y));
        }
    });
    let pin_of = move |spot: &PaperSpot| view.paper.with(|paper| paper.pin(spot).cloned());
    let pinned =
        Callback::new(move |spot: PaperSpot| pin_of(&spot).map(|pin| words::pinned_on(pin.page)));
    let now = move || match view.chosen.get() {
        None => board_words::CHOOSE.to_owned(),
        Some(spot) => match pin_of(&spot) {
            Some(pin) if pin.page != view.page.get() => words::on_page(spot.name(), pin.page),
            pin => board_words::now_tap(spot.name(), pin.is_some()),
        },
    };
    let groups: Vec<PinGroup<PaperSpot>> = vec![
        (author::TEST_POINTS, |spot| {
            matches!(spot, PaperSpot::TestPoint(_))
        }),
        (author::ADJUSTERS, |spot| {
            matches!(spot, PaperSpot::Adjuster(_))
        }),
        (words::SOCKETS, |spot| matches!(spot, PaperSpot::Socket(_))),
    ];
    let groups = StoredValue::new(groups);
    view! {
        <Show when=move || view.pins.get()>
            <div class="paper-palette" class:paper-chosen=move || view.chosen.with(Option::is_some)>
                <PinPalette choices=pinning.choices groups=groups.get_value() none=words::NOTHING_TO_PIN name=|spot| spot.name().to_owned()
                    pinned chosen=view.chosen now=Signal::derive(now) middle off=pinning.take_off/>
            </div>
        </Show>
    }
}

/// A pin: one that the step is about stands out, and where pins can be put it is moved by keys.
fn pin(view: View, look: Look, spot: PaperSpot) -> impl IntoView {
    let is_about = view.about.with_value(|about| about.contains(&spot));
    let is_other = !is_about && view.about.with_value(|about| !about.is_empty());
    let class = match (&spot, is_other) {
        (PaperSpot::TestPoint(_), false) => "pin-point",
        (PaperSpot::TestPoint(_), true) => "pin-point pin-other",
        (PaperSpot::Adjuster(_), false) => "pin-adjuster",
        (PaperSpot::Adjuster(_), true) => "pin-adjuster pin-other",
        (PaperSpot::Socket(_), false) => "",
        (PaperSpot::Socket(_), true) => "pin-other",
    };
    let name = spot.name().to_owned();
    let spot = StoredValue::new(spot);
    let place = Memo::new(move |_| {
        let pin = spot.with_value(|spot| view.paper.with(|paper| paper.pin(spot).cloned()));
        pin.map(|pin| (pin.x, pin.y)).unwrap_or_default()
    });
    let Some(pinning) = view.pinning else {
        let at = place_in(look.crop, place);
        let (left, top) = (move || at.get().0, move || at.get().1);
        return view! {
            <span class=format!("pin {class}") style:left=left style:top=top>
                <span class="pin-name">{name}</span>
            </span>
        }
        .into_any();
    };
    let is_chosen = move || spot.with_value(|spot| view.chosen.with(|c| c.as_ref() == Some(spot)));
    let nudge = Callback::new(move |(right, down): (f64, f64)| {
        let (crop, (x, y)) = (look.crop.get_untracked(), place.get_untracked());
        let to = Spotted::at(
            f64::from(x) + right * crop.width,
            f64::from(y) + down * crop.height,
        );
        view.put(spot.get_value(), to);
    });
    view! {
        <PinKey class name place crop=look.crop is_chosen=Signal::derive(is_chosen) nudge
            choose=Callback::new(move |()| view.chosen.set(Some(spot.get_value())))
            off=Callback::new(move |()| pinning.take_off.run(spot.get_value()))/>
    }
    .into_any()
}
