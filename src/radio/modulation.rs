//! Amplitude, single-sideband and frequency modulation.

use crate::quantity::Fault;
use crate::quantity::fault::{at_least, at_most, finite, not_negative, ordered, positive};

/// Modulation depth, as a share, of the envelope's largest and smallest voltage:
/// (Vmax−Vmin)/(Vmax+Vmin).
///
/// Any one kind of volts, such as p-p for both. Source: measurement guide of a spectrum
/// analyser maker, amplitude modulation.
pub fn depth_of_envelope(maximum: f64, minimum: f64) -> Result<f64, Fault> {
    let minimum = not_negative("The envelope minimum", minimum)?;
    let maximum = positive("The envelope maximum", maximum)?;
    ordered(
        ("The envelope minimum", minimum),
        ("the envelope maximum", maximum),
    )?;
    Ok((maximum - minimum) / (maximum + minimum))
}

/// Modulation depth, as a share, of the trapezoid's longer and shorter parallel side:
/// (A−B)/(A+B).
///
/// Both in the same divisions or volts; the shorter side is 0 for a triangle.
/// Source: common practice, no source; the same ratio as on the envelope.
pub fn depth_of_trapezoid(longer: f64, shorter: f64) -> Result<f64, Fault> {
    let shorter = not_negative("The shorter side", shorter)?;
    let longer = positive("The longer side", longer)?;
    ordered(("The shorter side", shorter), ("the longer side", longer))?;
    Ok((longer - shorter) / (longer + shorter))
}

/// Modulation depth, as a share, of a carrier and one of its two equal sidebands, both in volts:
/// 2·Vs/Vc.
///
/// Source: measurement guide of a spectrum analyser maker, amplitude modulation.
pub fn depth_of_sideband(carrier: f64, sideband: f64) -> Result<f64, Fault> {
    let carrier = positive("The carrier", carrier)?;
    depth(2.0 * not_negative("The sideband", sideband)? / carrier)
}

/// Power in one sideband, in watts, of a carrier in watts and a depth from 0 to 1: Pc·m²/4.
///
/// Source: sinusoidal amplitude modulation, closed form.
pub fn sideband_power(carrier: f64, modulation: f64) -> Result<f64, Fault> {
    Ok(carrier_power(carrier)? * depth(modulation)?.powi(2) / 4.0)
}

/// Mean power, in watts, of a carrier in watts and a depth from 0 to 1: Pc·(1+m²/2).
///
/// Source: sinusoidal amplitude modulation, closed form.
pub fn mean_power(carrier: f64, modulation: f64) -> Result<f64, Fault> {
    Ok(carrier_power(carrier)? * (1.0 + depth(modulation)?.powi(2) / 2.0))
}

/// Peak envelope power, in watts, of a carrier in watts and a depth from 0 to 1: Pc·(1+m)².
///
/// Source: sinusoidal amplitude modulation, closed form.
pub fn peak_envelope_power(carrier: f64, modulation: f64) -> Result<f64, Fault> {
    Ok(carrier_power(carrier)? * (1.0 + depth(modulation)?).powi(2))
}

/// Carrier power, in watts, of a mean power in watts and a depth from 0 to 1: P/(1+m²/2).
///
/// Source: sinusoidal amplitude modulation, closed form.
pub fn carrier_of_mean_power(mean: f64, modulation: f64) -> Result<f64, Fault> {
    let mean = not_negative("The mean power", mean)?;
    Ok(mean / (1.0 + depth(modulation)?.powi(2) / 2.0))
}

/// Modulation depth, as a share, of the carrier power and the mean power with modulation, in
/// watts: √(2·(P/Pc − 1)).
///
/// Source: sinusoidal amplitude modulation, closed form.
pub fn depth_of_mean_power(carrier: f64, mean: f64) -> Result<f64, Fault> {
    let carrier = positive("The carrier power", carrier)?;
    ordered(
        ("The carrier power", carrier),
        ("the mean power with modulation", mean),
    )?;
    depth((2.0 * (mean / carrier - 1.0)).sqrt())
}

/// Modulation depth, as a share, of the carrier power and the peak envelope power, in watts:
/// √(PEP/Pc) − 1.
///
/// Source: sinusoidal amplitude modulation, closed form.
pub fn depth_of_peak_power(carrier: f64, peak: f64) -> Result<f64, Fault> {
    let carrier = positive("The carrier power", carrier)?;
    ordered(
        ("The carrier power", carrier),
        ("the peak envelope power", peak),
    )?;
    depth((peak / carrier).sqrt() - 1.0)
}

/// The largest and the smallest envelope, in the volts of the carrier, of a depth from 0 to 1:
/// V·(1 ± m).
///
/// Source: sinusoidal amplitude modulation, closed form.
pub fn envelope(carrier: f64, modulation: f64) -> Result<(f64, f64), Fault> {
    let carrier = positive("The carrier", carrier)?;
    let swing = carrier * depth(modulation)?;
    Ok((carrier + swing, carrier - swing))
}

/// Peak envelope power, in watts, of the envelope's largest peak-to-peak voltage in a load in
/// ohms: Vpp²/(8·R).
///
/// Source (from memory): ITU-R V.573, peak envelope power, with a sine at the crest.
pub fn pep_of_crest(peak_to_peak: f64, ohms: f64) -> Result<f64, Fault> {
    let ohms = positive("The load", ohms)?;
    Ok(not_negative("The voltage at the crest", peak_to_peak)?.powi(2) / (8.0 * ohms))
}

