//! A document as a file of the device.

use crate::app::shell::bench::Bench;
use crate::app::shell::carry;
use crate::app::shell::carry::Outgoing;
use crate::exchange::Document;

impl Bench {
    /// Hands a document to the user as a file, together with its pictures.
    pub fn save_as_file(self, document: &Document) {
        carry::save(self, Outgoing::one(document.clone()));
    }
}
