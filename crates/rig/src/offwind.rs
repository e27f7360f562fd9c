//! What a spinnaker does to its halyard, tack or guy, and sheet.
//!
//! Three lines hold the sail: their pulls follow from their directions by
//! balance in three dimensions. The directions are read from the rig: the
//! halyard leans after the sail, the sheet runs down to the quarter, the tack
//! line or pole lies ahead. No flying shape is computed; the lean is ours.

use crate::balance::{BalanceError, three_corners};
use crate::inputs::{Input, Inputs};
use crate::sails::Settled;
use crate::state::SailForce;
use crate::working::Working;
use sources::{Citation, DEPARDAY_2016, OURS, Step};
use units::{Force, Value};

/// Pulls at the three corners of a spinnaker.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Corners {
    pub(crate) head: Force,
    pub(crate) tack: Force,
    pub(crate) clew: Force,
}

const DIRECTIONS: Citation = OURS.at("directions of the corners of a set spinnaker");

/// Pulls at head, tack and clew of a spinnaker in a state.
pub(crate) fn corners(
    sail: &Settled,
    set: &SailForce,
    inputs: &Inputs,
    working: &mut Working,
) -> Result<Corners, BalanceError> {
    let angle = set.apparent;
    let (drive, side) = (set.coefficients.drive(angle), set.coefficients.side(angle));
    // Aft, to leeward, up: the sail pulls ahead and to leeward, and lifts a little.
    let flat = drive.hypot(side).max(1e-6);
    let pull = [-drive, side, 0.15 * flat];
    // The lines pull back along the sail's own direction, up or down.
    let back = [drive / flat, -side / flat];
    let leaning = |input: Input, up: f64| {
        let lean = inputs.angle(input);
        [back[0] * lean.sin(), back[1] * lean.sin(), up * lean.cos()]
    };
    let halyard = leaning(Input::HalyardLean, 1.0);
    // The tack is held ahead of the sail's middle, the sheet abaft it: each is
    // turned off the sail's pull by a quarter of a right angle.
    let turned = |direction: [f64; 3], degrees: f64| {
        let (sin, cos) = degrees.to_radians().sin_cos();
        [direction[0] * cos - direction[1] * sin, direction[0] * sin + direction[1] * cos, direction[2]]
    };
    let tack = turned(leaning(Input::TackLean, -1.0), -45.0);
    let fall = inputs.angle(Input::SheetFall);
    let sheet = turned([back[0] * fall.cos(), back[1] * fall.cos(), -fall.sin()], 20.0);
    let [head, tack, clew] = three_corners(set.force, pull, [halyard, tack, sheet])?;
    working.notes(|| {
        let step = |what, result: Force| {
            Step::new(what, "balance of three lines", result, DIRECTIONS).input("sail's force", set.force)
        };
        vec![
            Step::new("spinnaker's force", "pressure x area", set.force, OURS.at("pressure times cloth area"))
                .input("pressure", set.pressure)
                .input("area", sail.area),
            step("pull at the head", head)
                .input("halyard off the mast", Value::Angle(inputs.angle(Input::HalyardLean)))
                .input("tack off upright", Value::Angle(inputs.angle(Input::TackLean)))
                .input("sheet's fall", Value::Angle(fall)),
            step("pull at the tack", tack),
            step("pull at the clew", clew),
        ]
    });
    Ok(Corners { head, tack, clew })
}

/// Peak over steady load of a spinnaker's lines.
///
/// # Source
/// Full-scale measurement on a small keelboat: corner loads 25 to 30 % over
/// the mean when the luff flaps; the same campaign's abstract gives 50 %.
pub(crate) const SPINNAKER_PEAK: f64 = 1.5;
pub(crate) const SPINNAKER_PEAK_FROM: Citation = DEPARDAY_2016.at("loads fluctuate by up to 50 % of the mean");

/// Guy from the tack's pull, by the triangle at the pole's end.
pub(crate) fn guy(tack: Force, inputs: &Inputs, working: &mut Working) -> Force {
    let (pull, angle) = (inputs.angle(Input::PolePull), inputs.angle(Input::GuyAngle));
    let load = crate::statics::guy(tack, pull, angle);
    working.note(|| {
        Step::new("guy", "tack pull x sin d / sin e", load, OURS.at("triangle at the pole's end, pole well forward"))
            .input("tack pull", tack)
            .input("d", Value::Angle(pull))
            .input("e", Value::Angle(angle))
    });
    working.note(|| {
        let push = crate::statics::pole_compression(tack, load, pull, angle);
        Step::new("pole's compression", "guy cos e + tack pull cos d", push, OURS.at("triangle at the pole's end"))
    });
    load
}

/// Foreguy: what lifts the pole.
pub(crate) fn foreguy(tack: Force, inputs: &Inputs, working: &mut Working) -> Force {
    let rise = inputs.angle(Input::ForeguyRise);
    let load = tack * rise.sin();
    working.note(|| {
        Step::new("foreguy", "tack pull x sin rise", load, inputs.citation(Input::ForeguyRise))
            .input("tack pull", tack)
            .input("rise", Value::Angle(rise))
    });
    load
}
