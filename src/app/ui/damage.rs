//! What is left of damaged entries, wherever something follows from the log without them.

use crate::app::words::device::damage as words;
use crate::app::words::shared;
use crate::exchange::{of_damaged, report};
use crate::job::{self, Job, Remains};
use crate::quantity::DecimalSign;
use leptos::prelude::*;

/// How many entries are damaged or missing, and what each damaged one says now; nothing where none
/// is.
pub fn damage(job: &Job, sign: DecimalSign) -> Option<impl IntoView + use<>> {
    let remains = job::remains(&job.log);
    let open = remains.iter().filter(|it| it.set_aside.is_none()).count();
    let head = match open {
        _ if remains.is_empty() => None,
        0 => Some(words::all_set_aside(remains.len())),
        open => Some(report::words::damaged(remains.len(), remains.len() - open)),
    };
    let missing = job.log.missing();
    let missing = (missing > 0).then(|| shared::sentence(report::words::missing(missing)));
    let heads: Vec<String> = head.into_iter().chain(missing).collect();
    (!heads.is_empty()).then(|| {
        let row = |it: &Remains| {
            let (place, said) = of_damaged(job, &it.left, sign);
            let set_aside = it.set_aside.as_ref();
            let set_aside = set_aside.map(|it| words::set_aside(&it.by, &it.reason));
            view! { <li>{words::remains(&place, &said)}{set_aside}</li> }
        };
        let rows = (!remains.is_empty()).then(|| remains.iter().map(row).collect_view());
        let head = |said: String| view! { <p class="lead"><strong>{said}</strong></p> };
        view! {
            <div class="damage">
                {heads.into_iter().map(head).collect_view()}
                {rows.map(|rows| view! { <ul>{rows}</ul> })}
            </div>
        }
    })
}
