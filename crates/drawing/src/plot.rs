//! Plots of one quantity against another, and bars of one quantity.
//!
//! [`draw`] sets curves, bands, limits and points into one frame whose axes
//! carry name and unit; [`bars`] draws one bar a row with its value and the
//! limits it is held against. Everything is told apart without colour: curves
//! by their dash and by their name at their right end, bands by their fill,
//! points by their shape. What is too long for its place is shortened on the
//! picture and given whole in the notes, so nothing is lost.
//!
//! Method: straight axes with steps of 1, 2 or 5 times a power of ten, plane
//! geometry of our own. Not covered: logarithmic axes, and working out any
//! value.

mod axis;
mod bars;
mod frame;
mod labels;
mod thin;

pub use bars::{Bar, BarPlot, bars};
pub use frame::draw;
pub(crate) use labels::spread;

use crate::DrawingError;

/// How an axis gets its range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Span {
    /// From zero to round numbers around what is drawn.
    FromZero,
    /// Round numbers around what is drawn, wherever that lies.
    Fitted,
    /// Between two given values. Curves are clipped there, and the notes say
    /// so; points outside are refused.
    Between(f64, f64),
}

/// One axis.
#[derive(Debug, Clone, PartialEq)]
pub struct Axis {
    /// What it measures, such as `wind`.
    pub name: String,
    /// Its unit, such as `kn`; empty for a plain number.
    pub unit: String,
    /// How it gets its range.
    pub span: Span,
}

impl Axis {
    /// An axis from zero.
    pub fn new(name: impl Into<String>, unit: impl Into<String>) -> Axis {
        Axis { name: name.into(), unit: unit.into(), span: Span::FromZero }
    }

    /// The same axis around what is drawn, with or without zero.
    pub fn fitted(self) -> Axis {
        Axis { span: Span::Fitted, ..self }
    }

    /// The same axis between two values.
    pub fn between(self, from: f64, to: f64) -> Axis {
        Axis { span: Span::Between(from, to), ..self }
    }

    /// Name and unit as printed: `wind, kn`.
    pub(crate) fn title(&self) -> String {
        if self.unit.is_empty() { self.name.clone() } else { format!("{}, {}", self.name, self.unit) }
    }
}

/// The dash of a curve or limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dash {
    /// Unbroken.
    Solid,
    /// Long dashes.
    Long,
    /// Short dashes.
    Short,
    /// Dash and dot in turn.
    DashDot,
    /// Dots.
    Dotted,
}

impl Dash {
    /// All of them, in the order in which curves should take them.
    pub const ALL: [Dash; 5] = [Dash::Solid, Dash::Long, Dash::Short, Dash::DashDot, Dash::Dotted];

    pub(crate) const fn lengths_mm(self) -> &'static [f64] {
        match self {
            Dash::Solid => &[],
            Dash::Long => &[3.2, 1.2],
            Dash::Short => &[1.4, 1.0],
            Dash::DashDot => &[3.2, 0.9, 0.5, 0.9],
            Dash::Dotted => &[0.4, 0.9],
        }
    }
}

/// A curve, named at its right end.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    /// Its name; empty for none.
    pub name: String,
    /// Its points in the order in which they are joined.
    pub points: Vec<(f64, f64)>,
    /// Its dash.
    pub dash: Dash,
}

/// How a band is filled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fill {
    /// Fine upright lines.
    Lines,
    /// Dots.
    Dots,
}

/// A band between two edges over one run of x: the range of a computed value,
/// or tolerance limits.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// Its name; empty for none.
    pub name: String,
    /// Points x, low edge, high edge; x rises.
    pub edges: Vec<(f64, f64, f64)>,
    /// Its fill.
    pub fill: Fill,
}

impl Band {
    /// A band of even height over a run of x.
    pub fn level(name: impl Into<String>, x: (f64, f64), y: (f64, f64), fill: Fill) -> Band {
        Band { name: name.into(), edges: vec![(x.0, y.0, y.1), (x.1, y.0, y.1)], fill }
    }
}

/// A straight line across the whole frame: a limit, a mean, a wanted value.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    /// Its name with its value, such as `strength wanted, 21.4 kN`.
    pub name: String,
    /// Where it stands.
    pub at: LimitAt,
    /// Its dash.
    pub dash: Dash,
}

/// Where a limit stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LimitAt {
    /// Upright, at a value of x; named over the frame.
    X(f64),
    /// Level, at a value of y; named at the right.
    Y(f64),
}

