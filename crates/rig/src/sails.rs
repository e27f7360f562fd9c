//! The sails, and their areas and centres from the rig's dimensions where the
//! order does not give them.

use crate::boat::{Dimensions, gaff_sail};
use crate::coefficients::SailTable;
use crate::working::Working;
use crate::{Boat, RigType};
use sources::{Citation, GIVEN, HAZEN_1980, OURS, Step};
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
    /// Number of reefs; two are assumed where none is said.
    pub reefs: Option<u32>,
    /// Height of each reef above the tack, the first reef first.
    pub reef_heights: [Option<Length>; MOST_REEFS],
}

/// More reefs than any mainsail has.
pub const MOST_REEFS: usize = 6;

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
    /// Sail on the inner forestay, set with the jib on the wind.
    pub staysail: Option<Headsail>,
    /// Mizzen, set with the mainsail.
    pub mizzen: Option<Mainsail>,
}

/// A sail with its numbers settled: what the statics need.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Settled {
    pub(crate) table: SailTable,
    pub(crate) area: Area,
    /// Height of the centre above deck.
    pub(crate) centre: Length,
    pub(crate) luff: Length,
    pub(crate) foot: Length,
    pub(crate) leech: Length,
    /// Mean chord.
    pub(crate) chord: Length,
    /// Angle of the leech to the luff at the head.
    pub(crate) head_angle: Angle,
    pub(crate) leech_sag: Option<f64>,
    pub(crate) luff_tension: Option<Force>,
    pub(crate) camber: Option<f64>,
}

const AREAS: Citation = HAZEN_1980.at("sail plan geometry");
const UNPUBLISHED: Citation = OURS.at("no published figure; give it to replace it");
/// Height of a reef over P, where none is given.
const REEF: f64 = 0.15;
const REEFS: u32 = 2;

/// Area over P E / 2 where none is given.
const ROACH: f64 = 1.1;

/// The part of the mainsail's luff that is left with so many reefs in.
pub(crate) fn luff_left(sized: &Dimensions, sail: &Mainsail, reefs: u32) -> f64 {
    let Some(last) = reefs.checked_sub(1) else { return 1.0 };
    let height = sail.reef_heights.get(last as usize).copied().flatten();
    let taken = height.map_or(REEF * f64::from(reefs), |height| height / sized.p);
    (1.0 - taken).max(0.1)
}

/// Number of reefs, given or assumed.
pub(crate) fn reefs(sail: &Mainsail) -> u32 {
    let listed = sail.reef_heights.iter().flatten().count() as u32;
    sail.reefs.unwrap_or(if listed > 0 { listed } else { REEFS })
}

/// The mainsail with a part of its luff left: a smaller triangle of the same
/// shape, its tack at the gooseneck.
pub(crate) fn settle_main(
    boat: &Boat,
    sized: &Dimensions,
    sail: &Mainsail,
    left: f64,
    working: &mut Working,
) -> Settled {
    let (p, e) = (sized.p, sized.e);
    let gaff = (boat.rig == RigType::Gaff).then(|| gaff_sail(sized));
    let roach = sail.roach.unwrap_or(ROACH);
    let full = sail.area.unwrap_or(gaff.map_or(p * e * (0.5 * roach), |(area, _)| area));
    working.notes(|| {
        ["P", "E", "boom above deck", "gaff", "gaff off upright"]
            .iter()
            .filter_map(|what| sized.step(what).cloned())
            .collect()
    });
    working.note(|| match (sail.area, gaff) {
        (Some(area), _) => Step::new("mainsail area", "", area, GIVEN.at("sails")),
        (None, Some((area, _))) => {
            Step::new("mainsail area", "four corners, gaff peaked up", area, OURS.at("geometry"))
        }
        (None, None) => {
            Step::new("mainsail area", "P E / 2 x roach", full, AREAS).input("P", p).input("E", e).input("roach", roach)
        }
    });
    let area = full * (left * left);
    let above_tack = gaff.map_or(p * 0.39, |(_, centre)| centre) * left;
    let centre = above_tack + sized.bas;
    working.note(|| match gaff {
        Some(_) => Step::new(
            "mainsail centre above deck",
            "centre of its corners + boom above deck",
            centre,
            OURS.at("geometry"),
        ),
        None => Step::new("mainsail centre above deck", "0.39 P + boom above deck", centre, AREAS)
            .input("P", p * left)
            .input("boom above deck", sized.bas),
    });
    if left < 1.0 {
        working.note(|| {
            Step::new(
                "reefed area",
                "area x (luff left)²",
                area,
                OURS.at("a smaller triangle of the same shape; reefs 0.15 P where not given"),
            )
            .input("area", full)
            .input("luff left", Value::Share(left))
        });
    }
    let (luff, foot) = (p * left, e * left);
    let leech = match gaff {
        Some(_) => gaff_leech(sized) * left,
        None => Length::of_m(luff.to_m().hypot(foot.to_m())),
    };
    let head_angle = match gaff {
        Some(_) => Angle::of_radians((foot.to_m() / leech.to_m()).clamp(-1.0, 1.0).asin()),
        None => Angle::of_radians((e / p).atan()),
    };
    Settled {
        table: SailTable::Main,
        area,
        centre,
        luff,
        foot,
        leech,
        chord: area / leech,
        head_angle,
        leech_sag: sail.leech_sag,
        luff_tension: sail.luff_tension,
        camber: None,
    }
}

