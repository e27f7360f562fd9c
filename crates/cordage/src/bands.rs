//! Can a listed rope be so? Strength for its mass, and mass for its size,
//! against bands of published tables and against fibre itself.
//!
//! A figure off its band by more than a quarter is said; one that fibre cannot
//! reach is impossible: stronger than the yarn it is made of, heavier than a
//! solid rod of its fibre, or so weak or light that a digit or a unit is lost.

use crate::{Construction, Fibre, Rope};
use sources::{CI_1301, CI_1302, CI_1303, CI_1304, CI_1308, Citation, Finding, Grade, MOORPY, OURS, TTI_YARN};
use units::{LinearDensity, Sentence, Tenacity};

/// Strength for mass of ropes in a published table, N/tex.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// The weakest for its mass.
    pub low: f64,
    /// The strongest for its mass.
    pub high: f64,
    /// Whose table.
    pub citation: Citation,
}

/// The band of a fibre and construction; `None` where no table was read.
#[must_use]
pub const fn band(fibre: Fibre, construction: Construction) -> Option<Band> {
    let laid = matches!(construction, Construction::ThreeStrand | Construction::EightPlait);
    let (low, high, citation) = match (fibre, laid) {
        (Fibre::Polyamide, true) => (0.25, 0.30, CI_1303.at("strength over mass, 3- and 8-strand")),
        (Fibre::Polyester, true) => (0.18, 0.21, CI_1304.at("strength over mass, 3- and 8-strand")),
        (Fibre::Polypropylene, true) => (0.20, 0.28, CI_1301.at("strength over mass, 3- and 8-strand")),
        (Fibre::PolyesterPolyolefin, true) => (0.18, 0.22, CI_1302.at("strength over mass, 3-strand")),
        (Fibre::Manila, true) => (0.082, 0.102, CI_1308.at("strength over mass, 3-strand")),
        // From laid rope to the fit of offshore braids.
        (Fibre::Polyester, false) => (0.18, 0.45, MOORPY.at("polyester; down to laid rope")),
        (Fibre::Polyamide, false) => (0.25, 0.36, MOORPY.at("nylon; down to laid rope")),
        (Fibre::Hmpe, _) => (1.17, 1.30, MOORPY.at("HMPE, strength over mass")),
        (Fibre::Lcp, _) => (0.80, 0.80, MOORPY.at("LCP, strength over mass")),
        _ => return None,
    };
    Some(Band { low, high, citation })
}

/// What is said of a listed rope's figures.
#[derive(Debug, Clone, PartialEq)]
pub enum Doubt {
    /// Off its band by more than a quarter: look again.
    Unusual(Finding),
    /// It cannot be so.
    Impossible(Finding),
}

/// Share that a figure may be off its band before it is said.
const OFF_BAND: f64 = 0.25;
/// A digit or a unit is lost: so many times below the band.
const LOST: f64 = 3.0;
/// Share of a solid rod that the loosest rope weighs, and what a nominal size may be out.
const LOOSEST: f64 = 0.30;
const NOMINAL: f64 = 1.20;

/// Looks at strength for mass and at mass for size; `None` when both are as
/// ropes are.
///
/// Where the core carries alone and was weighed, its mass is taken; where it
/// was not, only what is too much is seen.
///
/// # Example
/// ```
/// use cordage::{Doubt, generic, strength_to_weight};
/// let mut rope = generic("10 mm 12-strand HMPE")?;
/// assert_eq!(strength_to_weight(&rope), None);
/// rope.strength.force = rope.strength.force * 10.0;
/// assert!(matches!(strength_to_weight(&rope), Some(Doubt::Impossible(_))));
/// # Ok::<(), cordage::DescriptionError>(())
/// ```
#[must_use]
pub fn strength_to_weight(rope: &Rope) -> Option<Doubt> {
    mass_for_size(rope).or_else(|| strength_for_mass(rope))
}

fn strength_for_mass(rope: &Rope) -> Option<Doubt> {
    let core = rope.core_linear_density.filter(|_| rope.construction.load_on_core());
    let whole_mass_of_core = rope.construction.load_on_core() && core.is_none();
    let carrying = core.unwrap_or(rope.linear_density);
    let n_per_tex = Tenacity::of_si(rope.strength.force.si() / carrying.si()).to_n_per_tex();
    let yarn = rope.fibre.facts().yarn_tenacity.and_then(|sourced| sourced.get());
    let said = |words: &'static str, low: f64, high: f64| {
        Sentence::new(words)
            .with(Tenacity::of_n_per_tex(n_per_tex))
            .with(Tenacity::of_n_per_tex(low))
            .with(Tenacity::of_n_per_tex(high))
    };
    let remedy = || Sentence::new("check strength, its unit, and the mass per length of the part that carries");
    let Some(band) = band(rope.fibre, rope.construction) else {
        let most = yarn?.to_n_per_tex();
        return (n_per_tex > most).then(|| {
            let text = said("strength for mass is {}; the yarn itself has {} to {}", most, most);
            Doubt::Impossible(
                Finding::new(Grade::Stop, "impossible-strength", text, TTI_YARN.at("table 1")).remedy(remedy()),
            )
        });
    };
    let most = yarn.map_or(band.high * LOST, Tenacity::to_n_per_tex);
    if n_per_tex > most || (n_per_tex < band.low / LOST && !whole_mass_of_core) {
        let text =
            said("strength for mass is {}, which no rope has: published ropes have {} to {}", band.low, band.high);
        return Some(Doubt::Impossible(
            Finding::new(Grade::Stop, "impossible-strength", text, band.citation).remedy(remedy()),
        ));
    }
    let low = band.low * (1.0 - OFF_BAND);
    let off = n_per_tex > band.high * (1.0 + OFF_BAND) || (n_per_tex < low && !whole_mass_of_core);
    off.then(|| {
        let text = said("strength for mass is {}; published ropes have {} to {}", band.low, band.high);
        Doubt::Unusual(
            Finding::new(Grade::Note, "unusual-strength", text, band.citation)
                .remedy(Sentence::new("check diameter, units, and whether the strength is spliced or unspliced")),
        )
    })
}

fn mass_for_size(rope: &Rope) -> Option<Doubt> {
    let density = |fibre: Fibre| fibre.facts().density.get().map_or(0.0, |density| density.si());
    let dearest = density(rope.fibre).max(rope.cover_fibre.map_or(0.0, density));
    let area = std::f64::consts::FRAC_PI_4 * rope.diameter.si().powi(2);
    let solid = LinearDensity::of_si(dearest * area);
    let (least, most) = (solid * LOOSEST, solid * (NOMINAL * NOMINAL));
    if (least..=most).contains(&rope.linear_density) {
        return None;
    }
    let text = Sentence::new("{} at {} across cannot be: a rope of this fibre has {} to {}")
        .with(rope.linear_density)
        .with(rope.diameter)
        .with(least)
        .with(most);
    let citation = OURS.at("0.3 of a solid rod of the fibre, to a solid rod a fifth thicker");
    Some(Doubt::Impossible(
        Finding::new(Grade::Stop, "impossible-mass", text, citation)
            .remedy(Sentence::new("check the diameter and the mass per length, and their units")),
    ))
}
