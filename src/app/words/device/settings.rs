//! Settings of this device, and the keys of a step.

use crate::app::words::spelling::spelt;

pub const DECIMAL_SIGN: &str = "Decimal sign";
pub const POINT: &str = "Point: 16.4925";
pub const COMMA: &str = "Comma: 16,4925";
pub const TECHNICIAN: &str = "Technician";
pub const TECHNICIAN_HINT: &str = "offered at intake and at sign-off";
pub const ON_THE_REPORT: &str = "On the report";
/// How long the work took.
pub fn working_time() -> String {
    spelt("Labour time")
}
pub const CURRENCY: &str = "Currency";
pub const CURRENCY_HINT: &str = "with one, parts are listed with their prices and a total";
pub const TONE: &str = "Sound: one high = inside, three low = outside";

pub const THEME: &str = "Theme";
pub const AS_DEVICE: &str = "As the device";
pub const LIGHT: &str = "Light";
pub const DARK: &str = "Dark";

pub const KEYS: &str = "Keyboard";

/// The keys of a step, each with what it does.
pub const KEYS_DO: [(&str, &str); 5] = [
    (
        "Page Down, Page Up",
        "next step, step before; page-turner pedals send these",
    ),
    (
        "Digits, point, minus",
        "go to the reading, wherever the focus is",
    ),
    (
        "Enter",
        "takes the reading, or presses the button that has the focus",
    ),
    ("Tab", "goes on to the next button or field"),
    ("F2", "reads the step aloud, or stops"),
];
