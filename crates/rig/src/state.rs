//! One point of sailing: wind, heel and the pressure on each sail, capped by
//! what the boat can stand up to.
//!
//! Heel and wind are found together: heel follows from the heeling moment in
//! proportion to the righting moment at its design heel, and shortens the wind
//! across the mast. Where the full moment would be more than she bears the
//! sails are flattened, which also lowers their centres, and at the flattest
//! the rest is let go.

use crate::coefficients::{CoefficientSet, Coefficients};
use crate::inputs::{Input, Inputs};
use crate::plan::{Plan, SAILS, fraction};
use crate::stability::{HEELING_ARM_DRAUGHT, Righting};
use crate::wind::{Apparent, Sailing, apparent, gradient, pressure};
use crate::working::Working;
use crate::{Boat, Dimensions, Hull};
use sources::{GIVEN, LR_MASTS_2017, ORC_VPP_2023, OURS, Sourced, Step};
use units::{Angle, Force, Moment, Pressure, Speed, Value};

/// The weather and the hands that the loads are worked out for.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Conditions {
    /// True wind in which full sail is carried upwind.
    pub wind_upwind: Option<Speed>,
    /// True wind in which the spinnaker, and full sail off the wind, is carried.
    pub wind_downwind: Option<Speed>,
    /// What one person pulls on a line.
    pub hand_pull: Option<Force>,
}

/// Which sails are set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum SailSet {
    /// All white sails, no reef.
    Full,
    /// So many reefs, headsails shortened with them.
    Reefed(u32),
    /// Spinnaker and mainsail.
    Spinnaker,
}

impl SailSet {
    /// In words.
    #[must_use]
    pub fn words(self) -> String {
        match self {
            SailSet::Full => "full sail".to_owned(),
            SailSet::Reefed(1) => "one reef".to_owned(),
            SailSet::Reefed(count) => format!("{count} reefs"),
            SailSet::Spinnaker => "spinnaker".to_owned(),
        }
    }
}

/// One sail in one state.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SailForce {
    /// The whole force.
    pub force: Force,
    /// Force over cloth area.
    pub pressure: Pressure,
    /// Its coefficients, flattened.
    pub coefficients: Coefficients,
    /// Wind angle at its centre.
    pub apparent: Angle,
}

/// Wind, heel and sails at one point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct State {
    /// True wind speed at 10 m.
    pub wind: Speed,
    /// True wind angle.
    pub angle: Angle,
    /// The sails set.
    pub set: SailSet,
    /// Wind felt at the centre of the sail that pulls hardest.
    pub apparent: Apparent,
    /// Heel.
    pub heel: Angle,
    /// Share of the full lift that is left on.
    pub flat: f64,
    /// Share of the pressure then left on; one or less.
    pub allowed: f64,
    pub(crate) plan: usize,
    pub(crate) forces: [Option<SailForce>; SAILS],
}

impl State {
    /// The point of sailing by its true wind angle.
    #[must_use]
    pub fn point_of_sailing(&self) -> &'static str {
        point_of_sailing(self.angle)
    }

    /// Where it is, in words: "beam reach at 90° in 16 kn, full sail".
    #[must_use]
    pub fn words(&self, system: units::System) -> String {
        let (wind, angle) = (Value::from(self.wind).show(system), Value::from(self.angle).show(system));
        format!("{} at {angle} in {wind}, {}", self.point_of_sailing(), self.set.words())
    }
}

/// Point of sailing of a true wind angle.
#[must_use]
pub fn point_of_sailing(angle: Angle) -> &'static str {
    match angle.to_degrees() {
        degrees if degrees < 55.0 => "upwind",
        degrees if degrees < 75.0 => "close reach",
        degrees if degrees < 105.0 => "beam reach",
        degrees if degrees < 155.0 => "broad reach",
        _ => "run",
    }
}

/// Least share of the lift that flattening leaves.
pub const FLATTEST: Sourced<f64> = Sourced::new(0.42, ORC_VPP_2023.at("5.4, least flat"));
/// Fall of a sail's centre with flattening: everywhere, and below the masthead.
const TWIST: Sourced<(f64, f64)> = Sourced::new((0.406, 0.902), ORC_VPP_2023.at("5.4, centre of effort and twist"));

/// Boat speed over hull speed by true wind angle: ours.
const SPEEDS: [(f64, f64); 6] = [(35.0, 0.72), (42.0, 0.80), (60.0, 0.95), (90.0, 1.0), (160.0, 1.0), (180.0, 0.9)];
/// A wind in which she goes as fast as she will.
const FULL_SPEED_WIND: f64 = 12.0;
/// More than one hull, over hull speed.
const MANY_HULLS: f64 = 1.5;

