//! The least that the European rules for passenger sailing vessels on inland
//! waters allow for running rigging, by line, material and sail area.
//!
//! For traditional vessels under those rules. Running rigging that is part of
//! the staying must match the stays; polyethylene is not allowed. A sheet of a
//! material not in a row must meet the strength in it.

use sources::{Citation, EU_2006_87, Finding, Grade};
use units::{Area, Force, Length, Sentence, Value};

/// A line that the rules speak of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum InlandLine {
    /// Halyard of a staysail.
    StaysailHalyard,
    /// Halyard of a gaff sail or topsail.
    GaffHalyard,
    /// Sheet of a staysail.
    StaysailSheet,
    /// Sheet of a gaff sail or topsail.
    GaffSheet,
}

/// What it is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum InlandMaterial {
    /// Steel wire rope.
    Wire,
    /// Polypropylene fibre rope.
    Polypropylene,
}

/// The least that is allowed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Minimum {
    /// Breaking strength; fibre rope has none of its own.
    pub strength: Option<Force>,
    /// Diameter.
    pub diameter: Length,
    /// Sheaves that it must run over; none asked where zero.
    pub sheaves: u32,
    /// Does a tackle or a winch have to hold it?
    pub hauling: Hauling,
    /// Where it stands.
    pub citation: Citation,
}

/// How a line must be held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hauling {
    /// By hand is enough.
    Free,
    /// A tackle, or a winch.
    TackleOrWinch,
}

const RULE: Citation = EU_2006_87.at("annex II ch. 15a, running rigging");

/// Area up to which a row holds, m2; strength, kN; diameter, mm.
type Rows = &'static [(f64, f64, f64)];
const STAYSAIL_HALYARD: Rows = &[(35.0, 20.0, 6.0), (f64::INFINITY, 38.0, 8.0)];
const GAFF_HALYARD: Rows = &[(50.0, 20.0, 6.0), (80.0, 30.0, 8.0), (120.0, 60.0, 10.0), (160.0, 80.0, 12.0)];
const GAFF_SHEET: Rows = &[(100.0, 60.0, 10.0), (150.0, 85.0, 12.0), (f64::INFINITY, 116.0, 14.0)];

/// The least allowed for a line of a sail; `None` where the rules have no row:
/// gaff halyards of wire above 160 m2, staysail sheets of wire.
///
/// ```
/// use rig::{InlandLine, InlandMaterial, inland_minimum};
/// use units::Area;
/// let wire = inland_minimum(InlandLine::GaffHalyard, InlandMaterial::Wire, Area::of_m2(70.0)).unwrap();
/// assert_eq!((wire.strength.unwrap().to_kn(), wire.diameter.to_mm()), (30.0, 8.0));
/// let fibre = inland_minimum(InlandLine::StaysailHalyard, InlandMaterial::Polypropylene, Area::of_m2(40.0)).unwrap();
/// assert_eq!((fibre.diameter.to_mm(), fibre.sheaves), (14.0, 2));
/// ```
#[must_use]
pub fn inland_minimum(line: InlandLine, material: InlandMaterial, sail: Area) -> Option<Minimum> {
    let area = sail.to_m2();
    let each = |square: f64| (area / square).ceil() as u32;
    let of = |strength, diameter, sheaves, hauling| Minimum {
        strength,
        diameter: Length::of_mm(diameter),
        sheaves,
        hauling,
        citation: RULE,
    };
    let wire = |rows: Rows| {
        let row = rows.iter().find(|row| area <= row.0)?;
        Some(of(Some(Force::of_kn(row.1)), row.2, 0, Hauling::Free))
    };
    match (line, material) {
        (InlandLine::StaysailHalyard, InlandMaterial::Wire) => wire(STAYSAIL_HALYARD),
        (InlandLine::GaffHalyard, InlandMaterial::Wire) => wire(GAFF_HALYARD),
        // The first row is for less than its area, not up to it.
        (InlandLine::GaffSheet, InlandMaterial::Wire) if area == 100.0 => wire(&GAFF_SHEET[1..]),
        (InlandLine::GaffSheet, InlandMaterial::Wire) => wire(GAFF_SHEET),
        (InlandLine::StaysailSheet, InlandMaterial::Wire) => None,
        (InlandLine::StaysailHalyard, InlandMaterial::Polypropylene) => Some(of(None, 14.0, each(25.0), Hauling::Free)),
        (InlandLine::GaffHalyard, InlandMaterial::Polypropylene) => Some(of(None, 18.0, each(30.0), Hauling::Free)),
        (InlandLine::StaysailSheet, InlandMaterial::Polypropylene) => {
            let hauling = if area > 30.0 { Hauling::TackleOrWinch } else { Hauling::Free };
            Some(of(None, if area <= 40.0 { 14.0 } else { 18.0 }, 0, hauling))
        }
        (InlandLine::GaffSheet, InlandMaterial::Polypropylene) => {
            let sheaves = if area > 60.0 { each(20.0).max(3) } else { 3 };
            Some(of(None, 18.0, sheaves, Hauling::Free))
        }
    }
}

impl Minimum {
    /// What is to be said of a rope that is below it.
    #[must_use]
    pub fn finding(&self, strength: Force, diameter: Length) -> Option<Finding> {
        let below = |what: &'static str, has: Value, wanted: Value| {
            let text = Sentence::new(
                "the rope's {} of {} is below the {} that the inland rules ask of a traditional passenger vessel",
            )
            .with(what)
            .with(has)
            .with(wanted);
            Finding::new(Grade::Caution, "below-inland-minimum", text, self.citation)
                .remedy(Sentence::new("only where those rules hold: a rope that meets them"))
        };
        match self.strength.filter(|wanted| strength < *wanted) {
            Some(wanted) => Some(below("strength", strength.into(), wanted.into())),
            None if diameter < self.diameter => Some(below("diameter", diameter.into(), self.diameter.into())),
            None => None,
        }
    }
}
