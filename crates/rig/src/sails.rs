//! The sails, and their areas and centres from the rig's dimensions where the
//! order does not give them.

use crate::Boat;
use sources::{COMMON_PRACTICE, Citation, GIVEN, HAZEN_1980, OURS, Step};
use units::{Angle, Area, Force, Length, Mass, Value};

/// The mainsail as the order gives it.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Mainsail {
    /// Cloth area.
    pub area: Option<Area>,
    /// Area over that of the triangle P E / 2.
    pub roach: Option<f64>,
    /// Mass of the sail.
    pub mass: Option<Mass>,
    /// Tension of the luff, set by the crew.
    pub luff_tension: Option<Force>,
    /// Sag of the leech over its length.
    pub leech_sag: Option<f64>,
}

/// The headsail as the order gives it.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Headsail {
    /// Cloth area.
    pub area: Option<Area>,
    /// Luff perpendicular over J.
    pub overlap: Option<f64>,
    /// Mass of the sail.
    pub mass: Option<Mass>,
    /// Tension of the luff, set by the crew.
    pub luff_tension: Option<Force>,
    /// Depth of the section over its chord.
    pub camber: Option<f64>,
}

/// Which spinnaker.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SpinnakerKind {
    /// Two equal clews, flown from a pole.
    Symmetric,
    /// A tack and a clew, flown from the centreline.
    Asymmetric,
}

/// The spinnaker as the order gives it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spinnaker {
    /// Which.
    pub kind: SpinnakerKind,
    /// Cloth area.
    pub area: Option<Area>,
    /// Mass of the sail.
    pub mass: Option<Mass>,
}

/// The sails of a boat.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Sails {
    /// Mainsail.
    pub main: Option<Mainsail>,
    /// Jib or genoa.
    pub jib: Option<Headsail>,
    /// Spinnaker.
    pub spinnaker: Option<Spinnaker>,
}

/// Sag of a leech over its length, where none is given: no published figure.
const LEECH_SAG: f64 = 0.09;
/// Its range.
const LEECH_SAG_RANGE: (f64, f64) = (0.06, 0.15);
/// Luff tension over leech tension, where none is given: set by the crew.
const LUFF_OF_LEECH: f64 = 0.75;
/// Camber of an upwind headsail over its chord.
const CAMBER: f64 = 0.11;

/// A sail with its numbers settled: what the statics need.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Settled {
    pub(crate) area: Area,
    /// Height of the centre above deck.
    pub(crate) centre: Length,
    /// Luff and leech lengths.
    pub(crate) leech: Length,
    /// Mean chord.
    pub(crate) chord: Length,
    /// Angle of the leech to the luff at the head.
    pub(crate) head_angle: Angle,
    pub(crate) leech_sag: f64,
    pub(crate) leech_sag_range: (f64, f64),
    pub(crate) luff_tension: Option<Force>,
    pub(crate) luff_of_leech: f64,
    pub(crate) camber: f64,
    pub(crate) steps: Vec<Step>,
}

const AREAS: Citation = HAZEN_1980.at("sail plan geometry");
const UNPUBLISHED: Citation = OURS.at("no published figure; give it to replace it");

pub(crate) fn settle_main(boat: &Boat, sail: &Mainsail) -> Settled {
    let (p, e, bas) = (boat.p(), boat.e(), boat.bas());
    let roach = sail.roach.unwrap_or(1.1);
    let area = sail.area.unwrap_or(p.value * e.value * (0.5 * roach));
    let area_step = match sail.area {
        Some(area) => Step::new("mainsail area", "", area, GIVEN.at("sails")),
        None => Step::new("mainsail area", "P E / 2 x roach", area, AREAS)
            .input("P", p.value)
            .input("E", e.value)
            .input("roach", roach),
    };
    let centre = p.value * 0.39 + bas.value;
    let centre_step = Step::new("mainsail centre above deck", "0.39 P + boom above deck", centre, AREAS)
        .input("P", p.value)
        .input("boom above deck", bas.value);
    let leech = Length::of_m(p.value.to_m().hypot(e.value.to_m()));
    let (sag, sag_step) = settled_share("leech sag of the mainsail", sail.leech_sag, LEECH_SAG);
    Settled {
        area,
        centre,
        leech,
        chord: area / leech,
        head_angle: Angle::of_radians((e.value / p.value).atan()),
        leech_sag: sag,
        leech_sag_range: if sail.leech_sag.is_some() { (sag, sag) } else { LEECH_SAG_RANGE },
        luff_tension: sail.luff_tension,
        luff_of_leech: LUFF_OF_LEECH,
        camber: CAMBER,
        steps: vec![p.step, e.step, bas.step, area_step, centre_step, sag_step],
    }
}

