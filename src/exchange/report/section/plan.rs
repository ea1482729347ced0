//! The frequency plan: what the readings predict for the air, and what was measured there.

use crate::exchange::report::sheet::Source;
use crate::exchange::report::text::typed;
use crate::exchange::report::{Cell, Part, Section, Table, words};
use crate::job::{ChannelView, ModeView, plan_view};
use crate::quantity::{DecimalSign, Quantity};

/// Predicted and measured error on the air, a row for each mode on each channel.
pub fn section(source: &Source) -> Option<Section> {
    let sign = source.look.sign;
    let view = plan_view(&source.progress.course.procedure, source.progress);
    let rows: Vec<Vec<Cell>> = view
        .iter()
        .flat_map(|channel| channel.modes.iter().map(move |mode| (channel, mode)))
        .filter(|(_, mode)| mode.predicted.is_some() || mode.measured.is_some())
        .map(|(channel, mode)| row(channel, mode, sign))
        .collect();
    let columns = [
        words::CHANNEL,
        words::MODE,
        words::PREDICTED,
        words::MEASURED,
    ];
    let lead = view.iter().filter_map(|channel| {
        let spread = channel.spread.as_ref()?.typeset(sign);
        Some(words::spread(&channel.channel.name, &spread))
    });
    (!rows.is_empty()).then(|| Section {
        lead: lead.collect(),
        parts: vec![Part::Table(Table::new("plan", &columns).with_rows(rows))],
        ..Section::new(words::PLAN)
    })
}

fn row(channel: &ChannelView, mode: &ModeView, sign: DecimalSign) -> Vec<Cell> {
    let ppm = |value: f64| {
        let text = format!("{value:.3}").replace('-', "\u{2212}");
        text.replace('.', sign.symbol())
    };
    let cell = |error: String, expanded: Option<&Quantity>| {
        let below = expanded.map(|expanded| words::with_u(&expanded.typeset(sign)));
        Cell::of(error).with(below.unwrap_or_default())
    };
    let predicted = mode.predicted.as_ref().map(|predicted| {
        let error = words::error(&predicted.error.typeset(sign), &ppm(predicted.ppm));
        cell(error, predicted.expanded.as_ref())
    });
    let measured = mode.measured.as_ref().map(|measured| {
        let error = words::error(&measured.error.typeset(sign), &ppm(measured.ppm));
        cell(error, measured.expanded.as_ref().ok())
    });
    let or_none = |cell: Option<Cell>| cell.unwrap_or_else(|| Cell::of(words::NONE));
    vec![
        Cell::of(typed(&channel.channel.name)).with(channel.channel.frequency.typeset(sign)),
        Cell::of(typed(&mode.mode)),
        or_none(predicted),
        or_none(measured),
    ]
}
