//! Tests and load curves drawn: each test with the limits it is held against,
//! a curve over time.
//!
//! What counts is told by the shape of a point: a break at the splice is
//! filled, a load that was held a triangle, used rope a ring, what is left out
//! a cross. Units of a curve are those of its readings.

use super::{CurveAnswer, SpliceProof};
use crate::drawn::Picture;
use crate::problem::Problem;
use drawing::plot::{Axis, Curve, Dash, Dot, Group, Limit, LimitAt, Plot, Spot, draw};
use drawing::{Drawing, DrawingError};
use units::System;

/// Newtons in a pound-force, by definition.
const POUND_FORCE: f64 = 4.448_221_615_260_5;
/// Millimetres in an inch, by definition.
const INCH: f64 = 25.4;

/// The tests of one rope and kind of splice with their limits, `width_mm`
/// wide; nothing where there is no test.
///
/// # Errors
/// When the width is under 50 mm.
pub fn tests_drawn(splice: &SpliceProof, width_mm: f64) -> Result<Option<Picture>, Problem> {
    if splice.tests.is_empty() {
        return Ok(None);
    }
    let spots = |counts: &str| -> Vec<Spot> {
        let those = splice.tests.iter().enumerate().filter(|(_, test)| test.counts == counts);
        those.map(|(index, test)| Spot::new((index + 1) as f64, test.share * 100.0)).collect()
    };
    let group = |name: &str, dot, counts| Group { name: name.to_owned(), dot, spots: spots(counts) };
    let groups = [
        group("broke at the splice", Dot::Filled, "break"),
        group("held at least", Dot::Triangle, "at least"),
        group("used rope", Dot::Ring, "used rope"),
        group("left out", Dot::Cross, "left out"),
    ];
    let mut limits = Vec::new();
    let mut limit = |name: String, share: f64, dash| {
        limits.push(Limit { name: format!("{name}, {:.0} %", share * 100.0), at: LimitAt::Y(share * 100.0), dash });
    };
    if let Some(found) = &splice.statistics {
        limit("mean".to_owned(), found.mean, Dash::Solid);
        limit("normal limit".to_owned(), found.normal_limit, Dash::Long);
        limit("Weibull limit".to_owned(), found.weibull_limit, Dash::Short);
        limit("chart, upper".to_owned(), found.chart[2], Dash::Dotted);
        limit("chart, lower".to_owned(), found.chart[0], Dash::Dotted);
    }
    if let Some(default) = &splice.default {
        limit("default, low".to_owned(), default.low, Dash::DashDot);
    }
    let last = splice.tests.len() as f64 + 1.0;
    let plot = Plot {
        groups: groups.into_iter().filter(|group| !group.spots.is_empty()).collect(),
        limits,
        ..Plot::new("", Axis::new("test, in order", "").between(0.0, last), Axis::new("of listed strength", "%"))
    };
    Ok(Some(picture("tests with their limits", draw(&plot, width_mm, width_mm.min(140.0) * 0.7))?))
}

/// A load curve, `width_mm` wide: load over time, and over extension where
/// that was measured.
///
/// # Errors
/// When the width is under 50 mm.
pub fn curve_drawn(curve: &CurveAnswer, system: System, width_mm: f64) -> Result<Vec<Picture>, Problem> {
    let (force_unit, force) = match system {
        System::Metric => ("kN", 1000.0),
        System::Us => ("lbf", POUND_FORCE),
    };
    let (length_unit, length) = match system {
        System::Metric => ("mm", 1.0),
        System::Us => ("in", INCH),
    };
    let of = |points: Vec<(f64, f64)>, x: Axis| {
        let plot = Plot {
            curves: vec![Curve { name: String::new(), points, dash: Dash::Solid }],
            limits: vec![Limit {
                name: format!("highest, {}", curve.peak.text),
                at: LimitAt::Y(curve.points.iter().filter_map(|point| point[1]).fold(0.0, f64::max) / force),
                dash: Dash::Long,
            }],
            ..Plot::new("", x, Axis::new("load", force_unit))
        };
        draw(&plot, width_mm, width_mm.min(140.0) * 0.6)
    };
    let over = |index: usize, by: f64| -> Vec<(f64, f64)> {
        curve.points.iter().filter_map(|point| Some((point[index]? / by, point[1]? / force))).collect()
    };
    let mut pictures = vec![picture("load over time", of(over(0, 1.0), Axis::new("time", "s").fitted()))?];
    let stretched = over(2, length);
    if stretched.len() > 1 {
        pictures.push(picture("load over extension", of(stretched, Axis::new("extension", length_unit)))?);
    }
    Ok(pictures)
}

fn picture(title: &'static str, drawn: Result<Drawing, DrawingError>) -> Result<Picture, Problem> {
    let drawn = drawn.map_err(|why| Problem::refused("cannot-draw", why.to_string()))?;
    Ok(Picture { title, svg: drawn.svg(), notes: drawn.notes })
}
