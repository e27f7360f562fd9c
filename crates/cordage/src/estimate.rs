//! Estimates for ropes whose standard's table could not be read.
//!
//! Each says what it is: linear density by a rule with its source, strength
//! by a specific strength with its range, the low end being the figure. A
//! cover counts for nothing where the core carries the load. The loft's own
//! list replaces all of it.

use crate::{Basis, Strength};
use sources::{CI_1304, Citation, ISO_10325_DRAFT, MOORPY, OURS};
use units::{Force, Length, LinearDensity, Tenacity};

/// HMPE 12-strand: g/m for a diameter of 1 mm, squared (reference number 20: 232 ktex).
const HMPE_DENSITY_RULE: f64 = 0.58;

/// HMPE rope, strength for its mass: the lowest and highest of a fit to
/// catalogues of offshore sizes, N/tex.
const HMPE_TENACITY: (f64, f64) = (1.17, 1.30);

/// LCP rope by the same fit: g/m and kN for 1 mm, squared.
const LCP_FIT: (f64, f64) = (0.887, 0.708);

/// Polyester double braid: lowest of laid rope (CI 1304) to the offshore fit, N/tex.
const POLYESTER_TENACITY: (f64, f64) = (0.18, 0.45);

/// A cover's wall is about an eighth of the rope's diameter: ours, from racked ropes.
pub(crate) const CORE_OF_COVERED: f64 = 0.75;

/// A braid's mass per length by `rule` g/m at 1 mm.
fn by_square(rule: f64, diameter: Length) -> LinearDensity {
    LinearDensity::of_g_per_m(rule * diameter.to_mm() * diameter.to_mm())
}

fn ranged(density: LinearDensity, tenacity: (f64, f64), citation: Citation) -> Strength {
    let at = |n_per_tex: f64| Tenacity::of_n_per_tex(n_per_tex) * density;
    Strength { force: at(tenacity.0), basis: Basis::Unknown, citation, range: Some((at(tenacity.0), at(tenacity.1))) }
}

/// Linear density of 12-strand HMPE: 0.58 d² g/m, d in mm.
///
/// # Source
/// Draft text of ISO 10325: reference number 20 is about 232 ktex.
///
/// # Example
/// ```
/// use units::Length;
/// assert_eq!(cordage::hmpe_linear_density(Length::of_mm(20.0)).to_ktex().round(), 232.0);
/// ```
#[must_use]
pub fn hmpe_linear_density(diameter: Length) -> LinearDensity {
    by_square(HMPE_DENSITY_RULE, diameter)
}

/// Where [`hmpe_linear_density`] is from.
pub(crate) const HMPE_DENSITY_FROM: Citation = ISO_10325_DRAFT.at("12-strand, reference number 20");

/// Breaking strength of HMPE rope or core for its linear density: 1.17 N/tex,
/// range to 1.30 N/tex; basis unknown.
///
/// # Source
/// Fit to catalogues of offshore sizes (NREL); smaller ropes of newer yarn
/// are mostly stronger, so the low end is the figure.
#[must_use]
pub fn hmpe_strength(density: LinearDensity) -> Strength {
    ranged(density, HMPE_TENACITY, MOORPY.at("HMPE, MBL/mass for 6 to 100 mm; estimate"))
}

pub(crate) fn lcp(diameter: Length) -> (LinearDensity, Strength) {
    let density = by_square(LCP_FIT.0, diameter);
    let citation = MOORPY.at("LCP; estimate");
    let force = Force::of_kn(LCP_FIT.1 * diameter.to_mm() * diameter.to_mm());
    (density, Strength { force, basis: Basis::Unknown, citation, range: None })
}

/// Polyester double braid: mass by the square rule of the laid table's upper
/// end, strength at least that of laid rope of the same mass.
pub(crate) fn polyester_double_braid(diameter: Length) -> (LinearDensity, Strength) {
    let density = by_square(POLYESTER_BRAID_RULE, diameter);
    (density, ranged(density, POLYESTER_TENACITY, CI_1304.at("laid rope, lowest for its mass; estimate for a braid")))
}

/// Polyester braid: g/m at 1 mm, the upper end of the laid table (0.64 to 0.81).
const POLYESTER_BRAID_RULE: f64 = 0.76;

/// Where the core share of a covered rope is from.
pub(crate) const CORE_SHARE_FROM: Citation = OURS.at("core 3/4 of the diameter; estimate");

/// Mass per length of a covered HMPE rope: core by its rule, cover as a
/// polyester annulus of braid.
pub(crate) fn covered_hmpe(diameter: Length, core: Length) -> (LinearDensity, LinearDensity) {
    let core_density = hmpe_linear_density(core);
    let cover = by_square(POLYESTER_BRAID_RULE, diameter) - by_square(POLYESTER_BRAID_RULE, core);
    (core_density + cover, core_density)
}
