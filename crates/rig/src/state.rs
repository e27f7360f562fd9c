//! Sailing states: wind, heel and the pressure on each sail, capped by what
//! the boat can stand up to.

use crate::coefficients::{Coefficients, SailTable, at};
use crate::sails::{Settled, settle_jib, settle_main, settle_spinnaker};
use crate::stability::{HEELING_ARM_DRAUGHT, righting_moment};
use crate::wind::{Apparent, Sailing, apparent, gradient, pressure};
use crate::{Boat, Sails, SpinnakerKind};
use sources::{Citation, Finding, GIVEN, LR_MASTS_2017, OURS, Step};
use units::{Angle, Force, Length, Moment, Pressure, Speed, Value};

/// The weather and the hands that the loads are worked out for.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Conditions {
    /// True wind in which full sail is carried upwind.
    pub wind_upwind: Option<Speed>,
    /// True wind in which the spinnaker is carried.
    pub wind_downwind: Option<Speed>,
    /// What one person pulls on a line.
    pub hand_pull: Option<Force>,
}

/// Full sail upwind, where nothing is given.
const WIND: f64 = 20.0;

/// One sail in one state.
#[derive(Debug, Clone, PartialEq)]
pub struct SailForce {
    /// The whole force.
    pub force: Force,
    /// Force over cloth area.
    pub pressure: Pressure,
    /// Its coefficients.
    pub coefficients: Coefficients,
    pub(crate) sail: Settled,
}

/// Wind, heel and sails at one angle.
#[derive(Debug, Clone, PartialEq)]
pub struct State {
    /// Its name.
    pub name: &'static str,
    /// True wind angle.
    pub true_angle: Angle,
    /// True wind speed at 10 m.
    pub wind: Speed,
    /// Wind felt at the largest sail's centre.
    pub apparent: Apparent,
    /// Mainsail, if set.
    pub main: Option<SailForce>,
    /// Headsail, if set.
    pub jib: Option<SailForce>,
    /// Spinnaker, if set.
    pub spinnaker: Option<SailForce>,
    /// Share of the full pressure that her stability allows; one or less.
    pub allowed: f64,
    /// How it was worked out.
    pub steps: Vec<Step>,
}

/// What is set and how she goes, at one true wind angle.
struct Plan {
    name: &'static str,
    angle: f64,
    /// Boat speed over hull speed.
    speed: f64,
    heel: f64,
    spinnaker: bool,
}

const PLANS: [Plan; 6] = [
    Plan { name: "upwind", angle: 42.0, speed: 0.80, heel: 20.0, spinnaker: false },
    Plan { name: "close reach", angle: 60.0, speed: 0.95, heel: 20.0, spinnaker: false },
    Plan { name: "beam reach", angle: 90.0, speed: 1.0, heel: 15.0, spinnaker: false },
    Plan { name: "spinnaker reach", angle: 105.0, speed: 1.0, heel: 15.0, spinnaker: true },
    Plan { name: "broad reach under spinnaker", angle: 130.0, speed: 1.0, heel: 10.0, spinnaker: true },
    Plan { name: "run under spinnaker", angle: 160.0, speed: 1.0, heel: 5.0, spinnaker: true },
];

/// Every state that the sails allow, and what is to be said about the boat.
///
/// Boat speed is a share of hull speed 1.34 √LWL (feet, knots); wind is taken
/// at each sail's centre by the log profile.
#[must_use]
pub fn sailing_states(boat: &Boat, sails: &Sails, conditions: &Conditions) -> (Vec<State>, Vec<Finding>) {
    let (moment, moment_step, findings) = righting_moment(boat);
    let states = PLANS
        .iter()
        .filter(|plan| !plan.spinnaker || sails.spinnaker.is_some())
        .filter_map(|plan| state(boat, sails, conditions, plan, (moment, &moment_step)))
        .collect();
    (states, findings)
}

