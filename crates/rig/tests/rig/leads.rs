//! Leads: laws that hold for every path.

use proptest::prelude::*;
use rig::tackle::{SheaveBearing, drum_turns};
use rig::*;
use units::{Angle, Force, Length};

fn sheave(name: &str, at: Point, mm: f64) -> TurnAt {
    TurnAt { name: name.to_owned(), at, diameter: Length::of_mm(mm), bearing: Bearing::Sheave(SheaveBearing::Plain) }
}

fn ring(at: Point) -> TurnAt {
    TurnAt { name: "ring".to_owned(), at, diameter: Length::ZERO, bearing: Bearing::Fairlead }
}

fn fast(at: Point) -> TurnAt {
    TurnAt { name: "pad".to_owned(), at, diameter: Length::ZERO, bearing: Bearing::Fast }
}

fn lead(turns: Vec<TurnAt>) -> Lead {
    Lead { hauled: Point::of_m(0.0, 0.0, 4.0), eased: Point::of_m(0.0, 0.0, 2.0), parts: 1, turns }
}

#[test]
fn a_line_that_doubles_back_where_nothing_turns_it_is_refused() {
    let back = lead(vec![ring(Point::of_m(0.0, 0.0, 0.0)), fast(Point::of_m(0.3, 0.0, 3.0))]);
    let told = travel(&back).unwrap_err().to_string();
    assert!(told.contains("doubles back") && told.contains("120°"), "{told}");
    let turned = lead(vec![sheave("block", Point::of_m(0.0, 0.0, 0.0), 60.0), fast(Point::of_m(0.3, 0.0, 3.0))]);
    assert!(travel(&turned).is_ok(), "a sheave turns it");
}

#[test]
fn tails_and_the_tightest_bend_are_of_both_ends_of_travel() {
    let turns = vec![
        sheave("big", Point::of_m(0.0, 0.0, 6.0), 90.0),
        sheave("small", Point::of_m(0.1, 0.0, 0.0), 45.0),
        fast(Point::of_m(3.0, 0.0, 0.2)),
    ];
    let travel = travel(&lead(turns)).unwrap();
    assert_eq!(travel.tightest().unwrap().name, "small");
    assert!((travel.taken_in().to_m() - 2.0).abs() < 0.01);
    assert_eq!(travel.longest(), travel.eased.length);
}

#[test]
fn a_travel_is_walked_from_eased_to_hauled_and_past_its_nearest_place() {
    let mut swung = lead(vec![sheave("block", Point::of_m(0.0, 0.0, 0.0), 60.0), fast(Point::of_m(-3.0, 0.0, 2.0))]);
    (swung.eased, swung.hauled) = (Point::of_m(0.5, 3.0, 0.0), Point::of_m(0.5, -4.0, 0.0));
    let over = travel(&swung).unwrap();
    let shorts: Vec<f64> = over.passing.iter().map(|passing| passing.short.to_m()).collect();
    assert!(shorts.windows(2).all(|pair| pair[0] > pair[1]), "{shorts:?}");
    assert_eq!((shorts[0], *shorts.last().unwrap()), (7.0, 0.0));
    assert_eq!((&over.passing[0].run, &over.passing.last().unwrap().run), (&over.eased, &over.hauled));
    let nearest = over.passing.iter().map(|passing| passing.run.turns[0].begins.to_m()).fold(f64::INFINITY, f64::min);
    // 0.5 m from the centre and 30 mm of radius: the tangent's length.
    assert!((nearest - (0.5f64 * 0.5 - 0.03 * 0.03).sqrt()).abs() < 1e-9, "{nearest}");
    assert!(over.eased.turns[0].begins.to_m() > 3.0 && over.hauled.turns[0].begins.to_m() > 4.0);
}

#[test]
fn a_drum_holds_more_with_more_turns() {
    let turns = |load| drum_turns(Force::of_n(load), Force::of_n(50.0));
    assert_eq!((turns(200.0), turns(4000.0), turns(9000.0)), (2, 4, 5));
}

proptest! {
    #[test]
    fn moving_a_point_off_the_straight_path_never_shortens_the_line(
        off in 0.0f64..2.0, more in 0.0f64..2.0, along in 0.1f64..0.9,
    ) {
        let length = |off: f64| {
            let middle = Point::of_m(off, 0.0, 4.0 * along);
            travel(&lead(vec![ring(middle), fast(Point::of_m(0.0, 0.0, 0.0))])).map(|travel| travel.hauled.length)
        };
        if let (Ok(near), Ok(far)) = (length(off), length(off + more)) {
            prop_assert!(far >= near - Length::of_mm(1e-6));
        }
    }

    #[test]
    fn a_block_feels_both_legs_alike(a in 1.0f64..5000.0, b in 1.0f64..5000.0, degrees in 0.0f64..180.0) {
        let (a, b, wrap) = (Force::of_n(a), Force::of_n(b), Angle::of_degrees(degrees));
        let load = block_load(a, b, wrap).to_n();
        prop_assert!((load - block_load(b, a, wrap).to_n()).abs() < 1e-9 * load.max(1.0));
        let law = (a.to_n().powi(2) + b.to_n().powi(2) - 2.0 * a.to_n() * b.to_n() * wrap.cos()).max(0.0).sqrt();
        prop_assert!((load - law).abs() < 1e-6 * law.max(1.0));
        let equal = block_load(a, a, wrap).to_n();
        prop_assert!((equal - 2.0 * a.to_n() * (wrap / 2.0).sin()).abs() < 1e-6 * equal.max(1.0));
    }

    #[test]
    fn a_block_s_vector_is_as_long_as_its_load_and_points_between_its_legs(
        x in -3.0f64..3.0, y in -3.0f64..3.0, z in 0.5f64..3.0, mm in 20.0f64..100.0,
    ) {
        let path = lead(vec![sheave("block", Point::of_m(0.0, 0.0, 0.0), mm), fast(Point::of_m(x, y, z))]);
        prop_assume!(x.hypot(y) > 0.3);
        let run = travel(&path).unwrap().hauled;
        let turn = &run.turns[0];
        let size = turn.block_vector.iter().map(|part| part * part).sum::<f64>().sqrt();
        prop_assert!((size - turn.block_load).abs() < 1e-9);
        // Both legs go up from it: so does the pull.
        prop_assert!(turn.block_vector[2] > 0.0);
        prop_assert!(run.hand_over_end >= 1.0);
    }

    #[test]
    fn every_turn_costs_pull_and_none_gives_any(wraps in proptest::collection::vec(0.2f64..1.5, 1..6)) {
        // A spiral of rings: each more turns the line further.
        let (mut at, mut heading, mut turns) = ((0.0f64, 4.0f64), -std::f64::consts::FRAC_PI_2, Vec::new());
        for wrap in wraps {
            at = (at.0 + heading.cos(), at.1 + heading.sin());
            turns.push(ring(Point::of_m(at.0, 0.0, at.1)));
            heading += wrap;
        }
        at = (at.0 + heading.cos(), at.1 + heading.sin());
        let mut last = 1.0;
        for count in 1..=turns.len() {
            let next = turns.get(count).map_or(Point::of_m(at.0, 0.0, at.1), |turn| turn.at);
            let some = turns[..count].iter().cloned().chain([fast(next)]).collect();
            let path = lead(some);
            let run = travel(&Lead { eased: path.hauled, ..path }).unwrap().hauled;
            prop_assert!(run.hand_over_end >= last);
            last = run.hand_over_end;
        }
    }
}
