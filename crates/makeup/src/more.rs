//! More cover, not less: a sleeve where a line chafes, a second cover or a
//! filled core where a thin line must be held.
//!
//! A braided cover's wall is taken as an eighth of what it goes over, at least
//! a millimetre, and weighs as polyester braid does. Its ends are tapered,
//! buried and stitched, so that it takes a bury at each end beyond its place.

use crate::request::{Fit, LineRequest};
use crate::travel::{Met, Touch};
use cordage::{Rope, THINNEST_FOR_HANDS};
use sources::{Citation, Finding, GIVEN, Grade, OURS};
use units::{Length, LinearDensity, Mass, Sentence, Value};

/// What is added.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Added {
    /// A loose sleeve over the rope, stitched at both ends.
    Sleeve,
    /// A second cover drawn over the first.
    SecondCover,
    /// Yarn drawn into the core, so that the rope is thicker in the jaws.
    FilledCore,
}

impl Added {
    /// The words printed.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Added::Sleeve => "chafe sleeve",
            Added::SecondCover => "second cover",
            Added::FilledCore => "filled core",
        }
    }
}

/// One addition to a line.
#[derive(Debug, Clone, PartialEq)]
pub struct Addition {
    /// What.
    pub added: Added,
    /// From the working end's bearing point.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// Thickness there afterwards.
    pub thickness: Length,
    /// Mass added, dry.
    pub mass: Mass,
    /// Why.
    pub reason: Sentence,
    /// Places on the lead that are then too narrow.
    pub findings: Vec<Finding>,
}

/// Polyester braid, g/m at 1 mm, as for a cover.
const BRAID: f64 = 0.76;
const WALL_FROM: Citation = OURS.at("wall an eighth of the diameter, at least 1 mm; polyester braid 0.76 d²");
/// Buried and stitched at each end, in rope diameters.
const END_DIAMETERS: f64 = 10.0;
/// A sleeve is drawn over with room.
const SLEEVE_ROOM: f64 = 1.05;

/// What a line of a rope wants more of; empty for most.
#[must_use]
pub fn additions(request: &LineRequest<'_>, rope: &Rope, met: &[Met]) -> Vec<Addition> {
    let mut additions = Vec::new();
    if let Some(chafe) = met.iter().find(|met| met.touch == Touch::Chafe) {
        additions.push(sleeve(request, rope, chafe));
    }
    let least = Length::of_mm(THINNEST_FOR_HANDS.get().unwrap_or(8.0));
    let held = met.iter().filter(|met| matches!(met.touch, Touch::Hand | Touch::Drum | Touch::Jaws));
    if let Some(first) = held.min_by(|a, b| a.from.compare(&b.from))
        && rope.diameter < least
        && request.kind.handled()
    {
        additions.push(second_cover(request, rope, first));
    }
    for addition in &mut additions {
        addition.findings.retain(|finding| !stays_clear(finding, addition.to, met));
    }
    additions
}

/// Does the added part end before the place that is too narrow for it is
/// reached, over the whole travel?
fn stays_clear(finding: &Finding, to: Length, met: &[Met]) -> bool {
    let place = |name: &str| finding.text.values().iter().any(|value| *value == Value::Text(name.to_owned()));
    met.iter().any(|met| met.touch != Touch::Chafe && place(&met.place) && met.from >= to)
}

fn sleeve(request: &LineRequest<'_>, rope: &Rope, chafe: &Met) -> Addition {
    let over = rope.diameter * SLEEVE_ROOM;
    let thickness = over + wall(rope.diameter) * 2.0;
    let to = (chafe.to + rope.diameter * END_DIAMETERS).min(request.finished);
    let reason = Sentence::new("it works on {}").with(chafe.place.as_str());
    laid(request, Added::Sleeve, (chafe.from, to), (over, thickness), reason)
}

fn second_cover(request: &LineRequest<'_>, rope: &Rope, held: &Met) -> Addition {
    let thickness = rope.diameter + wall(rope.diameter) * 2.0;
    let reason =
        Sentence::new("{} is thin where {} and the hand hold it").with(rope.diameter).with(held.place.as_str());
    laid(request, Added::SecondCover, (held.from, held.to), (rope.diameter, thickness), reason)
}

/// A core filled out to a thickness over a zone, so that jaws hold a thin line.
#[must_use]
pub fn filled_core(request: &LineRequest<'_>, rope: &Rope, zone: (Length, Length), wanted: Length) -> Option<Addition> {
    (rope.construction.has_cover() && wanted > rope.diameter).then(|| {
        let reason = Sentence::new("the jaws hold from {} up, the rope has {}").with(wanted).with(rope.diameter);
        laid(request, Added::FilledCore, zone, (rope.diameter, wanted), reason)
    })
}

fn wall(diameter: Length) -> Length {
    (diameter / 8.0).max(Length::of_mm(1.0))
}

fn laid(
    request: &LineRequest<'_>,
    added: Added,
    (from, to): (Length, Length),
    (inside, thickness): (Length, Length),
    reason: Sentence,
) -> Addition {
    let square = |diameter: Length| diameter.to_mm() * diameter.to_mm();
    let density = LinearDensity::of_g_per_m(BRAID * (square(thickness) - square(inside)));
    let findings = request.fits.iter().filter_map(|fit| too_narrow(added, thickness, fit)).collect();
    Addition { added, from, to, thickness, mass: density * (to - from), reason, findings }
}

/// A place that the thicker part cannot pass; it may never come there.
fn too_narrow(added: Added, thickness: Length, fit: &Fit) -> Option<Finding> {
    (thickness > fit.thickest).then(|| {
        let text = Sentence::new("with a {} it is {} thick, and {} takes {}")
            .with(added.word())
            .with(thickness)
            .with(fit.name.as_str())
            .with(fit.thickest);
        Finding::new(Grade::Caution, "added-too-thick", text, GIVEN.at("lead"))
            .remedy(Sentence::new("keep it clear of that place, or take a thinner rope for the rest"))
    })
}

/// Where the thickness and mass of what is added are from.
pub const ADDED_FROM: Citation = WALL_FROM;
