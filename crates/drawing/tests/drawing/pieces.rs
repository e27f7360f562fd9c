//! Whole pieces: joins, rings, strops, shackles and chains, whatever is made
//! up along them.

use super::{attributes, end_with, ends};
use drawing::{DrawingError, Form, RopeEnd, Stretch, What, piece};
use proptest::prelude::*;

fn plain() -> RopeEnd {
    end_with(Vec::new())
}

/// Every point of every outline.
fn points(svg: &str) -> Vec<(f64, f64)> {
    let paths = attributes(svg, "d");
    let pairs = paths.iter().flat_map(|d| d.split(['M', 'L', 'Z', 'h'])).filter_map(|pair| pair.split_once(' '));
    pairs.filter_map(|(x, y)| Some((x.parse().ok()?, y.parse().ok()?))).collect()
}

#[test]
fn a_join_and_a_strop_are_their_own_mirror_image() {
    for form in [Form::Join, Form::TwoEyes] {
        let end = RopeEnd { made_up: vec![Stretch::new(What::TailInside, 0.0, 480.0)], ..plain() };
        let picture = piece(&end, form, 180.0).unwrap();
        let points = points(&picture.svg());
        assert!(points.len() > 50);
        // Outlines and bands, that is; hatching leans one way.
        let (low, high) = points.iter().fold((f64::MAX, 0.0f64), |(low, high), (x, _)| (low.min(*x), high.max(*x)));
        assert!((low + high - 180.0).abs() < 1.6, "{form:?}: {low} {high}");
    }
}

#[test]
fn a_ring_is_as_long_round_as_its_rope() {
    let end = RopeEnd { made_up: Vec::new(), ..plain() };
    let picture = piece(&end, Form::Ring(900.0), 180.0).unwrap();
    // The middle line from the scale in the notes: 1 : x.
    let scale: f64 = picture.notes[0].trim_start_matches("scale 1 : ").parse().unwrap();
    let around = (2.0 * 900.0 + std::f64::consts::PI * 10.0) / scale;
    let points = points(&picture.svg());
    let extent = |of: fn(&(f64, f64)) -> f64| {
        let values: Vec<f64> = points.iter().map(of).collect();
        values.iter().copied().fold(f64::MIN, f64::max) - values.iter().copied().fold(f64::MAX, f64::min)
    };
    // A stadium: two straights and a circle, its outline half a rope outside.
    let (wide, tall) = (extent(|point| point.0), extent(|point| point.1));
    let thick = 2.4f64.max(10.0 / scale);
    let (wide, tall) = (wide - thick, tall - thick * 1.25);
    let round = 2.0 * (wide - tall) + std::f64::consts::PI * tall;
    assert!((round / around - 1.0).abs() < 0.05, "{round} {around}");
}

#[test]
fn a_form_without_a_size_is_refused() {
    for form in [Form::Ring(0.0), Form::Shackle(-1.0), Form::Chain(f64::NAN)] {
        assert!(matches!(piece(&plain(), form, 180.0), Err(DrawingError::NotPositive { .. })), "{form:?}");
    }
    assert!(matches!(piece(&plain(), Form::Join, 20.0), Err(DrawingError::TooNarrow { .. })));
    assert!(matches!(piece(&plain(), Form::TwoEyes, 60.0), Err(DrawingError::TooNarrow { .. })));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn every_piece_can_be_drawn_inside_its_picture(end in ends(), size in 1.0..4000.0f64, width in 110.0..300.0f64) {
        for form in [Form::Join, Form::Ring(size), Form::TwoEyes, Form::Shackle(size), Form::Chain(size)] {
            let picture = piece(&end, form, width).unwrap();
            let svg = picture.svg();
            prop_assert!(!svg.contains("NaN") && !svg.contains("inf"), "{form:?}");
            prop_assert!(picture.height_mm > 0.0 && picture.height_mm.is_finite());
            prop_assert!(!picture.alt.is_empty() && !picture.notes.is_empty());
        }
    }
}
