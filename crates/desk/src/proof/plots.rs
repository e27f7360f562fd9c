//! Tests and load curves drawn: what was pulled, and the limits it is held
//! against.
//!
//! Loads are shares of the rope's listed strength, because that is what the
//! statistics are of; a curve keeps its forces and seconds.

use super::log::{SpliceProof, TestAnswer};
use crate::problem::Problem;
use drawing::Drawing;
use drawing::plot::{Axis, Curve as Line, Dash, Dot, Group, Limit, LimitAt, Plot, Spot, draw};
use proving::Curve;
use units::{System, Value};

/// Columns in a millimetre of a curve: finer than a printer's line.
const COLUMNS_PER_MM: f64 = 5.0;

fn cannot_draw(why: drawing::DrawingError) -> Problem {
    Problem::refused("cannot-draw", why.to_string())
}

/// The tests of one rope and kind of splice in the order of the log.
pub(crate) fn tests_plot(splice: &SpliceProof, width_mm: f64) -> Result<Drawing, Problem> {
    let spots = |wanted: &dyn Fn(&TestAnswer) -> bool| {
        let all = splice.tests.iter().enumerate().filter(|(_, test)| wanted(test));
        all.map(|(index, test)| Spot::new(index as f64 + 1.0, test.share * 100.0)).collect::<Vec<_>>()
    };
    let group = |name: &str, dot, counts: &'static str| Group {
        name: name.to_owned(),
        dot,
        spots: spots(&|test| test.counts == counts),
    };
    let groups = [
        group("broke at the splice", Dot::Filled, "break"),
        group("held at least so much", Dot::Triangle, "at least"),
        group("used rope", Dot::Square, "used rope"),
        group("left out", Dot::Cross, "left out"),
    ];
    let level = |name: &str, share: f64, dash| Limit {
        name: format!("{name} {:.1} %", share * 100.0),
        at: LimitAt::Y(share * 100.0),
        dash,
    };
    let mut limits = Vec::new();
    if let Some(found) = &splice.statistics {
        limits.push(level("mean", found.mean, Dash::Solid));
        limits.push(level("chart", found.chart[0], Dash::Dotted));
        limits.push(level("chart", found.chart[2], Dash::Dotted));
    }
    limits.extend(splice.own.as_ref().map(|own| level("own low end", own.low, Dash::Long)));
    limits.extend(splice.default.as_ref().map(|default| level("default low", default.low, Dash::Short)));
    let plot = Plot {
        groups: groups.into_iter().filter(|group| !group.spots.is_empty()).collect(),
        limits,
        ..Plot::new(
            "",
            Axis::new("test, in the order of the log", "").between(0.0, splice.tests.len() as f64 + 1.0),
            Axis::new("of the listed strength", "%").fitted(),
        )
    };
    draw(&plot, width_mm, 95.0).map_err(cannot_draw)
}

/// A load curve, every peak in it.
pub(crate) fn curve_plot(curve: &Curve, system: System, width_mm: f64) -> Result<Drawing, Problem> {
    let load = |sample: &proving::Sample| Value::from(sample.load);
    // One unit for the whole axis: the one that the highest load is told in.
    let highest = curve.samples.iter().map(|sample| sample.load.to_n()).fold(0.0, f64::max);
    let highest = Value::from(units::Force::of_n(highest));
    let (unit, scale) = match highest.show(system).rsplit(' ').next() {
        Some("kN") => ("kN", 1e-3),
        Some("lbf") => ("lbf", units::Force::of_n(1.0).to_lbf()),
        _ => ("N", 1.0),
    };
    let start = curve.samples.first().map_or(0.0, |sample| sample.time.to_seconds());
    let points = curve.samples.iter().map(|sample| (sample.time.to_seconds() - start, sample.load.to_n() * scale));
    let line = Line { name: String::new(), points: points.collect(), dash: Dash::Solid };
    let peak = curve.samples.iter().max_by(|a, b| a.load.compare(&b.load));
    let named = peak.map(|sample| Limit {
        name: format!("highest {}", load(sample).show(system)),
        at: LimitAt::Y(sample.load.to_n() * scale),
        dash: Dash::Long,
    });
    let plot = Plot {
        curves: vec![line.thinned((width_mm * COLUMNS_PER_MM) as usize)],
        limits: named.into_iter().collect(),
        ..Plot::new("", Axis::new("time from the first reading", "s"), Axis::new("load", unit))
    };
    draw(&plot, width_mm, 95.0).map_err(cannot_draw)
}
