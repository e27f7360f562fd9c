//! Hauling a sail up: the pull at the hand over the height, and the time that
//! a person's power takes for it.
//!
//! On the sail's side hang the cloth that is up and the rope below the sheave;
//! the rope inside the mast helps. Friction of the lead is that of hauling.
//! Slides, tracks and wind are not in it: they add to the pull.

use crate::weights::PerMetre;
use sources::{COMMON_PRACTICE, Citation, OURS, Sourced, Step};
use units::{Duration, Force, Length, LinearDensity, Mass, STANDARD_GRAVITY};

/// What one person gives on a line for a while, watts: least and most.
pub const HUMAN_POWER_W: Sourced<(f64, f64)> = Sourced::new((75.0, 150.0), COMMON_PRACTICE.at("75 to 150 W sustained"));

/// A sail and how it goes up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hoist {
    /// The sail.
    pub sail: Mass,
    /// From the head lowered to the head hoisted.
    pub height: Length,
    /// From the head lowered to the sheave, along the rope.
    pub to_sheave: Length,
    /// Parts of a purchase at the head.
    pub parts: u32,
    /// Pull at the hand over pull at the head, hauling.
    pub friction: f64,
    /// Length from the head that is bare; zero with the cover on.
    pub bare: Length,
    /// Power of the people who haul, watts.
    pub power_w: f64,
}

/// The pull at the hand on the way up.
#[derive(Debug, Clone, PartialEq)]
pub struct HoistProfile {
    /// Height of the head over where it began, and the pull there.
    pub points: Vec<(Length, Force)>,
    /// The largest pull.
    pub largest: Force,
    /// Work of it, joules.
    pub work_j: f64,
    /// Time at the stated power.
    pub time: Duration,
    /// How it was worked out.
    pub working: Vec<Step>,
}

const FROM: Citation = OURS.at("cloth that is up, rope below the sheave, less rope inside the mast");
const STEPS: usize = 100;

/// The pull over the height for a rope whose covered and bare parts weigh so
/// much, both dry or both wet.
///
/// # Example
/// ```
/// use makeup::{Hoist, hoist};
/// use units::{Length, LinearDensity, Mass};
/// // A weightless rope on a frictionless sheave lifts the mean of the sail.
/// let lift = Hoist {
///     sail: Mass::of_kg(20.0), height: Length::of_m(10.0), to_sheave: Length::of_m(10.2),
///     parts: 1, friction: 1.0, bare: Length::ZERO, power_w: 98.0665,
/// };
/// let none = LinearDensity::of_g_per_m(0.0);
/// let up = hoist(&lift, none, none);
/// assert!((up.work_j - 20.0 * 9.80665 * 10.0 / 2.0).abs() < 1e-6);
/// assert!((up.time.to_seconds() - 10.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn hoist(lift: &Hoist, covered: LinearDensity, core: LinearDensity) -> HoistProfile {
    let total = lift.to_sheave.to_m();
    // Mass of the rope from the head to a place along it, kg.
    let up_to = |place: f64| {
        let bare = lift.bare.to_m().min(place);
        core.to_kg_per_m() * bare + covered.to_kg_per_m() * (place - bare)
    };
    let parts = f64::from(lift.parts.max(1));
    let pull = |height: f64| {
        let cloth = lift.sail.to_kg() * height / lift.height.to_m().max(1e-9);
        let below = total - height;
        let sail_side = (cloth + up_to(below)) * STANDARD_GRAVITY;
        // The mast's length of rope beyond the sheave hangs on the hand's side.
        let helping = (up_to(below + total) - up_to(below)) * STANDARD_GRAVITY;
        ((sail_side * lift.friction - helping) / parts).max(0.0)
    };
    let height = lift.height.to_m();
    let points: Vec<(f64, f64)> =
        (0..=STEPS).map(|step| height * step as f64 / STEPS as f64).map(|at| (at, pull(at))).collect();
    let work_j: f64 =
        points.windows(2).map(|pair| (pair[1].0 - pair[0].0) * parts * (pair[0].1 + pair[1].1) / 2.0).sum();
    let largest = Force::of_n(points.iter().map(|(_, pull)| *pull).fold(0.0, f64::max));
    let time = Duration::of_seconds(work_j / lift.power_w.max(1.0));
    let working = vec![
        Step::new(
            "largest pull at the hand",
            "((cloth up + rope below) g friction - rope inside g) / parts",
            largest,
            FROM,
        )
        .input("sail", lift.sail)
        .input("friction", lift.friction),
        Step::new("time up", "work / power", time, HUMAN_POWER_W.citation)
            .input("work, J", work_j)
            .input("power, W", lift.power_w),
    ];
    let points = points.into_iter().map(|(at, pull)| (Length::of_m(at), Force::of_n(pull))).collect();
    HoistProfile { points, largest, work_j, time, working }
}

/// The wet densities of a rope at the heavy end: covered and bare.
#[must_use]
pub fn soaked(each: &PerMetre) -> (LinearDensity, LinearDensity) {
    (each.covered_wet.high, each.bare_wet.high)
}
