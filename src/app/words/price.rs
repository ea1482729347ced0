//! What a part costs.

pub const NO_PRICE: &str =
    "This is no price, so none is kept: type digits with at most one decimal sign.";

/// The field.
pub fn price_in(currency: &str) -> String {
    format!("Price in {currency}")
}
