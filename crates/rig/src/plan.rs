//! What she carries: full sail, each reef, the spinnaker, and up to which wind.
//!
//! Full sail is carried up to the wind that the order gives: on the wind one,
//! off the wind another, in between along a straight line. Each reef is
//! carried on from there to the wind in which it heels her as full sail did at
//! its limit. Beyond the last reef nothing is said.

use crate::boat::Dimensions;
use crate::sails::{Settled, Stay, luff_left, reefs, settle_headsail, settle_main, settle_mizzen, settle_spinnaker};
use crate::state::{Conditions, SailSet};
use crate::working::Working;
use crate::{Boat, Sails, SpinnakerKind};
use units::{Angle, Length, Speed};

/// Full sail, where nothing is given.
pub(crate) const WIND: f64 = 20.0;
/// On the wind up to here, off the wind from there, degrees of true wind.
const ON_THE_WIND: f64 = 70.0;
const OFF_THE_WIND: f64 = 110.0;

/// The sails, in the order of their forces in a state.
pub(crate) const SAILS: usize = 5;
/// Places of the sails.
pub(crate) const MAIN: usize = 0;
pub(crate) const JIB: usize = 1;
pub(crate) const STAYSAIL: usize = 2;
pub(crate) const MIZZEN: usize = 3;
pub(crate) const SPINNAKER: usize = 4;

/// Sails set together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Plan {
    pub(crate) set: SailSet,
    pub(crate) sails: [Option<Settled>; SAILS],
    /// Wind over full sail's up to which it is carried.
    carried: f64,
    /// The same of the fuller plan, from which on it is carried.
    from: f64,
    /// True wind angles.
    angles: (f64, f64),
}

/// Every plan that her sails allow, the fullest first.
pub(crate) fn plans(boat: &Boat, sized: &Dimensions, sails: &Sails) -> Vec<Plan> {
    let mut plans = Vec::new();
    let count = sails.main.as_ref().map_or(0, reefs);
    let mut from = 0.0;
    let mut full_arm = None;
    for reef in 0..=count {
        let set = if reef == 0 { SailSet::Full } else { SailSet::Reefed(reef) };
        let own = white(boat, sized, sails, reef, &mut Working::silent());
        let arm: f64 = own.iter().flatten().map(|sail| sail.area.to_m2() * sail.centre.to_m()).sum();
        if arm <= 0.0 {
            break;
        }
        let carried = (*full_arm.get_or_insert(arm) / arm).sqrt();
        plans.push(Plan { set, sails: own, carried, from, angles: (0.0, 180.0) });
        from = carried;
    }
    if let Some(kite) = &sails.spinnaker {
        let angles = match kite.kind {
            SpinnakerKind::Symmetric => (95.0, 180.0),
            SpinnakerKind::Asymmetric => (85.0, 165.0),
        };
        let sails = under_spinnaker(boat, sized, sails, &mut Working::silent());
        plans.push(Plan { set: SailSet::Spinnaker, sails, carried: 1.0, from: 0.0, angles });
    }
    plans
}

/// The same sails again, with their working.
pub(crate) fn explain(boat: &Boat, sized: &Dimensions, sails: &Sails, set: SailSet, which: usize) -> Working {
    let mut working = Working::kept();
    // One sail at a time: the others' steps are no part of a line's working.
    let only = Sails {
        main: sails.main.filter(|_| which == MAIN),
        jib: sails.jib.filter(|_| which == JIB),
        staysail: sails.staysail.filter(|_| which == STAYSAIL),
        mizzen: sails.mizzen.filter(|_| which == MIZZEN),
        spinnaker: sails.spinnaker.filter(|_| which == SPINNAKER),
    };
    match set {
        SailSet::Spinnaker => under_spinnaker(boat, sized, &only, &mut working),
        SailSet::Full => white(boat, sized, &only, 0, &mut working),
        SailSet::Reefed(reef) => {
            let left = sails.main.map_or(1.0, |main| luff_left(sized, &main, reef));
            shortened(boat, sized, &only, left, &mut working)
        }
    };
    working
}

fn white(boat: &Boat, sized: &Dimensions, sails: &Sails, reef: u32, working: &mut Working) -> [Option<Settled>; SAILS] {
    let left = sails.main.map_or(1.0, |main| luff_left(sized, &main, reef));
    shortened(boat, sized, sails, left, working)
}

fn shortened(
    boat: &Boat,
    sized: &Dimensions,
    sails: &Sails,
    left: f64,
    working: &mut Working,
) -> [Option<Settled>; SAILS] {
    let outer = Stay { i: sized.i, j: sized.j, named: ["I", "J"] };
    let inner = Stay { i: sized.i_staysail, j: sized.j_staysail, named: ["inner I", "inner J"] };
    [
        sails.main.map(|sail| settle_main(boat, sized, &sail, left, working)),
        sails.jib.map(|sail| settle_headsail(sized, &outer, &sail, left, working)),
        sails.staysail.map(|sail| settle_headsail(sized, &inner, &sail, left, working)),
        sails.mizzen.map(|sail| settle_mizzen(boat, sized, &sail, working)),
        None,
    ]
}

fn under_spinnaker(boat: &Boat, sized: &Dimensions, sails: &Sails, working: &mut Working) -> [Option<Settled>; SAILS] {
    [
        sails.main.map(|sail| settle_main(boat, sized, &sail, 1.0, working)),
        None,
        None,
        sails.mizzen.map(|sail| settle_mizzen(boat, sized, &sail, working)),
        sails.spinnaker.map(|sail| settle_spinnaker(sized, &sail, working)),
    ]
}

impl Plan {
    /// The highest wind in which it is carried at a true wind angle; `None`
    /// where it is not set at all.
    pub(crate) fn limit(&self, conditions: &Conditions, angle: Angle) -> Option<Speed> {
        let degrees = angle.to_degrees();
        let (low, high) = self.angles;
        (low..=high).contains(&degrees).then(|| full_sail(conditions, self.set, degrees) * self.carried)
    }

    /// Is it carried in this wind at this angle?
    pub(crate) fn is_carried(&self, conditions: &Conditions, wind: Speed, angle: Angle) -> bool {
        let (low, high) = self.angles;
        let degrees = angle.to_degrees();
        let full = full_sail(conditions, self.set, degrees);
        (low..=high).contains(&degrees) && wind <= full * self.carried && wind > full * self.from
    }
}

/// The wind in which full sail is still carried at an angle.
fn full_sail(conditions: &Conditions, set: SailSet, degrees: f64) -> Speed {
    let usual = Speed::of_knots(WIND);
    let upwind = conditions.wind_upwind.unwrap_or(usual);
    let downwind = conditions.wind_downwind.unwrap_or(upwind.max(usual));
    if set == SailSet::Spinnaker {
        return downwind;
    }
    let share = ((degrees - ON_THE_WIND) / (OFF_THE_WIND - ON_THE_WIND)).clamp(0.0, 1.0);
    upwind + (downwind - upwind) * share
}

/// Height of a masthead rig's stay over the mast: one where nothing is above it.
pub(crate) fn fraction(sized: &Dimensions) -> f64 {
    let mast: Length = sized.p + sized.bas;
    (sized.i / mast).min(1.0)
}
