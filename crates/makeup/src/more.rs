//! More cover, not less: a sleeve where a line chafes, a second cover or a
//! filled core where a thin line must be held.
//!
//! A braided cover's wall is taken as an eighth of what it goes over, at least
//! a millimetre, or as much as jaws want, and weighs as polyester braid does. Its
//! ends are tapered, buried and stitched, so that it takes a bury at each end
//! beyond its place. A core is filled out over the rope that jaws or drum may hold
//! over the whole travel, by no more than a quarter of the diameter.

use crate::request::{Fit, LineRequest};
use crate::travel::{Met, Touch};
use cordage::{Rope, THINNEST_FOR_HANDS};
use rig::Bearing;
use sources::{Citation, Finding, GIVEN, Grade, OURS, Step};
use units::{Length, LinearDensity, Mass, Sentence};

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
    /// Every one, as the loft mostly prefers them.
    pub const ALL: [Added; 3] = [Added::FilledCore, Added::SecondCover, Added::Sleeve];

    /// The word of a rule table.
    #[must_use]
    pub const fn choice(self) -> &'static str {
        match self {
            Added::Sleeve => "chafe-sleeve",
            Added::SecondCover => "second-cover",
            Added::FilledCore => "filled-core",
        }
    }

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

/// What a line wants more of cover for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Need {
    /// It works on a spar, a stay or a fitting.
    Chafe,
    /// It is thin for the hand.
    Hand,
    /// It is thin for jaws or a drum that must hold it.
    Grip,
}

/// One addition to a line.
#[derive(Debug, Clone, PartialEq)]
pub struct Addition {
    /// What.
    pub added: Added,
    /// What for.
    pub need: Need,
    /// The place that wants it.
    pub place: String,
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

/// A core is filled out by no more than so much of the diameter.
const FILLED_MOST: f64 = 1.25;
/// Beyond the rope that is in jaws or on a drum over the travel, at each end.
const BEYOND: Length = Length::of_mm(300.0);
/// Turns on a drum.
const DRUM_TURNS: f64 = 4.0;

/// Everything that would answer what a line of a rope wants more of; empty for
/// most. A need may be answered by more than one: [`chosen`] takes the loft's
/// first choice.
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
        let thickness = rope.diameter + wall(rope.diameter) * 2.0;
        let reason =
            Sentence::new("{} is thin where {} and the hand hold it").with(rope.diameter).with(first.place.as_str());
        let need =
            Laid { added: Added::SecondCover, need: Need::Hand, place: &first.place, zone: (first.from, first.to) };
        additions.push(laid(request, &need, (rope.diameter, thickness), reason));
    }
    for fit in &request.fits {
        if let Some(thinnest) = fit.thinnest.filter(|thinnest| *thinnest > rope.diameter)
            && let Some(zone) = zone_at(request, &fit.name)
        {
            additions.extend(filled_core(request, rope, (&fit.name, zone), thinnest));
            additions.push(gripping_cover(request, rope, (&fit.name, zone), thinnest));
        }
    }
    for addition in &mut additions {
        let (from, to) = (addition.from, addition.to);
        let thickness = addition.thickness;
        let meets = |fit: &&Fit| {
            let at = met.iter().filter(|met| met.touch != Touch::Chafe && met.place == fit.name);
            // Without a lead it is not known where the place comes.
            let mut at = at.peekable();
            at.peek().is_none() || at.any(|met| from < met.to && to > met.from)
        };
        let added = addition.added;
        addition.findings =
            request.fits.iter().filter(meets).filter_map(|fit| too_narrow(added, thickness, fit)).collect();
    }
    additions
}

/// Of what would answer each need, the first in the loft's order of choice; what
/// the loft does not want is left out.
#[must_use]
pub fn chosen(request: &LineRequest<'_>, rope: &Rope, met: &[Met]) -> Vec<Addition> {
    let all = additions(request, rope, met);
    let mut taken: Vec<Addition> = Vec::new();
    for wanted in &request.more {
        for addition in all.iter().filter(|addition| addition.added == *wanted) {
            if !taken.iter().any(|one| one.need == addition.need && one.place == addition.place) {
                taken.push(addition.clone());
            }
        }
    }
    taken
}

/// The rope that is at a place over the whole travel, and a little beyond.
fn zone_at(request: &LineRequest<'_>, name: &str) -> Option<(Length, Length)> {
    let travel = request.travel?;
    let turns = travel.passing.iter().filter_map(|passing| passing.run.turns.iter().find(|turn| turn.name == name));
    let span = turns.fold(None, |span: Option<(Length, Length)>, turn| {
        let wound = if turn.bearing == Bearing::Winch {
            turn.diameter * (std::f64::consts::PI * DRUM_TURNS)
        } else {
            Length::ZERO
        };
        let (low, high) = span.unwrap_or((turn.begins, turn.begins));
        Some((low.min(turn.begins), high.max(turn.begins + wound)))
    });
    span.map(|(low, high)| ((low - BEYOND).max(Length::ZERO), (high + BEYOND).min(request.finished)))
}

