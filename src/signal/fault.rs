//! Why a stretch of sound gives no figure.

/// What is wrong with it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Unfit {
    /// The sample rate is none that is worked with.
    Rate {
        /// As it was given, in hertz.
        hertz: f64,
    },
    /// There is too little of it.
    TooShort {
        /// Its samples.
        samples: usize,
        /// How many are needed.
        least: usize,
    },
    /// A sample is no number.
    NotFinite,
    /// There is nothing in it.
    Silent {
        /// What there is, in dBFS.
        level: f64,
    },
    /// Pieces of it are missing.
    Gap,
    /// It reaches the end of the scale.
    Clipped {
        /// How many samples do.
        samples: usize,
    },
    /// No tone stands out of the noise where it was looked for.
    ToneAbsent {
        /// From this frequency, in hertz.
        low: f64,
        /// To this one.
        high: f64,
    },
    /// The pitch moves, so that what belongs to the tone can't be told from what does not.
    ToneWanders {
        /// By how much while it was listened to, in hertz.
        hertz: f64,
    },
    /// The level moves, so that what that leaves behind passes for noise and distortion.
    LevelWanders {
        /// By how much while it was listened to, in decibels.
        decibels: f64,
    },
    /// What was said to be the sound of a closed squelch is not: it is loud, comes and goes, or
    /// holds a tone.
    NotClosed,
    /// It is quieter by now than what was taken for closed.
    QuieterThanClosed,
    /// A tone that is to sweep stands still.
    NoSweep,
    /// It sweeps faster than a set is followed through it.
    SweepTooFast,
    /// Two frequencies are too near to each other for what there is of the sound.
    TooNear,
    /// Levels that don't go with each other: a figure that must grow with the level does not.
    NotRising,
    /// A figure that a calculation needs makes no sense, such as a frequency of zero.
    NoSense,
}
