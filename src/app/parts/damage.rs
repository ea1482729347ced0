//! What is left of damaged entries, wherever something follows from the log without them.

use super::super::words::damage as words;
use crate::exchange::{of_damaged, report};
use crate::job::{self, Job, Remains};
use crate::quantity::DecimalSign;
use leptos::prelude::*;

/// How many entries are damaged, and what each of them says now; nothing where none is.
pub fn damage(job: &Job, sign: DecimalSign) -> Option<impl IntoView + use<>> {
    let remains = job::remains(&job.log);
    let open = remains.iter().filter(|it| it.set_aside.is_none()).count();
    let head = match open {
        0 => words::all_set_aside(remains.len()),
        open => report::words::damaged(open),
    };
    (!remains.is_empty()).then(|| {
        let row = |it: &Remains| {
            let (place, said) = of_damaged(job, &it.left, sign);
            let set_aside = it.set_aside.as_ref();
            let set_aside = set_aside.map(|it| words::set_aside(&it.by, &it.reason));
            view! { <li>{words::remains(&place, &said)}{set_aside}</li> }
        };
        let rows = remains.iter().map(row);
        view! {
            <div class="damage">
                <p class="lead"><strong>{head}</strong></p>
                <ul>{rows.collect_view()}</ul>
            </div>
        }
    })
}
