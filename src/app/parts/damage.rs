//! What is left of damaged entries, wherever something follows from the log without them.

use super::super::words::damage as words;
use crate::exchange::{remains, report};
use crate::job::Job;
use crate::quantity::DecimalSign;
use leptos::prelude::*;

/// How many entries are damaged, and what each of them says now; nothing where none is.
pub fn damage(job: &Job, sign: DecimalSign) -> Option<impl IntoView + use<>> {
    let remains = remains(job, sign);
    (!remains.is_empty()).then(|| {
        let rows = remains.iter().map(|(place, said)| {
            view! { <li>{words::remains(place, said)}</li> }
        });
        view! {
            <div class="damage">
                <p class="lead"><strong>{report::words::damaged(remains.len())}</strong></p>
                <ul>{rows.collect_view()}</ul>
            </div>
        }
    })
}
