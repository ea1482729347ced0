//! The power of what is left when the tone is taken out, and how well it is known.

use super::{Spectrum, mean, short};
use crate::signal::figure::Figure;
use crate::signal::weighting::Weighting;

/// Over how many pieces the power of the whole band is looked at.
const PIECES: usize = 20;

/// Neighbours that share half their samples agree by 1/36 of their spread each (Welch 1967, for
/// the window of Hann and white noise).
const SHARED: f64 = 1.0 + 2.0 / 36.0;

/// The spectra of a residue, taken once for all that is asked of them.
pub struct Left {
    samples: Vec<f64>,
    spectra: Vec<Spectrum>,
    mean: Spectrum,
}

impl Left {
    /// Looks at a residue.
    pub fn of(samples: Vec<f64>, rate: f64) -> Left {
        let spectra = short(&samples, rate);
        let mean = mean(&spectra).unwrap_or(Spectrum {
            spacing: rate,
            power: Vec::new(),
        });
        Left {
            samples,
            spectra,
            mean,
        }
    }

    /// Its mean spectrum.
    pub fn spectrum(&self) -> &Spectrum {
        &self.mean
    }

    /// Its mean square through a filter. What comes and goes from piece to piece is noise; hum and
    /// products that stay make it no less certain.
    pub fn power(&self, weighting: Weighting) -> Figure {
        match weighting {
            Weighting::Whole => self.whole(),
            weighting => self.weighted(weighting),
        }
    }

    fn whole(&self) -> Figure {
        let mean_square = |piece: &[f64]| {
            piece.iter().map(|each| each * each).sum::<f64>() / piece.len().max(1) as f64
        };
        let pieces = self
            .samples
            .chunks_exact((self.samples.len() / PIECES).max(1));
        let pieces: Vec<f64> = pieces.map(mean_square).collect();
        let spread = Figure::of_repeats(&pieces);
        Figure {
            value: mean_square(&self.samples),
            standard: spread.map_or(f64::INFINITY, |each| each.standard),
            freedom: spread.map_or(1.0, |each| each.freedom),
        }
    }

    fn weighted(&self, weighting: Weighting) -> Figure {
        let lines = self.mean.power.len();
        let weights: Vec<f64> = (0..lines)
            .map(|line| {
                weight(
                    weighting,
                    line as f64 * self.mean.spacing,
                    self.mean.spacing,
                )
            })
            .collect();
        let through = |spectrum: &Spectrum| {
            let lines = spectrum.power.iter().zip(&weights);
            lines.map(|(power, weight)| power * weight).sum::<f64>()
        };
        let each: Vec<f64> = self.spectra.iter().map(through).collect();
        let spread = Figure::of_repeats(&each);
        Figure {
            value: through(&self.mean),
            standard: spread.map_or(f64::INFINITY, |each| each.standard * SHARED.sqrt()),
            freedom: spread.map_or(1.0, |each| each.freedom / SHARED),
        }
    }
}

/// What a line counts. The window spreads a tone over the lines beside it, by a third of a line
/// squared; where a table is steep these would count too much, so it is bent by as much the other
/// way.
fn weight(weighting: Weighting, hertz: f64, spacing: f64) -> f64 {
    let here = weighting.power(hertz);
    match weighting {
        Weighting::Whole | Weighting::Speech => here,
        Weighting::Psophometric | Weighting::CMessage => {
            let beside = |lines: f64| {
                let apart = lines * spacing;
                weighting.power(hertz - apart) + weighting.power(hertz + apart)
            };
            let bend = beside(1.0) - 2.0 * here;
            let bend_of_bend = beside(2.0) - 4.0 * beside(1.0) + 6.0 * here;
            here - bend / 6.0 + bend_of_bend / 36.0
        }
    }
}