/// What every state of a boat shares.
pub(crate) struct Field<'a> {
    pub(crate) boat: &'a Boat,
    pub(crate) sized: &'a Dimensions,
    pub(crate) righting: &'a Righting,
    pub(crate) coefficients: &'a CoefficientSet,
    pub(crate) conditions: &'a Conditions,
    pub(crate) inputs: &'a Inputs,
}

/// Where a state is.
#[derive(Clone, Copy)]
pub(crate) struct At {
    pub(crate) wind: Speed,
    pub(crate) angle: Angle,
    pub(crate) plan: usize,
}

/// Moment of one sail as its lift is flattened: (still + flat x lifting) x
/// (low + flat x drop), N and m.
struct Heeling {
    still: f64,
    lifting: f64,
    low: f64,
    drop: f64,
}

/// Sums of a quadratic in the share of lift.
#[derive(Clone, Copy, Default)]
struct Quadratic {
    constant: f64,
    linear: f64,
    square: f64,
}

impl Quadratic {
    fn add(&mut self, sail: &Heeling) {
        self.constant += sail.still * sail.low;
        self.linear += sail.still * sail.drop + sail.lifting * sail.low;
        self.square += sail.lifting * sail.drop;
    }

    fn at(self, flat: f64) -> f64 {
        self.constant + flat * (self.linear + flat * self.square)
    }

    /// The share between `least` and 1 at which the moment is `wanted`.
    fn share(self, wanted: f64, least: f64) -> f64 {
        let (mut low, mut high) = (least, 1.0);
        for _ in 0..40 {
            let middle = 0.5 * (low + high);
            if self.at(middle) > wanted { high = middle } else { low = middle }
        }
        0.5 * (low + high)
    }
}

