//! Cover on or off: what taking it off saves, and what it costs.
//!
//! Masses are computed dry and for wet rope as a range, from what the fibre
//! itself takes up to every void between the fibres full before dripping. No
//! lifetime is given: that takes the loft's own record.

use crate::drag::SEA_WATER;
use cordage::{Fibre, Rope};
use sources::{COMMON_PRACTICE, Citation, Finding, Grade, OURS, Step};
use units::{Length, Mass, Sentence};

/// Share of a braid's volume that is fibre.
const PACKING: f64 = 0.70;

/// The cover of a line, settled.
#[derive(Debug, Clone, PartialEq)]
pub struct Cover {
    /// The part without cover, if any.
    pub stripped: Option<Stripped>,
    /// The verdict in one sentence; `None` for a rope without a cover.
    pub verdict: Option<Sentence>,
    /// What is to be said about it.
    pub findings: Vec<Finding>,
    /// How it was worked out.
    pub working: Vec<Step>,
}

/// A run without cover.
#[derive(Debug, Clone, PartialEq)]
pub struct Stripped {
    /// Where the cover ends, from the working end's bearing point.
    pub from: Length,
    /// Where it begins again.
    pub to: Length,
    /// Mass saved, dry.
    pub saved_dry: Mass,
    /// Mass saved wet: fibre's own water alone, and every void full.
    pub saved_wet: (Mass, Mass),
}

/// Water in a wet rope, from least to most.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Water {
    /// Least: what the fibre itself takes up, the rest dripped and shaken off.
    pub low: Mass,
    /// Most: every void between the fibres full, before dripping.
    pub high: Mass,
}

/// Water that a dry mass of fibre holds: regain alone, and every void full.
///
/// Voids are (ρ water / ρ fibre) (1/φ - 1) of the mass, with a packing φ of
/// 0.70; what the fibre takes up comes on top. Kernmantle soaked an hour and
/// dripped ten minutes was measured within: polyester 19 to 22 %, polyamide 42 %.
///
/// ```
/// use cordage::Fibre;
/// use units::Mass;
/// let (_, full) = makeup::water_held(Fibre::Polyester, Mass::of_g(100.0));
/// assert_eq!(full.to_g().round(), 32.0);
/// ```
#[must_use]
pub fn water_held(fibre: Fibre, dry: Mass) -> (Mass, Mass) {
    let facts = fibre.facts();
    let regain = facts.regain.get().unwrap_or(0.0);
    let density = facts.density.get().map_or(1000.0, |density| density.to_kg_per_m3());
    let voids = SEA_WATER / density * (1.0 / PACKING - 1.0);
    (dry * regain, dry * (voids + regain))
}

/// Water in a whole rope of which `dry` is the mass of `length`, cover and
/// core each by its fibre; without a core's mass, all of it as cover.
#[must_use]
pub fn water_range(rope: &Rope, dry: Mass, length: Length) -> Water {
    let core = rope.core_linear_density.map(|core| core * length).filter(|core| *core < dry);
    let parts = match (rope.construction.has_cover(), core) {
        (true, Some(core)) => vec![(rope.fibre, core), (rope.outside_fibre(), dry - core)],
        (true, None) => vec![(rope.outside_fibre(), dry)],
        (false, _) => vec![(rope.fibre, dry)],
    };
    let (mut low, mut high) = (Mass::ZERO, Mass::ZERO);
    for (fibre, mass) in parts {
        let (least, most) = water_held(fibre, mass);
        low = low + least;
        high = high + most;
    }
    Water { low, high }
}

/// Settles what a stripped run saves and costs.
pub(crate) fn settle(rope: &Rope, run: Option<(Length, Length)>) -> Cover {
    const VOIDS: Citation = OURS.at("packing 0.70; voids full before dripping");
    let kept = |verdict| Cover { stripped: None, verdict, findings: Vec::new(), working: Vec::new() };
    if !rope.construction.has_cover() {
        return kept(None);
    }
    let Some((from, to)) = run else {
        return kept(Some(Sentence::new("the cover stays on")));
    };
    let Some(core) = rope.stripped_linear_density() else {
        let mut cover = kept(Some(Sentence::new("the cover comes off for {}").with(to - from)));
        cover.findings.push(
            Finding::new(
                Grade::Note,
                "core-not-weighed",
                Sentence::new("what stripping saves is not known: the core was not weighed"),
                COMMON_PRACTICE.at("weigh a metre of stripped core"),
            )
            .remedy(Sentence::new("put core_linear_density in the rope list")),
        );
        cover.stripped = Some(Stripped { from, to, saved_dry: Mass::ZERO, saved_wet: (Mass::ZERO, Mass::ZERO) });
        return cover;
    };
    let cover_density = rope.linear_density - core;
    let length = to - from;
    let saved_dry = cover_density * length;
    let (least, most) = water_held(rope.cover_fibre.unwrap_or(Fibre::Polyester), saved_dry);
    let saved_wet = (saved_dry + least, saved_dry + most);
    let working = vec![
        Step::new("cover saved, dry", "(rope - core) x length", saved_dry, rope.density_citation)
            .input("rope", rope.linear_density)
            .input("core", core)
            .input("length", length),
        Step::new("cover saved, wet at most", "dry (1 + ρw/ρf (1/φ - 1))", saved_wet.1, VOIDS).input("φ", PACKING),
    ];
    let verdict = Sentence::new(
        "the cover comes off for {}: {} lighter dry, up to {} wet; the bare core has no cover against sun and chafe",
    )
    .with(length)
    .with(saved_dry)
    .with(saved_wet.1);
    Cover {
        stripped: Some(Stripped { from, to, saved_dry, saved_wet }),
        verdict: Some(verdict),
        findings: Vec::new(),
        working,
    }
}