pub(crate) fn settle_jib(boat: &Boat, sail: &Headsail) -> Settled {
    let (i, j) = (boat.i(), boat.j());
    let overlap = sail.overlap.unwrap_or(1.05);
    let luff = Length::of_m(i.value.to_m().hypot(j.value.to_m()));
    let area = sail.area.unwrap_or(luff * (j.value * overlap) * 0.5);
    let area_step = match sail.area {
        Some(area) => Step::new("headsail area", "", area, GIVEN.at("sails")),
        None => Step::new("headsail area", "hypot(I, J) x LP / 2", area, AREAS)
            .input("I", i.value)
            .input("J", j.value)
            .input("LP / J", overlap),
    };
    let centre = i.value * 0.39;
    let centre_step = Step::new("headsail centre above deck", "0.39 I", centre, AREAS).input("I", i.value);
    let leech = luff * 0.95;
    let (camber, camber_step) = settled_share("headsail camber", sail.camber, CAMBER);
    Settled {
        area,
        centre,
        leech,
        chord: area / leech,
        head_angle: Angle::of_radians((j.value * overlap / luff).atan()),
        leech_sag: LEECH_SAG,
        leech_sag_range: LEECH_SAG_RANGE,
        luff_tension: sail.luff_tension,
        luff_of_leech: LUFF_OF_LEECH,
        camber,
        steps: vec![i.step, j.step, area_step, centre_step, camber_step],
    }
}

pub(crate) fn settle_spinnaker(boat: &Boat, sail: &Spinnaker) -> Settled {
    let (isp, j) = (boat.isp(), boat.j());
    let luff = Length::of_m(isp.value.to_m().hypot(j.value.to_m())) * 0.95;
    let area = sail.area.unwrap_or(luff * j.value * 1.8 * 1.15);
    let area_step = match sail.area {
        Some(area) => Step::new("spinnaker area", "", area, GIVEN.at("sails")),
        None => {
            Step::new("spinnaker area", "1.15 SL x J x 1.8", area, UNPUBLISHED).input("SL", luff).input("J", j.value)
        }
    };
    let centre = isp.value * 0.565;
    let centre_step =
        Step::new("spinnaker centre above deck", "0.565 ISP", centre, sources::ORC_VPP_2023.at("centre heights"))
            .input("ISP", isp.value);
    Settled {
        area,
        centre,
        leech: luff,
        chord: area / luff,
        head_angle: Angle::of_degrees(30.0),
        leech_sag: 0.25,
        leech_sag_range: (0.25, 0.25),
        luff_tension: None,
        luff_of_leech: 1.0,
        camber: 0.25,
        steps: vec![isp.step, j.step, area_step, centre_step],
    }
}

fn settled_share(what: &'static str, given: Option<f64>, usual: f64) -> (f64, Step) {
    match given {
        Some(share) => (share, Step::new(what, "", Value::Share(share), GIVEN.at("sails"))),
        None => {
            let citation = if what.contains("camber") { COMMON_PRACTICE.at("8 to 14 % upwind") } else { UNPUBLISHED };
            (usual, Step::new(what, "assumed", Value::Share(usual), citation))
        }
    }
}
