//! One word on a page.

use leptos::prelude::*;

fn main() {
    mount_to_body(|| view! { <main id="blank"><p>"Blank"</p></main> });
}
