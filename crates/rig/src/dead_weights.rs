//! Lines whose load no sail makes: weights of spars and cloth, the boat on her
//! anchor, one person's pull.

use crate::load::{Candidate, HAND, LoadError};
use crate::{Boat, Conditions, LineKind, Sails};
use sources::{ABYC_H40, COMMON_PRACTICE, Citation, GIVEN, OURS, Step};
use units::{Angle, Force, Mass};

pub(crate) fn from_weight(boat: &Boat, sails: &Sails, kind: LineKind) -> Candidate {
    let (p, e, j) = (boat.p().value, boat.e().value, boat.j().value);
    let sail = sails.main.and_then(|main| main.mass);
    let sail_mass = sail.unwrap_or(Mass::of_kg(0.4 * e.to_m() * p.to_m() * 0.55));
    let sail_step = match sail {
        Some(mass) => Step::new("mainsail", "", mass, GIVEN.at("sails")),
        None => {
            Step::new("mainsail", "0.4 kg/m2 x 0.55 P E", sail_mass, OURS.at("weight assumed; give sails.main.mass"))
        }
    };
    const SPAR: Citation = OURS.at("weight of a spar assumed");
    let (load, steps) = match kind {
        LineKind::ToppingLift => {
            let boom = Mass::of_kg(4.0 * e.to_m());
            let angle = Angle::of_radians((p / e).atan());
            let load = (boom + sail_mass).weight() * (0.5 / angle.sin());
            let step = Step::new("topping lift", "half of boom and sail / sin b", load, OURS.at("weights alone"))
                .input("b", angle);
            (load, vec![sail_step, Step::new("boom", "4 kg/m x E", boom, SPAR).input("E", e), step])
        }
        LineKind::PoleLift => {
            let pole = Mass::of_kg(2.0 * j.to_m());
            let load = pole.weight() * (0.5 / Angle::of_degrees(45.0).sin());
            let step = Step::new("pole lift", "half of the pole / sin 45°", load, OURS.at("weights alone"));
            (load, vec![Step::new("pole", "2 kg/m x J", pole, SPAR).input("J", j), step])
        }
        _ => {
            let load = sail_mass.weight() * 0.5;
            (load, vec![sail_step, Step::new("lazy jack", "half of the sail", load, OURS.at("weights alone"))])
        }
    };
    Candidate { state: None, load, range: None, steps }
}

/// Design loads by boat length, working (30 kn of wind), lbf.
const WORKING_LOADS: [(f64, f64); 7] =
    [(20.0, 360.0), (25.0, 490.0), (30.0, 700.0), (35.0, 900.0), (40.0, 1200.0), (50.0, 1600.0), (60.0, 2000.0)];

pub(crate) fn ground_tackle(boat: &Boat, kind: &'static str) -> Result<Candidate, LoadError> {
    let feet = boat.loa.to_feet();
    let outside = LoadError::OutsideTable { kind, loa: boat.loa };
    // A boat below the first row is charged its load: never less.
    let feet = if (10.0..20.0).contains(&feet) { 20.0 } else { feet };
    let pair = WORKING_LOADS.windows(2).find_map(|pair| match *pair {
        [(short, less), (long, more)] if (short..=long).contains(&feet) => Some((short, less, long, more)),
        _ => None,
    });
    let (short, less, long, more) = pair.ok_or(outside)?;
    let load = Force::of_lbf(less + (more - less) * (feet - short) / (long - short));
    let step = Step::new(
        "design load, 30 kn of wind",
        "by length, between rows",
        load,
        ABYC_H40.at("table 1, working; beam rows left out"),
    )
    .input("LOA", boat.loa);
    Ok(Candidate { state: None, load, range: None, steps: vec![step] })
}

pub(crate) fn by_hand(conditions: &Conditions) -> Candidate {
    let (pull, from) = match conditions.hand_pull {
        Some(pull) => (pull, GIVEN.at("use")),
        None => (Force::of_n(HAND), COMMON_PRACTICE.at("one person's pull")),
    };
    Candidate { state: None, load: pull, range: None, steps: vec![Step::new("hand pull", "", pull, from)] }
}
