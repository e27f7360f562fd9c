//! Reference tension, and how far a rope stretches under a working load.
//!
//! Stiffness is a multiple of the breaking strength, from a fit to offshore
//! ropes after bedding-in; a listed stretch replaces it. The first loading of
//! a new rope adds constructional stretch, which is not in these numbers.

use crate::{Fibre, Rope};
use sources::{Citation, GIVEN, ISO_2307_MEMORY, MOORPY, Sourced, UFC_4_159_03};
use units::{Force, Length};

/// The small tension at which lengths and diameters are measured: 1.25 d² N,
/// d in mm.
///
/// # Source
/// ISO 2307 Annex A, d²/8 in daN: from memory, not read.
///
/// # Example
/// ```
/// use units::Length;
/// assert_eq!(cordage::reference_tension(Length::of_mm(20.0)).to_n(), 500.0);
/// ```
#[must_use]
pub fn reference_tension(diameter: Length) -> Force {
    Force::of_n(1.25 * diameter.to_mm() * diameter.to_mm())
}

/// Where [`reference_tension`] is from.
pub const REFERENCE_TENSION_FROM: Citation = ISO_2307_MEMORY.at("d²/8 daN");

/// Stiffness as a multiple of breaking strength (force at a strain of one),
/// after bedding-in; `None` where no figure was read.
#[must_use]
pub fn stiffness(rope: &Rope) -> Option<Sourced<f64>> {
    if let Some(share) = rope.stretch_at_tenth.filter(|share| *share > 0.0) {
        return Some(Sourced::new(0.1 / share, GIVEN.at("rope list, stretch at a tenth of the strength")));
    }
    const FIT: Citation = MOORPY.at("quasi-static stiffness; offshore sizes");
    match rope.fibre {
        Fibre::Polyester => Some(Sourced::new(14.0, FIT)),
        // 118.9 kips stiffness over 33.6 kips strength at 1 in.
        Fibre::Polyamide => Some(Sourced::new(3.54, UFC_4_159_03.at("table 6-8, AE over strength"))),
        Fibre::Hmpe => Some(Sourced::new(56.0, FIT)),
        Fibre::Lcp => Some(Sourced::new(47.64, FIT)),
        _ => None,
    }
}

/// Stretch of a rope under a load, as a share of its length; `None` where no
/// stiffness is known.
///
/// # Example
/// ```
/// use units::Force;
/// let rope = cordage::generic("10 mm 12-strand HMPE")?;
/// let fifth = rope.strength.force * 0.2;
/// let stretch = cordage::stretch_at(&rope, fifth).unwrap();
/// assert_eq!((stretch * 1e4).round() / 1e4, 0.0036);
/// # Ok::<(), cordage::DescriptionError>(())
/// ```
#[must_use]
pub fn stretch_at(rope: &Rope, load: Force) -> Option<f64> {
    let multiple = stiffness(rope)?.get()?;
    Some(load / (rope.strength.force * multiple))
}
