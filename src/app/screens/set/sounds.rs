//! The sounds that were kept with readings: played, and removed.

use crate::app::platform::audio::Playing;
use crate::app::platform::device;
use crate::app::shell::bench::Bench;
use crate::app::shell::route::Route;
use crate::app::ui::Removal;
use crate::app::words::set::sounds as words;
use crate::app::words::shared;
use crate::exchange::{Picture, wav};
use crate::job::{Deed, Sound};
use crate::procedure::{Id, PictureDigest};
use crate::quantity::Number;
use crate::store::{NoPicture, Pictures};
use leptos::prelude::*;
use leptos::task::spawn_local;
use std::cell::RefCell;

thread_local! {
    /// The one sound that is played.
    static PLAYING: RefCell<Option<Playing>> = const { RefCell::new(None) };
}

/// What is played, and by which key.
#[derive(Clone, Copy)]
struct Player {
    bench: Bench,
    /// The entry of the sound that is played.
    now: RwSignal<Option<Id>>,
}

impl Player {
    fn stop(self) {
        PLAYING.set(None);
        let _ = self.now.try_set(None);
    }

    fn play(self, event: Id, sound: PictureDigest) {
        self.stop();
        self.now.set(Some(event.clone()));
        spawn_local(async move {
            let found = Pictures.get_paper(&sound).await;
            // Stopped, left or another one begun meanwhile.
            if self.now.try_get_untracked().flatten() != Some(event) {
                return;
            }
            match found {
                Ok(sound) => self.begin(&sound),
                Err(why) => self.refuse(&why.to_string()),
            }
        });
    }

    fn begin(self, sound: &Picture) {
        let ended = move |whole: bool| match whole {
            // Not from within what has just called.
            true => device::after_paint(move || self.stop()),
            false => device::after_paint(move || self.refuse(words::NOT_PLAYED)),
        };
        match Playing::begin(sound.data(), ended) {
            Some(playing) => PLAYING.set(Some(playing)),
            None => self.refuse(words::NOT_PLAYED),
        }
    }

    fn refuse(self, why: &str) {
        self.stop();
        self.bench.refuse(why);
    }
}

/// All of them, where there are any.
pub fn list(
    bench: Bench,
    is_open: impl Fn() -> bool + Copy + Send + Sync + 'static,
) -> impl IntoView {
    let sounds = Memo::new(move |_| {
        let kept = bench
            .progress
            .with(|progress| progress.as_ref().map(|it| it.sounds.clone()));
        kept.unwrap_or_default()
    });
    let player = Player {
        bench,
        now: RwSignal::new(None),
    };
    on_cleanup(move || player.stop());
    view! {
        <Show when=move || !sounds.with(Vec::is_empty)>
            <h2>{words::TITLE}</h2>
            <ul class="plain-list">
                <For each=move || sounds.get() key=|sound| sound.event.clone()
                    children=move |sound| one(player, sound, is_open)/>
            </ul>
        </Show>
    }
}

/// How long it lasts, or why that can't be told.
async fn length(bench: Bench, sound: &PictureDigest) -> Result<String, NoPicture> {
    let bytes = Pictures.get_paper(sound).await?;
    let seconds = wav::seconds(bytes.data()).ok_or(NoPicture::Damaged)?;
    let number = Number::from_f64(seconds, 1);
    Ok(words::lasts(&number.map_or(String::new(), |number| {
        number.typeset(bench.sign_now())
    })))
}

fn one(
    player: Player,
    sound: Sound,
    is_open: impl Fn() -> bool + Copy + Send + Sync + 'static,
) -> impl IntoView {
    let bench = player.bench;
    let event = StoredValue::new(sound.event.clone());
    let bytes = StoredValue::new(sound.bytes.clone());
    let plays = Memo::new(move |_| player.now.get() == Some(event.get_value()));
    let press = move |_| match plays.get_untracked() {
        true => player.stop(),
        false => player.play(event.get_value(), bytes.get_value()),
    };
    let remove = Callback::new(move |()| {
        let sound = event.get_value();
        if bench.record(Deed::SoundRemoved { sound }) {
            bench.say_when_kept(words::REMOVED);
        }
    });
    let lasts = RwSignal::new(String::new());
    spawn_local(async move {
        let told = length(bench, &bytes.get_value()).await;
        let told = told.unwrap_or_else(|why| shared::sentence(why.to_string()));
        lasts.try_set(told);
    });
    let place = bench.job.get_untracked().and_then(|job| {
        let number = bench.number_of(&sound.step)?;
        let route = Route::Step {
            job: job.id,
            step: Some(sound.step.clone()),
        };
        Some(view! { <a href=route.address()>{shared::step(number)}</a>", " })
    });
    let reading = StoredValue::new((sound.step, sound.reading));
    let value = move || {
        let sign = bench.sign();
        let found = bench.progress.with(|progress| {
            let (step, reading) = reading.get_value();
            let mut readings = progress.as_ref()?.step(&step)?.readings.iter();
            let taken = readings.find(|taken| taken.event == reading)?;
            Some(taken.value.typeset(sign))
        });
        found.unwrap_or_else(|| words::DOES_NOT_COUNT.to_owned())
    };
    view! {
        <li>
            <p>{place}<span class="number">{value}</span></p>
            <p class="hint">{device::date_and_time(sound.at)}" "{move || lasts.get()}</p>
            <div class="row">
                <button type="button" aria-pressed=move || plays.get().to_string() on:click=press>
                    {move || if plays.get() { words::STOP } else { words::PLAY }}
                </button>
                <Show when=is_open>
                    <Removal ask=words::REMOVE remove=words::REMOVE_NOW keep=words::KEEP on_remove=remove/>
                </Show>
            </div>
        </li>
    }
}