fn sleeve(request: &LineRequest<'_>, rope: &Rope, chafe: &Met) -> Addition {
    let over = rope.diameter * SLEEVE_ROOM;
    let thickness = over + wall(rope.diameter) * 2.0;
    let to = (chafe.to + rope.diameter * END_DIAMETERS).min(request.finished);
    let reason = Sentence::new("it works on {}").with(chafe.place.as_str());
    let need = Laid { added: Added::Sleeve, need: Need::Chafe, place: &chafe.place, zone: (chafe.from, to) };
    laid(request, &need, (over, thickness), reason)
}

/// A core filled out to a thickness over a zone, so that jaws hold a thin line;
/// `None` without a cover, or where it would be filled out too far.
#[must_use]
pub fn filled_core(
    request: &LineRequest<'_>,
    rope: &Rope,
    (place, zone): (&str, (Length, Length)),
    wanted: Length,
) -> Option<Addition> {
    let can = rope.construction.has_cover() && wanted > rope.diameter && wanted <= rope.diameter * FILLED_MOST;
    can.then(|| {
        let reason = holds_from(place, wanted, rope);
        let need = Laid { added: Added::FilledCore, need: Need::Grip, place, zone };
        laid(request, &need, (rope.diameter, wanted), reason)
    })
}

/// A second cover as thick as jaws or drum want it, ends buried beyond the zone.
fn gripping_cover(
    request: &LineRequest<'_>,
    rope: &Rope,
    (place, (from, to)): (&str, (Length, Length)),
    wanted: Length,
) -> Addition {
    let thickness = (rope.diameter + wall(rope.diameter) * 2.0).max(wanted);
    let buried = rope.diameter * END_DIAMETERS;
    let zone = ((from - buried).max(Length::ZERO), (to + buried).min(request.finished));
    let need = Laid { added: Added::SecondCover, need: Need::Grip, place, zone };
    laid(request, &need, (rope.diameter, thickness), holds_from(place, wanted, rope))
}

fn holds_from(place: &str, wanted: Length, rope: &Rope) -> Sentence {
    Sentence::new("{} holds from {} up, the rope has {}").with(place).with(wanted).with(rope.diameter)
}

fn wall(diameter: Length) -> Length {
    (diameter / 8.0).max(Length::of_mm(1.0))
}

/// What is laid on or in, for what, and where.
struct Laid<'a> {
    added: Added,
    need: Need,
    place: &'a str,
    zone: (Length, Length),
}

fn laid(request: &LineRequest<'_>, of: &Laid<'_>, (inside, thickness): (Length, Length), reason: Sentence) -> Addition {
    let square = |diameter: Length| diameter.to_mm() * diameter.to_mm();
    let density = LinearDensity::of_g_per_m(BRAID * (square(thickness) - square(inside)));
    let (from, to) = of.zone;
    let findings = request.fits.iter().filter_map(|fit| too_narrow(of.added, thickness, fit)).collect();
    Addition {
        added: of.added,
        need: of.need,
        place: of.place.to_owned(),
        from,
        to,
        thickness,
        mass: density * (to - from),
        reason,
        findings,
    }
}

/// A place that the thicker part cannot pass; it may never come there.
fn too_narrow(added: Added, thickness: Length, fit: &Fit) -> Option<Finding> {
    let room = fit.passes().filter(|room| thickness > *room)?;
    let text = Sentence::new("with a {} it is {} thick, and {} takes {}")
        .with(added.word())
        .with(thickness)
        .with(fit.name.as_str())
        .with(room);
    Some(
        Finding::new(Grade::Caution, "added-too-thick", text, GIVEN.at("lead"))
            .remedy(Sentence::new("keep it clear of that place, or take a thinner rope for the rest")),
    )
}

impl Addition {
    /// What is made, in a sentence.
    #[must_use]
    pub fn finding(&self) -> Finding {
        let text = Sentence::new("{} from {} to {}, {} thick, {} more: {}")
            .with(self.added.word())
            .with(self.from.nearest_mm())
            .with(self.to.nearest_mm())
            .with(self.thickness)
            .with(self.mass)
            .with(self.reason.show(units::System::Metric));
        Finding::new(Grade::Note, "more-cover", text, WALL_FROM)
    }

    /// How its mass came about.
    #[must_use]
    pub fn working(&self) -> Step {
        Step::new(self.added.word(), "0.76 (thick² - inside²) x length", self.mass, WALL_FROM)
            .input("thick", self.thickness)
            .input("from", self.from)
            .input("to", self.to)
    }
}

/// Where the thickness and mass of what is added are from.
pub const ADDED_FROM: Citation = WALL_FROM;
