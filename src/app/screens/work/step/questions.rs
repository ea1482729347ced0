//! What the keys of a step ask for in words: a note, why it is waived, why a reading is struck out.

use super::at::At;
use crate::app::ui::{Ask, Question};
use crate::app::words::work::step as words;
use crate::job::Deed;
use leptos::prelude::*;

pub const NOTE: Question = Question {
    title: words::NOTE_TITLE,
    hint: words::NOTE_HINT,
    answer: words::KEEP_NOTE,
    kept_as: "note",
};

pub const WAIVE: Question = Question {
    title: words::WAIVE_TITLE,
    hint: words::WAIVE_HINT,
    answer: words::WAIVE_STEP,
    kept_as: "waive",
};

const STRIKE: Question = Question {
    title: words::STRIKE_TITLE,
    hint: words::STRIKE_HINT,
    answer: words::STRIKE_OUT,
    kept_as: "strike",
};

/// Where a question is asked, and its answer kept or refused.
pub fn panel(at: At) -> impl IntoView {
    // To strike a reading out is to name it and to be asked why.
    Effect::new(move |_| {
        if at.striking.with(Option::is_some) {
            at.question.set(Some(STRIKE));
        }
    });
    let on_answer = move |question: Question, text: String| match question {
        STRIKE => strike(at, text),
        NOTE => at.bench.try_record([Deed::Noted {
            step: Some(at.id()),
            text,
        }]),
        _ => at.bench.try_record([Deed::Waived {
            step: at.id(),
            reason: text,
        }]),
    };
    view! { <Ask question=at.question place=move |asked| place(at, asked) on_answer/> }
}

/// Where the answer to a question is kept until it is sent. Why a reading is struck out is said of that reading.
fn place(at: At, asked: Question) -> String {
    let reading = at.striking.get_untracked();
    match reading.filter(|_| asked == STRIKE) {
        Some(reading) => at.place(&format!("{}-{reading}", asked.kept_as)),
        None => at.place(asked.kept_as),
    }
}

fn strike(at: At, reason: String) -> Result<(), String> {
    let Some(reading) = at.striking.get_untracked() else {
        return Ok(());
    };
    let step = at.id();
    at.bench.try_record([Deed::Struck {
        step,
        reading,
        reason,
    }])?;
    at.striking.set(None);
    Ok(())
}
