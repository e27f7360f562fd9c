//! Lines whose load no sail makes: weights of spars and cloth, the boat at
//! her berth or anchor, one person's pull.

use crate::inputs::{Input, Inputs};
use crate::load::{HAND, LoadError, Mast, Setup, Water};
use crate::working::Working;
use crate::{Conditions, LineKind, Sails};
use sources::{ABYC_H40, ABYC_H40_BEAM, COMMON_PRACTICE, GIVEN, OURS, Step};
use units::{Angle, Force, Length, Mass};

pub(crate) fn from_weight(
    sails: &Sails,
    setup: &Setup,
    water: &Water<'_>,
    inputs: &Inputs,
    working: &mut Working,
) -> Force {
    let sized = water.sized;
    let (own, p, e) = match setup.mast {
        Mast::Main => (sails.main, sized.p, sized.e),
        Mast::Mizzen => (sails.mizzen, sized.p_mizzen, sized.e_mizzen),
    };
    if setup.kind == LineKind::PoleLift {
        let pole = Mass::of_kg(inputs.get(Input::PoleMass) * sized.j.to_m());
        let load = pole.weight() * (0.5 / Angle::of_degrees(45.0).sin());
        working.note(|| Step::new("pole", "kg/m x J", pole, inputs.citation(Input::PoleMass)).input("J", sized.j));
        working.note(|| Step::new("pole lift", "half of the pole / sin 45°", load, OURS.at("weights alone")));
        return load;
    }
    let given = own.and_then(|sail| sail.mass).filter(|_| !inputs.is_given(Input::ClothMass));
    let mass = given.unwrap_or_else(|| Mass::of_kg(inputs.get(Input::ClothMass) * e.to_m() * p.to_m() * 0.55));
    working.note(|| match given {
        Some(mass) => Step::new("sail", "", mass, GIVEN.at("sails")),
        None => {
            Step::new("sail", "kg/m2 x 0.55 P E", mass, inputs.citation(Input::ClothMass)).input("P", p).input("E", e)
        }
    });
    if setup.kind == LineKind::ToppingLift {
        let boom = Mass::of_kg(inputs.get(Input::BoomMass) * e.to_m());
        let angle = Angle::of_radians((p / e).atan());
        let load = (boom + mass).weight() * (0.5 / angle.sin());
        working.note(|| Step::new("boom", "kg/m x E", boom, inputs.citation(Input::BoomMass)).input("E", e));
        working.note(|| {
            Step::new("topping lift", "half of boom and sail / sin b", load, OURS.at("weights alone")).input("b", angle)
        });
        return load;
    }
    let load = mass.weight() * 0.5;
    working.note(|| Step::new("lazy jack", "half of the sail", load, OURS.at("weights alone")));
    load
}

/// Design loads: length overall, beam under sail, ft; working (30 kn), lbf.
const ROWS: [(f64, f64, f64); 7] = [
    (20.0, 7.0, 360.0),
    (25.0, 8.0, 490.0),
    (30.0, 10.0, 700.0),
    (35.0, 12.0, 900.0),
    (40.0, 13.0, 1200.0),
    (50.0, 15.0, 1600.0),
    (60.0, 17.0, 2000.0),
];

pub(crate) fn ground_tackle(setup: &Setup, water: &Water<'_>, working: &mut Working) -> Result<Force, LoadError> {
    let outside = |what, given: Length| LoadError::OutsideTable { kind: setup.kind.word(), what, given };
    let feet = water.sized.loa.to_feet();
    if !(10.0..=60.0).contains(&feet) {
        return Err(outside("length", water.sized.loa));
    }
    let by_length = between(feet, |row| row.0);
    working.note(|| {
        Step::new("design load, 30 kn of wind", "by length, between rows", by_length, ABYC_H40.at("table 1, working"))
            .input("LOA", water.sized.loa)
    });
    // An assumed beam says no more than the length did.
    let Some(beam) = water.boat.beam else { return Ok(by_length) };
    let by_beam = between(beam.to_feet().min(17.0), |row| row.1);
    working.note(|| {
        Step::new(
            "the same by beam",
            "between rows; the greater of the two governs",
            by_beam,
            ABYC_H40_BEAM.at("table 1, beam of sailing boats"),
        )
        .input("beam", beam)
    });
    Ok(by_length.max(by_beam))
}

/// A boat below the first row is charged its load: never less.
fn between(feet: f64, of: impl Fn(&(f64, f64, f64)) -> f64) -> Force {
    let feet = feet.max(of(&ROWS[0]));
    let pair = ROWS.windows(2).find(|pair| feet <= of(&pair[1]));
    let pair = pair.unwrap_or(&ROWS[ROWS.len() - 2..]);
    let (low, high) = (of(&pair[0]), of(&pair[1]));
    let share = ((feet - low) / (high - low)).min(1.0);
    Force::of_lbf(pair[0].2 + (pair[1].2 - pair[0].2) * share)
}

pub(crate) fn by_hand(conditions: &Conditions, working: &mut Working) -> Force {
    let (pull, from) = match conditions.hand_pull {
        Some(pull) => (pull, GIVEN.at("use")),
        None => (Force::of_n(HAND), COMMON_PRACTICE.at("one person's pull")),
    };
    working.note(|| Step::new("hand pull", "", pull, from));
    pull
}
