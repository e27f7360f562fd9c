//! What a line weighs, with its cover and with a run of it bare, dry and wet.
//!
//! Wet masses are a range, from the fibre's own water to every void full before
//! dripping, or the loft's own weighing, which wins. Rope soaked an hour and
//! dripped ten minutes was measured inside that range (kernmantle polyester 19
//! to 22 %, polyamide 42 %); of HMPE and covered HMPE no measurement was found.

use crate::cover::water_held;
use cordage::Rope;
use sources::{Citation, GIVEN, OURS, Step, WATER_2011};
use units::{Length, LinearDensity, Mass};

/// From least to most, and on what that rests.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ranged<T> {
    /// Least.
    pub low: T,
    /// Most.
    pub high: T,
    /// What it rests on.
    pub basis: &'static str,
    /// On whose word.
    pub citation: Citation,
}

/// Mass per length of a rope's covered and bare parts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PerMetre {
    /// With its cover, dry.
    pub covered_dry: Ranged<LinearDensity>,
    /// With its cover, wet.
    pub covered_wet: Ranged<LinearDensity>,
    /// The core alone, dry.
    pub bare_dry: Ranged<LinearDensity>,
    /// The core alone, wet.
    pub bare_wet: Ranged<LinearDensity>,
}

/// A mass per length or mass that is one number.
fn one<T: Copy>(value: T, basis: &'static str, citation: Citation) -> Ranged<T> {
    Ranged { low: value, high: value, basis, citation }
}

const DRY: &str = "mass per length of the list or table, as new";
const VOIDS: &str = "from the fibre's own water to every void full before dripping (packing 0.70)";
const WEIGHED: &str = "the loft's own weighing, soaked and dripped";

/// Mass per length of a rope, covered and bare; `None` where it has no cover
/// or its core was not weighed.
#[must_use]
pub fn per_metre(rope: &Rope) -> Option<PerMetre> {
    let core = rope.stripped_linear_density()?;
    let metre = Length::of_m(1.0);
    let (core_least, core_most) = water_held(rope.fibre, core * metre);
    let (cover_least, cover_most) = water_held(rope.outside_fibre(), (rope.linear_density - core) * metre);
    let wet = |dry: LinearDensity, least: Mass, most: Mass, weighed: Option<LinearDensity>| match weighed {
        Some(weighed) => one(weighed, WEIGHED, GIVEN.at("rope list, wet mass")),
        None => Ranged {
            low: dry + LinearDensity::of_kg_per_m(least.to_kg()),
            high: dry + LinearDensity::of_kg_per_m(most.to_kg()),
            basis: VOIDS,
            citation: OURS.at("packing 0.70; regain from memory"),
        },
    };
    Some(PerMetre {
        covered_dry: one(rope.linear_density, DRY, rope.density_citation),
        bare_dry: one(core, DRY, rope.density_citation),
        covered_wet: wet(
            rope.linear_density,
            core_least + cover_least,
            core_most + cover_most,
            rope.wet_linear_density,
        ),
        bare_wet: wet(core, core_least, core_most, rope.wet_core_linear_density),
    })
}

/// Masses of a whole line.
#[derive(Debug, Clone, PartialEq)]
pub struct Weights {
    /// Cover on, dry.
    pub covered_dry: Ranged<Mass>,
    /// The run bare, dry.
    pub stripped_dry: Ranged<Mass>,
    /// Cover on, wet.
    pub covered_wet: Ranged<Mass>,
    /// The run bare, wet.
    pub stripped_wet: Ranged<Mass>,
    /// How they were worked out.
    pub working: Vec<Step>,
}

/// Masses of a line of a length with a run of it bare.
#[must_use]
pub fn weights(each: &PerMetre, finished: Length, bare: Length) -> Weights {
    let covered = |density: Ranged<LinearDensity>| Ranged {
        low: density.low * finished,
        high: density.high * finished,
        basis: density.basis,
        citation: density.citation,
    };
    let stripped = |whole: Ranged<LinearDensity>, core: Ranged<LinearDensity>| Ranged {
        low: whole.low * (finished - bare) + core.low * bare,
        high: whole.high * (finished - bare) + core.high * bare,
        basis: whole.basis,
        citation: whole.citation,
    };
    let answer = Weights {
        covered_dry: covered(each.covered_dry),
        stripped_dry: stripped(each.covered_dry, each.bare_dry),
        covered_wet: covered(each.covered_wet),
        stripped_wet: stripped(each.covered_wet, each.bare_wet),
        working: Vec::new(),
    };
    let saved = answer.covered_dry.low - answer.stripped_dry.low;
    let working = vec![
        Step::new("cover on, dry", "mass per length x length", answer.covered_dry.low, each.covered_dry.citation)
            .input("per length", each.covered_dry.low)
            .input("length", finished),
        Step::new("saved dry", "(rope - core) x bare run", saved, each.bare_dry.citation)
            .input("core", each.bare_dry.low)
            .input("bare run", bare),
        Step::new(
            "cover on, wet at most",
            "dry (1 + regain + ρw/ρf (1/φ - 1))",
            answer.covered_wet.high,
            each.covered_wet.citation,
        ),
        Step::new("bare run, wet at most", "the core alone", answer.stripped_wet.high, each.bare_wet.citation),
        Step::new(
            "measured pick-up for comparison",
            "polyester kernmantle, soaked 1 h, dripped 10 min",
            units::Value::Share(0.191),
            WATER_2011.at("+19.1 % new, +22.4 % used; polyamide +42.4 %"),
        ),
    ];
    Weights { working, ..answer }
}