/// The shape of a point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dot {
    /// A filled circle.
    Filled,
    /// A ring.
    Ring,
    /// A cross.
    Cross,
    /// An open square.
    Square,
    /// A filled triangle.
    Triangle,
}

/// One point, with a range if it has one.
#[derive(Debug, Clone, PartialEq)]
pub struct Spot {
    /// Its value of x.
    pub x: f64,
    /// Its value of y.
    pub y: f64,
    /// Lowest and highest y, drawn as a bar through it.
    pub range: Option<(f64, f64)>,
    /// Its own name; empty for none.
    pub name: String,
}

impl Spot {
    /// A point without a range or a name.
    pub fn new(x: f64, y: f64) -> Spot {
        Spot { x, y, range: None, name: String::new() }
    }

    /// The same point named.
    pub fn named(self, name: impl Into<String>) -> Spot {
        Spot { name: name.into(), ..self }
    }
}

/// Points of one kind.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// What they are; named in a key over the frame. Empty for none.
    pub name: String,
    /// Their shape.
    pub dot: Dot,
    /// The points.
    pub spots: Vec<Spot>,
}

/// What is plotted.
///
/// ```
/// use drawing::plot::{Axis, Curve, Dash, Limit, LimitAt, Plot, draw};
///
/// let curve = |name: &str, dash, factor: f64| Curve {
///     name: name.into(),
///     points: (0..=30).map(|kn| (f64::from(kn), factor * f64::from(kn * kn))).collect(),
///     dash,
/// };
/// let plot = Plot {
///     curves: vec![curve("main halyard", Dash::Solid, 0.006), curve("jib halyard", Dash::Long, 0.004)],
///     limits: vec![Limit { name: "reef 1".into(), at: LimitAt::X(18.0), dash: Dash::Short }],
///     ..Plot::new("load against wind", Axis::new("true wind", "kn"), Axis::new("load", "kN"))
/// };
/// let picture = draw(&plot, 120.0, 70.0)?;
/// assert_eq!((picture.width_mm, picture.height_mm), (120.0, 70.0));
/// assert!(picture.svg().contains("jib halyard"));
/// # Ok::<(), drawing::DrawingError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Plot {
    /// Its title; empty for none.
    pub title: String,
    /// The axis to the right.
    pub x: Axis,
    /// The axis upwards.
    pub y: Axis,
    /// Bands, drawn first.
    pub bands: Vec<Band>,
    /// Limits.
    pub limits: Vec<Limit>,
    /// Curves.
    pub curves: Vec<Curve>,
    /// Points, drawn last.
    pub groups: Vec<Group>,
}

impl Plot {
    /// A plot with nothing in it.
    pub fn new(title: impl Into<String>, x: Axis, y: Axis) -> Plot {
        Plot {
            title: title.into(),
            x,
            y,
            bands: Vec::new(),
            limits: Vec::new(),
            curves: Vec::new(),
            groups: Vec::new(),
        }
    }

    /// Every value of x and of y that must be on the axes.
    fn values(&self) -> (Vec<f64>, Vec<f64>) {
        let (mut x, mut y) = (Vec::new(), Vec::new());
        for curve in &self.curves {
            x.extend(curve.points.iter().map(|point| point.0));
            y.extend(curve.points.iter().map(|point| point.1));
        }
        for (at, low, high) in self.bands.iter().flat_map(|band| &band.edges) {
            x.push(*at);
            y.extend([*low, *high]);
        }
        for limit in &self.limits {
            match limit.at {
                LimitAt::X(at) => x.push(at),
                LimitAt::Y(at) => y.push(at),
            }
        }
        for spot in self.groups.iter().flat_map(|group| &group.spots) {
            x.push(spot.x);
            y.push(spot.y);
            y.extend(spot.range.into_iter().flat_map(|(low, high)| [low, high]));
        }
        (x, y)
    }

    fn check(&self) -> Result<(Vec<f64>, Vec<f64>), DrawingError> {
        let (x, y) = self.values();
        for value in x.iter().chain(&y) {
            finite("a value of the plot", *value)?;
        }
        if x.is_empty() || y.is_empty() {
            return Err(DrawingError::NothingToPlot);
        }
        for band in &self.bands {
            if let Some(pair) = band.edges.windows(2).find(|pair| pair[1].0 < pair[0].0) {
                return Err(DrawingError::NotRising { what: "a band", from: pair[0].0, to: pair[1].0 });
            }
        }
        Ok((x, y))
    }
}

pub(crate) fn finite(what: &'static str, given: f64) -> Result<(), DrawingError> {
    if given.is_finite() { Ok(()) } else { Err(DrawingError::NotFinite { what, given }) }
}