fn state(
    boat: &Boat,
    sails: &Sails,
    conditions: &Conditions,
    plan: &Plan,
    (moment, moment_step): (Moment, &Step),
) -> Option<State> {
    let given = if plan.spinnaker { conditions.wind_downwind } else { conditions.wind_upwind };
    let wind = given.unwrap_or(Speed::of_knots(WIND));
    let from: Citation = if given.is_some() { GIVEN.at("use") } else { OURS.at("give wind_upwind, wind_downwind") };
    let hull_speed = Speed::of_knots(1.34 * boat.lwl().value.to_feet().sqrt());
    let sailing = Sailing {
        wind,
        angle: Angle::of_degrees(plan.angle),
        boat: hull_speed * plan.speed,
        heel: Angle::of_degrees(plan.heel),
    };
    let main = sails.main.map(|sail| (settle_main(boat, &sail), SailTable::Main));
    let jib = sails.jib.filter(|_| !plan.spinnaker).map(|sail| (settle_jib(boat, &sail), SailTable::Jib));
    let spinnaker = sails.spinnaker.filter(|_| plan.spinnaker).map(|sail| {
        let table = match sail.kind {
            SpinnakerKind::Symmetric => SailTable::Symmetric,
            SpinnakerKind::Asymmetric => SailTable::Asymmetric,
        };
        (settle_spinnaker(boat, &sail), table)
    });
    let felt = |height: Length| -> Option<Apparent> {
        Some(apparent(&Sailing { wind: wind * gradient(height + boat.freeboard().value)?, ..sailing }))
    };
    // Unit forces first: the cap needs the whole heeling moment.
    let full = |sail: Option<(Settled, SailTable)>| -> Option<(SailForce, Angle)> {
        let (sail, table) = sail?;
        let wind = felt(sail.centre)?;
        let coefficients = at(table, wind.angle).ok()?;
        let cloth = pressure(wind.speed) * coefficients.size();
        Some((SailForce { force: cloth * sail.area, pressure: cloth, coefficients, sail }, wind.angle))
    };
    let set = [full(main), full(jib), full(spinnaker)];
    let below = boat.freeboard().value + boat.draught().value * HEELING_ARM_DRAUGHT;
    let heeling: Moment = set
        .iter()
        .flatten()
        .map(|(sail, angle)| {
            let side = sail.force * (sail.coefficients.side(*angle).abs() / sail.coefficients.size());
            side * (sail.sail.centre + below)
        })
        .sum();
    let allowed = if heeling > moment { moment / heeling } else { 1.0 };
    let largest = set.iter().flatten().max_by(|a, b| a.0.force.compare(&b.0.force))?;
    let apparent = felt(largest.0.sail.centre)?;
    let steps = vec![
        Step::new("true wind", "", wind, from),
        Step::new("boat speed", "share x 1.34 √LWL", sailing.boat, OURS.at("hull speed, feet and knots"))
            .input("share", plan.speed)
            .input("LWL", boat.lwl().value),
        Step::new(
            "apparent wind",
            "wind and way added, across x cos heel",
            apparent.speed,
            sources::ORC_VPP_2023.at("7.1; heel in the plane normal to the mast"),
        )
        .input("wind angle", sailing.angle)
        .input("heel", sailing.heel),
        Step::new("apparent wind angle", "", apparent.angle, sources::EXACT.at("vectors")),
        Step::new(
            "heeling moment, full",
            "sum of side force x (centre + freeboard + 0.45 draught)",
            heeling,
            LR_MASTS_2017.at("annex B 1.2.1, by reaction of the vessel"),
        ),
        moment_step.clone(),
        Step::new(
            "pressure allowed",
            "righting / heeling, at most 1",
            Value::Share(allowed),
            LR_MASTS_2017.at("annex B 1.2.1, by reaction of the vessel"),
        ),
    ];
    let [main, jib, spinnaker] = set.map(|sail| {
        sail.map(|(sail, _)| SailForce { force: sail.force * allowed, pressure: sail.pressure * allowed, ..sail })
    });
    Some(State { name: plan.name, true_angle: sailing.angle, wind, apparent, main, jib, spinnaker, allowed, steps })
}
