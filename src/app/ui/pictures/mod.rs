//! Results as pictures, for eyes that would rather look than read: ink, thin rules and one
//! accent, each with its words for a screen reader.

mod bars;
mod pen;
mod waves;

pub use self::bars::paint;

use crate::quantity::DecimalSign;
use crate::quantity::sum::Picture;
use leptos::prelude::*;
use pen::Pen;

/// The picture of a result.
#[component]
pub fn SumPicture(
    /// What to draw.
    picture: Picture,
    /// The decimal sign in use.
    sign: DecimalSign,
) -> impl IntoView {
    let pen = Pen { sign };
    match picture {
        Picture::LevelChain(levels) => bars::level_chain(pen, &levels),
        Picture::Envelope { depth } => waves::envelope(pen, depth),
        Picture::Spectrum(lines) => waves::spectrum(pen, &lines),
        Picture::ErrorBudget(shares) => bars::error_budget(pen, &shares),
        Picture::ReflectionLine { reflection } => waves::reflection_line(pen, reflection),
        Picture::Discharge {
            start,
            safe,
            seconds,
        } => waves::discharge(pen, start, safe, seconds),
        Picture::Tolerance {
            low,
            high,
            value,
            expanded,
            guard,
        } => bars::tolerance(
            pen,
            &bars::Zone {
                low,
                high,
                value,
                expanded,
                guard,
            },
        ),
        Picture::HeatPath(places) => bars::heat_path(pen, &places),
        Picture::Bands(names) => bars::bands(&names),
    }
}
