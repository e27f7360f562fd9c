//! Plots through the public interface: legible, to scale, every name told.

use super::*;
use drawing::plot::{Axis, Band, Bar, BarPlot, Curve, Dash, Dot, Fill, Group, Limit, LimitAt, Plot, Spot, bars, draw};

fn curve(name: &str, dash: Dash, points: &[(f64, f64)]) -> Curve {
    Curve { name: name.into(), dash, points: points.to_vec() }
}

fn load_against_wind() -> Plot {
    let square = |factor: f64| (0..=30).map(|kn| (f64::from(kn), factor * f64::from(kn * kn))).collect::<Vec<_>>();
    Plot {
        curves: vec![
            curve("main halyard", Dash::Solid, &square(0.012)),
            curve("jib halyard", Dash::Long, &square(0.0119)),
            curve("mainsheet", Dash::Short, &square(0.006)),
        ],
        bands: vec![Band {
            name: "range of the mainsheet".into(),
            edges: (0..=30).map(f64::from).map(|kn| (kn, 0.005 * kn * kn, 0.008 * kn * kn)).collect(),
            fill: Fill::Dots,
        }],
        limits: vec![
            Limit { name: "reef 1".into(), at: LimitAt::X(16.0), dash: Dash::Dotted },
            Limit { name: "reef 2".into(), at: LimitAt::X(17.0), dash: Dash::Dotted },
            Limit { name: "strength wanted, 12 kN".into(), at: LimitAt::Y(12.0), dash: Dash::DashDot },
        ],
        groups: vec![Group {
            name: "measured".into(),
            dot: Dot::Ring,
            spots: vec![Spot::new(12.0, 1.8).named("day 1"), Spot::new(12.4, 1.8).named("day 2")],
        }],
        ..Plot::new("load against wind", Axis::new("true wind", "kn"), Axis::new("load", "kN"))
    }
}

/// The x or y of the lines that a path draws.
fn places(svg: &str) -> Vec<(f64, f64)> {
    attributes(svg, "d")
        .iter()
        .flat_map(|d| d.split(['M', 'L', 'Z']))
        .filter_map(|pair| pair.split_once(' '))
        .filter_map(|(x, y)| Some((x.parse().ok()?, y.parse().ok()?)))
        .collect()
}

#[test]
fn a_plot_names_everything_in_it() {
    let picture = draw(&load_against_wind(), 130.0, 80.0).unwrap();
    check_legible(&picture).unwrap();
    let svg = picture.svg();
    for name in [
        "main halyard",
        "jib halyard",
        "mainsheet",
        "range of the mainsheet",
        "reef 1",
        "reef 2",
        "measured",
        "day 1",
        "day 2",
    ] {
        assert!(svg.contains(&format!(">{name}<")), "{name} is missing");
    }
    assert!(svg.contains(">true wind, kn<") && svg.contains(">load, kN<"));
    assert!(picture.alt.contains("main halyard: from 0 at 0 to 10.8 at 30"), "{}", picture.alt);
    assert_eq!(picture, draw(&load_against_wind(), 130.0, 80.0).unwrap());
}

#[test]
fn values_stand_where_the_figures_say() {
    // Frame of known axes: the corner of the curve must stand at the
    // figures' ticks, found by their own lines.
    let plot = Plot {
        curves: vec![curve("", Dash::Solid, &[(0.0, 0.0), (10.0, 40.0), (20.0, 100.0)])],
        ..Plot::new("", Axis::new("x", ""), Axis::new("y", ""))
    };
    let svg = draw(&plot, 100.0, 70.0).unwrap().svg();
    let text_at = |words: &str| {
        let tag = svg.split("<text ").find(|tag| tag.contains(&format!(">{words}<"))).unwrap().to_owned();
        let tag = format!(" {tag}");
        let value = |name| attributes(&tag, name)[0].parse::<f64>().unwrap();
        (value("x"), value("y"))
    };
    let x = text_at("10").0;
    let y = text_at("40").1 - 1.1;
    assert!(places(&svg).iter().any(|place| (place.0 - x).abs() < 0.01 && (place.1 - y).abs() < 0.01), "{x} {y}");
}