impl Field<'_> {
    /// The state at a point; `None` where a sail's table does not reach.
    pub(crate) fn state(&self, plan: &Plan, at: At) -> Option<State> {
        let bears = self.righting.moment.to_n_m();
        let mut heel = Angle::ZERO;
        let mut outcome = (1.0, 1.0, Quadratic::default());
        let mut set = [None; SAILS];
        for _ in 0..ROUNDS {
            set = self.unflattened(plan, at, heel)?;
            let moment = self.moment(plan, &set);
            outcome = self.let_go(moment);
            let now = (moment.at(outcome.0) * outcome.1 / bears).clamp(0.0, 1.0);
            heel = self.righting.heel * now;
        }
        let (flat, allowed, _) = outcome;
        let mut strongest: Option<(Force, Apparent)> = None;
        let mut forces = [None; SAILS];
        for ((force, sail), whole) in forces.iter_mut().zip(&plan.sails).zip(&set) {
            let (Some(sail), Some((coefficients, felt))) = (sail, whole) else { continue };
            let coefficients = coefficients.flattened(flat);
            let cloth = pressure(felt.speed) * (coefficients.size() * allowed);
            let own = SailForce { force: cloth * sail.area, pressure: cloth, coefficients, apparent: felt.angle };
            if strongest.is_none_or(|(most, _)| own.force > most) {
                strongest = Some((own.force, *felt));
            }
            *force = Some(own);
        }
        let apparent = strongest?.1;
        Some(State {
            wind: at.wind,
            angle: at.angle,
            set: plan.set,
            apparent,
            heel,
            flat,
            allowed,
            plan: at.plan,
            forces,
        })
    }

    /// Coefficients and wind of each sail, nothing let go yet.
    fn unflattened(&self, plan: &Plan, at: At, heel: Angle) -> Option<[Option<(Coefficients, Apparent)>; SAILS]> {
        let boat = self.boat_speed(at.wind, at.angle);
        let mut set = [None; SAILS];
        for (sail, own) in plan.sails.iter().zip(&mut set) {
            let Some(sail) = sail else { continue };
            let share = gradient(sail.centre + self.sized.freeboard)?;
            let felt = apparent(&Sailing { wind: at.wind * share, angle: at.angle, boat, heel });
            *own = Some((self.coefficients.at(sail.table, felt.angle).ok()?, felt));
        }
        Some(set)
    }

    fn moment(&self, plan: &Plan, set: &[Option<(Coefficients, Apparent)>; SAILS]) -> Quadratic {
        let (everywhere, below) = TWIST.get().unwrap_or((0.0, 0.0));
        let drop = everywhere + below * (1.0 - fraction(self.sized));
        let arm = self.below();
        let mut sum = Quadratic::default();
        for (sail, own) in plan.sails.iter().zip(set) {
            let (Some(sail), Some((coefficients, felt))) = (sail, own) else { continue };
            let load = (pressure(felt.speed) * sail.area).to_n();
            let height = sail.centre.to_m();
            // A spinnaker does not twist open as white sails do.
            let drop = if plan.set == SailSet::Spinnaker { 0.0 } else { drop.min(1.0) };
            sum.add(&Heeling {
                still: load * coefficients.drag * felt.angle.sin(),
                lifting: load * coefficients.lift * felt.angle.cos(),
                low: height * (1.0 - drop) + arm,
                drop: height * drop,
            });
        }
        sum
    }

    /// Hull below the deck down to where the water holds her.
    fn below(&self) -> f64 {
        (self.sized.freeboard + self.sized.draught * HEELING_ARM_DRAUGHT).to_m()
    }

    /// Share of the lift, and share of the pressure, that she bears.
    fn let_go(&self, moment: Quadratic) -> (f64, f64, Quadratic) {
        let bears = self.righting.moment.to_n_m();
        if moment.at(1.0) <= bears {
            return (1.0, 1.0, moment);
        }
        let least = FLATTEST.get().unwrap_or(1.0);
        if moment.at(least) <= bears {
            return (moment.share(bears, least), 1.0, moment);
        }
        (least, bears / moment.at(least), moment)
    }

    fn boat_speed(&self, wind: Speed, angle: Angle) -> Speed {
        let hull = Speed::of_knots(1.34 * self.sized.lwl.to_feet().sqrt());
        let many = if self.boat.hull == Hull::Multihull { MANY_HULLS } else { 1.0 };
        let share = by_rows(&SPEEDS, angle.to_degrees());
        let blown = (wind.to_knots() / FULL_SPEED_WIND).min(1.0);
        hull * (share * many * blown * self.inputs.get(Input::BoatSpeed))
    }

    /// How a state came about.
    pub(crate) fn explain(&self, plan: &Plan, state: &State) -> Vec<Step> {
        let at = At { wind: state.wind, angle: state.angle, plan: state.plan };
        let mut working = Working::kept();
        let given = match plan.set {
            SailSet::Spinnaker => self.conditions.wind_downwind,
            _ => self.conditions.wind_upwind,
        };
        let from = if given.is_some() { GIVEN.at("use") } else { OURS.at("give wind_upwind, wind_downwind") };
        let limit = plan.limit(self.conditions, at.angle).unwrap_or(at.wind);
        working.note(|| Step::new("sails carried up to", "", limit, from).input("sails", plan.set.words()));
        working.note(|| {
            Step::new("true wind", "of the sweep", at.wind, OURS.at("the worst wind and angle of all"))
                .input("angle", at.angle)
        });
        working.note(|| {
            Step::new(
                "boat speed",
                "share x 1.34 √LWL",
                self.boat_speed(at.wind, at.angle),
                OURS.at("hull speed, feet and knots"),
            )
            .input("share", by_rows(&SPEEDS, at.angle.to_degrees()))
            .input("LWL", self.sized.lwl)
        });
        let moment = self.unflattened(plan, at, state.heel).map(|set| self.moment(plan, &set));
        let full = Moment::of_n_m(moment.map_or(0.0, |moment| moment.at(1.0)));
        working.note(|| {
            Step::new("heel", "design heel x heeling / righting", state.heel, OURS.at("righting in proportion to heel"))
        });
        working.note(|| {
            Step::new(
                "apparent wind",
                "wind and way added, across x cos heel",
                state.apparent.speed,
                ORC_VPP_2023.at("7.1; heel in the plane normal to the mast"),
            )
            .input("angle", state.apparent.angle)
        });
        working.note(|| {
            Step::new(
                "heeling moment, full",
                "sum of side force x (centre + freeboard + 0.45 draught)",
                full,
                LR_MASTS_2017.at("annex B 1.2.1, by reaction of the vessel"),
            )
        });
        working.notes(|| self.righting.steps.clone());
        working.note(|| {
            Step::new(
                "lift left on",
                "flattened until heeling = righting, at least 0.42",
                Value::Share(state.flat),
                FLATTEST.citation,
            )
        });
        if state.allowed < 1.0 {
            working.note(|| {
                Step::new(
                    "pressure left on",
                    "righting / heeling, flattest",
                    Value::Share(state.allowed),
                    LR_MASTS_2017.at("annex B 1.2.1, by reaction of the vessel"),
                )
            });
        }
        working.into_steps()
    }
}

/// Rounds in which heel and wind settle: each halves what is left several
/// times over.
const ROUNDS: usize = 4;

/// Straight lines between rows, level beyond the ends.
fn by_rows(rows: &[(f64, f64)], at: f64) -> f64 {
    for pair in rows.windows(2) {
        if let [(low, first), (high, last)] = *pair
            && at <= high
        {
            return first + (last - first) * ((at - low) / (high - low)).max(0.0);
        }
    }
    rows.last().map_or(1.0, |row| row.1)
}