fn gaff_leech(sized: &Dimensions) -> Length {
    let out = sized.e.to_m() - sized.gaff.to_m() * sized.gaff_angle.sin();
    let up = sized.p.to_m() + sized.gaff.to_m() * sized.gaff_angle.cos();
    Length::of_m(out.hypot(up))
}

/// The mizzen: a mainsail on her second mast.
pub(crate) fn settle_mizzen(boat: &Boat, sized: &Dimensions, sail: &Mainsail, working: &mut Working) -> Settled {
    let own = Dimensions { p: sized.p_mizzen, e: sized.e_mizzen, steps: Vec::new(), ..sized.clone() };
    let bermudian = Boat { rig: if boat.rig == RigType::Gaff { RigType::Cat } else { boat.rig }, ..*boat };
    working.notes(|| ["mizzen P", "mizzen E"].iter().filter_map(|what| sized.step(what).cloned()).collect());
    settle_main(&bermudian, &own, sail, 1.0, working)
}

/// Where a headsail is set.
pub(crate) struct Stay {
    pub(crate) i: Length,
    pub(crate) j: Length,
    pub(crate) named: [&'static str; 2],
}

/// A headsail; `left` is the part of its length that is left when it is furled
/// or changed with the mainsail's reefs.
pub(crate) fn settle_headsail(
    sized: &Dimensions,
    stay: &Stay,
    sail: &Headsail,
    left: f64,
    working: &mut Working,
) -> Settled {
    let overlap = sail.overlap.unwrap_or(1.05);
    let stay_length = Length::of_m(stay.i.to_m().hypot(stay.j.to_m()));
    let full = sail.area.unwrap_or(stay_length * (stay.j * overlap) * 0.5);
    working.notes(|| stay.named.iter().filter_map(|what| sized.step(what).cloned()).collect());
    working.note(|| match sail.area {
        Some(area) => Step::new("headsail area", "", area, GIVEN.at("sails")),
        None => Step::new("headsail area", "hypot(I, J) x LP / 2", full, AREAS)
            .input("I", stay.i)
            .input("J", stay.j)
            .input("LP / J", overlap),
    });
    let area = full * (left * left);
    let centre = stay.i * (0.39 * left);
    working.note(|| Step::new("headsail centre above deck", "0.39 I", centre, AREAS).input("I", stay.i * left));
    if left < 1.0 {
        working.note(|| {
            Step::new(
                "shortened headsail",
                "area x (mainsail's luff left)²",
                area,
                OURS.at("furled or changed with the reefs"),
            )
            .input("area", full)
            .input("luff left", Value::Share(left))
        });
    }
    let luff = stay_length * left;
    let leech = luff * 0.95;
    Settled {
        table: SailTable::Jib,
        area,
        centre,
        luff,
        foot: stay.j * (overlap * left),
        leech,
        chord: area / leech,
        head_angle: Angle::of_radians((stay.j * overlap / stay_length).atan()),
        leech_sag: None,
        luff_tension: sail.luff_tension,
        camber: sail.camber,
    }
}

pub(crate) fn settle_spinnaker(sized: &Dimensions, sail: &Spinnaker, working: &mut Working) -> Settled {
    let luff = Length::of_m(sized.isp.to_m().hypot(sized.j.to_m())) * 0.95;
    let area = sail.area.unwrap_or(luff * sized.j * (1.8 * 1.15));
    working.notes(|| ["ISP", "J"].iter().filter_map(|what| sized.step(what).cloned()).collect());
    working.note(|| match sail.area {
        Some(area) => Step::new("spinnaker area", "", area, GIVEN.at("sails")),
        None => {
            Step::new("spinnaker area", "1.15 SL x J x 1.8", area, UNPUBLISHED).input("SL", luff).input("J", sized.j)
        }
    });
    let centre = sized.isp * 0.565;
    working.note(|| {
        Step::new("spinnaker centre above deck", "0.565 ISP", centre, sources::ORC_VPP_2023.at("centre heights"))
            .input("ISP", sized.isp)
    });
    Settled {
        table: match sail.kind {
            SpinnakerKind::Symmetric => SailTable::Symmetric,
            SpinnakerKind::Asymmetric => SailTable::Asymmetric,
        },
        area,
        centre,
        luff,
        foot: sized.j * 1.8,
        leech: luff,
        chord: area / luff,
        head_angle: Angle::of_degrees(30.0),
        leech_sag: None,
        luff_tension: None,
        camber: None,
    }
}