#[test]
fn what_runs_outside_given_axes_is_told_or_refused() {
    let given = Plot {
        curves: vec![curve("steep", Dash::Solid, &[(0.0, 0.0), (10.0, 100.0)])],
        ..Plot::new("", Axis::new("x", "").between(0.0, 10.0), Axis::new("y", "").between(0.0, 50.0))
    };
    let picture = draw(&given, 100.0, 60.0).unwrap();
    assert_eq!(picture.notes, ["steep runs on outside the frame"]);
    assert!(places(&picture.svg()).iter().all(|place| place.1 > 3.0), "the curve leaves the frame");
    let spot = Group { name: String::new(), dot: Dot::Cross, spots: vec![Spot::new(5.0, 60.0)] };
    let outside = Plot { groups: vec![spot], ..given.clone() };
    assert_eq!(draw(&outside, 100.0, 60.0), Err(DrawingError::OutsideAxes { x: 5.0, y: 60.0 }));
    let nothing = Plot { curves: vec![], ..given.clone() };
    assert_eq!(draw(&nothing, 100.0, 60.0), Err(DrawingError::NothingToPlot));
    assert!(matches!(draw(&given, 100.0, 20.0), Err(DrawingError::TooLow { .. })));
    assert!(matches!(draw(&given, 40.0, 60.0), Err(DrawingError::TooNarrow { .. })));
    let broken = Plot { curves: vec![curve("", Dash::Solid, &[(0.0, f64::NAN)])], ..given };
    assert!(matches!(draw(&broken, 100.0, 60.0), Err(DrawingError::NotFinite { .. })));
}

#[test]
fn bars_are_as_long_as_their_values() {
    let bar = |name: &str, value: Option<f64>, counts| Bar {
        name: name.into(),
        value,
        range: value.map(|value| (0.9 * value, 1.1 * value)),
        text: value.map_or("not assessed".into(), |value| format!("{value} kN")),
        counts,
    };
    let plot = BarPlot {
        title: "weak points".into(),
        axis: Axis::new("strength", "kN"),
        bars: vec![bar("end of the bury", Some(20.0), true), bar("crown", Some(40.0), false), bar("knot", None, false)],
        limits: vec![("wanted, 30 kN".into(), 30.0, Dash::Short)],
    };
    let picture = bars(&plot, 120.0).unwrap();
    check_legible(&picture).unwrap();
    let svg = picture.svg();
    let (low, high) = inked_bands(&svg)[0];
    let limit = places(&svg).iter().map(|place| place.0).find(|x| (x - low - 1.5 * (high - low)).abs() < 0.01);
    assert!(limit.is_some(), "30 kN does not stand at one and a half times 20 kN");
    for words in ["wanted, 30 kN", "not assessed", "20 kN", "end of the bury"] {
        assert!(svg.contains(words), "{words} is missing");
    }
    assert_eq!(bars(&BarPlot { bars: vec![], ..plot }, 120.0), Err(DrawingError::NothingToPlot));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn every_plot_is_legible(
        values in prop::collection::vec((-1e6..1e6_f64, -1e3..1e3_f64), 1..20),
        names in prop::collection::vec("[a-m <&]{0,60}", 4),
        scale in -9..9_i32,
        width in 80.0..200.0_f64,
    ) {
        let scaled: Vec<(f64, f64)> = values.iter().map(|(x, y)| (*x, y * 10_f64.powi(scale))).collect();
        let spots = scaled.iter().map(|(x, y)| Spot::new(*x, *y).named(names[0].clone())).collect();
        let plot = Plot {
            curves: names.iter().zip(Dash::ALL).map(|(name, dash)| curve(name, dash, &scaled)).collect(),
            groups: vec![Group { name: names[1].clone(), dot: Dot::Square, spots }],
            limits: vec![Limit { name: names[2].clone(), at: LimitAt::X(scaled[0].0), dash: Dash::Dotted }],
            ..Plot::new(names[3].clone(), Axis::new("x", "mm").fitted(), Axis::new("y", ""))
        };
        let picture = draw(&plot, width, 90.0).unwrap();
        check_legible(&picture)?;
        let svg = picture.svg();
        for x in attributes(&svg, "x") {
            let x: f64 = x.parse().unwrap();
            prop_assert!((-0.01..=width + 0.01).contains(&x), "text at {x} of {width}");
        }
    }
}
