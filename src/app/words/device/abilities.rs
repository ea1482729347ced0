//! What the browser can do here.

use crate::app::words::spelling::spelt;

pub const TITLE: &str = "This browser";
pub const STARTS_OFFLINE: &str = "The app is on this device and starts offline.";
pub const IS_BEING_CHECKED: &str = "Whether the app is wholly on this device is being checked: that takes some seconds, the first time on the network.";
pub const LACKS_A_PART: &str = "The app is not wholly on this device, so it may not start offline. Stay on the network until this line says that it is: it is tried again and again.";
pub const NEEDS_NETWORK: &str = "This browser can’t keep the app on the device here, so it starts only while the network is there. It can from an https address, outside a private window.";
pub const STAYS_AWAKE: &str =
    "While a step is shown, the device is asked to keep the screen awake.";
pub const FALLS_ASLEEP: &str =
    "This browser can’t keep the screen awake: let the device’s own settings do so while you work.";
pub const READS_ALOUD: &str = "Steps can be read aloud with a voice that is on this device.";
pub const HAS_NO_VOICE: &str = "Steps can’t be read aloud here: this browser has no voice on the device itself, and others would send the text away.";
/// Heads what the app is made with.
pub fn licences() -> String {
    spelt("Licences")
}
pub const LICENCES_LEAD: &str =
    "The app is made with the work of others. Their notices are on this device as well.";
/// The way to them.
pub fn show_licences() -> String {
    spelt("Show the licences")
}
