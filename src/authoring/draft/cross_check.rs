//! A second route to a figure as typed.

use crate::authoring::draft::step::picked;
use crate::authoring::draft::written_step::{ComparisonKind, DraftCrossCheck};
use crate::authoring::draft::{Say, read_tolerance, typed, typed_tolerance};
use crate::procedure::{Comparison, CrossCheck, Field, Gauge};
use crate::quantity::{DecimalSign, Scale, Unit, read};

impl ComparisonKind {
    /// All ways, in the order in which they are offered.
    pub const ALL: [ComparisonKind; 4] = [
        ComparisonKind::Same,
        ComparisonKind::PowerInto,
        ComparisonKind::CurrentThrough,
        ComparisonKind::Plausible,
    ];

    /// The way in a few words.
    pub const fn name(self) -> &'static str {
        match self {
            ComparisonKind::Same => "Same quantity",
            ComparisonKind::PowerInto => "Power in a load, from volts",
            ComparisonKind::CurrentThrough => "Current, from a drop",
            ComparisonKind::Plausible => "Plausible in itself",
        }
    }
}

impl DraftCrossCheck {
    /// A second route with nothing but a unit.
    pub fn blank(scale: Scale) -> Self {
        DraftCrossCheck {
            text: String::new(),
            at: String::new(),
            with: String::new(),
            scale,
            kind: ComparisonKind::Same,
            figure: String::new(),
        }
    }

    pub(super) fn of(check: &CrossCheck, sign: DecimalSign) -> Self {
        let (kind, figure) = match &check.compares {
            Comparison::Same => (ComparisonKind::Same, String::new()),
            Comparison::PowerInto(load) => (ComparisonKind::PowerInto, typed(load, sign)),
            Comparison::CurrentThrough(resistor) => {
                (ComparisonKind::CurrentThrough, typed(resistor, sign))
            }
            Comparison::Plausible(tolerance) => {
                (ComparisonKind::Plausible, typed_tolerance(tolerance, sign))
            }
        };
        DraftCrossCheck {
            text: check.text.clone(),
            at: check.gauge.at.to_string(),
            with: check.gauge.with.to_string(),
            scale: check.gauge.scale,
            kind,
            figure,
        }
    }

    pub(super) fn read(&self, sign: DecimalSign, say: Say) -> Option<CrossCheck> {
        let mut here = |_: Field, sentence: String| {
            say(Field::CrossCheck, format!("in the cross-check, {sentence}"))
        };
        let at = picked(&self.at, (Field::At, "test point"), &mut here);
        let with = picked(&self.with, (Field::With, "instrument"), &mut here);
        let compares = self.compares(sign);
        let compares = compares
            .map_err(|sentence| here(Field::CrossCheck, sentence))
            .ok()?;
        let (at, with) = at.zip(with)?;
        Some(CrossCheck {
            text: self.text.trim().to_owned(),
            gauge: Gauge::new(at, with, self.scale),
            compares,
        })
    }

    fn compares(&self, sign: DecimalSign) -> Result<Comparison, String> {
        let ohms = |what: &str| {
            read(&self.figure, Scale::plain(Unit::Ohm), sign)
                .map_err(|error| format!("the {what}: {error}"))
        };
        match self.kind {
            ComparisonKind::Same => Ok(Comparison::Same),
            ComparisonKind::PowerInto => ohms("load").map(Comparison::PowerInto),
            ComparisonKind::CurrentThrough => ohms("resistor").map(Comparison::CurrentThrough),
            ComparisonKind::Plausible => {
                read_tolerance(&self.figure, self.scale, sign).map(Comparison::Plausible)
            }
        }
    }
}
