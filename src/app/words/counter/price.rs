//! What parts and work cost.

pub const NO_PRICE: &str =
    "This is no price: type digits with at most one decimal sign, or clear the field.";

/// The field.
pub fn price_in(currency: &str) -> String {
    format!("Price in {currency}")
}

pub const CHARGE: &str = "What it costs";
pub const MINUTES: &str = "Working time in minutes";
pub const MINUTES_HINT: &str = "Blank: as the log has it";
pub const NO_MINUTES: &str = "Type the minutes as a whole number, or clear the field.";

/// The field for an hour of work.
pub fn rate_in(currency: &str) -> String {
    format!("Rate per hour in {currency}")
}

/// The field for what the owner agreed to.
pub fn agreed_in(currency: &str) -> String {
    format!("Agreed price in {currency}")
}
