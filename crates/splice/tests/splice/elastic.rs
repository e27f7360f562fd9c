//! The elastic splice against stored collocation answers, closed forms and
//! balances.

use proptest::prelude::*;
use splice::elastic::{BEDDING_SLIP, CELLS, Grid, NoEquilibrium, Service, State, Work, solve, solve_into};
use splice::*;
use units::Angle;

/// Stored answers of an independent collocation solver; the script that made
/// them is `validation/generators/elastic_splice.py`.
const REFERENCE: &str = include_str!("elastic_reference.csv");

fn braid(degrees: f64, inflation: f64) -> Braid {
    Braid::new(BraidShape::new(Angle::of_degrees(degrees), inflation)).unwrap()
}

fn tail(bury: f64, pairs: u32, cut: f64) -> Tail {
    if pairs == 0 { Tail { cut, ..Tail::blunt(bury) } } else { Tail { cut, ..even_taper(bury, pairs, 1.0 / 3.0) } }
}

/// Tail load at a distance from the throat, between faces.
fn load_at(grid_at: &State, where_: f64) -> f64 {
    let mut faces = vec![0.0];
    for at in &grid_at.at {
        let before = faces.last().copied().unwrap();
        faces.push(2.0 * at - before);
    }
    let i = faces.windows(2).position(|pair| where_ <= pair[1] + 1e-9).unwrap();
    let share = (where_ - faces[i]) / (faces[i + 1] - faces[i]);
    grid_at.tail_load[i] * (1.0 - share) + grid_at.tail_load[i + 1] * share
}

#[test]
fn twenty_cases_of_an_independent_solver() {
    let mut cases = 0;
    for line in REFERENCE.lines().filter(|line| !line.starts_with(['#', 'a'])) {
        let n = line.split(',').map(|text| text.parse::<f64>().unwrap()).collect::<Vec<_>>();
        let braid = braid(n[0], n[1]);
        let service = Service { friction: n[2], rho: n[6], strain: n[7], bedding: n[8] };
        let tail = tail(n[3], n[4] as u32, n[5]);
        // The usual grid is good to a thousandth of the load; a finer one
        // closes in on the reference with the square of the cell.
        for (cells, tolerance) in [(CELLS, 1e-3), (4 * CELLS, 1e-4)] {
            let state = solve(&Grid::new(&braid, &tail.slices(), cells), service).unwrap();
            for quarter in 1..=3 {
                let got = load_at(&state, n[3] * f64::from(quarter) / 4.0);
                let expected = n[8 + quarter as usize];
                assert!((got - expected).abs() < tolerance, "{line}: load {got} for {expected} with {cells} cells");
            }
            assert!((state.throat_slip - n[12]).abs() < tolerance, "{line}: throat {} {cells}", state.throat_slip);
            assert!((state.end_slip - n[13]).abs() < tolerance, "{line}: end {} {cells}", state.end_slip);
        }
        cases += 1;
    }
    assert_eq!(cases, 20);
}

#[test]
fn stiff_members_mobilise_just_what_is_needed() {
    let braid = braid(14.0, 1.66);
    let bury = 72.0;
    let slices = Tail::blunt(bury).slices();
    let state = solve(
        &Grid::new(&braid, &slices, 800),
        Service { friction: 0.08, rho: 0.5, strain: 1e-7, bedding: BEDDING_SLIP },
    )
    .unwrap();
    for x in [0.0, 10.0, 36.0, 60.0, 72.0] {
        // mu_crit k = ln 2 / B in the closed form.
        let expected = 1.0 - (-std::f64::consts::LN_2 * (bury - x) / bury).exp();
        assert!((load_at(&state, x) - expected).abs() < 1e-5, "{x}");
    }
    let uneven = state.slip.iter().map(|slip| (slip - state.slip[0]).abs()).fold(0.0, f64::max);
    assert!(uneven < 1e-4, "{uneven}");
}