/// Mean power, in watts, of two equal tones from their peak envelope power in watts: PEP/2.
///
/// Source: peak n²·P and average n·P of n equal tones, textbook on solid-state radio engineering.
pub fn mean_of_two_tones(pep: f64) -> Result<f64, Fault> {
    Ok(not_negative("The peak envelope power", pep)? / 2.0)
}

/// Peak envelope power, in watts, of two equal tones from their mean power in watts: 2·P.
///
/// Source: peak n²·P and average n·P of n equal tones, textbook on solid-state radio engineering.
pub fn pep_of_two_tones(mean: f64) -> Result<f64, Fault> {
    Ok(2.0 * not_negative("The mean power", mean)?)
}

/// Peak envelope power of `count` equal tones over the power of one of them: n².
///
/// Source: peak n²·P of n equal tones, textbook on solid-state radio engineering.
pub fn peak_of_tones(count: u32) -> f64 {
    f64::from(count).powi(2)
}

/// How far an unwanted component lies from the carrier or wanted sideband, in dBc:
/// unwanted − wanted, both levels in the same decibels.
///
/// Source (from memory): ITU-R V.574, relative levels.
pub fn relative_level(wanted: f64, unwanted: f64) -> Result<f64, Fault> {
    Ok(finite("The unwanted level", unwanted)? - finite("The wanted level", wanted)?)
}

/// Modulation index of a peak deviation and a tone, both in Hz: Δf/f.
///
/// Source (from memory): ITU-R V.573, modulation index.
pub fn modulation_index(deviation: f64, tone: f64) -> Result<f64, Fault> {
    let tone = positive("The tone", tone)?;
    Ok(not_negative("The deviation", deviation)? / tone)
}

/// Bandwidth, in Hz, by Carson's rule of a peak deviation and the highest tone, both in Hz:
/// 2·(Δf+f).
///
/// Source: J. R. Carson, 1922.
pub fn carson_bandwidth(deviation: f64, tone: f64) -> Result<f64, Fault> {
    let tone = positive("The highest tone", tone)?;
    Ok(2.0 * (not_negative("The deviation", deviation)? + tone))
}

/// Modulation indices at which the carrier vanishes: the first zeros of the Bessel function J₀.
///
/// Source: table of Bessel nulls of a broadcast equipment maker, digits from scipy.
pub const CARRIER_NULLS: [f64; 8] = [
    2.404825557695773,
    5.520078110286311,
    8.653727912911013,
    11.791534439014281,
    14.930917708487786,
    18.071063967910923,
    21.21163662987926,
    24.352471530749302,
];

/// Modulation indices at which the first pair of sidebands vanishes: the first zeros of the
/// Bessel function J₁ above 0.
///
/// Source: M. Abramowitz and I. A. Stegun, table 9.5; digits from scipy.
pub const SIDEBAND_NULLS: [f64; 8] = [
    3.831705970207512,
    7.015586669815619,
    10.173468135062722,
    13.323691936314223,
    16.470630050877634,
    19.615858510468243,
    22.760084380592772,
    25.903672087618382,
];

/// A line of an FM spectrum that vanishes at certain modulation indices.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Line {
    /// The carrier, J₀.
    Carrier,
    /// The first pair of sidebands, J₁.
    FirstSidebands,
}

impl Line {
    /// The modulation index at which the line vanishes for the `nth` time, from 1.
    fn null(self, nth: usize) -> Result<f64, Fault> {
        let nulls = match self {
            Line::Carrier => CARRIER_NULLS,
            Line::FirstSidebands => SIDEBAND_NULLS,
        };
        let what = "The number of the null";
        at_least(what, nth as f64, 1.0)?;
        at_most(what, nth as f64, nulls.len() as f64)?;
        Ok(nulls[nth - 1])
    }
}

/// Tone, in Hz, at which a line vanishes for the `nth` time (from 1) at a peak deviation in Hz:
/// Δf divided by the nth zero of its Bessel function.
///
/// Source: frequency modulation by a sine, carrier J₀(Δf/f), first sidebands J₁(Δf/f).
pub fn tone_of_null(line: Line, deviation: f64, nth: usize) -> Result<f64, Fault> {
    Ok(positive("The deviation", deviation)? / line.null(nth)?)
}

/// Peak deviation, in Hz, when a line vanishes for the `nth` time (from 1) at a tone in Hz: the
/// nth zero of its Bessel function times f.
///
/// Source: frequency modulation by a sine, carrier J₀(Δf/f), first sidebands J₁(Δf/f).
pub fn deviation_of_null(line: Line, tone: f64, nth: usize) -> Result<f64, Fault> {
    Ok(positive("The tone", tone)? * line.null(nth)?)
}

fn carrier_power(watts: f64) -> Result<f64, Fault> {
    not_negative("The carrier power", watts)
}

fn depth(modulation: f64) -> Result<f64, Fault> {
    let what = "The modulation depth in %";
    not_negative(what, modulation * 100.0)?;
    at_most(what, modulation * 100.0, 100.0)?;
    Ok(modulation)
}
