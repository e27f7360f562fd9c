//! What a spinnaker does to its halyard, tack or guy, and sheet.
//!
//! Three lines hold the sail: their pulls follow from their directions by
//! balance in three dimensions. The directions are read from the rig: the
//! halyard leans after the sail, the sheet runs down to the quarter, the tack
//! line or pole lies ahead. No flying shape is computed; the lean is ours.

use crate::balance::{BalanceError, three_corners};
use crate::state::State;
use sources::{Citation, DEPARDAY_2016, OURS, Step};
use units::{Angle, Force, Value};

/// Pulls at the three corners of a spinnaker.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Corners {
    pub(crate) head: Force,
    pub(crate) tack: Force,
    pub(crate) clew: Force,
    pub(crate) steps: Vec<Step>,
}

/// Lean of the halyard from the mast, and of the tack's pull from upright.
const HALYARD_LEAN: f64 = 35.0;
const TACK_LEAN: f64 = 30.0;
/// Fall of the sheet from clew to quarter block.
const SHEET_FALL: f64 = 25.0;

const DIRECTIONS: Citation = OURS.at("directions of the corners of a set spinnaker");

/// Pulls at head, tack and clew in a state with a spinnaker; `None` without one.
pub(crate) fn corners(state: &State) -> Option<Result<Corners, BalanceError>> {
    let sail = state.spinnaker.as_ref()?;
    let angle = state.apparent.angle;
    let (drive, side) = (sail.coefficients.drive(angle), sail.coefficients.side(angle));
    // Aft, to leeward, up: the sail pulls ahead and to leeward, and lifts a little.
    let flat = drive.hypot(side).max(1e-6);
    let pull = [-drive, side, 0.15 * flat];
    // The lines pull back along the sail's own direction, up or down.
    let back = [drive / flat, -side / flat];
    let leaning = |lean: f64, up: f64| {
        let lean = lean.to_radians();
        [back[0] * lean.sin(), back[1] * lean.sin(), up * lean.cos()]
    };
    let halyard = leaning(HALYARD_LEAN, 1.0);
    // The tack is held ahead of the sail's middle, the sheet abaft it: each is
    // turned off the sail's pull by a quarter of a right angle.
    let turned = |direction: [f64; 3], degrees: f64| {
        let (sin, cos) = degrees.to_radians().sin_cos();
        [direction[0] * cos - direction[1] * sin, direction[0] * sin + direction[1] * cos, direction[2]]
    };
    let tack = turned(leaning(TACK_LEAN, -1.0), -45.0);
    let fall = SHEET_FALL.to_radians();
    let sheet = turned([back[0] * fall.cos(), back[1] * fall.cos(), -fall.sin()], 20.0);
    Some(three_corners(sail.force, pull, [halyard, tack, sheet]).map(|[head, tack, clew]| {
        let step = |what, result: Force| {
            Step::new(what, "balance of three lines", result, DIRECTIONS).input("sail's force", sail.force)
        };
        let steps = vec![
            Step::new("spinnaker's force", "pressure x area", sail.force, OURS.at("pressure times cloth area"))
                .input("pressure", sail.pressure)
                .input("area", sail.sail.area),
            step("pull at the head", head),
            step("pull at the tack", tack),
            step("pull at the clew", clew),
        ];
        Corners { head, tack, clew, steps }
    }))
}

/// Peak over steady load of a spinnaker's lines.
///
/// # Source
/// Full-scale measurement on a small keelboat: corner loads 25 to 30 % over
/// the mean when the luff flaps; the same campaign's abstract gives 50 %.
pub(crate) const SPINNAKER_PEAK: f64 = 1.5;
pub(crate) const SPINNAKER_PEAK_FROM: Citation = DEPARDAY_2016.at("loads fluctuate by up to 50 % of the mean");

/// Guy over tack pull at the pole's end.
pub(crate) fn guy_step(tack: Force) -> (Force, Step) {
    const PULL: f64 = 45.0;
    const GUY: f64 = 25.0;
    let (pull, angle) = (Angle::of_degrees(PULL), Angle::of_degrees(GUY));
    let load = crate::statics::guy(tack, pull, angle);
    let step =
        Step::new("guy", "tack pull x sin d / sin e", load, OURS.at("triangle at the pole's end, pole well forward"))
            .input("tack pull", tack)
            .input("d", Value::Angle(pull))
            .input("e", Value::Angle(angle));
    (load, step)
}
