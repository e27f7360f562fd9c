//! Does a spliced end pass what it must be rove through, and if not, which end
//! is spliced on board?
//!
//! A line is rove by one end through every place of its lead. The rope over a
//! buried tail, and the two legs of a soft eye drawn together, are taken as
//! round bundles without air: rope and tail, √(d² + t²). A thimble does not
//! fold. A plain or whipped end passes whatever the rope passes. Not covered:
//! sheave boxes that open, and clutches taken apart.

use crate::request::{Fit, LineRequest};
use cordage::Rope;
use sources::{COMMON_PRACTICE, Citation, Finding, Grade, OURS};
use splice::{EndKind, Fitting, Layout};
use units::{Length, Sentence, Value};

/// How a line is rove.
#[derive(Debug, Clone, PartialEq)]
pub struct Reeving {
    /// Whether an end goes through as made, and which.
    pub by: By,
    /// In a sentence.
    pub text: Sentence,
    /// What is to be said about it.
    pub finding: Option<Finding>,
}

/// By which end a line is rove.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum By {
    /// The end in the hand, from the working side.
    BitterEnd,
    /// The working end, from the hand's side.
    WorkingEnd,
    /// Neither as made: one end is spliced on board, after reeving.
    SplicedOnBoard,
    /// Both are spliced, and some places do not say what they take.
    NotKnown,
}

const BUNDLE: Citation = OURS.at("rope and tail as one round bundle; a thimble does not fold");

/// Thickness of an end where it is thickest, drawn together; the rope's own
/// for a plain one.
#[must_use]
pub fn end_thickness(rope: &Rope, end: &Layout) -> Length {
    let round = |one: Length, other: Length| Length::of_mm(one.to_mm().hypot(other.to_mm()));
    let core = end.gripping_diameter;
    let Some(eye) = &end.eye else { return rope.diameter };
    let (throat, leg) = match end.kind {
        // The bare core over its own tail, then the cover with its end inside.
        EndKind::BareCoreEye => (round(core, core).max(rope.diameter), core),
        EndKind::CoveredEye => (round(rope.diameter, core), rope.diameter),
        _ => (round(rope.diameter, rope.diameter), rope.diameter),
    };
    let folded = match eye.on {
        Some(on) if on.what == Fitting::Thimble => on.diameter + leg * 2.0,
        _ => round(leg, leg),
    };
    throat.max(folded)
}

/// How a line goes through the places of its lead; `None` where it passes none.
#[must_use]
pub fn reeving(request: &LineRequest<'_>, rope: &Rope, working: &Layout, bitter: Option<&Layout>) -> Option<Reeving> {
    let bitter = bitter?;
    let lead = request.lead?;
    // What it ends at is not rove through.
    let names: Vec<&str> = lead
        .turns
        .iter()
        .filter(|turn| turn.bearing != rig::Bearing::Fast && turn.bearing != rig::Bearing::Winch)
        .map(|turn| turn.name.as_str())
        .collect();
    if names.is_empty() {
        return None;
    }
    let of = |name: &str| request.fits.iter().find(|fit| fit.name == name).and_then(Fit::passes);
    let narrowest = names.iter().filter_map(|name| Some((*name, of(name)?))).min_by(|a, b| a.1.compare(&b.1));
    let unknown = names.iter().find(|name| of(name).is_none()).copied();
    let plain = |end: &Layout| end.eye.is_none();
    if plain(bitter) {
        let text = Sentence::new("reeve it by the bitter end, {}: it passes whatever the rope passes")
            .with(bitter.kind.name());
        return Some(Reeving { by: By::BitterEnd, text, finding: None });
    }
    if plain(working) {
        let text = Sentence::new("reeve it by the working end, {}, from the hand's side").with(working.kind.name());
        return Some(Reeving { by: By::WorkingEnd, text, finding: None });
    }
    let (thick_bitter, thick_working) = (end_thickness(rope, bitter), end_thickness(rope, working));
    let passes = |thick: Length| unknown.is_none() && narrowest.is_some_and(|(_, room)| thick <= room);
    for (by, thick, what) in
        [(By::BitterEnd, thick_bitter, "bitter end"), (By::WorkingEnd, thick_working, "working end")]
    {
        if passes(thick) {
            let (place, room) = narrowest?;
            let text = Sentence::new(
                "both ends are spliced; reeve it by the {}: {} at its thickest, and the narrowest place, {}, takes {}",
            )
            .with(what)
            .with(thick)
            .with(place)
            .with(room);
            return Some(Reeving { by, text, finding: None });
        }
    }
    Some(on_board(bitter, (thick_bitter, thick_working), narrowest, unknown))
}

/// Neither end goes through as made, or it is not known.
fn on_board(
    bitter: &Layout,
    (thick_bitter, thick_working): (Length, Length),
    narrowest: Option<(&str, Length)>,
    unknown: Option<&str>,
) -> Reeving {
    let thinner = thick_bitter.min(thick_working);
    let blocked = narrowest.filter(|(_, room)| thinner > *room);
    let (by, text) = match (blocked, unknown) {
        (Some((place, room)), _) => (
            By::SplicedOnBoard,
            Sentence::new(
                "both ends are spliced, {} and {} at their thickest, and {} takes {}: neither can be rove through it",
            )
            .with(thick_working)
            .with(thick_bitter)
            .with(place)
            .with(room),
        ),
        (None, place) => (
            By::NotKnown,
            Sentence::new(
                "both ends are spliced, {} and {} at their thickest, and {} does not say how thick a rope it takes",
            )
            .with(thick_working)
            .with(thick_bitter)
            .with(Value::Text(place.unwrap_or("its lead").to_owned())),
        ),
    };
    let remedy = match by {
        By::SplicedOnBoard => {
            Sentence::new("splice the bitter end ({}) on board, after reeving").with(bitter.kind.name())
        }
        _ => Sentence::new("give max_rope or groove of every place, or splice the bitter end on board, after reeving"),
    };
    let citation = if by == By::SplicedOnBoard { BUNDLE } else { COMMON_PRACTICE.at("reeve the plain end") };
    let finding = Finding::new(Grade::Caution, "splice-on-board", text.clone(), citation).remedy(remedy);
    Reeving { by, text, finding: Some(finding) }
}
