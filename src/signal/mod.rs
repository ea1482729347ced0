//! What a stretch of sound says: its tone, what is not the tone, and how well each is known.
//!
//! Samples are of one channel and run from −1 to 1. Decibels of full scale (dBFS) are those of a
//! sine: one that just reaches 1 has 0 dBFS, and anything else is compared with it by power.

mod fault;
pub mod figure;
pub mod fit;
pub mod hum;
pub mod known;
pub mod measure;
pub mod record;
pub mod send;
pub mod series;
pub mod spectrum;
pub mod tone;
pub mod two_tones;
pub mod weighting;

pub use fault::Unfit;
pub use figure::Figure;
pub use fit::lines;
pub use known::{carrier, volts};
pub use measure::{Measured, Settings, measure};
pub use record::Record;
pub use series::{agc, response, search, squelch, sweep};
pub use spectrum::power;
pub use weighting::Weighting;
