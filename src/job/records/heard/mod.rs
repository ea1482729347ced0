//! A reading that the device took itself, of the sound at its input: from where and how.

pub mod sounds;

use crate::job::UsedInstrument;
use crate::metrology::instrument::{Accuracy, Further, Instrument, Range, Share, Source};
use crate::procedure::Id;
use crate::quantity::{DecimalSign, Number, Quantity, Scale};
use crate::signal::Weighting;
use crate::signal::measure::Measure;
use serde::{Deserialize, Serialize};

/// How a reading was heard.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Heard {
    /// The sound input, by the name that the device has for it; empty where it has none.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub input: String,
    /// What was measured.
    pub measure: Measure,
    /// Through which filter.
    pub weighting: Weighting,
    /// How long each stretch of sound was, in milliseconds.
    pub window: u32,
    /// The sample rate in hertz.
    pub rate: u32,
    /// How many stretches the reading is the mean of.
    pub count: u32,
    /// Its standard uncertainty from the samples.
    pub standard: Quantity,
    /// Between which settings it was heard, where it is of two.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub span: Option<Span>,
    /// Across which load a voltage at the input is this power, where it is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub into: Option<Quantity>,
}

/// Two settings of generator or tone: the reference and what is held against it, the ends of a
/// change, or the levels between which the squelch opened or closed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Span {
    /// From this one.
    pub from: Quantity,
    /// To that one.
    pub to: Quantity,
}

impl Span {
    /// In words: what it is depends on what was measured.
    fn name(&self, measure: Measure) -> String {
        let [from, to] = [&self.from, &self.to].map(|it| it.typeset(DecimalSign::Point));
        match measure {
            Measure::Response | Measure::SweptResponse | Measure::AgcLevel => {
                format!("{to} against {from}")
            }
            Measure::SquelchOpening | Measure::SquelchClosing => {
                format!("between {from} and {to}")
            }
            _ => format!("from {from} to {to}"),
        }
    }
}

impl Heard {
    /// Where it came from and how it was measured, in words.
    pub fn name(&self) -> String {
        let input = match self.input.trim() {
            "" => "Sound input".to_owned(),
            name => format!("Sound input “{name}”"),
        };
        let window = match self.window % 1000 {
            0 => format!("{}\u{a0}s", self.window / 1000),
            _ => format!("{}\u{a0}ms", self.window),
        };
        let measure = match &self.span {
            Some(span) => format!("{} ({})", self.measure.name(), span.name(self.measure)),
            None => self.measure.name().to_owned(),
        };
        let into = self.into.as_ref();
        let into = into.map_or(String::new(), |load| {
            format!(" across {}", load.typeset(DecimalSign::Point))
        });
        format!(
            "{input}: {measure}{into}, {}, {window} at {}\u{a0}Hz, n\u{a0}=\u{a0}{}",
            self.weighting.name(),
            self.rate,
            self.count
        )
    }

    /// What played a role: the sound input, which shows what it heard and is as uncertain as the
    /// samples say. A sensitivity or an edge of the squelch is a level of the generator, whose own
    /// uncertainty comes to that.
    pub(in crate::job) fn as_used(
        &self,
        role: &Id,
        value: &Quantity,
        with: Option<&UsedInstrument>,
    ) -> UsedInstrument {
        let (name, record) = match (self.measure.is_of_generator(), with) {
            (true, Some(with)) => {
                let mut record = with.record.clone();
                // Samples make no accuracy known that the generator does not state.
                let stated = |record: &&mut Instrument| {
                    record.ranges.iter().all(|range| range.accuracy.is_stated())
                };
                if let Some(record) = record.as_mut().filter(stated) {
                    record.further.push(self.further(value.scale));
                }
                (format!("{}; {}", with.name, self.name()), record)
            }
            (true, None) => (self.name(), None),
            _ => (self.name(), Some(self.as_instrument(role, value))),
        };
        UsedInstrument {
            role: role.clone(),
            name,
            record,
        }
    }

    fn further(&self, of: Scale) -> Further {
        Further {
            from: Source::Samples,
            of,
            within: Share::Amount(self.standard.clone()),
        }
    }

    fn as_instrument(&self, role: &Id, value: &Quantity) -> Instrument {
        let plain = |number: i64| {
            Quantity::new(
                Number::from_decimal(number.into()),
                Scale::plain(value.unit()),
            )
        };
        Instrument {
            role: role.to_string(),
            name: self.name(),
            asset: String::new(),
            calibrated: None,
            due: None,
            ranges: vec![Range {
                // It has but one, which holds all that it can hear.
                full_scale: plain(i64::from(u32::MAX)),
                resolution: Quantity::in_scale(value.resolution(), value.scale),
                accuracy: Accuracy::default(),
            }],
            corrections: Vec::new(),
            // Samples make no accuracy known that rests on what nobody stated.
            further: match self.measure.leaves_open(self.count) {
                true => Vec::new(),
                false => vec![self.further(value.scale)],
            },
            loss: None,
        }
    }
}
