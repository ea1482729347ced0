//! What is set for every job on this device.

use crate::quantity::{DecimalSign, Number};
use serde::{Deserialize, Serialize};

/// What the technician has set for every job on this device.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields, default)]
pub struct Preferences {
    /// How numbers are typed and shown.
    pub decimal_sign: DecimalSign,
    /// Who works here, offered at intake and at sign-off.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub technician: String,
    /// Whether a quiet tone tells inside from outside.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub tone: bool,
    /// Whether a report says how long the work took.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub show_time: bool,
    /// The currency of prices; a report shows none where it is empty.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub currency: String,
    /// What an hour of work costs, for new jobs.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rate: Option<Number>,
}