#[test]
fn a_small_load_in_a_soft_bedding_is_classical_shear_lag() {
    // With g = s/s0 and To close to one, Ti'' = l^2 Ti - l^2 p with
    // l^2 = (mu k / s0) e (c + 1), p = c / (1 + c), c = (cos a0/cos a)^3.
    let braid = braid(14.0, 1.66);
    let (bury, rho, strain, bedding, friction) = (20.0, 2e-4, 2e-7, 50.0, 0.08);
    let slices = Tail::blunt(bury).slices();
    let state = solve(&Grid::new(&braid, &slices, 800), Service { friction, rho, strain, bedding }).unwrap();
    let cube = braid.shortened(1.0).powi(-3);
    let l = (friction * braid.grip(1.0) / bedding * strain * (cube + 1.0)).sqrt();
    let p = cube / (1.0 + cube);
    let exact = |x: f64| {
        let sinh = |v: f64| (l * v).sinh() / (l * bury).sinh();
        p + (rho - p) * sinh(bury - x) - p * sinh(x)
    };
    for x in [2.0, 10.0, 15.0] {
        let (got, expected) = (load_at(&state, x), exact(x));
        assert!((got / expected - 1.0).abs() < 2e-3, "{x}: {got} for {expected}");
    }
}

#[test]
fn without_friction_or_enough_of_it_the_answer_is_that_it_does_not_hold() {
    let braid = braid(14.0, 1.66);
    let slices = common_taper(72.0).slices();
    let grid = Grid::new(&braid, &slices, CELLS);
    let critical = 1.0 / margin(&braid, 1.0, &slices, 0.5);
    for friction in [0.0, critical * 0.5, critical * 0.999] {
        let answer = solve(&grid, Service { friction, rho: 0.5, strain: 0.0036, bedding: BEDDING_SLIP });
        assert!(matches!(answer, Err(NoEquilibrium::DoesNotHold { .. })), "{friction}");
    }
    for friction in [critical * 1.001, critical * 1.1, critical * 20.0] {
        let state = solve(&grid, Service { friction, rho: 0.5, strain: 0.0036, bedding: BEDDING_SLIP }).unwrap();
        assert!(state.end_slip > 0.0, "{friction}");
    }
    // An endless bury: the tail shares by stiffness and its end stays still.
    let long = solve(
        &Grid::new(&braid, &Tail::blunt(380.0).slices(), CELLS),
        Service { friction: 0.2, rho: 0.5, strain: 0.03, bedding: BEDDING_SLIP },
    )
    .unwrap();
    let cube = braid.shortened(1.0).powi(-3);
    assert!((load_at(&long, 190.0) - cube / (1.0 + cube)).abs() < 1e-3);
}

proptest! {
    #[test]
    fn loads_fall_evenly_and_balance(
        degrees in 10.0..16.0f64, q in 1.42..1.83f64, friction in 0.08..0.2f64, strain in 1e-4..0.03f64, pairs in 0u32..6,
    ) {
        let braid = braid(degrees, q);
        let slices = tail(72.0, pairs, 3.0).slices();
        prop_assume!(margin(&braid, friction, &slices, 0.5) > 1.02);
        let grid = Grid::new(&braid, &slices, CELLS);
        let service = Service { friction, rho: 0.5, strain, bedding: BEDDING_SLIP };
        let state = solve(&grid, service).unwrap();
        prop_assert_eq!(state.tail_load[0], 0.5);
        prop_assert_eq!(state.tail_load[grid.cells()], 0.0);
        // No face carries less than nothing or more than the rope.
        prop_assert!(state.tail_load.iter().all(|load| (-1e-6..1.0).contains(load)));
        // Work of a virtual slip: what friction holds over the whole bury is
        // what the tail brings, and each cell holds no more than it can.
        let held = state.tail_load.windows(2).map(|pair| pair[0] - pair[1]).sum::<f64>();
        prop_assert!((held - 0.5).abs() < 1e-12);
        let mut work = Work::default();
        let again = solve_into(&grid, service, &mut work).unwrap();
        prop_assert_eq!(again, state.iterations);
        // Energy: slip times friction is never gained.
        let lost = state.tail_load.windows(2).zip(&state.slip).map(|(pair, slip)| (pair[0] - pair[1]) * slip).sum::<f64>();
        prop_assert!(lost > 0.0);
    }

    #[test]
    fn the_end_creeps_further_with_load(friction in 0.08..0.2f64, strain in 1e-3..0.02f64) {
        let braid = braid(14.0, 1.66);
        let grid = Grid::new(&braid, &common_taper(72.0).slices(), CELLS);
        let at = |strain| solve(&grid, Service { friction, rho: 0.5, strain, bedding: BEDDING_SLIP }).unwrap().end_slip;
        prop_assert!(at(strain * 1.1) > at(strain));
    }
}
