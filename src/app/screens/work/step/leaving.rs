//! Going on from a step, and not past something open unless it was said.

use super::at::{At, Told};
use crate::app::platform::device;
use crate::app::screens::work::reading;
use crate::app::shell::bench::Offer;
use crate::app::words::work::{reading as reading_words, step as words};
use crate::job::{Status, Tool, Unfinished};
use leptos::prelude::*;
use std::sync::Arc;

/// A second press counts as one only after so long, in milliseconds: not a bounce, nor a tap that
/// was on its way before its answer was there. `style/main/reading.css` keeps taps off new keys as long.
const SETTLED_AFTER: f64 = 300.0;

/// What one would leave open by going on now.
fn unfinished(at: At) -> Option<Unfinished> {
    if !at.is_open() {
        return None;
    }
    let typed = at.typed.get();
    at.standing.with(|standing| {
        let standing = standing.as_ref()?;
        at.step
            .with_value(|step| Unfinished::of(step, standing, &typed))
    })
}

/// Goes on or back; not past something open unless it is said and still stands there to be
/// read. What was put away or gave way to other words is said again.
pub fn leave(at: At, by: isize) {
    let Some(open) = untrack(|| unfinished(at)) else {
        return at.move_by(by);
    };
    let now = device::clock();
    let told = at.told.get_value();
    match told.filter(|told| told.open == open && stands(at, &told.sentence)) {
        Some(told) if now - told.since >= SETTLED_AFTER => at.move_by(by),
        Some(_) => {}
        None => {
            let sentence = say_open(at, &open, by);
            at.told.set_value(Some(Told {
                open,
                sentence,
                since: now,
            }));
        }
    }
}

fn stands(at: At, sentence: &str) -> bool {
    let notice = at.bench.notice;
    notice.with_untracked(|notice| notice.as_ref().is_some_and(|it| it.text == sentence))
}

fn say_open(at: At, open: &Unfinished, by: isize) -> String {
    let sign = at.bench.sign_now();
    let (text, offer) = match open {
        Unfinished::Typed(typed) => {
            let offer = at.enter.get_value().map(|act| Offer {
                word: words::ENTER_IT.to_owned(),
                act: Arc::new(move || {
                    act.try_run(());
                }),
            });
            (words::typed_only(typed), offer)
        }
        Unfinished::NotLeft(last) => {
            let value = last.corrected.typeset(sign);
            let last = last.clone();
            let offer = Offer {
                word: reading_words::leave_at(&value),
                act: Arc::new(move || {
                    reading::leave(at, &last);
                }),
            };
            (words::not_left(&value), Some(offer))
        }
        Unfinished::Begun { last, status } => {
            let is_outside = last.verdict.as_ref().is_some_and(|v| !v.is_inside());
            let why = match last.tool {
                _ if is_outside || *status == Status::Outside => words::OUTSIDE.to_owned(),
                Some(Tool::In) => words::tool_in(&last.corrected.typeset(sign)),
                _ => words::stays_open(*status),
            };
            (why, None)
        }
        Unfinished::Socket { wiring, status } => (words::socket_open(wiring, *status), None),
        Unfinished::Unconfirmed { lapsed } => (words::unconfirmed(*lapsed), None),
    };
    let sentence = words::once_more(&text, by > 0);
    at.bench.ask(sentence.clone(), offer);
    sentence
}
