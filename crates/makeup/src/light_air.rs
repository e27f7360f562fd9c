//! A slack sheet in light air: what it pulls on the clew, and the wind below
//! which the sail cannot lift it.
//!
//! The sheet hangs as a catenary of even weight from clew to block; where part
//! of it is bare, its mean weight is taken, which reckons the clew's load a
//! little high (the bare part is at the clew). The sail's share of pressure at
//! its clew then lifts it: a third of three corners, ours. Stiffness of the
//! rope and the cloth's own weight are not in it.

use crate::weights::{PerMetre, Ranged};
use rig::{HangError, Hanging, Lift, hang, lifting_wind};
use sources::{COMMON_PRACTICE, Citation, OURS, Step};
use units::{Area, Force, Length, LinearDensity, Speed};

/// A slack sheet and its sail.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SlackSheet {
    /// Distance across, clew to block.
    pub span: Length,
    /// Clew above the block.
    pub clew_height: Length,
    /// Length between them over the straight distance, less one: 0.05.
    pub slack: f64,
    /// Cloth of the sail.
    pub area: Area,
    /// Length from the clew that is bare; zero with the cover on.
    pub bare: Length,
}

/// What the sheet does to the clew.
#[derive(Debug, Clone, PartialEq)]
pub struct ClewLoad {
    /// Cover on, dry: pull downwards.
    pub covered_dry: Force,
    /// Run bare, dry.
    pub stripped_dry: Force,
    /// Cover on, wet.
    pub covered_wet: Ranged<Force>,
    /// Run bare, wet.
    pub stripped_wet: Ranged<Force>,
    /// Wind that lifts it, in the same four cases.
    pub lift_covered_dry: Speed,
    /// Run bare, dry.
    pub lift_stripped_dry: Speed,
    /// Cover on, wet.
    pub lift_covered_wet: Ranged<Speed>,
    /// Run bare, wet.
    pub lift_stripped_wet: Ranged<Speed>,
    /// Length of sheet that hangs.
    pub hanging: Length,
    /// How it was worked out.
    pub working: Vec<Step>,
}

/// Whole force coefficient of a sail that just fills.
const COEFFICIENT: f64 = 1.3;
/// Share of it at the clew.
const CLEW_SHARE: f64 = 1.0 / 3.0;
const LIFT_FROM: Citation = OURS.at("a third of three corners, coefficient 1.3");

/// Pull of a slack sheet on its clew, and the wind that lifts it.
///
/// # Errors
/// When the sheet does not hang: no slack, or a span below zero.
pub fn clew_load(sheet: &SlackSheet, each: &PerMetre) -> Result<ClewLoad, HangError> {
    let straight = Length::of_m(sheet.span.to_m().hypot(sheet.clew_height.to_m()));
    let hanging = straight * (1.0 + sheet.slack);
    let bare = sheet.bare.min(hanging);
    let down = |density: LinearDensity| -> Result<Force, HangError> {
        let line = Hanging { span: sheet.span, rise: sheet.clew_height, length: hanging, linear_density: density };
        Ok(hang(&line)?.clew_down)
    };
    let mean = |covered: LinearDensity, core: LinearDensity| {
        let share = bare / hanging;
        covered * (1.0 - share) + core * share
    };
    let lift = |force: Force| {
        lifting_wind(force, &Lift { coefficient: COEFFICIENT, area: sheet.area, clew_share: CLEW_SHARE })
    };
    let ranged = |low: Force, high: Force, like: &Ranged<LinearDensity>| Ranged {
        low,
        high,
        basis: like.basis,
        citation: like.citation,
    };
    let covered_dry = down(each.covered_dry.low)?;
    let stripped_dry = down(mean(each.covered_dry.low, each.bare_dry.low))?;
    let covered_wet = ranged(down(each.covered_wet.low)?, down(each.covered_wet.high)?, &each.covered_wet);
    let stripped_wet = ranged(
        down(mean(each.covered_wet.low, each.bare_wet.low))?,
        down(mean(each.covered_wet.high, each.bare_wet.high))?,
        &each.bare_wet,
    );
    let lifts = |force: &Ranged<Force>| Ranged {
        low: lift(force.low),
        high: lift(force.high),
        basis: force.basis,
        citation: force.citation,
    };
    let working = vec![
        Step::new("sheet that hangs", "straight x (1 + slack)", hanging, COMMON_PRACTICE.at("slack of an eased sheet"))
            .input("across", sheet.span)
            .input("clew above block", sheet.clew_height)
            .input("slack", units::Value::Share(sheet.slack)),
        Step::new("clew carries, cover on, dry", "catenary", covered_dry, sources::EXACT.at("catenary"))
            .input("per length", each.covered_dry.low),
        Step::new("clew carries, run bare, dry", "catenary, mean weight", stripped_dry, sources::EXACT.at("catenary"))
            .input("bare", bare),
        Step::new("wind that lifts it, cover on, dry", "√(2 V / (ρ C A s))", lift(covered_dry), LIFT_FROM)
            .input("area", sheet.area)
            .input("C", COEFFICIENT)
            .input("s", CLEW_SHARE),
    ];
    Ok(ClewLoad {
        lift_covered_dry: lift(covered_dry),
        lift_stripped_dry: lift(stripped_dry),
        lift_covered_wet: lifts(&covered_wet),
        lift_stripped_wet: lifts(&stripped_wet),
        covered_dry,
        stripped_dry,
        covered_wet,
        stripped_wet,
        hanging,
        working,
    })
}
