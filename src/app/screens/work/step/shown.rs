//! What a kind of step puts on its screen.

use leptos::prelude::*;

/// What a kind of step shows: its part of the sheet, and the keys that stay in their place.
pub struct Shown {
    /// What came out, which follows what was to come out.
    pub(super) verdict: Option<AnyView>,
    pub(super) sheet: AnyView,
    pub(super) dock: Option<AnyView>,
}

impl Shown {
    /// A step whose keys stay in their place.
    pub fn with_dock(sheet: impl IntoView + 'static, dock: impl IntoView + 'static) -> Self {
        Shown {
            verdict: None,
            sheet: sheet.into_any(),
            dock: Some(dock.into_any()),
        }
    }

    /// The same with a verdict.
    pub fn judged(self, verdict: impl IntoView + 'static) -> Self {
        Shown {
            verdict: Some(verdict.into_any()),
            ..self
        }
    }

    /// A step without such keys.
    pub fn alone(sheet: impl IntoView + 'static) -> Self {
        Shown {
            verdict: None,
            sheet: sheet.into_any(),
            dock: None,
        }
    }
}
