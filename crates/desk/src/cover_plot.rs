//! The plot of a line's cover: lifting wind against slack for a sheet, pull
//! against height for a halyard, masses as bars for all others.

use crate::cover_task::{CoverRequest, Worked};
use drawing::plot::{Axis, Bar, BarPlot, Curve, Dash, Plot, bars, draw};
use makeup::{ClewLoad, HoistProfile, PerMetre, SlackSheet, Weights, clew_load};
use units::Mass;

const WIDTH_MM: f64 = 160.0;
const HEIGHT_MM: f64 = 90.0;

/// The plot as SVG; `None` where there is nothing to show.
pub(crate) fn plot(worked: &Worked, _: &CoverRequest, each: &Option<PerMetre>) -> Option<String> {
    let picture = match (&worked.clew, &worked.hoists, each) {
        (Some((sheet, _)), _, Some(each)) => lifting(&sheet.slack, each),
        (_, Some((_, with, without)), _) => hoisting(with, without),
        _ => return masses(worked.weights.as_ref()?),
    };
    draw(&picture, WIDTH_MM, HEIGHT_MM).ok().map(|picture| picture.svg())
}

/// Wind that lifts the sheet against slack, cover on and run bare, dry and wet.
fn lifting(sheet: &SlackSheet, each: &PerMetre) -> Plot {
    let slacks = (1..=40).map(|step| 0.005 * f64::from(step));
    let loads: Vec<(f64, ClewLoad)> = slacks
        .filter_map(|slack| Some((slack * 100.0, clew_load(&SlackSheet { slack, ..*sheet }, each).ok()?)))
        .collect();
    let curve = |name: &str, dash, of: fn(&ClewLoad) -> units::Speed| Curve {
        name: name.to_owned(),
        points: loads.iter().map(|(slack, load)| (*slack, of(load).to_knots())).collect(),
        dash,
    };
    Plot {
        curves: vec![
            curve("cover on, wet at most", Dash::Solid, |load| load.lift_covered_wet.high),
            curve("cover on, dry", Dash::Long, |load| load.lift_covered_dry),
            curve("run bare, wet at most", Dash::Short, |load| load.lift_stripped_wet.high),
            curve("run bare, dry", Dash::Dotted, |load| load.lift_stripped_dry),
        ],
        ..Plot::new("wind that lifts the sheet", Axis::new("slack", "%"), Axis::new("wind", "kn"))
    }
}

fn hoisting(with: &HoistProfile, without: &HoistProfile) -> Plot {
    let curve = |name: &str, dash, profile: &HoistProfile| Curve {
        name: name.to_owned(),
        points: profile.points.iter().map(|(height, pull)| (height.to_m(), pull.to_n())).collect(),
        dash,
    };
    Plot {
        curves: vec![curve("cover on", Dash::Solid, with), curve("run bare", Dash::Long, without)],
        ..Plot::new("pull at the hand, rope wet", Axis::new("hoisted", "m"), Axis::new("pull", "N"))
    }
}

fn masses(weights: &Weights) -> Option<String> {
    let bar = |name: &str, low: Mass, high: Mass| Bar {
        name: name.to_owned(),
        value: Some(low.to_g()),
        range: (high > low).then(|| (low.to_g(), high.to_g())),
        text: units::Value::from(low).show(units::System::Metric),
        counts: true,
    };
    let asked = BarPlot {
        title: "mass of the line".to_owned(),
        axis: Axis::new("mass", "g"),
        bars: vec![
            bar("cover on, dry", weights.covered_dry.low, weights.covered_dry.high),
            bar("run bare, dry", weights.stripped_dry.low, weights.stripped_dry.high),
            bar("cover on, wet", weights.covered_wet.low, weights.covered_wet.high),
            bar("run bare, wet", weights.stripped_wet.low, weights.stripped_wet.high),
        ],
        limits: Vec::new(),
    };
    bars(&asked, WIDTH_MM).ok().map(|picture| picture.svg())
}
