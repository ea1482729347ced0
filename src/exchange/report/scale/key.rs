//! The key to a drawn scale.

use super::super::text::escape;
use super::super::words;
use super::{Frame, SMALL};

/// What stands on a scale, each drawn as it is there and named beside.
pub fn key() -> String {
    let Frame {
        axis, band, ring, ..
    } = SMALL;
    let (half, tall) = SMALL.pointer;
    let block = |class: &str, x: f64| {
        format!(
            r#"<rect class="{class}" x="{x}" y="{}" width="44" height="{band}"/>"#,
            axis - band
        )
    };
    let said = |x: f64, text: &str| {
        format!(
            r#"<text class="key" x="{x}" y="{:.1}">{}</text>"#,
            axis + 5.0,
            escape(text)
        )
    };
    let ring = format!(r#"<circle class="mark-found" cx="10" cy="{axis}" r="{ring}"/>"#);
    let pointer = format!(
        r#"<path class="mark-latest" d="M200 {axis}l-{half} -{tall}h{}z"/>"#,
        2.0 * half
    );
    format!(
        r#"<svg class="scale-key" viewBox="0 0 900 {}" role="img" aria-label="{}">{ring}{}{pointer}{}{}{}{}{}</svg>"#,
        SMALL.height,
        escape(words::SCALE_KEY),
        said(28.0, words::KEY_FOUND),
        said(220.0, words::KEY_LEFT),
        block("band", 390.0),
        said(444.0, words::KEY_LIMITS),
        block("guard", 650.0),
        said(704.0, words::KEY_GUARD),
    )
}
