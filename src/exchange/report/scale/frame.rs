//! The measures of drawn scales.

/// The measures of a drawing; the picture is scaled to the room it gets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    pub(super) class: &'static str,
    pub(super) width: f64,
    pub(super) height: f64,
    /// Where the axis lies.
    pub(super) axis: f64,
    pub(super) edge: f64,
    pub(super) band: f64,
    pub(super) ring: f64,
    /// Half the width and the height of a pointer.
    pub(super) pointer: (f64, f64),
    pub(super) tick: f64,
    /// Where the labels of the limits stand, if there are any.
    pub(super) label: Option<f64>,
}

/// For a step, seen from across the bench.
pub const LARGE: Frame = Frame {
    class: "target-scale",
    width: 1000.0,
    height: 176.0,
    axis: 104.0,
    edge: 30.0,
    band: 46.0,
    ring: 11.0,
    pointer: (22.0, 58.0),
    tick: 14.0,
    label: Some(160.0),
};

/// For a row of a table, whose figures stand beside it.
pub const SMALL: Frame = Frame {
    class: "target-scale small",
    width: 420.0,
    height: 66.0,
    axis: 46.0,
    edge: 22.0,
    band: 30.0,
    ring: 8.0,
    pointer: (13.0, 36.0),
    tick: 10.0,
    label: None,
};
