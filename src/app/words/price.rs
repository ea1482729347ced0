//! What a part costs.

pub const NO_PRICE: &str =
    "This is no price: type digits with at most one decimal sign, or clear the field.";

/// The field.
pub fn price_in(currency: &str) -> String {
    format!("Price in {currency}")
}
